package linkage

import (
	"math"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/geometry/advance"
	"locksweep/geometry/rigid"
)

// End names an end of a rod: at the arm that it drives, or at what drives it, for a tie rod from the column the drop arm.
type End int

const (
	AtArm End = iota
	AtDropArm
)

// Ends lists both ends of a rod.
var Ends = [2]End{AtArm, AtDropArm}

// Transmission returns the angle between the rod and the plane through the axis and the ball, at
// either end, 0 to 90 degrees: 90 is the best lever, 0 none.
func (m *Mechanism) Transmission(rod int, p *Pose) (ends [2]s1.Angle) {
	r, rp := &m.Rods[rod], &p.Rods[rod]
	ends[AtArm] = arcSin(math.Abs(rp.ToLever) / r.Levers[AtArm])
	ends[AtDropArm] = arcSin(math.Abs(rp.FromLever) / r.Levers[AtDropArm])
	return ends
}

// RodTilt returns the angle between the rod and the plane square to its bolt, at either end, 0 to
// 90 degrees.
func (m *Mechanism) RodTilt(rod int, p *Pose) (ends [2]s1.Angle) {
	for _, end := range Ends {
		ends[end] = arcSin(math.Abs(p.Rods[rod].Along.Dot(m.bolt(rod, end, p))))
	}
	return ends
}

// bolt returns the direction of a ball's bolt at a pose: it turns with the body that carries it.
func (m *Mechanism) bolt(rod int, end End, p *Pose) r3.Vector {
	r := &m.Rods[rod]
	b, carrier := r.bolts[end], r.On(end)
	switch {
	case r.boltAlongAxis[end]:
		return b
	case carrier == Input && m.Slide != 0:
		return b
	case carrier == Input:
		return rigid.Rotate(b, m.Axes[Input].Dir, p.sin, p.cos)
	}
	sp := &p.Sides[carrier.Side()]
	return rigid.Rotate(b, m.Axes[carrier].Dir, sp.Sin, sp.Cos)
}

// TiltAt returns the first column angle, in direction dir from straight ahead and within end, at
// which a rod is tilted by the angle tilt at one of its balls. The way must hold no dead point and no
// over-centre point of that rod.
func (m *Mechanism) TiltAt(rod int, at End, tilt s1.Angle, dir float64, end s1.Angle) (column s1.Angle, found bool) {
	r := &m.Rods[rod]
	rise := r.Length * math.Sin(float64(tilt))
	if !r.boltAlongAxis[at] {
		return m.tiltOnTurningBolt(rod, at, rise, dir, end)
	}
	// The rod's rise along the kingpin depends on what drives it alone, and along the other axis on the spindle alone.
	loop, body := &r.Loop, r.From
	if at == AtDropArm {
		loop, body = &r.back, r.To
	}
	for _, by := range [2]float64{rise, -rise} {
		angle, ok := loop.rise(by, float64(m.ahead(body)), m.Way(body, dir))
		if !ok {
			continue
		}
		if c, ok := m.columnOf(body, s1.Angle(angle), dir); ok && c.Abs() <= end.Abs() && (!found || c.Abs() < column.Abs()) {
			column, found = c, true
		}
	}
	return column, found
}

// tiltOnTurningBolt is TiltAt for a bolt that is not along its axis: no closed form, so the pose is
// advanced by no more than the rod's rise along the bolt can change.
func (m *Mechanism) tiltOnTurningBolt(rod int, at End, rise, dir float64, end s1.Angle) (s1.Angle, bool) {
	r := &m.Rods[rod]
	perFrom, perTo := r.Levers[AtDropArm], r.ballRange(end)
	switch {
	case at == AtArm:
	case r.In.Slide != 0: // the bolt does not turn
		perTo = r.Levers[AtArm]
	default:
		perFrom, perTo = r.back.ballRange(end), r.Levers[AtArm]
	}
	motion := advance.Motion[Pose]{
		Limit: math.Abs(float64(end)),
		At: func(t float64) (p Pose, ok bool) {
			m.turnInput(&p, s1.Angle(dir*t))
			ok = (r.From == Input || m.poseRod(m.Driver[r.From.Side()], &p)) && m.poseRod(rod, &p)
			return p, ok
		},
		Room: func(p *Pose) float64 {
			return rise - r.Length*math.Abs(p.Rods[rod].Along.Dot(m.bolt(rod, at, p)))
		},
		Travel: func(from, to *Pose) float64 {
			return perFrom*math.Abs(TurnOf(r.From, from, to)) + perTo*math.Abs(TurnOf(r.To, from, to))
		},
	}
	t, found := motion.First(1e-12 * r.Length)
	return s1.Angle(dir * t), found
}

// Turn returns the way from one spindle angle to another, the short way round, radians.
func Turn(from, to s1.Angle) float64 { return math.Remainder(float64(to-from), 2*math.Pi) }

// ballRange returns the greatest distance of In's ball from Out's axis point, mm, with In within an angle either way.
func (l *Loop) ballRange(within s1.Angle) float64 {
	centre := l.In.Axis.Point.Sub(l.Out.Axis.Point)
	return centre.Norm() + l.In.Arm.Norm() + math.Abs(l.In.Slide)*float64(within.Abs())
}

func arcSin(v float64) s1.Angle { return s1.Angle(math.Asin(min(v, 1))) }
