package clearance

import (
	"math"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/geometry/advance"
	"locksweep/geometry/linkage"
	"locksweep/geometry/rigid"
	"locksweep/geometry/solid"
)

// Motion returns how a body has moved from straight ahead (spindles: from the file's pose) to a pose.
func (sc *Scene) Motion(b linkage.Body, p *linkage.Pose) rigid.Motion {
	return sc.mechanism.Motion(b, p)
}

// meeting is two convex solids whose gap is followed along a motion.
type meeting struct {
	sc     *Scene
	bodies [2]linkage.Body
	solids [2]*solid.Solid
	shapes [2]*shape
	reach  [2]float64 // see meet
}

func (sc *Scene) meeting(p *pair, m *meet) meeting {
	a, b := &sc.Pieces[p.pieces[0]], &sc.Pieces[p.pieces[1]]
	return meeting{
		sc: sc, bodies: [2]linkage.Body{a.Body, b.Body},
		solids: [2]*solid.Solid{&a.Solids[m.solids[0]], &b.Solids[m.solids[1]]},
		shapes: [2]*shape{&a.shapes[m.solids[0]], &b.shapes[m.solids[1]]},
		reach:  m.reach,
	}
}

// stance is the meeting where all bodies are at a stop.
func (m *meeting) stance(at *stop) stance {
	return stance{pose: at.pose, place: [2]rigid.Motion{at.place[m.bodies[0]], at.place[m.bodies[1]]}}
}

// stance is a meeting at one pose.
type stance struct {
	pose  linkage.Pose
	place [2]rigid.Motion
	view
}

// view is a gap as it was measured.
type view struct {
	gap   float64    // mm
	away  r3.Vector  // unit vector along which it was measured, from the first solid to the second; zero where cores touch
	reach [2]float64 // how far the first solid reaches that way, and the second the other way, mm
	known bool
	least bool // gap is only a lower bound: that along away
}

// farOff is how far apart the balls about two solids may be before their shapes matter, mm.
const farOff = 50.0

// room is the gap of a meeting; where it is more than farOff it may be a lower bound of it.
func (m *meeting) room(s *stance) float64 {
	if s.known {
		return s.gap
	}
	s.known, s.least = true, false
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
	s.reach[0] = m.solids[0].Reaches(&s.place[0], s.away)
	s.reach[1] = m.solids[1].Reaches(&s.place[1], s.away.Mul(-1))
	return s.gap
}

// along measures a gap along one way only, a unit vector from the first solid to the second.
func (m *meeting) along(s *stance, way r3.Vector) (gap float64) {
	s.away, s.known, s.least = way, true, true
	s.reach[0] = m.solids[0].Reaches(&s.place[0], way)
	s.reach[1] = m.solids[1].Reaches(&s.place[1], way.Mul(-1))
	s.gap = -s.reach[0] - s.reach[1]
	return s.gap
}

// stop is where all bodies are at a pose.
type stop struct {
	pose  linkage.Pose
	place [linkage.Bodies]rigid.Motion
}

func (sc *Scene) stop(p linkage.Pose) stop {
	s := stop{pose: p}
	for b := range linkage.Bodies {
		s.place[b] = sc.Motion(b, &p)
	}
	return s
}

// journey follows meetings, one after the other, along one motion of the steering.
type journey struct {
	meeting
	advance.Motion[stance]
	length float64 // of the whole motion, radians
	pose   func(t float64) (linkage.Pose, bool)
	ends   *[2]stop // of the whole motion, where they are worth keeping
	ahead  bool     // straight ahead lies between them
	first  view     // of the meeting at hand at the start, where it is known
}

// journey is the motion from one column angle to another. ok is false where the linkage does not get there.
func (sc *Scene) journey(from, to s1.Angle) (j *journey, ok bool) {
	dir := math.Copysign(1, float64(to-from))
	j = sc.along(math.Abs(float64(to-from)), func(t float64) (linkage.Pose, bool) {
		column := from + s1.Angle(dir*t)
		if s1.Angle(dir)*(column-to) > 0 { // by rounding, which may be past a dead point
			column = to
		}
		return sc.mechanism.Pose(column)
	})
	start, ok := j.pose(0)
	end, reaches := j.pose(j.length)
	if ok && reaches {
		j.ends = &[2]stop{sc.stop(start), sc.stop(end)}
		j.ahead = from*to <= 0
	}
	return j, ok && reaches
}

// turning is the motion of one body alone, a spindle or the column, from one angle and by up to
// limit, the way ±1.
func (sc *Scene) turning(body linkage.Body, from, way, limit float64) *journey {
	return sc.along(limit, func(t float64) (p linkage.Pose, ok bool) {
		angle := s1.Angle(from + way*t)
		if body == linkage.Input {
			p.Column = angle
		} else {
			p.Sides[body.Side()].Spindle = angle
		}
		return p, true
	})
}

func (sc *Scene) along(length float64, pose func(t float64) (linkage.Pose, bool)) *journey {
	j := &journey{length: length, pose: pose}
	j.Motion = advance.Motion[stance]{
		At: j.at, Room: j.room,
		Travel: func(from, to *stance) float64 { return from.gap - j.floor(from, to) },
	}
	return j
}

// take sets out with another meeting, to go no further than limit. What is known of it at the start
// goes with it.
func (j *journey) take(m meeting, limit float64, first view) {
	j.meeting, j.Limit, j.first = m, limit, first
}

// keepsOff reports whether the gap of a meeting, as it was measured straight ahead, shows that it is nowhere on the whole motion under near,
// mm.
func (j *journey) keepsOff(m *meeting, start *view, near float64) bool {
	if !start.known || !j.ahead || start.gap < near {
		return false
	}
	ahead := &m.sc.start
	for i := range j.ends {
		end := &j.ends[i]
		if end.pose.Column == 0 || start.gap-m.travels(0, &ahead.pose, &end.pose)-m.travels(1, &ahead.pose, &end.pose) >= near {
			continue
		}
		from, to := m.stance(ahead), m.stance(end)
		if from.view = *start; !(m.floorTo(&from, &to, near) >= near) {
			return false
		}
	}
	return true
}

// at is the stance of the meeting at hand.
func (j *journey) at(t float64) (s stance, ok bool) {
	if t == 0 {
		s.view = j.first
	}
	if j.ends != nil && (t == 0 || t == j.length) {
		end := &j.ends[0]
		if t > 0 {
			end = &j.ends[1]
		}
		first := s.view
		s = j.stance(end)
		s.view = first
		return s, true
	}
	if s.pose, ok = j.pose(t); !ok {
		return s, false
	}
	for i, b := range j.bodies {
		s.place[i] = j.sc.Motion(b, &s.pose)
	}
	return s, true
}
