package setup

import (
	"fmt"
	"slices"
	"strconv"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/geometry/planar"
)

// Change is what a builder really does to a vehicle. The zero value changes nothing. Its fields stand in the
// order in which they are made.
type Change struct {
	SwapSpindles     bool
	TurnSpindlesOver bool
	Narrow           float64    // off the distance of the kingpins and out of the middle of the frame there, mm
	NarrowRear       float64    // off the rear track and out of the middle of the frame at the rear axle, mm
	Shorten          float64    // off the wheelbase and out of the frame's length, mm
	ShortenAt        float64    // x of the front cut, mm; 0: half the wheelbase
	KeepFrame        bool       // the frame and the column stay as they are; only kingpins and rear axle move
	Spacer           [2]float64 // behind each front wheel, mm
	Tyre             [2]Tyre    // new front tyres; none where the diameter is 0
	RearTyre         Tyre       // new rear tyres; none where the diameter is 0
	TurnDropArmOver  bool
	LengthenDropArm  [2]float64 // by the rod that the pin takes, mm
	OneHole          bool       // for both rods, midway between the two
}

// Refusal is a change that cannot be made: its key in [change], the side that it is refused for (Left where it is
// about the whole vehicle), and why.
type Refusal struct {
	Key  string
	Side Side
	Why  string
}

// onAxis is the distance from the column's axis below which a pin stands on it, mm.
const onAxis = 1e-3

// Apply makes the changes, and says in Setup.Changes what each did. A change that is refused is not made.
func (c Change) Apply(s *Setup) (refused []Refusal) {
	did := func(format string, args ...any) { s.Changes = append(s.Changes, fmt.Sprintf(format, args...)) }
	refuse := func(key string, side Side, format string, args ...any) {
		refused = append(refused, Refusal{key, side, fmt.Sprintf(format, args...)})
	}
	if c.SwapSpindles {
		given := s.sayRods()
		s.SwapSpindles()
		s.Rehung.Swapped = true
		did("spindles swapped side for side, turned half round: pickups now at %s%s", s.sayPickups(), given)
	}
	if c.TurnSpindlesOver {
		given := s.sayRods()
		s.TurnSpindlesOver()
		s.Rehung.SpindlesOver = true
		did("spindles turned upside down: pickups now at %s%s", s.sayPickups(), given)
	}
	c.frame(s, did, refuse)
	c.wheels(s, did)
	c.dropArm(s, did, refuse)
	return refused
}

// frame narrows and shortens.
func (c Change) frame(s *Setup, did func(string, ...any), refuse func(key string, side Side, format string, args ...any)) {
	say, whole := s.Unit.Say, s.Vehicle.Wheelbase
	cut := Length{At: c.ShortenAt, Out: c.Shorten}
	if cut.At == 0 {
		cut.At = -whole / 2
	}
	sound := true
	deny := func(key, format string, args ...any) {
		refuse(key, Left, format, args...)
		sound = false
	}
	if c.Narrow >= s.Spacing {
		deny("narrow", "leaves nothing: the kingpins are only %s apart", say(s.Spacing))
	}
	if c.NarrowRear != 0 && c.NarrowRear >= s.Vehicle.RearTrack {
		deny("narrow_rear", "leaves nothing: the rear tyres are only %s apart, centre to centre", say(s.Vehicle.RearTrack))
	}
	switch {
	case c.Shorten >= whole:
		deny("shorten", "leaves nothing: the wheelbase is only %s", say(whole))
	case c.Shorten != 0 && !c.KeepFrame && min(cut.At, cut.rear()) < -whole:
		key := "shorten"
		if c.ShortenAt != 0 {
			key = "shorten_at"
		}
		deny(key, "puts the cuts at %s and %s, but they have to lie between the kingpins, at 0, and the rear axle, at %s; they need a shorten_at of at least %s",
			say(cut.At), say(cut.rear()), say(-whole), say(max(c.Shorten, 0)-whole))
	}
	if !sound {
		return
	}
	if c.Narrow != 0 {
		s.Spacing -= c.Narrow
		did("front %s: kingpins %s apart", s.sayBy(c.Narrow, "narrowed", "widened"), say(s.Spacing))
	}
	if c.NarrowRear != 0 {
		s.Vehicle.RearTrack -= c.NarrowRear
		did("rear %s: rear tyres %s apart, centre to centre", s.sayBy(c.NarrowRear, "narrowed", "widened"), say(s.Vehicle.RearTrack))
	}
	if c.Shorten != 0 {
		s.Vehicle.Wheelbase -= c.Shorten
		did("wheelbase %s to %s", s.sayBy(c.Shorten, "shortened", "lengthened"), say(s.Vehicle.Wheelbase))
	}
	switch {
	case c.Narrow == 0 && c.NarrowRear == 0 && c.Shorten == 0:
	case c.KeepFrame:
		did("the frame and the column stay as they are; only what is at the kingpins goes along")
	default:
		if err := s.cutFrame(Strip{c.Narrow, c.NarrowRear, whole}, cut); err != nil {
			key := "narrow"
			if c.Shorten != 0 {
				key = "shorten"
			}
			deny(key, "cannot cut the frame: %v", err)
		}
	}
}

