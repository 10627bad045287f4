package report

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"locksweep/geometry/compare"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/render/wording"
)

// CompareOptions is what a comparison shows besides its figures.
type CompareOptions struct {
	Unit    setup.Unit
	Changes [][]string // by entry: what sets it apart, in words
	Sought  []string   // what --until found
	Colour  bool
}

// Columns of the table of a comparison.
const (
	mostBeside   = 4  // setups beside each other
	compareLabel = 22 // of the labels on the left
	noDifference = 2  // that the first setup, without differences, needs less than the average
)

// Compare returns the table of a comparison: figures that decide in rows, setups in columns.
func Compare(c *compare.Comparison, opt CompareOptions) []byte {
	p := &page{colour: opt.Colour}
	t := &comparison{page: p, c: c, unit: opt.Unit}
	p.title("Comparison")
	t.alarms(wording.Letter)
	for _, text := range opt.Sought {
		p.item(bold, text)
	}
	t.legend(opt.Changes)
	t.key()
	if c.Reference < 0 {
		return p.Bytes()
	}
	for _, block := range t.blocks() {
		p.line("", "")
		t.head(block)
		for _, g := range wording.Groups(opt.Unit, c.Path) {
			t.group(g, block)
		}
	}
	t.verdicts(wording.Letter, 0)
	p.line("", "")
	p.line("", "(kinematics only: rigid tyres, flat ground, no slip but what is said here)")
	p.caution()
	return p.Bytes()
}

// comparison is a table in the making.
type comparison struct {
	*page
	c    *compare.Comparison
	unit setup.Unit
	wide int // columns of a setup; the first takes noDifference less
}

// legend names the setups and says what sets each apart, or why it cannot be swept.
func (t *comparison) legend(changes [][]string) {
	for i := range t.c.Entries {
		e := &t.c.Entries[i]
		t.hang(wording.Letter(i)+"  ", bold, e.Name)
		if e.Err != nil {
			t.hang("   ", alarm, "cannot be compared: "+wording.Error(e.Err).Error())
		}
		if i < len(changes) {
			t.changes(changes, i)
		}
	}
}

// changes says what sets a setup apart: where that is all that is said of one above, and more, only what is more.
func (t *comparison) changes(of [][]string, i int) {
	const few = 2 // that are as soon said again
	own, like := of[i], -1
	for k := range i {
		if len(of[k]) > few && (like < 0 || len(of[k]) > len(of[like])) && !slices.ContainsFunc(of[k], func(text string) bool { return !slices.Contains(of[i], text) }) {
			like = k
		}
	}
	if like >= 0 {
		own = slices.DeleteFunc(slices.Clone(own), func(text string) bool { return slices.Contains(of[like], text) })
		t.hang("   ", "", "all that is said of "+wording.Letter(like)+map[bool]string{true: ", and"}[len(own) > 0])
	}
	for _, text := range own {
		t.hang("   ", "", text)
	}
}

// mostAlarms is how many different alarms are written; the machine-readable output holds all.
const mostAlarms = 6

// alarms says before all else which setups are not fit to be driven.
func (t *comparison) alarms(name func(i int) string) {
	for k, text := range wording.ComparedAlarms(t.c, name) {
		if k == mostAlarms {
			t.loud("and more alarms; --json lists them all")
			return
		}
		t.loud(text)
	}
}

// key says what the signs in the table mean.
func (t *comparison) key() {
	if t.c.Reference < 0 || len(t.c.Entries) < 2 {
		return
	}
	t.line("", "")
	t.line("", "Signed: difference to "+wording.Letter(t.c.Reference)+", = none.  * best of its row.  - no such figure.")
	if t.unsound() {
		t.line("", "! not sound: no star for such a setup, nor for one that cannot be compared.")
	}
}

// unsound reports whether any setup is out of the running.
func (t *comparison) unsound() bool {
	return slices.ContainsFunc(t.c.Entries, func(e compare.Entry) bool { return !e.Sound() })
}

// hang writes a wrapped text behind a mark, further lines below the first.
func (t *comparison) hang(mark, attribute, text string) {
	t.behind(attribute, mark, "   ", elide(text, 400))
}

// blocks splits the setups into those that stand beside each other. The reference begins every block.
func (t *comparison) blocks() (blocks [][]int) {
	block := []int{t.c.Reference}
	for i := range t.c.Entries {
		if i == t.c.Reference {
			continue
		}
		if len(block) == mostBeside {
			blocks, block = append(blocks, block), []int{t.c.Reference}
		}
		block = append(block, i)
	}
	blocks = append(blocks, block)
	t.wide = min((width-compareLabel+noDifference)/len(blocks[0]), 22) // none is longer than the first
	return blocks
}

// room returns how many columns of the page the k-th setup of a block has.
func (t *comparison) room(k int) int {
	if k == 0 {
		return t.wide - noDifference
	}
	return t.wide
}

// mostNameLines is how many lines the name of a setup takes over its column.
const mostNameLines = 3

// head writes letters and names over the columns.
func (t *comparison) head(block []int) {
	letters, names := make([]string, len(block)), make([][]string, len(block))
	for k, i := range block {
		lines := Wrap(t.c.Entries[i].Name, t.room(k)-1)
		if len(lines) > mostNameLines {
			lines = lines[:mostNameLines]
			last := []rune(lines[mostNameLines-1])
			lines[mostNameLines-1] = string(last[:min(len(last), t.room(k)-2)]) + "…"
		}
		letters[k], names[k] = wording.Letter(i), lines
	}
	t.cells(bold, "", letters)
	t.texts(bold, "", names)
}

// cells writes one line of the table, every cell right-aligned.
func (t *comparison) cells(attribute, label string, cells []string) {
	t.line(attribute, beside(label, compareLabel, cells, t.room))
}

