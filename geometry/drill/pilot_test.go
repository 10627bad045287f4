package drill

import (
	"math"
	"testing"
)

// The drills that a bench has for the usual holes (common practice, no source).
func TestPilot(t *testing.T) {
	for _, c := range []struct {
		diameter float64
		inches   bool
		want     float64
	}{{8, false, 5}, {10, false, 6}, {6, false, 4}, {12, false, 7}, {1, false, 0.6}, {25.4 * 5 / 16, true, 25.4 * 3 / 16}, {25.4 * 3 / 8, true, 25.4 / 4}} {
		if got := Pilot(c.diameter, c.inches); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("pilot for %.4f: %.4f, want %.4f", c.diameter, got, c.want)
		}
	}
}
