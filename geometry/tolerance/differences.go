package tolerance

import (
	"cmp"
	"math"
	"slices"
)

// differ works out by how much each figure moves for each unit of each reading: central differences over the width of
// its accuracy, so that what goes by a straight line within that is met. Where one end has no figure the other one
// counts alone.
func (r *Result) differ(ends []kart) {
	r.differences = make([][][2]float64, len(r.Readings))
	for k := range r.Readings {
		reach := r.reach(k)
		moved := make([][2]float64, len(r.units))
		for i := range moved {
			for side := range moved[i] {
				moved[i][side] = slope(value(&ends[2*k+1], i, side), r.units[i][side], value(&ends[2*k], i, side), reach)
			}
		}
		r.differences[k] = moved
	}
}

// sum sums up what all readings do to something that each moves by so much for each unit.
func (r *Result) sum(per func(reading int) float64) (d Differences) {
	variance := 0.0
	for k := range r.Readings {
		one := per(k)
		moved := math.Abs(one) * r.Readings[k].Accuracy
		if !(moved > 0) || math.IsInf(moved, 0) {
			continue
		}
		variance += moved * moved / 3 // even between its ends
		d.Worst += moved
		d.From = append(d.From, Share{Reading: k, Share: moved * moved / 3, PerUnit: one})
	}
	for k := range d.From {
		d.From[k].Share /= variance
	}
	slices.SortStableFunc(d.From, func(a, b Share) int { return cmp.Compare(b.Share, a.Share) })
	d.Uncertainty = math.Sqrt(variance)
	return d
}

// half is the half-width that holds 95 %: 1.96 standard uncertainties of much that comes together, never more than the most.
func (d *Differences) half() float64 { return math.Min(1.959964*d.Uncertainty, d.Worst) }

// value is a figure of a kart; NaN where that has none.
func value(k *kart, i, side int) float64 {
	if k.values == nil || math.IsInf(k.values[i][side], 0) {
		return math.NaN()
	}
	return k.values[i][side]
}

// slope is how fast a figure changes with a reading, when it is low, as and high where a reading is moved by -reach, 0 and reach.
func slope(low, as, high, reach float64) float64 {
	switch {
	case !math.IsNaN(low) && !math.IsNaN(high):
		return (high - low) / (2 * reach)
	case !math.IsNaN(high):
		return (high - as) / reach
	}
	return (as - low) / reach
}
