package road

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"
	"pgregory.net/rapid"

	"locksweep/fixtures/random"
	"locksweep/fixtures/trial"
	"locksweep/geometry/setup"
)

// TestFreeWheelsRollAlongTheirPaths turns every wheel to its free heading and asks of rigid-body motion, not of
// axle lines, which way its contact moves: square to the way from the path's centre.
func TestFreeWheelsRollAlongTheirPaths(t *testing.T) {
	trial.Check(t, func(t *rapid.T) {
		v := New(random.Setup(t))
		s := Slide{
			Radius: v.Wheelbase * rapid.Float64Range(2, 8).Draw(t, "radius"),
			Angle:  degrees(rapid.Float64Range(0, 60).Draw(t, "slide")),
			Turn:   setup.Side(rapid.IntRange(0, 1).Draw(t, "turn")).Sign(),
		}
		for _, side := range setup.Sides {
			free := v.FreeSteer(side, s)
			w := v.Corners[side].aimed(t, v.Centre(s))
			if !near((w.Steer - free).Degrees(), 0, 1e-7) {
				t.Fatalf("%v: free at %v, the axle line passes the centre at %v", side, free, w.Steer)
			}
			spoke := plan(w.Contact).Sub(v.Centre(s)) // left of the way that it moves, in a left turn
			moves := r2.Point{X: -spoke.Y, Y: spoke.X}.Mul(s.Turn)
			if way := s1.Angle(math.Atan2(moves.Y, moves.X)); !near((way - free).Degrees(), 0, 1e-7) {
				t.Errorf("%v: the contact moves towards %v, the wheel heads %v (%+v)", side, way, free, s)
			}
		}
	})
}

// atMassCentre is the slide of a body whose mass centre, a point ahead of the rear axle, follows a circle with the
// body at an angle to its path. Both motions have one centre: R sin β is longer by ahead than r sin b,
// R cos β is r cos b (derived).
func atMassCentre(radius float64, angle s1.Angle, ahead, turn float64) Slide {
	sin, cos := math.Sincos(float64(angle))
	across, along := radius*cos, radius*sin+ahead
	return Slide{Radius: math.Hypot(across, along), Angle: s1.Angle(math.Atan2(along, across)), Turn: turn}
}

// TestCountersteerByMassCentre holds the free headings against the form in use for a slide angle at the
// mass centre, a behind the front axle, with the track between the kingpins (common practice, no source):
// countersteer = atan((R sin β - a)/(R cos β ∓ t/2)), - for the wheel inside the turn.
func TestCountersteerByMassCentre(t *testing.T) {
	trial.Check(t, func(t *rapid.T) {
		wheelbase, track := rapid.Float64Range(800, 1800).Draw(t, "wheelbase"), rapid.Float64Range(500, 900).Draw(t, "track")
		a, radius := wheelbase*rapid.Float64Range(0.3, 0.7).Draw(t, "a"), rapid.Float64Range(2500, 9000).Draw(t, "radius")
		β := degrees(rapid.Float64Range(0, 65).Draw(t, "slide"))
		turning := setup.Side(rapid.IntRange(0, 1).Draw(t, "turn"))
		v := New(upright(wheelbase, track, 100))
		s := atMassCentre(radius, β, wheelbase-a, turning.Sign())
		for i, side := range [2]setup.Side{turning, turning.Other()} {
			sin, cos := math.Sincos(float64(β))
			half := [2]float64{-track / 2, track / 2}[i]
			want := -s1.Angle(turning.Sign() * math.Atan((radius*sin-a)/(radius*cos+half)))
			if got := v.FreeSteer(side, s); !near((got - want).Degrees(), 0, 1e-9) {
				t.Errorf("%v wheel on a path to the %v: %v, want %v", side, turning, got, want)
			}
		}
	})
}

// TestCountersteerFigures: whole degrees worked out by hand for R 4 m, a 0.45 m and a track of 0.7 m (derived).
func TestCountersteerFigures(t *testing.T) {
	for _, c := range []struct{ slide, middle, inside, outside float64 }{
		{30, 24, 26, 22}, {45, 40, 44, 37}, {60, 56, 61, 52},
	} {
		s := atMassCentre(4000, degrees(c.slide), 450, 1)
		for name, w := range map[string]struct{ track, want float64 }{"middle": {0.001, c.middle}, "inside": {700, c.inside}, "outside": {-700, c.outside}} {
			side := setup.Left
			if w.track < 0 {
				side, w.track = setup.Right, -w.track
			}
			got := -New(upright(900, w.track, 0)).FreeSteer(side, s).Degrees()
			if !near(got, w.want, 0.5) {
				t.Errorf("slide %v, %s wheel: %.2f, want %v", c.slide, name, got, w.want)
			}
		}
	}
}

