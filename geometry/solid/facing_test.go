package solid

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/fixtures/trial"
	"locksweep/geometry/rigid"
)

// TestFacingAgreesWithDistance: what it gives are points as far apart as the solids, and where two bars lie along one another, a last bit
// askew either way, the same ones.
func TestFacingAgreesWithDistance(t *testing.T) {
	met, tried := 0, 0
	forSolids(71+trial.Seed, 200, func(rng *rand.Rand, kind string, s *Solid, _ *model, by rigid.Motion) {
		other := Capsule(r3.Vector{X: 900}, r3.Vector{X: 900, Y: 40, Z: 15}, 5)
		gap, _, _ := Distance(s, &other, by, rigid.Identity)
		if gap <= 0 {
			return
		}
		tried++
		a, b, ok := Facing(s, &other, by, rigid.Identity, gap)
		if !ok {
			return
		}
		met++
		if off := a.Distance(b) - gap; math.Abs(off) > 2e-6 {
			t.Errorf("%s: points %g mm apart, gap %g", kind, a.Distance(b), gap)
		}
	})
	if met < tried/2 || tried == 0 {
		t.Errorf("%d of %d came to the gap", met, tried)
	}
	bar, along := Capsule(r3.Vector{}, r3.Vector{X: 100}, 5), Capsule(r3.Vector{X: 20, Y: 30}, r3.Vector{X: 140, Y: 30}, 8)
	var first r3.Vector
	for i, askew := range []s1.Angle{0, 1e-14, -1e-14} {
		m := rigid.About(rigid.Axis{Dir: r3.Vector{Z: 1}}, askew)
		gap, _, _ := Distance(&bar, &along, m, rigid.Identity)
		a, _, ok := Facing(&bar, &along, m, rigid.Identity, gap)
		if i == 0 {
			first = a
		}
		if !ok || a.Distance(first) > 1e-9 || math.Abs(gap-17) > 1e-9 || a.X < 20 || a.X > 100 {
			t.Errorf("askew by %g: gap %v at %v, not %v", float64(askew), gap, a, first)
		}
	}
}
