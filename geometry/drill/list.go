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

// place is a place of the pool as it is handed out.
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
	within, own := s.within(s.pool[i].node)
	p.Within = within
	l := s.listed(p, m, s.pool[i].rank)
	l.Clearance, l.Nearest = nothing(own.Gap), own
	return l
}

// within looks at a place within the slip for a list, and at what comes nearest in the place itself.
func (s *search) within(n node) (w Within, own clearance.Near) {
	looks, groups := s.looks(n)
	near := nearFactor * s.base.Setup.Limits.Clearance
	all := each(looks, func(l look) measured { return s.measure(l, near) }, nil)
	return gathered(all, groups, near), all[0].nearest
}

// nearFactor says up to how many times the clearance wanted a listed place's gaps are told.
const nearFactor = 4

// nothing is NaN where nothing comes near.
func nothing(gap float64) float64 {
	if math.IsInf(gap, 1) {
		return math.NaN()
	}
	return gap
}

// listed looks closely at a place whose model and rank are known.
func (s *search) listed(p Place, m *sweep.Model, r rank) Listed {
	l := Listed{Place: p, Sweep: m.Run(listStep), Edge: math.NaN(), Web: math.NaN(), rank: r}
	l.PerMM = s.perMM(&p)
	l.Alarms, l.Marks = s.alarms(&p, &r)
	if slices.ContainsFunc(l.Sweep.Findings, func(f sweep.Finding) bool { return f.Code == sweep.NarrowStop }) {
		l.Alarms = append(l.Alarms, sweep.NarrowStop)
	}
	for i := range s.r.Metals {
		metal := &s.r.Metals[i]
		for _, at := range metal.balls(&p.Spot) {
			edge, web := metal.elsewhere(metal.Plane(at))
			l.Edge, l.Web = lesser(l.Edge, edge), lesser(l.Web, web)
		}
	}
	return l
}

// listedNow is today's hole, with the rods as they are.
func (s *search) listedNow(now *sweep.Model) Listed {
	p := Place{Spot: s.start, Figures: s.aims.figures(now), Existing: s.existing(&s.start)}
	nearest := p.Figures.nearest(now, nearFactor*s.base.Setup.Limits.Clearance)
	p.Within = p.Figures.itself(nearest)
	l := s.listed(p, now, s.aims.rank(&p.Figures, &p.Within))
	l.Clearance, l.Nearest = nothing(nearest.Gap), nearest
	return l
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

// elsewhere is room without the hole that is at the point itself; NaN where there is no edge or no other hole.
func (m *Metal) elsewhere(q r2.Point) (edge, web float64) {
	others := *m
	others.Holes = slices.DeleteFunc(slices.Clone(m.Holes), func(h Hole) bool { return h.At.Sub(q).Norm() < sameHole })
	edge, web = others.room(q)
	if math.IsInf(edge, 0) {
		edge = math.NaN()
	}
	if math.IsInf(web, 0) {
		web = math.NaN()
	}
	return edge, web
}

// lesser is the lesser of two numbers, of which NaN is none.
func lesser(a, b float64) float64 {
	if math.IsNaN(a) || b < a {
		return b
	}
	return a
}

// perMM drills 1 mm off in eight directions of the metal's plane, on either arm, rods cut anew, and keeps
// the worst.
func (s *search) perMM(p *Place) (worst PerMM) {
	home, one := s.nodeOf(&p.Spot), p.oneHole()
	var off []look
	for _, hole := range s.moved() {
		for k := range 8 {
			sin, cos := math.Sincos(float64(k) * math.Pi / 4)
			by, n := hole.metal.Shift(r2.Point{X: cos, Y: sin}), home
			n[hole.first], n[hole.first+1] = n[hole.first]+by.X, n[hole.first+1]+by.Y
			off = append(off, look{node: n, one: one})
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

// front returns the trade between lock, as it is kept within the slip, and Ackermann error. What has less leverage than
// wanted is left out though the search was content with less.
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

// room says how much room the metal has at most.
func (s *search) room() *NoRoomError {
	opt := s.r.Options
	e := &NoRoomError{Diameter: opt.Diameter, Edge: opt.Edge, Web: opt.Web, Anew: opt.NewMetal}
	for _, n := range s.everywhere() {
		sp, least := s.spot(n), math.Inf(1)
		for i := range s.r.Metals {
			m := &s.r.Metals[i]
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

// everywhere is a grid of a millimetre, or what large metal allows, over the first metal, allowed or not.
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
