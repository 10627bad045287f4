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

// block is a block between two corners.
func block(t *testing.T, low, high r3.Vector) Solid {
	t.Helper()
	outline := []r2.Point{{X: low.X, Y: low.Y}, {X: high.X, Y: low.Y}, {X: high.X, Y: high.Y}, {X: low.X, Y: high.Y}}
	solids, err := Plate(outline, low.Z, high.Z, rigid.Identity)
	if err != nil || len(solids) != 1 {
		t.Fatal(err, len(solids))
	}
	return solids[0]
}

// TestDepthByHand: closed forms.
func TestDepthByHand(t *testing.T) {
	cube := block(t, r3.Vector{X: -10, Y: -10, Z: -10}, r3.Vector{X: 10, Y: 10, Z: 10})
	for name, c := range map[string]struct {
		a, b Solid
		want float64
	}{
		"two balls":            {Capsule(r3.Vector{}, r3.Vector{}, 8), Capsule(r3.Vector{X: 9}, r3.Vector{X: 9}, 5), 4},
		"balls apart":          {Capsule(r3.Vector{}, r3.Vector{}, 8), Capsule(r3.Vector{X: 20}, r3.Vector{X: 20}, 5), 0},
		"a ball in a ball":     {Capsule(r3.Vector{}, r3.Vector{}, 8), Capsule(r3.Vector{X: 1}, r3.Vector{X: 1}, 5), 12},
		"crossing bars":        {Capsule(r3.Vector{X: -50}, r3.Vector{X: 50}, 6), Capsule(r3.Vector{Y: -50, Z: 3}, r3.Vector{Y: 50, Z: 3}, 4), 7},
		"a block in a block":   {cube, block(t, r3.Vector{X: 7, Y: -3, Z: -40}, r3.Vector{X: 60, Y: 30, Z: 40}), 3},
		"a block on a block":   {cube, block(t, r3.Vector{X: 10, Y: -3, Z: -40}, r3.Vector{X: 60, Y: 30, Z: 40}), 0},
		"a ball in a block":    {cube, Capsule(r3.Vector{Z: 12}, r3.Vector{Z: 12}, 5), 3},
		"the middle of both":   {cube, Capsule(r3.Vector{}, r3.Vector{}, 5), 15},
		"a bar through a disc": {Cylinder(r3.Vector{}, r3.Vector{Z: 1}, 60, 2, 0), Capsule(r3.Vector{X: 20, Z: -90}, r3.Vector{X: 20, Z: 90}, 5), 45},
		"a tyre on a post":     {Cylinder(r3.Vector{}, r3.Vector{Y: 1}, 128, 64, 16), Capsule(r3.Vector{Y: -70, Z: -10}, r3.Vector{Y: -70, Z: 400}, 8), 2},
	} {
		for _, turn := range []float64{0, 33} {
			m := rigid.About(rigid.Axis{Point: r3.Vector{X: 5, Z: 1}, Dir: r3.Vector{X: 1, Y: 2, Z: -1}.Normalize()}, s1.Angle(turn)*s1.Degree)
			one, other := Depth(&c.a, &c.b, m, m), Depth(&c.b, &c.a, m, m)
			if math.Abs(one-c.want) > 1e-3 || math.Abs(other-c.want) > 1e-3 {
				t.Errorf("%s, turned by %v: depth %.6f and %.6f, want %v", name, turn, one, other, c.want)
			}
			for _, depth := range []float64{0.01, 0.5 * c.want, c.want - 0.002, c.want + 0.002, 1.3 * c.want, 200} {
				if got := Reach(&c.a, &c.b, m, m, depth); depth > 0 && got != (depth < c.want) {
					t.Errorf("%s, turned by %v: reaches %v in: %v", name, turn, depth, got)
				}
			}
		}
	}
}

// TestDepthSetsFree: moved by its depth along no direction that was tried do two solids come apart sooner: a move of
// any length under the depth leaves them overlapping.
func TestDepthSetsFree(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 1))
	between := func(low, high float64) float64 { return low + (high-low)*r.Float64() }
	deep := 0
	for range 150 {
		a := Cylinder(r3.Vector{}, r3.Vector{X: between(-1, 1), Y: 1, Z: between(-1, 1)}, between(20, 90), between(5, 60), between(0, 9))
		b := block(t, r3.Vector{X: between(-60, 0), Y: between(-60, 0), Z: between(-60, 0)}, r3.Vector{X: between(1, 60), Y: between(1, 60), Z: between(1, 60)})
		mb := rigid.About(rigid.Axis{Dir: r3.Vector{X: 1, Y: between(-1, 1), Z: 1}.Normalize()}, s1.Angle(between(-1, 1)))
		mb.Shift = mb.Shift.Add(r3.Vector{X: between(-60, 60), Y: between(-60, 60)})
		depth := Depth(&a, &b, rigid.Identity, mb)
		if gap, _, _ := Distance(&a, &b, rigid.Identity, mb); (gap > 1e-9) != (depth == 0) {
			t.Fatalf("gap %g, depth %g", gap, depth)
		}
		if depth == 0 {
			continue
		}
		deep++
		for i := range 400 {
			moved := mb
			moved.Shift = moved.Shift.Add(onSphere(i, 400).Mul(depth - 1e-3))
			if gap, _, _ := Distance(&a, &b, rigid.Identity, moved); gap > 0 {
				t.Fatalf("depth %g, but moved by less along %v they are %g apart", depth, onSphere(i, 400), gap)
			}
		}
	}
	if deep < trial.Enough(50) {
		t.Errorf("only %d overlapped", deep)
	}
}
