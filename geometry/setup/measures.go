package setup

import (
	"fmt"
	"strings"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"
)

// Measure is one thing that a setup file gives: a figure, a point, a list of points, or a word.
type Measure struct {
	Key      string // as --set takes it: right.arm.pickup, part."stop lug".plate.up
	Quantity Quantity
	Class    Class
	Point    int        // figures of one point: 1 for a plain figure, 2 or 3 for co-ordinates
	List     bool       // a list of points, in the order of the Setup; else there is just one
	Faces    bool       // the lower and the upper face of a piece
	Signed   bool       // nought is a figure like others; a size of nought is one that is not given
	Figures  []*float64 // in the setup itself, mm or radians: what is written there changes the setup
	Word     string     // of Words only
}

// Quantity is what a measure is counted in.
type Quantity int

const (
	OfLength    Quantity = iota // mm
	OfAngle                     // radians
	OfDirection                 // co-ordinates of a unit vector
	OfDensity                   // kg/m³
	OfNumber                    // in a unit that the file's unit of length does not change: kg, N, bar, N/mm², or none
	Words                       // a name, or true or false
)

// Class is how a measure is taken, and with that how exact it is.
type Class int

const (
	Wanted    Class = iota // not measured: a limit, a choice, a printed size
	OfPlace                // of something on the frame, from the vehicle's axes
	OfHeight               // above ground
	OfHole                 // a pickup, pin or hole from its own axis
	OfRod                  // centre to centre
	OfOutline              // of metal on a spindle or column, from its axis
	OfTilt                 // an angle
)

// Measures lists what the file gives of the setup, in the order of the file. Keys of parts and holes hold their names.
// Every key stands once, and the right corner has all of its own keys, whether it differs or not.
func (s *Setup) Measures() []Measure {
	l := &measureList{}
	l.vehicle(s)
	for _, side := range Sides {
		l.under = [2]string{"", "right."}[side]
		l.corner(&s.Corners[side])
	}
	l.under = ""
	l.column(s)
	l.load(&s.Load)
	for i := range s.Parts {
		l.part(&s.Parts[i])
	}
	l.word("ignore", fmt.Sprintf("%q", s.Ignore))
	return l.all
}

// Figure returns one figure of the setup by the key that --set takes for it, such as arm.pickup[1]; nil where the key names
// none. A point of an outline is not found by its number: the file may go round the other way.
func (s *Setup) Figure(key string) (figure *float64, m Measure) {
	for _, m := range s.Measures() {
		switch {
		case m.List || m.Quantity == Words:
		case m.Key == key && m.Point == 1:
			return m.Figures[0], m
		case strings.HasPrefix(key, m.Key+"["):
			for i, f := range m.Figures {
				if key == fmt.Sprintf("%s[%d]", m.Key, i) {
					return f, m
				}
			}
		}
	}
	return nil, Measure{}
}

type measureList struct {
	under string // what stands before every key
	all   []Measure
}

func (l *measureList) add(m Measure) {
	m.Key = l.under + m.Key
	l.all = append(l.all, m)
}

// one adds a measure of the figures of one point.
func (l *measureList) one(m Measure, figures ...*float64) {
	m.Point, m.Figures = len(figures), figures
	l.add(m)
}

func (l *measureList) length(key string, c Class, mm *float64) {
	l.one(Measure{Key: key, Class: c}, mm)
}

// offset is one or more lengths, as a list, that may as well be nought or negative.
func (l *measureList) offset(key string, c Class, mm ...*float64) {
	l.one(Measure{Key: key, Class: c, Signed: true}, mm...)
}

// tilt is how far something leans or points from straight, either way.
func (l *measureList) tilt(key string, a *s1.Angle) {
	l.one(Measure{Key: key, Quantity: OfAngle, Class: OfTilt, Signed: true}, (*float64)(a))
}

func (l *measureList) angle(key string, c Class, a *s1.Angle) {
	l.one(Measure{Key: key, Quantity: OfAngle, Class: c}, (*float64)(a))
}

func (l *measureList) number(key string, x *float64) { l.one(Measure{Key: key, Quantity: OfNumber}, x) }

func (l *measureList) point(key string, c Class, p *r3.Vector) {
	l.offset(key, c, &p.X, &p.Y, &p.Z)
}

func (l *measureList) direction(key string, p *r3.Vector) {
	l.one(Measure{Key: key, Quantity: OfDirection, Class: OfTilt}, &p.X, &p.Y, &p.Z)
}

func (l *measureList) faces(key string, c Class, lower, upper *float64) {
	l.one(Measure{Key: key, Class: c, Faces: true}, lower, upper)
}

func (l *measureList) outline(key string, c Class, points []r2.Point) {
	m := Measure{Key: key, Class: c, Point: 2, List: true, Signed: true}
	for i := range points {
		m.Figures = append(m.Figures, &points[i].X, &points[i].Y)
	}
	l.add(m)
}

func (l *measureList) word(key, word string) {
	l.add(Measure{Key: key, Quantity: Words, Word: word})
}

