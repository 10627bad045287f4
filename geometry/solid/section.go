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
func (s *Section) Outline(chord float64) []r2.Point { return s.outline(chord, nil) }

// OutlineIn is Outline clipped to a rectangle. What lies beyond is not followed, since a bar may be much longer than the plate.
func (s *Section) OutlineIn(room r2.Rect, chord float64) []r2.Point {
	return planar.Clip(s.outline(chord, &room), room)
}

// outline is Outline, followed to within chord where it runs in a rectangle; nil: everywhere.
func (s *Section) outline(chord float64, room *r2.Rect) []r2.Point {
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
	t := trace{s, chord, room}
	for i, a := range corners {
		pts = append(pts, a)
		pts = t.between(pts, a, corners[(i+1)%4], 40)
	}
	return planar.Spaced(pts, 1e-9)
}

// trace follows an outline.
type trace struct {
	*Section
	chord float64
	room  *r2.Rect
}

// between adds the corners between two neighbours of one quarter, in their order: where the outline stands further out
// than their chord, the furthest point there. In a quarter it runs one way along both axes, and so within the rectangle about the two.
func (t *trace) between(pts []r2.Point, a, b r2.Point, depth int) []r2.Point {
	along := b.Sub(a)
	if depth == 0 || along.Norm() < 1e-9 || t.room != nil && !t.room.Intersects(r2.RectFromPoints(a, b)) {
		return pts
	}
	out := r2.Point{X: along.Y, Y: -along.X}.Normalize()
	p, _ := t.furthest(out)
	if p.Sub(a).Dot(out) <= t.chord {
		return pts
	}
	pts = append(t.between(pts, a, p, depth-1), p)
	return t.between(pts, p, b, depth-1)
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
	return s.Solid.support(d).Add(d.Mul(s.Grown))
}

// Passes returns how far the solid, not grown, stands clear above or below the plate, mm; 0 or less where
// it reaches between the faces.
func (s *Section) Passes() float64 {
	low, high := s.Solid.support(r3.Vector{Z: -1}).Z, s.Solid.support(r3.Vector{Z: 1}).Z
	return math.Max(low-s.Upper, s.Lower-high)
}
