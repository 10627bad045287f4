package drill

import (
	"cmp"
	"container/heap"
	"math"
	"slices"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"locksweep/geometry/cores"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// tenth is the grid that places are refined to, mm.
const tenth = 0.1

// node is a place as eight co-ordinates, as the file gives them, mm: of either side forward and outboard of the
// pickup, down and left of the rod's pin. Unless each side has its own place, those of the right stand still: it goes
// with the left. Where the hole of a drag link is looked for, its ball stands for the left pickup; its pin is the left one.
type node [8]float64

// First co-ordinates of the balls in a node.
const (
	leftArm  = 0
	leftPin  = 2
	rightArm = 4
	rightPin = 6
)

// judged is a node with what came of it. How it does within the slip is looked at only where that may decide: until
// then rank is a bound, that it cannot do better than.
type judged struct {
	node node
	Figures
	Within   Within
	rank     rank
	change   [3]float64 // of today's hole, what counts first first
	possible bool       // it assembles and nothing touches straight ahead
	sure     bool       // it has been looked at within the slip
}

// search knows every place that has been judged.
type search struct {
	r      *Result
	aims   Aims // the result's, with the leverage that can be had
	base   *sweep.Model
	start  Spot
	now    Figures // of today's hole
	origin node    // of the grid of tenths
	axes   []int   // co-ordinates that may change
	pool   []judged
	known  map[node]int // index in the pool
	chart  chart

	leastLock     s1.Angle // of places in the trade: the lesser of today's and the lock wanted
	leverageAsked bool     // for a figure of its own, that is not lowered where no place attains it
}

func newSearch(r *Result, base *sweep.Model) *search {
	s := &search{r: r, aims: r.Aims, base: base, start: SpotOf(base.Setup), known: map[node]int{}}
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

func (s *search) mirroredPins() bool {
	left, right := s.start.Pins[setup.Left], s.start.Pins[setup.Right]
	return left.X == right.X && left.Y == -right.Y
}

// home is today's place.
func (s *search) home() node { return s.nodeOf(&s.start) }

func (s *search) nodeOf(sp *Spot) (n node) {
	for i, side := range setup.Sides {
		pickup, pin := sp.Pickups[side], sp.Pins[side]
		copy(n[4*i:], []float64{pickup.X, pickup.Y, pin.X, pin.Y})
	}
	if s.r.On == Link {
		n[leftArm], n[leftArm+1] = sp.Link.X, sp.Link.Y
	}
	return n
}

// on returns the node of the grid of tenths that lies steps of a size (tenths) from n's nearest.
func (s *search) on(n node, steps [8]int, size int) node {
	for _, a := range s.axes {
		n[a] = s.coordinate(a, int(math.Round((n[a]-s.origin[a])/tenth))+steps[a]*size)
	}
	return n
}

// coordinate is a node's co-ordinate so many tenths from the origin.
func (s *search) coordinate(axis, tenths int) float64 {
	return s.written(s.origin[axis] + float64(tenths)/10)
}

// written is a length as the answer is written down, mm: to a thousandth of a millimetre or a ten-thousandth of an inch,
// far finer than a drill. A place is judged as it is written, so that text, template and file tell of one place.
func (s *search) written(mm float64) float64 {
	return rounded(s.base.Setup.Unit, mm, [2]float64{setup.MM: 1e3, setup.Inch: 1e4})
}

// clean takes what arithmetic has left behind the sixth decimal off a length, mm.
func (s *search) clean(mm float64) float64 {
	return rounded(s.base.Setup.Unit, mm, [2]float64{setup.MM: 1e6, setup.Inch: 1e6})
}

// rounded is a length in whole parts of a unit, so many to one, mm.
func rounded(u setup.Unit, mm float64, parts [2]float64) float64 {
	return u.ToMM(math.Round(u.FromMM(mm)*parts[u]) / parts[u])
}

// spot is where the balls go; nodeOf is its inverse. Unless each side has its own place, what moves the left ones moves the right ones as
// their mirror image, so that sides that differ keep their difference. A ball keeps its height along the axis
// that its arm turns about, as closely as that is written down.
func (s *search) spot(n node) Spot {
	sp, home := s.start, s.home()
	if s.r.On == Link {
		if n != home {
			_, side, _ := s.base.Setup.LinkBall()
			axis := setup.FromCorner(side, s.base.Setup.Kingpin(side).Dir)
			sp.Link.X, sp.Link.Y = n[leftArm], n[leftArm+1]
			sp.Link.Z = s.written(sp.Link.Z - (axis.X*(n[leftArm]-home[leftArm])+axis.Y*(n[leftArm+1]-home[leftArm+1]))/axis.Z)
		}
		return sp
	}
	for _, side := range setup.Sides {
		arm, pin := 4*int(side), 4*int(side)+leftPin
		var by [4]float64
		for i := range by {
			by[i] = n[arm+i] - home[arm+i]
			if !s.r.Options.Each && side == setup.Right {
				by[i] = n[i] - home[i]
			}
		}
		mirror := 1.0 // of the drop arm's left, that is no outboard
		if !s.r.Options.Each {
			mirror = side.Sign()
		}
		p := &sp.Pickups[side]
		if by[0] != 0 || by[1] != 0 {
			axis := setup.FromCorner(side, s.base.Setup.Kingpin(side).Dir)
			p.X, p.Y = s.clean(p.X+by[0]), s.clean(p.Y+by[1])
			p.Z = s.written(p.Z - (axis.X*by[0]+axis.Y*by[1])/axis.Z)
		}
		if by[2] != 0 || by[3] != 0 {
			sp.Pins[side].X, sp.Pins[side].Y = s.clean(sp.Pins[side].X+by[2]), s.clean(sp.Pins[side].Y+mirror*by[3])
		}
		if side == setup.Left || s.r.Options.Each { // not by way of a difference
			if by[0] != 0 || by[1] != 0 {
				p.X, p.Y = n[arm], n[arm+1]
			}
			sp.Pins[side].X, sp.Pins[side].Y = n[pin], n[pin+1]
		}
	}
	if s.base.Setup.OnePin() {
		sp.Pins[setup.Right] = sp.Pins[setup.Left]
	}
	return sp
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

// allowedIn reports it of one metal, and of the other steering arm where that goes with it.
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
	j := judged{node: n, rank: nowhere()}
	sp := s.spot(n)
	if m, err := s.base.Refit(sp.Fit(s.base.Setup)); err == nil {
		j.Figures, j.possible = s.aims.figures(m), true
		j.Within = j.Figures.itself(nothingNear)
		j.rank = s.aims.rank(&j.Figures, &j.Within)
		j.change = s.changeOf(&j)
	}
	return j
}

// judge judges the nodes that are new and allowed, on all cores, in their order.
func (s *search) judge(nodes []node) {
	var fresh []node
	for _, n := range nodes {
		if _, known := s.known[n]; !known && s.allowed(n) {
			s.known[n] = len(s.pool) + len(fresh)
			fresh = append(fresh, n)
		}
	}
	s.pool = append(s.pool, each(fresh, s.figures, func(done int) { s.tell(len(s.pool) + done) })...)
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
	near float64
}

// looks lists what has to be measured to know a place within the slip: the place itself, then what is off it.
func (s *search) looks(n node) (list []look, groups [][]node) {
	groups = s.off(n)
	near := s.near(len(groups))
	list = []look{{n, near}}
	for _, group := range groups {
		for _, o := range group {
			list = append(list, look{o, near})
		}
	}
	return list, groups
}

// surely looks at one place within the slip, until it is out of the question: then it is not sure, but its rank bounds
// it more closely. out may be nil.
func (s *search) surely(j *judged, out func(*rank) bool) {
	looks, groups := s.looks(j.node)
	all := make([]measured, len(looks))
	for i, l := range looks {
		if all[i] = s.measure(l.node, l.near); i == 0 {
			for k := range all {
				all[k] = all[0] // as long as nothing is known of it
			}
		}
		if s.settleRank(j, all, groups); out != nil && out(&j.rank) {
			j.sure = i == len(looks)-1
			return
		}
	}
}

func (s *search) settleRank(j *judged, all []measured, groups [][]node) {
	j.Within = gathered(all, groups, s.near(len(groups)))
	j.rank, j.sure = s.aims.rank(&j.Figures, &j.Within), true
}

// closer looks at places of the pool within the slip, on all cores, at each until it is out of the question.
func (s *search) closer(places []int, out func(*rank) bool) {
	places = slices.DeleteFunc(slices.Clone(places), func(i int) bool { return s.pool[i].sure })
	seen := each(places, func(i int) judged {
		j := s.pool[i]
		s.surely(&j, out)
		return j
	}, nil)
	for k, i := range places {
		s.pool[i] = seen[k]
	}
}

// each maps a list on all cores; told, unless nil, is told on the caller's goroutine how many are begun.
func each[A, B any](list []A, do func(A) B, told func(begun int)) []B {
	out := make([]B, len(list))
	cores.Each(len(list), func(i int) { out[i] = do(list[i]) }, told)
	return out
}

// better orders nodes of the pool, best first; equal ones by how little they change, then by where they lie.
func (s *search) better(a, b int) int {
	p, q := &s.pool[a], &s.pool[b]
	if c := p.rank.compare(&q.rank); c != 0 {
		return c
	}
	return s.lessChange(a, b)
}

// lessChange orders nodes of the pool by how little they change of today's hole: what has to be drilled, how
// far off, to a tenth, and the ratio, to a thousandth; then by where they lie.
func (s *search) lessChange(a, b int) int {
	p, q := &s.pool[a], &s.pool[b]
	return cmp.Or(slices.Compare(p.change[:], q.change[:]), slices.Compare(p.node[:], q.node[:]))
}

// changeOf returns by what lessChange orders.
func (s *search) changeOf(j *judged) (c [3]float64) {
	home := s.home()
	sp := s.spot(j.node)
	if s.existing(&sp) == "" {
		c[0] = 1
	}
	c[1] = math.Round(10 * j.node.apart(&home))
	c[2] = math.Round(1000 * math.Abs(j.Ratio-s.now.Ratio))
	return c
}

// lot is how many places are looked at together within the slip.
const lot = 8

// top returns up to n possible places of the pool that are free, best first: as if all had been judged within the
// slip. Only what comes to the head of the queue is, since no place does better within the slip than in its
// very place, and no longer than it may still be among the best.
func (s *search) top(n int, free func(i int) bool) (best []int) {
	return s.topBy(n, free, s.better, func(last int) func(*rank) bool {
		r := s.pool[last].rank
		return func(o *rank) bool { return o.compare(&r) > 0 }
	})
}

// topBy is top in another order. out tells, of the last of n places known for sure, which others are out of the
// question; it may be nil.
func (s *search) topBy(n int, free func(i int) bool, less func(a, b int) int, out func(last int) func(*rank) bool) (best []int) {
	q := queue{less: less}
	var sure []int // the best n, in order
	note := func(i int) {
		at, _ := slices.BinarySearchFunc(sure, i, less)
		if sure = slices.Insert(sure, at, i); len(sure) > n {
			sure = sure[:n]
		}
	}
	for i := range s.pool {
		if s.pool[i].possible && free(i) {
			q.list = append(q.list, i)
			if s.pool[i].sure {
				note(i)
			}
		}
	}
	heap.Init(&q)
	for len(best) < n && len(q.list) > 0 {
		var open []int
		for len(q.list) > 0 && len(open) < lot && !s.pool[q.list[0]].sure {
			open = append(open, heap.Pop(&q).(int))
		}
		if len(open) == 0 {
			best = append(best, heap.Pop(&q).(int))
			continue
		}
		var enough func(*rank) bool
		if out != nil && len(sure) == n {
			enough = out(sure[n-1])
		}
		s.closer(open, enough)
		for _, i := range open {
			if heap.Push(&q, i); s.pool[i].sure {
				note(i)
			}
		}
	}
	return best
}

// queue is a heap of places.
type queue struct {
	list []int
	less func(a, b int) int
}

func (q *queue) Len() int           { return len(q.list) }
func (q *queue) Less(a, b int) bool { return q.less(q.list[a], q.list[b]) < 0 }
func (q *queue) Swap(a, b int)      { q.list[a], q.list[b] = q.list[b], q.list[a] }
func (q *queue) Push(x any)         { q.list = append(q.list, x.(int)) }
func (q *queue) Pop() any {
	last := q.list[len(q.list)-1]
	q.list = q.list[:len(q.list)-1]
	return last
}

// apart is the distance between two nodes, mm.
func (n *node) apart(o *node) float64 {
	sum := 0.0
	for i := range n {
		sum += (n[i] - o[i]) * (n[i] - o[i])
	}
	return math.Sqrt(sum)
}
