// Package setup answers what a vehicle's steering is made of, where each piece stands, and what becomes of it
// when a builder changes something. Everything in a Setup is in millimetres and s1.Angle (radians), whatever the unit of its file.
//
// Vehicle axes are x forward, y left, z up, from the ground below the midpoint of the kingpin
// centres. Corner axes are [forward, outboard, up] from a kingpin centre, wheels straight ahead; in
// r3.Vector terms X is forward, Y outboard, Z up. Column axes are [down, left, along] from the
// column's foot; X is down, Y left, Z along.
package setup

import (
	"math"
	"slices"
	"strconv"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/geometry/rigid"
)

// Side says which corner of the vehicle; it indexes every [2] array of corners.
type Side int

const (
	Left Side = iota
	Right
)

var Sides = [2]Side{Left, Right}

// Sign is +1 on the left, where outboard is +y, and -1 on the right.
func (s Side) Sign() float64 { return float64(1 - 2*s) }

// Other is the opposite side.
func (s Side) Other() Side { return 1 - s }

func (s Side) String() string { return [2]string{"left", "right"}[s] }

// Unit is the length unit of a file and of everything printed about it.
type Unit int

const (
	MM Unit = iota
	Inch
)

// MMPerInch is exact by definition of the inch.
const MMPerInch = 25.4

// mm is how many mm one of the unit is.
func (u Unit) mm() float64 { return [2]float64{MM: 1, Inch: MMPerInch}[u] }

// FromMM converts a length in mm to the unit.
func (u Unit) FromMM(mm float64) float64 { return mm / u.mm() }

// ToMM converts a length in the unit to mm.
func (u Unit) ToMM(v float64) float64 { return v * u.mm() }

// Say writes a length, given in mm, in the unit: to a thousandth, but whole sixty-fourths of an inch, as a rule has them, in full.
func (u Unit) Say(mm float64) string {
	v := u.FromMM(mm)
	if part := math.Round(v*64) / 64; u == Inch && math.Abs(v-part) < 1e-9 {
		v = part
	} else {
		v = math.Round(v*1000) / 1000
	}
	return strconv.FormatFloat(v+0, 'f', -1, 64) + " " + u.String() // + 0: nought has no sign
}

func (u Unit) String() string { return [2]string{"mm", "in"}[u] }

// Setup is one complete description of a vehicle's steering.
type Setup struct {
	Name     string
	Unit     Unit
	Vehicle  Vehicle
	Spacing  float64 // between the kingpin centres, mm
	Corners  [2]Corner
	Column   Column
	DropArm  DropArm
	DragLink *DragLink // nil: none, the tie rods go from the drop arm to each spindle
	Rack     *Rack     // nil: none; with one, Column and DropArm say nothing
	Limits   Limits
	Parts    []Part
	Ignore   [][2]string // pairs of part names that are never checked against each other
	Space    Space
	Aims     Aims
	Load     Load
	Checks   Checks // what was measured on the vehicle to hold this against
	Accuracy Accuracy
	Variants []string  // names, in the order of the file
	Changes  []Done    // what [change] did, in the order in which it was done
	Rehung   Rehung    // which parts [change] hung anew
	Before   *Setup    // the setup without Made; nil where nothing is changed
	Made     Change    // what [change] asks for
	Frame    *FrameCut // how [change] cut the frame; nil where it did not
	With     string    // the variant and the settings that it was read with; empty for the file as it stands
	Lost     []string  // parts that the file marks as the stop, where the variant and the settings leave none marked; else empty
	Assumed  []string  // what was not given and is taken from a default, in the words of who read the file
}

// MarksStop reports whether the file marks parts as the stop, be it only without the variant and the settings (Lost).
func (s *Setup) MarksStop() bool {
	return len(s.Lost) > 0 || slices.ContainsFunc(s.Parts, func(p Part) bool { return p.Stop })
}

