package drill

import (
	"math"
	"slices"

	"github.com/golang/geo/r2"
)

// unfit fills in by how much the places of the chart are out of the question, mm, with a drill that wanders: more than 0 where one would be
// listed with an alarm. What has no length counts as a whole millimetre; NaN is no place, or one that cannot be.
func (s *search) unfit() {
	c := &s.chart
	index := make([]int, len(c.judged))
	for i := range index {
		index[i] = i
	}
	far := s.near(1) + 4*s.r.Options.Slip // as far as gaps are looked at: how fast they fall is to be seen
	own := each(index, func(i int) judged {
		j := c.judged[i]
		if j.possible && !j.sure {
			x := s.itself(&j, nil, far)
			j.Within, j.seen = j.Figures.itself(x.nearest), nil
			j.rank = s.aims.rank(&j.Figures, &j.Within)
		}
		return j
	}, nil)
	open := slices.DeleteFunc(index, func(i int) bool { return !own[i].possible || own[i].sure || !own[i].rank.safe() })
	falls := map[int]bool{}
	for _, i := range open {
		falls[i] = s.falls(own, i, far)
	}
	for len(open) > 0 {
		var looked, rest []int // those that lie beside what is out of the question are the edge of the hatching
		for _, i := range open {
			if falls[i] || slices.ContainsFunc(c.beside(i), func(k int) bool { return own[k].node != node{} && !own[k].rank.safe() }) {
				looked = append(looked, i)
			} else {
				rest = append(rest, i)
			}
		}
		for k, j := range each(looked, func(i int) judged {
			j := own[i]
			s.surely(&j, nil, unsafe)
			return j
		}, nil) {
			own[looked[k]] = j
		}
		if open = rest; len(looked) == 0 {
			break
		}
	}
	c.unfit = make([]float64, len(own))
	for i := range own {
		c.unfit[i] = s.unfitBy(&own[i])
	}
}

// beside lists the places of a chart about one.
func (c *chart) beside(i int) (list []int) {
	for _, row := range [3]int{-c.columns, 0, c.columns} {
		for k := i + row - 1; k <= i+row+1; k++ {
			if k >= 0 && k < len(c.judged) && k != i {
				list = append(list, k)
			}
		}
	}
	return list
}

// falls reports whether the gap of a place may fall within the slip under what is wanted: at twice the rate at which it falls to any place of
// the chart beside it. Gaps are known up to far, mm. They are the least of many, each of which changes nearly evenly, so that on the way to a
// place beside they fall nowhere faster than in the end.
func (s *search) falls(own []judged, i int, far float64) bool {
	c, gap, rate := &s.chart, min(own[i].Within.Clearance, far), 0.0
	for _, k := range c.beside(i) {
		if own[k].possible {
			rate = max(rate, math.Abs(gap-min(own[k].Within.Clearance, far))/c.at[i].Sub(c.at[k]).Norm())
		}
	}
	return gap-2*rate*s.r.Options.Slip < s.aims.Clearance-0.005
}

func unsafe(r *rank) bool { return !r.safe() }

// unfitBy is by how much a place is out of the question, as far as is known of it.
func (s *search) unfitBy(j *judged) float64 {
	switch {
	case !j.possible:
		return math.NaN()
	case j.rank[Sense] > 0 || j.rank[Stop] > 0 || j.Within.Impossible:
		return 1
	}
	return max(-1, min(1, s.aims.Clearance-j.Within.Clearance-0.01))
}

// fitLines keeps the stretches of lines of a drop arm on which one hole for both rods is not out of the question.
func (s *search) fitLines(lines [][]r2.Point) (kept [][]r2.Point) {
	const pace = 1.0 // mm
	for _, line := range lines {
		for i := 1; i < len(line); i++ {
			from, to := line[i-1], line[i]
			steps := int(math.Ceil(to.Sub(from).Norm() / pace))
			points := make([]r2.Point, steps+1)
			for k := range points {
				points[k] = from.Add(to.Sub(from).Mul(float64(k) / float64(max(1, steps))))
			}
			fit := each(points, func(q r2.Point) bool {
				n, at := s.home(), s.r.Metals[0].Plan(q)
				n[leftPin], n[leftPin+1] = s.written(at.X), at.Y
				j := s.figures(n)
				if j.possible && !unsafe(&j.rank) {
					s.surely(&j, nil, unsafe)
				}
				return j.possible && !unsafe(&j.rank)
			}, nil)
			var run []r2.Point
			for k, q := range points {
				if fit[k] {
					run = append(run, q)
				}
				if (!fit[k] || k == steps) && len(run) > 0 {
					if len(run) > 1 {
						kept = append(kept, run)
					}
					run = nil
				}
			}
		}
	}
	return kept
}
