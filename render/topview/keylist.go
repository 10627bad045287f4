package topview

import (
	"cmp"
	"strings"

	"github.com/golang/geo/r2"

	"locksweep/render/sheet"
)

// keyRow is one key of the setup file on the sheets to write on.
type keyRow struct {
	key    string
	what   string
	unit   string // "len" is the file's unit of length
	blanks int    // figures of it; 0: words, or an outline that is traced
}

// keyTable is a table of the file with its keys. Corner tables have a blank for either side.
type keyTable struct {
	name   string
	corner bool
	rows   []keyRow
}

// rodRows are the keys of what a rod is made of.
func rodRows() []keyRow {
	rows := []keyRow{
		{"diameter", "of the rod", "len", 1}, {"rod_end.tilt", "of the joint either way until it binds", "deg", 1},
		{"rod_end.body", "eye centre to the end of the thread", "len", 1}, {"rod_end.eye", "outer diameter of the eye", "len", 1},
		{"rod_end.thread", "outer diameter of the thread", "len", 1}, {"rod_end.pitch", "from thread to thread", "len", 1},
		{"rod_end.shank", "how far the thread reaches from its end", "len", 1}, {"rod_end.yield", "strength of its shank, from the maker", "N/mm²", 1},
		{"tube.outer", "of the tube that the rod is cut from", "len", 1}, {"tube.wall", "likewise", "len", 1},
		{"material", "mild steel, nut steel or aluminium", "", 0}, {"engagement", "of the thread, in its diameters", "–", 1},
		{"yield", "strength of tube or bar", "N/mm²", 1}, {"left_hand", "one left-hand end: true/false", "", 0},
		{"donor.length", "old rod to make it from", "len", 1}, {"donor.thread_depth", "of its inside threads", "len", 1},
	}
	for _, end := range [2][2]string{{"bolt", "arm's end"}, {"inner_bolt", "other end"}} {
		rows = append(rows, keyRow{end[0] + ".offset", end[1] + ": eye middle to face", "len", 1},
			keyRow{end[0] + ".double", "held on both sides: true/false", "", 0},
			keyRow{end[0] + ".plain", "plain shank there: true/false", "", 0}, keyRow{end[0] + ".yield", "strength: 640 is class 8.8", "N/mm²", 1})
	}
	return rows
}

// holeRows are the keys of metal with holes, about an axis.
func holeRows(outline, at string) []keyRow {
	return []keyRow{
		{"outline", outline + ": trace", "len", 0}, {"up", "[lower, upper] face, along the axis", "len", 2}, {"holes.name", "each hole its own", "", 0},
		{"holes.at", at, "len", 2}, {"holes.up", "height of the rod's ball", "len", 1}, {"holes.diameter", "", "len", 1},
	}
}

