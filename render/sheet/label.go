package sheet

import (
	"cmp"
	"iter"
	"math"
	"slices"

	"github.com/golang/geo/r2"
)

// Label is a text that finds its own place near a point: on one of the preferred sides if that is
// free, else further off with a leader. No text ever overlaps another, a reserved rectangle or
// another's leader; among free places the one that covers the fewest lines is taken. Labels are
// placed when the drawing ends or is settled, in the order in which they were given.
type Label struct {
	At       r2.Point   // model point
	Or       []r2.Point // other model points that would do as well
	Clear    float64    // paper mm round the point that stay free: the radius of what is there
	Prefer   []Dir      // sides, best first
	End      End        // what the leader ends in; other than NoEnd, there always is a leader
	Ring     bool       // a number in a ring (balloon)
	Optional bool       // rather left out than with a long leader, or one across many lines
	Within   r2.Rect    // paper rectangle to stay in; the zero rectangle is the sheet's Area
	Style    Style
	Lines    []string
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
	at   r2.Point   // of the points in any, the one that is tried or taken
	any  []r2.Point // on paper, that would do as well
	size r2.Point   // of the block of lines, mm
}

// Label registers a label. One without words, or none of whose points is a number, is left out.
func (p *Panel) Label(l Label) {
	w := placing{Label: l}
	for _, q := range append([]r2.Point{l.At}, l.Or...) {
		if at := p.At(q); finite(at) {
			w.any = append(w.any, at)
		}
	}
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
	if len(w.any) == 0 || len(w.Lines) == 0 {
		return
	}
	w.at = w.any[0]
	if w.Within == (r2.Rect{}) {
		w.Within = p.sheet.area.ExpandedByMargin(-1)
	}
	w.measure()
	if w.Ring {
		p.sheet.marked = append(p.sheet.marked, disc{w.at, w.Clear})
	}
	p.sheet.waiting = append(p.sheet.waiting, w)
}

// Balloon registers a number in a ring, its leader ending in a dot at the point.
func (p *Panel) Balloon(at r2.Point, number string, prefer ...Dir) {
	p.Label(Label{At: at, End: DotEnd, Ring: true, Prefer: prefer, Style: Style{Max: 12}, Lines: []string{number}})
}

const lineSpacing = 1.65 // of lines of a block, in letter heights

// measure settles the size of a label's block.
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

// distances from the clear circle about the point to the label, mm. Up to adjacent a label needs no leader.
var distances = []float64{1.2, 2.2, 4, 6, 8, 11, 14, 18, 23, 29, 36, 45, 56}

const adjacent = 2.2

// Settle places the labels given so far and returns the lines of the optional ones for which there was no
// good place, so that they can be told in another way.
func (s *Sheet) Settle() (leftOut []string) {
	for _, w := range s.waiting {
		switch {
		case s.place(w):
		case w.Optional:
			leftOut = append(leftOut, w.Lines...)
		default:
			s.unplaced = append(s.unplaced, w.Lines...)
		}
	}
	s.waiting = nil
	return leftOut
}

// place writes a label where it costs least, and reports whether there was room for it.
func (s *Sheet) place(w placing) bool {
	most := math.Inf(1)
	if w.Optional {
		most = mostCost
	}
	best, found := s.cheapest(&w, w.beside, most)
	if !found && !w.Optional {
		best, found = s.cheapest(&w, w.anywhere, most)
	}
	if found {
		w.at = best.at
		s.writeLabel(w, best.centre)
	}
	return found
}

// place is where a label may stand.
type place struct {
	at, centre r2.Point // on paper, of what it names and of its lines
	base       float64  // what it costs by the way from one to the other alone
	order      int      // of two that cost the same the lower is taken
}

// alike is the difference up to which two places cost the same: rounding does not choose between them.
const alike = 1e-6

// cheapest returns the place that costs least, if that is less than most. places yields them in the order of their base: where
// that alone is too much, the rest is not looked at.
func (s *Sheet) cheapest(w *placing, places iter.Seq[place], most float64) (best place, found bool) {
	for p := range places {
		if p.base > most {
			break
		}
		w.at = p.at
		cost := s.cost(w, p.centre, p.base, most+alike)
		if cost < most-alike || found && cost < most+alike && p.order < best.order {
			best, most, found = p, cost, true
		}
	}
	return best, found
}

