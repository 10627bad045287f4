package wording

import (
	"fmt"
	"math"
	"strings"

	"locksweep/geometry/compare"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/geometry/tolerance"
)

// Drawn says what stands behind a ±.
func Drawn(r *tolerance.Result) string {
	return fmt.Sprintf("What you measured is right to within its accuracy. So your kart is one of many that all measure the same; %d of them "+
		"were drawn by chance. ± holds 95 of a hundred; \"worst\" is every error at its most, all one way.", r.Options.Draws)
}

// StoppedIn says what stops the wheels in how many of a hundred karts, turning one way.
func StoppedIn(r *tolerance.Result, d sweep.Direction) (lines []string) {
	of := r.Options.Draws - r.Apart
	for i, s := range r.Stops[d] {
		if left := len(r.Stops[d]) - mostStops; i == mostStops && left > 1 {
			rest := 0
			for _, s := range r.Stops[d][i:] {
				rest += s.Count
			}
			return append(lines, fmt.Sprintf("%s: one of %d others", inAHundred(rest, of), left))
		}
		what := "nothing stops the wheels"
		if s.Limit != nil {
			what = Limit(r.Model, s.Limit)
			switch {
			case s.Limit.Kind.Ends():
				what += " - NO METAL STOPS THE WHEELS before that"
			case s.Limit.Brushes:
				what += ", which is no stop"
			}
		}
		lines = append(lines, inAHundred(s.Count, of)+": "+what)
	}
	return lines
}

// mostStops is how many limits are named either way.
const mostStops = 6

// inAHundred says a share in whole karts of a hundred; never all of them where one is missing.
func inAHundred(count, of int) string {
	n := math.Round(100 * float64(count) / float64(of))
	switch {
	case count == of:
		return "in all of them"
	case n < 1:
		return fmt.Sprintf("in fewer than 1 of 100 (%d of %d)", count, of)
	case n > 99:
		return fmt.Sprintf("in more than 99 of 100 (%d of %d)", count, of)
	}
	return fmt.Sprintf("in %.0f of 100", n)
}

// NotCounted says what could not be told of some of the draws.
func NotCounted(r *tolerance.Result) (lines []string) {
	if r.Apart > 0 {
		lines = append(lines, fmt.Sprintf("%s the rods do not reach: these karts cannot be put together, and nothing here counts them", inAHundred(r.Apart, r.Options.Draws)))
	}
	if r.Touching > 0 {
		lines = append(lines, fmt.Sprintf("%s something touches straight ahead that does not in the file; it is left out of limits there, and counts as no gap", inAHundred(r.Touching, r.Options.Draws-r.Apart)))
	}
	return lines
}

// Question names what a question is about.
func Question(q tolerance.Question) string {
	return [4]string{"Lock", "Ackermann error", "Least gap", "Rod length"}[q]
}

// mostMatters is how many measures are named that matter most.
const mostMatters = 3

// leastMatters is the share of the doubt under which a measure is not worth measuring again.
const leastMatters = 0.02

// MeasureAgain says which measures matter most to a question: a few, the worst first.
func MeasureAgain(r *tolerance.Result, q tolerance.Question) string {
	var said []string
	for i, m := range r.Most(q) {
		if i == mostMatters || m.Share < leastMatters && i > 0 {
			break
		}
		name := MeasureName(&r.Setup.Rehung, m.Key)
		if m.Both {
			name = strings.TrimPrefix(MeasureName(&setup.Rehung{}, m.Key), "left ") + ", both sides,"
		}
		said = append(said, fmt.Sprintf("%s %.0f %%", name, 100*m.Share))
	}
	switch {
	case len(said) > 0:
		return strings.Join(said, "; ")
	case len(r.Answers(q)) == 0:
		return "not known of this setup"
	}
	return "nothing that you measured matters to it"
}

// mostExact is an accuracy that anybody keeps, mm.
const mostExact = 10.0

