package road

import (
	"math"
	"testing"

	"github.com/golang/geo/s1"
	"pgregory.net/rapid"

	"locksweep/fixtures/published"
	"locksweep/fixtures/random"
	"locksweep/fixtures/trial"
	"locksweep/geometry/setup"
)

// TestRiseOfAnInclinedKingpin: with inclination alone and an upright stub of length off, the stub's end comes down by
// off·s, s = sin λ cos λ (1 - cos θ), and the disc of radius R that leans with it stands on a rim R(1 - √(1 - s²)) nearer
// to its centre (derived).
func TestRiseOfAnInclinedKingpin(t *testing.T) {
	for _, p := range published.InclinedRises {
		s := upright(1000, 600, p.Offset)
		for side := range s.Corners {
			s.Corners[side].Kingpin.Inclination = degrees(p.Inclination)
			s.Corners[side].Wheel.Tyre.Diameter = 2 * p.Radius
		}
		v := New(s)
		for _, side := range setup.Sides {
			for _, way := range []float64{1, -1} {
				w := v.Corners[side].At(math.Sincos(radians(way * p.Turn)))
				if got := v.Rise(side, &w); !near(got, p.Rise, 2e-6) {
					t.Errorf("%s: %v wheel turned by %v rises %.7f, want %v", p.Work, side, way*p.Turn, got, p.Rise)
				}
				// The tyre's edge, half its width out on a stub that leans by asin s, reaches W/2·s lower than the disc (derived).
				sin := math.Sin(radians(p.Inclination)) * math.Cos(radians(p.Inclination)) * (1 - math.Cos(radians(p.Turn)))
				if got, want := v.RiseEdge(side, &w), p.Rise+50*sin; !near(got, want, 2e-6) {
					t.Errorf("%s: with its width it rises %.7f, want %.7f", p.Work, got, want)
				}
			}
		}
	}
}

// TestRoundShoulderRisesLess: on a tyre that is all shoulder the edge is round: it rises as the ball in its rim does.
func TestRoundShoulderRisesLess(t *testing.T) {
	trial.Check(t, func(t *rapid.T) {
		s := random.Setup(t)
		side := setup.Side(rapid.IntRange(0, 1).Draw(t, "side"))
		tyre := &s.Corners[side].Wheel.Tyre
		sin, cos := math.Sincos(radians(rapid.Float64Range(-50, 50).Draw(t, "spindle")))
		least := math.Min(tyre.Width, tyre.Diameter) / 2
		lowest := func(shoulder float64) float64 {
			tyre.Shoulder = shoulder
			v := New(s)
			w := v.Corners[side].At(sin, cos)
			return v.lowest(side, &w)
		}
		plain, round := lowest(0), lowest(least)
		if round < plain-1e-9 {
			t.Errorf("a round shoulder reaches %v, a square one %v", round, plain)
		}
		// Walked round: the highest of all lowest points of rings from mid-plane to edge.
		tyre.Shoulder = 0
		v := New(s)
		w := v.Corners[side].At(sin, cos)
		a, r, half := w.Leftward, tyre.Diameter/2, tyre.Width/2
		want := math.Inf(1)
		for i := range 3601 {
			y := half * (2*float64(i)/3600 - 1)
			want = math.Min(want, w.Centre.Z+y*a.Z-r*math.Sqrt(1-a.Z*a.Z))
		}
		if !near(plain, want, 1e-6) {
			t.Errorf("lowest %v, walked %v", plain, want)
		}
	})
}

// TestCasterAlone: steer and camber of a wheel on a kingpin that only leans back (closed form, derived).
func TestCasterAlone(t *testing.T) {
	for _, p := range published.CasterAlone {
		s := upright(1000, 600, 120)
		for side := range s.Corners {
			s.Corners[side].Kingpin.Caster = degrees(p.Caster)
		}
		for _, side := range setup.Sides {
			w := New(s).Corners[side].At(math.Sincos(radians(p.Turn)))
			if camber := side.Sign() * w.Camber.Degrees(); !near(camber, p.Camber, 5e-7) || !near(w.Steer.Degrees(), p.Steer, 2e-6) {
				t.Errorf("%s: %v wheel: camber %.7f, steer %.7f, want %v, %v", p.Work, side, camber, w.Steer.Degrees(), p.Camber, p.Steer)
			}
		}
	}
}

