package report

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/geometry/drill"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/render/wording"
)

// placesBeside is how many places stand beside today's in one table of 80 columns.
const placesBeside = 4

// places is the table of today's hole and the best places.
func (p *page) places(r *drill.Result) {
	what := "Places"
	switch {
	case r.Aims.Cut && slices.Contains(r.Best[0].Alarms, sweep.NoMetalStop):
		what = "Places, with the stop as it stands"
	case r.Aims.Cut:
		what = "Places, with the stop ground to suit"
	}
	p.heading(fmt.Sprintf("%s (lengths in %s, angles in degrees)", what, wording.SpelledUnit(r.Setup.Unit)))
	if anywhere(r, func(l *drill.Listed) bool { return l.Figures.Lock() < r.Aims.Lock-0.05*s1.Degree }) {
		p.line("", "To "+wording.Angle(r.Aims.Lock)+", or to a place's own lock where that comes before.")
	}
	today, listed := todays(r)
	for first := 0; first < len(r.Best); first += placesBeside {
		if first > 0 {
			p.line("", "")
		}
		columns, heads := []*drill.Listed{today}, []string{"", "today"}
		if listed >= 0 {
			heads[1] = fmt.Sprintf("%d: today", listed+1)
		}
		for i := first; i < min(first+placesBeside, len(r.Best)); i++ {
			if i == listed {
				continue
			}
			columns = append(columns, &r.Best[i])
			heads = append(heads, fmt.Sprintf("place %d", i+1))
		}
		rows := [][]string{heads}
		for _, row := range slices.Concat(ballRows(r), turnRows(r), slipRows(r), stopRows(r)) {
			cells := []string{row.label}
			for _, l := range columns {
				cells = append(cells, p.known.Cell(row.figure, row.of(l)))
			}
			rows = append(rows, cells)
		}
		p.leftTable(rows)
	}
}

// anywhere reports whether something holds for today's hole or a listed place.
func anywhere(r *drill.Result, holds func(l *drill.Listed) bool) bool {
	return holds(&r.Current) || slices.ContainsFunc(r.Best, func(l drill.Listed) bool { return holds(&l) })
}

// todays is today's hole and which of the listed places it is, -1 for none. Where a cut was asked for that cannot be had there, it is the listed one
// that tells of it.
func todays(r *drill.Result) (today *drill.Listed, listed int) {
	for i := range r.Best {
		switch l := &r.Best[i]; {
		case r.Changes(l):
		case !r.Aims.Cut:
			return &r.Current, i
		case slices.Contains(l.Alarms, sweep.NoMetalStop):
			return l, i
		}
	}
	return &r.Current, -1
}

// placeRow is one figure of every place.
type placeRow struct {
	label  string
	figure string // of the comparison, by whose ± it is said
	of     func(l *drill.Listed) string
}

func lengthRow(r *drill.Result, label string, mm func(l *drill.Listed) float64) placeRow {
	return placeRow{label, "", func(l *drill.Listed) string { return wording.Figure(r.Setup.Unit, mm(l)) }}
}

func angleRow(label, figure string, angle func(l *drill.Listed) s1.Angle) placeRow {
	return placeRow{label, figure, func(l *drill.Listed) string { return wording.Degrees(angle(l)) }}
}

// ballRows say where the balls are, and whether a hole is there already.
func ballRows(r *drill.Result) (rows []placeRow) {
	ball := func(label string, mm func(l *drill.Listed) float64) { rows = append(rows, lengthRow(r, label, mm)) }
	arm := func(at func(l *drill.Listed) r3.Vector) {
		ball("arm: forward", func(l *drill.Listed) float64 { return at(l).X })
		ball("     outboard", func(l *drill.Listed) float64 { return at(l).Y })
		ball("     up (ball)", func(l *drill.Listed) float64 { return at(l).Z })
	}
	switch r.On {
	case drill.Link:
		arm(func(l *drill.Listed) r3.Vector { return l.Link })
	case drill.Arm, drill.Both:
		arm(func(l *drill.Listed) r3.Vector { return l.Pickups[setup.Left] })
	}
	if r.On == drill.DropArm || r.On == drill.Both {
		ball("drop arm: down", func(l *drill.Listed) float64 { return l.Pins[setup.Left].X })
		if r.Setup.OnePin() {
			ball("     left", func(l *drill.Listed) float64 { return l.Pins[setup.Left].Y })
		} else {
			ball("     left rod, left", func(l *drill.Listed) float64 { return l.Pins[setup.Left].Y })
			ball("     right rod, left", func(l *drill.Listed) float64 { return l.Pins[setup.Right].Y })
		}
	}
	return append(rows, placeRow{"drilled already", "", func(l *drill.Listed) string {
		switch {
		case l.Existing == "":
			return "no"
		case utf8.RuneCountInString(l.Existing) > 9:
			return "yes"
		}
		return setup.Printable(l.Existing)
	}})
}

