package template

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/golang/geo/r2"

	"locksweep/fixtures/example"
	"locksweep/geometry/drill"
	"locksweep/geometry/setup"
	"locksweep/render/sheet"
)

// found keeps the answers, so that tests that look at the same one search once.
var found = map[string]*drill.Result{}

// search looks for the hole of one of the setups that come with the program. What it returns may be changed.
func search(t testing.TB, name string, on drill.On, opt drill.Options, set ...string) *drill.Result {
	t.Helper()
	r, err := sought(t, name, on, opt, set...)
	if err != nil {
		t.Fatal(err)
	}
	return own(r)
}

// sought is what the search says, found once.
func sought(t testing.TB, name string, on drill.On, opt drill.Options, set ...string) (*drill.Result, error) {
	t.Helper()
	opt.Step, opt.Reach, opt.Best, opt.Slip = 8, 20, 1, -1
	key := fmt.Sprint(name, on, opt, set)
	if r := found[key]; r != nil {
		return r, nil
	}
	r, err := drill.Search(example.Read(t, name, set...), on, drill.Aims{Percent: 100}, opt)
	if err == nil {
		found[key] = r
	}
	return r, err
}

// own is a result with names, places and metals of its own.
func own(r *drill.Result) *drill.Result {
	o, s := *r, *r.Setup
	o.Setup, o.Best, o.Metals = &s, slices.Clone(r.Best), slices.Clone(r.Metals)
	for i, m := range r.Metals {
		own := *m
		own.Outline, own.Holes = slices.Clone(m.Outline), slices.Clone(m.Holes)
		o.Metals[i] = &own
	}
	return &o
}

// floor is what the standard allows at least.
var floor = drill.Options{Edge: drill.EdgeFloor, Web: drill.WebFloor}

func TestTemplatesAreFitToPrint(t *testing.T) {
	anew := drill.Options{Edge: drill.EdgeFloor, Web: drill.WebFloor, NewMetal: true}
	for _, c := range []struct {
		name string
		on   drill.On
		opt  drill.Options
		arms Arms
	}{
		{"pedal-quad", drill.Arm, floor, Left}, {"pedal-quad", drill.Arm, floor, Right},
		{"shed-kart", drill.Arm, anew, Left}, {"field-buggy", drill.Arm, anew, All},
		{"field-buggy", drill.DropArm, anew, All},
	} {
		r := search(t, c.name, c.on, c.opt)
		for _, paper := range papers() {
			sheets, err := drillSheets(r, 0, Options{Options: sheet.Options{Paper: paper}, Arms: c.arms})
			if err != nil {
				t.Errorf("%s on %s: %v", c.name, paper.Name, err)
				continue
			}
			said := ""
			for _, s := range sheets {
				for _, pair := range s.Overlaps() {
					t.Errorf("%s on %s: %q overlaps %q", c.name, paper.Name, pair[0].Text, pair[1].Text)
				}
				if lost := s.Unplaced(); len(lost) > 0 {
					t.Errorf("%s on %s: no room for %q", c.name, paper.Name, lost)
				}
				for _, b := range s.Texts() {
					said += b.Text + " " // a paragraph may break anywhere
				}
			}
			for _, want := range []string{"100 mm", "4 in", "measure both bars", "this face", "forged", "ream", "double shear", "welding", "pilot Ø"} {
				if !strings.Contains(said, want) {
					t.Errorf("%s on %s does not say %q", c.name, paper.Name, want)
				}
			}
			if c.on == drill.Arm && (strings.Contains(said, "LEFT") != (c.arms != Right) || strings.Contains(said, "RIGHT") != (c.arms != Left)) {
				t.Errorf("%s on %s: left and right are not as asked for", c.name, paper.Name)
			}
		}
	}
}

// TestDistancesAreThoseBetweenTheBalls compares the distances that mark a hole out with those of the balls
// in space: all balls of an arm are at one height along its kingpin.
func TestDistancesAreThoseBetweenTheBalls(t *testing.T) {
	r := search(t, "pedal-quad", drill.Arm, floor)
	s, p := r.Setup, &r.Best[0].Place
	for _, side := range setup.Sides {
		m := r.Metals[side]
		old := s.Corners[side].Arm.Pickup
		holes := r.Drilled(m, p)
		if len(holes) != 1 || len(holes[0].Marks) != 2 {
			t.Fatalf("%v: %+v", side, holes)
		}
		found := false
		for _, mark := range holes[0].Marks {
			if mark.From == "scooter hole" {
				found = true
				if want := p.Pickups[side].Sub(old).Norm(); math.Abs(mark.Length-want) > 1e-3 {
					t.Errorf("%v: %.6f from the old hole, the balls are %.6f apart", side, mark.Length, want)
				}
			}
			if got := mark.At.Sub(holes[0].At).Norm(); math.Abs(got-mark.Length) > 1e-9 {
				t.Errorf("%v: %s is said to be %.6f away and drawn %.6f away", side, mark.From, mark.Length, got)
			}
		}
		if !found {
			t.Errorf("%v: the old hole does not serve as a mark: %+v", side, holes[0].Marks)
		}
		k := setup.FromCorner(side, s.Kingpin(side).Dir)
		if lever := k.Cross(p.Pickups[side]).Norm(); math.Abs(holes[0].At.Norm()-lever) > 1e-3 { // the ball is written to a thousandth
			t.Errorf("%v: drawn %.6f from the kingpin's axis, the lever is %.6f", side, holes[0].At.Norm(), lever)
		}
	}
}

