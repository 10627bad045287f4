package grind

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"

	"locksweep/geometry/planar"
)

// Two corners off one edge may come as one piece, joined by a spike without width along the edge. The larger, 10 by 10, is as deep as its
// corner stands off the cut: 10/sqrt 2 by hand, not the 5 that the cut's middle stands off the old edges.
func TestDepthOfCornersJoinedBySpike(t *testing.T) {
	before := corners(0, 0, 40, 0, 40, 20, 0, 20)
	after := corners(2, 0, 30, 0, 40, 10, 40, 20, 0, 20, 0, 2)
	b := Bite{Rings: [][]r2.Point{corners(40, 0, 40, 10, 30, 0, 2, 0, 0, 2, 0, 0)}}
	b.measure(planar.NearRing(before), planar.NearRing(after))
	near(t, "depth", b.Depth, 10/math.Sqrt2, 1e-3)
}