// Marked returns the names of the parts that are meant to stop the spindle.
func (s *Setup) Marked() (names []string) {
	for i := range s.Parts {
		if s.Parts[i].Stop {
			names = append(names, s.Parts[i].Name)
		}
	}
	return names
}

// Vehicle is what both axles share.
type Vehicle struct {
	Wheelbase float64 // kingpin centre line to rear axle, mm
	RearTrack float64 // rear tyre centre to centre, mm
	RearTyre  Tyre
}

// Tyre is a wheel's outer cylinder.
type Tyre struct {
	Diameter, Width float64 // mm
	Shoulder        float64 // radius of the shoulder, mm; 0 is a plain cylinder
}

// Corner is what one side of the front axle is made of. Both corners are described in corner axes,
// so mirrored corners are equal.
type Corner struct {
	Kingpin Kingpin
	Wheel   Wheel
	Arm     Arm
	Rod     Rod
	Stop    s1.Angle // declared stop, spindle angle either way; 0 where none is declared
}

// Kingpin is the axis that a spindle turns about.
type Kingpin struct {
	Ahead       float64  // kingpin centre ahead of the vehicle's origin, mm: 0 as a file has it, not after the frame is pitched
	Height      float64  // of the kingpin centre above ground, mm
	Inclination s1.Angle // top inboard, as projected in front view
	Caster      s1.Angle // top rearward, as projected in side view
}

// Direction is the kingpin axis in corner axes, not normalised: its third co-ordinate is 1.
func (k Kingpin) Direction() r3.Vector {
	return r3.Vector{X: -math.Tan(float64(k.Caster)), Y: -math.Tan(float64(k.Inclination)), Z: 1}
}

// Lever is the distance of a point in corner axes from the kingpin axis, mm.
func (k Kingpin) Lever(p r3.Vector) float64 { return k.Direction().Normalize().Cross(p).Norm() }

// Wheel is what the stub axle carries.
type Wheel struct {
	Offset float64  // kingpin centre to tyre mid-plane along the stub axle, mm
	Lead   float64  // stub axle ahead of the kingpin axis, mm
	Up     float64  // stub axle above the kingpin centre, mm: 0 as a file has it, not after a spindle is hung anew
	Toe    s1.Angle // toe-in of this wheel straight ahead
	Camber s1.Angle // top outboard, straight ahead
	Tyre   Tyre
}

// Arm is a spindle's steering arm.
type Arm struct {
	Pickup r3.Vector // tie-rod ball, corner axes, mm
	Bolt   r3.Vector // direction of the ball's bolt, corner axes, unit; zero: along the kingpin
	Metal  Metal
}

// Metal is a flat piece with holes: the outline in its own two axes (forward, outboard for a
// steering arm; down, left for a drop arm) and its faces along the axis that it turns about.
type Metal struct {
	Outline      []r2.Point // counter-clockwise, mm; empty where not given
	Lower, Upper float64    // faces, mm along the axis; equal where not given
	Holes        []Hole
}

// Hole is a drilled hole in a Metal.
type Hole struct {
	Name     string
	At       r2.Point // in the metal's two axes, mm
	Up       float64  // height of the rod's ball: third corner or column co-ordinate, mm
	Diameter float64  // mm
}

// Ball is where the ball of a rod is that sits in the hole, corner or column axes, mm.
func (h *Hole) Ball() r3.Vector { return r3.Vector{X: h.At.X, Y: h.At.Y, Z: h.Up} }

// Rod is one tie rod, a round bar between two balls.
type Rod struct {
	Length   float64 // centre to centre, mm; 0: as long as the file's toe needs
	Diameter float64 // mm
	End      RodEnd
	Stock    Stock
}

