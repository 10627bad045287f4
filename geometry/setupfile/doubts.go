package setupfile

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/geometry/planar"
	"locksweep/geometry/setup"
)

// doubter tells what can hardly be in a file without mistakes: a figure ten times off, a pin under the ground, metal
// that misses its hole. It never refuses anything. What is usual is common practice of the trade, without a source.
type doubter struct {
	d    *decoder
	root *table
	s    *setup.Setup
	out  []outOfProportion
}

// outOfProportion is a figure that is so to its neighbour, mm.
type outOfProportion struct {
	v, beside    value
	mm, of       float64
	least, usual float64 // what is usual for mm
}

// doubts looks a setup over, before [change] makes another of it.
func (d *decoder) doubts(root *table, s *setup.Setup) {
	t := &doubter{d: d, root: root, s: s}
	t.sizes()
	t.pickups()
	for _, side := range setup.Sides {
		t.corner(side)
	}
	t.heights(t.value("drop_arm"), "drop arm", s.DropArm.Metal, func(up float64, _ r2.Point) float64 { return up })
	for _, side := range setup.Sides {
		t.pin(side)
	}
	t.foot()
	t.rake()
	t.parts()
	t.proportions()
	t.points()
}

// value returns the value of a key by the names of the tables that lead to it, then its own.
func (t *doubter) value(keys ...string) value {
	at := t.root
	for _, key := range keys[:len(keys)-1] {
		at = at.get(key).sub()
	}
	return at.get(keys[len(keys)-1])
}

// of is value for the tables of a corner: on the right side the value under right. where there is one.
func (t *doubter) of(side setup.Side, keys ...string) value {
	if side == setup.Right {
		if own := t.value(append([]string{"right"}, keys...)...); own.given() {
			return own
		}
	}
	return t.value(keys...)
}

// slip is the factor by which a figure has to be beyond what is usual before it is doubted as ten times off: √10, in
// proportion the middle between right and ten times off.
const slip = 3.16

// ratio notes a figure of mm that is out of proportion to another of of mm beside it: from low to high times that is usual.
func (t *doubter) ratio(v value, mm float64, beside value, of, low, high float64) {
	if v.given() && beside.given() && mm > 0 && of > 0 && !(mm >= low*of/slip && mm <= high*of*slip) {
		t.out = append(t.out, outOfProportion{v, beside, mm, of, low * of, high * of})
	}
}

// proportions tells what was found by ratio. Where several figures are out of proportion to the same neighbour, it is
// the neighbour that is doubted; a figure that is doubted already serves for no more doubts.
func (t *doubter) proportions() {
	count := map[string]int{}
	for _, o := range t.out {
		count[o.beside.key()]++
	}
	doubted := map[string]bool{}
	for _, w := range t.d.warnings {
		doubted[w.Key] = true
	}
	const several = 3
	for _, o := range t.out {
		if key := o.beside.key(); count[key] >= several && !doubted[key] {
			doubted[key] = true
			o.beside.warn("ten-times", "is %s, out of proportion to %s (%s) and %d more; is it in another unit, or a slip of the point?",
				t.given(o.beside, o.of), o.v.key(), t.given(o.v, o.mm), count[key]-1)
		}
	}
	for _, o := range t.out {
		if key := o.v.key(); !doubted[key] && !doubted[o.beside.key()] {
			doubted[key] = true
			o.v.warn("ten-times", "is %s beside %s of %s; from %s to %s is usual; is it in another unit%s, or a slip of the point?",
				t.given(o.v, o.mm), o.beside.key(), t.given(o.beside, o.of), t.say(o.least), t.say(o.usual), t.otherUnit(&o))
		}
	}
}

// otherUnit names the unit in which a figure would be as is usual.
func (t *doubter) otherUnit(o *outOfProportion) string {
	figure := t.d.unit.FromMM(o.mm)
	for _, u := range []struct {
		name string
		mm   float64
	}{{"millimetres", 1}, {"centimetres", 10}, {"inches", setup.MMPerInch}} {
		if mm := figure * u.mm; mm != o.mm && mm >= o.least && mm <= o.usual {
			return " (in " + u.name + " it would be " + t.say(mm) + ")"
		}
	}
	return ""
}

