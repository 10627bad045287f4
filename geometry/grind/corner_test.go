package grind

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"

	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// Inner corners that a cut makes in a block 40 by 30 (derived: the middle of a round through a right angle lies on its bisector, half a
// diameter from the corner).
func TestInnerCorners(t *testing.T) {
	block := corners(0, 0, 40, 0, 40, 30, 0, 30)
	half := 2.5 / math.Sqrt2
	for _, c := range []struct {
		name          string
		before, after []r2.Point
		want          []Corner
	}{
		{"a step, deep", block, corners(0, 0, 40, 0, 40, 18, 20, 18, 20, 30, 0, 30), []Corner{{r2.Point{X: 20, Y: 18}, r2.Point{X: 20 + half, Y: 18 + half}, true}}},
		{"a step, too shallow to be drilled", block, corners(0, 0, 40, 0, 40, 28, 20, 28, 20, 30, 0, 30), []Corner{{r2.Point{X: 20, Y: 28}, r2.Point{X: 20 + half, Y: 28 + half}, false}}},
		{"a slot", block, corners(0, 0, 40, 0, 40, 30, 30, 30, 30, 12, 14, 12, 14, 30, 0, 30), []Corner{
			{r2.Point{X: 30, Y: 12}, r2.Point{X: 30 - half, Y: 12 + half}, true}, {r2.Point{X: 14, Y: 12}, r2.Point{X: 14 + half, Y: 12 + half}, true}}},
		// the middle of the hole is 7.3 mm from the edge that stays, then 3.8: 1.2 diameters are 6
		{"a step near the edge", block, corners(0, 0, 40, 0, 40, 18, 5.5, 18, 5.5, 30, 0, 30), []Corner{{r2.Point{X: 5.5, Y: 18}, r2.Point{X: 5.5 + half, Y: 18 + half}, true}}},
		{"a step that leaves a horn", block, corners(0, 0, 40, 0, 40, 18, 2, 18, 2, 30, 0, 30), []Corner{{r2.Point{X: 2, Y: 18}, r2.Point{X: 2 + half, Y: 18 + half}, false}}},
		{"a slot too narrow for two holes", block, corners(0, 0, 40, 0, 40, 30, 24, 30, 24, 12, 14, 12, 14, 30, 0, 30), []Corner{
			{r2.Point{X: 24, Y: 12}, r2.Point{X: 24 - half, Y: 12 + half}, true}, {r2.Point{X: 14, Y: 12}, r2.Point{X: 14 + half, Y: 12 + half}, false}}},
		// no edge that stays is near, but the hole runs out into the bay that there was
		{"a bay made wider", corners(0, 0, 60, 0, 60, 60, 40, 60, 40, 40, 20, 40, 20, 60, 0, 60), corners(0, 0, 60, 0, 60, 60, 43, 60, 43, 37, 17, 37, 17, 60, 0, 60), []Corner{
			{r2.Point{X: 43, Y: 37}, r2.Point{X: 43 - half, Y: 37 + half}, false}, {r2.Point{X: 17, Y: 37}, r2.Point{X: 17 + half, Y: 37 + half}, false}}},
		{"a corner cut off", block, corners(0, 0, 40, 0, 40, 18, 20, 30, 0, 30), nil},
		{"a flat bend", block, corners(0, 0, 40, 0, 40, 20, 20, 22, 0, 30), nil}, // 16 degrees
		{"of before", corners(0, 0, 40, 0, 40, 18, 20, 18, 20, 30, 0, 30), corners(0, 0, 36, 0, 36, 18, 20, 18, 20, 30, 0, 30), nil},
	} {
		cut := &Cut{Before: c.before, After: c.after}
		if err := cut.corners(CornerRound(setup.MM)); err != nil {
			t.Fatal(err)
		}
		if len(cut.Corners) != len(c.want) {
			t.Errorf("%s: got %v, want %v", c.name, cut.Corners, c.want)
			continue
		}
		for i, want := range c.want {
			if got := cut.Corners[i]; got.At != want.At || got.Hole.Sub(want.Hole).Norm() > 0.15 || got.Drill != want.Drill {
				t.Errorf("%s: got %+v, want %+v", c.name, got, want)
			}
		}
	}
}

// What is said to be made round gives the same locks when it is.
func TestEasedCornersKeepTheLock(t *testing.T) {
	p := planOf(t, nil)
	var eased []*Cut
	for _, c := range p.Cuts {
		if len(c.Corners) == 0 || !c.Eased {
			t.Fatalf("corners %v, eased: %v", c.Corners, c.Eased)
		}
		round := *c
		after, err := c.eased(CornerRound(setup.MM))
		if err != nil {
			t.Fatal(err)
		}
		round.After = after
		eased = append(eased, &round)
	}
	after, err := sweep.New(refit(p.Model, eased))
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range sweep.Directions {
		lock := after.Lock(d)
		near(t, "lock", lock.Column.Degrees(), p.Locks[d].Column.Degrees(), 0.01)
		if s := after.Stopping(&lock); len(s.Faults()) > 0 {
			t.Errorf("turned %s: %v", d, s.Faults())
		}
	}
}
