package sheet

import (
	"fmt"
	"strings"

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

// unit gives the horizontal and vertical side: -1 left or above, 0 centred, 1 right or below.
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
	Halo   bool     // lines below the text are covered in white
	Max    float64  // longest line, mm; more is cut with …; 0: the width of the frame
}

func (st Style) height() float64 {
	if st.Height > 0 {
		return st.Height
	}
	return Small
}

// Text writes one line on the given side of a point: with N its letters stand on the point, with E
// it begins there, centred in height. The place is final; use Label where it may move.
func (p *Panel) Text(at r2.Point, side Dir, style Style, text string) {
	p.sheet.write(p.At(at), side, style, text)
}

func (s *Sheet) write(at r2.Point, side Dir, style Style, text string) {
	if !finite(at) {
		return
	}
	line := s.fitted(style, text)
	if line == "" {
		return
	}
	box := textBox(at, side, style, line)
	s.boxes = append(s.boxes, box)
	if style.Halo {
		cover := capBox(at, side, style, line)
		cover = cover.grown(0.35)
		s.letters.Path(pathData(cover.Corners[:], true), `fill="#FFFFFF"`)
	}
	h := style.height()
	dx, dy := side.unit()
	base := at.Add(rotated(r2.Point{Y: h/2 + dy*h/2}, style.Turn))
	anchor := [3]string{"end", "middle", "start"}[int(dx)+1]
	attributes := []string{fmt.Sprintf(`font-size="%s" text-anchor="%s" fill="%s"`, number(h/capital), anchor, style.Colour.forText())}
	if style.Turn != 0 {
		attributes = append(attributes, fmt.Sprintf(`transform="rotate(%s %s %s)"`, number(-style.Turn.Degrees()), number(base.X), number(base.Y)))
	}
	s.letters.Text(base.X, base.Y, line, attributes...)
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

// capBox is the box from the base line to the height of a capital; textBox the one from ascent to
// descent.
func capBox(at r2.Point, side Dir, style Style, line string) Box {
	return lineBox(at, side, style, line, 0, 0)
}

func textBox(at r2.Point, side Dir, style Style, line string) Box {
	return lineBox(at, side, style, line, ascent*style.height(), descent*style.height())
}

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
