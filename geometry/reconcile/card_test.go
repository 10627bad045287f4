package reconcile

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/golang/geo/s1"

	"locksweep/fixtures/example"
	"locksweep/fixtures/trial"
	"locksweep/geometry/sweep"
	"locksweep/geometry/tolerance"
)

// cardOf is the card of a swept setup, sure of it by differences.
func cardOf(as *sweep.Result, tapes int) (*Card, error) {
	sure, err := tolerance.Run(as, tolerance.Options{Columns: Columns(as)})
	if err != nil {
		return nil, err
	}
	return Expect(sure, tapes)
}

// TestPlusMinusAgainstDraws: the card's ± hold 95 % of karts drawn at random within the accuracies of the file, as near as so many draws tell (four
// standard errors of the quantile of a normal distribution, 0.95/√n of it: derived). Where one figure outweighs the others 1.96 standard uncertainties,
// and no more than the worst, are up to a sixth too much: of half-widths 1 and 0.13 they are 1.13, and 95 % lie within 0.97 (derived).
func TestPlusMinusAgainstDraws(t *testing.T) {
	s := example.Read(t, "field-buggy") // its stops are declared, so that nothing jumps at the locks
	as, err := sweep.Run(s, s1.Degree)
	if err != nil {
		t.Fatal(err)
	}
	c, err := cardOf(as, 4)
	if err != nil {
		t.Fatal(err)
	}
	n := trial.Count(150, 3000)
	r := rand.New(rand.NewPCG(7, 0xca4d))
	steers := make([][2][]float64, len(c.Turns))
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
			for side := range p.Wheels {
				steers[i][side] = append(steers[i][side], float64(p.Wheels[side].Steer))
			}
		}
	}
	within := 4 * 0.95 / math.Sqrt(float64(n))
	for i, e := range c.Turns {
		for side, drawn := range steers[i] {
			slices.Sort(drawn)
			held, want := int(0.95*float64(n)), math.Inf(1)
			for k := range n - held {
				want = math.Min(want, (drawn[k+held]-drawn[k])/2)
			}
			if over := float64(e.PlusMinus[side])/want - 1; over < -within || over > 1.0/6+within {
				t.Errorf("at %v the wheel on side %d is said to ±%.5f, drawn ±%.5f, %.0f%% apart", e.Column, side, float64(e.PlusMinus[side]), want, 100*over)
			}
		}
	}
}

// TestEachWheelHasItsOwnPlusMinus: a wheel on an upright kingpin whose spindle stands against a stop declared to ±1° is known to just that at its own lock
// (derived), and its fellow, which it drives through the rods, to something else.
func TestEachWheelHasItsOwnPlusMinus(t *testing.T) {
	s := example.Read(t, "field-buggy", "kingpin.inclination=0", "kingpin.caster=0", "wheel.camber=0",
		`accuracy={place=0, height=0, hole=0, rod=0, outline=0, angle=0, keys={"limits.spindle"=1, "right.limits.spindle"=1, "arm.pickup[0]"=0.05}}`)
	as, err := sweep.Run(s, s1.Degree)
	if err != nil {
		t.Fatal(err)
	}
	c, err := cardOf(as, 0)
	if err != nil {
		t.Fatal(err)
	}
	for i, e := range [2]Expected{c.Turns[0], c.Turns[len(c.Turns)-1]} {
		inner := int(as.Locks[i].Pose.Turn.Inner)
		own, fellow := e.PlusMinus[inner].Degrees(), e.PlusMinus[1-inner].Degrees()
		if as.Locks[i].First().Kind != sweep.DeclaredStop || math.Abs(own-1) > 1e-3 || math.Abs(fellow-1) < 0.05 {
			t.Errorf("at the lock to the %v: its own ±%.4f, want 1; its fellow's ±%.4f", sweep.Direction(i), own, fellow)
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
		c, err := cardOf(as, 4)
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
	c, err := cardOf(as, 0)
	if err != nil {
		t.Fatal(err)
	}
	if want := 2 * 256 * math.Sin(math.Pi/180); math.Abs(c.Toe.Distance-want) > 1e-6 || len(c.Tapes) != 0 {
		t.Errorf("toe by tape %.4f, want %.4f; %d tapes", c.Toe.Distance, want, len(c.Tapes))
	}
}

// TestNoTapeOnWhatIsTooSmall: a card of a setup whose places all lie nearer to one another than a tape is worth has none.
func TestNoTapeOnWhatIsTooSmall(t *testing.T) {
	as, err := sweep.Run(example.Read(t, "shed-kart", "kingpin.spacing=20"), s1.Degree)
	if err != nil {
		t.Fatal(err)
	}
	if c, err := cardOf(as, 4); err != nil || len(c.Tapes) != 0 {
		t.Errorf("got %v, %v, want a card without tapes", c, err)
	}
}
