package clearance

import (
	"math"

	"github.com/golang/geo/r3"

	"locksweep/geometry/linkage"
)

// floor bounds the gap from below at all poses from one to another between which all angles run one way.
//
// The gap is never less than how far the solids are apart along any one direction, and another direction may be taken at each pose. All that
// are tried begin with the one in which the gap was measured. One that stands still bounds best what moves past a flat face of the frame;
// one that a body carries along, what moves past a flat face of that body.
func (m *meeting) floor(from, to *stance) float64 { return m.floorTo(from, to, math.Inf(1)) }

// floorTo is floor, but no better than needed once it is at least enough, mm.
func (m *meeting) floorTo(from, to *stance, enough float64) float64 {
	if from.away == (r3.Vector{}) {
		return -m.shapes[0].round - m.shapes[1].round
	}
	floor := -m.rise(0, from.away, from, to) - m.rise(1, from.away.Mul(-1), from, to)
	w := way{meeting: m, from: from, to: to}
	switch one := alone(m.bodies[0], m.bodies[1]); {
	case floor >= enough:
	case one != linkage.Frame:
		w.turn, w.paces[one] = turnOf(one, from, to), m.sc.steady(one)
		floor = math.Max(floor, w.floor(one))
	case !m.offLine() && (m.bodies[0] == linkage.Frame || m.bodies[1] == linkage.Frame): // a bare rod past the frame
	default:
		w.measure()
		floor = math.Max(floor, w.best())
	}
	return floor
}

// travels bounds how far any point of the core of solid i of the two moves between two poses between which all angles run one way, mm.
func (m *meeting) travels(i int, from, to *linkage.Pose) float64 {
	switch body := m.bodies[i]; {
	case body == linkage.Frame:
		return 0
	case body.IsRod():
		return m.sc.travel(body.Rod(), m.shapes[i], from, to)
	default:
		return m.shapes[i].reach * math.Abs(linkage.TurnOf(body, from, to))
	}
}

// best is the best floor of a way on which both bodies move. It counts what both do at the same time, where rise counts the worst of
// each by itself.
func (w *way) best() float64 {
	if w.bodies[0].IsRod() && w.bodies[1].IsRod() {
		return w.bestOfRods()
	}
	if w.unpaced {
		return math.Inf(-1)
	}
	floor := w.floor(linkage.Frame)
	for _, body := range w.bodies {
		if body != linkage.Frame && !body.IsRod() {
			floor = math.Max(floor, w.floor(body))
		}
	}
	return floor
}

// bestOfRods is best for two rods, both of which hang on one body.
func (w *way) bestOfRods() float64 {
	rods := &w.sc.mechanism.Rods
	shared := rods[1].From // the second rod starts where the first does, or where it ends
	switch {
	case !w.unpaced:
		return math.Max(w.floor(shared), w.floor(linkage.Frame))
	case shared == linkage.Input && !w.offLine():
		return w.floor(shared)
	}
	return math.Inf(-1)
}

// offLine reports whether one of the solids stands off the line of a tie rod.
func (m *meeting) offLine() bool {
	return m.standsOff(0) || m.standsOff(1)
}

// standsOff reports whether solid i of the two is on a rod and stands off its line.
func (m *meeting) standsOff(i int) bool { return m.bodies[i].IsRod() && m.shapes[i].reach >= onLine }

// turnOf is by how much the input or a spindle turns between two poses, radians, of either sign.
func turnOf(body linkage.Body, from, to *stance) float64 {
	return linkage.TurnOf(body, &from.pose, &to.pose)
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

// across is the sine of the angle between a direction and the axis that a body turns about.
func (sc *Scene) across(body linkage.Body, dir r3.Vector) float64 {
	switch {
	case body.IsRod():
		return 1 // it turns about one that turns itself
	case sc.mechanism.Slides(body):
		return 0 // it turns about none, and none of its points bends away from a line
	}
	return dir.Cross(sc.mechanism.Axes[body].Dir).Norm()
}

// rise bounds how far a solid reaches along a unit vector, anywhere between two poses. A point at distance r
// from an axis has, as it turns, a second derivative of at most r times the sine of the angle
// between vector and axis.
func (m *meeting) rise(i int, dir r3.Vector, from, to *stance) float64 {
	body, sh := m.bodies[i], m.shapes[i]
	switch {
	case body == linkage.Frame:
		return from.reach[i]
	case body.IsRod() && sh.reach < onLine:
		return m.sc.rodRise(body.Rod(), sh, dir, from, to)
	case body.IsRod():
		return from.reach[i] + m.sc.travel(body.Rod(), sh, &from.pose, &to.pose)
	}
	end := m.solids[i].Reaches(&to.place[i], dir)
	return peak(from.reach[i], end, bulge(sh.reach*m.sc.across(body, dir), turnOf(body, from, to)))
}

// onLine is how far off the line of a tie rod's balls its own bar may seem to be by rounding, mm.
const onLine = 1e-9

// rodRise is rise for what lies on the line of a rod's balls: each of its points is a mean of the two
// balls, which run on circles.
func (sc *Scene) rodRise(rod int, sh *shape, dir r3.Vector, from, to *stance) float64 {
	r, a, b := &sc.mechanism.Rods[rod], &from.pose.Rods[rod], &to.pose.Rods[rod]
	first := bulge(r.Levers[linkage.AtDropArm]*sc.across(r.From, dir), turnOf(r.From, from, to))
	second := bulge(r.Levers[linkage.AtArm]*sc.across(r.To, dir), turnOf(r.To, from, to))
	most := math.Inf(-1)
	for _, w := range sh.along {
		v := 1 - w
		most = math.Max(most, peak(v*dir.Dot(a.From), v*dir.Dot(b.From), math.Abs(v)*first)+
			peak(w*dir.Dot(a.To), w*dir.Dot(b.To), math.Abs(w)*second))
	}
	return most + sh.round
}

// travel bounds how far any point of the core of a solid on a tie rod moves between two poses. Points on the
// line of the balls move no more than the balls. What stands off it turns with the rod besides, and
// about the rod to stay level: at most as much as the rod swings, over the cosine of its slope.
func (sc *Scene) travel(rod int, sh *shape, from, to *linkage.Pose) (far float64) {
	r, a, b := &sc.mechanism.Rods[rod], &from.Rods[rod], &to.Rods[rod]
	first := r.Levers[linkage.AtDropArm] * math.Abs(linkage.TurnOf(r.From, from, to))
	second := r.Levers[linkage.AtArm] * math.Abs(linkage.TurnOf(r.To, from, to))
	for _, w := range sh.along {
		far = math.Max(far, mean(w, first, second))
	}
	swing := (first + second) / r.Length
	turn := 2.0 // no turn moves a point by more than two radii
	if level := flattest(a, b, swing); level > 0 {
		turn = math.Min(turn, swing/level)
	}
	return far + sh.reach*turn
}

// flattest is the least cosine of a rod's slope on a way on which it swings by so much, radians; 0 or less where none is shown.
func flattest(from, to *linkage.RodPose, swing float64) float64 {
	return (math.Hypot(from.Along.X, from.Along.Y) + math.Hypot(to.Along.X, to.Along.Y) - swing) / 2
}
