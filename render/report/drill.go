package report

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/golang/geo/s1"

	"locksweep/geometry/drill"
	"locksweep/geometry/sweep"
	"locksweep/render/wording"
)

// DrillOptions says what a report of a search for a hole shows besides the search itself.
type DrillOptions struct {
	Options
	ToSweep    []string        // the command, by its lines, that sweeps the best place; empty where there is no such way
	NoSettings string          // why there is no such way
	Together   *drill.Together // where the stop is to be ground to suit
	Doubts     []string        // margins of the picked place that are not sure
}

// Drill is the report of a search for a hole.
func Drill(r *drill.Result, opt DrillOptions) []byte {
	p := begin(r.Setup, opt.Options, wording.Alarmed(r.Today))
	p.row("Hole", holeWords(r))
	p.row("Wanted", wanted(r))
	for _, text := range missed(r) {
		p.loud(text)
	}
	if text := lowLeverage(r); text != "" {
		p.loud(text)
	}
	p.drillAnswer(r)
	for _, text := range opt.Doubts {
		p.marked(text)
	}
	if opt.Together != nil {
		p.together(opt.Together)
	}
	p.places(r)
	p.placeLimits(r)
	p.trade(r)
	if len(opt.ToSweep) > 0 {
		p.heading(toSweep(r))
		p.command(opt.ToSweep)
		if len(r.Setup.Changes) > 0 {
			p.item("", "These are figures as the file gives them, before [change] moves and turns things. Mark out by the table above or the template, never by these.")
		}
	}
	if opt.NoSettings != "" {
		p.line("", "")
		p.paragraph(opt.NoSettings)
	}
	p.items("Assumed, not measured", wording.DrillAssumed(r))
	p.items("Before you drill", wording.DrillCautions(r))
	p.caution()
	return p.Bytes()
}

// toSweep heads the command that sweeps place 1: one that is no answer is not offered as one.
func toSweep(r *drill.Result) string {
	if r.Leave {
		return "To see for yourself why place 1 is out of the question"
	}
	return "To see place 1 swept"
}

// holeWords says which hole is looked for.
func holeWords(r *drill.Result) string {
	of := [4]string{
		drill.Arm:     "of the tie rod in the steering arm, [forward, outboard, up] from the kingpin centre, both arms alike",
		drill.DropArm: "of the tie rods in the drop arm, [down, left, along] from the column's foot; the left rod's, the right one's is its mirror image",
		drill.Both:    "of the tie rods in the steering arms and in the drop arm",
		drill.Link:    "of the drag link in its steering arm, [forward, outboard, up] from the kingpin centre",
	}[r.On]
	if r.Setup.OnePin() {
		switch r.On {
		case drill.DropArm:
			of = "of the drag link in the drop arm, [down, left, along] from the column's foot"
		case drill.Both:
			of = "of the tie rod in the steering arms and of the drag link in the drop arm"
		}
	}
	if r.Options.Each {
		of = strings.NewReplacer("both arms alike", "each arm for itself", "the left rod's, the right one's is its mirror image", "each rod's for itself").Replace(of)
	}
	return wording.Drill(r.Setup.Unit, r.Options.Diameter) + ", " + of
}

