package topview

import (
	"math"
	"strconv"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"locksweep/geometry/clearance"
	"locksweep/geometry/plan"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/render/sheet"
	"locksweep/render/wording"
)

// moves tells whether a piece is not fixed to the frame.
func moves(p *clearance.Piece) bool { return p.Body != clearance.Frame }

// sweepsGround picks the pieces whose swept ground is tinted.
func sweepsGround(p *clearance.Piece) bool {
	return p.Name == clearance.Tyre || p.Name == clearance.TieRod
}

// lockColours tell the locks apart; the labels do so without colour.
var lockColours = [2]sheet.Colour{sweep.ToLeft: sheet.Blue, sweep.ToRight: sheet.Vermilion}

// sweptTint is the quiet tint of swept ground.
const sweptTint sheet.Colour = 0xF1F4F7

// draw draws the vehicle.
func (d *drawing) draw() {
	for _, rings := range d.swept {
		d.view.Area(sheet.NoPen, sheet.Tinted(sweptTint), rings...)
	}
	for dir, ghosts := range d.locks {
		for _, g := range ghosts {
			for _, ring := range g.rings {
				d.view.Polyline(sheet.Phantom.In(lockColours[dir]), closed(ring)...)
			}
		}
	}
	for i := len(d.outlines) - 1; i >= 0; i-- {
		d.tint(&d.outlines[i])
	}
	for i := len(d.outlines) - 1; i >= 0; i-- {
		d.outline(&d.outlines[i])
	}
	d.axes()
	d.joints()
	if d.opt.Pose != nil {
		d.axleLines()
	} else {
		d.contacts()
		d.lockLabels()
	}
	d.dimensions()
}

func closed(ring []r2.Point) []r2.Point { return append(ring[:len(ring):len(ring)], ring[0]) }

// tint fills tyres, so that a wheel is seen as one at a glance.
func (d *drawing) tint(o *plan.Outline) {
	if p := &d.r.Scene.Pieces[o.Piece]; p.Part == nil && (p.Name == clearance.Tyre || p.Name == clearance.RearTyre) {
		d.view.Area(sheet.NoPen, sheet.Shade, o.Rings...)
	}
}

// outline draws a piece: visible edges wide, hidden ones dashed, what is only assumed thin.
func (d *drawing) outline(o *plan.Outline) {
	pen := sheet.Visible
	if d.r.Scene.Pieces[o.Piece].Assumed {
		pen = sheet.Thin.In(sheet.Grey)
	}
	for _, line := range o.Hidden {
		d.view.Polyline(sheet.Hidden, line...)
	}
	for _, line := range o.Visible {
		d.view.Polyline(pen, line...)
	}
}

// axes draws the vehicle's centre line, the rear axle and the column.
func (d *drawing) axes() {
	s := d.r.Setup
	past := 60.0
	d.view.Line(sheet.Centre, r2.Point{X: d.model.X.Lo - past/2}, r2.Point{X: d.model.X.Hi + past/2})
	rear := s.Vehicle.RearTrack/2 + s.Vehicle.RearTyre.Width/2 + past/2
	d.view.Line(sheet.Centre, r2.Point{X: -s.Vehicle.Wheelbase, Y: rear}, r2.Point{X: -s.Vehicle.Wheelbase, Y: -rear})
	foot, axis := s.Column.Foot, s.Column.Axis().Dir
	reach := math.Min(350, s.Vehicle.Wheelbase*0.4)
	d.view.Line(sheet.Centre, plane(foot.Sub(axis.Mul(40))), plane(foot.Add(axis.Mul(reach))))
	d.view.Label(sheet.Label{At: plane(foot.Add(axis.Mul(reach))), Clear: 1, Prefer: []sheet.Dir{sheet.E, sheet.SE, sheet.W}, Lines: []string{"column"}})
}

// joints marks kingpins, balls and the stub axles.
func (d *drawing) joints() {
	for _, side := range setup.Sides {
		c := d.r.Setup.Centre(side)
		d.view.Line(sheet.Centre, plane(c), plane(d.pose.Wheels[side].Centre))
		d.view.Circle(sheet.Visible, sheet.Paper, plane(c), 1.3/float64(d.view.View.Scale))
		d.view.Cross(sheet.Thin, plane(c), 2.6)
		sp := d.pose.Sides[side]
		for _, ball := range [2]r3.Vector{sp.Pin, sp.Pickup} {
			d.view.Circle(sheet.Visible, sheet.Paper, plane(ball), 0.9/float64(d.view.View.Scale))
		}
		dirs := []sheet.Dir{sheet.W, sheet.NW, sheet.SW}
		if side == setup.Right {
			dirs = []sheet.Dir{sheet.E, sheet.NE, sheet.SE}
		}
		d.view.Label(sheet.Label{At: plane(sp.Pickup), Clear: 1.2, Prefer: dirs, Lines: []string{"pickup"}})
	}
}

