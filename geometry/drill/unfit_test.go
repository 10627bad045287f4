package drill

import (
	"testing"

	"github.com/golang/geo/r2"

	"locksweep/fixtures/trial"
	"locksweep/geometry/planar"
	"locksweep/geometry/setup"
)

// TestMapHatchesWhatIsOutOfTheQuestion holds the area against places judged within the slip one by one: wherever a place would be listed with an alarm
// it is hatched, and nowhere else, but for what lies within a step of the map's grid of its edge. Of one hole for both rods likewise.
func TestMapHatchesWhatIsOutOfTheQuestion(t *testing.T) {
	answers := []*Result{search1(t, posted(), Arm, Aims{Percent: 100}, Options{NewMetal: true, Step: 20, Reach: 20, Best: 1})}
	if trial.Long() {
		answers = append(answers, searched(t, "shed-kart", DropArm, Options{Edge: 1.2, Web: 2.2, Step: 20, Best: 1}))
	}
	pace := trial.Every(6.5, 2.3) // of the places tried, mm
	for _, r := range answers {
		m, err := r.Map(LockFigure)
		if err != nil {
			t.Fatal(err)
		}
		s, first := r.search, r.search.axes[0]
		grid := 2 * s.chart.at[1].Sub(s.chart.at[0]).Norm()
		count := [2]int{}
		for x := m.Bounds.X.Lo; x < m.Bounds.X.Hi; x += pace {
			for y := m.Bounds.Y.Lo; y < m.Bounds.Y.Hi; y += pace {
				q := r2.Point{X: x, Y: y}
				if edge, _ := m.Metal.room(q); edge < 0 || q.Norm() < m.Metal.LeastLever || nearRings(m.Unfit, q, grid) || r.On == DropArm && y < grid && y > -grid {
					continue // one hole for both rods has no area
				}
				n, at := s.home(), m.Metal.Plan(q)
				n[first], n[first+1] = at.X, at.Y
				j := s.figures(n)
				if !j.possible {
					continue // white
				}
				s.surely(&j, nil, nil)
				in := 0
				if unsafe(&j.rank) {
					in = 1
				}
				if count[in]++; insideRings(m.Unfit, q) != (in == 1) {
					t.Errorf("%v: at %v hatched %v, judged %v", r.On, at, insideRings(m.Unfit, q), j.rank)
				}
			}
		}
		for i := 0; i < len(s.chart.judged); i += trial.Every(11, 1) { // and on the grid itself everywhere, next to the edge too
			j := s.chart.judged[i]
			if !j.possible {
				continue
			}
			if s.surely(&j, nil, unsafe); unsafe(&j.rank) != (s.chart.unfit[i] > 0) {
				t.Errorf("%v: %v hatched by %v, judged %v", r.On, j.node, s.chart.unfit[i], j.rank)
			}
		}
		if count[0] < 5 || count[1] < 5 {
			t.Errorf("%v: only %d places fit and %d out of the question", r.On, count[0], count[1])
		}
	}
}

// TestOneHoleLineIsFit: the line on which one hole may take both rods goes as far as that is fit, and no further.
func TestOneHoleLineIsFit(t *testing.T) {
	s := plane{640, 1040, -60, 60, 14}.setup(-100, -20)
	s.Limits.Clearance = 4
	s.Parts = []setup.Part{post(-100, 0, 8)} // in the way of a hole so far down
	r := prepared(t, s, DropArm, Options{NewMetal: true, Reach: 60})
	whole := [][]r2.Point{{{X: 30, Y: 0}, {X: 90, Y: 0}}}
	kept := r.search.fitLines(whole)
	length := 0.0
	for _, line := range kept {
		for i := 1; i < len(line); i++ {
			length += line[i].Sub(line[i-1]).Norm()
		}
	}
	if length < 5 || length > 55 {
		t.Errorf("%v mm of 60 are fit: this setup proves nothing", length)
	}
	for x := 30.25; x < 90; x += 3 {
		n := r.search.home()
		n[leftPin], n[leftPin+1] = x, 0
		j := r.search.figures(n)
		if j.possible {
			r.search.surely(&j, nil, nil)
		}
		on := false
		for _, line := range kept {
			on = on || x >= line[0].X && x <= line[len(line)-1].X
		}
		if fit := j.possible && j.rank.safe(); fit != on {
			t.Errorf("one hole %v down: fit %v (%v), on the line %v", x, fit, j.rank, on)
		}
	}
}

func insideRings(rings [][]r2.Point, q r2.Point) (in bool) {
	for _, ring := range rings {
		in = in != planar.Inside(ring, q)
	}
	return in
}

func nearRings(rings [][]r2.Point, q r2.Point, by float64) bool {
	for _, ring := range rings {
		if planar.ToEdge(ring, q) < by {
			return true
		}
	}
	return false
}
