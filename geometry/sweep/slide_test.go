package sweep

import (
	"math"
	"testing"

	"github.com/golang/geo/s1"
	"pgregory.net/rapid"

	"locksweep/fixtures/random"
	"locksweep/fixtures/trial"
	"locksweep/geometry/clearance"
	"locksweep/geometry/linkage"
	"locksweep/geometry/road"
	"locksweep/geometry/setup"
)

// locked is a setup's linkage with its locks, without any metal.
func locked(t interface{ Fatal(...any) }, s *setup.Setup) *Result {
	mechanism, err := linkage.New(s)
	if err != nil {
		t.Fatal(err)
	}
	m := made(s, mechanism, new(clearance.Scene), road.New(s))
	return &Result{Model: m, Locks: [2]Lock{m.Lock(ToLeft), m.Lock(ToRight)}}
}

// TestSlidesAreHeldWithoutMeanSlip, between the locks, and half of what the wheels splay is either one's slip.
func TestSlidesAreHeldWithoutMeanSlip(t *testing.T) {
	held := 0
	trial.Check(t, func(t *rapid.T) {
		s := random.Setup(t)
		r := locked(t, s)
		slide := road.Slide{
			Radius: s.Vehicle.Wheelbase * rapid.Float64Range(2, 8).Draw(t, "radius"),
			Angle:  s1.Angle(rapid.Float64Range(0, 45).Draw(t, "slide")) * s1.Degree,
			Turn:   Direction(rapid.IntRange(0, 1).Draw(t, "turn")).Sign(),
		}
		p, ok := r.Sliding(slide)
		if !ok {
			return
		}
		held++
		if p.Column > r.Locks[ToLeft].Column || p.Column < r.Locks[ToRight].Column {
			t.Fatalf("held at %v, beyond the locks", p.Column)
		}
		slips := [2]s1.Angle{p.Wheels[0].Steer - p.Free[0], p.Wheels[1].Steer - p.Free[1]}
		if mean := slips[0] + slips[1]; mean.Abs() > 2.1e-10*s1.Degree {
			t.Errorf("slips %v: the mean is not nought", slips)
		}
		if by := p.Apart - (slips[0] - slips[1]); by.Abs() > 1e-12 {
			t.Errorf("apart %v, slips %v", p.Apart, slips)
		}
	})
	if held == 0 {
		t.Error("not one slide was held")
	}
}

// toeless draws a setup whose wheels stand straight with the column centred: what the wheels do is what the linkage does.
func toeless(t *rapid.T) *setup.Setup {
	s := random.Setup(t)
	for side := range s.Corners {
		s.Corners[side].Wheel.Toe, s.Corners[side].Rod.Length = 0, 0
	}
	return s
}

// TestWithoutASlideApartHasTheSignOfTheAckermannError, on paths to either side, and both are nought together.
func TestWithoutASlideApartHasTheSignOfTheAckermannError(t *testing.T) {
	met := 0
	trial.Check(t, func(t *rapid.T) {
		s := toeless(t)
		r := locked(t, s)
		d := Direction(rapid.IntRange(0, 1).Draw(t, "turn"))
		p, ok := r.Sliding(road.Slide{Radius: s.Vehicle.Wheelbase * rapid.Float64Range(1.5, 6).Draw(t, "radius"), Turn: d.Sign()})
		if !ok || !p.Pose.Turn.Known() {
			return
		}
		met++
		if e := p.Pose.Turn.Error; e.Abs() > 1e-6*s1.Degree && (e > 0) != (p.Apart > 0) {
			t.Errorf("turning %v: apart %v, Ackermann error %v", d, p.Apart, e)
		}
	})
	if met == 0 {
		t.Error("not one turn was met")
	}
}

