// Package rods answers what to cut for the rods of a steering: how long a tube or bar, how much thread at its ends, how far
// the rod ends can then be screwed out and in, and what a turn of them does to the toe.
//
// A rod is a tube or bar with inside thread at both ends and a rod end with outside thread in either. Lengths are in
// millimetres along the rod.
package rods

import (
	"github.com/golang/geo/s1"

	"locksweep/geometry/linkage"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/geometry/thread"
)

// Rod is one rod to cut.
type Rod struct {
	Index  int // in the linkage
	Name   string
	Part   string  // what the file calls it: "tie rod"
	Length float64 // centre to centre
	Spec   setup.Rod
	Thread thread.Thread
	Shank  float64 // how far a rod end's thread reaches from its end
	// PitchAssumed and ShankAssumed tell of figures that the file does not give.
	PitchAssumed, ShankAssumed bool

	// Engagement is of either rod end's thread in the rod, as cut. Where the file does not give it the rod ends can be screwed
	// out as far as in; a donor too short for that is taken as it is.
	Engagement float64
	Least      float64 // engagement that the material wants
	Cut        float64 // length of tube or bar
	Exposed    float64 // eye centre to the rod's end
	Depth      float64 // of the thread to cut at either end
	Witness    float64 // of the witness hole from either end
	Out, In    float64 // how far either rod end can be screwed out and in
	// Middle is the length to cut for as much way out as in, MiddleTravel at either end.
	Middle, MiddleTravel float64

	Pitch [2]s1.Angle // change of each wheel's toe-in by one turn of one end, longer positive
	Donor *Donor      // nil: none given
}

// Donor is what becomes of a rod that is there already.
type Donor struct {
	setup.Donor
	Off      float64 // to cut off in all; negative: it is too short by so much
	BothEnds bool    // half of it from either end, so that enough thread is left
	Thread   float64 // depth that is left where most is cut off
	Verdict  Verdict
}

// Verdict says whether a donor will do.
type Verdict int

const (
	Serves   Verdict = iota
	Tight            // the thread left takes the wanted engagement, with less way in
	Deeper           // its thread has to be cut deeper
	TooShort         // it cannot be made from it
)

// Fault says why there is no rod to cut.
type Fault int

const (
	NoBody     Fault = iota // the rod end's body is not given
	NoThread                // its thread is not given
	NoPitch                 // its pitch is not given and no standard has one
	BodiesMeet              // the rod ends alone are longer than the rod
	ThreadMeet              // the threads from both ends run into each other
	ShortShank              // the rod end's thread is shorter than the engagement and a jam nut
)

// Error is a Fault of a rod with the lengths that matter.
type Error struct {
	Fault      Fault
	Rod, Part  string  // name, and what the file calls it
	Have, Need float64 // mm
}

func (e *Error) Error() string { return e.Rod + " cannot be cut as it is described" }

// assumedShank is the share of a rod end's body that carries thread (common practice, no source: 25 of 42 mm of an M8).
const assumedShank = 0.6

// List returns the rods of a model to cut, in the order of the linkage. The error is an *Error.
func List(m *sweep.Model) ([]Rod, error) {
	var list []Rod
	for i := range m.Linkage.Rods {
		r, err := cut(&m.Linkage.Rods[i])
		if err != nil {
			return nil, err
		}
		r.Index = i
		perLength := toePerLength(m, i)
		for side := range r.Pitch {
			r.Pitch[side] = perLength[side] * s1.Angle(r.Thread.Pitch)
		}
		list = append(list, *r)
	}
	return list, nil
}

// cut works one rod out.
func cut(l *linkage.Rod) (*Rod, error) {
	r := &Rod{Name: l.Name(), Part: l.Part, Length: l.Length, Spec: l.Spec}
	fail := func(f Fault, have, need float64) error { return &Error{f, r.Name, r.Part, have, need} }
	end, stock := &l.Spec.End, &l.Spec.Stock
	if end.Body == 0 {
		return nil, fail(NoBody, 0, 0)
	}
	if err := r.threads(end, fail); err != nil {
		return nil, err
	}
	r.Least = stock.Material.Engagement() * r.Thread.Diameter
	least := r.Least
	if stock.Engagement > 0 {
		least = stock.Engagement * r.Thread.Diameter
	}
	most := r.Shank - r.Thread.JamNut()
	if least > most {
		return nil, fail(ShortShank, r.Shank, least+r.Thread.JamNut())
	}
	r.engage(least, most)
	r.Exposed = end.Body - r.Engagement
	r.Cut = r.Length - 2*r.Exposed
	switch {
	case r.Length <= 2*(end.Body-most):
		return nil, fail(BodiesMeet, r.Length, 2*(end.Body-most))
	case r.Cut < 2*r.Engagement:
		return nil, fail(ThreadMeet, r.Cut, 2*r.Engagement)
	}
	r.Out = max(0, r.Engagement-r.Least)
	r.In = min(most, r.Cut/2) - r.Engagement
	r.Depth = min(r.Engagement+r.In+tapLead*r.Thread.Pitch, r.Cut/2)
	r.Witness = r.Least
	r.Donor = donate(r)
	return r, nil
}

