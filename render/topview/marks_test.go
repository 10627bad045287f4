package topview

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"
	"pgregory.net/rapid"

	"locksweep/fixtures"
	"locksweep/fixtures/example"
	"locksweep/fixtures/readback"
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
	for _, e := range example.Some() {
		for _, swap := range []string{"change.swap_spindles=false", "change.swap_spindles=true"} {
			r, err := sweep.Run(example.Read(t, e.Name, swap), 4*s1.Degree)
			if err != nil {
				continue // pieces in touch straight ahead
			}
			s, err := Sheet(r, Options{Options: sheet.Options{Paper: sheet.A4.Landscape()}})
			if err != nil {
				t.Fatal(err)
			}
			drawing := look(t, s.Bytes())
			middle, found := 0.0, false
			for _, a := range drawing.circles { // holes may look like kingpins, but stand elsewhere
				for _, b := range drawing.circles {
					apart := r.Setup.Spacing * float64(s.Scale)
					if a.radius == 1 && b.radius == 1 && math.Abs(b.at.X-a.at.X-apart) < 2*rounded && math.Abs(b.at.Y-a.at.Y) < 2*rounded {
						middle, found = (a.at.X+b.at.X)/2, true
					}
				}
			}
			if !found {
				t.Fatalf("%s: no kingpins", e.Name)
			}
			for _, dir := range sweep.Directions {
				for _, side := range setup.Sides {
					text := wheelText(&r.Locks[dir].Pose, side)
					if r.Locks[dir].Column != 0 && !standsOn(s, text, middle, side) {
						t.Errorf("%s, %s, %s lock: %q does not stand beside the %s wheel", e.Name, swap, dir, text, side)
					}
				}
			}
		}
	}
}

// standsOn reports whether a text stands on one side of a line up the sheet.
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
	for k, e := range fixtures.Examples {
		for _, paper := range papersFor(k) {
			v := drawn(t, e.Name, paper)
			drawing := string(v.sheet.Bytes())
			for i := range v.Setup.Parts {
				if name := v.Setup.Parts[i].Name; strings.Count(drawing, name) == 0 {
					t.Errorf("%s on %s: nowhere says %q", e.Name, paper.Name, name)
				}
			}
		}
	}
}

// TestVehicleFillsItsSheet: all on one sheet, each of the examples has its front axle at 1:10 or larger, with its pickup and rods in
// figures, and none is drawn smaller than 1:50 for it.
func TestVehicleFillsItsSheet(t *testing.T) {
	for k, e := range fixtures.Examples {
		for _, paper := range papersFor(k) {
			v := drawn(t, e.Name, paper)
			r, s := v.Result, v.sheet
			if s.Scale < 0.02 {
				t.Errorf("%s on %s: %s", e.Name, paper.Name, s.Scale)
			}
			said := fmt.Sprint(s.Texts())
			if !strings.Contains(said, "Front axle  1:5") && !strings.Contains(said, "Front axle  1:10") {
				t.Errorf("%s on %s: no larger view of the front axle", e.Name, paper.Name)
			}
			d := drawing{r: r}
			for i := range r.Linkage.Rods {
				if want := d.size(r.Linkage.Rods[i].Length); !strings.Contains(said, want) {
					t.Errorf("%s on %s: a rod of %s is not said", e.Name, paper.Name, want)
				}
			}
			if want := d.size(r.Setup.Corners[setup.Left].Arm.Pickup.X); !strings.Contains(said, "{"+want+" ") {
				t.Errorf("%s on %s: no dimension of the pickup, %s", e.Name, paper.Name, want)
			}
		}
	}
}

// TestEveryRodSweeps: the tinted ground is that of both front tyres and of both rods, whichever linkage they form.
func TestEveryRodSweeps(t *testing.T) {
	for _, name := range []string{"shed-kart", "beam-cyclekart", "rack-buggy"} {
		d := drawing{r: swept(t, example.Read(t, name))}
		if err := d.seeSwept(); err != nil || len(d.swept) != 4 {
			t.Errorf("%s: ground of %d pieces, want 4 (%v)", name, len(d.swept), err)
		}
	}
}

// TestLocksDifferInGrey: what moves is dashed in one way at the left lock and in another at the right one.
func TestLocksDifferInGrey(t *testing.T) {
	drawn, err := Sheet(swept(t, example.Read(t, "shed-kart")), Options{Options: sheet.Options{Paper: sheet.A4.Landscape()}})
	if err != nil {
		t.Fatal(err)
	}
	all, err := readback.Parse(drawn.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	dashes := map[string]map[string]bool{} // by colour
	for _, e := range all {
		if dash := e.Paint["stroke-dasharray"]; dash != "" && len(e.Runs) > 0 {
			if dashes[e.Paint["stroke"]] == nil {
				dashes[e.Paint["stroke"]] = map[string]bool{}
			}
			dashes[e.Paint["stroke"]][dash] = true
		}
	}
	left, right := dashes[lockColours[sweep.ToLeft].String()], dashes[lockColours[sweep.ToRight].String()]
	for dash := range left {
		if right[dash] {
			t.Errorf("both locks have lines dashed %q", dash)
		}
	}
	if len(left) == 0 || len(right) == 0 {
		t.Errorf("locks dashed %v and %v, want some of each", left, right)
	}
}
