package sweep

import (
	"cmp"
	"slices"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/geometry/clearance"
	"locksweep/geometry/linkage"
	"locksweep/geometry/setup"
)

// Direction is a way of turning the steering wheel; it indexes every [2] array of locks.
type Direction int

const (
	ToLeft Direction = iota
	ToRight
)

// Directions lists both, left first.
var Directions = [2]Direction{ToLeft, ToRight}

// Sign is the sign of the column angle that way.
func (d Direction) Sign() float64 { return float64(1 - 2*d) }

func (d Direction) String() string { return [2]string{"left", "right"}[d] }

// Kind is what ends a motion.
type Kind int

const (
	Contact Kind = iota
	DeadPoint
	OverCentre
	RodEnd
	DeclaredStop
	ColumnTravel
	RackTravel
)

func (k Kind) String() string {
	return [7]string{"contact", "dead point", "over centre", "rod end", "declared stop", "column travel", "rack travel"}[k]
}

// Ends reports whether the linkage cannot sensibly go on past the limit, whatever is cut away.
func (k Kind) Ends() bool { return k == DeadPoint || k == OverCentre }

// Limit is one thing that stops the steering in one direction.
type Limit struct {
	Kind   Kind
	Column s1.Angle    // signed; 0 where the limit is broken straight ahead already
	Rod    int         // of the linkage, for DeadPoint, OverCentre and RodEnd
	Side   setup.Side  // of the spindle; without meaning for the travel of column or rack, which stops both
	End    linkage.End // of the rod, for RodEnd
	Pair   [2]int      // of the pieces of the scene, for Contact
	Point  r3.Vector   // of the contact, vehicle axes, mm
	// Brushes: metal that may be a stop only brushes past there, see Model.BrushesBy.
	Brushes bool
	// Narrow: of metal that may be a stop, the pieces of Pair that are narrower than what counts as one, between where they are hit and
	// what they hang on.
	Narrow     [2]bool
	Unmeasured [2]error // of those, why a piece could not be measured; nil where it was
}

// Lock is how far the steering turns in one direction.
type Lock struct {
	Column s1.Angle // signed: linkage.Mechanism.Most where nothing limits it
	Pose   Pose     // there
	// Chain is what stops the steering first, then what would if that were taken away, and so on up
	// to the linkage's own end; empty where Most is reached.
	Chain []Limit
}

// First returns what stops the steering; nil where linkage.Mechanism.Most is reached.
func (l *Lock) First() *Limit {
	if len(l.Chain) == 0 {
		return nil
	}
	return &l.Chain[0]
}

// Next returns what limits next after the lock; nil for nothing.
func (l *Lock) Next() *Limit {
	for i := range l.Chain {
		if (l.Chain[i].Column - l.Column).Abs() > together {
			return &l.Chain[i]
		}
	}
	return nil
}

// Lock finds how far the steering turns in one direction.
func (m *Model) Lock(d Direction) Lock {
	chain, end := m.ownLimits(d)
	for _, c := range m.Scene.Contacts(end) {
		chain = append(chain, m.touched(&c))
	}
	return m.lockOf(d, chain)
}

// FirstLimit is Lock at a fraction of the cost, with less of the chain: what the linkage itself sets, the first contact, and contacts of
// metal up to the first that is a positive stop. Column, Pose and First are those of Lock, and so is what Stopping tells, except that of
// Before all but the first may be missing.
func (m *Model) FirstLimit(d Direction) Lock {
	return m.firstLimit(d, anyPair)
}

func anyPair([2]int) bool { return true }

// firstLimit is FirstLimit in which the first contact is looked for only among the pairs that first names.
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
	// Metal that comes first may only brush past, or be too narrow: the next may be a stop.
	for len(chain) > 0 && !m.Positive(&chain[0]) {
		l, found := add(until(func(l Limit) bool { return l.Kind.Ends() || l.Kind == RodEnd || m.Positive(&l) }), m.Metal)
		if !found || m.Positive(&l) {
			break
		}
	}
	return m.lockOf(d, chain)
}

