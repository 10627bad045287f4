package topview

import (
	"fmt"
	"slices"
	"strconv"

	"github.com/golang/geo/r2"

	"locksweep/geometry/sweep"
	"locksweep/render/sheet"
	"locksweep/render/wording"
)

// Rows of the words below or beside the views, mm.
const (
	row       = 4.4
	figures   = 34.0 // of a row of the list: number and both angles
	leastText = 35.0 // for what a limit is
)

// loud returns what must be known before anything else.
func (d *drawing) loud() []string {
	lines := wording.Alarms(d.r.Model, &d.r.Locks)
	if d.opt.Keys || d.terse >= alarmsNamed { // there is paper for little more
		return wording.Heads(lines)
	}
	if d.opt.Pose == nil {
		return lines
	}
	for _, dir := range sweep.Directions {
		if first := d.r.Locks[dir].First(); first != nil && d.pose.Column.Abs() > first.Column.Abs()+touchSlack && float64(d.pose.Column)*dir.Sign() > 0 {
			lines = append(lines, fmt.Sprintf("PAST THE %s LOCK: the steering stops at %s already; %s",
				[2]string{"LEFT", "RIGHT"}[dir], wording.Angle(first.Column.Abs()), wording.Limit(d.r.Model, first)))
		}
	}
	return lines
}

// tell puts into words what stands below the list: the Ackermann error, or what the pose is.
func (d *drawing) tell() {
	if d.opt.Pose != nil {
		d.said = append(d.said, wording.Pose(d.r, &d.pose))
		return
	}
	for _, l := range wording.Ackermann(d.r) {
		d.said = append(d.said, l.Label+": "+l.Text+".")
	}
}

// key says what the lines and the columns of the list mean.
func (d *drawing) key() string {
	text := "Dimensions in " + d.unit() + ". Wide line: steering and tyres; thin: frame"
	if !d.opt.Swing {
		text += "; dashed: under something higher"
	}
	for i := range d.r.Scene.Pieces {
		if d.r.Scene.Pieces[i].Assumed {
			text += "; grey: shape only assumed"
			break
		}
	}
	if len(d.touches) > 0 {
		text += "; T: touches straight ahead"
		if d.terse < alarmsNamed {
			text += ", in the order above"
		}
	}
	if d.opt.Pose != nil {
		return text + "; chain: axle lines; dashed from the inner wheel: its ideal axle line."
	}
	if d.opt.Swing {
		return text + "; chain with two dots: at the left lock, long dashes: at the right one. Dot: first contact; ring: what would be next. " +
			"It swings in a browser, and stands straight ahead on paper and where the system asks for less motion."
	}
	next := "ring: what would be next"
	for _, marks := range d.marks {
		if len(marks) > mostPoints && slices.ContainsFunc(marks[mostPoints:], func(m mark) bool { return m.Kind == sweep.Contact }) {
			next = "ring: what would be next, as far as the third limit"
		}
	}
	if d.opt.Sure != nil {
		text += "; wedge: where a wheel heads at that lock in 95 of a hundred that measure alike"
	}
	return text + "; chain with two dots: at the left lock, long dashes: at the right one, wide what touches there. Tint: swept by tyres and rods. " +
		"Dot: first contact; " + next + ". Steering: steering wheel angle; inner: of the inner wheel."
}

// unit names the unit of length.
func (d *drawing) unit() string { return [2]string{"millimetres", "inches"}[d.r.Setup.Unit] }

// wordsHeight is the paper that the words need in a column of the given width, mm.
func (d *drawing) wordsHeight(width float64) float64 {
	h, known := d.heights[width]
	if !known {
		h = d.measuredWords(width)
		d.heights[width] = h
	}
	return h
}

// measuredWords is wordsHeight by wrapping all of them.
func (d *drawing) measuredWords(width float64) float64 {
	h := 0.0
	for _, line := range d.said {
		h += sheet.ParagraphHeight(line, sheet.Small, width)
	}
	h += sheet.ParagraphHeight(d.key(), sheet.Fine, width) + sheet.ParagraphHeight(d.kept, sheet.Fine, width) + d.warnedHeight(width) + 2
	if d.opt.Pose != nil {
		return h
	}
	_, _, lists := d.listColumns(width)
	return h + d.stripHeight(width) + lists
}

// listColumns settles whether the limits of both ways stand side by side or one above the other,
// whichever is lower, and gives the width of a list and the height of both.
func (d *drawing) listColumns(width float64) (columns int, column, height float64) {
	half := (width - 2*gap) / 2
	beside := max(d.listHeight(sweep.ToLeft, half), d.listHeight(sweep.ToRight, half))
	above := d.listHeight(sweep.ToLeft, width) + d.listHeight(sweep.ToRight, width)
	if half-figures < leastText || above < beside {
		return 1, width, above
	}
	return 2, half, beside
}

// words writes what is to be looked at, the strip, the lists of limits, what is to be said, and what the numbers of parts stand
// for. ok is false where the list of numbers has no room.
func (d *drawing) words(room r2.Rect) (ok bool) {
	width := room.Size().X
	d.warned(&room)
	if d.opt.Pose == nil {
		height := d.stripHeight(width)
		d.strip(sheet.Rect(room.X.Lo, room.Y.Lo, width, height))
		room.Y.Lo += height
		columns, column, _ := d.listColumns(width)
		y := room.Y.Lo
		for i, dir := range sweep.Directions {
			if columns == 1 {
				y = room.Y.Lo
			}
			at := r2.Point{X: room.X.Lo + float64(i%columns)*(column+2*gap), Y: y}
			room.Y.Lo = max(room.Y.Lo, d.list(at, column, dir)+2)
		}
	}
	for _, line := range d.said {
		d.sheet.Say(&room, sheet.Style{}, 0, line)
	}
	room.Y.Lo++
	return d.explained(room)
}

