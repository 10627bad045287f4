package road

import (
	"math"

	"locksweep/geometry/setup"
)

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
