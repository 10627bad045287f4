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

// letters are the heights in which identity is written, the largest that fits.
var letters = []float64{3.5, 3, sheet.Small, 2.2, sheet.Fine, 1.5}

// write writes all of it inside a cut line. What finds no room there even in the smallest letters stands beside it on
// a leader, on the paper that the piece has.
func (id identity) write(v *sheet.Panel, line []r2.Point, axes sheet.Axes, room r2.Rect) {
	// The place of the words that matter most is taken first, and large.
	middle := r2.RectFromPoints(line...).Center()
	id.inside(v, line, middle, room, id.which)
	id.inside(v, line, middle, room, id.face)
	id.arrow(v, line, middle, room, id.front, axes.X)
	id.arrow(v, line, middle, room, id.tyre, axes.Y)
	id.named(v, line, middle, room, id.name)
	id.named(v, line, middle, room, strings.TrimPrefix(id.with, "variant ")) // its name is what tells them apart
	if id.source == "" || v.Inside(line, middle, letters[4:], id.source, id.source) {
		return
	}
	for _, part := range strings.Split(id.source, ", ") { // file and date each by itself
		id.either(v, line, middle, room, letters[4:], part, part)
	}
}

// named writes a name, shortened where there is less room.
func (id identity) named(v *sheet.Panel, line []r2.Point, near r2.Point, room r2.Rect, text string) {
	for i, most := range nameMost {
		name := sheet.Shorten(text, sheet.Fine, most)
		switch {
		case name == "" || v.Inside(line, near, letters[2:], name, name):
			return
		case i == len(nameMost)-1:
			id.inside(v, line, near, room, name)
		}
	}
}

// nameMost is the most of a setup's name that is written, mm in fine letters, and less where that finds no room.
var nameMost = [4]float64{90, 40, 28, 18}

// arrow writes which way something lies, with an arrow that points there on paper.
func (id identity) arrow(v *sheet.Panel, line []r2.Point, near r2.Point, room r2.Rect, text string, way r2.Point) {
	id.either(v, line, near, room, letters, pointed(text, way), pointed(text, turnedBack(way)))
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

func (id identity) inside(v *sheet.Panel, line []r2.Point, near r2.Point, room r2.Rect, text string) {
	id.either(v, line, near, room, letters, text, text)
}

func (id identity) either(v *sheet.Panel, line []r2.Point, near r2.Point, room r2.Rect, heights []float64, upright, turned string) {
	if !v.Inside(line, near, heights, upright, turned) {
		v.Label(sheet.Label{At: line[0], Or: line[1:], End: sheet.ArrowEnd, Within: room, Style: sheet.Style{Height: sheet.Fine}, Lines: []string{upright}})
	}
}

// cutHere points at a line that is to be cut along.
func cutHere(v *sheet.Panel, line []r2.Point, room r2.Rect) {
	var at []r2.Point
	for i, p := range line {
		at = append(at, p.Add(line[(i+1)%len(line)]).Mul(0.5))
	}
	v.Label(sheet.Label{At: at[0], Or: at[1:], Clear: 0.3, End: sheet.ArrowEnd, Within: room, Style: sheet.Style{Height: sheet.Fine}, Lines: []string{"cut along this line"}})
}

func bit(b bool) int {
	if b {
		return 1
	}
	return 0
}
