package sweep

import (
	"locksweep/geometry/road"
	"locksweep/geometry/setup"
	"math"
)

// LockFigures is what one lock, or any pose, means on the ground, in mm. NaN where it does not turn.
type LockFigures struct {
	Circle         road.Circle // with both front wheels slipping alike
	Outer, Inner   road.Circle // about where the outer or the inner wheel's axle line meets the rear axle line
	Width          float64     // overall, over all tyres
	Rise, RiseEdge [2]float64  // of the front corners of the frame: tyres as thin discs, and with their width
	Scrub, Trail   [2]float64
}

// Figures returns what a pose means on the ground.
func (m *Model) Figures(p *Pose) (f LockFigures) {
	f.Circle = m.Road.BalancedCircle(&p.Wheels, &p.Turn)
	f.Outer, f.Inner = m.Road.OuterCircle(&p.Wheels, &p.Turn), m.Road.InnerCircle(&p.Wheels, &p.Turn)
	f.Width = m.Road.Width(&p.Pose)
	for _, side := range setup.Sides {
		w := &p.Wheels[side]
		f.Rise[side], f.RiseEdge[side] = m.Road.Rise(side, w), m.Road.RiseEdge(side, w)
		f.Scrub[side], f.Trail[side] = m.Road.Offsets(side, w)
	}
	return f
}

// wheelsDiffer is by how much of a circle the two front wheels may differ before both are worth telling.
const wheelsDiffer = 0.02

// TwoCircles reports whether the two front wheels, each by itself, would run on circles so different that one figure
// does not do.
func (f *LockFigures) TwoCircles() bool {
	outer, inner := f.Outer.OverFrontTyres, f.Inner.OverFrontTyres
	return math.Abs(outer-inner)/math.Max(outer, inner) > wheelsDiffer
}