// given writes a figure as it stands in the file, or, where mm follows from several figures, as say does.
func (t *doubter) given(v value, mm float64) string {
	if v.n.kind == number && t.d.unit.ToMM(v.n.num) == mm {
		return elide(v.n.str) + " " + t.d.unit.String()
	}
	if v.name == "up" {
		return t.say(mm) + " of metal"
	}
	return t.say(mm)
}

// say writes a length with two digits: what is usual is not known any better, and what is doubted need not be.
func (t *doubter) say(mm float64) string {
	v := t.d.unit.FromMM(mm)
	if v == 0 {
		return t.d.say(0)
	}
	digits := math.Pow(10, math.Floor(math.Log10(math.Abs(v)))-1)
	return t.d.say(t.d.unit.ToMM(math.Round(v/digits) * digits))
}

// sizes doubts the large figures of the vehicle, each beside one of the others.
func (t *doubter) sizes() {
	s := t.s
	left := &s.Corners[setup.Left]
	rear := t.value("vehicle", "rear_tyre").sub()
	spacing, tyre := t.value("kingpin", "spacing"), t.value("wheel", "tyre_diameter")
	t.ratio(t.value("vehicle", "wheelbase"), s.Vehicle.Wheelbase, spacing, s.Spacing, 1, 4)
	t.ratio(t.value("vehicle", "rear_track"), s.Vehicle.RearTrack, spacing, s.Spacing, 0.7, 2.5)
	t.ratio(t.value("kingpin", "height"), left.Kingpin.Height, tyre, left.Wheel.Tyre.Diameter, 0.4, 0.6)
	t.ratio(t.value("wheel", "tyre_diameter"), left.Wheel.Tyre.Diameter, t.value("vehicle", "wheelbase"), s.Vehicle.Wheelbase, 0.15, 0.7)
	t.ratio(rear.get("diameter"), s.Vehicle.RearTyre.Diameter, tyre, left.Wheel.Tyre.Diameter, 0.7, 2)
	t.ratio(t.value("limits", "clearance"), s.Limits.Clearance, spacing, s.Spacing, 0.005, 0.03)
	t.thick(t.value("drop_arm", "up"), s.DropArm.Metal)
	t.thick(t.value("drop_arm", "thickness"), s.DropArm.Metal)
	t.ratio(rear.get("width"), s.Vehicle.RearTyre.Width, rear.get("diameter"), s.Vehicle.RearTyre.Diameter, 0.08, 0.8)
}

func (t *doubter) thick(v value, m setup.Metal) {
	t.ratio(v, m.Upper-m.Lower, t.value("kingpin", "spacing"), t.s.Spacing, 0.006, 0.04)
}

func (t *doubter) corner(side setup.Side) {
	s, c := t.s, &t.s.Corners[side]
	axis := c.Kingpin.Direction().Normalize()
	pickup, spacing := t.of(side, "arm", "pickup"), t.value("kingpin", "spacing")
	t.ratio(t.of(side, "wheel", "tyre_width"), c.Wheel.Tyre.Width, t.of(side, "wheel", "tyre_diameter"), c.Wheel.Tyre.Diameter, 0.08, 0.8)
	t.ratio(t.of(side, "wheel", "offset"), c.Wheel.Offset, spacing, s.Spacing, 0.08, 0.4)
	t.ratio(pickup, t.lever(side), spacing, s.Spacing, shortArm, longArm)
	if link := s.DragLink; link != nil && link.Side == side {
		at := t.value("drag_link", "pickup")
		t.ratio(at, c.Kingpin.Lever(link.Pickup), spacing, s.Spacing, shortArm, longArm)
		t.ground(at, s.CornerPoint(side, t.hung(link.Pickup)).Z)
	}
	t.ground(pickup, s.CornerPoint(side, t.hung(c.Arm.Pickup)).Z)
	t.trail(side)
	t.stance(side)
	if v := t.of(side, "limits", "spindle"); v.given() && c.Stop < 10*s1.Degree {
		v.warn("early-stop", "lets the spindle turn only %s degrees; a stop at 25 to 45 is usual; is it the angle either way from straight ahead?", v.n.str)
	}
	t.rodEnds(side)
	t.thick(t.of(side, "arm", "up"), c.Arm.Metal)
	t.heights(t.of(side, "arm"), "arm", c.Arm.Metal, func(up float64, at r2.Point) float64 {
		return axis.Dot(r3.Vector{X: at.X, Y: at.Y, Z: up})
	})
	if at := c.Arm.Pickup; len(c.Arm.Metal.Outline) > 0 {
		t.height(pickup, "the arm", c.Arm.Metal, axis.Dot(at))
	}
}

