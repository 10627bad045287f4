// Package grindview draws a plan to grind: each plate in its own plane with the metal to remove hatched and
// what it makes room for, and the curve of lock against depth. It lays out what grind has found and
// computes nothing.
package grindview

import (
	"fmt"
	"slices"

	"github.com/golang/geo/r1"
	"github.com/golang/geo/r2"

	"locksweep/geometry/grind"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/render/sheet"
	"locksweep/render/wording"
)

const (
	gap        = 4.0  // between panels, mm of paper
	headHeight = 7.0  // of the line above a panel
	aside      = 11.0 // kept about a plate for labels
)

// Sheet draws every plate before and after on one sheet.
func Sheet(p *grind.Plan, opt sheet.Options) (*sheet.Sheet, error) {
	if len(p.Cuts) == 0 {
		return nil, fmt.Errorf("there is nothing to draw: %s", wording.GrindAnswer(p))
	}
	s := draw(p, opt, true)
	if len(s.Unplaced()) > 0 {
		s = draw(p, opt, false)
	}
	return s, nil
}

// draw lays a plan out; strict keeps labels off every line, which there is not always room for.
func draw(p *grind.Plan, opt sheet.Options, strict bool) *sheet.Sheet {
	s := wording.Sheet(opt, "Metal to grind off, before and after", p.Model.Setup, wording.Alarms(p.Model, &p.Before),
		"Each plate in its own plane with the metal to remove hatched. "+wording.GrindAnswer(p))
	s.Strict = strict
	room := s.Area().ExpandedByMargin(-3)
	s.Say(&room, sheet.Style{}, 1, wording.GrindAnswer(p))
	for _, text := range wording.GrindShouts(p) {
		s.Say(&room, sheet.Style{Colour: sheet.Vermilion}, 1, text)
	}
	room.Y.Lo = legend(s, p, r2.Point{X: room.X.Lo, Y: room.Y.Lo + 1}, room.Size().X) + 2
	rooms, scale := arrange(p.Cuts, room)
	s.Scale = scale
	for i, c := range p.Cuts {
		plate(s, p, c, rooms[i], scale)
	}
	return s
}

// arrange shares the paper out among the cuts in the number of columns that lets them be drawn largest.
func arrange(cuts []*grind.Cut, area r2.Rect) (best []r2.Rect, largest sheet.Scale) {
	for columns := 1; columns <= len(cuts); columns++ {
		rooms := sheet.Split(area, columns, (len(cuts)+columns-1)/columns, gap)
		scale := sheet.Scale(2)
		for i, c := range cuts {
			size, room := c.Bounds().Size(), rooms[i].Size()
			scale = min(scale, sheet.FitScaleUpTo(2, size.Y, size.X, room.X-2*aside, room.Y-headHeight-2*aside))
		}
		if scale > largest {
			best, largest = rooms, scale
		}
	}
	return best, largest
}

// axes lays a plate on the sheet as it is seen from above: forward up the sheet, outboard to its own side.
func axes(m *sweep.Model, c *grind.Cut) sheet.Axes {
	piece := &m.Scene.Pieces[c.Piece]
	return sheet.FromAboveOn(piece.Sided && piece.Side == setup.Right)
}

// plate draws one cut: the plate whole, and where there is room for it what comes off at a larger scale.
func plate(s *sheet.Sheet, p *grind.Plan, c *grind.Cut, room r2.Rect, scale sheet.Scale) {
	s.Text(r2.Point{X: room.X.Lo + 1, Y: room.Y.Lo + headHeight/2}, sheet.E, sheet.Style{Height: sheet.Medium, Max: room.Size().X - 2},
		heading(p, c))
	frame := room
	frame.Y.Lo += headHeight
	s.Polygon(sheet.Thin.In(sheet.Grey), sheet.NoFill, sheet.Corners(frame)...)
	whole, detail, larger := divide(c, frame, scale)
	v := s.NewPanel(whole, sheet.Centred(whole, shown(c, whole, scale), axes(p.Model, c), scale))
	close := v
	outlines(v, p, c)
	if c.AtKingpin() {
		v.Label(sheet.Label{At: r2.Point{}, Clear: v.View.Length(c.Part.Bore/2) + 1, Within: whole.ExpandedByMargin(-1), Lines: []string{"kingpin"},
			Prefer: []sheet.Dir{sheet.NE, sheet.NW, sheet.SE, sheet.SW}})
	}
	for _, pad := range pads(p, c) {
		v.Label(sheet.Label{At: pad.At, Within: whole.ExpandedByMargin(-1), End: sheet.ArrowEnd, Lines: []string{"stop pad", "gives " + wording.Angle(pad.Lock)}})
	}
	if larger > scale {
		s.Text(r2.Point{X: detail.X.Lo + 2, Y: detail.Y.Lo - caption/2}, sheet.E, sheet.Style{Max: detail.Size().X - 4}, "the cut, "+larger.String())
		s.Polygon(sheet.Thin.In(sheet.Grey), sheet.NoFill, sheet.Corners(detail)...)
		close = s.NewPanel(detail, sheet.Centred(detail, near(c), axes(p.Model, c), larger))
		outlines(close, p, c)
	}
	cutLabels(v, close, p, c)
}