// RodEnd is the joint at either end of a rod.
type RodEnd struct {
	Tilt   s1.Angle // either way before it binds; 0: no limit known
	Body   float64  // eye centre to end of thread, mm; 0: not given
	Eye    float64  // outer diameter of the eye, mm; 0: no wider than the rod
	Thread float64  // nominal thread diameter, mm; 0: not given
	Pitch  float64  // thread pitch, mm; 0: not given
	Shank  float64  // how far its thread reaches from its end, mm; 0: not given
	Yield  float64  // N/mm²; 0: not given
}

// Column is the steering column's axis.
type Column struct {
	Foot   r3.Vector // on the axis, vehicle axes, mm
	Rake   s1.Angle  // rise of the column above the horizontal
	Travel s1.Angle  // each way from centre; 0: not limited
}

// DropArm is the column's arm, in column axes.
type DropArm struct {
	Pins  [2]r3.Vector // for the left and the right rod, mm
	Bolts [2]r3.Vector // directions of the bolts, column axes, unit; zero: along the column
	Metal Metal
	Bars  []Bar
}

// Bar is metal that a change of a drop arm brings along, assumed: from a rod's old hole to its new one, as thick as the arm.
type Bar struct {
	Outline []r2.Point // convex, [down, left], counter-clockwise, mm
	Side    Side       // of the rod
	Width   float64    // mm
}

// Limits are the figures a result is held against.
type Limits struct {
	Clearance    float64  // least gap wanted between moving parts, mm
	Transmission s1.Angle // least leverage wanted: see sweep.Leverage
}

// Tight reports whether a gap, mm, is less than the one wanted by more than gaps are known to.
func (l *Limits) Tight(gap float64) bool { return gap < l.Clearance-GapKnown }

// Weak reports whether leverage is less than what is wanted by more than LeverageTold.
func (l *Limits) Weak(leverage s1.Angle) bool { return leverage < l.Transmission-leverageTold }

// leverageTold is the least difference of leverages that counts: a hundredth of a degree, as in the search for a hole.
const leverageTold = 0.01 * s1.Degree

// GapKnown is how far a gap may be from the one that metal was cut to leave, mm.
const GapKnown = 0.02

// Space is the greatest width and length that the vehicle must pass; 0 where not given.
type Space struct {
	Width, Length float64 // mm
}

// Aims is what the builder wants of the steering; 0 where that is not given.
type Aims struct {
	Lock      s1.Angle // of the inner wheel, either way
	Ackermann float64  // percent, 100 is ideal
}

// Defaults of format 1, for what a file leaves out.
const (
	DefaultRodDiameter  = 12.0 // mm, listed in Setup.Assumed
	DefaultRackDiameter = 25.0 // mm, likewise
	DefaultClearance    = 5.0  // mm
	GreatestClearance   = 25.4 // mm: one inch is more than any steering needs
	DefaultTransmission = 25 * s1.Degree
)

// Body is what a part rides on.
type Body int

const (
	OnFrame Body = iota
	OnSpindle
	OnColumn
	OnTieRod
	OnRack
	OnDragLink
)

func (b Body) String() string {
	return [6]string{"frame", "spindle", "column", "tie_rod", "rack", "drag_link"}[b]
}

// Part is a piece of metal that may be hit. Exactly one of Tube, Plate and Disc is set.
type Part struct {
	Name  string
	Line  int // in the file; 0 where it comes from elsewhere
	On    Body
	Sides [2]bool // the sides it stands on; both false: a single frame or column part
	// AtKingpin: a frame part whose plate is given in corner axes, square to the kingpin.
	AtKingpin bool
	Tube      *Tube
	Plate     *Plate
	Disc      *Disc
	Soft      bool    // a hose, a leg: what touches it is not stopped by metal
	Stop      bool    // it is meant to stop the spindle: where any part is, no other stops count
	Grind     bool    // metal may come off here
	Bore      float64 // diameter of the bore about the kingpin that the plate carries, mm; 0: none given
	Keep      []r2.Point
	MinWall   float64 // least wall to bore or keep, mm; 0: default
	// Root is the edge that the plate hangs on, two points in the axes of its outline; empty: not given.
	Root     []r2.Point
	MinWidth float64 // least width of metal that counts as a stop, mm; 0: default
	Density  float64 // kg/m³; 0: steel
}

