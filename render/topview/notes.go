package topview

import (
	"strconv"

	"github.com/golang/geo/r2"

	"locksweep/geometry/sweep"
	"locksweep/render/sheet"
	"locksweep/render/wording"
)

const (
	lineHeight  = 4.6 // of the words below the drawing, mm
	stripHeight = 14.0
)

// wordsHeight is the least paper that the words below the drawing need, mm.
func (d *drawing) wordsHeight() float64 {
	if d.opt.Pose != nil {
		return 40
	}
	return 2*stripHeight + 4*lineHeight + 8
}

// notes writes the answer and the chain of limits below the drawing.
func (d *drawing) notes() {
	at := r2.Point{X: d.below.X.Lo + 2, Y: d.below.Y.Lo + 2}
	width := d.below.Size().X - 4
	if loud := wording.Loud(d.r); loud != "" {
		at.Y = d.sheet.Paragraph(at, width, sheet.Style{Height: sheet.Medium, Colour: sheet.Vermilion}, loud).Y.Hi + 1
	}
	if d.opt.Pose != nil {
		d.sheet.Paragraph(at, width, sheet.Style{}, wording.Pose(d.r, &d.pose))
		return
	}
	at.Y = d.sheet.Paragraph(at, width, sheet.Style{}, wording.Answer(d.r)).Y.Hi + 2
	d.strip(sheet.Rect(at.X, at.Y, width, stripHeight))
	at.Y += stripHeight + 3
	for i, l := range d.contactsInOrder() {
		if at.Y+lineHeight > d.below.Y.Hi {
			break
		}
		d.sheet.Paragraph(at, width, sheet.Style{}, strconv.Itoa(i+1)+"  "+wording.Limit(d.r.Model, &l))
		at.Y += lineHeight
	}
}

// strip draws the column angle as an axis with every limit in order: the way between the locks is
// filled, what lies beyond is open.
func (d *drawing) strip(room r2.Rect) {
	far := 0.0
	for _, lock := range d.r.Locks {
		for _, l := range lock.Chain {
			far = max(far, l.Column.Abs().Degrees())
		}
	}
	if far == 0 {
		return
	}
	far *= 1.06
	middle := (room.Y.Lo + room.Y.Hi) / 2
	x := func(degrees float64) float64 { // left is on the left, as in the drawing
		return room.Center().X - degrees/far*room.Size().X/2
	}
	panel := d.sheet.NewPanel(room, d.sheet.View)
	left, right := d.r.Locks[sweep.ToLeft].Column.Degrees(), d.r.Locks[sweep.ToRight].Column.Degrees()
	panel.Polygon(sheet.Thin, sheet.Shade, sheet.Rect(x(left), middle-1.5, x(right)-x(left), 3).Vertices()[0], r2.Point{X: x(right), Y: middle - 1.5}, r2.Point{X: x(right), Y: middle + 1.5}, r2.Point{X: x(left), Y: middle + 1.5})
	panel.Line(sheet.Thin, r2.Point{X: room.X.Lo, Y: middle}, r2.Point{X: room.X.Hi, Y: middle})
	for _, lock := range d.r.Locks {
		for _, l := range lock.Chain {
			px := x(l.Column.Degrees())
			panel.Line(sheet.Visible, r2.Point{X: px, Y: middle - 3}, r2.Point{X: px, Y: middle + 3})
		}
	}
}
