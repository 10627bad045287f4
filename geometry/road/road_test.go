package road

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"
	"pgregory.net/rapid"

	"locksweep/fixtures/random"
	"locksweep/fixtures/trial"
	"locksweep/geometry/linkage"
	"locksweep/geometry/setup"
)

func near(a, b, within float64) bool { return math.Abs(a-b) <= within }

// turned is one wheel of a setup with its spindle at an angle, in degrees.
func turned(s *setup.Setup, side setup.Side, spindle float64) Wheel {
	return New(s).Corners[side].At(math.Sincos(radians(spindle)))
}

func TestSignsOfWheelAngles(t *testing.T) {
	with := func(set func(c *setup.Corner)) *setup.Setup {
		s := upright(1000, 600, 120)
		for side := range s.Corners {
			set(&s.Corners[side])
		}
		return s
	}
	toeIn := with(func(c *setup.Corner) { c.Wheel.Toe = 2 * s1.Degree })
	topOut := with(func(c *setup.Corner) { c.Wheel.Camber = 3 * s1.Degree })
	plain := with(func(*setup.Corner) {})
	caster := with(func(c *setup.Corner) { c.Kingpin.Caster = 10 * s1.Degree })
	inclined := with(func(c *setup.Corner) { c.Kingpin.Inclination = 10 * s1.Degree })
	for _, c := range []struct {
		name          string
		s             *setup.Setup
		side          setup.Side
		spindle       float64
		steer, camber float64
		within        float64
	}{
		{"a spindle turned left heads left, on the left", plain, setup.Left, 20, 20, 0, 1e-12},
		{"and on the right", plain, setup.Right, 20, 20, 0, 1e-12},
		{"toe-in turns the left wheel right", toeIn, setup.Left, 0, -2, 0, 1e-12},
		{"and the right wheel left", toeIn, setup.Right, 0, 2, 0, 1e-12},
		{"camber is positive with the top outboard, left", topOut, setup.Left, 0, 0, 3, 1e-12},
		{"and right", topOut, setup.Right, 0, 0, 3, 1e-12},
		// Turned by a right angle about an axis that leans back by c, the stub axle of the left wheel has come
		// down by what the axis leans: its top leans outboard by nearly the caster.
		{"caster leans the inner wheel's top outboard", caster, setup.Left, 90, 90, 10, 0.2},
		{"and the outer wheel's inboard", caster, setup.Right, 90, 90, -10, 0.2},
		// Half a turn takes the stub to the other side of the axis: twice the inclination.
		{"inclination leans the top outboard to the left", inclined, setup.Left, 179.999, 180, 20, 0.01},
		{"as to the right", inclined, setup.Left, -179.999, 180, 20, 0.01},
	} {
		w := turned(c.s, c.side, c.spindle)
		off := math.Abs(math.Remainder(w.Steer.Degrees()-c.steer, 360))
		if off > max(c.within, 0.01*math.Abs(c.spindle)*c.within) || !near(w.Camber.Degrees(), c.camber, c.within) {
			t.Errorf("%s: steer %v, camber %v, want %v, %v", c.name, w.Steer, w.Camber, c.steer, c.camber)
		}
	}
}

// TestContactByHand: a wheel of radius r whose top leans outboard by γ touches the ground r sin γ
// inboard of its centre and r cos γ below it.
func TestContactByHand(t *testing.T) {
	s := upright(1000, 600, 120)
	sin, cos := math.Sincos(radians(30))
	for side := range s.Corners {
		s.Corners[side].Wheel.Camber = 30 * s1.Degree
		s.Corners[side].Wheel.Lead = 15
	}
	for _, side := range setup.Sides {
		w := turned(s, side, 0)
		centre := r3.Vector{X: 15, Y: side.Sign() * (300 + 120*cos), Z: 130 - 120*sin}
		contact := centre.Add(r3.Vector{Y: -side.Sign() * 130 * sin, Z: -130 * cos})
		if w.Centre.Sub(centre).Norm() > 1e-12 || w.Contact.Sub(contact).Norm() > 1e-12 {
			t.Errorf("%v: centre %v, contact %v, want %v, %v", side, w.Centre, w.Contact, centre, contact)
		}
	}
	// Upright kingpin: the contact stays on the ground whatever the steer.
	for spindle := -60.0; spindle <= 60; spindle += 15 {
		if w := turned(upright(1000, 600, 120), setup.Left, spindle); !near(w.Contact.Z, 0, 1e-12) || !near(w.Camber.Degrees(), 0, 1e-12) {
			t.Errorf("spindle %v: contact %v, camber %v", spindle, w.Contact, w.Camber)
		}
	}
}

