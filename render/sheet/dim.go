package sheet

import (
	"math"
	"strings"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"
)

// Measure is the way in which a length is dimensioned.
type Measure int

const (
	Aligned    Measure = iota // along the line between the points
	Horizontal                // across the sheet
	Vertical                  // up the sheet
)

// Dim draws a dimension between two model points, its line off paper millimetres away from them:
// for Horizontal above the higher point, or below the lower one if off is negative; for Vertical to
// the right of both, or to the left; for Aligned to the left as seen from a to b, or to the right.
// The text stands above the line and reads from the bottom or the right of the sheet. Where it
// finds no room it moves along the line or to a leader.
func (p *Panel) Dim(m Measure, a, b r2.Point, off float64, text string) {
	pa, pb := p.At(a), p.At(b)
	if !finite(pa, pb, r2.Point{X: off}) {
		return
	}
	qa, qb := m.line(pa, pb, off)
	if qb.Sub(qa).Norm() < 0.05 {
		p.Label(Label{At: a, End: ArrowEnd, Lines: []string{text}})
		return
	}
	s := p.sheet
	for _, e := range [2][2]r2.Point{{pa, qa}, {pb, qb}} {
		if d := e[1].Sub(e[0]); d.Norm() > extGap {
			u := d.Normalize()
			line := segment{e[0].Add(u.Mul(extGap)), e[1].Add(u.Mul(extension))}
			s.strokePaper(Thin, []r2.Point{line.a, line.b})
			s.extensions = append(s.extensions, line)
		}
	}
	s.dimLine(qa, qb, text)
}

// line returns the ends, on paper, of the dimension line between two points.
func (m Measure) line(pa, pb r2.Point, off float64) (qa, qb r2.Point) {
	switch m {
	case Horizontal:
		y := min(pa.Y, pb.Y) - off
		if off < 0 {
			y = max(pa.Y, pb.Y) - off
		}
		return r2.Point{X: pa.X, Y: y}, r2.Point{X: pb.X, Y: y}
	case Vertical:
		x := max(pa.X, pb.X) + off
		if off < 0 {
			x = min(pa.X, pb.X) + off
		}
		return r2.Point{X: x, Y: pa.Y}, r2.Point{X: x, Y: pb.Y}
	}
	n := pb.Sub(pa).Normalize().Ortho().Mul(-off) // Ortho turns right on paper
	return pa.Add(n), pb.Add(n)
}

// dimLine draws the dimension line with its arrowheads and text. In a short one the arrows come
// from outside.
func (s *Sheet) dimLine(qa, qb r2.Point, text string) {
	span := qb.Sub(qa).Norm()
	u := qb.Sub(qa).Mul(1 / span)
	place, ok := s.dimText(qa, qb, text)
	from, to := qa, qb
	short := span < 3*arrowLength
	if short {
		from, to = qa.Sub(u.Mul(2.2*arrowLength)), qb.Add(u.Mul(2.2*arrowLength))
		s.head(Black, qa, u)
		s.head(Black, qb, u.Mul(-1))
	} else {
		s.head(Black, qa, u.Mul(-1))
		s.head(Black, qb, u)
	}
	if ok {
		if t := place.t * span; t > span {
			to = qa.Add(u.Mul(t + place.half))
		} else if t < 0 {
			from = qa.Add(u.Mul(t - place.half))
		}
		s.write(place.at, Over, place.style, text)
	} else {
		s.Label(Label{At: qa.Add(qb).Mul(0.5), End: ArrowEnd, Lines: []string{text}})
	}
	s.strokePaper(Thin, []r2.Point{from, to})
	s.leaders = append(s.leaders, segment{from, to})
}

// dimPlace is a place for the text of a dimension: its centre, and where along the line it stands,
// as a share of the span.
type dimPlace struct {
	at      r2.Point
	t, half float64
	style   Style
}

