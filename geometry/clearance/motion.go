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
}

func (sc *Scene) meeting(p *pair, m meet) meeting {
	a, b := &sc.Pieces[p.pieces[0]], &sc.Pieces[p.pieces[1]]
	return meeting{
		sc: sc, bodies: [2]Body{a.Body, b.Body},
		solids: [2]*solid.Solid{&a.Solids[m.solids[0]], &b.Solids[m.solids[1]]},
		shapes: [2]*shape{&a.shapes[m.solids[0]], &b.shapes[m.solids[1]]},
	}
}

// stance is a meeting at one pose.
type stance struct {
	pose  linkage.Pose
	place [2]rigid.Motion
	gap   float64
	away  r3.Vector // unit, the way in which the gap was measured, from the first solid to the second
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
		return s.gap
	}
	gap, p, q := solid.Distance(m.solids[0], m.solids[1], s.place[0], s.place[1])
	s.gap, s.away = gap, q.Sub(p).Normalize()
	if gap < 0 {
		s.away = s.away.Mul(-1)
	}
	return gap
}

// floor bounds the gap from below at all poses from one to another between which all angles run one way.
// The gap is never less than how far the solids are apart in any one direction, so that in which the gap
// was measured will do: it tells how far either solid may come that way.
func (m *meeting) floor(from, to *stance) float64 {
	if from.away == (r3.Vector{}) {
		return -m.shapes[0].round - m.shapes[1].round
	}
	first := m.rise(0, from.away, from, to)
	second := m.rise(1, from.away.Mul(-1), from, to)
	floor := -first.most - second.most
	if m.bodies[0] == Frame || m.bodies[1] == Frame || first.bend < 0 || second.bend < 0 {
		return floor
	}
	// Where both move, each may take part of the way when the other has taken it already. Against the
	// column angle, both bend no more than is known, and what they do together counts.
	together := peak(first.from+second.from, first.to+second.to, first.bend+second.bend)
	return math.Max(floor, -together)
}

// rise is how far a solid reaches in one direction on the way between two poses.
type rise struct {
	from, to float64 // at the poses, mm
	most     float64 // at most, on the way
	// bend is how far the reach of any of its points may be above the straight line between both poses, as
	// peak takes it, against the column angle; less than zero where that is not known.
	bend float64
}

// peak is the most that v can be on the way from v = from to v = to, if it is nowhere above the
// straight line between them by more than 4·bend·s·(1-s), at a share s of the way.
func peak(from, to, bend float64) float64 {
	low, high := min(from, to), max(from, to)
	if rise := high - low; rise < 4*bend {
		return low + (rise+4*bend)*(rise+4*bend)/(16*bend)
	}
	return high
}

// bulge is the bend of a value whose second derivative by an angle is at most curvature, over a turn: the
// remainder of linear interpolation.
func bulge(curvature, turn float64) float64 { return curvature * turn * turn / 8 }

// rise bounds how far a solid reaches along a unit vector. A point at distance r from an axis has, as
// it turns, a second derivative of at most r times the sine of the angle between vector and axis.
func (m *meeting) rise(i int, dir r3.Vector, from, to *stance) (r rise) {
	body, sh := m.bodies[i], m.shapes[i]
	if body.isRod() && sh.reach < onLine {
		return m.sc.rodRise(body.side(), sh, dir, &from.pose, &to.pose)
	}
	_, r.from = extent(m.solids[i], &from.place[i], dir)
	if body == Frame {
		r.to, r.most = r.from, r.from
		return r
	}
	_, r.to = extent(m.solids[i], &to.place[i], dir)
	if body.isRod() {
		r.most, r.bend = r.from+m.sc.travel(body, sh, &from.pose, &to.pose), -1
		return r
	}
	curvature := sh.reach * dir.Cross(m.sc.axes[body].Dir).Norm()
	column := math.Abs(float64(to.pose.Column - from.pose.Column))
	if body == Column {
		r.bend = bulge(curvature, column)
		r.most = peak(r.from, r.to, r.bend)
		return r
	}
	side := body.side()
	turn := linkage.Turn(from.pose.Sides[side].Spindle, to.pose.Sides[side].Spindle)
	r.most = peak(r.from, r.to, bulge(curvature, turn))
	r.bend = -1
	if first, second, ok := m.sc.rates(side, &from.pose, column); ok {
		r.bend = bulge(curvature*(first*first+second), column)
	}
	return r
}

// onLine is how far off the line of a tie rod's balls its own bar may seem to be by rounding, mm.
const onLine = 1e-9

