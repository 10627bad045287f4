package planar

import (
	"math"

	"github.com/golang/geo/r2"
)

// triangle is three corners of a ring by their index, counter-clockwise.
type triangle [3]int

// earClip cuts a tidy counter-clockwise ring into triangles. ok is false where no ear is left, as can
// only happen in a ring that crosses or touches itself.
func earClip(ring []r2.Point) (triangles []triangle, ok bool) {
	c := newClipper(ring)
	triangles = make([]triangle, 0, len(ring)-2)
	left := len(ring)
	// waiting counts corners looked at since the last cut: a whole round without a cut is the end.
	for i, waiting := 0, 0; left > 3; {
		before, after := c.before[i], c.after[i]
		switch bend := Orient(ring[before], ring[i], ring[after]); {
		case bend == 0:
			// In line by earlier cuts: nothing is lost with the corner.
		case bend > 0 && c.empty(before, i, after):
			triangles = append(triangles, triangle{before, i, after})
		default:
			if waiting++; waiting > left {
				return nil, false
			}
			i = after
			continue
		}
		c.remove(i)
		left--
		waiting = 0
		i = c.after[after] // not the next corner: a fan from one point makes slivers
	}
	last := c.any
	rest := triangle{c.before[last], last, c.after[last]}
	if bend := Orient(ring[rest[0]], ring[rest[1]], ring[rest[2]]); bend > 0 {
		triangles = append(triangles, rest)
	} else if bend < 0 {
		return nil, false
	}
	return triangles, true
}

// clipper is what is left of a ring, and a grid over its concave corners, the only ones that can lie
// in an ear.
type clipper struct {
	ring          []r2.Point
	before, after []int
	any           int // a corner that is left
	concave       []bool
	low           r2.Point
	cell          r2.Point // size of a grid cell, mm
	across        int      // cells each way
	grid          [][]int
}

func newClipper(ring []r2.Point) *clipper {
	n := len(ring)
	box := r2.RectFromPoints(ring...)
	c := &clipper{
		ring: ring, before: make([]int, n), after: make([]int, n), concave: make([]bool, n),
		low: box.Lo(), across: 1 + int(math.Sqrt(float64(n))),
	}
	c.cell = box.Size().Mul(1 / float64(c.across))
	c.grid = make([][]int, c.across*c.across)
	for i := range ring {
		c.before[i], c.after[i] = (i+n-1)%n, (i+1)%n
	}
	for i, p := range ring {
		if c.concave[i] = Orient(ring[c.before[i]], p, ring[c.after[i]]) < 0; c.concave[i] {
			x, y := c.at(p)
			c.grid[y*c.across+x] = append(c.grid[y*c.across+x], i)
		}
	}
	return c
}

// at returns the grid cell of a point.
func (c *clipper) at(p r2.Point) (x, y int) {
	p = p.Sub(c.low)
	return min(int(p.X/c.cell.X), c.across-1), min(int(p.Y/c.cell.Y), c.across-1)
}

// empty reports whether no concave corner that is left lies in the triangle of three corners or on its rim.
func (c *clipper) empty(i, j, k int) bool {
	a, b, d := c.ring[i], c.ring[j], c.ring[k]
	box := r2.RectFromPoints(a, b, d)
	x0, y0 := c.at(box.Lo())
	x1, y1 := c.at(box.Hi())
	for y := y0; y <= y1; y++ {
		for x := x0; x <= x1; x++ {
			for _, m := range c.grid[y*c.across+x] {
				p := c.ring[m]
				if c.concave[m] && m != i && m != j && m != k && box.ContainsPoint(p) &&
					Orient(a, b, p) >= 0 && Orient(b, d, p) >= 0 && Orient(d, a, p) >= 0 {
					return false
				}
			}
		}
	}
	return true
}

// remove takes a corner out of the ring. Its neighbours may become convex, never concave.
func (c *clipper) remove(i int) {
	before, after := c.before[i], c.after[i]
	c.after[before], c.before[after] = after, before
	c.any = before
	for _, j := range [2]int{before, after} {
		c.concave[j] = c.concave[j] && Orient(c.ring[c.before[j]], c.ring[j], c.ring[c.after[j]]) < 0
	}
}