// ownLimits returns what the linkage itself and the declared stops set, sorted, up to the linkage's own end, and where that is.
func (m *Model) ownLimits(d Direction) (chain []Limit, end s1.Angle) {
	chain = m.linkageLimits(d)
	sortLimits(chain)
	if i := slices.IndexFunc(chain, func(l Limit) bool { return l.Kind.Ends() }); i >= 0 {
		return chain[:i+1], chain[i].Column
	}
	return chain, s1.Angle(d.Sign()) * m.Linkage.Most
}

// lockOf is the lock that limits make, which it sorts.
func (m *Model) lockOf(d Direction, chain []Limit) Lock {
	sortLimits(chain)
	lock := Lock{Chain: chain, Column: s1.Angle(d.Sign()) * m.Linkage.Most}
	if first := lock.First(); first != nil {
		lock.Column = first.Column
	}
	m.pose(lock.Column, &lock.Pose)
	return lock
}

// touched is a contact as a limit.
func (m *Model) touched(c *clearance.Near) Limit {
	l := Limit{Kind: Contact, Column: c.Column, Side: c.Side, Pair: c.Pair, Point: c.Point}
	if m.Metal(c.Pair) {
		l.Brushes = m.brushes(c.Pair, c.Column)
		if !l.Brushes {
			l.Narrow, l.Unmeasured = m.narrow(c.Pair, c.Column, c.Point)
		}
	}
	return l
}

// sortLimits brings limits into the order in which they are met.
func sortLimits(chain []Limit) {
	slices.SortStableFunc(chain, func(a, b Limit) int {
		return cmp.Or(cmp.Compare(a.Column.Abs(), b.Column.Abs()), cmp.Compare(a.Kind, b.Kind), cmp.Compare(a.Side, b.Side))
	})
}

// linkageLimits returns what the linkage itself and the declared stops set, unsorted.
func (m *Model) linkageLimits(d Direction) (limits []Limit) {
	dir, l := d.Sign(), m.Linkage
	if l.Travel > 0 {
		kind := ColumnTravel
		if l.Slides(linkage.Input) {
			kind = RackTravel
		}
		limits = append(limits, Limit{Kind: kind, Column: l.Travel * s1.Angle(dir)})
	}
	ends := [linkage.Bodies]s1.Angle{linkage.Input: l.Most} // up to where a body may drive a rod
	for rod := range l.Rods {
		r := &l.Rods[rod]
		side := r.To.Side()
		add := func(kind Kind, end linkage.End, column s1.Angle) {
			limits = append(limits, Limit{Kind: kind, Rod: rod, Side: side, End: end, Column: column})
		}
		end := ends[r.From]
		if column, found := l.DeadPoint(rod, dir); found {
			end = min(end, column.Abs())
			add(DeadPoint, 0, column)
		}
		if column, found := l.OverCentre(rod, dir); found {
			end = min(end, column.Abs())
			add(OverCentre, 0, column)
		}
		ends[r.To] = end
		if column, found := m.declaredStop(side, dir, end); found {
			add(DeclaredStop, 0, column)
		}
		for _, at := range linkage.Ends {
			if column, found := m.boundRodEnd(rod, at, dir, end); found {
				add(RodEnd, at, column)
			}
		}
	}
	return limits
}

// boundRodEnd returns the column angle at which a rod end binds, within end.
func (m *Model) boundRodEnd(rod int, at linkage.End, dir float64, end s1.Angle) (column s1.Angle, found bool) {
	switch tilt := m.Linkage.Rods[rod].Spec.End.Tilt; {
	case tilt == 0:
		return 0, false
	case m.Straight.Tilt[rod][at] >= tilt:
		return 0, true
	default:
		return m.Linkage.TiltAt(rod, at, tilt, dir, end)
	}
}

// declaredStop returns the column angle at which a spindle comes to its declared stop, within end.
func (m *Model) declaredStop(side setup.Side, dir float64, end s1.Angle) (column s1.Angle, found bool) {
	stop, straight := m.Setup.Corners[side].Stop, m.Linkage.Straight[side]
	switch {
	case stop == 0:
		return 0, false
	case straight.Abs() >= stop:
		return 0, true
	}
	column, found = m.Linkage.ColumnAt(side, s1.Angle(m.Linkage.Way(linkage.Spindle(side), dir))*stop, dir)
	return column, found && column.Abs() <= end
}