// wheels makes the changes between kingpin and tyre, which each side may have of its own.
func (c Change) wheels(s *Setup, did func(string, ...any)) {
	say := s.Unit.Say
	front, rear := 0.0, 0.0 // by what the radii grow
	for side := range s.Corners {
		w := &s.Corners[side].Wheel
		w.Offset += c.Spacer[side]
		if c.Tyre[side].Diameter > 0 {
			front += (c.Tyre[side].Diameter - w.Tyre.Diameter) / 4 // the mean of both
			w.Tyre = c.Tyre[side]
		}
	}
	if c.RearTyre.Diameter > 0 {
		rear = (c.RearTyre.Diameter - s.Vehicle.RearTyre.Diameter) / 2
	}
	if front != 0 || rear != 0 {
		s.onTyres(front, rear)
	}
	if c.RearTyre.Diameter > 0 {
		s.Vehicle.RearTyre = c.RearTyre
	}
	for _, side := range Sides {
		switch alike := c.Spacer[Left] == c.Spacer[Right]; {
		case c.Spacer[side] == 0, alike && side == Right:
		case alike:
			did("spacer of %s behind each front wheel: tyres %s from the kingpins", say(c.Spacer[side]), say(s.Corners[side].Wheel.Offset))
		default:
			did("spacer of %s behind the %v front wheel: tyre %s from the kingpin", say(c.Spacer[side]), side, say(s.Corners[side].Wheel.Offset))
		}
	}
	for _, side := range Sides {
		switch alike := c.Tyre[Left] == c.Tyre[Right]; {
		case c.Tyre[side].Diameter == 0, alike && side == Right:
		case alike:
			did("front tyres of %s by %s", say(c.Tyre[side].Diameter), say(c.Tyre[side].Width))
		default:
			did("%v front tyre of %s by %s", side, say(c.Tyre[side].Diameter), say(c.Tyre[side].Width))
		}
	}
	if c.RearTyre.Diameter > 0 {
		did("rear tyres of %s by %s", say(c.RearTyre.Diameter), say(c.RearTyre.Width))
	}
	if front != 0 || rear != 0 {
		did("the frame, one body, %s on its tyres: caster %s, kingpin centre %s above ground; rods as they were", s.sayPitch(), s.sayCaster(), say(s.Corners[Left].Kingpin.Height))
	}
}

