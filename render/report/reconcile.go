package report

import (
	"fmt"
	"math"
	"slices"

	"github.com/golang/geo/s1"

	"locksweep/geometry/reconcile"
	"locksweep/geometry/sweep"
	"locksweep/render/wording"
)

// Reconcile is the report of whether file and vehicle agree. The sweep is of the file as it stands.
func Reconcile(r *reconcile.Result, m *sweep.Result, opt Options) []byte {
	p, s := begin(r.Setup, opt, wording.Alarms(m.Model, &m.Locks)), r.Setup
	if sentence := wording.Agreement(r); r.Agrees() {
		p.row("Answer", sentence)
	} else {
		p.marked(sentence)
	}
	for _, w := range opt.Warnings {
		if w.Code == "variant-fits" {
			p.marked("variant " + w.Text)
		}
	}
	p.suspects(r)
	p.heading("What was measured (" + s.Unit.String() + ", degrees)")
	if r.Mixed != nil {
		p.line("", "The wheels' angles stand here as they are when they are put right.")
	}
	p.observations(r, func(o *reconcile.Observation) bool { return o.Kind != reconcile.Figure })
	p.line("", "off: given less adjusted. ±: accuracy. w: off in its own standard deviations,")
	p.line("", "beyond 3.29 hardly by chance; ! is taken out as wrong. -: cannot be told.")
	moved := func(o *reconcile.Observation) bool {
		return o.Kind == reconcile.Figure && (o.Suspect || math.Abs(o.Adjusted-o.Given) >= o.Accuracy/4)
	}
	if slices.ContainsFunc(r.Observations, func(o reconcile.Observation) bool { return moved(&o) }) {
		p.heading("Figures of the file that move by a quarter of their accuracy or more")
		p.observations(r, moved)
	}
	for i := range r.Marks {
		p.heading("Mark " + elide(r.Setup.Checks.Marks[r.Marks[i].Mark].Name, 60))
		p.paragraph(wording.MarkFound(r, &r.Marks[i]))
	}
	if text := wording.Unseen(r); text != "" {
		p.items("What cannot be told", append([]string{text}, wording.Advice(r)...))
	}
	if !r.Agrees() {
		p.items("Before you change anything", wording.ReconcileCautions)
	}
	p.caution()
	return p.Bytes()
}

// suspects lists them where there is more to say than the answer does.
func (p *page) suspects(r *reconcile.Result) {
	named := 0
	if r.Mixed != nil {
		p.heading("Most probably wrong")
		p.item("", wording.MixedUp(r))
		if text := wording.AsRead(r); text != "" {
			p.item("", text)
		}
		named = 1
	}
	for i := range r.Suspects {
		s := &r.Suspects[i]
		p.heading([2]string{"Most probably wrong", "Then"}[min(i+named, 1)])
		p.item("", wording.Suspected(r, s))
		for _, text := range wording.Instead(r, s) {
			p.item("", text)
		}
	}
	if r.More {
		p.heading("More does not fit")
		p.item("", wording.MoreAmiss)
	}
}

// longestName is the width of the first column.
const longestName = 30

// observations writes the table of those observations that are wanted.
func (p *page) observations(r *reconcile.Result, wanted func(*reconcile.Observation) bool) {
	p.line("", fmt.Sprintf("%-*s%8s%9s%9s%8s%7s%7s", longestName, "", "given", "by file", "adjusted", "off", "±", "w"))
	for i := range r.Observations {
		o := &r.Observations[i]
		if !wanted(o) {
			continue
		}
		figure := func(v float64) string {
			if o.Angle {
				return wording.Fixed(s1.Angle(v).Degrees(), 2)
			}
			return wording.Figure(r.Setup.Unit, v)
		}
		w := wording.Fixed(o.Normalised, 1)
		if o.Suspect {
			w = "!" + w
		}
		name := []rune(wording.Observed(r.Setup, o))
		for len(name) > longestName { // a long name has lines of its own
			p.line("", string(name[:longestName]))
			name = name[longestName:]
		}
		p.line("", fmt.Sprintf("%-*s%8s%9s%9s%8s%7s%7s", longestName, string(name), figure(o.Given), figure(o.Before), figure(o.Adjusted),
			wording.Signed(figure(o.Given-o.Adjusted)), figure(o.Accuracy), w))
		if key := wording.FiledAs(r.Setup, o); key != "" {
			p.line("", "  as in the file, "+key+", before the change")
		}
	}
}
