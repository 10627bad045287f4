package drill

import (
	"cmp"
	"math"
	"slices"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"
)

// mostPlaces and mostBoth bound the first grid; a finer one is made coarser until it fits.
const (
	mostPlaces = 20_000
	mostBoth   = 3_000
	mostCells  = 1_000_000 // looked at on any one metal, in it or not
)

// cells is how many nodes of a grid the rectangle about any one metal holds at most.
func (s *search) cells(step int) (most float64) {
	size := float64(step) * tenth
	for i := range s.r.Metals {
		box := s.r.Metals[i].bounds().Size()
		most = max(most, (box.X/size+1)*(box.Y/size+1))
	}
	return most
}

// run judges the first grid and refines it, for the answer and for the trade between lock and Ackermann.
func (s *search) run() error {
	grid, step := s.grid()
	s.judge(grid)
	s.judge(s.holes())
	if len(s.pool) == 0 {
		return s.noRoom()
	}
	s.settleLeverage()
	if s.r.On == Both {
		s.judge([]node{s.oneHole(Arm), s.oneHole(DropArm)})
		s.descend(starts, distinct, anywhere)
	}
	for size := step / 2; size > 0; size /= 2 {
		s.around(size)
	}
	s.descend(starts, spread, anywhere)
	return nil
}

func anywhere(node) bool { return true }

// oneHole is the best place with only one of both holes moved: with both, the answer is never worse. It is
// today's place where there is none.
func (s *search) oneHole(on On) node {
	r := *s.r
	r.On, r.Options.Step, r.Options.Progress = on, 2, nil
	r.Metals = slices.DeleteFunc(slices.Clone(s.r.Metals), func(m Metal) bool { return m.Drop != (on == DropArm) })
	one := newSearch(&r, s.base)
	one.leastLock, one.leverageAsked = s.leastLock, s.leverageAsked
	if one.run() != nil {
		return s.home()
	}
	i := one.first(anywhere)
	if i < 0 {
		return s.home()
	}
	return one.pool[one.settle(i, anywhere)].node
}

// settleLeverage lowers the leverage that places are held against where none of those judged attains what is
// wanted: to today's, or to the most that can be had, whichever is more, less a little that leaves a choice.
func (s *search) settleLeverage() {
	most := s1.Angle(0)
	for i := range s.pool {
		if j := &s.pool[i]; j.possible && j.rank[Sense] == 0 {
			most = max(most, j.Transmission)
		}
	}
	if s.leverageAsked || most >= s.aims.Leverage || most == 0 {
		return
	}
	s.aims.Leverage = most - leverageChoice
	if i, known := s.known[s.home()]; known && s.pool[i].rank[Sense] == 0 {
		s.aims.Leverage = max(s.aims.Leverage, s.pool[i].Transmission)
	}
	for i := range s.pool {
		if j := &s.pool[i]; j.possible {
			j.rank = s.aims.rank(&j.Figures)
		}
	}
}

// leverageChoice is how far below the most leverage a place may stay for the sake of the other aims.
const leverageChoice = 2 * s1.Degree

// grid returns the allowed nodes of the first grid, and its step in tenths.
func (s *search) grid() (nodes []node, step int) {
	step = max(1, int(math.Round(s.r.Options.Step/tenth)))
	most := mostPlaces
	if s.r.On == Both {
		most = mostBoth
	}
	for {
		if s.cells(step) <= mostCells {
			if nodes = s.gridOf(step); len(nodes) <= most {
				return nodes, step
			}
		}
		step += max(1, step/4)
	}
}

func (s *search) gridOf(step int) []node {
	nodes := []node{s.on(s.home(), [4]int{}, 0)}
	for _, m := range s.r.Metals {
		first := 0
		if m.Drop {
			first = 2
		} else if m.Side != 0 {
			continue // goes with the left
		}
		var next []node
		for _, n := range nodes {
			next = append(next, s.over(n, first, m.bounds(), step)...)
		}
		nodes = next
	}
	return nodes
}

// over returns n with two co-ordinates running over a rectangle, where the metal allows it.
func (s *search) over(n node, first int, bounds r2.Rect, step int) (nodes []node) {
	size := float64(step) * tenth
	from := func(a int, low float64) int { return int(math.Ceil((low - s.origin[a]) / size)) }
	to := func(a int, high float64) int { return int(math.Floor((high - s.origin[a]) / size)) }
	for i := from(first, bounds.X.Lo); i <= to(first, bounds.X.Hi); i++ {
		for k := from(first+1, bounds.Y.Lo); k <= to(first+1, bounds.Y.Hi); k++ {
			n[first], n[first+1] = s.coordinate(first, i*step), s.coordinate(first+1, k*step)
			if s.allowedIn(n, first == 2) {
				nodes = append(nodes, n)
			}
		}
	}
	return nodes
}

