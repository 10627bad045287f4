package drill

import (
	"iter"
	"math"
	"slices"

	"github.com/golang/geo/r2"

	"locksweep/geometry/setup"
)

// cells is how many nodes of a grid the rectangle about any one metal holds at most.
func (s *search) cells(step int) (most float64) {
	size := float64(step) * tenth
	for _, m := range s.r.Metals {
		box := m.bounds(setup.Left).Size()
		most = max(most, (box.X/size+1)*(box.Y/size+1))
	}
	return most
}

// grid returns the allowed nodes of the first grid, and its step in tenths. A step that was not asked for is made
// coarser where there would be too many.
func (s *search) grid() (nodes []node, step int, err error) {
	step = max(1, int(math.Round(s.r.Options.Step/tenth)))
	most := mostPlaces
	if len(s.axes) > 2 {
		most = mostBoth
	}
	asked := step
	for ; float64(step)*tenth <= max(coarsest, s.r.Options.Step); step += max(1, step/4) {
		if s.cells(step) > mostCells {
			continue
		}
		n := s.count(step, most)
		if n > most {
			continue
		}
		if step > asked && s.r.Options.stepGiven {
			finer := math.Pow(float64(step)/float64(asked), float64(len(s.axes)))
			return nil, 0, &WorkError{max(float64(n)*finer, float64(most+1)), most, s.r.Options.Step, float64(step) * tenth}
		}
		s.r.Options.Step = float64(step) * tenth
		return s.gridOf(step), step, nil
	}
	return nil, 0, &WorkError{max(s.boxes(asked), float64(most+1)), most, s.r.Options.Step, 0}
}

// moved is a hole that moves by itself: its first co-ordinate, and the metal.
type moved struct {
	first int
	metal *Metal
}

// ball is whose co-ordinates they are.
func (m *moved) ball() setup.Side {
	if m.first >= rightArm {
		return setup.Right
	}
	return setup.Left
}

func (s *search) moved() (list []moved) {
	for _, m := range s.r.Metals {
		for _, first := range s.movers(m) {
			list = append(list, moved{first, m})
		}
	}
	return list
}

// count is how many nodes gridOf would return at most, without making them; of more than most it says only that
// there are more, so that a grid far too fine costs no more to refuse than one a little too fine.
func (s *search) count(step, most int) int {
	n, home := 1, s.on(s.home(), [8]int{}, 0)
	for _, m := range s.moved() {
		one := 0
		for range s.over(home, m, step) {
			if one++; one > most {
				break
			}
		}
		if one == 0 {
			return 0
		}
		n = min(n*one, most+1)
	}
	return n
}

// boxes is how many nodes the rectangles about the metals hold together, allowed or not.
func (s *search) boxes(step int) float64 {
	n, size := 1.0, float64(step)*tenth
	for _, m := range s.moved() {
		box := m.metal.bounds(m.ball()).Size()
		n *= (box.X/size + 1) * (box.Y/size + 1)
	}
	return n
}

func (s *search) gridOf(step int) []node {
	nodes := []node{s.on(s.home(), [8]int{}, 0)}
	for _, m := range s.moved() {
		var next []node
		for _, n := range nodes {
			next = slices.AppendSeq(next, s.over(n, m, step))
		}
		nodes = next
	}
	return nodes
}

// over yields n with the co-ordinates of one hole running over its metal, where that allows it.
func (s *search) over(n node, hole moved, step int) iter.Seq[node] {
	size, first, bounds := float64(step)*tenth, hole.first, hole.metal.bounds(hole.ball())
	from := func(a int, low float64) int { return int(math.Ceil((low - s.origin[a]) / size)) }
	to := func(a int, high float64) int { return int(math.Floor((high - s.origin[a]) / size)) }
	return func(yield func(node) bool) {
		for i := from(first, bounds.X.Lo); i <= to(first, bounds.X.Hi); i++ {
			for k := from(first+1, bounds.Y.Lo); k <= to(first+1, bounds.Y.Hi); k++ {
				n[first], n[first+1] = s.coordinate(first, i*step), s.coordinate(first+1, k*step)
				if s.mayBe(n, hole) && !yield(n) {
					return
				}
			}
		}
	}
}

// mayBe reports whether a hole may be where a node has it; of two pins that move by themselves the first one does not
// care where the second one still is.
func (s *search) mayBe(n node, hole moved) bool {
	if s.r.Options.Each && hole.first == leftPin {
		return hole.metal.allows(r2.Point{X: n[leftPin], Y: n[leftPin+1]}, setup.Left, &s.r.Options)
	}
	return s.allowedIn(n, hole.metal)
}

// holes returns the places that are drilled already.
func (s *search) holes() (nodes []node) {
	nodes = []node{s.home()}
	for _, moved := range s.moved() {
		m := moved.metal
		for _, h := range m.Holes {
			if h.At.Sub(m.pins[0]).Norm() < sameHole || h.taken {
				continue // today's, or another rod's
			}
			n, at := s.home(), m.Plan(h.At)
			n[moved.first], n[moved.first+1] = s.clean(at.X), s.clean(at.Y)
			nodes = append(nodes, n)
		}
	}
	return nodes
}
