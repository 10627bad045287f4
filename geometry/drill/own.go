package drill

import (
	"math"

	"github.com/golang/geo/s1"

	"locksweep/geometry/clearance"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// PastWanted reports whether a listed place turns further than the lock wanted, as far as angles are told.
func (l *Listed) PastWanted() bool {
	const told = 0.05 * s1.Degree
	return max(l.Beyond[sweep.ToLeft], l.Beyond[sweep.ToRight]) >= told
}

// Ends looks at a listed place up to its own locks, which may lie beyond the lock wanted. It returns how far the inner wheel is off
// the Ackermann wanted at the worse of both locks, unsigned, NaN where it cannot be told; and the least leverage between the locks.
func (r *Result) Ends(l *Listed) (off, leverage s1.Angle) {
	for d := range l.Sweep.Locks {
		p := &l.Sweep.Locks[d].Pose
		off = max(off, r.Aims.departure(p).Abs())
	}
	return off, l.Sweep.LeverageWithin().Angle
}

// Tightest returns what comes nearest between a listed place's own locks, but for what stops it, and its gap, mm; NaN where nothing comes near.
func (l *Listed) Tightest() (near clearance.Near, gap float64) {
	if least, ok := l.Sweep.LeastGap(); ok {
		return *least, least.Gap
	}
	return nothingNear, math.NaN()
}

// TightPast reports whether something in a listed place comes nearer than the file wants, and than it does up to the lock wanted, on the
// way from there to the place's own lock: whoever drills there meets it.
func (l *Listed) TightPast() bool {
	const told = 0.05 // mm, as gaps are told
	_, gap := l.Tightest()
	return l.PastWanted() && gap < l.Sweep.Setup.Limits.Clearance-told && !(gap >= l.Clearance-setup.GapKnown)
}

// Soon returns what may in truth touch before the metal stop of a listed place does, a tyre, a rod or another thing that is no stop, and how
// much of the wheel inside the turn it comes after it, less than sweep.WantedApart; nil where nothing comes so soon.
func (l *Listed) Soon(d sweep.Direction) (soon *sweep.Limit, apart s1.Angle) {
	m, lock := l.Sweep.Model, &l.Sweep.Locks[d]
	first, next := lock.First(), lock.Next()
	if first == nil || !m.Positive(first) || next == nil || next.Kind != sweep.Contact || m.Positive(next) {
		return nil, 0
	}
	p, ok := m.Pose(next.Column)
	if apart = (m.InnerSteer(d, &p) - m.InnerSteer(d, &lock.Pose)).Abs(); !ok || apart > sweep.WantedApart {
		return nil, 0
	}
	return next, apart
}
