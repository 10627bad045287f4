package setup

import (
	"math"
	"slices"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

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

// Done is one thing that a Change did. What became of a measure stands in the Setup.
type Done struct {
	What  Deed
	Sides [2]bool      // whose, of what a side can have of its own
	By    float64      // mm, as Change has it
	Balls [2]r3.Vector // pickups in corner axes, or pins in column axes, as they stood then, mm
	Recut []float64    // given lengths of the rods, which no longer count, mm; 0: not given
}

type Deed int

const (
	SwappedSpindles Deed = iota
	TurnedSpindlesOver
	Narrowed
	NarrowedRear
	Shortened
	KeptFrame
	FittedSpacer
	FittedTyre
	FittedRearTyre
	PitchedFrame
	TurnedDropArmOver
	LengthenedDropArm
	MadeOneHole
)

// Refusal is a change that cannot be made: its key in [change], the side that it is refused for (Left where it is
// about the whole vehicle), and why.
type Refusal struct {
	Key  string
	Side Side
	Why  Reason
	Size float64    // what there is of the measure, mm
	Cuts [2]float64 // of BeyondAxles: x of the front and of the rear cut, mm
	Axle float64    // of BeyondAxles: x of the rear axle, mm
	Err  error      // of FrameUncut
}

type Reason int

const (
	NothingLeft  Reason = iota // Size is less than what is to come off
	BeyondAxles                // the cuts do not both lie between the axles; Size is the least x of the front one, mm
	FrameUncut                 // Err says where the frame cannot be cut
	NoDropArm                  // a rack has none
	OneHoleOnly                // a drag link has one hole already
	PinOntoAxis                // the pin is only Size from the column's axis
	HoleOntoAxis               // midway between the pins is the column's axis
)

// onAxis is the distance from the column's axis below which a pin stands on it, mm.
const onAxis = 1e-3

// Apply makes the changes, and notes in Setup.Changes what each did. A change that is refused is not made.
func (c Change) Apply(s *Setup) (refused []Refusal) {
	rehang := func(what Deed, hang func(), hung *bool) {
		given := s.rodLengths()
		hang()
		*hung = true
		s.did(Done{What: what, Balls: [2]r3.Vector{s.Corners[Left].Arm.Pickup, s.Corners[Right].Arm.Pickup}, Recut: given})
	}
	if c.SwapSpindles {
		rehang(SwappedSpindles, s.SwapSpindles, &s.Rehung.Swapped)
	}
	if c.TurnSpindlesOver {
		rehang(TurnedSpindlesOver, s.TurnSpindlesOver, &s.Rehung.SpindlesOver)
	}
	refused = c.frame(s)
	c.wheels(s)
	return append(refused, c.dropArm(s)...)
}

func (s *Setup) did(done Done) { s.Changes = append(s.Changes, done) }

func (s *Setup) rodLengths() []float64 {
	lengths := []float64{s.Corners[Left].Rod.Length, s.Corners[Right].Rod.Length}
	if s.DragLink != nil {
		lengths = append(lengths, s.DragLink.Rod.Length)
	}
	return lengths
}

// frame moves kingpins and rear axle together and, unless that is to stay, cuts the frame for it.
func (c Change) frame(s *Setup) (refused []Refusal) {
	whole := s.Vehicle.Wheelbase
	cut := Length{At: c.ShortenAt, Out: c.Shorten}
	if cut.At == 0 {
		cut.At = -whole / 2
	}
	measures := [3]struct {
		key  string
		what Deed
		of   *float64
		by   float64
	}{{"narrow", Narrowed, &s.Spacing, c.Narrow}, {"narrow_rear", NarrowedRear, &s.Vehicle.RearTrack, c.NarrowRear}, {"shorten", Shortened, &s.Vehicle.Wheelbase, c.Shorten}}
	for _, m := range measures {
		if m.by != 0 && m.by >= *m.of {
			refused = append(refused, Refusal{Key: m.key, Size: *m.of})
		}
	}
	if refused = append(refused, c.beyondAxles(cut, whole)...); len(refused) > 0 {
		return refused
	}
	key := "" // of what the frame is cut for
	for _, m := range measures {
		if m.by != 0 {
			*m.of -= m.by
			s.did(Done{What: m.what, By: m.by})
			if key == "" || c.Shorten != 0 {
				key = m.key
			}
		}
	}
	if c.KeepFrame && key != "" {
		s.did(Done{What: KeptFrame})
	} else if key != "" {
		if err := s.cutFrame(Strip{c.Narrow, c.NarrowRear, whole}, cut); err != nil {
			return []Refusal{{Key: key, Why: FrameUncut, Err: err}}
		}
	}
	return nil
}

// beyondAxles refuses cuts that do not both lie between the axles.
func (c Change) beyondAxles(cut Length, whole float64) []Refusal {
	if c.Shorten == 0 || c.Shorten >= whole || c.KeepFrame || min(cut.At, cut.rear()) >= -whole {
		return nil
	}
	key := "shorten"
	if c.ShortenAt != 0 {
		key = "shorten_at"
	}
	return []Refusal{{Key: key, Why: BeyondAxles, Size: max(c.Shorten, 0) - whole, Cuts: [2]float64{cut.At, cut.rear()}, Axle: -whole}}
}

// wheels makes the changes between kingpin and tyre, and of the rear tyres; the frame then stands on what is fitted.
func (c Change) wheels(s *Setup) {
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
	s.didBySide(FittedSpacer, c.Spacer)
	if c.Tyre[Left] == c.Tyre[Right] {
		s.didBySide(FittedTyre, [2]float64{c.Tyre[Left].Diameter, c.Tyre[Left].Diameter})
	} else {
		for _, side := range Sides {
			own := [2]float64{}
			own[side] = c.Tyre[side].Diameter
			s.didBySide(FittedTyre, own)
		}
	}
	if c.RearTyre.Diameter > 0 {
		s.did(Done{What: FittedRearTyre})
	}
	if front != 0 || rear != 0 {
		s.did(Done{What: PitchedFrame})
	}
}

// didBySide notes what was done by so many mm on either side, 0 where nothing was: once where that is the same on both.
func (s *Setup) didBySide(what Deed, by [2]float64) {
	if by[Left] == by[Right] && by[Left] != 0 {
		s.did(Done{What: what, Sides: [2]bool{true, true}, By: by[Left]})
		return
	}
	for _, side := range Sides {
		if by[side] != 0 {
			done := Done{What: what, By: by[side]}
			done.Sides[side] = true
			s.did(done)
		}
	}
}

func (c Change) dropArm(s *Setup) (refused []Refusal) {
	if s.Rack != nil {
		return c.onDropArm()
	}
	deny := func(r Refusal) { refused = append(refused, r) }
	if s.DragLink != nil {
		c.LengthenDropArm[s.DragLink.Side.Other()] = c.LengthenDropArm[s.DragLink.Side]
		if c.OneHole {
			deny(Refusal{Key: "one_hole", Why: OneHoleOnly})
			c.OneHole = false
		}
	}
	if c.TurnDropArmOver {
		s.DropArm = s.DropArm.turnedHalfRound()
		s.Rehung.DropArmOver = true
		s.did(Done{What: TurnedDropArmOver, Balls: s.DropArm.Pins})
	}
	old := s.DropArm.Pins
	by := c.LengthenDropArm
	for _, side := range Sides {
		if pin := s.DropArm.Pins[side]; by[side] != 0 && !s.lengthenDropArm(side, by[side]) && !(side == Right && s.OnePin()) {
			deny(Refusal{Key: "lengthen_drop_arm", Side: side, Why: PinOntoAxis, Size: r2.Point{X: pin.X, Y: pin.Y}.Norm()})
		}
	}
	s.didBySide(LengthenedDropArm, by)
	if c.OneHole {
		mid := s.DropArm.Pins[Left].Add(s.DropArm.Pins[Right]).Mul(0.5)
		if math.Hypot(mid.X, mid.Y) < onAxis {
			deny(Refusal{Key: "one_hole", Why: HoleOntoAxis})
		} else {
			s.DropArm.Pins = [2]r3.Vector{mid, mid}
			s.did(Done{What: MadeOneHole})
		}
	}
	s.extendDropArm(old)
	return refused
}

// onDropArm refuses what is to be done to a drop arm where there is none.
func (c Change) onDropArm() (refused []Refusal) {
	for i, wanted := range [3]bool{c.TurnDropArmOver, c.LengthenDropArm != [2]float64{}, c.OneHole} {
		if wanted {
			refused = append(refused, Refusal{Key: [3]string{"turn_drop_arm_over", "lengthen_drop_arm", "one_hole"}[i], Why: NoDropArm})
		}
	}
	return refused
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
		if from == to || side == Right && s.OnePin() {
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
		a.Bars = append(a.Bars, Bar{Outline: bar, Side: side, Width: 2 * half})
	}
}

// Rehung says which parts [change] hung anew.
type Rehung struct {
	Swapped      bool // the spindles, side for side
	SpindlesOver bool // the spindles, upside down
	DropArmOver  bool // the drop arm, half round on the column
	Pitched      []Pitched
}

// RehangKeys are the keys of [change] that hang parts anew.
var RehangKeys = [3]string{"swap_spindles", "turn_spindles_over", "turn_drop_arm_over"}

// AsHung returns the setup with spindles and drop arm as they hung before [change], each of those changes made a second time, last first, undoing
// itself, and with the parts of the frame as they were before it was cut. Balls then stand in the co-ordinates that the file gives them in.
// Lengths of rods that no longer count do not come back.
func (s *Setup) AsHung() *Setup {
	before := *s
	for _, p := range slices.Backward(s.Rehung.Pitched) {
		before.pitch(Pitched{NoseUp: -p.NoseUp, Lift: -p.Lift})
	}
	if len(s.Rehung.Pitched) > 0 {
		before.levelled()
	}
	if s.Frame != nil {
		before.uncut()
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

// lengthenDropArm moves a pin straight away from the column's axis, by mm; ok is false, and it stays, where it would come onto the axis.
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
	round := func(points []r2.Point) (turned []r2.Point) {
		for _, p := range points {
			turned = append(turned, r2.Point{X: 0 - p.X, Y: 0 - p.Y})
		}
		return turned
	}
	pins, bolts := a.Pins, a.Bolts
	for _, side := range Sides {
		a.Pins[side], a.Bolts[side] = half(pins[side.Other()]), half(bolts[side.Other()])
	}
	a.Metal.Outline, a.Metal.Holes, a.Bars = round(a.Metal.Outline), slices.Clone(a.Metal.Holes), slices.Clone(a.Bars)
	for i := range a.Metal.Holes {
		at := &a.Metal.Holes[i].At
		at.X, at.Y = 0-at.X, 0-at.Y
	}
	for i := range a.Bars {
		a.Bars[i].Outline, a.Bars[i].Side = round(a.Bars[i].Outline), a.Bars[i].Side.Other()
	}
	return a
}
