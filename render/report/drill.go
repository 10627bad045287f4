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

// DrillOptions says what a report of a search for a hole shows besides the search itself.
type DrillOptions struct {
	Variant  string
	Set      []string
	Settings []string // what --set takes to see the best place swept; empty where there is no such way
	Colour   bool

	NoSettings string // why there is no such way
}

// Drill is the report of a search for a hole.
func Drill(r *drill.Result, opt DrillOptions) []byte {
	p := &page{colour: opt.Colour}
	p.head(r.Setup, opt.Variant, opt.Set, wording.Alarmed(r.Today))
	p.row("Hole", holeWords(r))
	p.row("Wanted", wanted(r))
	for _, text := range missed(r) {
		p.loud(text)
	}
	if text := lowLeverage(r); text != "" {
		p.loud(text)
	}
	p.row("Answer", drillAnswer(r))
	p.places(r)
	p.placeLimits(r)
	p.trade(r)
	if len(opt.Settings) > 0 {
		p.heading("To see place 1 swept, add to the command sweep")
		for _, set := range opt.Settings {
			p.line("", "  --set '"+set+"'")
		}
	}
	if opt.NoSettings != "" {
		p.line("", "")
		for _, line := range Wrap(opt.NoSettings, width) {
			p.line("", line)
		}
	}
	if len(r.Assumed) > 0 {
		p.heading("Assumed, not measured")
		for _, text := range r.Assumed {
			p.item("", text)
		}
	}
	p.heading("Before you drill")
	for _, text := range wording.DrillCautions(r.Options.Edge) {
		p.item("", text)
	}
	p.line("", "")
	for _, line := range Wrap(wording.Caution, width) {
		p.line("", line)
	}
	return p.Bytes()
}

// holeWords says which hole is looked for.
func holeWords(r *drill.Result) string {
	of := [3]string{
		drill.Arm:     "of the tie rod in the steering arm, [forward, outboard, up] from the kingpin centre, both arms alike",
		drill.DropArm: "of the tie rods in the drop arm, [down, left, along] from the column's foot; the left rod's, the right one's is its mirror image",
		drill.Both:    "of the tie rods in the steering arms and in the drop arm",
	}[r.On]
	return wording.Length(r.Setup.Unit, r.Options.Diameter) + ", " + of
}

// wanted says the aims in the order in which they count.
func wanted(r *drill.Result) string {
	a := &r.Aims
	list := []string{
		"leverage at least " + wording.Angle(a.Leverage),
		"inner wheel at least " + wording.Angle(a.Lock) + " at either lock",
	}
	if a.Ratio > 0 {
		list = append(list, "ratio "+wording.Ratio(a.Ratio)+" within 5 %")
	}
	if a.Alike {
		list = append(list, "both locks alike within "+wording.Angle(drill.AlikeSlack))
	}
	to := "where the inner wheel stands at " + wording.Angle(a.Lock)
	if a.To > 0 {
		to = wording.Angle(a.To)
	}
	last := fmt.Sprintf("inner wheel as near as can be to %s Ackermann from %s of mean steer to %s", wording.Percent(a.Percent), wording.Angle(a.From), to)
	if a.Within > 0 {
		last += ", at most " + asked(a.Within) + " off"
	}
	return strings.Join(append(list, last), "; ")
}

// asked is an angle as it was asked for, with as many decimals as it has.
func asked(a s1.Angle) string {
	for decimals := 1; decimals < 4; decimals++ {
		if scaled := a.Degrees() * math.Pow10(decimals); math.Abs(scaled-math.Round(scaled)) < 1e-6 {
			return wording.Fixed(a.Degrees(), decimals) + "°"
		}
	}
	return wording.Fixed(a.Degrees(), 4) + "°"
}

// lowLeverage says that even the best place stays under the leverage wanted, where that is not said as missed.
func lowLeverage(r *drill.Result) string {
	least := r.Best[0].Transmission
	said := slices.ContainsFunc(r.Misses, func(m drill.Miss) bool { return m.Aim == drill.Leverage })
	if said || !lacksLeverage(r, least) {
		return ""
	}
	return fmt.Sprintf("no place has the leverage wanted, %s: today's has %s, place 1 %s; near a dead point a hard pull can take the linkage over centre",
		wording.Angle(r.Aims.Leverage), wording.Angle(r.Current.Transmission), wording.Angle(least))
}

func lacksLeverage(r *drill.Result, a s1.Angle) bool { return a < r.Aims.Leverage-0.01*s1.Degree }

// Missed says which aim fails and what is the nearest attainable; empty where all are met.
func Missed(r *drill.Result) string { return strings.Join(missed(r), "; ") }

