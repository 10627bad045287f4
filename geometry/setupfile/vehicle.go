package setupfile

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"locksweep/geometry/planar"
	"locksweep/geometry/setup"
)

// assume notes a default that stands for what was not measured, once.
func (d *decoder) assume(s *setup.Setup, format string, args ...any) {
	if text := fmt.Sprintf(format, args...); !slices.Contains(s.Assumed, text) {
		s.Assumed = append(s.Assumed, text)
	}
}

// silent notes what the file does not say and is taken as nought, as alike, or as not there.
func (d *decoder) silent(root *table, s *setup.Setup) {
	var zero []string
	for _, key := range [][2]string{{"kingpin", "inclination"}, {"kingpin", "caster"}, {"wheel", "toe"}, {"wheel", "camber"}, {"wheel", "lead"}} {
		if !root.get(key[0]).sub().get(key[1]).given() {
			zero = append(zero, key[1])
		}
	}
	if len(zero) > 0 {
		d.assume(s, "%s: 0, since the file does not say", strings.Join(zero, ", "))
	}
	if !root.get("wheel").sub().get("tyre_shoulder").given() {
		d.assume(s, "tyre_shoulder: 0, the careful assumption; a tyre with round shoulders touches later")
	}
	if !root.get("right").given() {
		d.assume(s, "the right corner: as the left one, mirrored")
	}
	if s.Corners[setup.Left].Rod.End.Tilt == 0 || s.Corners[setup.Right].Rod.End.Tilt == 0 {
		d.assume(s, "rod ends that never bind, since no tilt is given: look whether they do")
	}
	d.boltsSilent(s)
	if len(s.Parts) == 0 {
		d.assume(s, "nothing to be hit but the wheels, rods and arms themselves, since no parts are given")
	}
}

// boltsSilent notes the bolts whose direction the file does not give, where it decides whether a rod end binds.
func (d *decoder) boltsSilent(s *setup.Setup) {
	tilts := s.DragLink != nil && s.DragLink.Rod.End.Tilt > 0
	upright := s.DragLink != nil && s.DragLink.Bolt == r3.Vector{}
	for _, side := range setup.Sides {
		tilts = tilts || s.Corners[side].Rod.End.Tilt > 0
		upright = upright || s.Corners[side].Arm.Bolt == r3.Vector{}
	}
	const decides = "; it decides whether a rod end binds"
	if tilts && upright {
		d.assume(s, "arm.bolt: the rods' bolts at the steering arms point along the kingpin"+decides)
	}
	switch none := (r3.Vector{}); {
	case !tilts:
	case s.Rack == nil && (s.DropArm.Bolts[setup.Left] == none || s.DropArm.Bolts[setup.Right] == none):
		d.assume(s, "drop_arm.bolt: the rods' bolts at the drop arm point along the column"+decides)
	case s.Rack != nil && (s.Rack.Bolts[setup.Left] == none || s.Rack.Bolts[setup.Right] == none):
		d.assume(s, "rack.bolt: the rods' bolts at the rack stand square to it, as upright as can be"+decides)
	}
}

// rear reads [vehicle]. The front axle is known already: rear track and tyre are those of the front
// where the file does not give them.
func (d *decoder) rear(t *table, s *setup.Setup) {
	wheelbase := t.need("wheelbase", "kingpin centre line to rear axle")
	s.Vehicle.Wheelbase = wheelbase.size()
	d.suspectUnit(wheelbase, s.Vehicle.Wheelbase)
	front := s.Spacing + s.Corners[setup.Left].Wheel.Offset + s.Corners[setup.Right].Wheel.Offset
	track := t.get("rear_track")
	s.Vehicle.RearTrack = track.lengthOr(front, notNegative)
	if !track.given() {
		d.assume(s, "rear track %s, as in front", d.say(s.Vehicle.RearTrack))
	}
	tyre := t.get("rear_tyre")
	s.Vehicle.RearTyre = s.Corners[setup.Left].Wheel.Tyre
	if tyre.given() {
		s.Vehicle.RearTyre = tyre.tyre("rear", "")
	} else {
		d.assume(s, "rear tyre %s by %s, as in front", d.say(s.Vehicle.RearTyre.Diameter), d.say(s.Vehicle.RearTyre.Width))
	}
	if s.Vehicle.RearTrack < s.Vehicle.RearTyre.Width {
		track.warn("rear-track", "is %s, less than one rear tyre is wide (%s): the rear tyres stand in one another", d.say(s.Vehicle.RearTrack), d.say(s.Vehicle.RearTyre.Width))
	}
	t.done()
}

