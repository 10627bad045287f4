package topview

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/geometry/setup"
	"locksweep/render/sheet"
	"locksweep/render/wording"
)

// fromSide is what stands upright, seen from its left or from behind: the first model axis runs to the
// left of the paper, the second one up.
var fromSide = sheet.Axes{X: r2.Point{X: -1}, Y: r2.Point{Y: -1}}

// margins is the paper kept about a model for dimensions, mm.
type margins struct{ left, above, right, below float64 }

// likeness returns a setup of the same kind whose proportions are not the vehicle's but such that every dimension can be seen: arms
// and column lie on the same side of the axle, the drop arm hangs or stands, with one pin or two.
func likeness(s *setup.Setup) *setup.Setup {
	way := func(v float64) float64 { return math.Copysign(1, v-1e-9) }
	c := setup.Corner{
		Kingpin: setup.Kingpin{Height: 165, Inclination: 12 * s1.Degree, Caster: 12 * s1.Degree},
		Wheel:   setup.Wheel{Offset: 160, Lead: 36, Toe: 7 * s1.Degree, Camber: 7 * s1.Degree, Tyre: setup.Tyre{Diameter: 330, Width: 110}},
	}
	ahead := way(s.Corners[setup.Left].Arm.Pickup.X)
	c.Arm.Pickup = r3.Vector{X: 150 * ahead, Y: -62, Z: -45}
	like := &setup.Setup{Unit: s.Unit, Spacing: 520, Corners: [2]setup.Corner{c, c}}
	like.Vehicle = setup.Vehicle{Wheelbase: 480, RearTrack: 640, RearTyre: setup.Tyre{Diameter: 210, Width: 150}}
	if s.Rack != nil {
		ball := r3.Vector{X: 90 * ahead, Y: 105, Z: 120}
		like.Rack = &setup.Rack{Balls: [2]r3.Vector{ball, {X: ball.X, Y: -ball.Y, Z: ball.Z}}}
		return like
	}
	like.Column = setup.Column{Foot: r3.Vector{X: 70 * way(s.Column.Foot.X), Z: 205}, Rake: 35 * s1.Degree}
	down := 85 * way(s.DropArm.Pins[setup.Left].X)
	if s.DragLink != nil {
		like.DropArm.Pins = [2]r3.Vector{{X: down, Y: 30}, {X: down, Y: 30}}
		like.DragLink = &setup.DragLink{Side: s.DragLink.Side, Pickup: r3.Vector{X: 90 * way(s.DragLink.Pickup.X), Y: -70, Z: -20}}
		return like
	}
	apart := 0.0
	if s.DropArm.Pins[0] != s.DropArm.Pins[1] {
		apart = 36
	}
	like.DropArm.Pins = [2]r3.Vector{{X: down, Y: apart}, {X: down, Y: -apart}}
	return like
}

// keyed is the drawing of what to measure: the likeness of a setup, with the names of the file's keys.
type keyed struct {
	*drawing
	like *setup.Setup
}

// measuring draws a likeness of the setup large, in four views that are not to scale. Each dimension carries the name of the key that
// takes it, so that a builder finds on the vehicle what the file asks for. Sheets with every key follow, where there may be more than one.
func (d *drawing) measuring() []*sheet.Sheet {
	d.open(d.opt.Paper, d.title())
	k := keyed{d, likeness(d.r.Setup)}
	rooms := measuringRooms(d.sheet.Area().ExpandedByMargin(-edge))
	for _, room := range rooms { // and the words below first, so that no dimension runs into them
		d.sheet.Reserve(sheet.Rect(room.X.Lo, room.Y.Lo, room.Size().X, nameRow))
	}
	for _, words := range [5]string{
		"Schematic, not to scale: measure your own vehicle. Lengths in " + d.unit() + ", angles in degrees. Every key stands on the sheets that follow, with a blank to write in.",
		"[x, y, z], vehicle axes: forward, left, up, from the ground midway between the kingpin centres.",
		"Corner axes [forward, outboard, up]: from the kingpin centre, wheels straight ahead; behind, inboard and below are negative.",
		"The kingpin centre lies on the kingpin, level with the stub axle.",
		wording.InputMeasures(d.r.Model),
	} {
		d.sheet.Say(&rooms[4], sheet.Style{Height: sheet.Fine + 0.2}, 1, words)
	}
	k.above(rooms[0])
	k.fromLeft(rooms[1])
	k.behind(rooms[2])
	if k.like.Rack != nil {
		k.rack(rooms[3])
	} else {
		k.dropArm(rooms[3])
	}
	sheets := []*sheet.Sheet{d.sheet}
	if !d.opt.Single {
		sheets = append(sheets, d.keySheets()...)
	}
	return sheets
}

