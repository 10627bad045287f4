package setup

import (
	"fmt"
	"math"
	"slices"

	"github.com/golang/geo/r2"

	"locksweep/geometry/planar"
	"locksweep/geometry/region"
)

// plate returns the outlines that are left of a level plate, counter-clockwise, and what narrowing and shortening did to it.
func (c *FrameCut) plate(outline []r2.Point) (left [][]r2.Point, narrowed, shortened Fate, err error) {
	outlines, narrowed, err := c.Strip.plate(outline)
	if err != nil {
		return nil, narrowed, Stays, err
	}
	shortened = Lost
	for i, o := range outlines {
		pieces, fate, err := c.Length.plate(o)
		if err != nil {
			return nil, narrowed, fate, err
		}
		if i == 0 || shortened == Lost {
			shortened = fate
		} else if fate != shortened && fate != Lost {
			shortened = Cut
		}
		left = append(left, pieces...)
	}
	return left, narrowed, shortened, nil
}

// plate takes the strip out of a plate. Its corners move as any point does; where that would fold the outline, as where it has
// a notch in the strip, the two halves are cut out and put together.
func (t Strip) plate(outline []r2.Point) ([][]r2.Point, Fate, error) {
	if t.Front == 0 && t.Rear == 0 {
		return [][]r2.Point{outline}, Stays, nil
	}
	if !slices.ContainsFunc(outline, func(p r2.Point) bool { return !t.holds(p.X, p.Y) }) {
		return [][]r2.Point{outline}, Remade, nil
	}
	moved := make([]r2.Point, len(outline))
	fate, most, least := Stays, math.Inf(-1), math.Inf(1)
	for i, p := range outline {
		moved[i] = r2.Point{X: p.X, Y: t.narrowed(p.X, p.Y)}
		if by := moved[i].Y - p.Y; math.Abs(by-(moved[0].Y-outline[0].Y)) > 1e-9 {
			fate = Reshaped
		} else if by != 0 && fate == Stays {
			fate = Moves
		}
		most, least = max(most, p.Y), min(least, p.Y)
	}
	if most > 0 && least < 0 {
		fate = Cut
	}
	if whole := distinct(moved); !t.folds(outline) && len(whole) > 2 && !region.Of(whole).Empty() {
		return [][]r2.Point{whole}, fate, nil
	}
	halves, err := t.halves(outline)
	return halves, Cut, err
}

// folds reports whether an outline would be folded by its corners within the strip, which all come to lie on the middle line. It is not
// where they stand at no more than two x, one where the outline crosses the middle in front and one at the rear.
func (t Strip) folds(outline []r2.Point) bool {
	var at []float64
	for i, p := range outline {
		if !t.holds(p.X, p.Y) {
			continue
		}
		before := outline[(i+len(outline)-1)%len(outline)]
		again := slices.ContainsFunc(at, func(x float64) bool { return math.Abs(x-p.X) < samePoint })
		switch {
		case !again && !t.holds(before.X, before.Y):
			at = append(at, p.X)
		case !again || !t.holds(before.X, before.Y):
			return true
		}
	}
	return len(at) > 2
}

// halves cuts the strip out of an outline and puts the two sides together.
func (t Strip) halves(outline []r2.Point) ([][]r2.Point, error) {
	box := r2.RectFromPoints(outline...).ExpandedByMargin(1)
	var sides [2]region.Region
	for _, side := range Sides {
		far := side.Sign() * max(box.Y.Hi, -box.Y.Lo, t.Front, t.Rear)
		edge := func(x float64) r2.Point { return r2.Point{X: x, Y: side.Sign() * max(t.Width(x), 0) / 2} }
		beyond := []r2.Point{{X: box.X.Lo, Y: far}, edge(box.X.Lo)}
		for _, x := range [2]float64{-t.Wheelbase, 0} {
			if x > box.X.Lo && x < box.X.Hi {
				beyond = append(beyond, edge(x))
			}
		}
		beyond = append(beyond, edge(box.X.Hi), r2.Point{X: box.X.Hi, Y: far})
		half, err := region.Of(outline).Common(region.Of(beyond))
		if err != nil {
			return nil, err
		}
		rings := half.Rings()
		for _, ring := range rings {
			for i, p := range ring {
				if ring[i].Y = t.narrowed(p.X, p.Y); math.Abs(ring[i].Y) < 1e-9 {
					ring[i].Y = 0
				}
			}
		}
		if sides[side], err = within(rings); err != nil {
			return nil, err
		}
	}
	return joined(sides[Left], sides[Right])
}

// within returns the area inside rings that have been moved. The error says that a ring of some size now crosses itself.
func within(rings [][]r2.Point) (region.Region, error) {
	var parts []region.Region
	for _, ring := range rings {
		part := region.Of(corners(ring))
		if size := r2.RectFromPoints(ring...).Size(); part.Empty() && min(size.X, size.Y) > 1 {
			return part, fmt.Errorf("its outline crosses itself once it is cut")
		}
		parts = append(parts, part)
	}
	return region.Union(parts...)
}

