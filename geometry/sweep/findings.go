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
	Touching          Code = "touching"              // pieces touch with the column centred
	BrokenStraight    Code = "broken-straight-ahead" // a limit is broken with the column centred
	SteersBackwards   Code = "steers-backwards"      // both wheels turn against the steering wheel
	WheelsOpposed     Code = "wheels-opposed"        // the wheels turn against each other
	DeadCentre        Code = "dead-point-at-centre"  // a rod is in line with an arm with the column centred
	ChangePoint       Code = "change-point"          // a rod comes in line with both its arms and may fold either way
	ReversedAckermann Code = "reversed-ackermann"    // the outer wheel turns further than the inner
	LowTransmission   Code = "low-transmission"      // near a dead point or over centre within the lock
	UnequalLocks      Code = "unequal-locks"         // left and right lock differ
	RodLength         Code = "rod-length"            // a given rod does not set the file's toe
	TyreTouches       Code = "tyre-touches"          // the first thing to touch is a tyre
	TouchesFirst      Code = "touches-first"         // something else that is no stop comes before the stop
	NoMetalStop       Code = "no-metal-stop"         // no positive stop comes before the linkage's own limit
	StopMargin        Code = "stop-margin"           // the linkage's own limit comes too soon after the stop
	NarrowStop        Code = "narrow-stop"           // the metal of the stop is narrower than counts as one
	EarlyLock         Code = "early-lock"            // metal stops the wheels hardly turned
	LowClearance      Code = "low-clearance"         // a pair passes nearer than wanted
	UncheckedPair     Code = "unchecked-pair"        // assumed shapes overlap straight ahead
)

// Alarm reports whether a finding makes the vehicle unfit to be driven, however good its figures are.
func (c Code) Alarm() bool {
	switch c {
	case Touching, BrokenStraight, SteersBackwards, WheelsOpposed, DeadCentre, ChangePoint, NoMetalStop:
		return true
	}
	return false
}

// Finding is something that the builder should know before cutting. Which fields have a meaning follows
// from the code; the words are made elsewhere.
type Finding struct {
	Code   Code
	Lock   Direction       // BrokenStraight, ReversedAckermann, TyreTouches, TouchesFirst, NoMetalStop, ChangePoint, StopMargin, EarlyLock
	Limit  *Limit          // BrokenStraight, TyreTouches, TouchesFirst, EarlyLock; NoMetalStop, ChangePoint, StopMargin: the linkage's own, nil for none
	First  *Limit          // NoMetalStop: what comes before that and is no stop, nil for nothing; TouchesFirst, StopMargin: the stop
	Near   *clearance.Near // LowClearance
	Touch  clearance.Touch // Touching
	Pair   [2]int          // Touching, UncheckedPair: pieces of the scene; NarrowStop: the narrow one, what it meets
	Side   setup.Side      // RodLength
	Rod    int             // DeadCentre, ChangePoint, LowTransmission: of the linkage
	End    linkage.End     // DeadCentre, LowTransmission
	Column s1.Angle        // LowTransmission; StopMargin: from the stop to the limit
	Angle  s1.Angle        // DeadCentre, ChangePoint, LowTransmission: the angle; UnequalLocks: by how much; RodLength: toe too much in; StopMargin, EarlyLock: of the wheel
	Turns  []TurnError     // ReversedAckermann
	Both   bool            // ReversedAckermann: it is so turned either way, alike, and told once
	Width  float64         // NarrowStop: of the metal on the way to its root, mm; NaN where it cannot be measured
	Least  float64         // NarrowStop: what is wanted, mm
}

// TurnError is the Ackermann error at a mean steer.
type TurnError struct {
	Steer   s1.Angle // of the linkage
	ToeOut  s1.Angle // how much further the inner wheel is turned than the outer one, as they stand
	Ahead   s1.Angle // how much further the linkage turns it
	Error   s1.Angle
	Percent float64
	AtLock  bool
}

const (
	unequalLocks = 0.5 * s1.Degree
	earlyLock    = 10 * s1.Degree   // of the wheel inside the turn: 25 to 45 are usual (common practice, no source)
	toeSlack     = 0.05 * s1.Degree // finer than a rod end can be set by half a turn
)

