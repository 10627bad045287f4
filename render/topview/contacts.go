package topview

import (
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/render/sheet"
)

// mostPoints is how many limits each way are marked where they are contacts: past the third cut it is
// another vehicle.
const mostPoints = 3

// contacts marks and numbers the points of contact, as the list numbers them: straight ahead the first of
// those listed, at a pose those that it has come to. What touches first is a filled dot, what would be next a
// ring. Each is marked in the view that shows it larger.
func (d *drawing) contacts(views []*view) {
	for _, dir := range sweep.Directions {
		for i, m := range d.marks[dir] {
			if m.Kind != sweep.Contact || i >= mostPoints || d.opt.Pose != nil && !d.reached(dir, m) {
				continue
			}
			at := flat(m.Point)
			v := views[0]
			if len(views) > 1 && views[1].Rect.ExpandedByMargin(-closeSides).ContainsPoint(views[1].At(at)) {
				v = views[1]
			}
			fill := sheet.Paper
			if i == 0 {
				fill = sheet.Tinted(lockColours[dir])
			}
			v.Circle(sheet.Thin, fill, at, 0.8/float64(v.View.Scale))
			v.Label(sheet.Label{At: at, Clear: 0.8, Ring: true, Within: v.room, Prefer: outwards(m.Side),
				Style: sheet.Style{Max: 12, Colour: lockColours[dir]}, Lines: []string{m.tag}})
		}
	}
}

// reached tells whether the pose stands at a limit or past it.
func (d *drawing) reached(dir sweep.Direction, m mark) bool {
	column := *d.opt.Pose
	return float64(column)*dir.Sign() >= 0 && column.Abs() >= m.Column.Abs()-touchSlack
}

// touchSlack takes a lock that was typed in for the lock.
const touchSlack = 1e-3

// outwards prefers the sides of a label away from the middle of the vehicle.
func outwards(side setup.Side) []sheet.Dir {
	if side == setup.Left {
		return []sheet.Dir{sheet.NW, sheet.SW, sheet.N, sheet.S}
	}
	return []sheet.Dir{sheet.NE, sheet.SE, sheet.N, sheet.S}
}
