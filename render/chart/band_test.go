package chart

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"
)

// TestBandWithAGap: a band is left open where one of its edges has no value.
func TestBandWithAGap(t *testing.T) {
	nan := math.NaN()
	edge := func(ys ...float64) (points []r2.Point) {
		for i, y := range ys {
			points = append(points, r2.Point{X: float64(i), Y: y})
		}
		return points
	}
	b := Band{Low: edge(0, 0, nan, 0, 0, 0, nan), High: edge(1, 2, 3, 4, 5, nan, 7)}
	rings := b.rings()
	if len(rings) != 2 || len(rings[0]) != 4 || len(rings[1]) != 4 || rings[0][2] != (r2.Point{X: 1, Y: 2}) || rings[1][3] != (r2.Point{X: 3, Y: 4}) {
		t.Errorf("rings %v", rings)
	}
}
