package setup

import (
	"fmt"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
)

// change reads [change]: what a builder really does to a vehicle, one key each. The changes are made
// after all else is read, in the order of this function, and each says in Setup.Changes what it did.
func (d *decoder) change(t *table, s *Setup) {
	did := func(format string, args ...any) { s.Changes = append(s.Changes, fmt.Sprintf(format, args...)) }
	if len(d.errs) > 0 {
		d.skipChanges(t)
		return
	}
	if t.get("swap_spindles").flag() {
		given := d.sayRods(s)
		s.SwapSpindles()
		s.Rehung.Swapped = true
		did("spindles swapped side for side, turned half round: pickups now at %s%s", d.sayPickups(s), given)
	}
	if t.get("turn_spindles_over").flag() {
		given := d.sayRods(s)
		s.TurnSpindlesOver()
		s.Rehung.SpindlesOver = true
		did("spindles turned upside down: pickups now at %s%s", d.sayPickups(s), given)
	}
	d.changeSizes(t, s, did)
	if t.get("turn_drop_arm_over").flag() {
		s.DropArm = s.DropArm.turnedHalfRound()
		s.Rehung.DropArmOver = true
		did("drop arm turned half round on the column, each rod on the hole of its own side: pins now at %s and %s",
			d.sayPoint(s.DropArm.Pins[Left]), d.sayPoint(s.DropArm.Pins[Right]))
	}
	if more := t.get("lengthen_drop_arm"); more.given() {
		d.lengthenDropArm(more, s, did)
	}
	if t.get("one_hole").flag() {
		mid := s.DropArm.Pins[Left].Add(s.DropArm.Pins[Right]).Mul(0.5)
		if r := (r3.Vector{X: mid.X, Y: mid.Y}); r.Norm() < leastLength {
			t.get("one_hole").fail("would stand on the column axis, midway between the two pins")
		} else {
			s.DropArm.Pins = [2]r3.Vector{mid, mid}
			did("one hole for both rods, midway between the two: %s", d.sayPoint(mid))
		}
	}
	t.done()
}

// Rehung says which parts [change] hung anew.
type Rehung struct {
	Swapped      bool // the spindles, side for side
	SpindlesOver bool // the spindles, upside down
	DropArmOver  bool // the drop arm, half round on the column
}

// AsHung returns the setup with spindles and drop arm as they hung before [change]: each of those changes made
// a second time, last first, undoes itself. Balls then stand in the co-ordinates that the file gives them in.
// Lengths of rods that no longer count do not come back.
func (s *Setup) AsHung() *Setup {
	before := *s
	if s.Rehung.DropArmOver {
		before.DropArm = before.DropArm.turnedHalfRound()
	}
	if s.Rehung.SpindlesOver {
		before.TurnSpindlesOver()
	}
	if s.Rehung.Swapped {
		before.SwapSpindles()
	}
	before.Rehung = Rehung{}
	return &before
}

// changeSizes makes the changes that alter one figure each.
func (d *decoder) changeSizes(t *table, s *Setup, did func(string, ...any)) {
	if by := t.get("narrow"); by.given() {
		if mm := by.length(); mm >= s.Spacing {
			by.fail("leaves nothing: the kingpins are only %s apart", d.say(s.Spacing))
		} else {
			s.Spacing -= mm
			did("front %s: kingpins %s apart; frame parts not at the kingpins stay where they are", d.sayBy(mm, "narrowed", "widened"), d.say(s.Spacing))
		}
	}
	if by := t.get("shorten"); by.given() {
		if mm := by.length(); mm >= s.Vehicle.Wheelbase {
			by.fail("leaves nothing: the wheelbase is only %s", d.say(s.Vehicle.Wheelbase))
		} else {
			s.Vehicle.Wheelbase -= mm
			did("wheelbase %s to %s", d.sayBy(mm, "shortened", "lengthened"), d.say(s.Vehicle.Wheelbase))
		}
	}
	if by := t.get("spacer"); by.given() {
		mm := by.length()
		for side := range s.Corners {
			s.Corners[side].Wheel.Offset += mm
		}
		did("spacer of %s behind each front wheel: tyres %s from the kingpins", d.say(mm), d.say(s.Corners[Left].Wheel.Offset))
	}
	if v := t.get("tyre"); v.given() {
		size := v.sub()
		tyre := Tyre{
			Diameter: size.need("diameter", "outer diameter of the new tyre").size(),
			Width:    size.need("width", "width of the new tyre").size(),
		}
		shoulder := size.get("shoulder")
		tyre.Shoulder = shoulder.or(shoulder.length(notNegative), 0)
		size.done()
		for side := range s.Corners {
			s.Corners[side].Kingpin.Height += (tyre.Diameter - s.Corners[side].Wheel.Tyre.Diameter) / 2
			s.Corners[side].Wheel.Tyre = tyre
		}
		did("front tyres of %s by %s; the kingpins stand higher or lower with them", d.say(tyre.Diameter), d.say(tyre.Width))
	}
}

