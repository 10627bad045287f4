// Package linkage answers how the parts of the steering stand at a column angle: bodies on axes, rods with a
// ball at either end from one body to the next, solved in order, each in closed form. A Mechanism is made
// once and then only read, so that all cores may share it.
//
// Vehicle axes (x forward, y left, z up), mm; column and spindle angles are right-handed about the
// column (pointing up to the driver) and the kingpin (pointing up), so positive to the left.
package linkage

import (
	"fmt"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/geometry/rigid"
	"locksweep/geometry/setup"
)

// Mechanism is the steering of a setup, ready to be posed: a chain from the input to both spindles.
type Mechanism struct {
	Axes [Bodies]rigid.Axis // that the input and the spindles turn about
	Rods [2]Rod             // in the order in which they are solved
	// Driver is the rod that drives a side's spindle.
	Driver [2]int
	// Straight is the spindle angle of either side with the column centred: zero where the rods have
	// their derived lengths.
	Straight [2]s1.Angle

	straight Pose
}

// Rod is a bar with a ball at either end, from the body that drives it to the spindle that it drives.
type Rod struct {
	Loop
	Spec     setup.Rod // of its metal
	Part     string    // what the file calls it: "tie rod"
	Sided    bool      // there is one on either side
	Side     setup.Side
	From, To Body
	// Derived is the length that gives the file's toe with the column centred, mm.
	Derived float64
	Levers  [2]float64 // greatest of the balls about their axes, by End, mm

	back       Loop         // from To to From, on the branch of the straight-ahead pose
	home       rigid.Motion // straight ahead back to rod axes
	deadPoints [2]fold
	bolts      [2]r3.Vector // of the balls straight ahead as measured, by End, unit, vehicle axes
	// boltAlongAxis tells of a bolt that it lies along the axis that its body turns about.
	boltAlongAxis [2]bool
}

// Name is what a reader calls the rod: "left tie rod".
func (r *Rod) Name() string {
	if r.Sided {
		return r.Side.String() + " " + r.Part
	}
	return r.Part
}

// On is the body that carries the ball at an end.
func (r *Rod) On(end End) Body {
	if end == AtArm {
		return r.To
	}
	return r.From
}

// fold is where one end can be pushed no further by the other.
type fold struct {
	column float64 // radians
	found  bool
}

// AssemblyError says that a rod does not reach with the column centred.
type AssemblyError struct {
	Name            string  // of the rod
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
	return fmt.Sprintf("the %s is %.3g %s too %s to assemble with the column centred: it has %.6g %s, %s %.6g %s would reach",
		e.Name, u.FromMM(by), u, word, u.FromMM(e.Rod), u, limit, u.FromMM(bound), u)
}

// New prepares the linkage of a setup. The assembly is the one that the file's straight-ahead pose
// stands in. The error is an *AssemblyError where a rod of given length does not reach.
func New(s *setup.Setup) (*Mechanism, error) {
	m := &Mechanism{}
	m.Axes[Input] = s.Column.Axis()
	for _, side := range setup.Sides {
		m.Axes[Spindle(side)] = s.Kingpin(side)
	}
	for _, side := range setup.Sides {
		m.Driver[side] = int(side)
		m.Rods[side] = Rod{Spec: s.Corners[side].Rod, Part: "tie rod", Sided: true, Side: side, From: Input, To: Spindle(side)}
		from := ball{s.Column.FromColumn(s.DropArm.Pins[side]), s.Column.FromColumn(s.DropArm.Bolts[side])}
		to := ball{setup.FromCorner(side, s.Corners[side].Arm.Pickup), setup.FromCorner(side, s.Corners[side].Arm.Bolt)}
		if err := m.join(&m.Rods[side], from, to); err != nil {
			err.Unit = s.Unit
			return nil, err
		}
	}
	m.straight, _ = m.Pose(0)
	for i := range m.Rods {
		m.Rods[i].home = m.RodPlace(i).Inverse()
	}
	return m, nil
}

// ball is a ball on a body straight ahead as measured: its place from the body's axis point, mm, and the direction
// of its bolt, zero where that is along the axis; vehicle axes.
type ball struct{ arm, bolt r3.Vector }

// join puts a rod between two balls, the first of a body that is solved already.
func (m *Mechanism) join(r *Rod, from, to ball) *AssemblyError {
	in, out := Crank{Axis: m.Axes[r.From], Arm: from.arm}, Crank{Axis: m.Axes[r.To], Arm: to.arm}
	r.Derived = out.At(0, 1).Sub(in.At(0, 1)).Norm()
	length := r.Spec.Length
	if length == 0 {
		length = r.Derived
	}
	r.Loop = NewLoop(in, out, length, 1)
	r.Branch = r.branchOf(0, 0)
	start := m.ahead(r.From)
	straight, ok := r.Output(start)
	if !ok {
		least, greatest := r.Reach(start)
		return &AssemblyError{Name: r.Name(), Rod: length, Least: least, Greatest: greatest}
	}
	if length == r.Derived && start == 0 {
		straight = 0 // exactly, not to rounding
	}
	m.Straight[r.To.Side()] = straight
	r.back = r.Swapped(start, straight)
	r.Levers = [2]float64{AtArm: out.Lever(), AtDropArm: in.Lever()}
	for end, b := range [2]ball{AtArm: to, AtDropArm: from} {
		r.bolts[end] = b.bolt
		if b.bolt == (r3.Vector{}) {
			r.bolts[end], r.boltAlongAxis[end] = [2]r3.Vector{AtArm: out.Axis.Dir, AtDropArm: in.Axis.Dir}[end], true
		}
	}
	for i, dir := range [2]float64{1, -1} {
		r.deadPoints[i] = m.deadPoint(r, dir)
	}
	return nil
}

// ahead is the angle of a body with the column centred.
func (m *Mechanism) ahead(b Body) s1.Angle {
	if b == Input {
		return 0
	}
	return m.Straight[b.Side()]
}
