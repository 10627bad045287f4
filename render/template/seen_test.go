package template

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/golang/geo/r2"

	"locksweep/fixtures/readback"
	"locksweep/geometry/drill"
	"locksweep/render/sheet"
	"locksweep/render/wording"
)

// TestSeenFromTheRightFace: where the new hole comes to lie on paper from the axis, as it is defined: a steering arm seen from above
// with forward up, outboard to the left on a left arm and to the right on a right one; a drop arm as the driver sees it. Turned,
// forward or down is to the right, and the face seen is the same. The circle is as large as the hole, the arrow points to
// the tyre, and the label by the cut line touches it.
func TestSeenFromTheRightFace(t *testing.T) {
	// The paper's x to the right and y down, for the metal's first and second axis.
	type axes struct{ x1, y1, x2, y2 float64 }
	left, right, drop := axes{0, -1, -1, 0}, axes{0, -1, 1, 0}, axes{0, 1, -1, 0}
	leftTurned, rightTurned, dropTurned := axes{1, 0, 0, -1}, axes{1, 0, 0, 1}, axes{1, 0, 0, 1}
	for _, c := range []struct {
		q      question
		arms   Arms
		turned bool
		want   axes
		arrows []string // upright, or in letters that run up the sheet
	}{
		{question{"pedal-quad", drill.Arm, false}, Left, false, left, []string{"← TYRE", "↑ TYRE"}},
		{question{"pedal-quad", drill.Arm, false}, Right, false, right, []string{"TYRE →", "↓ TYRE"}},
		{question{"starter", drill.DropArm, false}, Drop, false, drop, []string{"← LEFT", "↑ LEFT"}},
		{question{"pedal-quad", drill.Arm, false}, Left, true, leftTurned, []string{"↑ TYRE", "TYRE →"}},
		{question{"pedal-quad", drill.Arm, false}, Right, true, rightTurned, []string{"↓ TYRE", "← TYRE"}},
		{question{"starter", drill.DropArm, false}, Drop, true, dropTurned, []string{"↓ LEFT", "← LEFT"}},
	} {
		what := fmt.Sprint(c.q, " ", c.arms, " turned ", c.turned)
		r := asked(t, c.q)
		_, d, err := drillSheet(r, 0, Options{Options: sheet.Options{Paper: sheet.A3}, Arms: c.arms, cautions: true})
		if err != nil {
			t.Fatal(err)
		}
		p := &d.pieces[0]
		if c.turned { // a large sheet has room for it upright: drawn anew
			p.turned = true
			s, room := d.open(Options{Options: sheet.Options{Paper: sheet.A3}, cautions: true}, "", "")
			d.sheet = s
			d.lay(room, false)
			d.draw()
		}
		axis := p.view.At(r2.Point{})
		all, err := readback.Parse(d.sheet.Bytes())
		if err != nil {
			t.Fatal(err)
		}
		for _, h := range p.holes {
			want := axis.Add(r2.Point{X: c.want.x1*h.At.X + c.want.x2*h.At.Y, Y: c.want.y1*h.At.X + c.want.y2*h.At.Y})
			found := false
			for i := range all {
				if all[i].Name == "circle" {
					at, radius := circle(t, &all[i])
					found = found || at.Sub(want).Norm() < 0.01 && math.Abs(2*radius-r.Options.Diameter) < 0.015
				}
			}
			if !found {
				t.Errorf("%s: no circle of %.2f mm at %.2f, which is %.2f of the metal", what, r.Options.Diameter, want, h.At)
			}
		}
		inside := strings.Join(within(d.sheet.Texts(), p.onPaper(p.cutLine())), "\n")
		if !strings.Contains(inside, c.arrows[0]) && !strings.Contains(inside, c.arrows[1]) {
			t.Errorf("%s: none of the arrows %q in %q", what, c.arrows, inside)
		}
	}
}

// TestDistancesOnTheSheet: each new hole's label has its distance from the axis, from every hole in use that it does not come to
// lie in, and from its rim to the nearest edge, which is found here by walking along the outline.
func TestDistancesOnTheSheet(t *testing.T) {
	for _, d := range templates(t, papers()[0]) {
		u := d.r.Setup.Unit
		said := ""
		for _, b := range d.sheet.Texts() {
			said += b.Text + "\n"
		}
		for i := range d.pieces {
			p := &d.pieces[i]
			for _, h := range p.holes {
				wanted := []string{"pilot Ø ", "ream to Ø " + wording.Drill(u, d.r.Options.Diameter)}
				if !p.metal.Drop {
					wanted = append(wanted, wording.Figure(u, h.At.Norm())+" from kingpin")
				}
				for _, old := range p.metal.Holes {
					if off := old.At.Sub(h.At).Norm(); old.InUse && off > 4 {
						wanted = append(wanted, wording.Figure(u, off)+" from ")
					}
				}
				if edge := walked(p.metal.Outline, h.At); !math.IsInf(edge, 1) {
					wanted = append(wanted, wording.Figure(u, edge-d.r.Options.Diameter/2)+" hole's rim to nearest edge")
				} else if strings.Contains(said, "nearest edge") {
					t.Errorf("%s, %s: an edge is told that is not known", d.r.Setup.Name, p.metal.Name)
				}
				for _, want := range wanted {
					if !strings.Contains(said, want) {
						t.Errorf("%s, %s does not say %q", d.r.Setup.Name, p.metal.Name, want)
					}
				}
			}
			if holes := strings.Contains(said, "old holes"); holes && len(p.metal.Holes) == 0 {
				t.Errorf("%s, %s speaks of old holes, and draws none", d.r.Setup.Name, p.metal.Name)
			}
			if len(p.metal.Outline) == 0 && !strings.Contains(said, "along the stub axle") && !strings.Contains(said, "straight down") {
				t.Errorf("%s, %s has neither outline nor direction to lay it by", d.r.Setup.Name, p.metal.Name)
			}
			if drop := strings.Contains(said, "long line along the stub"); drop && p.metal.Drop && len(d.pieces) == 1 {
				t.Errorf("%s: a drop arm is laid along the stub axle", d.r.Setup.Name)
			}
		}
	}
}

// walked is the distance of a point from an outline, found by steps of a hundredth; +Inf where there is none.
func walked(ring []r2.Point, at r2.Point) float64 {
	least := math.Inf(1)
	for i, a := range ring {
		side := ring[(i+1)%len(ring)].Sub(a)
		n := math.Ceil(side.Norm() / 0.01)
		for k := 0.0; k <= n; k++ {
			least = min(least, a.Add(side.Mul(k/n)).Sub(at).Norm())
		}
	}
	return least
}
