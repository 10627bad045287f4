package solid

import (
	"math"

	"github.com/golang/geo/r3"

	"locksweep/geometry/rigid"
)

// Distance returns the gap between two solids, each under the motion of its body, and the nearest
// points on their surfaces, mm. For solids of up to 2000 mm the error of the gap is below 1e-9 mm, save
// where the cores come within 1e-6 mm of one another: there it may be up to 2e-7 mm.
//
// Where the solids overlap the gap is negative as long as their cores stay apart: exactly the overlap
// of the roundings. Once the cores touch the gap stays at minus the sum of the two rounding radii, 0 for
// two solids without rounding, and both points are one common point. Where nearest points are
// not unique, as between parallel faces, one pair of them is given.
//
// The method is that of Gilbert, Johnson and Keerthi (IEEE J. Robotics and Automation 4, 1988;
// memory): the point nearest to the origin in the set of all differences between points of
// the two cores, closed in on by simplices of support points. Every direction tried proves a lower
// bound, every simplex an upper one; it ends when they meet.
func Distance(a, b *Solid, ma, mb rigid.Motion) (gap float64, onA, onB r3.Vector) {
	var q query
	q.start(a, b, &ma, &mb)
	q.solve(math.Inf(1))
	onA, onB = q.points()
	return q.upper - a.round - b.round, q.frame.Point(onA), q.frame.Point(onB)
}

// Beyond reports whether the gap between two solids is greater than d (mm), with far fewer steps than
// Distance where it is by much. If so, bound is greater than d and no more than the gap; if not,
// bound is the gap itself as by Distance.
func Beyond(a, b *Solid, ma, mb rigid.Motion, d float64) (bound float64, beyond bool) {
	var q query
	q.start(a, b, &ma, &mb)
	rounds := a.round + b.round
	q.solve(d + rounds)
	if q.lower-rounds > d {
		return q.lower - rounds, true
	}
	return q.upper - rounds, q.upper-rounds > d
}

// Apart is Beyond for two solids as they stand, with a coarser answer: where the gap is not beyond d (mm), bound lies below it by up
// to coarse.
func Apart(a, b *Solid, d float64) (bound float64, beyond bool) {
	q := query{coarse: coarse}
	q.between(a, b, a.place, b.place)
	rounds := a.round + b.round
	q.solve(d + rounds)
	return q.lower - rounds, q.lower-rounds > d
}

// coarse is how near the two bounds of a distance must come to one another for a bound, mm.
const coarse = 0.1

// separate reports whether the gap by Distance is greater than 0.
func separate(a, b *Solid, ma, mb *rigid.Motion) bool {
	q := query{coarse: math.Inf(1)}
	q.start(a, b, ma, mb)
	q.solve(a.round + b.round)
	return max(q.lower, q.upper) > a.round+b.round
}

// tolerance is how near the two bounds of a distance must come to one another, mm.
const tolerance = 1e-10

// maxSteps ends a query that rounding keeps from ending earlier; its bounds are then what they are.
const maxSteps = 100

// query is the search for the distance of two cores, in the core axes of the first.
type query struct {
	a, b         *Solid
	frame        rigid.Motion // of the first core's axes
	other        rigid.Motion // of the second core's axes in the first's
	simplex      simplex
	v            r3.Vector // unit vector from the origin to the nearest point of the simplex; zero proves nothing
	lower, upper float64   // bounds of the cores' distance
	onA, onB     r3.Vector // points of the two cores that are upper apart
	steps        int
	coarse       float64 // how near the bounds of a distance that is not enough must come to one another, mm
}

func (q *query) start(a, b *Solid, ma, mb *rigid.Motion) {
	q.between(a, b, ma.After(a.place), mb.After(b.place))
}

// between is start for cores whose axes are given.
func (q *query) between(a, b *Solid, first, second rigid.Motion) {
	q.a, q.b, q.frame = a, b, first
	apart := second.Shift.Sub(q.frame.Shift)
	for i, axis := range second.Turn {
		q.other.Turn[i] = q.frame.Back(axis)
	}
	q.other.Shift = q.frame.Back(apart)
	q.v = q.other.Shift.Mul(-1).Normalize()
	q.upper = math.Inf(1)
}

