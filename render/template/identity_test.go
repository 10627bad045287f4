package template

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/golang/geo/r2"

	"locksweep/fixtures/readback"
	"locksweep/geometry/drill"
	"locksweep/geometry/planar"
	"locksweep/geometry/setup"
	"locksweep/render/sheet"
)

// ready keeps the templates by paper, so that tests that look at the same ones draw them once.
var ready = map[string][]*drilling{}

// templates draws the drill templates of every example that has a hole to drill. They are not to be changed.
func templates(t *testing.T, paper sheet.Size) (list []*drilling) {
	t.Helper()
	if list = ready[paper.Name]; list != nil {
		return list
	}
	defer func() { ready[paper.Name] = list }()
	anew := drill.Options{NewMetal: true}
	for _, c := range []struct {
		name string
		on   drill.On
		opt  drill.Options
	}{{"pedal-quad", drill.Arm, floor}, {"shed-kart", drill.Arm, drill.Options{Edge: 1.6, NewMetal: true}}, {"field-buggy", drill.Arm, anew},
		{"field-buggy", drill.DropArm, anew}, {"shed-kart", drill.DropArm, anew}, {"starter", drill.DropArm, drill.Options{}}} {
		r := search(t, c.name, c.on, c.opt)
		r.Setup.Name = "Setup of " + c.name
		for _, arms := range []Arms{Left, Right, Drop} {
			if !drills(r, 0, arms) {
				continue
			}
			_, d, err := drillSheet(r, 0, Options{Paper: paper, Arms: arms, Source: c.name + ".toml, 2026-02-03", cautions: true})
			if err != nil {
				t.Errorf("%s, %s on %s: %v", c.name, arms, paper.Name, err)
				continue
			}
			list = append(list, d)
		}
	}
	return list
}

// TestIdentitySurvivesTheScissors: what a template needs when it is cut out stands wholly within the line that is cut along:
// which arm, which face, front and tyre, the hole's size, the setup and its file.
func TestIdentitySurvivesTheScissors(t *testing.T) {
	for _, paper := range []sheet.Size{sheet.A4, sheet.Letter} {
		for _, d := range templates(t, paper) {
			p := &d.pieces[0]
			var line []r2.Point
			for _, q := range p.cutLine() {
				line = append(line, p.view.At(q))
			}
			var inside []string
			for _, b := range d.sheet.Texts() {
				if !slices.ContainsFunc(b.Corners[:], func(c r2.Point) bool { return !planar.Inside(line, c) }) {
					inside = append(inside, b.Text)
				}
			}
			wanted := []string{"THIS FACE UP", "FRONT", "TYRE", "Setup of ", ".toml", "Ø "}
			if p.metal.Drop {
				wanted = []string{"DROP ARM", "THIS FACE TO DRIVER", "DOWN", "LEFT", "Setup of ", ".toml", "Ø "}
			} else {
				wanted = append(wanted, [2]string{"LEFT", "RIGHT"}[p.metal.Side])
			}
			for _, want := range wanted {
				if !slices.ContainsFunc(inside, func(text string) bool { return strings.Contains(text, want) }) {
					t.Errorf("%s on %s, %s: cut out, it does not say %q, only %q", d.r.Setup.Name, paper.Name, p.metal.Name, want, inside)
				}
			}
			if lost := d.sheet.Unplaced(); len(lost) > 0 {
				t.Errorf("%s on %s, %s: no room for %q", d.r.Setup.Name, paper.Name, p.metal.Name, lost)
			}
		}
	}
}

// TestNoLabelTouchesALine of a template's metal: its outline, its crosses, its holes and centre lines.
func TestNoLabelTouchesALine(t *testing.T) {
	for _, d := range templates(t, sheet.A4) {
		all, err := readback.Parse(d.sheet.Bytes())
		if err != nil {
			t.Fatal(err)
		}
		p := &d.pieces[0]
		lines := [][2]r2.Point{}
		add := func(ring []r2.Point) {
			for i, a := range ring {
				lines = append(lines, [2]r2.Point{p.view.At(a), p.view.At(ring[(i+1)%len(ring)])})
			}
		}
		add(p.cutLine())
		for _, at := range append([]drill.Hole{{}}, p.metal.Holes...) {
			arm := max(axisArm, at.Diameter/2+3)
			add([]r2.Point{at.At.Add(r2.Point{X: arm}), at.At.Sub(r2.Point{X: arm})})
			add([]r2.Point{at.At.Add(r2.Point{Y: arm}), at.At.Sub(r2.Point{Y: arm})})
		}
		for _, h := range p.holes {
			add([]r2.Point{h.At.Add(r2.Point{X: punch}), h.At.Sub(r2.Point{X: punch})})
			add([]r2.Point{h.At.Add(r2.Point{Y: punch}), h.At.Sub(r2.Point{Y: punch})})
			for _, m := range h.Marks {
				if m.Square {
					add(m.Line[:])
				}
			}
		}
		for _, b := range d.sheet.Texts() {
			for _, l := range lines {
				if n := 40; p.view.Rect.Contains(b.Bounds()) {
					for k := range n + 1 { // points along the line, none in the box
						if q := l[0].Add(l[1].Sub(l[0]).Mul(float64(k) / float64(n))); planar.Inside(b.Corners[:], q) {
							t.Fatalf("%s, %s: %q stands on a line at %.1f", d.r.Setup.Name, p.metal.Name, b.Text, q)
						}
					}
				}
			}
		}
		if len(all) == 0 || len(lines) < 8 {
			t.Fatal("nothing drawn")
		}
	}
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
		sheets, err := drillSheets(r, 0, Options{Paper: paper})
		if err != nil {
			t.Errorf("six inches on %s: %v", paper.Name, err)
			continue
		}
		if said := fmt.Sprint(sheets[0].Texts()); !strings.Contains(said, "FRONT") {
			t.Errorf("on %s nothing says where the front is", paper.Name)
		}
	}
	p := piece{metal: &r.Metals[setup.Left], turned: true}
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
