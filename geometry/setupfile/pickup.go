package setupfile

import (
	"fmt"
	"math"
	"strings"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"locksweep/geometry/planar"
	"locksweep/geometry/setup"
)

// pickups doubts where the tie rods' balls lie on the steering arms: what else stands in the file may tell that a sign is
// wrong, or that two co-ordinates have changed places. Of each ball only the plainest doubt is told.
func (t *doubter) pickups() {
	if t.mirrored() {
		return
	}
	for _, side := range setup.Sides {
		c := &t.s.Corners[side]
		if v := t.of(side, "arm", "pickup"); v.given() && !t.swapped(v, c.Arm.Pickup) && !t.aheadAlready(v, side) && !t.slipped(v, c.Arm.Pickup) && !t.noHole(v, c) {
			t.splayed(v, c.Arm.Pickup)
		}
	}
}

// coordinate names one co-ordinate of a point and says what a negative one means.
type coordinate struct{ name, negative string }

// cornerAxes, columnAxes and vehicleAxes are the co-ordinates in corner, column and vehicle axes.
var (
	cornerAxes = [3]coordinate{
		{"forward", "behind the kingpin is negative"},
		{"outboard", "inboard is negative"},
		{"up", "below the kingpin centre is negative"},
	}
	columnAxes = [3]coordinate{
		{"down", "an arm that stands above the column has it negative"},
		{"left", "right is negative"},
		{"along", "below the foot is negative"},
	}
	vehicleAxes = [3]coordinate{
		{"forward", "behind the kingpins is negative"},
		{"left", "right is negative"},
		{"up", "under the ground is negative"},
	}
)

// mirrored doubts a right pickup that would be the left one's mirror image but for one sign, and reports whether it did.
func (t *doubter) mirrored() bool {
	v := t.value("right", "arm", "pickup")
	if !v.given() {
		v = t.value("right", "arm", "holes")
	}
	left, right := t.s.Corners[setup.Left].Arm.Pickup, t.s.Corners[setup.Right].Arm.Pickup
	const apart = 10.0 // mm: the two sides of a vehicle that was bent differ by less
	off := right.Sub(left).Norm()
	if !v.given() || off <= apart {
		return false
	}
	was := figures(right)
	for i, at := range otherSigns(right) {
		if near := at.Sub(left).Norm(); near < off/4 {
			v.warn("pickup-sign", "puts the pickup %s from the left one's mirror image, with %[2]s %[4]s; with %[3]s it would be %[5]s; has one of the two the wrong sign? %[6]s",
				t.say(off), cornerAxes[i].name, t.figure(-was[i]), t.figure(was[i]), t.say(near), cornerAxes[i].negative)
			return true
		}
	}
	for _, o := range tenfold(right) {
		if near := o.at.Sub(left).Norm(); near < off/4 && near <= apart {
			v.warn("ten-times", "puts the pickup %s from the left one's mirror image, with %s %s; with %s it would be %s; a slip of the point?",
				t.say(off), cornerAxes[o.axis].name, t.figure(was[o.axis]), t.figure(was[o.axis]*o.by), t.say(near))
			return true
		}
	}
	return false
}

// otherSigns returns the point with the other sign of its first co-ordinate, of its second, and of its third.
func otherSigns(p r3.Vector) []r3.Vector {
	return []r3.Vector{{X: -p.X, Y: p.Y, Z: p.Z}, {X: p.X, Y: -p.Y, Z: p.Z}, {X: p.X, Y: p.Y, Z: -p.Z}}
}

// swapped doubts an arm that points across the vehicle, as its tie rod does, and reports whether it did.
func (t *doubter) swapped(v value, at r3.Vector) bool {
	if math.Abs(at.Y) <= 2*math.Abs(at.X) {
		return false
	}
	v.warn("pickup-swapped", "lies %s %s and %s %s: the arm points across the kart like its tie rod, which would hardly turn it; are forward and outboard swapped?",
		t.say(math.Abs(at.Y)), oneOf(at.Y < 0, "inboard", "outboard"), t.say(math.Abs(at.X)), oneOf(at.X < 0, "back", "ahead"))
	return true
}

// sameHole is how far from a hole a ball may lie that sits in it, mm: two readings of one hole by tape.
const sameHole = 3.0

// sameFigures is how far apart two readings may be that were copied from one another, mm.
const sameFigures = 0.5

// noHole doubts a pickup, given by its co-ordinates, that lies at none of the arm's holes, and reports whether it did. In a
// variant or a setting it may be a hole that is yet to be drilled: there it is doubted only where another sign makes it one
// of the holes.
func (t *doubter) noHole(v value, c *setup.Corner) bool {
	at := c.Arm.Pickup
	if v.n.kind != list || len(c.Arm.Metal.Holes) == 0 {
		return false
	}
	hole, off := nearestHole(c, at)
	if off <= sameHole {
		return false
	}
	says := func(hole setup.Hole, then string) {
		v.warn("pickup-no-hole", "is at %s, at none of the arm's holes: %s is at %s, %s away; %s",
			t.point(at.X, at.Y), quoted(hole.Name), t.point(hole.At.X, hole.At.Y), t.say(toHole(c, at, hole)), then)
	}
	alike := sameHole
	if !t.d.stands(v) {
		alike = sameFigures // else it is a hole yet to be drilled
	}
	for i, other := range otherSigns(at)[:2] {
		if meant, by := nearestHole(c, other); by <= alike {
			says(meant, fmt.Sprintf("is the sign of %s right? %s", cornerAxes[i].name, cornerAxes[i].negative))
			return true
		}
	}
	if holes := t.d.file.get("arm").get("holes"); !t.d.stands(v) || t.s.DragLink != nil || holes == nil || holes != t.value("arm", "holes").n {
		return false // a hole yet to be drilled, or holes of a drag link alone
	}
	if hole.At.Sub(r2.Point{X: at.X, Y: at.Y}).Norm() <= sameHole {
		v.warn("pickup-no-hole", "is at %s, at none of the arm's holes: %s has its ball at %s, and with the kingpin leaning so much up is %s along the arm; measure up of both again, or give the hole that it sits in",
			t.point(at.X, at.Y, at.Z), quoted(hole.Name), t.point(hole.At.X, hole.At.Y, math.Round(hole.Up*10)/10), t.say(off))
		return true
	}
	says(hole, "measure both again, or give the hole that it sits in")
	return true
}

