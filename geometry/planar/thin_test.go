package planar

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r2"

	"locksweep/fixtures/trial"
)

// TestThinStaysNear: no point of a random walk stands further than asked from what is left of it, nothing is added, and
// straight stretches lose all but their ends.
func TestThinStaysNear(t *testing.T) {
	rng := rand.New(rand.NewPCG(13, trial.Seed))
	for range trial.Count(200, 2000) {
		line := []r2.Point{{}}
		for range 3 + rng.IntN(60) {
			line = append(line, line[len(line)-1].Add(r2.Point{X: rng.NormFloat64(), Y: rng.NormFloat64()}))
		}
		off := 3 * rng.Float64()
		nearRing(t, line, Fewest(line, off), off)
		left := Thin(line, off)
		k := 0
		for _, p := range line {
			if k < len(left) && left[k] == p {
				k++
			}
			least := math.Inf(1)
			for i := 1; i < len(left); i++ {
				d, _ := ToSegment(p, left[i-1], left[i])
				least = min(least, d)
			}
			if least > off {
				t.Fatalf("%v stands %g off what is left, want at most %g", p, least, off)
			}
		}
		if k != len(left) || left[len(left)-1] != line[len(line)-1] {
			t.Fatalf("left %v is not part of %v with both its ends", left, line)
		}
	}
	if left := Thin([]r2.Point{{}, {X: 1}, {X: 2}, {X: 3}, {X: 3, Y: 1}}, 0.01); len(left) != 3 {
		t.Errorf("an angle of five points keeps %v, want its corner and its ends", left)
	}
	if left := ThinRing(regular(100, 400), 0.1); len(left) < 40 || len(left) > 140 {
		t.Errorf("a circle of 400 corners keeps %d", len(left))
	}
	if arc, few := regular(100, 2000), Fewest(regular(100, 2000), 0.1); len(few) > len(ThinRing(arc, 0.1)) {
		t.Errorf("a circle keeps %d, want no more than the %d that halving keeps", len(few), len(ThinRing(arc, 0.1)))
	}
	round := regular(100, 400)
	for _, most := range []int{3, 40, len(ThinRing(round, 0.1)) - 1, len(ThinRing(round, 0.1)), 400} {
		if left, ok := ThinRingTo(round, 0.1, most); ok != (most >= len(ThinRing(round, 0.1))) || ok && len(left) != len(ThinRing(round, 0.1)) {
			t.Errorf("at most %d of %d: %d left, %v", most, len(ThinRing(round, 0.1)), len(left), ok)
		}
	}
	if sliver := []r2.Point{{}, {X: 9}, {X: 5, Y: 0.001}}; len(ThinRing(sliver, 0.01)) != 3 {
		t.Error("a sliver is no ring any more")
	}
}

// nearRing fails where a point of a ring stands further off what is left of it than allowed.
func nearRing(t *testing.T, ring, left []r2.Point, off float64) {
	t.Helper()
	near := NearRing(left)
	for _, p := range ring {
		if d, _ := near.To(p); d > off {
			t.Fatalf("%v stands %g off what is left of the ring, want at most %g", p, d, off)
		}
	}
}