// TestKingpinMoment: the load on a wheel turns it back by load × offset × sin λ cos λ sin θ; the lean of the wheel, which the
// worked example leaves out, is left out here by a wheel without a radius.
func TestKingpinMoment(t *testing.T) {
	for _, p := range published.KingpinMoments {
		s := upright(1000, 600, p.Offset)
		for side := range s.Corners {
			s.Corners[side].Kingpin.Inclination = degrees(p.Inclination)
			s.Corners[side].Wheel.Tyre.Diameter = 0
		}
		v := New(s)
		for _, side := range setup.Sides {
			w := v.Corners[side].At(math.Sincos(radians(p.Turn)))
			if got := -v.MomentArm(side, &w).Z / 1000 * p.Mass * 9.81; math.Abs(got-p.Moment) > p.Within {
				t.Errorf("%s: turned left by %v the load turns the %v wheel back by %.3f N·m, want %v", p.Work, p.Turn, side, got, p.Moment)
			}
		}
	}
}

// TestMomentArmByVirtualWork: a force at a contact does as much work as its moment on the turn of the spindle: the arm is
// the contact's way per radian, of the point of the tyre that touches.
func TestMomentArmByVirtualWork(t *testing.T) {
	trial.Check(t, func(t *rapid.T) {
		s := random.Setup(t)
		v := New(s)
		side := setup.Side(rapid.IntRange(0, 1).Draw(t, "side"))
		angle := rapid.Float64Range(-1, 1).Draw(t, "spindle")
		w := v.Corners[side].At(math.Sincos(angle))
		axis, h := v.Corners[side].Kingpin, 1e-6
		way := axis.RotatePoint(w.Contact, s1.Angle(h)).Sub(axis.RotatePoint(w.Contact, s1.Angle(-h))).Mul(1 / (2 * h))
		if got := v.MomentArm(side, &w); got.Sub(way).Norm() > 1e-6*(1+way.Norm()) {
			t.Errorf("arm %v, way per radian %v", got, way)
		}
	})
}

// TestMomentArmStraightAhead: upright, a force forward turns the left wheel by its scrub to the right and the right wheel to
// the left; a force to the left turns a wheel by its trail: with the contact behind, to the right.
func TestMomentArmStraightAhead(t *testing.T) {
	s := upright(1000, 600, 120)
	for side := range s.Corners {
		s.Corners[side].Wheel.Lead = -25
	}
	v := New(s)
	for _, side := range setup.Sides {
		w := v.Corners[side].At(0, 1)
		m := v.MomentArm(side, &w)
		if !near(m.X, -side.Sign()*120, 1e-9) || !near(m.Y, -25, 1e-9) || !near(m.Z, 0, 1e-9) {
			t.Errorf("%v: %v", side, m)
		}
	}
}

// TestTextbookVehicle: the outer wheel and the circle over the outer front wheel of a textbook's vehicle.
func TestTextbookVehicle(t *testing.T) {
	for _, p := range published.Vehicles {
		s := upright(1000*p.Wheelbase, 1000*p.Pivots, 1000*(p.Track-p.Pivots)/2)
		for side := range s.Corners {
			s.Corners[side].Wheel.Tyre.Width = 0
		}
		v := New(s)
		outer := s1.Angle(math.Atan(1 / (1/math.Tan(radians(p.Inner)) + p.Pivots/p.Wheelbase)))
		if !near(outer.Degrees(), p.Outer, 5e-4) {
			t.Errorf("%s: outer wheel %v, want %v", p.Work, outer, p.Outer)
		}
		for _, wheels := range v.both(degrees(p.Inner), outer) {
			turn := v.Turn(&wheels)
			if !near(turn.IdealInner.Degrees(), p.Inner, 1e-9) || !near(turn.Percent, 100, 1e-6) {
				t.Errorf("%s: ideal inner %v, %v %%", p.Work, turn.IdealInner, turn.Percent)
			}
			for name, c := range map[string]Circle{"outer": v.OuterCircle(&wheels, &turn), "inner": v.InnerCircle(&wheels, &turn), "balanced": v.BalancedCircle(&wheels, &turn)} {
				if !near(c.OverFrontTyres/2000, p.OuterRadius, 5e-4) {
					t.Errorf("%s: %s circle of radius %.4f m, want %v", p.Work, name, c.OverFrontTyres/2000, p.OuterRadius)
				}
			}
		}
	}
}

