package grind

import (
	"math"
	"os"
	"testing"

	"github.com/golang/geo/s1"

	"locksweep/geometry/setupfile"
	"locksweep/geometry/sweep"
)

// One plan with everything: cuts of both sides, the fresh sweep, the curve and places for stop pads.
func BenchmarkPlan(b *testing.B) {
	data, err := os.ReadFile("../../fixtures/shed-kart.toml")
	if err != nil {
		b.Fatal(err)
	}
	s, _, err := setupfile.Read("shed-kart.toml", data, setupfile.Options{})
	if err != nil {
		b.Fatal(err)
	}
	m, err := sweep.New(s)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := Make(m, Target{BySteer, 35 * s1.Degree}, Options{Clearance: math.NaN()}); err != nil {
			b.Fatal(err)
		}
	}
}
