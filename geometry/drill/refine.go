package drill

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"github.com/golang/geo/s1"

	"locksweep/geometry/setup"
)

// Bounds of the work on the first grid. What is judged in refining is bounded too, by the beams and the turns of the loops.
const (
	mostPlaces = 20_000    // places, where one hole moves
	mostBoth   = 3_000     // where two holes move by themselves
	mostCells  = 1_000_000 // nodes of the rectangle about any one metal, in it or not
	coarsest   = 25.0      // step that the grid is given where none is asked for, mm: past it the search would be blind
)

// WorkError says that a search would have too many places to try.
type WorkError struct {
	Places float64 // about how many
	Most   int     // that are tried
	Step   float64 // that was asked for, mm; 0: none was
	Needed float64 // the least step that would do, mm; 0: none does
}

func (e *WorkError) Error() string {
	return fmt.Sprintf("more places to try than the %d that are", e.Most)
}

// run judges the first grid and refines it, for the answer and for the trade between lock and Ackermann.
func (s *search) run() error {
	grid, step, err := s.grid()
	if err != nil {
		return err
	}
	s.judge(grid)
	s.judge(s.holes())
	s.finer(step / 2)
	if len(s.pool) == 0 {
		return s.room()
	}
	s.settleLeverage()
	if len(s.axes) > 2 {
		s.judge(s.simpler())
		s.descend(starts, distinct, anywhere)
	}
	for size := step / 2; size > 0; size /= 2 {
		s.around(size)
	}
	s.descend(starts, spread, anywhere)
	return nil
}

func anywhere(node) bool { return true }

// finest is the step of the finest grid that finer judges, in tenths.
const finest = 5

// finer judges finer and finer grids until there is a place for a new hole: the strip that has room may be narrower than the first step.
func (s *search) finer(step int) {
	for ; step >= finest && len(s.axes) == 2 && !s.anew() && s.cells(step) <= mostCells && s.count(step, mostPlaces) <= mostPlaces; step /= 2 {
		s.judge(s.gridOf(step))
	}
}

// anew reports whether any place that has been judged asks for a new hole.
func (s *search) anew() bool {
	return slices.ContainsFunc(s.pool, func(j judged) bool {
		sp := s.spot(j.node)
		return s.existing(&sp) == ""
	})
}

// simpler returns the best places of simpler searches, so that the answer is never worse than theirs: with either hole alone where both
// move, with both sides alike where each has its own place.
func (s *search) simpler() []node {
	if s.r.Options.Each {
		return []node{s.simplerOf(s.r.On)}
	}
	return []node{s.simplerOf(Arm), s.simplerOf(DropArm)}
}

// simplerOf returns the best place with one hole moved, both sides alike; today's where there is none.
func (s *search) simplerOf(on On) node {
	r := *s.r
	r.On, r.Options.Step, r.Options.Progress, r.Options.Each, r.Options.stepGiven = on, 2, nil, false, false
	r.Metals = slices.DeleteFunc(slices.Clone(s.r.Metals), func(m *Metal) bool { return m.Drop != (on == DropArm) })
	one := newSearch(&r, s.base)
	one.leastLock, one.leverageAsked = s.leastLock, s.leverageAsked
	if one.run() != nil {
		return s.home()
	}
	i := one.first(anywhere)
	if i < 0 {
		return s.home()
	}
	n := one.pool[one.settle(i, anywhere)].node
	if s.r.Options.Each { // the right one stands where the left one took it
		sp := one.spot(n)
		right := setup.Right
		copy(n[rightArm:], []float64{sp.Pickups[right].X, sp.Pickups[right].Y, sp.Pins[right].X, sp.Pins[right].Y})
	}
	return n
}

// settleLeverage lowers the leverage wanted where no safe place judged attains it, unless it was asked for by a figure: to a little less than
// the most that can be had, which leaves a choice, or to today's where that is more.
func (s *search) settleLeverage() {
	if s.leverageAsked {
		return
	}
	most := s.mostLeverage(func(r *rank) bool { return r.safe() })
	if most == 0 {
		most = s.mostLeverage(func(r *rank) bool { return r[Sense] == 0 })
	}
	if most >= s.aims.Leverage || most == 0 {
		return
	}
	s.aims.Leverage = most - leverageChoice
	if i, known := s.known[s.home()]; known {
		if s.whole([]int{i}); s.pool[i].rank[Sense] == 0 {
			s.aims.Leverage = max(s.aims.Leverage, min(most, s.pool[i].Transmission))
		}
	}
	for i := range s.pool {
		if j := &s.pool[i]; j.possible {
			j.rank = s.aims.rank(&j.Figures, &j.Within)
		}
	}
}

