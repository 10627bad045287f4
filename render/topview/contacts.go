package topview

import (
	"fmt"
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/render/sheet"
)

// mostPoints is how many of the limits each way are marked, if they are contacts: a vehicle from which three have been cut away is
// another one.
const mostPoints = 3

// contacts marks and numbers the points of contact, as the list numbers them: straight ahead the first of
// those listed, at a pose those that it has come to. What touches first is a filled dot, what would be next a
// ring. Each is marked in the view that shows it larger.
func (d *drawing) contacts(views []*view) {
	placed := make([][]r2.Point, len(views)) // on paper
	for i, t := range d.touches {
		if k := larger(views, t.Point); k >= 0 {
			placed[k] = append(placed[k], views[k].touch(flat(t.Point), fmt.Sprintf("T%d", i+1)))
		}
	}
	for _, dir := range sweep.Directions {
		fill := sheet.Tinted(lockColours[dir])
		for _, m := range d.marks[dir][:min(len(d.marks[dir]), mostPoints)] {
			if m.Kind == sweep.Contact && (d.opt.Pose == nil || d.reached(dir, m)) {
				if k := larger(views, m.Point); k >= 0 {
					placed[k] = append(placed[k], views[k].mark(flat(m.Point), placed[k], dir, fill, m))
				}
			}
			fill = sheet.Paper // what comes after the first
		}
	}
}

// larger returns which of the views shows a point largest: the last in which it lies well inside the frame, or the whole vehicle; -1
// where none shows it.
func larger(views []*view, point r3.Vector) int {
	for k := len(views) - 1; k >= 0; k-- {
		if v := views[k]; !v.close || v.Rect.ExpandedByMargin(-closeSides).ContainsPoint(v.At(flat(point))) {
			return k
		}
	}
	return -1
}

// touch marks where parts touch straight ahead and returns where the mark stands on paper.
func (v *view) touch(point r2.Point, tag string) r2.Point {
	v.Cross(sheet.Wide.In(sheet.Vermilion), point, 2.2)
	v.Label(sheet.Label{At: point, Clear: 2.2, Ring: true, Within: v.room, End: sheet.ArrowEnd,
		Style: sheet.Style{Max: 12, Colour: sheet.Vermilion}, Lines: []string{tag}})
	return v.At(point)
}

// dot is the radius of a mark on paper, mm.
const dot = 0.8

// mark draws one point of contact with its number and returns where its dot stands on paper: at the point, or beside
// it with a short line where another mark stands there.
func (v *view) mark(point r2.Point, placed []r2.Point, dir sweep.Direction, fill sheet.Fill, m mark) r2.Point {
	at := point
	if off := apart(v.At(point), placed, m.Side); off != (r2.Point{}) {
		at = point.Add(r2.Point{X: -v.paper(off.Y), Y: -v.paper(off.X)}) // paper to vehicle
		v.Line(sheet.Thin.In(lockColours[dir]), point, at)
	}
	v.Circle(sheet.Thin, fill, at, v.paper(dot))
	v.Label(sheet.Label{At: at, Clear: dot, Ring: true, Within: v.room, Prefer: outwards(m.Side),
		Style: sheet.Style{Max: 12, Colour: lockColours[dir]}, Lines: []string{m.tag}})
	return v.At(at)
}

// apart is how far a mark moves on paper to keep clear of those placed: not at all, else the shortest way.
func apart(at r2.Point, placed []r2.Point, side setup.Side) r2.Point {
	clear := func(p r2.Point) bool {
		for _, q := range placed {
			if p.Sub(q).Norm() < 2.2*dot {
				return false
			}
		}
		return true
	}
	if clear(at) {
		return r2.Point{}
	}
	for length := 2.5 * dot; length < 12*dot; length += dot {
		for i := range 16 { // outwards and ahead first, then round both ways
			a := (1 + 0.25*float64(i/2)*float64(1-i%2*2)) * math.Pi / 4
			if off := (r2.Point{X: -side.Sign() * math.Cos(a), Y: -math.Sin(a)}).Mul(length); clear(at.Add(off)) {
				return off
			}
		}
	}
	return r2.Point{}
}

// reached reports whether the pose stands at a limit or past it.
func (d *drawing) reached(dir sweep.Direction, m mark) bool {
	column := *d.opt.Pose
	return float64(column)*dir.Sign() >= 0 && column.Abs() >= m.Column.Abs()-touchSlack
}

// touchSlack is how far short of a limit a pose may stand, radians, and count as at it: an angle that was typed in as it was printed.
const touchSlack = 1e-3

// outwards prefers the sides of a label away from the middle of the vehicle.
func outwards(side setup.Side) []sheet.Dir {
	return [2][]sheet.Dir{{sheet.NW, sheet.SW, sheet.N, sheet.S}, {sheet.NE, sheet.SE, sheet.N, sheet.S}}[side]
}
