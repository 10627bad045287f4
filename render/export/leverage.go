package export

import (
	"math"

	"locksweep/geometry/linkage"
	"locksweep/geometry/sweep"
)

// unknown is written as null.
var unknown = number(math.NaN())

// leverageJSON is the least leverage at either end of the rods within the locks, and how far it is from the locks to
// where the linkage gives out there.
type leverageJSON = rodEnds[leverageEndJSON]

type leverageEndJSON struct {
	Least  number `json:"least"`
	Rod    string `json:"rod"`
	Column number `json:"column"`
	// Beyond the lock, by direction of turn: degrees of column to the dead point (arm) or over centre (drop arm).
	Beyond bySide[number] `json:"beyond_lock"`
}

func leverageOf(r *sweep.Result) leverageJSON {
	end := func(e linkage.End) leverageEndJSON {
		l := r.LeastLeverageAt(e, r.Locks[sweep.ToRight].Column, r.Locks[sweep.ToLeft].Column)
		return leverageEndJSON{degrees(l.Angle), r.Linkage.Rods[l.Rod].Name(), degrees(l.Column), each(func(i int) number {
			margins, found := r.Margins(sweep.Direction(i))
			if !found[e] {
				return unknown
			}
			return degrees(margins[e].Column)
		})}
	}
	return leverageJSON{end(linkage.AtArm), end(linkage.AtDropArm)}
}
