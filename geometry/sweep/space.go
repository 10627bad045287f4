package sweep

import (
	"math"

	"github.com/golang/geo/s1"

	"locksweep/geometry/clearance"
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

// Extent looks through the overall width from lock to lock. Widths are met to 1e-6 mm, whatever the
// step of the sweep.
func (r *Result) Extent() (e Extent) {
	e.Straight = r.widthAt(0)
	e.NarrowestAt, e.Narrowest = r.leastWidth(1)
	e.WidestAt, e.Widest = r.leastWidth(-1)
	e.Widest = -e.Widest
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
	var p Pose
	r.pose(column, &p)
	return r.Road.Width(&p.Wheels)
}

// leastWidth returns the column angle at which sign times the width is least, by sampling and then golden
// section about the best sample. Among equals the one nearest to centre is taken.
func (r *Result) leastWidth(sign float64) (at s1.Angle, least float64) {
	const same = 1e-9
	width := func(c s1.Angle) float64 { return sign * r.widthAt(c) }
	at, least = 0, width(0)
	better := func(c s1.Angle) {
		if w := width(c); w < least-same || w < least+same && c.Abs() < at.Abs() {
			at, least = c, math.Min(w, least)
		}
	}
	for _, d := range Directions {
		end := r.Locks[d].Column
		for i := 1.0; i*float64(extentStep) < float64(end.Abs()); i++ {
			better(s1.Angle(i*d.Sign()) * extentStep)
		}
		better(end)
	}
	low, high := math.Max(float64(at-extentStep), float64(r.Locks[ToRight].Column)), math.Min(float64(at+extentStep), float64(r.Locks[ToLeft].Column))
	const golden = 0.6180339887498949
	for range 40 {
		a, b := s1.Angle(high-golden*(high-low)), s1.Angle(low+golden*(high-low))
		better(a)
		better(b)
		if width(a) < width(b) {
			high = float64(b)
		} else {
			low = float64(a)
		}
	}
	return at, least
}

// LeastGap returns the pair that comes nearest within the lock, leaving out the pairs that stop the steering; ok
// is false where none comes nearer than it was looked for.
func (r *Result) LeastGap() (near *clearance.Near, ok bool) {
	for i := range r.Near {
		if n := &r.Near[i]; !r.stops(n.Pair) && (near == nil || n.Gap < near.Gap) {
			near = n
		}
	}
	return near, near != nil
}

// NearLimit is the gap, in mm, beyond which pairs are not listed in Near.
func (r *Result) NearLimit() float64 { return nearFactor * r.Setup.Limits.Clearance }
