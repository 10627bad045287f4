package topview

import (
	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"locksweep/geometry/linkage"
	"locksweep/geometry/plan"
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
	whole := d.view(p.whole, p.whole, d.model(), p.scale)
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
	frame := rect
	frame.Y.Lo += headRow
	v := d.view(frame, frame, model, s)
	v.close = true
	v.vehicle()
	v.sheet.Polygon(sheet.Thin, sheet.NoFill, sheet.Corners(v.Rect)...)
	row := v.headRow()
	v.sheet.Reserve(row)
	v.sheet.Text(r2.Point{X: row.X.Lo, Y: row.Center().Y}, sheet.E, sheet.Style{}, name+"  "+s.String())
	return v
}

// view opens a panel with the model in the middle of a paper rectangle.
func (d *drawing) view(rect, room, model r2.Rect, s sheet.Scale) *view {
	inner := rect
	if model == d.model() { // dimensions take more room below than above
		inner.Y.Lo += dimAbove
		inner.Y.Hi -= dimBelow
		inner.X.Lo += dimLeft
		inner.X.Hi -= dimRight
	}
	return &view{drawing: d, Panel: d.sheet.NewPanel(rect, sheet.Centred(inner, model, sheet.FromAbove, s)), room: room}
}

// headRow is the paper above the frame of a view.
func (v *view) headRow() r2.Rect {
	return sheet.Rect(v.Rect.X.Lo, v.Rect.Y.Lo-headRow, v.Rect.Size().X, headRow)
}

// vehicle draws all pieces, what they sweep, and where they stand at the locks.
func (v *view) vehicle() {
	for i := len(v.outlines) - 1; i >= 0; i-- {
		v.fill(&v.outlines[i], false)
	}
	for _, rings := range v.swept {
		v.Area(sheet.NoPen, sheet.Tinted(sweptTint), rings...)
	}
	v.spread()
	for i := len(v.outlines) - 1; i >= 0; i-- {
		v.fill(&v.outlines[i], true)
	}
	v.axes()
	for i := len(v.outlines) - 1; i >= 0; i-- {
		v.outline(&v.outlines[i])
	}
	v.phantoms()
}

// fill tints a piece: what stands still first, what moves above it.
func (v *view) fill(o *plan.Outline, moving bool) {
	p := &v.r.Scene.Pieces[o.Piece]
	if moves(p) != moving {
		return
	}
	tint := frameTint
	switch {
	case p.Rubber():
		tint = tyreTint
	case moving:
		tint = metalTint
	}
	v.Area(sheet.NoPen, sheet.Tinted(tint), o.Rings...)
}

// outline draws a piece: steering and tyres wide, the frame thin; hidden edges dashed; what is only
// assumed grey.
func (v *view) outline(o *plan.Outline) {
	p := &v.r.Scene.Pieces[o.Piece]
	pen, hidden := sheet.Visible, sheet.Hidden
	switch {
	case p.Assumed:
		pen, hidden = sheet.Thin.In(sheet.Grey), sheet.Hidden.In(sheet.Grey)
	case !moves(p) && !p.Rubber():
		pen = sheet.Thin
	}
	for _, line := range o.Hidden {
		v.Polyline(hidden, line...)
	}
	for _, line := range o.Visible {
		v.Polyline(pen, line...)
	}
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
				v.Polyline(pen, closed(ring)...)
			}
		}
	}
}

func closed(ring []r2.Point) []r2.Point { return append(ring[:len(ring):len(ring)], ring[0]) }

// axes draws the vehicle's centre line, the rear axle, the stub axles and the column's axis.
func (v *view) axes() {
	s := v.r.Setup
	past := 4 / float64(v.View.Scale)
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
	past := 4 / float64(v.View.Scale)
	return flat(column.Point.Sub(column.Dir.Mul(past))), flat(column.Point.Add(column.Dir.Mul(v.r.Setup.Vehicle.Wheelbase * 0.4))), ok
}

// joints marks the kingpins, the rods' balls and the holes of the arms.
func (v *view) joints() {
	scale := float64(v.View.Scale)
	ball, pin := 0.7/scale, 1.0/scale
	if v.close {
		v.holes()
		ball, pin = 1.1/scale, 1.6/scale
	}
	for _, side := range setup.Sides {
		c := flat(v.r.Setup.Centre(side))
		v.Circle(sheet.Thin, sheet.Paper, c, pin)
		v.Cross(sheet.Thin, c, 1.5*pin*scale)
		rod := &v.pose.Rods[side]
		for _, b := range [2]r3.Vector{rod.From, rod.To} {
			v.Circle(sheet.Thin, sheet.Paper, flat(b), ball)
			v.Dot(sheet.Black, flat(b), 0.35*ball*scale)
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
	prefer := []sheet.Dir{sheet.W, sheet.NW, sheet.N}
	if side == setup.Right {
		prefer = []sheet.Dir{sheet.E, sheet.NE, sheet.N}
	}
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
