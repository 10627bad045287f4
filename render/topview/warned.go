package topview

import (
	"fmt"

	"github.com/golang/geo/r2"

	"locksweep/render/sheet"
	"locksweep/render/wording"
)

// Paper about the warnings in their box, mm.
const (
	warnedInset = 2.0
	warnedRow   = 4.6 // of the heading
	warnedGap   = 2.5 // below the box
)

// mostWarned is how many warnings stand on a sheet in full.
const mostWarned = 4

// What of the words is left out on a sheet that has no room for all: what each warning says, then what each alarm says too.
const (
	warningsCounted = iota + 1
	alarmsNamed
)

// warnings gives the heading and what is listed below it.
func (d *drawing) warnings() (heading string, list []string) {
	heading, list = wording.Counted(len(d.opt.Warned), "warning"), d.opt.Warned
	if d.terse >= warningsCounted {
		return heading + "; all are in the report of sweep", nil
	}
	if more := len(list) - mostWarned; more > 0 {
		heading += fmt.Sprintf(", the first %d of them; all are in the report of sweep", mostWarned)
		list = list[:mostWarned]
	}
	return heading, list
}

// warnedHeight is the paper that the box of warnings takes, 0 where there is none, mm.
func (d *drawing) warnedHeight(width float64) float64 {
	if len(d.opt.Warned) == 0 {
		return 0
	}
	heading, list := d.warnings()
	h := 2*warnedInset - 1 + sheet.ParagraphHeight(heading, sheet.Small, width-2*warnedInset)
	for _, text := range list {
		h += sheet.ParagraphHeight("! "+text, sheet.Fine, width-2*warnedInset) + 0.6
	}
	return h + warnedGap
}

// warned writes the warnings in a box at the head of a room, the worst first, and returns where the box ends.
func (d *drawing) warned(room r2.Rect) float64 {
	height := d.warnedHeight(room.Size().X)
	if height == 0 {
		return room.Y.Lo
	}
	heading, list := d.warnings()
	at, width := r2.Point{X: room.X.Lo + warnedInset, Y: room.Y.Lo + warnedInset}, room.Size().X-2*warnedInset
	at.Y = d.sheet.Paragraph(at, width, sheet.Style{Colour: sheet.Vermilion}, heading).Y.Hi
	for _, text := range list {
		at.Y = d.sheet.Paragraph(at, width, sheet.Style{Height: sheet.Fine}, "! "+text).Y.Hi + 0.6
	}
	box := sheet.Rect(room.X.Lo, room.Y.Lo, room.Size().X, height-warnedGap)
	d.sheet.Polygon(sheet.Visible.In(sheet.Vermilion), sheet.NoFill, sheet.Corners(box)...)
	return room.Y.Lo + height
}
