package wording

import (
	"fmt"
	"slices"
	"strings"

	"github.com/golang/geo/s1"

	"locksweep/geometry/drill"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

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
	case sweep.NoMetalStop:
		if r.Aims.Cut {
			return "no cut gives the lock wanted here and leaves a metal stop that holds"
		}
	case sweep.NarrowStop:
		i := slices.IndexFunc(l.Sweep.Findings, func(f sweep.Finding) bool { return f.Code == code })
		return narrowStop(l.Sweep.Model, &l.Sweep.Findings[i])
	case sweep.WheelsOpposed:
		return "the wheels turn against each other"
	case sweep.SteersBackwards:
		return "it steers backwards"
	case sweep.LowClearance:
		if l.Within.Impossible {
			return "drilled " + Length(u, r.Options.Slip) + " off it would not assemble, or metal would touch metal straight ahead"
		}
		return fmt.Sprintf("a gap falls to %s, wanted %s:%s", Gap(u, l.Within.Clearance), GapAimed(r), nearestPair(l, &l.Within.Nearest))
	}
	what := map[sweep.Code]string{
		sweep.NoMetalStop:  "no metal stop holds the wheels",
		sweep.TyreTouches:  "a tyre is the first to touch",
		sweep.TouchesFirst: "what touches first is no stop (a rod, an arm, a bar that is only assumed, metal too narrow)",
		sweep.StopMargin:   fmt.Sprintf("the stop comes less than %s of the steering wheel before the linkage gives out", Angle(sweep.WantedMargin)),
	}[code]
	if what == "" {
		what = string(code)
	}
	return what + " turning " + ways(l, code) + stoppedBy(l, code)
}

// ways says turning which way a fault of the stops is found, within the slip: "left and right".
func ways(l *drill.Listed, code sweep.Code) string {
	var said []string
	for _, d := range sweep.Directions {
		if slices.Contains(l.Within.Faults[d], code) {
			said = append(said, d.String())
		}
	}
	return strings.Join(said, " and ")
}

// stoppedBy says what comes first instead of a stop, behind a colon; empty where nothing does, or where the fault is found only off the place itself.
func stoppedBy(l *drill.Listed, code sweep.Code) string {
	for _, d := range sweep.Directions {
		if first := l.Sweep.Locks[d].First(); first != nil && code != sweep.StopMargin && slices.Contains(l.Faults[d], code) {
			return ": " + Limit(l.Sweep.Model, first)
		}
	}
	return ""
}

// DrillMarks says what in a place is less than wanted.
func DrillMarks(r *drill.Result, l *drill.Listed) (lines []string) {
	for _, code := range l.Marks {
		switch code {
		case sweep.LowClearance:
			if !r.Setup.Limits.Tight(l.Within.Clearance) || slices.Contains(l.Alarms, code) {
				continue // what is tight up to the lock wanted is an alarm, or nothing is
			}
			lines = append(lines, fmt.Sprintf("least gap %s, less than the %s wanted, but not less than today:%s", Gap(r.Setup.Unit, l.Within.Clearance), r.Setup.Unit.Say(r.Setup.Limits.Clearance),
				nearestPair(l, &l.Within.Nearest)))
		case sweep.LowTransmission:
			lines = append(lines, fmt.Sprintf("leverage falls to %s, less than the %s wanted: heavy, and near a dead point a hard pull can take the linkage over centre",
				Angle(l.Within.Transmission), Angle(r.Aims.Leverage)))
		}
	}
	if text := DrillPast(r, l); text != "" {
		lines = append(lines, text)
	}
	return append(lines, drillFights(r, l)...)
}