// keyTables lists what the file takes, in its order, for the linkage that it describes.
func (d *drawing) keyTables() []keyTable {
	s := d.r.Setup
	list := []keyTable{
		{"", false, []keyRow{{"locksweep", "the format: 1", "", 1}, {"units", `"mm" or "in", for every length`, "", 0}, {"name", "of the vehicle", "", 0}, {"ignore", "pairs of parts never checked", "", 0}}},
		{"vehicle", false, []keyRow{{"wheelbase", "kingpin line to rear axle", "len", 1}, {"rear_track", "rear tyre middle to middle", "len", 1},
			{"rear_tyre.diameter", "over the tread", "len", 1}, {"rear_tyre.width", "at its widest", "len", 1}}},
		{"kingpin", true, []keyRow{{"spacing", "between the kingpin centres; once", "len", 1}, {"height", "kingpin centre above the floor", "len", 1},
			{"inclination", "front view, top inboard positive", "deg", 1}, {"caster", "side view, top rearward positive", "deg", 1}}},
		{"wheel", true, []keyRow{{"offset", "kingpin to tyre middle, along the stub", "len", 1}, {"lead", "stub ahead of the kingpin's axis", "len", 1},
			{"toe", "of one wheel, in positive", "deg", 1}, {"camber", "top outboard positive", "deg", 1}, {"tyre_diameter", "over the tread, at pressure", "len", 1},
			{"tyre_width", "at its widest", "len", 1}, {"tyre_shoulder", "radius between tread and side", "len", 1}}},
		{"arm", true, append([]keyRow{{"pickup", "rod's ball [forward, outboard, up]", "len", 3}, {"bolt", "way of its bolt, likewise", "–", 3}},
			holeRows("metal from above", "[forward, outboard], from above")...)},
	}
	if s.Rack != nil {
		list = append(list, keyTable{"rack", false, []keyRow{{"left", "inner ball, steering centred [x, y, z]", "len", 3}, {"right", "likewise", "len", 3},
			{"per_turn", "for one turn of the steering wheel", "len", 1}, {"travel", "each way from centre", "len", 1}, {"diameter", "of its metal between the balls", "len", 1},
			{"bolt", "way of both balls' bolts", "–", 3}, {"left_bolt", "or each its own", "–", 3}, {"right_bolt", "likewise", "–", 3}}})
	} else {
		pins := []keyRow{{"left", "rod's ball [down, left, along]", "len", 3}, {"right", "likewise", "len", 3}, {"pin", "instead: one hole for both", "len", 3},
			{"bolt", "way of the balls' bolts", "–", 3}, {"left_bolt", "or each its own", "–", 3}, {"right_bolt", "likewise", "–", 3}}
		if s.DragLink != nil {
			pins = []keyRow{{"pin", "drag link's ball [down, left, along]", "len", 3}, {"bolt", "way of its bolt", "–", 3}}
		}
		pins = append(pins, holeRows("metal along the column", "[down, left]")...)
		list = append(list, keyTable{"column", false, []keyRow{{"foot", "on the column's axis [x, y, z]", "len", 3}, {"rake", "above the horizontal", "deg", 1}, {"travel", "each way, if limited", "deg", 1}}},
			keyTable{"drop_arm", false, append(pins, keyRow{"thickness", "instead of up: centred on the pins", "len", 1})})
	}
	rods := []keyRow{{"length", "both rods, ball centre to ball centre", "len", 1}, {"left", "instead: each on its own", "len", 1}, {"right", "likewise", "len", 1}}
	if link := s.DragLink; link != nil {
		rods = []keyRow{{"length", "of the cross rod, ball to ball", "len", 1}}
		list = append(list, keyTable{"drag_link", false, append([]keyRow{{"side", "whose steering arm it turns", "", 0}, {"pickup", "its ball [forward, outboard, up]", "len", 3},
			{"pickup_bolt", "way of its bolt", "–", 3}, {"length", "ball centre to ball centre", "len", 1}}, rodRows()...)})
	}
	return append(list,
		keyTable{"tie_rod", true, append(rods, rodRows()...)},
		keyTable{"limits", true, []keyRow{{"spindle", "a stop that is not drawn, either way", "deg", 1}, {"clearance", "least gap wanted; once", "len", 1}, {"transmission", "least leverage wanted; once", "deg", 1}}},
		keyTable{"aims", false, []keyRow{{"lock", "wanted of the inner wheel", "deg", 1}, {"ackermann", "wanted: 100 is ideal", "%", 1}}},
		keyTable{"load", false, []keyRow{{"front", "on both front wheels, driver in", "kg", 1}, {"friction", "of tyre on ground", "–", 1}, {"pressure", "in the front tyres", "bar", 1},
			{"patch", "[length, width] of the tyre's print", "len", 2}, {"steering_wheel", "its diameter", "len", 1}, {"hand", "a hard pull at its rim", "N", 1},
			{"kerb", "a knock on one front wheel", "N", 1}, {"front_share", "of the weight: 0.45", "–", 1}, {"height", "of the mass centre", "len", 1}}},
		keyTable{"space", false, []keyRow{{"width", "narrowest place to pass", "len", 1}, {"length", "longest it may be there", "len", 1}}},
		keyTable{"accuracy", false, []keyRow{{"place", "± of places on the frame", "len", 1}, {"height", "± above the floor", "len", 1}, {"hole", "± of pickups, pins, holes", "len", 1},
			{"rod", "± of rod lengths", "len", 1}, {"outline", "± of metal", "len", 1}, {"tape", "± of tapes", "len", 1}, {"angle", "± of angles", "deg", 1}, {"turned", "± of wheels read", "deg", 1}, {"keys", "single figures by their paths", "", 0}}},
		keyTable{"[part]", false, []keyRow{{"name", "each part its own", "", 0}, {"on", "frame, spindle, column, tie_rod …", "", 0}, {"at", `"kingpin": fixed to the frame there`, "", 0}, {"mirror", "stands on both sides: true/false", "", 0},
			{"side", "left or right only", "", 0}, {"tube.diameter", "a round bar", "len", 1}, {"tube.path", "its points [x, y, z]", "len", 3}, {"plate.outline", "flat metal: trace", "len", 0},
			{"plate.up", "[lower, upper] face", "len", 2}, {"disc.centre", "[x, y, z]", "len", 3}, {"disc.axis", "its direction", "–", 3}, {"disc.diameter", "", "len", 1}, {"disc.width", "", "len", 1},
			{"grind", "metal may come off: true/false", "", 0}, {"stop", "meant to stop the wheels: true/false", "", 0}, {"soft", "hose, leg: true/false", "", 0}, {"bore", "round the kingpin", "len", 1},
			{"keep", "an area that must stay", "len", 0}, {"root", "both ends of the edge it hangs on", "len", 0}, {"min_wall", "metal to leave to bore or keep", "len", 1}, {"min_width", "narrower is no stop", "len", 1}, {"density", "7850 for steel", "kg/m³", 1}}},
	)
}