// mostLeverage returns the most leverage within the slip, as far as it is wanted, of places that fit; 0 where there is none.
func (s *search) mostLeverage(fits func(*rank) bool) (most s1.Angle) {
	enough := func(i int) s1.Angle { return min(s.pool[i].Transmission, s.aims.Leverage) }
	known := func(i int) s1.Angle { // of which there is more than a bound
		if s.pool[i].glanced {
			return 0
		}
		return s.pool[i].Transmission
	}
	q := queue{less: func(a, b int) int {
		return cmp.Or(cmp.Compare(enough(b), enough(a)), cmp.Compare(known(b), known(a)), cmp.Compare(a, b))
	}}
	q.list = s.those(func(_ int, j *judged) bool { return j.possible && fits(&j.rank) })
	more := func(j *judged) bool { return fits(&j.rank) && j.Transmission > most && most < s.aims.Leverage }
	for i := range s.inTurn(&q, more, func(j *judged) bool { return !fits(&j.rank) }) {
		if j := &s.pool[i]; fits(&j.rank) {
			most = max(most, j.Within.Transmission)
		}
	}
	return most
}

// leverageChoice is how far below the most leverage a place may stay for the sake of the other aims.
const leverageChoice = 2 * s1.Degree

// around judges the neighbours of the best places at a step (tenths) until they are no better.
func (s *search) around(size int) {
	how := s.thoroughness()
	width := how.beam
	if len(s.axes) > 2 {
		width = min(width, beamBoth)
	}
	for range 8 {
		best := s.top(width, func(int) bool { return true })
		if len(best) == 0 {
			return
		}
		var nodes []node
		for _, i := range append(best, thinned(s.trade(), how.beamEdge)...) {
			nodes = append(nodes, s.neighbours(s.pool[i].node, size, 1)...)
		}
		before := len(s.pool)
		s.judge(nodes)
		if first := s.first(anywhere); first < before || len(s.pool) == before {
			return
		}
	}
}

// neighbours returns the nodes within reach steps of a size (tenths) either way.
func (s *search) neighbours(n node, size, reach int) []node {
	nodes := []node{}
	var walk func(steps [8]int, axes []int)
	walk = func(steps [8]int, axes []int) {
		if len(axes) == 0 {
			nodes = append(nodes, s.on(n, steps, size))
			return
		}
		for steps[axes[0]] = -reach; steps[axes[0]] <= reach; steps[axes[0]]++ {
			walk(steps, axes[1:])
		}
	}
	walk([8]int{}, s.axes)
	return nodes
}

// distinct is how far apart listed places are at least, mm: nearer ones are the same hole to a drill.
const distinct = 10.0

// best returns the best places that lie apart from each other, each looked for to a tenth of a millimetre: of those that are alike the best the
// one that changes least of today's hole. Where the first meets all aims, no place follows that does not.
func (s *search) best() (list []Listed) {
	var taken []node
	free := func(n node) bool {
		return !slices.ContainsFunc(taken, func(t node) bool { return t.apart(&n) < distinct })
	}
	for len(list) < s.r.Options.Best {
		i := s.first(free)
		if i < 0 {
			break
		}
		i = s.leastChange(s.settle(i, free), free)
		if s.pool[i].node == s.home() && len(list) > 0 {
			taken = append(taken, s.home()) // stands first in any case
			continue
		}
		if p := s.place(i); len(list) > 0 && len(s.missed(&list[0].Place)) == 0 && len(s.missed(&p)) > 0 {
			break
		}
		taken = append(taken, s.pool[i].node)
		list = append(list, s.list(i))
	}
	return list
}

// first returns the best place of the pool that is free, -1 where there is none.
func (s *search) first(free func(node) bool) int {
	if found := s.top(1, func(i int) bool { return free(s.pool[i].node) }); len(found) > 0 {
		return found[0]
	}
	return -1
}

