package sheet

import (
	"math"
	"slices"

	"github.com/golang/geo/r2"
)

// Label is a text that finds its own place near a point: on one of the preferred sides if that is
// free, else further off with a leader. No text ever overlaps another, a reserved rectangle or
// another's leader; among free places the one that covers the fewest lines is taken. Labels are
// placed when the drawing ends, in the order in which they were given.
type Label struct {
	At     r2.Point // model point
	Clear  float64  // paper mm round the point that stay free: the radius of what is there
	Prefer []Dir    // sides, best first
	End    End      // what the leader ends in; other than NoEnd, there always is a leader
	Ring   bool     // a number in a ring (balloon)
	Within r2.Rect  // paper rectangle to stay in; the zero rectangle is the sheet's Area
	Style  Style
	Lines  []string
}

// End is the end of a leader at what it names: an arrowhead on an outline, a dot inside one (ISO 128-22).
type End int

const (
	NoEnd End = iota
	DotEnd
	ArrowEnd
)

// placing is a label with its paper point.
type placing struct {
	Label
	at   r2.Point
	size r2.Point // of the block of lines
}

// Label registers a label.
func (p *Panel) Label(l Label) {
	at := p.At(l.At)
	if !finite(at) {
		return
	}
	w := placing{Label: l, at: at}
	w.Lines = nil
	if !(w.Style.Max > 0) {
		w.Style.Max = 70
	}
	w.Style.Halo, w.Style.Turn = true, 0
	for _, line := range l.Lines {
		if fit := p.sheet.fitted(w.Style, line); fit != "" {
			w.Lines = append(w.Lines, fit)
		}
	}
	if len(w.Lines) == 0 {
		return
	}
	if w.Within == (r2.Rect{}) {
		w.Within = p.sheet.area.ExpandedByMargin(-1)
	}
	w.measure()
	p.sheet.waiting = append(p.sheet.waiting, w)
}

// Balloon registers a number in a ring, its leader ending in a dot at the point.
func (p *Panel) Balloon(at r2.Point, number string, prefer ...Dir) {
	p.Label(Label{At: at, End: DotEnd, Ring: true, Prefer: prefer, Style: Style{Max: 12}, Lines: []string{number}})
}

const lineSpacing = 1.65 // of lines of a block, in letter heights

func (w *placing) measure() {
	h := w.Style.height()
	for _, line := range w.Lines {
		w.size.X = max(w.size.X, TextWidth(line, h))
	}
	if w.Ring {
		d := max(2.2*h, w.size.X+1.1*h)
		w.size = r2.Point{X: d, Y: d}
		return
	}
	w.size.Y = h * (1 + lineSpacing*float64(len(w.Lines)-1))
}

// block is the rectangle of the label's letters about a centre, with room for descenders.
func (w *placing) block(centre r2.Point) r2.Rect {
	r := r2.RectFromCenterSize(centre, w.size)
	if !w.Ring {
		h := w.Style.height()
		r.Y.Lo -= ascent * h
		r.Y.Hi += descent * h
	}
	return r
}

// distances from the point's clear circle to the label, mm. Up to beside a label needs no leader.
var distances = []float64{1.2, 2.2, 4, 6, 8, 11, 14, 18, 23, 29, 36, 45, 56}

const beside = 2.2

func (s *Sheet) placeWaiting() {
	for _, w := range s.waiting {
		s.place(w)
	}
	s.waiting = nil
}

func (s *Sheet) place(w placing) {
	best, bestCost := r2.Point{}, math.Inf(1)
	consider := func(centre r2.Point, base float64) {
		if base < bestCost {
			if cost := base + s.cost(&w, centre); cost < bestCost {
				best, bestCost = centre, cost
			}
		}
	}
	for _, d := range distances {
		if (w.End != NoEnd || w.Ring) && d < 4 {
			continue
		}
		for i := range 16 {
			consider(w.centre(i, d), 0.35*d+w.rank(i))
		}
	}
	if math.IsInf(bestCost, 1) {
		for y := w.Within.Y.Lo; y < w.Within.Y.Hi; y += 3 {
			for x := w.Within.X.Lo; x < w.Within.X.Hi; x += 3 {
				c := r2.Point{X: x, Y: y}
				consider(c, 0.35*c.Sub(w.at).Norm())
			}
		}
	}
	if math.IsInf(bestCost, 1) {
		s.unplaced = append(s.unplaced, w.Lines...)
		return
	}
	s.writeLabel(w, best)
}

// centre is the middle of the block when it stands d millimetres off in direction i of 16,
// anticlockwise from the right.
func (w *placing) centre(i int, d float64) r2.Point {
	a := float64(i) * math.Pi / 8
	u := r2.Point{X: math.Cos(a), Y: -math.Sin(a)}
	half := func(x float64) float64 { return min(1, max(-1, 1.5*x)) }
	return r2.Point{
		X: w.at.X + u.X*(w.Clear+d) + half(u.X)*w.size.X/2,
		Y: w.at.Y + u.Y*(w.Clear+d) + half(u.Y)*w.size.Y/2,
	}
}

// rank is the cost of direction i of 16: how far down the list of preferred sides it stands.
func (w *placing) rank(i int) float64 {
	order := []Dir{E, NE, SE, W, NW, SW, N, S}
	side := func(i int) float64 {
		d := E + Dir(i%8)
		if k := slices.Index(w.Prefer, d); k >= 0 {
			return 0.8 * float64(k)
		}
		return 0.8*float64(len(w.Prefer)) + 0.3*float64(slices.Index(order, d)) + bonus(len(w.Prefer) > 0, 2)
	}
	if i%2 == 0 {
		return side(i / 2)
	}
	return max(side(i/2), side(i/2+1)) + 0.4
}