// Tube is a round bar with rounded ends along a path of points, in the axes of what it rides on:
// vehicle, corner or column axes, or for a tie rod [towards the steering arm, forward, up] from
// the drop-arm ball with the wheels straight ahead (RodAxes).
type Tube struct {
	Diameter float64
	Path     []r3.Vector
}

// Plate is a simple outline between two faces. On the frame it lies level (outline [x, y], faces z);
// on a spindle or at the kingpin it lies square to the kingpin, outline [forward, outboard] in
// that plane, faces along the kingpin from its centre; on the column outline [down, left], faces along.
type Plate struct {
	Outline      []r2.Point // counter-clockwise, mm
	Lower, Upper float64
	Place        *rigid.Motion // on the frame: the motion from lying level to where it lies; nil: it lies level
}

// Disc is a flat cylinder: a brake disc or a sprocket.
type Disc struct {
	Centre          r3.Vector
	Axis            r3.Vector // unit; zero: the stub axle on a spindle, left on the frame
	Diameter, Width float64
}

// Centre returns the kingpin centre of a side in vehicle axes, mm.
func (s *Setup) Centre(side Side) r3.Vector {
	k := s.Corners[side].Kingpin
	return r3.Vector{X: k.Ahead, Y: side.Sign() * s.Spacing / 2, Z: k.Height}
}

// Kingpin returns the kingpin axis of a side in vehicle axes; it points up.
func (s *Setup) Kingpin(side Side) rigid.Axis {
	return rigid.Axis{Point: s.Centre(side), Dir: FromCorner(side, s.Corners[side].Kingpin.Direction()).Normalize()}
}

// FromCorner turns a free vector in corner axes into vehicle axes.
func FromCorner(side Side, v r3.Vector) r3.Vector {
	v.Y *= side.Sign()
	return v
}

// CornerPoint turns a point in corner axes into vehicle axes.
func (s *Setup) CornerPoint(side Side, p r3.Vector) r3.Vector {
	return s.Centre(side).Add(FromCorner(side, p))
}

// SpinAxis returns the wheel's spin axis straight ahead, pointing outboard, in vehicle axes, unit.
func (s *Setup) SpinAxis(side Side) r3.Vector {
	return FromCorner(side, s.Corners[side].Wheel.Spin())
}

// Stub is the point of the stub axle, corner axes, that Offset is measured from, mm.
func (w Wheel) Stub() r3.Vector { return r3.Vector{X: w.Lead, Z: w.Up} }

// Spin is the wheel's spin axis straight ahead, pointing outboard, in corner axes, unit.
func (w Wheel) Spin() r3.Vector {
	sinToe, cosToe := math.Sincos(float64(w.Toe))
	sinCamber, cosCamber := math.Sincos(float64(w.Camber))
	return r3.Vector{X: sinToe * cosCamber, Y: cosToe * cosCamber, Z: -sinCamber}
}

// Axis returns the column's axis in vehicle axes; it points up the column to the driver.
func (c Column) Axis() rigid.Axis {
	return rigid.Axis{Point: c.Foot, Dir: c.FromColumn(r3.Vector{Z: 1})}
}

// FromColumn turns a free vector in column axes [down, left, along], column centred, into vehicle axes.
func (c Column) FromColumn(v r3.Vector) r3.Vector {
	sin, cos := math.Sincos(float64(c.Rake))
	return r3.Vector{X: -sin*v.X - cos*v.Z, Y: v.Y, Z: -cos*v.X + sin*v.Z}
}

// ColumnPoint turns a point in column axes, column centred, into vehicle axes.
func (c Column) ColumnPoint(p r3.Vector) r3.Vector { return c.Foot.Add(c.FromColumn(p)) }
