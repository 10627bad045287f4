package topview

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/geometry/setup"
	"locksweep/render/sheet"
)

// side and behind are a point seen from the left and from behind.
func side(p r3.Vector) r2.Point { return r2.Point{X: p.X, Y: p.Z} }

func behind(p r3.Vector) r2.Point { return r2.Point{X: p.Y, Y: p.Z} }

// floor draws the ground below a model, and a little past it.
func (v *view) floor(model r2.Rect) {
	v.Line(sheet.Visible, r2.Point{X: model.X.Hi + v.paper(4)}, r2.Point{X: model.X.Lo - v.paper(4)})
}

// kingpin draws a kingpin that leans along dir, with the name of its angle from upright.
func (v *view) kingpin(dir, centre r2.Point, text string) {
	dir = dir.Normalize()
	long := func(mm float64) r2.Point { return dir.Mul(v.paper(mm)) }
	v.Line(sheet.Visible, centre.Sub(long(7)), centre.Add(long(7)))
	v.Line(sheet.Centre, centre.Sub(long(11)), centre.Add(dir.Mul(leanLine)))
	v.Line(sheet.Thin, centre, centre.Add(r2.Point{Y: leanLine}))
	v.DimAngle(centre, v.View.Length(leanLine)-3, math.Pi/2, s1.Angle(math.Atan2(dir.Y, dir.X)), text)
	v.ball(centre)
}

// leanLine is how far a kingpin's centre line is drawn, mm: past the tyre.
const leanLine = 215.0

// fromLeft is the front of the vehicle from its left: caster, rake, and where column or rack is.
func (k *keyed) fromLeft(room r2.Rect) {
	s := k.like
	centre, radius := s.Centre(setup.Left), s.Corners[setup.Left].Wheel.Tyre.Diameter/2
	foot, top := s.Column.Foot, s.Column.ColumnPoint(r3.Vector{Z: 200})
	if s.Rack != nil {
		foot = s.Rack.Balls[setup.Left]
		top = foot
	}
	model := r2.RectFromPoints(r2.Point{X: radius}, r2.Point{X: -radius, Y: centre.Z + leanLine}, side(top), side(foot))
	v := k.keyView(room, model, fromSide, margins{10, 5, 12, 12}, "From the left")
	v.floor(model)
	v.Circle(sheet.Thin, sheet.Tinted(frameTint), side(centre), radius)
	v.kingpin(side(s.Kingpin(setup.Left).Dir), side(centre), "kingpin.caster")
	if s.Rack == nil {
		pin := s.Column.ColumnPoint(s.DropArm.Pins[setup.Left])
		v.Line(sheet.Visible, side(foot), side(top))
		v.Line(sheet.Wide, side(foot), side(pin))
		v.ball(side(pin))
		v.key(side(pin), sheet.SE, k.pinName())
		v.Line(sheet.Thin, side(foot), side(foot.Sub(r3.Vector{X: v.paper(22)})))
		v.DimAngle(side(foot), 18, math.Pi, math.Pi-s.Column.Rake, "column.rake")
		v.key(side(foot), sheet.NW, "column.foot")
	} else {
		v.key(side(foot), sheet.NW, "rack.left")
	}
	v.ball(side(foot))
	v.Dim(sheet.Horizontal, r2.Point{}, r2.Point{X: foot.X}, -sheet.DimGap+1, "x")
	v.Dim(sheet.Vertical, side(foot), r2.Point{X: foot.X}, v.View.Length(foot.X-model.X.Lo)+sheet.DimGap/2, "z")
}

