package report

import (
	"fmt"
	"math"
	"strings"

	"locksweep/geometry/compare"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/geometry/tolerance"
	"locksweep/render/wording"
)

// Tolerance is the report of how sure a setup is.
func Tolerance(r *tolerance.Result, opt Options) []byte {
	p := begin(r.Setup, opt, wording.Alarms(r.Model, &r.Locks))
	for _, text := range wording.NotCounted(r) {
		p.marked(text)
	}
	if r.Setup.Accuracy.Given {
		for _, text := range wording.Unsure(r) {
			p.marked(text)
		}
	}
	p.paragraph(wording.Drawn(r))
	p.row("Accuracies", wording.Accuracies(r))
	p.heading("What stops the wheels")
	for _, d := range sweep.Directions {
		p.rows("Turning "+d.String(), wording.StoppedIn(r, d))
	}
	p.heading("Measure this again first (its part of the doubt)")
	for _, q := range tolerance.Questions {
		p.row(wording.Question(q), wording.MeasureAgain(r, q))
	}
	p.paragraph(wording.KeysNote)
	p.heading("How exact to drill and to cut rods")
	for _, q := range [2]tolerance.Question{tolerance.Lock, tolerance.Ackermann} {
		p.row(wording.Question(q), wording.HowExact(r, q))
	}
	p.paragraph("(" + wording.ExactNote + ")")
	p.sureness(r)
	p.caution()
	return p.Bytes()
}

// Columns of the table of figures.
const (
	sureLabel = 19
	sureValue = 10
	sureOff   = 9
)

// sureness writes each figure that is known, with its ± and its worst, left beside right.
func (p *page) sureness(r *tolerance.Result) {
	bent := false
	for _, g := range wording.Groups(r.Setup.Unit, r.Path) {
		var rows []string
		for _, n := range g.Figures {
			row, known, marked := sureRow(r, n)
			if bent = bent || marked; known {
				rows = append(rows, row)
			}
		}
		if len(rows) == 0 {
			continue
		}
		p.heading(g.Heading)
		off := strings.Repeat(" ", sureOff-1) + "±" + strings.Repeat(" ", sureOff-5) + "worst"
		p.line("", strings.Repeat(" ", sureLabel+sureValue-4)+"left"+off+strings.Repeat(" ", sureValue-5)+"right"+off)
		for _, row := range rows {
			p.line("", row)
		}
	}
	if bent {
		p.line("", "")
		p.paragraph(wording.BentNote)
	}
}

// sureRow is a figure with what belongs to the left or to turning left first; known is false where neither side has it.
func sureRow(r *tolerance.Result, n wording.Named) (row string, known, bent bool) {
	row = fmt.Sprintf("%-*s", sureLabel, n.Label)
	for _, side := range setup.Sides {
		f := r.Find(n.Key, int(side))
		if f == nil {
			continue
		}
		u := r.Setup.Unit
		worst := "-"
		if f.Worst > 0 || !f.Bent {
			worst = offBy(u, f, f.Worst)
		}
		if math.IsNaN(f.Value) && f.Draws.Known == 0 {
			row += column("-", sureValue) + column("-", sureOff) + column("-", sureOff)
			continue
		}
		known, bent = true, bent || f.Bent
		row += column(wording.Compared(u, f.Kind, f.Value), sureValue) + column(map[bool]string{true: "~"}[f.Bent]+offBy(u, f, f.PlusMinus()), sureOff) + column(worst, sureOff)
	}
	return strings.TrimRight(row, " "), known, bent
}

// offBy is by how much a figure may be off, with the decimals that the figure itself has.
func offBy(u setup.Unit, f *tolerance.Figure, by float64) string {
	if f.Kind == compare.Length && !math.IsInf(f.Value, 0) && !math.IsNaN(f.Value) {
		return strings.TrimPrefix(wording.ComparedBy(u, f.Kind, f.Value, by), "+")
	}
	return wording.Compared(u, f.Kind, by)
}

// column sets a figure at the right of a column.
func column(text string, width int) string { return fmt.Sprintf("%*s", width, text) }
