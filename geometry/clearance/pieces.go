// Package clearance answers who comes near whom: the pieces of a setup as solids riding on frame,
// column, spindles and tie rods, their first contact along the motion of the steering, and the
// least gap of every pair. Vehicle axes, millimetres.
package clearance

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"locksweep/geometry/linkage"
	"locksweep/geometry/planar"
	"locksweep/geometry/rigid"
	"locksweep/geometry/setup"
	"locksweep/geometry/solid"
)

// Piece is one named piece of metal or rubber.
type Piece struct {
	Name    string
	Body    linkage.Body
	Side    setup.Side
	Sided   bool        // Side has a meaning
	Part    *setup.Part // nil for what every setup has: tyres, rods, arms
	Assumed bool        // its shape was not given
	// Solids are its convex pieces in vehicle axes, in the straight-ahead pose of the file.
	Solids []solid.Solid
	Flat   *Flat // set for what is cut from plate

	shapes []shape // of Solids
	space  ball    // about all that the piece can come to
}

// Flat is a plate: an outline in a plane and two faces along the plane's normal.
type Flat struct {
	Outline      []r2.Point // in the plane's two axes, counter-clockwise, mm
	Lower, Upper float64    // along the third axis, mm
	Place        rigid.Motion
}

// Label names a piece for a reader: "left tyre", "side rail". A name that begins with a side itself is not given another
// one before it: what is called "left lug" is that on the left, and "left lug, right side" its mirror image.
func (p *Piece) Label() string {
	if !p.Sided {
		return p.Name
	}
	word, _, more := strings.Cut(p.Name, " ")
	for _, side := range setup.Sides {
		if more && strings.EqualFold(word, side.String()) {
			if side == p.Side {
				return p.Name
			}
			return p.Name + ", " + p.Side.String() + " side"
		}
	}
	return p.Side.String() + " " + p.Name
}

// Steers reports whether a piece belongs to the linkage itself: a rod, a steering arm, the drop arm or the rack.
func (p *Piece) Steers() bool { return p.Part == nil && !p.Rubber() }

// Rubber reports whether a piece is a tyre.
func (p *Piece) Rubber() bool { return p.Part == nil && (p.Name == Tyre || p.Name == RearTyre) }

// Solid reports whether a piece is metal of known shape that may take a blow: no tyre, nothing soft, no shape that
// is only assumed.
func (p *Piece) Solid() bool { return !p.Assumed && !p.Rubber() && (p.Part == nil || !p.Part.Soft) }

// Names of the pieces that every setup has.
const (
	Tyre     = "tyre"
	RearTyre = "rear tyre"
	TieRod   = "tie rod"
	Arm      = "steering arm"
	DropArm  = "drop arm"
	Rack     = "rack"
)

// assumedBar is the diameter of an arm whose outline is not given, mm.
const assumedBar = 12.0

// build makes all pieces of a setup; cuts are known beforehand, by piece, of how plates are cut into convex ones.
func build(s *setup.Setup, m *linkage.Mechanism, cuts []planar.Cut) ([]Piece, error) {
	b := builder{setup: s, mechanism: m, cuts: cuts, pieces: make([]Piece, 0, len(cuts))}
	for _, side := range setup.Sides {
		b.wheels(side)
		b.rod(int(side))
		b.arm(side)
	}
	b.input()
	// By name, so that the order in the file has no bearing on any answer.
	parts := make([]*setup.Part, len(s.Parts))
	for i := range s.Parts {
		parts[i] = &s.Parts[i]
	}
	slices.SortStableFunc(parts, func(a, b *setup.Part) int { return cmp.Compare(a.Name, b.Name) })
	for _, part := range parts {
		b.part(part)
	}
	return b.pieces, b.err
}

// again makes a piece anew.
func (b *builder) again(p *Piece) {
	b.pieces = b.pieces[:0]
	switch {
	case p.Part != nil:
		b.standing(p.Part, p.Side, p.Sided)
	case p.Body.IsRod():
		b.rod(p.Body.Rod())
	case p.Name == Arm:
		b.arm(p.Side)
	default:
		b.input()
	}
	*p = b.pieces[0]
}

