package wording

import (
	"math"
	"slices"
	"testing"

	"locksweep/geometry/grind"
	"locksweep/geometry/setup"
)

// What stands by a bite in a drawing, and what is said of the whole plate: the depth at the stop is never the deepest where that is elsewhere.
func TestTheStopsDepthIsNotTheDeepest(t *testing.T) {
	right, none := [2]bool{false, true}, [2]bool{}
	stop := func(depth float64, clears ...int) grind.Bite {
		return grind.Bite{Depth: depth, Stops: right, Clears: clears}
	}
	for name, c := range map[string]struct {
		stops  [2]bool
		depth  float64 // at the stop
		bites  []grind.Bite
		apart  bool
		marks  []string // the first line of each
		summed string
	}{
		"one bite, the stop":      {right, 3.2, []grind.Bite{stop(3.2)}, false, []string{"3.2 mm STOP HERE"}, "3.2 mm off at most"},
		"no stop":                 {none, math.NaN(), []grind.Bite{{Depth: 7.5, Clears: []int{1}}, {Depth: 3, Clears: []int{1}}}, false, []string{"7.5 mm", "3.0 mm"}, "7.5 mm off at most"},
		"two corners":             {right, 3.2, []grind.Bite{{Depth: 7.5, Clears: []int{1}}, stop(3.2)}, true, []string{"7.5 mm to clear", "3.2 mm STOP HERE"}, "STOP 3.2 mm, at most 7.5 mm"},
		"the stop is the deepest": {right, 7.5, []grind.Bite{stop(7.5), {Depth: 3.2, Clears: []int{1}}}, true, []string{"7.5 mm STOP HERE", "3.2 mm to clear"}, "7.5 mm off at most"},
		"both in one bite":        {right, 3.2, []grind.Bite{stop(7.5, 1)}, true, []string{"STOP HERE 3.2 mm, beside it 7.5 mm"}, "STOP 3.2 mm, at most 7.5 mm"},
		"both as deep":            {right, 3.2, []grind.Bite{stop(3.22, 1)}, false, []string{"3.2 mm STOP HERE"}, "3.2 mm off at most"},
		"a scratch beside":        {right, 3.2, []grind.Bite{stop(3.2), {Depth: 0.04, Clears: []int{1}}}, false, []string{"3.2 mm STOP HERE", "0.0 mm to clear"}, "3.2 mm off at most"},
		"it touches uncut metal":  {right, 3.2, []grind.Bite{{Depth: 3.2, Clears: []int{1}}, {Depth: 2, Clears: []int{1}}}, true, []string{"3.2 mm to clear", "2.0 mm to clear"}, "3.2 mm off at most"},
	} {
		cut := &grind.Cut{Stops: c.stops, StopDepth: [2]float64{math.NaN(), c.depth}, Bites: c.bites}
		for i := range c.bites {
			cut.Depth = math.Max(cut.Depth, c.bites[i].Depth)
		}
		var marks []string
		for i := range c.bites {
			marks = append(marks, BiteMark(setup.MM, cut, &c.bites[i])[0])
		}
		if got := DepthOff(setup.MM, cut); Apart(cut) != c.apart || !slices.Equal(marks, c.marks) || got != c.summed {
			t.Errorf("%s: apart %t, marks %q, in all %q", name, Apart(cut), marks, got)
		}
	}
}