func (l *measureList) vehicle(s *Setup) {
	l.length("vehicle.wheelbase", OfPlace, &s.Vehicle.Wheelbase)
	l.length("vehicle.rear_track", OfPlace, &s.Vehicle.RearTrack)
	l.length("vehicle.rear_tyre.diameter", OfPlace, &s.Vehicle.RearTyre.Diameter)
	l.length("vehicle.rear_tyre.width", OfPlace, &s.Vehicle.RearTyre.Width)
	l.length("kingpin.spacing", OfPlace, &s.Spacing)
	l.length("limits.clearance", Wanted, &s.Limits.Clearance)
	l.angle("limits.transmission", Wanted, &s.Limits.Transmission)
	l.length("space.width", Wanted, &s.Space.Width)
	l.length("space.length", Wanted, &s.Space.Length)
	l.angle("aims.lock", Wanted, &s.Aims.Lock)
	l.number("aims.ackermann", &s.Aims.Ackermann)
	if s.DragLink != nil { // one cross rod
		l.length("tie_rod.length", OfRod, &s.Corners[s.DragLink.Side.Other()].Rod.Length)
		return
	}
	l.length("tie_rod.left", OfRod, &s.Corners[Left].Rod.Length)
	l.length("tie_rod.right", OfRod, &s.Corners[Right].Rod.Length)
}

func (l *measureList) corner(c *Corner) {
	l.length("kingpin.height", OfHeight, &c.Kingpin.Height)
	l.tilt("kingpin.inclination", &c.Kingpin.Inclination)
	l.tilt("kingpin.caster", &c.Kingpin.Caster)
	l.offset("wheel.offset", OfPlace, &c.Wheel.Offset)
	l.offset("wheel.lead", OfHole, &c.Wheel.Lead)
	l.tilt("wheel.toe", &c.Wheel.Toe)
	l.tilt("wheel.camber", &c.Wheel.Camber)
	l.length("wheel.tyre_diameter", OfPlace, &c.Wheel.Tyre.Diameter)
	l.length("wheel.tyre_width", OfPlace, &c.Wheel.Tyre.Width)
	l.length("wheel.tyre_shoulder", OfPlace, &c.Wheel.Tyre.Shoulder)
	l.point("arm.pickup", OfHole, &c.Arm.Pickup)
	l.direction("arm.bolt", &c.Arm.Bolt)
	l.metal("arm", &c.Arm.Metal)
	l.rod("tie_rod", &c.Rod)
	l.angle("limits.spindle", OfTilt, &c.Stop)
}

func (l *measureList) stock(of string, s *Stock) {
	l.length(of+".tube.outer", Wanted, &s.Outer)
	l.length(of+".tube.wall", Wanted, &s.Wall)
	l.word(of+".material", s.Material.String())
	l.number(of+".yield", &s.Yield)
	l.number(of+".engagement", &s.Engagement)
	l.word(of+".left_hand", fmt.Sprint(s.LeftHand))
	l.length(of+".donor.length", Wanted, &s.Donor.Length)
	l.length(of+".donor.thread_depth", Wanted, &s.Donor.ThreadDepth)
	l.rodBolt(of+".bolt", &s.Bolt)
	l.rodBolt(of+".inner_bolt", &s.InnerBolt)
}

func (l *measureList) rodBolt(of string, b *RodBolt) {
	l.length(of+".offset", Wanted, &b.Offset)
	l.word(of+".double", fmt.Sprint(b.Double))
	l.word(of+".plain", fmt.Sprint(b.Plain))
	l.number(of+".yield", &b.Yield)
}

func (l *measureList) load(of *Load) {
	l.number("load.front", &of.Front)
	l.number("load.friction", &of.Friction)
	l.number("load.pressure", &of.Pressure)
	l.offset("load.patch", Wanted, &of.PatchLength, &of.PatchWidth)
	l.length("load.steering_wheel", Wanted, &of.SteeringWheel)
	l.number("load.hand", &of.Hand)
	l.number("load.kerb", &of.Kerb)
	l.number("load.front_share", &of.FrontShare)
	l.length("load.height", OfHeight, &of.Height)
}

func (l *measureList) metal(of string, m *Metal) {
	l.outline(of+".outline", OfOutline, m.Outline)
	l.faces(of+".up", OfOutline, &m.Lower, &m.Upper)
	for i := range m.Holes {
		h := &m.Holes[i]
		hole := of + ".holes." + QuoteKey(h.Name)
		l.offset(hole+".at", OfHole, &h.At.X, &h.At.Y)
		l.offset(hole+".up", OfHole, &h.Up)
		l.length(hole+".diameter", OfHole, &h.Diameter)
	}
}