// TestNothingToDrill: where the best hole is there already there is no template.
func TestNothingToDrill(t *testing.T) {
	r := search(t, "shed-kart", drill.Arm, drill.Options{})
	if r.Best[0].Existing == "" {
		t.Fatalf("the kart's arm has no room for another hole, got %v", r.Best[0].Pickups)
	}
	if _, err := Drill(r, 0, Options{Options: sheet.Options{Paper: sheet.A4}}); err == nil {
		t.Error("got a template for a hole that is there already")
	}
	for _, place := range []int{-1, len(r.Best)} {
		if _, err := Drill(r, place, Options{Options: sheet.Options{Paper: sheet.A4}}); err == nil {
			t.Errorf("got a template for place %d of %d", place, len(r.Best))
		}
	}
}

// TestLargerThanThePaper: a template is never made smaller.
func TestLargerThanThePaper(t *testing.T) {
	r := search(t, "pedal-quad", drill.Arm, floor)
	if sheets, err := Drill(r, 0, Options{Options: sheet.Options{Paper: sheet.A4}}); err != nil || len(sheets) != 2 {
		t.Errorf("both arms of the quad do not fit on one A4: got %d sheets, %v", len(sheets), err)
	}
	if sheets, err := Drill(r, 0, Options{Options: sheet.Options{Paper: sheet.A4.Landscape()}}); err != nil || len(sheets) < 2 {
		t.Errorf("an arm longer than A4 on its side is high lies on its side: got %d sheets, %v", len(sheets), err)
	}
	r.Metals[0].Outline = append(r.Metals[0].Outline, r2.Point{X: 3000})
	if _, err := Drill(r, 0, Options{Options: sheet.Options{Paper: sheet.A4}}); err == nil || strings.Contains(err.Error(), "--paper") {
		t.Errorf("an arm that fits on no paper: got %v", err)
	}
}

// TestLabelsStandBesideTheirHoles moves the new pair of holes about: each rod's label stands nearer to its own
// hole than to the other, and no text over a circle.
func TestLabelsStandBesideTheirHoles(t *testing.T) {
	r := search(t, "starter", drill.DropArm, floor)
	for _, pin := range []r2.Point{{X: 84, Y: 28}, {X: 84, Y: 10}, {X: 95, Y: 18}, {X: 62, Y: 34}, {X: 40, Y: 12}, {X: 80, Y: -20}} {
		p := &r.Best[0].Place
		for _, side := range setup.Sides {
			p.Pins[side].X, p.Pins[side].Y = pin.X, side.Sign()*pin.Y
		}
		s, d, err := drillSheet(r, 0, Options{Options: sheet.Options{Paper: sheet.A4}})
		if err != nil {
			t.Fatal(err)
		}
		at := map[string]r2.Point{}
		piece := &d.pieces[0]
		for _, h := range piece.holes {
			at[h.Rod] = piece.view.At(h.At)
		}
		for _, b := range s.Texts() {
			c := b.Bounds().Center()
			for rod, other := range map[string]string{"left": "right", "right": "left"} {
				if b.Text == rod+" rod" && c.Sub(at[rod]).Norm() >= c.Sub(at[other]).Norm() {
					t.Errorf("%v: %q stands beside the other hole", pin, b.Text)
				}
			}
			for _, h := range piece.metal.Holes {
				if q := piece.view.At(h.At); b.Bounds().ClampPoint(q).Sub(q).Norm() < 0.8*h.Diameter/2 {
					t.Errorf("%v: %q stands over the hole %s", pin, b.Text, h.Name)
				}
			}
			for rod, q := range at {
				if b.Bounds().ClampPoint(q).Sub(q).Norm() < 0.8*r.Options.Diameter/2 {
					t.Errorf("%v: %q stands over the new hole of the %s rod", pin, b.Text, rod)
				}
			}
		}
	}
}

func TestHostileNames(t *testing.T) {
	r := search(t, "pedal-quad", drill.Arm, floor)
	r.Setup.Name = `<script>alert("1")</script>]]>` + "\x1b[31m"
	for i := range r.Metals {
		r.Metals[i].Holes[0].Name = "<b>&\x00hole" + strings.Repeat("x", 5000)
	}
	out, err := Drill(r, 0, Options{Options: sheet.Options{Paper: sheet.A4}, Arms: Left})
	if err != nil {
		t.Fatal(err)
	}
	all := bytes.Join(out, nil)
	if bytes.Contains(all, []byte("<script")) || bytes.Contains(all, []byte("<b>")) || bytes.ContainsAny(all, "\x00\x1b") {
		t.Error("a name got through unescaped")
	}
}
