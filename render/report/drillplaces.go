package report

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode/utf8"

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
	if r.Aims.Cut {
		what = "Places, with the stop ground to suit"
	}
	p.heading(fmt.Sprintf("%s (lengths in %s, angles in degrees)", what, wording.SpelledUnit(r.Setup.Unit)))
	if slices.ContainsFunc(append([]drill.Listed{r.Current}, r.Best...), func(l drill.Listed) bool { return l.Figures.Lock() < r.Aims.Lock-0.05*s1.Degree }) {
		p.line("", "To "+wording.Angle(r.Aims.Lock)+", or to a place's own lock where that comes before.")
	}
	for first := 0; first < len(r.Best); first += placesBeside {
		if first > 0 {
			p.line("", "")
		}
		last := min(first+placesBeside, len(r.Best))
		columns := []*drill.Listed{&r.Current}
		heads := []string{"", "today"}
		if r.Stays() {
			heads[1] = "1: today"
		}
		for i := first; i < last; i++ {
			if i == 0 && r.Stays() {
				continue
			}
			columns = append(columns, &r.Best[i])
			heads = append(heads, fmt.Sprintf("place %d", i+1))
		}
		rows := [][]string{heads}
		for _, row := range placeRows(r) {
			cells := []string{row.label}
			for _, l := range columns {
				cells = append(cells, p.known.Cell(row.figure, row.of(l)))
			}
			rows = append(rows, cells)
		}
		p.leftTable(rows)
	}
}

// placeRow is one figure of every place.
type placeRow struct {
	label  string
	of     func(l *drill.Listed) string
	figure string // of the comparison, by whose ± it is said
}

