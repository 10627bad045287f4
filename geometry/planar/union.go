package planar

import (
	"cmp"
	"math"
	"slices"

	"github.com/golang/geo/r2"
)

// Interval is a stretch of a segment, as shares of its length from its beginning.
type Interval struct{ From, To float64 }

// Through returns the stretch of a segment that lies within a convex ring, counter-clockwise, or at most slack (mm) beside a side of
// it, rim included (Cyrus and Beck, Computers and Graphics 3, 1978; memory). ok is false where none does.
func Through(convex []r2.Point, a, b r2.Point, slack float64) (in Interval, ok bool) {
	if len(convex) < 3 {
		return in, false
	}
	in = Interval{0, 1}
	way := b.Sub(a)
	p := convex[len(convex)-1]
	for _, q := range convex {
		side := q.Sub(p)
		room, slope := cross(side, a.Sub(p)), cross(side, way) // to the left of the side is within
		if slack > 0 {
			room += slack * side.Norm()
		}
		switch {
		case slope == 0 && room < 0:
			return in, false
		case slope > 0:
			in.From = max(in.From, -room/slope)
		case slope < 0:
			in.To = min(in.To, -room/slope)
		}
		if in.From >= in.To {
			return in, false
		}
		p = q
	}
	return in, true
}

// Outside returns what is left of a segment when stretches are taken out of it, in order.
func Outside(stretches []Interval) (left []Interval) {
	slices.SortFunc(stretches, func(p, q Interval) int { return cmp.Compare(p.From, q.From) })
	at := 0.0
	for _, s := range stretches {
		if s.From > at {
			left = append(left, Interval{at, s.From})
		}
		at = max(at, s.To)
	}
	if at < 1 {
		left = append(left, Interval{at, 1})
	}
	return left
}

// Union returns the rings round the area that convex rings, counter-clockwise, cover together: outlines
// counter-clockwise, holes clockwise. It takes what of every side lies outside all other rings and strings
// these stretches together. ok is false where they do not make closed rings without doubt, as may be where sides lie
// on one another; a general polygon library then has the answer.
func Union(convex [][]r2.Point) (rings [][]r2.Point, ok bool) {
	var rim []stretch
	boxes := make([]r2.Rect, len(convex))
	for i, ring := range convex {
		boxes[i] = r2.RectFromPoints(ring...)
	}
	largest, all := 0.0, 0.0
	for i, ring := range convex {
		for k, a := range ring {
			rim = append(rim, uncovered(convex, boxes, i, a, ring[(k+1)%len(ring)])...)
		}
		area := Area(ring)
		largest, all = max(largest, area), all+area
	}
	if rings, ok = strung(rim); !ok {
		return nil, false
	}
	covered := 0.0
	for _, ring := range rings {
		covered += Area(ring)
	}
	slack := 1e-9 * all
	return rings, covered >= largest-slack && covered <= all+slack
}

// stretch is a piece of a rim, with the area on its left.
type stretch struct{ from, to r2.Point }

// meeting is how near the end of one stretch lies to the beginning of the next, mm, and how near two sides that lie on one
// another.
const meeting = 1e-7

// uncovered returns what of a side of ring i lies outside all other rings.
func uncovered(convex [][]r2.Point, boxes []r2.Rect, i int, a, b r2.Point) (left []stretch) {
	var covered []Interval
	box := r2.RectFromPoints(a, b)
	for k := 1; k < 2*len(convex); k++ {
		// Neighbours in the list first: along a motion they cover most.
		j := i + (k+1)/2*(1-k%2*2)
		if j < 0 || j >= len(convex) || !boxes[j].Intersects(box) {
			continue
		}
		// Of sides that lie on one another the first bounds the area.
		in, ok := Through(convex[j], a, b, 0)
		if !ok || j > i && along(convex[j], a, b) {
			continue
		}
		if in == (Interval{0, 1}) {
			return nil
		}
		covered = append(covered, in)
	}
	if len(covered) == 0 {
		return []stretch{{a, b}}
	}
	way := b.Sub(a)
	at := func(t float64) r2.Point {
		if t == 1 {
			return b
		}
		return a.Add(way.Mul(t))
	}
	for _, in := range Outside(covered) {
		if (in.To-in.From)*way.Norm() > meeting {
			left = append(left, stretch{at(in.From), at(in.To)})
		}
	}
	return left
}

// cross is that of r2 with either product rounded for itself: of a segment with itself it is zero on every processor.
func cross(a, b r2.Point) float64 { return float64(a.X*b.Y) - float64(a.Y*b.X) }

// along reports whether a segment lies on a side of a ring and runs the same way.
func along(ring []r2.Point, a, b r2.Point) bool {
	way := b.Sub(a)
	for i, p := range ring {
		side := ring[(i+1)%len(ring)].Sub(p)
		if side.Dot(way) <= 0 {
			continue
		}
		near, offA, offB := meeting*meeting*side.Dot(side), cross(side, a.Sub(p)), cross(side, b.Sub(p))
		if offA*offA < near && offB*offB < near {
			return true
		}
	}
	return false
}

// strung strings stretches together, each to the one that begins where it ends.
func strung(rim []stretch) (rings [][]r2.Point, ok bool) {
	order := make([]int, len(rim)) // by where they begin, across x
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(p, q int) int { return cmp.Compare(rim[p].from.X, rim[q].from.X) })
	used := make([]bool, len(rim))
	for first := range rim {
		if used[first] {
			continue
		}
		var ring []r2.Point
		for k := first; !used[k]; {
			used[k] = true
			ring = append(ring, rim[k].from)
			after := beginning(rim, order, rim[k].to)
			if after < 0 || used[after] && after != first {
				return nil, false
			}
			k = after
		}
		if math.Abs(Area(ring)) > 0 {
			rings = append(rings, ring)
		}
	}
	return rings, true
}

// beginning returns the one stretch that begins at a place; -1 where none does, or where there are two to choose from. Order is that of where
// they begin, across x.
func beginning(rim []stretch, order []int, at r2.Point) int {
	found := -1
	i, _ := slices.BinarySearchFunc(order, at.X-2*meeting, func(k int, x float64) int { return cmp.Compare(rim[k].from.X, x) })
	for ; i < len(order) && rim[order[i]].from.X <= at.X+2*meeting; i++ {
		switch {
		case rim[order[i]].from.Sub(at).Norm() > 2*meeting:
		case found >= 0:
			return -1
		default:
			found = order[i]
		}
	}
	return found
}