// alsoTaken names the tables of the file that nobody measures, or only when the vehicle stands.
const alsoTaken = "A part takes one page of its own block: copy the sheet. The file takes besides: [change] what a builder does (swap_spindles, turn_spindles_over, narrow, " +
	"narrow_rear, shorten, shorten_at, keep_frame, spacer, tyre and rear_tyre with diameter, width and shoulder, turn_drop_arm_over, lengthen_drop_arm, one_hole); [[variant]] name and set; " +
	"to hold the file against the vehicle [[taped]] from, to, distance, accuracy; [[turned]] column, left, right; [[mark]] name, at, accuracy. What differs on the right stands under right."

// Of a sheet to write on, mm.
const (
	keyRowHigh = 5.6
	leastKeys  = 115.0 // width of a column of keys
)

// keyLine is a row on paper: the heading of a table, or one of its keys.
type keyLine struct {
	table  string // of a heading
	corner bool
	keyRow
}

// keySheets are the sheets with every key of the file, its unit and a blank to write in.
func (d *drawing) keySheets() (sheets []*sheet.Sheet) {
	var lines []keyLine
	for _, t := range d.keyTables() {
		lines = append(lines, keyLine{table: cmp.Or(t.name, "at the top"), corner: t.corner})
		for _, row := range t.rows {
			if t.name != "" {
				row.key = strings.Trim(t.name, "[]") + "." + row.key
			}
			lines = append(lines, keyLine{corner: t.corner, keyRow: row})
		}
	}
	for len(lines) > 0 {
		t := d.title()
		t.Title, t.Desc = "What to measure: every key, to write in", "Every key of the setup file with its unit and a blank to write in."
		d.open(d.opt.Paper, t)
		room := d.sheet.Area().ExpandedByMargin(-edge)
		columns := max(1, int((room.Size().X+gap)/(leastKeys+gap)))
		foot := sheet.ParagraphHeight(alsoTaken, sheet.Fine, room.Size().X) + 1
		d.sheet.Paragraph(r2.Point{X: room.X.Lo, Y: room.Y.Hi - foot + 1}, room.Size().X, sheet.Style{Height: sheet.Fine}, alsoTaken)
		room.Y.Hi -= foot
		for _, column := range sheet.Split(room, columns, 1, gap) {
			lines = lines[d.keyColumn(column, lines):]
		}
		sheets = append(sheets, d.sheet)
	}
	return sheets
}

