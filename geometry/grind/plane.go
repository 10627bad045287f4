package grind

import (
	"github.com/golang/geo/r2"

	"locksweep/geometry/planar"
)

// thinned returns a ring with as few of its points as keep it within error of all of them.
func thinned(ring []r2.Point, error float64) (out []r2.Point) {
	fits := func(i, j int) bool {
		for k := i + 1; k < j; k++ {
			if d, _ := planar.ToSegment(ring[k], ring[i], ring[j%len(ring)]); d > error {
				return false
			}
		}
		return true
	}
	for i := 0; i < len(ring); {
		out = append(out, ring[i])
		j := i + 1
		for j < len(ring) && fits(i, j+1) {
			j++
		}
		i = j
	}
	return out
}
