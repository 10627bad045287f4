package sheet

import (
	"cmp"
	"math"
	"slices"

	"github.com/golang/geo/r1"
	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"locksweep/geometry/planar"
)

// insideGap is the paper between a text inside an outline and every line about it, mm.
const insideGap = 0.5

// Inside writes a text within a closed outline, upright or turned to read from the right, clear of every line and text that
// is there: in the first of the heights, mm, for which there is a place, as near as may be to a model point. upright and turned
// are the words for either way, so that an arrow in them points the same way on paper; where both are the same,
// they may run along the longest side of the outline too. ok is false where no height finds a place; nothing
// is written then.
func (p *Panel) Inside(ring []r2.Point, near r2.Point, heights []float64, upright, turned string) (ok bool) {
	outline, to := p.all(ring), p.At(near)
	if !finite(outline...) {
		return false
	}
	for _, fine := range []bool{false, true} {
		for _, h := range heights {
			if best, ok := p.sheet.placeInside(outline, to, h, fine, upright, turned); ok {
				p.sheet.write(best.at, best.side, best.style, best.line)
				return true
			}
		}
	}
	return false
}

// placeInside finds the best place for a text of a height, mm, within an outline on paper, nearest to a point on paper; fine looks
// more closely.
func (s *Sheet) placeInside(outline []r2.Point, to r2.Point, h float64, fine bool, upright, turned string) (best text, ok bool) {
	found := math.Inf(1)
	ways := []s1.Angle{0, 90 * s1.Degree}
	if upright == turned {
		ways = append(ways, longestSide(outline))
	}
	for k, turn := range ways {
		style, words := Style{Height: h, Turn: turn}, upright
		if k == 1 {
			words = turned
		}
		line, cost := s.fitted(style, words), costs(k > 0, turnedCost)
		if at, off, room := s.roomInside(outline, to, style, line, fine, found-cost); room && off+cost < found {
			best, found, ok = text{at, Over, style, line}, off+cost, true
		}
	}
	return best, ok
}

// turnedCost is how much nearer a text has to come to be turned rather than upright, mm.
const turnedCost = 25.0

// longestSide is the direction of the longest side of an outline on paper, as it reads from the bottom or the right.
func longestSide(outline []r2.Point) s1.Angle {
	var side r2.Point
	for i, p := range outline {
		if s := outline[(i+1)%len(outline)].Sub(p); s.Norm() > side.Norm() {
			side = s
		}
	}
	return reading(side)
}

// roomInside returns the middle of the place for a text that is nearest to a paper point, and how far off that is, mm; ok is false where
// there is none within most.
func (s *Sheet) roomInside(outline []r2.Point, to r2.Point, style Style, line string, fine bool, most float64) (at r2.Point, off float64, ok bool) {
	step := 1.0
	if fine {
		step = 0.4
	}
	box, text := r2.RectFromPoints(outline...), textBox(r2.Point{}, Over, style, line)
	span, room := text.Bounds(), text.grown(insideGap) // both about the text's middle
	off = most
	columns := outward(box.X, r1.Interval{Lo: box.X.Lo - span.X.Lo, Hi: box.X.Hi - span.X.Hi}, step, to.X)
	for _, y := range outward(box.Y, r1.Interval{Lo: box.Y.Lo - span.Y.Lo, Hi: box.Y.Hi - span.Y.Hi}, step, to.Y) {
		if math.Abs(y-to.Y) > off {
			break
		}
		for _, x := range columns {
			c := r2.Point{X: x, Y: y}
			d := c.Sub(to).Norm()
			if d > off {
				break
			}
			if first := d < off || y < at.Y || y == at.Y && x < at.X; first && s.bare(outline, room.moved(c)) { // of two as near the upper one
				at, off, ok = c, d, true
			}
		}
	}
	return at, off, ok
}

// outward returns the marks of a scale over a stretch that lie within a part of it, those nearest to a place first.
func outward(stretch, part r1.Interval, step, from float64) (marks []float64) {
	for m := math.Ceil(stretch.Lo); m < stretch.Hi; m += step {
		if part.Contains(m) {
			marks = append(marks, m)
		}
	}
	slices.SortFunc(marks, func(a, b float64) int { return cmp.Compare(math.Abs(a-from), math.Abs(b-from)) })
	return marks
}

// bare reports whether a box lies within an outline, free of texts and of lines.
func (s *Sheet) bare(outline []r2.Point, b Box) bool {
	for _, c := range b.Corners {
		if !planar.Inside(outline, c) {
			return false
		}
	}
	bounds := b.Bounds()
	for i, p := range outline {
		if l := (segment{p, outline[(i+1)%len(outline)]}); l.near(bounds) && b.crosses(l.a, l.b) {
			return false
		}
	}
	return s.free(b) && !s.covers(b)
}
