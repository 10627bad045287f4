// Package compareview draws a comparison: setups laid over one another from above, their curves in common
// charts, each of them held in a slide, and figures along a range as small charts or as a map. It lays out
// what compare has found and computes nothing.
package compareview

import (
	"fmt"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"locksweep/geometry/compare"
	"locksweep/geometry/setup"
	"locksweep/render/sheet"
	"locksweep/render/wording"
)

// Paper kept free, mm.
const (
	edge = 4.0 // inside the frame
	gap  = 5.0 // between what stands on the sheet
)

// mostDrawn is how many setups one drawing can tell apart: each has a line type of its own.
const mostDrawn = len(sheet.CurvePens)

// unit is what lengths are said in: that of the first setup, of those that there are. A value that is varied may ask for one that
// cannot be.
func unit(c *compare.Comparison) setup.Unit {
	for i := range c.Entries {
		if s := c.Entries[i].Setup; s != nil {
			return s.Unit
		}
	}
	return setup.MM
}

// loud is the alarms of a comparison, by name.
func loud(c *compare.Comparison) []string {
	return wording.ComparedAlarms(c, func(i int) string { return c.Entries[i].Name })
}

// begin opens a sheet with the alarms of a comparison at its head and writes the words above the drawing; it returns the room
// that is left.
func begin(c *compare.Comparison, opt sheet.Options, alarms []string, title, subtitle, words string) (*sheet.Sheet, r2.Rect) {
	s := sheet.New(opt.Paper, wording.Block(title, subtitle, opt.Origin, alarms, title+", "+subtitle+". "+words))
	s.Inches = unit(c) == setup.Inch
	room := s.Area().ExpandedByMargin(-edge)
	if words != "" {
		s.Say(&room, sheet.Style{}, gap, words)
	}
	return s, room
}

// drawn returns the entries that are drawn, and a remark where some are left out.
func drawn(c *compare.Comparison) (entries []int, remark string) {
	for i := range c.Entries {
		if c.Entries[i].Result != nil && len(entries) < mostDrawn {
			entries = append(entries, i)
		}
	}
	if missing := len(c.Entries) - len(entries); missing > 0 {
		remark = fmt.Sprintf("Not drawn: %d of %d, which cannot be swept or for which there is no line type left.", missing, len(c.Entries))
	}
	return entries, remark
}

// legend writes line samples with the names of entries, one below the other, each in as many lines as it takes, and returns the room
// below.
func legend(s *sheet.Sheet, room r2.Rect, c *compare.Comparison, entries []int) r2.Rect {
	const row, sample = 5.0, 16.0
	for k, i := range entries {
		y := room.Y.Lo + row/2
		s.Line(sheet.CurvePens[k], r2.Point{X: room.X.Lo, Y: y}, r2.Point{X: room.X.Lo + sample, Y: y})
		for _, line := range sheet.Wrap(named(c, i, room.Size().X-sample-8), sheet.Small, room.Size().X-sample-2) {
			s.Text(r2.Point{X: room.X.Lo + sample + 2, Y: room.Y.Lo + row/2}, sheet.E, sheet.Style{}, line)
			room.Y.Lo += row
		}
	}
	room.Y.Lo += gap - row/2
	return room
}

// named is an entry with its letter and what makes it unsound; its own name on one line of a width.
func named(c *compare.Comparison, i int, width float64) string {
	e := &c.Entries[i]
	name := wording.Letter(i) + "  " + sheet.Shorten(e.Name, sheet.Small, width)
	if !e.Sound() {
		name += "; ! not sound: " + wording.Faults(e)
	}
	return name
}

func flat(v r3.Vector) r2.Point { return r2.Point{X: v.X, Y: v.Y} }
