// Package road answers what a pose of the linkage means on the ground: where a wheel heads, how it
// leans, where it stands, and how far the two front wheels are from rolling about one point.
//
// Vehicle axes (x forward, y left, z up), mm; steer is positive to the left on both sides, camber
// with the top outboard (ISO 8855 axes). NaN stands for what has no meaning at a pose.
package road

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/geometry/linkage"
	"locksweep/geometry/rigid"
	"locksweep/geometry/setup"
)

// Vehicle is what the ground sees of a setup.
type Vehicle struct {
	Corners   [2]Corner
	Wheelbase float64 // mm
	RearTrack float64 // mm
	RearTyre  setup.Tyre
}

// Corner is a wheel on its kingpin.
type Corner struct {
	Kingpin rigid.Axis
	Side    setup.Side
	Tyre    setup.Tyre

	leftward carried // spin axis, pointing left, unit
	stub     carried // from the kingpin centre to the stub axle where it passes the kingpin, mm
	centre   carried // from the kingpin centre to the tyre's centre, mm
	moment   carried // stub × leftward: of the axle line about the kingpin centre, mm
}

// carried is a free vector that the spindle carries round: straight + sin·sinθ - cos·(1 - cosθ), θ its
// angle. Straight ahead that is exact.
type carried struct{ straight, cos, sin r3.Vector }

func carry(v, dir r3.Vector) carried {
	return carried{v, v.Sub(dir.Mul(dir.Dot(v))), dir.Cross(v)}
}

func (c *carried) at(sin, cos float64) r3.Vector {
	back := 1 - cos
	return r3.Vector{
		X: c.straight.X + c.sin.X*sin - c.cos.X*back,
		Y: c.straight.Y + c.sin.Y*sin - c.cos.Y*back,
		Z: c.straight.Z + c.sin.Z*sin - c.cos.Z*back,
	}
}

// fixed is the part along the kingpin.
func (c *carried) fixed() r3.Vector { return c.straight.Sub(c.cos) }

// New takes from a setup what the ground sees.
func New(s *setup.Setup) *Vehicle {
	v := &Vehicle{Wheelbase: s.Vehicle.Wheelbase, RearTrack: s.Vehicle.RearTrack, RearTyre: s.Vehicle.RearTyre}
	for _, side := range setup.Sides {
		w, spin, kingpin := s.Corners[side].Wheel, s.SpinAxis(side), s.Kingpin(side)
		leftward, stub := spin.Mul(side.Sign()), r3.Vector{X: w.Lead}
		v.Corners[side] = Corner{
			Kingpin: kingpin, Side: side, Tyre: w.Tyre,
			leftward: carry(leftward, kingpin.Dir), stub: carry(stub, kingpin.Dir),
			centre: carry(stub.Add(spin.Mul(w.Offset)), kingpin.Dir), moment: carry(stub.Cross(leftward), kingpin.Dir),
		}
	}
	return v
}

// Wheel is a front wheel at a pose.
type Wheel struct {
	Steer    s1.Angle  // heading of the tyre's mid-plane on the ground
	Camber   s1.Angle  // lean from upright
	Contact  r3.Vector // lowest point of the tyre's mid-circle, the frame held level, mm
	Centre   r3.Vector // of the tyre, mm
	Leftward r3.Vector // spin axis, pointing left, unit
	Stub     r3.Vector // on the stub axle, where it passes the kingpin, mm
	Rate     float64   // steer per turn of the spindle
}

// At returns the wheel with the spindle at the angle whose sine and cosine are given.
func (c *Corner) At(sin, cos float64) (w Wheel) {
	c.at(sin, cos, &w)
	return w
}

func (c *Corner) at(sin, cos float64, w *Wheel) {
	a := c.leftward.at(sin, cos)
	w.Leftward = a
	w.Stub = c.Kingpin.Point.Add(c.stub.at(sin, cos))
	w.Centre = c.Kingpin.Point.Add(c.centre.at(sin, cos))

	level := a.X*a.X + a.Y*a.Y
	slope := math.Sqrt(level)
	w.Steer = heading(a)
	w.Camber = s1.Angle(0 - c.Side.Sign()*math.Atan2(a.Z, slope))
	radius := c.Tyre.Diameter / 2
	w.Contact = w.Centre.Add(r3.Vector{X: a.Z * a.X / slope, Y: a.Z * a.Y / slope, Z: -slope}.Mul(radius))
	turning := c.Kingpin.Dir.Cross(a)
	w.Rate = (a.X*turning.Y - a.Y*turning.X) / level // of atan2(-a.X, a.Y)
}

// heading returns the direction that a wheel rolls in, from straight ahead, positive to the left,
// given its spin axis pointing left.
func heading(leftward r3.Vector) s1.Angle { return s1.Angle(math.Atan2(0-leftward.X, leftward.Y)) }

// Turn is how the two front wheels stand to each other in a turn. Every figure is NaN while the
// mean steer is under half a degree: straight ahead has no inner wheel.
type Turn struct {
	Inner      setup.Side
	InnerSteer s1.Angle // positive into the turn, as OuterSteer
	OuterSteer s1.Angle
	IdealInner s1.Angle // at which the axle lines would meet on the rear axle line
	Error      s1.Angle // InnerSteer - IdealInner: positive is more turn-in than ideal
	Percent    float64  // 100 (inner - outer)/(ideal inner - outer): 0 parallel, 100 ideal, negative reversed
	Centre     r2.Point // where the outer wheel's axle line meets the rear axle line, mm
	AxleCross  r2.Point // where the two front axle lines meet, mm
}

