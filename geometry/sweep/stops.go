package sweep

import (
	"math"
	"slices"

	"github.com/golang/geo/s1"

	"locksweep/geometry/advance"
	"locksweep/geometry/clearance"
	"locksweep/geometry/linkage"
	"locksweep/geometry/setup"
)

// WantedMargin is how much column angle is wanted between a metal stop and the linkage's own end: play, flex
// and wear eat it (common practice, no source).
const WantedMargin = 3 * s1.Degree

// WantedApart is how much of the wheel inside the turn is wanted between a metal stop and what may take the blow next, where nothing
// is known of how sure the lock is (common practice, no source).
const WantedApart = 3 * s1.Degree

// Stopping is what holds the wheels in one direction. Everything is judged on the chain of limits of a lock.
//
// A positive stop is solid metal of known shape that stops a spindle against the frame, or a stop that the file
// declares for the spindle: see Positive.
type Stopping struct {
	// Stop is the first positive stop that comes before the linkage's own end; nil where none does.
	Stop *Limit
	// Before are the limits that come before Stop; without a stop those before End, or all.
	Before []Limit
	// End is where the linkage gives out by itself: a dead point, over centre or a bound rod end. nil where
	// the column is followed no further.
	End *Limit
	// Margin is the column angle from Stop to End, and WheelMargin what the wheel that turns further turns
	// between them; +Inf without an end, 0 without a stop.
	Margin, WheelMargin s1.Angle
	// Leverage is what is left with the wheels against Stop; without one it is zero.
	Leverage Leverage

	model *Model
}

// Stopping judges what stops the wheels on the way to a lock of the model.
func (m *Model) Stopping(l *Lock) Stopping {
	s := Stopping{model: m, Before: l.Chain}
	if i := slices.IndexFunc(s.Before, func(l Limit) bool { return l.Kind.Ends() || l.Kind == RodEnd }); i >= 0 {
		s.End, s.Before = &l.Chain[i], l.Chain[:i]
	}
	i := slices.IndexFunc(s.Before, func(l Limit) bool { return m.Positive(&l) })
	if i < 0 {
		return s
	}
	s.Stop, s.Before = &l.Chain[i], l.Chain[:i]
	for len(s.Before) > 0 && (s.Stop.Column-s.Before[len(s.Before)-1].Column).Abs() <= together {
		s.Before = s.Before[:len(s.Before)-1]
	}
	s.Leverage, _ = m.Leverage(s.Stop.Column)
	s.Margin, s.WheelMargin = s1.InfAngle(), s1.InfAngle()
	if s.End != nil {
		s.Margin = (s.End.Column - s.Stop.Column).Abs()
		s.WheelMargin = m.wheelTurn(s.Stop.Column, s.End.Column)
	}
	return s
}

// together is the column angle within which two limits count as met at once: rounding may put either first.
const together = 1e-6 * s1.Degree

// wheelTurn returns how far the spindle that turns further turns between two column angles: near over centre
// the other one hardly moves, however far the column goes.
func (m *Model) wheelTurn(from, to s1.Angle) (turn s1.Angle) {
	at, ok := m.Linkage.Pose(from)
	end, reached := m.poseUpTo(to)
	if !ok || !reached {
		return 0
	}
	for side := range at.Sides {
		turn = max(turn, s1.Angle(linkage.Turn(at.Sides[side].Spindle, end.Sides[side].Spindle)).Abs())
	}
	return turn
}

// poseUpTo is the pose at a column angle, or just before it: rounding may put a dead point out of reach.
func (m *Model) poseUpTo(column s1.Angle) (p linkage.Pose, ok bool) {
	if p, ok = m.Linkage.Pose(column); !ok {
		p, ok = m.Linkage.Pose(column - s1.Angle(math.Copysign(float64(together), float64(column))))
	}
	return p, ok
}

