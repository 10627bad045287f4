package grind

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r2"

	"locksweep/fixtures/trial"
	"locksweep/geometry/planar"
	"locksweep/geometry/region"
)

// left is what is left inside an outline, for tests; bore is a diameter.
func left(t *testing.T, outline []r2.Point, root Root, bore float64) rest {
	t.Helper()
	r := rest{metal: region.Of(outline), root: root, bore: bore / 2}
	if bore > 0 {
		var err error
		if r.metal, err = r.metal.Minus(region.Of(circle(bore / 2))); err != nil {
			t.Fatal(err)
		}
	}
	return r
}

// The least width of plain shapes (derived: it is read off their figures).
func TestLeastWidthOfPlainShapes(t *testing.T) {
	bottom := Root{Edge: [2]r2.Point{{X: -20}, {X: 20}}}
	finger := corners(-20, 0, 20, 0, 20, 10, 2.5, 10, 2.5, 40, -2.5, 40, -2.5, 10, -20, 10)
	neck := corners(-20, 0, 20, 0, 20, 10, 3.5, 10, 3.5, 14, 20, 14, 20, 40, -20, 40, -20, 14, -3.5, 14, -3.5, 10, -20, 10)
	block := corners(-20, 0, 20, 0, 20, 30, -20, 30)
	around := corners(-15, -12, 40, -12, 40, 12, -15, 12)
	for _, c := range []struct {
		name    string
		outline []r2.Point
		root    Root
		bore    float64
		patch   edge
		want    float64
	}{
		{"finger, touched at its end", finger, bottom, 0, edge{{X: -2.5, Y: 40}, {X: 2.5, Y: 40}}, 5},
		{"finger, touched beside it", finger, bottom, 0, edge{{X: 10, Y: 10}, {X: 18, Y: 10}}, 10},
		{"neck", neck, bottom, 0, edge{{X: -10, Y: 40}, {X: 10, Y: 40}}, 7},
		{"block, touched on its face", block, bottom, 0, edge{{X: -10, Y: 30}, {X: 10, Y: 30}}, 30},
		{"block, touched at a corner", block, bottom, 0, edge{{X: 20, Y: 29.9}, {X: 19.9, Y: 30}}, 30},
		{"strip on its root", corners(-20, 0, 20, 0, 20, 4, -20, 4), bottom, 0, edge{{X: -10, Y: 4}, {X: 10, Y: 4}}, 4},
		{"hung on a short edge", block, Root{Edge: [2]r2.Point{{X: -20, Y: 10}, {X: -20, Y: 16}}}, 0, edge{{X: 20, Y: 5}, {X: 20, Y: 25}}, 30},
		{"about the kingpin", around, Root{Kingpin: true}, 10, edge{{X: 40, Y: -5}, {X: 40, Y: 5}}, 24},
		// Past the bore 7 mm lead on either side to the far end.
		{"past the bore", around, Root{Edge: [2]r2.Point{{X: -15, Y: -12}, {X: -15, Y: 12}}}, 10, edge{{X: 40, Y: -5}, {X: 40, Y: 5}}, 7},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := left(t, c.outline, c.root, c.bore)
			patch := newNearest([]edge{c.patch})
			got, err := r.width(patch)
			if err != nil {
				t.Fatal(err)
			}
			near(t, "width", got, c.want, 0.35)
			for width, want := range map[float64]bool{c.want - 0.5: true, c.want + 0.5: false} {
				if ok, err := r.carries(patch, width); err != nil || ok != want {
					t.Errorf("carries %g: got %v (%v), want %v", width, ok, err, want)
				}
			}
		})
	}
}

// Widths counted on a grid, by nothing but distances to edges and neighbours that hang together: none of the code
// under test, no polygon library.
func TestLeastWidthAgainstGrid(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 8))
	tried := 0
	trials := trial.Count(21, 60)
	for i := range trials {
		outline := star(r, r2.Point{X: 8, Y: 4}, 6+r.IntN(8), 9, 34)
		if !planar.Inside(outline, r2.Point{}) {
			continue
		}
		at := r.IntN(len(outline))
		patch := edge{outline[at], outline[(at+1)%len(outline)]}
		got, err := (&rest{metal: region.Of(outline), root: Root{Kingpin: true}}).width(newNearest([]edge{patch}))
		if err != nil {
			t.Fatal(err)
		}
		want := gridOf(outline).width(patch)
		if math.Abs(got-want) > math.Max(1.2, want/12) {
			t.Errorf("outline %d: %v, touched between %v and %v: got %.2f, the grid says %.2f", i, outline, patch[0], patch[1], got, want)
		}
		tried++
	}
	if tried < trials/3 {
		t.Errorf("only %d outlines", tried)
	}
}

// grid is the distance of points of a square grid from an outline, mm; 0 outside.
type grid struct{ clear []float64 }

const (
	gridStep = 0.25 // mm
	gridHalf = 200  // points either way from its middle
	gridSide = 2*gridHalf + 1
)

func (g *grid) at(c int) r2.Point {
	return r2.Point{X: 8 + gridStep*float64(c/gridSide-gridHalf), Y: 4 + gridStep*float64(c%gridSide-gridHalf)}
}

func gridOf(outline []r2.Point) *grid {
	g := &grid{make([]float64, gridSide*gridSide)}
	box := r2.RectFromPoints(outline...)
	for c := range g.clear {
		q := g.at(c)
		if !box.ContainsPoint(q) || !planar.Inside(outline, q) {
			continue
		}
		d := math.Inf(1)
		for _, e := range edges(outline) {
			d = math.Min(d, first(planar.ToSegment(q, e[0], e[1])))
		}
		g.clear[c] = d
	}
	return g
}

// reach returns the points of the grid that the middle of a disc can be moved to, from point to point, from where it covers the origin.
func (g *grid) reach(width float64) (reached []int) {
	half := width / 2
	seen := make([]bool, len(g.clear))
	for c, d := range g.clear {
		if d >= half && g.at(c).Norm() <= half {
			seen[c] = true
			reached = append(reached, c)
		}
	}
	for i := 0; i < len(reached); i++ {
		c := reached[i]
		for _, o := range [8]int{c - 1, c + 1, c - gridSide, c + gridSide, c - gridSide - 1, c - gridSide + 1, c + gridSide - 1, c + gridSide + 1} {
			if o >= 0 && o < len(seen) && !seen[o] && g.clear[o] >= half {
				seen[o] = true
				reached = append(reached, o)
			}
		}
	}
	return reached
}

// moves reports whether a disc can be moved to one of some edges.
func (g *grid) moves(width float64, to ...edge) bool {
	for _, c := range g.reach(width) {
		for _, e := range to {
			if first(planar.ToSegment(g.at(c), e[0], e[1])) <= math.Sqrt2*width/2 {
				return true
			}
		}
	}
	return false
}

// width returns the greatest diameter of a disc that moves to an edge.
func (g *grid) width(to edge) float64 {
	low, high := 0.0, 60.0
	for range 9 {
		if mid := (low + high) / 2; g.moves(mid, to) {
			low = mid
		} else {
			high = mid
		}
	}
	return low
}