// TestContactIsLowest walks round the tyre's circle.
func TestContactIsLowest(t *testing.T) {
	trial.Check(t, func(t *rapid.T) {
		s := random.Setup(t)
		side := setup.Side(rapid.IntRange(0, 1).Draw(t, "side"))
		w := turned(s, side, rapid.Float64Range(-60, 60).Draw(t, "spindle"))
		r := s.Corners[side].Wheel.Tyre.Diameter / 2
		e1 := w.Leftward.Cross(r3.Vector{X: 1}).Normalize()
		e2 := w.Leftward.Cross(e1)
		lowest := math.Inf(1)
		for i := range 3600 {
			sin, cos := math.Sincos(float64(i) / 3600 * 2 * math.Pi)
			lowest = min(lowest, w.Centre.Z+r*(cos*e1.Z+sin*e2.Z))
		}
		spoke := w.Contact.Sub(w.Centre)
		if !near(lowest, w.Contact.Z, r*1e-5) || !near(spoke.Norm(), r, 1e-9*r) || !near(spoke.Dot(w.Leftward), 0, 1e-9*r) {
			t.Errorf("contact %v, centre %v, lowest %v", w.Contact, w.Centre, lowest)
		}
	})
}

func TestOffsetsByHand(t *testing.T) {
	s := upright(1000, 600, 120)
	check := func(name string, scrub, trail float64) {
		t.Helper()
		for _, side := range setup.Sides {
			if gotScrub, gotTrail := New(s).StraightOffsets(side); !near(gotScrub, scrub, 1e-9) || !near(gotTrail, trail, 1e-9) {
				t.Errorf("%s, %v: scrub %v, trail %v, want %v, %v", name, side, gotScrub, gotTrail, scrub, trail)
			}
		}
	}
	check("upright", 120, 0)
	for side := range s.Corners {
		s.Corners[side].Kingpin.Inclination = 10 * s1.Degree
	}
	check("the axis meets the ground outboard", 120-130*math.Tan(radians(10)), 0)
	for side := range s.Corners {
		s.Corners[side].Kingpin.Caster = 8 * s1.Degree
		s.Corners[side].Wheel.Lead = 6
	}
	check("and ahead", 120-130*math.Tan(radians(10)), 130*math.Tan(radians(8))-6)
}

// TestRise: with caster alone, the corner on the inside of the turn is pushed up and the other let down;
// with inclination both rise.
func TestRise(t *testing.T) {
	for _, c := range []struct {
		caster, inclination float64
		left, right         float64 // signs of the rise in a left turn
	}{{10, 0, 1, -1}, {-10, 0, -1, 1}, {0, 10, 1, 1}} {
		v := tilted(c.caster, c.inclination)
		wheels := v.steered(25*s1.Degree, 25*s1.Degree)
		for side, want := range [2]float64{c.left, c.right} {
			got := v.Rise(setup.Side(side), &wheels[side])
			if got*want <= 1 {
				t.Errorf("caster %v, inclination %v: the %v corner rises by %v mm", c.caster, c.inclination, setup.Side(side), got)
			}
			// The frame, lifted by that much, has the tyre on the ground again.
			if straight := v.Corners[side].At(0, 1).Contact.Z; !near(wheels[side].Contact.Z+got, straight, 1e-9) {
				t.Errorf("the tyre stands %v mm off the ground", wheels[side].Contact.Z+got-straight)
			}
		}
	}
}

