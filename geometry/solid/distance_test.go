package solid

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/fixtures/trial"
	"locksweep/geometry/rigid"
)

func box(x, y, z float64, at r3.Vector) Solid {
	return plateOf([]r2.Point{{X: -x, Y: -y}, {X: x, Y: -y}, {X: x, Y: y}, {X: -x, Y: y}}, -z, z,
		rigid.Motion{Turn: rigid.Identity.Turn, Shift: at})
}

// The gaps follow from the closed forms for segments, discs, boxes and cylinders in Ericson, Real-Time
// Collision Detection, and Eberly, Geometric Tools (memory), worked out by hand.
func TestClosedForms(t *testing.T) {
	v := func(x, y, z float64) r3.Vector { return r3.Vector{X: x, Y: y, Z: z} }
	cube := box(10, 10, 10, r3.Vector{})
	upright := Cylinder(v(0, 0, 0), v(0, 0, 1), 30, 20, 0)
	tilted := Cylinder(v(0, 0, 100), v(math.Sin(0.4), 0, math.Cos(0.4)), 50, 0, 0)
	for _, c := range []struct {
		name string
		a, b Solid
		want float64
	}{
		{"two points", Capsule(v(1, 2, 3), v(1, 2, 3), 0), Capsule(v(4, 6, 15), v(4, 6, 15), 0), 13},
		{"two balls", Capsule(v(0, 0, 0), v(0, 0, 0), 5), Capsule(v(3, 4, 12), v(3, 4, 12), 6), 2},
		{"overlapping balls", Capsule(v(0, 0, 0), v(0, 0, 0), 5), Capsule(v(0, 0, 8), v(0, 0, 8), 6), -3},
		{"concentric balls", Capsule(v(1, 1, 1), v(1, 1, 1), 5), Capsule(v(1, 1, 1), v(1, 1, 1), 6), -11},
		{"point and box face", Capsule(v(3, -4, 17), v(3, -4, 17), 0), cube, 7},
		{"point and box edge", Capsule(v(13, -4, 14), v(13, -4, 14), 0), cube, 5},
		{"point and box corner", Capsule(v(13, -14, 22), v(13, -14, 22), 0), cube, 13},
		{"point on a box face", Capsule(v(3, 4, 10), v(3, 4, 10), 0), cube, 0},
		{"point at a box corner", Capsule(v(10, 10, 10), v(10, 10, 10), 0), cube, 0},
		{"point inside a box", Capsule(v(3, 4, 5), v(3, 4, 5), 0), cube, 0},
		{"box in a box", box(1, 1, 1, v(2, 2, 2)), cube, 0},
		{"boxes face to face, in touch", cube, box(10, 10, 10, v(20, 3, 4)), 0},
		{"boxes edge to edge, in touch", cube, box(10, 10, 10, v(20, 20, 4)), 0},
		{"boxes corner to corner", cube, box(10, 10, 10, v(23, 24, 32)), 13},
		{"boxes a hair apart", cube, box(10, 10, 10, v(20.00001, 3, 4)), 0.00001},
		{"two sheets in one plane", box(10, 10, 0, v(0, 0, 0)), box(10, 10, 0, v(27, 0, 0)), 7},
		{"two sheets in one plane, overlapping", box(10, 10, 0, v(0, 0, 0)), box(10, 10, 0, v(7, 0, 0)), 0},
		{"skew segments", Capsule(v(-9, 0, 0), v(5, 0, 0), 0), Capsule(v(1, -7, 4), v(1, 8, 4), 0), 4},
		{"crossing segments", Capsule(v(-9, 0, 0), v(5, 0, 0), 0), Capsule(v(1, -7, 0), v(1, 8, 0), 0), 0},
		{"crossing capsules", Capsule(v(-9, 0, 0), v(5, 0, 0), 3), Capsule(v(1, -7, 0), v(1, 8, 0), 2), -5},
		{"parallel segments side by side", Capsule(v(0, 0, 0), v(10, 0, 0), 0), Capsule(v(4, 3, 4), v(20, 3, 4), 0), 5},
		{"segments in line", Capsule(v(0, 0, 0), v(10, 0, 0), 0), Capsule(v(14, 0, 0), v(20, 0, 0), 0), 4},
		{"segments in line, overlapping", Capsule(v(0, 0, 0), v(10, 0, 0), 0), Capsule(v(8, 0, 0), v(20, 0, 0), 0), 0},
		{"one solid twice", upright, upright, 0},
		{"coaxial discs", Cylinder(v(0, 0, 0), v(0, 0, 1), 50, 0, 0), Cylinder(v(0, 0, 7), v(0, 0, 1), 20, 0, 0), 7},
		{"discs in one plane", Cylinder(v(0, 0, 0), v(0, 0, 1), 50, 0, 0), Cylinder(v(45, 60, 0), v(0, 0, 1), 20, 0, 0), 5},
		{"parallel cylinders side by side", upright, Cylinder(v(36, 48, 10), v(0, 0, 1), 25, 40, 0), 5},
		{"parallel cylinders in touch", upright, Cylinder(v(33, 44, 10), v(0, 0, 1), 25, 40, 0), 0},
		{"parallel cylinders end over end", upright, Cylinder(v(10, 0, 45), v(0, 0, -1), 25, 20, 0), 5},
		{"parallel cylinders, rims apart", upright, Cylinder(v(58, 0, 45), v(0, 0, 1), 25, 20, 0), math.Hypot(3, 5)},
		{"nested cylinders", upright, Cylinder(v(1, 2, 0), v(0, 0, 1), 10, 10, 0), 0},
		{"crossed cylinders", Cylinder(v(0, 0, 0), v(1, 0, 0), 15, 200, 0), Cylinder(v(0, 0, 50), v(0, 1, 0), 25, 200, 0), 10},
		{"point beside a cylinder", Capsule(v(33, 44, 10), v(33, 44, 10), 0), upright, 25},
		{"point off a cylinder's rim", Capsule(v(33, 0, 24), v(33, 0, 24), 0), upright, 5},
		{"tilted disc over a plane", tilted, box(1000, 1000, 0, r3.Vector{}), 100 - 50*math.Sin(0.4)},
		{"tilted cylinder over a plane", Cylinder(v(0, 0, 100), v(math.Sin(0.4), 0, math.Cos(0.4)), 50, 20, 0),
			box(1000, 1000, 0, r3.Vector{}), 100 - 50*math.Sin(0.4) - 20*math.Cos(0.4)},
		{"tyre with shoulders on its flank", Cylinder(v(0, 90, 130), v(0, 1, 0), 130, 60, 20), box(500, 10, 500, v(0, 0, 130)), 20},
		{"tyre with shoulders at its shoulder", Cylinder(v(0, 0, 0), v(0, 1, 0), 100, 60, 20), Capsule(v(0, 43, 84), v(0, 43, 84), 0),
			math.Hypot(3, 4) - 20},
		{"shoulder larger than the tyre", Cylinder(v(0, 0, 0), v(0, 1, 0), 100, 30, 500), Capsule(v(200, 0, 0), v(200, 0, 0), 0), 100},
		{"flank of a tyre with too large a shoulder", Cylinder(v(0, 0, 0), v(0, 1, 0), 100, 30, 500), Capsule(v(0, 50, 0), v(0, 50, 0), 0), 20},
		{"cylinder with a zero axis stands upright", Cylinder(v(0, 0, 0), v(0, 0, 0), 30, 20, 0), Capsule(v(0, 0, 24), v(0, 0, 24), 1), 3},
	} {
		gap, p, q := Distance(&c.a, &c.b, rigid.Identity, rigid.Identity)
		if !(math.Abs(gap-c.want) <= 1e-9) {
			t.Errorf("%s: gap %.12g, want %.12g", c.name, gap, c.want)
		}
		if gap > 0 && !(math.Abs(p.Sub(q).Norm()-gap) <= 1e-9) {
			t.Errorf("%s: points %v and %v are %g apart, gap %g", c.name, p, q, p.Sub(q).Norm(), gap)
		}
	}
}

