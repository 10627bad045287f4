package topview

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/golang/geo/r2"

	"locksweep/geometry/linkage"
	"locksweep/geometry/planar"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/render/sheet"
)

// Of the parts, one is named for so much paper of a view, mm², and at most so many in one view.
const (
	nameArea  = 1400.0
	mostNames = 12
)

// shown is a part in the view in which it is to be named, and where it can be pointed at there.
type shown struct {
	name   string
	view   *view
	places []r2.Point
}

// partNames names the parts of the file, each once, what stops the steering first: in the view of the linkage if they are seen
// there, else on the whole vehicle; where the front axle has a sheet of its own, only there. Those for whose names there is no room get
// numbers.
func (d *drawing) partNames(views []*view) {
	var numbers []shown
	named, written := map[string]bool{}, map[string]shown{}
	left := make([]int, len(views))
	for k, v := range views {
		size := v.Rect.Size()
		left[k] = min(mostNames, int(size.X*size.Y/nameArea))
	}
	for _, i := range d.namingOrder() {
		p := &d.r.Scene.Pieces[d.outlines[i].Piece]
		if p.Part == nil || named[p.Name] || d.apart && d.onAxle(p.Name) {
			continue
		}
		named[p.Name] = true
		k, places := pointedAt(views, p.Name)
		part := shown{setup.Printable(p.Name), views[k], places}
		switch {
		case len(places) == 0:
		case left[k] > 0:
			left[k]--
			written[views[k].name(part.name, places...)] = part
		default:
			numbers = append(numbers, part)
		}
	}
	for _, line := range d.sheet.Settle() {
		if part, ok := written[line]; ok {
			numbers = append(numbers, part)
		}
	}
	for _, part := range numbers {
		d.number(part)
	}
	d.sheet.Settle()
	if list := d.numberList(); list != "" {
		d.sheet.Title.Desc += " " + list
	}
}

// onAxle reports whether all of a part lies within the ground that the front axle's own sheet shows.
func (d *drawing) onAxle(name string) bool {
	for i := range d.outlines {
		if d.r.Scene.Pieces[d.outlines[i].Piece].Name == name && !d.linkage.Contains(planar.Bounds(d.outlines[i].Rings...)) {
			return false
		}
	}
	return true
}

// pointedAt picks the view in which a part is named, the last that shows a stretch of it to be pointed at, else the last that shows
// anything of it, and gives the places there; none where it is hidden.
func pointedAt(views []*view, name string) (k int, places []r2.Point) {
	for _, least := range [2]float64{leastStretch, 0} {
		for k = len(views) - 1; k >= 0; k-- {
			if places = views[k].anchors(name, least); len(places) > 0 {
				return k, places
			}
		}
	}
	return 0, nil
}

// number points at a part with the next number, which the list of numbers explains.
func (d *drawing) number(part shown) {
	d.numbered = append(d.numbered, part.name)
	part.view.Label(sheet.Label{At: part.places[0], Or: part.places[1:], Clear: 0.2, Ring: true, End: sheet.DotEnd, Within: part.view.room,
		Style: sheet.Style{Height: sheet.Fine, Max: 12}, Lines: []string{strconv.Itoa(len(d.numbered))}})
}

// numberList says what the numbers stand for; empty where there is none.
func (d *drawing) numberList() string {
	var said []string
	unplaced := d.sheet.Unplaced()
	for i, name := range d.numbered {
		number := strconv.Itoa(i + 1)
		if slices.Contains(unplaced, number) {
			name += " (no room to point at it)"
		}
		said = append(said, number+" "+name)
	}
	if said == nil {
		return ""
	}
	return "Numbers: " + strings.Join(said, ", ") + "."
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

// name writes what a line of the drawing is, at the place of those given that suits best, and returns the words as they are
// written. In the view of the linkage it is left out rather than written far off.
func (v *view) name(text string, places ...r2.Point) string { return v.point(text, v.close, places) }

// point is name with a word whether the name may be left out.
func (v *view) point(text string, optional bool, places []r2.Point) string {
	if v.close {
		inside := v.Rect.ExpandedByMargin(-1)
		places = slices.DeleteFunc(slices.Clone(places), func(p r2.Point) bool { return !inside.ContainsPoint(v.At(p)) })
	}
	if len(places) == 0 {
		return ""
	}
	text = sheet.Shorten(text, sheet.Small, mostName)
	v.Label(sheet.Label{At: places[0], Or: places[1:], Clear: 0.2, End: sheet.ArrowEnd, Optional: optional, Within: v.room,
		Style: sheet.Style{Max: mostName}, Lines: []string{text}})
	return text
}

// mostName is the longest name of a part in a view, mm.
const mostName = 42.0

// Of the outlines of a part, stretches at least so long on paper are pointed at, mm, and at most so many.
const (
	leastStretch = 2.5
	mostStretch  = 16
)

// anchors returns where a part can be pointed at in the view: the middles of the straight stretches of its pieces, of least on
// paper, mm, that are seen there, the longest first; of long ones other points too.
func (v *view) anchors(name string, least float64) []r2.Point {
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
				if length < least {
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
