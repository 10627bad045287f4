package planar

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/peterstace/simplefeatures/geom"

	"locksweep/fixtures/trial"
)

// general is a ring for the general polygon library.
func general(ring []r2.Point) geom.Geometry {
	var xy []float64
	for _, p := range append(slices.Clone(ring), ring[0]) {
		xy = append(xy, p.X, p.Y)
	}
	return geom.NewPolygonXY(xy).AsGeometry()
}

// TestAgainstAGeneralLibrary holds area, bounds, inside, distances, hull and clipping of random outlines against a library for
// maps (simplefeatures), which works them out by its own ways.
func TestAgainstAGeneralLibrary(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, trial.Seed))
	within, clipped := 0, 0
	for range trial.Count(300, 3000) {
		ring := star(rng, 4+rng.IntN(20))
		g := general(ring)
		if got := Area(ring); math.Abs(got-g.Area()) > 1e-9*g.Area() {
			t.Errorf("area %.12g, want %.12g of %v", got, g.Area(), ring)
		}
		if low, high, ok := g.Envelope().MinMaxXYs(); !ok || Bounds(ring, nil) != r2.RectFromPoints(r2.Point{X: low.X, Y: low.Y}, r2.Point{X: high.X, Y: high.Y}) {
			t.Errorf("bounds %v, want %v to %v", Bounds(ring), low, high)
		}
		slices.Reverse(ring)
		if got := Area(ring); math.Abs(got+g.Area()) > 1e-9*g.Area() {
			t.Errorf("clockwise: area %.12g, want %.12g", got, -g.Area())
		}
		p := r2.Point{X: 250 * (2*rng.Float64() - 1), Y: 250 * (2*rng.Float64() - 1)}
		at := geom.NewPointXY(p.X, p.Y).AsGeometry()
		if want, _ := geom.Contains(g, at); Inside(ring, p) != want {
			t.Errorf("%v inside: %v, want %v\n%v", p, !want, want, ring)
		} else if want {
			within++
		}
		if want, _ := geom.Distance(g.Boundary(), at); math.Abs(ToEdge(ring, p)-want) > 1e-9 {
			t.Errorf("%v is %.12g from the edge, want %.12g", p, ToEdge(ring, p), want)
		}
		hull := Hull(slices.Clone(ring))
		checkConvex(t, hull)
		if want := g.ConvexHull().Area(); math.Abs(Area(hull)-want) > 1e-9*want {
			t.Errorf("hull of %.12g mm², want %.12g", Area(hull), want)
		}
		window := r2.RectFromCenterSize(p, r2.Point{X: 20 + 200*rng.Float64(), Y: 20 + 200*rng.Float64()})
		v := window.Vertices()
		common, err := geom.Intersection(g, general(v[:]))
		if err != nil {
			t.Fatal(err)
		}
		part := Clip(ring, window)
		if got := -Area(part); math.Abs(got-common.Area()) > 1e-9*40000 {
			t.Errorf("clipped to %.12g mm², want %.12g\n%v to %v", got, common.Area(), ring, window)
		}
		for _, q := range part {
			if !window.ExpandedByMargin(1e-9).ContainsPoint(q) {
				t.Errorf("%v lies outside %v", q, window)
			}
		}
		if len(part) > 0 {
			clipped++
		}
	}
	if least := trial.Count(9, 90); within < trial.Enough(least) || clipped < trial.Enough(least) {
		t.Errorf("%d points inside and %d outlines clipped are no proof", within, clipped)
	}
}

// TestAreaKeepsItsDigits: a rectangle far from the origin keeps its digits.
func TestAreaKeepsItsDigits(t *testing.T) {
	for _, far := range []float64{0, 1e5} {
		p := []r2.Point{{X: far, Y: far}, {X: far + 3, Y: far}, {X: far + 3, Y: far + 0.5}, {X: far, Y: far + 0.5}}
		if got := Area(p); got != 1.5 {
			t.Errorf("at %g: area %v, want 1.5", far, got)
		}
	}
}

// TestInsideByHand: in and out of a slot.
func TestInsideByHand(t *testing.T) {
	// A U: 6 by 6 with a slot 2 wide from above down to 2.
	u := []r2.Point{{}, {X: 6}, {X: 6, Y: 6}, {X: 4, Y: 6}, {X: 4, Y: 2}, {X: 2, Y: 2}, {X: 2, Y: 6}, {Y: 6}}
	for _, c := range []struct {
		p    r2.Point
		in   bool
		edge float64
	}{
		{r2.Point{X: 1, Y: 5}, true, 1},
		{r2.Point{X: 3, Y: 5}, false, 1},
		{r2.Point{X: 3, Y: 1}, true, 1},
		{r2.Point{X: 9, Y: 10}, false, 5},
		{r2.Point{X: 2.5, Y: 1.5}, true, 0.5},
	} {
		in, edge := Inside(u, c.p), ToEdge(u, c.p)
		if in != c.in || math.Abs(edge-c.edge) > 1e-12 {
			t.Errorf("%v: inside %v, %v from the edge; want %v, %v", c.p, in, edge, c.in, c.edge)
		}
	}
}

// TestToSegment by hand.
func TestToSegment(t *testing.T) {
	a, b := r2.Point{X: 1, Y: 1}, r2.Point{X: 7, Y: 9}
	for _, c := range []struct {
		name    string
		p       r2.Point
		want    float64
		nearest r2.Point
	}{
		{"beside the middle", r2.Point{X: 8, Y: 2}, 5, r2.Point{X: 4, Y: 5}},
		{"on it", r2.Point{X: 4, Y: 5}, 0, r2.Point{X: 4, Y: 5}},
		{"before its start", r2.Point{X: -2, Y: -3}, 5, a},
		{"past its end", r2.Point{X: 7, Y: 21}, 12, b},
	} {
		if d, q := ToSegment(c.p, a, b); math.Abs(d-c.want) > 1e-12 || q.Sub(c.nearest).Norm() > 1e-12 {
			t.Errorf("%s: %g at %v, want %g at %v", c.name, d, q, c.want, c.nearest)
		}
	}
	if d, q := ToSegment(r2.Point{X: 4, Y: 5}, a, a); d != 5 || q != a {
		t.Errorf("from a point: %g at %v", d, q)
	}
	if d := ToEdge(nil, a); !math.IsInf(d, 1) {
		t.Errorf("from nothing: %g", d)
	}
}

// TestHullOfFewPoints and of points in line.
func TestHullOfFewPoints(t *testing.T) {
	p, q := r2.Point{X: 1, Y: 2}, r2.Point{X: 3, Y: 1}
	for _, c := range []struct{ in, want []r2.Point }{
		{nil, nil}, {[]r2.Point{p, p, p}, []r2.Point{p}}, {[]r2.Point{q, p, q}, []r2.Point{p, q}},
		{[]r2.Point{{X: 5}, {}, {X: 2}, {X: 9}}, []r2.Point{{}, {X: 9}}},
	} {
		if got := Hull(slices.Clone(c.in)); !slices.Equal(got, c.want) {
			t.Errorf("hull of %v: %v, want %v", c.in, got, c.want)
		}
	}
}