// Faults tells by code what is wrong with how the wheels are stopped, the worst first; nil where a positive stop
// holds: it comes before anything else touches, WantedMargin before the linkage's own end, and with the
// leverage that is wanted.
//
//	NoMetalStop      no positive stop comes before the linkage's own end
//	TyreTouches      a tyre is the first to touch
//	TouchesFirst     something else comes before the positive stop and takes the blow: a rod, something soft, an
//	                 assumed shape, the column's own stop
//	StopMargin       the margin to the linkage's own end is too small
//	LowTransmission  too little leverage is left against the stop
func (s *Stopping) Faults() (codes []Code) {
	if s.Stop == nil {
		codes = append(codes, NoMetalStop)
	}
	switch {
	case len(s.Before) > 0 && s.model.rubber(&s.Before[0]):
		codes = append(codes, TyreTouches)
	case len(s.Before) > 0 && s.Stop != nil:
		codes = append(codes, TouchesFirst)
	}
	if s.Stop != nil && s.Margin < WantedMargin-together {
		codes = append(codes, StopMargin)
	}
	if s.Stop != nil && s.model.Setup.Limits.Weak(s.Leverage.Angle) {
		codes = append(codes, LowTransmission)
	}
	return codes
}

// Positive reports whether a limit is a positive stop: a stop that the file declares for the spindle, or
// a contact of metal that stops one, see Metal, does not only brush past, and is nowhere narrower than what counts as a stop.
func (m *Model) Positive(l *Limit) bool {
	if l.Kind != Contact {
		return l.Kind == DeclaredStop
	}
	return m.Metal(l.Pair) && !l.Brushes && l.Narrow == [2]bool{}
}

// Metal reports whether two pieces may be a positive stop where they touch: metal on a spindle and metal of the
// frame. Both shapes must have been given, not assumed. A tyre,
// a tie rod, anything that rides on one and anything soft is no stop, and no more is what holds the column alone
// (column.travel, a drop arm against the frame) or comes between column and spindle: there the blow goes through
// the tie rod. Where the file marks parts with stop = true, only these count; where a variant has lost them all, nothing does.
func (m *Model) Metal(pair [2]int) bool {
	may, counts := m.mayStop(pair)
	return may && counts
}

// Unmarked reports whether two pieces would be metal that may be a positive stop, did the file not mark other parts with stop = true.
func (m *Model) Unmarked(pair [2]int) bool {
	may, counts := m.mayStop(pair)
	return may && !counts
}

// mayStop tells whether two pieces are metal on a spindle and of the frame, and whether they count by what the file marks.
func (m *Model) mayStop(pair [2]int) (may, counts bool) {
	a, b, ok := spindleFirst(&m.Scene.Pieces[pair[0]], &m.Scene.Pieces[pair[1]])
	if !ok || !a.Solid() || !b.Solid() {
		return false, false
	}
	return true, meant(a) || meant(b) || !m.Setup.MarksStop()
}

const (
	// Wear is what a stop is expected to lose or give over time, mm: a bruised edge, a bent ear, a worn kingpin (common practice,
	// no source).
	Wear = 0.5
	// MostGive is how far a spindle may turn on when its stop has given by Wear (common practice, no source: as much as is wanted
	// of the steering wheel between a stop and the linkage's own end).
	MostGive = 3 * s1.Degree
)

// BrushesBy reports whether a piece on a spindle and one of the frame only brush past one another at a column angle, signed, at
// which they touch: with the spindle turned on by MostGive they would not reach Wear into one another in any direction, so that
// a little wear or play lets the wheel go so far or altogether. A face that is met square 10 mm from the kingpin just
// holds; one met at 15 degrees must be 37 mm from it.
func (m *Model) BrushesBy(a, b *clearance.Piece, column s1.Angle) bool {
	spindle, frame, pose, ok := m.spindleAt(a, b, column)
	return ok && m.giveWay(spindle, frame, &pose)
}

// giveWay is BrushesBy at a pose, in which it turns the spindle on.
func (m *Model) giveWay(spindle, frame *clearance.Piece, pose *linkage.Pose) bool {
	turnOn(spindle, pose, MostGive)
	return !clearance.Reach(spindle, frame, m.Linkage.Motion(spindle.Body, pose), m.Linkage.Motion(frame.Body, pose), Wear)
}

