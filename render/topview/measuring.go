package topview

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/geometry/linkage"
	"locksweep/geometry/setup"
	"locksweep/render/sheet"
	"locksweep/render/wording"
)

// fromSide is what stands upright, seen from its left or from behind: the first model axis runs to the
// left of the paper, the second one up. alongColumn is the drop arm as the driver sees it, looking down
// the column: model axes down and left.
var (
	fromSide    = sheet.Axes{X: r2.Point{X: -1}, Y: r2.Point{Y: -1}}
	alongColumn = sheet.Axes{X: r2.Point{Y: 1}, Y: r2.Point{X: -1}}
)

// margins is the paper kept about a model for dimensions, mm.
type margins struct{ left, above, right, below float64 }

// measuring draws the setup in five views. Each dimension carries the name of the key that takes it, so that
// a builder finds on the vehicle what the file asks for.
func (d *drawing) measuring() {
	s := d.r.Setup
	rooms := measuringRooms(d.sheet.Area().ExpandedByMargin(-edge))
	for _, room := range rooms { // and the words below first, so that no dimension runs into them
		d.sheet.Reserve(sheet.Rect(room.X.Lo, room.Y.Lo, room.Size().X, nameRow))
	}
	at := rooms[5].Vertices()[0]
	for _, words := range [5]string{
		"Vehicle axes [x, y, z]: forward, left, up, from the ground midway between the kingpin centres.",
		"Corner axes [forward, outboard, up]: from the kingpin centre, wheels straight ahead; behind, inboard and below are negative.",
		wording.InputMeasures(d.r.Model),
		"The kingpin centre lies on the kingpin, level with the stub axle. All lengths in " + d.unit() + ", angles in degrees.",
		"Not drawn: wheel.lead, wheel.toe, tie_rod, " + wording.NotDrawn(s) + "limits, outlines and parts.",
	} {
		at.Y = d.sheet.Paragraph(at, rooms[5].Size().X, sheet.Style{}, words).Y.Hi + 1.5
	}
	d.keysAbove(rooms[0])
	d.keysCorner(rooms[1])
	d.keysLeft(rooms[2])
	d.keysBehind(rooms[3])
	if _, turns := d.r.Linkage.Column(); turns {
		d.keysDropArm(rooms[4])
	} else {
		d.keysRack(rooms[4])
	}
}

// measuringRooms divides the sheet in rows of two, or in columns of two where it lies on its side: from
// above and the corner, from the left and from behind, the drop arm and the words.
func measuringRooms(room r2.Rect) (rooms [6]r2.Rect) {
	size := room.Size()
	if size.X > size.Y {
		for i, column := range [3][2]float64{{0, 0.40}, {0.40, 0.71}, {0.71, 1}} {
			part := sheet.Rect(room.X.Lo+column[0]*size.X, room.Y.Lo, (column[1]-column[0])*size.X-gap, size.Y)
			copy(rooms[2*i:], sheet.Split(part, 1, 2, gap))
		}
		return rooms
	}
	for i, r := range [3][3]float64{{0, 0.365, 0.58}, {0.365, 0.70, 0.52}, {0.70, 1, 0.52}} {
		y, height := room.Y.Lo+r[0]*size.Y, (r[1]-r[0])*size.Y-gap
		cut := r[2] * size.X
		rooms[2*i] = sheet.Rect(room.X.Lo, y, cut-gap, height)
		rooms[2*i+1] = sheet.Rect(room.X.Lo+cut, y, size.X-cut, height)
	}
	return rooms
}

// keyView opens a view of a model rectangle with its name and scale.
func (d *drawing) keyView(room, model r2.Rect, axes sheet.Axes, m margins, name string) *view {
	inner := sheet.Rect(room.X.Lo+m.left, room.Y.Lo+m.above+nameRow, room.Size().X-m.left-m.right, room.Size().Y-m.above-m.below-nameRow)
	p := d.sheet.NewPanel(room, sheet.Fit(inner, model, axes))
	d.sheet.Text(room.Vertices()[0].Add(r2.Point{Y: 2}), sheet.E, sheet.Style{}, name+"  "+p.View.Scale.String())
	return &view{drawing: d, Panel: p, room: room}
}

