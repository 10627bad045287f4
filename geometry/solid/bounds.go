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

// Round is the radius of the ball that sweeps the solid's core, mm.
func (s *Solid) Round() float64 { return s.round }

// CoreReach bounds the distance of the points of the solid's core from an axis in body axes, mm: turned about the axis by an angle, none
// travels further than that times the angle, and the gap to any other solid changes by no more, since turning a ball about its own
// centre changes nothing. It is exact but for discs, where it may be up to 0.13 % of the disc's radius too large.
func (s *Solid) CoreReach(axis rigid.Axis) (reach float64) {
	// What is along the axis does not count: everything is looked at along it.
	flat := func(v r3.Vector) r3.Vector { return axis.Dir.Cross(v) }
	x, y, up, middle := flat(s.place.Turn[0]), flat(s.place.Turn[1]), flat(s.place.Turn[2]).Mul(s.half), flat(s.place.Shift.Sub(axis.Point))
	most := 0.0
	both := func(px, py float64) {
		at := middle.Add(x.Mul(px)).Add(y.Mul(py))
		// The further one of both faces: |at ± up|².
		most = math.Max(most, at.Norm2()+up.Norm2()+2*math.Abs(at.Dot(up)))
	}
	for _, c := range s.base.corners {
		both(c.X, c.Y)
	}
	if len(s.base.corners) == 0 && s.radius == 0 {
		both(0, 0)
	}
	if len(s.base.corners) == 0 && s.radius > 0 {
		out := s.radius / math.Cos(math.Pi/around)
		for _, c := range disc {
			both(out*c.X, out*c.Y)
		}
	}
	return math.Sqrt(most)
}

// around is how many corners the polygon has that stands for a disc in CoreReach, and disc are corners on a circle of radius 1.
const around = 64

var disc = func() (corners [around]r2.Point) {
	for i := range corners {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / around)
		corners[i] = r2.Point{X: cos, Y: sin}
	}
	return corners
}()