// trail doubts a kingpin that meets the ground behind the tyre's contact.
func (t *doubter) trail(side setup.Side) {
	c := &t.s.Corners[side]
	trail := c.Kingpin.Height*math.Tan(float64(c.Kingpin.Caster)) - c.Wheel.Lead
	v := t.of(side, "kingpin", "caster")
	if c.Kingpin.Caster >= 0 {
		v = t.of(side, "wheel", "lead")
	}
	if trail < -0.5 && v.given() {
		v.warn("negative-trail", "puts the kingpin %s behind the tyre's contact on the ground (negative trail), so that the wheels turn away by themselves; %s to %s ahead of it is usual",
			t.say(-trail), t.say(10), t.say(40))
	}
}

// rodEnds warns of rod ends that leave nothing of their rod, or are out of proportion to it.
func (t *doubter) rodEnds(side setup.Side) {
	s, rod := t.s, &t.s.Corners[side].Rod
	length := rod.Length
	if length == 0 {
		length = s.Column.ColumnPoint(s.DropArm.Pins[side]).Sub(s.CornerPoint(side, s.Corners[side].Arm.Pickup)).Norm()
	}
	if v := t.of(side, "tie_rod", "rod_end").sub().get("body"); v.given() && 2*rod.End.Body > length {
		v.warn("rod-end-body", "is %s at either end of a rod of %s: the two would run into one another; a body of %s to %s is usual", t.d.say(rod.End.Body), t.d.say(length), t.say(25), t.say(60))
	}
	diameter := t.of(side, "tie_rod", "diameter")
	t.ratio(diameter, rod.Diameter, t.of(side, "wheel", "tyre_diameter"), s.Corners[side].Wheel.Tyre.Diameter, 0.025, 0.1)
	end := t.of(side, "tie_rod", "rod_end").sub()
	t.ratio(end.get("thread"), rod.End.Thread, diameter, rod.Diameter, 0.4, 1.2)
	t.ratio(end.get("body"), rod.End.Body, end.get("thread"), rod.End.Thread, 2, 8)
	t.ratio(end.get("pitch"), rod.End.Pitch, end.get("thread"), rod.End.Thread, 0.08, 0.25)
}

// pin doubts where a rod's pin is on the drop arm.
func (t *doubter) pin(side setup.Side) {
	s, v := t.s, t.pinOf(side)
	if s.Rack != nil {
		t.ground(t.value("rack", side.String()), s.Rack.Balls[side].Z)
		return
	}
	at, arm := s.DropArm.Pins[side], t.lever(side)
	t.ratio(v, t.pinLever(at, arm), t.of(side, "arm", "pickup"), arm, shortPin, longPin)
	turned := at
	if t.changes("turn_drop_arm_over") {
		turned.X, turned.Y = -at.X, -at.Y
	}
	t.ground(v, s.Column.ColumnPoint(turned).Z)
	if len(s.DropArm.Metal.Outline) > 0 {
		t.height(v, "the drop arm", s.DropArm.Metal, at.Z)
	}
}

// pinOf is where the file gives the pin of a side's rod.
func (t *doubter) pinOf(side setup.Side) value {
	if v := t.value("drop_arm", side.String()); v.given() {
		return v
	}
	return t.value("drop_arm", "pin")
}

// The shortest and the longest usual drop arm, as shares of the steering arm.
const shortPin, longPin = 0.4, 1.5

// pinLever is the length of a drop arm, mm: that of down alone where down is far too short and ten times it would be usual, since a pin
// beside the column moves no rod across.
func (t *doubter) pinLever(at r3.Vector, arm float64) float64 {
	down := math.Abs(at.X)
	if math.Abs(at.Y) < shortPin*arm && 10*down >= shortPin*arm && 10*down <= longPin*arm {
		return down
	}
	return math.Hypot(at.X, at.Y)
}

// lever is the length of a steering arm, mm.
func (t *doubter) lever(side setup.Side) float64 {
	return t.s.Corners[side].Kingpin.Lever(t.s.Corners[side].Arm.Pickup)
}

