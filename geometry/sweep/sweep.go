package sweep

import (
	"math"

	"github.com/golang/geo/s1"

	"locksweep/geometry/clearance"
	"locksweep/geometry/linkage"
	"locksweep/geometry/setup"
)

// Result is a setup swept from lock to lock.
type Result struct {
	*Model
	Poses    []Pose // from the left lock to the right lock, both included, and straight ahead
	Locks    [2]Lock
	Rods     [2]RodFit
	Near     []clearance.Near // pairs that come near within the lock
	Findings []Finding
}

// RodFit is how a tie rod of given length sets its wheel.
type RodFit struct {
	Length  float64  // centre to centre, mm
	Derived float64  // the length that gives the file's toe, mm
	Toe     s1.Angle // toe-in at centre with the rod as it is
}

// LeastStep and GreatestStep bound the step of a sweep, LeastRackStep that of one with a rack, which is followed ten times as far: what
// holds the poses stays under some half a gigabyte.
const (
	LeastStep     = 0.01 * s1.Degree
	LeastRackStep = 0.1 * s1.Degree
	GreatestStep  = 90 * s1.Degree
)

// Run sweeps a setup from lock to lock with poses at the whole multiples of step, which is brought within
// LeastStep and GreatestStep. Locks do not depend on it. Pieces that touch straight ahead are left out, as AsMeasured
// has it.
func Run(s *setup.Setup, step s1.Angle) (*Result, error) {
	m, err := AsMeasured(s)
	if err != nil {
		return nil, err
	}
	return m.Run(step), nil
}

// Run is Run for a setup that is prepared already.
func (m *Model) Run(step s1.Angle) *Result {
	r := &Result{Model: m, Rods: m.rods()}
	for _, d := range Directions {
		r.Locks[d] = m.Lock(d)
	}
	r.Poses = m.poses(step, r.Locks[ToLeft].Column, r.Locks[ToRight].Column)
	r.Near = m.Scene.Nearest(r.Locks[ToRight].Column, r.Locks[ToLeft].Column, nearFactor*m.Setup.Limits.Clearance)
	r.Findings = r.findings()
	return r
}

// nearFactor says what comes near: within so many times the clearance wanted.
const nearFactor = 4

// poses samples the way from the left lock to the right lock.
func (m *Model) poses(step, left, right s1.Angle) []Pose {
	step = min(max(step, LeastStep), GreatestStep)
	// A multiple that falls on a lock to rounding is the lock itself.
	first := int(math.Ceil(float64(left/step)-1e-9)) - 1
	last := int(math.Floor(float64(right/step)+1e-9)) + 1
	columns := make([]s1.Angle, 0, max(first-last, 0)+4)
	columns = append(columns, left)
	for i := first; i >= last; i-- {
		columns = append(columns, s1.Angle(i)*step)
	}
	if right < left {
		columns = append(columns, right)
	}
	poses := make([]Pose, len(columns))
	for i, c := range columns {
		m.pose(c, &poses[i])
	}
	return poses
}

// rods compares the tie rods with what the file's toe needs.
func (m *Model) rods() (fits [2]RodFit) {
	for _, side := range setup.Sides {
		fits[side] = RodFit{
			Length:  m.Linkage.Rods[m.Linkage.Driver[side]].Length,
			Derived: m.Linkage.Rods[m.Linkage.Driver[side]].Derived,
			Toe:     m.Straight.Wheels[side].Steer * s1.Angle(-side.Sign()),
		}
	}
	return fits
}

// SleeveTurns returns how many turns of the sleeve, with a left-hand and a right-hand end, of the rod that drives a side set the
// file's toe; longer is positive. NaN where the thread's pitch is not given.
func (r *Result) SleeveTurns(side setup.Side) float64 {
	pitch := r.Linkage.DriverOf(side).Spec.End.Pitch
	if pitch == 0 {
		return math.NaN()
	}
	return (r.Rods[side].Derived - r.Rods[side].Length) / (2 * pitch)
}

// GreatestTilts returns the greatest tilt of the rods within the locks, as far as Poses shows it: at a steering arm, and at what
// the steering wheel moves.
func (r *Result) GreatestTilts() (most [2]s1.Angle) {
	for i := range r.Poses {
		for rod := range r.Linkage.Rods {
			for _, end := range linkage.Ends {
				at := linkage.AtArm
				if r.Linkage.Rods[rod].On(end) == linkage.Input {
					at = linkage.AtDropArm
				}
				most[at] = max(most[at], r.Poses[i].Tilt[rod][end])
			}
		}
	}
	return most
}

// MeanSteer is the mean of both front wheels' steer angles, positive to the left.
func (p *Pose) MeanSteer() s1.Angle {
	return (p.Wheels[setup.Left].Steer + p.Wheels[setup.Right].Steer) / 2
}

// LockToLock returns the steering wheel's turns from lock to lock.
func (r *Result) LockToLock() float64 {
	return float64(r.Locks[ToLeft].Column-r.Locks[ToRight].Column) / (2 * math.Pi)
}
