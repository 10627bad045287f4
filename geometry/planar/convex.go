package planar

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"github.com/golang/geo/r2"
)

var errNotSimple = errors.New("the outline crosses or touches itself; give its points in order around the metal")

// fills reports whether pieces of an area, mm², make up that of an outline, to 1e-9 of it, and to 1e-13 of that of the box about
// it, by which rounding may put out the sums themselves.
func fills(area float64, outline []r2.Point) bool {
	whole, box := math.Abs(Area(outline)), r2.RectFromPoints(outline...).Size()
	return math.Abs(area-whole) <= 1e-9*whole+1e-13*box.X*box.Y
}

// Convex cuts the area in a simple outline, concave or not, of either sense, into convex polygons,
// counter-clockwise and without collinear corners. No corners are added. The error says what is wrong
// with an outline that is not simple, where that shows in the cutting.
//
// Ears are cut off one by one (Meisters, American Mathematical Monthly 82, 1975), then cuts between
// pieces are healed as long as no corner becomes concave (Hertel and Mehlhorn, 1983), which leaves at
// most four times the least number of pieces (O'Rourke, Computational Geometry in C; memory).
func Convex(outline []r2.Point) ([][]r2.Point, error) {
	for _, p := range outline {
		if !finite(p) {
			return nil, fmt.Errorf("the outline has a point without place: (%g, %g)", p.X, p.Y)
		}
	}
	ring := tidy(outline)
	if len(ring) < 3 {
		return nil, errors.New("the outline encloses no area; it needs three points that are not in line")
	}
	if Area(ring) < 0 {
		slices.Reverse(ring)
	}
	if convex(ring) && turnsOnce(ring) {
		last := len(ring) - 1 // begun where what is cut and healed below would begin
		return [][]r2.Point{append([]r2.Point{ring[last]}, ring[:last]...)}, nil
	}
	triangles, ok := earClip(ring)
	if !ok {
		return nil, errNotSimple
	}
	pieces := merge(ring, triangles)
	sum := 0.0
	for i := range pieces {
		pieces[i] = tidy(pieces[i])
		if !convex(pieces[i]) { // only where the outline was not simple
			return nil, errNotSimple
		}
		sum += Area(pieces[i])
	}
	if !fills(sum, ring) {
		return nil, errNotSimple
	}
	return pieces, nil
}

// convex reports whether a ring turns left at every corner.
func convex(ring []r2.Point) bool {
	for i, p := range ring {
		if n := len(ring); Orient(p, ring[(i+1)%n], ring[(i+2)%n]) <= 0 {
			return false
		}
	}
	return len(ring) >= 3
}

// turnsOnce reports whether a ring that turns left at every corner goes round only once, and so does not cross itself: its edges
// run upwards once and downwards once.
func turnsOnce(ring []r2.Point) bool {
	up := func(i int) bool {
		e := ring[(i+1)%len(ring)].Sub(ring[i%len(ring)])
		return e.Y > 0 || e.Y == 0 && e.X > 0
	}
	changes := 0
	for i := range ring {
		if up(i) != up(i+1) {
			changes++
		}
	}
	return changes == 2
}

func finite(p r2.Point) bool {
	const huge = 1e100
	return math.Abs(p.X) < huge && math.Abs(p.Y) < huge
}

// tidy returns a ring without doubled and collinear points and without spikes.
func tidy(ring []r2.Point) []r2.Point {
	kept := make([]r2.Point, 0, len(ring))
	for _, p := range ring {
		for len(kept) > 0 && kept[len(kept)-1] == p || len(kept) > 1 && Orient(kept[len(kept)-2], kept[len(kept)-1], p) == 0 {
			kept = kept[:len(kept)-1]
		}
		kept = append(kept, p)
	}
	for start := 0; len(kept)-start >= 3; {
		first, second := kept[start], kept[start+1]
		last, before := kept[len(kept)-1], kept[len(kept)-2]
		switch {
		case Orient(before, last, first) == 0:
			kept = kept[:len(kept)-1]
		case Orient(last, first, second) == 0:
			start++
		default:
			return kept[start:]
		}
	}
	return nil
}
