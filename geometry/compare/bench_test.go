package compare_test

import (
	"fmt"
	"testing"

	"locksweep/fixtures/example"
	"locksweep/geometry/compare"
	"locksweep/geometry/road"
	"locksweep/geometry/setup"
)

// tenOfForty are ten setups of the shed kart, each with a pickup of its own, and 40 pieces that may be hit.
func tenOfForty(b *testing.B) (setups []*setup.Setup) {
	for i := range 10 {
		s := example.Padded(example.Read(b, "shed-kart", fmt.Sprintf("arm.pickup=[-98,%d,-20]", -10-2*i)), 40)
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
