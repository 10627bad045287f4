package wording

import (
	"fmt"
	"math"
	"strings"

	"locksweep/geometry/drill"
	"locksweep/geometry/sweep"
)

// DrillCautions is what must be heeded before a hole is drilled.
func DrillCautions(r *drill.Result) []string {
	edge := "See for yourself that at least " + Fixed(r.Options.Edge, 1) + " hole diameters of metal stay between the hole's centre and any edge (floor of EN 1993-1-8: 1.2): " +
		"the outline is not known here."
	if r.EdgeKept() {
		edge = "Hole centre to edge at least " + Fixed(r.Options.Edge, 1) + " hole diameters, as kept here (floor of EN 1993-1-8: 1.2)."
	}
	return []string{
		"A positive metal stop on or against the spindle comes first, both ways.",
		"Never drill a forged, cast or hardened part, or one that you cannot name the steel of, without the advice of someone competent. No welding or heating of spindles and arms.",
		"Drill under size and ream to the bolt: a plain shank through the joint, no thread in it; deburr both faces.",
		"Carry the rod end in double shear, or with a washer wide enough to hold it if it breaks.",
		edge + " An old hole that shows a crack condemns the arm.",
		"Make a cardboard arm first, try it lock to lock, and drill last. Both sides must be the same to half a millimetre.",
	}
}

// DrillAlarms says what makes a place unfit, in lower case and without full stops.
func DrillAlarms(r *drill.Result, l *drill.Listed) (lines []string) {
	for _, code := range l.Alarms {
		lines = append(lines, drillAlarm(r, l, code))
	}
	return lines
}

func drillAlarm(r *drill.Result, l *drill.Listed, code sweep.Code) string {
	u := r.Setup.Unit
	switch code {
	case sweep.WheelsOpposed:
		return "the wheels turn against each other"
	case sweep.SteersBackwards:
		return "it steers backwards"
	case sweep.LowClearance:
		if l.Within.Impossible {
			return "drilled " + Length(u, r.Options.Slip) + " off it would not assemble, or metal would touch metal straight ahead"
		}
		text := fmt.Sprintf("a gap falls to %s, wanted %s", Length(u, l.Within.Clearance), Length(u, r.Aims.Clearance))
		if r.Aims.Clearance < r.Setup.Limits.Clearance {
			text += " as today"
		}
		return text
	}
	what := map[sweep.Code]string{
		sweep.NoMetalStop:  "no metal stop holds the wheels",
		sweep.TyreTouches:  "a tyre is the first to touch",
		sweep.TouchesFirst: "what touches first is no stop (a rod, an arm, a bar that is only assumed)",
		sweep.StopMargin:   fmt.Sprintf("the stop comes less than %s of the steering wheel before the linkage gives out", Angle(sweep.WantedMargin)),
	}[code]
	if what == "" {
		what = string(code)
	}
	return what + " turning " + ways(l, code) + stoppedBy(l, code)
}

// ways says which way a fault of the stops is found.
func ways(l *drill.Listed, code sweep.Code) string {
	var said []string
	for _, d := range sweep.Directions {
		for _, c := range l.Within.Faults[d] {
			if c == code {
				said = append(said, d.String())
			}
		}
	}
	return strings.Join(said, " and ")
}

// stoppedBy says what comes first instead, where that is the same in the place itself.
func stoppedBy(l *drill.Listed, code sweep.Code) string {
	for _, d := range sweep.Directions {
		for _, c := range l.Faults[d] {
			if first := l.Sweep.Locks[d].First(); c == code && first != nil && code != sweep.StopMargin {
				return ": " + Limit(l.Sweep.Model, first)
			}
		}
	}
	return ""
}

// DrillMarks says what in a place is less than wanted.
func DrillMarks(r *drill.Result, l *drill.Listed) (lines []string) {
	for _, code := range l.Marks {
		switch code {
		case sweep.LowClearance:
			lines = append(lines, fmt.Sprintf("least gap %s, less than the %s wanted, but not less than today", Length(r.Setup.Unit, l.Within.Clearance), Length(r.Setup.Unit, r.Setup.Limits.Clearance)))
		case sweep.LowTransmission:
			lines = append(lines, fmt.Sprintf("leverage falls to %s, less than the %s wanted: heavy, and near a dead point a hard pull can take the linkage over centre",
				Angle(l.Within.Transmission), Angle(r.Aims.Leverage)))
		}
	}
	return lines
}

// Decided says which aim decided, of a place and what it is compared with; empty where there is nothing to compare with.
func Decided(r *drill.Result, by drill.Aim) string {
	switch by {
	case drill.Sense:
		return "which way it steers"
	case drill.Stop:
		return "what stops the wheels"
	case drill.Clearance:
		return "the gaps"
	case drill.Leverage:
		return "leverage"
	case drill.Lock:
		return "lock"
	case drill.Ratio:
		return "ratio"
	case drill.Alike:
		return "likeness of both ways"
	case drill.Ackermann:
		return "nearness to the Ackermann wanted"
	case drill.Change:
		return fmt.Sprintf("the least change of today's hole, of places that a tape cannot tell apart (%s of error, %s of lock)", Angle(r.Aims.Tie.Error), Angle(r.Aims.Tie.Lock))
	}
	return ""
}

// DrillCosts says what the best place costs elsewhere, beside today's hole.
func DrillCosts(r *drill.Result) (lines []string) {
	best, now, u := &r.Best[0], &r.Current, r.Setup.Unit
	becomes := func(what, before, after string) { lines = append(lines, what+" "+before+" becomes "+after) }
	if share := best.Ratio/now.Ratio - 1; math.Abs(share) >= 0.05 && !math.IsInf(share, 0) {
		word := "heavier"
		if share < 0 {
			word = "lighter, and further to turn"
		}
		becomes(fmt.Sprintf("steering wheel %s %% %s: ratio", Fixed(100*math.Abs(share), 0), word), Ratio(now.Ratio), Ratio(best.Ratio))
	}
	if best.Figures.Lock() < now.Figures.Lock()-drill.DefaultTieLock {
		becomes("lock", Angle(now.Figures.Lock()), Angle(best.Figures.Lock()))
	}
	if best.Worst > now.Worst+drill.DefaultTieError {
		becomes("inner wheel at most off", Angle(now.Worst), Angle(best.Worst))
	}
	if best.Transmission < now.Transmission-drill.DefaultTieLock {
		becomes("least leverage", Angle(now.Transmission), Angle(best.Transmission))
	}
	if best.Clearance < now.Clearance-0.5 || math.IsNaN(now.Clearance) && !math.IsNaN(best.Clearance) {
		before := "wide"
		if !math.IsNaN(now.Clearance) {
			before = Length(u, now.Clearance)
		}
		becomes("least gap", before, Length(u, best.Clearance))
	}
	return lines
}
