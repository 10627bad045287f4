package linkage

import (
	"math"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/geometry/rigid"
)

// Crank is an arm that turns about an axis and carries a ball; or, with a Slide, a bar that slides along the axis.
type Crank struct {
	Axis rigid.Axis
	Arm  r3.Vector // from Axis.Point to the ball with the crank at angle 0, mm
	// Slide is the way along Axis.Dir for each radian of the crank's angle, mm; 0: it turns about the axis.
	Slide float64
}

// Home is the ball's place with the crank at angle 0, vehicle axes, mm.
func (c *Crank) Home() r3.Vector { return c.Axis.Point.Add(c.Arm) }

// from is where the ball is from the axis point, mm, with the crank at the angle whose terms are given.
func (c *Crank) from(sin, cos float64) r3.Vector {
	if c.Slide != 0 {
		return c.Arm.Add(c.Axis.Dir.Mul(c.Slide * cos))
	}
	return rigid.Rotate(c.Arm, c.Axis.Dir, sin, cos)
}

// terms are what places of the crank's ball, and the squares of its distances, are linear in: sine and cosine of its angle φ where it
// turns, φ² and φ where it slides.
func (c *Crank) terms(φ float64) (sin, cos float64) {
	if c.Slide != 0 {
		return φ * φ, φ
	}
	return math.Sincos(φ)
}

// lever returns how far the ball moves for each radian of the crank's angle, mm: its perpendicular distance from the axis, or the slide.
func (c Crank) lever() float64 {
	if c.Slide != 0 {
		return math.Abs(c.Slide)
	}
	return c.Axis.Dir.Cross(c.Arm).Norm()
}

// pull is the signed lever about the crank's axis of a force along the unit vector dir at its ball, which is at arm from the axis point: how
// far the ball moves along dir for each radian, mm.
func (c *Crank) pull(arm, dir r3.Vector) float64 {
	if c.Slide != 0 {
		return c.Slide * dir.Dot(c.Axis.Dir)
	}
	return dir.Dot(c.Axis.Dir.Cross(arm))
}

// Loop is a spatial four-bar: two cranks on axes that may be askew, joined by a rod with a ball at
// either end. Given the angle of In it tells the angle of Out, in closed form (docs/theory.md, Spatial loop). In may
// slide, Out turns.
//
// With the ball of In at v from Out's axis point, in Out's axes (x along its arm square to the axis,
// z along the axis), the rod's length asks x·cosθ + y·sinθ = c; x, y and c are linear in the terms of In.
type Loop struct {
	In, Out Crank
	Length  float64 // of the rod, centre to centre, mm
	Branch  float64 // +1 or -1: which of the two assemblies

	x, y, z, c trig1
	lift       float64 // of Out's ball along its axis
}

// newLoop prepares a loop. branch picks the assembly: +1 has Out's arm turned on from the direction
// of In's ball, -1 turned back. The loop need not assemble anywhere.
func newLoop(in, out Crank, rod, branch float64) Loop {
	dir := out.Axis.Dir
	lift := dir.Dot(out.Arm)
	arm := out.Arm.Sub(dir.Mul(lift))
	lever := arm.Norm()
	e1 := arm.Mul(1 / lever)
	e2 := dir.Cross(e1)

	along := in.Axis.Dir.Mul(in.Axis.Dir.Dot(in.Arm))
	fixed := in.Axis.Point.Sub(out.Axis.Point).Add(along)
	cos := in.Arm.Sub(along)
	sin := in.Axis.Dir.Cross(in.Arm)
	distance2 := trig1{fixed.Norm2() + cos.Norm2(), 2 * fixed.Dot(cos), 2 * fixed.Dot(sin)}
	if in.Slide != 0 {
		fixed = in.Axis.Point.Sub(out.Axis.Point).Add(in.Arm)
		cos, sin = in.Axis.Dir.Mul(in.Slide), r3.Vector{}
		distance2 = trig1{fixed.Norm2(), 2 * fixed.Dot(cos), in.Slide * in.Slide}
	}
	project := func(e r3.Vector) trig1 { return trig1{fixed.Dot(e), cos.Dot(e), sin.Dot(e)} }

	z := project(dir)
	c := trig1{(out.Arm.Norm2() - rod*rod) / 2, 0, 0}.plus(distance2.times(0.5)).plus(z.times(-lift))
	return Loop{In: in, Out: out, Length: rod, Branch: branch,
		x: project(e1), y: project(e2), z: z, c: c.times(1 / lever), lift: lift}
}