// furthest returns the point of the difference of the cores furthest in direction d, and the two points
// that it is the difference of.
func (q *query) furthest(d r3.Vector) (w vertex) {
	w.onA = q.a.support(d)
	w.onB = q.other.Point(q.b.support(q.other.Back(d.Mul(-1))))
	w.at = w.onA.Sub(w.onB)
	return w
}

// solve closes in on the distance of the cores until it is proven to exceed enough, or known: to within coarse where it does not exceed
// enough, else to within tolerance.
func (q *query) solve(enough float64) {
	for q.steps = 1; q.steps <= maxSteps; q.steps++ {
		w := q.furthest(q.v.Mul(-1))
		q.lower = max(q.lower, q.v.Dot(w.at))
		if q.lower > enough || q.upper-q.lower <= tolerance || q.upper <= enough && q.upper-q.lower <= q.coarse {
			return
		}
		nearer, ok := q.simplex.add(&w, q.upper)
		if !ok {
			// Of the many furthest points on a straight side this one may have been a far one, and what it
			// has to add then is lost in rounding. A near one may help.
			w = q.settled()
			if nearer, ok = q.simplex.add(&w, q.upper); !ok {
				return
			}
		}
		q.onA, q.onB = q.simplex.points()
		if q.upper = nearer.Norm(); q.upper <= tolerance {
			q.upper = 0
			return
		}
		q.v = q.simplex.direction(nearer)
	}
}

// settled returns a point of the difference near the nearest known one, from the points of the cores that
// are nearest to one another by turns.
func (q *query) settled() vertex {
	p := q.a.nearest(q.onB)
	o := q.other.Point(q.b.nearest(q.other.Back(p.Sub(q.other.Shift))))
	return vertex{p.Sub(o), p, o}
}

// points returns the nearest points on the surfaces, in the first core's axes.
func (q *query) points() (onA, onB r3.Vector) {
	if q.upper == 0 {
		middle := q.onA.Add(q.onB).Mul(0.5)
		return middle, middle
	}
	return q.onA.Sub(q.v.Mul(q.a.round)), q.onB.Add(q.v.Mul(q.b.round))
}

// sameGap is within what gaps are equal here, mm.
const sameGap = 1e-6

// Facing returns nearest points of two solids that lie gap (mm, not negative) apart by Distance. Where many pairs of points are as near, as
// between parallel faces, rounding does not choose among them: the search starts midway between the two solids and goes to and fro, each time
// to the nearest point of the other core (alternating projections: von Neumann, Annals of Mathematics Studies 22, 1950; memory), and
// between parallel faces ends near their middle. ok is false where it does not come as near as gap, which happens only where few points are.
func Facing(a, b *Solid, ma, mb rigid.Motion, gap float64) (onA, onB r3.Vector, ok bool) {
	const most = 64
	var step, last r3.Vector
	first, second := ma.After(a.place), mb.After(b.place)
	onB = first.Shift.Add(second.Shift).Mul(0.5)
	for i := range most {
		before := onB
		onA = first.Point(a.nearest(first.Back(onB.Sub(first.Shift))))
		onB = second.Point(b.nearest(second.Back(onA.Sub(second.Shift))))
		step, last = onB.Sub(before), step
		if step.Norm() < 1e-11 {
			break
		}
		// Between faces at an angle each step is the same share of the one before, and where they lead is their sum.
		if share := step.Dot(last) / last.Norm2(); i%3 == 2 && share > 0 && share < 1 {
			onB = onB.Add(step.Mul(share / (1 - share)))
		}
	}
	way := onB.Sub(onA)
	apart := way.Norm()
	if math.Abs(apart-a.round-b.round-gap) > sameGap {
		return onA, onB, false
	}
	if apart > sameGap {
		way = way.Mul(1 / apart)
		onA, onB = onA.Add(way.Mul(a.round)), onB.Sub(way.Mul(b.round))
	}
	return onA, onB, true
}
