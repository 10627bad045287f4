package clearance

import (
	"errors"
	"math"
	"slices"
	"testing"

	"github.com/golang/geo/r3"

	"locksweep/fixtures/trial"
	"locksweep/geometry/linkage"
	"locksweep/geometry/setup"
)

// TestRefitIsNew with parts on all bodies and rods of given length, which turn the wheels straight ahead.
func TestRefitIsNew(t *testing.T) {
	compared, turned := 0, 0
	for seed := range uint64(150) {
		s := tiltedSetup(seed)
		m, _, ok := apartAhead(s)
		if !ok {
			continue
		}
		for side := range s.Corners {
			s.Corners[side].Rod.Length = m.Rods[side].Derived
		}
		base, err := scene(t, s)
		if err != nil {
			continue
		}
		moved := *s
		for side := range moved.Corners {
			moved.Corners[side].Rod.Length += float64(seed%5) - 2
			moved.Corners[side].Arm.Pickup.X += float64(seed % 3)
		}
		m, err = linkage.New(&moved)
		if err != nil {
			continue
		}
		fit, err := base.Refit(&moved, m)
		fresh, want := New(&moved, m)
		var one, other *TouchError
		if errors.As(err, &one) != errors.As(want, &other) || one != nil && len(one.Pairs) != len(other.Pairs) {
			t.Fatalf("seed %d: refit says %v, new %v", seed, err, want)
		}
		if err != nil {
			continue
		}
		compared++
		if fit.spindles() != base.spindles() {
			turned++
		}
		if a, b := countPairs(fit), countPairs(fresh); a < b {
			t.Fatalf("seed %d: %d pairs, new %d", seed, a, b)
		}
		for p := range fit.pairs {
			for i := range p.meets {
				m := fit.meeting(p, &p.meets[i])
				if p.alone != linkage.Frame && fit.restarted {
					continue // of use only from the start that it was found from
				}
				if v, gap := p.meets[i].start, m.gapAt(&fit.start.pose); v.known && (v.gap > gap+1e-6 || !v.least && v.gap < gap-1e-6 && v.gap < farOff) {
					t.Fatalf("seed %d, %v: %g straight ahead, noted %g", seed, fit.PairNames(p.pieces), gap, v.gap)
				}
			}
		}
		for _, dir := range []float64{1, -1} {
			a, b := fit.Contacts(free(m, dir)), fresh.Contacts(free(m, dir))
			if !slices.EqualFunc(a, b, func(x, y Near) bool { return x.Pair == y.Pair && math.Abs((x.Column-y.Column).Degrees()) < 1e-4 }) {
				t.Errorf("seed %d: contacts %v, new %v", seed, a, b)
			}
		}
	}
	if compared < trial.Enough(50) || turned < trial.Enough(20) {
		t.Errorf("%d compared, %d with wheels turned straight ahead", compared, turned)
	}
}

func countPairs(sc *Scene) (n int) {
	for range sc.pairs {
		n++
	}
	return n
}

// TestRefitMeasuresAgain: a boom on the column beside the left tyre, and rods that turn the wheels anew.
func TestRefitMeasuresAgain(t *testing.T) {
	s := plainSetup()
	s.Parts = []setup.Part{{Name: "boom", On: setup.OnColumn, Tube: &setup.Tube{Diameter: 20, Path: []r3.Vector{{Z: 90}, {Y: 310, Z: 90}}}}}
	m, err := linkage.New(s)
	if err != nil {
		t.Fatal(err)
	}
	for side := range s.Corners {
		s.Corners[side].Rod.Length = m.Rods[side].Derived
	}
	base, err := scene(t, s)
	if err != nil {
		t.Fatal(err)
	}
	moved := *s
	moved.Corners[setup.Left].Rod.Length += 8
	if m, err = linkage.New(&moved); err != nil {
		t.Fatal(err)
	}
	fit, err := base.Refit(&moved, m)
	if err != nil {
		t.Fatal(err)
	}
	looked := false
	for p := range fit.pairs {
		if names := fit.PairNames(p.pieces); names != [2]string{"left tyre", "boom"} {
			continue
		}
		looked = true
		m := fit.meeting(p, &p.meets[0])
		if got, want := p.meets[0].start.gap, m.gapAt(&fit.start.pose); math.Abs(got-want) > 1e-9 || math.Abs(want-m.gapAt(&base.start.pose)) < 0.1 {
			t.Errorf("noted %g, it is %g and was %g", got, want, m.gapAt(&base.start.pose))
		}
	}
	if !looked {
		t.Error("the boom and the tyre are no pair")
	}
}