// beside yields the places round the label's points, in the order of their base.
func (w *placing) beside(look func(place) bool) {
	type side struct {
		distance, base float64
		way, order     int
	}
	var sides []side
	for way := range 16 {
		rank := w.rank(way)
		for i, d := range distances {
			if (w.End == NoEnd && !w.Ring || d >= 4) && (!w.Optional || d <= longLeader) {
				sides = append(sides, side{d, leaderCost*d + rank, way, 16*i + way})
			}
		}
	}
	slices.SortFunc(sides, func(a, b side) int { return cmp.Compare(a.base, b.base) })
	for _, s := range sides {
		for i, at := range w.any {
			w.at = at
			if !look(place{at, w.centre(s.way, s.distance), s.base, i*16*len(distances) + s.order}) {
				return
			}
		}
	}
}

// anywhere yields, as the last resort, places all over the label's rectangle.
func (w *placing) anywhere(look func(place) bool) {
	var places []place
	for y := w.Within.Y.Lo; y < w.Within.Y.Hi; y += 3 {
		for x := w.Within.X.Lo; x < w.Within.X.Hi; x += 3 {
			for _, at := range w.any {
				c := r2.Point{X: x, Y: y}
				places = append(places, place{at, c, leaderCost * c.Sub(at).Norm(), len(places)})
			}
		}
	}
	slices.SortFunc(places, func(a, b place) int { return cmp.Compare(a.base, b.base) })
	for _, p := range places {
		if !look(p) {
			return
		}
	}
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

// rank is what direction i of 16 costs: the more the further down the list of preferred sides it stands.
func (w *placing) rank(i int) float64 {
	order := []Dir{E, NE, SE, W, NW, SW, N, S}
	side := func(i int) float64 {
		d := E + Dir(i%8)
		if k := slices.Index(w.Prefer, d); k >= 0 {
			return 0.8 * float64(k)
		}
		return 0.8*float64(len(w.Prefer)) + 0.3*float64(slices.Index(order, d)) + costs(len(w.Prefer) > 0, 2)
	}
	if i%2 == 0 {
		return side(i / 2)
	}
	return max(side(i/2), side(i/2+1)) + 0.4
}

// costs returns the cost when it arises, else 0.
func costs(when bool, cost float64) float64 {
	if when {
		return cost
	}
	return 0
}

// leader returns the line, on paper, from the clear circle to the block: to the middle of its left or right side, to its upper or
// lower edge, or towards the middle of a ring, never across the block itself. drawn is false for a label that
// stands beside its point and needs none.
func (w *placing) leader(block r2.Rect) (from, to r2.Point, drawn bool) {
	c := block.Center()
	gap := block.ClampPoint(w.at).Sub(w.at).Norm()
	if w.End == NoEnd && !w.Ring && gap <= w.Clear+adjacent {
		return from, to, false
	}
	if w.Ring {
		to = c.Add(w.at.Sub(c).Normalize().Mul(w.size.X / 2))
	} else {
		to = w.onBlock(block)
	}
	from = w.at.Add(to.Sub(w.at).Normalize().Mul(w.Clear))
	return from, to, true
}

// onBlock is where a leader meets the block, on a side that faces the point: the nearest such place.
func (w *placing) onBlock(block r2.Rect) (to r2.Point) {
	const off, inset = 0.6, 2.0
	c := block.Center()
	x := min(max(w.at.X, min(c.X, block.X.Lo+inset)), max(c.X, block.X.Hi-inset))
	least := math.Inf(1)
	for _, side := range [4]struct {
		at    r2.Point
		faces bool
	}{
		{r2.Point{X: block.X.Lo - off, Y: c.Y}, w.at.X < block.X.Lo},
		{r2.Point{X: block.X.Hi + off, Y: c.Y}, w.at.X > block.X.Hi},
		{r2.Point{X: x, Y: block.Y.Lo - off}, w.at.Y < block.Y.Lo},
		{r2.Point{X: x, Y: block.Y.Hi + off}, w.at.Y > block.Y.Hi},
	} {
		if d := side.at.Sub(w.at).Norm(); side.faces && d < least {
			to, least = side.at, d
		}
	}
	if math.IsInf(least, 1) {
		return block.ClampPoint(w.at)
	}
	return to
}

// writeLabel writes a label about a place on paper, with its leader.
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
	h, y := w.Style.height(), centre.Y
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
