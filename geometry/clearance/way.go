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
	// paces are the bodies' own; where some cannot be shown, unpaced, and only the ways that points make count.
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
}

// pace finds the pace of a spindle.
func (w *way) pace(body linkage.Body) {
	if !body.IsSpindle() || w.unpaced {
		return
	}
	turn, more, ok := w.sc.mechanism.Pace(body, &w.from.pose, math.Abs(w.turn))
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
		high := w.solids[i].Reaches(&w.to.place[i], end)
		l := line{w.from.reach[i] - start.Dot(origin), high - end.Dot(origin), w.curvature(carrier, body, start, sh.reach, w.reach[i])}
		return [2]line{l, l}
	}
	first, second := w.ball(body.Rod(), linkage.AtDropArm, carrier, start, end), w.ball(body.Rod(), linkage.AtArm, carrier, start, end)
	for k, share := range sh.along {
		rest := 1 - share
		both[k] = line{
			rest*first.from + share*second.from + sh.round, rest*first.to + share*second.to + sh.round,
			math.Abs(rest)*first.curvature + math.Abs(share)*second.curvature,
		}
	}
	return both
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