// A gap is right if the two points lie on the solids and are that far apart, and the planes through them
// square to the line between them keep the solids apart: checked with the models alone.
func TestDistanceOfRandomPairs(t *testing.T) {
	separate, overlapping, each := 0, 0, trial.Count(40, 250)
	forPairs(1+trial.Seed, each, func(rng *rand.Rand, p *pair) {
		gap, onA, onB := Distance(&p.a, &p.b, p.ma, p.mb)
		if offA, offB := p.modelA.off(onA), p.modelB.off(onB); !(offA < 1e-9 && offB < 1e-9) {
			t.Fatalf("%s: points lie %g and %g off the solids, gap %g\n%+v", p.kinds, offA, offB, gap, p)
		}
		rounds := p.modelA.round + p.modelB.round
		if gap <= 0 {
			// What overlaps is told from the cores, which are solids as well.
			p.a.round, p.b.round, p.modelA.round, p.modelB.round = 0, 0, 0, 0
			core, atA, atB := Distance(&p.a, &p.b, p.ma, p.mb)
			if !(math.Abs(core-rounds-gap) < 1e-9) {
				t.Fatalf("%s: gap %g, cores %g apart, rounded by %g\n%+v", p.kinds, gap, core, rounds, p)
			}
			if core == 0 {
				overlapping++
				if !(onA == onB && p.modelA.off(onA) < 1e-9 && p.modelB.off(onA) < 1e-9) {
					t.Fatalf("%s: no common point: %v and %v\n%+v", p.kinds, onA, onB, p)
				}
				return
			}
			gap, onA, onB = core, atA, atB
		}
		separate++
		apart, proven := onB.Sub(onA).Norm(), p.proven(onA, onB, gap)
		if !(math.Abs(apart-gap) < 1e-9 && math.Abs(proven-gap) < 1e-8) {
			t.Fatalf("%s: gap %.12g, points %.12g apart, %.12g proven\n%+v", p.kinds, gap, apart, proven, p)
		}
	})
	if separate < trial.Enough(40*each) || overlapping < trial.Enough(4*each) {
		t.Errorf("%d separate and %d overlapping pairs are too few to show much", separate, overlapping)
	}
}

