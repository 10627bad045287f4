package template

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/golang/geo/r2"

	"locksweep/fixtures"
	"locksweep/fixtures/example"
	"locksweep/fixtures/readback"
	"locksweep/fixtures/trial"
	"locksweep/geometry/drill"
	"locksweep/geometry/planar"
	"locksweep/geometry/setup"
	"locksweep/render/sheet"
	"locksweep/render/wording"
)

// question is one that a drill template answers.
type question struct {
	name string
	on   drill.On
	anew bool // the metal
}

// questions are those about every example and every hole that it may have, with the metal made anew and with the holes that are there.
// Without -long a few of each kind.
func questions() (list []question) {
	if !trial.Long() {
		return []question{{"pedal-quad", drill.Arm, false}, {"shed-kart", drill.Arm, true}, {"field-buggy", drill.Arm, true}, {"field-buggy", drill.DropArm, true},
			{"starter", drill.DropArm, false}, {"beam-cyclekart", drill.Link, true}}
	}
	for _, e := range fixtures.Examples {
		for _, on := range []drill.On{drill.Arm, drill.DropArm, drill.Link} {
			list = append(list, question{e.Name, on, true}, question{e.Name, on, false})
		}
	}
	return append(list, question{"starter", drill.DropArm, false}, question{"starter", drill.Arm, false})
}

// asked gives what a question finds with something to drill.
func asked(t *testing.T, q question) *drill.Result {
	t.Helper()
	if r, known := answers[q]; known {
		return r
	}
	answers[q] = nil
	s := example.Read(t, q.name)
	if q.on == drill.DropArm && s.Rack != nil || q.on == drill.Link && s.DragLink == nil {
		return nil // it has no such hole
	}
	r, err := sought(t, q.name, q.on, drill.Options{Edge: drill.EdgeFloor, Web: drill.WebFloor, NewMetal: q.anew})
	var room *drill.NoRoomError
	if errors.As(err, &room) || err == nil && !drills(r, 0, All) {
		return nil
	}
	if err != nil {
		t.Fatalf("%v: %v", q, err)
	}
	r = own(r)
	r.Setup.Name = "Setup of " + q.name
	answers[q] = r
	return r
}

// templates draws the drill templates of every question in every way that they are laid out: all arms on one sheet or one to a
// sheet, with the cautions on it or not.
func templates(t *testing.T, paper sheet.Size) (list []*drilling) {
	t.Helper()
	if list = drawings[paper]; list != nil {
		return list
	}
	for _, q := range questions() {
		r := asked(t, q)
		if r == nil {
			continue
		}
		drawn := 0
		for _, arms := range []Arms{All, Left, Right, Drop} {
			if !drills(r, 0, arms) {
				continue
			}
			for _, cautions := range []bool{false, true} {
				s, d, err := drillSheet(r, 0, Options{Options: sheet.Options{Paper: paper, Origin: sheet.Origin{Source: q.name + ".toml, 2026-02-03"}}, Arms: arms, cautions: cautions})
				var large *largeError
				if errors.As(err, &large) || err == nil && !cautions && len(s.Unplaced()) > 0 {
					continue // another way is taken
				}
				if err != nil {
					t.Fatalf("%v, %s on %s: %v", q, arms, paper.Name, err)
				}
				list = append(list, d)
				drawn++
			}
		}
		if drawn == 0 {
			t.Errorf("%v: no template on %s", q, paper.Name)
		}
	}
	if want := trial.Every(10, 40); len(list) < want {
		t.Fatalf("only %d templates drawn, want %d", len(list), want)
	}
	drawings[paper] = list
	return list
}

// drawings are kept by paper.
var drawings = map[sheet.Size][]*drilling{}

// papers are those that home printers take; without -long the one with less room.
func papers() []sheet.Size {
	if !trial.Long() {
		return []sheet.Size{sheet.Letter}
	}
	return []sheet.Size{sheet.Letter, sheet.A4}
}

