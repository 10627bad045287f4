package wording

import (
	"fmt"
	"slices"
	"strings"

	"github.com/golang/geo/s1"

	"locksweep/geometry/compare"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// NeedsOfSound says what a setup needs to be best at anything.
const NeedsOfSound = "Sound: no alarm, leverage and gaps as [limits] wants them, and either way a metal stop, the first thing to touch, " +
	"at least 3° of the steering wheel before a dead point or over centre."

// Stopped says what stops an entry turning one way, and behind ! what is wrong with that: "left tyre touches side rail;
// ! a tyre touches first".
func Stopped(e *compare.Entry, d sweep.Direction) string {
	text := "nothing"
	if l := e.Result.Locks[d].First(); l != nil {
		text = Limit(e.Result.Model, l)
	}
	for _, f := range e.Faults {
		if f.OfStop() && f.Lock == d {
			text += "; ! " + stopFault(e, f)
		}
	}
	return text
}

// fault says in a few words why an entry is best at nothing, with its figure.
func fault(e *compare.Entry, f compare.Fault) string {
	u := e.Setup.Unit
	switch f.Code {
	case sweep.LowTransmission:
		least := e.Result.LeverageWithin()
		return fmt.Sprintf("leverage %s at the %s, wanted %s", Angle(least.Angle), Place(e.Result.Model, least.Rod, least.End), Angle(e.Setup.Limits.Transmission))
	case sweep.LowClearance:
		near, _ := e.Result.LeastGap()
		a, b := Pair(e.Result.Model, near.Pair)
		return fmt.Sprintf("gap %s, wanted %s: %s, %s", Gap(u, near.Gap), u.Say(e.Setup.Limits.Clearance), a, b)
	case sweep.BrokenStraight:
		return "stuck straight ahead"
	case sweep.SteersBackwards:
		return "steers backwards"
	case sweep.WheelsOpposed:
		return "wheels turn against each other"
	}
	if f.OfStop() {
		return fmt.Sprintf("turning %s: %s", f.Lock, stopFault(e, f))
	}
	return strings.ReplaceAll(string(f.Code), "-", " ")
}

// Faults says all of them, once what holds turning either way.
func Faults(e *compare.Entry) string {
	var said []string
	for _, f := range e.Faults {
		text := fault(e, f)
		if f.OfStop() {
			other := compare.Fault{Code: f.Code, Lock: 1 - f.Lock}
			if slices.Contains(e.Faults, other) && stopFault(e, f) == stopFault(e, other) {
				text = "either way: " + stopFault(e, f)
			}
		}
		if !slices.Contains(said, text) {
			said = append(said, text)
		}
	}
	return strings.Join(said, "; ")
}

func stopFault(e *compare.Entry, f compare.Fault) string {
	s := &e.Stopping[f.Lock]
	switch f.Code {
	case sweep.TyreTouches:
		return "a tyre touches first"
	case sweep.TouchesFirst:
		return "touches before the stop does"
	case sweep.StopMargin:
		return fmt.Sprintf("stop %s before %s", Angle(s.Margin), giving[s.End.Kind])
	}
	return "no metal stop"
}

// giving names where a linkage gives out, by the kind of limit.
var giving = map[sweep.Kind]string{sweep.DeadPoint: "a dead point", sweep.OverCentre: "over centre", sweep.RodEnd: "a rod end binds"}

// Verdict says which setup is best for an aim, by what, and what it costs: "turning tight: C, circle 3721 mm (next A, 3950).
// Costs: …".
func Verdict(u setup.Unit, v *compare.Verdict, name func(i int) string) string {
	text := fmt.Sprintf("%s: %s, %s %s", [3]string{"turning tight", "turning true", "for a slide"}[v.Aim],
		name(v.Best), criterion(v.By), worth(u, v.By, v.Best))
	if len(v.AsGood) > 0 {
		text += "; " + Listed(v.AsGood, name) + " as good, to a tape"
	}
	if v.Next >= 0 {
		text += fmt.Sprintf("; next %s, %s", name(v.Next), worth(u, v.By, v.Next))
	}
	for i, k := range v.Costs {
		text += [2]string{". Costs: ", ", "}[min(i, 1)]
		text += fmt.Sprintf("%s %s (%s %s)", criterion(k.Criterion), worth(u, k.Criterion, v.Best), name(k.Than), worth(u, k.Criterion, k.Than))
	}
	return text
}

// criterion names a figure that decides.
func criterion(k *compare.Criterion) string {
	return map[string]string{
		"turning_circle_balanced": "circle", "ackermann_error_20": "error at 20° mean", "ackermann_error_10": "error at 10° mean", "ackermann_error_lock": "error at its lock",
		"slide_held": "holds a slide of", "least_transmission": "least leverage", "least_gap": "least gap",
	}[k.Key]
}

// worth is an entry's value of a criterion, with its unit.
func worth(u setup.Unit, k *compare.Criterion, i int) string {
	if k.Kind == compare.Angle {
		return Angle(s1.Angle(k.Values[i]))
	}
	return Compared(u, k.Kind, k.Values[i]) + " " + u.String()
}

// Listed names a few of many.
func Listed(entries []int, name func(i int) string) string {
	var names []string
	for k, i := range entries {
		if k == mostNamed {
			return strings.Join(names, ", ") + fmt.Sprintf(" and %d more", len(entries)-k)
		}
		names = append(names, name(i))
	}
	return strings.Join(names, ", ")
}
