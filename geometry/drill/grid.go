package drill

import (
	"iter"
	"math"
	"slices"

	"github.com/golang/geo/r2"

	"locksweep/geometry/setup"
)

// cells returns how many nodes of a grid of a step (tenths) lie in the rectangle about a metal: of the metal with the most.
func (s *search) cells(step int) (most float64) {
	size := float64(step) * tenth
	for _, m := range s.r.Metals {
		box := m.bounds(setup.Left).Size()
		most = max(most, (box.X/size+1)*(box.Y/size+1))
	}
	return most
}

// grid returns the allowed nodes of the first grid, and its step in tenths. Where there are too many for the step wanted, a coarser one is
// taken, unless the step was asked for; the error is a *WorkError then, and where no step does.
func (s *search) grid() (nodes []node, step int, err error) {
	step = max(1, int(math.Round(s.r.Options.Step/tenth)))
	most := mostPlaces
	if len(s.axes) > 2 {
		most = mostBoth
	}
	asked := step
	for ; float64(step)*tenth <= max(coarsest, s.r.Options.Step); step += max(1, step/4) {
		if s.cells(step) > mostCells || s.count(step, most) > most {
			continue
		}
		if step > asked && s.r.Options.stepGiven {
			finer := math.Pow(float64(step)/float64(asked), float64(len(s.axes)))
			return nil, 0, &WorkError{max(float64(s.count(step, most))*finer, float64(most+1)), most, s.r.Options.Step, float64(step) * tenth}
		}
		s.r.Options.Step = float64(step) * tenth
		return s.gridOf(step), step, nil
	}
	return nil, 0, &WorkError{max(s.boxes(asked), float64(most+1)), most, s.r.Options.Step, 0}
}

// moved is a hole that moves by itself.
type moved struct {
	first int // its first co-ordinate in a node
	metal *Metal
}

// ball returns the side of the hole's ball.
func (m *moved) ball() setup.Side {
	if m.first >= rightArm {
		return setup.Right
	}
	return setup.Left
}

// moved lists the holes that move by themselves.
func (s *search) moved() (list []moved) {
	for _, m := range s.r.Metals {
		switch {
		case m.Drop && s.r.Options.Each:
			list = append(list, moved{leftPin, m}, moved{rightPin, m})
		case m.Drop:
			list = append(list, moved{leftPin, m})
		case m.Side == setup.Left || m.link:
			list = append(list, moved{leftArm, m})
		case s.r.Options.Each:
			list = append(list, moved{rightArm, m})
		}
	}
	return list
}

// count returns how many nodes gridOf would return at most, without making them, or most+1 where there are more, so that a grid far too fine
// costs no more to refuse than one a little too fine.
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

// boxes returns how many nodes a grid of a step (tenths) over the rectangles about the metals has, allowed or not.
func (s *search) boxes(step int) float64 {
	n, size := 1.0, float64(step)*tenth
	for _, m := range s.moved() {
		box := m.metal.bounds(m.ball()).Size()
		n *= (box.X/size + 1) * (box.Y/size + 1)
	}
	return n
}

// gridOf returns the allowed nodes of a grid of a step (tenths).
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

// mayBe reports whether a hole may be where a node has it. Of two pins that move by themselves the left one is placed first, wherever the
// right one still is.
func (s *search) mayBe(n node, hole moved) bool {
	if s.r.Options.Each && hole.first == leftPin {
		return hole.metal.allows(r2.Point{X: n[leftPin], Y: n[leftPin+1]}, setup.Left, &s.r.Options)
	}
	return s.allowedIn(n, hole.metal)
}

// holes returns the places whose holes are there already: today's, and for every other hole today's with one ball moved into it.
func (s *search) holes() (nodes []node) {
	nodes = []node{s.home()}
	for _, moved := range s.moved() {
		for _, h := range moved.metal.Holes {
			if h.At.Sub(moved.metal.pins[0]).Norm() >= sameHole && !h.taken {
				n, at := s.home(), moved.metal.Plan(h.At)
				n[moved.first], n[moved.first+1] = s.clean(at.X), s.clean(at.Y)
				nodes = append(nodes, n)
			}
		}
	}
	return nodes
}