func placeRows(r *drill.Result) (rows []placeRow) {
	u := r.Setup.Unit
	add := func(label string, of func(l *drill.Listed) string) {
		rows = append(rows, placeRow{label: label, of: of})
	}
	mm := func(label string, of func(l *drill.Listed) float64) {
		add(label, func(l *drill.Listed) string { return wording.Figure(u, of(l)) })
	}
	deg := func(label string, of func(l *drill.Listed) s1.Angle) {
		add(label, func(l *drill.Listed) string { return wording.Degrees(of(l)) })
	}
	by := func(figure string) { rows[len(rows)-1].figure = figure } // of the row before
	if r.On == drill.Link {
		mm("arm: forward", func(l *drill.Listed) float64 { return l.Link.X })
		mm("     outboard", func(l *drill.Listed) float64 { return l.Link.Y })
		mm("     up (ball)", func(l *drill.Listed) float64 { return l.Link.Z })
	}
	if r.On == drill.Arm || r.On == drill.Both {
		mm("arm: forward", func(l *drill.Listed) float64 { return l.Pickups[0].X })
		mm("     outboard", func(l *drill.Listed) float64 { return l.Pickups[0].Y })
		mm("     up (ball)", func(l *drill.Listed) float64 { return l.Pickups[0].Z })
	}
	if r.On == drill.DropArm || r.On == drill.Both {
		mm("drop arm: down", func(l *drill.Listed) float64 { return l.Pins[0].X })
	}
	switch {
	case r.On == drill.Arm || r.On == drill.Link:
	case r.Setup.OnePin():
		mm("     left", func(l *drill.Listed) float64 { return l.Pins[0].Y })
	default:
		mm("     left rod, left", func(l *drill.Listed) float64 { return l.Pins[0].Y })
		mm("     right rod, left", func(l *drill.Listed) float64 { return l.Pins[1].Y })
	}
	add("drilled already", func(l *drill.Listed) string {
		switch {
		case l.Existing == "":
			return "no"
		case utf8.RuneCountInString(l.Existing) > 9:
			return "yes"
		}
		return setup.Printable(l.Existing)
	})
	for _, d := range sweep.Directions {
		deg("inner wheel, "+d.String()+" lock", func(l *drill.Listed) s1.Angle { return l.Inner[d] })
		by("lock_inner")
		deg("outer wheel", func(l *drill.Listed) s1.Angle { return l.Outer[d] })
		by("lock_outer")
	}
	to := " to " + wording.Angle(r.Aims.Lock) // the lock wanted: what lies beyond is a margin
	off := to
	if r.Aims.To > 0 {
		off = ""
	}
	deg(fmt.Sprintf("off %s Ackermann", wording.Percent(r.Aims.Percent))+off, func(l *drill.Listed) s1.Angle { return l.Worst })
	by("ackermann_error_20")
	for i, at := range [3]string{"10 of steer", "20 of steer", "the lock"} {
		steer := [3]s1.Angle{10 * s1.Degree, 20 * s1.Degree, 0}[i]
		add("Ackermann error at "+at, func(l *drill.Listed) string { return turnError(l, steer, false) })
		by([3]string{"ackermann_error_10", "ackermann_error_20", "ackermann_error_lock"}[i])
	}
	add("percent at the lock", func(l *drill.Listed) string { return turnError(l, 0, true) })
	by("ackermann_percent_20")
	add("wheel per steering wheel", func(l *drill.Listed) string { return wording.Ratio(l.Ratio) })
	by("ratio_centre")
	add("    steering wheel to wheel", func(l *drill.Listed) string { return wording.SteeringRatio(1 / l.Ratio) })
	deg("least leverage"+to, func(l *drill.Listed) s1.Angle { return l.Transmission })
	by("least_transmission")
	if slices.ContainsFunc(append([]drill.Listed{r.Current}, r.Best...), func(l drill.Listed) bool { return l.PastWanted() }) {
		deg("    to its own lock", func(l *drill.Listed) s1.Angle {
			_, leverage := r.Ends(l)
			return leverage
		})
		by("least_transmission")
	}
	add("least gap"+to, func(l *drill.Listed) string { return gap(r, l.Clearance) })
	by("least_gap")
	if slip := r.Options.Slip; slip > 0 {
		at := "worst within " + wording.Length(u, slip) + ": "
		deg(at+"lock", func(l *drill.Listed) s1.Angle { return l.Within.Lock })
		by("lock_inner")
		add("    leverage"+to, func(l *drill.Listed) string { return wording.Degrees(l.Within.Transmission) + leverageMark(l) })
		add("    gap"+to, func(l *drill.Listed) string { return gap(r, l.Within.Clearance) + gapMark(l) })
		deg("    off Ackermann"+off, func(l *drill.Listed) s1.Angle { return l.Within.Worst })
		by("ackermann_error_20")
	}
	add("held by a metal stop", func(l *drill.Listed) string {
		for _, codes := range l.Within.Faults {
			if len(codes) > 0 {
				return "no !!!"
			}
		}
		switch {
		case slices.Contains(l.Alarms, sweep.NoMetalStop): // with the stop as it is there is one
			return "uncut !!!"
		case r.Aims.Cut && l != &r.Current:
			return "when cut"
		}
		return "yes"
	})
	for _, d := range sweep.Directions {
		deg("wheel past wanted, "+d.String(), func(l *drill.Listed) s1.Angle { return l.Beyond[d] })
	}
	deg("wheel, stop to own end", func(l *drill.Listed) s1.Angle { return l.Margin })
	for i := range r.Today.Linkage.Rods {
		rod := &r.Today.Linkage.Rods[i]
		name, side := rod.Name(), rod.To.Side()
		if rod.Sided {
			name = side.String() + " rod"
		}
		mm(name, func(l *drill.Listed) float64 { return l.Sweep.Rods[side].Length })
	}
	mm("hole centre to edge", func(l *drill.Listed) float64 { return l.Edge })
	mm("to the next hole", func(l *drill.Listed) float64 { return l.Web })
	return rows
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

func gap(r *drill.Result, mm float64) string {
	if math.IsNaN(mm) || math.IsInf(mm, 0) {
		return "wide"
	}
	return wording.Figure(r.Setup.Unit, mm)
}

// gapMark and leverageMark mark what is less than wanted, and what makes a place unfit.
func gapMark(l *drill.Listed) string {
	switch {
	case slices.Contains(l.Alarms, sweep.LowClearance):
		return " !!!"
	case slices.Contains(l.Marks, sweep.LowClearance):
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
		line := row[0] + strings.Repeat(" ", most-utf8.RuneCountInString(row[0]))
		for _, c := range row[1:] {
			line += strings.Repeat(" ", max(1, cell-utf8.RuneCountInString(c))) + c
		}
		p.line("", line)
	}
}

// placeLimits says what stops the steering at every place.
func (p *page) placeLimits(r *drill.Result) {
	p.heading("What stops it, and what else comes nearest up to the lock wanted")
	p.placeLimit(r, "today", &r.Current)
	for i := range r.Best {
		if i == 0 && r.Stays() {
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
	rows := [][]string{{"lock", "most off", "hole"}}
	for i := range r.Front {
		f := &r.Front[i]
		hole := place(r, f)
		if r.On == drill.Both {
			hole = point(r, f.Pickups[setup.Left]) + " and " + point(r, f.Pins[setup.Left])
		}
		rows = append(rows, []string{wording.Degrees(f.Within.Lock), wording.Fixed(f.Worst.Degrees(), 2), hole})
	}
	for _, row := range rows {
		p.line("", fmt.Sprintf("%8s%10s   %s", row[0], row[1], row[2]))
	}
}
