package sheet

import (
	"fmt"
	"strings"

	svg "github.com/ajstarks/svgo/float"
	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"
)

// Dir is the side of a point on which a text stands.
type Dir int

const (
	Over Dir = iota // centred on the point
	E
	NE
	N
	NW
	W
	SW
	S
	SE
)

// unit returns the horizontal and the vertical side: -1 left or above, 0 centred, 1 right or below.
func (d Dir) unit() (x, y float64) {
	side := [9][2]float64{{0, 0}, {1, 0}, {1, -1}, {0, -1}, {-1, -1}, {-1, 0}, {-1, 1}, {0, 1}, {1, 1}}
	if d < 0 || int(d) >= len(side) {
		d = Over
	}
	return side[d][0], side[d][1]
}

// Style is how a text is written. The zero Style is black, 2.5 mm high, upright on clear paper.
type Style struct {
	Height float64  // of a capital, mm; 0 is Small
	Colour Colour   // darkened until it reads 4.5:1 on white
	Turn   s1.Angle // anticlockwise on paper
	Halo   bool     // lines below the text are covered in white, where there are any
	Max    float64  // longest line, mm; more is cut with …; 0: the width of the frame
}

func (st Style) height() float64 {
	if st.Height > 0 {
		return min(st.Height, 20)
	}
	return Small
}

// Text writes one line on the given side of a point: with N its letters stand on the point, with E
// it begins there, centred in height. The place is final; use Label where it may move.
func (p *Panel) Text(at r2.Point, side Dir, style Style, text string) {
	p.sheet.write(p.At(at), side, style, text)
}

// text is a line whose place is settled.
type text struct {
	at    r2.Point
	side  Dir
	style Style
	line  string
}

// write settles a line of text at a paper point.
func (s *Sheet) write(at r2.Point, side Dir, style Style, line string) {
	if !finite(at, r2.Point{X: float64(style.Turn)}) {
		return
	}
	if line = s.fitted(style, line); line != "" {
		s.texts = append(s.texts, text{at, side, style, line})
		box := textBox(at, side, style, line)
		s.boxes = append(s.boxes, box)
		s.taken = append(s.taken, keep(box))
		s.lettered = append(s.lettered, keep(box.grown(0.3)))
	}
}

// writeTexts writes all lines, each on a white ground if it covers lines of the drawing and asks
// for it.
func (s *Sheet) writeTexts(canvas *svg.SVG) {
	for _, t := range s.texts {
		cover := lineBox(t.at, t.side, t.style, t.line, 0, 0).grown(0.35)
		if t.style.Halo && s.covers(cover) {
			canvas.Path(pathData(cover.Corners[:], true), s.class(painted(NoPen, Paper)))
		}
		h := t.style.height()
		dx, dy := t.side.unit()
		base := t.at.Add(rotated(r2.Point{Y: h/2 + dy*h/2}, t.style.Turn))
		anchor := [3]string{"end", "middle", "start"}[int(dx)+1]
		look := fmt.Sprintf("font-size:%spx;text-anchor:%s", number(h/capital), anchor)
		if c := t.style.Colour.forText(); c != Black {
			look += fmt.Sprintf(";fill:%s", c)
		}
		attributes := []string{s.class(paint(look))}
		if t.style.Turn != 0 {
			attributes = append(attributes, fmt.Sprintf(`transform="rotate(%s %s %s)"`,
				number(-t.style.Turn.Degrees()), number(base.X), number(base.Y)))
		}
		canvas.Text(written(base.X), written(base.Y), t.line, attributes...)
	}
}

// covers reports whether a line of the drawing runs through the box.
func (s *Sheet) covers(b Box) bool {
	found := false
	s.ink.near(b.Bounds(), func(l segment) bool {
		found = b.crosses(l.a, l.b)
		return !found
	})
	return found
}

// fitted is the text as it can be written: clean, on one line, no longer than the style or the
// sheet allows.
func (s *Sheet) fitted(style Style, text string) string {
	limit := style.Max
	if !(limit > 0) {
		limit = s.frame.Size().X - 2*textGap
	}
	return strings.TrimSpace(Shorten(text, style.height(), limit))
}

// textBox is the box of a line from ascent to descent.
func textBox(at r2.Point, side Dir, style Style, line string) Box {
	return lineBox(at, side, style, line, ascent*style.height(), descent*style.height())
}

// lineBox is the box from so much above the height of a capital to so much below the base line, mm.
func lineBox(at r2.Point, side Dir, style Style, line string, above, below float64) Box {
	h, w := style.height(), TextWidth(line, style.height())
	dx, dy := side.unit()
	left, top := (dx-1)*w/2, (dy-1)*h/2
	box := Box{Text: line}
	for i, c := range [4]r2.Point{{X: left, Y: top - above}, {X: left + w, Y: top - above}, {X: left + w, Y: top + h + below}, {X: left, Y: top + h + below}} {
		box.Corners[i] = at.Add(rotated(c, style.Turn))
	}
	return box
}