// keyColumn writes as many lines as a column holds, no heading as its last, and returns how many.
func (d *drawing) keyColumn(room r2.Rect, lines []keyLine) (n int) {
	most := int(room.Size().Y / keyRowHigh)
	n = min(most, len(lines))
	if n < len(lines) && lines[n-1].table != "" {
		n--
	}
	for i, line := range lines[:n] {
		d.keyLine(sheet.Rect(room.X.Lo, room.Y.Lo+float64(i)*keyRowHigh, room.Size().X, keyRowHigh), line)
	}
	return n
}

// keyLine writes one row: key, what it is, its unit, and a blank for it or one for either side.
func (d *drawing) keyLine(row r2.Rect, l keyLine) {
	width, y := row.Size().X, row.Center().Y
	at := func(share float64) r2.Point { return r2.Point{X: row.X.Lo + share*width, Y: y} }
	// Shares of the width: key, words, unit, blanks.
	const words, unit, blank, right = 0.30, 0.555, 0.62, 0.81
	fine := sheet.Style{Height: sheet.Fine}
	if l.table != "" {
		d.sheet.Text(r2.Point{X: row.X.Lo, Y: y + 0.6}, sheet.E, sheet.Style{}, "["+l.table+"]")
		if l.corner {
			d.sheet.Text(r2.Point{X: at((blank + right) / 2).X, Y: y + 0.8}, sheet.Over, fine, "left")
			d.sheet.Text(r2.Point{X: at((right + 1) / 2).X, Y: y + 0.8}, sheet.Over, fine, "right, if it differs")
		}
		d.sheet.Line(sheet.Visible, r2.Point{X: row.X.Lo, Y: row.Y.Hi}, row.Hi())
		return
	}
	key := sheet.Style{Height: sheet.LettersFor(l.key, words*width-1, sheet.Small, sheet.Fine), Max: words*width - 1}
	d.sheet.Text(r2.Point{X: row.X.Lo, Y: y}, sheet.E, key, l.key)
	said := sheet.Wrap(l.what, sheet.Fine, (unit-words)*width-1)
	for i, line := range said {
		d.sheet.Text(r2.Point{X: at(words).X, Y: y + 2.6*(float64(i)-float64(len(said)-1)/2)}, sheet.E, fine, line)
	}
	d.sheet.Text(at(unit), sheet.E, fine, strings.Replace(l.unit, "len", d.r.Setup.Unit.String(), 1))
	ends := []float64{blank, 1}
	if l.corner {
		ends = []float64{blank, right, 1}
	}
	for i := range ends[1:] {
		d.blank(at(ends[i]).X, at(ends[i+1]).X, row, max(1, l.blanks))
	}
	d.sheet.Line(sheet.Thin.In(sheet.Grey), r2.Point{X: row.X.Lo, Y: row.Y.Hi}, row.Hi())
}

// blank draws a blank for so many figures.
func (d *drawing) blank(from, to float64, row r2.Rect, figures int) {
	for i := range figures + 1 {
		pen := sheet.Thin.In(sheet.Grey)
		if i == 0 || i == figures {
			pen = sheet.Thin
		}
		x := from + (to-from)*float64(i)/float64(figures)
		d.sheet.Line(pen, r2.Point{X: x, Y: row.Y.Lo}, r2.Point{X: x, Y: row.Y.Hi})
	}
}