// dropArm makes the changes to the drop arm.
func (c Change) dropArm(s *Setup, did func(string, ...any), refuse func(key string, side Side, format string, args ...any)) {
	switch {
	case s.Rack != nil:
		for _, key := range [3]struct {
			name   string
			wanted bool
		}{{"turn_drop_arm_over", c.TurnDropArmOver}, {"lengthen_drop_arm", c.LengthenDropArm != [2]float64{}}, {"one_hole", c.OneHole}} {
			if key.wanted {
				refuse(key.name, Left, "is of a drop arm, and a rack has none")
			}
		}
		return
	case s.DragLink != nil:
		c.LengthenDropArm[s.DragLink.Side.Other()] = c.LengthenDropArm[s.DragLink.Side]
		if c.OneHole {
			refuse("one_hole", Left, "is for two tie rods; the drag link has one hole already")
			c.OneHole = false
		}
	}
	if c.TurnDropArmOver && s.DragLink != nil {
		s.DropArm = s.DropArm.turnedHalfRound()
		s.Rehung.DropArmOver = true
		did("drop arm turned half round on the column: pin now at %s", s.sayPoint(s.DropArm.Pins[Left]))
	} else if c.TurnDropArmOver {
		s.DropArm = s.DropArm.turnedHalfRound()
		s.Rehung.DropArmOver = true
		did("drop arm turned half round on the column, each rod on the hole of its own side: pins now at %s and %s",
			s.sayPoint(s.DropArm.Pins[Left]), s.sayPoint(s.DropArm.Pins[Right]))
	}
	old := s.DropArm.Pins
	for _, side := range Sides {
		switch by, alike := c.LengthenDropArm[side], c.LengthenDropArm[Left] == c.LengthenDropArm[Right]; {
		case by == 0:
		case !s.lengthenDropArm(side, by):
			pin := s.DropArm.Pins[side]
			refuse("lengthen_drop_arm", side, "would bring the %v pin onto the column axis; it is %s from it", side, s.Unit.Say(r2.Point{X: pin.X, Y: pin.Y}.Norm()))
		case alike && side == Left: // told with the right
		case alike:
			did("drop arm %s", s.sayBy(by, "lengthened", "shortened"))
		default:
			did("drop arm %s at the %v rod's pin", s.sayBy(by, "lengthened", "shortened"), side)
		}
	}
	if c.OneHole {
		mid := s.DropArm.Pins[Left].Add(s.DropArm.Pins[Right]).Mul(0.5)
		if r := (r3.Vector{X: mid.X, Y: mid.Y}); r.Norm() < onAxis {
			refuse("one_hole", Left, "would stand on the column axis, midway between the two pins")
		} else {
			s.DropArm.Pins = [2]r3.Vector{mid, mid}
			did("one hole for both rods, midway between the two: %s", s.sayPoint(mid))
		}
	}
	s.extendDropArm(old)
}

// leastBar is the least width of a bar that brings a pin to where the drop arm has no metal, mm.
const leastBar = 12.0

// extendDropArm brings metal along where pins were moved: a bar from each old pin to the new one, as thick as the arm and
// as wide as the arm is about the old hole, so that it may hit something; none where the arm itself has the metal.
func (s *Setup) extendDropArm(old [2]r3.Vector) {
	a := &s.DropArm
	if len(a.Metal.Outline) == 0 {
		return // an arm that is assumed goes where the pins are
	}
	for _, side := range Sides {
		from, to := r2.Point{X: old[side].X, Y: old[side].Y}, r2.Point{X: a.Pins[side].X, Y: a.Pins[side].Y}
		if from == to {
			continue
		}
		half := leastBar / 2
		if planar.Inside(a.Metal.Outline, from) {
			half = max(half, planar.ToEdge(a.Metal.Outline, from))
		}
		along := to.Sub(from).Normalize().Mul(half)
		across := along.Ortho()
		bar := planar.Hull([]r2.Point{
			from.Sub(across), to.Add(along).Sub(across), to.Add(along).Add(across), from.Add(across),
		})
		if !slices.ContainsFunc(bar, func(p r2.Point) bool {
			return !planar.Inside(a.Metal.Outline, p) && planar.ToEdge(a.Metal.Outline, p) > 1e-6
		}) {
			continue // the arm has the metal
		}
		a.Bars = append(a.Bars, bar)
		s.Assumed = append(s.Assumed, fmt.Sprintf("drop arm: a bar from the old hole of the %v rod to the new one, %s wide and as thick as the arm", side, s.Unit.Say(2*half)))
	}
}

// Rehung says which parts [change] hung anew.
type Rehung struct {
	Swapped      bool // the spindles, side for side
	SpindlesOver bool // the spindles, upside down
	DropArmOver  bool // the drop arm, half round on the column
	Pitched      []Pitched
}

