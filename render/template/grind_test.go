package template_test

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"locksweep/fixtures/example"
	"locksweep/fixtures/readback"
	"locksweep/geometry/grind"
	"locksweep/geometry/planar"
	"locksweep/geometry/sweep"
	"locksweep/render/sheet"
	"locksweep/render/template"
)

// kartPlan is the kart's for 34 degrees, made once.
var kartPlan *grind.Plan

// grindPlan gives it with stops, cuts and outlines of its own.
func grindPlan(t *testing.T) *grind.Plan {
	t.Helper()
	if kartPlan == nil {
		m, err := sweep.New(example.Read(t, "shed-kart"))
		if err != nil {
			t.Fatal(err)
		}
		if kartPlan, err = grind.Make(m, grind.Target{Measure: grind.BySteer, Angle: 34 * s1.Degree}, grind.Options{Clearance: math.NaN()}); err != nil {
			t.Fatal(err)
		}
	}
	p := *kartPlan
	p.Cuts = slices.Clone(p.Cuts)
	for i, c := range p.Cuts {
		cut := *c
		cut.Before = slices.Clone(c.Before)
		p.Cuts[i] = &cut
	}
	return &p
}

// The thick line of either template is the finished outline, millimetre for millimetre, the left one as seen
// from above with outboard to the left, the right one its mirror image.
func TestGrindTemplateIsTrueToScaleAndMirrored(t *testing.T) {
	p := grindPlan(t)
	sheets, err := template.Grind(p, template.Options{Options: sheet.Options{Paper: sheet.A4, Origin: sheet.Origin{Program: "locksweep"}}})
	if err != nil || len(sheets) != 1 {
		t.Fatalf("%d sheets, %v", len(sheets), err)
	}
	var outlines [][]r2.Point
	all, err := readback.Parse(sheets[0])
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range all {
		for _, run := range e.Runs {
			if e.Paint["stroke-width"] == fmt.Sprint(sheet.Wide.Width) && run.Closed && len(run.Points) > 4 { // the frame has four
				outlines = append(outlines, run.Points)
			}
		}
	}
	if len(outlines) != 2 {
		t.Fatalf("%d thick outlines, want 2", len(outlines))
	}
	for side, ring := range outlines {
		outboard := [2]float64{-1, 1}[side]
		var want []r2.Point // on paper, from the first point, which no simplification moves
		for _, q := range p.Cuts[side].After {
			off := q.Sub(p.Cuts[side].After[0])
			want = append(want, ring[0].Add(r2.Point{X: outboard * off.Y, Y: -off.X}))
		}
		for _, pair := range [2][2][]r2.Point{{ring, want}, {want, ring}} {
			for i, q := range pair[0] {
				// straying by a hundredth, and both ends written in hundredths
				if d := planar.ToEdge(pair[1], q); d > 0.025 {
					t.Fatalf("side %d, point %d at %.3f stands %.4f mm off the finished outline", side, i, q, d)
				}
			}
		}
	}
}

func TestGrindTemplateTooLargeForThePaper(t *testing.T) {
	p := grindPlan(t)
	for _, c := range p.Cuts {
		for i := range c.Before {
			c.Before[i] = c.Before[i].Mul(25)
		}
	}
	if _, err := template.Grind(p, template.Options{Options: sheet.Options{Paper: sheet.A4}}); err == nil || !strings.Contains(err.Error(), "more than 12 sheets of A4") {
		t.Errorf("got %v", err)
	}
}

// What the report says aloud about stops stands on the sheet that goes to the bench, too.
func TestGrindTemplateWarnsOfAMissingStop(t *testing.T) {
	p := grindPlan(t)
	p.Stops[sweep.ToLeft] = grind.Stop{Faults: []sweep.Code{sweep.NoMetalStop}, Hazard: p.Stops[sweep.ToLeft].Hazard}
	sheets, err := template.Grind(p, template.Options{Options: sheet.Options{Paper: sheet.A4}})
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Contains(sheets[0], []byte("!!! turning left no metal stops the wheels in time")) {
		t.Error("the template does not say that no metal stops the wheels")
	}
}

// TestPaperIsLaidOnByWhatThePartHas: by the kingpin where it goes through the part, else by the part's own edges.
func TestPaperIsLaidOnByWhatThePartHas(t *testing.T) {
	for want, away := range map[string]float64{"with the cross on the kingpin.": 0, "edge on edge with the part. The cross is the middle of the kingpin": 80} {
		p := grindPlan(t)
		for _, c := range p.Cuts {
			for _, ring := range []*[]r2.Point{&c.Before, &c.After} {
				*ring = slices.Clone(*ring)
				for i := range *ring {
					(*ring)[i].Y -= away
				}
			}
		}
		sheets, err := template.Grind(p, template.Options{Options: sheet.Options{Paper: sheet.A4, Origin: sheet.Origin{Program: "locksweep"}}})
		if err != nil {
			t.Fatal(err)
		}
		all, err := readback.Parse(sheets[0])
		if err != nil {
			t.Fatal(err)
		}
		var said strings.Builder
		for _, e := range all {
			if e.Text != "" {
				said.WriteString(e.Text + " ")
			}
		}
		if !strings.Contains(said.String(), want) {
			t.Errorf("outlines moved by %g mm: %q is not said of\n%s", away, want, said.String())
		}
	}
}
