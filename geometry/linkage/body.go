package linkage

import (
	"math"
	"slices"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/geometry/rigid"
	"locksweep/geometry/setup"
)

// Body is one of the things that move as one.
type Body int

const (
	Frame        Body = iota
	Input             // what the steering wheel moves: the column with its drop arm, or the rack
	LeftSpindle       // and all that it carries
	RightSpindle      //
	FirstRod          // Mechanism.Rods in their order
	SecondRod         //
	Bodies
)

// Spindle returns a side's own spindle, RodBody the rod of an index.
func Spindle(side setup.Side) Body { return LeftSpindle + Body(side) }
func RodBody(rod int) Body         { return FirstRod + Body(rod) }

// IsRod reports whether a body is a rod; Rod returns its index then. Side is that of a spindle.
func (b Body) IsRod() bool      { return b >= FirstRod }
func (b Body) Rod() int         { return int(b - FirstRod) }
func (b Body) Side() setup.Side { return setup.Side(b - LeftSpindle) }

// IsSpindle reports whether a body is a spindle.
func (b Body) IsSpindle() bool { return b == LeftSpindle || b == RightSpindle }

// TurnOf is by how much a body turns from one pose to another, radians, of either sign; a spindle the short way round.
func TurnOf(b Body, from, to *Pose) float64 {
	if b == Input {
		return float64(to.Column - from.Column)
	}
	side := b.Side()
	return Turn(from.Sides[side].Spindle, to.Sides[side].Spindle)
}

// Motion returns how a body has moved from straight ahead (spindles: from the file's pose) to a pose.
func (m *Mechanism) Motion(b Body, p *Pose) rigid.Motion {
	switch {
	case b == Frame:
		return rigid.Identity
	case b == Input && m.Slide != 0:
		slid := rigid.Identity
		slid.Shift = m.Axes[Input].Dir.Mul(m.Slide * float64(p.Column))
		return slid
	case b == Input:
		return rigid.About(m.Axes[Input], p.Column)
	case b.IsRod():
		r := &m.Rods[b.Rod()]
		rp := &p.Rods[b.Rod()]
		return setup.RodAxes(r.Side, rp.From, rp.Along).After(r.home)
	}
	return rigid.About(m.Axes[b], p.Sides[b.Side()].Spindle)
}

// Axis is what a spindle or the column turns about, the column's from its foot on; ok is false for all other bodies.
func (m *Mechanism) Axis(b Body) (axis rigid.Axis, ok bool) {
	return m.Axes[b], b.IsSpindle() || b == Input && m.Slide == 0
}

// Slides reports whether a body moves without turning: a rack.
func (m *Mechanism) Slides(b Body) bool { return b == Input && m.Slide != 0 }

// Balls are the places of the rods' balls that a body carries, straight ahead as measured, vehicle axes, mm.
func (m *Mechanism) Balls(b Body) (at []r3.Vector) {
	for i := range m.Rods {
		for _, end := range Ends {
			if r := &m.Rods[i]; r.On(end) == b {
				at = append(at, r.crank(end).Home())
			}
		}
	}
	return at
}

// Round returns a sphere, vehicle axes, mm, that the rod's ball at an end never leaves while the body that carries it moves within
// the angle most: about the circle that the ball runs on, or about its way on a rack.
func (r *Rod) Round(end End, most s1.Angle) (centre r3.Vector, radius float64) {
	c := r.crank(end)
	if c.Slide != 0 {
		return c.Home(), math.Abs(c.Slide) * float64(most)
	}
	return c.Axis.Point.Add(c.Axis.Dir.Mul(c.Axis.Dir.Dot(c.Arm))), r.Levers[end]
}