// tyre reads the size of a tyre; zero where it is not given. A rear one has no shoulder. Which, and further words for the
// diameter, are for messages.
func (v value) tyre(which, further string) (tyre setup.Tyre) {
	if !v.given() {
		return tyre
	}
	size := v.sub()
	tyre.Diameter = size.need("diameter", "outer diameter of the "+which+" tyre"+further).size()
	tyre.Width = size.need("width", "width of the "+which+" tyre").size()
	if which != "rear" {
		tyre.Shoulder = size.get("shoulder").lengthOr(0, notNegative)
	}
	size.done()
	return tyre
}

// suspectUnit warns of a wheelbase that would make sense in the other unit.
func (d *decoder) suspectUnit(v value, mm float64) {
	switch {
	case d.unit == setup.MM && mm < 300:
		v.warn("units", `is only %s mm; if the file is in inches write units = "in", and centimetres have to be made millimetres`, v.n.str)
	case d.unit == setup.Inch && mm > 200*setup.MMPerInch:
		v.warn("units", `is %s inches, more than 5 m; if the file is in millimetres write units = "mm"`, v.n.str)
	}
}

func (d *decoder) space(t *table, s *setup.Setup) {
	s.Space = setup.Space{Width: t.get("width").sizeOr(0), Length: t.get("length").sizeOr(0)}
	t.done()
}

func (d *decoder) aims(t *table, s *setup.Setup) {
	s.Aims.Lock = t.get("lock").angleOr(0, positive, between(0, 90, " degrees of the inner wheel"))
	s.Aims.Ackermann = t.get("ackermann").numberOr(0, between(1, 500, " percent; 100 is ideal"))
	t.done()
}

// column reads [column] and [drop_arm].
func (d *decoder) column(t *table, s *setup.Setup) {
	c := t.get("column").sub()
	s.Column.Foot = c.need("foot", "a point on the column's axis, [x, y, z] in vehicle axes").point(vehicleNames)
	s.Column.Rake = c.need("rake", "degrees that the column rises above the horizontal").angle(between(-90, 180, " degrees"))
	s.Column.Travel = c.get("travel").angleOr(0, positive, between(0, 180, " degrees each way"))
	c.done()
	drop := t.get("drop_arm").sub()
	if s.DragLink != nil {
		d.crossRod(t.get("tie_rod").sub(), drop, s)
	}
	d.dropArm(drop, s)
}

func (d *decoder) dropArm(t *table, s *setup.Setup) {
	pins := d.pins(t, s)
	arm := &s.DropArm
	centre := commonAlong(pins)
	arm.Metal = d.metal(t, columnNames)
	if v := t.get("thickness"); v.given() {
		half := v.size() / 2
		arm.Metal.Lower, arm.Metal.Upper = centre-half, centre+half
		if t.get("up").given() {
			v.fail("is given beside up; give one of them")
		}
	} else if !t.get("up").given() {
		arm.Metal.Lower, arm.Metal.Upper = centre, centre
	}
	d.holes(t, &arm.Metal, columnNames, r3.Vector{Z: 1}, func(setup.Hole) float64 { return arm.Metal.Middle() })
	both := t.get("bolt").direction(columnNames)
	for _, side := range setup.Sides {
		arm.Pins[side] = pins[side].place(arm.Metal, columnNames)
		arm.Bolts[side] = cmp.Or(t.get(side.String()+"_bolt").direction(columnNames), both)
		if s.DragLink == nil || s.DragLink.Side == side {
			d.checkPin(side, pins[side], s)
			pins[side].offMetal("drop arm", columnAxes[:2], arm.Metal, arm.Pins[side], r3.Vector{Z: 1})
		}
	}
	if o := arm.Metal.Outline; len(o) > 0 && !planar.Inside(o, r2.Point{}) && planar.ToEdge(o, r2.Point{}) > offMetal {
		t.get("outline").warn("column-off-metal", "does not hold the column, [0, 0], which lies %s outside; is it measured from the column's axis?", d.say(planar.ToEdge(o, r2.Point{})))
	}
	if arm.Pins[setup.Left].Y < arm.Pins[setup.Right].Y {
		pins[setup.Left].warn("pins-crossed", "lies to the right of the right rod's pin, so that the rods cross; left is positive")
	}
	t.done()
}

