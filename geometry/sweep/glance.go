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

// Alike is what setups that are much alike have in common, such as what one setup may be in truth.
type Alike struct {
	scene  *clearance.Alike
	near   float64 // gaps of more are not told, mm
	widths *widths
}

// Alike prepares Glance at setups like one that was run, with the same pieces: what touches straight ahead there is left out in
// all, and what comes first and nearest there is looked at before all else.
func (r *Result) Alike() *Alike {
	return &Alike{r.Scene.Alike(r.NearLimit(), r.first()), r.NearLimit(), r.widths}
}

// Glance is Run for one of thousands of setups that are alike: locks, what stops the wheels, the least gap and all that is computed from these are the same, poses between the locks and
// findings are left out. Of Chain it has what Stopping asks for, of Near the nearest. Touches tells that something touches
// straight ahead that does not in the setup that all are like, and is left out too. Unless gaps are asked for, Near is left out as well.
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
	for _, d := range Directions {
		r.Locks[d] = r.FirstLimit(d)
	}
	if gaps {
		r.Near = r.nearest(l.near)
	}
	return r, touches, nil
}

// first lists the pairs that come first either way, and those that come nearest.
func (r *Result) first() (pairs [][2]int) {
	const few = 3 // of either way
	for _, d := range Directions {
		n := 0
		for _, l := range r.Locks[d].Chain {
			if l.Kind == Contact && n < few {
				pairs = append(pairs, l.Pair)
				n++
			}
		}
	}
	near := slices.Clone(r.Near)
	slices.SortStableFunc(near, func(a, b clearance.Near) int { return cmp.Compare(a.Gap, b.Gap) })
	for i := range min(len(near), 2*few) {
		pairs = append(pairs, near[i].Pair)
	}
	return pairs
}

// nearest lists the pair that comes nearest within the locks, and those that are nearest at either, but for pairs
// that stop the wheels. Where none is near at a lock it lists all.
func (r *Result) nearest(near float64) (list []clearance.Near) {
	from, to := r.Locks[ToRight].Column, r.Locks[ToLeft].Column
	closest, found := r.Scene.Closest(from, to, near, r.Stops)
	if !found {
		return nil
	}
	list = append(list, closest)
	for _, d := range Directions {
		at, found := r.Scene.ClosestAt(&r.Locks[d].Pose.Pose, near, r.Stops)
		if !found {
			return r.Scene.Nearest(from, to, near)
		}
		if !slices.ContainsFunc(list, func(n clearance.Near) bool { return n.Pair == at.Pair }) {
			list = append(list, at)
		}
	}
	return list
}
