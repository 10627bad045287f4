package grind

import (
	"cmp"
	"math"
	"slices"

	"github.com/golang/geo/r2"

	"locksweep/geometry/planar"
	"locksweep/geometry/region"
)

// onLine is how near a point lies to a line that it came from, mm.
const onLine = 1e-5

// bites measures the pieces of metal that come off, and the depth of the cut.
func (c *Cut) bites(removed region.Region) {
	before, after := planar.NearRing(c.Before), planar.NearRing(c.After)
	for _, piece := range removed.Pieces() {
		b := Bite{Rings: piece, Area: netArea(piece)}
		if b.Area < leastArea {
			continue
		}
		b.measure(before, after)
		c.Bites = append(c.Bites, b)
	}
	c.deepestFirst()
}

// deepestFirst orders the bites, and notes the depth of the cut.
func (c *Cut) deepestFirst() {
	slices.SortStableFunc(c.Bites, func(a, b Bite) int { return cmp.Compare(b.Depth, a.Depth) })
	if len(c.Bites) > 0 {
		c.Depth = c.Bites[0].Depth
	}
}

// deepen gives a bite the depth at its stop where that is more than its own: with a tip off, the floor is nearer to the old outline elsewhere.
func (b *Bite) deepen(f *Face) {
	if f.Depth > b.Depth {
		b.Depth, b.At = f.Depth, f.At
	}
}

// measure fills in the depth of a bite: of all points of it on either outline, the greatest distance from where the other outline bounds it. Of
// metal off an edge that is the depth square to the edge, of a notch its depth however near its floor comes to the far edge of the plate, of a tip
// that is ground away its length.
func (b *Bite) measure(before, after *planar.Nearest) {
	old, cut, both := b.sides(before, after)
	for _, side := range [2]struct{ of, from []planar.Edge }{{old, cut}, {cut, old}} {
		if from := planar.NewNearest(slices.Concat(side.from, both)); len(from.Edges) > 0 {
			for _, e := range side.of {
				furthest(from, e[0], e[1], &b.Depth, &b.At)
			}
		}
	}
}

// sides returns the edges of a bite that lie on the old outline alone, on the new one alone, and on both: those of a spike without width along an
// edge.
func (b *Bite) sides(before, after *planar.Nearest) (old, cut, both []planar.Edge) {
	sort := func(e planar.Edge) (shared bool) {
		mid := e[0].Add(e[1]).Mul(0.5)
		was, is := first(before.To(mid)), first(after.To(mid))
		switch {
		case was > onLine:
			cut = append(cut, e)
		case is > onLine:
			old = append(old, e)
		default:
			return true
		}
		return false
	}
	for _, ring := range b.Rings {
		for _, e := range planar.Edges(ring) {
			if !sort(e) {
				continue
			}
			for _, part := range b.parts(e) { // a spike that joins two corners lies along an edge of which the ends are cut off
				if sort(part) {
					both = append(both, part)
				}
			}
		}
	}
	return old, cut, both
}

// parts cuts an edge of a bite at the corners of the bite that lie on it.
func (b *Bite) parts(e planar.Edge) (parts []planar.Edge) {
	along := e[1].Sub(e[0])
	on := []r2.Point{e[0]}
	for _, ring := range b.Rings {
		for _, q := range ring {
			if d, at := planar.ToSegment(q, e[0], e[1]); d <= onLine && at.Sub(e[0]).Norm() > onLine && at.Sub(e[1]).Norm() > onLine {
				on = append(on, at)
			}
		}
	}
	slices.SortFunc(on, func(p, q r2.Point) int { return cmp.Compare(p.Dot(along), q.Dot(along)) })
	for i, q := range append(on[1:], e[1]) {
		parts = append(parts, planar.Edge{on[i], q})
	}
	return parts
}

