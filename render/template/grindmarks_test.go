package template

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/golang/geo/r2"

	"locksweep/geometry/grind"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/render/sheet"
	"locksweep/render/wording"
)

// Two narrow plates whose ground tips point at each other from close by: what is said of either stands on its own paper and covers no line, and the
// stop's mark, its depth and the deepest place beside it are told apart.
func TestGrindMarksStandBesideTheirOwnPlate(t *testing.T) {
	plan := *plans(t)["shed-kart"]
	sides := map[setup.Side]bool{}
	var cuts []*grind.Cut
	for _, c := range plan.Cuts {
		own := *c
		at := func(xy ...float64) (ring []r2.Point) {
			for i := 0; i < len(xy); i += 2 {
				ring = append(ring, r2.Point{X: xy[i], Y: xy[i+1]})
			}
			return ring
		}
		own.Before, own.After = at(-12, -14, 50, -40, 60, -32, 40, -8, 12, 14, -12, 14), at(-12, -14, 40, -35.8, 46, -26, 44, -13, 40, -8, 12, 14, -12, 14)
		own.Bites = []grind.Bite{{Rings: [][]r2.Point{at(40, -35.8, 50, -40, 60, -32, 44, -13, 46, -26)}, Depth: 15.2, At: [2]r2.Point{{X: 46, Y: -26}, {X: 60, Y: -32}}, Stops: [2]bool{true, false}}}
		own.Stops, own.StopDepth = [2]bool{true, false}, [2]float64{10.4, math.NaN()}
		own.Faces = [2]grind.Face{{Line: at(40, -35.8, 46, -26), At: [2]r2.Point{{X: 46, Y: -26}, {X: 42, Y: -36.6}}, Depth: 10.4}, {}}
		own.Corners, own.Eased = []grind.Corner{{At: r2.Point{X: 46, Y: -26}, Hole: r2.Point{X: 48.5, Y: -26}, Drill: true}, {At: r2.Point{X: 44, Y: -13}, Hole: r2.Point{X: 46.4, Y: -13.5}, Drill: true}}, true
		cuts, sides[plan.Model.Scene.Pieces[c.Piece].Side] = append(cuts, &own), true
	}
	if plan.Cuts = cuts; len(sides) != 2 {
		t.Fatalf("cuts on %d sides", len(sides))
	}
	for _, paper := range papers() {
		g := grinding{p: &plan, opt: Options{Options: sheet.Options{Paper: paper}}}
		s, room := g.open("", "")
		done := flow(plan.Cuts, room)
		if len(done) != 2 || done[0].room.Y.Lo != done[1].room.Y.Lo {
			t.Fatalf("%s: %d side by side", paper.Name, len(done))
		}
		for i := range done {
			g.outline(s, &done[i], grindHead)
		}
		touching(t, paper.Name, s)
		if lost := s.Unplaced(); len(lost) > 0 {
			t.Errorf("%s: no room for %q", paper.Name, lost)
		}
		for _, l := range done {
			var said []string
			for _, b := range s.Texts() {
				if l.room.ContainsPoint(b.Bounds().Center()) {
					if said = append(said, b.Text); !l.room.Contains(b.Bounds()) {
						t.Errorf("%s: %q leaves its plate's paper", paper.Name, b.Text)
					}
				}
			}
			u := plan.Model.Setup.Unit
			for want, times := range map[string]int{"10.4 mm STOP HERE": 1, "turned left, face at [46.0, −26.0]": 1, "15.2 mm beside it": 1, wording.CornerDrill(u): 2} {
				if n := strings.Count(strings.Join(said, "\n"), sheet.Clean(want)); n != times {
					t.Errorf("%s: %q stands %d times by its plate, want %d: %q", paper.Name, want, n, times, said)
				}
			}
		}
	}
}

// Every face that is a stop is marked by the point that the report names, on every example's sheets.
func TestEveryStopsFaceIsMarked(t *testing.T) {
	for _, name := range slices.Sorted(maps.Keys(plans(t))) {
		p := plans(t)[name]
		sheets, err := grindSheets(p, Options{Options: sheet.Options{Paper: sheet.A4}})
		if err != nil {
			t.Fatal(err)
		}
		var said string
		for _, s := range sheets {
			said += fmt.Sprint(s.Texts())
		}
		for _, c := range p.Cuts {
			for _, b := range c.Bites {
				for _, d := range sweep.Directions {
					if !b.Stops[d] {
						continue
					}
					f := &c.Faces[d]
					if math.Abs(f.At[0].Sub(f.At[1]).Norm()-f.Depth) > 0.3 || len(f.Line) == 0 {
						t.Errorf("%s: the face %+v is not as deep as its ends are apart", name, f)
					}
					for _, line := range wording.StopMark(p.Model.Setup.Unit, f, "") {
						if !strings.Contains(said, sheet.Clean(strings.TrimPrefix(line, ", "))) {
							t.Errorf("%s: no sheet says %q", name, line)
						}
					}
				}
			}
		}
	}
}