// spindleFirst returns a piece on a spindle and one of the frame in this order; ok is false where they are not.
func spindleFirst(a, b *clearance.Piece) (spindle, frame *clearance.Piece, ok bool) {
	if !a.Body.IsSpindle() {
		a, b = b, a
	}
	return a, b, a.Body.IsSpindle() && b.Body == linkage.Frame
}

// spindleAt is spindleFirst with the pose at a column angle; ok is false where the linkage does not get there either.
func (m *Model) spindleAt(a, b *clearance.Piece, column s1.Angle) (spindle, frame *clearance.Piece, pose linkage.Pose, ok bool) {
	if spindle, frame, ok = spindleFirst(a, b); ok {
		pose, ok = m.Linkage.Pose(column)
	}
	return spindle, frame, pose, ok
}

// ByWheel reports whether a pair comes together by how far the wheel inside the turn is turned, whatever turns it: one of it is on that wheel's
// spindle and the other on the frame.
func (m *Model) ByWheel(pair [2]int, d Direction) bool {
	inner, _ := m.Inside(d)
	spindle, _, ok := spindleFirst(&m.Scene.Pieces[pair[0]], &m.Scene.Pieces[pair[1]])
	return ok && spindle.Body.Side() == inner
}

// meant reports whether a piece is marked as the stop.
func meant(p *clearance.Piece) bool { return p.Part != nil && p.Part.Stop }

// rubber reports whether a limit is a tyre that touches.
func (m *Model) rubber(l *Limit) bool {
	return l.Kind == Contact && slices.ContainsFunc(l.Pair[:], func(i int) bool { return m.Scene.Pieces[i].Rubber() })
}

// Inside returns the wheel inside the turn when the column turns a way, and the sign of a steer angle
// into that turn: +1 where the wheels turn left. Where they turn against each other, the left one decides.
func (m *Model) Inside(d Direction) (inner setup.Side, into float64) {
	into = math.Copysign(1, m.Straight.Ratio[setup.Left]) * d.Sign()
	if into < 0 {
		return setup.Right, into
	}
	return setup.Left, into
}

// InnerSteer returns how far the wheel inside the turn is turned into it at a pose, when the column turns a way.
func (m *Model) InnerSteer(d Direction, p *Pose) s1.Angle {
	inner, into := m.Inside(d)
	return s1.Angle(into) * p.Wheels[inner].Steer
}

// AtInnerSteer returns the first pose, from straight ahead to a column angle, at which the wheel inside the turn
// stands at a steer angle into the turn or past it; ok is false where it does not get there. The steer is met to
// 1e-10 degrees.
func (m *Model) AtInnerSteer(end, steer s1.Angle) (p Pose, ok bool) {
	d := Direction(linkage.DirectionIndex(float64(end)))
	var at Pose
	return m.where(end, steer, func(column s1.Angle) (s1.Angle, bool) {
		ok := m.head(column, &at)
		return m.InnerSteer(d, &at), ok
	})
}

// AtMeanSteer is AtInnerSteer for the mean steer of the linkage, either way, up to a lock.
func (m *Model) AtMeanSteer(lock *Lock, steer s1.Angle) (p Pose, ok bool) {
	var at linkage.Pose
	return m.where(lock.Column, steer, func(column s1.Angle) (s1.Angle, bool) {
		ok := m.Linkage.FillSpindles(&at, column)
		return m.Road.LinkageSteer(&at).Abs(), ok
	})
}

// where returns the first pose, from straight ahead to a column angle, at which a figure of the wheels that grows
// on the way has a value. Rounding may have it that the linkage does not get to the far end at a dead point.
func (m *Model) where(end, value s1.Angle, of func(column s1.Angle) (figure s1.Angle, reached bool)) (p Pose, ok bool) {
	off := func(column s1.Angle) float64 {
		figure, reached := of(column)
		if !reached {
			return math.Inf(1)
		}
		return float64(figure - value)
	}
	below := off(0)
	if below >= 0 {
		return m.Straight, true
	}
	above := off(end)
	if !(above >= 0) {
		return p, false
	}
	column, left := advance.Rise(0, end, below, above, float64(1e-10*s1.Degree), off)
	if !(math.Abs(left) < float64(1e-6*s1.Degree)) {
		return p, false
	}
	return m.Pose(column)
}
