package planar

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/peterstace/simplefeatures/geom"

	"locksweep/fixtures/trial"
)

// TestUnionAgainstAGeneralLibrary joins random convex rings, some of them twice, some side by side, and compares
// the area with that of a library for maps (simplefeatures), and every point of the rim with its boundary.
func TestUnionAgainstAGeneralLibrary(t *testing.T) {
	rng := rand.New(rand.NewPCG(12, trial.Seed))
	sure, holes := 0, 0
	count := trial.Count(300, 3000)
	for range count {
		var convex [][]r2.Point
		var parts []geom.Geometry
		for range 1 + rng.IntN(12) {
			ring := Hull(star(rng, 3+rng.IntN(12)))
			off := r2.Point{X: 400 * rng.Float64(), Y: 400 * rng.Float64()}
			for i := range ring {
				ring[i] = ring[i].Add(off)
			}
			convex = append(convex, ring)
			if rng.IntN(4) == 0 {
				convex = append(convex, slices.Clone(ring))
			}
		}
		for _, ring := range convex {
			parts = append(parts, general(ring))
		}
		want, err := geom.UnionMany(parts)
		if err != nil {
			t.Fatal(err)
		}
		rings, ok := Union(convex)
		if !ok {
			continue
		}
		sure++
		area := 0.0
		for _, ring := range rings {
			a := Area(ring)
			area += a
			if a < 0 {
				holes++
			}
			for _, p := range ring {
				if d, _ := geom.Distance(want.Boundary(), geom.NewPointXY(p.X, p.Y).AsGeometry()); d > 1e-6 {
					t.Fatalf("%v lies %g mm off the rim of %v", p, d, convex)
				}
			}
		}
		if math.Abs(area-want.Area()) > 1e-6*want.Area() {
			t.Fatalf("area %.9g, want %.9g of %v", area, want.Area(), convex)
		}
	}
	if sure < count*9/10 || holes == 0 {
		t.Errorf("%d of %d unions are without doubt, with %d holes; want nearly all, and some holes", sure, count, holes)
	}
}

// TestUnionByHand: squares side by side, on one another, apart, and four round a hole.
func TestUnionByHand(t *testing.T) {
	square := func(x, y, wide, high float64) []r2.Point {
		return []r2.Point{{X: x, Y: y}, {X: x + wide, Y: y}, {X: x + wide, Y: y + high}, {X: x, Y: y + high}}
	}
	for name, c := range map[string]struct {
		convex [][]r2.Point
		area   float64
		rings  int
	}{
		"none":          {nil, 0, 0},
		"one":           {[][]r2.Point{square(0, 0, 2, 3)}, 6, 1},
		"twice":         {[][]r2.Point{square(0, 0, 2, 3), square(0, 0, 2, 3)}, 6, 1},
		"side by side":  {[][]r2.Point{square(0, 0, 2, 2), square(2, 0, 2, 2)}, 8, 1},
		"within":        {[][]r2.Point{square(0, 0, 9, 9), square(2, 2, 2, 2)}, 81, 1},
		"apart":         {[][]r2.Point{square(0, 0, 1, 1), square(5, 0, 1, 1)}, 2, 2},
		"round a hole":  {[][]r2.Point{square(0, 0, 9, 2), square(0, 7, 9, 2), square(0, 0, 2, 9), square(7, 0, 2, 9)}, 81 - 25, 2},
		"across":        {[][]r2.Point{square(0, 4, 9, 1), square(4, 0, 1, 9)}, 17, 1},
		"a point apart": {[][]r2.Point{square(0, 0, 1, 1), square(1.0001, 1, 1, 1)}, 2, 2},
	} {
		rings, ok := Union(c.convex)
		area := 0.0
		for _, ring := range rings {
			area += Area(ring)
		}
		if !ok || len(rings) != c.rings || math.Abs(area-c.area) > 1e-9 {
			t.Errorf("%s: %v, %d rings of %g, want %d of %g: %v", name, ok, len(rings), area, c.rings, c.area, rings)
		}
	}
}
