package linkage

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"locksweep/fixtures/trial"
)

// TestFirstReach against the sum itself.
func TestFirstReach(t *testing.T) {
	trial.Check(t, func(t *rapid.T) {
		number := func(name string) float64 { return rapid.Float64Range(-3, 3).Draw(t, name) }
		s := trig1{number("a"), number("b"), number("c")}
		v, from, dir := number("v"), number("from"), rapid.SampledFrom([]float64{1, -1}).Draw(t, "direction")
		at, found := s.firstReach(v, from, dir)
		amplitude := math.Hypot(s[1], s[2])
		if within := math.Abs(v-s[0]) <= amplitude && amplitude > 0; found != within {
			t.Fatalf("found %v, want %v", found, within)
		}
		if !found {
			return
		}
		sin, cos := math.Sincos(at)
		if off := math.Abs(s.at(sin, cos) - v); off > 1e-12 || dir*(at-from) < 0 || dir*(at-from) > 2*math.Pi {
			t.Errorf("at %v the sum is off by %g", at, off)
		}
		// Nothing of the sort before: the sum stays on one side of v.
		side := 0.0
		for share := 0.001; share < 0.999; share += 0.001 {
			sin, cos := math.Sincos(from + share*(at-from))
			switch off := s.at(sin, cos) - v; {
			case math.Abs(off) < 1e-5*amplitude:
			case side == 0:
				side = off
			case off*side < 0:
				t.Fatalf("crossed v before %v, at share %v", at, share)
			}
		}
	})
}

// TestSquared: t² by its harmonics.
func TestSquared(t *testing.T) {
	trial.Check(t, func(t *rapid.T) {
		number := func(name string) float64 { return rapid.Float64Range(-3, 3).Draw(t, name) }
		s, φ := trig1{number("a"), number("b"), number("c")}, number("angle")
		sin, cos := math.Sincos(φ)
		const h = 1e-5
		value, slope := s.squared().value(φ)
		after, _ := s.squared().value(φ + h)
		before, _ := s.squared().value(φ - h)
		if want := s.at(sin, cos) * s.at(sin, cos); math.Abs(value-want) > 1e-12 || math.Abs(slope-(after-before)/(2*h)) > 1e-6 {
			t.Errorf("value %v, want %v; slope %v, want %v", value, want, slope, (after-before)/(2*h))
		}
	})
}
