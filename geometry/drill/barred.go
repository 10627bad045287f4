package drill

import (
	"cmp"
	"slices"

	"locksweep/geometry/cores"
	"locksweep/geometry/sweep"
)

// Barred is a reason for which places are out of the question although they meet an aim, and of how many places tried it is the first
// reason. Places are judged at their worst within the slip.
type Barred struct {
	Aim    Aim        // the first that they fail; -1 where the linkage does not assemble or metal touches metal straight ahead
	Code   sweep.Code // for Stop: the worst fault
	Parts  [2]string  // for Clearance: what comes too near to what, whichever side it is on
	Places int        // how many
}

// bars counts, of the places judged that do when drilled where they should be, which aim up to one they fail first within the slip, the
// commonest first. It looks at all of them closely enough to know that for sure.
func (s *search) bars(aim Aim, does func(*judged) bool) (list []Barred) {
	s.wholeFor(aim)
	open := s.those(func(_ int, j *judged) bool { return j.possible && does(j) && j.rank.first(aim) < 0 })
	fails := func(r *rank) bool { return r.first(aim) >= 0 }
	cores.Each(len(open), func(i int) { s.surely(&s.pool[open[i]], nil, fails) }, nil)
	count := map[Barred]int{}
	for i := range s.pool {
		if j := &s.pool[i]; j.possible && does(j) || !j.possible && aim < Leverage {
			if b, fails := s.barred(j, aim); fails {
				count[b]++
			}
		}
	}
	for b, n := range count {
		b.Places = n
		list = append(list, b)
	}
	slices.SortFunc(list, func(a, b Barred) int {
		return cmp.Or(b.Places-a.Places, int(a.Aim-b.Aim), cmp.Compare(a.Code, b.Code), slices.Compare(a.Parts[:], b.Parts[:]))
	})
	return list
}

// wholeFor judges the places that have only been glanced at, as far as it takes to tell which aim up to one they fail first. Those that are
// known to have no stop, where that is the last aim of interest, are only asked whether the steering is possible there.
func (s *search) wholeFor(aim Aim) {
	s.whole(s.those(func(_ int, j *judged) bool { return j.glanced && !(aim == Stop && j.rank[Stop] > 0) }))
	stopless := s.those(func(_ int, j *judged) bool { return j.glanced && j.possible })
	for k, m := range each(stopless, func(i int) bool { return s.model(s.pool[i].node, false) != nil }, nil) {
		s.pool[stopless[k]].possible = m
	}
}

// barred returns the first aim up to the last that a place fails, and what is wrong there; ok is false where it fails none.
func (s *search) barred(j *judged, last Aim) (b Barred, ok bool) {
	if !j.possible || j.Within.Impossible {
		return Barred{Aim: -1}, true
	}
	b.Aim = j.rank.first(last)
	switch b.Aim {
	case Stop:
		faults := union(j.Within.Faults[sweep.ToLeft], j.Within.Faults[sweep.ToRight])
		for _, b.Code = range []sweep.Code{sweep.NoMetalStop, sweep.NarrowStop, sweep.TyreTouches, sweep.TouchesFirst, sweep.StopMargin} {
			if slices.Contains(faults, b.Code) {
				break
			}
		}
	case Clearance:
		for i, piece := range j.Within.Nearest.Pair {
			b.Parts[i] = s.base.Scene.Pieces[piece].Name
		}
		slices.Sort(b.Parts[:])
	}
	return b, b.Aim >= 0
}

// first returns the first aim up to the last in which a rank falls short; -1 where it does in none. Ackermann is not among them.
func (r *rank) first(last Aim) Aim {
	for aim := range min(last+1, Ackermann) {
		if r[aim] > 0 {
			return aim
		}
	}
	return -1
}
