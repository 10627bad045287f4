package tolerance_test

import (
	"testing"

	"locksweep/fixtures/example"
	"locksweep/geometry/compare"
	"locksweep/geometry/sweep"
	"locksweep/geometry/tolerance"
)

// BenchmarkFixtures is a whole answer of locksweep tolerance, by example setup.
func BenchmarkFixtures(b *testing.B) {
	for _, name := range []string{"rack-buggy", "beam-cyclekart", "cyclekart", "pedal-quad", "shed-kart", "field-buggy", "starter"} {
		b.Run(name, func(b *testing.B) {
			as, err := sweep.Run(example.Read(b, name), compare.Step)
			if err != nil {
				b.Fatal(err)
			}
			b.ReportAllocs()
			for b.Loop() {
				if _, err := tolerance.Run(as, tolerance.Options{Draws: tolerance.DefaultDraws}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
