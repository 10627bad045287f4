package sweep

import (
	"math"

	"github.com/golang/geo/s1"

	"locksweep/geometry/linkage"
	"locksweep/geometry/road"
	"locksweep/geometry/setup"
)

// SlideRadius returns the radius of the path that slides are looked at on where none is given, mm: 4 m or 160 in,
// a car park's (common practice, no source), and for a vehicle of more than half of that in wheelbase twice the
// wheelbase, on to a whole half metre or 20 in.
func SlideRadius(u setup.Unit, wheelbase float64) float64 {
	least, step := 4000.0, 500.0
	if u == setup.Inch {
		least, step = u.ToMM(160), u.ToMM(20)
	}
	return math.Max(least, step*math.Ceil(2*wheelbase/step))
}

// SlidePose is a vehicle held in a slide by the column angle at which the slips of the two front wheels, each by its
// part of the weight, add up to nought: as far as one wheel heads left of where it would roll, the other heads right.
type SlidePose struct {
	road.Slide
	Pose
	Free [2]s1.Angle // steer at which each wheel would roll, positive to the left
	// Apart is by how much the wheels' headings splay, left wheel to the left of the right one, more than
	// they would where both rolled; negative where they pinch. With equal weights half of it is the slip of either
	// wheel. Without a slide angle it has the sign of the Ackermann error, whichever way the path turns.
	Apart s1.Angle
}

// Sliding returns how a slide is held; ok is false where the locks do not let it.
func (r *Result) Sliding(s road.Slide) (p SlidePose, ok bool) {
	p.Slide = s
	for _, side := range setup.Sides {
		p.Free[side] = r.Road.FreeSteer(side, s)
	}
	if p.Pose, ok = r.atMean(s, s.Weighted(p.Free)); !ok {
		return p, false
	}
	splay := func(left, right s1.Angle) s1.Angle { return left - right }
	p.Apart = splay(p.Wheels[0].Steer, p.Wheels[1].Steer) - splay(p.Free[0], p.Free[1])
	return p, true
}

// atMean returns the pose within the locks whose mean steer by weight, positive to the left, is the given one, to
// 1e-10 degrees; ok is false where the locks do not hold it between them.
func (r *Result) atMean(s road.Slide, steer s1.Angle) (p Pose, ok bool) {
	mean := func(p *Pose) s1.Angle { return s.Weighted([2]s1.Angle{p.Wheels[0].Steer, p.Wheels[1].Steer}) }
	low, high := &r.Locks[ToRight], &r.Locks[ToLeft]
	if mean(&low.Pose) > mean(&high.Pose) {
		low, high = high, low
	}
	if !(mean(&low.Pose) <= steer && steer <= mean(&high.Pose)) {
		return p, false
	}
	from, to, next := low.Column, high.Column, s1.Angle(0)
	for range 100 {
		if !((next-from)*(next-to) <= 0) {
			next = (from + to) / 2
		}
		r.head(next, &p)
		short := steer - mean(&p)
		switch {
		case short.Abs() < 1e-10*s1.Degree:
			r.judge(&p)
			return p, true
		case short > 0:
			from = next
		default:
			to = next
		}
		next += short / s1.Angle((p.Ratio[setup.Left]+p.Ratio[setup.Right])/2)
		if r.runsAway(setup.Left, &p) || r.runsAway(setup.Right, &p) {
			next = (from + to) / 2
		}
	}
	return p, false
}

// SlideHeld returns, by side, the greatest slide angle at which a front wheel still rolls free when it is
// turned against the turn as far as the locks allow; of s its angle does not count. It is at most 90 degrees, and NaN
// where the wheel does not even get to where it heads without a slide.
func (r *Result) SlideHeld(s road.Slide) (held [2]s1.Angle) {
	for _, side := range setup.Sides {
		against := math.Min(s.Turn*float64(r.Locks[ToLeft].Pose.Wheels[side].Steer), s.Turn*float64(r.Locks[ToRight].Pose.Wheels[side].Steer))
		held[side] = r.Road.SlideHeld(side, s, s1.Angle(s.Turn*against))
	}
	return held
}

// SlideHeldAt is SlideHeld of one lock: the slide angle, of a path that turns the other way than the wheels do there,
// at which the wheel that runs out first rolls free. It is NaN where it does not get there.
func (m *Model) SlideHeldAt(lock *Lock, s road.Slide) s1.Angle {
	s.Turn = -math.Copysign(1, float64(lock.Pose.MeanSteer()))
	held := s1.InfAngle()
	for _, side := range setup.Sides {
		held = min(held, m.Road.SlideHeld(side, s, lock.Pose.Wheels[side].Steer))
	}
	return held
}

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
