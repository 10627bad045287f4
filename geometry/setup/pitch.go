package setup

import (
	"math"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/geometry/rigid"
)

// Pitched is a turn of the whole frame about the rear axle, as other tyres make it.
type Pitched struct {
	NoseUp s1.Angle
	Lift   float64 // of the rear axle, mm
}

// onTyres turns the frame for tyres whose radii are more than before by front and rear, mm: the frame is one body
// and stands on both axles.
func (s *Setup) onTyres(front, rear float64) {
	p := Pitched{NoseUp: s1.Angle((front - rear) / s.Vehicle.Wheelbase), Lift: rear}
	s.pitch(p)
	s.Rehung.Pitched = append(s.Rehung.Pitched, p)
}

// pitch turns all that is fixed to the frame and all that hangs on it, rods and tyres apart, as one rigid body, and
// describes it anew in vehicle axes: their origin is again below the midpoint of the kingpin centres. What a rod
// joins is turned alike, so that rods fit as before.
func (s *Setup) pitch(p Pitched) {
	old := *s
	move := s.pitching(p)
	ahead := (move.Point(old.Centre(Left)).X + move.Point(old.Centre(Right)).X) / 2
	move.Shift.X -= ahead
	s.Vehicle.Wheelbase += ahead
	for _, side := range Sides {
		c := &s.Corners[side]
		centre, k := move.Point(old.Centre(side)), FromCorner(side, move.Direction(old.Kingpin(side).Dir))
		c.Kingpin = Kingpin{
			Ahead: centre.X, Height: centre.Z,
			Inclination: s1.Angle(math.Atan2(-k.Y, k.Z)), Caster: s1.Angle(math.Atan2(-k.X, k.Z)),
		}
	}
	var fits [2]*refit
	for _, side := range Sides {
		c := &s.Corners[side]
		f := &refit{
			old: &old, now: s, source: side, side: side, flip: r3.Vector{X: 1, Y: 1, Z: 1}, from: rigid.Identity.Turn,
			to: move.Turn, // about an axis that runs across, alike in the axes of the vehicle and of either corner
		}
		f.stub = f.direction(c.Wheel.Spin())
		f.rehangStub(&c.Wheel)
		c.Wheel.Toe, c.Wheel.Camber = s1.Angle(math.Atan2(f.stub.X, f.stub.Y)), s1.Angle(-math.Asin(f.stub.Z))
		c.Arm.Pickup, c.Arm.Bolt = f.direction(c.Arm.Pickup), f.direction(c.Arm.Bolt)
		c.Arm.Metal = f.arm(c.Arm.Metal)
		fits[side] = f
	}
	s.Column.Foot = move.Point(s.Column.Foot)
	s.Column.Rake -= p.NoseUp
	s.pitchParts(&old, move, fits)
}

// pitching is the motion of the frame, before the origin is moved.
func (s *Setup) pitching(p Pitched) (m rigid.Motion) {
	sin, cos := math.Sincos(float64(p.NoseUp))
	m.Turn = [3]r3.Vector{{X: cos, Z: sin}, {Y: 1}, {X: -sin, Z: cos}}
	axle := r3.Vector{X: -s.Vehicle.Wheelbase, Z: s.Vehicle.RearTyre.Diameter / 2}
	m.Shift = axle.Add(r3.Vector{Z: p.Lift}).Sub(m.Direction(axle))
	return m
}

// levelled takes off what rounding leaves of a pitch that is undone: as a file has them, kingpin centres lie on one
// line across and plates of the frame level.
func (s *Setup) levelled() {
	for side := range s.Corners {
		s.Corners[side].Kingpin.Ahead = 0
	}
	for i := range s.Parts {
		if p := s.Parts[i].Plate; p != nil && p.Place != nil {
			s.Parts[i].Plate = copied(p)
			s.Parts[i].Plate.Place = nil
		}
	}
}

// pitchParts turns the parts of the frame and of the spindles. Where the two kingpins differ, a part that stands on
// both sides becomes two of the same name.
func (s *Setup) pitchParts(old *Setup, move rigid.Motion, fits [2]*refit) {
	var parts []Part
	for _, p := range old.Parts {
		switch atKingpin := p.On == OnSpindle || p.AtKingpin; {
		case p.On == OnFrame && !atKingpin:
			parts = append(parts, p.moved(move))
		case !atKingpin:
			parts = append(parts, p)
		case p.Sides[Left] && p.Sides[Right] && old.Corners[Left].Kingpin == old.Corners[Right].Kingpin:
			both := fits[Left].part(p)
			both.Sides = p.Sides
			parts = append(parts, both)
		default:
			for side, f := range fits {
				if p.Sides[side] {
					parts = append(parts, f.part(p))
				}
			}
		}
	}
	s.Parts = parts
}

// moved returns a part of the frame after a motion that keeps what runs across the vehicle.
func (p Part) moved(m rigid.Motion) Part {
	if p.Plate = copied(p.Plate); p.Plate != nil {
		place := m
		if p.Plate.Place != nil {
			place = m.After(*p.Plate.Place)
		}
		p.Plate.Place = &place
	}
	p.carry(m.Point, m.Direction)
	return p
}

// carry gives a part a tube or a disc of its own, with every point and every direction moved.
func (p *Part) carry(point, direction func(r3.Vector) r3.Vector) {
	switch {
	case p.Tube != nil:
		tube := Tube{Diameter: p.Tube.Diameter}
		for _, at := range p.Tube.Path {
			tube.Path = append(tube.Path, point(at))
		}
		p.Tube = &tube
	case p.Disc != nil:
		p.Disc = &Disc{point(p.Disc.Centre), direction(p.Disc.Axis), p.Disc.Diameter, p.Disc.Width}
	}
}
