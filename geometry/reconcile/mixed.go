package reconcile

import (
	"errors"
	"math"
	"slices"

	"locksweep/geometry/adjust"
	"locksweep/geometry/setup"
)

// Mixup is how wheels' angles may have been put down otherwise than they were read.
type Mixup int

const (
	Exchanged Mixup = iota // the left wheel's for the right one's
	Reversed               // with the other sign
	OtherWay               // the steering wheel as turned the other way
)

// Mixed is a mix-up of wheels' angles that explains what does not fit.
type Mixed struct {
	What   Mixup
	Turned []int   // in Setup.Checks, as it is put right there
	All    bool    // all that the mix-up can be of
	AsRead *Result // what would be wrong if they were read as they were put down; nil where that has no answer
}

// righted returns a reading put right; ok is false where the mix-up cannot be of it.
func (what Mixup) righted(t setup.Turned) (_ setup.Turned, ok bool) {
	switch what {
	case Exchanged:
		t.Steer[0], t.Steer[1] = t.Steer[1], t.Steer[0]
		return t, t.Read == [2]bool{true, true} && t.Steer[0] != t.Steer[1]
	case Reversed:
		for side := range t.Steer {
			t.Steer[side] = 0 - t.Steer[side]
		}
		return t, t.Steer[0] != 0 || t.Steer[1] != 0
	}
	t.Column = 0 - t.Column
	return t, t.Column != 0
}

// mixedUp looks for a mix-up of all wheels' angles, or else of those of one reading, with which they fit and as they were put down they do not;
// nil where there is none. Such slips are made far more often than parts are far from where they were measured (common practice, no source).
func mixedUp(s *setup.Setup, asRead *Result) (best *Result) {
	all := make([]int, len(s.Checks.Turned))
	groups := [][]int{all}
	for i := range all {
		all[i] = i
		if len(all) > 1 {
			groups = append(groups, []int{i})
		}
	}
	for g, group := range groups {
		for _, what := range [3]Mixup{Exchanged, Reversed, OtherWay} {
			right, changed := putRight(s, what, group)
			if len(changed) == 0 || what != Exchanged && backwards(s) || !readsNearer(s, right) {
				continue
			}
			r, err := run(right)
			if err != nil || !r.wheelsFit() || !r.better(asRead) || best != nil && best.Misfit <= r.Misfit {
				continue
			}
			best, r.Mixed = r, &Mixed{what, changed, g == 0, asRead}
		}
		if g == 0 && best != nil {
			break
		}
	}
	return best
}

// putRight is the setup with some readings put right, and which were changed.
func putRight(s *setup.Setup, what Mixup, group []int) (right *setup.Setup, changed []int) {
	turned := slices.Clone(s.Checks.Turned)
	for _, i := range group {
		if t, ok := what.righted(turned[i]); ok {
			turned[i] = t
			changed = append(changed, i)
		}
	}
	one := *s
	one.Checks.Turned = turned
	if s.Before != nil {
		before := *s.Before
		before.Checks.Turned = turned
		one.Before = &before
	}
	return &one, changed
}

// backwards reports whether by the file the steering turns the wheels against the steering wheel: then it is the file that is doubtful where
// the wheels were seen to turn as they should.
func backwards(s *setup.Setup) bool {
	stands, err := newStand(s)
	if err != nil {
		return false
	}
	straight, ok := stands.mechanism.Pose(0)
	return ok && straight.Sides[0].Rate < 0 && straight.Sides[1].Rate < 0
}

// readsNearer reports whether the wheels' angles are nearer to what the file makes of them when they are put right: by less than half the sum of
// squares, so that it is worth an adjustment.
func readsNearer(s, right *setup.Setup) bool {
	stands, err := newStand(s)
	if err != nil {
		return false
	}
	off := func(s *setup.Setup) (sum float64) {
		for _, t := range s.Checks.Turned {
			steer, ok := stands.steer(t.Column)
			for side := range steer {
				if !ok {
					return math.Inf(1)
				}
				if t.Read[side] {
					sum += math.Pow(steer[side]-float64(t.Steer[side]), 2)
				}
			}
		}
		return sum
	}
	return off(right) < off(s)/2
}

// wheelsFit reports whether no wheel's angle stands out, nor what the steering wheel stood at.
func (r *Result) wheelsFit() bool {
	return !r.More && !slices.ContainsFunc(r.Observations, func(o Observation) bool {
		return o.Suspect && (o.Kind == Turn || o.Kind == Centre || o.Kind == Column)
	})
}

// better reports whether a mix-up put right explains what was measured: nothing is left to be wrong, or less than was, and what is gained
// is more than chance gives.
func (r *Result) better(asRead *Result) bool {
	if asRead == nil {
		return r.Agrees()
	}
	return asRead.Misfit-r.Misfit > critical*critical && (r.Agrees() || len(r.Suspects) < len(asRead.Suspects))
}

// Run reconciles. Where file and vehicle do not agree it is tried first whether wheels' angles were mixed up: the result then is
// with them put right. The error is ErrNothing, ErrExact, a *ReachError, a *PlaceError, a *linkage.AssemblyError, or one of package adjust.
func Run(s *setup.Setup) (*Result, error) {
	r, err := run(s)
	if err == nil && r.Agrees() || err != nil && !errors.Is(err, adjust.ErrStuck) && !errors.Is(err, adjust.ErrStart) {
		return r, err
	}
	if mixed := mixedUp(s, r); mixed != nil {
		return mixed, nil
	}
	return r, err
}
