// Package linkage answers how the parts of the steering stand at a column angle: bodies on axes, rods with a
// ball at either end from one body to the next, solved in order, each in closed form. A Mechanism is made
// once and then only read, so that all cores may share it.
//
// Vehicle axes (x forward, y left, z up), mm; column and spindle angles are right-handed about the
// column (pointing up to the driver) and the kingpin (pointing up), so positive to the left.
package linkage

import (
	"math"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/geometry/rigid"
	"locksweep/geometry/setup"
)

// Mechanism is the steering of a setup, ready to be posed: a chain from the input to both spindles.
type Mechanism struct {
	Axes  [Bodies]rigid.Axis // that the input and the spindles turn about, or slide along
	Slide float64            // of the input along its axis, mm for each radian of the column; 0: it turns
	Bar   float64            // diameter of what slides, mm
	Rods  [2]Rod             // in the order in which they are solved
	// Driver is the rod that drives a side's spindle.
	Driver [2]int
	// Straight is the spindle angle of either side with the column centred: zero where the rods have
	// their derived lengths.
	Straight [2]s1.Angle
	// Most is how far the column is followed each way: half a turn, with a rack mostTurns.
	Most   s1.Angle
	Travel s1.Angle // of the column each way, where the file limits it or the rack; 0: it does not

	straight Pose
}

// mostTurns is how far the steering wheel of a rack is followed each way: further than any needs to go from lock to lock.
const mostTurns = 5

// Rod is a bar with a ball at either end, from the body that drives it to the spindle that it drives.
type Rod struct {
	Loop
	Spec     setup.Rod // of its metal
	Part     string    // what the file calls it: "tie rod"
	Key      string    // of its length: "tie_rod.left", as setup.Measure has it
	Sided    bool      // there is one on either side
	Side     setup.Side
	From, To Body
	// Derived is the length that gives the file's toe with the column centred, mm.
	Derived float64
	Levers  [2]float64 // greatest of the balls about their axes, by End, mm

	back       Loop         // from To to From, on the branch of the straight-ahead pose, where From turns
	slide      slideBack    // the same where it slides
	home       rigid.Motion // straight ahead back to rod axes
	deadPoints [2]fold
	bolts      [2]r3.Vector // of the balls straight ahead as measured, by End, unit, vehicle axes
	// boltAlongAxis, by End: the ball's bolt lies along the axis that its body turns about.
	boltAlongAxis [2]bool
}

// What the file calls its rods.
const (
	tieRodPart   = "tie rod"
	dragLinkPart = "drag link"
)

// Name is what a reader calls the rod: "left tie rod".
func (r *Rod) Name() string {
	if r.Sided {
		return r.Side.String() + " " + r.Part
	}
	return r.Part
}

// DriverOf is the rod that drives a side's spindle.
func (m *Mechanism) DriverOf(side setup.Side) *Rod { return &m.Rods[m.Driver[side]] }

// FromDropArm reports whether a rod is driven by the drop arm.
func (m *Mechanism) FromDropArm(rod int) bool { return m.Rods[rod].From == Input && m.Slide == 0 }

// On is the body that carries the ball at an end.
func (r *Rod) On(end End) Body {
	if end == AtArm {
		return r.To
	}
	return r.From
}

// crank is the body that carries the ball at an end, as a crank.
func (r *Rod) crank(end End) *Crank {
	if end == AtArm {
		return &r.Out
	}
	return &r.In
}

// Arm is where the ball at an end sits on the body that carries it, straight ahead as measured, from the point of its axis, mm.
func (r *Rod) Arm(end End) r3.Vector { return r.crank(end).Arm }

// fold is where one end can be pushed no further by the other.
type fold struct {
	column float64 // radians
	found  bool
}

// AssemblyError says that a rod does not reach with the column centred.
type AssemblyError struct {
	Name            string     // of the rod
	Rod             float64    // mm
	Least, Greatest float64    // lengths that would reach, mm
	Unit            setup.Unit // of the file, for who words it
}

func (e *AssemblyError) Error() string {
	return "the " + e.Name + " does not reach with the column centred"
}

