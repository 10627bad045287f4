package drill

import (
	"errors"
	"math"
	"slices"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"locksweep/geometry/clearance"
	"locksweep/geometry/cores"
	"locksweep/geometry/grind"
	"locksweep/geometry/region"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// Together is a hole and the stop that suits it: what a builder decides who wants more lock.
type Together struct {
	// Result is that of a search in the setup without the metal that may be ground, in which what stops the wheels does not count. But the
	// figures of its places are those of hole and cut together, and those of today's hole are of the setup as it stands. A place at which no
	// cut can be made has the figures of the hole alone, and the alarm sweep.NoMetalStop. The first place is the best at which the cut can
	// be made; Plan, First and the locks are for that.
	*Result
	Plan  *grind.Plan // what to grind with the hole there; nil where there is no such place
	First First
	// Locks that come of it, of the inner wheel and the lesser way: as it is, with the hole alone, grinding alone, and both.
	// Grinding alone is the cut that suits today's hole, as far as grind goes there. NaN for what cannot be done.
	Now, Hole, Cut, Both s1.Angle
	// Reach is, without a plan, the most lock that a hole and its cut give with a metal stop that holds, of the places listed and of
	// today's hole, within the slip, and ReachAt of which: an index in Best, -1 for today's hole. NaN where no stop holds at any.
	Reach   s1.Angle
	ReachAt int
	// Furthest is, without a plan, what grinding comes to there as far as it goes: its Most tells why it goes no further. nil where no stop holds.
	Furthest *grind.Plan
}

// First says which of hole and cut is to be made first, so that what stands between the two has a stop that holds.
type First int

const (
	HoleFirst First = iota
	CutFirst
	AtOnce // neither: both before it turns a wheel
)

func (f First) String() string { return [3]string{"hole", "cut", "at-once"}[f] }

// Errors of a search for hole and stop together.
var (
	ErrNoLock     = errors.New("hole and stop together need to know how far the wheels are to turn")
	ErrNoTogether = errors.New("at none of the places listed does grinding give the lock wanted and leave a metal stop that holds")
)

// SearchTogether looks for the best hole as if all plates marked grind were cut away as far as allowed, and plans the cut for the first of
// the places listed at which it can be made. The error is that of Search, grind.ErrNothingMarked, ErrNoLock, or ErrNoTogether; only with
// the last there is a result too.
func SearchTogether(s *setup.Setup, on On, aims Aims, opt Options) (*Together, error) {
	if !(aims.Lock > 0) {
		return nil, ErrNoLock
	}
	now, err := sweep.New(s)
	if err != nil {
		return nil, err
	}
	bare, err := cutAway(s)
	if err != nil {
		return nil, err
	}
	aims.Cut = true
	r, err := Search(bare, on, aims, opt)
	if err != nil {
		return nil, err
	}
	// No cut has been planned for the places of the trade: whether a stop holds there is not known.
	r.Today, r.Front = now, nil
	t := &Together{Result: r, Now: lesserLock(now)}
	t.standing(&r.Current, now)
	cuts, steps := make([]cut, len(r.Best)), len(r.Best)+1
	told := func(begun int) {
		if opt.Planning != nil {
			opt.Planning(begun, steps)
		}
	}
	cores.Each(len(cuts), func(i int) { cuts[i].drilled, cuts[i].plan = t.cutAt(s, &r.Best[i]) }, told)
	told(steps)
	for i, c := range cuts {
		if c.plan != nil && len(r.Best[i].Alarms) == 0 {
			t.steps(s, c.drilled, c.plan)
			r.first(i)
			return t, nil
		}
	}
	r.Leave = true
	t.reach(s)
	return t, ErrNoTogether
}

// cut is a listed place's model, as it is drilled, and the cut that suits it; nil where there is none.
type cut struct {
	drilled *sweep.Model
	plan    *grind.Plan
}

// cutAt plans the cut for a listed place, and gives the place the figures and alarms that it has then; plan is nil where none can be made.
func (t *Together) cutAt(s *setup.Setup, l *Listed) (drilled *sweep.Model, plan *grind.Plan) {
	drilled, err := sweep.New(l.Fit(s))
	if err == nil { // else what is to be ground is in the rod's way straight ahead
		if plan = t.plan(drilled); plan != nil {
			t.standing(l, plan.After)
			return drilled, plan
		}
		t.standing(l, drilled)
	}
	l.Alarms = union(l.Alarms, []sweep.Code{sweep.NoMetalStop})
	return drilled, nil
}

// standing gives a listed place the figures of a model in which the holes are where that place has them and the stop is as it will stand then,
// at their worst within the slip too. A cut is judged with the place that it was planned for, since a template shows both.
func (t *Together) standing(l *Listed, m *sweep.Model) {
	s, p := t.searchIn(m), l.Place
	p.Figures = s.aims.figures(m)
	nearest := p.Figures.nearest(m, nearFactor*m.Setup.Limits.Clearance)
	if p.Within = p.Figures.itself(nearest); l != &t.Current { // for which nothing is drilled
		p.Within, _ = s.within(s.home())
	}
	as := s.listed(p, m, nearest, s.aims.rank(&p.Figures, &p.Within))
	as.PerMM, as.rank, as.DecidedBy = l.PerMM, l.rank, l.DecidedBy
	*l = as
}

// searchIn returns a search that judges places with the metal of a model, in which the stop is as it will stand.
func (t *Together) searchIn(m *sweep.Model) *search {
	s := newSearch(t.Result, m)
	s.aims = t.search.aims
	s.aims.Cut, s.aims.stops = false, nil
	for _, pair := range stopsOf(t.Today) {
		s.aims.stops = append(s.aims.stops, carried(pair, t.Today.Scene, m.Scene))
	}
	return s
}

// carried returns a pair of one scene's pieces as it stands in another scene, by their labels; -1 for a piece that is not there.
func carried(pair [2]int, from, to *clearance.Scene) [2]int {
	for i, piece := range pair {
		label := from.Pieces[piece].Label()
		pair[i] = slices.IndexFunc(to.Pieces, func(p clearance.Piece) bool { return p.Label() == label })
	}
	return pair
}

// reach finds how far a hole and its cut go at the most.
func (t *Together) reach(s *setup.Setup) {
	t.Reach, t.Furthest = t.asFar(t.Today)
	t.ReachAt = -1
	type far struct {
		lock   s1.Angle
		ground *grind.Plan
	}
	locks := each(t.Best, func(l Listed) far {
		m, err := sweep.New(l.Fit(s))
		if err != nil { // what is to be ground is in the rod's way straight ahead
			return far{lock: s1.Angle(math.NaN())}
		}
		lock, ground := t.asFar(m)
		return far{lock, ground}
	}, nil)
	for i, f := range locks {
		if f.lock > t.Reach+sameLock || !math.IsNaN(float64(f.lock)) && math.IsNaN(float64(t.Reach)) {
			t.Reach, t.Furthest, t.ReachAt = f.lock, f.ground, i
		}
	}
	t.missesReach()
}

// missesReach puts, where no cut is found at any place, one miss in the place of those in figures: of the lock, with the most that a hole
// and its cut give. The search judged its places up to the lock wanted with all gone that may be ground, the table shows them with the stop as
// it stands.
func (t *Together) missesReach() {
	if !slices.Contains(t.Best[0].Alarms, sweep.NoMetalStop) || t.Reach >= t.Aims.Lock {
		return
	}
	t.Misses = slices.DeleteFunc(t.Misses, func(m Miss) bool { return m.Aim != Sense })
	t.Misses = append(t.Misses, Miss{Aim: Lock, Wanted: float64(t.Aims.Lock), Nearest: float64(t.Reach), Alone: t.search.alone(Lock)})
}

// sameLock is by how much two locks may differ and count as alike; of such, the one of today's hole is told.
const sameLock = 0.05 * s1.Degree

// asFar returns the lesser lock, at its worst within the slip, of a model that is ground as far as a metal stop that holds is left, or where
// nothing may be ground so, of the model as it is; NaN where no stop holds then. It returns too what grinding comes to, as far as it is planned.
func (t *Together) asFar(m *sweep.Model) (lock s1.Angle, ground *grind.Plan) {
	ground, err := grind.Make(m, grind.Target{Measure: grind.AsFar}, grind.Options{Clearance: m.Setup.Limits.Clearance})
	beyond := (*grind.BeyondError)(nil)
	switch {
	case err == nil && stands(ground):
		m = ground.After
	case !held(m):
		return s1.Angle(math.NaN()), nil
	case errors.As(err, &beyond):
		ground = beyond.Plan
	}
	s := t.searchIn(m)
	w, _ := s.within(s.home())
	return w.Lock, ground
}

// recuts is how often a cut is planned anew for what it lacks within the slip.
const recuts = 3

// plan plans the cut for a drilled setup, with a wider gap or more lock where what is asked for would not be kept within the slip. Where no cut
// keeps it, the plan is the one that lacks least; it is nil where none leaves a stop that holds.
func (t *Together) plan(drilled *sweep.Model) (plan *grind.Plan) {
	goal, gap := t.Aims.Lock, drilled.Setup.Limits.Clearance
	var least rank
	for range 1 + recuts {
		next := sound(drilled, grind.Target{Measure: grind.BySteer, Angle: goal}, gap)
		if next == nil {
			break
		}
		s := t.searchIn(next.After)
		f := s.aims.figures(next.After)
		w, _ := s.within(s.home())
		r := s.aims.rank(&f, &w)
		if plan == nil || r.compare(&least) < 0 {
			plan, least = next, r
		}
		if w.Impossible || r[Clearance] == 0 && r[Lock] == 0 {
			break
		}
		gap, goal = gap+r[Clearance], goal+s1.Angle(r[Lock])*s1.Degree
	}
	return plan
}

// sound returns the plan of a cut with a gap, mm, which leaves a stop that holds both ways; nil where there is none.
func sound(m *sweep.Model, target grind.Target, gap float64) *grind.Plan {
	plan, err := grind.Make(m, target, grind.Options{Clearance: gap})
	if err != nil || !stands(plan) {
		return nil
	}
	return plan
}

// stands reports whether a cut leaves a stop that holds both ways.
func stands(plan *grind.Plan) bool {
	return !plan.Stops[sweep.ToLeft].Missing() && !plan.Stops[sweep.ToRight].Missing()
}

// steps takes over a plan for the drilled setup m, and finds what hole and cut bring alone and which of them is to come first.
func (t *Together) steps(s *setup.Setup, m *sweep.Model, plan *grind.Plan) {
	t.Plan = plan
	t.Hole, t.Both = lesserLock(m), lesserLock(plan.After)
	undrilled := *plan.After.Setup
	undrilled.Corners, undrilled.DropArm = s.Corners, s.DropArm
	cut, err := sweep.New(&undrilled)
	if t.Cut = t.Both; !t.asToday(m) || plan.Target.Angle != t.Aims.Lock || plan.Clearance != s.Limits.Clearance {
		t.Cut = t.groundAlone()
	}
	switch {
	case held(m):
		t.First = HoleFirst
	case err == nil && held(cut):
		t.First = CutFirst
	default:
		t.First = AtOnce
	}
}

// asToday reports whether a drilled model has today's holes and rods, so that its cut is the cut alone.
func (t *Together) asToday(m *sweep.Model) bool {
	as, now := &m.Linkage.Rods, &t.Today.Linkage.Rods
	return SpotOf(m.Setup) == SpotOf(t.Today.Setup) && as[0].Length == now[0].Length && as[1].Length == now[1].Length
}

// groundAlone returns the lesser lock that grinding gives with today's hole, no further than the lock wanted; NaN where nothing can be
// ground.
func (t *Together) groundAlone() s1.Angle {
	for _, target := range []grind.Target{{Measure: grind.BySteer, Angle: t.Aims.Lock}, {Measure: grind.AsFar}} {
		plan, err := grind.Make(t.Today, target, grind.Options{Clearance: math.NaN()})
		if err == nil {
			return lesserLock(plan.After)
		}
	}
	return s1.Angle(math.NaN())
}

// first brings a listed place, which has no alarm, to the front.
func (r *Result) first(place int) {
	best := r.Best[place]
	r.Best = append([]Listed{best}, slices.Delete(r.Best, place, place+1)...)
	r.conclude()
	for i := range r.Misses { // what others would give with a cut is not known
		if m := &r.Misses[i]; m.Aim == Lock {
			m.Nearest, m.Alone = best.Value(Lock), best.Value(Lock)
		}
	}
}

// lesserLock returns the inner wheel's steer at the lesser of both locks.
func lesserLock(m *sweep.Model) s1.Angle {
	least := s1.InfAngle()
	for _, d := range sweep.Directions {
		lock := m.FirstLimit(d)
		inner, _ := turned(&lock.Pose)
		least = min(least, inner)
	}
	return least
}

// held reports whether a metal stop holds the wheels both ways.
func held(m *sweep.Model) bool {
	for _, d := range sweep.Directions {
		lock := m.FirstLimit(d)
		if stopping := m.Stopping(&lock); len(stopping.Faults()) > 0 {
			return false
		}
	}
	return true
}

// cutAway returns the setup without the metal that may be ground: of a plate marked so only the wall about its bore and what the file says
// is to be kept are left. The error is grind.ErrNothingMarked where no plate is marked.
func cutAway(s *setup.Setup) (*setup.Setup, error) {
	bare, marked := *s, false
	bare.Parts = nil
	for _, p := range s.Parts {
		if !p.Grind || p.Plate == nil {
			bare.Parts = append(bare.Parts, p)
			continue
		}
		marked = true
		left, err := kept(&p)
		if err != nil {
			return nil, err
		}
		for _, piece := range left.Pieces() {
			rest, plate := p, *p.Plate
			plate.Outline, rest.Plate = piece[0], &plate
			bare.Parts = append(bare.Parts, rest)
		}
	}
	if !marked {
		return nil, grind.ErrNothingMarked
	}
	return &bare, nil
}

// kept returns the metal of a plate that must stay.
func kept(p *setup.Part) (region.Region, error) {
	var stays []region.Region
	if p.Bore > 0 {
		stays = append(stays, region.Of(circle(r2.Point{}, p.Bore/2+grind.LeastWall(p))))
	}
	if len(p.Keep) > 0 {
		stays = append(stays, region.Of(p.Keep))
	}
	all, err := region.Union(stays...)
	if err != nil {
		return all, err
	}
	return all.Common(region.Of(p.Plate.Outline))
}
