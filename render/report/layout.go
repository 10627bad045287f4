package report

import (
	"bytes"
	"fmt"
	"strings"
	"unicode/utf8"

	"locksweep/geometry/setup"
	"locksweep/render/wording"
)

const (
	width   = 80 // columns of the page
	labelIs = 16 // columns of the labels on the left
)

// page is a text of at most 80 columns in the making.
type page struct {
	bytes.Buffer
	colour bool
	known  wording.Known // how exactly the figures of the setup as it stands are known
}

// The few attributes of a terminal that are used; each only repeats what the words say.
const (
	bold  = "1"
	alarm = "1;31"
)

// line writes text as it stands.
func (p *page) line(attribute, text string) {
	if p.colour && attribute != "" && text != "" {
		text = "\x1b[" + attribute + "m" + text + "\x1b[0m"
	}
	p.WriteString(text + "\n")
}

// heading begins a section.
func (p *page) heading(text string) {
	p.line("", "")
	p.line(bold, text)
}

// row writes a label and beside it a text, wrapped.
func (p *page) row(label, text string) {
	for i, line := range Wrap(text, width-labelIs) {
		if i > 0 {
			label = ""
		}
		p.line("", label+strings.Repeat(" ", max(labelIs-utf8.RuneCountInString(label), 1))+line)
	}
}

// rows writes a label and beside it texts, one below the other.
func (p *page) rows(label string, texts []string) {
	for _, text := range texts {
		p.row(label, text)
		label = ""
	}
}

// paragraph writes a text as wide as the page.
func (p *page) paragraph(text string) {
	p.behind("", "", "", text)
}

// behind writes a wrapped text behind a mark, its further lines behind another.
func (p *page) behind(attribute, mark, next, text string) {
	for _, line := range Wrap(text, width-len(next)) {
		p.line(attribute, mark+line)
		mark = next
	}
}

// caution ends every report.
func (p *page) caution() {
	p.line("", "")
	p.paragraph(wording.Caution)
}

// items is a section of items, left out where there are none.
func (p *page) items(heading string, texts []string) {
	if len(texts) == 0 {
		return
	}
	p.heading(heading)
	for _, text := range texts {
		p.item("", text)
	}
}

// item writes a wrapped text behind a dash.
func (p *page) item(attribute, text string) {
	p.behind(attribute, "- ", "  ", text)
}

// Wrap breaks a text into lines of at most so many characters: at spaces, and within a word that is
// longer than a line.
func Wrap(text string, most int) []string {
	var lines []string
	line := []rune{}
	for _, word := range strings.Fields(setup.Printable(text)) {
		w := []rune(word)
		if len(line) > 0 && len(line)+1+len(w) <= most {
			line = append(append(line, ' '), w...)
			continue
		}
		if len(line) > 0 {
			lines = append(lines, string(line))
		}
		for ; len(w) > most; w = w[most:] {
			lines = append(lines, string(w[:most]))
		}
		line = append([]rune{}, w...)
	}
	return append(lines, string(line))
}

// command writes what may be pasted into a shell.
func (p *page) command(lines []string) {
	for i, line := range lines {
		if i == 0 || !wording.WordGoesOn(lines[i-1]) {
			line = strings.Repeat(" ", 2+2*min(i, 1)) + line
		}
		p.line("", line)
	}
}

// ToSweep returns the command, by its lines, that sweeps what was found.
func ToSweep(command []string, colour bool) []byte {
	p := &page{colour: colour}
	p.heading("To see it swept")
	p.command(command)
	return p.Bytes()
}

// table writes rows of cells, right-aligned, each column as wide as its widest cell. The last cell of a
// row that is shorter than the first is a remark, which runs on over the columns.
func (p *page) table(rows [][]string) {
	columns := len(rows[0])
	widths := make([]int, columns)
	for _, row := range rows {
		for i, cell := range row {
			if i < len(row)-1 || len(row) == columns {
				widths[i] = max(widths[i], utf8.RuneCountInString(cell))
			}
		}
	}
	for _, row := range rows {
		var line strings.Builder
		for i, cell := range row {
			blanks := max(widths[i]-utf8.RuneCountInString(cell), 0) + min(i, 1)*2
			if i == len(row)-1 && len(row) < columns {
				blanks = 2
			}
			line.WriteString(strings.Repeat(" ", blanks) + cell)
		}
		p.line("", strings.TrimRight(line.String(), " "))
	}
}

// elide shortens a name that would fill the page.
func elide(name string, most int) string {
	if r := []rune(setup.Printable(name)); len(r) > most {
		return string(r[:most-1]) + "…"
	}
	return setup.Printable(name)
}

// both says a figure of the left and of the right, once where they read alike.
func both(left, right string) string {
	if left == right {
		return left + " left and right"
	}
	return fmt.Sprintf("%s left, %s right", left, right)
}

// begin returns the page of a report with its head: the setup's name, the alarms, variant and settings, and what the file's [change] did.
func begin(s *setup.Setup, opt Options, alarms []string) *page {
	p := opt.page()
	p.title(s.Name)
	p.alarmed(s, opt, alarms)
	return p
}

// page is an empty page for the options.
func (o Options) page() *page { return &page{colour: o.Colour, known: wording.Known{Sure: o.Sure}} }

// title writes the first line of a report, underlined.
func (p *page) title(text string) {
	text = elide(text, width)
	p.line(bold, text)
	p.line("", strings.Repeat("=", utf8.RuneCountInString(text)))
}

// alarmed writes the head below its title.
func (p *page) alarmed(s *setup.Setup, opt Options, alarms []string) {
	for _, text := range alarms {
		p.loud(text)
	}
	if opt.Variant != "" {
		p.row("with variant", elide(opt.Variant, 200))
	}
	for _, text := range opt.Set {
		p.row("with", elide(text, 200))
	}
	for _, change := range wording.Changes(s) {
		p.row("changed", elide(change, 300))
	}
}

// marked writes what matters most but for what is loud.
func (p *page) marked(text string) { p.behind(bold, "! ", "! ", text) }

// loud writes what must not be overlooked.
func (p *page) loud(text string) { p.behind(alarm, "!!! ", "!!! ", text) }
