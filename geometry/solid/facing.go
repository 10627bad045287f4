package solid

import (
	"math"

	"github.com/golang/geo/r3"

	"locksweep/geometry/rigid"
)

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
