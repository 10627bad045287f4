package compareview

import (
	"slices"
	"strings"

	"github.com/golang/geo/r2"

	"locksweep/geometry/clearance"
	"locksweep/geometry/compare"
	"locksweep/geometry/linkage"
	"locksweep/geometry/plan"
	"locksweep/geometry/planar"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/render/sheet"
	"locksweep/render/wording"
)

// Overlay draws the setups on one another from above, each in its own line type and colour: the whole vehicle
// straight ahead, and the linkage at a larger scale straight ahead and turned to a lock. What a setup has in
// common with the first is drawn once. Where setups' frames were cut the
// cuts of each are dimensioned on the first one's.
func Overlay(c *compare.Comparison, d sweep.Direction, opt sheet.Options) (*sheet.Sheet, error) {
	entries, remark := drawn(c)
	s, room := begin(c, opt, loud(c), "Comparison from above", names(c, entries), strings.TrimSpace(remark+" "+cutRemark(c, entries)))
	o := overlay{c: c, entries: entries, sheet: s, unit: unit(c)}
	room = legend(s, room, c, entries)
	views := []view{
		{title: "Straight ahead", at: straight, shows: func(*clearance.Piece) bool { return true }},
		{title: "Linkage, straight ahead", at: straight, shows: (*clearance.Piece).Steers, linkage: true},
		{title: "Linkage, steering wheel turned " + d.String() + " to its lock", at: func(r *sweep.Result) *linkage.Pose { return &r.Locks[d].Pose.Pose }, shows: (*clearance.Piece).Steers, linkage: true},
	}
	for i := range views {
		if err := o.see(&views[i]); err != nil {
			return nil, err
		}
	}
	o.place(room, views)
	for i := range views {
		o.draw(&views[i])
	}
	return s, nil
}

// overlay is the drawing in the making.
type overlay struct {
	c       *compare.Comparison
	entries []int
	sheet   *sheet.Sheet
	unit    setup.Unit
}

// view is the setups at one pose each.
type view struct {
	title   string
	linkage bool
	at      func(r *sweep.Result) *linkage.Pose
	shows   func(p *clearance.Piece) bool

	still  [][][]r2.Point // what stands on the frame of the first setup
	own    [][]piece      // by entry: its pieces that do not lie just as one of an earlier entry
	frame  r2.Rect        // the ground of the first setup's frame, what is at the kingpins left out
	ground r2.Rect
	rect   r2.Rect // on paper
	scale  sheet.Scale
}

// piece is a piece of the scene seen from above.
type piece struct {
	rings [][]r2.Point
	part  bool // given as a part, not by the figures of the steering
}

func straight(r *sweep.Result) *linkage.Pose { return &r.Straight.Pose }

// see takes what is drawn from the geometry.
func (o *overlay) see(v *view) error {
	v.ground, v.frame = r2.EmptyRect(), r2.EmptyRect()
	var all []piece
	for k, i := range o.entries {
		r := o.c.Entries[i].Result
		var own []piece
		for n := range r.Scene.Pieces {
			p := &r.Scene.Pieces[n]
			frame := p.Part != nil && p.Body == linkage.Frame
			if !v.shows(p) {
				continue
			}
			rings, err := plan.Silhouette(r.Scene, n, v.at(r))
			if err != nil {
				return err
			}
			covered := planar.Bounds(rings...)
			v.ground = v.ground.Union(covered)
			switch same := func(old [][]r2.Point) bool { return alike(old, rings) }; {
			case frame && k == 0:
				v.still = append(v.still, rings)
				if !p.Part.AtKingpin {
					v.frame = v.frame.Union(covered)
				}
			case frame && (slices.ContainsFunc(v.still, same) || o.c.Entries[i].Setup.Frame == nil):
			case !slices.ContainsFunc(all, func(old piece) bool { return alike(old.rings, rings) }):
				one := piece{rings, p.Part != nil}
				own, all = append(own, one), append(all, one)
			}
		}
		for _, side := range setup.Sides {
			v.ground = v.ground.AddPoint(flat(r.Setup.Centre(side)))
		}
		v.own = append(v.own, own)
	}
	return nil
}

// alike reports whether outlines are the same, but for what no pen shows.
func alike(a, b [][]r2.Point) bool {
	return slices.EqualFunc(a, b, func(p, q []r2.Point) bool {
		return slices.EqualFunc(p, q, func(x, y r2.Point) bool { return x.Sub(y).Norm() < 0.05 })
	})
}

const viewTitle = 7.0 // paper that the title of a view takes, mm