// dimText finds the free place along the dimension line that covers the fewest lines, the middle
// first.
func (s *Sheet) dimText(qa, qb r2.Point, text string) (best dimPlace, ok bool) {
	span := qb.Sub(qa).Norm()
	u := qb.Sub(qa).Mul(1 / span)
	style := Style{Halo: true, Turn: reading(u)}
	c, sin := cosSin(style.Turn)
	u = r2.Point{X: c, Y: -sin}
	line := s.fitted(style, text)
	half := TextWidth(line, style.height())/2 + 0.6
	out := (half + arrowLength*1.4) / span
	ts := []float64{0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8}
	if 2*half > span-1 {
		ts = nil
	}
	if span < 3*arrowLength {
		out += 1.2 * arrowLength / span
	}
	ts = append(ts, 1+out, -out)
	lift := u.Ortho().Mul(-(textGap + style.height()/2))
	if strings.Contains(line, "_") { // which stands below its line, and would run into the dimension's
		lift = lift.Add(u.Ortho().Mul(-underscore * style.height()))
	}
	bestCost := math.Inf(1)
	for i, t := range ts {
		at := qa.Add(qb.Sub(qa).Mul(t)).Add(lift)
		box := textBox(at, Over, style, line)
		bounds := box.Bounds()
		if !s.free(box.grown(0.4)) || !s.area.ExpandedByMargin(-0.5).Contains(bounds) || s.Strict && s.covers(box.grown(0.2)) {
			continue
		}
		if cost := 0.7*float64(i) + min(6, s.ink.within(bounds, math.Inf(1))); cost < bestCost {
			best, bestCost, ok = dimPlace{at: at, t: t, half: half, style: style}, cost, true
		}
	}
	return best, ok
}

// reading is the direction of a line on paper, so that letters along it read from the bottom or the right.
func reading(u r2.Point) s1.Angle {
	if u.X < -1e-9 || math.Abs(u.X) <= 1e-9 && u.Y > 0 {
		u = u.Mul(-1)
	}
	return s1.Angle(math.Atan2(-u.Y, u.X))
}

// DimAngle draws the angle at a model vertex between two directions (from model x towards model y),
// as an arc of a paper radius with arrowheads, the text beside it.
func (p *Panel) DimAngle(vertex r2.Point, radius float64, from, to s1.Angle, text string) {
	c := p.At(vertex)
	if !finite(c, r2.Point{X: float64(from), Y: float64(to)}) || !(radius > 0) {
		return
	}
	s := p.sheet
	pts := arcPoints(c, radius, from, to, p.View.Axes)
	s.strokePaper(Thin, pts)
	n := len(pts)
	// The heads follow the chord of their own length, so that their backs lie on the arc.
	if length := radius * math.Abs(float64(to-from)); length > 2.5*arrowLength {
		step := s1.Angle(math.Copysign(arrowLength/radius, float64(to-from)))
		s.head(Black, pts[0], pts[0].Sub(c.Add(p.View.Axes.at(radius, from+step))).Normalize())
		s.head(Black, pts[n-1], pts[n-1].Sub(c.Add(p.View.Axes.at(radius, to-step))).Normalize())
	}
	mid := c.Add(p.View.Axes.at(radius, (from+to)/2))
	s.Label(Label{At: mid, Clear: 0.3, Prefer: Towards(mid.Sub(c), 1), Lines: []string{text}})
}

// Towards returns the sides on which a label stands in a paper direction: the nearest first, then so many more on either hand.
func Towards(v r2.Point, more int) (sides []Dir) {
	eighth := int(math.Round(math.Atan2(-v.Y, v.X) / (math.Pi / 4)))
	side := func(i int) Dir { return E + Dir((eighth+i+8)%8) } // eighth is -4 to 4
	sides = []Dir{side(0)}
	for i := 1; i <= more; i++ {
		sides = append(sides, side(i), side(-i))
	}
	return sides
}
