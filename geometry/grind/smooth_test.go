package grind

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"

	"locksweep/geometry/planar"
)

// Noise of a cut goes, old corners stay, and nothing moves further than half the chord error but what lies within a hundredth of a
// millimetre of its neighbour.
func TestSmoothKeepsOldCorners(t *testing.T) {
	before := corners(0, 0, 40, 0, 40, 20, 20, 20.0005, 0, 20)
	cut := []r2.Point{{X: 40, Y: 20}, {X: 20, Y: 20.0005}, {X: 0, Y: 20}, {}, {X: 0.005}, {X: 10}, {X: 10, Y: 0.004}, {X: 10.003, Y: 0.009}}
	for i := range 720 { // an arc of 10 mm in far more chords than are wanted
		sin, cos := math.Sincos(math.Pi / 720 * float64(i+1))
		cut = append(cut, r2.Point{X: 20 - 10*cos, Y: 10 * sin})
	}
	cut = append(cut, r2.Point{X: 30.004}, r2.Point{X: 40})
	got := smooth(cut, before, DefaultChord)
	for _, p := range before {
		found := false
		for _, q := range got {
			found = found || p == q
		}
		if !found {
			t.Errorf("the old corner %v is gone", p)
		}
	}
	for i, p := range got {
		if d := p.Sub(got[(i+1)%len(got)]).Norm(); d < leastEdge {
			t.Errorf("%v and the next are %g apart", p, d)
		}
	}
	if len(got) > 150 {
		t.Errorf("%d of %d points left", len(got), len(cut))
	}
	now := planar.NearRing(got)
	for _, p := range cut {
		if d, _ := now.To(p); d > leastEdge+DefaultChord/2 {
			t.Errorf("%v is %g off the outline", p, d)
		}
	}
}