// holes returns the places that are drilled already.
func (s *search) holes() (nodes []node) {
	nodes = []node{s.home()}
	for i := range s.r.Metals {
		m := &s.r.Metals[i]
		for _, h := range m.Holes {
			if h.At.Sub(m.pins[0]).Norm() < sameHole {
				continue // today's
			}
			n, at := s.home(), m.Plan(h.At)
			switch {
			case m.Drop:
				n[2], n[3] = at.X, at.Y
			case m.Side == 0:
				n[0], n[1] = at.X, at.Y
			default:
				continue
			}
			nodes = append(nodes, n)
		}
	}
	return nodes
}

// Beams of the refinement: how many of the best places, and of the trade, are looked around at each step.
const (
	beam     = 24
	beamBoth = 10
	beamEdge = 12
)

// around judges the neighbours of the best places at a step (tenths) until they are no better.
func (s *search) around(size int) {
	width := beam
	if s.r.On == Both {
		width = beamBoth
	}
	for range 8 {
		order := s.order()
		if len(order) == 0 {
			return
		}
		seeds := append(slices.Clone(order[:min(width, len(order))]), thinned(s.trade(), beamEdge)...)
		var nodes []node
		for _, i := range seeds {
			nodes = append(nodes, s.neighbours(s.pool[i].node, size, 1)...)
		}
		before := len(s.pool)
		s.judge(nodes)
		if first := s.order()[0]; first < before || len(s.pool) == before {
			return
		}
	}
}

// neighbours returns the nodes within reach steps of a size (tenths) either way.
func (s *search) neighbours(n node, size, reach int) []node {
	nodes := []node{}
	var walk func(steps [4]int, axes []int)
	walk = func(steps [4]int, axes []int) {
		if len(axes) == 0 {
			nodes = append(nodes, s.on(n, steps, size))
			return
		}
		for steps[axes[0]] = -reach; steps[axes[0]] <= reach; steps[axes[0]]++ {
			walk(steps, axes[1:])
		}
	}
	walk([4]int{}, s.axes)
	return nodes
}

// distinct is how far apart listed places are at least, mm: nearer ones are the same hole to a drill.
const distinct = 10.0

// best returns the best places that lie apart from each other, each settled to a tenth. Where the best meets
// all aims, no place follows that does not.
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
		i = s.settle(i, free)
		if s.pool[i].node == s.home() && len(list) > 0 {
			taken = append(taken, s.home()) // stands first in any case
			continue
		}
		if len(list) > 0 && len(s.misses(&list[0].Figures)) == 0 && len(s.misses(&s.pool[i].Figures)) > 0 {
			break
		}
		taken = append(taken, s.pool[i].node)
		list = append(list, s.list(i))
	}
	return list
}

// first returns the best place of the pool that is free, -1 where there is none.
func (s *search) first(free func(node) bool) int {
	best := -1
	for i := range s.pool {
		if s.pool[i].possible && free(s.pool[i].node) && (best < 0 || s.better(i, best) < 0) {
			best = i
		}
	}
	return best
}

// spread is how far apart the places are that the optimiser starts from in the end, mm.
const spread = 3.0

// window is how far about a place every tenth is judged before it counts as settled.
const window = 5

// settle moves a place until none in the window about it is better.
func (s *search) settle(i int, free func(node) bool) int {
	reach := window
	if s.r.On == Both {
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

// leastGain is how much lock must be won for a place to stand in the trade: less is no reason to drill elsewhere.
const leastGain = 0.1 * s1.Degree

// trade returns the places that no other beats in both lock and Ackermann error while all other aims are
// met, least error first. Those with less lock than both today's and the wanted are left out: over so short a
// way any place looks true.
func (s *search) trade() (front []int) {
	var order []int
	for i := range s.pool {
		if j := &s.pool[i]; j.possible && j.rank.meets() && j.Lock() >= s.leastLock-leastGain && !math.IsInf(float64(j.Worst), 0) {
			order = append(order, i)
		}
	}
	slices.SortFunc(order, func(a, b int) int {
		p, q := &s.pool[a], &s.pool[b]
		return cmp.Or(cmp.Compare(p.Worst, q.Worst), s.better(a, b))
	})
	lock := s1.Angle(math.Inf(-1))
	for _, i := range order {
		if l := s.pool[i].Lock(); l > lock+leastGain {
			front, lock = append(front, i), l
		}
	}
	return front
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