// nearestHole returns the hole of an arm that is nearest to where a ball would be, and how far away it is, mm; +Inf without holes.
func nearestHole(c *setup.Corner, at r3.Vector) (hole setup.Hole, off float64) {
	off = math.Inf(1)
	for _, h := range c.Arm.Metal.Holes {
		if d := toHole(c, at, h); d < off {
			hole, off = h, d
		}
	}
	return hole, off
}

// toHole is how far it is from where a ball would be to a hole of the arm, along its metal, mm.
func toHole(c *setup.Corner, at r3.Vector, h setup.Hole) float64 {
	m, axis := c.Arm.Metal, c.Kingpin.Direction()
	return onMetal(h.Ball(), m, axis).Sub(onMetal(at, m, axis)).Norm()
}

// splayed doubts arms behind the kingpins that point outboard. Aimed the other way, at the rear axle, they turn the inner
// wheel further, as a turn wants it (the trapezium of Lankensperger and Jeantaud; from memory).
func (t *doubter) splayed(v value, at r3.Vector) {
	const aside = 0.05 // of the lever: 3 degrees
	if at.X >= 0 || at.Y <= aside*-at.X || t.turnsRound() {
		return // where the spindles are turned round the arm stands ahead, and outboard there is right
	}
	v.warn("pickup-sign", "is behind the kingpin with outboard %s, so that the arms splay away from the rear axle and turn the wheels too much alike; arms behind are aimed inboard, as with outboard %s; is the sign right? %s",
		t.figure(at.Y), t.figure(-at.Y), cornerAxes[1].negative)
}

// changes reports whether [change] makes a change that is either made or not.
func (t *doubter) changes(key string) bool {
	v := t.value("change", key)
	return v.given() && v.n.str == "true"
}

// turnsRound reports whether [change] turns what lies ahead of the kingpins behind them: swapped spindles do, and those turned over; both
// at once do not.
func (t *doubter) turnsRound() bool {
	return t.changes("swap_spindles") != t.changes("turn_spindles_over")
}

// aheadAlready doubts a pickup that lies ahead of the kingpin as it is given and that [change] turns behind it, as if it were given as it
// stands after the change, and reports whether it did: of a variant or a setting where the file's own arm is behind, of the file itself
// where the drop arm, turned over too, tells that the arm was behind.
func (t *doubter) aheadAlready(v value, side setup.Side) bool {
	at := t.s.Corners[side].Arm.Pickup
	if v.n.kind != list || at.X <= 0 || !t.turnsRound() {
		return false
	}
	if t.d.stands(v) {
		if t.d.own != nil || t.s.Rack != nil || !t.changes("turn_drop_arm_over") || t.s.DropArm.Pins[side].X <= 0 {
			return false
		}
	} else if t.d.own == nil || !(t.d.own.Corners[side].Arm.Pickup.X < 0) {
		return false
	}
	done := oneOf(t.changes("swap_spindles"), "swapped", "turned over")
	v.warn("pickup-after-change", "is ahead of the kingpin already, and the spindles are %s, which turns it behind; figures are as the spindle hangs before the change: what is to stand at %s after it is given as %s",
		done, t.point(at.X, at.Y, at.Z), t.asFiled(side))
	return true
}

// asFiled is where a pickup has to be given so that it stands after [change] where it is given now.
func (t *doubter) asFiled(side setup.Side) string {
	changed := t.s.Clone()
	c := setup.Change{SwapSpindles: t.changes("swap_spindles"), TurnSpindlesOver: t.changes("turn_spindles_over")}
	c.Apply(changed)
	from := side
	if c.SwapSpindles {
		from = side.Other()
	}
	changed.Corners[side].Arm.Pickup = t.s.Corners[side].Arm.Pickup
	at := changed.AsHung().Corners[from].Arm.Pickup
	return t.point(at.X, at.Y, at.Z)
}

// stands reports whether a pickup is that of the file itself, and not given by a variant or a setting.
func (d *decoder) stands(v value) bool {
	return v.n == d.file.get("arm").get("pickup") || v.n == d.file.get("right").get("arm").get("pickup")
}

// figure writes a co-ordinate in the unit of the file.
func (t *doubter) figure(mm float64) string { return fmt.Sprintf("%.4g", t.d.unit.FromMM(mm)) }

// point writes co-ordinates in the unit of the file.
func (t *doubter) point(mm ...float64) string {
	var all []string
	for _, x := range mm {
		all = append(all, t.figure(x))
	}
	return "[" + strings.Join(all, ", ") + "]"
}

// flip returns the index, 0 or 1, of the co-ordinate of a ball that with its other sign would put the ball inside the metal's outline.
func flip(m setup.Metal, ball, axis r3.Vector) (at int, found bool) {
	for i, other := range otherSigns(ball)[:2] {
		if planar.Inside(m.Outline, onMetal(other, m, axis)) {
			return i, true
		}
	}
	return 0, false
}
