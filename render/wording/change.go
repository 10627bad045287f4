package wording

import (
	"fmt"
	"slices"
	"strings"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/geometry/setup"
)

// Changes says what [change] did, and behind what cut the frame, what it moved, cut or dropped there.
func Changes(s *setup.Setup) (said []string) {
	for i := range s.Changes {
		said = append(said, done(s, &s.Changes[i]))
	}
	if s.Frame != nil {
		said = slices.Insert(said, s.Frame.After, frameChanges(s)...)
	}
	if len(said) > 0 && (s.Load.Front > 0 || s.Load.FrontShare > 0) {
		said = append(said, "weights are left as [load] has them: what is changed weighs differently, so weigh again, or set them beside the change")
	}
	return said
}

// done says what one change did and what it made of the measure.
func done(s *setup.Setup, d *setup.Done) string {
	say := s.Unit.Say
	switch d.What {
	case setup.SwappedSpindles:
		return "spindles swapped side for side, turned half round: pickups now at " + pickups(s, d) + recut(s, d)
	case setup.TurnedSpindlesOver:
		return "spindles turned upside down: pickups now at " + pickups(s, d) + recut(s, d)
	case setup.Narrowed:
		return fmt.Sprintf("front %s: kingpins %s apart", by(s.Unit, d.By, "narrowed", "widened"), say(s.Spacing))
	case setup.NarrowedRear:
		return fmt.Sprintf("rear %s: rear tyres %s apart, centre to centre", by(s.Unit, d.By, "narrowed", "widened"), say(s.Vehicle.RearTrack))
	case setup.Shortened:
		return fmt.Sprintf("wheelbase %s to %s", by(s.Unit, d.By, "shortened", "lengthened"), say(s.Vehicle.Wheelbase))
	case setup.KeptFrame:
		return "the frame and the column stay as they are; only what is at the kingpins goes along"
	case setup.FittedSpacer, setup.FittedTyre:
		return fitted(s, d)
	case setup.FittedRearTyre:
		return fmt.Sprintf("rear tyres of %s by %s", say(s.Vehicle.RearTyre.Diameter), say(s.Vehicle.RearTyre.Width))
	case setup.PitchedFrame:
		return fmt.Sprintf("the frame, one body, %s on its tyres: caster %s, kingpin centre %s above ground; rods as they were",
			pitched(s), caster(s), say(s.Corners[setup.Left].Kingpin.Height))
	case setup.TurnedDropArmOver:
		if s.OnePin() {
			return "drop arm turned half round on the column: pin now at " + point(s.Unit, d.Balls[setup.Left])
		}
		return fmt.Sprintf("drop arm turned half round on the column, each rod on the hole of its own side: pins now at %s and %s",
			point(s.Unit, d.Balls[setup.Left]), point(s.Unit, d.Balls[setup.Right]))
	case setup.LengthenedDropArm:
		text := "drop arm " + by(s.Unit, d.By, "lengthened", "shortened")
		if side, one := ofOne(d); one {
			text += fmt.Sprintf(" at the %v rod's pin", side)
		}
		return text
	}
	return "one hole for both rods, midway between the two: " + point(s.Unit, s.DropArm.Pins[setup.Left])
}

// fitted says what was put on one front wheel or on both.
func fitted(s *setup.Setup, d *setup.Done) string {
	say := s.Unit.Say
	side, one := ofOne(d)
	w := &s.Corners[side].Wheel
	switch spacer := d.What == setup.FittedSpacer; {
	case spacer && one:
		return fmt.Sprintf("spacer of %s behind the %v front wheel: tyre %s from the kingpin", say(d.By), side, say(w.Offset))
	case spacer:
		return fmt.Sprintf("spacer of %s behind each front wheel: tyres %s from the kingpins", say(d.By), say(w.Offset))
	case one:
		return fmt.Sprintf("%v front tyre of %s by %s", side, say(w.Tyre.Diameter), say(w.Tyre.Width))
	}
	return fmt.Sprintf("front tyres of %s by %s", say(w.Tyre.Diameter), say(w.Tyre.Width))
}

// ofOne tells the side of what was done on one side only; else it is the left one.
func ofOne(d *setup.Done) (side setup.Side, one bool) {
	if d.Sides[setup.Left] {
		return setup.Left, !d.Sides[setup.Right]
	}
	return setup.Right, true
}

// by says a change of length either way: "narrowed by 40 mm".
func by(u setup.Unit, mm float64, less, more string) string {
	if mm < 0 {
		return more + " by " + u.Say(-mm)
	}
	return less + " by " + u.Say(mm)
}

// recut says of rods of given length that they have to be cut anew.
func recut(s *setup.Setup, d *setup.Done) string {
	given := func(mm float64) bool { return mm != 0 }
	switch {
	case !slices.ContainsFunc(d.Recut, given):
		return ""
	case len(d.Recut) == 2 && d.Recut[0] == d.Recut[1]:
		return "; the rods of " + s.Unit.Say(d.Recut[0]) + " no longer count, they are cut anew"
	}
	return "; rods of given length no longer count, they are cut anew"
}

// pitched says how the frame was last turned.
func pitched(s *setup.Setup) string {
	switch by := s.Rehung.Pitched[len(s.Rehung.Pitched)-1].NoseUp; {
	case by > 0:
		return "turns nose up by " + hundredths(by)
	case by < 0:
		return "turns nose down by " + hundredths(-by)
	}
	return "stays as level as it was"
}

func caster(s *setup.Setup) string {
	left, right := hundredths(s.Corners[setup.Left].Kingpin.Caster), hundredths(s.Corners[setup.Right].Kingpin.Caster)
	if left == right {
		return left
	}
	return left + " left, " + right + " right"
}

// hundredths says an angle to a hundredth of a degree.
func hundredths(a s1.Angle) string { return Fixed(a.Degrees(), 2) + "°" }

func pickups(s *setup.Setup, d *setup.Done) string {
	left, right := point(s.Unit, d.Balls[setup.Left]), point(s.Unit, d.Balls[setup.Right])
	if left == right {
		return left
	}
	return left + " on the left, " + right + " on the right"
}

func point(u setup.Unit, p r3.Vector) string {
	return "[" + strings.Join([]string{u.Say(p.X), u.Say(p.Y), u.Say(p.Z)}, ", ") + "]"
}

// bars says what metal a longer drop arm is taken to have.
func bars(s *setup.Setup) (said []string) {
	for _, bar := range s.DropArm.Bars {
		rod := bar.Side.String() + " rod"
		if s.OnePin() {
			rod = "drag link"
		}
		said = append(said, fmt.Sprintf("drop arm: a bar from the old hole of the %s to the new one, %s wide and as thick as the arm", rod, s.Unit.Say(bar.Width)))
	}
	return said
}
