package topview

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/render/sheet"
	"locksweep/render/wording"
)

// fan is where a wheel heads at a lock in nearly all vehicles that measure alike: a wedge from its centre out past its tyre.
type fan struct {
	lock sweep.Direction
	ring []r2.Point
}

// fanLength is how long a fan is, in diameters of the tyre.
const fanLength = 1.3

// seeSpread takes the spread of the locks.
func (d *drawing) seeSpread() {
	if d.opt.Sure == nil {
		return
	}
	for _, dir := range sweep.Directions {
		pose := &d.r.Locks[dir].Pose
		for _, side := range setup.Sides {
			of := d.opt.Sure.AtLock(dir, side)
			if of == nil || math.IsNaN(of.Draws.Low) {
				continue
			}
			w := &pose.Wheels[side]
			into := math.Copysign(1, float64(w.Steer)*of.Value) // the figure is positive into the turn
			f := fan{lock: dir, ring: []r2.Point{flat(w.Centre)}}
			const steps = 4
			for i := range steps + 1 {
				angle := into * (of.Draws.Low + (of.Draws.High-of.Draws.Low)*float64(i)/steps)
				length := fanLength * d.r.Setup.Corners[side].Wheel.Tyre.Diameter
				f.ring = append(f.ring, flat(w.Centre).Add(r2.Point{X: math.Cos(angle), Y: math.Sin(angle)}.Mul(length)))
			}
			d.fans = append(d.fans, f)
			d.whole = around(d.whole, [][]r2.Point{f.ring})
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
	if d.opt.Sure == nil {
		return ""
	}
	of := d.opt.Sure.AtLock(dir, side)
	if of == nil || math.IsNaN(of.PlusMinus()) {
		return ""
	}
	return " ±" + wording.Angle(s1.Angle(of.PlusMinus()))
}
