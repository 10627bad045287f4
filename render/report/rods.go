package report

import (
	"locksweep/geometry/rods"
	"locksweep/geometry/sweep"
	"locksweep/render/wording"
)

// Rods is the list of rods to cut.
func Rods(m *sweep.Result, list []rods.Rod, opt Options) []byte {
	p, u := begin(m.Setup, opt, wording.Alarms(m.Model, &m.Locks)), m.Setup.Unit
	if opt.Variant == "" && len(m.Setup.Variants) > 0 { // easily left out where one was just saved
		p.row("as it stands", elide(wording.Without(m.Setup.Variants), 200))
	}
	for _, text := range wording.RodsLength(m) {
		p.marked(text)
	}
	var findings []string
	for i := range list {
		r := &list[i]
		p.heading(wording.Capital(r.Name))
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
