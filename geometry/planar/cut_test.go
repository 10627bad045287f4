package planar

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"
)

// TestSameCutOfWhatIsMoved: outlines that are turned, stretched and shifted a little, as measures are off, are cut into the same pieces, which are
// convex and fill them; one that is bent otherwise is not cut so.
func TestSameCutOfWhatIsMoved(t *testing.T) {
	fits := 0
	for name, outline := range outlines() {
		c := CutOf(outline)
		want, err := Convex(outline)
		if err != nil {
			t.Fatal(err)
		}
		if same, ok := c.Pieces(outline); !ok || len(same) != len(want) {
			t.Errorf("%s: cut into %d pieces as it stands (%v), want %d", name, len(same), ok, len(want))
		}
		sin, cos := math.Sincos(0.3)
		moved := make([]r2.Point, len(outline))
		for i, p := range outline {
			moved[i] = r2.Point{X: 1.01*cos*p.X - sin*p.Y + 0.7, Y: 0.99*sin*p.X + cos*p.Y - 0.3}
		}
		pieces, ok := c.Pieces(moved)
		if !ok && inLine(outline) { // of what is in line but for rounding a cut may not fit another one
			continue
		}
		fits++
		if !ok || len(pieces) != len(want) {
			t.Errorf("%s: moved, it is not cut as it was", name)
			continue
		}
		sum := 0.0
		for i, piece := range pieces {
			checkConvex(t, piece)
			if len(piece) != len(want[i]) {
				t.Errorf("%s: piece %d has %d corners, want %d", name, i, len(piece), len(want[i]))
			}
			sum += shoelace(piece)
		}
		if whole := math.Abs(shoelace(moved)); math.Abs(sum-whole) > 1e-9*whole {
			t.Errorf("%s: pieces of %v fill %v", name, sum, whole)
		}
	}
	if fits < 10 {
		t.Errorf("only %d outlines looked at", fits)
	}
	notched := []r2.Point{{X: 0, Y: 0}, {X: 20, Y: 0}, {X: 20, Y: 10}, {X: 10, Y: 4}, {X: 0, Y: 10}}
	c := CutOf(notched)
	for name, at := range map[string]r2.Point{"deeper": {X: 10, Y: -1}, "to one side, so that another cut is needed": {X: 19, Y: 9.9}, "nowhere": {X: math.NaN()}} {
		notched[3] = at
		if pieces, ok := c.Pieces(notched); ok {
			if _, err := Convex(notched); err != nil {
				t.Errorf("%s: cut into %v", name, pieces)
			}
			for _, piece := range pieces {
				checkConvex(t, piece)
			}
		}
	}
	if _, ok := c.Pieces(notched[:3]); ok {
		t.Error("an outline of fewer points is cut as that of more")
	}
}

// inLine reports whether three corners of an outline are in line, to rounding.
func inLine(outline []r2.Point) bool {
	for i, p := range outline {
		n := len(outline)
		if math.Abs(Orient(p, outline[(i+1)%n], outline[(i+2)%n])) < 1e-9 {
			return true
		}
	}
	return false
}
