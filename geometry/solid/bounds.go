package solid

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"locksweep/geometry/rigid"
)

// Ball returns a ball that holds the solid, body axes, mm.
func (s *Solid) Ball() (centre r3.Vector, radius float64) {
	middle, across := r2.Point{}, s.radius
	if corners := s.base.corners; len(corners) > 0 {
		middle = r2.RectFromPoints(corners...).Center()
		for _, c := range corners {
			across = math.Max(across, c.Sub(middle).Norm())
		}
	}
	return s.place.Point(r3.Vector{X: middle.X, Y: middle.Y}), math.Hypot(across, s.half) + s.round
}

// Box returns the corners of the least box along the axes that holds the solid under a motion, mm.
func (s *Solid) Box(m rigid.Motion) (low, high r3.Vector) {
	frame := m.After(s.place)
	xl, xh := s.extent(&frame, r3.Vector{X: 1})
	yl, yh := s.extent(&frame, r3.Vector{Y: 1})
	zl, zh := s.extent(&frame, r3.Vector{Z: 1})
	return r3.Vector{X: xl, Y: yl, Z: zl}, r3.Vector{X: xh, Y: yh, Z: zh}
}

// Heights returns the lowest and the highest z of the solid under a motion, mm.
func (s *Solid) Heights(m rigid.Motion) (low, high float64) {
	frame := m.After(s.place)
	return s.extent(&frame, r3.Vector{Z: 1})
}

// extent returns how far the solid reaches along a unit vector either way.
func (s *Solid) extent(frame *rigid.Motion, dir r3.Vector) (low, high float64) {
	d := frame.Back(dir)
	low = dir.Dot(frame.Point(s.support(d.Mul(-1)))) - s.round
	high = dir.Dot(frame.Point(s.support(d))) + s.round
	return low, high
}

// Reach bounds the distance of the solid's points from an axis in body axes, mm: turned about the axis
// by an angle, no point travels further than reach times angle. It is exact but for discs, where it
// may be up to 0.13 % of the disc's radius too large.
func (s *Solid) Reach(axis rigid.Axis) float64 { return s.CoreReach(axis) + s.round }

// CoreReach is Reach without the rounding: in a turn about the axis the gap to any other solid changes
// by no more than core reach times angle, since turning a ball about its own centre changes nothing.
func (s *Solid) CoreReach(axis rigid.Axis) (reach float64) {
	for p := range s.hull {
		reach = math.Max(reach, axis.Dir.Cross(s.place.Point(p).Sub(axis.Point)).Norm())
	}
	return reach
}

// around is the number of corners of the polygon about a disc in hull.
const around = 64

// hull yields points, in core axes, whose hull holds the core: its corners, or those of a
// polygon about its disc.
func (s *Solid) hull(yield func(r3.Vector) bool) {
	both := func(x, y float64) bool {
		return yield(r3.Vector{X: x, Y: y, Z: s.half}) && yield(r3.Vector{X: x, Y: y, Z: -s.half})
	}
	if s.radius == 0 && len(s.base.corners) == 0 {
		both(0, 0)
		return
	}
	for _, c := range s.base.corners {
		if !both(c.X, c.Y) {
			return
		}
	}
	if len(s.base.corners) > 0 {
		return
	}
	out := s.radius / math.Cos(math.Pi/around)
	for i := range around {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / around)
		if !both(out*cos, out*sin) {
			return
		}
	}
}