// TestNoSlideIsAckermann: without a slide angle the free headings are the condition of correct steering.
func TestNoSlideIsAckermann(t *testing.T) {
	trial.Check(t, func(t *rapid.T) {
		wheelbase, spacing := rapid.Float64Range(800, 1800).Draw(t, "wheelbase"), rapid.Float64Range(450, 900).Draw(t, "spacing")
		radius := rapid.Float64Range(1000, 20000).Draw(t, "radius")
		v := New(upright(wheelbase, spacing, 100))
		for _, inner := range setup.Sides {
			s := Slide{Radius: radius, Turn: inner.Sign()}
			in, out := float64(v.FreeSteer(inner, s))*inner.Sign(), float64(v.FreeSteer(inner.Other(), s))*inner.Sign()
			if off := 1/math.Tan(out) - 1/math.Tan(in) - spacing/wheelbase; math.Abs(off) > 1e-11 {
				t.Errorf("turning %v on %v: inner %v, outer %v: cot outer - cot inner off by %g", inner, radius, in, out, off)
			}
			wheels := v.steered(s1.Angle(inner.Sign()*in), s1.Angle(inner.Sign()*out))
			if inner == setup.Right {
				wheels = v.steered(s1.Angle(-out), s1.Angle(-in))
			}
			turn := v.Turn(&wheels)
			if turn.Known() && !near(turn.Error.Degrees(), 0, 1e-10) {
				t.Errorf("turning %v: Ackermann error %v", inner, turn.Error)
			}
		}
	})
}

// TestSlideHeldIsWhereTheLockIs, holds more with more lock, and is mirrored for the other wheel on the other path.
func TestSlideHeldIsWhereTheLockIs(t *testing.T) {
	trial.Check(t, func(t *rapid.T) {
		s := random.Setup(t)
		s.Corners[setup.Right] = s.Corners[setup.Left]
		v := New(s)
		side := setup.Side(rapid.IntRange(0, 1).Draw(t, "side"))
		radius := s.Vehicle.Wheelbase * rapid.Float64Range(1.5, 6).Draw(t, "radius")
		turn := setup.Side(rapid.IntRange(0, 1).Draw(t, "turn")).Sign()
		lock := degrees(rapid.Float64Range(1, 60).Draw(t, "lock"))
		held := v.SlideHeld(side, Slide{Radius: radius, Turn: turn}, s1.Angle(-turn)*lock)
		if held < 90*s1.Degree {
			free := v.FreeSteer(side, Slide{Radius: radius, Angle: held, Turn: turn})
			if !near((free + s1.Angle(turn)*lock).Degrees(), 0, 1e-9) {
				t.Errorf("held %v: free at %v, lock %v", held, free, lock)
			}
		}
		if more := v.SlideHeld(side, Slide{Radius: radius, Turn: turn}, s1.Angle(-turn)*(lock+degrees(0.5))); !(more >= held) {
			t.Errorf("half a degree more lock holds %v instead of %v", more, held)
		}
		if other := v.SlideHeld(side.Other(), Slide{Radius: radius, Turn: -turn}, s1.Angle(turn)*lock); !near((other - held).Degrees(), 0, 1e-9) {
			t.Errorf("mirrored %v, want %v", other, held)
		}
	})
}

// TestNoSlideHeld where the wheel only turns into the path further than rolling wants.
func TestNoSlideHeld(t *testing.T) {
	v := New(upright(1000, 600, 120))
	if held := v.SlideHeld(setup.Left, Slide{Radius: 4000, Turn: 1}, 30*s1.Degree); !math.IsNaN(float64(held)) {
		t.Errorf("held %v with a wheel that does not turn below 30 degrees into the turn", held)
	}
	if held := v.SlideHeld(setup.Left, Slide{Radius: 4000, Turn: 1}, -180*s1.Degree); held != 90*s1.Degree {
		t.Errorf("held %v, want 90 degrees at most", held)
	}
}
