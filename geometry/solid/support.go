package solid

import (
	"github.com/golang/geo/r3"

	"locksweep/geometry/rigid"
)

// Support returns the point of the solid under a motion that lies furthest in the unit direction d, mm.
func (s *Solid) Support(m *rigid.Motion, d r3.Vector) r3.Vector {
	frame := m.After(s.place)
	return frame.Point(s.support(frame.Back(d))).Add(d.Mul(s.round))
}