// TestBalancedCircleSharesTheSlip: about its centre one wheel heads left of free as far as the other heads right; it lies between the
// circles of the two wheels alone; and it is what a slide without an angle is held on.
func TestBalancedCircleSharesTheSlip(t *testing.T) {
	met := 0
	trial.Check(t, func(t *rapid.T) {
		v := New(random.Setup(t))
		way := setup.Side(rapid.IntRange(0, 1).Draw(t, "way")).Sign()
		wheels := v.steered(degrees(way*rapid.Float64Range(5, 40).Draw(t, "left")), degrees(way*rapid.Float64Range(5, 40).Draw(t, "right")))
		turn := v.Turn(&wheels)
		c := v.BalancedCircle(&wheels, &turn)
		if !turn.Known() || math.IsNaN(c.OverFrontTyres) {
			return
		}
		met++
		s := Slide{Radius: math.Abs(c.Centre.Y), Turn: way}
		slip := [2]float64{}
		for _, side := range setup.Sides {
			slip[side] = float64(wheels[side].Steer - v.FreeSteer(side, s))
		}
		if !near(slip[0], -slip[1], 1e-9) || c.Centre.X != -v.Wheelbase || c.Centre.Y*way < 0 {
			t.Errorf("slips %v about %v", slip, c.Centre)
		}
		a, b := v.OuterCircle(&wheels, &turn).Centre.Y*way, v.InnerCircle(&wheels, &turn).Centre.Y*way
		if y := c.Centre.Y * way; y < math.Min(a, b)-1e-6 || y > math.Max(a, b)+1e-6 {
			t.Errorf("centre at %v, the wheels' own at %v and %v", y, a, b)
		}
	})
	if met < 15 {
		t.Errorf("only %d met", met)
	}
}

// TestStiffFrameStandsOnThree: the plane through the three contacts that stay is worked out here, and what it leaves below the
// fourth must be what Stance says.
func TestStiffFrameStandsOnThree(t *testing.T) {
	trial.Check(t, func(t *rapid.T) {
		s := random.Setup(t)
		v := New(s)
		wheels := v.steered(degrees(rapid.Float64Range(-40, 40).Draw(t, "left")), degrees(rapid.Float64Range(-40, 40).Draw(t, "right")))
		rises := [2]float64{rapid.Float64Range(-20, 20).Draw(t, "rise left"), rapid.Float64Range(-20, 20).Draw(t, "rise right")}
		st := v.Stance(&wheels, rises)
		low := st.High.Other()
		// Both front wheels stand: the front axle rolls by the difference over its track, and the rear axle with it.
		front := math.Abs(wheels[0].Contact.Y - wheels[1].Contact.Y)
		if want := v.RearTrack * (rises[st.High] - rises[low]) / front; !near(st.Rear, want, 1e-9) || st.Rear < 0 {
			t.Errorf("rear wheel off by %v, want %v", st.Rear, want)
		}
		if want := rises[st.High] - rises[low]; !near(st.Front, want, 1e-12) {
			t.Errorf("front wheel off by %v, want %v", st.Front, want)
		}
	})
}

