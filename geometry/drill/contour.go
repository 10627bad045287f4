package drill

import (
	"math"
	"sync"

	"github.com/golang/geo/r2"

	"locksweep/geometry/setup"
)

// field is a figure on a grid of places in the plane of a metal, row by row. Between the places it is taken as
// linear in the four triangles of a cell, whose middle has the mean of the corners. NaN is no value.
type field struct {
	columns int
	at      []r2.Point
	values  []float64
}

// chart is a grid of places in the plane of a metal, row by row, judged once for the maps of all figures.
type chart struct {
	once    sync.Once
	columns int
	at      []r2.Point
	judged  []judged  // impossible, without a node, where nobody would look
	unfit   []float64 // by how much each is out of the question: see search.unfit
}

// field returns a map's figure on the grid of its metal.
func (s *search) field(m *Map) *field {
	s.chart.once.Do(func() { s.survey(m) })
	f := &field{columns: s.chart.columns, at: s.chart.at}
	for i := range s.chart.judged {
		f.values = append(f.values, m.Figure.of(&s.chart.judged[i]))
	}
	return f
}

// survey judges the grid of a map.
func (s *search) survey(m *Map) {
	metal, first := m.Metal, s.axes[0]
	step := max(2, int(math.Round(math.Sqrt(m.Bounds.Size().X*m.Bounds.Size().Y/mapPlaces)/tenth)))
	size := float64(step) * tenth
	box := metal.bounds(setup.Left).ExpandedByMargin(1.5 * size)
	from := func(a int, low float64) int { return int(math.Floor((low - s.origin[a]) / size)) }
	x0, x1 := from(first, box.X.Lo), from(first, box.X.Hi)
	y0, y1 := from(first+1, box.Y.Lo), from(first+1, box.Y.Hi)
	s.chart.columns = y1 - y0 + 1
	var nodes []node
	for i := x0; i <= x1; i++ {
		for k := y0; k <= y1; k++ {
			n := s.home()
			n[first], n[first+1] = s.coordinate(first, i*step), s.coordinate(first+1, k*step)
			nodes = append(nodes, n)
			s.chart.at = append(s.chart.at, metal.Plane(r2.Point{X: n[first], Y: n[first+1]}))
		}
	}
	near := 2 * size * math.Max(metal.columns[0].Norm(), metal.columns[1].Norm())
	s.chart.judged = each(nodes, func(n node) judged {
		q := metal.Plane(r2.Point{X: n[first], Y: n[first+1]})
		edge, _ := metal.room(q)
		if edge < -near || q.Norm() < metal.LeastLever-near {
			return judged{}
		}
		if i, known := s.known[n]; known && !s.pool[i].glanced {
			return s.pool[i]
		}
		return s.figures(n)
	}, nil)
	s.unfit()
}

// corner is a point of a triangle with its value.
type corner struct {
	at    r2.Point
	value float64
}

// triangles calls do with each triangle of the field that has all its values, counter-clockwise.
func (f *field) triangles(do func(t [3]corner)) {
	get := func(i int) corner { return corner{f.at[i], f.values[i]} }
	for row := 0; row+1 < len(f.at)/f.columns; row++ {
		for c := range f.columns - 1 {
			i := row*f.columns + c
			ring := [4]corner{get(i), get(i + f.columns), get(i + f.columns + 1), get(i + 1)}
			var mid corner
			for _, p := range ring {
				mid.at, mid.value = mid.at.Add(p.at.Mul(0.25)), mid.value+p.value/4
			}
			if math.IsNaN(mid.value) {
				continue
			}
			for k := range ring {
				do([3]corner{ring[k], ring[(k+1)%4], mid})
			}
		}
	}
}

// crossing returns where the side between two corners has a value. It is the same point whichever end comes first.
func crossing(a, b corner, level float64) r2.Point {
	if b.at.X < a.at.X || b.at.X == a.at.X && b.at.Y < a.at.Y {
		a, b = b, a
	}
	return a.at.Add(b.at.Sub(a.at).Mul((level - a.value) / (b.value - a.value)))
}

// part returns the part of a triangle at or above a level, and the line between it and the rest; cut is false where the level does not
// cross the triangle.
func part(t [3]corner, level float64) (ring []r2.Point, line [2]r2.Point, cut bool) {
	for i, a := range t {
		b := t[(i+1)%3]
		from, to := a.value >= level, b.value >= level
		if from {
			ring = append(ring, a.at)
		}
		if from != to {
			at, end := crossing(a, b, level), 0
			if to {
				end = 1
			}
			ring, line[end], cut = append(ring, at), at, true
		}
	}
	return ring, line, cut
}

// above returns the rings about what is at or above a level: the sides of the parts of all triangles, without those that two parts share.
func (f *field) above(level float64) [][]r2.Point {
	next := map[[2]r2.Point]bool{}
	var order [][2]r2.Point
	f.triangles(func(t [3]corner) {
		ring, _, _ := part(t, level)
		for i, a := range ring {
			b := ring[(i+1)%len(ring)]
			if a == b {
				continue
			}
			if back := [2]r2.Point{b, a}; next[back] {
				delete(next, back)
				continue
			}
			next[[2]r2.Point{a, b}] = true
			order = append(order, [2]r2.Point{a, b})
		}
	})
	kept := order[:0]
	for _, side := range order {
		if next[side] {
			kept = append(kept, side)
		}
	}
	return chain(kept)
}

// lines returns the lines of a level.
func (f *field) lines(level float64) [][]r2.Point {
	var sides [][2]r2.Point
	f.triangles(func(t [3]corner) {
		if _, line, cut := part(t, level); cut && line[0] != line[1] {
			sides = append(sides, line)
		}
	})
	return chain(sides)
}

// chain joins directed sides end to end, in their order: open chains first, then closed ones, which end where they began.
func chain(sides [][2]r2.Point) (lines [][]r2.Point) {
	starting := map[r2.Point][]int{} // those not used yet
	arriving := map[r2.Point]int{}
	for i, side := range sides {
		starting[side[0]] = append(starting[side[0]], i)
		arriving[side[1]]++
	}
	used := make([]bool, len(sides))
	for _, closed := range [2]bool{false, true} {
		for i, side := range sides {
			if at := side[0]; !used[i] && (closed || arriving[at] == 0) {
				line := []r2.Point{at}
				for len(starting[at]) > 0 {
					next := starting[at][0]
					starting[at], used[next], at = starting[at][1:], true, sides[next][1]
					line = append(line, at)
				}
				lines = append(lines, line)
			}
		}
	}
	return lines
}
