package wording

import (
	"locksweep/geometry/linkage"
	"locksweep/geometry/sweep"
)

// Place says what an end of a rod sits on: "steering arm" of a rod that has a side, "left steering arm" of one
// that has none.
func Place(m *sweep.Model, rod int, end linkage.End) string {
	r := &m.Linkage.Rods[rod]
	body := r.On(end)
	switch {
	case body == linkage.Input:
		return "drop arm"
	case r.Sided:
		return "steering arm"
	}
	return body.Side().String() + " steering arm"
}
