package report

import (
	"locksweep/geometry/reconcile"
	"locksweep/geometry/setup"
	"locksweep/render/wording"
)

// Card is what the finished vehicle should measure, as text: what the page for the bench has, without its blanks.
func Card(c *reconcile.Card, opt Options) []byte {
	p, u := begin(c.Setup, opt, wording.Alarms(c.Model, &c.Locks)), c.Setup.Unit
	p.paragraph(wording.CardNote)
	p.heading("Wheels")
	rows := [][]string{{"steering wheel", "left wheel", "±", "right wheel", "±"}}
	for _, e := range c.Turns {
		column := wording.Way(e.Column)
		if e.Lock {
			column += ", lock"
		}
		rows = append(rows, []string{column,
			wording.Way(e.Steer[setup.Left]), wording.Fixed(e.PlusMinus[setup.Left].Degrees(), 1),
			wording.Way(e.Steer[setup.Right]), wording.Fixed(e.PlusMinus[setup.Right].Degrees(), 1)})
	}
	p.table(rows)
	p.heading("Lengths, steering centred")
	length := func(name string, l *reconcile.Length) {
		p.item("", name+": "+wording.TapeLength(u, l.Distance)+" ±"+wording.Figure(u, l.PlusMinus))
	}
	for i := range c.Rods {
		length(c.Rods[i].Name+", centre to centre", &c.Rods[i])
	}
	length("toe: tyres behind less ahead, at hub height", &c.Toe)
	for i := range c.Tapes {
		length(c.Tapes[i].From+" to "+c.Tapes[i].To, &c.Tapes[i])
	}
	if len(c.Gaps) > 0 {
		p.heading("Gaps to feel")
	}
	for _, n := range c.Gaps {
		a, b := wording.Pair(c.Model, n.Pair)
		p.item("", a+" – "+b+", at "+wording.Way(n.Column)+": "+wording.Length(u, n.Gap))
	}
	p.caution()
	return p.Bytes()
}
