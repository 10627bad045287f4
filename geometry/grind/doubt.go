package grind

import (
	"math"

	"github.com/golang/geo/s1"

	"locksweep/geometry/sweep"
	"locksweep/geometry/tolerance"
)

// leastApart is what is wanted of the wheel inside the turn between the stop and what may take the blow next, where nothing is known of how
// sure the lock is (common practice, no source).
const leastApart = 3 * s1.Degree

// Doubt fills in by how much the locks of the plan may be off, by the accuracies of the setup, or the usual ones where it gives none. It
// takes two sweeps for each thing that was measured; without it they are not known.
func (p *Plan) Doubt() error {
	if len(p.Cuts) == 0 {
		return nil
	}
	const step = 5 * s1.Degree // only the locks are asked for
	as, err := sweep.Run(p.After.Setup, step)
	if err != nil {
		return err
	}
	const lock = "lock_inner"
	r, err := tolerance.Run(as, tolerance.Options{Keys: append(tolerance.Margins[:], lock)})
	if err != nil {
		return err
	}
	p.Sure = r
	for _, d := range sweep.Directions {
		if f := r.Find(lock, int(d)); f != nil {
			p.Stops[d].PlusMinus = s1.Angle(f.PlusMinus())
		}
	}
	return nil
}

// next fills in what takes the blow after the stop if that is no stop itself.
func (s *Stop) next(p *Plan, d sweep.Direction) {
	s.PlusMinus = s1.Angle(math.NaN())
	lock := &p.Locks[d]
	next := after(lock)
	if s.Metal == nil || s.Missing() || next == nil || next.Kind != sweep.Contact || p.After.Positive(next) {
		return
	}
	s.Next, s.Margin = next, (p.SteerAt(d, next.Column) - s.Steer).Abs()
}

// Wants returns the margin wanted before what comes next: what the lock may be off by, or 3° where that is not known.
func (s *Stop) Wants() s1.Angle {
	if math.IsNaN(float64(s.PlusMinus)) {
		return leastApart
	}
	return s.PlusMinus
}

// Doubtful reports whether what comes next, a tyre, a rod or other thing that is no stop, may in truth touch before the stop does.
func (s *Stop) Doubtful() bool { return s.Next != nil && s.Margin <= s.Wants() }
