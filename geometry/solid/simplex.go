package solid

import (
	"math"

	"github.com/golang/geo/r3"
)

// vertex is a point of the difference of two cores and the two points that it is the difference of.
type vertex struct{ at, onA, onB r3.Vector }

// simplex is up to four points of the difference of two cores, with the weights of the mean of them that
// is nearest to the origin.
type simplex struct {
	n       int
	corners [4]vertex // the first n count
	weights [4]float64
}

// add takes in a point and reduces the simplex to those corners that its point nearest to the origin is
// a mean of. ok is false, and the simplex as before, where no point comes nearer than the distance before.
//
// All faces with the new point are tried and the best is kept. The nearest point is always
// worked out as a mean with weights from 0 to 1, so that rounding may cost a step but never gives
// a point outside the difference.
func (s *simplex) add(w *vertex, before float64) (nearest r3.Vector, ok bool) {
	k := s.n
	s.corners[k] = *w
	best := choice{norm2: before * before}
	best.vertex(s, k)
	for i := range k {
		best.edge(s, i, k)
		for j := range i {
			best.triangle(s, j, i, k)
		}
	}
	if k == 3 {
		best.tetrahedron(s)
	}
	if !best.found {
		return r3.Vector{}, false
	}
	s.n = 0
	for i, weight := range best.weights {
		if weight > 0 {
			if s.n != i {
				s.corners[s.n] = s.corners[i]
			}
			s.weights[s.n] = weight
			s.n++
		}
	}
	return best.at, true
}

// direction returns the unit vector from the origin to the simplex, whose nearest point is given. Close to
// the origin the point alone does not tell it sharply enough, the triangle or edge that it lies on does.
func (s *simplex) direction(nearest r3.Vector) r3.Vector {
	switch a, b := s.corners[0].at, s.corners[1].at; s.n {
	case 2:
		ab := b.Sub(a)
		nearest = nearest.Sub(ab.Mul(nearest.Dot(ab) / ab.Norm2()))
	case 3:
		d := s.corners[2].at
		ab, bd := b.Sub(a), d.Sub(b)
		n, longest2 := normal(ab, bd, a.Sub(d))
		if n.Norm2() > nearest.Norm2()*longest2 {
			nearest = n.Mul(math.Copysign(1, n.Dot(nearest)))
		}
	}
	return nearest.Normalize()
}

// points returns the nearest point as a point on either core.
func (s *simplex) points() (onA, onB r3.Vector) {
	for i := range s.n {
		onA = onA.Add(s.corners[i].onA.Mul(s.weights[i]))
		onB = onB.Add(s.corners[i].onB.Mul(s.weights[i]))
	}
	return onA, onB
}

// choice is the nearest point found so far.
type choice struct {
	found   bool
	at      r3.Vector
	norm2   float64
	weights [4]float64
}

// nearer reports whether a point is nearer than the nearest so far, and takes it then, with no weights yet.
func (c *choice) nearer(at r3.Vector) bool {
	n := at.Norm2()
	if !(n < c.norm2) {
		return false
	}
	*c = choice{found: true, at: at, norm2: n}
	return true
}

func (c *choice) vertex(s *simplex, i int) {
	if c.nearer(s.corners[i].at) {
		c.weights[i] = 1
	}
}

func (c *choice) edge(s *simplex, i, j int) {
	a, b := s.corners[i].at, s.corners[j].at
	along := b.Sub(a)
	t := -a.Dot(along) / along.Norm2()
	if !(t > 0 && t < 1) {
		return
	}
	if c.nearer(a.Mul(1 - t).Add(b.Mul(t))) {
		c.weights[i], c.weights[j] = 1-t, t
	}
}

// triangle weighs the corners by the areas that they face, seen along the triangle's normal.
func (c *choice) triangle(s *simplex, i, j, k int) {
	a, b, d := s.corners[i].at, s.corners[j].at, s.corners[k].at
	ab, bd, da := b.Sub(a), d.Sub(b), a.Sub(d)
	n, _ := normal(ab, bd, da)
	u := n.Dot(b.Cross(bd))
	if !(u > 0) {
		return
	}
	v, x := n.Dot(d.Cross(da)), n.Dot(a.Cross(ab))
	sum := u + v + x
	if !(v > 0 && x > 0 && sum > 0) {
		return
	}
	u, v, x = u/sum, v/sum, x/sum
	at := a.Mul(u).Add(b.Mul(v)).Add(d.Mul(x))
	// In a long thin triangle the weights are not sharp enough along it: set them right edge by edge.
	shift := func(along r3.Vector, from, to *float64) {
		t := at.Dot(along) / along.Norm2()
		if *from+t >= 0 && *to-t >= 0 {
			*from += t
			*to -= t
			at = at.Sub(along.Mul(t))
		}
	}
	shift(ab, &u, &v)
	shift(bd, &v, &x)
	shift(da, &x, &u)
	if c.nearer(at) {
		c.weights[i], c.weights[j], c.weights[k] = u, v, x
	}
}

// normal returns the cross product of the edges of a triangle, taken of the two shorter ones: two long
// edges side by side would lose what tells them apart. It returns the square of the longest edge as well.
func normal(ab, bd, da r3.Vector) (n r3.Vector, longest2 float64) {
	p, q, r := ab.Norm2(), bd.Norm2(), da.Norm2()
	switch {
	case p >= q && p >= r:
		return bd.Cross(da), p
	case q >= r:
		return da.Cross(ab), q
	}
	return ab.Cross(bd), r
}

// flat is how near to a face of a tetrahedron rounding cannot tell its sides apart, mm. The face
// itself then counts as near enough to the origin.
const flat = 1e-12

// tetrahedron holds the origin if the origin lies within each of its faces, on the side of the corner
// opposite. The weights are the heights over the faces, relative to those corners'.
func (c *choice) tetrahedron(s *simplex) {
	var w [4]float64
	for i := range w {
		a, b, d := s.corners[(i+1)%4].at, s.corners[(i+2)%4].at, s.corners[(i+3)%4].at
		n, _ := normal(b.Sub(a), d.Sub(b), a.Sub(d))
		origin, opposite := -n.Dot(a), n.Dot(s.corners[i].at.Sub(a))
		least := flat * n.Norm()
		if opposite < 0 {
			origin, opposite = -origin, -opposite
		}
		if !(origin > least && opposite > least) {
			return
		}
		w[i] = origin / opposite
	}
	*c = choice{true, r3.Vector{}, 0, w}
}
