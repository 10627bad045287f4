package region

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/golang/geo/r2"
)

// disc is a polygon of n corners on a circle. Its area is less than the circle's by 2π³/3n² of radius².
func disc(centre r2.Point, radius float64, n int) []r2.Point {
	outline := make([]r2.Point, n)
	for i := range outline {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		outline[i] = centre.Add(r2.Point{X: cos, Y: sin}.Mul(radius))
	}
	return outline
}

func square(x, y, side float64) []r2.Point {
	return []r2.Point{{X: x, Y: y}, {X: x + side, Y: y}, {X: x + side, Y: y + side}, {X: x, Y: y + side}}
}

// must fails the test where an operation does.
func must(t *testing.T) func(Region, error) Region {
	return func(r Region, err error) Region {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %.9g, want %.9g to within %g", what, got, want, within)
	}
}

// TestLens: two circles of radius r at a distance d share 2r² acos(d/2r) - d/2·sqrt(4r² - d²) (plane geometry; derived).
func TestLens(t *testing.T) {
	const n = 2000
	for _, c := range []struct{ r, d float64 }{{10, 4}, {10, 10}, {10, 19.5}, {250, 300}, {0.5, 0.3}} {
		// Neither corners nor sides of the two fall on one another.
		a, b := Of(disc(r2.Point{}, c.r, n)), Of(disc(r2.Point{X: c.d * math.Cos(0.1), Y: c.d * math.Sin(0.1)}, c.r, n))
		lens := 2*c.r*c.r*math.Acos(c.d/2/c.r) - c.d/2*math.Sqrt(4*c.r*c.r-c.d*c.d)
		circle, within := math.Pi*c.r*c.r, 20*c.r*c.r/n/n+1e-9
		common := must(t)(a.Common(b))
		near(t, "lens", common.Area(), lens, within)
		near(t, "both", must(t)(Union(a, b)).Area(), 2*circle-lens, 3*within)
		near(t, "crescent", must(t)(a.Minus(b)).Area(), circle-lens, 2*within)
		if pieces := common.Pieces(); len(pieces) != 1 || len(pieces[0]) != 1 {
			t.Errorf("lens of %+v: %d pieces", c, len(pieces))
		}
	}
}

// TestAnnulus: a disc with a hole is one piece of two rings, the outer counter-clockwise, the hole clockwise.
func TestAnnulus(t *testing.T) {
	ring := must(t)(Of(disc(r2.Point{X: 3, Y: -2}, 50, 720)).Minus(Of(disc(r2.Point{X: 3, Y: -2}, 30, 720))))
	near(t, "annulus", ring.Area(), math.Pi*(50*50-30*30), 0.3)
	pieces := ring.Pieces()
	if len(pieces) != 1 || len(pieces[0]) != 2 || len(ring.Rings()) != 2 {
		t.Fatalf("annulus: %d pieces", len(pieces))
	}
	if outer, hole := signed(pieces[0][0]), signed(pieces[0][1]); outer < 0 || hole > 0 || math.Abs(outer+hole-ring.Area()) > 1e-9 {
		t.Errorf("annulus: outer %g, hole %g, area %g", outer, hole, ring.Area())
	}
}

func signed(ring []r2.Point) (sum float64) {
	for i, p := range ring {
		sum += p.Cross(ring[(i+1)%len(ring)]) / 2
	}
	return sum
}

// TestGrown: a convex outline of area A and girth L grows to A + L·d + π·d² (Steiner; memory), a square
// of side a shrinks to (a - 2d)², and to nothing.
func TestGrown(t *testing.T) {
	const chord = 0.001
	triangle := []r2.Point{{}, {X: 40}, {X: 0, Y: 30}} // sides 30, 40, 50
	for _, d := range []float64{0.5, 3, 25} {
		grown := must(t)(Of(triangle).Grown(d, chord))
		want := 600 + 120*d + math.Pi*d*d
		if got := grown.Area(); got > want+1e-6 || got < want-2*math.Pi*d*chord {
			t.Errorf("triangle grown by %g: %g, want %g", d, got, want)
		}
	}
	for _, d := range []float64{1, 4.9} {
		near(t, "shrunk square", must(t)(Of(square(2, 3, 10)).Grown(-d, chord)).Area(), (10-2*d)*(10-2*d), 1e-9)
	}
	if r := must(t)(Of(square(2, 3, 10)).Grown(-5.1, chord)); !r.Empty() || r.Area() != 0 || len(r.Pieces()) != 0 {
		t.Errorf("a square shrunk by more than half its side: %v", r.Pieces())
	}
	// Two squares 2 apart join when each grows by more than 1.
	apart := must(t)(Union(Of(square(0, 0, 10)), Of(square(12, 0, 10))))
	for _, c := range []struct {
		d      float64
		pieces int
	}{{0, 2}, {0.9, 2}, {1.1, 1}} {
		if n := len(must(t)(apart.Grown(c.d, chord)).Pieces()); n != c.pieces {
			t.Errorf("squares grown by %g: %d pieces, want %d", c.d, n, c.pieces)
		}
	}
}

