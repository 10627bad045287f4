package road

import (
	"math"

	"github.com/golang/geo/r2"

	"locksweep/geometry/setup"
)

// Rise returns how far a front corner of the frame is lifted when the wheel turns from straight ahead
// as measured to the given pose and goes on standing on the ground, mm; negative where it sinks. The
// tyre is a thin disc in its mid-plane.
func (v *Vehicle) Rise(side setup.Side, w *Wheel) float64 {
	return v.Corners[side].At(0, 1).Contact.Z - w.Contact.Z
}

// RiseEdge is Rise of a tyre of its full width, with its shoulder: it stands on its edge as soon as it leans.
func (v *Vehicle) RiseEdge(side setup.Side, w *Wheel) float64 {
	straight := v.Corners[side].At(0, 1)
	return v.lowest(side, &straight) - v.lowest(side, w)
}

// lowest is the height of the lowest point of a front tyre, a cylinder with rounded edges.
func (v *Vehicle) lowest(side setup.Side, w *Wheel) float64 {
	t, lean := v.Corners[side].Tyre, math.Abs(w.Leftward.Z)
	slope := math.Sqrt(1 - math.Min(lean*lean, 1))
	return w.Centre.Z - (t.Diameter/2-t.Shoulder)*slope - (t.Width/2-t.Shoulder)*lean - t.Shoulder
}

// Stance is how a frame that does not twist stands when its front corners rise by different amounts: on the corner
// that rises more, on the rear wheel diagonally across, and on one of the other two.
type Stance struct {
	High setup.Side // the front corner that rises more
	// Rear is how far the rear wheel of that side is off the ground where both front wheels stand, mm:
	// rear track / front track × the difference of the rises.
	Rear float64
	// Front is how far the other front wheel is off the ground where both rear wheels stand instead, mm: the difference.
	Front float64

	contacts [2][2]r2.Point // of the front and of the rear tyres, seen from above, mm
}

// Stance returns how the frame stands at a pose with the given rises of its front corners, mm.
func (v *Vehicle) Stance(wheels *[2]Wheel, rises [2]float64) (s Stance) {
	if rises[setup.Right] > rises[setup.Left] {
		s.High = setup.Right
	}
	for _, side := range setup.Sides {
		s.contacts[0][side] = plan(wheels[side].Contact)
		s.contacts[1][side] = r2.Point{X: -v.Wheelbase, Y: side.Sign() * v.RearTrack / 2}
	}
	s.Front = rises[s.High] - rises[s.High.Other()]
	s.Rear = s.Front * v.RearTrack / math.Abs(s.contacts[0][setup.Left].Y-s.contacts[0][setup.Right].Y)
	return s
}

// Mass is where the weight is, driver included.
type Mass struct {
	FrontShare float64 // of the weight on the front wheels, straight ahead
	Height     float64 // of the mass centre above ground, mm
}

// at is the mass centre seen from above, on the middle line, mm.
func (v *Vehicle) at(m Mass) r2.Point {
	front := 0.0
	for side := range v.Corners {
		front += v.Corners[side].At(0, 1).Contact.X / 2
	}
	return r2.Point{X: m.FrontShare*front - (1-m.FrontShare)*v.Wheelbase}
}

// RearLifts reports whether, standing still, it is the rear wheel of the high side that is off the ground, not the
// front wheel of the other: the mass centre lies ahead of the diagonal that the frame rocks on.
func (v *Vehicle) RearLifts(s *Stance, m Mass) bool { return s.ahead(v.at(m)) > 0 }

// ahead is positive where a point, seen from above, lies on the same side of the diagonal that the frame rocks on as the other front wheel.
func (s *Stance) ahead(p r2.Point) float64 {
	a, b, other := s.contacts[0][s.High], s.contacts[1][s.High.Other()], s.contacts[0][s.High.Other()]
	side := func(p r2.Point) float64 { return b.Sub(a).Cross(p.Sub(a)) }
	return side(p) * math.Copysign(1, side(other))
}

// InsideRearLifts returns the sideways acceleration, in g, from which the rear wheel inside a turn to a side (+1 left)
// is off the ground: 0 where it is when standing. It grows with turn as the weight moves outward, by
// height × acceleration. tips tells that all other wheels but the outer two are off by then.
func (v *Vehicle) InsideRearLifts(s *Stance, m Mass, turn float64) (g float64, tips bool) {
	inside := setup.Left
	if turn < 0 {
		inside = setup.Right
	}
	at := v.at(m)
	if s.Front > 0 && inside == s.High {
		if s.ahead(at) > 0 {
			return 0, false
		}
		a, b := s.contacts[0][s.High], s.contacts[1][s.High.Other()]
		return outward(a, b, at, turn) / m.Height, false
	}
	outer := inside.Other()
	return outward(s.contacts[0][outer], s.contacts[1][outer], at, turn) / m.Height, true
}

// outward is how far a point has to move out of a turn to come onto the line through a and b, mm.
func outward(a, b, at r2.Point, turn float64) float64 {
	y := a.Y + (b.Y-a.Y)*(at.X-a.X)/(b.X-a.X)
	return turn * (at.Y - y)
}
