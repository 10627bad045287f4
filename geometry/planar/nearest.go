package planar

import (
	"math"
	"slices"

	"github.com/golang/geo/r2"
)

// Edge is a straight stretch of an outline.
type Edge [2]r2.Point

func Edges(ring []r2.Point) []Edge {
	out := make([]Edge, len(ring))
	for i, p := range ring {
		out[i] = Edge{p, ring[(i+1)%len(ring)]}
	}
	return out
}

// Nearest finds the nearest point of an outline or a part of one: its edges in blocks, each with the box about them.
type Nearest struct {
	Edges []Edge
	boxes []r2.Rect
}

const block = 16 // edges

// NewNearest puts edges into blocks; it keeps the list itself.
func NewNearest(edges []Edge) *Nearest {
	n := &Nearest{Edges: edges}
	for start := 0; start < len(edges); start += block {
		box := r2.EmptyRect()
		for _, e := range edges[start:min(start+block, len(edges))] {
			box = box.AddPoint(e[0]).AddPoint(e[1])
		}
		n.boxes = append(n.boxes, box)
	}
	return n
}

// NearRing is NewNearest for a whole outline.
func NearRing(ring []r2.Point) *Nearest { return NewNearest(Edges(ring)) }

// To returns the distance of a point from the outline and the outline's nearest point; +Inf without edges.
func (n *Nearest) To(p r2.Point) (distance float64, at r2.Point) {
	distance, at, _ = n.Find(p)
	return distance, at
}

// Find is To, and returns the index of the nearest edge as well: of several as near, the first.
func (n *Nearest) Find(p r2.Point) (distance float64, at r2.Point, edge int) {
	distance = math.Inf(1)
	for b, box := range n.boxes {
		if box.ClampPoint(p).Sub(p).Norm() >= distance {
			continue
		}
		for i := b * block; i < min((b+1)*block, len(n.Edges)); i++ {
			if d, q := ToSegment(p, n.Edges[i][0], n.Edges[i][1]); d < distance {
				distance, at, edge = d, q, i
			}
		}
	}
	return distance, at, edge
}

// ToEdge returns the distance of a point from one edge.
func (n *Nearest) ToEdge(p r2.Point, edge int) float64 {
	d, _ := ToSegment(p, n.Edges[edge][0], n.Edges[edge][1])
	return d
}

// ToSegment returns the distance of a segment from the outline, where they do not cross.
func (n *Nearest) ToSegment(a, b r2.Point) float64 {
	da, _ := n.To(a)
	db, _ := n.To(b)
	least := math.Min(da, db)
	for _, e := range n.Edges {
		for _, p := range e {
			d, _ := ToSegment(p, a, b)
			least = math.Min(least, d)
		}
	}
	return least
}

// Spaced returns a ring without points that lie within near (mm) of the one before.
func Spaced(ring []r2.Point, near float64) []r2.Point {
	var out []r2.Point
	for _, p := range ring {
		if len(out) == 0 || p.Sub(out[len(out)-1]).Norm() > near {
			out = append(out, p)
		}
	}
	for len(out) > 1 && out[0].Sub(out[len(out)-1]).Norm() <= near {
		out = out[:len(out)-1]
	}
	return out
}

// Unspiked returns a ring without the corners at which it turns back along itself: needles and slits narrower than wide, mm.
func Unspiked(ring []r2.Point, wide float64) []r2.Point {
	out := slices.Clone(ring)
	for i, since := 0, 0; len(out) > 3 && since < len(out); {
		n := len(out)
		before, at, after := out[(i+n-1)%n], out[i%n], out[(i+1)%n]
		there, _ := ToSegment(after, before, at)
		back, _ := ToSegment(before, at, after)
		if at.Sub(before).Dot(after.Sub(at)) < 0 && min(there, back) < wide {
			out = slices.Delete(out, i%n, i%n+1)
			if k := i % len(out); len(out) > 3 && after.Sub(before).Norm() < wide { // the needle's foot, or the blunt rest of it
				out = slices.Delete(out, k, k+1)
			}
			i, since = (i+len(out)-1)%len(out), 0
			continue
		}
		i, since = (i+1)%n, since+1
	}
	return out
}
