package sweep

import (
	"math"

	"github.com/golang/geo/s1"

	"locksweep/geometry/advance"
	"locksweep/geometry/linkage"
)

// Leverage is the least transmission angle of what is looked at, and where it is: a transmission angle is of one end of one rod at one
// pose, leverage is what is left for the whole linkage.
type Leverage struct {
	Angle  s1.Angle
	Column s1.Angle
	Rod    int // of the linkage
	End    linkage.End
}

// Leverage returns the least transmission angle, at either end of either rod, at a column angle; ok is false
// where the linkage does not get there.
func (m *Model) Leverage(column s1.Angle) (least Leverage, ok bool) {
	if least = m.leverageAt()(column); math.IsInf(float64(least.Angle), 1) {
		return Leverage{}, false
	}
	return least, true
}

// LeastLeverage returns the leverage between two column angles, to 1e-5 degrees, to 1e-6 where it is small: of the ends of the rods that
// are named, or of both. The two fail in different ways: at the steering arm the force in the rod grows, and play and jamming with it; at
// the arm that drives the rod the steering goes light and dead, and may snap over. Where the linkage does not get to all of the way, what
// it gets to counts.
func (m *Model) LeastLeverage(from, to s1.Angle, ends ...linkage.End) Leverage {
	return m.leverageAt(ends...).least(from, to)
}

// LeverageWithin is LeastLeverage within the locks.
func (r *Result) LeverageWithin(ends ...linkage.End) Leverage {
	return r.LeastLeverage(r.Locks[ToRight].Column, r.Locks[ToLeft].Column, ends...)
}

// WeakensAt returns the first column angle, from one to another, past which the leverage is under what is wanted, and what it is there;
// found is false where there is none.
func (m *Model) WeakensAt(from, to, wanted s1.Angle) (at Leverage, found bool) {
	return m.leverageAt().weakens(from, to, wanted)
}

// leverageAt is the leverage by column angle; the angle is infinite where the linkage does not get there.
type leverageAt func(column s1.Angle) Leverage

// leverageAt is the leverage at ends of the rods, at both where none is named.
func (m *Model) leverageAt(ends ...linkage.End) leverageAt {
	if len(ends) == 0 {
		ends = linkage.Ends[:]
	}
	return func(column s1.Angle) Leverage {
		least := Leverage{Angle: s1.InfAngle(), Column: column, End: ends[0]}
		var p linkage.Pose
		if !m.Linkage.Fill(&p, column) {
			return least
		}
		for rod := range p.Rods {
			at := m.Linkage.Transmission(rod, &p)
			for _, end := range ends {
				if at[end] < least.Angle*even {
					least.Angle, least.Rod, least.End = at[end], rod, end
				}
			}
		}
		return least
	}
}

func (at leverageAt) least(from, to s1.Angle) (least Leverage) {
	least = Leverage{Angle: s1.InfAngle(), Column: from}
	at.walk(from, to, func(l Leverage) (stop bool) {
		if l.Angle < least.Angle*even {
			least = l
		}
		return false
	})
	return least
}

func (at leverageAt) weakens(from, to, wanted s1.Angle) (weak Leverage, found bool) {
	good := from
	at.walk(from, to, func(l Leverage) (stop bool) {
		if found = l.Angle < wanted; found {
			weak = l
		} else {
			good = l.Column
		}
		return found
	})
	if !found || weak.Column == from {
		return weak, found
	}
	good, _ = advance.Halve(good, weak.Column, 60, func(column s1.Angle) bool {
		l := at(column)
		if l.Angle < wanted {
			weak = l
		}
		return l.Angle < wanted
	})
	weak.Column = good
	return weak, true
}

// leverageStep is how finely a way is looked through for dips of the leverage before they are closed in on.
const leverageStep = 2 * s1.Degree

// walk shows, in order, the leverage at samples of a way and wherever it is least between two, until it is told to
// stop.
func (at leverageAt) walk(from, to s1.Angle, show func(Leverage) (stop bool)) {
	if from == to {
		show(at(from))
		return
	}
	n := min(max(int(math.Ceil(float64((to-from).Abs()/leverageStep))), 2), mostSteps)
	column := func(i int) s1.Angle {
		if i == n {
			return to
		}
		return from + (to-from)*s1.Angle(i)/s1.Angle(n)
	}
	before, here := at(from), at(from)
	for i := range n + 1 {
		next := here
		if i < n {
			next = at(column(i + 1))
		}
		if here.Angle <= before.Angle && here.Angle <= next.Angle && (0 < i && i < n || at.fallsInward(here, column(n/2))) {
			dip := at(advance.Dip(column(max(i-1, 0)), column(min(i+1, n)), func(c s1.Angle) float64 { return float64(at(c).Angle) }))
			if dip.Angle < here.Angle && show(dip) {
				return
			}
		}
		if show(here) {
			return
		}
		before, here = here, next
	}
}

// fallsInward reports whether the leverage falls from the end of a way towards its middle.
func (at leverageAt) fallsInward(end Leverage, middle s1.Angle) bool {
	return at(end.Column+(middle-end.Column)*1e-7).Angle < end.Angle
}
