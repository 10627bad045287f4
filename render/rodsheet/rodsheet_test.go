package rodsheet

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"locksweep/fixtures"
	"locksweep/fixtures/example"
	"locksweep/geometry/rods"
	"locksweep/geometry/sweep"
	"locksweep/render/sheet"
	"locksweep/render/wording"
)

// TestSheetsCanBeRead: no text on another, none lost or off the sheet, every rod with its lengths, true to its scale and large enough to be
// seen, below alarms too: the file to fill in has one.
func TestSheetsCanBeRead(t *testing.T) {
	for _, e := range append(slices.Clone(fixtures.Examples), fixtures.Example{Name: "starter"}) {
		for _, set := range [][]string{nil, {"tie_rod.tube={outer=0.9,wall=0.1}", "tie_rod.left_hand=true", `name="<b>&` + strings.Repeat("W", 300) + `"`}} {
			if set != nil && e.Name != "cyclekart" {
				set = set[1:]
			}
			m, err := sweep.New(example.Read(t, e.Name, set...))
			if err != nil {
				t.Fatal(err)
			}
			list, err := rods.List(m)
			if err != nil {
				t.Fatal(err)
			}
			for _, paper := range []sheet.Size{sheet.A4, sheet.A4.Landscape(), sheet.Letter, sheet.Letter.Landscape()} {
				check(t, fmt.Sprint(e.Name, set, " on ", paper.Name), Sheet(m, list, sheet.Options{Paper: paper}), list, m)
			}
		}
	}
}

func check(t *testing.T, what string, s *sheet.Sheet, list []rods.Rod, m *sweep.Model) {
	t.Helper()
	for _, pair := range s.Overlaps() {
		t.Errorf("%s: %q overlaps %q", what, pair[0].Text, pair[1].Text)
	}
	if lost := s.Unplaced(); len(lost) > 0 {
		t.Errorf("%s: no room for %q", what, lost)
	}
	if s.Scale < 0.1 {
		t.Errorf("%s: at %v", what, s.Scale)
	}
	said := ""
	for _, b := range s.Texts() {
		said += b.Text + "\n"
		if !s.Frame().Contains(b.Bounds()) {
			t.Errorf("%s: %q leaves the frame", what, b.Text)
		}
	}
	for i := range list {
		for _, want := range []string{wording.TapeLength(m.Setup.Unit, list[i].Cut) + " to cut", wording.TapeLength(m.Setup.Unit, list[i].Length) + " eye to eye"} {
			if !strings.Contains(said, want) {
				t.Errorf("%s: does not say %q", what, want)
			}
		}
	}
	// The longest rod's eyes lie their true distance apart.
	drawing, found := string(s.Bytes()), false
	var circles [][3]float64
	for _, part := range strings.Split(drawing, "<circle ")[1:] {
		var c [3]float64
		if n, _ := fmt.Sscanf(part, `cx="%f" cy="%f" r="%f"`, &c[0], &c[1], &c[2]); n == 3 {
			circles = append(circles, c)
		}
	}
	for _, a := range circles {
		for _, b := range circles {
			found = found || a[1] == b[1] && math.Abs(b[0]-a[0]-list[0].Length*float64(s.Scale)) < 0.011 // each is written in hundredths
		}
	}
	if !found {
		t.Errorf("%s: no two circles %.3f mm apart on paper", what, list[0].Length*float64(s.Scale))
	}
}