// rotated turns a paper vector anticlockwise as seen on paper.
func rotated(v r2.Point, turn s1.Angle) r2.Point {
	if turn == 0 {
		return v
	}
	c, s := cosSin(turn)
	return r2.Point{X: v.X*c + v.Y*s, Y: -v.X*s + v.Y*c}
}

// Paragraph writes text broken between words into lines of the given width, mm, the first one's top at
// a paper point, and returns the paper rectangle that it takes, which is kept free of labels.
func (s *Sheet) Paragraph(at r2.Point, width float64, style Style, words string) r2.Rect {
	h := style.height()
	lines := Wrap(words, h, width)
	for i, line := range lines {
		s.write(r2.Point{X: at.X, Y: at.Y + h*lineSpacing*float64(i)}, SE, style, line)
	}
	taken := Rect(at.X, at.Y, width, h*lineSpacing*float64(len(lines)))
	s.Reserve(taken)
	return taken
}

// Say writes a paragraph at the head of a room, as wide as that, and takes its paper and a gap below it, mm, from the room.
func (s *Sheet) Say(room *r2.Rect, style Style, gap float64, words string) {
	room.Y.Lo = s.Paragraph(room.Lo(), room.Size().X, style, words).Y.Hi + gap
}

// ParagraphHeight is the height that a paragraph takes on paper, mm.
func ParagraphHeight(words string, height, width float64) float64 {
	return float64(len(Wrap(words, height, width))) * height * lineSpacing
}

// Box is a text as it stands on paper: what it says and the four corners of its letters, from
// ascent to descent, in order round the box. A turned text has a turned box.
type Box struct {
	Text    string
	Corners [4]r2.Point
}

// Bounds is the upright rectangle round the box.
func (b Box) Bounds() r2.Rect { return r2.RectFromPoints(b.Corners[:]...) }

// kept is a box with the upright rectangle round it, so that what is far off is passed over cheaply.
type kept struct {
	Box
	bounds r2.Rect
}

func keep(b Box) kept { return kept{b, b.Bounds()} }

// overlaps reports whether two boxes share more than an edge.
func (b Box) overlaps(o Box) bool { return convexOverlap(b.Corners[:], o.Corners[:]) }

// crosses reports whether the box shares a point with the segment a–b.
func (b Box) crosses(a, c r2.Point) bool { return convexOverlap(b.Corners[:], []r2.Point{a, c}) }

// grown is the box with m millimetres more on each side.
func (b Box) grown(m float64) Box {
	u := b.Corners[1].Sub(b.Corners[0]).Normalize().Mul(m)
	v := b.Corners[3].Sub(b.Corners[0]).Normalize().Mul(m)
	c := b.Corners
	b.Corners = [4]r2.Point{c[0].Sub(u).Sub(v), c[1].Add(u).Sub(v), c[2].Add(u).Add(v), c[3].Sub(u).Add(v)}
	return b
}

// hit reports whether the box shares more than an edge with another.
func (k *kept) hit(o *kept) bool { return k.bounds.Intersects(o.bounds) && k.overlaps(o.Box) }

// moved is the box elsewhere.
func (b Box) moved(by r2.Point) Box {
	for i, c := range b.Corners {
		b.Corners[i] = by.Add(c)
	}
	return b
}

func rectBox(r r2.Rect) Box { return Box{Corners: r.Vertices()} }

// convexOverlap reports whether two rectangles or segments overlap by more than a thousandth of a millimetre: they do not if the normal of
// an edge of either separates them. Of sides that face one another, and of both ways along a segment, one will do.
func convexOverlap(a, b []r2.Point) bool {
	const touch = 1e-3
	for _, poly := range [2][]r2.Point{a, b} {
		for i := range len(poly) / 2 {
			n := poly[i+1].Sub(poly[i]).Ortho()
			if n == (r2.Point{}) {
				continue
			}
			loA, hiA := spread(a, n)
			loB, hiB := spread(b, n)
			if over := min(hiA-loB, hiB-loA); over <= 0 || over*over < touch*touch*n.Dot(n) {
				return false
			}
		}
	}
	return true
}

func spread(poly []r2.Point, n r2.Point) (lo, hi float64) {
	lo = poly[0].Dot(n)
	hi = lo
	for _, p := range poly[1:] {
		if d := p.Dot(n); d < lo {
			lo = d
		} else if d > hi {
			hi = d
		}
	}
	return lo, hi
}
