package clearance

import (
	"math"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/geometry/advance"
	"locksweep/geometry/linkage"
	"locksweep/geometry/rigid"
	"locksweep/geometry/setup"
	"locksweep/geometry/solid"
)

// Motion returns how a body has moved from straight ahead (spindles: from the file's pose) to a pose.
func (sc *Scene) Motion(b Body, p *linkage.Pose) rigid.Motion {
	switch {
	case b == Frame:
		return rigid.Identity
	case b == Column:
		return rigid.About(sc.axes[Column], p.Column)
	case b.isRod():
		side := b.side()
		sp := &p.Sides[side]
		return setup.RodAxes(side, sp.Pin, sp.Rod).After(sc.rodHome[side])
	}
	return rigid.About(sc.axes[b], p.Sides[b.side()].Spindle)
}

// meeting is two convex solids whose gap is followed along a motion.
type meeting struct {
	sc     *Scene
	bodies [2]Body
	solids [2]*solid.Solid
	shapes [2]*shape
	// reach is the greatest distance of either solid's core from what the other's body turns about, mm, where
	// that is a spindle or the column.
	reach [2]float64
}

func (sc *Scene) meeting(p *pair, m meet) meeting {
	a, b := &sc.Pieces[p.pieces[0]], &sc.Pieces[p.pieces[1]]
	return meeting{
		sc: sc, bodies: [2]Body{a.Body, b.Body},
		solids: [2]*solid.Solid{&a.Solids[m.solids[0]], &b.Solids[m.solids[1]]},
		shapes: [2]*shape{&a.shapes[m.solids[0]], &b.shapes[m.solids[1]]},
		reach:  m.reach,
	}
}

// stance is a meeting at one pose.
type stance struct {
	pose  linkage.Pose
	place [2]rigid.Motion
	gap   float64
	away  r3.Vector  // unit, the way in which the gap was measured, from the first solid to the second
	reach [2]float64 // how far the first solid reaches that way, and the second the other way, mm
}

// posed is the motion of a meeting from one column angle to another.
func (m *meeting) posed(start, end s1.Angle) *advance.Motion[stance] {
	dir := math.Copysign(1, float64(end-start))
	return m.motion(math.Abs(float64(end-start)), func(t float64) (linkage.Pose, bool) {
		return m.sc.mechanism.Pose(start + s1.Angle(dir*t))
	})
}

// turned is the motion of a meeting of which one solid stands and the body of the other turns
// from one angle, way ±1, by up to limit.
func (m *meeting) turned(body Body, start, way, limit float64) *advance.Motion[stance] {
	return m.motion(limit, func(t float64) (p linkage.Pose, ok bool) {
		angle := s1.Angle(start + way*t)
		if body == Column {
			p.Column = angle
		} else {
			p.Sides[body.side()].Spindle = angle
		}
		return p, true
	})
}

func (m *meeting) motion(limit float64, pose func(t float64) (linkage.Pose, bool)) *advance.Motion[stance] {
	return &advance.Motion[stance]{
		Limit: limit,
		At: func(t float64) (s stance, ok bool) {
			if s.pose, ok = pose(t); !ok {
				return s, false
			}
			for i, b := range m.bodies {
				s.place[i] = m.sc.Motion(b, &s.pose)
			}
			return s, true
		},
		Room:   m.room,
		Travel: func(from, to *stance) float64 { return from.gap - m.floor(from, to) },
	}
}

// farOff is how far apart the balls about two solids may be before their shapes matter, mm.
const farOff = 50.0

// room is the gap of a meeting; where it is more than farOff it may be a lower bound of it.
func (m *meeting) room(s *stance) float64 {
	a, b := &m.shapes[0].ball, &m.shapes[1].ball
	apart := s.place[1].Point(b.centre).Sub(s.place[0].Point(a.centre))
	if d := apart.Norm(); d-a.radius-b.radius > farOff {
		s.gap, s.away = d-a.radius-b.radius, apart.Mul(1/d)
	} else {
	gap, p, q := solid.Distance(m.solids[0], m.solids[1], s.place[0], s.place[1])
		s.gap, s.away = gap, q.Sub(p).Normalize()
		if gap < 0 {
			s.away = s.away.Mul(-1)
		}
	}
	_, s.reach[0] = extent(m.solids[0], &s.place[0], s.away)
	_, s.reach[1] = extent(m.solids[1], &s.place[1], s.away.Mul(-1))
	return s.gap
}
