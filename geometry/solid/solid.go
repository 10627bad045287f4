// Package solid answers how far apart two convex solids are. Every solid is a core swept by a ball:
// the core is an upright prism over a disc or a convex polygon, so that one description serves a bar
// with rounded ends, a tyre with or without shoulders, a brake disc and a piece of plate, and the
// distance of two solids is that of their cores less the two balls' radii.
//
// Solids lie in the axes of the body that they belong to, millimetres; a rigid.Motion puts them where
// they are asked about. A solid is only read once it is made.
package solid

import (
	"errors"
	"math"
	"sort"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"locksweep/geometry/planar"
	"locksweep/geometry/rigid"
)

// Solid is a convex solid. The zero Solid is no solid: use Capsule, Cylinder or Plate.
type Solid struct {
	place  rigid.Motion // of core axes in the body's axes: the core stands on z = ±half about its base
	base   polygon      // the base; without corners it is a disc about the origin
	radius float64      // of the disc, mm; 0 is a point, and the core a segment
	half   float64      // half height of the core along its z, mm
	round  float64      // radius of the ball that sweeps the core, mm
}

// Capsule returns a round bar with rounded ends: all points within radius (mm) of the segment from a to
// b. Equal ends make a ball, radius 0 a segment or a point.
func Capsule(a, b r3.Vector, radius float64) Solid {
	along := b.Sub(a)
	return Solid{
		place: upright(a.Add(b).Mul(0.5), along),
		half:  along.Norm() / 2,
		round: math.Max(radius, 0),
	}
}

// Cylinder returns a cylinder of the given radius about an axis through its centre, reaching halfWidth
// along the axis either way, all mm. axis needs no unit length; a zero axis is taken as upright. Both
// rims are rounded to the radius shoulder, which is cut to what the cylinder has room for.
func Cylinder(centre, axis r3.Vector, radius, halfWidth, shoulder float64) Solid {
	radius, halfWidth = math.Max(radius, 0), math.Max(halfWidth, 0)
	shoulder = math.Max(math.Min(shoulder, math.Min(radius, halfWidth)), 0)
	return Solid{
		place:  upright(centre, axis),
		radius: radius - shoulder,
		half:   halfWidth - shoulder,
		round:  shoulder,
	}
}

// Plate returns the metal between two heights (mm, in either order) over an outline as convex solids, one where the outline is convex.
// Heights and outline are in the axes that place moves into the body's. The outline must not cross itself; it may be concave and run
// either way round.
func Plate(outline []r2.Point, lower, upper float64, place rigid.Motion) ([]Solid, error) {
	pieces, err := planar.Convex(outline)
	if err != nil {
		return nil, err
	}
	return Prisms(pieces, lower, upper, place)
}

// Prisms is Plate for an outline that is cut already, into convex polygons, counter-clockwise and without collinear corners.
func Prisms(pieces [][]r2.Point, lower, upper float64, place rigid.Motion) ([]Solid, error) {
	middle, half := (lower+upper)/2, math.Abs(upper-lower)/2
	if math.IsNaN(half) || math.IsInf(half, 0) {
		return nil, errors.New("a plate needs two finite faces")
	}
	place.Shift = place.Point(r3.Vector{Z: middle})
	solids := make([]Solid, len(pieces))
	for i, piece := range pieces {
		solids[i] = Solid{place: place, base: newPolygon(piece), half: half}
	}
	return solids, nil
}

// upright returns core axes at a centre with z along a direction.
func upright(centre, along r3.Vector) rigid.Motion {
	z := along.Normalize()
	if z == (r3.Vector{}) {
		z = r3.Vector{Z: 1}
	}
	x := z.Ortho()
	return rigid.Motion{Turn: [3]r3.Vector{x, z.Cross(x), z}, Shift: centre}
}

// support returns the point of the core that lies furthest in direction d, both in core axes.
func (s *Solid) support(d r3.Vector) r3.Vector {
	p := r3.Vector{Z: math.Copysign(s.half, d.Z)}
	if len(s.base.corners) > 0 {
		corner := s.base.furthest(d.X, d.Y)
		p.X, p.Y = corner.X, corner.Y
	} else if across := math.Sqrt(d.X*d.X + d.Y*d.Y); across > 0 {
		p.X, p.Y = s.radius*d.X/across, s.radius*d.Y/across
	}
	return p
}

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

// nearest returns the point of the core that lies nearest to p, both in core axes.
func (s *Solid) nearest(p r3.Vector) r3.Vector {
	flat := r2.Point{X: p.X, Y: p.Y}
	if len(s.base.corners) > 0 {
		flat = s.base.nearest(flat)
	} else if across := flat.Norm(); across > s.radius {
		flat = flat.Mul(s.radius / across)
	}
	return r3.Vector{X: flat.X, Y: flat.Y, Z: math.Max(-s.half, math.Min(s.half, p.Z))}
}

// polygon is a convex polygon, counter-clockwise, without collinear corners. Where it has many corners,
// normals holds the angles of the outward normals of the edges from each corner to the next, ascending.
type polygon struct {
	corners []r2.Point
	normals []float64
}

// manyCorners is from where on a search by angle beats looking at every corner.
const manyCorners = 24

// newPolygon takes the corners of a convex polygon, which it may turn round in their order.
func newPolygon(corners []r2.Point) polygon {
	n := len(corners)
	if n < manyCorners {
		return polygon{corners: corners}
	}
	normal := func(i int) float64 {
		e := corners[(i+1)%n].Sub(corners[i])
		return math.Atan2(-e.X, e.Y)
	}
	first := 0
	for i := range n {
		if normal(i) < normal(first) {
			first = i
		}
	}
	turned := append(append(make([]r2.Point, 0, n), corners[first:]...), corners[:first]...)
	normals := make([]float64, n)
	for i := range n {
		normals[i] = normal((first + i) % n)
	}
	return polygon{turned, normals}
}

// furthest returns the corner that lies furthest in the direction (x, y).
func (p *polygon) furthest(x, y float64) r2.Point {
	if p.normals == nil {
		best, most := 0, math.Inf(-1)
		for i, c := range p.corners {
			if d := c.X*x + c.Y*y; d > most {
				best, most = i, d
			}
		}
		return p.corners[best]
	}
	// A corner is furthest for the directions between the normals of its two edges.
	return p.corners[sort.SearchFloat64s(p.normals, math.Atan2(y, x))%len(p.corners)]
}

// nearest returns the point of the polygon that lies nearest to q.
func (p *polygon) nearest(q r2.Point) r2.Point {
	best, least := q, math.Inf(1) // q itself where it lies within
	a := p.corners[len(p.corners)-1]
	for _, b := range p.corners {
		along, to := b.Sub(a), q.Sub(a)
		if along.Cross(to) < 0 {
			t := math.Max(0, math.Min(1, along.Dot(to)/along.Dot(along)))
			on := a.Add(along.Mul(t))
			if d := on.Sub(q).Norm(); d < least {
				best, least = on, d
			}
		}
		a = b
	}
	return best
}
