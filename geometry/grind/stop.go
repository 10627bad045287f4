package grind

import (
	"math"
	"slices"

	"github.com/golang/geo/s1"

	"locksweep/geometry/clearance"
	"locksweep/geometry/sweep"
)

// Margin is the wheel angle wanted between a metal stop and what it protects (common practice, no source).
const Margin = 5 * s1.Degree

// Stop is what holds the wheels once the metal is off, in one direction.
type Stop struct {
	// Hazard is what metal must come before: a clash of tyre or rod, a bound rod end, the linkage's own
	// end, all with the margin, or too little leverage. Without one Latest is +Inf.
	Hazard Most
	Latest s1.Angle     // of the wheel inside the turn, by which metal must have touched
	Metal  *sweep.Limit // the metal that touches first before the hazard; nil where none does
	Steer  s1.Angle     // of the wheel inside the turn when it touches
	Wanted s1.Angle     // the lock that a pad should give: the target, or Latest
	Pad    *Place       // where a pad gives it; nil where none is needed or no place was found
}

// Missing tells whether metal does not come in time.
func (s *Stop) Missing() bool {
	return !math.IsInf(float64(s.Latest), 1) && (s.Metal == nil || s.Steer > s.Latest+slack)
}

// stops looks at what stops the wheels after the cuts, and finds places for pads where metal is missing.
func (j *job) stops(p *Plan) error {
	for _, d := range sweep.Directions {
		p.Stops[d] = p.stop(d)
	}
	return j.placePads(p)
}

func (p *Plan) stop(d sweep.Direction) (s Stop) {
	w, chain := p.ways[d], p.Locks[d].Chain
	clash, touch := -1, -1
	for i := range chain {
		if is := metal(p.After, &chain[i]); is && touch < 0 {
			touch = i
		} else if !is {
			clash = i
			break
		}
	}
	if touch >= 0 {
		s.Metal, s.Steer = &chain[touch], w.steer(chain[touch].Column)
	}
	s.Latest = s1.Angle(math.Inf(1))
	if clash >= 0 {
		l := &chain[clash]
		s.Hazard = Most{Column: l.Column, Steer: w.steer(l.Column), Reason: ByLimit, Limit: l}
		s.Latest = s.Hazard.Steer - Margin
	}
	if w.weak.Reason == ByTransmission && w.weak.Steer < s.Latest {
		s.Hazard, s.Latest = w.weak, w.weak.Steer
	}
	s.Wanted = min(p.Steer[d], s.Latest)
	return s
}

// metal tells whether a limit is a stop: one that is declared, or metal of known shape against metal.
func metal(m *sweep.Model, l *sweep.Limit) bool {
	if l.Kind != sweep.Contact {
		return l.Kind == sweep.DeclaredStop || l.Kind == sweep.ColumnTravel
	}
	return !slices.ContainsFunc(l.Pair[:], func(i int) bool {
		p := &m.Scene.Pieces[i]
		return p.Assumed || p.Part == nil && p.Name != clearance.Arm && p.Name != clearance.DropArm
	})
}
