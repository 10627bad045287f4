package sweep

import (
	"github.com/golang/geo/s1"

	"locksweep/geometry/linkage"
)

// LeastLeverageAt is LeastLeverage of one end of the rods. The two ends fail in different ways: at the steering arm
// the force in the rod grows, and play and jamming with it; at the arm that drives the rod the steering goes light and
// dead, and may snap over.
func (m *Model) LeastLeverageAt(end linkage.End, from, to s1.Angle) Leverage {
	at := leverageAt(func(column s1.Angle) Leverage {
		least := Leverage{Angle: s1.InfAngle(), Column: column, End: end}
		var p linkage.Pose
		if !m.Linkage.Fill(&p, column) {
			return least
		}
		for rod := range p.Rods {
			if angle := m.Linkage.Transmission(rod, &p)[end]; angle < least.Angle*even {
				least.Angle, least.Rod = angle, rod
			}
		}
		return least
	})
	return at.least(from, to)
}

// Margin is how far past a lock the linkage gives out at one end of a rod.
type Margin struct {
	Kind   Kind     // DeadPoint or OverCentre
	Rod    int      // of the linkage
	Column s1.Angle // from the lock on; 0 where the lock is that point
	// Leverage is what is left at that end with the wheels at the lock.
	Leverage s1.Angle
}

// Margins returns, of the lock in a direction, how far it is to the nearest dead point (at linkage.AtArm) and over
// centre (at linkage.AtDropArm), whatever stops the wheels before; found is false where there is none within half a turn.
func (r *Result) Margins(d Direction) (margins [2]Margin, found [2]bool) {
	lock := &r.Locks[d]
	for rod := range r.Linkage.Rods {
		for end, of := range [2]func(int, float64) (s1.Angle, bool){linkage.AtArm: r.Linkage.DeadPoint, linkage.AtDropArm: r.Linkage.OverCentre} {
			column, ok := of(rod, d.Sign())
			if by := (column - lock.Column).Abs(); ok && (!found[end] || by < margins[end].Column) {
				margins[end] = Margin{Kind: [2]Kind{DeadPoint, OverCentre}[end], Rod: rod, Column: by, Leverage: lock.Pose.Transmission[rod][end]}
				found[end] = true
			}
		}
	}
	return margins, found
}
