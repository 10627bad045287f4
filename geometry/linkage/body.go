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

// Column is the axis that the input turns about, from the column's foot; ok is false where it slides.
func (m *Mechanism) Column() (axis rigid.Axis, ok bool) { return m.Axes[Input], m.Slide == 0 }

// Slides reports whether a body moves without turning: a rack.
func (m *Mechanism) Slides(b Body) bool { return b == Input && m.Slide != 0 }

// Balls are the places of the rods' balls that a body carries, straight ahead as measured, vehicle axes, mm.
func (m *Mechanism) Balls(b Body) (at []r3.Vector) {
	for i := range m.Rods {
		r := &m.Rods[i]
		if r.From == b {
			at = append(at, r.In.at(r.In.terms(0)))
		}
		if r.To == b {
			at = append(at, r.Out.at(r.Out.terms(0)))
		}
	}
	return at
}

// Round returns a sphere, vehicle axes, mm, that the rod's ball at an end never leaves while the body that carries it moves within
// the angle most: about the circle that the ball runs on, or about its way on a rack.
func (r *Rod) Round(end End, most s1.Angle) (centre r3.Vector, radius float64) {
	c := r.In
	if end == AtArm {
		c = r.Out
	}
	if c.Slide != 0 {
		return c.Axis.Point.Add(c.Arm), math.Abs(c.Slide) * float64(most)
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

// Pace bounds the first and second derivative of a body's angle by the column angle over all column angles
// within turn (radians) of a pose. ok is false where no bound is shown: turn is too large then, or a dead point
// too near.
func (m *Mechanism) Pace(b Body, p *Pose, turn float64) (first, second float64, ok bool) {
	if b == Input {
		return 1, 0, true
	}
	rod := m.Driver[b.Side()]
	r := &m.Rods[rod]
	drive, more, ok := m.Pace(r.From, p, turn)
	if !ok {
		return 0, 0, false
	}
	first, second, ok = r.pace(&p.Rods[rod], drive*turn)
	if r.From == Input {
		return first, second, ok
	}
	return first * drive, second*drive*drive + first*more, ok
}

// pace is Pace for the body that a rod drives, by the angle of the one that drives it.
//
// With the rod's levers D about the first and A about the second, the first derivative is D/A. Levers change no
// faster than the rod swings and the ball runs. As long as the first is at most a limit, that bounds D
// and A; if D/A then keeps under the limit, it cannot come to pass it.
func (r *Rod) pace(p *RodPose, turn float64) (first, second float64, ok bool) {
	drop, arm := r.Levers[AtDropArm], r.Levers[AtArm]
	d, a := math.Abs(p.FromLever), math.Abs(p.ToLever)
	first = 1.5*d/a + 0.2
	swing := (arm*first + drop) / r.Length
	dRate, aRate := drop*(swing+1), arm*(swing+first)
	d, a = d+dRate*turn, a-aRate*turn
	if !(a > 0 && d < first*a) {
		return 0, 0, false
	}
	return first, (dRate + first*aRate) / a, true
}

// Ball is where a rod's ball at an end is at a pose, vehicle axes, mm.
func (p *RodPose) Ball(end End) r3.Vector {
	if end == AtArm {
		return p.To
	}
	return p.From
}
