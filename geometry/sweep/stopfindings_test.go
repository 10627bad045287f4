package sweep_test

import (
	"slices"
	"testing"

	"github.com/golang/geo/s1"

	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// TestFindingsOfStops: a kart with a lug on either spindle that meets the yoke, and what is said of it when the lug is
// cut away, ground on one side only, or comes late; when a tyre comes first; when something passes near.
func TestFindingsOfStops(t *testing.T) {
	without := func(names ...string) func(s *setup.Setup) {
		return func(s *setup.Setup) {
			s.Parts = slices.DeleteFunc(s.Parts, func(p setup.Part) bool { return slices.Contains(names, p.Name) })
		}
	}
	part := func(s *setup.Setup, name string) *setup.Part {
		return &s.Parts[slices.IndexFunc(s.Parts, func(p setup.Part) bool { return p.Name == name })]
	}
	for _, c := range []struct {
		name   string
		change func(s *setup.Setup)
		want   map[sweep.Code]int
	}{
		{"lugs in time", func(*setup.Setup) {}, map[sweep.Code]int{}},
		{"no yoke to stop on", func(s *setup.Setup) { without("yoke web", "bumper")(s) }, map[sweep.Code]int{sweep.NoMetalStop: 2}},
		{"no lugs: the arm meets the yoke late", func(s *setup.Setup) { // 2 degrees of the column before over centre
			without("stop lug", "bumper")(s)
			part(s, "yoke web").Plate.Outline = rectangle(-12, -62, 18, -52)
		}, map[sweep.Code]int{sweep.StopMargin: 2}},
		{"a lug on one side, column travel on the other", func(s *setup.Setup) {
			part(s, "stop lug").Sides = [2]bool{true, false}
			s.Column.Travel = 55 * s1.Degree
		}, map[sweep.Code]int{sweep.UnequalLocks: 1}},
		{"a bumper in the tyres' way", func(s *setup.Setup) {
			path := part(s, "bumper").Tube.Path
			path[0].Y, path[len(path)-1].Y = 330, -330
		}, map[sweep.Code]int{sweep.TyreTouches: 2}},
		// The rods 2 mm, the lugs 8 mm above the ears, the bush 8.2 mm from the drop arm.
		{"9 mm wanted", func(s *setup.Setup) { s.Limits.Clearance = 9 }, map[sweep.Code]int{sweep.LowClearance: 4}},
	} {
		s := benchKart()
		s.Parts = frameParts()
		s.Limits.Clearance = 1
		c.change(s)
		r := run(t, s, s1.Degree)
		got := map[sweep.Code]int{}
		for _, f := range r.Findings {
			switch f.Code {
			case sweep.NoMetalStop, sweep.StopMargin, sweep.UnequalLocks, sweep.TyreTouches, sweep.LowClearance:
				got[f.Code]++
			}
		}
		for _, code := range []sweep.Code{sweep.NoMetalStop, sweep.StopMargin, sweep.UnequalLocks, sweep.TyreTouches, sweep.LowClearance} {
			if got[code] != c.want[code] {
				t.Errorf("%s: %s said %d times, want %d; to the left %v", c.name, code, got[code], c.want[code], chain(r, sweep.ToLeft, nearly))
			}
		}
	}
}