// measuringRooms divides the sheet: from above over its width, or over the left half of a sheet that lies on its side; then from the
// left and from behind, what the steering wheel moves and the words, in two rows.
func measuringRooms(room r2.Rect) (rooms [5]r2.Rect) {
	size := room.Size()
	rest := sheet.Rect(room.X.Lo, room.Y.Lo+0.5*size.Y, size.X, 0.5*size.Y)
	rooms[0] = sheet.Rect(room.X.Lo, room.Y.Lo, size.X, 0.5*size.Y-gap)
	if size.X > size.Y {
		rest = sheet.Rect(room.X.Lo+0.52*size.X, room.Y.Lo, 0.48*size.X, size.Y)
		rooms[0] = sheet.Rect(room.X.Lo, room.Y.Lo, 0.52*size.X-gap, size.Y)
	}
	copy(rooms[1:], sheet.Split(rest, 2, 2, gap))
	return rooms
}

// keyView opens a view of a model rectangle with its name, as large as there is room for it.
func (k *keyed) keyView(room, model r2.Rect, axes sheet.Axes, m margins, name string) *view {
	inner := sheet.Rect(room.X.Lo+m.left, room.Y.Lo+m.above+nameRow, room.Size().X-m.left-m.right, room.Size().Y-m.above-m.below-nameRow)
	size := axes.Size(model)
	scale := sheet.Scale(min(inner.Size().X/size.X, inner.Size().Y/size.Y))
	p := k.sheet.NewPanel(room, sheet.Centred(inner, model, axes, scale))
	k.sheet.Text(room.Vertices()[0].Add(r2.Point{Y: 2}), sheet.E, sheet.Style{}, name)
	return &view{drawing: k.drawing, Panel: p, room: room}
}

// nameRow is the paper that the name of a view takes, mm.
const nameRow = 5.0

// paper returns the length of the model that has a length on paper, mm.
func (v *view) paper(mm float64) float64 { return mm / float64(v.View.Scale) }

// key names a point.
func (v *view) key(at r2.Point, prefer sheet.Dir, lines ...string) {
	v.Label(sheet.Label{At: at, Clear: 1, End: sheet.ArrowEnd, Prefer: []sheet.Dir{prefer}, Within: v.room, Lines: lines})
}

// wheel draws a tyre seen square to its axle about a centre: along it and across it are half its length and half its width.
func (v *view) wheel(centre, along, across r2.Point) {
	v.Polygon(sheet.Visible, sheet.Tinted(frameTint), centre.Add(along).Add(across), centre.Add(along).Sub(across), centre.Sub(along).Sub(across), centre.Sub(along).Add(across))
}

// ball marks a ball or a centre.
func (v *view) ball(at r2.Point) {
	v.Circle(sheet.Thin, sheet.Paper, at, v.paper(1))
	v.Dot(sheet.Black, at, 0.4)
}

// centre is the middle of a front wheel, in vehicle axes.
func (k *keyed) centre(sd setup.Side) r3.Vector {
	w := &k.like.Corners[sd].Wheel
	return k.like.CornerPoint(sd, r3.Vector{X: w.Lead, Y: w.Offset})
}

// pickup is the tie rod's ball on an arm, in vehicle axes.
func (k *keyed) pickup(sd setup.Side) r3.Vector {
	return k.like.CornerPoint(sd, k.like.Corners[sd].Arm.Pickup)
}

