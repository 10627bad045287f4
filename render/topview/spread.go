package topview

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"locksweep/geometry/planar"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/geometry/tolerance"
	"locksweep/render/sheet"
	"locksweep/render/wording"
)

// fan is a wedge from a wheel's centre out past its tyre: the directions that the wheel has at a lock in 95 of a hundred vehicles that
// measure alike.
type fan struct {
	lock sweep.Direction
	ring []r2.Point
}

// fanLength is how long a fan is, in diameters of the tyre.
const fanLength = 1.3

// atLock is how sure a wheel's angle at a lock is; nil where that is not known.
func (d *drawing) atLock(dir sweep.Direction, side setup.Side) *tolerance.Figure {
	if d.opt.Sure == nil {
		return nil
	}
	return d.opt.Sure.AtLock(dir, side)
}

// seeSpread takes the spread of the locks.
func (d *drawing) seeSpread() {
	for _, dir := range sweep.Directions {
		for _, side := range setup.Sides {
			of, w := d.atLock(dir, side), &d.r.Locks[dir].Pose.Wheels[side]
			if of == nil || math.IsNaN(of.Draws.Low) {
				continue
			}
			into := math.Copysign(1, float64(w.Steer)*of.Value) // the figure is positive into the turn
			f := fan{lock: dir, ring: []r2.Point{flat(w.Centre)}}
			const steps = 4
			for i := range steps + 1 {
				angle := into * (of.Draws.Low + (of.Draws.High-of.Draws.Low)*float64(i)/steps)
				length := fanLength * d.r.Setup.Corners[side].Wheel.Tyre.Diameter
				f.ring = append(f.ring, flat(w.Centre).Add(r2.Point{X: math.Cos(angle), Y: math.Sin(angle)}.Mul(length)))
			}
			d.fans = append(d.fans, f)
			d.whole = d.whole.Union(planar.Bounds(f.ring))
		}
	}
}

// spread draws the fans.
func (v *view) spread() {
	if v.close {
		return
	}
	for _, f := range v.fans {
		v.Polygon(sheet.Thin.In(lockColours[f.lock]), sheet.Tinted(lockColours[f.lock].Light()), f.ring...)
	}
}

// plusMinus is by how much a wheel's angle at a lock may be off, as it stands behind it.
func (d *drawing) plusMinus(dir sweep.Direction, side setup.Side) string {
	of := d.atLock(dir, side)
	if of == nil || math.IsNaN(of.PlusMinus()) {
		return ""
	}
	return " ±" + wording.Angle(s1.Angle(of.PlusMinus()))
}