// behind is the left corner from behind: inclination, camber and heights.
func (k *keyed) behind(room r2.Rect) {
	s := k.like
	w := &s.Corners[setup.Left].Wheel
	kingpin, pickup := behind(s.Centre(setup.Left)), behind(k.pickup(setup.Left))
	lean, lifted := math.Sincos(float64(w.Camber))
	up := r2.Point{X: lean, Y: lifted} // the top leans outboard, which is the left of the paper
	wheel := r2.Point{X: k.centre(setup.Left).Y, Y: w.Tyre.Diameter / 2}
	model := r2.RectFromPoints(kingpin, pickup, r2.Point{X: wheel.X + w.Tyre.Width*0.7}, r2.Point{X: wheel.X, Y: kingpin.Y + leanLine})
	v := k.keyView(room, model, fromSide, margins{4, 5, 28, 8}, "Left corner from behind")
	v.floor(model)
	v.Line(sheet.Visible, kingpin, wheel)
	v.wheel(wheel, up.Mul(w.Tyre.Diameter/2-4), up.Ortho().Mul(w.Tyre.Width/2))
	v.Line(sheet.Centre, wheel.Sub(up.Mul(w.Tyre.Diameter*0.55)), wheel.Add(up.Mul(w.Tyre.Diameter*0.62)))
	v.Line(sheet.Thin, wheel, wheel.Add(r2.Point{Y: w.Tyre.Diameter * 0.62}))
	v.DimAngle(wheel, v.View.Length(w.Tyre.Diameter*0.57), math.Pi/2, math.Pi/2-w.Camber, "wheel.camber")
	v.Line(sheet.Wide, kingpin, pickup)
	v.kingpin(behind(s.Kingpin(setup.Left).Dir), kingpin, "kingpin.inclination")
	v.ball(pickup)
	reach := v.View.Length(math.Abs(kingpin.X - pickup.X))
	v.Dim(sheet.Vertical, kingpin, r2.Point{X: kingpin.X}, reach+2.4*sheet.DimGap, "kingpin.height")
	v.Dim(sheet.Vertical, kingpin, pickup, sheet.DimGap, "up")
	v.key(pickup, sheet.SW, "arm.pickup")
}

// pinName is the key of the left pin of the drop arm.
func (k *keyed) pinName() string {
	if k.like.DropArm.Pins[0] == k.like.DropArm.Pins[1] {
		return "drop_arm.pin"
	}
	return "drop_arm.left"
}

// dropArm is the drop arm as the driver sees it, looking down the column.
func (k *keyed) dropArm(room r2.Rect) {
	pins, model := [2]r2.Point{}, r2.RectFromPoints(r2.Point{})
	for _, sd := range setup.Sides {
		p := k.like.DropArm.Pins[sd]
		pins[sd] = r2.Point{X: p.X, Y: p.Y}
		model = model.AddPoint(pins[sd])
	}
	v := k.keyView(room, model.ExpandedByMargin(20), sheet.DownColumn, margins{24, 3, 18, 9}, "Drop arm, down the column")
	v.Cross(sheet.Centre, r2.Point{}, 9)
	for _, sd := range setup.Sides {
		v.Line(sheet.Wide, r2.Point{}, pins[sd])
	}
	for _, p := range append(pins[:], r2.Point{}) {
		v.ball(p)
	}
	v.key(r2.Point{}, sheet.NW, "column.foot")
	v.Dim(sheet.Vertical, r2.Point{}, pins[setup.Right], v.View.Length(pins[setup.Right].Y-model.Y.Lo)+sheet.DimGap, "down")
	v.key(pins[setup.Left], sheet.W, k.pinName())
	if pins[setup.Left].Y != 0 {
		v.Dim(sheet.Horizontal, pins[setup.Left], r2.Point{X: pins[setup.Left].X}, -math.Copysign(sheet.DimGap, pins[0].X), "left")
	}
	if pins[0] != pins[1] {
		v.key(pins[setup.Right], sheet.E, "drop_arm.right")
	}
}

// rack is the rack from above.
func (k *keyed) rack(room r2.Rect) {
	balls := [2]r2.Point{flat(k.like.Rack.Balls[0]), flat(k.like.Rack.Balls[1])}
	model := r2.RectFromPoints(r2.Point{}, balls[0], balls[1])
	v := k.keyView(room, model, sheet.FromAbove, margins{14, 12, 16, 14}, "Rack from above")
	v.Line(sheet.Wide, balls[0], balls[1])
	for _, sd := range setup.Sides {
		v.ball(balls[sd])
		v.key(balls[sd], [2]sheet.Dir{sheet.NE, sheet.NW}[sd], "rack."+sd.String())
	}
	v.Line(sheet.Centre, r2.Point{X: model.X.Lo - v.paper(4)}, r2.Point{X: model.X.Hi + v.paper(4)})
	v.Dim(sheet.Horizontal, balls[setup.Left], r2.Point{X: balls[setup.Left].X}, -math.Copysign(sheet.DimGap, -balls[0].X), "y")
	v.Dim(sheet.Vertical, balls[setup.Right], r2.Point{Y: balls[setup.Right].Y}, sheet.DimGap/2, "x")
	v.origin()
}