// asGood returns, of the free places that are alike the best, the one that changes least of today's hole.
func (s *search) asGood(best int, free func(node) bool) int {
	r := s.pool[best].rank
	as := func(j *judged) bool {
		o := j.rank
		if j.glanced && r[Lock] > 0 { // with less lock than its bound it may be as good, and its error is over a shorter way
			o[Ackermann] = 0
		}
		return s.aims.alike(&o, &r)
	}
	// What changes no less than one that is known for sure is not asked for.
	q, known := queue{less: s.lessChange}, -1
	may := func(i int) bool { return known < 0 || s.lessChange(i, known) <= 0 }
	for i := range s.pool {
		if j := &s.pool[i]; j.sure && as(j) && may(i) && free(j.node) {
			known = i
		}
	}
	q.list = s.those(func(i int, j *judged) bool { return j.possible && as(j) && may(i) && free(j.node) })
	for i := range s.inTurn(&q, as, func(j *judged) bool { return !s.aims.alike(&j.rank, &r) }) {
		if j := &s.pool[i]; j.sure && s.aims.alike(&j.rank, &r) {
			return i
		}
	}
	return best
}

// leastChange is asGood that looks for such a place step by step, to a tenth of a millimetre.
func (s *search) leastChange(best int, free func(node) bool) int {
	at := s.asGood(best, free)
	for _, size := range [...]int{10, 5, 2, 1} {
		for range 40 {
			s.judge(slices.DeleteFunc(s.neighbours(s.pool[at].node, size, 1), func(n node) bool { return !free(n) }))
			next := s.asGood(best, free)
			if next == at {
				break
			}
			at = next
		}
	}
	return at
}

// spread is how far apart the places are that the optimiser starts from in the end, mm.
const spread = 3.0

// settle moves from a place to a better one in the window about it until there is none, then lets the optimiser go on from there.
func (s *search) settle(i int, free func(node) bool) int {
	reach := s.thoroughness().window
	if len(s.axes) > 2 {
		reach = 1
	}
	for range 100 {
		s.judge(slices.DeleteFunc(s.neighbours(s.pool[i].node, 1, reach), func(n node) bool { return !free(n) }))
		next := s.first(func(n node) bool { return free(n) && s.pool[i].node.apart(&n) < distinct })
		if next == i {
			break
		}
		i = next
	}
	at := s.pool[i].node
	near := func(n node) bool { return free(n) && at.apart(&n) < distinct }
	s.descend(again, spread, near)
	return s.first(near)
}

// leastGain is how much lock a place must win over the one before to stand in the trade: less is no reason to drill elsewhere.
const leastGain = 0.1 * s1.Degree

// trade returns the places that no other beats in both lock and Ackermann error while all other aims are
// met, least error first. Those with less lock than both today's and the wanted are left out: over so short a
// way any place looks true.
func (s *search) trade() (front []int) {
	order := queue{less: func(a, b int) int {
		p, q := &s.pool[a], &s.pool[b]
		return cmp.Or(cmp.Compare(p.Worst, q.Worst), cmp.Compare(q.Figures.Lock(), p.Figures.Lock()), slices.Compare(p.node[:], q.node[:]))
	}}
	lock := s1.Angle(math.Inf(-1))
	gains := func(j *judged) bool { return s.trades(j) && j.Figures.Lock() > lock+leastGain }
	order.list = s.those(func(_ int, j *judged) bool { return gains(j) })
	for i := range s.inTurn(&order, gains, func(j *judged) bool { return !j.rank.meets() }) {
		if j := &s.pool[i]; s.trades(j) {
			front, lock = append(front, i), j.Figures.Lock()
		}
	}
	return front
}

// trades reports whether a place may stand in the trade, as far as is known of it.
func (s *search) trades(j *judged) bool {
	return j.possible && j.rank.meets() && j.Figures.Lock() >= s.leastLock-leastGain && !math.IsInf(float64(j.Worst), 0)
}

// thinned keeps at most n of a list, evenly, both ends included.
func thinned(list []int, n int) []int {
	if len(list) <= n {
		return list
	}
	kept := make([]int, n)
	for i := range kept {
		kept[i] = list[i*(len(list)-1)/(n-1)]
	}
	return kept
}
