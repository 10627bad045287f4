// Package planar answers what outlines are asked in the plane: how large, whether a point lies in one and how far from
// its edge, what part of it a rectangle shows, its convex hull, its convex pieces. Outlines are rings of r2.Point,
// without the first point again at the end, in millimetres; where their sense matters it is said. What areas become when
// they are joined, cut and grown is a matter for package region.
package planar

import (
	"math"

	"github.com/golang/geo/r2"
)

// Area returns the signed area of a ring, mm²: positive counter-clockwise. It is taken from the first point, so that a
// far origin costs no digits.
func Area(ring []r2.Point) (sum float64) {
	for i := 2; i < len(ring); i++ {
		sum += ring[i-1].Sub(ring[0]).Cross(ring[i].Sub(ring[0]))
	}
	return sum / 2
}

// Inside reports whether a point lies within a ring of either sense, by the crossings of a ray (even-odd rule). On
// the edge itself either may come out.
func Inside(ring []r2.Point, p r2.Point) (in bool) {
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(p.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
			in = !in
		}
	}
	return in
}

// ToSegment returns the distance of a point from a segment, mm, and the segment's nearest point. The segment may be
// a point.
func ToSegment(p, a, b r2.Point) (distance float64, nearest r2.Point) {
	along, t := b.Sub(a), 0.0
	if length := along.Dot(along); length > 0 {
		t = max(0, min(1, p.Sub(a).Dot(along)/length))
	}
	nearest = a.Add(along.Mul(t))
	return p.Sub(nearest).Norm(), nearest
}

// ToEdge returns the distance of a point from the edge of a ring, inside it or not, mm; +Inf of a ring without points.
func ToEdge(ring []r2.Point, p r2.Point) float64 {
	least := math.Inf(1)
	for i, a := range ring {
		d, _ := ToSegment(p, a, ring[(i+1)%len(ring)])
		least = min(least, d)
	}
	return least
}

// Clip returns the part of a ring within a rectangle, in the ring's sense (Sutherland and Hodgman, Communications of
// the ACM 17, 1974; memory). Of a concave ring several parts may hang together by runs along the rectangle's edge,
// which enclose no area.
func Clip(ring []r2.Point, to r2.Rect) []r2.Point {
	for _, room := range [4]func(r2.Point) float64{
		func(p r2.Point) float64 { return p.X - to.X.Lo },
		func(p r2.Point) float64 { return to.X.Hi - p.X },
		func(p r2.Point) float64 { return p.Y - to.Y.Lo },
		func(p r2.Point) float64 { return to.Y.Hi - p.Y },
	} {
		var kept []r2.Point
		for i, a := range ring {
			b := ring[(i+1)%len(ring)]
			da, db := room(a), room(b)
			if da >= 0 {
				kept = append(kept, a)
			}
			if (da >= 0) != (db >= 0) {
				kept = append(kept, a.Add(b.Sub(a).Mul(da/(da-db))))
			}
		}
		ring = kept
	}
	return ring
}

// Bounds returns the least upright rectangle that holds outlines; an empty one where there are none.
func Bounds(rings ...[]r2.Point) r2.Rect {
	box := r2.EmptyRect()
	for _, ring := range rings {
		for _, p := range ring {
			box = box.AddPoint(p)
		}
	}
	return box
}

// Snap puts points on a grid of 2⁻²⁷ mm, 7e-9 mm, in place. Processors differ in how they round the last bits; points that differ by
// that alone are then the same.
func Snap(points []r2.Point) {
	const cells = 1 << 27
	for i, p := range points {
		points[i] = r2.Point{X: math.Round(p.X*cells) / cells, Y: math.Round(p.Y*cells) / cells}
	}
}

// Circle returns so many corners on a circle, counter-clockwise, the first in the direction of x.
func Circle(centre r2.Point, radius float64, corners int) []r2.Point {
	ring := make([]r2.Point, corners)
	for i := range ring {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(corners))
		ring[i] = centre.Add(r2.Point{X: radius * cos, Y: radius * sin})
	}
	return ring
}
