// Package sweep answers how far the steering turns from lock to lock and what stops it: the poses on the
// way with all their figures, the chain of limits either way, and what is wrong with the setup.
// Vehicle axes, millimetres, s1.Angle; column angle positive to the left.
package sweep

import (
	"errors"
	"math"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/geometry/clearance"
	"locksweep/geometry/linkage"
	"locksweep/geometry/road"
	"locksweep/geometry/setup"
)

// Model is a setup made ready to be posed. It is only read after New, so that all cores may share it.
type Model struct {
	Setup    *setup.Setup
	Linkage  *linkage.Mechanism
	Scene    *clearance.Scene
	Road     *road.Vehicle
	Straight Pose // column centred

	widths *widths // of stops, as far as they were asked for
}

// Pose is a pose of the linkage with what it means on the ground.
type Pose struct {
	linkage.Pose
	Wheels [2]road.Wheel
	// Transmission and Tilt are by rod of the linkage and linkage.End.
	Transmission, Tilt [2][2]s1.Angle
	Ratio              [2]float64   // steer per turn of the column; NaN at a dead point
	LinkageSteer       s1.Angle     // mean of both wheels with static toe taken off, positive to the left
	MomentArm          [2]r3.Vector // about the kingpin, of a unit force at the contact along x, y, z, mm; positive turns left
	Turn               road.Turn
}

// New prepares a setup. The error is a *linkage.AssemblyError where a rod does not reach, and a
// *clearance.TouchError where pieces touch with the column centred.
func New(s *setup.Setup) (*Model, error) {
	m, touch, err := prepare(s)
	if err == nil && touch != nil {
		err = touch
	}
	if err != nil {
		return nil, err
	}
	return m, nil
}

// AsMeasured is New where nothing is to be cut: pieces that touch with the column centred are no error, but
// their pairs are left out of every limit and gap, so that the wheels may turn less far than is said, never further.
func AsMeasured(s *setup.Setup) (*Model, error) {
	m, _, err := prepare(s)
	return m, err
}

func prepare(s *setup.Setup) (m *Model, touch *clearance.TouchError, err error) {
	mechanism, err := linkage.New(s)
	if err != nil {
		return nil, nil, err
	}
	scene, err := clearance.New(s, mechanism)
	if err != nil && !errors.As(err, &touch) {
		return nil, nil, err
	}
	return made(s, mechanism, scene, road.New(s)), touch, nil
}

// Refit is New for the same setup with other pickups, pins or rod lengths and nothing else changed; it
// takes over what is known of the metal.
func (m *Model) Refit(s *setup.Setup) (*Model, error) {
	mechanism, err := linkage.New(s)
	if err != nil {
		return nil, err
	}
	scene, err := m.Scene.Refit(s, mechanism)
	if err != nil {
		return nil, err
	}
	fit := made(s, mechanism, scene, m.Road)
	fit.widths = m.widths
	return fit, nil
}

// Told drops the shapes of the metal of a model that is asked for no more gaps or contacts: see clearance.Scene.Told. Nobody else may use the
// model meanwhile.
func (m *Model) Told() { m.Scene, m.widths = m.Scene.Told(), &widths{} }

func made(s *setup.Setup, mechanism *linkage.Mechanism, scene *clearance.Scene, vehicle *road.Vehicle) *Model {
	m := &Model{Setup: s, Linkage: mechanism, Scene: scene, Road: vehicle.Centred(mechanism.Straight), widths: &widths{}}
	m.Straight, _ = m.Pose(0)
	return m
}

// Pose returns all figures at a column angle; ok is false where the linkage does not get there.
func (m *Model) Pose(column s1.Angle) (p Pose, ok bool) {
	ok = m.pose(column, &p)
	return p, ok
}

// Heading is Pose with only the wheels, their ratios and steer, and Turn filled in.
func (m *Model) Heading(column s1.Angle) (p Pose, ok bool) {
	if ok = m.head(column, &p); ok {
		p.Turn = m.Road.Turn(&p.Wheels)
	}
	return p, ok
}

func (m *Model) pose(column s1.Angle, p *Pose) (ok bool) {
	if !m.head(column, p) {
		return false
	}
	m.judge(p)
	return true
}

// head fills in where the wheels head and how fast they turn; ok is false where the linkage does not get to the column angle.
func (m *Model) head(column s1.Angle, p *Pose) (ok bool) {
	if !m.Linkage.Fill(&p.Pose, column) {
		return false
	}
	m.Road.Fill(&p.Wheels, &p.Pose)
	for side := range p.Ratio {
		p.Ratio[side] = p.Sides[side].Rate * p.Wheels[side].Rate
	}
	p.LinkageSteer = m.Road.LinkageSteer(&p.Pose)
	return true
}

// inLine is the transmission angle, radians, below which a rod counts as in line with its arm: at a dead point rounding
// leaves no more than this.
const inLine = 0.001 * math.Pi / 180

// runsAway reports whether a rod that drives a side's spindle is in line with the arm that it drives.
func (m *Model) runsAway(side setup.Side, p *Pose) bool {
	for b := linkage.Spindle(side); b.IsSpindle(); {
		rod := m.Linkage.Driver[b.Side()]
		r := &m.Linkage.Rods[rod]
		if math.Abs(p.Rods[rod].ToLever) < inLine*r.Levers[linkage.AtArm] {
			return true
		}
		b = r.From
	}
	return false
}

// leastRatio is the steer per turn of the column below which a wheel counts as standing still.
const leastRatio = 1e-4

// SteeringRatio returns how far the steering wheel turns for a side's wheel, as a ratio; NaN where the wheel stands
// still or runs away.
func (p *Pose) SteeringRatio(side setup.Side) float64 {
	if math.Abs(p.Ratio[side]) < leastRatio {
		return math.NaN()
	}
	return 1 / p.Ratio[side]
}

// judge fills in the rest of a pose.
func (m *Model) judge(p *Pose) {
	for rod := range p.Rods {
		p.Transmission[rod] = m.Linkage.Transmission(rod, &p.Pose)
		p.Tilt[rod] = m.Linkage.RodTilt(rod, &p.Pose)
	}
	for _, side := range setup.Sides {
		if m.runsAway(side, p) {
			p.Ratio[side] = math.NaN() // without bound but for rounding
		}
		p.MomentArm[side] = m.Road.MomentArm(side, &p.Wheels[side])
	}
	p.Turn = m.Road.Turn(&p.Wheels)
}