// nameRow is the paper that the name of a view takes, mm.
const nameRow = 5.0

// bare draws tyres and linkage alone, with their axes.
func (v *view) bare() {
	for i := len(v.outlines) - 1; i >= 0; i-- {
		o := &v.outlines[i]
		p := &v.r.Scene.Pieces[o.Piece]
		if p.Part != nil {
			continue
		}
		v.fill(o, moves(p))
		pen := sheet.Visible
		if p.Assumed {
			pen = sheet.Thin.In(sheet.Grey)
		}
		for _, ring := range o.Rings {
			v.Polyline(pen, closed(ring)...)
		}
	}
	v.axes()
	v.joints()
}

// key names a point.
func (v *view) key(at r2.Point, prefer sheet.Dir, lines ...string) {
	v.Label(sheet.Label{At: at, Clear: 1, End: sheet.ArrowEnd, Prefer: []sheet.Dir{prefer}, Within: v.room, Lines: lines})
}

// keyDim draws a dimension, where it is long enough on paper to be seen: the label of its point names the
// axes all the same.
func (v *view) keyDim(m sheet.Measure, a, b r2.Point, off float64, text string) {
	d := v.At(b).Sub(v.At(a))
	if m == sheet.Horizontal && math.Abs(d.X) > leastKey || m == sheet.Vertical && math.Abs(d.Y) > leastKey {
		v.Dim(m, a, b, off, text)
	}
}

// leastKey is the shortest dimension of a measuring drawing, mm on paper.
const leastKey = 0.8

// keysAbove is the whole vehicle from above.
func (d *drawing) keysAbove(room r2.Rect) {
	s := d.r.Setup
	model := r2.EmptyRect()
	for i := range d.outlines {
		if d.r.Scene.Pieces[d.outlines[i].Piece].Part == nil {
			model = model.Union(r2.RectFromPoints(d.outlines[i].Rings[0]...))
		}
	}
	d.whole = model
	v := d.keyView(room, model, sheet.FromAbove, margins{12, 13, 14, 11}, "From above")
	v.bare()
	left, right, back := r2.Point{Y: s.Spacing / 2}, r2.Point{Y: -s.Spacing / 2}, -s.Vehicle.Wheelbase
	v.keyDim(sheet.Horizontal, left, right, v.above(0)+sheet.DimGap, "kingpin.spacing")
	half := s.Vehicle.RearTrack / 2
	v.keyDim(sheet.Horizontal, r2.Point{X: back, Y: half}, r2.Point{X: back, Y: -half}, -v.below(back)-sheet.DimGap, "vehicle.rear_track")
	reach := max(v.At(right).X, v.At(r2.Point{Y: -half}).X)
	v.keyDim(sheet.Vertical, right, r2.Point{X: back, Y: -half}, v.At(r2.Point{Y: model.Y.Lo}).X-reach+sheet.DimGap, "vehicle.wheelbase")
	v.key(r2.Point{X: back + s.Vehicle.RearTyre.Diameter/2, Y: half}, sheet.N, "vehicle.rear_tyre")
	if column, ok := d.r.Linkage.Column(); ok {
		v.key(flat(column.Point), sheet.SE, "column.foot")
	}
	v.origin()
}

// origin marks the origin of vehicle axes with both directions.
func (v *view) origin() {
	long, pen := 8/float64(v.View.Scale), sheet.Thin.In(sheet.Blue)
	style := sheet.Style{Colour: sheet.Blue, Halo: true}
	v.Arrow(pen, r2.Point{}, r2.Point{X: long})
	v.Arrow(pen, r2.Point{}, r2.Point{Y: long})
	v.Dot(sheet.Blue, r2.Point{}, 0.7)
	v.Text(r2.Point{X: long}, sheet.E, style, " x")
	v.Text(r2.Point{Y: long}, sheet.N, style, "y")
}