// swapped is the same linkage driven from the other end, where In turns. Its branch is the one that holds In at
// the angle in when Out stands at the angle out.
func (l *Loop) swapped(in, out s1.Angle) Loop {
	s := newLoop(l.Out, l.In, l.Length, 1)
	s.Branch = s.branchOf(out, in)
	return s
}

// branchOf tells on which branch the loop stands with In at φ and Out at θ.
func (l *Loop) branchOf(in, out s1.Angle) float64 {
	sin, cos := l.In.terms(float64(in))
	toBall := math.Atan2(l.y.at(sin, cos), l.x.at(sin, cos))
	if math.Sin(float64(out)-toBall) < 0 {
		return -1
	}
	return 1
}

// solve returns sine and cosine of Out's angle with In at the angle whose terms are
// given; ok is false where the rod cannot reach.
func (l *Loop) solve(sinIn, cosIn float64) (sin, cos float64, ok bool) {
	x, y, c := l.x.at(sinIn, cosIn), l.y.at(sinIn, cosIn), l.c.at(sinIn, cosIn)
	h2 := x*x + y*y
	q2 := h2 - c*c
	if h2 == 0 || q2 < -foldSlack*h2 {
		return 0, 1, false
	}
	q := l.Branch * math.Sqrt(math.Max(q2, 0))
	return (y*c + x*q) / h2, (x*c - y*q) / h2, true
}

// output returns Out's angle, in (-180, 180] degrees, with In at the given angle.
func (l *Loop) output(in s1.Angle) (out s1.Angle, ok bool) {
	sin, cos, ok := l.solve(l.In.terms(float64(in)))
	return s1.Angle(math.Atan2(sin, cos)), ok
}

// reach returns the least and greatest rod length that assembles with In at the given angle, mm.
func (l *Loop) reach(in s1.Angle) (least, greatest float64) {
	sin, cos := l.In.terms(float64(in))
	x, y, c := l.x.at(sin, cos), l.y.at(sin, cos), l.c.at(sin, cos)
	lever := l.Out.lever()
	mean := l.Length*l.Length + 2*lever*c
	swing := 2 * lever * math.Hypot(x, y)
	return math.Sqrt(math.Max(mean-swing, 0)), math.Sqrt(math.Max(mean+swing, 0))
}

// fold returns the angle of In, from angle from (radians) in direction dir (±1) and at most span
// on, at which the two assemblies first meet: Out cannot be pushed further that way. It also
// returns the angle of Out there.
func (l *Loop) fold(from, dir, span float64) (in, out float64, found bool) {
	if l.In.Slide != 0 {
		in, found = l.discriminant().firstZero(from, dir, span)
	} else {
		g := l.x.squared().plus(l.y.squared()).plus(l.c.squared().times(-1))
		in, found = g.firstZero(from, dir, span)
	}
	if !found {
		return 0, 0, false
	}
	sin, cos := l.In.terms(in)
	out = math.Atan2(l.y.at(sin, cos), l.x.at(sin, cos))
	if l.c.at(sin, cos) < 0 {
		out += math.Pi
	}
	return in, out, true
}

// rise returns the angle of In, from angle from in direction dir, at which the rod first rises from In's ball to Out's by so much along Out's
// axis, mm.
func (l *Loop) rise(by, from, dir float64) (in float64, found bool) {
	if l.In.Slide != 0 {
		in = (l.lift - by - l.z[0]) / l.z[1]
		return in, (in-from)*dir >= 0 && !math.IsInf(in, 0)
	}
	return l.z.firstReach(l.lift-by, from, dir)
}

// foldSlack forgives rounding at a fold: the discriminant there is a difference of squares.
const foldSlack = 1e-13
