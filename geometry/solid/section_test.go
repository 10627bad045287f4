package solid

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r2"

	"locksweep/fixtures/trial"
	"locksweep/geometry/planar"
)

// TestOutlineInIsTheOutlineThere: what is left out beyond a rectangle changes nothing within it.
func TestOutlineInIsTheOutlineThere(t *testing.T) {
	rng := rand.New(rand.NewPCG(31+trial.Seed, 0))
	partly, less := 0, 0
	for range trial.Count(300, 5000) {
		body, _ := randomSolid(rng, kinds[rng.IntN(len(kinds))])
		s := Section{Solid: body.Under(randomMotion(rng, 60)), Grown: 5 * rng.Float64(), Lower: -10, Upper: 10}
		whole := s.Outline(0.05)
		room := r2.RectFromCenterSize(r2.Point{X: 200*rng.Float64() - 100, Y: 200*rng.Float64() - 100}, r2.Point{X: 20 + 80*rng.Float64(), Y: 20 + 80*rng.Float64()})
		got, want := s.OutlineIn(room, 0.05), planar.Clip(whole, room)
		area := math.Abs(planar.Area(want))
		if by := math.Abs(planar.Area(got)) - area; math.Abs(by) > 1e-9*(1+area) || len(got) > len(want)+4 {
			t.Errorf("%d corners about %g mm² more than the %d of the whole outline", len(got), by, len(want))
		}
		if len(got) > 0 && area < math.Abs(planar.Area(whole)) {
			partly++
		}
		if len(s.outline(0.05, &room)) < len(whole) {
			less++
		}
	}
	if least := trial.Enough(trial.Count(30, 500)); partly < least || less < least {
		t.Errorf("%d outlines lay partly in the rectangle, %d were not followed all round", partly, less)
	}
}