// beside is a line of a table: a label so wide, and cells at the right of the room that each has.
func beside(label string, wide int, cells []string, room func(k int) int) string {
	line := label + strings.Repeat(" ", max(wide-utf8.RuneCountInString(label), 0))
	for k, cell := range cells {
		line += strings.Repeat(" ", max(room(k)-utf8.RuneCountInString(cell), 0)) + cell
	}
	return strings.TrimRight(line, " ")
}

// texts writes wrapped texts beside each other.
func (t *comparison) texts(attribute, label string, texts [][]string) {
	for n := range len(slices.MaxFunc(texts, func(a, b []string) int { return len(a) - len(b) })) {
		cells := make([]string, len(texts))
		for k, lines := range texts {
			if n < len(lines) {
				cells[k] = lines[n]
			}
		}
		t.cells(attribute, label, cells)
		label = ""
	}
}

// group writes the figures under one heading, leaving out those that no setup has.
func (t *comparison) group(g wording.Group, block []int) {
	t.line(bold, g.Heading)
	for _, f := range g.Figures {
		if f.Key == wording.StoppedKey {
			t.stops(f.Label, block)
			continue
		}
		row := t.c.Find(f.Key)
		switch {
		case f.Key == "width_narrowest" && !t.narrows():
			return
		case row.Split == compare.Single, row.Alike(block):
			t.figure(row, f.Label, 0, block)
		default:
			for side := range 2 {
				t.figure(row, f.Label+", "+setup.Side(side).String(), side, block)
			}
		}
	}
}

// narrows reports whether any setup is narrower with the wheels turned than straight ahead.
func (t *comparison) narrows() bool {
	return slices.ContainsFunc(t.c.Entries, func(e compare.Entry) bool {
		return e.Extent.Narrowest < e.Extent.Straight-compare.Length.Slack()
	})
}

// figure writes one row, unless no setup of the whole comparison has the figure.
func (t *comparison) figure(row *compare.Row, label string, side int, block []int) {
	if !slices.ContainsFunc(row.Values, func(v [2]float64) bool { return !math.IsNaN(v[side]) }) {
		return
	}
	cells := make([]string, len(block))
	for k, i := range block {
		cells[k] = marked(wording.Compared(t.unit, row.Kind, row.Values[i][side]), row.Best[i][side], row.Fails[i][side])
		if k > 0 {
			cells[k] += fmt.Sprintf(" %*s", differenceIs, t.by(row, i, side))
		}
	}
	t.cells("", "  "+label, cells)
}

// differenceIs is how many columns of the page a difference has.
const differenceIs = 6

// by says by how much an entry is more than the reference; = where they read alike.
func (t *comparison) by(row *compare.Row, i, side int) string {
	says := func(i int) string { return wording.Compared(t.unit, row.Kind, row.Values[i][side]) }
	switch d := t.c.Differs(row, i, side); {
	case math.IsNaN(d):
		return ""
	case says(i) == says(t.c.Reference):
		return "="
	default:
		return wording.ComparedBy(t.unit, row.Kind, row.Values[i][side], d)
	}
}

// stops says what stops the steering either way, of what it is as with the first of the block only that.
func (t *comparison) stops(label string, block []int) {
	for _, d := range sweep.Directions {
		first, texts := "", make([][]string, len(block))
		for k, i := range block {
			text := "-"
			if t.c.Entries[i].Result != nil {
				text = wording.Stopped(&t.c.Entries[i], d)
			}
			if k == 0 {
				first = text
			} else if text == first {
				text = "as " + wording.Letter(block[0])
			}
			texts[k] = Wrap(text, t.room(k)-1)
		}
		t.texts("", "  "+label+", "+d.String(), texts)
	}
}

// marked puts a star behind the best of a row, and ! behind what makes a setup unsound.
func marked(figure string, best, fails bool) string {
	switch {
	case fails:
		return figure + "!"
	case best:
		return figure + "*"
	}
	return figure + " "
}

// verdicts says below the table what is best at what, and why some setups are best at nothing. Today is the entry that
// changes nothing; -1 where none is that.
func (t *comparison) verdicts(name func(i int) string, today int) {
	if t.c.Reference < 0 || len(t.c.Entries) < 2 {
		return
	}
	t.unsoundReasons(name)
	t.heading("Best of those that are sound")
	list := t.c.Verdicts(today)
	for i := range list {
		t.item("", wording.Verdict(t.unit, &list[i], name))
	}
	if len(list) == 0 {
		t.item(alarm, "none is sound, so none is best at anything")
	}
}

// grouped returns what is said of entries, each once, and of which entries it is said; nothing is said where the text is empty.
func (t *comparison) grouped(say func(e *compare.Entry) string) (texts []string, of map[string][]int) {
	of = map[string][]int{}
	for i := range t.c.Entries {
		text := say(&t.c.Entries[i])
		if text != "" && of[text] == nil {
			texts = append(texts, text)
		}
		of[text] = append(of[text], i)
	}
	return texts, of
}

// unsoundReasons says of each setup that is not sound why, those alike together.
func (t *comparison) unsoundReasons(name func(i int) string) {
	reasons, of := t.grouped(func(e *compare.Entry) string {
		if e.Result == nil || e.Sound() {
			return ""
		}
		return wording.Faults(e)
	})
	if len(reasons) == 0 {
		return
	}
	t.heading("Not sound (!)")
	for k, why := range reasons {
		if k == mostReasons {
			t.item("", "and "+strconv.Itoa(len(reasons)-k)+" more; --json lists them all")
			break
		}
		t.item("", wording.Listed(of[why], name)+": "+why)
	}
	t.paragraph(wording.NeedsOfSound)
}
