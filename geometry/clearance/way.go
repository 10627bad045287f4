package clearance

import (
	"math"

	"github.com/golang/geo/r3"

	"locksweep/geometry/linkage"
)

// way is a meeting between two poses, followed against one angle: that of the one body that moves,
// or the column's.
type way struct {
	*meeting
	from, to *stance
	turn     float64 // of that angle, radians
	// paces are those of the bodies. unpaced: of one of them no bound is shown, and only how far points move by themselves counts.
	paces   [linkage.Bodies]pace
	unpaced bool
}

// pace bounds the first derivative of a body's own angle over a way, and the second derivative of a unit vector that
// turns with the body: the square of turn and the second derivative of the angle. A body that slides turns none.
type pace struct{ turn, swing float64 }

// measure finds the paces against the column angle.
func (w *way) measure() {
	w.turn = turnOf(linkage.Input, w.from, w.to)
	w.paces[linkage.Input] = w.sc.steady(linkage.Input)
	for _, body := range w.bodies {
		w.pace(body)
		if body.IsRod() {
			w.pace(w.sc.mechanism.Rods[body.Rod()].From)
			w.pace(w.sc.mechanism.Rods[body.Rod()].To)
		}
	}
	for i, body := range w.bodies {
		if w.standsOff(i) {
			w.rodPace(body)
		}
	}
}

// rodPace finds the pace of a rod, of its axes square to the line of its balls. That line turns as fast as the balls run apart. The
// level axis is square to its shadow on the ground, of length c, the cosine of the slope: with the line's derivatives f and s,
// the shadow's direction has at most f/c and s/c + 3(f/c)². The third axis is the product of the line and the level one.
func (w *way) rodPace(body linkage.Body) {
	if w.unpaced {
		return
	}
	r := &w.sc.mechanism.Rods[body.Rod()]
	a, b := w.paces[r.From], w.paces[r.To]
	drop, arm := r.Levers[linkage.AtDropArm]/r.Length, r.Levers[linkage.AtArm]/r.Length
	first, second := drop*a.turn+arm*b.turn, drop*a.swing+arm*b.swing
	c := flattest(&w.from.pose.Rods[body.Rod()], &w.to.pose.Rods[body.Rod()], first*math.Abs(w.turn))
	if !(c > 0) {
		w.unpaced = true
		return
	}
	level, levelSecond := first/c, second/c+3*first*first/(c*c)
	w.paces[body] = pace{math.Hypot(level, first+level), math.Hypot(levelSecond, second+2*first*level+levelSecond)}
}

// pace finds the pace of a spindle.
func (w *way) pace(body linkage.Body) {
	if !body.IsSpindle() || w.unpaced {
		return
	}
	turn, more, ok := w.sc.mechanism.Pace(body, &w.from.pose, &w.to.pose)
	w.paces[body], w.unpaced = pace{turn, turn*turn + more}, !ok
}

// steady is the pace of a body against its own angle.
func (sc *Scene) steady(body linkage.Body) pace {
	if sc.mechanism.Slides(body) {
		return pace{turn: 1}
	}
	return pace{1, 1}
}

// floor bounds the gap from below, looked at in a direction that a body carries along.
func (w *way) floor(carrier linkage.Body) float64 {
	dir := w.from.away
	if carrier != linkage.Frame {
		a, b := w.sc.Motion(carrier, &w.from.pose), w.sc.Motion(carrier, &w.to.pose)
		dir = b.Direction(a.Back(dir))
	}
	most := math.Inf(-1)
	for _, a := range w.lines(0, carrier, w.from.away, dir) {
		for _, b := range w.lines(1, carrier, w.from.away.Mul(-1), dir.Mul(-1)) {
			most = math.Max(most, peak(a.from+b.from, a.to+b.to, bulge(a.curvature+b.curvature, w.turn)))
		}
	}
	return -most
}

// line is how far a point reaches in a direction at both ends of a way, mm, from a point on the axis
// of the body that carries the direction, and a bound of its second derivative by the angle on the way.
type line struct{ from, to, curvature float64 }

// lines returns for a solid the lines that no point of it rises above: one, given twice, or for
// a rod one for either end. The direction is start, which the carrier brings to end.
func (w *way) lines(i int, carrier linkage.Body, start, end r3.Vector) (both [2]line) {
	body, sh, origin := w.bodies[i], w.shapes[i], w.sc.mechanism.Axes[carrier].Point
	if !body.IsRod() {
		l := w.reaches(i, start, end, origin, w.curvature(carrier, body, start, sh.reach, w.reach[i]))
		return [2]line{l, l}
	}
	first, second := w.ball(body.Rod(), linkage.AtDropArm, carrier, start, end), w.ball(body.Rod(), linkage.AtArm, carrier, start, end)
	if w.standsOff(i) { // each of its points is as far along the line, and off it as the rod turns
		bends := math.Max(mean(sh.along[0], first.curvature, second.curvature), mean(sh.along[1], first.curvature, second.curvature))
		l := w.reaches(i, start, end, origin, bends+w.curvature(carrier, body, start, sh.reach, sh.reach))
		return [2]line{l, l}
	}
	for k, share := range sh.along {
		rest := 1 - share
		both[k] = line{
			rest*first.from + share*second.from + sh.round, rest*first.to + share*second.to + sh.round,
			mean(share, first.curvature, second.curvature),
		}
	}
	return both
}

// mean is the most that a mean of two values of either sign can be, a share of the second and the rest of the first.
func mean(share, first, second float64) float64 {
	return math.Abs(1-share)*first + math.Abs(share)*second
}

// reaches is the line that no point of a solid rises above that bends by no more than curvature.
func (w *way) reaches(i int, start, end, origin r3.Vector, curvature float64) line {
	return line{w.from.reach[i] - start.Dot(origin), w.solids[i].Reaches(&w.to.place[i], end) - end.Dot(origin), curvature}
}

// ball is the line of a rod's ball at one of its ends.
func (w *way) ball(rod int, at linkage.End, carrier linkage.Body, start, end r3.Vector) line {
	r := &w.sc.mechanism.Rods[rod]
	own := r.On(at)
	a, b, lever := w.from.pose.Rods[rod].Ball(at), w.to.pose.Rods[rod].Ball(at), r.Levers[at]
	axis, turn := w.sc.mechanism.Axes[carrier], math.Abs(turnOf(own, w.from, w.to))
	a, b = a.Sub(axis.Point), b.Sub(axis.Point)
	span := axis.Dir.Cross(a).Norm() + lever*turn
	if w.unpaced && own != carrier {
		most := start.Dot(a) + lever*turn + span*math.Abs(w.turn)
		return line{most, most, 0}
	}
	return line{start.Dot(a), end.Dot(b), w.curvature(carrier, own, start, lever, span)}
}

// curvature bounds the second derivative of how far a point reaches in a direction that a carrier turns. The
// point lies within reach of the axis of its own body, and within span of the carrier's.
func (w *way) curvature(carrier, own linkage.Body, dir r3.Vector, reach, span float64) float64 {
	turns, point := w.paces[carrier], w.paces[own]
	switch {
	case carrier == own:
		return 0
	case carrier == linkage.Frame:
		return reach * w.sc.across(own, dir) * point.swing
	}
	return w.sc.across(carrier, dir)*(span*turns.swing+2*turns.turn*reach*point.turn) + reach*point.swing
}