// proven returns the gap that a plane keeps free, the best of those square to the line between two points
// on the way from the given ones to the nearest by turns.
func (p *pair) proven(onA, onB r3.Vector, enough float64) float64 {
	most := math.Inf(-1)
	for range 1000 {
		n := onB.Sub(onA).Normalize()
		most = math.Max(most, -p.modelB.reach(n.Mul(-1))-p.modelA.reach(n))
		if most > enough-1e-9 {
			break
		}
		onA = p.modelA.nearest(onB)
		onB = p.modelB.nearest(onA)
	}
	return most
}

// A general method for convex sets, unlike the one under test: accelerated projected gradient (Nesterov;
// Beck and Teboulle, SIAM J. Imaging Sciences 2, 2009; memory) on the squared distance. It comes from above.
func projected(a, b *model, steps int) float64 {
	x := a.nearest(b.place.Shift)
	y, momentum := x, 1.0
	for range steps {
		next := a.nearest(b.nearest(y))
		if next.Sub(x).Dot(y.Sub(next)) > 0 { // it swings: start the momentum anew
			momentum = 1
		}
		grown := (1 + math.Sqrt(1+4*momentum*momentum)) / 2
		y = next.Add(next.Sub(x).Mul((momentum - 1) / grown))
		momentum, x = grown, next
	}
	return b.nearest(x).Sub(x).Norm()
}

func TestDistanceAgainstProjection(t *testing.T) {
	n, worst := 0, 0.0
	forPairs(2+trial.Seed, trial.Count(1, 5), func(rng *rand.Rand, p *pair) {
		gap, _, _ := Distance(&p.a, &p.b, p.ma, p.mb)
		got := projected(&p.modelA, &p.modelB, 2000)
		n++
		worst = math.Max(worst, math.Abs(math.Max(gap, 0)-got))
		if !(math.Abs(math.Max(gap, 0)-got) < 1e-6) {
			t.Errorf("%s: gap %.12g, by projection %.12g", p.kinds, gap, got)
		}
	})
	t.Logf("%d pairs, %g apart at most", n, worst)
}

