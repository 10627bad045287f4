// Package card draws one page for the bench: what the finished vehicle should measure, with blanks beside to fill in.
package card

import (
	"fmt"
	"strings"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"locksweep/geometry/reconcile"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/render/sheet"
	"locksweep/render/wording"
)

// page is the card in the making.
type page struct {
	*sheet.Sheet
	card *reconcile.Card
	room r2.Rect // what is left of the sheet
	row  float64 // height of a row to write in, mm
}

// Sizes on paper, mm. A row is high enough to write in, unless alarms take the paper: then as high as its letters ask.
const (
	margin      = 3.0
	leastRow    = 3.8
	mostRow     = 9.0
	cell        = 1.6  // from a line to its text
	apart       = 2.6  // from one block to the next
	leastAround = 40.0 // kept at least for what stands about the tables
)

// Sheet draws the card on an upright page; command compares what was filled in, as it is typed.
func Sheet(c *reconcile.Card, opt sheet.Options, command string) *sheet.Sheet {
	s := wording.Sheet(opt, "Card: does the finished kart agree?", c.Setup, wording.Alarms(c.Model, &c.Locks), described(c))
	p := &page{Sheet: s, card: c, room: s.Area().ExpandedByMargin(-margin)}
	intro := "Set the steering straight and centred, then fill in the blanks. ±: what the file's figures leave open, 19 times in 20; " +
		"your reading has its own on top. What you write goes into the setup file, wheels as [[turned]], tapes as [[taped]], rods as " + wording.RodTables(c.Model) + " lengths; " +
		"then type: " + command
	p.row = p.rowHeight(intro, p.stops())
	p.Say(&p.room, sheet.Style{}, apart, intro)
	p.wheels()
	p.Say(&p.room, sheet.Style{}, apart, p.stops())
	p.tapes()
	p.gaps()
	p.signed()
	return s
}

// rowHeight shares out between the rows what the words leave of the room, mm.
func (p *page) rowHeight(words ...string) float64 {
	around := 5 * apart // below both paragraphs and all three tables
	for _, text := range words {
		around += sheet.ParagraphHeight(text, sheet.Small, p.room.Size().X)
	}
	rows := len(p.card.Turns) + len(p.card.Rods) + len(p.card.Tapes) + max(len(p.card.Gaps), 1) + 1 + 3 + 1 // toe; headings; the last line
	return max(leastRow, min(mostRow, (p.room.Size().Y-max(around, leastAround))/float64(rows)))
}

// column is a column of a table: its heading, its share of the width, and whether it is left to be written in.
type column struct {
	head  string
	share float64
	blank bool
}

// table draws rows below a heading, the first cell of a row from the left, others from the right.
func (p *page) table(columns []column, rows [][]string) {
	whole, head := 0.0, make([]string, len(columns))
	for i, c := range columns {
		whole, head[i] = whole+c.share, c.head
	}
	x, top := make([]float64, len(columns)+1), p.room.Y.Lo
	x[0] = p.room.X.Lo
	for i, c := range columns {
		x[i+1] = x[i] + c.share/whole*p.room.Size().X
	}
	for k, cells := range append([][]string{head}, rows...) {
		y := top + p.row*float64(k)
		for i, text := range cells {
			at, side := r2.Point{X: x[i] + cell, Y: y + p.row/2}, sheet.E
			if i > 0 {
				at.X, side = x[i+1]-cell, sheet.W
			}
			if text != "" {
				p.Text(at, side, sheet.Style{Max: x[i+1] - x[i] - 2*cell}, text)
			}
		}
		pen := sheet.Thin
		if k == 0 {
			pen = sheet.Visible
		}
		p.Line(pen, r2.Point{X: x[0], Y: y + p.row}, r2.Point{X: x[len(columns)], Y: y + p.row})
	}
	bottom := top + p.row*float64(len(rows)+1)
	p.ruled(columns, x, top, bottom)
	p.room.Y.Lo = bottom + apart
}

// ruled draws the lines about a table and its blanks, its columns from one x to the next.
func (p *page) ruled(columns []column, x []float64, top, bottom float64) {
	for i, c := range columns {
		if c.blank {
			for _, at := range x[i : i+2] {
				p.Line(sheet.Visible, r2.Point{X: at, Y: top}, r2.Point{X: at, Y: bottom})
			}
		}
	}
	for _, y := range [2]float64{top, bottom} {
		p.Line(sheet.Visible, r2.Point{X: x[0], Y: y}, r2.Point{X: x[len(columns)], Y: y})
	}
}