// keysCorner is the left corner from above.
func (d *drawing) keysCorner(room r2.Rect) {
	s := d.r.Setup
	c, wheel := &s.Corners[setup.Left], d.pose.Wheels[setup.Left].Centre
	half := r2.Point{X: c.Wheel.Tyre.Diameter / 2, Y: c.Wheel.Tyre.Width / 2}
	kingpin, pickup := flat(s.Centre(setup.Left)), flat(s.CornerPoint(setup.Left, c.Arm.Pickup))
	tyre := r2.RectFromPoints(flat(wheel).Add(half), flat(wheel).Sub(half))
	model := tyre.AddPoint(kingpin).AddPoint(pickup)
	v := d.keyView(room, model, sheet.FromAbove, margins{12, 12, 16, 12}, "Left corner from above")
	v.close = true
	v.Panel.Rect.X.Hi = min(room.X.Hi, max(v.At(kingpin).X, v.At(pickup).X)+2*sheet.DimGap)
	v.bare()
	v.keyDim(sheet.Horizontal, flat(wheel), kingpin, v.View.Length(model.X.Hi-max(wheel.X, 0))+sheet.DimGap, "wheel.offset")
	v.keyDim(sheet.Horizontal, kingpin, pickup, math.Copysign(sheet.DimGap, c.Arm.Pickup.X), "outboard")
	corners := tyre.Vertices() // of x and y: rear right, front right, front left, rear left
	v.keyDim(sheet.Horizontal, corners[3], corners[0], -sheet.DimGap, "wheel.tyre_width")
	v.keyDim(sheet.Vertical, corners[3], corners[2], -sheet.DimGap, "wheel.tyre_diameter")
	v.keyDim(sheet.Vertical, kingpin, pickup, 1.5*sheet.DimGap, "forward")
	v.key(pickup, sheet.SE, "arm.pickup")
	if ball, on, ok := s.LinkBall(); ok && on == setup.Left {
		v.key(flat(s.CornerPoint(on, ball)), sheet.W, "drag_link.pickup")
	}
	v.key(kingpin, sheet.NE, "kingpin centre")
}

// side and behind are a point seen from the left and from behind.
func side(p r3.Vector) r2.Point   { return r2.Point{X: p.X, Y: p.Z} }
func behind(p r3.Vector) r2.Point { return r2.Point{X: p.Y, Y: p.Z} }

// ground draws the floor between two model co-ordinates.
func (v *view) ground(from, to float64) {
	past := math.Copysign(4/float64(v.View.Scale), to-from)
	v.Line(sheet.Visible, r2.Point{X: from - past}, r2.Point{X: to + past})
}

// ball marks a ball or a centre.
func (v *view) ball(at r2.Point) {
	v.Circle(sheet.Thin, sheet.Paper, at, 1/float64(v.View.Scale))
	v.Dot(sheet.Black, at, 0.4)
}

// kingpin draws a kingpin that leans along dir, with the name of its angle from upright.
func (v *view) kingpin(dir, centre r2.Point, text string) {
	dir = dir.Normalize()
	paper := func(mm float64) r2.Point { return dir.Mul(mm / float64(v.View.Scale)) }
	v.Line(sheet.Visible, centre.Sub(paper(7)), centre.Add(paper(7)))
	v.Line(sheet.Centre, centre.Sub(paper(11)), centre.Add(paper(leanRadius+4)))
	v.Line(sheet.Thin, centre, centre.Add(r2.Point{Y: (leanRadius + 4) / float64(v.View.Scale)}))
	v.DimAngle(centre, leanRadius, math.Pi/2, s1.Angle(math.Atan2(dir.Y, dir.X)), text)
	v.ball(centre)
}

// leanRadius is the radius on paper at which a kingpin's angle is drawn, mm.
const leanRadius = 24.0

