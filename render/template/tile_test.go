package template

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/golang/geo/r2"

	"locksweep/fixtures/readback"
	"locksweep/fixtures/trial"
	"locksweep/geometry/drill"
	"locksweep/geometry/setup"
	"locksweep/render/sheet"
)

// large is the quad's question with arms so many times as large.
func large(t *testing.T, times float64) *drill.Result {
	t.Helper()
	r := search(t, "pedal-quad", drill.Arm, floor)
	r.Setup.Name = "Setup of a large quad"
	for _, m := range r.Metals {
		for k := range m.Outline {
			m.Outline[k] = m.Outline[k].Mul(times)
		}
	}
	return r
}

// joint is where a tile is joined to another: the crosses on the joining line, from left to right or from the top down.
type joint struct {
	to      int // number of the other tile, from 1
	crosses []r2.Point
}

var joining = regexp.MustCompile(`^joining line: tile (\d+) on this side$`)

// joints reads the joining lines of a tile back from its file: each text says which tile lies beyond, and the registration
// crosses (a circle of 2 mm, two lines of 8 mm) beside it belong to it.
func joints(t *testing.T, s *sheet.Sheet) (list []joint) {
	t.Helper()
	all, err := readback.Parse(s.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	var crosses []r2.Point
	for i := range all {
		if e := &all[i]; e.Name == "circle" && e.Window == nil {
			if c, r := circle(t, e); r == joinRing && armed(all, c) {
				crosses = append(crosses, c)
			}
		}
	}
	for _, b := range s.Texts() {
		m := joining.FindStringSubmatch(b.Text)
		if m == nil {
			continue
		}
		j := joint{}
		j.to, _ = strconv.Atoi(m[1])
		middle := b.Bounds().Center()
		for _, c := range crosses {
			if off := c.Sub(middle); min(math.Abs(off.X), math.Abs(off.Y)) < lap/2 && max(math.Abs(off.X), math.Abs(off.Y)) > lap {
				j.crosses = append(j.crosses, c)
			}
		}
		slices.SortFunc(j.crosses, func(a, b r2.Point) int { return int(math.Copysign(1, a.X+a.Y-b.X-b.Y)) })
		list = append(list, j)
	}
	return list
}

// armed reports whether two lines of the length of a cross meet in a point.
func armed(all []readback.Element, at r2.Point) bool {
	n := 0
	for _, e := range all {
		for _, run := range e.Runs {
			if run.Straight() && e.Window == nil {
				a, b := run.Points[0], run.Points[1]
				if a.Add(b).Mul(0.5).Sub(at).Norm() < 0.006 && math.Abs(b.Sub(a).Norm()-2*joinArm) < 0.02 {
					n++
				}
			}
		}
	}
	return n == 2
}

// glue lays tiles together by their crosses alone, as it is done with scissors: it returns how far each has to be moved to lie
// on the first, and complains where two crosses of one joining line do not both coincide.
func glue(t *testing.T, what string, tiles []*sheet.Sheet) []r2.Point {
	t.Helper()
	move, known := make([]r2.Point, len(tiles)), make([]bool, len(tiles))
	known[0] = true
	own := make([][]joint, len(tiles))
	for i := range tiles {
		own[i] = joints(t, tiles[i])
	}
	for i := range tiles {
		for _, j := range own[i] {
			k := slices.IndexFunc(own[j.to-1], func(o joint) bool { return o.to == i+1 })
			if k < 0 || len(j.crosses) != 2 || len(own[j.to-1][k].crosses) != 2 {
				t.Fatalf("%s: tile %d is joined to %d by %v, which answers with %v", what, i+1, j.to, j.crosses, own[j.to-1])
			}
			other := own[j.to-1][k]
			for c := range j.crosses {
				by := move[i].Add(j.crosses[c]).Sub(other.crosses[c])
				if !known[j.to-1] {
					move[j.to-1], known[j.to-1] = by, true
				}
				if off := by.Sub(move[j.to-1]).Norm(); off > 0.01 {
					t.Errorf("%s: cross %d of tiles %d and %d is %.4f mm off when they are laid together", what, c+1, i+1, j.to, off)
				}
			}
			if far := j.crosses[1].Sub(j.crosses[0]).Norm(); far < 60 {
				t.Errorf("%s: crosses only %.1f mm apart", what, far)
			}
		}
	}
	if slices.Contains(known, false) {
		t.Fatalf("%s: tiles hang together by no joining line: %v", what, known)
	}
	return move
}

// TestTilesMakeOneTrueTemplate: laid together by their crosses, tiles show one outline, true to a hundredth, with the new hole as
// far from the kingpin as it is on the metal, though they stand on different sheets; every text is whole on one tile.
func TestTilesMakeOneTrueTemplate(t *testing.T) {
	for i, c := range []struct {
		paper sheet.Size
		times float64
		most  int
	}{{sheet.Letter, 2.2, 4}, {sheet.A4, 2.2, 4}, {sheet.A4.Landscape(), 2.8, 9}} {
		r := large(t, c.times)
		for _, arms := range []Arms{Left, Right} {
			if !trial.Long() && arms != []Arms{Left, Right}[i%2] {
				continue
			}
			what := fmt.Sprintf("%s arm, %.1f times, on %s", arms, c.times, c.paper.Name)
			side := setup.Side(arms - Left)
			sheets, err := drillSheets(r, 0, Options{Options: sheet.Options{Paper: c.paper, Origin: sheet.Origin{Source: "quad.toml, 2026-02-03"}}, Arms: arms})
			if err != nil {
				t.Fatalf("%s: %v", what, err)
			}
			tiles := sheets[:len(sheets)-1] // the last has the cautions
			if len(tiles) < 2 || len(tiles) > c.most {
				t.Errorf("%s: %d tiles, want 2 to %d", what, len(tiles), c.most)
			}
			move := glue(t, what, tiles)
			var outlines [][]r2.Point
			var holes, axes []r2.Point
			var windows []r2.Rect
			said := map[string]int{}
			for i, s := range tiles {
				touching(t, fmt.Sprint(what, ", tile ", i+1), s)
				if pairs, lost := s.Overlaps(), s.Unplaced(); len(pairs)+len(lost) > 0 {
					t.Errorf("%s, tile %d: overlaps %v, no room for %q", what, i+1, pairs, lost)
				}
				for _, b := range s.Texts() {
					said[b.Text]++
				}
				all, err := readback.Parse(s.Bytes())
				if err != nil {
					t.Fatal(err)
				}
				for k := range all {
					e := &all[k]
					if e.Window == nil {
						continue
					}
					windows = append(windows, r2.RectFromPoints(e.Window.Lo().Add(move[i]), e.Window.Hi().Add(move[i])))
					if e.Name == "circle" {
						if at, radius := circle(t, e); e.Window.ContainsPoint(at) && math.Abs(radius-r.Options.Diameter/2) < 0.006 {
							holes = append(holes, at.Add(move[i]))
						}
					}
					for _, run := range e.Runs {
						if mid := run.Points[0].Add(run.Points[len(run.Points)-1]).Mul(0.5); run.Straight() && e.Window.ContainsPoint(mid) && math.Abs(run.Points[1].Sub(run.Points[0]).Norm()-2*axisArm) < 0.02 {
							axes = append(axes, mid.Add(move[i]))
						}
						if run.Closed && e.Paint["stroke-width"] == fmt.Sprint(sheet.Visible.Width) {
							ring := slices.Clone(run.Points)
							for q := range ring {
								ring[q] = ring[q].Add(move[i])
							}
							outlines = append(outlines, ring)
						}
					}
				}
			}
			if len(outlines) != len(tiles) || len(holes) == 0 || len(axes) == 0 {
				t.Fatalf("%s: %d outlines, %d holes, %d axes", what, len(outlines), len(holes), len(axes))
			}
			for k, corner := range outlines[0] {
				if !slices.ContainsFunc(windows, func(w r2.Rect) bool { return w.ExpandedByMargin(0.01).ContainsPoint(corner) }) {
					t.Errorf("%s: corner %d of the outline is on no tile", what, k)
				}
			}
			for i, ring := range outlines {
				for k := range ring {
					if off := ring[k].Sub(outlines[0][k]).Norm(); off > 0.01 {
						t.Errorf("%s: corner %d on tile %d is %.4f mm off that of tile 1", what, k, i+1, off)
					}
				}
			}
			lever := r.Drilled(r.Metals[side], &r.Best[0].Place)[0].Lever
			nearest := math.Inf(1) // old holes may be as large
			for _, h := range holes {
				for _, a := range axes {
					nearest = min(nearest, math.Abs(h.Sub(a).Norm()-lever))
				}
			}
			if nearest > 0.02 {
				t.Errorf("%s: the new hole is %.3f mm nearer to or further from the axis than %.3f", what, nearest, lever)
			}
			checkSaid(t, what, said, [2]string{"LEFT", "RIGHT"}[side], len(tiles))
		}
	}
}

// checkSaid: identity once, how to glue on every tile.
func checkSaid(t *testing.T, what string, said map[string]int, side string, tiles int) {
	t.Helper()
	for _, want := range []string{side, "THIS FACE UP", "Setup of a large quad", "quad.toml, 2026-02-03", "ream to Ø 10.0 mm", "cut along this line", "kingpin axis"} {
		n := 0
		for text, times := range said {
			n += times * bit(text == want)
		}
		if n != 1 && want != "Setup of a large quad" && want != "quad.toml, 2026-02-03" || n == 0 { // these stand in the title block too
			t.Errorf("%s: says %q %d times", what, want, n)
		}
	}
	for i := range tiles {
		if head := fmt.Sprintf("%s STEERING ARM, TILE %d OF %d", side, i+1, tiles); said[head] != 1 {
			t.Errorf("%s: no tile is headed %q", what, head)
		}
	}
}

// TestFellowsAreNamed: each sheet says which it is and what the others' files are called, and still does on the sheet.
func TestFellowsAreNamed(t *testing.T) {
	out, err := Drill(large(t, 2.2), 0, Options{Options: sheet.Options{Paper: sheet.A4}, Arms: Left, File: "some/where/quad.svg"})
	if err != nil || len(out) < 3 {
		t.Fatalf("%d sheets, %v", len(out), err)
	}
	for i, svg := range out {
		want := fmt.Sprintf(">Sheet %d of %d: quad.svg, \u20102, \u20103", i+1, len(out))
		if !strings.Contains(string(svg), want) {
			t.Errorf("sheet %d does not say %q", i+1, want)
		}
	}
}

// TestPaperThatFits: on which paper a template goes without tiles is found by drawing it, with the sizes of the file's unit, and the
// refusal of what takes too many tiles names sizes in that unit.
func TestPaperThatFits(t *testing.T) {
	for _, c := range []struct {
		unit  setup.Unit
		times float64
		paper sheet.Size
		want  string
	}{
		{setup.MM, 2.2, sheet.Letter, "--paper a3"}, {setup.Inch, 2.2, sheet.A4, "--paper tabloid"}, {setup.MM, 1.5, sheet.Letter.Landscape(), "--paper a4"},
		{setup.Inch, 30, sheet.Letter, "in, more than 12 sheets of Letter glued together; no paper"}, {setup.MM, 30, sheet.A4, "mm, more than 12 sheets of A4 glued together; no paper"},
	} {
		r := large(t, c.times)
		r.Setup.Unit = c.unit
		sheets, err := drillSheets(r, 0, Options{Options: sheet.Options{Paper: c.paper}, Arms: Left})
		said := fmt.Sprint(err)
		for _, s := range sheets {
			for _, b := range s.Texts() {
				said += " " + b.Text
			}
		}
		if !strings.Contains(said, c.want) {
			t.Errorf("%.1f times, %v, on %s does not say %q: %s", c.times, c.unit, c.paper.Name, c.want, said)
		}
		if _, paper, ok := strings.Cut(c.want, "--paper "); ok {
			size, err := sheet.SizeByName(paper)
			if err != nil {
				t.Fatal(err)
			}
			if sheets, err := drillSheets(r, 0, Options{Options: sheet.Options{Paper: size}, Arms: Left}); err != nil || len(sheets) > 2 || strings.Contains(fmt.Sprint(sheets[0].Texts()), "TILE") {
				t.Errorf("%s is said to hold it, and takes %d sheets, %v", paper, len(sheets), err)
			}
		}
	}
}

// TestEveryExampleFitsLetter in one piece, drill and grind.
func TestEveryExampleFitsLetter(t *testing.T) {
	for _, paper := range papers() {
		for i, q := range questions() {
			r := asked(t, q)
			if r == nil || !trial.Long() && i%3 > 0 {
				continue
			}
			for _, way := range []bool{false, true} {
				if sheets, err := drillWays(r, 0, Options{Options: sheet.Options{Paper: paper}, whole: true, cautions: way}); err == nil {
					break
				} else if way {
					t.Errorf("%v on %s: %d sheets, %v", q, paper.Name, len(sheets), err)
				}
			}
		}
		for name, p := range plans(t) {
			sheets, err := grindSheets(p, Options{Options: sheet.Options{Paper: paper, Origin: sheet.Origin{Source: name + ".toml, 2026-02-03"}}})
			if err != nil {
				t.Fatal(err)
			}
			for _, s := range sheets {
				if strings.Contains(fmt.Sprint(s.Texts()), "TILE") {
					t.Errorf("%s on %s is cut into tiles", name, paper.Name)
				}
				touching(t, fmt.Sprint(name, " ground, on ", paper.Name), s)
				if pairs, lost := s.Overlaps(), s.Unplaced(); len(pairs)+len(lost) > 0 {
					t.Errorf("%s on %s: overlaps %v, no room for %q", name, paper.Name, pairs, lost)
				}
			}
		}
	}
}
