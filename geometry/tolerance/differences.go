package tolerance

import (
	"math"

	"locksweep/geometry/compare"
)

// differ works out by how much each figure moves for each unit of each reading: central differences over the width of
// its accuracy, so that what goes by a straight line within that is met. Where one end has no figure the other one
// counts alone.
func (r *Result) differ(ends []kart) {
	n := len(compare.Figures())
	r.differences = make([][][2]float64, len(r.Readings))
	for k := range r.Readings {
		reach := r.reach(k)
		moved := make([][2]float64, n)
		for i := range moved {
			for side := range moved[i] {
				moved[i][side] = slope(value(&ends[2*k+1], i, side), r.units[i][side], value(&ends[2*k], i, side), reach)
			}
		}
		r.differences[k] = moved
	}
}

// value is a figure of a kart; NaN where that has none.
func value(k *kart, i, side int) float64 {
	if k.values == nil || math.IsInf(k.values[i][side], 0) {
		return math.NaN()
	}
	return k.values[i][side]
}

// slope is that of a figure which is low, as and high where a reading is moved by -reach, 0 and reach.
func slope(low, as, high, reach float64) float64 {
	switch {
	case !math.IsNaN(low) && !math.IsNaN(high):
		return (high - low) / (2 * reach)
	case !math.IsNaN(high):
		return (high - as) / reach
	}
	return (as - low) / reach
}
