package sweep

import (
	"cmp"
	"errors"
	"slices"

	"locksweep/geometry/clearance"
	"locksweep/geometry/linkage"
	"locksweep/geometry/road"
	"locksweep/geometry/setup"
)

// Alike is what one setup tells of thousands that differ little from it, such as all that it may be in truth within its accuracy.
type Alike struct {
	scene  *clearance.Alike
	near   float64  // greater gaps are not told, mm
	first  [][2]int // the first two pairs that touch, either way
	widths *widths
}

// Alike prepares Glance at setups like one that was run, with the same pieces. What touches straight ahead in that one is left out in
// all; the pairs that come first and nearest in it are looked at before the others.
func (r *Result) Alike() *Alike {
	first := r.first(2)
	return &Alike{r.Scene.Alike(r.NearLimit(), slices.Concat(first, r.first(3), r.closest(6))), r.NearLimit(), first, r.widths}
}

// Glance is Run for one of thousands of setups that are alike. Locks, what stops the wheels, the least gap and all that is computed from these
// are those of Run; Poses and Findings are left out; Chain is that of FirstLimit, and Near has only the nearest pairs, or none unless gaps are
// asked for. touches tells that something touches straight ahead that does not in the setup that it is like; that is left out too.
func (l *Alike) Glance(s *setup.Setup, gaps bool) (r *Result, touches bool, err error) {
	mechanism, err := linkage.New(s)
	if err != nil {
		return nil, false, err
	}
	scene, err := l.scene.Glance(s, mechanism)
	if touch := (*clearance.TouchError)(nil); errors.As(err, &touch) {
		touches = true
	} else if err != nil {
		return nil, false, err
	}
	r = &Result{Model: made(s, mechanism, scene, road.New(s))}
	r.widths.like = l.widths
	r.Rods = r.Model.rods()
	if !gaps {
		r.lock(anyPair)
		return r, touches, nil
	}
	// Mostly what comes first in the setup that this one is like is first here too. Then the search for the nearest pair up to there, which
	// is needed in any case, shows whether anything else touches before.
	r.lock(func(pair [2]int) bool { return slices.Contains(l.first, pair) })
	if !r.nearest(l.near) {
		r.lock(anyPair)
		r.nearest(l.near)
	}
	return r, touches, nil
}

// lock finds both locks; the first contact is looked for only among the pairs that first names.
func (r *Result) lock(first func(pair [2]int) bool) {
	for _, d := range Directions {
		r.Locks[d] = r.firstLimit(d, first)
	}
}

// first lists the first few pairs that touch on the way to either lock.
func (r *Result) first(few int) (pairs [][2]int) {
	for _, d := range Directions {
		n := 0
		for _, l := range r.Locks[d].Chain {
			if l.Kind == Contact && n < few {
				pairs = append(pairs, l.Pair)
				n++
			}
		}
	}
	return pairs
}

// closest lists the pairs that come nearest, a few of them.
func (r *Result) closest(few int) (pairs [][2]int) {
	near := slices.Clone(r.Near)
	slices.SortStableFunc(near, func(a, b clearance.Near) int { return cmp.Compare(a.Gap, b.Gap) })
	for i := range min(len(near), few) {
		pairs = append(pairs, near[i].Pair)
	}
	return pairs
}

// nearest lists in Near the pair that comes nearest within the locks and the one that is nearest at either lock; pairs
// that stop the wheels are left out. Where none is near at a lock Near holds all that come near. clear reports that for certain
// nothing touches within the locks.
func (r *Result) nearest(near float64) (clear bool) {
	from, to := r.Locks[ToRight].Column, r.Locks[ToLeft].Column
	r.Near = r.Near[:0]
	closest, found := r.Scene.Closest(from, to, near, r.Stops)
	if !found {
		return true
	}
	r.Near = append(r.Near, closest)
	for _, d := range Directions {
		at, found := r.Scene.ClosestAt(&r.Locks[d].Pose.Pose, near, r.Stops)
		if !found {
			r.Near = r.Scene.Nearest(from, to, near)
			break
		}
		if !slices.ContainsFunc(r.Near, func(n clearance.Near) bool { return n.Pair == at.Pair }) {
			r.Near = append(r.Near, at)
		}
	}
	return closest.Gap > clearance.Clear
}
