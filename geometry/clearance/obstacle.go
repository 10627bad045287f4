package clearance

import (
	"math"

	"github.com/golang/geo/s1"

	"locksweep/geometry/rigid"
)

// Axis returns what a spindle or the column turns about; ok is false for other bodies.
func (sc *Scene) Axis(b Body) (axis rigid.Axis, ok bool) {
	return sc.axes[b], b != Frame && !b.isRod()
}

// Against returns the pieces that a piece is checked against, in ascending order.
func (sc *Scene) Against(piece int) (others []int) {
	for i := range sc.pairs {
		p := &sc.pairs[i]
		switch {
		case p.unchecked:
		case p.pieces[0] == piece:
			others = append(others, p.pieces[1])
		case p.pieces[1] == piece:
			others = append(others, p.pieces[0])
		}
	}
	return others
}

// NearestOf is Nearest for one pair; found is false where its gap is nowhere under near.
func (sc *Scene) NearestOf(pair [2]int, from, to s1.Angle, near float64) (n Near, found bool) {
	t, _, found := sc.posed(pair, from, to).Least(near, gapTolerance)
	if !found {
		return n, false
	}
	pose, _ := sc.poseOn(from, math.Copysign(1, float64(to-from)), t)
	gap, p, q := sc.Gap(pair, &pose)
	return Near{Pair: pair, Gap: math.Max(gap, 0), Column: pose.Column, Side: sc.side(pair), Point: p.Add(q).Mul(0.5)}, true
}
