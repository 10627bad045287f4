package drill

import (
	"math"

	"github.com/golang/geo/r2"
)

// unfit fills in by how much the places of the chart are out of the question, mm, with a drill that wanders: more than 0 where one would be
// listed with an alarm. What has no length counts as a whole millimetre; NaN is no place, or one that cannot be.
func (s *search) unfit() {
	c := &s.chart
	slack := 4 * s.r.Options.Slip // more than a gap changes within the slip
	index := make([]int, len(c.judged))
	for i := range index {
		index[i] = i
	}
	own := each(index, func(i int) judged {
		j := c.judged[i]
		if j.possible && !j.sure {
			x := s.itself(&j, nil, s.near(1)+slack)
			j.Within, j.seen = j.Figures.itself(x.nearest), nil
			j.rank = s.aims.rank(&j.Figures, &j.Within)
		}
		return j
	}, nil)
	barred := func(i int) bool { return own[i].node != node{} && !own[i].rank.safe() }
	beside := func(i int) bool {
		for _, row := range [3]int{-c.columns, 0, c.columns} {
			for k := i + row - 1; k <= i+row+1; k++ {
				if k >= 0 && k < len(own) && barred(k) {
					return true
				}
			}
		}
		return false
	}
	c.unfit = each(index, func(i int) float64 {
		j := own[i]
		if j.possible && !j.sure && j.rank.safe() && (j.Within.Clearance < s.aims.Clearance+slack || beside(i)) {
			s.surely(&j, nil, unsafe)
		}
		return s.unfitBy(&j)
	}, nil)
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
