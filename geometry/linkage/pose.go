package linkage

import (
	"math"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/geometry/rigid"
)

// Pose is where the linkage stands at one column angle.
type Pose struct {
	Column s1.Angle
	Sides  [2]SidePose
	Rods   [2]RodPose // in the order of Mechanism.Rods

	sin, cos float64 // the terms of the input: of the column angle, where it turns
}

// SidePose is one spindle of a Pose.
type SidePose struct {
	Spindle  s1.Angle
	Sin, Cos float64 // of the spindle angle
	Rate     float64 // the spindle's turn per turn of the column
}

// RodPose is one rod of a Pose.
type RodPose struct {
	From, To r3.Vector // its balls: at the body that drives it and at the spindle that it drives, mm
	Along    r3.Vector // unit vector from From to To
	// FromLever and ToLever are the signed levers of the rod about the axes that its balls turn about, mm: ToLever is
	// zero at the dead point, FromLever over centre. FromLever/ToLever is the turn of the one per turn of the other. At a
	// rack FromLever is what its ball moves along the rod for each radian of the steering wheel.
	FromLever, ToLever float64
}

// Pose returns where the linkage stands at a column angle. ok is false where a rod does not reach
// there, or where the linkage must pass a dead point on its way from straight ahead.
func (m *Mechanism) Pose(column s1.Angle) (p Pose, ok bool) {
	ok = m.Fill(&p, column)
	return p, ok
}

// Fill writes the pose at a column angle into p, for callers that keep many poses; ok as for Pose.
func (m *Mechanism) Fill(p *Pose, column s1.Angle) (ok bool) {
	m.turnInput(p, column)
	for i := range p.Rods {
		if !m.poseRod(i, p) {
			return false
		}
	}
	return true
}

// FillSpindles is Fill with only the sines and cosines of the spindle angles, FillRods with all but the spindle angles themselves: for
// searches, in which the rest would cost more than what is asked for.
func (m *Mechanism) FillSpindles(p *Pose, column s1.Angle) (ok bool) {
	m.turnInput(p, column)
	return m.turnRod(0, p) && m.turnRod(1, p)
}

// FillRods is described with FillSpindles.
func (m *Mechanism) FillRods(p *Pose, column s1.Angle) (ok bool) {
	ok = m.FillSpindles(p, column)
	for i := range p.Rods {
		if ok {
			m.placeRod(i, p)
		}
	}
	return ok
}

// poseRod poses one rod and the spindle that it drives, whether or not the other one assembles. The body that drives
// the rod must be posed already.
func (m *Mechanism) poseRod(i int, p *Pose) (ok bool) {
	if !m.turnRod(i, p) {
		return false
	}
	m.placeRod(i, p)
	sp := &p.Sides[m.Rods[i].To.Side()]
	sp.Spindle = s1.Angle(math.Atan2(sp.Sin, sp.Cos))
	return true
}

// turnRod finds sine and cosine of the angle of the spindle that a rod drives.
func (m *Mechanism) turnRod(i int, p *Pose) (ok bool) {
	r := &m.Rods[i]
	if f := &r.deadPoints[DirectionIndex(float64(p.Column))]; f.found && math.Abs(float64(p.Column)) > math.Abs(f.column) {
		return false
	}
	sin, cos := p.driven(r)
	side := r.To.Side()
	sp := &p.Sides[side]
	if sp.Sin, sp.Cos, ok = r.solve(sin, cos); !ok {
		return false
	}
	if p.Column == 0 { // straight ahead is where the file has it, not where rounding puts it
		sp.Sin, sp.Cos = math.Sincos(float64(m.Straight[side]))
	}
	return true
}

// driven are the terms of the body that drives a rod.
func (p *Pose) driven(r *Rod) (sin, cos float64) {
	if r.From == Input {
		return p.sin, p.cos
	}
	by := &p.Sides[r.From.Side()]
	return by.Sin, by.Cos
}

// placeRod puts a rod between its balls once the spindle that it drives is turned.
func (m *Mechanism) placeRod(i int, p *Pose) {
	r := &m.Rods[i]
	drive := 1.0
	if r.From != Input {
		drive = p.Sides[r.From.Side()].Rate
	}
	sin, cos := p.driven(r)
	sp, rp := &p.Sides[r.To.Side()], &p.Rods[i]
	from, to := r.In.from(sin, cos), rigid.Rotate(r.Out.Arm, r.Out.Axis.Dir, sp.Sin, sp.Cos)
	rp.From, rp.To = r.In.Axis.Point.Add(from), r.Out.Axis.Point.Add(to)
	rp.Along = rp.To.Sub(rp.From).Mul(1 / r.Length)
	rp.ToLever = rp.Along.Dot(r.Out.Axis.Dir.Cross(to))
	rp.FromLever = r.In.pull(from, rp.Along)
	sp.Rate = rp.FromLever / rp.ToLever * drive
}

// turnInput puts the input, which drives the first rod, at a column angle.
func (m *Mechanism) turnInput(p *Pose, column s1.Angle) {
	p.Column = column
	p.sin, p.cos = m.Rods[0].In.terms(float64(column))
}

// DirectionIndex is the place, in what is kept for either direction, of that of a column angle: 0 to the left, 1 to the right.
func DirectionIndex(column float64) int {
	if column < 0 {
		return 1
	}
	return 0
}
