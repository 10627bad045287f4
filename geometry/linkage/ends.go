package linkage

import (
	"math"

	"github.com/golang/geo/s1"

	"locksweep/geometry/setup"
)

// deadPoint finds where a rod comes in line with the arm that it drives, in direction dir (+1 left, -1 right) from
// straight ahead: by up to a full turn of the column.
func (m *Mechanism) deadPoint(r *Rod, dir float64) (f fold) {
	f.column, _, f.found = r.fold(0, dir, 2*math.Pi)
	return f
}

// DeadPoint returns the column angle, in direction dir (+1 left, -1 right) from straight ahead, at
// which a rod comes in line with the arm that it drives: the column cannot turn the wheel
// further. found is false where there is none within 180 degrees.
func (m *Mechanism) DeadPoint(rod int, dir float64) (column s1.Angle, found bool) {
	f := m.Rods[rod].deadPoints[directionIndex(dir)]
	return s1.Angle(f.column), f.found && math.Abs(f.column) <= math.Pi
}

// way is the sense (±1) in which a body sets out when the column turns in direction dir.
func (m *Mechanism) way(b Body, dir float64) float64 {
	if b == Input {
		return dir
	}
	return math.Copysign(1, m.straight.Sides[b.Side()].Rate*dir)
}

// OverCentre returns the column angle, in direction dir from straight ahead, at which a rod comes
// in line with the arm that drives it: the wheel stands still there, and comes back while the column goes on.
// It is looked for up to the rod's dead point, at most 180 degrees on.
func (m *Mechanism) OverCentre(rod int, dir float64) (column s1.Angle, found bool) {
	r := &m.Rods[rod]
	spindle, in, found := r.back.fold(float64(m.ahead(r.To)), m.way(r.To, dir), 2*math.Pi)
	if !found {
		return 0, false
	}
	in = dir * positiveAngle(dir*in)
	end := math.Pi
	if f := r.deadPoints[directionIndex(dir)]; f.found {
		end = min(end, math.Abs(f.column))
	}
	// Past a dead point the curve goes on along the other assembly: a fold there is not on our way.
	onBranch := r.branchOf(s1.Angle(in), s1.Angle(spindle)) == r.Branch
	return s1.Angle(in), onBranch && math.Abs(in) <= end
}

// ColumnAt returns the column angle, in direction dir from straight ahead, at which a side's spindle
// stands at the angle spindle. ok is false where it does not come there before the dead point or the
// over-centre point of that side.
func (m *Mechanism) ColumnAt(side setup.Side, spindle s1.Angle, dir float64) (column s1.Angle, ok bool) {
	r := &m.Rods[m.Driver[side]]
	column, ok = r.back.Output(spindle)
	if float64(column)*dir < 0 {
		column += s1.Angle(2 * math.Pi * dir)
	}
	// Past the dead point the same spindle angles are met by the other assembly, on the column's way back.
	return column, ok && r.branchOf(column, spindle) == r.Branch
}