func bonus(when bool, cost float64) float64 {
	if when {
		return cost
	}
	return 0
}

// cost is infinite where the label must not stand, else it grows with the lines it covers.
func (s *Sheet) cost(w *placing, centre r2.Point) float64 {
	block := w.block(centre)
	if !w.Within.Contains(block) || !s.free(rectBox(block.ExpandedByMargin(0.6))) {
		return math.Inf(1)
	}
	// What lies within the clear circle is named by the label and no obstacle to it.
	if near := block.ClampPoint(w.at).Sub(w.at).Norm(); near < w.Clear {
		return math.Inf(1)
	}
	cost := 0.0
	covered := s.inkIn(block.ExpandedByMargin(0.4))
	if covered > 0 {
		cost += 4 + 0.8*covered
	}
	from, to, drawn := w.leader(block)
	if !drawn {
		return cost
	}
	for _, b := range s.boxes {
		if b.grown(0.3).crosses(from, to) {
			return math.Inf(1)
		}
	}
	for _, l := range s.leaders {
		cost += bonus(convexOverlap([]r2.Point{from, to}, []r2.Point{l.a, l.b}), 6)
	}
	return cost + s.crossed(from, to)
}

// crossed is the cost of the lines that a leader crosses.
func (s *Sheet) crossed(from, to r2.Point) float64 {
	bounds := r2.RectFromPoints(from, to)
	n := 0
	for _, l := range s.ink {
		if l.near(bounds) && convexOverlap([]r2.Point{from, to}, []r2.Point{l.a, l.b}) {
			n++
		}
	}
	return 0.4 * float64(min(n, 12))
}

// free tells whether a text may stand in the box.
func (s *Sheet) free(b Box) bool {
	for _, o := range s.boxes {
		if b.overlaps(o) {
			return false
		}
	}
	for _, r := range s.reserved {
		if b.overlaps(rectBox(r)) {
			return false
		}
	}
	for _, l := range s.leaders {
		if b.crosses(l.a, l.b) {
			return false
		}
	}
	return true
}

// inkIn is the length of lines inside a rectangle, mm.
func (s *Sheet) inkIn(r r2.Rect) float64 {
	sum := 0.0
	for _, l := range s.ink {
		if l.near(r) {
			if a, b, ok := clipSegment(l.a, l.b, r); ok {
				sum += b.Sub(a).Norm()
			}
		}
	}
	return sum
}

// near tells whether the segment's bounds touch the rectangle.
func (l segment) near(r r2.Rect) bool {
	return min(l.a.X, l.b.X) <= r.X.Hi && max(l.a.X, l.b.X) >= r.X.Lo &&
		min(l.a.Y, l.b.Y) <= r.Y.Hi && max(l.a.Y, l.b.Y) >= r.Y.Lo
}

// leader gives the line from the clear circle to the block: to the nearest middle of a side, or
// towards the middle of a ring. drawn is false for a label that stands beside its point.
func (w *placing) leader(block r2.Rect) (from, to r2.Point, drawn bool) {
	c := block.Center()
	gap := block.ClampPoint(w.at).Sub(w.at).Norm()
	if w.End == NoEnd && !w.Ring && gap <= w.Clear+beside {
		return from, to, false
	}
	if w.Ring {
		to = c.Add(w.at.Sub(c).Normalize().Mul(w.size.X / 2))
	} else {
		m := 0.6
		to = r2.Point{X: block.X.Lo - m, Y: c.Y}
		for _, side := range []r2.Point{{X: block.X.Hi + m, Y: c.Y}, {X: c.X, Y: block.Y.Lo - m}, {X: c.X, Y: block.Y.Hi + m}} {
			if side.Sub(w.at).Norm() < to.Sub(w.at).Norm() {
				to = side
			}
		}
	}
	from = w.at.Add(to.Sub(w.at).Normalize().Mul(w.Clear))
	return from, to, true
}

func (s *Sheet) writeLabel(w placing, centre r2.Point) {
	block := w.block(centre)
	if from, to, drawn := w.leader(block); drawn {
		pen := Thin.In(w.Style.Colour)
		s.strokePaper(pen, []r2.Point{from, to})
		s.leaders = append(s.leaders, segment{from, to})
		switch w.End {
		case DotEnd:
			s.Dot(w.Style.Colour, from, 0.55)
		case ArrowEnd:
			s.head(w.Style.Colour, from, from.Sub(to).Normalize())
		}
	}
	side, x := Over, centre.X
	if dx := centre.X - w.at.X; !w.Ring && dx > w.size.X/4 {
		side, x = E, centre.X-w.size.X/2
	} else if !w.Ring && dx < -w.size.X/4 {
		side, x = W, centre.X+w.size.X/2
	}
	h := w.Style.height()
	y := centre.Y
	if w.Ring {
		s.Circle(Thin.In(w.Style.Colour), Paper, centre, w.size.X/2)
	} else {
		y -= w.size.Y/2 - h/2
	}
	style := w.Style
	style.Halo = !w.Ring
	for i, line := range w.Lines {
		s.write(r2.Point{X: x, Y: y + float64(i)*lineSpacing*h}, side, style, line)
	}
}