// answers are kept, so that tests that look at the same one search once; nil where there is nothing to drill.
var answers = map[question]*drill.Result{}

// wanted is what must stand within the line that a piece is cut out along.
func (d *drilling) wanted(p *piece) []string {
	list := []string{"THIS FACE UP", "FRONT", "TYRE", "Setup of ", ".toml", "2026-02-03", "Ø " + wording.DrillFigure(d.r.Setup.Unit, d.r.Options.Diameter), [2]string{"LEFT", "RIGHT"}[p.metal.Side]}
	if p.metal.Drop {
		list = append(list[3:7], "DROP ARM", "THIS FACE TO DRIVER", "DOWN", "LEFT")
	}
	return list
}

// within gives the texts whose boxes lie wholly within an outline on paper.
func within(texts []sheet.Box, line []r2.Point) (inside []string) {
	for _, b := range texts {
		if !slices.ContainsFunc(b.Corners[:], func(c r2.Point) bool { return !planar.Inside(line, c) }) {
			inside = append(inside, b.Text)
		}
	}
	return inside
}

func (p *piece) onPaper(ring []r2.Point) (line []r2.Point) {
	for _, q := range ring {
		line = append(line, p.view.At(q))
	}
	return line
}

// TestIdentitySurvivesTheScissors: what a template needs when it is cut out stands wholly within the line that is cut along:
// which arm, which face, front and tyre, the hole's size, the setup and its file. Nothing else loses its place either.
func TestIdentitySurvivesTheScissors(t *testing.T) {
	for _, paper := range papers() {
		for _, d := range templates(t, paper) {
			for i := range d.pieces {
				p := &d.pieces[i]
				inside := within(d.sheet.Texts(), p.onPaper(p.cutLine()))
				for _, want := range d.wanted(p) {
					if !slices.ContainsFunc(inside, func(text string) bool { return strings.Contains(text, want) }) {
						t.Errorf("%s on %s, %s: cut out, it does not say %q, only %q", d.r.Setup.Name, paper.Name, p.metal.Name, want, inside)
					}
				}
				if other := [2]string{"RIGHT", "LEFT"}[p.metal.Side]; !p.metal.Drop && slices.Contains(inside, other) {
					t.Errorf("%s on %s, %s says %s", d.r.Setup.Name, paper.Name, p.metal.Name, other)
				}
			}
			if lost := d.sheet.Unplaced(); len(lost) > 0 {
				t.Errorf("%s on %s, %s: no room for %q", d.r.Setup.Name, paper.Name, d.pieces[0].metal.Name, lost)
			}
			for _, pair := range d.sheet.Overlaps() {
				t.Errorf("%s on %s: %q overlaps %q", d.r.Setup.Name, paper.Name, pair[0].Text, pair[1].Text)
			}
		}
	}
}

// TestNoTextTouchesALine of a template, drill or grind, whole or in tiles: no outline, cross, hole, centre line or dimension runs
// through the box of a text. The lines are read back from the file.
func TestNoTextTouchesALine(t *testing.T) {
	for _, paper := range papers() {
		for _, d := range templates(t, paper) {
			touching(t, fmt.Sprint(d.r.Setup.Name, " ", d.pieces[0].metal.Name, " on ", paper.Name), d.sheet)
		}
	}
}

// touching complains of every text of a sheet that a line runs through.
func touching(t *testing.T, what string, s *sheet.Sheet) {
	t.Helper()
	lines := drawn(t, s.Bytes())
	if len(lines) < 20 {
		t.Fatalf("%s: only %d lines drawn", what, len(lines))
	}
	for _, b := range s.Texts() {
		bounds := b.Bounds()
		for _, l := range lines {
			n := math.Ceil(l[1].Sub(l[0]).Norm() / 0.1)
			if !r2.RectFromPoints(l[:]...).Intersects(bounds) {
				continue
			}
			for k := 0.0; k <= n; k++ { // a point every tenth of a millimetre
				if q := l[0].Add(l[1].Sub(l[0]).Mul(k / n)); planar.Inside(b.Corners[:], q) {
					t.Errorf("%s: a line runs through %q at %.1f", what, b.Text, q)
					break
				}
			}
		}
	}
}

