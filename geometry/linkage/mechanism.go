// Package linkage answers how the parts of the steering stand at a column angle: a drop arm on a raked
// column, two tie rods, two spindles on tilted kingpins. Closed form throughout; a Mechanism is made
// once and then only read, so that all cores may share it.
//
// Vehicle axes (x forward, y left, z up), mm; column and spindle angles are right-handed about the
// column (pointing up to the driver) and the kingpin (pointing up), so positive to the left.
package linkage

import (
	"fmt"
	"math"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/geometry/rigid"
	"locksweep/geometry/setup"
)

// Mechanism is the steering of a setup, ready to be posed.
type Mechanism struct {
	Loops [2]Loop // column to spindle, by side
	// Derived is the rod length that gives the file's toe with the column centred, mm.
	Derived [2]float64
	// Straight is the spindle angle of either side with the column centred: zero where the rod has
	// its derived length.
	Straight [2]s1.Angle

	column        rigid.Axis
	straight      Pose
	back          [2]Loop // spindle to column, on the branch of the straight-ahead pose
	deadPoints    [2][2]fold
	levers        [2][2]float64   // of the balls about their axes, by side and End, mm
	bolts         [2][2]r3.Vector // of the balls straight ahead as measured, unit, vehicle axes
	boltAlongAxis [2][2]bool
}

// fold is where one end can be pushed no further by the other.
type fold struct {
	column, spindle float64 // radians
	found           bool
}

// Pose is where the linkage stands at one column angle.
type Pose struct {
	Column   s1.Angle
	Sin, Cos float64 // of the column angle
	Sides    [2]SidePose
}

// SidePose is one corner of a Pose.
type SidePose struct {
	Spindle  s1.Angle
	Sin, Cos float64   // of the spindle angle
	Pin      r3.Vector // the rod's ball at the drop arm
	Pickup   r3.Vector // the rod's ball at the steering arm
	Rod      r3.Vector // unit vector from Pin to Pickup
	// ArmLever and DropLever are the signed levers of the rod about the kingpin and about the column,
	// mm: zero at the dead point and over centre respectively. DropLever/ArmLever is the spindle's
	// turn per turn of the column.
	ArmLever, DropLever float64
}

// Rate returns the spindle's turn per turn of the column.
func (p SidePose) Rate() float64 { return p.DropLever / p.ArmLever }

// AssemblyError says that a rod does not reach with the column centred.
type AssemblyError struct {
	Side            setup.Side
	Rod             float64 // mm
	Least, Greatest float64 // lengths that would reach, mm
	Unit            setup.Unit
}

func (e *AssemblyError) Error() string {
	by, word, limit := e.Least-e.Rod, "short", "at least"
	bound := e.Least
	if e.Rod > e.Greatest {
		by, word, limit, bound = e.Rod-e.Greatest, "long", "at most", e.Greatest
	}
	u := e.Unit
	return fmt.Sprintf("the %s tie rod is %.3g %s too %s to assemble with the column centred: it has %.6g %s, %s %.6g %s would reach",
		e.Side, u.FromMM(by), u, word, u.FromMM(e.Rod), u, limit, u.FromMM(bound), u)
}

// New prepares the linkage of a setup. The assembly is the one that the file's straight-ahead pose
// stands in. The error is an *AssemblyError where a rod of given length does not reach.
func New(s *setup.Setup) (*Mechanism, error) {
	m := &Mechanism{column: s.Column.Axis()}
	for _, side := range setup.Sides {
		drop := Crank{Axis: m.column, Arm: s.Column.FromColumn(s.DropArm.Pins[side])}
		arm := Crank{Axis: s.Kingpin(side), Arm: setup.FromCorner(side, s.Corners[side].Arm.Pickup)}
		m.Derived[side] = arm.At(0, 1).Sub(drop.At(0, 1)).Norm()
		rod := s.Corners[side].Rod.Length
		if rod == 0 {
			rod = m.Derived[side]
		}
		l := NewLoop(drop, arm, rod, 1)
		l.Branch = l.branchOf(0, 0)
		straight, ok := l.Output(0)
		if !ok {
			least, greatest := l.Reach(0)
			return nil, &AssemblyError{Side: side, Rod: rod, Least: least, Greatest: greatest, Unit: s.Unit}
		}
		if rod == m.Derived[side] {
			straight = 0 // exactly, not to rounding
		}
		m.Loops[side], m.Straight[side], m.back[side] = l, straight, l.Swapped(0, straight)
		for i, dir := range [2]float64{1, -1} {
			f := &m.deadPoints[side][i]
			f.column, f.spindle, f.found = l.fold(0, dir, 2*math.Pi)
		}
		m.prepareJoints(s, side)
	}
	m.straight, _ = m.Pose(0)
	return m, nil
}

