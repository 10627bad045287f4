package grind

import (
	"slices"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"locksweep/geometry/planar"
)

// Face is the stretch of a finished outline that other metal meets at the lock, in the plate's plane, mm.
type Face struct {
	Line  []r2.Point  // of the finished outline; its one point that is touched where no more is known; nil where it is not ground
	At    [2]r2.Point // a point of the finished outline and one of the old outline, as far apart as the cut is deep at the stop
	Depth float64
}

// Mark returns the point of the finished outline by which a face is named.
func (f *Face) Mark() r2.Point { return f.At[0] }

// face finds where a plate stops an obstacle at a column angle, in a bite of its cut: touched is the point of contact, and own the bite
// that would go for the stop alone. The depth is that of own, where its floor is the finished outline too; else how far the face stands from the
// outline that goes.
func (p *plate) face(c *Cut, b, own *Bite, touched r2.Point, obstacle int, column s1.Angle) (Face, error) {
	left, err := p.rest(c.After)
	if err != nil {
		return Face{}, err
	}
	patch, err := p.patch(&left, obstacle, column)
	if err != nil {
		return Face{}, err
	}
	before, after := planar.NearRing(c.Before), planar.NearRing(c.After)
	_, at := after.To(touched)
	f := Face{Line: []r2.Point{at}}
	for _, ring := range patch.Rings() {
		if run := met(ring, before, after); length(run) > length(f.Line) {
			f.Line = run
		}
	}
	if own != nil {
		for i, q := range own.At {
			if d, on := after.To(q); d <= onFace/5 {
				f.At, f.Depth = [2]r2.Point{on, own.At[1-i]}, own.Depth
				return f, nil
			}
		}
	}
	old, _, both := b.sides(before, after)
	from := planar.NewNearest(slices.Concat(old, both))
	for i := range f.Line {
		if len(from.Edges) > 0 {
			furthest(from, f.Line[i], f.Line[min(i+1, len(f.Line)-1)], &f.Depth, &f.At)
		}
	}
	return f, nil
}

// met returns the longest run of a ring that lies on a finished outline and not on the old one.
func met(ring []r2.Point, before, after *planar.Nearest) (best []r2.Point) {
	var run []r2.Point
	for i := range 2 * len(ring) { // twice round, for the run that goes over the ring's first point
		a, b := ring[i%len(ring)], ring[(i+1)%len(ring)]
		mid := a.Add(b).Mul(0.5)
		if first(after.To(mid)) > onCut || first(before.To(mid)) <= onCut || len(run) > len(ring) {
			run = nil
			continue
		}
		if run == nil {
			run = []r2.Point{a}
		}
		if run = append(run, b); length(run) > length(best) {
			best = slices.Clone(run)
		}
	}
	return best
}

// onCut is how near to an outline what was cut out of it lies, mm.
const onCut = 1e-3

func length(line []r2.Point) (sum float64) {
	for i := range line[:max(len(line)-1, 0)] {
		sum += line[i+1].Sub(line[i]).Norm()
	}
	return sum
}