// above is the whole vehicle from above.
func (k *keyed) above(room r2.Rect) {
	s := k.like
	back := -s.Vehicle.Wheelbase
	rear, half := s.Vehicle.RearTyre, s.Vehicle.RearTrack/2
	tyre := s.Corners[setup.Left].Wheel.Tyre
	reach := k.centre(setup.Left).Y + tyre.Width/2
	model := r2.RectFromPoints(r2.Point{X: k.centre(setup.Left).X + tyre.Diameter/2, Y: reach}, r2.Point{X: back - rear.Diameter/2, Y: -reach})
	v := k.keyView(room, model, sheet.FromAbove, margins{22, 19, 26, 17}, "From above")
	v.Line(sheet.Centre, r2.Point{X: model.X.Hi + v.paper(4)}, r2.Point{X: model.X.Lo - v.paper(4)})
	v.Line(sheet.Centre, r2.Point{X: back, Y: half + rear.Width}, r2.Point{X: back, Y: -half - rear.Width})
	for _, sd := range setup.Sides {
		v.wheel(r2.Point{X: back, Y: sd.Sign() * half}, r2.Point{X: rear.Diameter / 2}, r2.Point{Y: rear.Width / 2})
	}
	k.corners(v)
	k.drive(v)
	left, right := flat(s.Centre(setup.Left)), flat(s.Centre(setup.Right))
	wheel := flat(k.centre(setup.Left))
	top := func(p r2.Point) float64 { return v.View.Length(model.X.Hi - p.X) }
	v.Dim(sheet.Horizontal, left, right, top(left)+sheet.DimGap-2, "kingpin.spacing")
	v.Dim(sheet.Horizontal, wheel, left, top(wheel)+sheet.DimGap-2, "wheel.offset")
	v.Dim(sheet.Horizontal, wheel.Add(r2.Point{Y: tyre.Width / 2}), wheel.Sub(r2.Point{Y: tyre.Width / 2}), top(wheel)+2*sheet.DimGap-2, "wheel.tyre_width")
	v.Dim(sheet.Vertical, wheel.Add(r2.Point{X: tyre.Diameter / 2, Y: tyre.Width / 2}), wheel.Add(r2.Point{X: -tyre.Diameter / 2, Y: tyre.Width / 2}), -sheet.DimGap, "wheel.tyre_diameter")
	v.Dim(sheet.Horizontal, r2.Point{X: back, Y: half}, r2.Point{X: back, Y: -half}, -v.View.Length(rear.Diameter/2)-sheet.DimGap, "vehicle.rear_track")
	v.Dim(sheet.Horizontal, r2.Point{X: back, Y: half + rear.Width/2}, r2.Point{X: back, Y: half - rear.Width/2}, v.View.Length(rear.Diameter/2)+sheet.DimGap-2, "width")
	v.Dim(sheet.Vertical, r2.Point{X: back + rear.Diameter/2, Y: half + rear.Width/2}, r2.Point{X: back - rear.Diameter/2, Y: half + rear.Width/2}, -sheet.DimGap, "diameter")
	v.key(r2.Point{X: back + rear.Diameter/2, Y: rear.Width/2 - half}, sheet.NW, "vehicle.rear_tyre")
	outer := v.View.Length(reach - s.Spacing/2)
	v.Dim(sheet.Vertical, right, r2.Point{X: back, Y: -half}, outer+sheet.DimGap, "vehicle.wheelbase")
	v.origin()
}

// corners draws the front wheels with their kingpins and arms from above, and what is measured at the right one.
func (k *keyed) corners(v *view) {
	s := k.like
	for _, sd := range setup.Sides {
		c := &s.Corners[sd]
		kingpin, wheel := flat(s.Centre(sd)), flat(k.centre(sd))
		sin, cos := math.Sincos(-sd.Sign() * float64(c.Wheel.Toe))
		heading := r2.Point{X: cos, Y: sin}
		v.Line(sheet.Visible, flat(s.CornerPoint(sd, r3.Vector{X: c.Wheel.Lead})), wheel)
		v.wheel(wheel, heading.Mul(c.Wheel.Tyre.Diameter/2), heading.Ortho().Mul(c.Wheel.Tyre.Width/2))
		v.Line(sheet.Centre, wheel.Sub(heading.Mul(c.Wheel.Tyre.Diameter*0.55)), wheel.Add(heading.Mul(c.Wheel.Tyre.Diameter*0.55)))
		v.Line(sheet.Visible, kingpin, flat(s.CornerPoint(sd, r3.Vector{X: c.Wheel.Lead})))
		v.Line(sheet.Wide, kingpin, flat(k.pickup(sd)))
		v.Circle(sheet.Visible, sheet.Paper, kingpin, v.paper(1.7))
		v.Cross(sheet.Thin, kingpin, 2.4)
		v.ball(flat(k.pickup(sd)))
	}
	v.Line(sheet.Thin, flat(s.Centre(setup.Left)), flat(s.Centre(setup.Right)))
	right, wheel, pickup := flat(s.Centre(setup.Right)), flat(k.centre(setup.Right)), flat(k.pickup(setup.Right))
	v.Line(sheet.Thin, wheel, wheel.Add(r2.Point{X: v.paper(toeRadius + 3)}))
	v.DimAngle(wheel, toeRadius, 0, s.Corners[setup.Right].Wheel.Toe, "wheel.toe")
	v.Dim(sheet.Vertical, right, r2.Point{X: wheel.X, Y: right.Y}, v.View.Length(math.Abs(wheel.Y-right.Y))+v.View.Length(s.Corners[setup.Right].Wheel.Tyre.Width/2)+4, "wheel.lead")
	v.Dim(sheet.Vertical, right, pickup, 5, "forward")
	v.Dim(sheet.Horizontal, pickup, right, -sheet.DimGap/1.4, "outboard")
	v.key(pickup, sheet.E, "arm.pickup")
	v.key(flat(s.Centre(setup.Left)), sheet.SW, "kingpin centre")
}

