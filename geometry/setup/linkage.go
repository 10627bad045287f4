package setup

import (
	"math"

	"github.com/golang/geo/r3"

	"locksweep/geometry/rigid"
)

// Linkage says how the steering wheel turns the spindles; its words stand in the machine-readable output and never
// change.
type Linkage int

const (
	TwoRods  Linkage = iota // a tie rod from the drop arm to each spindle
	CrossRod                // a drag link from the drop arm to one spindle, and the tie rod from there to the other
	RackRods                // a tie rod from the rack to each spindle
)

func (l Linkage) String() string { return [3]string{"two rods", "cross rod", "rack"}[l] }

// Linkage tells which a setup has.
func (s *Setup) Linkage() Linkage {
	switch {
	case s.Rack != nil:
		return RackRods
	case s.DragLink != nil:
		return CrossRod
	}
	return TwoRods
}

// DragLink joins the drop arm to one spindle; the tie rod then joins the pickups of both arms. Its pin on the drop arm
// is both Pins.
type DragLink struct {
	Side   Side      // of the spindle that it turns
	Pickup r3.Vector // its ball there, corner axes, mm
	Bolt   r3.Vector // direction of that ball's bolt, corner axes, unit; zero: along the kingpin
	Rod    Rod
}

// Rack is a bar that slides across the vehicle. It takes the place of column and drop arm.
type Rack struct {
	Balls    [2]r3.Vector // the rods' inner balls, steering centred, vehicle axes, mm; the line between them is the rack's direction
	Bolts    [2]r3.Vector // directions of their bolts, vehicle axes, unit; zero: square to the rack, as upright as that can be
	PerTurn  float64      // way for a turn of the steering wheel, mm; positive moves it to the left when the wheel turns left
	Travel   float64      // each way from centre, mm; 0: not limited
	Diameter float64      // of its metal, mm; 0: not given
}

// Axis is the line that the rack slides along, from the right ball to the left.
func (r *Rack) Axis() rigid.Axis {
	return rigid.Axis{Point: r.Balls[Right], Dir: r.Balls[Left].Sub(r.Balls[Right]).Normalize()}
}

// Slide is the way along Axis for each radian of the steering wheel, mm.
func (r *Rack) Slide() float64 { return r.PerTurn / (2 * math.Pi) }

// Bolt is the direction of the bolt of a side's inner ball, unit, vehicle axes.
func (r *Rack) Bolt(side Side) r3.Vector {
	if r.Bolts[side] != (r3.Vector{}) {
		return r.Bolts[side]
	}
	dir := r.Axis().Dir
	up := r3.Vector{Z: 1}
	if up.Cross(dir).Norm() < 1e-9 {
		up = r3.Vector{X: 1}
	}
	return up.Sub(dir.Mul(dir.Dot(up))).Normalize()
}

// OnePin reports whether the drop arm has one ball for both sides by its kind, so that both pins are always the same.
func (s *Setup) OnePin() bool { return s.DragLink != nil }

// LinkBall returns the ball of a drag link on its steering arm, corner axes of that side, mm; ok is false where there is none.
func (s *Setup) LinkBall() (ball r3.Vector, side Side, ok bool) {
	if s.DragLink == nil {
		return ball, side, false
	}
	return s.DragLink.Pickup, s.DragLink.Side, true
}

// MoveLinkBall puts the ball of a drag link elsewhere; where there is none it does nothing.
func (s *Setup) MoveLinkBall(to r3.Vector) {
	if s.DragLink != nil {
		s.DragLink = copied(s.DragLink) // others may share it
		s.DragLink.Pickup = to
	}
}

// DriverRod is the rod that turns a side's spindle.
func (s *Setup) DriverRod(side Side) *Rod {
	if s.DragLink != nil && s.DragLink.Side == side {
		return &s.DragLink.Rod
	}
	return &s.Corners[side].Rod
}

// DropRod is the rod on the drop arm's left pin.
func (s *Setup) DropRod() *Rod {
	if s.DragLink != nil {
		return &s.DragLink.Rod
	}
	return &s.Corners[Left].Rod
}

// RodsCutAnew leaves the lengths of all rods open: as long as the file's toe needs.
func (s *Setup) RodsCutAnew() {
	for side := range s.Corners {
		s.Corners[side].Rod.Length = 0
	}
	if s.DragLink != nil {
		s.DragLink = copied(s.DragLink) // others may share it
		s.DragLink.Rod.Length = 0
	}
}

// Single reports whether a part stands once, where its co-ordinates say, and not for a side.
func (p *Part) Single(s *Setup) bool {
	switch p.On {
	case OnSpindle:
		return false
	case OnTieRod:
		return s.Linkage() == CrossRod
	}
	return !p.AtKingpin
}
