package clearance

import (
	"math"

	"github.com/golang/geo/r3"

	"locksweep/geometry/linkage"
	"locksweep/geometry/setup"
)

// way is a meeting between two poses, followed against one angle: that of the one body that moves,
// or the column's.
type way struct {
	*meeting
	from, to *stance
	turn     float64 // of that angle, radians
	// paces are the bodies' own; where some cannot be shown, unpaced, and only the ways that points make count.
	paces   [bodies]pace
	unpaced bool
}

// pace bounds the first and second derivative of a body's own angle over a way.
type pace struct{ turn, more float64 }

// swing bounds the second derivative of a unit vector that turns with the body.
func (p pace) swing() float64 { return p.turn*p.turn + p.more }

// measure finds the paces against the column angle.
func (w *way) measure() {
	w.turn, w.paces[Column].turn = turnOf(Column, w.from, w.to), 1
	for _, body := range w.bodies {
		if body == Column {
			continue
		}
		p, ok := &w.paces[spindle(body.side())], false
		if p.turn, p.more, ok = w.sc.rates(body.side(), &w.from.pose, math.Abs(w.turn)); !ok {
			w.unpaced = true
			return
		}
	}
}

// floor bounds the gap from below, looked at in a direction that a body carries along.
func (w *way) floor(carrier Body) float64 {
	dir := w.from.away
	if carrier != Frame {
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
func (w *way) lines(i int, carrier Body, start, end r3.Vector) (both [2]line) {
	body, sh, origin := w.bodies[i], w.shapes[i], w.sc.axes[carrier].Point
	if !body.isRod() {
		high := reaches(w.solids[i], &w.to.place[i], end)
		l := line{w.from.reach[i] - start.Dot(origin), high - end.Dot(origin), w.curvature(carrier, body, start, sh.reach, w.reach[i])}
		return [2]line{l, l}
	}
	pin, pickup := w.ball(Column, body.side(), carrier, start, end), w.ball(spindle(body.side()), body.side(), carrier, start, end)
	for k, share := range sh.along {
		rest := 1 - share
		both[k] = line{
			rest*pin.from + share*pickup.from + sh.round, rest*pin.to + share*pickup.to + sh.round,
			math.Abs(rest)*pin.curvature + math.Abs(share)*pickup.curvature,
		}
	}
	return both
}

// ball is the line of a rod's ball that a body carries.
func (w *way) ball(own Body, side setup.Side, carrier Body, start, end r3.Vector) line {
	a, b, lever := w.from.pose.Sides[side].Pin, w.to.pose.Sides[side].Pin, w.sc.levers[side][linkage.AtDropArm]
	if own != Column {
		a, b, lever = w.from.pose.Sides[side].Pickup, w.to.pose.Sides[side].Pickup, w.sc.levers[side][linkage.AtArm]
	}
	axis, turn := w.sc.axes[carrier], math.Abs(turnOf(own, w.from, w.to))
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
func (w *way) curvature(carrier, own Body, dir r3.Vector, reach, span float64) float64 {
	turns, point := w.paces[carrier], w.paces[own]
	switch {
	case carrier == own:
		return 0
	case carrier == Frame:
		return reach * w.sc.across(own, dir) * point.swing()
	}
	return w.sc.across(carrier, dir)*(span*turns.swing()+2*turns.turn*reach*point.turn) + reach*point.swing()
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
