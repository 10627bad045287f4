package tolerance

import (
	"math"
	"testing"
)

// TestCombinedRectangles is JCGM 101:2008, 9.2.3 and 9.2.4 (memory): four rectangular errors of standard deviation 1, then the last of standard
// deviation 10. The first interval is found again from the distribution of such a sum as ±2√3(2 - 0.6^¼) (derived). With 20,000 sums
// the end of an interval of 95 % is known to some 0.03 of a standard deviation.
func TestCombinedRectangles(t *testing.T) {
	one := math.Sqrt(3) // the half-width of standard deviation 1
	for _, c := range []struct {
		widths []float64
		want   float64
	}{
		{[]float64{one, one, one, one}, 2 * one * (2 - math.Pow(0.6, 0.25))},
		{[]float64{one, one, one, one}, 3.88},
		{[]float64{one, one, one, 10 * one}, 17.0},
		{[]float64{one}, 0.95 * one},
		{nil, 0},
	} {
		if got := half(c.widths); math.Abs(got-c.want) > 0.02*c.want {
			t.Errorf("half-widths %.3v: 95 %% lie within ±%.3f, want ±%.3f", c.widths, got, c.want)
		}
	}
}

// TestShortest: the shortest interval is found wherever it lies, also where the values lean to one side, and holds as
// many values as it has to.
func TestShortest(t *testing.T) {
	var leaning, even []float64
	for i := range 200 {
		x := (float64(i) + 0.5) / 200
		leaning, even = append(leaning, -math.Log(1-x)), append(even, 2*x-1)
	}
	low, high := shortest(leaning) // of an exponential distribution the shortest begins at nought
	if low != leaning[0] || math.Abs(high-leaning[190]) > 1e-12 {
		t.Errorf("leaning: %v to %v, want %v to %v", low, high, leaning[0], leaning[190])
	}
	if low, high = shortest(even); math.Abs(high-low-1.9) > 1e-9 {
		t.Errorf("even: %v wide, want 1.9", high-low)
	}
	s := spread([]float64{1, math.NaN(), 3, math.Inf(1)})
	if s.Known != 2 || s.Of != 4 || s.Mean != 2 || math.Abs(s.Deviation-math.Sqrt2) > 1e-12 || s.half() != 1 {
		t.Errorf("spread %+v", s)
	}
	if s = spread(nil); s.Known != 0 || !math.IsNaN(s.half()) {
		t.Errorf("spread of nothing %+v", s)
	}
}

// TestSlopeWithoutAnEnd: where one end has no figure the other one counts alone.
func TestSlopeWithoutAnEnd(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct{ low, as, high, want float64 }{{1, 2, 5, 1}, {nan, 2, 5, 1.5}, {1, 2, nan, 0.5}} {
		if got := slope(c.low, c.as, c.high, 2); got != c.want {
			t.Errorf("slope of %v is %v, want %v", c, got, c.want)
		}
	}
	if got := slope(nan, 2, nan, 2); !math.IsNaN(got) {
		t.Errorf("slope of nothing is %v", got)
	}
}

func TestKeysOfTheLeftSide(t *testing.T) {
	for key, want := range map[string]string{
		"right.arm.pickup[1]": "arm.pickup[1]", "drop_arm.right[0]": "drop_arm.left[0]", "tie_rod.right": "tie_rod.left", "rack.right[2]": "rack.left[2]",
		"arm.pickup[1]": "", "drop_arm.left[0]": "", "vehicle.rear_track": "",
	} {
		left, right := ofLeft(key)
		if right != (want != "") || right && left != want {
			t.Errorf("%s is of the left side as %s (%v), want %q", key, left, right, want)
		}
	}
}
