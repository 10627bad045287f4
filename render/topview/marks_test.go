package topview

import (
	"fmt"
	"strings"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"
	"pgregory.net/rapid"

	"locksweep/fixtures"
	"locksweep/fixtures/trial"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/render/sheet"
)

// TestMarksStandApart: dots of contacts that lie on one another move until both are seen, and no further than needed.
func TestMarksStandApart(t *testing.T) {
	trial.Check(t, func(t *rapid.T) {
		var placed []r2.Point
		for range rapid.IntRange(1, 6).Draw(t, "marks") {
			near := func(name string) float64 { return rapid.Float64Range(-1, 1).Draw(t, name) }
			at := r2.Point{X: near("x"), Y: near("y")}
			placed = append(placed, at.Add(apart(at, placed, rapid.SampledFrom(setup.Sides[:]).Draw(t, "side"))))
		}
		for i, p := range placed {
			for _, q := range placed[:i] {
				if p.Sub(q).Norm() < 2*dot {
					t.Fatalf("marks at %v and %v cover each other", p, q)
				}
			}
		}
	})
	if off := apart(r2.Point{}, []r2.Point{{X: 2.3 * dot}}, setup.Left); off != (r2.Point{}) {
		t.Errorf("a mark that stands free moves by %v", off)
	}
}

// TestWheelLabelsStandOnTheirSide, with arms that turn the wheels the wrong way too.
func TestWheelLabelsStandOnTheirSide(t *testing.T) {
	for _, e := range fixtures.Examples {
		for _, swap := range []string{"change.swap_spindles=false", "change.swap_spindles=true"} {
			r, err := sweep.Run(example(t, e.Name, swap), 4*s1.Degree)
			if err != nil {
				continue // pieces in touch straight ahead
			}
			s, err := Sheet(r, Options{Paper: sheet.A4.Landscape()})
			if err != nil {
				t.Fatal(err)
			}
			drawing := look(t, s.Bytes())
			left, right := drawing.kingpins(t, 1)
			for _, dir := range sweep.Directions {
				for _, side := range setup.Sides {
					text := wheelText(&r.Locks[dir].Pose, side)
					if r.Locks[dir].Column != 0 && !standsOn(s, text, (left.X+right.X)/2, side) {
						t.Errorf("%s, %s, %s lock: %q does not stand beside the %s wheel", e.Name, swap, dir, text, side)
					}
				}
			}
		}
	}
}

// standsOn tells whether a text stands on one side of a line up the sheet.
func standsOn(s *sheet.Sheet, text string, middle float64, side setup.Side) bool {
	for _, box := range s.Texts() {
		if box.Text == text && (box.Bounds().Center().X-middle)*side.Sign() < 0 {
			return true
		}
	}
	return false
}

// TestEveryPartIsNamed in the view, or in words above it.
func TestEveryPartIsNamed(t *testing.T) {
	for _, e := range fixtures.Examples {
		r := swept(t, example(t, e.Name))
		for _, paper := range papers {
			s, err := Sheet(r, Options{Paper: paper})
			if err != nil {
				t.Fatal(err)
			}
			drawing := string(s.Bytes())
			for i := range r.Setup.Parts {
				if name := r.Setup.Parts[i].Name; strings.Count(drawing, name) == 0 {
					t.Errorf("%s on %s: nowhere says %q", e.Name, paper.Name, name)
				}
			}
		}
	}
}

// TestVehicleFillsItsSheet: none of the examples is drawn smaller than 1:20 on a sheet that lies on its side, and each
// but the longest has its front axle at a larger scale.
func TestVehicleFillsItsSheet(t *testing.T) {
	for _, e := range fixtures.Examples {
		s, err := Sheet(swept(t, example(t, e.Name)), Options{Paper: sheet.A4.Landscape()})
		if err != nil {
			t.Fatal(err)
		}
		if s.Scale < 0.05 {
			t.Errorf("%s: %s", e.Name, s.Scale)
		}
		long := e.Name == "beam-cyclekart" || e.Name == "rack-buggy" // leave no room for it beside the list
		if !long && !strings.Contains(fmt.Sprint(s.Texts()), "Front axle") {
			t.Errorf("%s: no larger view of the front axle", e.Name)
		}
	}
}