// aside is how far off the middle a column's foot must be to be doubted where all else is alike on both sides, mm.
const aside = 5.0

// foot doubts a column beside the middle of a steering that is alike on both sides.
func (t *doubter) foot() {
	s, v := t.s, t.value("column", "foot")
	left, right, at := s.DropArm.Pins[setup.Left], s.DropArm.Pins[setup.Right], s.Column.Foot
	if !v.given() || s.DragLink != nil || t.value("right").given() || left != (r3.Vector{X: right.X, Y: -right.Y, Z: right.Z}) || math.Abs(at.Y) <= aside {
		return
	}
	swapped := oneOf(at.X == 0, ", or are forward and left swapped, [forward, left, up]", "")
	v.warn("foot-aside", "lies %s to the %s of the middle, where all else is alike on both sides; is it meant so%s?",
		t.d.say(math.Abs(at.Y)), oneOf(at.Y > 0, "left", "right"), swapped)
}

// hung is about where a point of a spindle stands after [change], in corner axes: what that hung is under the ground is under it then.
func (t *doubter) hung(at r3.Vector) r3.Vector {
	if t.changes("turn_spindles_over") {
		at.Z = -at.Z
	}
	return at
}

func (t *doubter) ground(v value, z float64) {
	if z < 0 && v.given() {
		v.warn("under-ground", "lies %s under the ground; pins usually stand near the height of the kingpin centres; is down given as up, or up as down?", t.say(-z))
	}
}

// reach is how far from the metal's faces a rod end's ball usually stands at most, spacers included, mm.
const reach = 30.0

// heights warns of holes of an arm whose balls stand far from its metal; along is a ball's height along the axis that the arm turns about.
func (t *doubter) heights(arm value, what string, m setup.Metal, along func(up float64, at r2.Point) float64) {
	if !arm.given() {
		return
	}
	holes := arm.sub().get("holes").items()
	for i, h := range m.Holes {
		if i < len(holes) {
			hole := holes[i].sub()
			hole.rename(joinPath(arm.path(), "holes"), hole.get("name"))
			t.height(hole.get("up"), "the "+what, m, along(h.Up, h.At))
		}
	}
}

// height warns of a ball that stands far from the faces of its metal; ball is its height along the axis that the metal turns about, mm.
func (t *doubter) height(v value, what string, m setup.Metal, ball float64) {
	by, face := ball-m.Upper, "above"
	if m.Lower-ball > by {
		by, face = m.Lower-ball, "below"
	}
	if !v.given() || m.Upper <= m.Lower || !(by > reach) {
		return
	}
	v.warn("off-the-metal", "stands %s %s the metal of %s; within %s is usual; are both measured along the axis, from the same centre?",
		t.say(by), face, what, t.d.say(reach))
}

func (t *doubter) parts() {
	for i, v := range t.root.get("part").items() {
		if i == len(t.s.Parts) {
			return
		}
		p, at := &t.s.Parts[i], v.sub()
		at.rename("part", at.get("name"))
		if p.Bore > 0 && (p.On == setup.OnSpindle || p.AtKingpin) {
			if o := p.Plate.Outline; !planar.Inside(o, r2.Point{}) || planar.ToEdge(o, r2.Point{}) < p.Bore/2 {
				at.get("bore").warn("bore-off-kingpin", "goes round the kingpin, at [0, 0], which has no metal of this outline round it for a bore of %s; are both measured from the kingpin centre?", t.d.say(p.Bore))
			}
		}
		switch {
		case p.Tube != nil:
			t.path(at.get("tube").sub().get("path"), p)
		case p.Plate != nil:
			t.slips(at.get("plate").sub().get("outline"), 0)
		}
	}
	for _, arm := range []string{"arm", "drop_arm"} {
		t.slips(t.value(arm, "outline"), 0)
	}
}

func (t *doubter) path(v value, p *setup.Part) {
	const fartherOff = 1.5 // wheelbases from the origin: no tube of the vehicle ends there
	t.slips(v, fartherOff*t.s.Vehicle.Wheelbase)
	if p.On != setup.OnFrame {
		return
	}
	items := v.items()
	for i, at := range p.Tube.Path {
		if at.Z < -p.Tube.Diameter/2 && i < len(items) {
			items[i].warn("under-ground", "lies %s under the ground; heights are measured up from it", t.say(-at.Z))
			return
		}
	}
}