// New prepares the linkage of a setup. The assembly is the one that the file's straight-ahead pose
// stands in. The error is an *AssemblyError where a rod of given length does not reach.
func New(s *setup.Setup) (*Mechanism, error) {
	m := &Mechanism{Most: math.Pi, Travel: s.Column.Travel, Axes: [Bodies]rigid.Axis{Input: s.Column.Axis()}}
	if s.Rack != nil {
		m.Axes[Input], m.Slide, m.Most = s.Rack.Axis(), s.Rack.Slide(), mostTurns*2*math.Pi
		m.Travel, m.Bar = s1.Angle(s.Rack.Travel/math.Abs(m.Slide)), s.Rack.Diameter
	}
	for _, side := range setup.Sides {
		m.Axes[Spindle(side)] = s.Kingpin(side)
	}
	for i, j := range joints(s) {
		m.Driver[j.To.Side()] = i
		m.Rods[i] = j.Rod
		r := &m.Rods[i]
		if err := m.join(r, j.from, j.to); err != nil {
			err.Unit = s.Unit
			return nil, err
		}
		m.turnInput(&m.straight, 0)
		m.poseRod(i, &m.straight)
		r.home = m.RodPlace(i).Inverse()
		for k, dir := range [2]float64{1, -1} {
			r.deadPoints[k] = m.deadPoint(r, dir)
		}
	}
	return m, nil
}

// joint is a rod to be put between two balls.
type joint struct {
	Rod
	from, to ball
}

// joints lists the rods of a setup in the order in which they are solved.
func joints(s *setup.Setup) (list [2]joint) {
	tieRod := func(side setup.Side) Rod {
		return Rod{Spec: s.Corners[side].Rod, Part: tieRodPart, Key: "tie_rod." + side.String(), Sided: true, Side: side, From: Input, To: Spindle(side)}
	}
	pickup := func(side setup.Side) ball {
		arm := &s.Corners[side].Arm
		return ball{setup.FromCorner(side, arm.Pickup), setup.FromCorner(side, arm.Bolt)}
	}
	pin := func(side setup.Side) ball {
		return ball{s.Column.FromColumn(s.DropArm.Pins[side]), s.Column.FromColumn(s.DropArm.Bolts[side])}
	}
	switch s.Linkage() {
	case setup.CrossRod:
		near, link := s.DragLink.Side, s.DragLink
		list[0] = joint{Rod{Spec: link.Rod, Part: dragLinkPart, Key: "drag_link.length", Side: near, From: Input, To: Spindle(near)},
			pin(near), ball{setup.FromCorner(near, link.Pickup), setup.FromCorner(near, link.Bolt)}}
		cross := tieRod(near.Other())
		cross.Sided, cross.From, cross.Key = false, Spindle(near), "tie_rod.length"
		list[1] = joint{cross, pickup(near), pickup(near.Other())}
	case setup.RackRods:
		for _, side := range setup.Sides {
			inner := s.Rack.Balls[side].Sub(s.Rack.Axis().Point)
			list[side] = joint{tieRod(side), ball{inner, s.Rack.Bolt(side)}, pickup(side)}
		}
	default:
		for _, side := range setup.Sides {
			list[side] = joint{tieRod(side), pin(side), pickup(side)}
		}
	}
	return list
}

// ball is a ball on a body straight ahead as measured: its place from the body's axis point, mm, and the direction
// of its bolt, zero where that is along the axis; vehicle axes.
type ball struct{ arm, bolt r3.Vector }

// join puts a rod between two balls, the first of a body that is solved already.
func (m *Mechanism) join(r *Rod, from, to ball) *AssemblyError {
	in, out := Crank{Axis: m.Axes[r.From], Arm: from.arm}, Crank{Axis: m.Axes[r.To], Arm: to.arm}
	if r.From == Input {
		in.Slide = m.Slide
	}
	r.Derived = out.Home().Sub(in.Home()).Norm()
	length := r.Spec.Length
	if length == 0 {
		length = r.Derived
	}
	r.Loop = newLoop(in, out, length, 1)
	r.Branch = r.branchOf(0, 0)
	start := m.ahead(r.From)
	straight, ok := r.output(start)
	if !ok {
		least, greatest := r.reach(start)
		return &AssemblyError{Name: r.Name(), Rod: length, Least: least, Greatest: greatest}
	}
	if length == r.Derived && start == 0 {
		straight = 0 // exactly, not to rounding
	}
	m.Straight[r.To.Side()] = straight
	if in.Slide != 0 {
		r.slide = r.slideSwapped(start, straight)
	} else {
		r.back = r.swapped(start, straight)
	}
	r.Levers = [2]float64{AtArm: out.lever(), AtDropArm: in.lever()}
	for end, b := range [2]ball{AtArm: to, AtDropArm: from} {
		r.bolts[end] = b.bolt
		if b.bolt == (r3.Vector{}) { // never on a rack
			r.bolts[end], r.boltAlongAxis[end] = [2]r3.Vector{AtArm: out.Axis.Dir, AtDropArm: in.Axis.Dir}[end], true
		}
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
