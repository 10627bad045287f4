package linkage

import (
	"locksweep/geometry/advance"
	"math"
	"slices"

	"github.com/golang/geo/s1"
)

// slideBack is a Loop whose In slides, driven from Out: given the angle of Out it tells how far In has slid, in closed form. With
// Out's ball at t along the slide from where In's ball stands at angle 0, and n the square of its distance from there, the rod's
// length L asks (t - q)² = L² - n + t² of the way q; t and n are linear in cosine and sine of Out's angle.
type slideBack struct {
	t, n   trig1
	length float64
	slide  float64 // mm a radian
	branch float64 // +1 or -1: In beyond Out's ball along the slide, or short of it
}

// slideSwapped is swapped for a loop whose In slides.
func (l *Loop) slideSwapped(in, out s1.Angle) slideBack {
	along := l.Out.Axis.Dir.Mul(l.Out.Axis.Dir.Dot(l.Out.Arm))
	fixed := l.Out.Axis.Point.Add(along).Sub(l.In.Axis.Point).Sub(l.In.Arm)
	cos, sin := l.Out.Arm.Sub(along), l.Out.Axis.Dir.Cross(l.Out.Arm)
	d := l.In.Axis.Dir
	b := slideBack{
		t:      trig1{fixed.Dot(d), cos.Dot(d), sin.Dot(d)},
		n:      trig1{fixed.Norm2() + cos.Norm2(), 2 * fixed.Dot(cos), 2 * fixed.Dot(sin)},
		length: l.Length, slide: l.In.Slide,
	}
	s, c := math.Sincos(float64(out))
	b.branch = math.Copysign(1, l.In.Slide*float64(in)-b.t.at(s, c))
	return b
}

// input returns the angle of In with Out at an angle; ok is false where the rod does not reach.
func (b *slideBack) input(out float64) (in float64, ok bool) {
	sin, cos := math.Sincos(out)
	t, square := b.t.at(sin, cos), b.length*b.length
	q2 := square - b.n.at(sin, cos) + t*t
	return (t + b.branch*math.Sqrt(math.Max(q2, 0))) / b.slide, q2 >= -foldSlack*square
}

// fold returns the angle of Out, from angle from in direction dir and at most span on, at which the rod first stands square to the
// slide: In cannot be pushed further. It also returns the angle of In there.
func (b *slideBack) fold(from, dir, span float64) (out, in float64, found bool) {
	g := b.t.squared().plus(trig2{b.length * b.length}).plus(trig2{-b.n[0], -b.n[1], -b.n[2]})
	if out, found = g.firstZero(from, dir, span); !found {
		return 0, 0, false
	}
	sin, cos := math.Sincos(out)
	return out, b.t.at(sin, cos) / b.slide, true
}

// poly is a polynomial, its constant first.
type poly []float64

func (p poly) at(x float64) (v float64) {
	for _, c := range slices.Backward(p) {
		v = v*x + c
	}
	return v
}

// discriminant is x² + y² - c² by the angle of In, which slides.
func (l *Loop) discriminant() poly {
	p := make(poly, 5)
	add := func(sign, a, b, c float64) { // sign·(a + b·φ + c·φ²)²
		p[0] += sign * a * a
		p[1] += sign * 2 * a * b
		p[2] += sign * (b*b + 2*a*c)
		p[3] += sign * 2 * b * c
		p[4] += sign * c * c
	}
	add(1, l.x[0], l.x[1], 0)
	add(1, l.y[0], l.y[1], 0)
	add(-1, l.c[0], l.c[1], l.c[2])
	return p
}

// roots returns the places between low and high where the polynomial is zero, ascending: between the roots of its
// derivative it runs one way, so that halving finds every one, to the last digit. A double root counts where rounding leaves one.
func (p poly) roots(low, high float64) (list []float64) {
	if len(p) < 2 {
		return nil
	}
	slope := make(poly, len(p)-1)
	for i := range slope {
		slope[i] = float64(i+1) * p[i+1]
	}
	turns := append(append([]float64{low}, slope.roots(low, high)...), high)
	for i, to := range turns[1:] {
		from := turns[i]
		before, after := p.at(from), p.at(to)
		switch {
		case before == 0:
			list = append(list, from)
		case before*after < 0:
			_, at := advance.Halve(from, to, 200, func(x float64) bool { return !(p.at(x)*before > 0) })
			list = append(list, at)
		}
	}
	if p.at(high) == 0 {
		list = append(list, high)
	}
	return list
}

// firstZero returns the first place, from angle from in direction dir (±1) and at most span on, at which the polynomial,
// positive at first, falls to zero.
func (p poly) firstZero(from, dir, span float64) (at float64, found bool) {
	if p.at(from) <= 0 {
		return from, true
	}
	low, high := min(from, from+dir*span), max(from, from+dir*span)
	list := p.roots(low, high)
	if len(list) == 0 {
		return 0, false
	}
	if dir > 0 {
		return list[0], true
	}
	return list[len(list)-1], true
}
