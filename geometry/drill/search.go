package drill

import (
	"slices"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"locksweep/geometry/cores"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// tenth is the finest grid of places, mm.
const tenth = 0.1

// judged is a place as the search knows it. How it does within the slip is looked at only where that may decide: until then it does no better
// than its rank, and may do worse.
type judged struct {
	node node
	Figures
	Within   Within
	rank     rank
	change   [3]float64 // how much it changes of today's hole: see changeOf
	possible bool       // the linkage assembles and nothing touches straight ahead; of a place that has only been glanced at, as far as is known
	glanced  bool       // its figures are bounds: see glance
	sure     bool       // its rank is that within the slip
	seen     []measured // of the places that decide that, those measured so far; nil once it is sure
}

// search knows every place that has been judged.
type search struct {
	r        *Result
	aims     Aims         // the result's, with the leverage that can be had
	base     *sweep.Model // of today's hole, with the rods cut to the file's toe
	start    Spot         // today's hole
	now      Figures      // of it
	origin   node         // of the grid of tenths
	axes     []int        // co-ordinates that may change
	pool     []judged     // all places judged so far
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
	if left, right := s.start.Pins[setup.Left], s.start.Pins[setup.Right]; left.X == right.X && left.Y == -right.Y {
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
	sp := s.spot(n)
	return !slices.ContainsFunc(s.r.Metals, func(m *Metal) bool { return !m.fits(&sp, &s.r.Options) })
}

// allowedIn is allowed for one metal, and for the other arm where that is drilled with it.
func (s *search) allowedIn(n node, metal *Metal) bool {
	sp := s.spot(n)
	return !slices.ContainsFunc(s.r.Metals, func(m *Metal) bool { return s.drilledAlike(m, metal) && !m.fits(&sp, &s.r.Options) })
}

// drilledAlike reports whether two metals are the same, or the two steering arms where these are drilled alike.
func (s *search) drilledAlike(a, b *Metal) bool {
	return a.Drop == b.Drop && !(s.r.Options.Each && a.Side != b.Side)
}

// fits reports whether a metal has room for the holes that a spot needs in it.
func (m *Metal) fits(sp *Spot, opt *Options) bool {
	balls := m.balls(sp)
	if !m.allows(balls[0], setup.Left, opt) || !m.allows(balls[1], setup.Right, opt) {
		return false
	}
	apart := balls[0].Sub(balls[1]).Norm()
	return apart == 0 || apart >= opt.Web*opt.Diameter-roundingSlack || m.drilled(sp, opt)
}

// drilled reports whether the holes that a spot needs in a metal are there already.
func (m *Metal) drilled(sp *Spot, opt *Options) bool {
	balls := m.balls(sp)
	return m.ready(m.Plane(balls[0]), opt) != nil && m.ready(m.Plane(balls[1]), opt) != nil
}

// balls returns where a metal's holes go, in the file's co-ordinates, by side; twice the same for a steering arm.
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

// existing returns the name of the first hole that a place needs if all that it needs are there already; else nothing.
func (s *search) existing(sp *Spot) (name string) {
	for _, m := range s.r.Metals {
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

// figures judges one place with the holes drilled where they should be, without its gaps.
func (s *search) figures(n node) judged {
	j, _ := s.made(n)
	return j
}

// made is figures that also returns the model; nil where the steering is impossible.
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

// model returns the setup with the holes at a place, with one hole of the drop arm for both rods if so wanted; nil where the steering is
// impossible.
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

// judge adds the places that are new and allowed to the pool, in their order, glanced at on all cores. They are judged in full when that may
// decide.
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

// near returns the gap up to which gaps are looked at in the search, mm: what is wanted and a little more, since a gap hardly less than near
// may be overlooked; and more where the losses of several groups of holes that are off by themselves add up.
func (s *search) near(groups int) float64 {
	if groups < 2 {
		return s.aims.Clearance + gapSlack
	}
	return s.aims.Clearance + gapSlack + 4*float64(groups)*s.r.Options.Slip
}

// gapSlack is by how much gaps are looked at beyond what is wanted, mm: more than a least gap may be missed by.
const gapSlack = 0.2

// look is a place to be measured, with its gaps up to near, mm.
type look struct {
	node node
	one  bool // a hole that takes both rods, which off its place still does
	near float64
}

// looks lists what has to be measured to know how a place does within the slip: the place itself, then the places off it.
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

// surely finds how a place does within the slip, unless it is out of the question before all is measured: then it is not sure, but its rank
// bounds it more closely, and what has been measured is kept. The place's own model, and out, may be nil.
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

// abreast is how many places off one are measured at the same time.
const abreast = 2

// itself is kept for the place itself, which has been judged: only its gap is still to be measured. Its model m may be nil.
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

// those returns the places of the pool that fit, in their order.
func (s *search) those(fits func(i int, j *judged) bool) (places []int) {
	for i := range s.pool {
		if fits(i, &s.pool[i]) {
			places = append(places, i)
		}
	}
	return places
}

// each maps a list on all cores; told, unless nil, is told on the caller's goroutine how many are begun.
func each[A, B any](list []A, do func(A) B, told func(begun int)) []B {
	out := make([]B, len(list))
	cores.Each(len(list), func(i int) { out[i] = do(list[i]) }, told)
	return out
}