func TestNoSampledPointsAreNearer(t *testing.T) {
	forPairs(3+trial.Seed, 3, func(rng *rand.Rand, p *pair) {
		gap, _, _ := Distance(&p.a, &p.b, p.ma, p.mb)
		for range 200 {
			x, y := p.modelA.surface(rng), p.modelB.surface(rng)
			if d := x.Sub(y).Norm(); d < gap-1e-9 {
				t.Fatalf("%s: gap %.12g, but %v and %v are %.12g apart", p.kinds, gap, x, y, d)
			}
		}
	})
}

func TestDistanceIsSymmetricAndInvariant(t *testing.T) {
	forPairs(4+trial.Seed, 40, func(rng *rand.Rand, p *pair) {
		gap, _, _ := Distance(&p.a, &p.b, p.ma, p.mb)
		back, _, _ := Distance(&p.b, &p.a, p.mb, p.ma)
		if !(math.Abs(gap-back) <= 1e-9) {
			t.Errorf("%s: %.12g one way, %.12g the other", p.kinds, gap, back)
		}
		m := randomMotion(rng, 500)
		moved, _, _ := Distance(&p.a, &p.b, m.After(p.ma), m.After(p.mb))
		if !(math.Abs(gap-moved) <= 1e-9) {
			t.Errorf("%s: %.12g, after a motion of both %.12g", p.kinds, gap, moved)
		}
		mirror := rigid.Motion{Turn: [3]r3.Vector{{X: 1}, {Y: -1}, {Z: 1}}}
		mirrored, _, _ := Distance(&p.a, &p.b, mirror.After(p.ma), mirror.After(p.mb))
		if !(math.Abs(gap-mirrored) <= 1e-9) {
			t.Errorf("%s: %.12g, mirrored %.12g", p.kinds, gap, mirrored)
		}
	})
}

// Two solids moved together along the line of their gap keep just what is left of it, down to touch and
// into one another. Rounding must not make the search long, save in odd cases.
func TestGapCloses(t *testing.T) {
	for _, c := range []struct{ left, tolerance float64 }{
		{50, 1e-9}, {1, 1e-9}, {1e-3, 1e-9}, {1e-5, 1e-9}, {1e-6, 2e-7}, {1e-7, 2e-7}, {0, 2e-7}, {-1e-6, 2e-7}, {-1e-3, 1e-9}, {-0.1, 1e-9},
	} {
		each := trial.Count(10, 60)
		n, long := 0, 0
		forPairs(5+trial.Seed, each, func(rng *rand.Rand, p *pair) {
			p.a.round, p.b.round = 0, 0
			gap, onA, onB := Distance(&p.a, &p.b, p.ma, p.mb)
			if gap < 1e-3 {
				return
			}
			shift := onA.Sub(onB).Mul((gap - math.Max(c.left, 0)) / gap)
			if c.left < 0 { // towards one another's middles all solids overlap
				apart := p.modelA.middle().Sub(p.modelB.middle().Add(shift))
				shift = shift.Add(apart.Normalize().Mul(math.Min(-c.left, apart.Norm())))
			}
			p.mb.Shift = p.mb.Shift.Add(shift)
			var q query
			q.start(&p.a, &p.b, &p.ma, &p.mb)
			q.solve(math.Inf(1))
			if !(math.Abs(q.upper-math.Max(c.left, 0)) <= c.tolerance) {
				t.Errorf("%s, closed to %g: gap %.12g", p.kinds, c.left, q.upper)
			}
			n++
			if q.steps > 60 {
				long++
			}
		})
		if n < trial.Enough(80*each) || long > n/200+1 {
			t.Errorf("closed to %g: %d of %d queries took more than 60 steps", c.left, long, n)
		}
	}
}