// heading names a plate and how deep its cut is, where one depth says it.
func heading(p *grind.Plan, c *grind.Cut) string {
	name := wording.Piece(p.Model, c.Piece)
	if wording.Apart(c) {
		return name
	}
	return name + ": " + wording.Length(p.Model.Setup.Unit, c.Depth)
}

const (
	about       = 8.0 // of what surrounds a cut that its detail shows, mm
	detailScale = 5   // largest
	caption     = 6.0 // above a detail, mm of paper
)

// near is what the detail of a cut shows: the finished outline where it is new, and what surrounds it.
func near(c *grind.Cut) r2.Rect {
	box := r2.EmptyRect()
	for _, q := range c.After {
		if !slices.Contains(c.Before, q) {
			box = box.AddPoint(q)
		}
	}
	for _, b := range c.Bites {
		box = box.AddPoint(b.At[0]).AddPoint(b.At[1])
	}
	return box.ExpandedByMargin(about)
}

// divide keeps of a panel what the whole plate takes, and gives the rest to the detail of its cut: below or
// beside it, where the detail becomes larger. The detail's scale is no more than the plate's where there is no room.
func divide(c *grind.Cut, frame r2.Rect, scale sheet.Scale) (whole, detail r2.Rect, larger sheet.Scale) {
	size, cut := c.Bounds().Size().Mul(float64(scale)), near(c).Size() // forward is up the sheet
	below, beside := frame, frame
	below.Y.Lo += size.X + 2*aside + caption
	beside.X.Lo += size.Y + 2*aside
	beside.Y.Lo += caption
	whole = frame
	for i, rest := range []r2.Rect{below, beside} {
		if rest.X.Length() <= 0 || rest.Y.Length() <= 0 {
			continue
		}
		fits := sheet.FitScaleUpTo(detailScale, cut.Y, cut.X, rest.X.Length(), rest.Y.Length())
		if fits <= scale || fits <= larger {
			continue
		}
		whole, detail, larger = frame, rest, fits
		if i == 0 {
			whole.Y.Hi = rest.Y.Lo - caption
		} else {
			whole.X.Hi = rest.X.Lo
		}
	}
	return whole, detail, larger
}

// shown is what the view of the whole plate shows: the plate, and as much of its obstacles as there is room for.
func shown(c *grind.Cut, frame r2.Rect, scale sheet.Scale) r2.Rect {
	box := c.Bounds()
	all := box
	for _, sight := range c.Sights {
		for _, ring := range sight.Rings {
			all = all.Union(r2.RectFromPoints(ring...))
		}
	}
	room := frame.ExpandedByMargin(-4).Size().Mul(1 / float64(scale))
	return r2.Rect{X: widened(box.X, all.X, room.Y), Y: widened(box.Y, all.Y, room.X)}
}

// widened goes from one interval towards a wider one as far as a length lets it.
func widened(from, to r1.Interval, length float64) r1.Interval {
	more := to.Length() - from.Length()
	if more <= 0 {
		return from
	}
	share := max(0, min(1, (length-from.Length())/more))
	return r1.Interval{Lo: from.Lo + (to.Lo-from.Lo)*share, Hi: from.Hi + (to.Hi-from.Hi)*share}
}

// outlines draws the plate before and after, what it makes room for, and what it turns about.
func outlines(v *sheet.Panel, p *grind.Plan, c *grind.Cut) {
	for _, sight := range c.Sights {
		v.Area(sheet.Phantom, sheet.Shade, sight.Rings...)
	}
	for _, b := range c.Bites {
		v.Area(sheet.NoPen, sheet.Removed, b.Rings...)
	}
	v.Polygon(sheet.Thin, sheet.NoFill, c.Before...)
	v.Polygon(sheet.Visible, sheet.NoFill, c.After...)
	if len(c.Part.Keep) > 0 {
		v.Polygon(sheet.Hidden, sheet.NoFill, c.Part.Keep...)
	}
	kingpin(v, c)
	for _, pad := range pads(p, c) {
		v.Polygon(sheet.Hidden, sheet.NoFill, pad.Outline...)
	}
}

// kingpin marks what a plate turns about, and its bore.
func kingpin(v *sheet.Panel, c *grind.Cut) {
	if !c.AtKingpin() {
		return
	}
	arm := 5.0
	if c.Part.Bore > 0 {
		v.Circle(sheet.Visible, sheet.Paper, r2.Point{}, c.Part.Bore/2)
		arm = v.View.Length(c.Part.Bore/2) + 3
	}
	v.Cross(sheet.Centre, r2.Point{}, arm)
}

// pads lists the stop pads that are proposed on a plate.
func pads(p *grind.Plan, c *grind.Cut) (list []*grind.Place) {
	for _, d := range sweep.Directions {
		if pad := p.Stops[d].Pad; pad != nil && pad.Piece == c.Piece {
			list = append(list, pad)
		}
	}
	return list
}

