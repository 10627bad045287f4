package drill

import (
	"math"

	"gonum.org/v1/gonum/optimize"
)

const (
	starts    = 6   // places that the optimiser starts from after the grid
	again     = 1   // and for each place that is listed
	mostSteps = 100 // evaluations of one simplex
)

// simplexes are the sizes of the simplexes that follow one another, as shares of the first: a simplex may
// flatten out too soon, and a new one of another size goes on.
var simplexes = [...]float64{1, 0.3, 0.1, 0.3, 0.03}

// descend runs a simplex search (Nelder and Mead) from some of the best places of the pool that lie so far apart, mm.
// The least Ackermann error lies in a narrow, crooked valley that no grid follows to its bottom. What is
// found joins the pool.
func (s *search) descend(some int, apart float64, free func(node) bool) {
	var from []node
	for _, i := range s.order() {
		n := s.pool[i].node
		near := !free(n)
		for _, o := range from {
			near = near || o.apart(&n) < apart
		}
		if !near {
			from = append(from, n)
		}
		if len(from) == some {
			break
		}
	}
	known := len(s.pool)
	s.judge(each(from, func(n node) node { return s.descended(n, apart, free) }, func(done int) {
		if progress := s.r.Options.Progress; progress != nil {
			progress(known + done*mostSteps)
		}
	}))
}

// descended returns where the optimiser comes to from a node, to a millionth of a millimetre. Its first
// simplex has a given size, mm.
func (s *search) descended(from node, size float64, free func(node) bool) node {
	start := from.of(s.axes)
	problem := optimize.Problem{Func: func(x []float64) float64 {
		n := from.with(s.axes, x)
		if !free(n) || !s.allowed(n) {
			return 1e9 + from.apart(&n)
		}
		j := s.figures(n)
		return j.rank.cost()
	}}
	settings := optimize.Settings{
		FuncEvaluations: mostSteps,
		Converger:       &optimize.FunctionConverge{Absolute: 1e-8, Iterations: 25},
	}
	for _, share := range simplexes {
		// An error tells of a budget used up or of a flat place; the best place so far is good in any case.
		if result, _ := optimize.Minimize(problem, start, &settings, &optimize.NelderMead{SimplexSize: share * size}); result != nil && len(result.X) == len(start) {
			start = result.X
		}
	}
	return from.with(s.axes, start)
}

// of returns some of a node's co-ordinates; with is the node with them changed.
func (n node) of(axes []int) (x []float64) {
	for _, a := range axes {
		x = append(x, n[a])
	}
	return x
}

func (n node) with(axes []int, x []float64) node {
	for i, a := range axes {
		n[a] = math.Round(x[i]*1e6) / 1e6
	}
	return n
}

// cost puts a rank into one number for the optimiser: what counts earlier weighs so much more that it is
// hardly ever given up for what comes later. The answer itself is ordered by compare.
func (r *rank) cost() (cost float64) {
	weights := rank{Sense: 1e6, Leverage: 1e4, Lock: 1e3, Ratio: 1e4, Alike: 1e2, Ackermann: 1}
	for i, w := range weights {
		cost += w * min(r[i], 180) // a departure without meaning is as bad as any
	}
	if math.IsNaN(cost) {
		return 1e9
	}
	return cost
}
