package grindview

import (
	"slices"

	"github.com/golang/geo/r2"

	"locksweep/geometry/grind"
	"locksweep/render/sheet"
)

// Of the legend on paper, mm: a sample, a row, and what lies between a sample, its words and the next sample.
const (
	sampleWide = 11.0
	sampleHigh = 3.0
	legendRow  = 5.2
	legendGap  = 2.0
	legendNext = 6.0
)

// sample is one kind of line or area with what it stands for.
type sample struct {
	text string
	draw func(s *sheet.Sheet, box r2.Rect)
}

// samples is what the plates of a plan are drawn with.
func samples(p *grind.Plan) []sample {
	line := func(pen sheet.Pen) func(*sheet.Sheet, r2.Rect) {
		return func(s *sheet.Sheet, box r2.Rect) {
			y := box.Center().Y
			s.Line(pen, r2.Point{X: box.X.Lo, Y: y}, r2.Point{X: box.X.Hi, Y: y})
		}
	}
	area := func(pen sheet.Pen, fill sheet.Fill) func(*sheet.Sheet, r2.Rect) {
		return func(s *sheet.Sheet, box r2.Rect) { s.Polygon(pen, fill, sheet.Corners(box)...) }
	}
	list := []sample{
		{"outline as it is", line(sheet.Thin)}, {"finished outline", line(sheet.Visible)}, {"metal that comes off", area(sheet.Thin, sheet.Removed)},
	}
	if slices.ContainsFunc(p.Cuts, func(c *grind.Cut) bool { return len(c.Sights) > 0 }) {
		list = append(list, sample{"what it makes room for, at the angle named", area(sheet.Phantom, sheet.Shade)})
	}
	keep := slices.ContainsFunc(p.Cuts, func(c *grind.Cut) bool { return len(c.Part.Keep) > 0 })
	pad := slices.ContainsFunc(p.Cuts, func(c *grind.Cut) bool { return len(pads(p, c)) > 0 })
	switch {
	case keep && pad:
		list = append(list, sample{"area to keep; stop pad, by its name", line(sheet.Hidden)})
	case keep:
		list = append(list, sample{"area to keep", line(sheet.Hidden)})
	case pad:
		list = append(list, sample{"stop pad", line(sheet.Hidden)})
	}
	return list
}

// legend says in rows of samples what lines and areas stand for, and returns where it ends.
func legend(s *sheet.Sheet, p *grind.Plan, at r2.Point, width float64) float64 {
	x, y := at.X, at.Y
	for _, one := range samples(p) {
		need := sampleWide + legendGap + sheet.TextWidth(one.text, sheet.Small)
		if x > at.X && x+need > at.X+width {
			x, y = at.X, y+legendRow
		}
		one.draw(s, sheet.Rect(x, y+(legendRow-sampleHigh)/2, sampleWide, sampleHigh))
		s.Text(r2.Point{X: x + sampleWide + legendGap, Y: y + legendRow/2}, sheet.E, sheet.Style{}, one.text)
		x += need + legendNext
	}
	return y + legendRow
}
