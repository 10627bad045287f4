package plan

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"

	"locksweep/geometry/clearance"
	"locksweep/geometry/planar"
	"locksweep/geometry/rigid"
	"locksweep/geometry/solid"
)

// TestASpiralIsDrawnAsItsHull: what falls into hundreds of solids however it is thinned is one solid for a drawing, its hull.
func TestASpiralIsDrawnAsItsHull(t *testing.T) {
	var ring []r2.Point
	for _, way := range []float64{1, -1} { // out, and back beside it
		for i := range 2000 {
			at := float64(i)
			if way < 0 {
				at = 1999 - at
			}
			sin, cos := math.Sincos(at * 2 * math.Pi / 100)
			radius := 10 + 0.015*at + 0.3*way
			ring = append(ring, r2.Point{X: radius * cos, Y: radius * sin})
		}
	}
	flat := clearance.Flat{Outline: ring, Lower: -3, Upper: 3, Place: rigid.Identity}
	own, err := solid.Plate(ring, flat.Lower, flat.Upper, flat.Place)
	if err != nil {
		t.Fatal(err)
	}
	few := solids(&clearance.Piece{Flat: &flat, Solids: own})
	if len(own) <= tooMany || len(few) != 1 {
		t.Fatalf("%d solids of %d, want one", len(few), len(own))
	}
	got, want := math.Abs(planar.Area(few[0].Plan(rigid.Identity))), math.Abs(planar.Area(planar.Hull(ring)))
	if math.Abs(got-want) > 1e-6*want {
		t.Errorf("%g mm², its hull has %g", got, want)
	}
}

// TestManyPointsAreDrawnWithFewer: a plate of ten thousand points, round or jagged, is put together from few solids for a drawing, and
// covers the same ground but for a line's width.
func TestManyPointsAreDrawnWithFewer(t *testing.T) {
	for name, tooth := range map[string]float64{"written in hundredths": 0, "jagged": 0.4} {
		var ring []r2.Point
		for i := range 10_000 {
			angle := 2 * math.Pi * float64(i) / 10_000
			radius := 60 + tooth*float64(i%2)
			ring = append(ring, r2.Point{X: math.Round(radius*math.Cos(angle)*100) / 100, Y: math.Round(radius*math.Sin(angle)*100) / 100})
		}
		flat := clearance.Flat{Outline: ring, Lower: -3, Upper: 3, Place: rigid.Identity}
		own, err := solid.Plate(ring, flat.Lower, flat.Upper, flat.Place)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		few := solids(&clearance.Piece{Flat: &flat, Solids: own})
		if len(own) < manySolids || len(few) >= manySolids {
			t.Errorf("%s: %d solids of %d", name, len(few), len(own))
		}
		area := 0.0
		for i := range few {
			for _, q := range few[i].Plan(rigid.Identity) {
				if off := math.Abs(q.Norm() - 60); q.Norm() > 55 && off > mostCoarse {
					t.Fatalf("%s: a corner stands %g mm off", name, off)
				}
			}
			area += planar.Area(few[i].Plan(rigid.Identity))
		}
		if want := math.Abs(planar.Area(ring)); math.Abs(area-want) > 2*math.Pi*60*mostCoarse/2 {
			t.Errorf("%s: %g mm², the outline has %g", name, area, want)
		}
	}
}