// toeRadius is the radius on paper at which toe is drawn, mm.
const toeRadius = 26.0

// drive draws the rods and what moves them from above.
func (k *keyed) drive(v *view) {
	s := k.like
	left, right := k.pickup(setup.Left), k.pickup(setup.Right)
	if s.Rack != nil {
		v.Line(sheet.Wide, flat(s.Rack.Balls[0]), flat(s.Rack.Balls[1]))
		v.rod(left, s.Rack.Balls[setup.Left], "tie_rod.length")
		v.rod(s.Rack.Balls[setup.Right], right, "")
		v.key(flat(s.Rack.Balls[setup.Left]), sheet.SE, "rack.left")
		return
	}
	foot, up := s.Column.Foot, s.Column.ColumnPoint(r3.Vector{Z: 330})
	v.Line(sheet.Centre, flat(foot), flat(up))
	pins := [2]r3.Vector{s.Column.ColumnPoint(s.DropArm.Pins[0]), s.Column.ColumnPoint(s.DropArm.Pins[1])}
	for _, pin := range pins {
		v.Line(sheet.Wide, flat(foot), flat(pin))
	}
	v.ball(flat(foot))
	v.key(flat(foot), sheet.SE, "column.foot")
	if link := s.DragLink; link != nil {
		v.rod(left, right, "tie_rod.length")
		ball := s.CornerPoint(link.Side, link.Pickup)
		v.Line(sheet.Wide, flat(s.Centre(link.Side)), flat(ball))
		v.rod(ball, pins[0], "drag_link.length")
		v.key(flat(ball), [2]sheet.Dir{sheet.NE, sheet.NW}[link.Side], "drag_link.pickup")
		return
	}
	v.rod(left, pins[setup.Left], "tie_rod.length")
	v.rod(pins[setup.Right], right, "")
}

// rod draws a rod from ball to ball, with a key somewhere along it.
func (v *view) rod(a, b r3.Vector, key string) {
	v.Line(sheet.Visible, flat(a), flat(b))
	v.ball(flat(a))
	v.ball(flat(b))
	if key == "" {
		return
	}
	var along []r2.Point
	for _, share := range [7]float64{0.4, 0.3, 0.5, 0.6, 0.7, 0.2, 0.8} {
		along = append(along, flat(a.Mul(1-share).Add(b.Mul(share))))
	}
	v.Label(sheet.Label{At: along[0], Or: along[1:], Clear: 0.3, End: sheet.ArrowEnd, Prefer: []sheet.Dir{sheet.S}, Within: v.room, Lines: []string{key}})
}

// origin marks the origin of vehicle axes with both directions.
func (v *view) origin() {
	long, pen := v.paper(11), sheet.Thin.In(sheet.Blue)
	style := sheet.Style{Colour: sheet.Blue, Halo: true}
	v.Arrow(pen, r2.Point{}, r2.Point{X: long})
	v.Arrow(pen, r2.Point{}, r2.Point{Y: long})
	v.Dot(sheet.Blue, r2.Point{}, 0.7)
	v.Text(r2.Point{X: long}, sheet.E, style, " x")
	v.Text(r2.Point{Y: long}, sheet.N, style, "y")
}