// TestInsideRearWheelLiftsByMoments: loads of the three wheels that stand, from moments of weight and sideways force, must be none below the
// threshold for the wheel that is to come down, and the rear wheel's load is nought at it.
func TestInsideRearWheelLiftsByMoments(t *testing.T) {
	s := upright(1040, 700, 180) // front track 1060
	s.Vehicle.RearTrack = 1100
	v := New(s)
	wheels := v.steered(30*s1.Degree, 24*s1.Degree)
	st := v.Stance(&wheels, [2]float64{15, -8})
	m := Mass{FrontShare: 0.43, Height: 300}
	if v.RearLifts(&st, m) {
		t.Error("with 43 % in front the mass centre lies behind the diagonal")
	}
	if !v.RearLifts(&st, Mass{FrontShare: 0.6, Height: 300}) {
		t.Error("with 60 % in front it lies ahead of it")
	}
	g, tips := v.InsideRearLifts(&st, m, 1)
	// Moments about the diagonal from the high front contact to the rear one across: the inside rear wheel bears nothing
	// where weight and sideways force balance about it.
	a, b := plan(wheels[0].Contact), [2]float64{-1040, -550}
	x, y := -0.57*1040, -g*300
	about := (b[0]-a.X)*(y-a.Y) - (b[1]-a.Y)*(x-a.X)
	if tips || g <= 0 || !near(about, 0, 1e-6) {
		t.Errorf("lifts from %v g (tips %v): moment about the diagonal %v", g, tips, about)
	}
	if counter, tips := v.InsideRearLifts(&st, m, -1); !tips || counter < g {
		t.Errorf("in countersteer from %v g (tips %v), turning from %v", counter, tips, g)
	}
}

// TestNullWhereAFigureRunsAway: an outer wheel that stands straight, wheels that stand parallel.
func TestNullWhereAFigureRunsAway(t *testing.T) {
	v := New(upright(1000, 600, 120))
	nan := func(x float64) bool { return math.IsNaN(x) }
	for _, c := range []struct {
		name            string
		left, right     float64
		ideal, centre   bool // NaN
		percent, across bool
	}{
		{"outer wheel straight", 5, 0, true, true, true, false},
		{"outer wheel a hair off", 5, 1e-9, true, true, true, false},
		{"outer wheel a little off", 5, 0.2, false, false, true, false},
		{"parallel", 20, 20, false, false, false, true},
		{"parallel but for rounding", 20, 20 + 1e-10, false, false, false, true},
		{"well apart", 20, 15, false, false, false, false},
	} {
		wheels := v.steered(degrees(c.left), degrees(c.right))
		turn := v.Turn(&wheels)
		if nan(float64(turn.IdealInner)) != c.ideal || nan(float64(turn.Error)) != c.ideal || nan(turn.Centre.X) != c.centre || nan(turn.Percent) != c.percent || nan(turn.AxleCross.X) != c.across {
			t.Errorf("%s: %+v", c.name, turn)
		}
		if math.Abs(turn.Percent) > 1e7 || math.Abs(turn.Centre.Y) > 1e7 || math.Abs(turn.AxleCross.Y) > 1e7 {
			t.Errorf("%s: a figure without bound: %+v", c.name, turn)
		}
	}
}

// TestSlipAndWeight: front slip takes as much off the countersteer; weights move the mean towards the outer wheel.
func TestSlipAndWeight(t *testing.T) {
	v := New(upright(1000, 600, 120))
	for _, side := range setup.Sides {
		for _, turn := range []float64{1, -1} {
			s := Slide{Radius: 4000, Angle: 40 * s1.Degree, Turn: turn}
			free := v.FreeSteer(side, s)
			s.FrontSlip = 5 * s1.Degree
			if got := v.FreeSteer(side, s); !near((got-free).Degrees(), turn*5, 1e-12) || got.Abs() > free.Abs() {
				t.Errorf("%v wheel on a path to %v: %v with slip, %v without", side, turn, got, free)
			}
			lock := s1.Angle(-turn) * 25 * s1.Degree
			if with, without := v.SlideHeld(side, s, lock), v.SlideHeld(side, Slide{Radius: 4000, Turn: turn}, lock); with <= without {
				t.Errorf("%v wheel holds %v with slip, %v without", side, with, without)
			}
		}
	}
	s := Slide{Turn: 1}
	if got := s.Weighted([2]s1.Angle{10, 20}); got != 15 {
		t.Errorf("alike: %v", float64(got))
	}
	s.OuterWeight = 0.8
	if got := s.Weighted([2]s1.Angle{10, 20}); !near(float64(got), 18, 1e-12) { // the path turns left: the right wheel is outside
		t.Errorf("80 %% outside: %v", float64(got))
	}
}
