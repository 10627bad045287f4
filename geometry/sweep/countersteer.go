package sweep

import (
	"math"

	"github.com/golang/geo/s1"

	"locksweep/geometry/linkage"
	"locksweep/geometry/road"
	"locksweep/geometry/setup"
)

// Countersteer is how the steering stands at the lock against a turn: what decides how far a slide can be caught.
type Countersteer struct {
	Path road.Slide // that the vehicle slides on; its angle has no meaning
	Lock Direction  // the one whose wheels are turned against the path
	Pose *Pose      // there
	// Steer is how far each wheel is turned against the turn, by side.
	Steer    [2]s1.Angle
	Leverage [2]Leverage // least at either end of the rods, by linkage.End
	Gap      float64     // least of all pairs but those that stop the steering, mm; +Inf where none is near
	// Splay is the left wheel's heading less the right one's.
	Splay s1.Angle
}

// Countersteer looks at the lock against a turn.
func (r *Result) Countersteer(path road.Slide) (c Countersteer) {
	c.Path, c.Gap = path, math.Inf(1)
	if path.Turn*float64(r.Locks[ToRight].Pose.MeanSteer()) < path.Turn*float64(r.Locks[ToLeft].Pose.MeanSteer()) {
		c.Lock = ToRight
	}
	lock := &r.Locks[c.Lock]
	c.Pose = &lock.Pose
	for _, side := range setup.Sides {
		c.Steer[side] = s1.Angle(-path.Turn) * c.Pose.Wheels[side].Steer
	}
	for _, end := range linkage.Ends {
		c.Leverage[end] = r.LeastLeverage(lock.Column, lock.Column, end)
	}
	for i := range r.Near {
		if n := &r.Near[i]; !r.Stops(n.Pair) {
			gap, _, _ := r.Scene.Gap(n.Pair, &c.Pose.Pose)
			c.Gap = math.Min(c.Gap, math.Max(gap, 0))
		}
	}
	c.Splay = c.Pose.Wheels[setup.Left].Steer - c.Pose.Wheels[setup.Right].Steer
	return c
}

// HeldAgainst returns the slide angle at which each wheel rolls at the lock against a turn, by side.
func (r *Result) HeldAgainst(c *Countersteer) (held [2]s1.Angle) {
	for _, side := range setup.Sides {
		held[side] = r.Road.SlideHeld(side, c.Path, c.Pose.Wheels[side].Steer)
	}
	return held
}

// HeldOn is the slide angle that each wheel holds on a path of a radius, by side.
type HeldOn struct {
	Radius float64 // mm
	Held   [2]s1.Angle
}

// SlideRadii are the radii of the paths that a slide is looked at on, mm: every metre from 2 to 20, or every 40 in
// from 80 to 800.
func SlideRadii(u setup.Unit) (radii []float64) {
	for m := 2; m <= 20; m++ {
		if u == setup.Inch {
			radii = append(radii, u.ToMM(float64(40*m)))
		} else {
			radii = append(radii, float64(1000*m))
		}
	}
	return radii
}

// HeldOver returns the slide angle that the wheels hold at the lock against the turn, over the radii of paths.
func (r *Result) HeldOver(path road.Slide, radii []float64) (list []HeldOn) {
	for _, radius := range radii {
		path.Radius = radius
		list = append(list, HeldOn{radius, r.SlideHeld(path)})
	}
	return list
}
