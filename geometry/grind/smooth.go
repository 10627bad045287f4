package grind

import (
	"math"
	"slices"

	"github.com/golang/geo/r2"

	"locksweep/geometry/planar"
	"locksweep/geometry/region"
)

// leastEdge is how near two points of a finished outline may be, mm: a setup file refuses 0.001 mm, and nobody sets a hundredth apart.
const leastEdge = 0.01

// smooth returns an outline without points that nobody could set apart or that lie in line, as far as it stays within half of chord, mm. Corners of
// the old outline stay: without one, metal would be added along the whole of its edge.
func smooth(ring, before []r2.Point, chord float64) (out []r2.Point) {
	old := map[r2.Point]bool{}
	for _, p := range before {
		old[p] = true
	}
	if start := slices.IndexFunc(ring, func(p r2.Point) bool { return old[p] }); start > 0 {
		ring = slices.Concat(ring[start:], ring[:start])
	}
	for i := 0; i < len(ring); {
		end := i + 1
		for end < len(ring) && !old[ring[end]] {
			end++
		}
		run := append(slices.Clone(ring[i:end]), ring[end%len(ring)])
		out = append(out, eased(run, math.Min(leastEdge, 5*chord), chord/2)...)
		i = end
	}
	if len(out) < 3 || region.Of(out).Empty() { // metal so thin crosses itself then
		return ring
	}
	return out
}

// eased returns the points of a line without the last one, and without those within near, mm, of the one before or of the last: as few as keep the
// line within error, mm, of them all.
func eased(line []r2.Point, near, error float64) (out []r2.Point) {
	last := line[len(line)-1]
	kept := line[:1:1]
	for _, p := range line[1 : len(line)-1] {
		if p.Sub(kept[len(kept)-1]).Norm() > near && p.Sub(last).Norm() > near {
			kept = append(kept, p)
		}
	}
	out = planar.Fewest(append(kept, last), error)
	if out[len(out)-1] == last {
		out = out[:len(out)-1]
	}
	return out
}