// drawn gives all that is seen of the lines of a file, as short stretches.
func drawn(t *testing.T, data []byte) (lines [][2]r2.Point) {
	t.Helper()
	all, err := readback.Parse(data)
	if err != nil {
		t.Fatal(err)
	}
	add := func(e *readback.Element, a, b r2.Point) {
		if w := e.Window; w != nil { // by pieces, so that what is cut off is left out
			n := math.Ceil(b.Sub(a).Norm())
			for k := range int(n) {
				p, q := a.Add(b.Sub(a).Mul(float64(k)/n)), a.Add(b.Sub(a).Mul(float64(k+1)/n))
				if w.ContainsPoint(p) && w.ContainsPoint(q) {
					lines = append(lines, [2]r2.Point{p, q})
				}
			}
			return
		}
		lines = append(lines, [2]r2.Point{a, b})
	}
	for i := range all {
		e := &all[i]
		if e.Paint["stroke"] == "" {
			continue
		}
		for _, run := range e.Runs {
			for k := 1; k < len(run.Points); k++ {
				add(e, run.Points[k-1], run.Points[k])
			}
			if run.Closed {
				add(e, run.Points[len(run.Points)-1], run.Points[0])
			}
		}
		if e.Name == "circle" {
			c, r := circle(t, e)
			for k := range 90 {
				at := func(k int) r2.Point {
					s, co := math.Sincos(float64(k) * math.Pi / 45)
					return c.Add(r2.Point{X: r * co, Y: r * s})
				}
				add(e, at(k), at(k+1))
			}
		}
	}
	return lines
}

// circle reads a circle.
func circle(t *testing.T, e *readback.Element) (centre r2.Point, radius float64) {
	t.Helper()
	n := [3]float64{}
	for i, name := range []string{"cx", "cy", "r"} {
		var err error
		if n[i], err = strconv.ParseFloat(e.Attr[name], 64); err != nil {
			t.Fatal(err)
		}
	}
	return r2.Point{X: n[0], Y: n[1]}.Add(e.Shift), n[2]
}

// TestTurnedToFit: an arm of six inches stands on Letter in any case, and one too wide for the sheet upright lies on its
// side, its arrows still pointing to the front.
func TestTurnedToFit(t *testing.T) {
	r := search(t, "pedal-quad", drill.Arm, floor)
	for i := range r.Metals {
		for k := range r.Metals[i].Outline {
			r.Metals[i].Outline[k] = r.Metals[i].Outline[k].Mul(152.4 / 114)
		}
	}
	for _, paper := range []sheet.Size{sheet.Letter, sheet.Letter.Landscape()} {
		sheets, err := drillSheets(r, 0, Options{Options: sheet.Options{Paper: paper}})
		if err != nil {
			t.Errorf("six inches on %s: %v", paper.Name, err)
			continue
		}
		if said := fmt.Sprint(sheets[0].Texts()); !strings.Contains(said, "FRONT") {
			t.Errorf("on %s nothing says where the front is", paper.Name)
		}
	}
	p := piece{metal: r.Metals[setup.Left], turned: true}
	if a := p.axes(); a.X != (r2.Point{X: 1}) || a.Y != (r2.Point{Y: -1}) {
		t.Errorf("turned, forward lies along %v and left along %v, want right and up", a.X, a.Y)
	}
	for way, want := range map[r2.Point]string{{Y: -1}: "↑ A", {Y: 1}: "↓ A", {X: -1}: "← A", {X: 1}: "A →"} {
		if got := pointed("A", way); got != want {
			t.Errorf("towards %v: %q, want %q", way, got, want)
		}
	}
	if got := pointed("A", turnedBack(r2.Point{Y: -1})); got != "A →" {
		t.Errorf("letters that run up the sheet say %q of up, want A →", got)
	}
}
