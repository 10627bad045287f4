package report

import (
	"strings"

	"locksweep/geometry/rods"
	"locksweep/geometry/sweep"
	"locksweep/geometry/tolerance"
	"locksweep/render/wording"
)

// RodsOptions says what a list of rods to cut shows besides them.
type RodsOptions struct {
	Variant string
	Set     []string
	Colour  bool
	Sure    *tolerance.Result // how sure the setup is; nil where the file does not say how exact it is
}

// Rods is the list of rods to cut.
func Rods(m *sweep.Result, list []rods.Rod, opt RodsOptions) []byte {
	p, u := &page{colour: opt.Colour}, m.Setup.Unit
	p.head(m.Setup, opt.Variant, opt.Set, wording.Alarms(m.Model, &m.Locks))
	for _, text := range wording.RodsLength(m) {
		p.marked(text)
	}
	var findings []string
	for i := range list {
		r := &list[i]
		p.heading(strings.ToUpper(r.Name[:1]) + r.Name[1:])
		p.row("Centres", wording.BothUnits(u, r.Length))
		if opt.Sure != nil {
			p.row("Known to", wording.RodKnown(u, r, opt.Sure.OfRod(r.Index).PlusMinus()))
		}
		p.row("Cut", wording.RodStock(u, r)+" to "+wording.BothUnits(u, r.Cut))
		p.row("Rod ends", wording.Length(u, r.Exposed)+" from either end of it to the eye's centre")
		p.row("Thread", wording.RodThread(u, r))
		p.row("Engagement", wording.RodEngagement(u, r))
		p.row("Screwed", wording.RodTravel(u, r))
		p.row("Toe", wording.RodToe(r))
		p.row("Witness hole", wording.RodWitness(u, r))
		if text := wording.RodDonor(u, r); text != "" {
			p.row("Donor rod", text)
		}
		findings = append(findings, wording.RodFindings(u, r)...)
	}
	p.items("Look at these", findings)
	p.items("Before you cut", wording.RodCautions)
	p.items("Assumed, not measured", wording.RodsAssumed(u, list))
	p.caution()
	return p.Bytes()
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

func (p *page) caution() {
	p.line("", "")
	for _, line := range Wrap(wording.Caution, width) {
		p.line("", line)
	}
}
