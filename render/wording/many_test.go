package wording

import (
	"math"
	"testing"
)

// TestMany: as one would say it, never with an exponent, and never less than what is too many already.
func TestMany(t *testing.T) {
	for _, c := range []struct {
		places float64
		want   string
	}{
		{3001, "more than 3000"}, {3049, "more than 3000"}, {3060, "about 3100"}, {77_649, "about 78000"}, {996_000, "about 1 million"},
		{1.04e6, "about 1 million"}, {1.26e6, "about 1.3 million"}, {740_123_456, "about 740 million"}, {994e6, "about 990 million"},
		{996e6, "more than a thousand million"}, {7.76e10, "more than a thousand million"}, {math.Inf(1), "more than a thousand million"},
	} {
		if got := Many(c.places, 3000); got != c.want {
			t.Errorf("%v places: %q, want %q", c.places, got, c.want)
		}
	}
}
