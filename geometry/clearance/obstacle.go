package clearance

import (
	"slices"

	"github.com/golang/geo/s1"
)

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
