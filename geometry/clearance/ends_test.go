package clearance

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/fixtures/random"
	"locksweep/fixtures/trial"
	"locksweep/geometry/linkage"
	"locksweep/geometry/rigid"
	"locksweep/geometry/setup"
	"locksweep/geometry/solid"
)

// TestLeastGapsUpToADeadPoint: a lock at a dead point, either way or both, is looked through to its very end.
func TestLeastGapsUpToADeadPoint(t *testing.T) {
	const near = 20.0
	looked := 0
	for seed := uint64(0); seed < 200; seed++ {
		s := random.FromSeed(seed)
		m, err := linkage.New(s)
		if err != nil {
			t.Fatal(err)
		}
		sc, err := New(s, m)
		if err != nil {
			continue
		}
		var ends [2]s1.Angle // to the left, to the right
		dead := false
		for d, dir := range [2]float64{1, -1} {
			ends[d] = s1.Angle(dir) * 0.5
			for _, side := range setup.Sides {
				if c, found := m.DeadPoint(int(side), dir); found && (!dead || c.Abs() < ends[d].Abs()) {
					ends[d], dead = c, true
				}
			}
			for _, side := range setup.Sides {
				if c, found := m.OverCentre(int(side), dir); found && c.Abs() < ends[d].Abs() {
					ends[d], dead = c, false
				}
			}
		}
		if !dead {
			continue
		}
		looked++
		list := sc.Nearest(ends[1], ends[0], near)
		for p := range sc.pairs {
			least := math.Inf(1)
			for i := range 201 {
				share := s1.Angle(float64(i) / 200)
				pose, ok := m.Pose(ends[1]*(1-share) + ends[0]*share)
				if !ok || p.unchecked {
					continue
				}
				gap, _, _ := sc.Gap(p.pieces, &pose)
				least = math.Min(least, math.Max(gap, 0))
			}
			found := math.Inf(1)
			for _, n := range list {
				if n.Pair == p.pieces {
					found = n.Gap
				}
			}
			if least < near-0.2 && !(found <= least+0.2) {
				t.Errorf("seed %d: %v come as near as %.2f between %v and %v, %.2f told", seed, sc.PairNames(p.pieces), least, ends[1], ends[0], found)
			}
		}
	}
	if looked < trial.Enough(20) {
		t.Errorf("only %d setups end at a dead point", looked)
	}
}

// TestArmStandsWhereThePlumbBobFoundIt: on a kingpin that leans, each corner of the outline stands straight above
// its plan, half way between the metal's faces: 1 mm beyond it there is no metal, 1 mm within there is.
func TestArmStandsWhereThePlumbBobFoundIt(t *testing.T) {
	s := random.FromSeed(1)
	for side := range s.Corners {
		c := &s.Corners[side]
		c.Kingpin = setup.Kingpin{Height: 200, Inclination: 14 * s1.Degree, Caster: 18 * s1.Degree}
		c.Arm.Metal = setup.Metal{Outline: []r2.Point{{X: -110, Y: -40}, {X: 20, Y: -20}, {X: 20, Y: 20}, {X: -110, Y: -10}}, Lower: -45, Upper: -35}
	}
	m, err := linkage.New(s)
	if err != nil {
		t.Fatal(err)
	}
	b := builder{setup: s, mechanism: m}
	for _, side := range setup.Sides {
		b.pieces = nil
		b.arm(side)
		gap := func(at r3.Vector) float64 {
			least, pin := math.Inf(1), solid.Capsule(at, at, 1e-6)
			for i := range b.pieces[0].Solids {
				g, _, _ := solid.Distance(&b.pieces[0].Solids[i], &pin, rigid.Identity, rigid.Identity)
				least = math.Min(least, g)
			}
			return least
		}
		tan := func(d float64) float64 { return math.Tan(d * math.Pi / 180) }
		lean := math.Sqrt(1 + tan(14)*tan(14) + tan(18)*tan(18))
		outline := s.Corners[side].Arm.Metal.Outline
		for i, p := range outline {
			// The mid plane, 40 mm below the centre along a kingpin whose top leans back and inboard: -f tan 18° - o tan 14° + u = -40·lean.
			over := func(p r2.Point) r3.Vector {
				return s.CornerPoint(side, r3.Vector{X: p.X, Y: p.Y, Z: p.X*tan(18) + p.Y*tan(14) - 40*lean})
			}
			next, last := outline[(i+1)%4], outline[(i+3)%4]
			inward := next.Sub(p).Normalize().Add(last.Sub(p).Normalize()).Normalize()
			if g := gap(over(p)); math.Abs(g) > 1e-5 {
				t.Errorf("%v: corner %v stands %.3f mm off", side, p, g)
			}
			if out, in := gap(over(p.Sub(inward))), gap(over(p.Add(inward))); out < 0.5 || in > 0 {
				t.Errorf("%v: corner %v: 1 mm beyond it %.3f mm of room, 1 mm within %.3f", side, p, out, in)
			}
		}
	}
}
