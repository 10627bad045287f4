package sweep

import (
	"math"

	"github.com/golang/geo/s1"

	"locksweep/geometry/road"
	"locksweep/geometry/setup"
)

// SlidePose is a vehicle held in a slide by the column angle at which the slips of the two front wheels add
// up to nought: as far as one wheel heads left of where it would roll free, the other heads right of it.
type SlidePose struct {
	road.Slide
	Pose
	Free [2]s1.Angle // steer at which each wheel would roll free, positive to the left
	// Apart is by how much the wheels' headings splay, left wheel to the left of the right one, more than
	// they would where both rolled free; negative where they pinch. Half of it is the slip of either
	// wheel. Without a slide angle it has the sign of the Ackermann error, whichever way the path turns.
	Apart s1.Angle
}

// Sliding returns how a slide is held; ok is false where the locks do not let it.
func (r *Result) Sliding(s road.Slide) (p SlidePose, ok bool) {
	p.Slide = s
	for _, side := range setup.Sides {
		p.Free[side] = r.Road.FreeSteer(side, s)
	}
	if p.Pose, ok = r.atMean((p.Free[setup.Left] + p.Free[setup.Right]) / 2); !ok {
		return p, false
	}
	splay := func(left, right s1.Angle) s1.Angle { return left - right }
	p.Apart = splay(p.Wheels[0].Steer, p.Wheels[1].Steer) - splay(p.Free[0], p.Free[1])
	return p, true
}

// atMean returns the pose within the locks whose mean steer, positive to the left, is the given one, to
// 1e-10 degrees; ok is false where the locks do not hold it between them.
func (r *Result) atMean(steer s1.Angle) (p Pose, ok bool) {
	low, high := &r.Locks[ToRight], &r.Locks[ToLeft]
	if low.Pose.MeanSteer() > high.Pose.MeanSteer() {
		low, high = high, low
	}
	if !(low.Pose.MeanSteer() <= steer && steer <= high.Pose.MeanSteer()) {
		return p, false
	}
	from, to, next := low.Column, high.Column, s1.Angle(0)
	for range 100 {
		if !((next-from)*(next-to) <= 0) {
			next = (from + to) / 2
		}
		r.pose(next, &p)
		short := steer - p.MeanSteer()
		switch {
		case short.Abs() < 1e-10*s1.Degree:
			return p, true
		case short > 0:
			from = next
		default:
			to = next
		}
		next += short / s1.Angle((p.Ratio[setup.Left]+p.Ratio[setup.Right])/2)
	}
	return p, false
}

// SlideHeld returns, by side, the greatest slide angle at which a front wheel still rolls free when it is
// turned against the turn as far as the locks allow: on a path of a radius (mm, of the rear axle's middle) that
// turns to the left (turn +1) or to the right (-1). It is at most 90 degrees, and NaN where the wheel
// does not even get to where it heads without a slide.
func (r *Result) SlideHeld(radius, turn float64) (held [2]s1.Angle) {
	for _, side := range setup.Sides {
		against := math.Min(turn*float64(r.Locks[ToLeft].Pose.Wheels[side].Steer), turn*float64(r.Locks[ToRight].Pose.Wheels[side].Steer))
		held[side] = r.Road.SlideHeld(side, radius, turn, s1.Angle(turn*against))
	}
	return held
}