// lengthenDropArm moves the pins away from the column's axis, each in its own direction.
func (d *decoder) lengthenDropArm(more value, s *Setup, did func(string, ...any)) {
	mm := more.length()
	for side, pin := range s.DropArm.Pins {
		radius := r3.Vector{X: pin.X, Y: pin.Y}
		if radius.Norm()+mm < leastLength {
			more.fail("would bring the %s pin onto the column axis; it is %s from it", Side(side), d.say(radius.Norm()))
			return
		}
		s.DropArm.Pins[side] = pin.Add(radius.Normalize().Mul(mm))
	}
	did("drop arm %s; its outline stays as given", d.sayBy(mm, "lengthened", "shortened"))
}

// skipChanges asks for every key, so that no known one is called unknown where the file has errors.
func (d *decoder) skipChanges(t *table) {
	for _, key := range []string{"swap_spindles", "turn_spindles_over", "narrow", "shorten", "spacer",
		"turn_drop_arm_over", "lengthen_drop_arm", "one_hole"} {
		t.get(key)
	}
	size := t.get("tyre").sub()
	for _, key := range []string{"diameter", "width", "shoulder"} {
		size.get(key)
	}
	size.done()
	t.done()
}

// turnedHalfRound is the drop arm after half a turn on the column, as when one that hung is to stand. What
// was the right rod's hole is then the left one's.
func (a DropArm) turnedHalfRound() DropArm {
	half := func(v r3.Vector) r3.Vector { return r3.Vector{X: 0 - v.X, Y: 0 - v.Y, Z: v.Z} }
	turned := DropArm{Metal: a.Metal}
	for _, side := range Sides {
		turned.Pins[side], turned.Bolts[side] = half(a.Pins[side.Other()]), half(a.Bolts[side.Other()])
	}
	turned.Metal.Outline, turned.Metal.Holes = nil, nil
	for _, p := range a.Metal.Outline {
		turned.Metal.Outline = append(turned.Metal.Outline, r2.Point{X: 0 - p.X, Y: 0 - p.Y})
	}
	for _, h := range a.Metal.Holes {
		h.At = r2.Point{X: 0 - h.At.X, Y: 0 - h.At.Y}
		turned.Metal.Holes = append(turned.Metal.Holes, h)
	}
	return turned
}

// sayBy says a change of length either way: "narrowed by 40 mm".
func (d *decoder) sayBy(mm float64, less, more string) string {
	if mm < 0 {
		return more + " by " + d.say(-mm)
	}
	return less + " by " + d.say(mm)
}

// sayRods says of rods of given length that they have to be cut anew.
func (d *decoder) sayRods(s *Setup) string {
	left, right := s.Corners[Left].Rod.Length, s.Corners[Right].Rod.Length
	switch {
	case left == 0 && right == 0:
		return ""
	case left == right:
		return "; the rods of " + d.say(left) + " no longer count, they are cut anew"
	}
	return "; rods of given length no longer count, they are cut anew"
}

func (d *decoder) sayPickups(s *Setup) string {
	left, right := d.sayPoint(s.Corners[Left].Arm.Pickup), d.sayPoint(s.Corners[Right].Arm.Pickup)
	if left == right {
		return left
	}
	return left + " on the left, " + right + " on the right"
}

func (d *decoder) sayPoint(p r3.Vector) string {
	return fmt.Sprintf("[%s, %s, %s]", d.say(p.X), d.say(p.Y), d.say(p.Z))
}
