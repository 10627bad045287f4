package solid

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"locksweep/geometry/planar"
)

// Section is what a solid, grown by a ball, fills between the faces of a plate, seen along the plate's
// normal: metal of the plate outside it is at least the ball's radius away from the solid.
type Section struct {
	Solid        Posed   // in the plate's axes
	Grown        float64 // radius of the ball, mm
	Lower, Upper float64 // faces of the plate, mm
}

// Outline returns the section as a convex outline, counter-clockwise; nil where the grown solid passes
// over or under the plate. Corners lie on the true outline, edges within chord mm inside it.
func (s *Section) Outline(chord float64) []r2.Point {
	var pts []r2.Point
	quarters := [4]r2.Point{{X: 1}, {Y: 1}, {X: -1}, {Y: -1}}
	var corners [4]r2.Point
	for i, d := range quarters {
		p, ok := s.furthest(d)
		if !ok {
			return nil
		}
		corners[i] = p
	}
	for i, a := range corners {
		pts = append(pts, a)
		pts = s.between(pts, a, corners[(i+1)%4], chord, 40)
	}
	return planar.Spaced(pts, 1e-9)
}

// between adds the corners between two neighbours, in their order: where the outline stands further out
// than their chord, the furthest point there.
func (s *Section) between(pts []r2.Point, a, b r2.Point, chord float64, depth int) []r2.Point {
	along := b.Sub(a)
	if depth == 0 || along.Norm() < 1e-9 {
		return pts
	}
	out := r2.Point{X: along.Y, Y: -along.X}.Normalize()
	p, _ := s.furthest(out)
	if p.Sub(a).Dot(out) <= chord {
		return pts
	}
	pts = append(s.between(pts, a, p, chord, depth-1), p)
	return s.between(pts, p, b, chord, depth-1)
}

// furthest returns the section's point that lies furthest in a direction of the plane; ok is false where
// there is no section.
func (s *Section) furthest(dir r2.Point) (p r2.Point, ok bool) {
	at := s.support(dir, 0)
	switch {
	case at.Z > s.Upper:
		return s.onFace(dir, at, s.Upper, -1)
	case at.Z < s.Lower:
		return s.onFace(dir, at, s.Lower, 1)
	}
	return r2.Point{X: at.X, Y: at.Y}, true
}

// faceError ends the search for a point on a face, mm.
const faceError = 1e-9

// onFace returns the point at a face's height that lies furthest in a direction. outer is the solid's
// furthest point, beyond the face; way points back along the normal. The two points on either side of
// the face close in on the hull's edge that crosses it.
func (s *Section) onFace(dir r2.Point, outer r3.Vector, face, way float64) (p r2.Point, ok bool) {
	inner := s.support(r2.Point{}, way)
	if (inner.Z-face)*way <= 0 {
		return p, false
	}
	along := func(v r3.Vector) float64 { return v.X*dir.X + v.Y*dir.Y }
	for range 60 {
		across, down := (inner.Z-outer.Z)*way, along(outer)-along(inner)
		tilt := math.Hypot(across, down)
		if tilt == 0 {
			break
		}
		next := s.support(dir.Mul(across/tilt), way*down/tilt)
		gain := ((along(next)-along(outer))*across + (next.Z-outer.Z)*way*down) / tilt
		if gain <= faceError {
			break
		}
		if (next.Z-face)*way <= 0 {
			outer = next
		} else {
			inner = next
		}
	}
	t := (face - outer.Z) / (inner.Z - outer.Z)
	at := outer.Add(inner.Sub(outer).Mul(t))
	return r2.Point{X: at.X, Y: at.Y}, true
}

// support returns the grown solid's point furthest in a unit direction of the plate's axes.
func (s *Section) support(across r2.Point, up float64) r3.Vector {
	d := r3.Vector{X: across.X, Y: across.Y, Z: up}
	return s.Solid.Support(d).Add(d.Mul(s.Grown))
}

// Passes returns how far the solid, not grown, stands clear above or below the plate, mm; 0 or less where
// it reaches between the faces.
func (s *Section) Passes() float64 {
	low, high := s.Solid.Support(r3.Vector{Z: -1}).Z, s.Solid.Support(r3.Vector{Z: 1}).Z
	return math.Max(low-s.Upper, s.Lower-high)
}