func TestWidthByHand(t *testing.T) {
	s := upright(1000, 600, 120)
	s.Vehicle.RearTrack, s.Vehicle.RearTyre.Width = 700, 180
	v := New(s)
	sin, cos := math.Sincos(radians(40))
	for _, c := range []struct {
		turned, want float64
	}{
		{0, 600 + 2*120 + 100},
		{90, 700 + 180}, // wheels in line across, centres above the kingpins: the rear tyres stand out
		{40, 2 * (300 + 120*cos + cos*50 + sin*130)},
	} {
		var p linkage.Pose
		for side := range p.Sides {
			p.Sides[side].Sin, p.Sides[side].Cos = math.Sincos(radians(c.turned))
		}
		if got := v.Width(&p); !near(got, c.want, 1e-9) {
			t.Errorf("turned by %v: %v, want %v", c.turned, got, c.want)
		}
	}
}

func TestTurningCircleByHand(t *testing.T) {
	// Both axle lines meet on the rear axle line 1000 left of the left kingpin: outer wheel's centre is at
	// hypot(1000, 1600) + 120 from there, its outer edge 50 further.
	v := New(upright(1000, 600, 120))
	inner, outer := s1.Angle(math.Atan2(1000, 1000)), s1.Angle(math.Atan2(1000, 1600))
	for d, wheels := range v.both(inner, outer) {
		turn := v.Turn(&wheels)
		c := v.OuterCircle(&wheels, &turn)
		over, rear := c.OverFrontTyres, c.InnerRear
		if want := 2 * (math.Hypot(1000, 1600) + 120 + 50); !near(over, want, 1e-8) || !near(rear, 1300-300-50, 1e-8) {
			t.Errorf("direction %d: %v over the tyres, inner rear %v, want %v, 950", d, over, rear, want)
		}
		if !near(turn.Error.Degrees(), 0, 1e-9) || !near(turn.Percent, 100, 1e-6) {
			t.Errorf("direction %d: error %v, percent %v", d, turn.Error, turn.Percent)
		}
	}
	straight := v.steered(0, 0)
	turn := v.Turn(&straight)
	c := v.OuterCircle(&straight, &turn)
	over, rear := c.OverFrontTyres, c.InnerRear
	for name, x := range map[string]float64{"circle": over, "inner rear": rear, "inner": float64(turn.InnerSteer), "outer": float64(turn.OuterSteer),
		"ideal": float64(turn.IdealInner), "error": float64(turn.Error), "percent": turn.Percent, "centre": turn.Centre.X, "cross": turn.AxleCross.Y} {
		if !math.IsNaN(x) {
			t.Errorf("straight ahead: %s %v, want none", name, x)
		}
	}
	if turn.Known() {
		t.Error("straight ahead: known")
	}
}

func TestAckermannPercentByHand(t *testing.T) {
	v := New(upright(1000, 600, 120))
	outer := 20 * s1.Degree
	ideal := s1.Angle(math.Atan(1 / (1/math.Tan(float64(outer)) - 0.6)))
	for _, c := range []struct {
		inner   s1.Angle
		percent float64
	}{{outer, 0}, {ideal, 100}, {(outer + ideal) / 2, 50}, {outer - (ideal-outer)/4, -25}} {
		for _, wheels := range v.both(c.inner, outer) {
			turn := v.Turn(&wheels)
			if !near(turn.Percent, c.percent, 1e-9) || !near(turn.Error.Degrees(), (c.inner-ideal).Degrees(), 1e-9) {
				t.Errorf("inner %v, outer %v: %v percent, error %v, want %v percent", c.inner, outer, turn.Percent, turn.Error, c.percent)
			}
			if turn.InnerSteer < 0 || turn.OuterSteer < 0 {
				t.Errorf("inner %v and outer %v are taken into the turn", turn.InnerSteer, turn.OuterSteer)
			}
		}
	}
}

// TestLeastTurn: under half a degree of mean steer there is no inner wheel.
func TestLeastTurn(t *testing.T) {
	v := New(upright(1000, 600, 120))
	for _, c := range []struct {
		left, right float64
		known       bool
	}{{0.4, 0.55, false}, {0.5, 0.52, true}, {-0.4, -0.55, false}, {-0.5, -0.52, true}, {5, -5, false}} {
		wheels := v.steered(degrees(c.left), degrees(c.right))
		if turn := v.Turn(&wheels); turn.Known() != c.known {
			t.Errorf("steer %v and %v: known %v", c.left, c.right, turn.Known())
		}
	}
}