// joined puts two areas together that share edges, and returns the outlines of what they make. What would get a hole in
// its middle stays in two pieces, since a plate has none.
func joined(a, b region.Region) (outlines [][]r2.Point, err error) {
	whole, err := region.Union(a, b)
	if err != nil {
		return nil, err
	}
	pieces := whole.Pieces()
	if slices.ContainsFunc(pieces, func(rings [][]r2.Point) bool { return len(rings) > 1 }) {
		pieces = append(a.Pieces(), b.Pieces()...)
	}
	for _, rings := range pieces {
		if o := corners(rings[0]); len(o) > 2 {
			outlines = append(outlines, o)
		}
	}
	if len(outlines) == 0 {
		return nil, fmt.Errorf("nothing is left of it")
	}
	return outlines, nil
}

// plate takes the length out of a plate: what lies ahead of the cuts and what lies behind them, put together.
func (l Length) plate(outline []r2.Point) ([][]r2.Point, Fate, error) {
	box := r2.RectFromPoints(outline...)
	switch {
	case l.Out == 0 || box.X.Lo >= l.At:
		return [][]r2.Point{outline}, Stays, nil
	case l.Out > 0 && box.X.Hi <= l.rear() || l.Out < 0 && box.X.Hi <= l.At:
		return [][]r2.Point{l.forward(outline)}, Moves, nil
	case l.Out < 0:
		return [][]r2.Point{l.lengthened(outline)}, Cut, nil
	case box.X.Hi <= l.At && box.X.Lo >= l.rear():
		return nil, Lost, nil
	}
	box = box.ExpandedByMargin(1)
	between := func(lo, hi float64) (region.Region, error) {
		if lo >= hi {
			return region.Region{}, nil
		}
		return region.Of(outline).Common(region.Of([]r2.Point{{X: lo, Y: box.Y.Lo}, {X: hi, Y: box.Y.Lo}, {X: hi, Y: box.Y.Hi}, {X: lo, Y: box.Y.Hi}}))
	}
	front, err := between(l.At, box.X.Hi)
	if err != nil {
		return nil, Cut, err
	}
	rear, err := between(box.X.Lo, l.rear())
	if err != nil {
		return nil, Cut, err
	}
	rings := rear.Rings()
	for i := range rings {
		rings[i] = l.forward(rings[i])
	}
	if rear, err = within(rings); err != nil {
		return nil, Cut, err
	}
	outlines, err := joined(front, rear)
	return outlines, Cut, err
}

// forward brings what lies behind the cuts forward.
func (l Length) forward(outline []r2.Point) []r2.Point {
	moved := make([]r2.Point, len(outline))
	for i, p := range outline {
		moved[i] = r2.Point{X: l.shifted(p.X), Y: p.Y}
	}
	return moved
}

// shifted is where x behind the cuts comes to lie. What lay on the rear cut then lies on the front one to the last digit.
func (l Length) shifted(x float64) float64 {
	if x += l.Out; math.Abs(x-l.At) < 1e-9 {
		return l.At
	}
	return x
}

// lengthened sets a piece in where an outline is cut, as wide as it is there.
func (l Length) lengthened(outline []r2.Point) (longer []r2.Point) {
	n := len(outline)
	for i, p := range outline {
		q := outline[(i+1)%n]
		if p.X < l.At {
			longer = append(longer, r2.Point{X: p.X + l.Out, Y: p.Y})
		} else {
			longer = append(longer, p)
		}
		if (p.X < l.At) == (q.X < l.At) || p.Y == q.Y {
			continue // on an edge straight fore and aft the piece that is set in makes no corner
		}
		y := p.Y + (q.Y-p.Y)*(l.At-p.X)/(q.X-p.X)
		joint := []r2.Point{{X: l.At, Y: y}, {X: l.At + l.Out, Y: y}}
		if p.X < l.At {
			slices.Reverse(joint)
		}
		longer = append(longer, joint...)
	}
	return distinct(longer)
}

// distinct returns an outline without doubled points. Two that a file may have so near stay.
func distinct(outline []r2.Point) (left []r2.Point) {
	return planar.Spaced(outline, math.Nextafter(samePoint, 0))
}

// corners returns an outline without doubled points and without those on a straight edge.
func corners(outline []r2.Point) (left []r2.Point) {
	points := distinct(outline)
	n := len(points)
	for i, p := range points {
		in, out := p.Sub(points[(i+n-1)%n]), points[(i+1)%n].Sub(p)
		if in.Dot(out) <= 0 || math.Abs(in.Cross(out)) > 1e-6*max(in.Norm(), out.Norm()) {
			left = append(left, p)
		}
	}
	return left
}
