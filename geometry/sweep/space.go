package sweep

import (
	"math"

	"github.com/golang/geo/s1"

	"locksweep/geometry/advance"
	"locksweep/geometry/clearance"
	"locksweep/geometry/linkage"
	"locksweep/geometry/road"
	"locksweep/geometry/setup"
)

// Extent is how much room the vehicle takes over its tyres, in mm.
type Extent struct {
	Straight    float64  // width with the column centred
	Narrowest   float64  // least width between the locks
	NarrowestAt s1.Angle // column angle there: the one nearest to centre where there are several
	Widest      float64  // greatest width between the locks
	WidestAt    s1.Angle
	Length      float64 // from the front tyres' foremost point to the rear tyres' hindmost, column centred
}

// extentStep is how finely widths are looked through before the best is refined.
const extentStep = 1 * s1.Degree

// mostSteps is into how many steps a way is parted at most: a rack's is whole turns long, while the wheels go no further.
const mostSteps = 180

// Extent looks through the overall width from lock to lock. Widths are met to 0.001 mm, whatever the
// step of the sweep.
func (r *Result) Extent() Extent { return r.extent(true) }

// LeastExtent is Extent without what is widest.
func (r *Result) LeastExtent() Extent { return r.extent(false) }

func (r *Result) extent(widest bool) (e Extent) {
	e.Straight = r.widthAt(0)
	columns := r.samples(max(extentStep, (r.Locks[ToLeft].Column-r.Locks[ToRight].Column)/mostSteps))
	widths := make([]float64, len(columns))
	for i, c := range columns {
		widths[i] = r.widthAt(c)
	}
	e.NarrowestAt, e.Narrowest = r.leastWidth(columns, widths, 1)
	if widest {
		e.WidestAt, e.Widest = r.leastWidth(columns, widths, -1)
		e.Widest = -e.Widest
	}
	front := math.Inf(-1)
	for side := range r.Straight.Wheels {
		w, tyre := &r.Straight.Wheels[side], r.Road.Corners[side].Tyre
		along := math.Abs(w.Leftward.X)
		front = math.Max(front, w.Centre.X+along*tyre.Width/2+math.Sqrt(1-math.Min(along*along, 1))*tyre.Diameter/2)
	}
	e.Length = front + r.Road.Wheelbase + r.Road.RearTyre.Diameter/2
	return e
}

func (r *Result) widthAt(column s1.Angle) float64 {
	var p linkage.Pose
	r.Linkage.FillSpindles(&p, column)
	return r.Road.Width(&p)
}

// flat is what the place of a least width is rounded to: near it the width hardly changes, so that rounding would choose the place.
const flat = 0.0002 * s1.Degree

// leastWidth returns the column angle at which sign times the width is least: among samples, then by golden section
// between those that the steepest change met so far lets come near the best. Among equals the
// one nearest to centre is taken.
func (r *Result) leastWidth(columns []s1.Angle, widths []float64, sign float64) (at s1.Angle, least float64) {
	const same = 1e-9
	at, least = 0, sign*r.widthAt(0)
	better := func(c s1.Angle, w float64) {
		if w < least-same || w < least+same && c.Abs() < at.Abs() {
			at, least = c, math.Min(w, least)
		}
	}
	steepest := 0.0
	for i, c := range columns {
		better(c, sign*widths[i])
		if i > 0 {
			steepest = math.Max(steepest, math.Abs(widths[i]-widths[i-1]))
		}
	}
	width := func(c s1.Angle) float64 { return sign * r.widthAt(c) }
	for i := range columns[1:] {
		if w, next := sign*widths[i], sign*widths[i+1]; w != next && math.Min(w, next) < least+steepest {
			c := advance.Dip(columns[i], columns[i+1], width)
			c = max(columns[i], min(columns[i+1], s1.Angle(math.Round(float64(c/flat)))*flat))
			better(c, width(c))
		}
	}
	return at, least
}

// samples returns column angles from the right lock to the left one, at the whole multiples of step.
func (r *Result) samples(step s1.Angle) (columns []s1.Angle) {
	right, left := r.Locks[ToRight].Column, r.Locks[ToLeft].Column
	columns = append(columns, right)
	for i := math.Floor(float64(right/step)) + 1; i*float64(step) < float64(left); i++ {
		columns = append(columns, s1.Angle(i)*step)
	}
	return append(columns, left)
}

// Two least gaps that differ by less than evenGap (mm), or two least leverages whose ratio is above even, are equal, and the first
// is kept: left and right are often mirror images, and rounding is not to choose between them.
const (
	evenGap = 1e-6
	even    = 1 - 1e-7
)

// LeastGap returns the pair that comes nearest within the lock, leaving out the pairs that stop the steering; ok
// is false where none comes nearer than it was looked for.
func (r *Result) LeastGap() (near *clearance.Near, ok bool) {
	for i := range r.Near {
		if n := &r.Near[i]; !r.Stops(n.Pair) && (near == nil || n.Gap < near.Gap-evenGap) {
			near = n
		}
	}
	return near, near != nil
}

// NearLimit is the gap, in mm, beyond which pairs are not listed in Near.
func (r *Result) NearLimit() float64 { return nearFactor * r.Setup.Limits.Clearance }

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