// keysLeft is the front of the vehicle from its left: caster, rake, and where the column is.
func (d *drawing) keysLeft(room r2.Rect) {
	s := d.r.Setup
	wheel := d.pose.Wheels[setup.Left].Centre
	radius := s.Corners[setup.Left].Wheel.Tyre.Diameter / 2
	column, turns := d.r.Linkage.Column()
	foot, axis := column.Point, column.Dir
	up := foot.Add(axis.Mul(2.6 * radius))
	if !turns {
		foot = d.r.Linkage.Balls(linkage.Input)[setup.Left]
		up = foot
	}
	model := r2.RectFromPoints(r2.Point{X: wheel.X + radius}, r2.Point{X: wheel.X - radius, Y: wheel.Z + radius}, side(up), side(foot))
	v := d.keyView(room, model, fromSide, margins{8, 8, 8, 14}, "From the left")
	v.ground(model.X.Hi, model.X.Lo)
	v.Circle(sheet.Visible, sheet.Tinted(frameTint), side(wheel), radius)
	if !turns {
		v.kingpin(side(s.Kingpin(setup.Left).Dir), side(s.Centre(setup.Left)), "kingpin.caster")
		v.ball(side(foot))
		v.key(side(foot), sheet.NE, "rack.left")
		v.keyDim(sheet.Horizontal, r2.Point{}, side(foot), -v.View.Length(min(0, foot.Z))-sheet.DimGap, "x")
		v.keyDim(sheet.Vertical, side(foot), r2.Point{X: foot.X}, v.View.Length(max(0, wheel.X+radius-foot.X))+sheet.DimGap, "z")
		return
	}
	v.Line(sheet.Centre, side(foot.Sub(axis.Mul(0.4*radius))), side(up))
	pin := s.Column.ColumnPoint(s.DropArm.Pins[setup.Left])
	root := pin.Sub(s.Column.FromColumn(r3.Vector{X: s.DropArm.Pins[setup.Left].X}))
	v.Line(sheet.Visible, side(foot), side(up))
	v.Line(sheet.Visible, side(root), side(pin))
	v.kingpin(side(s.Kingpin(setup.Left).Dir), side(s.Centre(setup.Left)), "kingpin.caster")
	v.ball(side(pin))
	v.ball(side(foot))
	v.key(side(foot), sheet.NE, "column.foot")
	v.key(side(pin), sheet.SE, d.pinName(setup.Left))
	v.keyDim(sheet.Horizontal, r2.Point{}, side(foot), -v.View.Length(min(0, foot.Z))-sheet.DimGap, "x")
	v.keyDim(sheet.Vertical, side(foot), r2.Point{X: foot.X}, 26, "z")
	v.Line(sheet.Thin, side(foot), side(foot.Sub(r3.Vector{X: 20 / float64(v.View.Scale)})))
	v.DimAngle(side(foot), 17, math.Pi, math.Pi-s.Column.Rake, "column.rake")
}

// keysRack is the rack from above, with the rods as far as there is room.
func (d *drawing) keysRack(room r2.Rect) {
	s := d.r.Setup
	balls, pickups := [2]r2.Point{}, [2]r2.Point{}
	model := r2.RectFromPoints(r2.Point{})
	for sd, ball := range d.r.Linkage.Balls(linkage.Input) {
		sd := setup.Side(sd)
		balls[sd], pickups[sd] = flat(ball), flat(s.CornerPoint(sd, s.Corners[sd].Arm.Pickup))
		model = model.AddPoint(balls[sd])
	}
	v := d.keyView(room, model, sheet.FromAbove, margins{10, 20, 14, 16}, "Rack from above")
	v.Line(sheet.Wide, balls[0], balls[1])
	for _, sd := range setup.Sides {
		v.Line(sheet.Thin, balls[sd], pickups[sd])
		v.ball(balls[sd])
		v.key(balls[sd], [2]sheet.Dir{sheet.NE, sheet.NW}[sd], "rack."+sd.String())
	}
	v.Line(sheet.Centre, r2.Point{X: model.X.Lo}, r2.Point{X: model.X.Hi})
	left := balls[setup.Left]
	below := -v.View.Length(left.X-model.X.Lo) - sheet.DimGap
	v.keyDim(sheet.Horizontal, left, r2.Point{X: left.X}, below, "y")
	v.keyDim(sheet.Vertical, balls[setup.Right], r2.Point{Y: balls[setup.Right].Y}, v.View.Length(balls[setup.Right].Y-model.Y.Lo)+sheet.DimGap/2, "x")
	v.origin()
}

// pinName is the key of a pin of the drop arm.
func (d *drawing) pinName(sd setup.Side) string {
	if pins := d.r.Setup.DropArm.Pins; pins[0] == pins[1] {
		return "drop_arm.pin"
	}
	return "drop_arm." + sd.String()
}

