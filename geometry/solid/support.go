package solid

import (
	"github.com/golang/geo/r3"

	"locksweep/geometry/rigid"
)

// Posed is a solid under a motion.
type Posed struct {
	solid *Solid
	frame rigid.Motion
}

// Under returns the solid under a motion.
func (s *Solid) Under(m rigid.Motion) Posed { return Posed{s, m.After(s.place)} }

// support returns the point of the solid that lies furthest in the unit direction d, mm.
func (p *Posed) support(d r3.Vector) r3.Vector {
	return p.frame.Point(p.solid.support(p.frame.Back(d))).Add(d.Mul(p.solid.round))
}

// Reaches returns how far the solid under a motion reaches along the unit vector d: the most of d·p, mm.
func (s *Solid) Reaches(m *rigid.Motion, d r3.Vector) float64 {
	inBody := m.Back(d)
	inCore := s.place.Back(inBody)
	return d.Dot(m.Shift) + inBody.Dot(s.place.Shift) + inCore.Dot(s.support(inCore)) + s.round
}