// wanted says the aims in the order in which they count.
func wanted(r *drill.Result) string {
	a := &r.Aims
	list := []string{
		"a metal stop that holds the wheels",
		"gaps of at least " + wording.GapAimed(r),
		"leverage at least " + wording.Angle(a.Leverage),
		"inner wheel at least " + wording.Angle(a.Lock) + " at either lock",
	}
	if a.Cut {
		list[0] = "the stop ground to suit"
	}
	if a.Ratio > 0 {
		list = append(list, "ratio "+wording.Ratio(a.Ratio)+" within 5 %")
	}
	if a.Alike {
		list = append(list, "both ways alike within "+wording.Angle(drill.AlikeSlack))
	}
	to := "where the inner wheel stands at " + wording.Angle(a.Lock)
	if a.To > 0 {
		to = wording.Angle(a.To)
	}
	last := fmt.Sprintf("inner wheel as near as can be to %s Ackermann from %s of mean steer to %s", wording.Percent(a.Percent), wording.Angle(a.From), to)
	if a.Within > 0 {
		last += ", at most " + asked(a.Within) + " off"
	}
	text := strings.Join(append(list, last), "; ") + ". All judged between straight ahead and the lock wanted"
	if r.Options.Slip > 0 {
		text += ", with each new hole drilled up to " + wording.Length(r.Setup.Unit, r.Options.Slip) + " off its place"
	}
	return text
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
	least := r.Best[0].Within.Transmission
	said := slices.ContainsFunc(r.Misses, func(m drill.Miss) bool { return m.Aim == drill.Leverage })
	if said || !r.Aims.Lacks(least) {
		return ""
	}
	text := "no place has the leverage wanted, "
	if len(r.Weak) > 0 {
		text = "no place that is fit otherwise has the leverage wanted, "
	}
	only := ""
	if r.Current.Figures.Lock() < r.Aims.Lock-0.05*s1.Degree { // it may well have it, but not as far
		only = ", only up to its lock of " + wording.Angle(r.Current.Figures.Lock())
	}
	text += fmt.Sprintf("%s up to %s: place 1 has %s, today's %s%s; near a dead point a hard pull can take the linkage over centre",
		wording.Angle(r.Aims.Leverage), wording.Angle(r.Aims.Lock), wording.Angle(least), wording.Angle(r.Current.Transmission), only)
	if why := wording.Barred(r, drill.Leverage, r.Weak); why != "" {
		text += "; " + why
	}
	return text
}

// Missed says why no hole is recommended: which aim fails and what is the nearest attainable; empty where all are met.
func Missed(r *drill.Result) string { return strings.Join(missed(r), "; ") }

func missed(r *drill.Result) (list []string) {
	for i := range r.Misses {
		switch m := &r.Misses[i]; m.Aim {
		case drill.Sense:
			list = append(list, "no place makes both wheels turn the way of the steering wheel")
		case drill.Stop:
			list = append(list, "no hole is fit to be drilled: "+noStop(r, m))
		default:
			list = append(list, missedFigure(r, m))
		}
	}
	return list
}

// noStop says why no metal stop holds.
func noStop(r *drill.Result, m *drill.Miss) string {
	if stuck := wording.DrillStuck(r); stuck != "" {
		return stuck
	}
	if slices.ContainsFunc(m.Barred, func(b drill.Barred) bool { return b.Aim == drill.Stop && b.Code != sweep.NoMetalStop }) {
		return "at no place does a metal stop hold the wheels soon enough and before all else touches; fit one that does first"
	}
	return "at no place does a metal stop hold the wheels; fit one first"
}

// missedFigure says what is wanted of a figure and what is the nearest, finer where both read alike.
func missedFigure(r *drill.Result, m *drill.Miss) string {
	fine := false
	value := func(v float64) string {
		switch {
		case math.IsNaN(v) || math.IsInf(v, 0):
			return "none"
		case fine && m.Aim == drill.Clearance:
			return wording.Fixed(r.Setup.Unit.FromMM(v), 4) + " " + r.Setup.Unit.String()
		case fine && m.Aim.IsAngle():
			return wording.Fixed(s1.Angle(v).Degrees(), 4) + "°"
		case m.Aim == drill.Clearance:
			return wording.Length(r.Setup.Unit, v)
		case m.Aim == drill.Ackermann:
			return wording.Fixed(s1.Angle(v).Degrees(), 2) + "°"
		case m.Aim == drill.Lock && r.Aims.Cut && v != m.Wanted:
			return wording.Floored(s1.Angle(v))
		case m.Aim.IsAngle():
			return wording.Angle(s1.Angle(v))
		}
		return wording.Ratio(v)
	}
	fine = value(m.Wanted) == value(m.Nearest)
	text := "no place gives " + map[drill.Aim]string{
		drill.Clearance: "gaps of at least ", drill.Leverage: "leverage of at least ", drill.Lock: "lock of at least ", drill.Ratio: "ratio of ",
		drill.Alike: "both ways alike within ", drill.Ackermann: "inner wheel off the wanted Ackermann by at most ",
	}[m.Aim] + value(m.Wanted)
	text += ": the nearest is " + value(m.Nearest)
	if value(m.Alone) != value(m.Nearest) {
		text += ", or " + value(m.Alone) + " without regard to the other aims"
		if r.Aims.Cut && r.Leave && m.Aim == drill.Lock {
			text += " even with all that may be ground gone"
		}
	}
	return text
}
