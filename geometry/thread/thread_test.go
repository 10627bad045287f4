package thread

import (
	"math"
	"testing"
)

// TestTables holds names, roots and stress areas against published tables.
func TestTables(t *testing.T) {
	for _, c := range []struct {
		d, p       float64
		name       string
		root, area float64 // mm, mm²
		within     float64
		source     string
	}{
		{8, 1.25, "M8 × 1.25", 6.466, 36.6, 0.05, "ISO 724 and ISO 898-1, memory"},
		{8, 1, "M8 × 1", 6.773, 39.2, 0.05, "ISO 724 and ISO 898-1, memory"},
		{10, 1.5, "M10 × 1.5", 8.160, 58.0, 0.05, "ISO 724 and ISO 898-1, memory"},
		{12, 1.75, "M12 × 1.75", 9.853, 84.3, 0.05, "ISO 724 and ISO 898-1, memory"},
		{6, 1, "M6 × 1", 4.773, 20.1, 0.05, "ISO 724 and ISO 898-1, memory"},
		{0.25 * 25.4, 25.4 / 28, "1/4-28 UNF", 0.2074 * 25.4, 0.0364 * 645.16, 0.05, "table of ASME B1.1, read"},
		{0.3125 * 25.4, 25.4 / 24, "5/16-24 UNF", 0.2629 * 25.4, 0.0580 * 645.16, 0.05, "table of ASME B1.1, read"},
		{0.375 * 25.4, 25.4 / 24, "3/8-24 UNF", 0.3254 * 25.4, 0.0878 * 645.16, 0.05, "table of ASME B1.1, read"},
		{0.5 * 25.4, 25.4 / 20, "1/2-20 UNF", 0.4405 * 25.4, 0.1599 * 645.16, 0.08, "table of ASME B1.1, read"},
		{0.375 * 25.4, 25.4 / 16, "3/8-16 UNC", 0.2983 * 25.4, 0.0775 * 645.16, 0.1, "ASME B1.1, area memory, root derived"},
	} {
		th := Thread{c.d, c.p}
		if got := th.String(); got != c.name || !th.Standard() {
			t.Errorf("%v by %v: %q, standard %v, want %q", c.d, c.p, got, th.Standard(), c.name)
		}
		// The table of unified threads has the root of the UNR form, d - 1.19 P, a few hundredths more.
		if got := th.Root(); math.Abs(got-c.root) > 0.06 || got > c.root+1e-3 {
			t.Errorf("%s: root %.3f, want %.3f (%s)", c.name, got, c.root, c.source)
		}
		if got := th.StressArea(); math.Abs(got-c.area) > c.within {
			t.Errorf("%s: stress area %.3f, want %.3f (%s)", c.name, got, c.area, c.source)
		}
	}
}

// TestCoarseIsTheFirst of each size; a size of no standard has none.
func TestCoarseIsTheFirst(t *testing.T) {
	for d, want := range map[float64]string{8: "M8 × 1.25", 10: "M10 × 1.5", 12: "M12 × 1.75", 0.3125 * 25.4: "5/16-18 UNC", 9.525: "3/8-16 UNC"} {
		if th, ok := Coarse(d); !ok || th.String() != want {
			t.Errorf("%v: %v, %v, want %s", d, th, ok, want)
		}
	}
	if th, ok := Coarse(9); ok {
		t.Errorf("9 mm: %v", th)
	}
	if odd := (Thread{8, 1.1}); odd.Standard() || odd.String() != "M8 × 1.1" {
		t.Errorf("8 by 1.1: %v, standard %v", odd, odd.Standard())
	}
	if th := (Thread{8, 1.25}); th.TapDrill() != 6.75 || th.JamNut() != 4 {
		t.Errorf("M8: tap drill %v, jam nut %v", th.TapDrill(), th.JamNut())
	}
}
