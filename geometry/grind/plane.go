package grind

import (
	"cmp"
	"math"
	"slices"

	"github.com/golang/geo/r2"
)

// ringArea returns the signed area of a ring, mm²: positive counter-clockwise.
func ringArea(ring []r2.Point) (sum float64) {
	for i := 2; i < len(ring); i++ {
		sum += ring[i-1].Sub(ring[0]).Cross(ring[i].Sub(ring[0]))
	}
	return sum / 2
}

// toSegment returns the distance of a point from a segment and the segment's nearest point.
func toSegment(p, a, b r2.Point) (distance float64, nearest r2.Point) {
	along := b.Sub(a)
	t := 0.0
	if length := along.Dot(along); length > 0 {
		t = math.Max(0, math.Min(1, p.Sub(a).Dot(along)/length))
	}
	nearest = a.Add(along.Mul(t))
	return p.Sub(nearest).Norm(), nearest
}

// inside tells whether a point lies within a ring, by the crossings of a ray.
func inside(p r2.Point, ring []r2.Point) (in bool) {
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(p.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
			in = !in
		}
	}
	return in
}

// clip returns the part of a convex outline within a rectangle (Sutherland and Hodgman, 1974).
func clip(outline []r2.Point, room r2.Rect) []r2.Point {
	within := [4]func(r2.Point) float64{
		func(p r2.Point) float64 { return p.X - room.X.Lo },
		func(p r2.Point) float64 { return room.X.Hi - p.X },
		func(p r2.Point) float64 { return p.Y - room.Y.Lo },
		func(p r2.Point) float64 { return room.Y.Hi - p.Y },
	}
	for _, side := range within {
		var kept []r2.Point
		for i, a := range outline {
			b := outline[(i+1)%len(outline)]
			da, db := side(a), side(b)
			if da >= 0 {
				kept = append(kept, a)
			}
			if (da >= 0) != (db >= 0) {
				kept = append(kept, a.Add(b.Sub(a).Mul(da/(da-db))))
			}
		}
		outline = kept
	}
	return outline
}

// convexHull returns the convex hull of points, counter-clockwise (Andrew's monotone chain). It puts
// the points in order.
func convexHull(pts []r2.Point) []r2.Point {
	slices.SortFunc(pts, func(a, b r2.Point) int { return cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(a.Y, b.Y)) })
	hull := make([]r2.Point, 0, len(pts)+1)
	for range 2 {
		start := len(hull)
		for _, p := range pts {
			for len(hull) > start+1 && hull[len(hull)-1].Sub(hull[len(hull)-2]).Cross(p.Sub(hull[len(hull)-2])) <= 0 {
				hull = hull[:len(hull)-1]
			}
			hull = append(hull, p)
		}
		hull = hull[:max(len(hull)-1, 0)]
		slices.Reverse(pts)
	}
	return hull
}

// thinned returns a ring with as few of its points as keep it within error of all of them.
func thinned(ring []r2.Point, error float64) (out []r2.Point) {
	fits := func(i, j int) bool {
		for k := i + 1; k < j; k++ {
			if d, _ := toSegment(ring[k], ring[i], ring[j%len(ring)]); d > error {
				return false
			}
		}
		return true
	}
	for i := 0; i < len(ring); {
		out = append(out, ring[i])
		j := i + 1
		for j < len(ring) && fits(i, j+1) {
			j++
		}
		i = j
	}
	return out
}