// Known tells whether the pose turns enough for its figures to have a meaning.
func (t *Turn) Known() bool { return !math.IsNaN(float64(t.InnerSteer)) }

// leastTurn is the mean steer below which a pose counts as straight ahead.
const leastTurn = 0.5 * s1.Degree

var nowhere = r2.Point{X: math.NaN(), Y: math.NaN()}

// straight is the Turn of a pose that does not turn.
var straight = Turn{
	InnerSteer: s1.Angle(math.NaN()), OuterSteer: s1.Angle(math.NaN()), IdealInner: s1.Angle(math.NaN()),
	Error: s1.Angle(math.NaN()), Percent: math.NaN(), Centre: nowhere, AxleCross: nowhere,
}

// Turn compares the two front wheels of a pose with the Ackermann condition.
func (v *Vehicle) Turn(wheels *[2]Wheel) Turn {
	t := straight
	mean := (wheels[setup.Left].Steer + wheels[setup.Right].Steer) / 2
	if mean.Abs() < leastTurn {
		return t
	}
	into := s1.Angle(1)
	if mean < 0 {
		into, t.Inner = -1, setup.Right
	}
	inner, outer := &wheels[t.Inner], &wheels[t.Inner.Other()]
	t.InnerSteer, t.OuterSteer = into*inner.Steer, into*outer.Steer
	t.IdealInner = into * v.idealInner(t.Inner, outer)
	t.Error = t.InnerSteer - t.IdealInner
	if t.IdealInner != t.OuterSteer {
		t.Percent = 100 * float64(t.InnerSteer-t.OuterSteer) / float64(t.IdealInner-t.OuterSteer)
	}
	t.Centre = cross(outer, r2.Point{X: -v.Wheelbase}, r2.Point{Y: 1})
	t.AxleCross = cross(outer, plan(inner.Stub), plan(inner.Leftward))
	return t
}

// idealInner returns the steer angle of the inner wheel at which its axle line meets the outer
// wheel's on the rear axle line, at T = S + t·a with t = (-wheelbase - S.x)/a.x. Everything is multiplied
// by a.x, so that an outer wheel that stands straight, whose T is at infinity, needs no case of its own.
func (v *Vehicle) idealInner(inner setup.Side, outer *Wheel) s1.Angle {
	w := outer.Leftward.X
	t := plan(outer.Leftward).Mul(-v.Wheelbase - outer.Stub.X).Add(plan(outer.Stub).Mul(w))
	return v.Corners[inner].steerThrough(t, w, -1) // as on the outer wheel, T lies the same way along the axle
}

// steerThrough returns the steer angle of a wheel whose axle line, seen from above, passes through the
// point T, given as w·T and w. leftward is the sign that w times the way from the wheel to T has
// along the axle to the left: of the two headings that differ by half a turn it picks one. NaN where the wheel
// cannot point so.
//
// That the axle line passes through T is linear in cosine and sine of the spindle angle, because
// stub and spin axis turn as one.
func (c *Corner) steerThrough(t r2.Point, w, leftward float64) s1.Angle {
	t = t.Sub(plan(c.Kingpin.Point).Mul(w))

	// w·(T - S)×a as constant + cosine and sine parts.
	condition := func(a, m r3.Vector) float64 { return t.Cross(plan(a)) - w*m.Z }
	k0 := condition(c.leftward.fixed(), c.moment.fixed())
	k1 := condition(c.leftward.cos, c.moment.cos)
	k2 := condition(c.leftward.sin, c.moment.sin)

	h2 := k1*k1 + k2*k2
	q := math.Sqrt(h2 - k0*k0)
	for _, branch := range [2]float64{1, -1} {
		sin, cos := (-k0*k2+branch*q*k1)/h2, (-k0*k1-branch*q*k2)/h2
		a, s := c.leftward.at(sin, cos), c.stub.at(sin, cos)
		if leftward*t.Sub(plan(s).Mul(w)).Dot(plan(a)) > 0 {
			return heading(a)
		}
	}
	return s1.Angle(math.NaN())
}

// cross returns where a wheel's axle line meets the line through p along d, seen from above.
func cross(w *Wheel, p, d r2.Point) r2.Point {
	a := plan(w.Leftward)
	area := a.Cross(d)
	if math.Abs(area) < 1e-12 {
		return nowhere
	}
	s := plan(w.Stub)
	return s.Add(a.Mul(p.Sub(s).Cross(d) / area))
}

// plan looks at a vector from above.
func plan(v r3.Vector) r2.Point { return r2.Point{X: v.X, Y: v.Y} }

// Wheels returns both front wheels at a pose of the linkage.
func (v *Vehicle) Wheels(p *linkage.Pose) (wheels [2]Wheel) {
	v.Fill(&wheels, p)
	return wheels
}

// Fill is Wheels into a place that is there already.
func (v *Vehicle) Fill(wheels *[2]Wheel, p *linkage.Pose) {
	for side := range v.Corners {
		v.Corners[side].at(p.Sides[side].Sin, p.Sides[side].Cos, &wheels[side])
	}
}