// wheels is the table of both wheels' angles.
func (p *page) wheels() {
	var rows [][]string
	for i, e := range p.card.Turns {
		row := []string{wording.Way(e.Column)}
		if e.Lock {
			row[0] = [2]string{"left", "right"}[min(i, 1)] + " lock, " + wording.Angle(e.Column.Abs())
		}
		for side := range e.Steer {
			row = append(row, wording.Way(e.Steer[side]), plusMinusAngle(e.PlusMinus[side]), "")
		}
		rows = append(rows, row)
	}
	p.table([]column{
		{"steering wheel", 36, false}, {"left wheel", 26, false}, {"±", 14, false}, {"read", 24, true}, {"right wheel", 26, false}, {"±", 14, false}, {"read", 24, true},
	}, rows)
}

// plusMinusAngle writes by how much an angle may be off, in degrees without their sign.
func plusMinusAngle(a s1.Angle) string { return wording.Fixed(a.Degrees(), 1) }

// stops says what stops the wheels either way.
func (p *page) stops() string {
	var said []string
	for _, d := range sweep.Directions {
		said = append(said, "Turned "+d.String()+": "+wording.StoppedBy(p.card.Result, d)+".")
	}
	return strings.Join(said, " ")
}

// tapes is the table of lengths: rods, toe, tapes.
func (p *page) tapes() {
	u := p.card.Setup.Unit
	var rows [][]string
	add := func(name string, l *reconcile.Length) {
		rows = append(rows, []string{name, wording.TapeLength(u, l.Distance), wording.Figure(u, l.PlusMinus), ""})
	}
	for i := range p.card.Rods {
		add(p.card.Rods[i].Name+", centre to centre", &p.card.Rods[i])
	}
	add("toe: tyres behind less ahead, at hub height", &p.card.Toe)
	for i := range p.card.Tapes {
		add(p.card.Tapes[i].From+" to "+p.card.Tapes[i].To, &p.card.Tapes[i])
	}
	p.table([]column{{"tape, steering centred", 80, false}, {"by file", 38, false}, {"± " + u.String(), 16, false}, {"taped", 34, true}}, rows)
}

// gaps is the table of what to feel.
func (p *page) gaps() {
	u := p.card.Setup.Unit
	var rows [][]string
	for _, n := range p.card.Gaps {
		a, b := wording.Pair(p.card.Model, n.Pair)
		rows = append(rows, []string{a + " – " + b, "at " + wording.Way(n.Column), wording.Length(u, n.Gap), ""})
	}
	if len(rows) == 0 {
		rows = append(rows, []string{"nothing comes near within the locks", "", "", ""})
	}
	p.table([]column{{"gap to feel", 82, false}, {"steering wheel", 30, false}, {"by file", 22, false}, {"felt", 32, true}}, rows)
}

// signed is the last line: who measured, and when.
func (p *page) signed() {
	y := p.room.Y.Lo + p.row - 1
	half := p.room.Size().X / 2
	for i, word := range [2]string{"date", "initials"} {
		x := p.room.X.Lo + half*float64(i)
		p.Text(r2.Point{X: x + cell, Y: y - 1.4}, sheet.E, sheet.Style{}, word)
		p.Line(sheet.Thin, r2.Point{X: x + 18, Y: y}, r2.Point{X: x + half - 6, Y: y})
	}
}

// described is the page in words, for who cannot see it.
func described(c *reconcile.Card) string {
	u := c.Setup.Unit
	var said []string
	for _, e := range c.Turns {
		said = append(said, fmt.Sprintf("Steering wheel %s: left wheel %s ± %s, right wheel %s ± %s.", wording.Way(e.Column),
			wording.Way(e.Steer[setup.Left]), plusMinusAngle(e.PlusMinus[0]), wording.Way(e.Steer[setup.Right]), plusMinusAngle(e.PlusMinus[1])))
	}
	for _, r := range c.Rods {
		said = append(said, fmt.Sprintf("%s %s.", wording.Capital(r.Name), wording.TapeLength(u, r.Distance)))
	}
	for _, t := range c.Tapes {
		said = append(said, fmt.Sprintf("%s to %s %s ± %s.", wording.Capital(t.From), t.To, wording.TapeLength(u, t.Distance), wording.Length(u, t.PlusMinus)))
	}
	return "What the finished kart should measure, with blanks to fill in. " + strings.Join(said, " ")
}
