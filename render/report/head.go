package report

import (
	"strings"
	"unicode/utf8"

	"locksweep/geometry/setup"
	"locksweep/render/wording"
)

// head begins every report: of what it is, with which variant and settings, what the file's [change] did, and what must
// be known before anything else.
func (p *page) head(s *setup.Setup, variant string, set, alarms []string) {
	p.title(s)
	p.alarmed(s, variant, set, alarms)
}

func (p *page) title(s *setup.Setup) {
	name := elide(s.Name, width)
	p.line(bold, name)
	p.line("", strings.Repeat("=", utf8.RuneCountInString(name)))
}

// alarmed is the head below its title.
func (p *page) alarmed(s *setup.Setup, variant string, set, alarms []string) {
	for _, text := range alarms {
		p.loud(text)
	}
	if variant != "" {
		p.row("with variant", elide(variant, 200))
	}
	for _, text := range set {
		p.row("with", elide(text, 200))
	}
	for _, change := range wording.Changes(s) {
		p.row("changed", elide(change, 300))
	}
}

// marked writes what comes next after what is loud.
func (p *page) marked(text string) {
	for _, line := range Wrap(text, width-2) {
		p.line(bold, "! "+line)
	}
}

// loud writes what must not be overlooked.
func (p *page) loud(text string) {
	for _, line := range Wrap(text, width-4) {
		p.line(alarm, "!!! "+line)
	}
}
