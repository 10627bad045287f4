package compare_test

import (
	"fmt"
	"testing"

	"locksweep/geometry/compare"
	"locksweep/geometry/road"
	"locksweep/geometry/setup"
)

// tenOfForty are ten setups of the shed kart, each with a pickup of its own, and 40 pieces that may be hit.
func tenOfForty(b *testing.B) (setups []*setup.Setup) {
	for i := range 10 {
		s := example(b, "shed-kart", fmt.Sprintf("arm.pickup=[-98,%d,-20]", -10-2*i))
		pieces := 0
		for _, p := range s.Parts {
			for side := range p.Sides {
				if p.Sides[side] {
					pieces++
				}
			}
		}
		rail := s.Parts[0]
		for n := 0; pieces < 40; n++ {
			bracket := rail
			bracket.Name = fmt.Sprintf("bracket %d", n)
			bracket.Tube = &setup.Tube{Diameter: 16}
			for _, at := range rail.Tube.Path {
				at.Z -= 26
				at.Y -= float64(4 * n)
				bracket.Tube.Path = append(bracket.Tube.Path, at)
			}
			s.Parts = append(s.Parts, bracket)
			pieces += 2
		}
		setups = append(setups, s)
	}
	return setups
}

// BenchmarkTenSetupsOfFortyParts is a whole comparison: sweeps with clearances, slides, figures.
func BenchmarkTenSetupsOfFortyParts(b *testing.B) {
	setups := tenOfForty(b)
	for b.Loop() {
		entries := make([]compare.Entry, len(setups))
		for i, s := range setups {
			entries[i] = compare.Entry{Name: "x", Setup: s}
		}
		c := compare.Run(entries, road.Slide{Radius: 4000}, nil)
		for i := range c.Entries {
			if c.Entries[i].Err != nil {
				b.Fatal(c.Entries[i].Err)
			}
		}
	}
}
