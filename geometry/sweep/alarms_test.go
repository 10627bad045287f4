package sweep

import (
	"math"
	"slices"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/geometry/setup"
)

// TestAlarms: which findings say that the vehicle is not fit to be driven.
func TestAlarms(t *testing.T) {
	loud := []Code{Touching, BrokenStraight, SteersBackwards, WheelsOpposed, DeadCentre, ChangePoint, NoMetalStop}
	quiet := []Code{ReversedAckermann, LowTransmission, UnequalLocks, RodLength, TyreTouches, TouchesFirst, StopMargin, LowClearance, UncheckedPair}
	for _, c := range loud {
		if !c.Alarm() {
			t.Errorf("%s is no alarm", c)
		}
	}
	for _, c := range quiet {
		if c.Alarm() {
			t.Errorf("%s is an alarm", c)
		}
	}
}

// TestTouchingStraightAhead: a post stands in the left tyre by 4 mm. It is said first, with depth and place; the steering
// is swept as if it were not there, and is stopped by what else there is.
func TestTouchingStraightAhead(t *testing.T) {
	s := level()
	stopAt(s, 40)
	// The tyre's inner face stands at y = 355.
	post := r3.Vector{X: 0, Y: 355 - 6, Z: 100}
	s.Parts = []setup.Part{
		{Name: "post", Sides: [2]bool{true, false}, Tube: &setup.Tube{Diameter: 20, Path: []r3.Vector{post, post.Add(r3.Vector{Z: 60})}}},
	}
	if _, err := New(s); err == nil {
		t.Error("New takes it without a word")
	}
	r, err := Run(s, s1.Degree)
	if err != nil {
		t.Fatal(err)
	}
	if f := &r.Findings[0]; f.Code != Touching || math.Abs(f.Touch.Depth-4) > 1e-3 || math.Abs(f.Touch.Point.Y-357) > 3 || !slices.Equal(pairNames(r.Model, f.Pair), []string{"left post", "left tyre"}) {
		t.Errorf("first finding %+v of %v", f, pairNames(r.Model, f.Pair))
	}
	for _, d := range Directions {
		if first := r.Locks[d].First(); first.Kind != DeclaredStop || math.Abs(first.Column.Abs().Degrees()-40) > 1e-9 {
			t.Errorf("%v: stopped by %+v", d, first)
		}
		for _, l := range r.Locks[d].Chain {
			if l.Kind == Contact && l.Pair == r.Findings[0].Pair {
				t.Errorf("%v: its contact stands in the chain", d)
			}
		}
	}
	for _, n := range r.Near {
		if n.Pair == r.Findings[0].Pair {
			t.Error("its gap is told")
		}
	}
}

func pairNames(m *Model, pair [2]int) []string {
	names := m.Scene.PairNames(pair)
	slices.Sort(names[:])
	return names[:]
}

// TestChangePointOnlyWhereNothingComesBefore: a stop with the margin wanted keeps the wheels from it, and unequal arms
// have none.
func TestChangePointOnlyWhereNothingComesBefore(t *testing.T) {
	for _, c := range []struct {
		stop, dropArm float64
		want          bool
	}{{0, 80, true}, {88, 80, true}, {86.9, 80, false}, {40, 80, false}, {0, 80.3, true}, {0, 79.7, true}, {0, 84, false}, {0, 70, false}} {
		s := level()
		stopAt(s, c.stop)
		for side := range s.DropArm.Pins {
			s.DropArm.Pins[side].X = c.dropArm
		}
		m := bare(t, s)
		found := m.Alarms(&[2]Lock{m.Lock(ToLeft), m.Lock(ToRight)})
		if got := slices.ContainsFunc(found, func(f Finding) bool { return f.Code == ChangePoint }); got != c.want {
			t.Errorf("stop at %v, drop arm of %v on arms of 80: change point %v, want %v", c.stop, c.dropArm, got, c.want)
		}
	}
}
