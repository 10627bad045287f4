package wording

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/golang/geo/s1"

	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// Finding says what is wrong and what would cure it, in lower case and without a full stop.
func Finding(r *sweep.Result, f *sweep.Finding) string {
	s := r.Setup
	if f.Code.Alarm() {
		return Alarm(r.Model, f)
	}
	switch f.Code {
	case sweep.ReversedAckermann:
		way := "to the " + f.Lock.String()
		if f.Both {
			way = "both ways"
		}
		return fmt.Sprintf("Ackermann is reversed %s: the outer wheel turns further than the inner one; %s", way, Turns(f.Turns))
	case sweep.LowTransmission:
		return fmt.Sprintf("little leverage: only %s between the %s and the %s with the steering wheel at %s, wanted %s; %s",
			Angle(f.Angle), r.Linkage.Rods[f.Rod].Name(), Place(r.Model, f.Rod, f.End), Way(f.Column), Angle(s.Limits.Transmission), weak[f.End])
	case sweep.UnequalLocks:
		return fmt.Sprintf("left and right lock differ by %s at the inner wheel", Angle(f.Angle))
	case sweep.RodLength:
		return rodLength(r, f.Side, "the "+r.Linkage.DriverOf(f.Side).Name()+" as given stands its wheel", "it")
	}
	return metalFinding(r, f)
}

// metalFinding says what is wrong with stops and clearances.
func metalFinding(r *sweep.Result, f *sweep.Finding) string {
	u := r.Setup.Unit
	switch f.Code {
	case sweep.TyreTouches:
		return fmt.Sprintf("a tyre is the first to touch turning %s: %s; a metal stop must come earlier", f.Lock, Limit(r.Model, f.Limit))
	case sweep.TouchesFirst:
		means := cmp.Or(noStop(r.Model, f.Limit), "the stop must come first")
		return fmt.Sprintf("what stops it turning %s is no metal stop: %s, %s of the steering wheel before %s; %s",
			f.Lock, Limit(r.Model, f.Limit), Angle((f.First.Column - f.Limit.Column).Abs()), Limit(r.Model, f.First), means)
	case sweep.StopMargin:
		return fmt.Sprintf("the metal stop comes only %s of the steering wheel (%s of wheel angle) before this, turning %s: %s; %s is wanted (common practice)",
			Angle(f.Column.Abs()), Angle(f.Angle), f.Lock, Limit(r.Model, f.Limit), Angle(sweep.WantedMargin))
	case sweep.NarrowStop:
		return narrowStop(r.Model, f)
	case sweep.EarlyLock:
		return fmt.Sprintf("the stop comes early turning %s: %s meets %s with the inner wheel at only %s; 25° to 45° is usual; are both measured from the kingpin centre?",
			f.Lock, lined(r.Model, f.Limit.Pair[0]), lined(r.Model, f.Limit.Pair[1]), Angle(f.Angle))
	case sweep.LowClearance:
		a, b := Pair(r.Model, f.Near.Pair)
		return fmt.Sprintf("%s passes %s at %s with the steering wheel at %s; wanted %s",
			a, b, Gap(u, f.Near.Gap), Way(f.Near.Column), u.Say(r.Setup.Limits.Clearance))
	case sweep.UncheckedPair:
		a, b := Pair(r.Model, f.Pair)
		return fmt.Sprintf("%s and %s are not checked against each other: they overlap straight ahead, but one of the shapes is only assumed; give its outline", a, b)
	}
	return string(f.Code)
}

// narrowStop says that the metal of a stop is too narrow to be one.
func narrowStop(m *sweep.Model, f *sweep.Finding) string {
	u, name := m.Setup.Unit, setup.Printable(m.Scene.Pieces[f.Pair[0]].Part.Name)
	if math.IsNaN(f.Width) {
		return fmt.Sprintf("the metal of the stop does not count as one: it cannot be told how wide %s is between where it is hit and its root, wanted %s (min_width); give its outline with fewer corners",
			name, u.Say(f.Least))
	}
	return fmt.Sprintf("the metal of the stop is too narrow to count as one: %s has only %s between where it is hit and its root, wanted %s (min_width); make it wider, or give the root that it hangs on",
		name, Length(u, f.Width), u.Say(f.Least))
}

