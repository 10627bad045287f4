package drill

import (
	"math"
	"slices"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"locksweep/geometry/clearance"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// place returns a place of the pool as it is handed out.
func (s *search) place(i int) Place {
	sp := s.spot(s.pool[i].node)
	return Place{Spot: sp, Figures: s.pool[i].Figures, Within: s.pool[i].Within, Existing: s.existing(&sp)}
}

// list looks closely at a place of the pool.
func (s *search) list(i int) Listed {
	p := s.place(i)
	m, err := s.base.Refit(p.Fit(s.base.Setup))
	if err != nil {
		m = s.base // cannot be: it has been judged
	}
	var nearest clearance.Near
	p.Within, nearest = s.within(s.pool[i].node)
	return s.listed(p, m, nearest, s.pool[i].rank)
}

// within returns how a place does within the slip, and what comes nearest at the place itself: gaps up to nearFactor times the clearance
// of the file.
func (s *search) within(n node) (w Within, own clearance.Near) {
	looks, groups := s.looks(n)
	near := nearFactor * s.base.Setup.Limits.Clearance
	all := each(looks, func(l look) measured { return s.measure(l, near) }, nil)
	return gathered(all, groups, near), all[0].nearest
}

// nearFactor says up to how many times the clearance wanted a listed place's gaps are told.
const nearFactor = 4

// nothing returns a distance, or NaN where it is +Inf, since there is nothing that it could be measured to.
func nothing(distance float64) float64 {
	if math.IsInf(distance, 1) {
		return math.NaN()
	}
	return distance
}

// listed looks closely at a place of which the model, what comes nearest, and the rank are known.
func (s *search) listed(p Place, m *sweep.Model, nearest clearance.Near, r rank) Listed {
	l := Listed{Place: p, Sweep: m.Run(listStep), Clearance: nothing(nearest.Gap), Nearest: nearest, PerMM: s.perMM(&p), rank: r}
	l.Alarms, l.Marks = s.alarms(&p, &r)
	if l.TightPast() && !slices.Contains(l.Marks, sweep.LowClearance) {
		l.Marks = append(l.Marks, sweep.LowClearance)
	}
	if slices.ContainsFunc(l.Sweep.Findings, func(f sweep.Finding) bool { return f.Code == sweep.NarrowStop }) {
		l.Alarms = append(l.Alarms, sweep.NarrowStop)
	}
	leastEdge, leastWeb := math.Inf(1), math.Inf(1)
	for _, metal := range s.r.Metals {
		for _, at := range metal.balls(&p.Spot) {
			edge, web := metal.elsewhere(metal.Plane(at))
			leastEdge, leastWeb = min(leastEdge, edge), min(leastWeb, web)
		}
	}
	l.Edge, l.Web = nothing(leastEdge), nothing(leastWeb)
	return l
}

// listedNow looks closely at today's hole, with the rods as they are.
func (s *search) listedNow(now *sweep.Model) Listed {
	p := Place{Spot: s.start, Figures: s.aims.figures(now), Existing: s.existing(&s.start)}
	nearest := p.Figures.nearest(now, nearFactor*s.base.Setup.Limits.Clearance)
	p.Within = p.Figures.itself(nearest)
	return s.listed(p, now, nearest, s.aims.rank(&p.Figures, &p.Within))
}

// alarms lists by code what makes a place unfit, and what in it is less than wanted, both within the slip.
func (s *search) alarms(p *Place, r *rank) (alarms, marks []sweep.Code) {
	switch {
	case p.Opposed:
		alarms = append(alarms, sweep.WheelsOpposed)
	case !(p.Ratio > 0):
		alarms = append(alarms, sweep.SteersBackwards)
	}
	if !s.aims.Cut {
		alarms = append(alarms, union(p.Within.Faults[sweep.ToLeft], p.Within.Faults[sweep.ToRight])...)
	}
	switch gap := p.Within.Clearance; {
	case r[Clearance] > 0:
		alarms = append(alarms, sweep.LowClearance)
	case s.base.Setup.Limits.Tight(gap):
		marks = append(marks, sweep.LowClearance)
	}
	if s.r.Aims.Lacks(p.Within.Transmission) {
		marks = append(marks, sweep.LowTransmission)
	}
	return alarms, marks
}

// listStep is the column step of the sweep behind a listed place.
const listStep = 2 * s1.Degree

// elsewhere is room without the hole that is at the point itself.
func (m *Metal) elsewhere(q r2.Point) (edge, web float64) {
	others := *m
	others.Holes = slices.DeleteFunc(slices.Clone(m.Holes), func(h Hole) bool { return h.At.Sub(q).Norm() < sameHole })
	return others.room(q)
}

// perMM judges places 1 mm off in eight directions of the metal's plane, each hole by itself, rods cut anew, and returns the greatest
// change of each figure.
func (s *search) perMM(p *Place) (worst PerMM) {
	var off []look
	for _, hole := range s.moved() {
		for _, n := range hole.about(s.nodeOf(&p.Spot), 1) {
			off = append(off, look{node: n, one: p.oneHole()})
		}
	}
	for _, j := range each(off, func(l look) measured { return s.measure(l, 0) }, nil) {
		if !j.possible {
			return PerMM{s1.Angle(math.NaN()), s1.Angle(math.NaN()), s1.Angle(math.NaN()), math.NaN()}
		}
		worst.Lock = max(worst.Lock, (j.Figures.Lock() - p.Figures.Lock()).Abs())
		worst.Worst = max(worst.Worst, (j.Worst - p.Worst).Abs())
		worst.Transmission = max(worst.Transmission, (j.Transmission - p.Transmission).Abs())
		worst.Ratio = max(worst.Ratio, math.Abs(j.Ratio-p.Ratio))
	}
	return worst
}

// mostFront is how many places of the trade are handed out.
const mostFront = 10

// front returns the trade between lock, at its worst within the slip, and Ackermann error. Places with less leverage than was asked for are
// left out, even where the search was content with less.
func (s *search) front() (list []Place) {
	var trade []int
	lock := s1.Angle(math.Inf(-1))
	for _, i := range s.trade() {
		if w := &s.pool[i].Within; !s.r.Aims.Lacks(w.Transmission) && w.Lock > lock+leastGain {
			trade, lock = append(trade, i), w.Lock
		}
	}
	for _, i := range thinned(trade, mostFront) {
		list = append(list, s.place(i))
	}
	return list
}

// room returns the error that the metal has no room, with the greatest edge distance that it offers.
func (s *search) room() *NoRoomError {
	opt := s.r.Options
	e := &NoRoomError{Diameter: opt.Diameter, Edge: opt.Edge, Web: opt.Web, Anew: opt.NewMetal}
	for _, n := range s.everywhere() {
		sp, least := s.spot(n), math.Inf(1)
		for _, m := range s.r.Metals {
			for _, at := range m.balls(&sp) {
				edge, web := m.room(m.Plane(at))
				if web < opt.Web*opt.Diameter || m.Plane(at).Norm() < m.LeastLever {
					edge = 0
				}
				least = min(least, edge/opt.Diameter)
			}
		}
		e.Widest = max(e.Widest, least)
	}
	return e
}

// everywhere returns a grid over the first metal, of places allowed or not: each millimetre or, on large metal, some mostPlaces of them.
func (s *search) everywhere() (nodes []node) {
	bounds, first := s.r.Metals[0].bounds(setup.Left), s.axes[0]
	step := max(1, math.Sqrt(bounds.Size().X*bounds.Size().Y/mostPlaces))
	for x := math.Ceil(bounds.X.Lo); x <= bounds.X.Hi; x += step {
		for y := math.Ceil(bounds.Y.Lo); y <= bounds.Y.Hi; y += step {
			n := s.home()
			n[first], n[first+1] = x, y
			nodes = append(nodes, n)
		}
	}
	return nodes
}
