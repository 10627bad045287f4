package compareview

import (
	"github.com/golang/geo/r2"

	"locksweep/geometry/compare"
	"locksweep/geometry/setup"
	"locksweep/render/sheet"
	"locksweep/render/wording"
)

// cut returns the entry whose cuts are drawn, -1 where there is none or the view does not show frames: the first with
// a strip and a length taken out, or the first with either. The cuts of one can be told apart on a drawing, those of
// several cannot.
func (o *overlay) cut(v *view) int {
	if v.frame.IsEmpty() {
		return -1
	}
	return cutOf(o.c, o.entries)
}

// cutOf is cut of all that is drawn.
func cutOf(all *compare.Comparison, entries []int) int {
	first := -1
	for _, i := range entries[1:] {
		switch c := all.Entries[i].Setup.Frame; {
		case c == nil:
		case c.Length.Out != 0 && (c.Strip.Front != 0 || c.Strip.Rear != 0):
			return i
		case first < 0:
			first = i
		}
	}
	return first
}

// cutRemark says whose cuts are dimensioned, and where the rest of what a builder chalks on is found; empty where no frame is cut.
func cutRemark(c *compare.Comparison, entries []int) string {
	shown := cutOf(c, entries)
	if shown < 0 {
		return ""
	}
	text := "Where the cuts of " + wording.Letter(shown) + " lie along each tube is in the list of check --variant."
	if len(entries) > 2 {
		text += " For the cuts of another draw it beside the first alone."
	}
	return text
}

// dimOff is how far from what it measures a dimension of the cuts stands on paper, mm.
const dimOff = 8.0

// cuts draws where the first setup's frame is cut, with the dimensions that are chalked on its tubes.
func (o *overlay) cuts(panel *sheet.Panel, v *view, c *setup.FrameCut) {
	o.strip(panel, v, c.Strip)
	length, right := c.Length, v.frame.Y.Lo
	if length.Out == 0 {
		return
	}
	across := func(x float64) {
		panel.Line(sheet.Centre, r2.Point{X: x, Y: v.frame.Y.Hi}, r2.Point{X: x, Y: right})
	}
	across(length.At)
	panel.Dim(sheet.Vertical, r2.Point{Y: right}, r2.Point{X: length.At, Y: right}, dimOff, wording.Figure(o.unit, -length.At))
	if length.Out < 0 {
		panel.Label(sheet.Label{At: r2.Point{X: length.At, Y: right}, End: sheet.ArrowEnd,
			Lines: []string{wording.Length(o.unit, -length.Out) + " set in"}, Prefer: []sheet.Dir{sheet.SE, sheet.E}})
		return
	}
	rear := length.At - length.Out
	across(rear)
	panel.Dim(sheet.Vertical, r2.Point{X: length.At, Y: right}, r2.Point{X: rear, Y: right}, dimOff, wording.Figure(o.unit, length.Out))
}

// strip draws the edges of what is taken out of the middle, and its width in front and at the rear.
func (o *overlay) strip(panel *sheet.Panel, v *view, t setup.Strip) {
	front, rear := v.frame.X.Hi, v.frame.X.Lo
	if t.Front == 0 && t.Rear == 0 {
		return
	}
	edge := func(x, side float64) r2.Point { return r2.Point{X: x, Y: side * max(t.Width(x), 0) / 2} }
	for _, side := range [2]float64{1, -1} {
		line := []r2.Point{edge(front, side)}
		for _, x := range [2]float64{0, -t.Wheelbase} {
			if x < front && x > rear {
				line = append(line, edge(x, side))
			}
		}
		panel.Polyline(sheet.Centre, append(line, edge(rear, side))...)
	}
	for _, end := range []struct{ x, off float64 }{{front, -dimOff}, {rear, dimOff}} {
		switch width := t.Width(end.x); {
		case width > 0:
			panel.Dim(sheet.Horizontal, edge(end.x, 1), edge(end.x, -1), end.off, wording.Figure(o.unit, width))
		case width < 0:
			panel.Label(sheet.Label{At: r2.Point{X: end.x}, End: sheet.ArrowEnd, Lines: []string{wording.Length(o.unit, -width) + " set in"}})
		}
	}
}
