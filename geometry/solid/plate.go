package solid

import (
	"errors"
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"locksweep/geometry/planar"
	"locksweep/geometry/rigid"
)

// Plate returns the metal between two heights (mm, in either order) over an outline as convex solids, one where the outline is convex.
// Heights and outline are in the axes that place moves into the body's. The outline must not cross itself; it may be concave and run
// either way round.
func Plate(outline []r2.Point, lower, upper float64, place rigid.Motion) ([]Solid, error) {
	pieces, err := planar.Convex(outline)
	if err != nil {
		return nil, err
	}
	return Prisms(pieces, lower, upper, place)
}

// Prisms is Plate for an outline that is cut already, into convex polygons, counter-clockwise and without collinear corners.
func Prisms(pieces [][]r2.Point, lower, upper float64, place rigid.Motion) ([]Solid, error) {
	middle, half := (lower+upper)/2, math.Abs(upper-lower)/2
	if math.IsNaN(half) || math.IsInf(half, 0) {
		return nil, errors.New("a plate needs two finite faces")
	}
	place.Shift = place.Point(r3.Vector{Z: middle})
	solids := make([]Solid, len(pieces))
	for i, piece := range pieces {
		solids[i] = Solid{place: place, base: newPolygon(piece), half: half}
	}
	return solids, nil
}