type builder struct {
	setup     *setup.Setup
	mechanism *linkage.Mechanism
	pieces    []Piece
	cuts      []planar.Cut // of the plates, where they are known beforehand, by piece
	err       error
}

func (b *builder) add(p Piece) { b.pieces = append(b.pieces, p) }

func (b *builder) wheels(side setup.Side) {
	s := b.setup
	w, spin := s.Corners[side].Wheel, s.SpinAxis(side)
	centre := s.CornerPoint(side, w.Stub()).Add(spin.Mul(w.Offset))
	b.add(Piece{Name: Tyre, Body: linkage.Spindle(side), Side: side, Sided: true, Solids: []solid.Solid{tyre(centre, spin, w.Tyre)}})
	rear := s.Vehicle.RearTyre
	centre = r3.Vector{X: -s.Vehicle.Wheelbase, Y: side.Sign() * s.Vehicle.RearTrack / 2, Z: rear.Diameter / 2}
	b.add(Piece{Name: RearTyre, Body: linkage.Frame, Side: side, Sided: true, Solids: []solid.Solid{tyre(centre, r3.Vector{Y: 1}, rear)}})
}

func (b *builder) rod(i int) {
	r := &b.mechanism.Rods[i]
	// Between the balls as the rod stands: its length may differ from what the file's pose needs.
	place := b.mechanism.RodPlace(i)
	far := place.Point(r3.Vector{X: r.Length})
	solids := []solid.Solid{solid.Capsule(place.Shift, far, r.Spec.Diameter/2)}
	if eye := r.Spec.End.Eye; eye > r.Spec.Diameter {
		solids = append(solids, solid.Capsule(place.Shift, place.Shift, eye/2), solid.Capsule(far, far, eye/2))
	}
	b.add(Piece{Name: r.Part, Body: linkage.RodBody(i), Side: r.Side, Sided: r.Sided, Solids: solids})
}

func (b *builder) arm(side setup.Side) {
	s := b.setup
	arm := s.Corners[side].Arm
	p := Piece{Name: Arm, Body: linkage.Spindle(side), Side: side, Sided: true}
	outline := make([]r2.Point, len(arm.Metal.Outline))
	for i, at := range arm.Metal.Outline {
		outline[i] = s.ArmPlane(side, at, arm.Metal.Middle())
	}
	b.lever(&p, &Flat{outline, arm.Metal.Lower, arm.Metal.Upper, s.KingpinPlane(side)}, s.Kingpin(side))
	b.add(p)
}

// lever gives an arm its plate, or where the file has no outline or no thickness of it bars, assumed, from its axis to the balls that it carries.
func (b *builder) lever(p *Piece, plate *Flat, axis rigid.Axis) {
	if len(plate.Outline) > 0 && plate.Upper > plate.Lower {
		p.Flat, p.Solids = plate, b.plate(plate, p.Name)
		return
	}
	p.Assumed = true
	for _, ball := range b.mechanism.Balls(p.Body) {
		p.Solids = append(p.Solids, bar(axis, ball))
	}
}

// input makes the drop arm, or the rack.
func (b *builder) input() {
	s := b.setup
	if b.mechanism.Slides(linkage.Input) {
		ends := b.mechanism.Balls(linkage.Input)
		b.add(Piece{Name: Rack, Body: linkage.Input, Solids: []solid.Solid{solid.Capsule(ends[0], ends[1], b.mechanism.Bar/2)}})
		return
	}
	metal := s.DropArm.Metal
	p := Piece{Name: DropArm, Body: linkage.Input}
	b.lever(&p, &Flat{metal.Outline, metal.Lower, metal.Upper, s.Column.ColumnPlane()}, s.Column.Axis())
	if !p.Assumed {
		for _, bar := range s.DropArm.Bars {
			p.Solids = append(p.Solids, b.prisms(&Flat{bar.Outline, metal.Lower, metal.Upper, p.Flat.Place}, DropArm)...)
		}
	}
	b.add(p)
}

