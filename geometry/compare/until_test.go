package compare_test

import (
	"math"
	"slices"
	"testing"

	"locksweep/geometry/compare"
)

// TestUntil: crossings in closed form; what turns round, jumps, touches or is nowhere known.
func TestUntil(t *testing.T) {
	for _, c := range []struct {
		name     string
		from, to float64
		gap      func(x float64) float64
		met      []float64
		turns    []float64
		jumps    []float64
		nearest  float64
		known    int
	}{
		{"straight", 0, 10, func(x float64) float64 { return 2*x - 7 }, []float64{3.5}, nil, nil, 3.5, 41},
		{"backwards", 10, 0, func(x float64) float64 { return 2*x - 7 }, []float64{3.5}, nil, nil, 3.5, 41},
		{"cubic", 0, 2, func(x float64) float64 { return x*x*x - 2 }, []float64{math.Cbrt(2)}, nil, nil, math.Cbrt(2), 41},
		{"at the end", 0, 4, func(x float64) float64 { return x - 4 }, []float64{4}, nil, nil, 4, 41},
		{"twice", -2, 2, func(x float64) float64 { return x*x - 1.21 }, []float64{-1.1, 1.1}, []float64{0}, nil, 1.1, 41},
		{"twice, the other way", 2, -2, func(x float64) float64 { return x*x - 1.21 }, []float64{1.1, -1.1}, []float64{0}, nil, 1.1, 41},
		// Between two looks, a tenth apart: ±0.02 about 0.05.
		{"twice within a step", -2, 2, func(x float64) float64 { return (x-0.05)*(x-0.05) - 0.0004 }, []float64{0.03, 0.07}, []float64{0}, nil, 0.03, 41},
		{"not met", -2, 2, func(x float64) float64 { return (x-0.33)*(x-0.33) + 5 }, nil, []float64{0.3}, nil, 0.33, 41},
		{"jumps over", 0, 1, func(x float64) float64 {
			if x < 0.3217 {
				return -1 - x
			}
			return 2 + x
		}, nil, []float64{0.3}, []float64{0.3217}, 0, 41},
		{"known in part", 0, 4, func(x float64) float64 {
			if x < 1 {
				return math.NaN()
			}
			return x - 3.3
		}, []float64{3.3}, nil, nil, 3.3, 31},
		{"known nowhere", 0, 4, func(float64) float64 { return math.NaN() }, nil, nil, nil, math.NaN(), 0},
		{"steep", 0, 1, func(x float64) float64 { return math.Expm1(40 * (x - 0.9)) }, []float64{0.9}, nil, nil, 0.9, 41},
		{"level", 0, 1, func(float64) float64 { return 3 }, nil, nil, nil, 0, 41},
	} {
		asked := 0
		got := compare.Until(c.from, c.to, 1e-9, func(values []float64) []float64 {
			asked += len(values)
			out := make([]float64, len(values))
			for i, x := range values {
				out[i] = c.gap(x)
			}
			return out
		})
		near := func(a, b []float64, by float64) bool {
			return slices.EqualFunc(a, b, func(p, q float64) bool { return math.Abs(p-q) <= by })
		}
		if !near(got.Met, c.met, 1e-6) || !near(got.Jumps, c.jumps, 1e-9) || !near(got.Turns, c.turns, 0.051) || got.Known != c.known || got.Seen != 41 {
			t.Errorf("%s: %+v, want met %v, turns %v, jumps %v, known %d", c.name, got, c.met, c.turns, c.jumps, c.known)
		}
		// Two crossings are as near as each other.
		if math.Abs(math.Abs(got.Nearest)-math.Abs(c.nearest)) > 1e-3 && c.name != "twice within a step" || math.IsNaN(got.Nearest) != math.IsNaN(c.nearest) {
			t.Errorf("%s: nearest at %v, want %v", c.name, got.Nearest, c.nearest)
		}
		if asked > 41+2*110 {
			t.Errorf("%s: %d values were asked for", c.name, asked)
		}
	}
}
