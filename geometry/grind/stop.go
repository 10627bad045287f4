package grind

import (
	"math"

	"github.com/golang/geo/s1"

	"locksweep/geometry/sweep"
)

// Stop is what holds the wheels once the metal is off, in one direction.
type Stop struct {
	Metal  *sweep.Limit // the first positive stop; nil where there is none
	Faults []sweep.Code // what is wrong with it, the worst first: see sweep.Stopping
	Steer  s1.Angle     // of the wheel inside the turn when it touches
	// Hazard is what it must come before: too near to the linkage's own end, too little leverage, a clash of tyre or rod,
	// something nearer than wanted.
	Hazard Most
	Latest s1.Angle // of the wheel inside the turn, by which metal must have touched; +Inf where nothing asks for it
	Wanted s1.Angle // the lock that a pad should give: the target, or Latest
	Pad    *Place   // where a pad gives it; nil where none is needed or no place was found
	// Spare is a second positive stop that would come next, and that is cut away for the clearance alone; nil where there is none.
	Spare *sweep.Limit
	// Next is what touches next after the stop and is none itself; nil where nothing does, or another stop comes before. Margin is of the wheel
	// inside the turn between both; PlusMinus what the lock may be off by either way, NaN before Plan.Doubt.
	Next              *sweep.Limit
	Margin, PlusMinus s1.Angle
}

// Missing reports whether metal does not come in time.
func (s *Stop) Missing() bool { return len(s.Faults) > 0 }

// stops looks at what stops the wheels after the cuts, and finds places for pads where metal is missing.
func (j *job) stops(p *Plan) error {
	for _, d := range sweep.Directions {
		p.Stops[d] = p.stop(d)
	}
	return j.placePads(p)
}

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