// bar is the arm that is assumed where no outline is given: a round bar square to the axis, out to the ball.
func bar(axis rigid.Axis, ball r3.Vector) solid.Solid {
	root := axis.Point.Add(axis.Dir.Mul(axis.Dir.Dot(ball.Sub(axis.Point))))
	return solid.Capsule(root, ball, assumedBar/2)
}

func tyre(centre, spin r3.Vector, t setup.Tyre) solid.Solid {
	return solid.Cylinder(centre, spin, t.Diameter/2, t.Width/2, t.Shoulder)
}

// plate cuts the plate of the piece that is being made into convex prisms, in the way known beforehand where that still fits.
func (b *builder) plate(f *Flat, name string) []solid.Solid {
	if i := len(b.pieces); i < len(b.cuts) && b.cuts[i] != nil {
		if pieces, ok := b.cuts[i].Pieces(f.Outline); ok {
			if solids, err := solid.Prisms(pieces, f.Lower, f.Upper, f.Place); err == nil {
				return solids
			}
		}
	}
	return b.prisms(f, name)
}

// prisms cuts a plate into convex prisms.
func (b *builder) prisms(f *Flat, name string) []solid.Solid {
	solids, err := solid.Plate(f.Outline, f.Lower, f.Upper, f.Place)
	if err != nil && b.err == nil {
		b.err = fmt.Errorf("%s: %w", name, err)
	}
	return solids
}

// part makes the pieces of one part of the file: one, or one on either side.
func (b *builder) part(part *setup.Part) {
	if !part.Sides[setup.Left] && !part.Sides[setup.Right] {
		b.standing(part, setup.Left, false)
		return
	}
	for _, side := range setup.Sides {
		if part.Sides[side] {
			b.standing(part, side, true)
		}
	}
}

// standing makes one piece of a part.
func (b *builder) standing(part *setup.Part, side setup.Side, sided bool) {
	p := Piece{Name: part.Name, Side: side, Sided: sided, Part: part, Body: b.mechanism.Carrier(part.On, side)}
	if p.Body == linkage.Input {
		p.Sided = false
	}
	place := b.place(part, p.Body, side)
	switch {
	case part.Tube != nil:
		for i, from := range part.Tube.Path[:len(part.Tube.Path)-1] {
			p.Solids = append(p.Solids, solid.Capsule(place.Point(from), place.Point(part.Tube.Path[i+1]), part.Tube.Diameter/2))
		}
	case part.Plate != nil:
		if part.On == setup.OnSpindle || part.AtKingpin {
			place = b.setup.KingpinPlane(side)
		} else if part.Plate.Place != nil {
			place = place.After(*part.Plate.Place)
		}
		p.Flat = &Flat{part.Plate.Outline, part.Plate.Lower, part.Plate.Upper, place}
		p.Solids = b.plate(p.Flat, part.Name)
	case part.Disc != nil:
		axis := place.Direction(part.Disc.Axis)
		if part.Disc.Axis == (r3.Vector{}) {
			axis = r3.Vector{Y: 1}
			if part.On == setup.OnSpindle {
				axis = b.setup.SpinAxis(side)
			}
		}
		p.Solids = []solid.Solid{solid.Cylinder(place.Point(part.Disc.Centre), axis, part.Disc.Diameter/2, part.Disc.Width/2, 0)}
	}
	b.add(p)
}

// place returns the axes that a part of a body is described in, straight ahead.
func (b *builder) place(part *setup.Part, body linkage.Body, side setup.Side) rigid.Motion {
	m := rigid.Identity
	switch {
	case body.IsSpindle() || part.AtKingpin:
		m.Turn[1].Y, m.Shift = side.Sign(), b.setup.Centre(side)
	case part.On == setup.OnColumn:
		m = b.setup.Column.ColumnPlane()
	case body.IsRod():
		m = b.mechanism.RodPlace(body.Rod())
	case side == setup.Right:
		m.Turn[1].Y = -1 // a frame part is described on the left
	}
	return m
}