// HowExact says how exact holes and rods have to be for a lock or an Ackermann error that is known well enough.
func HowExact(r *tolerance.Result, q tolerance.Question) string {
	if len(r.Answers(q)) == 0 {
		return "not known of this setup"
	}
	e, u := r.Exact(q), r.Setup.Unit
	each := func(name string, most, always float64) string {
		switch {
		case !(most < mostExact):
			return name + ": it does not depend on them"
		case !(always < mostExact):
			return fmt.Sprintf("%s to ±%s", name, downwards(u, most))
		}
		return fmt.Sprintf("%s to ±%s (±%s to be safe whatever happens)", name, downwards(u, most), downwards(u, always))
	}
	text := each("holes", e.Holes, e.HolesAlways) + "; " + each("rods", e.Rods, e.RodsAlways)
	if !e.Enough {
		text += fmt.Sprintf(". Other measures leave more than ±%s of doubt already", Angle(tolerance.Wanted))
	}
	return text
}

// downwards returns a length rounded down, so that it is kept by who keeps to it.
func downwards(u setup.Unit, mm float64) string {
	step := 0.05
	if u == setup.Inch {
		step = 0.001 * setup.MMPerInch
	}
	down := math.Floor(mm/step+1e-9) * step
	switch {
	case down < step:
		return "less than " + Fixed(u.FromMM(step), [2]int{setup.MM: 2, setup.Inch: 3}[u]) + " " + u.String()
	case u == setup.Inch:
		return Fixed(u.FromMM(down), 3) + " in"
	}
	return Fixed(down, 2) + " mm"
}

// Accuracies says what each class of measures is taken to be exact to.
func Accuracies(r *tolerance.Result) string {
	a, u := &r.Setup.Accuracy, r.Setup.Unit
	length := func(mm float64) string { return "±" + fine(u, mm) }
	hole := a.Hole
	if r.Drill != nil {
		hole = *r.Drill
	}
	text := fmt.Sprintf("places %s, heights %s, holes %s, rods %s, outlines %s, angles ±%s°", length(a.Place), length(a.Height), length(hole), length(a.Rod),
		length(a.Outline), Short(Fixed(a.Angle.Degrees(), 2)))
	if n := len(a.Keys); n > 0 {
		text += fmt.Sprintf(", and %d of their own", n)
	}
	if !a.Given {
		text += "; the usual ones, since the file gives no [accuracy]"
	}
	return text
}

// fine is a small length with what a calliper shows, without idle noughts.
func fine(u setup.Unit, mm float64) string {
	return Short(Fixed(u.FromMM(mm), [2]int{setup.MM: 2, setup.Inch: 3}[u])) + " " + u.String()
}

// Short takes the idle noughts off a figure.
func Short(text string) string {
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	return text
}

// BentNote explains the mark beside a figure.
const BentNote = "~ The figure does not follow the measures in a straight line within their accuracies: something else comes first, or nearest, in some " +
	"of the karts. Its ± stands; its worst, and what to measure again, are a rough guide."

// KeysNote explains keys.
const KeysNote = "Numbers in brackets count from 0: arm.pickup[1] is its second figure; [*] is every point of an outline or path."

// ExactNote says what holes and rods have to be so exact for.
const ExactNote = "so exact that lock and error are within ±0.5° in 95 of a hundred karts, each with all else exact"

// HowSure says by how much the figures that a sweep begins with may be off; empty where nothing is known.
func HowSure(r *tolerance.Result) string {
	var said []string
	for _, of := range [...]struct{ key, name string }{
		{"lock_inner", "inner wheel at lock"}, {"lock_outer", "outer wheel"}, {"ackermann_error_20", "error at 20°"}, {"ackermann_error_lock", "error at lock"},
		{"stop_margin", "stop before the linkage's end"}, {"least_gap", "least gap"}, {"rod_length", "rods"},
	} {
		if by := plusMinus(r, of.key); by != "" {
			said = append(said, of.name+" ±"+by)
		}
	}
	return strings.Join(said, ", ")
}

// GiveOrTake is a figure's ± as it stands behind its value, of the less sure way; empty where nothing is known of it.
func GiveOrTake(r *tolerance.Result, key string) string {
	if r != nil {
		if by := plusMinus(r, key); by != "" {
			return " ± " + by
		}
	}
	return ""
}

