package clearance

import (
	"slices"

	"github.com/golang/geo/s1"

	"locksweep/geometry/linkage"
	"locksweep/geometry/rigid"
)

// Axis returns what a spindle or the column turns about; ok is false for other bodies.
func (sc *Scene) Axis(b linkage.Body) (axis rigid.Axis, ok bool) {
	return sc.mechanism.Axes[b], b != linkage.Frame && !b.IsRod() && !sc.mechanism.Slides(b)
}

// Against returns the pieces that a piece is checked against, in ascending order.
func (sc *Scene) Against(piece int) (others []int) {
	for p := range sc.pairs {
		switch {
		case p.out():
		case p.pieces[0] == piece:
			others = append(others, p.pieces[1])
		case p.pieces[1] == piece:
			others = append(others, p.pieces[0])
		}
	}
	slices.Sort(others)
	return others
}

// NearestOf is Nearest for one pair; found is false where its gap is nowhere under near, or where the pair is
// not one that is checked.
func (sc *Scene) NearestOf(pair [2]int, from, to s1.Angle, near float64) (n Near, found bool) {
	for p := range sc.pairs {
		if !p.out() && (p.pieces == pair || p.pieces == [2]int{pair[1], pair[0]}) {
			j, ok := sc.journey(from, to)
			if !ok {
				return n, false
			}
			n, found = sc.nearest(j, p, near)
			n.Pair = pair
			return n, found
		}
	}
	return n, false
}