// DrillPast says of a place that turns past the lock wanted what comes too near on the way to its own lock, and what may in truth touch before
// the metal stop does; empty where all keeps clear there.
func DrillPast(r *drill.Result, l *drill.Listed) string {
	if !l.TightPast() {
		return ""
	}
	near, gap := l.Tightest()
	said := append([]string{fmt.Sprintf("past the %s wanted, up to its own lock, a gap falls to %s, wanted %s:%s", Angle(r.Aims.Lock), Gap(r.Setup.Unit, gap),
		r.Setup.Unit.Say(r.Setup.Limits.Clearance), nearestPair(l, &near))},
		BothWays(func(d sweep.Direction) string {
			soon, apart := l.Soon(d)
			if soon == nil {
				return ""
			}
			return mayTouch(l.Sweep.Model, d, soon, apart) + "and " + usualApart
		}, likewiseRight)...)
	return strings.Join(append(said, "make room there, or make the stop come sooner"), "; ")
}

// mayTouch says that something that is no stop may in truth touch before the metal stop does; how much later it would have to come is
// still to be said.
func mayTouch(m *sweep.Model, d sweep.Direction, next *sweep.Limit, apart s1.Angle) string {
	return fmt.Sprintf("turning %s it may be that %s before the metal stop does: by these figures it comes only %s of the inner wheel later, ", d, Limit(m, next), Angle(apart))
}

const (
	usualApart    = "3° are wanted (common practice)"
	likewiseRight = "turning right it is the same on the other side"
)

// drillFights says of a place that turns the wheels further than today's hole how it fights the driver at its own lock where today's does not:
// an outer wheel that is turned further than the inner one, by more than today, and a steering wheel that turns less than the wheels.
func drillFights(r *drill.Result, l *drill.Listed) (lines []string) {
	over := func(l *drill.Listed) (inner, outer s1.Angle) {
		for _, d := range sweep.Directions {
			if l.Outer[d]-l.Inner[d] > outer-inner {
				inner, outer = l.Inner[d], l.Outer[d]
			}
		}
		return inner, outer
	}
	inner, outer := over(l)
	innerNow, outerNow := over(&r.Current)
	if r.Aims.Percent > 0 && outer-inner > max(outerNow-innerNow, 0)+s1.Degree {
		lines = append(lines, fmt.Sprintf("at the lock the outer wheel stands at %s and the inner one at %s: reversed Ackermann, the front tyres fight each other; ask for less lock, or for more Ackermann with the pickups further %s",
			Angle(outer), Angle(inner), wayOf(r, "inboard", "outboard")))
	}
	if l.Ratio > 1 && r.Current.Ratio <= 1 {
		lines = append(lines, fmt.Sprintf("the wheels turn further than the steering wheel, %s: heavy and nervous", SteeringRatio(1/l.Ratio)))
	}
	return lines
}

// wayOf is one of two ways to move a pickup: the first where the steering arms point behind the kingpins, the other where they point ahead.
func wayOf(r *drill.Result, behind, ahead string) string {
	if r.Current.Pickups[setup.Left].X > 0 {
		return ahead
	}
	return behind
}

// further says what would let the wheels turn further than any hole in today's metal, by where the linkage gives out: where a rod comes
// in line with its arm, that is later the further outboard of an arm behind, or inboard of one ahead, its ball is; where with the drop arm, the longer
// that is.
func further(r *drill.Result, ends sweep.Kind) string {
	switch ends {
	case sweep.OverCentre:
		return "try a longer drop arm (--on drop-arm): the rods come in line with it before they do with the arms"
	case sweep.DeadPoint:
		return "try an arm made anew (--new-arm, its outline in the file) with metal further " + wayOf(r, "outboard", "inboard") + ": a rod comes in line with its arm later there"
	}
	return "try an arm made anew (--new-arm, its outline in the file), or another drop arm (--on drop-arm)"
}

// givesOut is where the linkage gives out first with today's hole; sweep.Contact where that is not known.
func givesOut(r *drill.Result) sweep.Kind {
	for _, d := range sweep.Directions {
		for _, l := range r.Current.Sweep.Locks[d].Chain {
			if l.Kind == sweep.OverCentre || l.Kind == sweep.DeadPoint {
				return l.Kind
			}
		}
	}
	return sweep.Contact
}
