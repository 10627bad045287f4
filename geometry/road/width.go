package road

import (
	"math"

	"locksweep/geometry/linkage"
)

// Width returns the overall width over all four tyres, mm.
func (v *Vehicle) Width(wheels *[2]Wheel) float64 {
	var across, centre [2]float64
	for side := range wheels {
		across[side], centre[side] = wheels[side].Leftward.Y, wheels[side].Centre.Y
	}
	return v.width(&across, &centre)
}

// WidthAt is Width at a pose of the linkage, of which it asks no more than how the spindles are turned.
func (v *Vehicle) WidthAt(p *linkage.Pose) float64 {
	var across, centre [2]float64
	for side := range across {
		c, sp := &v.Corners[side], &p.Sides[side]
		across[side], centre[side] = c.axle.leftward.leftAt(sp.Sin, sp.Cos), c.Kingpin.Point.Y+c.centre.leftAt(sp.Sin, sp.Cos)
	}
	return v.width(&across, &centre)
}

// width is Width by how far to the left the spin axes and the tyres' centres reach.
func (v *Vehicle) width(across, centre *[2]float64) float64 {
	rear := v.RearTrack/2 + v.RearTyre.Width/2
	left, right := rear, -rear
	for side := range across {
		tyre, y := v.Corners[side].Tyre, math.Abs(across[side])
		reach := y*tyre.Width/2 + math.Sqrt(1-math.Min(y*y, 1))*tyre.Diameter/2 // of a cylinder, to either side of its centre
		left = math.Max(left, centre[side]+reach)
		right = math.Min(right, centre[side]-reach)
	}
	return left - right
}
