package sweep

import (
	"github.com/golang/geo/s1"

	"locksweep/geometry/linkage"
	"locksweep/geometry/setup"
)

// Code names a kind of finding; it stands in the JSON and never changes.
type Code string

const (
	BrokenStraight    Code = "broken-straight-ahead" // a limit is broken with the column centred
	SteersBackwards   Code = "steers-backwards"      // both wheels turn against the steering wheel
	WheelsOpposed     Code = "wheels-opposed"        // the wheels turn against each other
	ReversedAckermann Code = "reversed-ackermann"    // the outer wheel turns further than the inner
	LowTransmission   Code = "low-transmission"      // near a dead point or over centre within the lock
	UnequalLocks      Code = "unequal-locks"         // left and right lock differ
	RodLength         Code = "rod-length"            // a given rod does not set the file's toe
)

// Finding is something that the builder should know before cutting. Which fields have a meaning follows
// from the code; the words are made elsewhere.
type Finding struct {
	Code   Code
	Lock   Direction   // BrokenStraight, ReversedAckermann
	Limit  *Limit      // BrokenStraight
	Side   setup.Side  // LowTransmission, RodLength
	End    linkage.End // LowTransmission
	Column s1.Angle    // LowTransmission
	Angle  s1.Angle    // LowTransmission: the angle; UnequalLocks: by how much; RodLength: toe too much in
	Turns  []TurnError // ReversedAckermann
}

// TurnError is the Ackermann error at a mean steer.
type TurnError struct {
	Steer   s1.Angle
	Error   s1.Angle
	Percent float64
	AtLock  bool
}

const (
	unequalLocks = 0.5 * s1.Degree
	toeSlack     = 0.05 * s1.Degree // finer than a rod end can be set by half a turn
)

// findings looks a finished sweep over; the loudest come first.
func (r *Result) findings() (found []Finding) {
	for _, d := range Directions {
		if l := r.Locks[d].First(); l != nil && l.Column == 0 {
			found = append(found, Finding{Code: BrokenStraight, Lock: d, Limit: l, Side: l.Side})
			break // it is the same limit the other way
		}
	}
	switch left, right := r.Straight.Ratio[setup.Left], r.Straight.Ratio[setup.Right]; {
	case left < 0 && right < 0:
		found = append(found, Finding{Code: SteersBackwards})
	case left*right < 0:
		found = append(found, Finding{Code: WheelsOpposed})
	}
	for _, d := range Directions {
		if turns := r.TurnErrors(d); reversed(turns) {
			found = append(found, Finding{Code: ReversedAckermann, Lock: d, Turns: turns})
		}
	}
	if p, side, end := r.LeastTransmission(); p.Transmission[side][end] < r.Setup.Limits.Transmission {
		found = append(found, Finding{Code: LowTransmission, Side: side, End: end, Column: p.Column, Angle: p.Transmission[side][end]})
	}
	if by := r.lockDifference(); by > unequalLocks {
		found = append(found, Finding{Code: UnequalLocks, Angle: by})
	}
	for _, side := range setup.Sides {
		if by := r.Rods[side].Toe - r.Setup.Corners[side].Wheel.Toe; by.Abs() > toeSlack {
			found = append(found, Finding{Code: RodLength, Side: side, Angle: by})
		}
	}
	return found
}

// TurnErrors returns the Ackermann error at 10 and 20 degrees of mean steer and at the lock, as far
// as the lock goes.
func (r *Result) TurnErrors(d Direction) (turns []TurnError) {
	lock := &r.Locks[d]
	for _, steer := range [2]s1.Angle{10 * s1.Degree, 20 * s1.Degree} {
		if p, ok := r.AtMeanSteer(lock, steer); ok {
			turns = append(turns, TurnError{Steer: steer, Error: p.Turn.Error, Percent: p.Turn.Percent})
		}
	}
	if t := &lock.Pose.Turn; t.Known() {
		turns = append(turns, TurnError{Steer: lock.Pose.MeanSteer().Abs(), Error: t.Error, Percent: t.Percent, AtLock: true})
	}
	return turns
}

// reversed tells whether the outer wheel turns further than the inner one at all of the turns or at
// the first of them, where a builder would feel it.
func reversed(turns []TurnError) bool { return len(turns) > 0 && turns[0].Percent < 0 }

// lockDifference returns by how much the inner wheel turns further at one lock than at the other.
func (r *Result) lockDifference() s1.Angle {
	inner := func(d Direction) s1.Angle {
		wheels := &r.Locks[d].Pose.Wheels
		return max(wheels[setup.Left].Steer.Abs(), wheels[setup.Right].Steer.Abs())
	}
	return (inner(ToLeft) - inner(ToRight)).Abs()
}