// place puts the views below each other, or on a sheet that lies the linkage beside the whole vehicle, at the
// scales that show most.
func (o *overlay) place(room r2.Rect, views []view) {
	whole, close := room, room
	lying := room.Size().X > room.Size().Y
	if lying {
		whole.X.Hi = room.X.Lo + 0.5*room.Size().X - gap/2
		close.X.Lo = whole.X.Hi + gap
	}
	fits := func(v *view, in r2.Rect, s sheet.Scale) bool { return v.ground.Size().Y*float64(s) <= in.Size().X }
	rows := func(s0, s1 sheet.Scale) float64 {
		two := views[1].height(s1) + views[2].height(s1) + gap
		if lying {
			return max(views[0].height(s0), two)
		}
		return views[0].height(s0) + gap + two
	}
	most := 0.0
	scales := scalesDown()
	for _, s0 := range scales {
		for _, s1 := range scales {
			if shows := float64(s0) * float64(s1); shows > most && fits(&views[0], whole, s0) && fits(&views[1], close, s1) &&
				fits(&views[2], close, s1) && rows(s0, s1) <= room.Size().Y {
				most = shows
				views[0].scale, views[1].scale, views[2].scale = s0, s1, s1
			}
		}
	}
	spare := room.Size().Y - rows(views[0].scale, views[1].scale)
	o.sheet.Scale = views[0].scale
	if lying {
		halves := sheet.Split(close, 1, 2, gap)
		views[0].rect, views[1].rect, views[2].rect = whole, halves[0], halves[1]
		return
	}
	for i := range views {
		room.Y.Hi = room.Y.Lo + views[i].height(views[i].scale) + spare/float64(len(views))
		views[i].rect = room
		room.Y.Lo = room.Y.Hi + gap
	}
}

// height is the paper that a view takes at a scale, mm.
func (v *view) height(s sheet.Scale) float64 { return v.ground.Size().X*float64(s) + viewTitle + 6 }

// scalesDown lists the scales of ISO 5455 from 1:1 down to the smallest that is of use for a vehicle.
func scalesDown() (list []sheet.Scale) {
	for s := sheet.Scale(1); s >= 0.005; s = s.Smaller() {
		list = append(list, s)
	}
	return list
}

// draw draws one view.
func (o *overlay) draw(v *view) {
	title := v.title + ", " + v.scale.String()
	cuts := o.cutsIn(v)
	if len(cuts) > 0 {
		title += ", with the cuts of " + cuts.names()
	}
	o.sheet.Text(r2.Point{X: v.rect.X.Lo, Y: v.rect.Y.Lo + 2.5}, sheet.E, sheet.Style{}, title)
	body := v.rect
	body.Y.Lo += viewTitle
	panel := o.sheet.NewPanel(body, sheet.Centred(body, v.ground, sheet.FromAbove, v.scale))
	for _, rings := range v.still {
		panel.Area(sheet.Thin.In(sheet.Grey), sheet.NoFill, rings...)
	}
	for k, i := range o.entries {
		for _, p := range v.own[k] {
			pen := sheet.CurvePens[k]
			if p.part || !v.linkage {
				pen.Width = sheet.Thin.Width
			}
			panel.Area(pen, sheet.NoFill, p.rings...)
		}
		centres(panel, o.c.Entries[i].Result)
	}
	for k := range cuts {
		o.cut(panel, v, &cuts[k], k)
	}
	o.names(panel, v)
}

// centres marks kingpins and the column's foot.
func centres(panel *sheet.Panel, r *sweep.Result) {
	for _, side := range setup.Sides {
		panel.Cross(sheet.Thin, flat(r.Setup.Centre(side)), 2)
	}
	if column, ok := r.Linkage.Axis(linkage.Input); ok {
		panel.Cross(sheet.Thin, flat(column.Point), 1.5)
	}
}

// names puts each setup's letter at its left pickup, where setups differ most, in the views of the linkage.
func (o *overlay) names(panel *sheet.Panel, v *view) {
	if !v.linkage {
		return
	}
	for k, i := range o.entries {
		r := o.c.Entries[i].Result
		at := flat(v.at(r).Rods[r.Linkage.Driver[setup.Left]].To)
		panel.Dot(sheet.CurvePens[k].Colour, at, 0.7)
		panel.Label(sheet.Label{At: at, Clear: 1.2, Within: v.rect, End: sheet.DotEnd, Style: sheet.Style{Colour: sheet.CurvePens[k].Colour, Max: 70},
			Lines: []string{wording.Letter(i)}, Prefer: []sheet.Dir{sheet.SW, sheet.W, sheet.NW, sheet.S}})
	}
}

