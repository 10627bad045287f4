package grindview_test

import (
	"encoding/xml"
	"errors"
	"io"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/golang/geo/s1"

	"locksweep/fixtures/example"
	"locksweep/geometry/grind"
	"locksweep/geometry/setupfile"
	"locksweep/geometry/sweep"
	"locksweep/render/grindview"
	"locksweep/render/sheet"
	"locksweep/render/template"
)

func plan(t *testing.T, set ...string) *grind.Plan {
	t.Helper()
	data, err := os.ReadFile("../../fixtures/shed-kart.toml")
	if err != nil {
		t.Fatal(err)
	}
	s, _, err := setupfile.Read("shed-kart.toml", data, setupfile.Options{Set: set})
	if err != nil {
		t.Fatal(err)
	}
	m, err := sweep.New(s)
	if err != nil {
		t.Fatal(err)
	}
	p, err := grind.Make(m, grind.Target{Measure: grind.BySteer, Angle: 34 * s1.Degree}, grind.Options{Clearance: math.NaN()})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// wellFormed reads a drawing to its end.
func wellFormed(t *testing.T, drawing []byte) {
	t.Helper()
	for d := xml.NewDecoder(strings.NewReader(string(drawing))); ; {
		if _, err := d.Token(); errors.Is(err, io.EOF) {
			return
		} else if err != nil {
			t.Fatal(err)
		}
	}
}

func TestNoTextOverlapsAndNothingIsLeftOut(t *testing.T) {
	p := plan(t)
	for _, paper := range []sheet.Size{sheet.A4, sheet.Letter, sheet.A4.Landscape()} {
		opt := sheet.Options{Paper: paper, Origin: sheet.Origin{Program: "locksweep"}}
		view, err := grindview.Sheet(p, opt)
		if err != nil {
			t.Fatal(err)
		}
		curve, err := grindview.Curve(p, opt)
		if err != nil {
			t.Fatal(err)
		}
		if upright := paper.Height > paper.Width; upright && !view.Strict {
			t.Errorf("on %s there is room to keep every label off the lines", paper.Name)
		}
		for name, s := range map[string]*sheet.Sheet{"view": view, "curve": curve} {
			if pairs := s.Overlaps(); len(pairs) > 0 {
				t.Errorf("%s on %s: texts overlap: %v", name, paper.Name, pairs)
			}
			if lost := s.Unplaced(); len(lost) > 0 {
				t.Errorf("%s on %s: no room for %v", name, paper.Name, lost)
			}
		}
	}
}

// On upright paper there is room below the plate for its cut at twice the size.
func TestCutIsDrawnLargerWhereThereIsRoom(t *testing.T) {
	drawing, err := grindview.Sheet(plan(t), sheet.Options{Paper: sheet.A4})
	if err != nil {
		t.Fatal(err)
	}
	if n := strings.Count(string(drawing.Bytes()), "the cut, 2:1"); n != 2 {
		t.Errorf("%d details at 2:1, want one of either lug", n)
	}
}

func TestNamesCannotBreakADrawing(t *testing.T) {
	p := plan(t, `name="<script>&]]>\u0000\u202e"`)
	p.Cuts[0].Part.Name = `<b> "lug' & ]]>` + strings.Repeat("long ", 400)
	opt := sheet.Options{Paper: sheet.A4, Origin: sheet.Origin{Program: "locksweep"}}
	for _, draw := range []func(*grind.Plan, sheet.Options) (*sheet.Sheet, error){grindview.Sheet, grindview.Curve} {
		drawing, err := draw(p, opt)
		if err != nil {
			t.Fatal(err)
		}
		wellFormed(t, drawing.Bytes())
	}
	sheets, err := template.Grind(p, template.Options{Options: sheet.Options{Paper: sheet.A4, Origin: sheet.Origin{Program: "locksweep"}}})
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range sheets {
		wellFormed(t, s)
	}
}

func TestDrawingsAreTheSameEachTime(t *testing.T) {
	opt := sheet.Options{Paper: sheet.A4, Origin: sheet.Origin{Program: "locksweep"}}
	first, err := grindview.Sheet(plan(t), opt)
	if err != nil {
		t.Fatal(err)
	}
	second, err := grindview.Sheet(plan(t), opt)
	if err != nil {
		t.Fatal(err)
	}
	if string(first.Bytes()) != string(second.Bytes()) {
		t.Error("two drawings of one plan differ")
	}
}

// TestObstacleIsNamedBesideANarrowDetail: where the closer view is narrower than the words about what the cut makes room for, they stand in
// that of the whole plate.
func TestObstacleIsNamedBesideANarrowDetail(t *testing.T) {
	m, err := sweep.New(example.Read(t, "cyclekart"))
	if err != nil {
		t.Fatal(err)
	}
	p, err := grind.Make(m, grind.Target{Measure: grind.AsFar}, grind.Options{Clearance: math.NaN()})
	if err != nil {
		t.Fatal(err)
	}
	s, err := grindview.Sheet(p, sheet.Options{Paper: sheet.Letter.Landscape()})
	if err != nil {
		t.Fatal(err)
	}
	if lost := s.Unplaced(); len(lost) > 0 {
		t.Errorf("no room for %q", lost)
	}
	for _, pair := range s.Overlaps() {
		t.Errorf("%q overlaps %q", pair[0].Text, pair[1].Text)
	}
}