func missed(r *drill.Result) (list []string) {
	for _, m := range r.Misses {
		value := func(v float64) string {
			switch {
			case math.IsNaN(v) || math.IsInf(v, 0):
				return "none"
			case m.Aim == drill.Ackermann:
				return wording.Fixed(s1.Angle(v).Degrees(), 2) + "°"
			case m.Aim.IsAngle():
				return wording.Angle(s1.Angle(v))
			}
			return wording.Ratio(v)
		}
		name := map[drill.Aim]string{
			drill.Leverage: "leverage of at least ", drill.Lock: "lock of at least ", drill.Ratio: "ratio of ",
			drill.Alike: "locks alike within ", drill.Ackermann: "inner wheel off the wanted Ackermann by at most ",
		}[m.Aim]
		if m.Aim == drill.Sense {
			list = append(list, "no place makes both wheels turn the way of the steering wheel")
			continue
		}
		text := fmt.Sprintf("no place gives %s%s: the nearest is %s", name, value(m.Wanted), value(m.Nearest))
		if value(m.Alone) != value(m.Nearest) {
			text += fmt.Sprintf(", or %s without regard to the other aims", value(m.Alone))
		}
		list = append(list, text)
	}
	return list
}

// insteadOf says an angle beside today's.
func insteadOf(then, now s1.Angle) string {
	if a, b := wording.Angle(then), wording.Angle(now); a != b {
		return a + " instead of " + b
	}
	return wording.Angle(then) + " as today"
}

// drillAnswer says where to drill in one sentence.
func drillAnswer(r *drill.Result) string {
	best := &r.Best[0]
	at := place(r, &best.Place)
	from := fmt.Sprintf(" (%d places tried)", r.Judged)
	if r.Judged == 1 {
		from = " (the only place that the metal leaves)"
	}
	change := "lock " + insteadOf(best.Figures.Lock(), r.Current.Figures.Lock())
	if !math.IsInf(float64(best.Worst), 0) && !math.IsNaN(float64(best.Worst)) { // else it does not turn far enough to tell
		change += ", inner wheel at most " + insteadOf(best.Worst, r.Current.Worst) + " off"
	}
	switch {
	case best.Spot == r.Current.Spot && best.Existing == "" && r.Current.Existing == "" && !r.Options.NewMetal:
		return "drill out the hole where it is, " + at + ": " + change + from
	case best.Spot == r.Current.Spot && recut(r):
		return "leave the hole where it is, " + at + ", but cut the rods anew: as given they differ from what the toe asks for; then " + change + from
	case best.Spot == r.Current.Spot:
		return "leave the hole where it is, " + at + ": no other place serves these aims better" + from
	case best.Existing != "" && r.On != drill.Both:
		return fmt.Sprintf("nothing to drill: the hole %s, %s, serves best; %s%s", setup.Printable(best.Existing), at, change, from)
	}
	return at + ": " + change + from
}

// recut tells whether rods cut for today's hole are other than those that the file gives.
func recut(r *drill.Result) bool {
	for side, rod := range r.Best[0].Sweep.Rods {
		if math.Abs(rod.Length-r.Current.Sweep.Rods[side].Length) > 0.05 {
			return true
		}
	}
	return false
}

// place says where the balls go.
func place(r *drill.Result, p *drill.Place) string {
	arm, drop := point(r, p.Pickups[setup.Left]), point(r, p.Pins[setup.Left])
	if right := point(r, p.Pickups[setup.Right]); right != arm {
		arm += ", right " + right
	}
	if p.Pins[setup.Right] == p.Pins[setup.Left] {
		drop = "one hole for both rods, " + drop
	}
	switch r.On {
	case drill.DropArm:
		return drop
	case drill.Both:
		if p.Pickups == r.Current.Pickups {
			arm = "as it is, " + arm
		}
		if p.Pins == r.Current.Pins {
			drop = "as it is, " + drop
		}
		return "steering arm " + arm + ", drop arm " + drop
	}
	return arm
}

func point(r *drill.Result, v r3.Vector) string {
	f := func(mm float64) string { return wording.Figure(r.Setup.Unit, mm) }
	return "[" + f(v.X) + ", " + f(v.Y) + ", " + f(v.Z) + "]"
}

// placesBeside is how many places stand beside today's in one table of 80 columns.
const placesBeside = 4

// places is the table of today's hole and the best places.
func (p *page) places(r *drill.Result) {
	p.heading(fmt.Sprintf("Places (lengths in %s, angles in degrees)", wording.SpelledUnit(r.Setup.Unit)))
	for first := 0; first < len(r.Best); first += placesBeside {
		if first > 0 {
			p.line("", "")
		}
		last := min(first+placesBeside, len(r.Best))
		columns := []*drill.Listed{&r.Current}
		heads := []string{"", "today"}
		for i := first; i < last; i++ {
			columns = append(columns, &r.Best[i])
			heads = append(heads, fmt.Sprintf("place %d", i+1))
		}
		rows := [][]string{heads}
		for _, row := range placeRows(r) {
			cells := []string{row.label}
			for _, l := range columns {
				cells = append(cells, row.of(l))
			}
			rows = append(rows, cells)
		}
		p.leftTable(rows)
	}
}

// placeRow is one figure of every place.
type placeRow struct {
	label string
	of    func(l *drill.Listed) string
}