// Carrier is the body that carries what the file says is on one of its own, on a side where there is one on either.
func (m *Mechanism) Carrier(on setup.Body, side setup.Side) Body {
	switch on {
	case setup.OnSpindle:
		return Spindle(side)
	case setup.OnColumn, setup.OnRack:
		return Input
	case setup.OnTieRod:
		return m.rodCalled(tieRodPart, side)
	case setup.OnDragLink:
		return m.rodCalled(dragLinkPart, side)
	}
	return Frame
}

func (m *Mechanism) rodCalled(part string, side setup.Side) Body {
	for i := range m.Rods {
		if r := &m.Rods[i]; r.Part == part && (!r.Sided || r.Side == side) {
			return RodBody(i)
		}
	}
	return FirstRod
}

// RodKeyed returns the index of the rod whose length stands under a key of setup.Measures.
func (m *Mechanism) RodKeyed(key string) int {
	return slices.IndexFunc(m.Rods[:], func(r Rod) bool { return r.Key == key })
}

// RodPlace places what rides on a rod with the column centred: setup.RodAxes.
func (m *Mechanism) RodPlace(rod int) rigid.Motion {
	p := &m.straight.Rods[rod]
	return setup.RodAxes(m.Rods[rod].Side, p.From, p.Along)
}

// Pace bounds from above the sizes of the first and second derivative of a body's angle by the column angle, at all column angles between two
// poses, between which all angles run one way. ok is false where no bound is shown: the poses are too far apart then, or a dead point too near.
func (m *Mechanism) Pace(b Body, from, to *Pose) (first, second float64, ok bool) {
	if b == Input {
		return 1, 0, true
	}
	rod := m.Driver[b.Side()]
	r := &m.Rods[rod]
	drive, more, ok := m.Pace(r.From, from, to)
	if !ok {
		return 0, 0, false
	}
	first, second, ok = r.pace(&from.Rods[rod], &to.Rods[rod], math.Abs(TurnOf(r.From, from, to)), math.Abs(TurnOf(b, from, to)))
	if r.From == Input {
		return first, second, ok
	}
	return first * drive, second*drive*drive + first*more, ok
}

// pace is Pace for the body that a rod drives, by the angle of the one that drives it, which turn by out and by in.
//
// With the rod's levers D about the first and A about the second, the first derivative is D/A. On the whole way the rod swings no
// more than its balls run square to it, by its length; and a lever changes no more than its rod swings and its ball turns, each by what the arm
// has along the rod. So D and A are known at least to within that of what they are at both ends, and the more of them is known, the less
// is left along the rod: the second round is the better one.
func (r *Rod) pace(from, to *RodPose, in, out float64) (first, second float64, ok bool) {
	drop, arm := r.Levers[AtDropArm], r.Levers[AtArm]
	turning := 1.0 // a slide does not turn its ball
	if r.In.Slide != 0 {
		turning = 0
	}
	d, a := (math.Abs(from.FromLever)+math.Abs(to.FromLever))/2, (math.Abs(from.ToLever)+math.Abs(to.ToLever))/2
	alongD, alongA := drop, arm // the most that is left along the rod
	var mostD, leastA float64
	for range 2 {
		swing := (alongD*in + alongA*out) / r.Length
		byD, byA := alongD*(swing+turning*in)/2, alongA*(swing+out)/2
		leastD := math.Max(d-byD, 0)
		mostD, leastA = math.Min(d+byD, drop), math.Max(a-byA, 0)
		alongD, alongA = math.Sqrt(math.Max(drop*drop-leastD*leastD, 0)), math.Sqrt(math.Max(arm*arm-leastA*leastA, 0))
	}
	if leastA == 0 {
		return 0, 0, false
	}
	first = mostD / leastA
	swing := (alongD + alongA*first) / r.Length // for each radian
	return first, (alongD*(swing+turning) + first*alongA*(swing+first)) / leastA, true
}

// Ball is where a rod's ball at an end is at a pose, vehicle axes, mm.
func (p *RodPose) Ball(end End) r3.Vector {
	if end == AtArm {
		return p.To
	}
	return p.From
}
