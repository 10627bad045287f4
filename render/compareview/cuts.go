package compareview

import (
	"slices"
	"strings"

	"github.com/golang/geo/r2"

	"locksweep/geometry/compare"
	"locksweep/geometry/setup"
	"locksweep/render/sheet"
	"locksweep/render/wording"
)

// cut is one way in which frames are cut, with the letters of the setups that are cut so.
type cut struct {
	*setup.FrameCut
	letters string
	pen     sheet.Pen // of the first of them
}

type cuts []cut

// names is the letters of all setups whose frames are cut.
func (all cuts) names() string {
	said := make([]string, len(all))
	for i := range all {
		said[i] = all[i].letters
	}
	return strings.Join(said, ", ")
}

// cutsIn returns how the frames of a view's setups are cut, each way once; none where the view does not show frames.
func (o *overlay) cutsIn(v *view) cuts {
	if v.frame.IsEmpty() {
		return nil
	}
	return cutsOf(o.c, o.entries)
}

// cutsOf is cutsIn of all that is drawn.
func cutsOf(all *compare.Comparison, entries []int) (list cuts) {
	for k, i := range entries[1:] {
		f, letter := all.Entries[i].Setup.Frame, wording.Letter(i)
		if f == nil {
			continue
		}
		same := slices.IndexFunc(list, func(c cut) bool { return c.Strip == f.Strip && c.Length == f.Length })
		if same >= 0 {
			list[same].letters += ", " + letter
			continue
		}
		pen := sheet.Centre.In(sheet.CurvePens[k+1].Colour)
		list = append(list, cut{f, letter, pen})
	}
	return list
}

// cutRemark says where the rest of what a builder chalks on is found; empty where no frame is cut.
func cutRemark(c *compare.Comparison, entries []int) string {
	shown := cutsOf(c, entries)
	switch len(shown) {
	case 0:
		return ""
	case 1:
		return "Where the cuts of " + shown.names() + " lie along each tube is in the list of check --variant."
	}
	return "Figures of cuts begin with the letter of their setup. Where the cuts of " + shown.names() + " lie along each tube is in the list of check --variant."
}

// dimOff is how far from what it measures a dimension of the cuts stands on paper, mm.
const dimOff = 8.0

// cut draws where the first setup's frame is cut in one way, the k-th, with the dimensions that are chalked on its tubes.
func (o *overlay) cut(panel *sheet.Panel, v *view, c *cut, k int) {
	mark := ""
	if len(o.cutsIn(v)) > 1 {
		mark = c.letters + " "
	}
	off := dimOff * float64(k+1)
	o.strip(panel, v, c, off, mark)
	length, right := c.Length, v.frame.Y.Lo
	if length.Out == 0 {
		return
	}
	across := func(x float64) {
		panel.Line(c.pen, r2.Point{X: x, Y: v.frame.Y.Hi}, r2.Point{X: x, Y: right})
	}
	across(length.At)
	panel.Dim(sheet.Vertical, r2.Point{Y: right}, r2.Point{X: length.At, Y: right}, off, mark+wording.Figure(o.unit, -length.At))
	if length.Out < 0 {
		panel.Label(sheet.Label{At: r2.Point{X: length.At, Y: right}, End: sheet.ArrowEnd,
			Lines: []string{mark + wording.Length(o.unit, -length.Out) + " set in"}, Prefer: []sheet.Dir{sheet.SE, sheet.E}})
		return
	}
	rear := length.At - length.Out
	across(rear)
	panel.Dim(sheet.Vertical, r2.Point{X: length.At, Y: right}, r2.Point{X: rear, Y: right}, off, mark+wording.Figure(o.unit, length.Out))
}

// strip draws the edges of what is taken out of the middle, and its width in front and at the rear.
func (o *overlay) strip(panel *sheet.Panel, v *view, c *cut, off float64, mark string) {
	t, front, rear := c.Strip, v.frame.X.Hi, v.frame.X.Lo
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
		panel.Polyline(c.pen, append(line, edge(rear, side))...)
	}
	for _, end := range []struct{ x, off float64 }{{front, -off}, {rear, off}} {
		switch width := t.Width(end.x); {
		case width > 0:
			panel.Dim(sheet.Horizontal, edge(end.x, 1), edge(end.x, -1), end.off, mark+wording.Figure(o.unit, width))
		case width < 0:
			panel.Label(sheet.Label{At: r2.Point{X: end.x}, End: sheet.ArrowEnd, Lines: []string{mark + wording.Length(o.unit, -width) + " set in"}})
		}
	}
}
