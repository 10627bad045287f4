package sweep

import (
	"math"
	"slices"

	"github.com/golang/geo/s1"

	"locksweep/geometry/clearance"
	"locksweep/geometry/linkage"
	"locksweep/geometry/setup"
)

// Foretold is what holds of the metal of a setup under any pickups, pins and rods: the angles at which spindles and column first touch the
// frame with pieces that depend on none of these. It is only read once it is made.
type Foretold struct {
	base        *Model
	touch, stop clearance.Turns // of anything, and of metal that may be a stop
}

// Foretell finds these angles.
func (m *Model) Foretell() *Foretold {
	return &Foretold{m, m.Scene.Turns(anyPair), m.Scene.Turns(m.Metal)}
}

// Bound is what can be said of a setup with other pickups, pins or rods before its metal is looked at, at a fraction of the cost of Refit.
type Bound struct {
	*Model             // all that the linkage does; without a scene
	Column [2]s1.Angle // signed, by Direction: the lock does not lie beyond
	NoStop [2]bool     // no positive stop comes before the linkage's own end
}

// Bound bounds a setup from above. The error is a *linkage.AssemblyError.
func (f *Foretold) Bound(s *setup.Setup) (b Bound, err error) {
	mechanism, err := linkage.New(s)
	if err != nil {
		return b, err
	}
	b.Model = made(s, mechanism, nil, f.base.Road)
	known := b.Linkage.Straight == f.base.Linkage.Straight // contacts were looked for from there
	for _, d := range Directions {
		chain, end := b.ownLimits(d)
		b.Column[d] = end
		if len(chain) > 0 {
			b.Column[d] = chain[0].Column
		}
		if !known {
			continue
		}
		b.Column[d] = b.soonest(&f.touch, b.Column[d])
		declared := slices.ContainsFunc(chain, func(l Limit) bool { return l.Kind == DeclaredStop })
		b.NoStop[d] = !declared && b.soonest(&f.stop, end) == end && b.looked(end)
	}
	return b, nil
}

// soonest is the first column angle, on the way to end, at which a body stands at the angle at which it touches; end where none does.
func (b *Bound) soonest(turns *clearance.Turns, end s1.Angle) s1.Angle {
	dir := math.Copysign(1, float64(end))
	least := end
	if at := s1.Angle(turns[linkage.Input][linkage.DirectionIndex(dir)]); at.Abs() < least.Abs() {
		least = at
	}
	for _, side := range setup.Sides {
		body := linkage.Spindle(side)
		turn := turns[body][linkage.DirectionIndex(b.Linkage.Way(body, dir))]
		if math.IsInf(turn, 0) {
			continue
		}
		if at, ok := b.Linkage.ColumnAt(side, s1.Angle(turn), dir); ok && at.Abs() < least.Abs() {
			least = at
		}
	}
	return least
}

// looked reports whether on the way to end the spindles turn no further than they were turned to foretell contacts.
func (b *Bound) looked(end s1.Angle) bool {
	const short, spare = 1e-6, 0.01 // rounding may put a dead point, before which spindles run fast, out of reach
	p, ok := b.Linkage.Pose(end * (1 - short))
	for side := range p.Sides {
		ok = ok && math.Abs(linkage.Turn(b.Linkage.Straight[side], p.Sides[side].Spindle)) < clearance.LookedAt-spare
	}
	return ok
}