// rodRise is rise for what lies on the line of a rod's balls: each of its points is a mean of the two
// balls, which run on circles.
func (sc *Scene) rodRise(side setup.Side, sh *shape, dir r3.Vector, from, to *linkage.Pose) (r rise) {
	a, b := &from.Sides[side], &to.Sides[side]
	column := math.Abs(float64(to.Column - from.Column))
	curvature := [2]float64{
		sc.levers[side][linkage.AtDropArm] * dir.Cross(sc.axes[Column].Dir).Norm(),
		sc.levers[side][linkage.AtArm] * dir.Cross(sc.axes[spindle(side)].Dir).Norm(),
	}
	first, second, ok := sc.rates(side, from, column)
	pin := ballRise(dir.Dot(a.Pin), dir.Dot(b.Pin), bulge(curvature[0], column), bulge(curvature[0], column))
	pickup := ballRise(dir.Dot(a.Pickup), dir.Dot(b.Pickup),
		bulge(curvature[1], linkage.Turn(a.Spindle, b.Spindle)), bulge(curvature[1]*(first*first+second), column))
	r = rise{from: math.Inf(-1), to: math.Inf(-1), most: math.Inf(-1)}
	for _, w := range sh.along {
		r.from = math.Max(r.from, (1-w)*pin[0].from+w*pickup[0].from+sh.round)
		r.to = math.Max(r.to, (1-w)*pin[0].to+w*pickup[0].to+sh.round)
		r.most = math.Max(r.most, weigh(1-w, pin)+weigh(w, pickup)+sh.round)
		r.bend = math.Max(r.bend, math.Abs(1-w)*pin[0].bend+math.Abs(w)*pickup[0].bend)
	}
	if !ok {
		r.bend = -1
	}
	return r
}

// ballRise returns the rise of a ball in a direction and in the opposite one.
func ballRise(from, to, bulge, bend float64) [2]rise {
	return [2]rise{
		{from, to, peak(from, to, bulge), bend},
		{-from, -to, peak(-from, -to, bulge), bend},
	}
}

// weigh returns the most that w times a ball's rise can be, for a w of either sign.
func weigh(w float64, both [2]rise) float64 {
	if w < 0 {
		return -w * both[1].most
	}
	return w * both[0].most
}

// rates bounds the first and second derivative of a side's spindle angle by the column angle over all
// column angles within turn of a pose. ok is false where no bound is shown: turn is too large then, or the
// dead point too near.
//
// With the rod's levers D about the column and A about the kingpin, the first is D/A. Levers change no
// faster than the rod swings and the ball runs. As long as the first is at most a limit, that bounds D
// and A; if D/A then keeps under the limit, it cannot come to pass it.
func (sc *Scene) rates(side setup.Side, p *linkage.Pose, turn float64) (first, second float64, ok bool) {
	drop, arm := sc.levers[side][linkage.AtDropArm], sc.levers[side][linkage.AtArm]
	d, a := math.Abs(p.Sides[side].DropLever), math.Abs(p.Sides[side].ArmLever)
	first = 1.5*d/a + 0.2
	swing := (arm*first + drop) / sc.mechanism.Loops[side].Rod
	dRate, aRate := drop*(swing+1), arm*(swing+first)
	d, a = d+dRate*turn, a-aRate*turn
	if !(a > 0 && d < first*a) {
		return 0, 0, false
	}
	return first, (dRate + first*aRate) / a, true
}

// travel bounds how far any point of the core of a solid on a tie rod moves between two poses. Points on the
// line of the balls move no more than the balls. What stands off it turns with the rod besides, and
// about the rod to stay level: at most as much as the rod swings, over the cosine of its slope.
func (sc *Scene) travel(body Body, sh *shape, from, to *linkage.Pose) (far float64) {
	side := body.side()
	a, b := &from.Sides[side], &to.Sides[side]
	pin := sc.levers[side][linkage.AtDropArm] * math.Abs(float64(to.Column-from.Column))
	pickup := sc.levers[side][linkage.AtArm] * math.Abs(linkage.Turn(a.Spindle, b.Spindle))
	for _, w := range sh.along {
		far = math.Max(far, math.Abs(1-w)*pin+math.Abs(w)*pickup)
	}
	swing := (pin + pickup) / sc.mechanism.Loops[side].Rod
	level := (math.Hypot(a.Rod.X, a.Rod.Y) + math.Hypot(b.Rod.X, b.Rod.Y) - swing) / 2 // least cosine on the way
	turn := 2.0                                                                        // no turn moves a point by more than two radii
	if level > 0 {
		turn = math.Min(turn, swing/level)
	}
	return far + sh.reach*turn
}
