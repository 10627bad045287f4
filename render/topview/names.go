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
	m := v.r.Linkage
	rods := [2][]r2.Point{}
	var arms, kingpins []r2.Point
	for i := range m.Rods {
		p := &v.pose.Rods[i]
		for _, share := range [5]float64{0.4, 0.3, 0.5, 0.6, 0.7} {
			rods[i] = append(rods[i], flat(p.From.Add(p.To.Sub(p.From).Mul(share))))
		}
		if m.FromDropArm(i) {
			arms = append(arms, flat(p.From).Add(flat(v.r.Setup.Column.Foot)).Mul(0.5))
		}
	}
	for _, side := range setup.Sides {
		kingpins = append(kingpins, flat(v.r.Setup.Centre(side)))
	}
	name := func(i int) string { return m.Rods[i].Part + " " + v.size(m.Rods[i].Length) }
	if name(0) == name(1) && m.Rods[0].Length == m.Rods[1].Length {
		v.point(name(1), false, append(rods[1], rods[0]...))
	} else {
		v.point(name(1), false, rods[1])
		v.point(name(0), false, rods[0])
	}
	v.name("kingpin", kingpins...)
	if m.Slides(linkage.Input) {
		rack := [2]r2.Point{flat(v.pose.Rods[0].From), flat(v.pose.Rods[1].From)}
		v.name("rack", rack[0].Add(rack[1]).Mul(0.5), rack[0].Mul(0.7).Add(rack[1].Mul(0.3)), rack[0].Mul(0.3).Add(rack[1].Mul(0.7)))
		return
	}
	v.name("drop arm", arms...)
	v.columnName()
}

// columnName names the column, unless a part of it has a name of its own.
func (v *view) columnName() {
	foot := flat(v.r.Setup.Column.Foot)
	for i := range v.r.Scene.Pieces {
		if p := &v.r.Scene.Pieces[i]; p.Part != nil && p.Body == linkage.Input {
			return
		}
	}
	var column []r2.Point
	_, up, _ := v.column()
	for _, share := range [4]float64{0.25, 0.15, 0.35, 0.5} {
		if at := foot.Mul(1 - share).Add(up.Mul(share)); v.Rect.ExpandedByMargin(-2).ContainsPoint(v.At(at)) {
			column = append(column, at)
		}
	}
	if len(column) > 0 {
		v.name("column", column...)
	}
}