// toLock says up to where figures are judged: the lock wanted, since what lies beyond is a margin. Ackermann is judged up to an angle
// of its own where the aims give one.
func toLock(a *drill.Aims) (to, off string) {
	if to = " to " + wording.Angle(a.Lock); a.To == 0 {
		off = to
	}
	return to, off
}

// turnRows say how the wheels turn in the very place.
func turnRows(r *drill.Result) (rows []placeRow) {
	for _, d := range sweep.Directions {
		rows = append(rows,
			angleRow("inner wheel, "+d.String()+" lock", "lock_inner", func(l *drill.Listed) s1.Angle { return l.Inner[d] }),
			angleRow("outer wheel", "lock_outer", func(l *drill.Listed) s1.Angle { return l.Outer[d] }))
	}
	to, off := toLock(&r.Aims)
	turned := func(label, figure string, steer s1.Angle, percent bool) placeRow {
		return placeRow{label, figure, func(l *drill.Listed) string { return turnError(l, steer, percent) }}
	}
	rows = append(rows,
		angleRow(fmt.Sprintf("off %s Ackermann", wording.Percent(r.Aims.Percent))+off, "ackermann_error_20", func(l *drill.Listed) s1.Angle { return l.Worst }),
		turned("Ackermann error at 10 of steer", "ackermann_error_10", 10*s1.Degree, false),
		turned("Ackermann error at 20 of steer", "ackermann_error_20", 20*s1.Degree, false),
		turned("Ackermann error at the lock", "ackermann_error_lock", 0, false),
		turned("percent at the lock", "ackermann_percent_20", 0, true),
		placeRow{"wheel per steering wheel", "ratio_centre", func(l *drill.Listed) string { return wording.Ratio(l.Ratio) }},
		placeRow{"    steering wheel to wheel", "", func(l *drill.Listed) string { return wording.SteeringRatio(1 / l.Ratio) }},
		angleRow("least leverage"+to, "least_transmission", func(l *drill.Listed) s1.Angle { return l.Transmission }))
	past := anywhere(r, (*drill.Listed).PastWanted)
	if past {
		rows = append(rows, angleRow("    to its own lock", "least_transmission", func(l *drill.Listed) s1.Angle {
			_, leverage := r.Ends(l)
			return leverage
		}))
	}
	rows = append(rows, placeRow{"least gap" + to, "least_gap", func(l *drill.Listed) string { return gap(r, l.Clearance) }})
	if past {
		rows = append(rows, placeRow{"    to its own lock", "least_gap", func(l *drill.Listed) string {
			_, least := l.Tightest()
			if l.TightPast() {
				return gap(r, least) + " !"
			}
			return gap(r, least)
		}})
	}
	return rows
}

// slipRows say the worst that may come of it where the drill wanders.
func slipRows(r *drill.Result) []placeRow {
	if r.Options.Slip <= 0 {
		return nil
	}
	to, off := toLock(&r.Aims)
	return []placeRow{
		angleRow("worst within "+wording.Length(r.Setup.Unit, r.Options.Slip)+": lock", "lock_inner", func(l *drill.Listed) s1.Angle { return l.Within.Lock }),
		{"    leverage" + to, "", func(l *drill.Listed) string { return wording.Degrees(l.Within.Transmission) + leverageMark(l) }},
		{"    gap" + to, "", func(l *drill.Listed) string { return gap(r, l.Within.Clearance) + gapMark(r, l) }},
		angleRow("    off Ackermann"+off, "ackermann_error_20", func(l *drill.Listed) s1.Angle { return l.Within.Worst }),
	}
}

