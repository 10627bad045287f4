package grind

import (
	"cmp"
	"math"
	"slices"

	"github.com/golang/geo/r2"

	"locksweep/geometry/region"
)

// onLine is how near a point lies to a line that it came from, mm.
const onLine = 1e-5

// bites measures the pieces of metal that come off, and the depth of the cut.
func (c *Cut) bites(removed region.Region) {
	for _, piece := range removed.Pieces() {
		b := Bite{Rings: piece, Area: netArea(piece)}
		if b.Area < leastArea {
			continue
		}
		b.measure(c.Before, c.After)
		c.Bites = append(c.Bites, b)
	}
	slices.SortStableFunc(c.Bites, func(a, b Bite) int { return cmp.Compare(b.Depth, a.Depth) })
	if len(c.Bites) > 0 {
		c.Depth = c.Bites[0].Depth
	}
}

// measure finds the depth of a bite: of all points where either outline bounds it, the furthest from the
// other outline. For metal off an edge that is the depth square to the edge, for a tip ground away its length.
func (b *Bite) measure(before, after []r2.Point) {
	old, cut := newNearest(before), newNearest(after)
	for _, ring := range b.Rings {
		for i, p := range ring {
			q := ring[(i+1)%len(ring)]
			mid := p.Add(q).Mul(0.5)
			if d, _ := old.to(mid); d <= onLine {
				cut.furthest(p, q, &b.Depth, &b.At)
			} else {
				old.furthest(p, q, &b.Depth, &b.At)
			}
		}
	}
}

// wall measures what is left between the cut face and what must stay.
func (c *Cut) wall() {
	part := c.Part
	faces := c.faces()
	if part.Bore > 0 {
		c.Wall.Bore, c.Wall.LeastBore = math.Inf(1), part.MinWall
		if part.MinWall == 0 {
			c.Wall.LeastBore = DefaultWall(part.Bore)
		}
		for _, f := range faces {
			d, _ := toSegment(r2.Point{}, f[0], f[1])
			c.Wall.Bore = math.Min(c.Wall.Bore, d-part.Bore/2)
		}
	}
	if len(part.Keep) > 0 {
		c.Wall.Keep, c.Wall.LeastKeep = math.Inf(1), part.MinWall
		near, cut := newNearest(part.Keep), newNearest(c.After)
		for _, f := range faces {
			c.Wall.Keep = math.Min(c.Wall.Keep, near.toSegment(f[0], f[1]))
			if d, _ := near.to(f[0]); inside(f[0], part.Keep) {
				c.Wall.Keep = math.Min(c.Wall.Keep, -d)
			}
		}
		for _, q := range part.Keep {
			if d, _ := cut.to(q); !inside(q, c.After) && d > onLine {
				c.Wall.Keep = math.Min(c.Wall.Keep, -d)
			}
		}
	}
	if len(faces) == 0 {
		c.Wall.Bore, c.Wall.Keep = math.NaN(), math.NaN()
	}
}

// faces returns the edges of the finished outline that the cut made.
func (c *Cut) faces() (faces [][2]r2.Point) {
	old := newNearest(c.Before)
	for i, p := range c.After {
		q := c.After[(i+1)%len(c.After)]
		if d, _ := old.to(p.Add(q).Mul(0.5)); d > onLine {
			faces = append(faces, [2]r2.Point{p, q})
		}
	}
	return faces
}

// nearest finds the nearest point of a ring: its edges in blocks, each with the box about them.
type nearest struct {
	ring  []r2.Point
	boxes []r2.Rect
}

const block = 16 // edges

func newNearest(ring []r2.Point) *nearest {
	n := &nearest{ring: ring}
	for start := 0; start < len(ring); start += block {
		box := r2.EmptyRect()
		for i := start; i <= min(start+block, len(ring)); i++ {
			box = box.AddPoint(ring[i%len(ring)])
		}
		n.boxes = append(n.boxes, box)
	}
	return n
}

// to returns the distance of a point from the ring and the ring's nearest point.
func (n *nearest) to(p r2.Point) (distance float64, at r2.Point) {
	distance, at, _ = n.edge(p)
	return distance, at
}

// edge is to, with the index of the nearest edge.
func (n *nearest) edge(p r2.Point) (distance float64, at r2.Point, edge int) {
	distance = math.Inf(1)
	for b, box := range n.boxes {
		if box.ClampPoint(p).Sub(p).Norm() >= distance {
			continue
		}
		for i := b * block; i < min((b+1)*block, len(n.ring)); i++ {
			if d, q := toSegment(p, n.ring[i], n.ring[(i+1)%len(n.ring)]); d < distance {
				distance, at, edge = d, q, i
			}
		}
	}
	return distance, at, edge
}

// toEdge returns the distance of a point from one edge.
func (n *nearest) toEdge(p r2.Point, edge int) float64 {
	d, _ := toSegment(p, n.ring[edge], n.ring[(edge+1)%len(n.ring)])
	return d
}

// toSegment returns the distance of a segment from the ring, where they do not cross.
func (n *nearest) toSegment(a, b r2.Point) float64 {
	da, _ := n.to(a)
	db, _ := n.to(b)
	least := math.Min(da, db)
	for _, p := range n.ring {
		d, _ := toSegment(p, a, b)
		least = math.Min(least, d)
	}
	return least
}

// depthError is how far the deepest point between two corners may be missed, mm.
const depthError = 1e-4

// furthest looks on a segment for a point further from the ring than the best so far.
func (n *nearest) furthest(a, b r2.Point, best *float64, at *[2]r2.Point) {
	look := func(p r2.Point) probe {
		d, q, edge := n.edge(p)
		if d > *best {
			*best, *at = d, [2]r2.Point{p, q}
		}
		return probe{p, d, edge}
	}
	var between func(a, b probe)
	between = func(a, b probe) {
		// The distance from one edge is greatest at an end, and the ring is no further than its edge.
		bound := math.Min(math.Max(a.distance, n.toEdge(b.at, a.edge)), math.Max(b.distance, n.toEdge(a.at, b.edge)))
		if length := b.at.Sub(a.at).Norm(); bound <= *best+depthError || length < depthError {
			return
		}
		mid := look(a.at.Add(b.at).Mul(0.5))
		between(a, mid)
		between(mid, b)
	}
	between(look(a), look(b))
}

// probe is a point with its distance from a ring and the nearest edge.
type probe struct {
	at       r2.Point
	distance float64
	edge     int
}