// cut is one way in which frames are cut, with the letters of the setups that are cut so.
type cut struct {
	*setup.FrameCut
	letters string
	pen     sheet.Pen // of the first of them
}

type cuts []cut

// names is the letters of all setups whose frames are cut.
func (all cuts) names() string {
	said := make([]string, len(all))
	for i := range all {
		said[i] = all[i].letters
	}
	return strings.Join(said, ", ")
}

// cutsIn returns the ways in which the frames of a view's setups are cut, each once; none where the view does not show frames.
func (o *overlay) cutsIn(v *view) cuts {
	if v.frame.IsEmpty() {
		return nil
	}
	return cutsOf(o.c, o.entries)
}

// cutsOf is cutsIn of all that is drawn.
func cutsOf(all *compare.Comparison, entries []int) (list cuts) {
	for k, i := range entries[1:] {
		f, letter := all.Entries[i].Setup.Frame, wording.Letter(i)
		if f == nil {
			continue
		}
		same := slices.IndexFunc(list, func(c cut) bool { return c.Strip == f.Strip && c.Length == f.Length })
		if same >= 0 {
			list[same].letters += ", " + letter
			continue
		}
		pen := sheet.Centre.In(sheet.CurvePens[k+1].Colour)
		list = append(list, cut{f, letter, pen})
	}
	return list
}

// cutRemark says where the rest of what a builder chalks on is found; empty where no frame is cut.
func cutRemark(c *compare.Comparison, entries []int) string {
	shown := cutsOf(c, entries)
	switch len(shown) {
	case 0:
		return ""
	case 1:
		return "Where the cuts of " + shown.names() + " lie along each tube is in the list of check --variant."
	}
	return "Figures of cuts begin with the letter of their setup. Where the cuts of " + shown.names() + " lie along each tube is in the list of check --variant."
}

// dimOff is how far from what it measures a dimension of the cuts stands on paper, mm.
const dimOff = 8.0

// cut draws where the first setup's frame is cut in one way, the k-th, with the dimensions that are chalked on its tubes.
func (o *overlay) cut(panel *sheet.Panel, v *view, c *cut, k int) {
	mark := ""
	if len(o.cutsIn(v)) > 1 {
		mark = c.letters + " "
	}
	off := dimOff * float64(k+1)
	o.strip(panel, v, c, off, mark)
	length, right := c.Length, v.frame.Y.Lo
	if length.Out == 0 {
		return
	}
	across := func(x float64) {
		panel.Line(c.pen, r2.Point{X: x, Y: v.frame.Y.Hi}, r2.Point{X: x, Y: right})
	}
	across(length.At)
	panel.Dim(sheet.Vertical, r2.Point{Y: right}, r2.Point{X: length.At, Y: right}, off, mark+wording.Figure(o.unit, -length.At))
	if length.Out < 0 {
		panel.Label(sheet.Label{At: r2.Point{X: length.At, Y: right}, End: sheet.ArrowEnd,
			Lines: []string{mark + wording.Length(o.unit, -length.Out) + " set in"}, Prefer: []sheet.Dir{sheet.SE, sheet.E}})
		return
	}
	rear := length.At - length.Out
	across(rear)
	panel.Dim(sheet.Vertical, r2.Point{X: length.At, Y: right}, r2.Point{X: rear, Y: right}, off, mark+wording.Figure(o.unit, length.Out))
}

// strip draws the edges of what is taken out of the middle, and its width in front and at the rear.
func (o *overlay) strip(panel *sheet.Panel, v *view, c *cut, off float64, mark string) {
	t, front, rear := c.Strip, v.frame.X.Hi, v.frame.X.Lo
	if t.Front == 0 && t.Rear == 0 {
		return
	}
	edge := func(x, side float64) r2.Point { return r2.Point{X: x, Y: side * max(t.Width(x), 0) / 2} }
	for _, side := range [2]float64{1, -1} {
		line := []r2.Point{edge(front, side)}
		for _, x := range [2]float64{0, -t.Wheelbase} {
			if x < front && x > rear {
				line = append(line, edge(x, side))
			}
		}
		panel.Polyline(c.pen, append(line, edge(rear, side))...)
	}
	for _, end := range []struct{ x, off float64 }{{front, -off}, {rear, off}} {
		switch width := t.Width(end.x); {
		case width > 0:
			panel.Dim(sheet.Horizontal, edge(end.x, 1), edge(end.x, -1), end.off, mark+wording.Figure(o.unit, width))
		case width < 0:
			panel.Label(sheet.Label{At: r2.Point{X: end.x}, End: sheet.ArrowEnd, Lines: []string{mark + wording.Length(o.unit, -width) + " set in"}})
		}
	}
}
