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

// LeverageByEnd is LeverageWithin of each end of the rods.
func (r *Result) LeverageByEnd() (least [2]Leverage) {
	w := wayOf(r.Locks[ToRight].Column, r.Locks[ToLeft].Column)
	both := make([]transmissions, w.n+1)
	for i := range both {
		both[i] = r.transmissions(w.column(i))
	}
	for _, end := range linkage.Ends {
		least[end] = r.leverageAt(end).leastOf(w, func(i int) Leverage { return both[i].least(end) })
	}
	return least
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
		angles := m.transmissions(column)
		return angles.least(ends...)
	}
}

// transmissions are the transmission angles at a column angle, by rod of the linkage and linkage.End; infinite where the linkage does not get there.
type transmissions struct {
	column s1.Angle
	angles [2][2]s1.Angle
}

func (m *Model) transmissions(column s1.Angle) (t transmissions) {
	var p linkage.Pose
	t.column = column
	reached := m.Linkage.FillRods(&p, column)
	for rod := range p.Rods {
		if t.angles[rod] = [2]s1.Angle{s1.InfAngle(), s1.InfAngle()}; reached {
			t.angles[rod] = m.Linkage.Transmission(rod, &p)
		}
	}
	return t
}

// least is the least of them at ends of the rods.
func (t *transmissions) least(ends ...linkage.End) Leverage {
	least := Leverage{Angle: s1.InfAngle(), Column: t.column, End: ends[0]}
	for rod := range t.angles {
		for _, end := range ends {
			if at := t.angles[rod][end]; at < least.Angle*even {
				least.Angle, least.Rod, least.End = at, rod, end
			}
		}
	}
	return least
}

func (at leverageAt) least(from, to s1.Angle) (least Leverage) {
	w := wayOf(from, to)
	return at.leastOf(w, func(i int) Leverage { return at(w.column(i)) })
}

// leastOf is least of a way of which the samples are given.
func (at leverageAt) leastOf(w samples, sample func(i int) Leverage) (least Leverage) {
	least = Leverage{Angle: s1.InfAngle(), Column: w.from}
	at.walk(w, sample, func(l Leverage) (stop bool) {
		if l.Angle < least.Angle*even {
			least = l
		}
		return false
	})
	return least
}

func (at leverageAt) weakens(from, to, wanted s1.Angle) (weak Leverage, found bool) {
	good, w := from, wayOf(from, to)
	at.walk(w, func(i int) Leverage { return at(w.column(i)) }, func(l Leverage) (stop bool) {
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

// samples are the column angles at which a way is looked through: column(0) to column(n).
type samples struct {
	from, to s1.Angle
	n        int
}

func wayOf(from, to s1.Angle) samples {
	w := samples{from: from, to: to}
	if from != to {
		w.n = min(max(int(math.Ceil(float64((to-from).Abs()/leverageStep))), 2), mostSteps)
	}
	return w
}

func (w *samples) column(i int) s1.Angle {
	switch i {
	case 0:
		return w.from
	case w.n:
		return w.to
	}
	return w.from + (w.to-w.from)*s1.Angle(i)/s1.Angle(w.n)
}

// walk shows, in order, the leverage at samples of a way and wherever it is least between two, until it is told to
// stop.
func (at leverageAt) walk(w samples, sample func(i int) Leverage, show func(Leverage) (stop bool)) {
	here, n := sample(0), w.n
	if n == 0 {
		show(here)
		return
	}
	before := here
	for i := range n + 1 {
		next := here
		if i < n {
			next = sample(i + 1)
		}
		if here.Angle <= before.Angle && here.Angle <= next.Angle && (0 < i && i < n || at.fallsInward(here, w.column(n/2))) {
			dip := at(advance.Dip(w.column(max(i-1, 0)), w.column(min(i+1, n)), func(c s1.Angle) float64 { return float64(at(c).Angle) }))
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
