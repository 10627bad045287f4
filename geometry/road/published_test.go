package road

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"locksweep/fixtures/published"
	"locksweep/geometry/setup"
)

func degrees(d float64) s1.Angle { return s1.Angle(d) * s1.Degree }

func radians(d float64) float64 { return float64(degrees(d)) }

// upright is a vehicle with upright kingpins and wheels straight ahead; scrub is its offset.
func upright(wheelbase, spacing, scrub float64) *setup.Setup {
	s := &setup.Setup{Spacing: spacing, Vehicle: setup.Vehicle{Wheelbase: wheelbase, RearTrack: spacing, RearTyre: setup.Tyre{Diameter: 280, Width: 100}}}
	for side := range s.Corners {
		s.Corners[side].Kingpin.Height = 130
		s.Corners[side].Wheel = setup.Wheel{Offset: scrub, Tyre: setup.Tyre{Diameter: 260, Width: 100}}
	}
	return s
}

// steered turns both spindles.
func (v *Vehicle) steered(left, right s1.Angle) (wheels [2]Wheel) {
	for side, a := range [2]s1.Angle{left, right} {
		wheels[side] = v.Corners[side].At(math.Sincos(float64(a)))
	}
	return wheels
}

// both turns left and right: inner and outer are into the turn.
func (v *Vehicle) both(inner, outer s1.Angle) (wheels [2][2]Wheel) {
	return [2][2]Wheel{v.steered(inner, outer), v.steered(-outer, -inner)}
}

func TestCorrectSteering(t *testing.T) {
	for _, p := range published.CorrectSteers {
		v := New(upright(1000*p.Wheelbase, 1000*p.Spacing, 100))
		for d, wheels := range v.both(degrees(p.Inner), degrees(p.Outer)) {
			turn := v.Turn(&wheels)
			if got := turn.IdealInner.Degrees(); math.Abs(got-p.Inner) > 2*p.Within {
				t.Errorf("%s: outer %v wants inner %v, got %v", p.Work, p.Outer, p.Inner, got)
			}
			if turn.Inner != setup.Side(d) || math.Abs(turn.Percent-100) > 0.05 {
				t.Errorf("%s: inner side %v, percent %v", p.Work, turn.Inner, turn.Percent)
			}
		}
		// The equation itself, to rounding.
		wheels := v.steered(degrees(p.Inner), degrees(p.Outer))
		ideal := v.Turn(&wheels).IdealInner
		if off := 1/math.Tan(radians(p.Outer)) - 1/math.Tan(float64(ideal)) - p.Spacing/p.Wheelbase; math.Abs(off) > 1e-12 {
			t.Errorf("%s: outer %v: equation off by %g", p.Work, p.Outer, off)
		}
	}
}

// TestDavisGear: a gear that steers correctly at every angle must show no error at any.
func TestDavisGear(t *testing.T) {
	for _, p := range published.DavisGears {
		v := New(upright(1000*p.Wheelbase, 1000*p.Spacing, 100))
		exact := math.Atan(p.Spacing / (2 * p.Wheelbase))
		for _, α := range []struct{ angle, within float64 }{{exact, 1e-9}, {radians(p.Inclination), 0.12}} {
			for shift := 0.05; shift < 0.5; shift += 0.05 {
				inner := α.angle - math.Atan(math.Tan(α.angle)-shift)
				outer := math.Atan(math.Tan(α.angle)+shift) - α.angle
				for _, wheels := range v.both(s1.Angle(inner), s1.Angle(outer)) {
					if e := v.Turn(&wheels).Error.Degrees(); !(math.Abs(e) <= α.within) {
						t.Errorf("%s: inclination %v, inner %v: error %v", p.Work, s1.Angle(α.angle), s1.Angle(inner), e)
					}
				}
			}
		}
	}
}

