package setup

import (
	"fmt"
	"slices"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"
)

// Checks is what was measured on the vehicle beside its description, to hold the one against the other.
type Checks struct {
	Taped  []Taped
	Marks  []Mark
	Turned []Turned
}

// Taped is a distance between two of the setup's Places, the steering centred.
type Taped struct {
	From, To string
	Distance float64 // mm
	Accuracy float64 // half-width, mm; 0: that of all tapes
}

// Mark is a point of the builder's own, such as a nail in the floor.
type Mark struct {
	Name     string
	At       r3.Vector // vehicle axes, mm
	Given    bool      // At is given; else it is to be found from tapes
	Accuracy float64   // half-width of each co-ordinate, mm; 0: that of places
}

// Turned is what the wheels were seen to stand at with the steering wheel turned.
type Turned struct {
	Column s1.Angle    // positive to the left
	Steer  [2]s1.Angle // of each wheel that was read, positive to the left
	Read   [2]bool
}

// Place is a point that a tape can be held to.
type Place struct {
	Name string
	On   Body // OnFrame, OnSpindle, OnColumn or OnRack
	Side Side // of the spindle
	// At is where it is, steering centred and wheels as the file has them straight ahead, vehicle axes, mm. ok is false
	// where a setup has no such place.
	At func(s *Setup) (at r3.Vector, ok bool)
}

// Places lists the points that tapes are held to, by name: those of the steering, the holes, the points of tubes and the
// centres of discs, and the builder's own marks.
func (s *Setup) Places() []Place {
	l := placeList{}
	for _, side := range Sides {
		l.corner(s, side)
	}
	l.steering(s)
	for i := range s.Parts {
		l.part(&s.Parts[i])
	}
	for i, m := range s.Checks.Marks {
		l.add(m.Name, OnFrame, Left, func(s *Setup) r3.Vector { return s.Checks.Marks[i].At })
	}
	return l
}

// Place returns the point of a name; ok is false where there is none.
func (s *Setup) Place(name string) (p Place, ok bool) {
	for _, p := range s.Places() {
		if p.Name == name {
			return p, true
		}
	}
	return p, false
}

type placeList []Place

func (l *placeList) add(name string, on Body, side Side, at func(s *Setup) r3.Vector) {
	*l = append(*l, Place{name, on, side, func(s *Setup) (r3.Vector, bool) { return at(s), true }})
}

func (l *placeList) corner(s *Setup, side Side) {
	add := func(name string, on Body, at func(s *Setup) r3.Vector) { l.add(side.String()+" "+name, on, side, at) }
	add("kingpin", OnFrame, func(s *Setup) r3.Vector { return s.Centre(side) })
	add("pickup", OnSpindle, func(s *Setup) r3.Vector { return s.CornerPoint(side, s.Corners[side].Arm.Pickup) })
	add("tyre", OnSpindle, func(s *Setup) r3.Vector {
		w := s.Corners[side].Wheel
		return s.CornerPoint(side, w.Stub().Add(w.Spin().Mul(w.Offset)))
	})
	add("rear tyre", OnFrame, func(s *Setup) r3.Vector {
		v := s.Vehicle
		return r3.Vector{X: -v.Wheelbase, Y: side.Sign() * v.RearTrack / 2, Z: v.RearTyre.Diameter / 2}
	})
	arm := s.Corners[side].Arm
	for i, h := range arm.Metal.Holes {
		joined := h.Ball() == arm.Pickup // the ball sits in it: one hole is one point
		add("arm "+h.Name, OnSpindle, func(s *Setup) r3.Vector {
			a := &s.Corners[side].Arm
			if joined {
				return s.CornerPoint(side, a.Pickup)
			}
			return s.CornerPoint(side, a.Metal.Holes[i].Ball())
		})
	}
}

// steering lists what is on the column or the rack.
func (l *placeList) steering(s *Setup) {
	if s.Rack != nil {
		for _, side := range Sides {
			l.add(side.String()+" pin", OnRack, side, func(s *Setup) r3.Vector { return s.Rack.Balls[side] })
		}
		return
	}
	l.add("foot", OnFrame, Left, func(s *Setup) r3.Vector { return s.Column.Foot })
	pins := &s.DropArm.Pins
	pin := func(side Side) func(s *Setup) r3.Vector {
		return func(s *Setup) r3.Vector { return s.Column.ColumnPoint(s.DropArm.Pins[side]) }
	}
	switch d := s.DragLink; {
	case d != nil:
		l.add("pin", OnColumn, Left, pin(d.Side))
		l.add("drag link pickup", OnSpindle, d.Side, func(s *Setup) r3.Vector { return s.CornerPoint(s.DragLink.Side, s.DragLink.Pickup) })
	case pins[Left] == pins[Right]:
		l.add("pin", OnColumn, Left, pin(Left))
	default:
		for _, side := range Sides {
			l.add(side.String()+" pin", OnColumn, side, pin(side))
		}
	}
	for i, h := range s.DropArm.Metal.Holes {
		sits := slices.Index(pins[:], h.Ball()) // the pin that sits in it; -1: none
		l.add("drop arm "+h.Name, OnColumn, Left, func(s *Setup) r3.Vector {
			if sits < 0 {
				return s.Column.ColumnPoint(s.DropArm.Metal.Holes[i].Ball())
			}
			return s.Column.ColumnPoint(s.DropArm.Pins[sits])
		})
	}
}

// part lists the points of a tube's path and the centre of a disc, on each side that the part stands on. A tape is held neither to what
// rides on a rod nor to the corners of a plate.
func (l *placeList) part(p *Part) {
	if p.On == OnTieRod || p.On == OnDragLink {
		return
	}
	for _, side := range Sides {
		single := !p.Sides[Left] && !p.Sides[Right]
		if single && side == Right || !single && !p.Sides[side] {
			continue
		}
		name, own := p.Name, p.Name
		if !single {
			name = side.String() + " " + name
		}
		for i := range p.points() {
			called := name
			if p.Tube != nil {
				called = fmt.Sprintf("%s[%d]", name, i)
			}
			*l = append(*l, Place{called, p.On, side, func(s *Setup) (at r3.Vector, ok bool) {
				for k := range s.Parts {
					if q := &s.Parts[k]; q.Name == own && (single || q.Sides[side]) && i < len(q.points()) {
						return s.onBody(q, side, q.points()[i]), true
					}
				}
				return at, false
			}})
		}
	}
}

// points are those of a tube's path, or the centre of a disc.
func (p *Part) points() []r3.Vector {
	switch {
	case p.Tube != nil:
		return p.Tube.Path
	case p.Disc != nil:
		return []r3.Vector{p.Disc.Centre}
	}
	return nil
}

// onBody takes a point of a part that stands on a side into vehicle axes, steering centred.
func (s *Setup) onBody(p *Part, side Side, at r3.Vector) r3.Vector {
	switch {
	case p.On == OnSpindle || p.AtKingpin:
		return s.CornerPoint(side, at)
	case p.On == OnColumn:
		return s.Column.ColumnPoint(at)
	case p.Sides[side]:
		return FromCorner(side, at) // a frame part that stands on both sides: the right one mirrored
	}
	return at
}
