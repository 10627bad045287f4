// Package loads answers, as an order of magnitude, what the steering has to bear: moments about the kingpins, forces in
// the rods, pull at the steering wheel's rim; and how far rods, threads, bolts, holes and stops are from giving way.
//
// Forces in N, lengths in mm, moments in N·mm, stresses in N/mm². Moments about a kingpin or the column are positive
// to the left, as angles are; a rod's force is positive where the rod is pressed.
package loads

import (
	"cmp"
	"errors"
	"math"
	"slices"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/geometry/linkage"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// Gravity is the standard acceleration of free fall, m/s² (ISO 80000-3).
const Gravity = 9.80665

// What is taken where the file does not say (common practice, no source).
const (
	defaultFriction      = 0.7    // dry rubber on concrete
	defaultSteeringWheel = 320.0  // mm
	defaultHand          = 300.0  // N, a hard pull
	defaultKerb          = 1000.0 // N
)

// ErrNoWeight says that the weight on the front wheels is not given.
var ErrNoWeight = errors.New("the weight on the front wheels is not given")

// Model is a swept setup with what acts on it.
type Model struct {
	*sweep.Result
	Load  setup.Load // with what was left open filled in
	Wheel float64    // on the ground under each front wheel, N: half the front weight
	Print [2]float64 // width that stands for each tyre's print, mm
}

// New takes a sweep and the loads of its file.
func New(r *sweep.Result) (*Model, error) {
	m := &Model{Result: r, Load: r.Setup.Load}
	if m.Load.Front == 0 {
		return nil, ErrNoWeight
	}
	fill := func(v *float64, or float64) {
		if *v == 0 {
			*v = or
		}
	}
	fill(&m.Load.Friction, defaultFriction)
	fill(&m.Load.SteeringWheel, defaultSteeringWheel)
	fill(&m.Load.Hand, defaultHand)
	fill(&m.Load.Kerb, defaultKerb)
	m.Wheel = m.Load.Front * Gravity / 2
	for _, side := range setup.Sides {
		m.Print[side] = m.width(r.Setup.Corners[side].Wheel.Tyre)
	}
	return m, nil
}

// width is the width B of a tyre's print as Parked takes it. Its source has the nominal width of the print; a print of
// known length and width turns like the disc of the same polar radius of gyration: B²/8 = (length² + width²)/12.
func (m *Model) width(tyre setup.Tyre) float64 {
	length, width := m.Load.PatchLength, m.Load.PatchWidth
	if m.Load.Pressure > 0 {
		const bar = 0.1 // N/mm²
		width = tyre.Width
		length = min(m.Wheel/(m.Load.Pressure*bar*width), tyre.Diameter)
	}
	if length == 0 {
		return tyre.Width
	}
	return math.Sqrt(8 * (length*length + width*width) / 12)
}

// friction are coefficients for turning a tyre on the spot by its kingpin's offset over the width of its print, of
// rubber on dry concrete: a wheel that stands off its kingpin rolls as it turns. The greatest and the form are those of a
// maker's chart (read), 0.58 at 0.1 stands in an example of Barton and Fieldhouse, Automotive Chassis Engineering, 2018
// (read); the others are its values from memory, good to 0.03.
var friction = [][2]float64{{0, 0.7}, {0.1, 0.58}, {0.2, 0.50}, {0.4, 0.40}, {0.6, 0.33}, {0.8, 0.29}, {1, 0.26}, {1.2, 0.25}}

// friction is the coefficient f of Parked for a ratio of offset to width, scaled to the friction of the load.
func (m *Model) friction(ratio float64) float64 {
	scale := m.Load.Friction / friction[0][1]
	for i, p := range friction[1:] {
		if last := friction[i]; ratio <= p[0] {
			return scale * (last[1] + (p[1]-last[1])*(ratio-last[0])/(p[0]-last[0]))
		}
	}
	return scale * friction[len(friction)-1][1]
}

// offset is the distance of the contact from where the kingpin's axis meets the ground, mm.
func (m *Model) offset(side setup.Side, p *sweep.Pose) float64 {
	k, at := m.Linkage.Axes[linkage.Spindle(side)], p.Wheels[side].Contact
	foot := k.Point.Add(k.Dir.Mul((at.Z - k.Point.Z) / k.Dir.Z))
	return math.Hypot(at.X-foot.X, at.Y-foot.Y)
}

// Scrub is the moment that turns one front wheel on the spot, N·mm: W f √(B²/8 + E²), W the weight on the wheel, B the
// width of its print, E the kingpin's offset at the ground (a maker's catalogue of hydraulic steering, read, for W of the
// whole axle and the moments of both wheels).
func (m *Model) Scrub(side setup.Side, p *sweep.Pose) float64 {
	b, e := m.Print[side], m.offset(side, p)
	return m.Wheel * m.friction(e/b) * math.Sqrt(b*b/8+e*e)
}

// Jacking is the moment about a kingpin by the weight on its wheel, N·mm: tilted kingpins lift the frame as they turn.
func (m *Model) Jacking(side setup.Side, p *sweep.Pose) float64 { return m.Wheel * p.MomentArm[side].Z }

// Force is what the linkage carries at a pose.
type Force struct {
	Moments [2]float64 // that the rods give to each spindle, N·mm
	Rods    [2]float64 // N, positive where pressed
	Torque  float64    // about the column, N·mm
}

// carry returns rod forces and column torque that give moments to the spindles. By virtual work the torque times a small
// turn of the column is the sum of the moments times the turns of the spindles.
func (m *Model) carry(moments [2]float64, p *linkage.Pose) Force {
	f := Force{Moments: moments}
	var on [linkage.Bodies]float64
	for _, side := range setup.Sides {
		on[linkage.Spindle(side)] = moments[side]
	}
	for i := len(m.Linkage.Rods) - 1; i >= 0; i-- {
		r := &m.Linkage.Rods[i]
		f.Rods[i] = on[r.To] / p.Rods[i].ToLever
		on[r.From] += f.Rods[i] * p.Rods[i].FromLever
	}
	f.Torque = on[linkage.Input]
	return f
}

// turning is the rate of a wheel, radians per radian of the column or per mm of the rack, under which it stands still, as over centre;
// over its inverse the linkage is at a dead point. Which way it turns is told there by straight ahead, not by rounding.
const turning = 1e-9

// Parked is what turns both front wheels on the spot, on in a direction: against the tyres' scrub and with or against the
// weight on tilted kingpins.
func (m *Model) Parked(p *sweep.Pose, d sweep.Direction) Force {
	var moments [2]float64
	for _, side := range setup.Sides {
		rate := p.Sides[side].Rate
		if size := math.Abs(rate); size < turning || size > 1/turning {
			rate = m.Straight.Sides[side].Rate
		}
		on := math.Copysign(1, rate*d.Sign())
		moments[side] = on*m.Scrub(side, p) - m.Jacking(side, p)
	}
	return m.carry(moments, &p.Pose)
}

// Moving is what holds both front wheels that roll and grip sideways as much as they can, thrust to the left (+1) or to
// the right (-1): trail and lean of the kingpin are the lever.
func (m *Model) Moving(p *sweep.Pose, thrust float64) Force {
	var moments [2]float64
	for _, side := range setup.Sides {
		w := &p.Wheels[side]
		level := r3.Vector{X: w.Leftward.X, Y: w.Leftward.Y}.Normalize()
		grip := level.Mul(thrust * m.Load.Friction * m.Wheel).Add(r3.Vector{Z: m.Wheel})
		moments[side] = 0 - p.MomentArm[side].Dot(grip)
	}
	return m.carry(moments, &p.Pose)
}

// kerb is what holds one front wheel that is knocked from ahead at its contact.
func (m *Model) kerb(p *sweep.Pose, side setup.Side) Force {
	w := &p.Wheels[side]
	ahead := r3.Vector{X: w.Leftward.Y, Y: -w.Leftward.X}.Normalize()
	var moments [2]float64
	moments[side] = p.MomentArm[side].Dot(ahead.Mul(m.Load.Kerb))
	return m.carry(moments, &p.Pose)
}

// hand is a hard pull at the rim in a direction with one spindle held fast, as by its stop: the whole pull goes through the
// rods to it. A rod in line with the arm that drives it gives forces without bound.
func (m *Model) hand(p *sweep.Pose, d sweep.Direction, held setup.Side) (f Force) {
	f.Torque = d.Sign() * m.Load.Hand * m.Load.SteeringWheel / 2
	var way []int // rods from the held spindle back to the input
	for b := linkage.Spindle(held); b != linkage.Input; {
		rod := m.Linkage.Driver[b.Side()]
		way, b = append(way, rod), m.Linkage.Rods[rod].From
	}
	moment := f.Torque
	for i := len(way) - 1; i >= 0; i-- {
		rp := &p.Rods[way[i]]
		f.Rods[way[i]] = moment / rp.FromLever
		moment = f.Rods[way[i]] * rp.ToLever
	}
	f.Moments[held] = moment
	return f
}

// Rim is the pull at the steering wheel's rim for a torque about the column, N, without sign.
func (m *Model) Rim(torque float64) float64 { return math.Abs(torque) / (m.Load.SteeringWheel / 2) }

// Cause is what a rod has to bear.
type Cause int

const (
	WhenParked Cause = iota
	WhenMoving
	ByKerb
	ByHand
)

func (c Cause) String() string { return [4]string{"parked", "moving", "kerb", "hand"}[c] }

// Worst is the greatest force in a rod, and where.
type Worst struct {
	Force  float64 // N, as it stands: positive where pressed
	Cause  Cause
	Column s1.Angle
}

// Worsts returns the greatest force in each rod from each cause, within the locks, by Cause.
func (m *Model) Worsts(rod int) (list [4]Worst) {
	for c := range list {
		list[c] = Worst{Cause: Cause(c)}
	}
	m.forces(func(c Cause, column s1.Angle, f *Force, _ *linkage.Pose) {
		if force := f.Rods[rod]; math.Abs(force) > math.Abs(list[c].Force) || math.IsNaN(force) {
			list[c].Force, list[c].Column = force, column
		}
	})
	return list
}

// Hardest returns Worsts with the greatest force first.
func (m *Model) Hardest(rod int) []Worst {
	list := m.Worsts(rod)
	slices.SortStableFunc(list[:], func(a, b Worst) int { return cmp.Compare(math.Abs(b.Force), math.Abs(a.Force)) })
	return list[:]
}

// forces calls take for what the linkage carries from each cause, at each pose within the locks.
func (m *Model) forces(take func(c Cause, column s1.Angle, f *Force, p *linkage.Pose)) {
	each := func(c Cause, p *sweep.Pose, f Force) { take(c, p.Column, &f, &p.Pose) }
	for i := range m.Poses {
		p := &m.Poses[i]
		for _, d := range sweep.Directions {
			each(WhenParked, p, m.Parked(p, d))
			each(WhenMoving, p, m.Moving(p, d.Sign()))
		}
		for _, side := range setup.Sides {
			each(ByKerb, p, m.kerb(p, side))
		}
	}
	for _, d := range sweep.Directions {
		lock := &m.Locks[d]
		f := m.hand(&lock.Pose, d, m.stopped(d))
		take(ByHand, lock.Column, &f, &lock.Pose.Pose)
	}
}

// stopped is the side whose spindle is held at a lock: the inner one where what ends the way is on neither.
func (m *Model) stopped(d sweep.Direction) setup.Side {
	if first := m.Locks[d].First(); first != nil && first.Kind != sweep.ColumnTravel && first.Kind != sweep.RackTravel {
		return first.Side
	}
	return [2]setup.Side{sweep.ToLeft: setup.Left, sweep.ToRight: setup.Right}[d]
}