// TestTrueLinkageSplaysNowhere: where the linkage heads both wheels at one centre on the rear axle line, rolling
// round it without a slide leaves no slip.
func TestTrueLinkageSplaysNowhere(t *testing.T) {
	trial.Check(t, func(t *rapid.T) {
		s := toeless(t)
		r := locked(t, s)
		pose, ok := r.Pose(r.Locks[ToLeft].Column * s1.Angle(rapid.Float64Range(0.2, 0.99).Draw(t, "share")))
		if most := r.Locks[ToLeft].Pose.MeanSteer(); pose.MeanSteer()*most < 0 || pose.MeanSteer().Abs() > most.Abs() {
			return // wheels that turn against each other
		}
		if !ok || !pose.Turn.Known() || math.Abs(pose.Turn.Centre.Y) < s.Vehicle.Wheelbase {
			return
		}
		if r.Locks[ToLeft].Column == r.Locks[ToRight].Column {
			return // stuck straight ahead: there is nothing between the locks to be held at
		}
		// The wheelbase at which the axle lines cross on the rear axle line.
		x, y := pose.Turn.AxleCross.X, pose.Turn.AxleCross.Y
		if !(x < -300 && x > -5000 && math.Abs(y) > s.Spacing) {
			return
		}
		s.Vehicle.Wheelbase = -x
		r = locked(t, s)
		p, ok := r.Sliding(road.Slide{Radius: math.Abs(y), Turn: math.Copysign(1, y)})
		if !ok || p.Apart.Abs() > 1e-7*s1.Degree || p.Pose.Turn.Error.Abs() > 1e-7*s1.Degree {
			t.Errorf("centre %v: held %v, apart %v, error %v", pose.Turn.AxleCross, ok, p.Apart, p.Pose.Turn.Error)
		}
	})
}

// TestMirroredSlides: the mirrored setup on the mirrored path is held by the opposite column angle.
func TestMirroredSlides(t *testing.T) {
	trial.Check(t, func(t *rapid.T) {
		s := random.Setup(t)
		r, m := locked(t, s), locked(t, random.Mirrored(s))
		slide := road.Slide{Radius: 4 * s.Vehicle.Wheelbase, Angle: s1.Angle(rapid.Float64Range(0, 40).Draw(t, "slide")) * s1.Degree, Turn: 1}
		mirrored := slide
		mirrored.Turn = -1
		p, ok := r.Sliding(slide)
		q, okMirrored := m.Sliding(mirrored)
		if ok != okMirrored || ok && ((p.Column+q.Column).Abs() > 1e-8*s1.Degree || (p.Apart-q.Apart).Abs() > 1e-8*s1.Degree) {
			t.Errorf("held %v at %v, apart %v; mirrored %v at %v, apart %v", ok, p.Column, p.Apart, okMirrored, q.Column, q.Apart)
		}
		held, other := r.SlideHeld(road.Slide{Radius: slide.Radius, Turn: 1}), m.SlideHeld(road.Slide{Radius: slide.Radius, Turn: -1})
		for _, side := range setup.Sides {
			a, b := float64(held[side]), float64(other[side.Other()])
			if math.IsNaN(a) != math.IsNaN(b) || math.Abs(a-b) > 1e-9 {
				t.Errorf("%v wheel holds %v, mirrored %v", side, a, b)
			}
		}
	})
}

// TestSlideRadiusGrowsWithTheVehicle: no radius that nobody gave is less than the wheelbase.
func TestSlideRadiusGrowsWithTheVehicle(t *testing.T) {
	for _, c := range []struct {
		unit            setup.Unit
		wheelbase, want float64 // in the unit
	}{{setup.MM, 1040, 4000}, {setup.MM, 2000, 4000}, {setup.MM, 2001, 4500}, {setup.MM, 4300, 9000}, {setup.Inch, 45, 160}, {setup.Inch, 80, 160}, {setup.Inch, 81, 180}, {setup.Inch, 200, 400}} {
		if got := c.unit.FromMM(SlideRadius(c.unit, c.unit.ToMM(c.wheelbase))); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("wheelbase %v %v: radius %v, want %v", c.wheelbase, c.unit, got, c.want)
		}
	}
}