// plusMinus is a figure's ±, of the less sure way, with its unit; empty where nothing is known of it.
func plusMinus(r *tolerance.Result, key string) string {
	most, of := lessSure(r, key)
	if most == 0 || r.Find(key, 0) == nil {
		return ""
	}
	return Compared(r.Setup.Unit, of.Kind, most) + unitBehind(r.Setup.Unit, of)
}

// lessSure is by how much a figure may be off, mm, radians or as it is counted, of the two ways the less sure one; 0 and nil where nothing is
// known of it.
func lessSure(r *tolerance.Result, key string) (most float64, of *tolerance.Figure) {
	for side := range 2 {
		if f := r.Find(key, side); f != nil && f.PlusMinus() > most {
			most, of = f.PlusMinus(), f
		}
	}
	return most, of
}

// unitBehind is the unit of a figure as it stands behind a value.
func unitBehind(u setup.Unit, f *tolerance.Figure) string {
	if unit := FigureUnit(u, f.Kind); unit == "°" {
		return unit
	} else if unit != "" {
		return " " + unit
	}
	return ""
}

// margin is one of the figures that may turn out to be nothing.
type margin struct {
	*tolerance.Figure
	name, short string
	way         string // "turning left" where it is of a lock
}

// unsure lists the margins that are smaller than what they may be off by, so that they may be none.
func unsure(r *tolerance.Result) (list []margin) {
	for i, of := range [len(tolerance.Margins)]struct{ name, short string }{
		{"the least gap", "least gap %s%s"},
		{"what the stop leaves before the linkage gives out", "stop%s %s before the linkage's end"},
		{"what the lock leaves before over centre", "lock%s %s before over centre"},
	} {
		m := margin{name: of.name, short: of.short}
		for side := range 2 {
			f := r.Find(tolerance.Margins[i], side)
			if f == nil || !f.MayBeNone() {
				continue
			}
			way := ""
			if f.Split == compare.ByLock {
				way = " turning " + sweep.Direction(side).String()
			}
			if m.Figure != nil {
				m.way = " turning either way"
			} else {
				m.Figure, m.way = f, way
			}
		}
		if m.Figure != nil {
			list = append(list, m)
		}
	}
	return list
}

// off says within what a margin lies, as a sentence and behind its value: its ±, or of draws, which may lie far more to one side, both ends.
func (m *margin) off(u setup.Unit) (long, short string) {
	unit := unitBehind(u, m.Figure)
	say := func(v float64) string { return Compared(u, m.Kind, v) + unit }
	if m.Draws.Of > 0 {
		low, high := say(m.Draws.Low), say(m.Draws.High)
		return "it lies between " + low + " and " + high + " in 95 of a hundred karts", say(m.Value) + " (" + low + " to " + high + ")"
	}
	by := say(m.PlusMinus())
	return "it may be off by ±" + by, say(m.Value) + " ± " + by
}

// Unsure says which margins are smaller than what they may be off by, so that they may be none.
func Unsure(r *tolerance.Result) (lines []string) {
	u := r.Setup.Unit
	for _, m := range unsure(r) {
		long, _ := m.off(u)
		lines = append(lines, fmt.Sprintf("%s%s, %s%s, is not sure: %s, so there may be none", m.name, m.way, Compared(u, m.Kind, m.Value), unitBehind(u, m.Figure), long))
	}
	return lines
}

// Doubt is Unsure in a line, for drawings; empty where all is sure.
func Doubt(r *tolerance.Result) string { return doubt(unsureShort(r)) }

func unsureShort(r *tolerance.Result) (said []string) {
	for _, m := range unsure(r) {
		_, short := m.off(r.Setup.Unit)
		said = append(said, fmt.Sprintf(m.short, m.way, short))
	}
	return said
}

func doubt(said []string) string {
	if len(said) == 0 {
		return ""
	}
	return "not sure: " + strings.Join(said, ", ") + "; there may be no such margin"
}
