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
	if least = m.transmissions(column).least(linkage.Ends[:]); math.IsInf(float64(least.Angle), 1) {
		return Leverage{}, false
	}
	return least, true
}

// LeastLeverage returns the leverage between two column angles, to 1e-5 degrees, to 1e-6 where it is small: of the ends of the rods that
// are named, or of both. The two fail in different ways: at the steering arm the force in the rod grows, and play and jamming with it; at
// the arm that drives the rod the steering goes light and dead, and may snap over. Where the linkage does not get to all of the way, what
// it gets to counts.
func (m *Model) LeastLeverage(from, to s1.Angle, ends ...linkage.End) Leverage {
	return newPassage(m.transmissions, from, to).least(ends...)
}

// LeverageWithin is LeastLeverage within the locks.
func (r *Result) LeverageWithin(ends ...linkage.End) Leverage {
	return r.LeastLeverage(r.Locks[ToRight].Column, r.Locks[ToLeft].Column, ends...)
}

// LeverageByEnd is LeverageWithin of each end of the rods.
func (r *Result) LeverageByEnd() (least [2]Leverage) {
	p := newPassage(r.transmissions, r.Locks[ToRight].Column, r.Locks[ToLeft].Column)
	for _, end := range linkage.Ends {
		least[end] = p.least(end)
	}
	return least
}

// WeakensAt returns the first column angle, from one to another, past which the leverage is under what is wanted, and what it is there;
// found is false where there is none.
func (m *Model) WeakensAt(from, to, wanted s1.Angle) (at Leverage, found bool) {
	return newPassage(m.transmissions, from, to).weakens(wanted)
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
func (t transmissions) least(ends []linkage.End) Leverage {
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

// leverageStep is how finely a way is looked through for dips of the leverage before they are closed in on.
const leverageStep = 2 * s1.Degree

// passage is a way of the column, with the transmission angles at samples spread evenly over it: two at least, one where it has no length.
type passage struct {
	at      func(column s1.Angle) transmissions
	samples []transmissions
}

func newPassage(at func(column s1.Angle) transmissions, from, to s1.Angle) passage {
	steps := 0
	if from != to {
		steps = min(max(int(math.Ceil(float64((to-from).Abs()/leverageStep))), 2), mostSteps)
	}
	p := passage{at, make([]transmissions, 0, steps+1)}
	for i := range steps {
		p.samples = append(p.samples, at(from+(to-from)*s1.Angle(i)/s1.Angle(steps)))
	}
	p.samples = append(p.samples, at(to))
	return p
}

// least is the least leverage on the way at ends of the rods, at both where none is named.
func (p passage) least(ends ...linkage.End) Leverage {
	least := Leverage{Angle: s1.InfAngle(), Column: p.samples[0].column}
	p.walk(ends, func(l Leverage) (stop bool) {
		if l.Angle < least.Angle*even {
			least = l
		}
		return false
	})
	return least
}

// weakens is WeakensAt on the way.
func (p passage) weakens(wanted s1.Angle) (weak Leverage, found bool) {
	good := p.samples[0].column
	p.walk(nil, func(l Leverage) (stop bool) {
		if found = l.Angle < wanted; found {
			weak = l
		} else {
			good = l.Column
		}
		return found
	})
	if !found || weak.Column == p.samples[0].column {
		return weak, found
	}
	good, _ = advance.Halve(good, weak.Column, 60, func(column s1.Angle) bool {
		l := p.at(column).least(linkage.Ends[:])
		if l.Angle < wanted {
			weak = l
		}
		return l.Angle < wanted
	})
	weak.Column = good
	return weak, true
}

// walk shows, in order, the leverage at the samples and wherever it is least between two, until it is told to stop. It is that at
// ends of the rods, at both where none is named.
func (p passage) walk(ends []linkage.End, show func(Leverage) (stop bool)) {
	if len(ends) == 0 {
		ends = linkage.Ends[:]
	}
	n := len(p.samples) - 1
	angle := func(column s1.Angle) float64 { return float64(p.at(column).least(ends).Angle) }
	// fallsInward reports whether the leverage falls from the end of the way towards its middle.
	fallsInward := func(end Leverage) bool {
		return angle(end.Column+(p.samples[n/2].column-end.Column)*1e-7) < float64(end.Angle)
	}
	here := p.samples[0].least(ends)
	before := here
	for i := range p.samples {
		next := p.samples[min(i+1, n)].least(ends)
		if here.Angle <= before.Angle && here.Angle <= next.Angle && (0 < i && i < n || fallsInward(here)) {
			dip := p.at(advance.Dip(p.samples[max(i-1, 0)].column, p.samples[min(i+1, n)].column, angle)).least(ends)
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

// Margin is how far past a lock the linkage gives out at one end of a rod.
type Margin struct {
	Column s1.Angle // from the lock on; 0 where the lock is that point
	// Leverage is what is left at that end with the wheels at the lock.
	Leverage s1.Angle
}

// Margins returns, of the lock in a direction, how far it is to the nearest dead point (at linkage.AtArm) and over
// centre (at linkage.AtDropArm), whatever stops the wheels before; found is false where there is none within half a turn.
func (r *Result) Margins(d Direction) (margins [2]Margin, found [2]bool) {
	lock := &r.Locks[d]
	for rod := range r.Linkage.Rods {
		for end, of := range [2]func(int, float64) (s1.Angle, bool){linkage.AtArm: r.Linkage.DeadPoint, linkage.AtDropArm: r.Linkage.OverCentre} {
			column, ok := of(rod, d.Sign())
			if by := (column - lock.Column).Abs(); ok && (!found[end] || by < margins[end].Column) {
				margins[end] = Margin{Column: by, Leverage: lock.Pose.Transmission[rod][end]}
				found[end] = true
			}
		}
	}
	return margins, found
}