// findings looks a finished sweep over; the loudest come first.
func (r *Result) findings() (found []Finding) {
	found = r.Alarms(&r.Locks)
	found = append(found, r.reversedFindings()...)
	found = append(found, r.narrowStops()...)
	for _, d := range Directions {
		found = append(found, r.stopFindings(d)...)
	}
	for i := range r.Near {
		if n := &r.Near[i]; r.Setup.Limits.Tight(n.Gap) && !r.Stops(n.Pair) {
			found = append(found, Finding{Code: LowClearance, Side: n.Side, Near: n})
		}
	}
	for _, pair := range r.Scene.Unchecked() {
		found = append(found, Finding{Code: UncheckedPair, Pair: pair})
	}
	if l := r.LeverageWithin(); r.Setup.Limits.Weak(l.Angle) {
		found = append(found, Finding{Code: LowTransmission, Rod: l.Rod, End: l.End, Column: l.Column, Angle: l.Angle})
	}
	if by := r.lockDifference(); by > unequalLocks {
		found = append(found, Finding{Code: UnequalLocks, Angle: by})
	}
	for _, side := range setup.Sides {
		if by := r.Rods[side].Toe - r.Setup.Corners[side].Wheel.Toe; by.Abs() > toeSlack && r.Rods[side].Length != r.Rods[side].Derived {
			found = append(found, Finding{Code: RodLength, Side: side, Angle: by})
		}
	}
	return found
}

// reversedFindings tells of reversed Ackermann; once, where it is the same turned left and turned right.
func (r *Result) reversedFindings() (found []Finding) {
	for _, d := range Directions {
		switch turns := r.TurnErrors(d); {
		case !reversed(turns):
		case len(found) > 0 && slices.EqualFunc(found[0].Turns, turns, sameError):
			found[0].Both = true
		default:
			found = append(found, Finding{Code: ReversedAckermann, Lock: d, Turns: turns})
		}
	}
	return found
}

// sameError reports whether two errors differ by rounding only.
func sameError(a, b TurnError) bool {
	const rounding = 1e-6
	return a.AtLock == b.AtLock && (a.Steer-b.Steer).Abs() < rounding && (a.Error-b.Error).Abs() < rounding && (a.Ahead-b.Ahead).Abs() < rounding
}

// stopFindings tells what is wrong with the stop in one direction, where there is one; that there is none is an
// alarm, and little leverage is told for the whole way.
func (r *Result) stopFindings(d Direction) (found []Finding) {
	s := r.Stopping(&r.Locks[d])
	if first := r.Locks[d].First(); s.Stop != nil && s.Stop == first && first.Kind == Contact {
		if steer := r.InnerSteer(d, &r.Locks[d].Pose); steer < earlyLock {
			found = append(found, Finding{Code: EarlyLock, Lock: d, Limit: first, Side: first.Side, Angle: steer})
		}
	}
	for _, code := range s.Faults() {
		switch code {
		case TyreTouches, TouchesFirst:
			found = append(found, Finding{Code: code, Lock: d, Limit: &s.Before[0], First: s.Stop, Side: s.Before[0].Side})
		case StopMargin:
			found = append(found, Finding{Code: code, Lock: d, Limit: s.End, First: s.Stop, Side: s.End.Side,
				Column: s.End.Column - s.Stop.Column, Angle: s.WheelMargin})
		}
	}
	return found
}

// Stops reports whether a pair is what stops the steering at either lock.
func (r *Result) Stops(pair [2]int) bool {
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
			turns = append(turns, turnError(&p))
			turns[len(turns)-1].Steer = steer
		}
	}
	if lock.Pose.Turn.Known() {
		at := turnError(&lock.Pose)
		at.AtLock = true
		turns = append(turns, at)
	}
	return turns
}

// WorstTurnError returns the greater of the Ackermann errors turned left and turned right at one of the mean steers of TurnErrors, or
// for 0 at the locks; found is false where neither lock goes so far.
func (r *Result) WorstTurnError(steer s1.Angle) (worst TurnError, found bool) {
	for _, d := range Directions {
		for _, t := range r.TurnErrors(d) {
			fits := t.AtLock && steer == 0 || !t.AtLock && t.Steer == steer
			if fits && (!found || t.Error.Abs() > worst.Error.Abs()) {
				worst, found = t, true
			}
		}
	}
	return worst, found
}

func turnError(p *Pose) TurnError {
	return TurnError{Steer: p.LinkageSteer.Abs(), ToeOut: p.Turn.ToeOut(), Ahead: p.Turn.Ahead, Error: p.Turn.Error, Percent: p.Turn.Percent}
}

// alike is the difference of both wheels' angles below which they count as parallel: no garage can tell less.
const alike = 0.05 * s1.Degree

// Parallel reports whether the linkage turns both wheels alike, as near as a garage can tell.
func (t *TurnError) Parallel() bool { return t.Ahead.Abs() < alike }

// reversed reports whether the linkage turns the outer wheel further than the inner one at the first of the turns,
// where a builder would feel it.
func reversed(turns []TurnError) bool {
	return len(turns) > 0 && turns[0].Ahead < 0 && !turns[0].Parallel()
}

// lockDifference returns by how much the inner wheel turns further at one lock than at the other.
func (r *Result) lockDifference() s1.Angle {
	inner := func(d Direction) s1.Angle {
		wheels := &r.Locks[d].Pose.Wheels
		return max(wheels[setup.Left].Steer.Abs(), wheels[setup.Right].Steer.Abs())
	}
	return (inner(ToLeft) - inner(ToRight)).Abs()
}
