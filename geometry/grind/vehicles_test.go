package grind

import (
	"errors"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"locksweep/fixtures/random"
	"locksweep/fixtures/trial"
	"locksweep/geometry/region"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// Whatever the vehicle (arms ahead, sides that differ, rods of given length, tilted kingpins): a plan holds
// when it is swept afresh, or is refused with a most that can be had.
func TestPlansHoldOnAnyVehicle(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 3))
	planned, refused := 0, 0
	wanted := trial.Count(2, 30)
	for seed := uint64(0); seed < 1200 && planned < wanted; seed++ {
		s := random.FromSeed(seed)
		s.Limits.Transmission = 10 * s1.Degree
		s.Limits.Clearance = 4 * r.Float64()
		both := [2]bool{true, true}
		s.Parts = []setup.Part{
			{Name: "lug", On: setup.OnSpindle, Sides: both, Grind: true, Plate: &setup.Plate{Outline: star(r, r2.Point{}, 9, 12, 40), Lower: 50, Upper: 62}},
			{Name: "post", On: setup.OnFrame, AtKingpin: true, Sides: both,
				Plate: &setup.Plate{Outline: star(r, r2.Point{X: 60 - 120*r.Float64(), Y: -20 - 40*r.Float64()}, 6, 6, 18), Lower: 45, Upper: 70}},
		}
		s.Ignore = [][2]string{{"lug", "tyre"}, {"post", "tyre"}, {"lug", "tie rod"}, {"post", "tie rod"}}
		m, err := sweep.New(s)
		if err != nil {
			continue
		}
		target := to(15 + 20*r.Float64())
		study, err := look(m, BySteer, plain)
		if err != nil {
			if !errors.Is(err, ErrOpposed) {
				t.Errorf("seed %d: %v", seed, err)
			}
			continue
		}
		p, err := study.plan(target)
		var beyond *BeyondError
		if errors.As(err, &beyond) {
			refused++
			steer := min(beyond.Plan.Most[0].Steer, beyond.Plan.Most[1].Steer) - 0.01*s1.Degree
			if steer > 2*s1.Degree {
				if p, err = study.plan(Target{BySteer, steer}); err != nil {
					t.Errorf("seed %d: the most, %v, is refused too: %v", seed, steer, err)
				}
			}
		} else if err != nil {
			t.Errorf("seed %d: %v", seed, err)
		}
		if err != nil || p == nil || len(p.Cuts) == 0 {
			continue
		}
		planned++
		for _, c := range p.Cuts {
			whole := region.Of(c.Before).Area()
			near(t, "removed and kept", c.Area+region.Of(c.After).Area(), whole, 1e-6*whole)
			// Within today's lock nothing is cut: what comes near there comes near as before.
			asToday := p.Columns[0].Abs() <= p.Before[0].Column.Abs() || p.Columns[1].Abs() <= p.Before[1].Column.Abs()
			if !asToday && c.Passes < s.Limits.Clearance-0.02 {
				t.Errorf("passes at %g, want %g", c.Passes, s.Limits.Clearance)
			}
		}
		if t.Failed() {
			t.Fatalf("seed %d", seed)
		}
	}
	t.Logf("%d planned, %d refused first", planned, refused)
	if planned < wanted {
		t.Errorf("only %d plans", planned)
	}
}
