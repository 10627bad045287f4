package topview

import (
	"cmp"
	"math"
	"slices"

	"github.com/golang/geo/r2"

	"locksweep/geometry/linkage"
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
// linkage if they are seen there, else on the whole vehicle. It returns the names of those that are only seen.
func (d *drawing) partNames(views []*view) (leftOut []string) {
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
		places := views[k].anchors(p.Name)
		if len(places) == 0 && k > 0 {
			k = 0
			places = views[k].anchors(p.Name)
		}
		named[p.Name] = true
		if len(places) > 0 && left[k] > 0 {
			left[k]--
			views[k].name(setup.Printable(p.Name), places...)
		} else if views[len(views)-1].shows(p.Name) {
			leftOut = append(leftOut, setup.Printable(p.Name))
		}
	}
	return leftOut
}

// shows tells whether a part is seen in the view.
func (v *view) shows(name string) bool {
	for i := range v.outlines {
		if v.r.Scene.Pieces[v.outlines[i].Piece].Name == name {
			for _, line := range v.outlines[i].Visible {
				if slices.ContainsFunc(line, func(p r2.Point) bool { return v.Rect.ContainsPoint(v.At(p)) }) {
					return true
				}
			}
		}
	}
	return false
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

// name writes what a line of the drawing is, at the place of those given that suits best. In the view of the
// linkage it is left out rather than written far off.
func (v *view) name(text string, places ...r2.Point) { v.point(text, v.close, places) }

func (v *view) point(text string, optional bool, places []r2.Point) {
	v.Label(sheet.Label{At: places[0], Or: places[1:], Clear: 0.2, End: sheet.ArrowEnd, Optional: optional, Within: v.room,
		Style: sheet.Style{Max: 42}, Lines: []string{text}})
}

// Of the outlines of a part, stretches at least so long on paper are pointed at, mm, and at most so many.
const (
	leastStretch = 2.5
	mostStretch  = 16
)

// anchors returns where a part can be pointed at in the view: the middles of the straight stretches of its pieces that
// are seen there, the longest first; of long ones other points too.
func (v *view) anchors(name string) []r2.Point {
	type stretch struct {
		at     r2.Point
		length float64
	}
	var found []stretch
	inside := v.Rect.ExpandedByMargin(-2)
	add := func(at r2.Point, length float64) {
		if inside.ContainsPoint(v.At(at)) {
			found = append(found, stretch{at, length})
		}
	}
	for i := range v.outlines {
		if p := &v.r.Scene.Pieces[v.outlines[i].Piece]; p.Part == nil || p.Name != name {
			continue
		}
		for _, line := range v.outlines[i].Visible {
			for j := 1; j < len(line); j++ {
				along := line[j].Sub(line[j-1])
				length := v.View.Length(along.Norm())
				if length < leastStretch {
					continue
				}
				parts := min(8, max(1, math.Floor(length/12)))
				for k := 0.5; k < parts; k++ {
					add(line[j-1].Add(along.Mul(k/parts)), length/parts)
				}
			}
		}
	}
	slices.SortStableFunc(found, func(a, b stretch) int { return cmp.Compare(b.length, a.length) })
	var places []r2.Point
	for _, f := range found[:min(len(found), mostStretch)] {
		places = append(places, f.at)
	}
	return places
}

// linkageNames names what every setup has.
func (v *view) linkageNames() {
	rods := [2][]r2.Point{}
	var arms, kingpins []r2.Point
	foot := flat(v.r.Setup.Column.Foot)
	for _, side := range setup.Sides {
		p := &v.pose.Rods[side]
		for _, share := range [5]float64{0.4, 0.3, 0.5, 0.6, 0.7} {
			rods[side] = append(rods[side], flat(p.From.Add(p.To.Sub(p.From).Mul(share))))
		}
		arms = append(arms, flat(p.From).Add(foot).Mul(0.5))
		kingpins = append(kingpins, flat(v.r.Setup.Centre(side)))
	}
	if left, right := v.r.Rods[setup.Left].Length, v.r.Rods[setup.Right].Length; left == right {
		v.point("tie rod "+v.size(right), false, append(rods[setup.Right], rods[setup.Left]...))
	} else {
		v.point("tie rod "+v.size(right), false, rods[setup.Right])
		v.point("tie rod "+v.size(left), false, rods[setup.Left])
	}
	v.name("kingpin", kingpins...)
	v.name("drop arm", arms...)
	for i := range v.r.Scene.Pieces {
		if p := &v.r.Scene.Pieces[i]; p.Part != nil && p.Body == linkage.Input {
			return // has a name of its own
		}
	}
	var column []r2.Point
	_, up := v.column()
	for _, share := range [4]float64{0.25, 0.15, 0.35, 0.5} {
		if at := foot.Mul(1 - share).Add(up.Mul(share)); v.Rect.ExpandedByMargin(-2).ContainsPoint(v.At(at)) {
			column = append(column, at)
		}
	}
	if len(column) > 0 {
		v.name("column", column...)
	}
}
