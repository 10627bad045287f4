package linkage

import (
	"math"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/geometry/advance"
	"locksweep/geometry/rigid"
	"locksweep/geometry/setup"
)

// End names an end of a tie rod.
type End int

const (
	AtArm End = iota
	AtDropArm
)

func (e End) String() string { return [2]string{"steering arm", "drop arm"}[e] }

// Ends lists both ends of a rod.
var Ends = [2]End{AtArm, AtDropArm}

// Transmission returns the angle between the rod and the plane through the axis and the ball, at
// either end, 0 to 90 degrees: 90 is the best lever, 0 none.
func (m *Mechanism) Transmission(side setup.Side, p *SidePose) (ends [2]s1.Angle) {
	ends[AtArm] = arcSin(math.Abs(p.ArmLever) / m.levers[side][AtArm])
	ends[AtDropArm] = arcSin(math.Abs(p.DropLever) / m.levers[side][AtDropArm])
	return ends
}

// RodTilt returns the angle between the rod and the plane square to its bolt, at either end, 0 to
// 90 degrees.
func (m *Mechanism) RodTilt(side setup.Side, p *Pose) (ends [2]s1.Angle) {
	sp := &p.Sides[side]
	for _, end := range Ends {
		ends[end] = arcSin(math.Abs(sp.Rod.Dot(m.bolt(side, end, p.Sin, p.Cos, sp))))
	}
	return ends
}

// bolt returns the direction of a ball's bolt at a pose: it turns with the arm that carries it. sin and cos
// are the column's.
func (m *Mechanism) bolt(side setup.Side, end End, sin, cos float64, sp *SidePose) r3.Vector {
	b := m.bolts[side][end]
	switch {
	case m.boltAlongAxis[side][end]:
		return b
	case end == AtArm:
		return rigid.Rotate(b, m.Loops[side].Out.Axis.Dir, sp.Sin, sp.Cos)
	}
	return rigid.Rotate(b, m.column.Dir, sin, cos)
}

// TiltAt returns the first column angle, in direction dir from straight ahead and within end, at
// which the rod is tilted by the angle tilt at one of its balls. The way must hold no dead point and no
// over-centre point of that side.
func (m *Mechanism) TiltAt(side setup.Side, at End, tilt s1.Angle, dir float64, end s1.Angle) (column s1.Angle, found bool) {
	l, b := &m.Loops[side], &m.back[side]
	rise := l.Rod * math.Sin(float64(tilt))
	switch {
	case !m.boltAlongAxis[side][at]:
		return m.tiltOnTurningBolt(side, at, rise, dir, end)
	case at == AtArm: // the rod's rise along the kingpin depends on the column alone
		return first(dir, end, func(v float64) (s1.Angle, bool) {
			φ, ok := l.z.firstReach(l.lift-v, 0, dir)
			return s1.Angle(φ), ok
		}, rise, -rise)
	}
	way := math.Copysign(1, m.straight.Sides[side].Rate()*dir)
	return first(dir, end, func(v float64) (s1.Angle, bool) { // and along the column on the spindle alone
		θ, ok := b.z.firstReach(b.lift-v, float64(m.Straight[side]), way)
		if !ok {
			return 0, false
		}
		return m.ColumnAt(side, s1.Angle(θ), dir)
	}, rise, -rise)
}

// first returns the nearest of what at finds for the values, if within end.
func first(dir float64, end s1.Angle, at func(float64) (s1.Angle, bool), values ...float64) (column s1.Angle, found bool) {
	for _, v := range values {
		if c, ok := at(v); ok && c.Abs() <= end.Abs() && (!found || c.Abs() < column.Abs()) {
			column, found = c, true
		}
	}
	return column, found
}

// tiltOnTurningBolt is TiltAt for a bolt that is not along its axis: no closed form, so the pose is
// advanced by no more than the rod's rise along the bolt can change.
func (m *Mechanism) tiltOnTurningBolt(side setup.Side, at End, rise, dir float64, end s1.Angle) (s1.Angle, bool) {
	l, b := &m.Loops[side], &m.back[side]
	perColumn, perSpindle := m.levers[side][AtDropArm], l.ballRange()
	if at == AtDropArm {
		perColumn, perSpindle = b.ballRange(), m.levers[side][AtArm]
	}
	type state struct {
		column, sin, cos float64
		SidePose
	}
	motion := advance.Motion[state]{
		Limit: math.Abs(float64(end)),
		At: func(t float64) (p state, ok bool) {
			p.column = dir * t
			p.sin, p.cos = math.Sincos(p.column)
			ok = m.poseSide(side, s1.Angle(p.column), p.sin, p.cos, &p.SidePose)
			return p, ok
		},
		Room: func(p *state) float64 {
			return rise - l.Rod*math.Abs(p.Rod.Dot(m.bolt(side, at, p.sin, p.cos, &p.SidePose)))
		},
		Travel: func(from, to *state) float64 {
			return perColumn*math.Abs(to.column-from.column) + perSpindle*math.Abs(Turn(from.Spindle, to.Spindle))
		},
	}
	t, found := motion.First(1e-12 * l.Rod)
	return s1.Angle(dir * t), found
}

// Turn returns the way from one spindle angle to another, the short way round, radians.
func Turn(from, to s1.Angle) float64 { return math.Remainder(float64(to-from), 2*math.Pi) }

// ballRange returns the greatest distance of In's ball from Out's axis point, mm.
func (l *Loop) ballRange() float64 {
	centre := l.In.Axis.Point.Sub(l.Out.Axis.Point)
	return centre.Norm() + l.In.Arm.Norm()
}

func arcSin(v float64) s1.Angle { return s1.Angle(math.Asin(min(v, 1))) }