// TestSplit: what a line has inside and outside, in lengths and pieces.
func TestSplit(t *testing.T) {
	frame := must(t)(Of(square(0, 0, 10)).Minus(Of(square(4, 4, 2))))
	line := []r2.Point{{X: -5, Y: 5}, {X: 15, Y: 5}, {X: 15, Y: 20}}
	inside, outside, err := frame.Split(line)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "inside", length(inside), 8, 1e-9)
	near(t, "outside", length(outside), 35-8, 1e-9)
	if len(inside) != 2 || len(outside) != 3 {
		t.Errorf("%d stretches inside, %d outside; want 2 and 3", len(inside), len(outside))
	}
	if inside, outside, err := (Region{}).Split(line); err != nil || len(inside) != 0 || len(outside) != 1 || !slices.Equal(outside[0], line) {
		t.Errorf("by nothing: inside %v, outside %v, %v", inside, outside, err)
	}
}

func length(lines [][]r2.Point) (sum float64) {
	for _, line := range lines {
		for i := 1; i < len(line); i++ {
			sum += line[i].Sub(line[i-1]).Norm()
		}
	}
	return sum
}

// TestNothing: empty regions, and outlines that enclose nothing.
func TestNothing(t *testing.T) {
	a := Of(square(0, 0, 10))
	for _, outline := range [][]r2.Point{nil, {{X: 1}}, {{}, {X: 5}}, {{}, {X: 5}, {X: 10}}, {{}, {}, {}}} {
		nothing := Of(outline)
		if !nothing.Empty() || nothing.Area() != 0 || len(nothing.Rings()) != 0 {
			t.Errorf("%v is not nothing", outline)
		}
		near(t, "union", must(t)(Union(a, nothing, a)).Area(), 100, 1e-9)
		near(t, "minus", must(t)(a.Minus(nothing)).Area(), 100, 1e-9)
		near(t, "common", must(t)(a.Common(nothing)).Area(), 0, 0)
		near(t, "grown", must(t)(nothing.Grown(3, 0.01)).Area(), 0, 0)
	}
	near(t, "union of none", must(t)(Union()).Area(), 0, 0)
	near(t, "minus itself", must(t)(a.Minus(a)).Area(), 0, 0)
	near(t, "clockwise", Of([]r2.Point{{}, {Y: 10}, {X: 10, Y: 10}, {X: 10}}).Area(), 100, 0)
	near(t, "closed", Of(append(square(0, 0, 10), r2.Point{})).Area(), 100, 0)
}

// TestPartsMakeTheWhole: what is taken and what is left are the whole, and both add up in a union, whatever
// the outlines are.
func TestPartsMakeTheWhole(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	star := func() Region {
		n := 3 + r.IntN(20)
		outline := make([]r2.Point, n)
		centre := r2.Point{X: 30 * r.Float64(), Y: 30 * r.Float64()}
		for i := range outline {
			sin, cos := math.Sincos(2 * math.Pi * (float64(i) + 0.8*r.Float64()) / float64(n))
			outline[i] = centre.Add(r2.Point{X: cos, Y: sin}.Mul(5 + 40*r.Float64()))
		}
		return Of(outline)
	}
	for range 300 {
		a, b := star(), star()
		common, left, both := must(t)(a.Common(b)).Area(), must(t)(a.Minus(b)).Area(), must(t)(Union(a, b)).Area()
		near(t, "common and left", common+left, a.Area(), 1e-6)
		near(t, "both", both, a.Area()+b.Area()-common, 1e-6)
		near(t, "both, turned round", must(t)(Union(b, a)).Area(), both, 1e-6)
	}
}

// TestManyPointsAreCutToTheRegionFirst: taking away and sharing give what they give when everything is joined whole, of so many points that
// they are not.
func TestManyPointsAreCutToTheRegionFirst(t *testing.T) {
	plate := Of([]r2.Point{{X: 0, Y: 0}, {X: 60, Y: 0}, {X: 60, Y: 20}, {X: 25, Y: 30}, {X: 0, Y: 20}})
	var discs []Region
	for i := range 300 {
		discs = append(discs, Of(disc(r2.Point{X: 0.2 * float64(i), Y: 28 + 5*math.Sin(0.07*float64(i))}, 6, 80)))
	}
	all, err := Union(discs...)
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct {
		at, whole func() (Region, error)
	}{
		"taken away": {func() (Region, error) { return plate.Less(discs...) }, func() (Region, error) { return plate.Minus(all) }},
		"shared":     {func() (Region, error) { return plate.Met(discs...) }, func() (Region, error) { return plate.Common(all) }},
	} {
		got, err := c.at()
		want, errWhole := c.whole()
		if err != nil || errWhole != nil {
			t.Fatal(name, err, errWhole)
		}
		over, err := got.Minus(want)
		under, errUnder := want.Minus(got)
		if err != nil || errUnder != nil || want.Area() < 100 || over.Area() > 1e-6 || under.Area() > 1e-6 {
			t.Errorf("%s: %g mm² too much, %g too little of %g (%v, %v)", name, over.Area(), under.Area(), want.Area(), err, errUnder)
		}
	}
}