// engage settles how far the rod ends are screwed in as cut, from least to most: where the file does not say, as far out as in, or less
// where a donor is too short for that.
func (r *Rod) engage(least, most float64) {
	end, stock := &r.Spec.End, &r.Spec.Stock
	r.MiddleTravel = max(0, min((most-r.Least)/2, r.Length/2-end.Body)) // in until the jam nut or the other rod end says stop
	r.Middle = r.Length - 2*(end.Body-r.Least-r.MiddleTravel)
	if r.Engagement = least; stock.Engagement > 0 {
		return
	}
	r.Engagement += r.MiddleTravel
	if short := r.Middle - stock.Donor.Length; short > 0 && stock.Donor.Length > 0 {
		r.Engagement = max(least, r.Engagement-short/2)
	}
}

// tapLead is how many pitches of a tap's end cut no full thread (common practice, no source: a second tap).
const tapLead = 3

// threads fills in what is known of the thread.
func (r *Rod) threads(end *setup.RodEnd, fail func(Fault, float64, float64) error) error {
	if end.Thread == 0 {
		return fail(NoThread, 0, 0)
	}
	r.Thread = thread.Thread{Diameter: end.Thread, Pitch: end.Pitch}
	if end.Pitch == 0 {
		if r.Thread, r.PitchAssumed = thread.Coarse(end.Thread); !r.PitchAssumed {
			return fail(NoPitch, end.Thread, 0)
		}
	}
	if r.Shank = end.Shank; r.Shank == 0 {
		r.Shank, r.ShankAssumed = assumedShank*end.Body, true
	}
	return nil
}

// donate works out what a rod that is there already gives.
func donate(r *Rod) *Donor {
	given := r.Spec.Stock.Donor
	if given.Length == 0 {
		return nil
	}
	d := &Donor{Donor: given, Off: given.Length - r.Cut}
	if d.Off < 0 {
		d.Thread, d.Verdict = given.ThreadDepth, TooShort
		return d
	}
	one, both := given.ThreadDepth-d.Off, given.ThreadDepth-d.Off/2
	d.BothEnds = one < r.Depth
	if d.Thread = one; d.BothEnds {
		d.Thread = both
	}
	d.Thread = max(0, d.Thread)
	switch {
	case d.Thread >= r.Depth:
	case d.Thread >= r.Engagement:
		d.Verdict = Tight
	default:
		d.Verdict = Deeper
	}
	return d
}

// toePerLength returns the change of each wheel's toe-in for each millimetre that a rod becomes longer, the column
// centred, to first order; zero of a wheel that it does not move.
func toePerLength(m *sweep.Model, rod int) (toe [2]s1.Angle) {
	p := &m.Straight
	var turned [linkage.Bodies]float64 // radians per mm
	turned[m.Linkage.Rods[rod].To] = 1 / p.Rods[rod].ToLever
	for i := rod + 1; i < len(m.Linkage.Rods); i++ {
		next := &m.Linkage.Rods[i]
		turned[next.To] += turned[next.From] * p.Rods[i].FromLever / p.Rods[i].ToLever
	}
	for _, side := range setup.Sides {
		steer := turned[linkage.Spindle(side)] * p.Wheels[side].Rate
		toe[side] = s1.Angle(0 - side.Sign()*steer)
	}
	return toe
}

// PerTurn is the change of a rod's length by one turn of the rod itself: two pitches where the threads are left and
// right, none where both are right.
func (r *Rod) PerTurn() float64 {
	if r.Spec.Stock.LeftHand {
		return 2 * r.Thread.Pitch
	}
	return 0
}

// NeedsInserts reports whether the bore is too wide to cut the thread into the tube itself.
func (r *Rod) NeedsInserts() bool { return r.Spec.Bore() > r.Thread.TapDrill()+boreSlack }

// boreSlack is how much wider than the tap drill a bore may be for a thread of near full depth, mm.
const boreSlack = 0.3

// ThreadShare is how deep the thread in the tube's bore is, as a share, 0 to 1, of the depth in a hole by the tapping drill.
func (r *Rod) ThreadShare() float64 {
	return (r.Thread.Diameter - max(r.Spec.Bore(), r.Thread.TapDrill())) / (r.Thread.Diameter - r.Thread.TapDrill())
}

// Wall is how thick the metal about the thread is, mm.
func (r *Rod) Wall() float64 { return (r.Spec.Outer() - r.Thread.Diameter) / 2 }

// TooThin reports whether Wall is less than a sixth of the thread's diameter (common practice, no source).
func (r *Rod) TooThin() bool { return r.Wall() < r.Thread.Diameter/6 }
