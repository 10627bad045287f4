package topview

import (
	"github.com/golang/geo/r2"

	"locksweep/geometry/clearance"
	"locksweep/geometry/plan"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/render/sheet"
)

// Of the parts, one is named for so much paper of a view, mm², and at most so many in one view.
const (
	nameArea  = 1400.0
	mostNames = 12
)

// partNames names the parts of the file, each once, what stops the steering first: in the view of the
// linkage if they are seen there, else on the whole vehicle.
func (d *drawing) partNames(views []*view) {
	named := map[string]bool{}
	left := make([]int, len(views))
	for k, v := range views {
		size := v.Rect.Size()
		left[k] = min(mostNames, int(size.X*size.Y/nameArea))
	}
	for _, i := range d.namingOrder() {
		p := &d.r.Scene.Pieces[d.outlines[i].Piece]
		if p.Part == nil || named[p.Name] {
			continue
		}
		k := len(views) - 1
		at, seen := views[k].anchor(&d.outlines[i])
		if !seen {
			k = 0
			at, seen = views[k].anchor(&d.outlines[i])
		}
		if seen && left[k] > 0 {
			named[p.Name] = true
			left[k]--
			views[k].name(at, sideOf(at), setup.Printable(p.Name))
		}
	}
}

// namingOrder gives the outlines, those of pieces that stop the steering first.
func (d *drawing) namingOrder() (order []int) {
	stops := map[int]bool{}
	for _, marks := range d.marks {
		for _, m := range marks {
			if m.Kind == sweep.Contact {
				stops[m.Pair[0]], stops[m.Pair[1]] = true, true
			}
		}
	}
	for _, wanted := range [2]bool{true, false} {
		for i := range d.outlines {
			if stops[d.outlines[i].Piece] == wanted {
				order = append(order, i)
			}
		}
	}
	return order
}

func sideOf(at r2.Point) setup.Side {
	if at.Y < 0 {
		return setup.Right
	}
	return setup.Left
}

// name writes what a line of the drawing is.
func (v *view) name(at r2.Point, side setup.Side, text string) {
	v.Label(sheet.Label{At: at, Clear: 0.2, End: sheet.ArrowEnd, Prefer: outwards(side), Within: v.room,
		Style: sheet.Style{Max: 42}, Lines: []string{text}})
}

// anchor returns the middle of the longest straight stretch of a piece that is seen in the view.
func (v *view) anchor(o *plan.Outline) (at r2.Point, ok bool) {
	inside, longest := v.Rect.ExpandedByMargin(-closeSides), 0.0
	for _, line := range o.Visible {
		for i := 1; i < len(line); i++ {
			mid := line[i-1].Add(line[i]).Mul(0.5)
			if l := line[i].Sub(line[i-1]).Norm(); l > longest && inside.ContainsPoint(v.At(mid)) {
				at, longest, ok = mid, l, true
			}
		}
	}
	return at, ok
}

// linkageNames names what every setup has.
func (v *view) linkageNames() {
	left, right := &v.pose.Sides[setup.Left], &v.pose.Sides[setup.Right]
	v.name(flat(v.r.Setup.Centre(setup.Left)), setup.Left, "kingpin")
	third := right.Pin.Add(right.Pickup.Sub(right.Pin).Mul(0.4))
	v.name(flat(third), setup.Right, "tie rod "+v.size(v.r.Rods[setup.Right].Length))
	if v.r.Rods[setup.Left].Length != v.r.Rods[setup.Right].Length {
		third = left.Pin.Add(left.Pickup.Sub(left.Pin).Mul(0.4))
		v.name(flat(third), setup.Left, "tie rod "+v.size(v.r.Rods[setup.Left].Length))
	}
	foot := v.r.Setup.Column.Foot
	v.name(flat(left.Pin.Add(foot).Mul(0.5)), setup.Left, "drop arm")
	for i := range v.r.Scene.Pieces {
		if p := &v.r.Scene.Pieces[i]; p.Part != nil && p.Body == clearance.Column {
			return // has a name of its own
		}
	}
	_, up := v.column()
	v.name(flat(foot).Mul(0.75).Add(up.Mul(0.25)), setup.Right, "column")
}
