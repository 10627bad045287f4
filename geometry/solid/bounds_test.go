package solid

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"locksweep/fixtures/trial"
	"locksweep/geometry/planar"
	"locksweep/geometry/rigid"
)

// forSolids calls test for n random solids of each kind under a random motion; the model is unmoved.
func forSolids(seed uint64, n int, test func(rng *rand.Rand, kind string, s *Solid, m *model, by rigid.Motion)) {
	rng := rand.New(rand.NewPCG(seed, 0))
	for _, kind := range kinds {
		for range n {
			s, m := randomSolid(rng, kind)
			test(rng, kind, &s, &m, randomMotion(rng, 300))
		}
	}
}

func TestBoxIsExact(t *testing.T) {
	forSolids(1+trial.Seed, 200, func(rng *rand.Rand, kind string, s *Solid, m *model, by rigid.Motion) {
		moved := m.moved(by)
		low, high := s.Box(by)
		for _, c := range []struct {
			axis      r3.Vector
			low, high float64
		}{{r3.Vector{X: 1}, low.X, high.X}, {r3.Vector{Y: 1}, low.Y, high.Y}, {r3.Vector{Z: 1}, low.Z, high.Z}} {
			wantLow, wantHigh := -moved.reach(c.axis.Mul(-1)), moved.reach(c.axis)
			if !(math.Abs(c.low-wantLow) < 1e-9 && math.Abs(c.high-wantHigh) < 1e-9) {
				t.Errorf("%s: from %g to %g along %v, want %g to %g", kind, c.low, c.high, c.axis, wantLow, wantHigh)
			}
		}
		if l, h := s.Heights(by); l != low.Z || h != high.Z {
			t.Errorf("%s: heights %g, %g; box %g, %g", kind, l, h, low.Z, high.Z)
		}
	})
}

func TestSupportIsFurthest(t *testing.T) {
	forSolids(4+trial.Seed, 200, func(rng *rand.Rand, kind string, s *Solid, m *model, by rigid.Motion) {
		moved, dir := m.moved(by), randomVector(rng, 1).Normalize()
		posed := s.Under(by)
		p := posed.support(dir)
		if off := moved.off(p); !(off < 1e-9 && math.Abs(p.Dot(dir)-moved.reach(dir)) < 1e-9) {
			t.Errorf("%s: %v lies %g off the solid and reaches %g along %v, want %g", kind, p, off, p.Dot(dir), dir, moved.reach(dir))
		}
	})
}

// No sampled point may be further than a bound says, and some point nearly as far.
func TestReachIsTight(t *testing.T) {
	forSolids(2+trial.Seed, trial.Count(4, 30), func(rng *rand.Rand, kind string, s *Solid, m *model, by rigid.Motion) {
		axis := rigid.Axis{Point: randomVector(rng, 300), Dir: randomVector(rng, 1).Normalize()}
		centre, radius := s.Ball()
		reach, mostAxis := s.CoreReach(axis)+s.Round(), 0.0
		for range 2000 {
			p := m.surface(rng)
			// From the best corner outwards a sample soon comes near to the furthest point.
			for range 3 {
				away := p.Sub(axis.Point)
				p = m.nearest(axis.Point.Add(away.Sub(axis.Dir.Mul(away.Dot(axis.Dir))).Mul(100)).Add(axis.Dir.Mul(away.Dot(axis.Dir))))
			}
			mostAxis = math.Max(mostAxis, p.Sub(axis.Point).Cross(axis.Dir).Norm())
			if d := p.Sub(centre).Norm(); d > radius+1e-9 {
				t.Fatalf("%s: a point %g from the centre of the ball of %g", kind, d, radius)
			}
		}
		if mostAxis > reach+1e-9 || mostAxis < 0.99*reach-1e-9 {
			t.Errorf("%s: reach %g about an axis, %g sampled", kind, reach, mostAxis)
		}
	})
}

