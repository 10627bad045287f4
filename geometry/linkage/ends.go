package linkage

import (
	"math"

	"github.com/golang/geo/s1"

	"locksweep/geometry/setup"
)

// input returns the angle of From with To at an angle, on the branch of the straight-ahead pose.
func (r *Rod) input(out s1.Angle) (in s1.Angle, ok bool) {
	if r.In.Slide != 0 {
		in, ok := r.slide.input(float64(out))
		return s1.Angle(in), ok
	}
	return r.back.output(out)
}

// inputs returns the two angles of From that put To at an angle: that of the branch of the straight-ahead pose, and that of the other one.
func (r *Rod) inputs(out s1.Angle) (ins [2]s1.Angle, ok bool) {
	other := *r
	other.back.Branch, other.slide.branch = -r.back.Branch, -r.slide.branch
	ins[0], ok = r.input(out)
	ins[1], _ = other.input(out)
	return ins, ok
}

// turned returns an angle of From that lies in direction dir of the angle from, a full turn on where it has to be. ok is false where From slides
// and would have to go the other way.
func (r *Rod) turned(in, from s1.Angle, dir float64) (s1.Angle, bool) {
	if float64(in-from)*dir >= 0 {
		return in, true
	}
	return in + s1.Angle(2*math.Pi*dir), r.In.Slide == 0
}

// deadPoint finds where a rod comes in line with the arm that it drives, in direction dir (+1 left, -1 right) from
// straight ahead: by up to a full turn of what drives it, past its over-centre point too.
func (m *Mechanism) deadPoint(r *Rod, dir float64) (f fold) {
	if r.From == Input {
		f.column, _, f.found = r.fold(0, dir, max(2*math.Pi, float64(m.Most)))
		return f
	}
	start := float64(m.ahead(r.From))
	for _, way := range [2]float64{1, -1} {
		in, _, found := r.fold(start, way, 2*math.Pi)
		if !found {
			continue
		}
		if column, comes := m.comesTo(r.From.Side(), s1.Angle(in), dir); comes && (!f.found || math.Abs(column) < math.Abs(f.column)) {
			f = fold{column, true}
		}
	}
	return f
}

// comesTo returns the first column angle, radians, in direction dir, at which a spindle that the input drives stands at an angle. It
// may lie past the over-centre point of the rod that drives the spindle.
func (m *Mechanism) comesTo(side setup.Side, spindle s1.Angle, dir float64) (column float64, found bool) {
	r := &m.Rods[m.Driver[side]]
	ins, ok := r.inputs(spindle)
	for _, in := range ins {
		in, on := r.turned(in, 0, dir)
		dead := r.deadPoints[DirectionIndex(dir)]
		on = on && ok && r.branchOf(in, spindle) == r.Branch && !(dead.found && math.Abs(float64(in)) > math.Abs(dead.column))
		if on && (!found || math.Abs(float64(in)) < math.Abs(column)) {
			column, found = float64(in), true
		}
	}
	return column, found
}

// DeadPoint returns the column angle, in direction dir (+1 left, -1 right) from straight ahead, at
// which a rod comes in line with the arm that it drives: the column cannot turn the wheel
// further. found is false where there is none within Most.
func (m *Mechanism) DeadPoint(rod int, dir float64) (column s1.Angle, found bool) {
	f := m.Rods[rod].deadPoints[DirectionIndex(dir)]
	return s1.Angle(f.column), f.found && math.Abs(f.column) <= float64(m.Most)
}

// Way is the sense in which the input or a spindle sets out from straight ahead when the column turns in direction dir: +1 to the left, -1 to
// the right.
func (m *Mechanism) Way(b Body, dir float64) float64 {
	if b == Input {
		return dir
	}
	return math.Copysign(1, m.straight.Sides[b.Side()].Rate*dir)
}

// OverCentre returns the column angle, in direction dir from straight ahead, at which a rod comes
// in line with the arm that drives it, or square to the rack: the wheel stands still there, and comes back while the column goes on.
// It is looked for up to the rod's dead point, at most to Most.
func (m *Mechanism) OverCentre(rod int, dir float64) (column s1.Angle, found bool) {
	r := &m.Rods[rod]
	spindle, in, found := r.backFold(float64(m.ahead(r.To)), m.Way(r.To, dir))
	if !found {
		return 0, false
	}
	angle, on := r.turned(s1.Angle(in), m.ahead(r.From), m.Way(r.From, dir))
	// Past a dead point the curve goes on along the other assembly: a fold there is not on our way.
	on = on && r.branchOf(angle, s1.Angle(spindle)) == r.Branch
	column, ok := m.columnOf(r.From, angle, dir)
	end := float64(m.Most)
	if f := r.deadPoints[DirectionIndex(dir)]; f.found {
		end = min(end, math.Abs(f.column))
	}
	return column, on && ok && math.Abs(float64(column)) <= end
}

// backFold returns the angle of To, from angle from in direction dir, at which From can be pushed no further, and that of From there.
func (r *Rod) backFold(from, dir float64) (out, in float64, found bool) {
	if r.In.Slide != 0 {
		return r.slide.fold(from, dir, 2*math.Pi)
	}
	return r.back.fold(from, dir, 2*math.Pi)
}

// ColumnAt returns the column angle, in direction dir from straight ahead, at which a side's spindle
// stands at the angle spindle. ok is false where it does not come there before the dead point or the
// over-centre point of a rod that drives it.
func (m *Mechanism) ColumnAt(side setup.Side, spindle s1.Angle, dir float64) (column s1.Angle, ok bool) {
	r := &m.Rods[m.Driver[side]]
	in, ok := r.input(spindle)
	in, on := r.turned(in, m.ahead(r.From), m.Way(r.From, dir))
	// Past the dead point the same spindle angles are met by the other assembly, on the column's way back.
	if !ok || !on || r.branchOf(in, spindle) != r.Branch {
		return in, false
	}
	return m.columnOf(r.From, in, dir)
}

// columnOf is ColumnAt for any body that drives a rod.
func (m *Mechanism) columnOf(b Body, angle s1.Angle, dir float64) (column s1.Angle, ok bool) {
	if b == Input {
		return angle, true
	}
	return m.ColumnAt(b.Side(), angle, dir)
}