// keysBehind is the left corner from behind: inclination, camber and heights.
func (d *drawing) keysBehind(room r2.Rect) {
	s := d.r.Setup
	c, w := &s.Corners[setup.Left], &d.pose.Wheels[setup.Left]
	kingpin, pickup := behind(s.Centre(setup.Left)), behind(s.CornerPoint(setup.Left, c.Arm.Pickup))
	model := r2.RectFromPoints(kingpin, pickup, r2.Point{X: w.Centre.Y + c.Wheel.Tyre.Width/2}, r2.Point{X: w.Centre.Y, Y: c.Wheel.Tyre.Diameter})
	v := d.keyView(room, model, fromSide, margins{8, 12, 34, 6}, "Left corner from behind")
	v.ground(model.X.Hi, model.X.Lo)
	v.wheelBehind(setup.Left)
	v.Line(sheet.Thin, kingpin, pickup)
	v.kingpin(behind(s.Kingpin(setup.Left).Dir), kingpin, "kingpin.inclination")
	v.ball(pickup)
	reach := max(0, kingpin.X-pickup.X)
	v.keyDim(sheet.Vertical, kingpin, r2.Point{X: kingpin.X}, v.View.Length(reach)+2.4*sheet.DimGap, "kingpin.height")
	v.keyDim(sheet.Vertical, kingpin, pickup, sheet.DimGap, "up")
	v.key(pickup, sheet.SE, "arm.pickup")
	v.key(behind(w.Centre).Add(r2.Point{Y: c.Wheel.Tyre.Diameter / 2}), sheet.N, "wheel.camber")
}

// wheelBehind draws a front wheel from behind.
func (v *view) wheelBehind(sd setup.Side) {
	w, tyre := &v.pose.Wheels[sd], v.r.Setup.Corners[sd].Wheel.Tyre
	across := behind(w.Leftward).Normalize()
	up, c := across.Ortho(), behind(w.Centre)
	corner := func(a, b float64) r2.Point {
		return c.Add(across.Mul(a * tyre.Width / 2)).Add(up.Mul(b * tyre.Diameter / 2))
	}
	v.Polygon(sheet.Visible, sheet.Tinted(tyreTint), corner(1, 1), corner(1, -1), corner(-1, -1), corner(-1, 1))
	v.Line(sheet.Centre, corner(0, 1.1), corner(0, -1))
	v.Line(sheet.Centre, behind(w.Stub), c.Add(across.Mul(sd.Sign()*tyre.Width*0.7)))
}

// keysDropArm is the drop arm as the driver sees it, looking down the column.
func (d *drawing) keysDropArm(room r2.Rect) {
	s := d.r.Setup
	pins, model := [2]r2.Point{}, r2.RectFromPoints(r2.Point{})
	for _, sd := range setup.Sides {
		pins[sd] = r2.Point{X: s.DropArm.Pins[sd].X, Y: s.DropArm.Pins[sd].Y}
		model = model.AddPoint(pins[sd])
	}
	for _, p := range s.DropArm.Metal.Outline {
		model = model.AddPoint(p)
	}
	v := d.keyView(room, model, alongColumn, margins{28, 6, 28, 9}, "Drop arm, looking down the column")
	v.Polygon(sheet.Visible, sheet.Paper, s.DropArm.Metal.Outline...)
	v.Cross(sheet.Centre, r2.Point{}, 7)
	for _, sd := range setup.Sides {
		v.Line(sheet.Thin.In(sheet.Grey), r2.Point{}, pins[sd])
		v.ball(pins[sd])
	}
	v.ball(r2.Point{})
	v.key(r2.Point{}, sheet.NW, "column.foot")
	reach := v.View.Length(pins[setup.Right].Y - model.Y.Lo)
	v.keyDim(sheet.Vertical, r2.Point{}, pins[setup.Right], reach+sheet.DimGap, "down")
	v.key(pins[setup.Left], sheet.W, d.pinName(setup.Left))
	if pins[0] != pins[1] {
		past := v.View.Length(max(0, math.Copysign(1, pins[0].X)*(model.X.Hi-pins[0].X)))
		v.keyDim(sheet.Horizontal, pins[setup.Left], r2.Point{X: pins[setup.Left].X}, -math.Copysign(past+sheet.DimGap, pins[0].X), "left")
		v.key(pins[setup.Right], sheet.E, d.pinName(setup.Right))
	}
}
