package sheet

import (
	"fmt"
	"regexp"
	"slices"

	"github.com/golang/geo/r2"
)

// classed is the class of a shape as class writes it. No text stands among the shapes.
var classed = regexp.MustCompile(`class="[a-z]+"`)

// Inset shows a part of another drawing at its own size: a rectangle of that one's paper, its upper left corner at a point of this
// one's. Lines are cut at its edges; texts that do not lie in it whole are left out.
func (s *Sheet) Inset(of *Sheet, part r2.Rect, at r2.Point) {
	of.finish()
	own := map[string][]byte{}
	for i, look := range of.paints {
		own[`class="`+className(i)+`"`] = []byte(s.class(look))
	}
	size, move := part.Size(), at.Sub(part.Lo())
	fmt.Fprintf(&s.body, "<svg x=\"%s\" y=\"%s\" width=\"%s\" height=\"%s\" viewBox=\"%s %s %s %s\" overflow=\"hidden\">\n",
		number(at.X), number(at.Y), number(size.X), number(size.Y), number(part.X.Lo), number(part.Y.Lo), number(size.X), number(size.Y))
	s.body.Write(classed.ReplaceAllFunc(of.body.Bytes(), func(class []byte) []byte { return own[string(class)] }))
	fmt.Fprintln(&s.body, "</svg>")
	for i, t := range of.texts {
		if part.Contains(of.boxes[i].Bounds()) {
			s.write(t.at.Add(move), t.side, t.style, t.line)
		}
	}
	for _, l := range moved(of.ink.lines, part, move) {
		s.ink.add(l)
	}
	s.leaders = append(s.leaders, moved(of.leaders, part, move)...)
	s.unplaced = append(s.unplaced, slices.Clone(of.unplaced)...)
}

// moved cuts lines at the edges of a rectangle and returns what lies within, moved.
func moved(lines []segment, part r2.Rect, by r2.Point) (list []segment) {
	for _, l := range lines {
		if a, b, ok := clipSegment(l.a, l.b, part); ok {
			list = append(list, segment{a.Add(by), b.Add(by)})
		}
	}
	return list
}
