package drill

import (
	"math"
	"slices"

	"github.com/golang/geo/r2"

	"locksweep/geometry/cores"
)

// unfit fills in by how much the places of the chart are out of the question within the slip: see unfitBy. To save work, a place that is fit
// by itself is looked at within the slip only where its gap may fall too far, or beside a place that is unfit: at the edge of the hatching.
func (s *search) unfit() {
	c := &s.chart
	far := s.near(1) + 4*s.r.Options.Slip // gaps are measured up to this, mm, to see how fast they fall
	own := each(c.judged, func(j judged) judged {
		if j.possible && !j.sure {
			x := s.itself(&j, nil, far)
			j.Within, j.seen = j.Figures.itself(x.nearest), nil
			j.rank = s.aims.rank(&j.Figures, &j.Within)
		}
		return j
	}, nil)
	falls := make([]bool, len(own))
	for i := range own {
		falls[i] = s.falls(own, i, far)
	}
	unfit := func(k int) bool { return unsafe(&own[k].rank) }
	for more := true; more; {
		var looked []int
		for i := range own { // what has been looked at is sure or unfit
			if j := &own[i]; j.possible && !j.sure && !unfit(i) && (falls[i] || slices.ContainsFunc(c.beside(i), unfit)) {
				looked = append(looked, i)
			}
		}
		cores.Each(len(looked), func(k int) { s.surely(&own[looked[k]], nil, unsafe) }, nil)
		more = len(looked) > 0
	}
	for i := range own {
		c.unfit = append(c.unfit, s.unfitBy(&own[i]))
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

// falls reports whether the gap of a place, known up to far, mm, may fall within the slip under what is wanted: at twice the rate at which it
// changes towards any place of the chart beside it. A gap is the least of many that each change nearly evenly, so on the way to a place
// beside it falls nowhere faster than over the last of that way.
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

// unfitBy returns by how much a place is out of the question, as far as is known of it, in mm of gap that it lacks, from -1 to 1: more than 0
// where it would be listed with an alarm. Reasons that have no length count as 1; it is NaN where the steering is impossible.
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
