package road

import (
	"math"

	"locksweep/geometry/linkage"
)

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
