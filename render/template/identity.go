package template

import (
	"strings"

	"github.com/golang/geo/r2"

	"locksweep/render/sheet"
)

// identity is what a template has to say once it is cut out and glued on: which part it belongs to, how it lies, of which
// setup it is.
type identity struct {
	which        string // LEFT, RIGHT, DROP ARM, …
	face         string // which face is seen
	front, tyre  string // what lies along the model's first axis, and along the second
	name, source string // of the setup, and of its file
	with         string // the variant and settings that it was read with
}

// inscribed is a closed line in a view that texts are written inside. One that finds no room there even in the smallest letters
// stands beside it on a leader, within room, on paper.
type inscribed struct {
	*sheet.Panel
	line []r2.Point
	room r2.Rect
}

// letters are the heights in which identity is written, the largest that fits.
var letters = []float64{3.5, 3, sheet.Small, 2.2, sheet.Fine, 1.5}

// identity writes all of an identity inside the line.
func (in inscribed) identity(id identity) {
	// The place of the words that matter most is taken first, and large.
	middle := r2.RectFromPoints(in.line...).Center()
	in.text(middle, letters, id.which, id.which)
	in.text(middle, letters, id.face, id.face)
	in.arrow(middle, id.front, in.View.Axes.X)
	in.arrow(middle, id.tyre, in.View.Axes.Y)
	in.name(middle, id.name)
	in.name(middle, strings.TrimPrefix(id.with, "variant ")) // its name is what tells them apart
	if id.source == "" || in.Inside(in.line, middle, letters[4:], id.source, id.source) {
		return
	}
	for _, part := range strings.Split(id.source, ", ") { // file and date each by itself
		in.text(middle, letters[4:], part, part)
	}
}

// name writes a name, shortened where there is less room.
func (in inscribed) name(near r2.Point, text string) {
	for i, most := range nameMost {
		name := sheet.Shorten(text, sheet.Fine, most)
		switch {
		case name == "" || in.Inside(in.line, near, letters[2:], name, name):
			return
		case i == len(nameMost)-1:
			in.text(near, letters, name, name)
		}
	}
}

// nameMost is the most of a setup's name that is written, mm in fine letters, and less where that finds no room.
var nameMost = [4]float64{90, 40, 28, 18}

// arrow writes which way something lies, with an arrow that points there on paper.
func (in inscribed) arrow(near r2.Point, text string, way r2.Point) {
	in.text(near, letters, pointed(text, way), pointed(text, turnedBack(way)))
}

// turnedBack is a paper direction as it is seen by letters that are turned to read from the right.
func turnedBack(way r2.Point) r2.Point { return r2.Point{X: -way.Y, Y: way.X} }

// pointed puts an arrow to a text, in the paper direction nearest to the given one.
func pointed(text string, way r2.Point) string {
	switch {
	case way.Y < -0.5:
		return "↑ " + text
	case way.Y > 0.5:
		return "↓ " + text
	case way.X < 0:
		return "← " + text
	}
	return text + " →"
}

// text writes a text as near as may be to a place of the model; turned are its words where it reads from the right.
func (in inscribed) text(near r2.Point, heights []float64, upright, turned string) {
	if !in.Inside(in.line, near, heights, upright, turned) {
		in.Label(sheet.Label{At: in.line[0], Or: in.line[1:], End: sheet.ArrowEnd, Within: in.room, Style: sheet.Style{Height: sheet.Fine}, Lines: []string{upright}})
	}
}

// cutHere tells that the line is to be cut along.
func (in inscribed) cutHere() {
	var at []r2.Point
	for i, p := range in.line {
		at = append(at, p.Add(in.line[(i+1)%len(in.line)]).Mul(0.5))
	}
	in.Label(sheet.Label{At: at[0], Or: at[1:], Clear: 0.3, End: sheet.ArrowEnd, Within: in.room, Style: sheet.Style{Height: sheet.Fine}, Lines: []string{"cut along this line"}})
}

// bit is 1 for what is so, to choose from two by.
func bit(b bool) int {
	if b {
		return 1
	}
	return 0
}
