package advance

import (
	"math"
	"testing"
)

// TestRiseMeetsClosedForms: an even figure, a steep one and one that cannot be told past its root, against their roots (derived).
func TestRiseMeetsClosedForms(t *testing.T) {
	past := func(c float64) float64 {
		if c > 1.3 {
			return math.Inf(1)
		}
		return c - 1.2
	}
	for _, c := range []struct {
		name      string
		low, high float64
		of        func(float64) float64
		want      float64
		most      int // times that it is asked
	}{
		{"straight", 0, 3, func(x float64) float64 { return 2*x - 1 }, 0.5, 1},
		{"towards less", 0, -3, func(x float64) float64 { return -2*x - 1 }, -0.5, 1},
		{"a sine", 0, 1.5, func(x float64) float64 { return math.Sin(x) - 0.5 }, math.Pi / 6, 8},
		{"steep at its end", 0, 1, func(x float64) float64 { return math.Pow(x, 20) - 0.5 }, math.Pow(0.5, 1.0/20), 20},
		{"unknown at its end", 0, 2, past, 1.2, 50},
		{"no number at its end", 0, 2, func(c float64) float64 { return past(c) - past(c) + c - 1.2 }, 1.2, 50},
	} {
		asked, last := 0, 0.0
		at, off := Rise(c.low, c.high, c.of(c.low), c.of(c.high), 1e-12, func(x float64) float64 {
			asked, last = asked+1, x
			return c.of(x)
		})
		if math.Abs(at-c.want) > 1e-11 || at != last || off != c.of(at) || asked > c.most {
			t.Errorf("%s: %v (off %g) after %d looks, last at %v, want %v within %d", c.name, at, off, asked, last, c.want, c.most)
		}
	}
	// A leap has no root: what is left says so.
	if at, off := Rise(0, 1, -1.0, 1, 1e-12, func(x float64) float64 { return math.Copysign(1, x-0.3) }); math.Abs(at-0.3) > 1e-12 || math.Abs(off) != 1 {
		t.Errorf("a leap at 0.3: %v, %g", at, off)
	}
}

// TestDipMeetsClosedForms: the vertex of a parabola, and the tip of a wedge at any place.
func TestDipMeetsClosedForms(t *testing.T) {
	if got := Dip(-1, 4, func(x float64) float64 { return (x - 1.5) * (x - 1.5) }); math.Abs(got-1.5) > 1e-5 {
		t.Errorf("a parabola: %v, want 1.5", got)
	}
	for tip := 0.0; tip <= 1; tip += 0.05 {
		if got := Dip(0, 1, func(x float64) float64 { return math.Abs(x - tip) }); math.Abs(got-tip) > 1e-6 {
			t.Errorf("a wedge: %v, want %v", got, tip)
		}
	}
}
