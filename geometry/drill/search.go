package drill

import (
	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"locksweep/geometry/cores"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// tenth is the grid that places are refined to, mm.
const tenth = 0.1

// judged is a node with what came of it. How it does within the slip is looked at only where that may decide: until
// then rank is a bound, that it cannot do better than.
type judged struct {
	node node
	Figures
	Within   Within
	rank     rank
	change   [3]float64 // of today's hole, what counts first first
	possible bool       // it assembles and nothing touches straight ahead; of a place that has but been glanced at, as far as is known
	glanced  bool       // all of it is but a bound: see glance
	sure     bool       // it has been looked at within the slip
	seen     []measured // what it has been looked at so far, as long as it is not sure
}

// search knows every place that has been judged.
type search struct {
	r        *Result
	aims     Aims // the result's, with the leverage that can be had
	base     *sweep.Model
	start    Spot
	now      Figures // of today's hole
	origin   node    // of the grid of tenths
	axes     []int   // co-ordinates that may change
	pool     []judged
	known    map[node]int // index in the pool
	chart    chart
	foretold *sweep.Foretold

	leastLock     s1.Angle // of places in the trade: the lesser of today's and the lock wanted
	leverageAsked bool     // for a figure of its own, that is not lowered where no place attains it
}

func newSearch(r *Result, base *sweep.Model) *search {
	s := &search{r: r, aims: r.Aims, base: base, start: SpotOf(base.Setup), known: map[node]int{}, foretold: base.Foretell()}
	s.now = s.aims.figures(base)
	s.origin = s.home()
	if s.mirroredPins() {
		s.origin[leftPin+1], s.origin[rightPin+1] = 0, 0 // so that one hole for both rods is on the grid
	}
	s.axes = [4][]int{Arm: {0, 1}, DropArm: {2, 3}, Both: {0, 1, 2, 3}, Link: {0, 1}}[r.On]
	if r.Options.Each {
		s.axes = [2][]int{Arm: {0, 1, 4, 5}, DropArm: {2, 3, 6, 7}}[r.On]
	}
	return s
}

// allowed reports whether the metal has room for the holes.
func (s *search) allowed(n node) bool {
	for i := range s.r.Metals {
		if !s.allowedIn(n, &s.r.Metals[i]) {
			return false
		}
	}
	return true
}

// allowedIn reports whether one metal has room for its holes, and the other steering arm where it goes with the first.
func (s *search) allowedIn(n node, metal *Metal) bool {
	sp, opt := s.spot(n), &s.r.Options
	for i := range s.r.Metals {
		m := &s.r.Metals[i]
		if m.Drop != metal.Drop || opt.Each && m.Side != metal.Side {
			continue
		}
		balls := m.balls(&sp)
		if !m.allows(balls[0], setup.Left, opt) || !m.allows(balls[1], setup.Right, opt) {
			return false
		}
		drilled := m.ready(m.Plane(balls[0]), opt) != nil && m.ready(m.Plane(balls[1]), opt) != nil
		if apart := balls[0].Sub(balls[1]).Norm(); !drilled && apart > 0 && apart < opt.Web*opt.Diameter-roundingSlack {
			return false
		}
	}
	return true
}

// balls returns where a metal's holes go, as the file gives them; twice the same for a steering arm.
func (m *Metal) balls(sp *Spot) [2]r2.Point {
	if m.Drop {
		return [2]r2.Point{{X: sp.Pins[0].X, Y: sp.Pins[0].Y}, {X: sp.Pins[1].X, Y: sp.Pins[1].Y}}
	}
	p := r2.Point{X: sp.Pickups[m.Side].X, Y: sp.Pickups[m.Side].Y}
	if m.link {
		p = r2.Point{X: sp.Link.X, Y: sp.Link.Y}
	}
	return [2]r2.Point{p, p}
}

// existing returns the names of the holes that are there already, if all are that a place needs.
func (s *search) existing(sp *Spot) (name string) {
	for i := range s.r.Metals {
		m := &s.r.Metals[i]
		for _, at := range m.balls(sp) {
			h := m.ready(m.Plane(at), &s.r.Options)
			if h == nil {
				return ""
			}
			if name == "" {
				name = h.Name
			}
		}
	}
	return name
}

// figures judges one place, drilled where it should be and without its gaps.
func (s *search) figures(n node) judged {
	j, _ := s.made(n)
	return j
}

// made is figures with the model that was judged; nil where the steering is impossible.
func (s *search) made(n node) (j judged, m *sweep.Model) {
	j = judged{node: n, rank: nowhere()}
	if m = s.model(n, false); m != nil {
		j.Figures, j.possible = s.aims.figures(m), true
		j.Within = j.Figures.itself(nothingNear)
		j.rank = s.aims.rank(&j.Figures, &j.Within)
		j.change = s.changeOf(&j)
	}
	return j, m
}

// model is the setup with the holes at a place, one for both rods where that is said; nil where the steering is impossible.
func (s *search) model(n node, one bool) *sweep.Model {
	sp := s.spot(n)
	if one {
		sp.Pins[setup.Right] = sp.Pins[setup.Left]
	}
	m, err := s.base.Refit(sp.Fit(s.base.Setup))
	if err != nil {
		return nil
	}
	return m
}

// judge glances at the nodes that are new and allowed, on all cores, in their order. They are judged when that may decide.
func (s *search) judge(nodes []node) {
	var fresh []node
	for _, n := range nodes {
		if _, known := s.known[n]; !known && s.allowed(n) {
			s.known[n] = len(s.pool) + len(fresh)
			fresh = append(fresh, n)
		}
	}
	s.pool = append(s.pool, each(fresh, s.glance, func(done int) { s.tell(len(s.pool) + done) })...)
}

func (s *search) tell(judged int) {
	if progress := s.r.Options.Progress; progress != nil {
		progress(judged)
	}
}

// near is up to which gaps are looked at in the search, mm: up to what is wanted and a little more, since a gap that
// is hardly less than near may be overlooked; and more where what is lost to several holes adds up.
func (s *search) near(groups int) float64 {
	if groups < 2 {
		return s.aims.Clearance + gapSlack
	}
	return s.aims.Clearance + gapSlack + 4*float64(groups)*s.r.Options.Slip
}

// gapSlack is more than what a least gap is known to, mm.
const gapSlack = 0.2

// look is a place to be measured, with its gaps up to near, mm.
type look struct {
	node node
	one  bool // a hole that takes both rods, which off its place still does
	near float64
}

// looks lists what has to be measured to know a place within the slip: the place itself, then what is off it.
func (s *search) looks(n node) (list []look, groups [][]node) {
	groups = s.off(n)
	near, sp := s.near(len(groups)), s.spot(n)
	one := sp.oneHole()
	list = []look{{n, one, near}}
	for _, group := range groups {
		for _, o := range group {
			list = append(list, look{o, one, near})
		}
	}
	return list, groups
}

// surely looks at one place within the slip, until it is out of the question: then it is not sure, but its rank bounds
// it more closely, and what has been seen is not looked at again. The place's own model and out may be nil.
func (s *search) surely(j *judged, own *sweep.Model, out func(*rank) bool) {
	if j.glanced {
		*j = s.figures(j.node)
	}
	if !j.possible || j.sure || len(j.seen) > 0 && out != nil && out(&j.rank) {
		return
	}
	looks, groups := s.looks(j.node)
	if len(j.seen) == 0 {
		j.seen = []measured{s.itself(j, own, looks[0].near)}
		if s.settleRank(j, groups); len(looks) > 1 && out != nil && out(&j.rank) {
			return
		}
	}
	for len(j.seen) < len(looks) {
		next := looks[len(j.seen):min(len(j.seen)+abreast, len(looks))]
		for _, x := range each(next, s.kept, nil) {
			j.seen = append(j.seen, x)
			if s.settleRank(j, groups); len(j.seen) < len(looks) && out != nil && out(&j.rank) {
				return
			}
		}
	}
	j.seen, j.sure = nil, true
}

// abreast is how many places off one are looked at at once, before any of them may put it out of the question.
const abreast = 2

// itself is measure of a place that has been judged.
func (s *search) itself(j *judged, m *sweep.Model, near float64) measured {
	if m == nil {
		m = s.model(j.node, false)
	}
	return measured{Figures: j.Figures, nearest: j.Figures.nearest(m, near), possible: true}
}

// settleRank ranks a place by what has been seen of it.
func (s *search) settleRank(j *judged, groups [][]node) {
	j.Within = gathered(j.seen, groups, s.near(len(groups)))
	j.rank = s.aims.rank(&j.Figures, &j.Within)
}

// closer looks at places of the pool within the slip, on all cores, at each until it is out of the question.
func (s *search) closer(places []int, out func(*rank) bool) {
	each(places, func(i int) (none struct{}) {
		s.surely(&s.pool[i], nil, out)
		return none
	}, nil)
}

// each maps a list on all cores; told, unless nil, is told on the caller's goroutine how many are begun.
func each[A, B any](list []A, do func(A) B, told func(begun int)) []B {
	out := make([]B, len(list))
	cores.Each(len(list), func(i int) { out[i] = do(list[i]) }, told)
	return out
}
