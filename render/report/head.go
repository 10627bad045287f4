package report

import (
	"strings"
	"unicode/utf8"

	"locksweep/geometry/setup"
	"locksweep/render/wording"
)

// begin begins every report: of what it is, with which variant and settings, what the file's [change] did, and what must
// be known before anything else.
func begin(s *setup.Setup, opt Options, alarms []string) *page {
	p := opt.page()
	p.title(s.Name)
	p.alarmed(s, opt, alarms)
	return p
}

// page is an empty page for the options.
func (o Options) page() *page { return &page{colour: o.Colour, known: wording.Known{Sure: o.Sure}} }

func (p *page) title(text string) {
	text = elide(text, width)
	p.line(bold, text)
	p.line("", strings.Repeat("=", utf8.RuneCountInString(text)))
}

// alarmed is the head below its title.
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

// marked writes what comes next after what is loud.
func (p *page) marked(text string) { p.behind(bold, "! ", "! ", text) }

// loud writes what must not be overlooked.
func (p *page) loud(text string) { p.behind(alarm, "!!! ", "!!! ", text) }
