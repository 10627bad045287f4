package chart

import (
	"math"
	"slices"
	"testing"

	"github.com/golang/geo/r2"
	"pgregory.net/rapid"

	"locksweep/fixtures/trial"
	"locksweep/render/sheet"
)

// Steps are 1, 2 or 5 times a power of ten, and none smaller would do.
func TestStepsAreNice(t *testing.T) {
	trial.Check(t, func(t *rapid.T) {
		least := math.Pow(10, rapid.Float64Range(-9, 9).Draw(t, "log"))
		step := niceStep(least)
		mantissa := step / math.Pow(10, math.Floor(math.Log10(step)+1e-9))
		if !slices.ContainsFunc([]float64{1, 2, 5}, func(k float64) bool { return math.Abs(mantissa-k) < 1e-6 }) {
			t.Fatalf("step %g", step)
		}
		if step < least*(1-1e-6) || step > 2.5*least*(1+1e-6) {
			t.Fatalf("step %g for at least %g", step, least)
		}
	})
}

func TestTicksAreWrittenPlainly(t *testing.T) {
	for _, c := range []struct {
		s    scale
		want []string
	}{
		{scale{-40, 40, 20}, []string{"−40", "−20", "0", "20", "40"}},
		{scale{-0.3, 0.1, 0.1}, []string{"−0.3", "−0.2", "−0.1", "0", "0.1"}},
		{scale{3, 17, 5}, []string{"5", "10", "15"}},
		{scale{0, 0.04, 0.02}, []string{"0", "0.02", "0.04"}},
		{scale{0, 2e6, 1e6}, []string{"0", "1000000", "2000000"}},
	} {
		var got []string
		for _, v := range c.s.ticks() {
			got = append(got, c.s.label(v))
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%v: %q, want %q", c.s, got, c.want)
		}
	}
}

// Names moved apart keep their order and their distance, stay within bounds, and do not move where
// they had room. Against the best of a fine search for two names: the least sum of squares.
func TestNamesMoveApartAsLittleAsTheyCan(t *testing.T) {
	const gap, lo, hi = 4.0, 0.0, 100.0
	trial.Check(t, func(t *rapid.T) {
		wanted := rapid.SliceOfN(rapid.Float64Range(lo, hi), 1, 20).Draw(t, "wanted")
		slices.Sort(wanted)
		got := apart(wanted, gap, lo, hi)
		roomy := true
		for i := range got {
			if got[i] < lo-1e-9 || got[i] > hi+1e-9 {
				t.Fatalf("%v leaves the plot", got)
			}
			if i > 0 {
				roomy = roomy && wanted[i]-wanted[i-1] >= gap
				if got[i]-got[i-1] < gap-1e-9 {
					t.Fatalf("%v: names %d and %d are too near", got, i-1, i)
				}
			}
		}
		for i := range got {
			if roomy && math.Abs(got[i]-wanted[i]) > 1e-9 {
				t.Fatalf("%v moved to %v although there was room", wanted, got)
			}
		}
	})
	a, b := 50.0, 51.0
	best := math.Inf(1)
	for x := 40.0; x < 60; x += 0.01 {
		best = min(best, (x-a)*(x-a)+(x+gap-b)*(x+gap-b))
	}
	got := apart([]float64{a, b}, gap, lo, hi)
	if cost := math.Pow(got[0]-a, 2) + math.Pow(got[1]-b, 2); cost > best+1e-3 {
		t.Errorf("%v costs %g, %g can be had", got, cost, best)
	}
}

// TestNarrowAxisHasTwoFigures: on a narrow plot, too, two figures tell the scale, wherever they have room.
func TestNarrowAxisHasTwoFigures(t *testing.T) {
	for _, width := range []float64{45, 60, 90} {
		for _, x := range [][2]float64{{80, 140}, {-50, 10}, {0.2, 0.9}, {1101, 1399}} {
			c := Chart{Curves: []Curve{{Points: []r2.Point{{X: x[0], Y: 1}, {X: x[1], Y: 2}}}}}
			if l := c.layout(sheet.Rect(0, 0, width, 60)); len(l.x.ticks()) < 2 || l.crowded() {
				t.Errorf("%v on %v mm: figures at %v", x, width, l.x.ticks())
			}
		}
	}
}

// TestSpanOfWhatIsFinite: what is no number or infinite does not count, whatever it stands beside.
func TestSpanOfWhatIsFinite(t *testing.T) {
	if low, high := Span([]float64{math.NaN(), 3, math.Inf(1), -2, math.Inf(-1), math.NaN()}); low != -2 || high != 3 {
		t.Errorf("from %v to %v", low, high)
	}
	if low, high := Span([]float64{math.NaN(), math.Inf(1)}); low <= high {
		t.Errorf("of nothing from %v to %v", low, high)
	}
}
