package topview

import (
	"slices"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"locksweep/geometry/clearance"
	"locksweep/geometry/linkage"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/render/sheet"
	"locksweep/render/wording"
)

// view is the vehicle on one panel of the sheet.
type view struct {
	*drawing
	*sheet.Panel
	room  r2.Rect // paper that labels of the view stay in
	close bool    // the linkage at the larger scale
}

// lockColours tell the locks apart, and lockLines do so on a grey printer too.
var (
	lockColours = [2]sheet.Colour{sweep.ToLeft: sheet.Blue, sweep.ToRight: sheet.Vermilion}
	lockLines   = [2]sheet.Line{sweep.ToLeft: sheet.LongDashDoubleDot, sweep.ToRight: sheet.LongDash}
)

// The quiet tints of the drawing, lightest where most is drawn above them.
const (
	sweptTint sheet.Colour = 0xE3EEF6
	frameTint sheet.Colour = 0xF4F4F2
	metalTint sheet.Colour = 0xFFFFFF
	tyreTint  sheet.Colour = 0xE0E0E0
)

// draw draws the views of the sheet.
func (d *drawing) draw(p places) {
	d.sheet.Scale = p.scale
	whole := d.view(p.whole, d.model(), p.scale)
	whole.vehicle()
	views := []*view{whole}
	if p.closeScale > 0 {
		views = append(views, d.near(p.close, d.linkage, p.closeScale, "Front axle"))
	}
	for _, v := range views {
		v.joints()
	}
	if d.opt.Pose != nil {
		whole.turn()
		for _, side := range setup.Sides {
			whole.wheelLabel(&d.pose, side, sheet.Black, wheelText(&d.pose, side))
		}
	} else {
		whole.lockAngles()
	}
	whole.dimensions(p.closeScale == 0 && !d.apart)
	d.contacts(views)
	for _, v := range views[1:] {
		v.pickups()
		v.linkageNames()
	}
	d.partNames(views)
}

// near draws what a model rectangle holds of the front axle into a frame under its name.
func (d *drawing) near(rect, model r2.Rect, s sheet.Scale, name string) *view {
	head, frame := rect, rect
	frame.Y.Lo += headRow
	head.Y.Hi = frame.Y.Lo
	v := d.view(frame, model, s)
	v.close = true
	v.vehicle()
	v.sheet.Polygon(sheet.Thin, sheet.NoFill, sheet.Corners(v.Rect)...)
	v.sheet.Reserve(head)
	v.sheet.Text(r2.Point{X: head.X.Lo, Y: head.Center().Y}, sheet.E, sheet.Style{}, name+"  "+s.String())
	return v
}

// view opens a panel with the model in the middle of a paper rectangle.
func (d *drawing) view(rect, model r2.Rect, s sheet.Scale) *view {
	inner := rect
	if model == d.model() { // dimensions take more room below than above
		inner.Y.Lo += dimAbove
		inner.Y.Hi -= dimBelow
		inner.X.Lo += dimLeft
		inner.X.Hi -= dimRight
	}
	return &view{drawing: d, Panel: d.sheet.NewPanel(rect, sheet.Centred(inner, model, sheet.FromAbove, s)), room: rect}
}

// vehicle draws all pieces, what they sweep, and where they stand at the locks.
func (v *view) vehicle() {
	v.fill(false)
	for _, rings := range v.swept {
		v.Area(sheet.NoPen, sheet.Tinted(sweptTint), rings...)
	}
	v.spread()
	v.fill(true)
	v.axes()
	for _, o := range slices.Backward(v.outlines) {
		pen := outlinePen(&v.r.Scene.Pieces[o.Piece])
		for _, line := range o.Hidden {
			v.Polyline(sheet.Hidden.In(pen.Colour), line...)
		}
		for _, line := range o.Visible {
			v.Polyline(pen, line...)
		}
	}
	v.phantoms()
}

// fill tints the pieces that move, or those that stand still, the lowest first.
func (v *view) fill(moving bool) {
	for _, o := range slices.Backward(v.outlines) {
		if p := &v.r.Scene.Pieces[o.Piece]; moves(p) == moving {
			v.Area(sheet.NoPen, tint(p), o.Rings...)
		}
	}
}

// tint is what a piece is filled with.
func tint(p *clearance.Piece) sheet.Fill {
	switch {
	case p.Rubber():
		return sheet.Tinted(tyreTint)
	case moves(p):
		return sheet.Tinted(metalTint)
	}
	return sheet.Tinted(frameTint)
}

// outlinePen is the pen for a piece's outline: wide for steering and tyres, thin for the frame, grey for what is only assumed.
func outlinePen(p *clearance.Piece) sheet.Pen {
	switch {
	case p.Assumed:
		return sheet.Thin.In(sheet.Grey)
	case moves(p) || p.Rubber():
		return sheet.Visible
	}
	return sheet.Thin
}

// phantoms draws what moves as it stands at the locks; what touches there is drawn wide.
func (v *view) phantoms() {
	for _, dir := range sweep.Directions {
		pen := sheet.Phantom.In(lockColours[dir])
		pen.Line = lockLines[dir]
		first := v.r.Locks[dir].First()
		for _, g := range v.locks[dir] {
			if p := &v.r.Scene.Pieces[g.piece]; p.Part != nil && p.Part.On == setup.OnColumn && p.Part.Tube != nil {
				continue // a round tube turned about itself looks the same
			}
			pen.Width = sheet.Phantom.Width
			if first != nil && first.Kind == sweep.Contact && (first.Pair[0] == g.piece || first.Pair[1] == g.piece) {
				pen.Width = sheet.Visible.Width
			}
			for _, ring := range g.rings {
				v.Polyline(pen, append(slices.Clone(ring), ring[0])...)
			}
		}
	}
}

