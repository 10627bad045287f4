// Package rodsheet draws the rods to cut, to scale and with their dimensions, one below the other or side by side.
package rodsheet

import (
	"fmt"
	"strings"

	"github.com/golang/geo/r2"

	"locksweep/geometry/rods"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/render/sheet"
	"locksweep/render/wording"
)

// Room about a rod on paper, mm: above for two dimensions, below for three, and for its name and what to cut.
const (
	above = 16.0
	below = 26.0
	aside = 12.0
	head  = 7.0
)

// Sheet draws the rods on one sheet.
func Sheet(m *sweep.Model, list []rods.Rod, opt sheet.Options) *sheet.Sheet {
	u := m.Setup.Unit
	s := wording.Sheet(opt, "Rods to cut", m.Setup, wording.Alarmed(m),
		"The rods seen from the side with their dimensions, and what to cut. "+described(u, list))
	rooms := arrange(s, u, list)
	for i := range list {
		r, room := &list[i], rooms[i]
		s.Text(r2.Point{X: room.X.Lo, Y: room.Y.Lo + head/2}, sheet.E, sheet.Style{Height: sheet.Medium}, wording.Capital(r.Name))
		room.Y.Lo += head
		s.Say(&room, sheet.Style{}, 0, words(u, r))
		rooms[i] = room
	}
	for i := range list {
		rod(s, u, &list[i], rooms[i])
	}
	return s
}

// arrange settles the scale and returns the room of each rod with its words: one below the other, or in more columns where the rods can be
// drawn larger so.
func arrange(s *sheet.Sheet, u setup.Unit, list []rods.Rod) (best []r2.Rect) {
	area := s.Area().ExpandedByMargin(-2)
	for columns := 1; columns <= max(1, len(list)); columns++ {
		rooms := sheet.Split(area, columns, (len(list)+columns-1)/columns, 2)
		width, longest, thickest, tallest := rooms[0].Size().X, 0.0, 0.0, 0.0
		for i := range list {
			r := &list[i]
			tallest = max(tallest, head+sheet.ParagraphHeight(words(u, r), sheet.Small, width))
			longest, thickest = max(longest, r.Length+eye(r)), max(thickest, eye(r), r.Spec.Outer())
		}
		if scale := sheet.FitScale(longest, thickest, width-2*aside, rooms[0].Size().Y-tallest-above-below); scale > s.Scale {
			s.Scale, best = scale, rooms
		}
	}
	return best
}

// words says what to cut for a rod.
func words(u setup.Unit, r *rods.Rod) string {
	return fmt.Sprintf("%s to %s. %s. %s. %s. %s.", wording.Capital(wording.RodStock(u, r)), wording.BothUnits(u, r.Cut), wording.RodThread(u, r),
		wording.Capital(wording.RodEngagement(u, r)), "Screwed "+wording.RodTravel(u, r), wording.Capital(wording.RodToe(r)))
}

// eye is the diameter of a rod end's eye; where it is not given, one of the usual size for its thread.
func eye(r *rods.Rod) float64 {
	if r.Spec.End.Eye > 0 {
		return r.Spec.End.Eye
	}
	return 2.4 * r.Thread.Diameter
}

// rod draws one rod from ball to ball, the first on the left.
func rod(s *sheet.Sheet, u setup.Unit, r *rods.Rod, room r2.Rect) {
	half := eye(r) / 2
	room.Y.Lo, room.Y.Hi = room.Y.Lo+above, room.Y.Hi-below
	box := r2.RectFromPoints(r2.Point{X: -half, Y: -half}, r2.Point{X: r.Length + half, Y: half})
	v := s.NewPanel(room.ExpandedByMargin(above), sheet.Centred(room, box, sheet.Upright, s.Scale))
	outer, thread, end := r.Spec.Outer()/2, r.Thread.Diameter/2, r.Length-r.Exposed
	v.Line(sheet.Centre, r2.Point{X: -half}, r2.Point{X: r.Length + half})
	v.Polygon(sheet.Visible, sheet.Shade, rectangle(r.Exposed, end, outer)...)
	if bore := r.Spec.Bore() / 2; bore > 0 {
		for _, y := range [2]float64{-bore, bore} {
			v.Line(sheet.Hidden, r2.Point{X: r.Exposed, Y: y}, r2.Point{X: end, Y: y})
		}
	}
	for k := range 2 {
		side := func(x float64) float64 { return [2]float64{x, r.Length - x}[k] }
		v.Polygon(sheet.Visible, sheet.NoFill, rectangle(side(half*0.94), side(r.Exposed), thread)...)
		v.Polygon(sheet.Thin, sheet.Shade, rectangle(side(r.Exposed-r.Thread.JamNut()), side(r.Exposed), 0.8*r.Thread.Diameter)...)
		v.Polygon(sheet.Hidden, sheet.NoFill, rectangle(side(r.Exposed), side(r.Exposed+r.Depth), thread)...)
		centre := r2.Point{X: side(0)}
		v.Circle(sheet.Visible, sheet.Paper, centre, half)
		v.Circle(sheet.Visible, sheet.NoFill, centre, thread)
		v.Cross(sheet.Thin, centre, v.View.Length(half)+1.5)
		v.Circle(sheet.Visible, sheet.Paper, r2.Point{X: side(r.Exposed + r.Witness)}, 1)
	}
	dimensions(v, u, r, outer, half)
}

func rectangle(x0, x1, half float64) []r2.Point {
	return []r2.Point{{X: x0, Y: -half}, {X: x1, Y: -half}, {X: x1, Y: half}, {X: x0, Y: half}}
}

// dimensions draws the rod's dimensions, the longest furthest out.
func dimensions(v *sheet.Panel, u setup.Unit, r *rods.Rod, outer, half float64) {
	reach := v.View.Length(half - outer)
	at := func(x, y float64) r2.Point { return r2.Point{X: x, Y: y} }
	end := r.Length - r.Exposed
	v.Dim(sheet.Horizontal, at(0, -outer), at(r.Length, -outer), -reach-sheet.DimGap*2.4, wording.TapeLength(u, r.Length)+" eye to eye")
	v.Dim(sheet.Horizontal, at(r.Exposed, -outer), at(end, -outer), -reach-sheet.DimGap*1.4, wording.TapeLength(u, r.Cut)+" to cut")
	v.Dim(sheet.Horizontal, at(r.Exposed, outer), at(r.Exposed+r.Depth, outer), reach+sheet.DimGap*0.6, wording.Length(u, r.Depth)+" thread")
	v.Dim(sheet.Horizontal, at(end-r.Witness, outer), at(end, outer), reach+sheet.DimGap*0.6, wording.Length(u, r.Witness)+" witness hole")
	v.Dim(sheet.Horizontal, at(0, -outer), at(r.Exposed, -outer), -reach-sheet.DimGap*0.5, wording.Length(u, r.Exposed))
	v.Dim(sheet.Horizontal, at(end, -outer), at(r.Length, -outer), -reach-sheet.DimGap*0.5, wording.Length(u, r.Exposed))
}

// described is the list in words, for who cannot see the drawing.
func described(u setup.Unit, list []rods.Rod) string {
	var said []string
	for i := range list {
		r := &list[i]
		said = append(said, fmt.Sprintf("%s: %s to %s, %s, eye to eye %s.", r.Name, wording.RodStock(u, r), wording.BothUnits(u, r.Cut), r.Thread, wording.BothUnits(u, r.Length)))
	}
	return strings.Join(said, " ")
}
