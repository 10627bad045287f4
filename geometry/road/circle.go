package road

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"locksweep/geometry/advance"
	"locksweep/geometry/linkage"
	"locksweep/geometry/setup"
)

// Circle is what the vehicle sweeps while it rolls about a centre on the rear axle line, mm. NaN where there is no
// such centre.
type Circle struct {
	Centre         r2.Point
	OverFrontTyres float64 // diameter over the outer edges of the front treads where they touch the ground
	InnerRear      float64 // radius of the inner edge of the inner rear tyre; negative where the centre lies under the vehicle
}

// circle returns what is swept about a centre.
func (v *Vehicle) circle(wheels *[2]Wheel, centre r2.Point) Circle {
	c := Circle{Centre: centre, OverFrontTyres: math.NaN(), InnerRear: math.NaN()}
	if math.IsNaN(centre.X) {
		return c
	}
	radius := 0.0
	for side := range wheels {
		w := &wheels[side]
		// The tread's edges, along the axle from the contact point.
		across := plan(w.Leftward).Mul(v.Corners[side].Tyre.Width / 2)
		for _, edge := range [2]r2.Point{plan(w.Contact).Add(across), plan(w.Contact).Sub(across)} {
			radius = math.Max(radius, edge.Sub(centre).Norm())
		}
	}
	c.OverFrontTyres = 2 * radius
	c.InnerRear = math.Abs(centre.Y) - v.RearTrack/2 - v.RearTyre.Width/2
	return c
}

// OuterCircle returns what is swept where the outer wheel rolls without slip, and the inner one as it may.
func (v *Vehicle) OuterCircle(wheels *[2]Wheel, t *Turn) Circle { return v.circle(wheels, t.Centre) }

// InnerCircle returns what is swept where the inner wheel rolls without slip, and the outer one as it may.
func (v *Vehicle) InnerCircle(wheels *[2]Wheel, t *Turn) Circle {
	if !t.Known() {
		return v.circle(wheels, nowhere)
	}
	return v.circle(wheels, cross(wheels[t.Inner].line(), line{r2.Point{X: -v.Wheelbase}, r2.Point{Y: 1}}))
}

// BalancedCircle returns what is swept where both front wheels slip alike: as far as one heads left of where it would
// roll free, the other heads right of it. It is a Slide without a slide angle.
func (v *Vehicle) BalancedCircle(wheels *[2]Wheel, t *Turn) Circle {
	if !t.Known() {
		return v.circle(wheels, nowhere)
	}
	mean := float64(wheels[setup.Left].Steer+wheels[setup.Right].Steer) / 2
	turn := math.Copysign(1, mean)
	// By the angle that a wheel in the middle of the front axle would need: the greater it is, the more both want to steer.
	slide := func(angle float64) Slide { return Slide{Radius: v.Wheelbase / math.Tan(angle), Turn: turn} }
	angle, _ := advance.Rise(0, math.Pi/2, -math.Abs(mean), math.Inf(1), closed, func(angle float64) float64 {
		s := slide(angle)
		return turn*float64(v.FreeSteer(setup.Left, s)+v.FreeSteer(setup.Right, s))/2 - turn*mean
	})
	s := slide(angle)
	if math.IsNaN(float64(v.FreeSteer(setup.Left, s) + v.FreeSteer(setup.Right, s))) {
		return v.circle(wheels, nowhere)
	}
	return v.circle(wheels, v.Centre(s))
}

// Offsets returns the scrub radius (tyre contact outboard of where the kingpin axis meets the ground) and the trail
// (contact behind that point) of a wheel at a pose, along and across its own heading, mm. The ground is level with
// the contact.
func (v *Vehicle) Offsets(side setup.Side, w *Wheel) (scrub, trail float64) {
	axis := v.Corners[side].Kingpin
	pierce := axis.Point.Add(axis.Dir.Mul((w.Contact.Z - axis.Point.Z) / axis.Dir.Z))
	left := plan(w.Leftward).Normalize()
	fore := r2.Point{X: left.Y, Y: -left.X}
	to := plan(w.Contact.Sub(pierce))
	return side.Sign() * to.Dot(left), -to.Dot(fore)
}

// StraightOffsets returns Offsets straight ahead as measured.
func (v *Vehicle) StraightOffsets(side setup.Side) (scrub, trail float64) {
	w := v.Corners[side].At(0, 1)
	return v.Offsets(side, &w)
}

// MomentArm returns the moment about the kingpin, positive where it turns the wheel left, of a unit force at the
// contact along x, y and z, as the three components of a vector, mm: k × (contact - kingpin centre), k pointing up.
func (v *Vehicle) MomentArm(side setup.Side, w *Wheel) r3.Vector {
	axis := v.Corners[side].Kingpin
	return axis.Dir.Cross(w.Contact.Sub(axis.Point))
}

// Width returns the overall width over all four tyres at a pose, mm: front tyres are cylinders. It asks no more of the pose than how the
// spindles are turned.
func (v *Vehicle) Width(p *linkage.Pose) float64 {
	rear := v.RearTrack/2 + v.RearTyre.Width/2
	left, right := rear, -rear
	for side := range v.Corners {
		c, sp := &v.Corners[side], &p.Sides[side]
		y, centre := math.Abs(c.axle.leftward.leftAt(sp.Sin, sp.Cos)), c.Kingpin.Point.Y+c.centre.leftAt(sp.Sin, sp.Cos)
		reach := y*c.Tyre.Width/2 + math.Sqrt(1-math.Min(y*y, 1))*c.Tyre.Diameter/2 // to either side of the tyre's centre
		left = math.Max(left, centre+reach)
		right = math.Min(right, centre-reach)
	}
	return left - right
}