// wall fills in the walls: what is left between the edges that the cut made and what must stay, negative where the cut goes into that.
func (c *Cut) wall() {
	part, faces := c.Part, c.faces()
	if part.Bore > 0 {
		c.Wall.Bore, c.Wall.LeastBore = math.Inf(1), LeastWall(part)
		for _, f := range faces {
			d, _ := planar.ToSegment(r2.Point{}, f[0], f[1])
			c.Wall.Bore = math.Min(c.Wall.Bore, d-part.Bore/2)
		}
	}
	if len(part.Keep) > 0 {
		c.Wall.Keep, c.Wall.LeastKeep = math.Inf(1), part.MinWall
		near, cut := planar.NearRing(part.Keep), planar.NearRing(c.After)
		for _, f := range faces {
			c.Wall.Keep = math.Min(c.Wall.Keep, near.ToSegment(f[0], f[1]))
			if d, _ := near.To(f[0]); planar.Inside(part.Keep, f[0]) {
				c.Wall.Keep = math.Min(c.Wall.Keep, -d)
			}
		}
		for _, q := range part.Keep {
			if d, _ := cut.To(q); !planar.Inside(c.After, q) && d > onLine {
				c.Wall.Keep = math.Min(c.Wall.Keep, -d)
			}
		}
	}
	if len(faces) == 0 {
		c.Wall.Bore, c.Wall.Keep = math.NaN(), math.NaN()
	}
	if c.Wall.Thin() {
		c.wallToday()
	}
}

// wallToday fills in Wall.Today: the distance of what must stay from the stretches of the old outline where metal comes off.
func (c *Cut) wallToday() {
	w, cut, keep := &c.Wall, planar.NearRing(c.After), planar.NearRing(c.Part.Keep)
	w.Today = math.Inf(1)
	for _, e := range planar.Edges(c.Before) {
		along := e[1].Sub(e[0])
		n := math.Ceil(along.Norm() / stretch)
		for i := range int(n) {
			from, to := e[0].Add(along.Mul(float64(i)/n)), e[0].Add(along.Mul(float64(i+1)/n))
			if d, _ := cut.To(from.Add(to).Mul(0.5)); d <= 0.6*curveChord { // nothing comes off but what its chords take
				continue
			}
			d := math.Inf(1)
			if w.Left() == w.Bore {
				d, _ = planar.ToSegment(r2.Point{}, from, to)
				d -= c.Part.Bore / 2
			} else if len(keep.Edges) > 0 {
				d = keep.ToSegment(from, to)
			}
			w.Today = math.Min(w.Today, d)
		}
	}
}

// stretch is the length of those stretches, mm.
const stretch = 0.1

// faces returns the edges of the finished outline that the cut made.
func (c *Cut) faces() (faces []planar.Edge) {
	old := planar.NearRing(c.Before)
	for _, e := range planar.Edges(c.After) {
		if d, _ := old.To(e[0].Add(e[1]).Mul(0.5)); d > onLine {
			faces = append(faces, e)
		}
	}
	return faces
}

// depthError is by how much the greatest distance from an outline may be missed, mm.
const depthError = 1e-4

// furthest looks on a segment for the point furthest from edges; where it is further than the best so far, it becomes the best, and at is that point
// and the nearest of the edges.
func furthest(n *planar.Nearest, a, b r2.Point, best *float64, at *[2]r2.Point) {
	look := func(p r2.Point) probe {
		d, q, edge := n.Find(p)
		if d > *best {
			*best, *at = d, [2]r2.Point{p, q}
		}
		return probe{p, d, edge}
	}
	var between func(a, b probe)
	between = func(a, b probe) {
		// The distance from one edge is greatest at an end, and the outline is no further than its edge.
		bound := math.Min(math.Max(a.distance, n.ToEdge(b.at, a.edge)), math.Max(b.distance, n.ToEdge(a.at, b.edge)))
		if length := b.at.Sub(a.at).Norm(); bound <= *best+depthError || length < depthError {
			return
		}
		mid := look(a.at.Add(b.at).Mul(0.5))
		between(a, mid)
		between(mid, b)
	}
	between(look(a), look(b))
}

// probe is a point with its distance from an outline and the nearest edge.
type probe struct {
	at       r2.Point
	distance float64
	edge     int
}
