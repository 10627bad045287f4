// Package rigid answers where things go when they turn: axes in space, rotations about them and
// rigid motions. Points are r3.Vector in millimetres, right-handed vehicle axes (x forward, y left,
// z up); angles are s1.Angle, positive right-handed about an axis.
package rigid

import (
	"math"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"
)

// Axis is a line with a direction: all points Point + t·Dir. Dir is a unit vector.
type Axis struct {
	Point r3.Vector
	Dir   r3.Vector
}

// Rotate turns the free vector v by the angle whose sine and cosine are given, right-handed about
// the unit vector dir (Rodrigues' formula).
func Rotate(v, dir r3.Vector, sin, cos float64) r3.Vector {
	along := dir.Dot(v) * (1 - cos)
	cross := dir.Cross(v)
	return r3.Vector{
		X: v.X*cos + cross.X*sin + dir.X*along,
		Y: v.Y*cos + cross.Y*sin + dir.Y*along,
		Z: v.Z*cos + cross.Z*sin + dir.Z*along,
	}
}

// RotatePoint turns the point p by angle about the axis.
func (a Axis) RotatePoint(p r3.Vector, angle s1.Angle) r3.Vector {
	sin, cos := math.Sincos(float64(angle))
	return a.Point.Add(Rotate(p.Sub(a.Point), a.Dir, sin, cos))
}

// Motion is a rigid motion p → Turn·p + Shift. Turn holds the images of the three base vectors; where
// they are left-handed the motion mirrors as well, as the axes of a right-hand corner do.
// The zero Motion is not the identity: use Identity. What is asked most takes a pointer, since copying a Motion costs more than to
// use it.
type Motion struct {
	Turn  [3]r3.Vector
	Shift r3.Vector
}

// Identity moves nothing.
var Identity = Motion{Turn: [3]r3.Vector{{X: 1}, {Y: 1}, {Z: 1}}}

// About returns the rotation by angle about the axis.
func About(a Axis, angle s1.Angle) Motion {
	sin, cos := math.Sincos(float64(angle))
	var m Motion
	for i, base := range Identity.Turn {
		m.Turn[i] = Rotate(base, a.Dir, sin, cos)
	}
	m.Shift = a.Point.Sub(m.Direction(a.Point))
	return m
}

// Point moves a point.
func (m *Motion) Point(p r3.Vector) r3.Vector { return m.Direction(p).Add(m.Shift) }

// Direction turns a free vector.
func (m *Motion) Direction(v r3.Vector) r3.Vector {
	return r3.Vector{
		X: m.Turn[0].X*v.X + m.Turn[1].X*v.Y + m.Turn[2].X*v.Z,
		Y: m.Turn[0].Y*v.X + m.Turn[1].Y*v.Y + m.Turn[2].Y*v.Z,
		Z: m.Turn[0].Z*v.X + m.Turn[1].Z*v.Y + m.Turn[2].Z*v.Z,
	}
}

// Back turns a free vector by the inverse of the motion's rotation.
func (m *Motion) Back(v r3.Vector) r3.Vector {
	return r3.Vector{X: m.Turn[0].Dot(v), Y: m.Turn[1].Dot(v), Z: m.Turn[2].Dot(v)}
}

// After returns the motion that does first and then m.
func (m Motion) After(first Motion) (both Motion) {
	for i, base := range first.Turn {
		both.Turn[i] = m.Direction(base)
	}
	both.Shift = m.Point(first.Shift)
	return both
}

// Inverse undoes the motion.
func (m Motion) Inverse() Motion {
	inv := Motion{Turn: [3]r3.Vector{
		{X: m.Turn[0].X, Y: m.Turn[1].X, Z: m.Turn[2].X},
		{X: m.Turn[0].Y, Y: m.Turn[1].Y, Z: m.Turn[2].Y},
		{X: m.Turn[0].Z, Y: m.Turn[1].Z, Z: m.Turn[2].Z},
	}}
	inv.Shift = inv.Direction(m.Shift).Mul(-1)
	return inv
}
