package setup

import (
	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"locksweep/geometry/rigid"
)

// KingpinPlane places what lies square to the kingpin of a side, wheels straight ahead: first axis
// forward along the plane, second outboard, third up along the kingpin, from the kingpin centre, in
// vehicle axes. On the right the three axes are left-handed, as corner axes are.
func (s *Setup) KingpinPlane(side Side) rigid.Motion {
	k := s.Kingpin(side)
	forward := r3.Vector{X: 1}
	forward = forward.Sub(k.Dir.Mul(k.Dir.X)).Normalize()
	outboard := k.Dir.Cross(forward).Mul(side.Sign())
	return rigid.Motion{Turn: [3]r3.Vector{forward, outboard, k.Dir}, Shift: k.Point}
}

// ArmPlane takes a point of the steering arm's plan, corner axes [forward, outboard] as a plumb bob finds
// it, into the axes of KingpinPlane, where lengths are true. The point stands at a height along the
// kingpin from its centre, mm: where the kingpin leans, metal above or below the centre stands off to one side of
// what the plan alone would say.
func (s *Setup) ArmPlane(side Side, p r2.Point, along float64) r2.Point {
	plane := s.KingpinPlane(side)
	k := FromCorner(side, plane.Turn[2])
	at := FromCorner(side, r3.Vector{X: p.X, Y: p.Y, Z: (along - k.X*p.X - k.Y*p.Y) / k.Z})
	return r2.Point{X: plane.Turn[0].Dot(at), Y: plane.Turn[1].Dot(at)}
}

// armPlan is the inverse of ArmPlane.
func (s *Setup) armPlan(side Side, p r2.Point, along float64) r2.Point {
	plane := s.KingpinPlane(side)
	v := FromCorner(side, plane.Turn[0].Mul(p.X).Add(plane.Turn[1].Mul(p.Y)).Add(plane.Turn[2].Mul(along)))
	return r2.Point{X: v.X, Y: v.Y}
}

// Along returns how far up the kingpin, from its centre, a point in corner axes stands, mm.
func (s *Setup) Along(side Side, p r3.Vector) float64 {
	return FromCorner(side, p).Dot(s.Kingpin(side).Dir)
}

// Middle is the height of a metal's mid plane along the axis that it turns about, mm.
func (m Metal) Middle() float64 { return (m.Lower + m.Upper) / 2 }

// ColumnPlane places what lies square to the column, centred: axes down, left and along from the
// foot, in vehicle axes (left-handed).
func (c Column) ColumnPlane() rigid.Motion {
	var m rigid.Motion
	for i, base := range rigid.Identity.Turn {
		m.Turn[i] = c.FromColumn(base)
	}
	m.Shift = c.Foot
	return m
}

// RodAxes places what rides on a tie rod between its two balls: first axis from the drop arm to the
// steering arm, second square to it, level and forward, third up; origin at the drop-arm ball. A rod
// that stands upright takes the vehicle's forward axis for its second.
func RodAxes(side Side, pin, rod r3.Vector) rigid.Motion {
	forward := rod.Cross(r3.Vector{Z: side.Sign()})
	if forward.Norm() < 1e-9 {
		forward = r3.Vector{X: 1}.Sub(rod.Mul(rod.X))
	}
	forward = forward.Normalize()
	up := rod.Cross(forward).Mul(-side.Sign())
	return rigid.Motion{Turn: [3]r3.Vector{rod, forward, up}, Shift: pin}
}