// explained writes at the head of a room what lines and numbers mean, and reports whether the room holds it.
func (d *drawing) explained(room r2.Rect) bool {
	fine := sheet.Style{Height: sheet.Fine}
	d.sheet.Say(&room, fine, 0, d.key())
	if list := d.numberList(); list != "" {
		d.sheet.Say(&room, fine, 0, list)
	}
	return room.Y.Lo < room.Y.Hi+0.01
}

// mostLines is how many lines of the list one limit takes at most.
const mostLines = 4

// rowLines breaks what a limit is into lines.
func (d *drawing) rowLines(m mark, width float64) []string {
	lines := sheet.Wrap(wording.Limit(d.r.Model, &m.Limit), sheet.Small, width-figures)
	if len(lines) > mostLines {
		lines = append(lines[:mostLines-1], sheet.Shorten(lines[mostLines-1]+" …", sheet.Small, width-figures))
	}
	return lines
}

// listHeight is the paper that the limits of one direction take in a list of the given width, mm.
func (d *drawing) listHeight(dir sweep.Direction, width float64) float64 {
	n := 1
	for _, m := range d.marks[dir] {
		n += len(d.rowLines(m, width))
	}
	if d.more(dir) > 0 || n == 1 {
		n++
	}
	return float64(n)*row + 3
}

// more is how many limits are not listed.
func (d *drawing) more(dir sweep.Direction) int { return len(d.r.Locks[dir].Chain) - len(d.marks[dir]) }

// list writes the limits of one direction in order and returns where it ends.
func (d *drawing) list(at r2.Point, width float64, dir sweep.Direction) float64 {
	s := d.sheet
	y := at.Y + row/2
	text := func(x float64, side sheet.Dir, style sheet.Style, line string) {
		style.Max = width - x
		if side == sheet.W {
			style.Max = x
		}
		s.Text(r2.Point{X: at.X + x, Y: y}, side, style, line)
	}
	const column, wheel = 18.0, 31.0
	text(column, sheet.W, sheet.Style{Height: sheet.Fine}, "steering")
	text(wheel, sheet.W, sheet.Style{Height: sheet.Fine}, "inner")
	text(figures, sheet.E, sheet.Style{Colour: lockColours[dir]}, "Turned "+dir.String())
	y += row
	s.Line(sheet.Thin, r2.Point{X: at.X, Y: y - row/2 - 0.2}, r2.Point{X: at.X + width, Y: y - row/2 - 0.2})
	y += 0.8
	for _, m := range d.marks[dir] {
		text(0, sheet.E, sheet.Style{}, m.tag)
		text(column, sheet.W, sheet.Style{}, wording.Angle(m.Column.Abs()))
		text(wheel, sheet.W, sheet.Style{}, wording.Angle(m.wheel))
		for _, line := range d.rowLines(m, width) {
			text(figures, sheet.E, sheet.Style{}, line)
			y += row
		}
	}
	switch more := d.more(dir); {
	case more > 0:
		text(figures, sheet.E, sheet.Style{}, "and "+strconv.Itoa(more)+" more")
		y += row
	case len(d.marks[dir]) == 0:
		text(figures, sheet.E, sheet.Style{}, "nothing stops it within "+wording.Followed(d.r.Model))
		y += row
	}
	return y - row/2
}

// Paper about the warnings in their box, mm.
const (
	warnedInset = 2.0
	warnedGap   = 2.5 // below the box
)

// mostWarned is how many warnings stand on a sheet in full.
const mostWarned = 4

// What of the words is left out on a sheet that has no room for all: what each warning says, then what each alarm says too.
const (
	warningsCounted = iota + 1
	alarmsNamed
)

// warnings gives the heading and what is listed below it.
func (d *drawing) warnings() (heading string, list []string) {
	heading, list = wording.Counted(len(d.opt.Warned), "warning"), d.opt.Warned
	if d.terse >= warningsCounted {
		return heading + "; all are in the report of sweep", nil
	}
	if more := len(list) - mostWarned; more > 0 {
		heading += fmt.Sprintf(", the first %d of them; all are in the report of sweep", mostWarned)
		list = list[:mostWarned]
	}
	return heading, list
}

// warnedHeight is the paper that the box of warnings takes, 0 where there is none, mm.
func (d *drawing) warnedHeight(width float64) float64 {
	if len(d.opt.Warned) == 0 {
		return 0
	}
	heading, list := d.warnings()
	h := 2*warnedInset - 1 + sheet.ParagraphHeight(heading, sheet.Small, width-2*warnedInset)
	for _, text := range list {
		h += sheet.ParagraphHeight("! "+text, sheet.Fine, width-2*warnedInset) + 0.6
	}
	return h + warnedGap
}

// warned writes the warnings in a box at the head of a room, the worst first, and takes its paper from the room.
func (d *drawing) warned(room *r2.Rect) {
	if len(d.opt.Warned) == 0 {
		return
	}
	height := d.warnedHeight(room.Size().X)
	box := sheet.Rect(room.X.Lo, room.Y.Lo, room.Size().X, height-warnedGap)
	d.sheet.Polygon(sheet.Visible.In(sheet.Vermilion), sheet.NoFill, sheet.Corners(box)...)
	heading, list := d.warnings()
	inner := box.ExpandedByMargin(-warnedInset)
	d.sheet.Say(&inner, sheet.Style{Colour: sheet.Vermilion}, 0, heading)
	for _, text := range list {
		d.sheet.Say(&inner, sheet.Style{Height: sheet.Fine}, 0.6, "! "+text)
	}
	room.Y.Lo += height
}
