package compareview_test

import (
	"errors"
	"math"
	"strconv"
	"strings"
	"testing"

	"locksweep/fixtures/example"
	"locksweep/fixtures/readback"
	"locksweep/geometry/compare"
	"locksweep/geometry/road"
	"locksweep/geometry/setupfile"
	"locksweep/render/compareview"
	"locksweep/render/sheet"
)

// varied varies the kart's pickup, sideways or both ways, so far that some places cannot be.
func varied(t testing.TB, both bool) (*compare.Comparison, []compare.Axis) {
	axes := []compare.Axis{{Key: "arm.pickup[1]", Today: math.NaN(), Values: []float64{20, 0, -20, -40, -60}}}
	if both {
		axes = append(axes, compare.Axis{Key: "arm.pickup[0]", Today: math.NaN(), Values: []float64{0, -40, -80, -120}})
	}
	var entries []compare.Entry
	for _, y := range axes[0].Values {
		for i := range 4 {
			x := -98.0
			if both {
				x = axes[1].Values[i]
			} else if i > 0 {
				break
			}
			set := "arm.pickup=[" + strconv.FormatFloat(x, 'g', -1, 64) + "," + strconv.FormatFloat(y, 'g', -1, 64) + ",-20]"
			entries = append(entries, compare.Entry{Name: set, Setup: example.With(t, "shed-kart", setupfile.Options{Set: []string{set}})})
		}
	}
	return compare.Run(entries, road.Slide{Radius: 4000}, nil), axes
}

func TestVariedReadsWell(t *testing.T) {
	for _, both := range []bool{false, true} {
		c, axes := varied(t, both)
		for _, keys := range [][]string{{"lock_inner"}, {"lock_inner", "ackermann_error_20", "least_gap", "slide_held_inside"}, compare.Keys()[:9]} {
			for _, paper := range []sheet.Size{sheet.A4, sheet.Letter.Landscape()} {
				opt := sheet.Options{Paper: paper}
				s, err := compareview.Varied(c, axes, keys, "Shed kart", opt)
				if err != nil {
					t.Errorf("%d figures on %s: %v", len(keys), paper.Name, err)
					continue
				}
				again, _ := compareview.Varied(c, axes, keys, "Shed kart", opt)
				if text := soundly(t, "varied on "+paper.Name, s, again); !strings.Contains(text, "arm.pickup[1]") || both && !strings.Contains(text, "down: arm.pickup[1] (mm)") {
					t.Errorf("does not say what is varied: %s", text)
				}
			}
		}
	}
}

// TestMapTooFine says so instead of drawing what nobody can read.
func TestMapTooFine(t *testing.T) {
	c, axes := varied(t, true)
	axes = []compare.Axis{{Key: "a", Values: make([]float64, 1000)}, axes[1]}
	if _, err := compareview.Varied(c, axes, []string{"lock_inner"}, "x", sheet.Options{Paper: sheet.A4}); err == nil || !strings.Contains(err.Error(), "too fine") {
		t.Errorf("got %v", err)
	}
}

// TestFiguresThatPrintAlikeHaveOneTint: a map of a figure that varies by less than is printed is flat, and has no scale of tints.
func TestFiguresThatPrintAlikeHaveOneTint(t *testing.T) {
	axes := []compare.Axis{{Key: "limits.clearance", Values: []float64{3, 4, 5}}, {Key: "load.front", Values: []float64{30, 40}}}
	var entries []compare.Entry
	for range 6 { // neither turns the wheels otherwise
		s := example.With(t, "shed-kart", setupfile.Options{})
		s.Spacing += 1e-4 * float64(len(entries))
		entries = append(entries, compare.Entry{Name: "kart", Setup: s})
	}
	c := compare.Run(entries, road.Slide{Radius: 4000}, nil)
	s, err := compareview.Varied(c, axes, []string{"lock_inner"}, "Shed kart", sheet.Options{Paper: sheet.A4})
	if err != nil {
		t.Fatal(err)
	}
	all, err := readback.Parse(s.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	fills := map[string]int{}
	for _, e := range all {
		if fill := e.Paint["fill"]; e.Name == "path" && fill != "" && fill != "none" {
			fills[fill]++
		}
	}
	if len(fills) != 1 || fills["#FFFFFF"] < 6 {
		t.Errorf("tints %v, want six cells of one", fills)
	}
}

// TestFirstValueCannotBe: the drawing is made, in the file's unit, where the first value that is asked for makes no setup.
func TestFirstValueCannotBe(t *testing.T) {
	entries := []compare.Entry{{Name: "none", Err: errors.New("must be more than 0")}}
	axes := []compare.Axis{{Key: "wheel.offset", Today: math.NaN(), Values: []float64{0, 4, 4.5}}}
	for _, v := range axes[0].Values[1:] {
		set := "wheel.offset=" + strconv.FormatFloat(v, 'g', -1, 64)
		entries = append(entries, compare.Entry{Name: set, Setup: example.Read(t, "cyclekart", set)})
	}
	c := compare.Run(entries, road.Slide{Radius: 4000}, nil)
	s, err := compareview.Varied(c, axes, []string{"lock_inner", "least_gap"}, "Cyclekart", sheet.Options{Paper: sheet.A4})
	if err != nil {
		t.Fatal(err)
	}
	if text := words(t, s.Bytes()); !strings.Contains(text, "Least gap (in)") {
		t.Errorf("the least gap is not told in inches: %s", text)
	}
}
