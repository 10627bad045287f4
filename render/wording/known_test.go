package wording

import (
	"testing"

	"locksweep/fixtures/example"
	"locksweep/geometry/compare"
	"locksweep/geometry/road"
	"locksweep/geometry/sweep"
	"locksweep/geometry/tolerance"
)

// TestNoFinerThanItsPlusMinus: figures end at the place of the first digit of their ± (by hand).
func TestNoFinerThanItsPlusMinus(t *testing.T) {
	for _, c := range []struct {
		text, unit string
		plusMinus  float64
		want       string
	}{
		{"inner (left) wheel 30.1°, outer 24.6°", "°", 1.5, "inner (left) wheel 30°, outer 25°"},
		{"inner (left) wheel 30.1°", "°", 0.6, "inner (left) wheel 30.1°"},
		{"inner (left) wheel 30.1°", "°", 1, "inner (left) wheel 30°"},
		{"34.9°", "°", 12, "30°"},
		{"3.2°", "°", 12, "3.2°"}, // it would be nought
		{"0.4°", "°", 1.2, "0.4°"},
		{"9.5 mm and 12.25 mm off 30.1°", " mm", 0.3, "9.5 mm and 12.3 mm off 30.1°"},
		{"284.8 mm", " mm", 1.4, "285 mm"},
		{"1234 mm", " mm", 14, "1230 mm"},
		{"11.213 in (11 3/16)", " in", 0.05, "11.21 in (11 3/16)"},
		{"-2.44", "", 0.3, "-2.4"},
		{"+8.25 !", "", 2, "+8 !"},
		{"-", "", 2, "-"},
		{"30.1°", "°", 0, "30.1°"},
	} {
		if got := noFiner(c.text, c.unit, c.plusMinus); got != c.want {
			t.Errorf("%q, ±%g, is said as %q, want %q", c.text, c.plusMinus, got, c.want)
		}
	}
}

// TestKnownGoesByTheFigure: each figure is cut back by its own ±; where nothing is known all stays.
func TestKnownGoesByTheFigure(t *testing.T) {
	as, err := sweep.Run(example.Read(t, "shed-kart", "accuracy.place=1"), compare.Step)
	if err != nil {
		t.Fatal(err)
	}
	r, err := tolerance.Run(as, tolerance.Options{Path: road.Slide{Radius: 4000}})
	if err != nil {
		t.Fatal(err)
	}
	k := Known{Sure: r} // the lock is known to some 1.7°, the error at 20° to 0.3°, a rod to 1.4 mm
	for _, c := range [][3]string{{"lock_inner", "30.1°", "30°"}, {"ackermann_error_20", "2.44°", "2.4°"}, {"rod_length", "284.8 mm", "285 mm"}, {"no such figure", "1.23°", "1.23°"}} {
		if got := k.Says(c[0], c[1]); got != c[2] {
			t.Errorf("%s: %q, want %q", c[0], got, c[2])
		}
		if got := (Known{}).Says(c[0], c[1]); got != c[1] {
			t.Errorf("nothing known: %q, want %q", got, c[1])
		}
	}
	if got := k.Cell("lock_inner", "30.1"); got != "30" {
		t.Errorf("a cell: %q, want 30", got)
	}
}
