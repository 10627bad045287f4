package template_test

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/golang/geo/s1"

	"locksweep/geometry/grind"
	"locksweep/geometry/setupfile"
	"locksweep/geometry/sweep"
	"locksweep/render/sheet"
	"locksweep/render/template"
)

func grindPlan(t *testing.T, set ...string) *grind.Plan {
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

// The thick line of either template is the finished outline, millimetre for millimetre, the left one as seen
// from above with outboard to the left, the right one its mirror image.
func TestGrindTemplateIsTrueToScaleAndMirrored(t *testing.T) {
	p := grindPlan(t)
	sheets, err := template.Grind(p, template.GrindOptions{Paper: sheet.A4, Program: "locksweep"})
	if err != nil || len(sheets) != 1 {
		t.Fatalf("%d sheets, %v", len(sheets), err)
	}
	var outlines [][][2]float64
	for _, line := range bytes.Split(sheets[0], []byte("\n")) {
		if !bytes.Contains(line, []byte(fmt.Sprintf(`stroke-width="%g"`, sheet.Wide.Width))) || !bytes.Contains(line, []byte("Z")) || !bytes.Contains(line, []byte("<path")) {
			continue
		}
		data := strings.Split(string(line), `"`)[1]
		var ring [][2]float64
		for _, pair := range strings.FieldsFunc(data, func(r rune) bool { return strings.ContainsRune("MLZ", r) }) {
			var x, y float64
			if _, err := fmt.Sscanf(pair, "%g,%g", &x, &y); err != nil {
				t.Fatal(err)
			}
			ring = append(ring, [2]float64{x, y})
		}
		if len(ring) == len(p.Cuts[0].After) || len(ring) == len(p.Cuts[1].After) {
			outlines = append(outlines, ring)
		}
	}
	if len(outlines) != 2 {
		t.Fatalf("%d thick outlines, want 2", len(outlines))
	}
	for side, ring := range outlines {
		outboard := [2]float64{-1, 1}[side]
		after := p.Cuts[side].After
		for i := range ring {
			dx, dy := ring[i][0]-ring[0][0], ring[i][1]-ring[0][1]
			x, y := outboard*(after[i].Y-after[0].Y), -(after[i].X - after[0].X)
			if math.Hypot(dx-x, dy-y) > 0.003 {
				t.Fatalf("side %d, point %d stands at %.4f, %.4f from the first, want %.4f, %.4f", side, i, dx, dy, x, y)
			}
		}
	}
}

func TestGrindTemplateTooLargeForThePaper(t *testing.T) {
	p := grindPlan(t)
	for _, c := range p.Cuts {
		for i := range c.Before {
			c.Before[i] = c.Before[i].Mul(5)
		}
	}
	if _, err := template.Grind(p, template.GrindOptions{Paper: sheet.A4}); err == nil || !strings.Contains(err.Error(), "take a larger sheet") {
		t.Errorf("got %v", err)
	}
}

// What the report says aloud about stops stands on the sheet that goes to the bench, too.
func TestGrindTemplateWarnsOfAMissingStop(t *testing.T) {
	p := grindPlan(t)
	p.Stops[sweep.ToLeft] = grind.Stop{Faults: []sweep.Code{sweep.NoMetalStop}, Hazard: p.Stops[sweep.ToLeft].Hazard}
	sheets, err := template.Grind(p, template.GrindOptions{Paper: sheet.A4})
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Contains(sheets[0], []byte("!!! turning left no metal stops the wheels in time")) {
		t.Error("the template does not say that no metal stops the wheels")
	}
}
