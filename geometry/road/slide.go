package road

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"locksweep/geometry/setup"
)

// Slide is a vehicle held sideways on flat ground: the middle of the rear axle follows a circle while the
// body keeps its angle to the path. Kinematic: rigid tyres, no load, no slip at the front wheels.
type Slide struct {
	Radius float64  // of the path of the rear axle's middle, mm
	Angle  s1.Angle // of the body to that path, positive with the nose turned into the turn
	Turn   float64  // +1 where the path turns left, -1 right
}

// Centre returns the centre of the path, vehicle axes seen from above, mm. Without a slide angle it
// lies on the rear axle line.
func (v *Vehicle) Centre(s Slide) r2.Point {
	sin, cos := math.Sincos(float64(s.Angle))
	return r2.Point{X: -v.Wheelbase + s.Radius*sin, Y: s.Turn * s.Radius * cos}
}

// FreeSteer returns the steer angle at which a front wheel rolls freely in a slide: its axle line passes
// through the centre of the path. Without a slide angle this is the Ackermann condition.
func (v *Vehicle) FreeSteer(side setup.Side, s Slide) s1.Angle {
	return v.Corners[side].steerThrough(v.Centre(s), 1, s.Turn)
}

// SlideHeld returns the greatest slide angle at which a wheel that can be turned against the turn as far
// as steer (positive to the left) still rolls freely on a path of the given radius, up to 90 degrees.
// It is NaN where the wheel cannot even point along the path without a slide.
func (v *Vehicle) SlideHeld(side setup.Side, radius, turn float64, steer s1.Angle) s1.Angle {
	spare := func(angle s1.Angle) float64 {
		return turn * float64(v.FreeSteer(side, Slide{radius, angle, turn})-steer)
	}
	if !(spare(0) >= 0) {
		return s1.Angle(math.NaN())
	}
	const step = s1.Degree
	for low := s1.Angle(0); low < 90*s1.Degree; low += step {
		if high := low + step; !(spare(high) >= 0) {
			for range 50 {
				if mid := (low + high) / 2; spare(mid) >= 0 {
					low = mid
				} else {
					high = mid
				}
			}
			return low
		}
	}
	return 90 * s1.Degree
}
