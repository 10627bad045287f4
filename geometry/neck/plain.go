package neck

import (
	"math"

	"github.com/golang/geo/r2"

	"locksweep/geometry/planar"
)

// Plainly is a quick look before Carries, at a thousandth of its cost: true means that the metal of a plate carries a blow at a point with a
// width, mm, because a disc of that diameter gets in a straight line from the root to as near the point as it has to; false means nothing.
// The outline runs counter-clockwise; bore is a diameter, mm.
func Plainly(outline []r2.Point, root Root, bore, width float64, at r2.Point) bool {
	half := width/2 + chord // what Carries narrows is rounded
	tries := 0
	for i := range outline {
		for _, begin := range insets(outline, i, half, at) {
			if begin.Sub(at).Norm() > reach(width)-chord || !clear(outline, bore/2, half, begin, begin) {
				continue
			}
			for _, end := range ends(root, bore/2, half, begin) {
				if clear(outline, bore/2, half, begin, end) {
					return true
				}
			}
			if tries++; tries == mostTries {
				return false
			}
		}
	}
	return false
}

const (
	mostTries = 8  // places near the point at which a disc is tried
	bearings  = 16 // places about a bore at which a disc may begin
)

// insets returns two places for the middle of a disc of a radius half, mm, that touches an edge of the outline: as near as may be to a point,
// and in the corner where the edge begins.
func insets(outline []r2.Point, i int, half float64, at r2.Point) [2]r2.Point {
	n := len(outline)
	before, from, to := outline[(i+n-1)%n], outline[i], outline[(i+1)%n]
	inward := func(a, b r2.Point) r2.Point { return b.Sub(a).Ortho().Normalize() }
	own, last := inward(from, to), inward(before, from)
	_, near := planar.ToSegment(at, from, to)
	return [2]r2.Point{near.Add(own.Mul(half)), from.Add(own.Add(last).Mul(half / (1 + own.Dot(last))))}
}

// ends returns places for the middle of a disc of a radius half, mm, at the root; at a bore (a radius) the first is that nearest to from.
func ends(root Root, bore, half float64, from r2.Point) (list []r2.Point) {
	switch {
	case !root.Kingpin:
		along := root.Edge[1].Sub(root.Edge[0])
		middle, aside := root.Edge[0].Add(along.Mul(0.5)), along.Ortho().Normalize().Mul(half)
		return []r2.Point{middle.Add(aside), middle.Sub(aside)}
	case bore == 0:
		return []r2.Point{{}}
	}
	out := from.Normalize().Mul(bore + half)
	for i := range bearings {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / bearings)
		list = append(list, r2.Point{X: cos*out.X - sin*out.Y, Y: sin*out.X + cos*out.Y})
	}
	return list
}

// clear reports whether a disc of a radius half, mm, stays within an outline and clear of the bore (a radius) on its way from a to b.
func clear(outline []r2.Point, bore, half float64, a, b r2.Point) bool {
	if !planar.Inside(outline, a) || !planar.Inside(outline, b) {
		return false
	}
	if d, _ := planar.ToSegment(r2.Point{}, a, b); bore > 0 && d < bore+half-1e-9 {
		return false
	}
	for i, p := range outline {
		q := outline[(i+1)%len(outline)]
		if planar.Orient(p, q, a)*planar.Orient(p, q, b) < 0 && planar.Orient(a, b, p)*planar.Orient(a, b, q) < 0 {
			return false
		}
		dp, _ := planar.ToSegment(p, a, b)
		da, _ := planar.ToSegment(a, p, q)
		db, _ := planar.ToSegment(b, p, q)
		if min(dp, da, db) < half-1e-9 {
			return false
		}
	}
	return true
}