// Assumed lists what was not given: defaults of the file, what a change brings along, and the shapes of arms without an outline.
func Assumed(m *sweep.Model) []string {
	list := append(slices.Clone(m.Setup.Assumed), bars(m.Setup)...)
	for i := range m.Scene.Pieces {
		if p := &m.Scene.Pieces[i]; p.Assumed {
			list = append(list, p.Label()+": a round bar, since its outline and faces are not given")
		}
	}
	return list
}

// Turns says the Ackermann error at a few turns: "reversed by 3.1° (-45 %) at 10.0°, …".
func Turns(turns []sweep.TurnError) string {
	return ofTurns(turns, ackermann, func(t sweep.TurnError) string { return " (" + Angle(t.Steer) + ")" })
}

// ofTurns says something of a few turns, and behind the lock what else there is to say of that.
func ofTurns(turns []sweep.TurnError, say, lock func(t sweep.TurnError) string) string {
	said := make([]string, len(turns))
	for i, t := range turns {
		at := Fixed(t.Steer.Degrees(), 0) + "°"
		if t.AtLock {
			at = "lock" + lock(t)
		}
		said[i] = say(t) + " at " + at
	}
	return strings.Join(said, ", ")
}

func ackermann(t sweep.TurnError) string {
	by, percent, inside := Angle(t.Error.Abs()), "", ""
	if text := PercentAt(t.Steer, t.Percent); text != none {
		percent, inside = " ("+text+"%)", ", "+text+"%"
	}
	switch {
	case by == none:
		return "beyond ideal geometry"
	case t.Parallel() && by != "0.0°":
		return fmt.Sprintf("about parallel (%s from ideal%s)", by, inside)
	case t.Ahead < 0 && by != "0.0°":
		return fmt.Sprintf("reversed (outer wheel %s further, %s from ideal%s)", Angle(t.Ahead.Abs()), by, inside)
	case by == "0.0°":
		return "ideal" + percent
	case t.Error < 0:
		return "short by " + by + percent
	}
	return "over by " + by + percent
}

// toeOut says by how much the inner wheel is turned further than the outer one at a few turns: "1.2° at 10°, …".
func toeOut(turns []sweep.TurnError) string {
	return ofTurns(turns, func(t sweep.TurnError) string { return Angle(t.ToeOut) }, func(sweep.TurnError) string { return "" })
}

// AckermannTerms explains the figures of Turns.
const AckermannTerms = "the linkage alone, static toe taken off; mean steer of both wheels; degrees of the inner wheel " +
	"from ideal; percent, from 10° on, = 100 (inner - outer) / (ideal inner - outer): 0 parallel, 100 ideal, negative reversed"

// Toe says a wheel's toe, which is positive inwards.
func Toe(toe s1.Angle) string {
	switch text := Angle(toe.Abs()); {
	case text == "0.0°" || text == none:
		return text + " toe"
	case toe < 0:
		return text + " toe out"
	default:
		return text + " toe in"
	}
}

// RodCure says what to do to a rod, called it, for its wheel to get the file's toe.
func RodCure(r *sweep.Result, side setup.Side, it string) string {
	rod := r.Rods[side]
	by, word := rod.Derived-rod.Length, "lengthen"
	if by < 0 {
		by, word = -by, "shorten"
	}
	text := fmt.Sprintf("%s %s by %s to %s", word, it, Length(r.Setup.Unit, by), Length(r.Setup.Unit, rod.Derived))
	if turns := r.SleeveTurns(side); !math.IsNaN(turns) {
		text += fmt.Sprintf(": %s turns of a sleeve with left- and right-hand ends, or %s of one rod end",
			Fixed(math.Abs(turns), 2), Fixed(math.Abs(2*turns), 2))
	}
	return text
}
