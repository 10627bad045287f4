package tolerance

import (
	"cmp"
	"slices"

	"locksweep/geometry/sweep"
)

// count counts what stops the wheels either way, and what could not be told.
func (r *Result) count(draws []kart) {
	for d := range sweep.Directions {
		at := map[stop]int{} // in Stops
		for k := range draws {
			if draws[k].values == nil {
				continue
			}
			s := draws[k].stops[d]
			i, known := at[s]
			if !known {
				i = len(r.Stops[d])
				at[s] = i
				r.Stops[d] = append(r.Stops[d], Stop{})
				if s.found {
					r.Stops[d][i].Limit = &s.Limit
				}
			}
			r.Stops[d][i].Count++
		}
		slices.SortStableFunc(r.Stops[d], func(a, b Stop) int { return cmp.Compare(b.Count, a.Count) })
	}
	for k := range draws {
		switch {
		case draws[k].values == nil:
			r.Apart++
		case draws[k].touching:
			r.Touching++
		}
	}
}