func placeRows(r *drill.Result) (rows []placeRow) {
	u := r.Setup.Unit
	add := func(label string, of func(l *drill.Listed) string) { rows = append(rows, placeRow{label, of}) }
	mm := func(label string, of func(l *drill.Listed) float64) {
		add(label, func(l *drill.Listed) string { return wording.Figure(u, of(l)) })
	}
	deg := func(label string, of func(l *drill.Listed) s1.Angle) {
		add(label, func(l *drill.Listed) string { return wording.Degrees(of(l)) })
	}
	if r.On != drill.DropArm {
		mm("arm: forward", func(l *drill.Listed) float64 { return l.Pickups[0].X })
		mm("     outboard", func(l *drill.Listed) float64 { return l.Pickups[0].Y })
		mm("     up (ball)", func(l *drill.Listed) float64 { return l.Pickups[0].Z })
	}
	if r.On != drill.Arm {
		mm("drop arm: down", func(l *drill.Listed) float64 { return l.Pins[0].X })
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
		deg("outer wheel", func(l *drill.Listed) s1.Angle { return l.Outer[d] })
	}
	deg(fmt.Sprintf("most off %s Ackermann", wording.Percent(r.Aims.Percent)), func(l *drill.Listed) s1.Angle { return l.Worst })
	for i, at := range [3]string{"10 of steer", "20 of steer", "the lock"} {
		add("Ackermann error at "+at, func(l *drill.Listed) string { return turnError(l, i, false) })
	}
	add("percent at the lock", func(l *drill.Listed) string { return turnError(l, 2, true) })
	add("ratio at centre", func(l *drill.Listed) string { return wording.Ratio(l.Ratio) })
	add("least leverage", func(l *drill.Listed) string {
		if lacksLeverage(r, l.Transmission) {
			return wording.Degrees(l.Transmission) + " !"
		}
		return wording.Degrees(l.Transmission)
	})
	add("least gap", func(l *drill.Listed) string { return gap(r, l.Clearance) })
	for _, side := range setup.Sides {
		mm(side.String()+" rod", func(l *drill.Listed) float64 { return l.Sweep.Rods[side].Length })
	}
	mm("hole centre to edge", func(l *drill.Listed) float64 { return l.Edge })
	mm("to the next hole", func(l *drill.Listed) float64 { return l.Web })
	deg("1 mm off: lock", func(l *drill.Listed) s1.Angle { return l.PerMM.Lock })
	deg("1 mm off: Ackermann", func(l *drill.Listed) s1.Angle { return l.PerMM.Worst })
	return rows
}

// turnError is the Ackermann error at 10, at 20 degrees of mean steer or at the lock: of the lock at which
// it is the greater.
func turnError(l *drill.Listed, which int, percent bool) string {
	var worst *sweep.TurnError
	for _, d := range sweep.Directions {
		turns := l.Sweep.TurnErrors(d)
		for i := range turns {
			t := &turns[i]
			fits := t.AtLock && which == 2 || !t.AtLock && math.Round(t.Steer.Degrees()) == float64(10*(which+1))
			if fits && (worst == nil || t.Error.Abs() > worst.Error.Abs()) {
				worst = t
			}
		}
	}
	switch {
	case worst == nil:
		return "-"
	case percent:
		return wording.Fixed(worst.Percent, 0)
	}
	return wording.Signed(wording.Degrees(worst.Error))
}

func gap(r *drill.Result, mm float64) string {
	switch {
	case math.IsNaN(mm):
		return "wide"
	case mm < r.Setup.Limits.Clearance:
		return wording.Figure(r.Setup.Unit, mm) + " !"
	}
	return wording.Figure(r.Setup.Unit, mm)
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
	p.heading("What stops it")
	p.placeLimit("today", &r.Current)
	for i := range r.Best {
		p.placeLimit(fmt.Sprintf("place %d", i+1), &r.Best[i])
	}
}

func (p *page) placeLimit(label string, l *drill.Listed) {
	left, right := wording.StoppedBy(l.Sweep, sweep.ToLeft), wording.StoppedBy(l.Sweep, sweep.ToRight)
	p.row(label+", left", left)
	if strings.ReplaceAll(left, "left", "right") == right {
		p.row("", "and to the right as its mirror image")
		return
	}
	p.row(label+", right", right)
}

// trade shows what more lock costs in Ackermann.
func (p *page) trade(r *drill.Result) {
	if len(r.Front) < 2 {
		return
	}
	p.heading("More lock or truer Ackermann: what can be had, all other aims met")
	rows := [][]string{{"lock", "most off", "hole"}}
	for i := range r.Front {
		f := &r.Front[i]
		hole := place(r, f)
		if r.On == drill.Both {
			hole = point(r, f.Pickups[setup.Left]) + " and " + point(r, f.Pins[setup.Left])
		}
		rows = append(rows, []string{wording.Degrees(f.Figures.Lock()), wording.Fixed(f.Worst.Degrees(), 2), hole})
	}
	for _, row := range rows {
		p.line("", fmt.Sprintf("%8s%10s   %s", row[0], row[1], row[2]))
	}
}