// pins returns the values that say where the left and the right rod's pins are.
func (d *decoder) pins(t *table, s *setup.Setup) [2]value {
	left, right, pin := t.get("left"), t.get("right"), t.get("pin")
	if s.DragLink != nil { // left and right are refused
		pin = t.need("pin", "where the drag link sits on the column's arm, [down, left, along] from its foot")
		return [2]value{pin, pin}
	}
	switch {
	case pin.given() && (left.given() || right.given()):
		pin.fail("is given beside left or right; pin is one hole that takes both rods")
		return [2]value{pin, pin}
	case pin.given():
		return [2]value{pin, pin}
	case !left.given() && !right.given():
		t.need("pin", "where the tie rods sit on the column's arm; give left and right, or pin for one hole that takes both rods")
	case !left.given():
		t.need("left", "the left rod's pin, [down, left, along] from the column's foot")
	case !right.given():
		t.need("right", "the right rod's pin, [down, left, along] from the column's foot")
	}
	return [2]value{left, right}
}

// commonAlong is the height along the column that the pins given by co-ordinates share, 0 where they differ.
func commonAlong(pins [2]value) float64 {
	found, along := false, 0.0
	for _, v := range pins {
		if v.n == nil || v.n.kind != list || len(v.n.items) != 3 || v.n.items[2].kind != number {
			continue
		}
		x := v.d.unit.ToMM(v.n.items[2].num)
		if found && x != along {
			return 0
		}
		found, along = true, x
	}
	return along
}

// checkPin refuses a pin that has no lever about the column or no distance to its pickup.
func (d *decoder) checkPin(side setup.Side, v value, s *setup.Setup) {
	p := s.DropArm.Pins[side]
	if math.Hypot(p.X, p.Y) < leastLever {
		v.fail("lies on the column's axis; a drop arm needs a lever (measure from the column's centre to the hole)")
	}
	pickup := s.Corners[side].Arm.Pickup
	if s.DragLink != nil {
		pickup = s.DragLink.Pickup
	}
	if gap := s.Column.ColumnPoint(p).Sub(s.CornerPoint(side, pickup)).Norm(); gap < leastLever {
		v.fail("lies on the %v steering arm's pickup; the rod between them would have no length", side)
	}
}

// leastLever is the shortest arm or rod that is taken for one, mm.
const leastLever = 0.5

// place reads a point given by co-ordinates or by the name of one of the metal's holes, mm; NaN where it is missing or wrong.
func (v value) place(m setup.Metal, names []string) r3.Vector {
	nowhere, point := r3.Vector{X: math.NaN(), Y: math.NaN(), Z: math.NaN()}, "["+strings.Join(names, ", ")+"]"
	switch {
	case v.n == nil, v.n.kind == list:
		return v.point(names)
	case v.n.kind != text:
		v.fail("is %v, should be %s or the name of a hole", v.n.kind, point)
		return nowhere
	}
	var holes []string
	for _, h := range m.Holes {
		if h.Name == v.n.str {
			return h.Ball()
		}
		holes = append(holes, h.Name)
	}
	switch {
	case v.d.broken:
	case len(holes) == 0:
		v.fail("names the hole %s, but the arm has no holes; add them or give %s", quoted(v.n.str), point)
	default:
		v.fail("names no hole of the arm%s", orList(v.n.str, holes))
	}
	return nowhere
}

// orList suggests a name, or lists them.
func orList(word string, names []string) string {
	if hint := didYouMean(word, names); hint != "" {
		return hint
	}
	const most = 8
	var said []string
	for _, n := range names[:min(len(names), most)] {
		said = append(said, quoted(n))
	}
	if len(names) > most {
		said = append(said, "…")
	}
	return "; it has " + strings.Join(said, ", ")
}
