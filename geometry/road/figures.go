package road

import (
	"math"

	"github.com/golang/geo/r2"

	"locksweep/geometry/setup"
)

// TurningCircle returns what the vehicle sweeps while it rolls about the turn's centre: the diameter
// over the outer edge of the front tyres where they touch the ground, and the radius of the inner edge
// of the inner rear tyre (negative where the centre lies beyond that edge, under the vehicle), mm.
// NaN where the pose does not turn.
func (v *Vehicle) TurningCircle(wheels *[2]Wheel, t *Turn) (overFrontTyres, innerRear float64) {
	if math.IsNaN(t.Centre.X) {
		return math.NaN(), math.NaN()
	}
	radius := 0.0
	for side := range wheels {
		w := &wheels[side]
		// The tread's outer edge, along the axle from the contact point on the side away from the centre.
		across := plan(w.Leftward).Mul(v.Corners[side].Tyre.Width / 2)
		for _, edge := range [2]r2.Point{plan(w.Contact).Add(across), plan(w.Contact).Sub(across)} {
			radius = math.Max(radius, edge.Sub(t.Centre).Norm())
		}
	}
	innerRear = math.Abs(t.Centre.Y) - v.RearTrack/2 - v.RearTyre.Width/2
	return 2 * radius, innerRear
}

// Width returns the overall width over all four tyres, mm.
func (v *Vehicle) Width(wheels *[2]Wheel) float64 {
	rear := v.RearTrack/2 + v.RearTyre.Width/2
	left, right := rear, -rear
	for side := range wheels {
		reach := v.halfWidth(setup.Side(side), &wheels[side])
		left = math.Max(left, wheels[side].Centre.Y+reach)
		right = math.Min(right, wheels[side].Centre.Y-reach)
	}
	return left - right
}

// halfWidth returns how far a front tyre, a cylinder, reaches to either side of its centre, mm.
func (v *Vehicle) halfWidth(side setup.Side, w *Wheel) float64 {
	tyre, y := v.Corners[side].Tyre, math.Abs(w.Leftward.Y)
	return y*tyre.Width/2 + math.Sqrt(1-math.Min(y*y, 1))*tyre.Diameter/2
}

// Offsets returns, straight ahead, the scrub radius (tyre contact outboard of where the kingpin axis
// meets the ground) and the trail (contact behind that point), mm.
func (v *Vehicle) Offsets(side setup.Side) (scrub, trail float64) {
	c := &v.Corners[side]
	w := c.At(0, 1)
	axis := c.Kingpin
	pierce := axis.Point.Add(axis.Dir.Mul((w.Contact.Z - axis.Point.Z) / axis.Dir.Z))
	// Along and across the wheel's own heading, as seen from above.
	left := plan(w.Leftward).Normalize()
	fore := r2.Point{X: left.Y, Y: -left.X}
	to := plan(w.Contact.Sub(pierce))
	return side.Sign() * to.Dot(left), -to.Dot(fore)
}

// Rise returns how far a front corner of the frame is lifted when the wheel turns from straight ahead
// as measured to the given pose and goes on standing on the ground, mm; negative where it sinks.
func (v *Vehicle) Rise(side setup.Side, w *Wheel) float64 {
	return v.Corners[side].At(0, 1).Contact.Z - w.Contact.Z
}
