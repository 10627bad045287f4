package sweep

import (
	"slices"

	"github.com/golang/geo/s1"
)

// FirstLimit is Lock with less of the chain, which costs much less: what the linkage itself sets, the first contact, and contacts of metal
// as far as the first that is a positive stop. Lock, pose and what comes first are the same, and so is what Stopping tells, but that Before
// may lack what comes after its first.
func (m *Model) FirstLimit(d Direction) Lock {
	return m.firstLimit(d, anyPair)
}

func anyPair([2]int) bool { return true }

// firstLimit is FirstLimit where of what comes first only pairs that are wanted are looked at.
func (m *Model) firstLimit(d Direction, first func(pair [2]int) bool) Lock {
	chain, end := m.ownLimits(d)
	// until is the column of the first limit of a kind.
	until := func(kind func(l Limit) bool) s1.Angle {
		if i := slices.IndexFunc(chain, kind); i >= 0 {
			return chain[i].Column
		}
		return end
	}
	// add looks for the first contact of pairs that are wanted and are not in the chain, up to a column.
	add := func(end s1.Angle, wanted func(pair [2]int) bool) (l Limit, found bool) {
		c, found := m.Scene.FirstContact(end, func(pair [2]int) bool {
			return wanted(pair) && !slices.ContainsFunc(chain, func(l Limit) bool { return l.Kind == Contact && l.Pair == pair })
		})
		if !found || end == 0 {
			return l, false
		}
		l = m.touched(&c)
		chain = append(chain, l)
		sortLimits(chain)
		return l, true
	}
	add(until(func(Limit) bool { return true }), first)
	// Metal may only brush past; the next may be a stop.
	for len(chain) > 0 && !m.Positive(&chain[0]) {
		l, found := add(until(func(l Limit) bool { return l.Kind.Ends() || l.Kind == RodEnd || m.Positive(&l) }), m.Metal)
		if !found || m.Positive(&l) {
			break
		}
	}
	return m.lockOf(d, chain)
}
