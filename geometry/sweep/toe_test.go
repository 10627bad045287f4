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

// TestStaticToeDoesNotColourAckermann: with another toe and rods that follow it arm and loop are the same, and so
// is all that is said of the linkage, pose by pose and where the trade looks; the wheels as they stand are not.
func TestStaticToeDoesNotColourAckermann(t *testing.T) {
	trial.Check(t, func(t *rapid.T) {
		s := random.Setup(t)
		for side := range s.Corners {
			s.Corners[side].Rod.Length = 0
		}
		toed := *s
		toed.Corners[setup.Left].Wheel.Toe += s1.Angle(rapid.Float64Range(-3, 3).Draw(t, "left toe")) * s1.Degree
		toed.Corners[setup.Right].Wheel.Toe += s1.Angle(rapid.Float64Range(-3, 3).Draw(t, "right toe")) * s1.Degree
		run := func(s *setup.Setup) *Result {
			mechanism, err := linkage.New(s)
			if err != nil {
				t.Fatal(err)
			}
			return made(s, mechanism, new(clearance.Scene), road.New(s)).Run(5 * s1.Degree)
		}
		was, is := run(s), run(&toed)
		same := func(what string, column s1.Angle, a, b float64) {
			t.Helper()
			if !(math.Abs(a-b) <= 1e-9*(1+math.Abs(a)) || math.IsNaN(a) && math.IsNaN(b)) {
				t.Errorf("%s at %v: %v, with another toe %v", what, column, a, b)
			}
		}
		for i := range was.Poses {
			p, q := &was.Poses[i], &is.Poses[i]
			same("mean steer", p.Column, p.LinkageSteer.Degrees(), q.LinkageSteer.Degrees())
			if !p.Turn.Known() || !q.Turn.Known() || p.Turn.Inner != q.Turn.Inner {
				continue // straight ahead is where the wheels as they stand hardly turn
			}
			same("ideal inner", p.Column, p.Turn.IdealInner.Degrees(), q.Turn.IdealInner.Degrees())
			same("error", p.Column, p.Turn.Error.Degrees(), q.Turn.Error.Degrees())
			same("ahead", p.Column, p.Turn.Ahead.Degrees(), q.Turn.Ahead.Degrees())
			if math.Abs(p.Turn.Percent) < 1e4 {
				same("percent", p.Column, p.Turn.Percent, q.Turn.Percent)
			}
		}
		for _, d := range Directions {
			if was.Locks[d].Pose.Turn.Inner != is.Locks[d].Pose.Turn.Inner {
				continue // the wheels as they stand hardly turn even at the lock
			}
			p, q := was.TurnErrors(d), is.TurnErrors(d)
			for i := range min(len(p), len(q)) {
				same("error at a mean steer", p[i].Steer, p[i].Error.Degrees(), q[i].Error.Degrees())
			}
		}
	})
}

// TestToeOfGivenRodsIsTakenOff: upright kingpins and rods that set each wheel some way off. The linkage's angles
// are the spindles' less those with the column centred; the toe-out on turns is of the wheels as they stand.
func TestToeOfGivenRodsIsTakenOff(t *testing.T) {
	s := level()
	for side := range s.Corners {
		s.Corners[side].Wheel.Toe = 1 * s1.Degree
	}
	free := bare(t, s)
	for side, by := range [2]float64{2, -1.5} {
		s.Corners[side].Rod.Length = free.Linkage.Rods[side].Derived + by
	}
	m := bare(t, s)
	for _, column := range []s1.Angle{15 * s1.Degree, -25 * s1.Degree} {
		p, ok := m.Pose(column)
		if !ok || !p.Turn.Known() {
			t.Fatalf("no pose at %v", column)
		}
		in, out, into := p.Turn.Inner, p.Turn.Inner.Other(), s1.Angle(1)
		if p.MeanSteer() < 0 {
			into = -1
		}
		turned := func(side setup.Side) s1.Angle { return into * (p.Sides[side].Spindle - m.Linkage.Straight[side]) }
		ideal := s1.Angle(math.Atan(1 / (1/math.Tan(float64(turned(out))) - s.Spacing/s.Vehicle.Wheelbase)))
		for what, c := range map[string][2]s1.Angle{
			"ahead": {p.Turn.Ahead, turned(in) - turned(out)}, "ideal": {p.Turn.IdealInner, ideal}, "error": {p.Turn.Error, turned(in) - ideal},
			"mean":    {p.LinkageSteer, into * (turned(in) + turned(out)) / 2},
			"toe out": {p.Turn.ToeOut(), into * (p.Wheels[in].Steer - p.Wheels[out].Steer)},
			"inner":   {p.Turn.InnerSteer, into * p.Wheels[in].Steer},
		} {
			if (c[0] - c[1]).Abs() > 1e-11 {
				t.Errorf("column %v: %s %v, want %v", column, what, c[0], c[1])
			}
		}
		if (p.Turn.ToeOut() - p.Turn.Ahead).Abs() < 0.5*s1.Degree {
			t.Errorf("column %v: toe of 1° and rods that set more leave the figures alike: %v, %v", column, p.Turn.ToeOut(), p.Turn.Ahead)
		}
	}
}

// TestAboutParallelIsNotReversed: the outer wheel a hair further is no finding, well further is.
func TestAboutParallelIsNotReversed(t *testing.T) {
	for ahead, want := range map[float64]bool{0.2: false, 0.04: false, -0.049: false, -0.051: true, -2: true} {
		turns := []TurnError{{Steer: 10 * s1.Degree, Ahead: s1.Angle(ahead) * s1.Degree}}
		if got := reversed(turns); got != want {
			t.Errorf("inner wheel %v° ahead: reversed %v", ahead, got)
		}
		if got, want := turns[0].Parallel(), math.Abs(ahead) < 0.05; got != want {
			t.Errorf("inner wheel %v° ahead: parallel %v", ahead, got)
		}
	}
}
