package drill

import (
	"github.com/golang/geo/s1"

	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// Aims is what the hole is wanted for. What is left at its zero value is not asked for, but for Lock, Leverage,
// Clearance and Tie. All is judged between straight ahead and the lock wanted.
type Aims struct {
	// Lock is the least steer of the inner wheel at either lock; 0: as today. Where no metal stop sets today's lock,
	// it is as far as the linkage turns with Leverage and sweep.WantedMargin left: its own end is nothing to aim at.
	Lock s1.Angle
	// Percent of Ackermann wanted: 100 ideal, 0 parallel. The inner wheel's departure from it is made as
	// small as can be from From (mean steer; 0: 5 degrees) to To (mean steer; 0: where the inner
	// wheel comes to Lock), and must stay within Within, if that is not 0.
	Percent          float64
	From, To, Within s1.Angle
	// Ratio is the wheels' turn per turn of the column at centre, met to ratioSlack.
	Ratio float64
	Alike bool // left and right within AlikeSlack of one another
	// Leverage is the least transmission angle; 0: the file's limit. Where no place attains it,
	// places are held against today's, or against the most that can be had if today's is worse still.
	Leverage s1.Angle
	// Clearance is the least gap wanted, mm; 0: the file's limit, or today's least gap where that is less already.
	Clearance float64
	Tie       Tie
	// Cut tells that the stop is yet to be ground to the lock wanted: what stops the wheels now does not count.
	Cut bool

	stops [][2]int // pairs that stop it today
}

const (
	defaultFrom = 5 * s1.Degree
	ratioSlack  = 0.05 // of the ratio wanted
	AlikeSlack  = 0.5 * s1.Degree
)

// settle fills in what is left open from what the steering does today.
func (a *Aims) settle(now *sweep.Model) {
	fill := func(v *s1.Angle, or s1.Angle) {
		switch {
		case *v == 0:
			*v = or
		case *v < 0:
			*v = 0
		}
	}
	fill(&a.Tie.Error, DefaultTieError)
	fill(&a.Tie.Lock, DefaultTieLock)
	fill(&a.From, defaultFrom)
	fill(&a.Leverage, now.Setup.Limits.Transmission)
	a.stops = stopsOf(now)
	if !(a.Lock > 0) {
		a.Lock = s1.InfAngle()
		for _, d := range sweep.Directions {
			lock := now.FirstLimit(d)
			stopping := now.Stopping(&lock)
			inner, _ := turned(&lock.Pose)
			if first := lock.First(); stopping.Stop == nil && (first == nil || first.Kind.Ends() || first.Kind == sweep.RodEnd) {
				inner = a.sound(now, d, &lock)
			}
			a.Lock = min(a.Lock, inner)
		}
	}
	if a.Clearance == 0 {
		a.Clearance = now.Setup.Limits.Clearance
		f := a.figures(now)
		copy(f.stops[:], a.stops) // the stop itself has no gap, whether or not it is yet to be cut
		a.Clearance = min(a.Clearance, f.nearest(now, a.Clearance).Gap)
	}
}

// Lacks reports whether a least transmission angle counts as less than the leverage wanted, by the rule of setup.Limits.
func (a *Aims) Lacks(leverage s1.Angle) bool {
	return (&setup.Limits{Transmission: a.Leverage}).Weak(leverage)
}

// stopsOf lists the pairs whose contact stops the wheels in a model.
func stopsOf(m *sweep.Model) (list [][2]int) {
	for _, d := range sweep.Directions {
		lock := m.FirstLimit(d)
		if first := lock.First(); first != nil && first.Kind == sweep.Contact {
			list = append(list, first.Pair)
		}
	}
	return list
}

// sound returns how far the inner wheel turns in a direction while the leverage wanted and a margin to the linkage's own end are left,
// into the turn. Where the leverage is less straight ahead already, the margin alone counts.
func (a *Aims) sound(now *sweep.Model, d sweep.Direction, lock *sweep.Lock) s1.Angle {
	end := s1.Angle(d.Sign()) * max(0, lock.Column.Abs()-sweep.WantedMargin)
	if weak, found := now.WeakensAt(0, end, a.Leverage); found && weak.Column != 0 {
		end = weak.Column
	}
	p, ok := now.Pose(end)
	if !ok {
		return 0
	}
	inner, _ := turned(&p)
	return inner
}
