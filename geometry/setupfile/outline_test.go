package setupfile

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/peterstace/simplefeatures/geom"
	"pgregory.net/rapid"

	"locksweep/fixtures/trial"
	"locksweep/geometry/planar"
)

func TestOutlinesAreChecked(t *testing.T) {
	outline := func(points string) string { return "[-95, -30, 0]\noutline = [" + points + "]" }
	const p = "[-95, -30, 0]"
	checkFaulty(t, least, []faulty{
		{p, outline(""), "13:11: arm.outline", "has 0 points; an outline needs at least 3"},
		{p, outline("[0,0], [9,0]"), "13:11: arm.outline", "has 2 points"},
		{p, outline("[0,0], [9,0], [9]"), "13:26: arm.outline[2]", "has 1 number, should be [forward, outboard]"},
		{p, outline("[0,0], [9,0], [9,0], [9,9]"), "13:26: arm.outline", "has point 2 twice running"},
		{p, outline("[0,0], [9,0], [9,9], [0,0]"), "13:33: arm.outline", "ends with its first point again; leave that out"},
		{p, outline("[0,0], [9,0], [20,0]"), "13:11: arm.outline", "encloses no area"},
		{p, outline("[0,0], [9,0], [9,9], [9,20], [9,5]"), "13:33: arm.outline", "turns straight back at point 4"},
		{p, outline("[0,0], [9,9], [9,0], [0,9]"), "13:12: arm.outline", "the edge from point 1 to 2 meets the edge from point 3 to 4"},
		{p, outline("[0,0], [9,0], [9,9], [4,0], [0,9]"), "13:12: arm.outline", "the edge from point 1 to 2 meets the edge from point 3 to 4"},
	})
	text := strings.Replace(least, p, outline(strings.Repeat("[1,2],", maxPoints+1)), 1)
	if _, _, err := Read("kart.toml", []byte(text), Options{}); err == nil || !strings.Contains(err.Error(), "has 10001 points; at most 10000 are read") {
		t.Errorf("too many points: %v", err)
	}
}

// gear returns a simple outline of n points about the origin.
func gear(n int) []r2.Point {
	points := make([]r2.Point, n)
	for i := range points {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		r := 100 + 10*float64(i%2)
		points[i] = r2.Point{X: r * cos, Y: r * sin}
	}
	return points
}

// comb returns a simple outline of n points whose teeth run the whole width, the slow case for a
// sweep along them.
func comb(n int) []r2.Point {
	var points []r2.Point
	for i := 0; i < n/4; i++ {
		y := float64(i)
		points = append(points, r2.Point{X: 0, Y: y}, r2.Point{X: 1000, Y: y + 0.1}, r2.Point{X: 1000, Y: y + 0.4}, r2.Point{X: 0, Y: y + 0.5})
	}
	return append(points, r2.Point{X: -10, Y: float64(n / 4)}, r2.Point{X: -10})
}

func TestLargeOutlines(t *testing.T) {
	for name, points := range map[string][]r2.Point{"gear": gear(maxPoints), "comb": comb(maxPoints - 4)} {
		if got := checkOutline(points); len(got.faults) > 0 {
			t.Errorf("%s: %v", name, got.faults)
		}
		turned := make([]r2.Point, len(points))
		for i, p := range points {
			turned[i] = r2.Point{X: -p.Y, Y: p.X}
		}
		if got := checkOutline(turned); len(got.faults) > 0 {
			t.Errorf("%s turned: %v", name, got.faults)
		}
	}
}

// simple reports what a polygon library says: the ring is valid.
func simple(points []r2.Point) bool {
	var flat []float64
	for _, p := range append(slices.Clone(points), points[0]) {
		flat = append(flat, p.X, p.Y)
	}
	ring := geom.NewLineString(geom.NewSequence(flat, geom.DimXY))
	return geom.NewPolygon([]geom.LineString{ring}).Validate() == nil
}

// TestOutlineAgreesWithPolygonLibrary holds the check against an independent one (simplefeatures)
// on outlines with whole-number corners, where touching is exact.
func TestOutlineAgreesWithPolygonLibrary(t *testing.T) {
	count := [2]int{}
	trial.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 9).Draw(t, "points")
		points := make([]r2.Point, n)
		for i := range points {
			points[i] = r2.Point{X: float64(rapid.IntRange(0, 6).Draw(t, "x")), Y: float64(rapid.IntRange(0, 6).Draw(t, "y"))}
		}
		if len(doubled(points)) > 0 {
			t.Skip("the library accepts doubled points")
		}
		got, want := len(checkOutline(points).faults) == 0, simple(points)
		if got != want {
			t.Fatalf("%v: sound %v, library says %v: %v", points, got, want, checkOutline(points).faults)
		}
		if got {
			count[1]++
		} else {
			count[0]++
		}
	})
	if count[0] == 0 || count[1] == 0 {
		t.Errorf("%d sound and %d faulty outlines: one kind was never tried", count[1], count[0])
	}
}

func TestOutlineIsTurnedCounterClockwise(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for range 100 {
		points := gear(3 + rng.IntN(20))
		reversed := slices.Clone(points)
		slices.Reverse(reversed)
		for _, in := range [][]r2.Point{points, reversed} {
			got := checkOutline(in)
			if len(got.faults) > 0 || planar.Area(got.points) <= 0 {
				t.Fatalf("%v: area %g, %v", in, planar.Area(got.points), got.faults)
			}
		}
	}
}

// writeOutline writes points as the file gives them.
func writeOutline(points []r2.Point) string {
	var b strings.Builder
	for _, p := range points {
		fmt.Fprintf(&b, "[%v, %v], ", p.X, p.Y)
	}
	return "[" + b.String() + "]"
}