// TestTurningCircleOverTheContact takes the edge out of the diameter over the tyres with a tyre of no width.
func TestTurningCircleOverTheContact(t *testing.T) {
	for _, p := range published.TurningCircles {
		s := upright(p.Wheelbase, p.Track-2*p.Scrub, p.Scrub)
		for side := range s.Corners {
			s.Corners[side].Wheel.Tyre.Width = 0
		}
		v := New(s)
		for inner := 5.0; inner <= 45; inner += 5 {
			outer := math.Atan(1 / (1/math.Tan(radians(inner)) + (p.Track-2*p.Scrub)/p.Wheelbase))
			for _, wheels := range v.both(degrees(inner), s1.Angle(outer)) {
				turn := v.Turn(&wheels)
				want := p.Wheelbase/math.Sin(outer) + p.Scrub
				if got := v.OuterCircle(&wheels, &turn).OverFrontTyres; math.Abs(got/2-want) > 1e-9*want {
					t.Errorf("%s: inner %v: radius %v, want %v", p.Work, inner, got/2, want)
				}
				centre := r2.Point{X: -p.Wheelbase, Y: p.Wheelbase/math.Tan(outer) - s.Spacing/2}
				if turn.Inner == setup.Right {
					centre.Y = -centre.Y
				}
				if turn.Centre.Sub(centre).Norm() > 1e-9*want || turn.AxleCross.Sub(centre).Norm() > 1e-8*want {
					t.Errorf("%s: inner %v: centre %v, axle lines meet at %v, want %v", p.Work, inner, turn.Centre, turn.AxleCross, centre)
				}
			}
		}
	}
}

// tilted sets both kingpins.
func tilted(caster, inclination float64) *Vehicle {
	s := upright(1050, 640, 110)
	for side := range s.Corners {
		s.Corners[side].Kingpin.Caster, s.Corners[side].Kingpin.Inclination = degrees(caster), degrees(inclination)
	}
	return New(s)
}

// fataler is a test of either kind.
type fataler interface {
	Helper()
	Fatalf(format string, args ...any)
}

// atSteer turns a wheel until it heads by steer.
func (c *Corner) atSteer(t fataler, steer s1.Angle) Wheel {
	t.Helper()
	spindle := float64(steer)
	for range 50 {
		w := c.At(math.Sincos(spindle))
		by := float64(steer - w.Steer)
		if math.Abs(by) < 1e-15 {
			break
		}
		spindle += by / w.Rate
	}
	w := c.At(math.Sincos(spindle))
	if (w.Steer - steer).Abs() > 1e-12 {
		t.Fatalf("steer %v not met: %v", steer, w.Steer)
	}
	return w
}

func TestCamberOverSteer(t *testing.T) {
	p, worst := published.CamberRule, 0.0
	for caster := -p.Caster; caster <= p.Caster; caster += 5 {
		for inclination := 0.0; inclination <= p.Inclination; inclination += 5 {
			v := tilted(caster, inclination)
			for steer := -p.Steer; steer <= p.Steer; steer += 5 {
				sin, cos := math.Sincos(radians(steer))
				for _, side := range setup.Sides {
					got := v.Corners[side].atSteer(t, degrees(steer)).Camber.Degrees()
					want := side.Sign()*caster*sin + inclination*(1-cos)
					worst = max(worst, math.Abs(got-want))
				}
			}
		}
	}
	if worst > p.Within || worst < p.Within/10 { // a rule of first order cannot be much better either
		t.Errorf("%s: off by up to %v degrees, want %v at most", p.Work, worst, p.Within)
	}
}

func TestCasterByCamber(t *testing.T) {
	p := published.CasterByCamber
	for caster := -p.Caster; caster <= p.Caster; caster += 2.5 {
		for inclination := 0.0; inclination <= 15; inclination += 5 {
			c := tilted(caster, inclination).Corners[setup.Left]
			difference := c.atSteer(t, degrees(p.Steer)).Camber - c.atSteer(t, degrees(-p.Steer)).Camber
			if got := p.Factor * difference.Degrees(); math.Abs(got-caster) > p.Within {
				t.Errorf("%s: caster %v, inclination %v: measured %v", p.Work, caster, inclination, got)
			}
		}
	}
}
