package topview

import (
	"math"

	"github.com/golang/geo/r2"

	"locksweep/geometry/setup"
	"locksweep/render/sheet"
	"locksweep/render/wording"
)

// mostAway is how far off the turn's centre may be to be drawn, in widths of the vehicle.
const mostAway = 3.0

// model is the ground that the view of the whole vehicle has to show: at a pose the turn's centre too,
// where it is near enough.
func (d *drawing) model() r2.Rect {
	if c := d.pose.Turn.Centre; d.opt.Pose != nil && math.Abs(c.Y) < mostAway*d.whole.Size().Y {
		return d.whole.AddPoint(c)
	}
	return d.whole
}

// turn draws the axle lines of a pose up to the turn's centre, and the inner wheel's ideal one.
func (v *view) turn() {
	t := &v.pose.Turn
	if !t.Known() {
		return
	}
	rear := -v.r.Setup.Vehicle.Wheelbase
	into := t.Inner.Sign()
	pen := sheet.Centre.In(sheet.Blue)
	v.Line(pen, r2.Point{X: rear}, r2.Point{X: rear, Y: into * endless})
	for _, side := range setup.Sides {
		w := &v.pose.Wheels[side]
		v.Line(pen, flat(w.Stub), flat(w.Stub).Add(flat(w.Leftward).Normalize().Mul(into*endless)))
	}
	if math.IsNaN(t.Centre.X) { // the outer wheel stands straight
		return
	}
	stub := flat(v.pose.Wheels[t.Inner].Stub)
	v.Line(sheet.Hidden.In(sheet.Green), stub, t.Centre)
	if c := t.Centre; v.Rect.ExpandedByMargin(-edge).ContainsPoint(v.At(c)) {
		v.Circle(sheet.Visible, sheet.Paper, c, v.paper(1.2))
		v.Cross(sheet.Thin, c, 2.4)
		v.Label(sheet.Label{At: c, Clear: 2.6, Within: v.room, Lines: []string{"turn centre", "dashed: inner wheel ideal"}})
		return
	}
	v.farCentre(rear, into)
}

// endless is long enough for a line to leave every sheet, mm.
const endless = 1e6

// farCentre points along the rear axle line to a turn's centre that lies off the sheet.
func (v *view) farCentre(rear, into float64) {
	edge := v.room.X.Lo
	if into < 0 {
		edge = v.room.X.Hi
	}
	end := r2.Point{X: rear, Y: v.paper(v.View.Origin.X - edge)}
	start := end.Sub(r2.Point{Y: into * v.paper(8)})
	v.Arrow(sheet.Thin.In(sheet.Blue), start, end)
	v.Label(sheet.Label{At: start, Clear: 1, Within: v.room, Prefer: []sheet.Dir{sheet.N, sheet.S}, Style: sheet.Style{Colour: sheet.Blue},
		Lines: []string{"turn centre " + wording.Ground(v.r.Setup.Unit, math.Abs(v.pose.Turn.Centre.Y)), "from the middle"}})
}
