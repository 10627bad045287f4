package drill

import (
	"cmp"
	"slices"

	"locksweep/geometry/sweep"
)

// Barred is a reason for which places that would do as far as one aim goes are out of the question all the same, and
// how many of those tried it is the first reason of, within the slip.
type Barred struct {
	Aim   Aim        // the first in which they fail; -1 where the linkage does not assemble or metal touches metal straight ahead
	Code  sweep.Code // of Stop, what is worst about it
	Parts [2]string  // of Clearance, what comes too near to what, whichever side it is on
	// Places is how many.
	Places int
}

// bars tells of the places judged that do, drilled where they should be, by what they fail before an aim or, within the
// slip, in it: most of them first. All have been looked at so closely that the first failing is known for sure.
func (s *search) bars(aim Aim, does func(*judged) bool) (list []Barred) {
	s.wholeFor(aim)
	var open []int
	for i := range s.pool {
		if j := &s.pool[i]; j.possible && does(j) && j.rank.first(aim) < 0 {
			open = append(open, i)
		}
	}
	s.closer(open, func(r *rank) bool { return r.first(aim) >= 0 })
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

// wholeFor judges what has but been glanced at, so far as it matters by what it fails as far as an aim. Of what is known to have no stop only
// whether it can be at all.
func (s *search) wholeFor(aim Aim) {
	var open []int
	for i := range s.pool {
		if j := &s.pool[i]; j.glanced && !(aim == Stop && j.rank[Stop] > 0) {
			open = append(open, i)
		}
	}
	s.whole(open)
	var stopless []int
	for i := range s.pool {
		if s.pool[i].glanced && s.pool[i].possible {
			stopless = append(stopless, i)
		}
	}
	for k, m := range each(stopless, func(i int) bool { return s.model(s.pool[i].node, false) != nil }, nil) {
		s.pool[stopless[k]].possible = m
	}
}

// barred says by what a place fails, of the aims as far as one; ok is false where it does not.
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

// first is the first aim in which a rank falls short, as far as one; -1 where it does not.
func (r *rank) first(last Aim) Aim {
	for aim := range min(last+1, Ackermann) {
		if r[aim] > 0 {
			return aim
		}
	}
	return -1
}
