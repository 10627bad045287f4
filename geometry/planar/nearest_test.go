package planar

import (
	"slices"
	"testing"

	"github.com/golang/geo/r2"
)

// TestNeedlesAndSlitsGo: a corner at which an outline turns back along itself goes, whichever way it lies and however many there are in it; a
// corner that is only sharp stays, and so does a needle that is wide enough.
func TestNeedlesAndSlitsGo(t *testing.T) {
	square := []r2.Point{{X: 0, Y: 0}, {X: 10, Y: 0}, {X: 10, Y: 10}, {X: 0, Y: 10}}
	with := func(points ...r2.Point) []r2.Point { return slices.Concat(square[:2], points, square[2:]) }
	for name, c := range map[string]struct {
		ring []r2.Point
		gone int
	}{
		"square":            {square, 0},
		"sharp wedge":       {with(r2.Point{X: 30, Y: 1}, r2.Point{X: 10, Y: 2}), 0},
		"needle":            {with(r2.Point{X: 10, Y: 5}, r2.Point{X: 30, Y: 5}, r2.Point{X: 10, Y: 5.0005}), 2},
		"needle, unequal":   {with(r2.Point{X: 10, Y: 5}, r2.Point{X: 30, Y: 5}, r2.Point{X: 20, Y: 5.0005}, r2.Point{X: 10, Y: 5.01}), 1},
		"needle in two":     {with(r2.Point{X: 10, Y: 5}, r2.Point{X: 20, Y: 5}, r2.Point{X: 30, Y: 5}, r2.Point{X: 20, Y: 5.0005}, r2.Point{X: 10, Y: 5.0005}), 4},
		"slit":              {with(r2.Point{X: 10, Y: 5}, r2.Point{X: 4, Y: 5}, r2.Point{X: 10, Y: 5.0005}), 2},
		"wide enough":       {with(r2.Point{X: 10, Y: 5}, r2.Point{X: 30, Y: 5.01}, r2.Point{X: 10, Y: 5.02}), 0},
		"a line and nobody": {[]r2.Point{{X: 0, Y: 0}, {X: 5, Y: 0}, {X: 0, Y: 0.0001}}, 0},
	} {
		for turn := range c.ring {
			ring := slices.Concat(c.ring[turn:], c.ring[:turn])
			got := Unspiked(ring, 0.002)
			if len(got) != len(ring)-c.gone {
				t.Errorf("%s from corner %d: %v of %v, want %d fewer", name, turn, got, ring, c.gone)
			}
			for _, p := range square {
				if c.gone > 0 && !slices.Contains(got, p) {
					t.Errorf("%s from corner %d: %v lost the corner %v", name, turn, got, p)
				}
			}
		}
	}
}