// stopRows say what holds the wheels, how long the rods are then, and the metal about the hole.
func stopRows(r *drill.Result) []placeRow {
	rows := []placeRow{{"held by a metal stop", "", func(l *drill.Listed) string {
		switch {
		case len(l.Within.Faults[sweep.ToLeft])+len(l.Within.Faults[sweep.ToRight]) > 0:
			return "no !!!"
		case slices.Contains(l.Alarms, sweep.NoMetalStop): // with the stop as it is there is one
			return "uncut !!!"
		case r.Aims.Cut && l != &r.Current:
			return "when cut"
		}
		return "yes"
	}}}
	for _, d := range sweep.Directions {
		rows = append(rows, angleRow("wheel past wanted, "+d.String(), "", func(l *drill.Listed) s1.Angle { return l.Beyond[d] }))
	}
	rows = append(rows, angleRow("wheel, stop to own end", "", func(l *drill.Listed) s1.Angle { return l.Margin }))
	for i := range r.Today.Linkage.Rods {
		rod := &r.Today.Linkage.Rods[i]
		name, side := rod.Name(), rod.To.Side()
		if rod.Sided {
			name = side.String() + " rod"
		}
		rows = append(rows, lengthRow(r, name, func(l *drill.Listed) float64 { return l.Sweep.Rods[side].Length }))
	}
	return append(rows,
		lengthRow(r, "hole centre to edge", func(l *drill.Listed) float64 { return l.Edge }),
		lengthRow(r, "to the next hole", func(l *drill.Listed) float64 { return l.Web }))
}

// turnError is the Ackermann error at a mean steer or, at 0, at the lock: of the lock at which it is the greater.
func turnError(l *drill.Listed, steer s1.Angle, percent bool) string {
	worst, found := l.Sweep.WorstTurnError(steer)
	switch {
	case !found:
		return "-"
	case percent:
		return wording.Fixed(worst.Percent, 0)
	}
	return wording.Signed(wording.Degrees(worst.Error))
}

// gap says a gap within its place's lock; "wide" where nothing comes near.
func gap(r *drill.Result, mm float64) string {
	if math.IsNaN(mm) || math.IsInf(mm, 0) {
		return "wide"
	}
	return wording.Figure(r.Setup.Unit, mm)
}

// gapMark and leverageMark mark what is less than wanted, and what makes a place unfit.
func gapMark(r *drill.Result, l *drill.Listed) string {
	switch {
	case slices.Contains(l.Alarms, sweep.LowClearance):
		return " !!!"
	case r.Setup.Limits.Tight(l.Within.Clearance):
		return " !"
	}
	return ""
}

func leverageMark(l *drill.Listed) string {
	if slices.Contains(l.Marks, sweep.LowTransmission) {
		return " !"
	}
	return ""
}

// leftTable writes rows whose first cell stands on the left and the others right-aligned.
func (p *page) leftTable(rows [][]string) {
	const cell = 10
	most := 0
	for _, row := range rows {
		most = max(most, utf8.RuneCountInString(row[0]))
	}
	for _, row := range rows {
		p.line("", beside(row[0], most, row[1:], func(k int) int { return max(cell, 1+utf8.RuneCountInString(row[1+k])) }))
	}
}

// placeLimits says what stops the steering at every place.
func (p *page) placeLimits(r *drill.Result) {
	p.heading("What stops it, and what else comes nearest up to the lock wanted")
	today, listed := todays(r)
	p.placeLimit(r, "today", today)
	for i := range r.Best {
		if i == listed {
			continue
		}
		p.placeLimit(r, fmt.Sprintf("place %d", i+1), &r.Best[i])
	}
}

func (p *page) placeLimit(r *drill.Result, label string, l *drill.Listed) {
	left, right := wording.StoppedBy(l.Sweep, sweep.ToLeft), wording.StoppedBy(l.Sweep, sweep.ToRight)
	p.row(label+", left", left)
	if strings.ReplaceAll(left, "left", "right") == right {
		p.row("", "and to the right as its mirror image")
	} else {
		p.row(label+", right", right)
	}
	p.row("", wording.DrillNearest(r, l))
	if text := wording.DrillNearestPast(r, l); text != "" {
		p.row("", "! "+text)
	}
	for _, text := range wording.DrillAlarms(r, l) {
		p.row("", "!!! "+text)
	}
}

// trade shows what more lock costs in Ackermann.
func (p *page) trade(r *drill.Result) {
	if len(r.Front) < 2 {
		return
	}
	p.heading("More lock or truer Ackermann: what can be had, all other aims met up to " + wording.Angle(r.Aims.Lock))
	row := func(lock, off, hole string) { p.line("", fmt.Sprintf("%8s%10s   %s", lock, off, hole)) }
	row("lock", "most off", "hole")
	for i := range r.Front {
		f := &r.Front[i]
		hole := place(r, f)
		if r.On == drill.Both {
			hole = point(r, f.Pickups[setup.Left]) + " and " + point(r, f.Pins[setup.Left])
		}
		row(wording.Degrees(f.Within.Lock), wording.Fixed(f.Worst.Degrees(), 2), hole)
	}
}
