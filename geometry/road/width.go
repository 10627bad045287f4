package road

import (
	"math"
)

// Width returns the overall width over all four tyres, mm.
func (v *Vehicle) Width(wheels *[2]Wheel) float64 {
	rear := v.RearTrack/2 + v.RearTyre.Width/2
	left, right := rear, -rear
	for side := range wheels {
		tyre, y := v.Corners[side].Tyre, math.Abs(wheels[side].Leftward.Y)
		reach := y*tyre.Width/2 + math.Sqrt(1-math.Min(y*y, 1))*tyre.Diameter/2 // of a cylinder, to either side of its centre
		left = math.Max(left, wheels[side].Centre.Y+reach)
		right = math.Min(right, wheels[side].Centre.Y-reach)
	}
	return left - right
}