func TestReachOfKnownSolids(t *testing.T) {
	kingpin := rigid.Axis{Dir: r3.Vector{Z: 1}}
	tyre := Cylinder(r3.Vector{Y: 120}, r3.Vector{Y: 1}, 130, 60, 0)
	rod := Capsule(r3.Vector{X: 5}, r3.Vector{X: 300}, 8)
	along := rigid.Axis{Dir: r3.Vector{X: 1}}
	for _, c := range []struct {
		name              string
		got, want, excess float64
	}{
		{"tyre about its kingpin", tyre.CoreReach(kingpin) + tyre.Round(), math.Hypot(130, 180), 0.0013 * 130},
		{"rod about its own line", rod.CoreReach(along) + rod.Round(), 8, 0},
		{"rod's core about its own line", rod.CoreReach(along), 0, 0},
		{"rod about an upright axis", rod.CoreReach(kingpin) + rod.Round(), 308, 0},
		{"rod's core about an upright axis", rod.CoreReach(kingpin), 300, 0},
	} {
		if c.got < c.want-1e-9 || c.got > c.want+c.excess+1e-9 {
			t.Errorf("%s: %g, want %g", c.name, c.got, c.want)
		}
	}
}

// The plan lies within the true outline, by no more than 0.05 mm, in every direction.
func TestPlanFollowsTheOutline(t *testing.T) {
	forSolids(3+trial.Seed, 40, func(rng *rand.Rand, kind string, s *Solid, m *model, by rigid.Motion) {
		if rng.IntN(3) == 0 {
			by = squareMotion(rng).After(m.place.Inverse()) // seen along an axis
		}
		moved := m.moved(by)
		plan := s.Plan(by)
		for i := range 360 {
			sin, cos := math.Sincos(float64(i) * math.Pi / 180)
			most := math.Inf(-1)
			for _, p := range plan {
				most = math.Max(most, cos*p.X+sin*p.Y)
			}
			if want := moved.reach(r3.Vector{X: cos, Y: sin}); !(most < want+1e-8 && most > want-0.05) {
				t.Fatalf("%s: plan reaches %g at %d degrees, solid %g\n%v", kind, most, i, want, plan)
			}
		}
		for i := range plan {
			if len(plan) > 2 && planar.Orient(plan[i], plan[(i+1)%len(plan)], plan[(i+2)%len(plan)]) <= 0 {
				t.Fatalf("%s: plan not convex: %v", kind, plan)
			}
		}
	})
}

func TestPlanOfKnownSolids(t *testing.T) {
	for _, c := range []struct {
		name string
		s    Solid
		want []r2.Point
	}{
		{"box", box(3, 2, 1, r3.Vector{}), []r2.Point{{X: -3, Y: -2}, {X: 3, Y: -2}, {X: 3, Y: 2}, {X: -3, Y: 2}}},
		{"cylinder from the side", Cylinder(r3.Vector{}, r3.Vector{Y: 1}, 30, 20, 0),
			[]r2.Point{{X: -30, Y: -20}, {X: 30, Y: -20}, {X: 30, Y: 20}, {X: -30, Y: 20}}},
		{"segment", Capsule(r3.Vector{}, r3.Vector{X: 3, Y: 4, Z: 5}, 0), []r2.Point{{}, {X: 3, Y: 4}}},
		{"point", Capsule(r3.Vector{X: 1}, r3.Vector{X: 1}, 0), []r2.Point{{X: 1}}},
	} {
		got := c.s.Plan(rigid.Identity)
		for _, w := range c.want {
			least := math.Inf(1)
			for _, p := range got {
				least = math.Min(least, p.Sub(w).Norm())
			}
			if least > 1e-9 {
				t.Errorf("%s: plan %v lacks %v", c.name, got, w)
			}
		}
		if len(got) > len(c.want)+2 { // a circle seen edge on may leave a step of the last digit
			t.Errorf("%s: plan %v, want %v", c.name, got, c.want)
		}
	}
}