// AsHung returns the setup with spindles and drop arm as they hung before [change]: each of those changes made
// a second time, last first, undoes itself. Balls then stand in the co-ordinates that the file gives them in.
// Lengths of rods that no longer count do not come back.
func (s *Setup) AsHung() *Setup {
	before := *s
	for _, p := range slices.Backward(s.Rehung.Pitched) {
		before.pitch(Pitched{NoseUp: -p.NoseUp, Lift: -p.Lift})
	}
	if len(s.Rehung.Pitched) > 0 {
		before.levelled()
	}
	if s.Rehung.DropArmOver {
		before.DropArm = before.DropArm.turnedHalfRound()
	}
	if s.Rehung.SpindlesOver {
		before.TurnSpindlesOver()
	}
	if s.Rehung.Swapped {
		before.SwapSpindles()
	}
	if s.Rehung.SpindlesOver || s.Rehung.Swapped {
		before.rejoinParts()
	}
	before.Rehung = Rehung{}
	return &before
}

// lengthenDropArm moves a pin straight away from the column's axis; ok is false where it would come onto the axis.
func (s *Setup) lengthenDropArm(side Side, mm float64) (ok bool) {
	pin := s.DropArm.Pins[side]
	radius := r3.Vector{X: pin.X, Y: pin.Y}
	if radius.Norm()+mm < onAxis {
		return false
	}
	s.DropArm.Pins[side] = pin.Add(radius.Normalize().Mul(mm))
	return true
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
	for _, bar := range a.Bars {
		over := make([]r2.Point, len(bar))
		for i, p := range bar {
			over[i] = r2.Point{X: 0 - p.X, Y: 0 - p.Y}
		}
		turned.Bars = append(turned.Bars, over)
	}
	for _, h := range a.Metal.Holes {
		h.At = r2.Point{X: 0 - h.At.X, Y: 0 - h.At.Y}
		turned.Metal.Holes = append(turned.Metal.Holes, h)
	}
	return turned
}

// sayBy says a change of length either way: "narrowed by 40 mm".
func (s *Setup) sayBy(mm float64, less, more string) string {
	if mm < 0 {
		return more + " by " + s.Unit.Say(-mm)
	}
	return less + " by " + s.Unit.Say(mm)
}

// sayRods says of rods of given length that they have to be cut anew.
func (s *Setup) sayRods() string {
	left, right := s.Corners[Left].Rod.Length, s.Corners[Right].Rod.Length
	switch {
	case s.DragLink != nil && (left != 0 || s.DragLink.Rod.Length != 0):
	case left == 0 && right == 0:
		return ""
	case left == right:
		return "; the rods of " + s.Unit.Say(left) + " no longer count, they are cut anew"
	}
	return "; rods of given length no longer count, they are cut anew"
}

// sayPitch says how the frame was last turned.
func (s *Setup) sayPitch() string {
	switch by := s.Rehung.Pitched[len(s.Rehung.Pitched)-1].NoseUp; {
	case by > 0:
		return "turns nose up by " + sayDegrees(by)
	case by < 0:
		return "turns nose down by " + sayDegrees(-by)
	}
	return "stays as level as it was"
}

func (s *Setup) sayCaster() string {
	left, right := sayDegrees(s.Corners[Left].Kingpin.Caster), sayDegrees(s.Corners[Right].Kingpin.Caster)
	if left == right {
		return left
	}
	return left + " left, " + right + " right"
}

// sayDegrees says an angle to a hundredth of a degree.
func sayDegrees(a s1.Angle) string { return strconv.FormatFloat(a.Degrees(), 'f', 2, 64) + "°" }

func (s *Setup) sayPickups() string {
	left, right := s.sayPoint(s.Corners[Left].Arm.Pickup), s.sayPoint(s.Corners[Right].Arm.Pickup)
	if left == right {
		return left
	}
	return left + " on the left, " + right + " on the right"
}

func (s *Setup) sayPoint(p r3.Vector) string {
	return fmt.Sprintf("[%s, %s, %s]", s.Unit.Say(p.X), s.Unit.Say(p.Y), s.Unit.Say(p.Z))
}
