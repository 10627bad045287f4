package drill

import (
	"math"
	"slices"

	"github.com/golang/geo/s1"
	"gonum.org/v1/gonum/optimize"

	"locksweep/geometry/sweep"
)

const (
	starts    = 6   // places that the optimiser starts from after the grid
	again     = 1   // and for each place that is listed
	mostSteps = 100 // evaluations of one simplex
)

// thoroughness is how closely the best place is searched out.
type thoroughness struct {
	// simplexes are the sizes of the simplexes that follow one another, as shares of the first: a simplex may
	// flatten out too soon, and a new one of another size goes on.
	simplexes []float64
	converger optimize.FunctionConverge // in the unit of rank.cost
	beam      int                       // how many of the best places are looked around at each step
	beamEdge  int                       // and how many of the trade
	window    int                       // how far about a place all neighbours are judged before it counts as settled, tenths
}

// beamBoth is the greatest beam with holes that move by themselves.
const beamBoth = 10

// thoroughness returns how closely to search: less closely where places that differ by less than a tie count as alike.
func (s *search) thoroughness() thoroughness {
	if tie := s.aims.Tie.Error.Degrees(); tie > 0 {
		return thoroughness{[]float64{1, 0.3}, optimize.FunctionConverge{Absolute: tie / 50, Iterations: 12}, 8, 8, 1}
	}
	return thoroughness{[]float64{1, 0.3, 0.1, 0.3, 0.03}, optimize.FunctionConverge{Absolute: 1e-8, Iterations: 25}, 24, 12, 5}
}

// descend runs a simplex search (Nelder and Mead) from some of the best places of the pool that are free and lie so far apart, mm, and adds
// what it finds to the pool: the least Ackermann error lies in a narrow, crooked valley that no grid follows to its bottom.
func (s *search) descend(some int, apart float64, free func(node) bool) {
	var from []int
	for len(from) < some {
		i := s.first(func(n node) bool {
			return free(n) && !slices.ContainsFunc(from, func(o int) bool { return s.pool[o].node.apart(&n) < apart })
		})
		if i < 0 {
			break
		}
		from = append(from, i)
	}
	known := len(s.pool)
	s.judge(each(from, func(i int) node { return s.descended(&s.pool[i], apart, free) }, func(done int) {
		s.tell(known + done*mostSteps)
	}))
}

// descended returns where the optimiser comes to from a place that is known within the slip, as it is written. Its first simplex has a given
// size, mm. Places on the way are taken to lose as much within the slip as the first one does: the last one, which joins the pool, is judged
// for itself then. The gaps of a place that is no better than the best so far are not looked at.
func (s *search) descended(first *judged, size float64, free func(node) bool) node {
	from, lost, steady := first.node, s.lossOf(first), s.steady(first)
	start, best := from.of(s.axes), math.Inf(1)
	problem := optimize.Problem{Func: func(x []float64) float64 {
		n := s.with(from, x)
		if !free(n) || !s.allowed(n) {
			return 1e9 + from.apart(&n)
		}
		j, m := s.made(n)
		if j.possible && j.rank.cost() < best {
			if steady {
				s.lose(&j, m, lost)
			} else {
				s.surely(&j, m, func(r *rank) bool { return r.cost() > best })
			}
			best = min(best, j.rank.cost())
		}
		return j.rank.cost()
	}}
	how := s.thoroughness()
	settings := optimize.Settings{FuncEvaluations: mostSteps, Converger: &how.converger}
	for _, share := range how.simplexes {
		// An error tells of a budget used up or of a flat place; the best place so far is good in any case.
		if result, _ := optimize.Minimize(problem, start, &settings, &optimize.NelderMead{SimplexSize: share * size}); result != nil && len(result.X) == len(start) {
			start = result.X
		}
	}
	return s.with(from, start)
}

// loss is how much worse a place does within the slip than by itself.
type loss struct {
	lock, transmission s1.Angle
	clearance          float64 // mm
}

// steady reports whether a place loses in figures alone within the slip: it stays possible and its stops are as good.
func (s *search) steady(j *judged) bool {
	own := j.Figures.itself(nothingNear)
	return !j.Within.Impossible && own.unsound(s.aims.Cut) == j.Within.unsound(s.aims.Cut)
}

// lossOf returns what a place that is known within the slip loses there; of gaps, as far as they are looked at.
func (s *search) lossOf(j *judged) loss {
	near := s.nearAt(j.node)
	own := s.itself(j, nil, near)
	return loss{
		j.Figures.Lock() - j.Within.Lock, j.Transmission - j.Within.Transmission,
		min(own.nearest.Gap, near) - min(j.Within.Clearance, near),
	}
}

// lose ranks a place, whose model is m, as if it lost so much within the slip.
func (s *search) lose(j *judged, m *sweep.Model, l loss) {
	near := s.nearAt(j.node)
	w := j.Figures.itself(s.itself(j, m, near).nearest)
	w.Lock, w.Transmission, w.Clearance = w.Lock-l.lock, w.Transmission-l.transmission, min(w.Clearance, near)-l.clearance
	j.rank = s.aims.rank(&j.Figures, &w)
}

// nearAt returns up to which gaps of a place are looked at, mm: see near.
func (s *search) nearAt(n node) float64 { return s.near(len(s.off(n))) }

// of returns some of a node's co-ordinates.
func (n node) of(axes []int) (x []float64) {
	for _, a := range axes {
		x = append(x, n[a])
	}
	return x
}

// with returns the node with other values of the co-ordinates that may change, as they are written.
func (s *search) with(n node, x []float64) node {
	for i, a := range s.axes {
		n[a] = s.written(x[i])
	}
	return n
}

// cost returns a rank as one number for the optimiser, less for better: an aim that counts earlier weighs so much more that it is hardly
// ever given up for a later one. The answer itself is ordered by compare.
func (r *rank) cost() (cost float64) {
	weights := rank{Sense: 1e7, Stop: 1e6, Clearance: 1e5, Leverage: 1e4, Lock: 1e3, Ratio: 1e4, Alike: 1e2, Ackermann: 1}
	for i, w := range weights {
		cost += w * min(r[i], 180) // a departure without meaning is as bad as any
	}
	if math.IsNaN(cost) {
		return 1e9
	}
	return cost
}
