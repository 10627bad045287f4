package solid

import (
	"cmp"
	"math"
	"slices"

	"github.com/golang/geo/r3"

	"locksweep/geometry/rigid"
)

// Depth returns how far one of two solids would have to be moved, in whatever direction is shortest, for them only to
// touch, mm: 0 where they are apart. It is the least, over all directions, of how far the two reach into each
// other along it; every direction gives an upper bound, so that the result is never too small but by rounding. It is
// looked for from directions all around, and the best of them are closed in on: where the shapes are as simple as
// plates and tubes the error is under 0.001 mm.
func Depth(a, b *Solid, ma, mb rigid.Motion) float64 {
	one, other := a.Under(ma), b.Under(mb)
	along := func(d r3.Vector) float64 {
		return one.support(d).Sub(other.support(d.Mul(-1))).Dot(d)
	}
	var starts []start
	add := func(d r3.Vector) { starts = append(starts, start{d, along(d)}) }
	for i := range depthStarts {
		add(onSphere(i, depthStarts))
	}
	for _, s := range [2]*Posed{&one, &other} { // square to faces of plates and discs
		for _, axis := range s.frame.Turn {
			add(axis)
			add(axis.Mul(-1))
		}
	}
	slices.SortStableFunc(starts, func(a, b start) int { return cmp.Compare(a.value, b.value) })
	best := math.Inf(1)
	for _, s := range starts[:depthFollowed] {
		best = math.Min(best, s.descend(along))
	}
	return math.Max(best, 0)
}

const (
	depthStarts   = 96 // directions that a depth is looked for from
	depthFollowed = 8  // the best of them, which are closed in on
)

// start is a direction with the value there.
type start struct {
	dir   r3.Vector
	value float64
}

// onSphere returns one of n unit vectors spread evenly: on a spiral, by the golden angle.
func onSphere(i, n int) r3.Vector {
	z := 1 - (2*float64(i)+1)/float64(n)
	r := math.Sqrt(1 - z*z)
	sin, cos := math.Sincos(float64(i) * math.Pi * (3 - math.Sqrt(5)))
	return r3.Vector{X: r * cos, Y: r * sin, Z: z}
}

// descend closes in on a least value over directions by ever smaller steps. Where the value has an edge, as it has
// along the corners of plates, only few ways lead down: they are tried by the golden angle, so that none is missed for
// long.
func (s start) descend(of func(r3.Vector) float64) float64 {
	turn := 0.0
	for step := 0.2; step > 1e-6; {
		u := s.dir.Ortho()
		v := s.dir.Cross(u)
		before := s.value
		for range 20 {
			turn += math.Pi * (3 - math.Sqrt(5))
			sin, cos := math.Sincos(turn)
			next := s.dir.Add(u.Mul(step * cos)).Add(v.Mul(step * sin)).Normalize()
			if found := of(next); found < s.value-1e-12 {
				s = start{next, found}
				break
			}
		}
		if s.value == before {
			step /= 2
		}
	}
	return s.value
}

// Reach reports whether Depth is at least so much (mm, more than 0).
//
//  1. Balls about the two that do not reach so far into one another tell that they do not.
//  2. The moves that leave two convex solids in touch are a convex set: where the corners of an icosahedron about a ball of
//     that radius belong to it, the ball does. That decides most cases, and is quick.
//  3. Else Depth is found.
func Reach(a, b *Solid, ma, mb rigid.Motion, depth float64) bool {
	ca, ra := a.Ball()
	cb, rb := b.Ball()
	if ma.Point(ca).Sub(mb.Point(cb)).Norm() > ra+rb-depth {
		return false
	}
	if separate(a, b, &ma, &mb) {
		return false
	}
	const inner = 0.7946544722917661 // radius of the ball within an icosahedron, of that about it: √((5+2√5)/15)
	out := depth / inner
	for i := range 12 {
		moved := mb
		moved.Shift = mb.Shift.Add(icosahedron(i).Mul(out))
		if separate(a, b, &ma, &moved) {
			return Depth(a, b, ma, mb) >= depth
		}
	}
	return true
}

// icosahedron returns a corner of the icosahedron in the unit sphere.
func icosahedron(i int) r3.Vector {
	one, golden := 1.0, math.Phi
	if i&1 > 0 {
		one = -one
	}
	if i&2 > 0 {
		golden = -golden
	}
	v := [3]r3.Vector{{Y: one, Z: golden}, {X: golden, Z: one}, {X: one, Y: golden}}[i/4]
	return v.Normalize()
}