// cutLabels tells how deep the cut is, with the text away from the outlines, and names what it makes room for: in the closer view, or of
// the whole plate where the words are too wide for that.
func cutLabels(whole, close *sheet.Panel, p *grind.Plan, c *grind.Cut) {
	within := close.Rect.ExpandedByMargin(-1)
	for _, sight := range c.Sights {
		at, ok := inside(sight.Rings, near(c))
		if !ok {
			continue
		}
		label := sheet.Label{At: at, Within: within, End: sheet.DotEnd,
			Lines: []string{wording.Piece(p.Model, sight.Piece), fmt.Sprintf("turned %s, %s %s", sight.Way, whose(p, c), wording.Angle(sight.Steer))}}
		view := close
		if max(sheet.TextWidth(label.Lines[0], sheet.Small), sheet.TextWidth(label.Lines[1], sheet.Small)) > within.Size().X {
			view, label.Within = whole, whole.Rect.ExpandedByMargin(-1)
		}
		view.Label(label)
	}
	for _, b := range c.Bites {
		close.Span(b.At[0], b.At[1], 8)
		close.Label(sheet.Label{At: b.At[0].Add(b.At[1]).Mul(0.5), Within: within, End: sheet.DotEnd, Lines: wording.BiteMark(p.Model.Setup.Unit, c, &b)})
	}
}

// whose names the wheel that a pose is told by: that of the plate, or the one inside the turn.
func whose(p *grind.Plan, c *grind.Cut) string {
	if p.Model.Scene.Pieces[c.Piece].Sided {
		return "this wheel at"
	}
	return "inner wheel at"
}

// inside picks a point to name an obstacle by: from its corner nearest to the middle of the cut some way to
// its own middle.
func inside(rings [][]r2.Point, cut r2.Rect) (best r2.Point, ok bool) {
	var middle r2.Point
	for _, ring := range rings {
		for _, q := range ring {
			if !ok || q.Sub(cut.Center()).Norm() < best.Sub(cut.Center()).Norm() {
				best, ok, middle = q, true, r2.RectFromPoints(ring...).Center()
			}
		}
	}
	way := middle.Sub(best)
	return best.Add(way.Normalize().Mul(min(about, way.Norm()))), ok
}

// Of the legend on paper, mm: a row, and what lies between the words of a sample and the next sample.
const (
	legendRow  = 5.2
	legendNext = 6.0
)

// sample is one kind of line or area with what it stands for.
type sample struct {
	text string
	draw func(s *sheet.Sheet, box r2.Rect)
}

// samples is what the plates of a plan are drawn with.
func samples(p *grind.Plan) []sample {
	line := func(pen sheet.Pen) func(*sheet.Sheet, r2.Rect) {
		return func(s *sheet.Sheet, box r2.Rect) {
			y := box.Center().Y
			s.Line(pen, r2.Point{X: box.X.Lo, Y: y}, r2.Point{X: box.X.Hi, Y: y})
		}
	}
	area := func(pen sheet.Pen, fill sheet.Fill) func(*sheet.Sheet, r2.Rect) {
		return func(s *sheet.Sheet, box r2.Rect) { s.Polygon(pen, fill, sheet.Corners(box)...) }
	}
	list := []sample{
		{"outline as it is", line(sheet.Thin)}, {"finished outline", line(sheet.Visible)}, {"metal that comes off", area(sheet.Thin, sheet.Removed)},
	}
	if slices.ContainsFunc(p.Cuts, func(c *grind.Cut) bool { return len(c.Sights) > 0 }) {
		list = append(list, sample{"what it makes room for, at the angle named", area(sheet.Phantom, sheet.Shade)})
	}
	keep := slices.ContainsFunc(p.Cuts, func(c *grind.Cut) bool { return len(c.Part.Keep) > 0 })
	pad := slices.ContainsFunc(p.Cuts, func(c *grind.Cut) bool { return len(pads(p, c)) > 0 })
	switch {
	case keep && pad:
		list = append(list, sample{"area to keep; stop pad, by its name", line(sheet.Hidden)})
	case keep:
		list = append(list, sample{"area to keep", line(sheet.Hidden)})
	case pad:
		list = append(list, sample{"stop pad", line(sheet.Hidden)})
	}
	return list
}

// legend says in rows of samples what lines and areas stand for, and returns where it ends.
func legend(s *sheet.Sheet, p *grind.Plan, at r2.Point, width float64) float64 {
	x, y := at.X, at.Y
	for _, one := range samples(p) {
		need := sheet.SampleWide + sheet.SampleGap + sheet.TextWidth(one.text, sheet.Small)
		if x > at.X && x+need > at.X+width {
			x, y = at.X, y+legendRow
		}
		one.draw(s, sheet.Rect(x, y+(legendRow-sheet.SampleHigh)/2, sheet.SampleWide, sheet.SampleHigh))
		s.Text(r2.Point{X: x + sheet.SampleWide + sheet.SampleGap, Y: y + legendRow/2}, sheet.E, sheet.Style{}, one.text)
		x += need + legendNext
	}
	return y + legendRow
}