func TestBeyond(t *testing.T) {
	early, rough := 0, 0
	forPairs(6+trial.Seed, 40, func(rng *rand.Rand, p *pair) {
		gap, _, _ := Distance(&p.a, &p.b, p.ma, p.mb)
		for _, d := range [5]float64{gap / 2, gap - 0.01, gap + 0.01, 10, -10} {
			bound, beyond := Beyond(&p.a, &p.b, p.ma, p.mb, d)
			if beyond != (gap > d) {
				t.Errorf("%s: gap %g, beyond %g is %v", p.kinds, gap, d, beyond)
			}
			if beyond && !(bound > d && bound <= gap+1e-9) || !beyond && !(math.Abs(bound-gap) <= 1e-9) {
				t.Errorf("%s: gap %.12g, bound %.12g, beyond %g is %v", p.kinds, gap, bound, d, beyond)
			}
			if beyond && bound < gap-1e-6 {
				early++
			}
			a, b := p.a, p.b
			a.place, b.place = p.ma.After(a.place), p.mb.After(b.place)
			least, apart := Apart(&a, &b, d)
			if apart != beyond || least > gap+1e-9 || apart && !(least > d) || !apart && least < gap-coarse {
				t.Errorf("%s: gap %.12g, bound %.12g, apart by %g is %v", p.kinds, gap, least, d, apart)
			}
			if !apart && least < gap-1e-6 {
				rough++
			}
		}
		if separate(&p.a, &p.b, &p.ma, &p.mb) != (gap > 0) {
			t.Errorf("%s: gap %.12g, clear %v", p.kinds, gap, gap <= 0)
		}
	})
	if early == 0 || rough == 0 {
		t.Errorf("%d bounds were found early, %d roughly", early, rough)
	}
}

// A part of many convex pieces is as near as its nearest piece; of a concave one that is not what the
// hull of all would give.
func TestConcavePlate(t *testing.T) {
	fork := []r2.Point{{X: 0, Y: 0}, {X: 100, Y: 0}, {X: 100, Y: 60}, {X: 80, Y: 60}, {X: 80, Y: 20}, {X: 20, Y: 20}, {X: 20, Y: 60}, {X: 0, Y: 60}}
	pieces, err := Plate(fork, 5, -5, rigid.Identity)
	if err != nil {
		t.Fatal(err)
	}
	pin := Capsule(r3.Vector{X: 45, Y: 50, Z: -30}, r3.Vector{X: 45, Y: 50, Z: 30}, 6)
	least := math.Inf(1)
	for i := range pieces {
		gap, _, _ := Distance(&pieces[i], &pin, rigid.Identity, rigid.Identity)
		least = math.Min(least, gap)
	}
	if math.Abs(least-19) > 1e-9 {
		t.Errorf("gap between the prongs %g, want 19", least)
	}
}

func TestNoAllocation(t *testing.T) {
	tyre, rod, _, _ := benchSolids()
	m := rigid.About(rigid.Axis{Dir: r3.Vector{Z: 1}}, s1.Angle(0.2))
	if n := testing.AllocsPerRun(10, func() { Distance(&tyre, &rod, m, rigid.Identity) }); n != 0 {
		t.Errorf("%g allocations in a query", n)
	}
}

// Numbers that are no numbers must not hang or crash a query.
func TestWithoutPlace(t *testing.T) {
	good := Capsule(r3.Vector{}, r3.Vector{X: 1}, 1)
	for _, x := range []float64{math.NaN(), math.Inf(1), 1e308, -1e308, 1e-308} {
		for _, bad := range []Solid{Capsule(r3.Vector{X: x}, r3.Vector{Y: x}, 1), Cylinder(r3.Vector{}, r3.Vector{X: x}, 3, x, 0),
			Cylinder(r3.Vector{Z: x}, r3.Vector{X: 1}, x, 1, 1)} {
			Distance(&good, &bad, rigid.Identity, rigid.Identity)
			Beyond(&bad, &good, rigid.Identity, rigid.Identity, 1)
		}
	}
}