// axes draws the vehicle's centre line, the rear axle, the stub axles and the column's axis.
func (v *view) axes() {
	s := v.r.Setup
	past := v.paper(4)
	v.Line(sheet.Centre, r2.Point{X: v.whole.X.Lo - past}, r2.Point{X: v.whole.X.Hi + past})
	rear := s.Vehicle.RearTrack/2 + s.Vehicle.RearTyre.Width/2 + past
	v.Line(sheet.Centre, r2.Point{X: -s.Vehicle.Wheelbase, Y: rear}, r2.Point{X: -s.Vehicle.Wheelbase, Y: -rear})
	for _, side := range setup.Sides {
		w := &v.pose.Wheels[side]
		out := flat(w.Leftward).Mul(side.Sign() * (s.Corners[side].Wheel.Tyre.Width/2 + past))
		v.Line(sheet.Centre, flat(w.Stub), flat(w.Centre).Add(out))
	}
	if from, to, ok := v.column(); ok {
		v.Line(sheet.Centre, from, to)
	}
}

// column returns two points of the column's axis seen from above: past the drop arm and up towards
// the driver. ok is false where there is no column.
func (v *view) column() (from, to r2.Point, ok bool) {
	column, ok := v.r.Linkage.Axis(linkage.Input)
	return flat(column.Point.Sub(column.Dir.Mul(v.paper(4)))), flat(column.Point.Add(column.Dir.Mul(v.r.Setup.Vehicle.Wheelbase * 0.4))), ok
}

// joints marks the kingpins, the rods' balls and the holes of the arms.
func (v *view) joints() {
	ball, pin := 0.7, 1.0 // radii on paper, mm
	if v.close {
		v.holes()
		ball, pin = 1.1, 1.6
	}
	for _, side := range setup.Sides {
		c := flat(v.r.Setup.Centre(side))
		v.Circle(sheet.Thin, sheet.Paper, c, v.paper(pin))
		v.Cross(sheet.Thin, c, 1.5*pin)
		rod := &v.pose.Rods[side]
		for _, b := range [2]r3.Vector{rod.From, rod.To} {
			v.Circle(sheet.Thin, sheet.Paper, flat(b), v.paper(ball))
			v.Dot(sheet.Black, flat(b), 0.35*ball)
		}
	}
}

// holes draws the holes of arms that are given with their diameters, straight ahead.
func (v *view) holes() {
	if v.opt.Pose != nil {
		return
	}
	s := v.r.Setup
	for _, side := range setup.Sides {
		for _, h := range s.Corners[side].Arm.Metal.Holes {
			v.Circle(sheet.Thin, sheet.Paper, flat(s.CornerPoint(side, r3.Vector{X: h.At.X, Y: h.At.Y})), h.Diameter/2)
		}
	}
}

// lockAngles names the phantom wheels and says how far each turns.
func (v *view) lockAngles() {
	for _, dir := range sweep.Directions {
		if len(v.locks[dir]) == 0 {
			continue
		}
		for _, side := range setup.Sides {
			pose := &v.r.Locks[dir].Pose
			v.wheelLabel(pose, side, lockColours[dir], dir.String()+" lock", wheelText(pose, side)+v.plusMinus(dir, side))
		}
	}
}

// wheelText says how far a wheel turns, and whether it is the inner or the outer one.
func wheelText(p *sweep.Pose, side setup.Side) string {
	text := wording.Angle(p.Wheels[side].Steer.Abs())
	switch {
	case !p.Turn.Known():
		return text
	case side == p.Turn.Inner:
		return "inner " + text
	}
	return "outer " + text
}

// wheelLabel writes beside a wheel: beside its front edge, or beside its middle where it is the inner one,
// so that the labels of both locks keep apart.
func (v *view) wheelLabel(p *sweep.Pose, side setup.Side, c sheet.Colour, lines ...string) {
	w, tyre := &p.Wheels[side], v.r.Setup.Corners[side].Wheel.Tyre
	left := flat(w.Leftward).Normalize()
	fore := r2.Point{X: left.Y, Y: -left.X}
	along := 0.42
	if p.Turn.Known() && side == p.Turn.Inner {
		along = 0.15
	}
	corner := flat(w.Centre).Add(fore.Mul(along * tyre.Diameter)).Add(left.Mul(side.Sign() * tyre.Width / 2))
	prefer := [2][]sheet.Dir{{sheet.W, sheet.NW, sheet.N}, {sheet.E, sheet.NE, sheet.N}}[side]
	v.Label(sheet.Label{At: corner, Clear: 0.8, Prefer: prefer, Within: v.half(side), Style: sheet.Style{Colour: c}, Lines: lines})
}

// half is the paper of a view on one side of the vehicle's centre line.
func (v *view) half(side setup.Side) r2.Rect {
	half, middle := v.room, v.View.Origin.X
	if side == setup.Left {
		half.X.Hi = min(half.X.Hi, middle)
	} else {
		half.X.Lo = max(half.X.Lo, middle)
	}
	return half
}
