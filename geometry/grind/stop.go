package grind

import (
	"math"

	"github.com/golang/geo/s1"

	"locksweep/geometry/sweep"
	"locksweep/geometry/tolerance"
)

// Stop is what holds the wheels once the metal is off, in one direction.
type Stop struct {
	Metal  *sweep.Limit // the first positive stop; nil where there is none
	Faults []sweep.Code // what is wrong with it, the worst first: see sweep.Stopping
	Steer  s1.Angle     // of the wheel inside the turn when it touches
	// Hazard is what it must come before: the linkage's own end with a margin, too little leverage, a clash of tyre or rod, something nearer
	// than wanted.
	Hazard Most
	Latest s1.Angle // of the wheel inside the turn, by which the stop must have touched; +Inf where nothing asks for it
	Wanted s1.Angle // the lock that a pad should give: the target, or Latest where that is less
	Pad    *Place   // where a pad gives it; nil where none is needed or no place was found
	// Spare is a second positive stop that would come next and is cut away for the clearance alone; nil where there is none.
	Spare *sweep.Limit
	// Next is what touches next after the stop and is no stop itself; nil where nothing does or another stop comes first. Margin is how much further
	// the wheel inside the turn goes until then.
	Next      *sweep.Limit
	Margin    s1.Angle
	PlusMinus s1.Angle // by how much the lock may be off either way; NaN before Plan.Doubt
}

// Missing reports whether no metal stop comes in time and without fault.
func (s *Stop) Missing() bool { return len(s.Faults) > 0 }

// stops looks at what stops the wheels after the cuts, and finds places for pads where metal is missing.
func (j *job) stops() error {
	for _, d := range sweep.Directions {
		j.Stops[d] = j.stop(d)
	}
	return j.placePads()
}

// stop returns what holds the wheels in a direction after the cuts; Pad and Spare are left open.
func (p *Plan) stop(d sweep.Direction) (s Stop) {
	w := p.ways[d]
	stopping := p.After.Stopping(&p.Locks[d])
	s.Metal, s.Faults = stopping.Stop, stopping.Faults()
	if s.Metal != nil {
		s.Steer = w.steer(s.Metal.Column)
	}
	s.Hazard, s.Latest = w.furthest, w.furthest.At
	if s.Hazard.Reason == ByHalfTurn {
		s.Latest = s1.Angle(math.Inf(1))
	}
	s.Wanted = min(p.Steer[d], s.Latest)
	s.next(p, d)
	return s
}

// Doubt fills in by how much the locks of the plan may be off, by the accuracies of the setup or, where it gives none, the usual ones. It takes
// two sweeps for each thing that was measured.
func (p *Plan) Doubt() error {
	if len(p.Cuts) == 0 {
		return nil
	}
	const step = 5 * s1.Degree // only the locks are asked for
	as, err := sweep.Run(p.After.Setup, step)
	if err != nil {
		return err
	}
	const lock = "lock_inner"
	r, err := tolerance.Run(as, tolerance.Options{Keys: append(tolerance.Margins[:], lock)})
	if err != nil {
		return err
	}
	p.Sure = r
	for _, d := range sweep.Directions {
		if f := r.Find(lock, int(d)); f != nil {
			p.Stops[d].PlusMinus = s1.Angle(f.PlusMinus())
		}
	}
	return nil
}

// next fills in Next and Margin.
func (s *Stop) next(p *Plan, d sweep.Direction) {
	s.PlusMinus = s1.Angle(math.NaN())
	lock := &p.Locks[d]
	next := lock.Next()
	if s.Metal == nil || s.Missing() || next == nil || next.Kind != sweep.Contact || p.After.Positive(next) {
		return
	}
	s.Next, s.Margin = next, (p.SteerAt(d, next.Column) - s.Steer).Abs()
}

// Doubtful reports whether what comes next, a tyre, a rod or other thing that is no stop, may in truth touch before the stop does: whether Margin is
// no more than the lock may be off by, or than 3° where that is not known.
func (s *Stop) Doubtful() bool {
	wanted := s.PlusMinus
	if math.IsNaN(float64(wanted)) {
		wanted = sweep.WantedApart
	}
	return s.Next != nil && s.Margin <= wanted
}
