package sheet

import (
	"fmt"
	"strings"

	"github.com/golang/geo/r2"
)

// Motion is a movement there and back, without end. What moves has a shape for each of its keys, and its corners go straight from one to
// the next.
type Motion struct {
	Shares  []float64 // when each key is reached, as a share of the time one way, rising from 0 to 1
	Seconds float64   // one way
	Still   int       // the key at which it begins, and stands where nothing moves
}

// moving is a shape with its path at every key of a motion.
type moving struct {
	motion *Motion
	paths  []string
}

// Moving draws a shape that moves by itself: keys are its closed rings at every key of the motion, each time as many with as
// many corners. It stands still on paper, where the reader's system asks for less motion, and in a viewer that does not know
// the animation of path data (the property d of SVG 2, and CSS Animations). It is not clipped to the panel: see Cover.
func (p *Panel) Moving(pen Pen, fill Fill, m *Motion, keys [][][]r2.Point) {
	shape := moving{motion: m}
	for _, rings := range keys {
		var d strings.Builder
		for _, ring := range rings {
			d.Write(appendCorners(nil, p.all(ring)))
			d.WriteByte('z')
		}
		shape.paths = append(shape.paths, d.String())
	}
	class := p.sheet.class(painted(pen, fill))
	if len(m.Shares) > 1 {
		class = strings.TrimSuffix(class, `"`) + " " + p.sheet.swing(shape) + `"`
	}
	p.sheet.shapes.Path(shape.paths[m.Still], class)
	if pen.draws() {
		for _, ring := range keys[m.Still] {
			p.sheet.addInk(roundRing(p.all(ring)))
		}
	}
}

// Cover paints the sheet round the panel over with paper, as far as the boxes at its head: what has been drawn there is gone.
func (p *Panel) Cover() {
	size, top := p.sheet.Size, p.sheet.area.Y.Lo
	for _, r := range []r2.Rect{
		Rect(0, top, size.Width, p.Rect.Y.Lo-top), Rect(0, p.Rect.Y.Hi, size.Width, size.Height-p.Rect.Y.Hi),
		Rect(0, p.Rect.Y.Lo, p.Rect.X.Lo, p.Rect.Size().Y), Rect(p.Rect.X.Hi, p.Rect.Y.Lo, size.Width-p.Rect.X.Hi, p.Rect.Size().Y),
	} {
		p.sheet.rings([][]r2.Point{Corners(r)}, painted(NoPen, Paper), false)
	}
}

// appendCorners writes a ring as appendPath does, but with every corner, so that each key has as many.
func appendCorners(data []byte, ring []r2.Point) []byte {
	x, y := 0, 0
	for i, q := range ring {
		toX, toY := hundredths(q.X), hundredths(q.Y)
		switch i {
		case 0:
			data = append(data, 'M')
		case 1:
			data = append(data, 'l')
		default:
			data = append(data, ' ')
		}
		data = appendPair(data, toX-x, toY-y)
		x, y = toX, toY
	}
	return data
}

// swing keeps a shape's motion and returns its class. A shape that moves just as the one before shares that one's.
func (s *Sheet) swing(m moving) string {
	last := len(s.moves) - 1
	if last < 0 || strings.Join(s.moves[last].paths, "") != strings.Join(m.paths, "") {
		s.moves = append(s.moves, m)
		last++
	}
	return fmt.Sprintf("m%d", last)
}

// motions is the style that moves the shapes.
func (s *Sheet) motions(within string) string {
	if len(s.moves) == 0 {
		return ""
	}
	var b strings.Builder
	id := s.id()
	b.WriteString("\n@media screen and (prefers-reduced-motion:no-preference){")
	for i, m := range s.moves {
		fmt.Fprintf(&b, "\n%s.m%d{animation:%s-%d %ss linear -%ss infinite alternate}", within, i, id, i,
			number(m.motion.Seconds), number(m.motion.Seconds*m.motion.Shares[m.motion.Still]))
	}
	b.WriteString("\n}")
	for i, m := range s.moves {
		fmt.Fprintf(&b, "\n@keyframes %s-%d{", id, i)
		for k, d := range m.paths {
			fmt.Fprintf(&b, `%s%%{d:path("%s")}`, number(100*m.motion.Shares[k]), d)
		}
		b.WriteString("}")
	}
	return b.String()
}
