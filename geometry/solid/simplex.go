package solid

import "github.com/golang/geo/r3"

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
	n := ab.Cross(bd)
	u, v, x := n.Dot(b.Cross(bd)), n.Dot(d.Cross(da)), n.Dot(a.Cross(ab))
	sum := u + v + x
	if !(u > 0 && v > 0 && x > 0 && sum > 0) {
		return
	}
	var w [4]float64
	w[i], w[j], w[k] = u/sum, v/sum, x/sum
	c.take(a.Mul(w[i]).Add(b.Mul(w[j])).Add(d.Mul(w[k])), w)
}

// tetrahedron holds the origin if the volumes over all four faces have one sign.
func (c *choice) tetrahedron(s *simplex) {
	p := &s.corners
	a, b, d, e := p[0].at, p[1].at, p[2].at, p[3].at
	va := b.Cross(d.Sub(b)).Dot(e.Sub(b))
	vb := -a.Cross(d.Sub(a)).Dot(e.Sub(a))
	vd := a.Cross(b.Sub(a)).Dot(e.Sub(a))
	ve := -a.Cross(b.Sub(a)).Dot(d.Sub(a))
	sum := va + vb + vd + ve
	w := [4]float64{va / sum, vb / sum, vd / sum, ve / sum}
	for _, weight := range w {
		if !(weight > 0) {
			return
		}
	}
	*c = choice{true, r3.Vector{}, 0, w}
}
