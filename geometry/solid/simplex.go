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
	corners [4]vertex
	weights [4]float64
}

// add takes in a point and reduces the simplex to those corners that its point nearest to the origin is
// a mean of. ok is false, and the simplex as before, where no point comes nearer than the distance before.
//
// All faces with the new point are tried and the best is kept. The nearest point is always
// worked out as a mean with weights from 0 to 1, so that rounding may cost a step but never gives
// a point outside the difference.
func (s *simplex) add(w vertex, before float64) (nearest r3.Vector, ok bool) {
	next := *s
	next.corners[s.n] = w
	k := s.n
	next.n++
	best := choice{norm2: before * before}
	best.vertex(&next, k)
	for i := range k {
		best.edge(&next, i, k)
		for j := range i {
			best.triangle(&next, j, i, k)
		}
	}
	if next.n == 4 {
		best.tetrahedron(&next)
	}
	if !best.found {
		return r3.Vector{}, false
	}
	s.n = 0
	for i, weight := range best.weights {
		if weight > 0 {
			s.corners[s.n], s.weights[s.n] = next.corners[i], weight
			s.n++
		}
	}
	return best.at, true
}

// direction returns the unit vector from the origin to the simplex, whose nearest point is given. Close to
// the origin the point alone does not tell it sharply enough, the triangle or edge that it lies on does.
func (s *simplex) direction(nearest r3.Vector) r3.Vector {
	a, b, d := s.corners[0].at, s.corners[1].at, s.corners[2].at
	ab, bd := b.Sub(a), d.Sub(b)
	switch s.n {
	case 2:
		nearest = nearest.Sub(ab.Mul(nearest.Dot(ab) / ab.Norm2()))
	case 3:
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

func (c *choice) take(at r3.Vector, weights [4]float64) {
	if n := at.Norm2(); n < c.norm2 {
		*c = choice{true, at, n, weights}
	}
}

func (c *choice) vertex(s *simplex, i int) {
	var w [4]float64
	w[i] = 1
	c.take(s.corners[i].at, w)
}

func (c *choice) edge(s *simplex, i, j int) {
	a, b := s.corners[i].at, s.corners[j].at
	along := b.Sub(a)
	t := -a.Dot(along) / along.Norm2()
	if !(t > 0 && t < 1) {
		return
	}
	var w [4]float64
	w[i], w[j] = 1-t, t
	c.take(a.Mul(1-t).Add(b.Mul(t)), w)
}

// triangle weighs the corners by the areas that they face, seen along the triangle's normal.
func (c *choice) triangle(s *simplex, i, j, k int) {
	a, b, d := s.corners[i].at, s.corners[j].at, s.corners[k].at
	ab, bd, da := b.Sub(a), d.Sub(b), a.Sub(d)
	n, _ := normal(ab, bd, da)
	u, v, x := n.Dot(b.Cross(bd)), n.Dot(d.Cross(da)), n.Dot(a.Cross(ab))
	sum := u + v + x
	if !(u > 0 && v > 0 && x > 0 && sum > 0) {
		return
	}
	var w [4]float64
	w[i], w[j], w[k] = u/sum, v/sum, x/sum
	at := a.Mul(w[i]).Add(b.Mul(w[j])).Add(d.Mul(w[k]))
	// In a long thin triangle the weights are not sharp enough along it: set them right edge by edge.
	for _, e := range [3]struct {
		along    r3.Vector
		from, to int
	}{{ab, i, j}, {bd, j, k}, {da, k, i}} {
		t := at.Dot(e.along) / e.along.Norm2()
		if w[e.from]+t >= 0 && w[e.to]-t >= 0 {
			w[e.from] += t
			w[e.to] -= t
			at = at.Sub(e.along.Mul(t))
		}
	}
	c.take(at, w)
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
