package reconcile

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"locksweep/geometry/adjust"
)

// unasked is by how much a figure that is wrong on both sides has to explain more than one that is wrong by itself to be named first.
const unasked = 2.0

// both is a figure that may be wrong on both sides alike.
type both struct {
	at, mate int // among those kept
	w        float64
	by       float64 // what the figure should be, less what was given
	size     float64 // of the error, in its accuracies
	likely   float64
}

// bothSides lists the figures that, wrong on both sides alike, would stand out, the likeliest first: a slip of a figure that the file gives once for
// both, or of a measure that was put down for both. Only figures that the file has alike on both are looked at.
func (m *model) bothSides(p *adjust.Problem, fit *adjust.Fit, kept []int) (list []both) {
	at := map[string]int{}
	for i, o := range kept {
		if m.observations[o].Kind == Figure {
			at[m.observations[o].Key] = i
		}
	}
	for i, o := range kept {
		left := &m.observations[o]
		mate, ok := at[mateOf(left.Key)]
		if left.Kind != Figure || !ok {
			continue
		}
		right, sign := &m.observations[kept[mate]], mirrored(left.Key)
		const alike = 0.01 // mm
		w, deviations, known := fit.Together(p, i, mate, sign)
		if math.Abs(left.Given-sign*right.Given) > alike || !known || math.Abs(w) <= critical {
			continue
		}
		size := math.Abs(deviations) * p.Sigma[i] / left.Accuracy
		list = append(list, both{i, mate, w, -deviations * p.Sigma[i], size, likely(w, size)})
	}
	slices.SortStableFunc(list, func(a, b both) int { return cmp.Compare(b.likely, a.likely) })
	return list
}

// mirrored is the sign that a figure of the left side has on the right one: -1 of what column and vehicle axes count to the left.
func mirrored(key string) float64 {
	if strings.HasSuffix(key, "[1]") && !strings.HasPrefix(key, "arm.") {
		return -1
	}
	return 1
}

// mateOf is the key of a figure of the left side on the right one; no key where there is none.
func mateOf(key string) string {
	for _, pair := range [2][2]string{{"drop_arm.left[", "drop_arm.right["}, {"rack.left[", "rack.right["}} {
		if rest, of := strings.CutPrefix(key, pair[0]); of {
			return pair[1] + rest
		}
	}
	return "right." + key
}