func (l *measureList) column(s *Setup) {
	if s.Rack != nil {
		l.rack(s.Rack)
		return
	}
	l.point("column.foot", OfPlace, &s.Column.Foot)
	l.tilt("column.rake", &s.Column.Rake)
	l.angle("column.travel", OfTilt, &s.Column.Travel)
	if s.DragLink != nil {
		l.point("drop_arm.pin", OfHole, &s.DropArm.Pins[s.DragLink.Side])
		l.direction("drop_arm.bolt", &s.DropArm.Bolts[s.DragLink.Side])
		l.dragLink(s.DragLink)
	} else {
		for _, side := range Sides {
			l.point("drop_arm."+side.String(), OfHole, &s.DropArm.Pins[side])
			l.direction("drop_arm."+side.String()+"_bolt", &s.DropArm.Bolts[side])
		}
	}
	l.metal("drop_arm", &s.DropArm.Metal)
}

func (l *measureList) dragLink(d *DragLink) {
	l.word("drag_link.side", d.Side.String())
	l.point("drag_link.pickup", OfHole, &d.Pickup)
	l.direction("drag_link.pickup_bolt", &d.Bolt)
	l.length("drag_link.length", OfRod, &d.Rod.Length)
	l.rod("drag_link", &d.Rod)
}

func (l *measureList) rack(r *Rack) {
	for _, side := range Sides {
		l.point("rack."+side.String(), OfPlace, &r.Balls[side])
		l.direction("rack."+side.String()+"_bolt", &r.Bolts[side])
	}
	l.length("rack.per_turn", OfPlace, &r.PerTurn)
	l.length("rack.travel", OfPlace, &r.Travel)
	l.length("rack.diameter", OfHole, &r.Diameter)
}

// rod lists what is given of a rod but for its length.
func (l *measureList) rod(of string, r *Rod) {
	l.length(of+".diameter", OfHole, &r.Diameter)
	l.angle(of+".rod_end.tilt", OfTilt, &r.End.Tilt)
	l.length(of+".rod_end.body", Wanted, &r.End.Body)
	l.length(of+".rod_end.eye", Wanted, &r.End.Eye)
	l.length(of+".rod_end.thread", Wanted, &r.End.Thread)
	l.length(of+".rod_end.pitch", Wanted, &r.End.Pitch)
	l.length(of+".rod_end.shank", Wanted, &r.End.Shank)
	l.number(of+".rod_end.yield", &r.End.Yield)
	l.stock(of, &r.Stock)
}

// part lists what is given of one part. What has another shape has other keys.
func (l *measureList) part(p *Part) {
	defer func(under string) { l.under = under }(l.under)
	l.under = "part." + QuoteKey(p.Name) + "."
	class := OfPlace
	if p.On != OnFrame || p.AtKingpin {
		class = OfOutline
	}
	l.word("on", p.On.String())
	l.word("at", map[bool]string{true: "kingpin"}[p.AtKingpin])
	mirror, side := p.stands()
	l.word("mirror", mirror)
	l.word("side", side)
	switch {
	case p.Tube != nil:
		l.length("tube.diameter", class, &p.Tube.Diameter)
		m := Measure{Key: "tube.path", Class: class, Point: 3, List: true, Signed: true}
		for i := range p.Tube.Path {
			at := &p.Tube.Path[i]
			m.Figures = append(m.Figures, &at.X, &at.Y, &at.Z)
		}
		l.add(m)
	case p.Plate != nil:
		l.outline("plate.outline", class, p.Plate.Outline)
		l.faces("plate.up", class, &p.Plate.Lower, &p.Plate.Upper)
	case p.Disc != nil:
		l.point("disc.centre", class, &p.Disc.Centre)
		l.direction("disc.axis", &p.Disc.Axis)
		l.length("disc.diameter", class, &p.Disc.Diameter)
		l.length("disc.width", class, &p.Disc.Width)
	}
	l.word("grind", fmt.Sprint(p.Grind))
	l.word("soft", fmt.Sprint(p.Soft))
	l.word("stop", fmt.Sprint(p.Stop))
	l.length("bore", OfHole, &p.Bore)
	l.outline("keep", class, p.Keep)
	l.outline("root", class, p.Root)
	l.length("min_wall", Wanted, &p.MinWall)
	l.length("min_width", Wanted, &p.MinWidth)
	l.one(Measure{Key: "density", Quantity: OfDensity}, &p.Density)
}

// stands says on which sides a part stands, as mirror or as side says it; the other is empty.
func (p *Part) stands() (mirror, side string) {
	single := p.On != OnSpindle && p.On != OnTieRod && !p.AtKingpin
	switch p.Sides {
	case [2]bool{true, true}:
		if single {
			return "true", ""
		}
		return "", "both"
	case [2]bool{Left: true}:
		return "", Left.String()
	case [2]bool{Right: true}:
		return "", Right.String()
	}
	return "false", ""
}

// QuoteKey writes a name as it stands in a key, in quotes where it needs them.
func QuoteKey(name string) string {
	plain := func(r rune) bool {
		return r == '-' || r == '_' || r >= '0' && r <= '9' || r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z'
	}
	switch {
	case name != "" && strings.IndexFunc(name, func(r rune) bool { return !plain(r) }) < 0:
		return name
	case strings.Contains(name, `"`):
		return "'" + name + "'"
	}
	return `"` + name + `"`
}
