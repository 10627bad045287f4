package sweep

import (
	"github.com/golang/geo/s1"

	"locksweep/geometry/linkage"
)

// Margin is how far past a lock the linkage gives out at one end of a rod.
type Margin struct {
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
				margins[end] = Margin{Column: by, Leverage: lock.Pose.Transmission[rod][end]}
				found[end] = true
			}
		}
	}
	return margins, found
}
