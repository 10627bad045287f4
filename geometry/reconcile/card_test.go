package reconcile

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/s1"

	"locksweep/fixtures/example"
	"locksweep/fixtures/trial"
	"locksweep/geometry/sweep"
)

// TestPlusMinusAgainstDraws: the card's ± are what karts drawn at random within the accuracies of the file scatter by, as near as
// so many draws tell, four standard errors of a standard deviation, 1/√(2n).
func TestPlusMinusAgainstDraws(t *testing.T) {
	s := example.Read(t, "field-buggy") // its stops are declared, so that nothing jumps at the locks
	as, err := sweep.Run(s, s1.Degree)
	if err != nil {
		t.Fatal(err)
	}
	c, err := Expect(as, 4)
	if err != nil {
		t.Fatal(err)
	}
	n := trial.Count(150, 3000)
	r := rand.New(rand.NewPCG(7, 0xca4d))
	sums, squares, most := make([]float64, len(c.Turns)), make([]float64, len(c.Turns)), make([]float64, len(c.Turns))
	for range n {
		drawn := s.Clone()
		for _, reading := range drawn.Readings() {
			by := reading.Accuracy * (2*r.Float64() - 1)
			for _, f := range reading.Figures {
				*f += by
			}
		}
		m, err := sweep.AsMeasured(drawn)
		if err != nil {
			t.Fatal(err)
		}
		for i, e := range c.Turns {
			p, _ := m.Pose(e.Column)
			if i == 0 {
				p = m.Lock(sweep.ToLeft).Pose
			} else if i == len(c.Turns)-1 {
				p = m.Lock(sweep.ToRight).Pose
			}
			by := float64(p.Wheels[0].Steer - e.Steer[0])
			sums[i] += by
			squares[i] += by * by
			most[i] = max(most[i], math.Abs(by))
		}
	}
	for i, e := range c.Turns {
		mean := sums[i] / float64(n)
		got := float64(e.PlusMinus[0]) / ninetyFive
		want := math.Sqrt(squares[i]/float64(n) - mean*mean)
		if got < want && most[i] <= float64(e.PlusMinus[0])+1e-9 {
			continue // one even error alone: ± is all that it can do, and no draw is further off
		}
		if within := 4 / math.Sqrt(2*float64(n)); math.Abs(got/want-1) > within {
			t.Errorf("at %v the left wheel's standard deviation is %.5f, drawn %.5f, %.0f%% apart", e.Column, got, want, 100*(got/want-1))
		}
	}
}

// TestCardColumns: steps of 10° within the locks; a rack, whose wheels turn less, is turned further.
func TestCardColumns(t *testing.T) {
	for name, least := range map[string]float64{"shed-kart": 10, "rack-buggy": 30} {
		as, err := sweep.Run(example.Read(t, name), s1.Degree)
		if err != nil {
			t.Fatal(err)
		}
		c, err := Expect(as, 4)
		if err != nil {
			t.Fatal(err)
		}
		first, last := c.Turns[0], c.Turns[len(c.Turns)-1]
		if first.Column != as.Locks[0].Column || last.Column != as.Locks[1].Column || !first.Lock || !last.Lock {
			t.Errorf("%s: from %v to %v, want the locks", name, first.Column, last.Column)
		}
		step := (c.Turns[len(c.Turns)/2-1].Column - c.Turns[len(c.Turns)/2].Column).Degrees()
		if step < least-1e-9 || name == "shed-kart" && math.Abs(step-10) > 1e-9 {
			t.Errorf("%s: steps of %g°", name, step)
		}
		for _, tape := range c.Tapes {
			if !(tape.PlusMinus > 0.4 && tape.PlusMinus < 20) || tape.Distance < leastTape {
				t.Errorf("%s: %+v", name, tape)
			}
		}
	}
}

// TestToeByTape: wheels of 256 mm with a degree of toe-in each are 2·256·sin 1° further apart behind than ahead (by hand).
func TestToeByTape(t *testing.T) {
	as, err := sweep.Run(example.Read(t, "shed-kart", "wheel.toe=1"), s1.Degree)
	if err != nil {
		t.Fatal(err)
	}
	c, err := Expect(as, 0)
	if err != nil {
		t.Fatal(err)
	}
	if want := 2 * 256 * math.Sin(math.Pi/180); math.Abs(c.Toe.Distance-want) > 1e-6 || len(c.Tapes) != 0 {
		t.Errorf("toe by tape %.4f, want %.4f; %d tapes", c.Toe.Distance, want, len(c.Tapes))
	}
}
