package grind

import (
	"math"
	"slices"

	"github.com/golang/geo/s1"

	"locksweep/geometry/advance"
	"locksweep/geometry/clearance"
	"locksweep/geometry/linkage"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// Reason is why grinding takes the wheels no further.
type Reason int

const (
	ByLimit        Reason = iota // a limit that no grinding takes away
	ByMargin                     // a stop must come some way before the linkage's own end or a bound rod end
	ByTransmission               // the transmission angle falls under what is wanted
	ByNear                       // something that is not ground comes nearer than the clearance
	ByWall                       // too little metal would be left about bore or keep outline
	ByMetal                      // the cut would take the metal that the part hangs on
	ByWidth                      // what would be left is too narrow to be a stop, and nothing else is one
	ByNoStop                     // no metal stops the wheels
	ByHalfTurn                   // the steering wheel is followed no further
)

// Most is how far grinding alone takes the wheels in one direction, and why no further.
type Most struct {
	Column s1.Angle // signed
	Steer  s1.Angle // of the wheel inside the turn, into the turn
	Reason Reason
	At     s1.Angle        // of the wheel inside the turn, where the reason sets in: less than Steer where today's lock lies beyond
	Limit  *sweep.Limit    // ByLimit, ByMargin; ByNoStop: what touches first and is no stop, if anything does
	Rod    int             // ByTransmission: of the linkage
	End    linkage.End     // ByTransmission
	Near   *clearance.Near // ByNear: the pair at its nearest
	Gap    float64         // ByNear: the gap that the pair comes nearer than there, mm
	Cut    *Cut            // ByWall, ByMetal, ByWidth: the cut that cannot be made
}

// way is what is known of one direction before anything is ground.
type way struct {
	model    *sweep.Model
	dir      sweep.Direction
	lock     sweep.Lock     // as the setup is
	inner    setup.Side     // the wheel inside the turn
	end      s1.Angle       // signed: the linkage's own end, or as far as the column is followed
	furthest Most           // the furthest that a stop may stand
	own      *sweep.Limit   // the contact of metal to be ground that is to be the stop; nil where there is none
	choices  int            // how many contacts could be it
	other    *sweep.Limit   // the first positive stop that grinding does not take away, if it comes in time; else nil
	late     bool           // there is such a stop, but it comes too late
	today    s1.Angle       // column, signed: today's lock
	stopped  bool           // today's lock is a positive stop
	cut      func(int) bool // reports whether a piece may be ground
}

// newWay looks one direction over. cut reports whether a piece of the scene may be ground; gap, mm, is what everything else is to keep clear;
// choice is which contact of metal to be ground is to be the stop, from 0 on, or the last one where there are fewer.
func newWay(m *sweep.Model, d sweep.Direction, cut func(piece int) bool, gap float64, choice int) *way {
	w := &way{model: m, dir: d, lock: m.Lock(d), end: s1.Angle(d.Sign()) * m.Linkage.Most, cut: cut}
	w.inner, _ = m.Inside(d)
	chain := w.lock.Chain
	if n := len(chain); n > 0 && chain[n-1].Kind.Ends() {
		w.end = chain[n-1].Column
	}
	w.today = w.lock.Column
	w.stopped = len(chain) > 0 && m.Positive(&chain[0])
	for i := range chain {
		if l := &chain[i]; l.Kind == sweep.Contact && !w.stays(*l) && m.Metal(l.Pair) && !w.unfit(l) {
			if w.choices <= choice {
				w.own = l
			}
			w.choices++
		}
	}
	w.furthest = Most{Column: w.end, Reason: ByHalfTurn}
	w.ends()
	w.strikes()
	w.weakens()
	w.nears(gap)
	if i := slices.IndexFunc(chain, func(l sweep.Limit) bool { return w.stays(l) && m.Positive(&l) }); i >= 0 {
		if other := &chain[i]; other.Column.Abs() <= w.furthest.Column.Abs() {
			w.other = other
			w.furthest = Most{Column: other.Column, Reason: ByLimit, Limit: other}
		} else {
			w.late = true
		}
	}
	w.furthest.Steer = w.steer(w.furthest.Column)
	w.furthest.At = w.furthest.Steer
	return w
}

// sooner makes a reason the furthest if it sets in earlier than that so far.
func (w *way) sooner(most Most) {
	if most.Column*s1.Angle(w.dir.Sign()) < 0 {
		most.Column = 0
	}
	if most.Column.Abs() < w.furthest.Column.Abs() {
		w.furthest = most
	}
}

// ends keeps the margin to the linkage's own end and to a bound rod end.
func (w *way) ends() {
	for i := range w.lock.Chain {
		if l := &w.lock.Chain[i]; l.Kind.Ends() || l.Kind == sweep.RodEnd {
			w.sooner(Most{Column: l.Column - s1.Angle(w.dir.Sign())*sweep.WantedMargin, Reason: ByMargin, Limit: l})
			return
		}
	}
}

// before is how far before a clash, of the column, a stop has to come: more than it may come beyond its target.
const before = 0.1 * s1.Degree

// strikes finds what would take the blow and is no stop: a tyre, a rod, something soft, the column's own travel.
func (w *way) strikes() {
	for i := range w.lock.Chain {
		if l := &w.lock.Chain[i]; w.stays(*l) && !w.model.Positive(l) {
			w.sooner(Most{Column: l.Column - s1.Angle(w.dir.Sign())*before, Reason: ByLimit, Limit: l})
			return
		}
	}
}

// weakens finds where the leverage falls under what is wanted.
func (w *way) weakens() {
	if weak, found := w.model.WeakensAt(0, w.end, w.model.Setup.Limits.Transmission); found {
		w.sooner(Most{Column: weak.Column, Reason: ByTransmission, Rod: weak.Rod, End: weak.End})
	}
}

// nears finds where something that is not ground comes nearer than wanted, and nearer than it does today. What would be a positive
// stop may come as near as it likes.
func (w *way) nears(gap float64) {
	scene := w.model.Scene
	if gap <= 0 || w.furthest.Column.Abs() <= w.today.Abs() {
		return
	}
	near := scene.Nearest(w.today, w.furthest.Column, gap)
	for i := range near {
		n := &near[i]
		if w.cut(n.Pair[0]) || w.cut(n.Pair[1]) || w.model.Metal(n.Pair) {
			continue
		}
		least := gap
		if now, found := scene.NearestOf(n.Pair, 0, w.today, gap); found {
			least = now.Gap - nearSlack
		}
		if n.Gap >= least {
			continue
		}
		clear, _ := advance.Halve(w.today, n.Column, 30, func(column s1.Angle) bool {
			_, found := scene.NearestOf(n.Pair, w.today, column, least)
			return found
		})
		w.sooner(Most{Column: clear, Reason: ByNear, Near: n, Gap: least})
	}
}

// nearSlack is how much nearer than today something has to come to count, mm: more than a least gap may be missed by.
const nearSlack = 0.15

// stays reports whether a limit is there whatever is ground.
func (w *way) stays(l sweep.Limit) bool {
	return l.Kind != sweep.Contact || !w.cut(l.Pair[0]) && !w.cut(l.Pair[1])
}

// unfit reports whether a contact can be no stop, however metal is ground, since the piece that is not ground is too narrow.
func (w *way) unfit(l *sweep.Limit) bool {
	return l.Narrow[0] && !w.cut(l.Pair[0]) || l.Narrow[1] && !w.cut(l.Pair[1])
}

// steer returns the steer angle of the wheel inside the turn at a column angle, positive into the turn;
// NaN where the linkage does not get there.
func (w *way) steer(column s1.Angle) s1.Angle {
	p, ok := w.model.Pose(column)
	if !ok {
		return s1.Angle(math.NaN())
	}
	return w.model.InnerSteer(w.dir, &p)
}

// columnAt returns the column angle, signed, at which the wheel inside the turn stands at a steer angle into the turn; ok is false where it does not
// get there.
func (w *way) columnAt(steer s1.Angle) (column s1.Angle, ok bool) {
	p, ok := w.model.AtInnerSteer(w.end, steer)
	return p.Column, ok
}
