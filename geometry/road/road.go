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

// Vehicle is what of a setup matters on the ground.
type Vehicle struct {
	Corners   [2]Corner
	Wheelbase float64 // mm
	RearTrack float64 // mm
	RearTyre  setup.Tyre

	ahead [2]rotation // of the spindles with the column centred
}

// rotation is an angle by its sine and cosine.
type rotation struct{ sin, cos float64 }

// less returns the angle less another.
func (r rotation) less(o rotation) rotation {
	return rotation{r.sin*o.cos - r.cos*o.sin, r.cos*o.cos + r.sin*o.sin}
}

// Corner is a wheel on its kingpin.
type Corner struct {
	Kingpin rigid.Axis
	Side    setup.Side
	Tyre    setup.Tyre

	axle   axle    // as it stands
	bare   axle    // with toe 0, for what the linkage alone does
	centre carried // from the kingpin centre to the tyre's centre, mm
}

// axle is a stub axle that the spindle carries round.
type axle struct {
	leftward carried // its direction to the left, unit
	stub     carried // from the kingpin centre to where it passes the kingpin, mm
	moment   carried // stub × leftward: of the axle line about the kingpin centre, mm
}

func newAxle(stub, leftward, kingpin r3.Vector) axle {
	return axle{carry(leftward, kingpin), carry(stub, kingpin), carry(stub.Cross(leftward), kingpin)}
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

// leftAt is the component of at to the left.
func (c *carried) leftAt(sin, cos float64) float64 {
	return c.straight.Y + c.sin.Y*sin - c.cos.Y*(1-cos)
}

// fixed is the component along the kingpin, which does not turn.
func (c *carried) fixed() r3.Vector { return c.straight.Sub(c.cos) }

// New takes from a setup what matters on the ground, with the spindles as the file has them when the column is centred.
func New(s *setup.Setup) *Vehicle {
	v := &Vehicle{Wheelbase: s.Vehicle.Wheelbase, RearTrack: s.Vehicle.RearTrack, RearTyre: s.Vehicle.RearTyre}
	v.ahead = [2]rotation{{0, 1}, {0, 1}}
	for _, side := range setup.Sides {
		w, spin, kingpin := s.Corners[side].Wheel, s.SpinAxis(side), s.Kingpin(side)
		bare := setup.FromCorner(side, setup.Wheel{Camber: w.Camber}.Spin())
		v.Corners[side] = Corner{
			Kingpin: kingpin, Side: side, Tyre: w.Tyre,
			axle: newAxle(w.Stub(), spin.Mul(side.Sign()), kingpin.Dir), bare: newAxle(w.Stub(), bare.Mul(side.Sign()), kingpin.Dir),
			centre: carry(w.Stub().Add(spin.Mul(w.Offset)), kingpin.Dir),
		}
	}
	return v
}

// Centred returns the vehicle with the spindles at the given angles when the column is centred, as rods of given
// length may set them.
func (v *Vehicle) Centred(spindles [2]s1.Angle) *Vehicle {
	c := *v
	for side, angle := range spindles {
		sin, cos := math.Sincos(float64(angle))
		c.ahead[side] = rotation{sin, cos}
	}
	return &c
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

	spindle rotation
}

// At returns the wheel with the spindle at the angle whose sine and cosine are given.
func (c *Corner) At(sin, cos float64) (w Wheel) {
	c.at(sin, cos, &w)
	return w
}

func (c *Corner) at(sin, cos float64, w *Wheel) {
	a := c.axle.leftward.at(sin, cos)
	w.spindle, w.Leftward = rotation{sin, cos}, a
	w.Stub = c.Kingpin.Point.Add(c.axle.stub.at(sin, cos))
	w.Centre = c.Kingpin.Point.Add(c.centre.at(sin, cos))

	level := a.X*a.X + a.Y*a.Y
	slope := math.Sqrt(level)
	w.Steer = heading(plan(a))
	w.Camber = s1.Angle(0 - c.Side.Sign()*math.Atan2(a.Z, slope))
	radius := c.Tyre.Diameter / 2
	w.Contact = w.Centre.Add(r3.Vector{X: a.Z * a.X / slope, Y: a.Z * a.Y / slope, Z: -slope}.Mul(radius))
	turning := c.Kingpin.Dir.Cross(a)
	w.Rate = (a.X*turning.Y - a.Y*turning.X) / level // of atan2(-a.X, a.Y)
}

// heading returns the direction that a wheel rolls in, from straight ahead, positive to the left,
// given its spin axis pointing left.
func heading(leftward r2.Point) s1.Angle { return s1.Angle(math.Atan2(0-leftward.X, leftward.Y)) }

// Turn is how the two front wheels stand to each other in a turn. Every figure is NaN while the
// mean steer is under half a degree: straight ahead has no inner wheel.
//
// Static toe is no matter of the linkage. Ahead, IdealInner, Error and Percent are of the linkage alone: of stubs
// with toe 0 at the spindle angles less those with the column centred. All else is of the wheels as they stand.
type Turn struct {
	Inner      setup.Side
	InnerSteer s1.Angle // positive into the turn, as OuterSteer
	OuterSteer s1.Angle
	Ahead      s1.Angle // how much further the linkage turns the inner wheel than the outer one
	IdealInner s1.Angle // at which the axle lines would meet on the rear axle line
	Error      s1.Angle // how much further than that the linkage turns the inner wheel: positive is more turn-in than ideal
	Percent    float64  // 100 Ahead / (IdealInner - outer): 0 parallel, 100 ideal, negative reversed
	Centre     r2.Point // where the outer wheel's axle line meets the rear axle line, mm
	AxleCross  r2.Point // where the two front axle lines meet, mm
}

// Known reports whether the pose turns enough for its figures to have a meaning.
func (t *Turn) Known() bool { return !math.IsNaN(float64(t.InnerSteer)) }

// ToeOut returns the toe-out on turns: how much further the inner wheel is turned than the outer one, as they stand.
func (t *Turn) ToeOut() s1.Angle { return t.InnerSteer - t.OuterSteer }

const (
	// leastTurn is the mean steer below which a pose counts as straight ahead.
	leastTurn = 0.5 * s1.Degree
	// leastAngle is the angle between two lines below which they count as parallel: they meet further off than
	// five thousand times what they are apart.
	leastAngle = 0.01 * s1.Degree
	// leastIdeal is the ideal difference of both wheels below which a percentage of it tells nothing.
	leastIdeal = 0.001 * s1.Degree
)

var (
	nan     = s1.Angle(math.NaN())
	nowhere = r2.Point{X: math.NaN(), Y: math.NaN()}
)

// straight is the Turn of a pose that does not turn.
var straight = Turn{
	InnerSteer: nan, OuterSteer: nan, Ahead: nan, IdealInner: nan, Error: nan, Percent: math.NaN(), Centre: nowhere, AxleCross: nowhere,
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
	t.Centre = cross(outer.line(), line{r2.Point{X: -v.Wheelbase}, r2.Point{Y: 1}})
	t.AxleCross = cross(outer.line(), inner.line())

	bareInner, bareOuter := v.bareLine(t.Inner, inner.spindle), v.bareLine(t.Inner.Other(), outer.spindle)
	innerSteer, outerSteer := into*heading(bareInner.along), into*heading(bareOuter.along)
	t.Ahead = innerSteer - outerSteer
	if math.Abs(bareOuter.along.X) < math.Sin(float64(leastAngle)) {
		return t // an outer wheel that stands straight asks for a turn's centre at infinity
	}
	t.IdealInner = into * v.idealInner(t.Inner, bareOuter)
	t.Error = innerSteer - t.IdealInner
	if ideal := t.IdealInner - outerSteer; ideal.Abs() >= leastIdeal {
		t.Percent = 100 * float64(t.Ahead/ideal)
	}
	return t
}

// LinkageSteer returns the mean steer of both wheels at a pose with static toe taken off, positive to the left. It asks no more of the
// pose than how the spindles are turned.
func (v *Vehicle) LinkageSteer(p *linkage.Pose) s1.Angle {
	var steer [2]s1.Angle
	for side, sp := range p.Sides {
		steer[side] = heading(v.bareLine(setup.Side(side), rotation{sp.Sin, sp.Cos}).along)
	}
	return (steer[setup.Left] + steer[setup.Right]) / 2
}

// line is an axle line seen from above: a point of it and its direction to the left.
type line struct{ point, along r2.Point }

func (w *Wheel) line() line { return line{plan(w.Stub), plan(w.Leftward)} }

// bareLine is the axle line of a wheel with toe 0 and as far from straight ahead as its spindle is from where that
// stands with the column centred.
func (v *Vehicle) bareLine(side setup.Side, spindle rotation) line {
	c, r := &v.Corners[side], spindle.less(v.ahead[side])
	return line{plan(c.Kingpin.Point.Add(c.bare.stub.at(r.sin, r.cos))), plan(c.bare.leftward.at(r.sin, r.cos))}
}

// idealInner returns the steer angle of the inner wheel, toe 0, at which its axle line meets the outer
// wheel's on the rear axle line, at T = S + t·a with t = (-wheelbase - S.x)/a.x. Everything is multiplied
// by a.x, so that an outer wheel that stands straight, whose T is at infinity, needs no case of its own.
func (v *Vehicle) idealInner(inner setup.Side, outer line) s1.Angle {
	w := outer.along.X
	t := outer.along.Mul(-v.Wheelbase - outer.point.X).Add(outer.point.Mul(w))
	c := &v.Corners[inner]
	return c.bare.steerThrough(c.Kingpin.Point, t, w, -1) // as on the outer wheel, T lies the same way along the axle
}

// steerThrough returns the steer angle at which an axle line, seen from above, passes through the
// point T, given as w·T and w. leftward is the sign that w times the way from the wheel to T has
// along the axle to the left: of the two headings that differ by half a turn it picks one. NaN where the wheel
// cannot point so.
//
// That the axle line passes through T is linear in cosine and sine of the spindle angle, because
// stub and spin axis turn as one.
func (x *axle) steerThrough(kingpin r3.Vector, t r2.Point, w, leftward float64) s1.Angle {
	t = t.Sub(plan(kingpin).Mul(w))

	// w·(T - S)×a as constant + cosine and sine parts.
	condition := func(a, m r3.Vector) float64 { return t.Cross(plan(a)) - w*m.Z }
	k0 := condition(x.leftward.fixed(), x.moment.fixed())
	k1 := condition(x.leftward.cos, x.moment.cos)
	k2 := condition(x.leftward.sin, x.moment.sin)

	h2 := k1*k1 + k2*k2
	q := math.Sqrt(h2 - k0*k0)
	for _, branch := range [2]float64{1, -1} {
		sin, cos := (-k0*k2+branch*q*k1)/h2, (-k0*k1-branch*q*k2)/h2
		a, s := plan(x.leftward.at(sin, cos)), x.stub.at(sin, cos)
		if leftward*t.Sub(plan(s).Mul(w)).Dot(a) > 0 {
			return heading(a)
		}
	}
	return nan
}

// cross returns where two lines meet, seen from above; nowhere where they are parallel.
func cross(a, b line) r2.Point {
	area := a.along.Cross(b.along)
	if math.Abs(area) < math.Sin(float64(leastAngle))*a.along.Norm()*b.along.Norm() {
		return nowhere
	}
	return a.point.Add(a.along.Mul(b.point.Sub(a.point).Cross(b.along) / area))
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
