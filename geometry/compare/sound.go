package compare

import (
	"slices"

	"github.com/golang/geo/s1"

	"locksweep/geometry/linkage"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// Fault is something for which a setup is best at nothing, however good its figures are.
type Fault struct {
	Code sweep.Code
	Lock sweep.Direction // of what concerns the stop: see OfStop
}

// OfStop reports whether a fault is one of what stops the wheels in one direction.
func (f Fault) OfStop() bool {
	return slices.Contains([]sweep.Code{sweep.NoMetalStop, sweep.TyreTouches, sweep.TouchesFirst, sweep.StopMargin}, f.Code)
}

// Sound reports whether the entry could be swept and has no fault, so that its figures are worth having.
func (e *Entry) Sound() bool { return e.Result != nil && len(e.Faults) == 0 }

// judge finds what is wrong with a measured entry: the alarms of its sweep, leverage and gaps within the locks under
// what its limits want (the pair that stops it aside), and how it is stopped either way.
func (e *Entry) judge() {
	r := e.Result
	note := func(f Fault) {
		if !slices.Contains(e.Faults, f) {
			e.Faults = append(e.Faults, f)
		}
	}
	for _, f := range r.Findings {
		if fault := (Fault{Code: f.Code}); f.Code.Alarm() && !fault.OfStop() {
			note(fault)
		}
	}
	for _, d := range sweep.Directions {
		for _, code := range e.Stopping[d].Faults() {
			if code != sweep.LowTransmission { // within the lock it is found below, beyond it the margin tells
				note(Fault{code, d})
			}
		}
	}
	if e.Setup.Limits.Weak(r.LeverageWithin().Angle) {
		note(Fault{Code: sweep.LowTransmission})
	}
	if near, ok := r.LeastGap(); ok && e.Setup.Limits.Tight(near.Gap) {
		note(Fault{Code: sweep.LowClearance})
	}
}

// failing says of the figures that a fault shows in whether an entry fails there; second index as in Row.Values.
var failing = map[string]func(e *Entry, side int) bool{
	"least_transmission": func(e *Entry, _ int) bool { return e.has(Fault{Code: sweep.LowTransmission}) },
	"leverage_arm":       func(e *Entry, _ int) bool { return e.Setup.Limits.Weak(e.AtEnd[linkage.AtArm].Angle) },
	"leverage_drop":      func(e *Entry, _ int) bool { return e.Setup.Limits.Weak(e.AtEnd[linkage.AtDropArm].Angle) },
	"least_gap":          func(e *Entry, _ int) bool { return e.has(Fault{Code: sweep.LowClearance}) },
	"stop_margin": func(e *Entry, side int) bool {
		d := sweep.Direction(side)
		return e.has(Fault{sweep.StopMargin, d}) || e.has(Fault{sweep.NoMetalStop, d})
	},
	"ratio_centre": func(e *Entry, _ int) bool {
		return e.has(Fault{Code: sweep.SteersBackwards}) || e.has(Fault{Code: sweep.WheelsOpposed})
	},
}

func (e *Entry) has(f Fault) bool { return slices.Contains(e.Faults, f) }

// fails reports by side where an entry fails in a figure.
func (f *Figure) fails(e *Entry) (marks [2]bool) {
	if of := failing[f.Key]; of != nil && e.Result != nil {
		for _, side := range setup.Sides {
			marks[side] = of(e, int(side)) && (side == 0 || f.Split != Single)
		}
	}
	return marks
}

// LosesStop reports whether a part, by its key, is of the metal stop that holds the wheels of a setup, and another is not held there.
func LosesStop(from, to *Entry, key string) bool {
	for _, d := range sweep.Directions {
		stop, then := from.Stopping[d].Stop, to.Stopping[d].Stop
		if from.Result == nil || stop == nil || stop.Kind != sweep.Contact || then != nil && (then.Column-stop.Column).Abs() < 0.01*s1.Degree {
			continue
		}
		for _, i := range stop.Pair {
			if p := from.Result.Scene.Pieces[i].Part; p != nil && key == "part."+setup.QuoteKey(p.Name) {
				return true
			}
		}
	}
	return false
}
