package road

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"locksweep/geometry/advance"
	"locksweep/geometry/setup"
)

// Slide is a vehicle held sideways on flat ground: the middle of the rear axle follows a circle while the
// body keeps its angle to the path. Kinematic: rigid tyres; of loads only what OuterWeight says.
type Slide struct {
	Radius float64  // of the path of the rear axle's middle, mm
	Angle  s1.Angle // of the body to that path, positive with the nose turned into the turn
	Turn   float64  // +1 where the path turns left, -1 right
	// FrontSlip is by how much the front wheels head further into the turn than they move, as tyres do that push
	// the front round: a wheel is turned that much less against the turn than one that rolls free.
	FrontSlip s1.Angle
	// OuterWeight is the part of the front axle's weight on the wheel outside the turn; 0: as much as on the other.
	OuterWeight float64
}

// Centre returns the centre of the path, vehicle axes seen from above, mm. Without a slide angle it
// lies on the rear axle line.
func (v *Vehicle) Centre(s Slide) r2.Point {
	sin, cos := math.Sincos(float64(s.Angle))
	return r2.Point{X: -v.Wheelbase + s.Radius*sin, Y: s.Turn * s.Radius * cos}
}

// Outside is the side of the vehicle that is outside the turn.
func (s Slide) Outside() setup.Side {
	if s.Turn > 0 {
		return setup.Right
	}
	return setup.Left
}

// Weighted is the mean of a figure of both front wheels, each by its part of the weight.
func (s Slide) Weighted(of [2]s1.Angle) s1.Angle {
	outer := s.OuterWeight
	if outer == 0 {
		outer = 0.5
	}
	return s1.Angle(outer)*of[s.Outside()] + s1.Angle(1-outer)*of[s.Outside().Other()]
}

// FreeSteer returns the steer angle at which a front wheel rolls in a slide, with the front slip that is given: without any
// its axle line passes through the centre of the path. Without a slide angle this is the Ackermann condition.
func (v *Vehicle) FreeSteer(side setup.Side, s Slide) s1.Angle {
	c := &v.Corners[side]
	return c.axle.steerThrough(c.Kingpin.Point, v.Centre(s), 1, s.Turn) + s1.Angle(s.Turn)*s.FrontSlip
}

// closed is how far off an angle may be that is closed in on, radians.
const closed = 1e-15

// SlideHeld returns the greatest slide angle at which a wheel that can be turned against the turn as far
// as steer (positive to the left) still rolls, up to 90 degrees; the angle of s does not count.
// It is NaN where the wheel cannot even point along the path without a slide.
func (v *Vehicle) SlideHeld(side setup.Side, s Slide, steer s1.Angle) s1.Angle {
	// by is how much further against the turn the wheel would have to be turned to roll at a slide angle, positive once it cannot; NaN
	// where no wheel can point so.
	by := func(angle s1.Angle) float64 {
		s.Angle = angle
		return s.Turn * float64(steer-v.FreeSteer(side, s))
	}
	before := by(0)
	if !(before <= 0) {
		return nan
	}
	const step = s1.Degree
	for low := s1.Angle(0); low < 90*s1.Degree; low += step {
		at := by(low + step)
		if !(at <= 0) {
			held, _ := advance.Rise(low, low+step, before, at, closed, by)
			return held
		}
		before = at
	}
	return 90 * s1.Degree
}
