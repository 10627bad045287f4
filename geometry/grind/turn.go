package grind

import (
	"math"
	"slices"

	"github.com/golang/geo/r2"

	"locksweep/geometry/planar"
)

// turned returns areas that together are what a shape, convex or not, fills as it turns about a centre from one angle to another (radians,
// from ≤ to, less than a whole turn): the shape where it begins, and the strips that the leading stretches of its outline sweep, each cut so that it
// leads steadily towards or away from the centre. Strips end in arcs, of which the chords stay within chord mm.
func turned(shape []r2.Point, centre r2.Point, from, to, chord float64) (areas [][]r2.Point) {
	areas = append(areas, turnedTo(shape, centre, from))
	if to <= from {
		return areas
	}
	counterclockwise := planar.Area(shape) > 0
	for _, run := range steadyRuns(shape, centre) {
		if grows(run, centre) != counterclockwise {
			areas = append(areas, strip(run, centre, from, to, chord))
		}
	}
	return areas
}

// grows reports whether a stretch of an outline leads away from the centre.
func grows(run []r2.Point, centre r2.Point) bool {
	return run[len(run)-1].Sub(centre).Norm() > run[0].Sub(centre).Norm()
}

// strip returns the area that a stretch sweeps: along it at the first angle, along the arc of its last point, back along it at the second angle,
// and back along the arc of its first point.
func strip(run []r2.Point, centre r2.Point, from, to, chord float64) []r2.Point {
	first, last := run[0], run[len(run)-1]
	away := grows(run, centre)
	area, back := turnedTo(run, centre, from), turnedTo(run, centre, to)
	closing := arc(first, centre, from, to, chord, !away) // reversed, not run backwards: neighbours share its points exactly
	slices.Reverse(back)
	slices.Reverse(closing)
	return planar.Spaced(slices.Concat(area, arc(last, centre, from, to, chord, away), back, closing), 0)
}

// arc returns the points, without the ends, of the arc that a point runs from one angle to another. The chords of an inner arc lie inside it, those
// of an outer one touch it from outside, so that the strip between the two holds all that it should.
func arc(p, centre r2.Point, from, to, chord float64, outer bool) (pts []r2.Point) {
	radius := p.Sub(centre).Norm()
	if radius <= chord {
		return nil
	}
	n := math.Ceil((to - from) / (2 * math.Acos(1-chord/radius)))
	step := (to - from) / n
	i := 1.0
	if outer {
		p, i = centre.Add(p.Sub(centre).Mul(1/math.Cos(step/2))), 0.5
	}
	for ; i < n; i++ {
		pts = append(pts, turnPoint(p, centre, from+step*i))
	}
	return pts
}

// steadyRuns cuts an outline into stretches along which the distance from the centre only grows or only falls: also at points within edges where it
// is least.
func steadyRuns(shape []r2.Point, centre r2.Point) (runs [][]r2.Point) {
	var ring []r2.Point
	for i, a := range shape {
		b := shape[(i+1)%len(shape)]
		ring = append(ring, a)
		along := b.Sub(a)
		if t := centre.Sub(a).Dot(along) / along.Dot(along); t > 1e-9 && t < 1-1e-9 {
			ring = append(ring, a.Add(along.Mul(t)))
		}
	}
	n := len(ring)
	away := func(i int) bool { return grows([]r2.Point{ring[i%n], ring[(i+1)%n]}, centre) }
	start := 0
	for start < n && away(start) == away(start+n-1) {
		start++
	}
	if start == n { // no outline does this; a ring of equal distances might
		start = 0
	}
	run := []r2.Point{ring[start%n]}
	for k := range n {
		i := start + k
		run = append(run, ring[(i+1)%n])
		if k == n-1 || away(i) != away(i+1) {
			runs = append(runs, run)
			run = []r2.Point{ring[(i+1)%n]}
		}
	}
	return runs
}

// turnedTo turns points about a centre by an angle, radians.
func turnedTo(pts []r2.Point, centre r2.Point, angle float64) []r2.Point {
	out := make([]r2.Point, len(pts))
	for i, p := range pts {
		out[i] = turnPoint(p, centre, angle)
	}
	return out
}

func turnPoint(p, centre r2.Point, angle float64) r2.Point {
	sin, cos := math.Sincos(angle)
	d := p.Sub(centre)
	return r2.Point{X: centre.X + d.X*cos - d.Y*sin, Y: centre.Y + d.X*sin + d.Y*cos}
}
