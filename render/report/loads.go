package report

import (
	"locksweep/geometry/loads"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/render/wording"
)

// Loads is the report of what the steering has to bear.
func Loads(m *loads.Model, opt Options) []byte {
	gives, thin := wording.Strained(m)
	p, u := begin(m.Setup, opt, append(wording.Alarms(m.Model, &m.Locks), gives...)), m.Setup.Unit
	for _, text := range append(thin, wording.RodsLength(m.Result)...) {
		p.marked(text)
	}
	if len(gives)+len(thin) == 0 {
		p.row("Least margin", wording.LeastMargin(m))
	}
	p.paragraph(wording.LoadsOrder)
	p.heading("Turned on the spot")
	for _, d := range sweep.Directions {
		p.row("To the "+d.String(), wording.RimForces(m, d))
	}
	for _, side := range setup.Sides {
		p.row("Kingpin, "+side.String(), wording.KingpinMoments(m, side))
	}
	for rod := range m.Linkage.Rods {
		p.rodLoads(m, rod)
	}
	p.heading("A hard pull against the stop")
	for _, d := range sweep.Directions {
		p.row("Turned "+d.String(), wording.StopForce(u, m, d))
	}
	p.items("Not modelled", wording.NotModelled)
	p.items("Assumed, not measured", wording.LoadsAssumed(m))
	p.caution()
	return p.Bytes()
}

// rodLoads is the section of one rod: what loads it, and how far it is from giving way under the worst of that.
func (p *page) rodLoads(m *loads.Model, rod int) {
	p.heading(wording.Capital(m.Linkage.Rods[rod].Name()))
	for i, w := range m.Hardest(rod) {
		p.row([2]string{"Force"}[min(i, 1)], wording.RodWorst(w))
	}
	for _, v := range wording.Judgements(m, m.Judged(rod)) {
		p.row(v.Name, v.AtEnds(m))
	}
}