// prepareJoints notes the levers and bolts at the two ends of a side's rod.
func (m *Mechanism) prepareJoints(s *setup.Setup, side setup.Side) {
	l := &m.Loops[side]
	m.levers[side] = [2]float64{AtArm: l.Out.Lever(), AtDropArm: l.In.Lever()}
	m.bolts[side] = [2]r3.Vector{
		AtArm:     setup.FromCorner(side, s.Corners[side].Arm.Bolt),
		AtDropArm: s.Column.FromColumn(s.DropArm.Bolts[side]),
	}
	for end, axis := range [2]rigid.Axis{AtArm: l.Out.Axis, AtDropArm: l.In.Axis} {
		if m.bolts[side][end] == (r3.Vector{}) {
			m.bolts[side][end], m.boltAlongAxis[side][end] = axis.Dir, true
		}
	}
}

// Pose returns where the linkage stands at a column angle. ok is false where a rod does not reach
// there, or where the linkage must pass a dead point on its way from straight ahead.
func (m *Mechanism) Pose(column s1.Angle) (p Pose, ok bool) {
	ok = m.Fill(&p, column)
	return p, ok
}

// Fill is Pose into a place that is there already, for who keeps many.
func (m *Mechanism) Fill(p *Pose, column s1.Angle) (ok bool) {
	p.Column = column
	p.Sin, p.Cos = math.Sincos(float64(column))
	for side := range p.Sides {
		if !m.poseSide(setup.Side(side), column, p.Sin, p.Cos, &p.Sides[side]) {
			return false
		}
	}
	return true
}

// poseSide is Pose for one side, whatever becomes of the other; sin and cos are the column's.
func (m *Mechanism) poseSide(side setup.Side, column s1.Angle, sin, cos float64, sp *SidePose) (ok bool) {
	if f := &m.deadPoints[side][directionIndex(float64(column))]; f.found && math.Abs(float64(column)) > math.Abs(f.column) {
		return false
	}
	l := &m.Loops[side]
	if sp.Sin, sp.Cos, ok = l.Solve(sin, cos); !ok {
		return false
	}
	if column == 0 { // straight ahead is where the file has it, not where rounding puts it
		sp.Sin, sp.Cos = math.Sincos(float64(m.Straight[side]))
	}
	sp.Spindle = s1.Angle(math.Atan2(sp.Sin, sp.Cos))
	pin, pickup := rigid.Rotate(l.In.Arm, l.In.Axis.Dir, sin, cos), rigid.Rotate(l.Out.Arm, l.Out.Axis.Dir, sp.Sin, sp.Cos)
	sp.Pin, sp.Pickup = l.In.Axis.Point.Add(pin), l.Out.Axis.Point.Add(pickup)
	sp.Rod = sp.Pickup.Sub(sp.Pin).Mul(1 / l.Rod)
	sp.ArmLever = sp.Rod.Dot(l.Out.Axis.Dir.Cross(pickup))
	sp.DropLever = sp.Rod.Dot(l.In.Axis.Dir.Cross(pin))
	return true
}

func directionIndex(column float64) int {
	if column < 0 {
		return 1
	}
	return 0
}

// DeadPoint returns the column angle, in direction dir (+1 left, -1 right) from straight ahead, at
// which the rod comes in line with the steering arm of a side: the column cannot turn the wheel
// further. found is false where there is none within 180 degrees.
func (m *Mechanism) DeadPoint(side setup.Side, dir float64) (column s1.Angle, found bool) {
	f := m.deadPoints[side][directionIndex(dir)]
	return s1.Angle(f.column), f.found && math.Abs(f.column) <= math.Pi
}

// OverCentre returns the column angle, in direction dir from straight ahead, at which the rod comes
// in line with the drop arm: the wheel stands still there, and comes back while the column goes on.
// It is looked for up to the dead point, at most 180 degrees on.
func (m *Mechanism) OverCentre(side setup.Side, dir float64) (column s1.Angle, found bool) {
	way := math.Copysign(1, m.straight.Sides[side].Rate()*dir)
	spindle, in, found := m.back[side].fold(float64(m.Straight[side]), way, 2*math.Pi)
	if !found {
		return 0, false
	}
	in = dir * positiveAngle(dir*in)
	end := math.Pi
	if f := m.deadPoints[side][directionIndex(dir)]; f.found {
		end = min(end, math.Abs(f.column))
	}
	// Past a dead point the curve goes on along the other assembly: a fold there is not on our way.
	onBranch := m.Loops[side].branchOf(s1.Angle(in), s1.Angle(spindle)) == m.Loops[side].Branch
	return s1.Angle(in), onBranch && math.Abs(in) <= end
}

// ColumnAt returns the column angle, in direction dir from straight ahead, at which a side's spindle
// stands at the angle spindle. ok is false where it does not come there before the dead point or the
// over-centre point of that side.
func (m *Mechanism) ColumnAt(side setup.Side, spindle s1.Angle, dir float64) (column s1.Angle, ok bool) {
	column, ok = m.back[side].Output(spindle)
	if float64(column)*dir < 0 {
		column += s1.Angle(2 * math.Pi * dir)
	}
	// Past the dead point the same spindle angles are met by the other assembly, on the column's way back.
	return column, ok && m.Loops[side].branchOf(column, spindle) == m.Loops[side].Branch
}