func plane(v r3.Vector) r2.Point { return r2.Point{X: v.X, Y: v.Y} }

// contacts numbers what stops the steering, in the order of the list below the drawing.
func (d *drawing) contacts() {
	for i, l := range d.contactsInOrder() {
		d.view.Dot(sheet.Black, plane(l.Point), 0.8)
		d.view.Balloon(plane(l.Point), strconv.Itoa(i+1), sheet.N, sheet.S)
	}
}

// contactsInOrder lists the first contacts of both directions, nearest first, left before right.
func (d *drawing) contactsInOrder() (list []sweep.Limit) {
	for _, dir := range sweep.Directions {
		shown := 0
		for _, l := range d.r.Locks[dir].Chain {
			if l.Kind == sweep.Contact && shown < maxContacts {
				list = append(list, l)
				shown++
			}
		}
	}
	return list
}

// maxContacts bounds the numbered contacts of a direction: past the third cut a new plan is due.
const maxContacts = 3

// lockLabels names the phantom wheels and says how far each turns.
func (d *drawing) lockLabels() {
	for _, dir := range sweep.Directions {
		for _, side := range setup.Sides {
			w := d.r.Locks[dir].Pose.Wheels[side]
			fore := r2.Point{X: w.Leftward.Y, Y: -w.Leftward.X}.Normalize()
			tip := plane(w.Centre).Add(fore.Mul(d.r.Setup.Corners[side].Wheel.Tyre.Diameter / 2))
			d.view.Label(sheet.Label{At: tip, Clear: 1, Prefer: []sheet.Dir{sheet.N, sheet.NW, sheet.NE},
				Style: sheet.Style{Colour: lockColours[dir]},
				Lines: []string{dir.String() + " lock " + wording.Angle(w.Steer.Abs())}})
		}
	}
}

// dimensions draws the principal dimensions.
func (d *drawing) dimensions() {
	s := d.r.Setup
	u := s.Unit
	text := func(key string, mm float64) string {
		if d.opt.Keys {
			return key
		}
		return wording.Length(u, mm)
	}
	front := d.model.X.Hi
	left, right := r2.Point{X: front, Y: s.Spacing / 2}, r2.Point{X: front, Y: -s.Spacing / 2}
	d.view.Dim(sheet.Horizontal, left, right, sheet.DimGap, text("kingpin.spacing", s.Spacing))
	back := d.model.X.Lo
	half := s.Vehicle.RearTrack / 2
	d.view.Dim(sheet.Horizontal, r2.Point{X: back, Y: half}, r2.Point{X: back, Y: -half}, -sheet.DimGap, text("vehicle.rear_track", 2*half))
	side := r2.Point{Y: d.model.Y.Lo}
	d.view.Dim(sheet.Vertical, side, r2.Point{X: -s.Vehicle.Wheelbase, Y: side.Y}, sheet.DimGap, text("vehicle.wheelbase", s.Vehicle.Wheelbase))
}

// axleLines draws the axle lines of a pose and the turn centre.
func (d *drawing) axleLines() {
	for _, side := range setup.Sides {
		w := d.pose.Wheels[side]
		a := r2.Point{X: w.Leftward.X, Y: w.Leftward.Y}
		far := 20 * d.r.Setup.Vehicle.Wheelbase
		d.view.Line(sheet.Centre.In(sheet.Blue), plane(w.Stub).Sub(a.Mul(far)), plane(w.Stub).Add(a.Mul(far)))
	}
	far := 20 * d.r.Setup.Vehicle.Wheelbase
	rear := -d.r.Setup.Vehicle.Wheelbase
	d.view.Line(sheet.Centre.In(sheet.Blue), r2.Point{X: rear, Y: far}, r2.Point{X: rear, Y: -far})
	if t := d.pose.Turn; t.Known() {
		d.view.Label(sheet.Label{At: t.Centre, Clear: 1, End: sheet.DotEnd, Lines: []string{"turn centre"}})
	}
}
