package sweep

import (
	"slices"

	"github.com/golang/geo/s1"

	"locksweep/geometry/clearance"
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
	TyreTouches       Code = "tyre-touches"          // the first thing to touch is a tyre
	TouchesFirst      Code = "touches-first"         // something else that is no stop comes before the stop
	NoMetalStop       Code = "no-metal-stop"         // the linkage's own limit comes before any stop
	StopMargin        Code = "stop-margin"           // or too soon after it
	LowClearance      Code = "low-clearance"         // a pair passes nearer than wanted
	UncheckedPair     Code = "unchecked-pair"        // assumed shapes overlap straight ahead
)

// Alarm tells whether a finding makes the vehicle unfit to be driven, however good its figures are.
func (c Code) Alarm() bool {
	return c == BrokenStraight || c == SteersBackwards || c == WheelsOpposed
}

// Finding is something that the builder should know before cutting. Which fields have a meaning follows
// from the code; the words are made elsewhere.
type Finding struct {
	Code   Code
	Lock   Direction       // BrokenStraight, ReversedAckermann, TyreTouches, NoMetalStop, StopMargin
	Limit  *Limit          // BrokenStraight, TyreTouches; NoMetalStop, StopMargin: the linkage's own
	Near   *clearance.Near // LowClearance
	Pair   [2]int          // UncheckedPair: pieces of the scene
	Side   setup.Side      // RodLength
	Rod    int             // LowTransmission: of the linkage
	End    linkage.End     // LowTransmission
	Column s1.Angle        // LowTransmission; StopMargin: from the stop to the limit
	Angle  s1.Angle        // LowTransmission: the angle; UnequalLocks: by how much; RodLength: toe too much in; StopMargin: of the wheel
	Turns  []TurnError     // ReversedAckermann
}

// TurnError is the Ackermann error at a mean steer.
type TurnError struct {
	Steer   s1.Angle
	Ahead   s1.Angle // of the inner wheel: how much further than the outer one it turns
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
	for _, d := range Directions {
		found = append(found, r.stopFindings(d)...)
	}
	for i := range r.Near {
		if n := &r.Near[i]; n.Gap < r.Setup.Limits.Clearance && !r.stops(n.Pair) {
			found = append(found, Finding{Code: LowClearance, Side: n.Side, Near: n})
		}
	}
	for _, pair := range r.Scene.Unchecked() {
		found = append(found, Finding{Code: UncheckedPair, Pair: pair})
	}
	if p, rod, end := r.LeastTransmission(); p.Transmission[rod][end] < r.Setup.Limits.Transmission {
		found = append(found, Finding{Code: LowTransmission, Rod: rod, End: end, Column: p.Column, Angle: p.Transmission[rod][end]})
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

// stopMargin is how much wheel angle is wanted between a metal stop and the linkage's own limit
// (common practice, no source).
const stopMargin = 5 * s1.Degree

// stopFindings tells whether a positive stop comes in time in one direction: before the linkage's own
// limit, with a margin, and before a tyre touches.
func (r *Result) stopFindings(d Direction) (found []Finding) {
	chain := r.Locks[d].Chain
	if len(chain) > 0 && chain[0].Kind == Contact && r.touchesRubber(&chain[0]) {
		found = append(found, Finding{Code: TyreTouches, Lock: d, Limit: &chain[0], Side: chain[0].Side})
	}
	own := slices.IndexFunc(chain, func(l Limit) bool { return l.Kind.Ends() || l.Kind == RodEnd })
	if own < 0 {
		return found
	}
	stop := slices.IndexFunc(chain[:own], r.positive)
	if stop < 0 {
		return append(found, Finding{Code: NoMetalStop, Lock: d, Limit: &chain[own], Side: chain[own].Side})
	}
	at, okStop := r.Linkage.Pose(chain[stop].Column)
	end, okEnd := r.Linkage.Pose(chain[own].Column)
	// Of the wheel that turns further: near over centre the other one hardly moves, however far the column goes.
	margin := s1.Angle(0)
	for side := range at.Sides {
		margin = max(margin, s1.Angle(linkage.Turn(at.Sides[side].Spindle, end.Sides[side].Spindle)).Abs())
	}
	if okStop && okEnd && margin < stopMargin {
		found = append(found, Finding{Code: StopMargin, Lock: d, Limit: &chain[own], Side: chain[own].Side, Angle: margin,
			Column: chain[own].Column - chain[stop].Column})
	}
	return found
}

// positive tells whether a limit is metal against metal that may serve as a stop: not a tyre, a tie
// rod or a shape that is only assumed.
func (r *Result) positive(l Limit) bool {
	if l.Kind != Contact {
		return l.Kind == DeclaredStop || l.Kind == ColumnTravel
	}
	for _, i := range l.Pair {
		if p := &r.Scene.Pieces[i]; p.Assumed || p.Part == nil && p.Body.IsRod() {
			return false
		}
	}
	return !r.touchesRubber(&l)
}

func (r *Result) touchesRubber(l *Limit) bool {
	return slices.ContainsFunc(l.Pair[:], func(i int) bool {
		p := &r.Scene.Pieces[i]
		return p.Part == nil && (p.Name == clearance.Tyre || p.Name == clearance.RearTyre)
	})
}

// stops tells whether a pair is what stops the steering at either lock.
func (r *Result) stops(pair [2]int) bool {
	for _, d := range Directions {
		if l := r.Locks[d].First(); l != nil && l.Kind == Contact && l.Pair == pair {
			return true
		}
	}
	return false
}

// TurnErrors returns the Ackermann error at 10 and 20 degrees of mean steer and at the lock, as far
// as the lock goes.
func (r *Result) TurnErrors(d Direction) (turns []TurnError) {
	lock := &r.Locks[d]
	for _, steer := range [2]s1.Angle{10 * s1.Degree, 20 * s1.Degree} {
		if p, ok := r.AtMeanSteer(lock, steer); ok {
			turns = append(turns, TurnError{Steer: steer, Ahead: p.Turn.InnerSteer - p.Turn.OuterSteer, Error: p.Turn.Error, Percent: p.Turn.Percent})
		}
	}
	if t := &lock.Pose.Turn; t.Known() {
		turns = append(turns, TurnError{Steer: lock.Pose.MeanSteer().Abs(), Ahead: t.InnerSteer - t.OuterSteer, Error: t.Error, Percent: t.Percent, AtLock: true})
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
