package solid

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"locksweep/geometry/planar"
	"locksweep/geometry/rigid"
)

// chordError is how far a drawn outline may stay inside a curved one, mm, for the core and again for
// the rounding.
const chordError = 0.025

// Plan returns the outline of the solid seen from above under a motion: a convex polygon, (x, y) in mm,
// counter-clockwise, without collinear corners. Corners lie on the true outline and chords stay within 0.05 mm
// of it. A solid that covers no ground gives fewer than three corners.
func (s *Solid) Plan(m rigid.Motion) []r2.Point {
	frame := m.After(s.place)
	base := s.base.corners
	if len(base) == 0 {
		// From where the disc lies level, so that its longest reach is met exactly.
		up := frame.Back(r3.Vector{Z: 1})
		base = circle(s.radius, math.Atan2(up.X, -up.Y))
	}
	seen := make([]r2.Point, 0, 2*len(base))
	for _, c := range base {
		for _, z := range [2]float64{-s.half, s.half} {
			p := frame.Point(r3.Vector{X: c.X, Y: c.Y, Z: z})
			seen = append(seen, r2.Point{X: p.X, Y: p.Y})
		}
	}
	planar.Snap(seen)
	outline := planar.Hull(seen)
	if s.round > 0 {
		outline = swept(outline, circle(s.round, 0))
		planar.Snap(outline)
		outline = planar.Hull(outline)
	}
	return outline
}

// mostCorners is enough for any radius up to 80 m.
const mostCorners = 4000

// circle returns corners on a circle about the origin, counter-clockwise from an angle (radians), as close
// as chordError asks and four times a whole number.
func circle(radius, from float64) []r2.Point {
	if radius <= 0 {
		return []r2.Point{{}}
	}
	n := 12
	if chordError < radius {
		n = max(n, 4*int(math.Min(mostCorners/4, math.Ceil(math.Pi/4/math.Acos(1-chordError/radius)))))
	}
	corners := make([]r2.Point, n)
	for i := range corners {
		sin, cos := math.Sincos(from + 2*math.Pi*float64(i)/float64(n))
		corners[i] = r2.Point{X: radius * cos, Y: radius * sin}
	}
	return corners
}

// swept returns the sum of two convex polygons, counter-clockwise, by joining their edges in the order
// of their directions. Either may be a point or a segment.
func swept(a, b []r2.Point) []r2.Point {
	i0, j0 := lowest(a), lowest(b)
	sum := make([]r2.Point, 0, len(a)+len(b))
	for i, j := 0, 0; i < len(a) || j < len(b); {
		p, q := a[(i0+i)%len(a)], b[(j0+j)%len(b)]
		sum = append(sum, p.Add(q))
		turn := a[(i0+i+1)%len(a)].Sub(p).Cross(b[(j0+j+1)%len(b)].Sub(q))
		switch {
		case i == len(a) || len(a) == 1:
			i, j = len(a), j+1
		case j == len(b) || len(b) == 1:
			i, j = i+1, len(b)
		case turn > 0:
			i++
		case turn < 0:
			j++
		default:
			i, j = i+1, j+1
		}
	}
	return sum
}

func lowest(polygon []r2.Point) (at int) {
	for i, p := range polygon {
		if l := polygon[at]; p.Y < l.Y || p.Y == l.Y && p.X < l.X {
			at = i
		}
	}
	return at
}
