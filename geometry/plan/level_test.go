package plan

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/geometry/clearance"
	"locksweep/geometry/region"
	"locksweep/geometry/rigid"
	"locksweep/geometry/solid"
)

// A comb of a hundred teeth covers, level, just what its convex solids cover together, whichever way round it lies; askew it is not
// taken for its outline, nor is a plate of few solids.
func TestLevelPlateCoversItsOutline(t *testing.T) {
	comb := func(teeth int) *clearance.Piece {
		outline := []r2.Point{{X: float64(teeth), Y: 20}, {Y: 20}}
		for i := range teeth {
			x := float64(i)
			outline = append(outline, r2.Point{X: x}, r2.Point{X: x + 0.5}, r2.Point{X: x + 0.6, Y: 10}, r2.Point{X: x + 0.9, Y: 10})
		}
		flat := &clearance.Flat{Outline: outline, Lower: 3, Upper: 9, Place: rigid.Identity}
		solids, err := solid.Plate(outline, flat.Lower, flat.Upper, flat.Place)
		if err != nil {
			t.Fatal(err)
		}
		return &clearance.Piece{Flat: flat, Solids: solids}
	}
	many := comb(100)
	for _, c := range []struct {
		what  string
		piece *clearance.Piece
		axis  r3.Vector
		turn  float64
		want  bool
	}{
		{"as it lies", many, r3.Vector{Z: 1}, 0, true},
		{"turned", many, r3.Vector{Z: 1}, 0.7, true},
		{"upside down", many, r3.Vector{X: 1}, math.Pi, true},
		{"askew", many, r3.Vector{X: 1}, 0.1, false},
		{"of few solids", comb(10), r3.Vector{Z: 1}, 0, false},
	} {
		m := rigid.About(rigid.Axis{Dir: c.axis}, s1.Angle(c.turn))
		outline, ok := level(c.piece, m)
		if ok != c.want {
			t.Errorf("%s: %v, want %v", c.what, ok, c.want)
		}
		if !ok {
			continue
		}
		var parts []region.Region
		for i := range c.piece.Solids {
			parts = append(parts, region.Of(c.piece.Solids[i].Plan(m)))
		}
		want, err := region.Union(parts...)
		if err != nil {
			t.Fatal(err)
		}
		got := region.Of(outline)
		over, err := got.Minus(want)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(got.Area()-want.Area()) > 1e-5 || over.Area() > 1e-5 {
			t.Errorf("%s: %g mm², %g of it beside its solids, which cover %g", c.what, got.Area(), over.Area(), want.Area())
		}
	}
}
