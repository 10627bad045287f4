package planar

import (
	"cmp"
	"slices"

	"github.com/golang/geo/r2"
)

// Hull returns the convex hull of points, counter-clockwise from the leftmost, without collinear
// corners (Andrew's monotone chain). It puts the points in order.
func Hull(points []r2.Point) []r2.Point {
	slices.SortFunc(points, func(a, b r2.Point) int { return cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(a.Y, b.Y)) })
	points = slices.Compact(points)
	if len(points) < 3 {
		return points
	}
	hull := make([]r2.Point, 0, len(points)+1)
	for range 2 {
		start := len(hull)
		for _, p := range points {
			for len(hull) > start+1 && Orient(hull[len(hull)-2], hull[len(hull)-1], p) <= 0 {
				hull = hull[:len(hull)-1]
			}
			hull = append(hull, p)
		}
		hull = hull[:len(hull)-1]
		slices.Reverse(points)
	}
	return hull
}
