// Package reconcile answers whether a setup file and the vehicle agree, and if not, which figure most probably is
// wrong. Every figure of the file, every tape and every wheel angle read is an observation with an accuracy; they are adjusted by
// least squares with the mechanism's closed form, and judged one after the other by their normalised residuals.
//
// Millimetres and radians. The steering is centred as the file has it, and what the file gives was measured with its rods
// fitted: a rod is as long as its two balls were apart then.
package reconcile

import (
	"cmp"
	"errors"
	"math"
	"slices"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/geometry/adjust"
	"locksweep/geometry/setup"
)

// Kind is what was observed.
type Kind int

const (
	Figure Kind = iota // of the file
	Tape
	Turn   // a front wheel's angle
	Column // the steering wheel's angle at which wheels were read
	Rod    // a rod's length in the file
	Centre // that the steering wheel stood at 0 when it was called so
	MarkAt // a co-ordinate of a mark that the file gives
)

// Observation is one figure that was observed.
type Observation struct {
	Kind Kind
	// Key is the path of the figure in the file as --set takes it; empty for Centre, whose figure no file has.
	Key    string
	Index  int        // of the tape, of the reading of the wheels or the steering wheel or of the mark among Setup.Checks
	Side   setup.Side // of the wheel, for Turn
	Angle  bool       // radians, else mm
	Given  float64
	Before float64 // what the file as it stands makes of it; NaN where it does not get there
	// Adjusted is what all observations together make of it.
	Adjusted float64
	Accuracy float64 // half-width
	// Normalised is the residual, given less adjusted, in units of its own standard deviation; NaN where no other observation
	// says anything of it. Of a suspect it is what it was when it was found out.
	Normalised float64
	Redundancy float64 // share, 0 to 1, of an error of it that would show
	Suspect    bool    // taken out as wrong
}

// Suspect is an observation that most probably is wrong.
type Suspect struct {
	Observation int     // in Result.Observations
	By          float64 // what it should be, less what was given
	Also        []Other // what else may be wrong instead, the likeliest first: with one of them wrong this one does not stand out any more
	// Both says that the same figure of the other side, as the file gives it for both or alike, is as wrong: Mate in Result.Observations.
	Both bool
	Mate int
}

// Other is an observation that may be wrong instead of a suspect.
type Other struct {
	Observation int
	By          float64 // what it should be then, less what was given
	Both        bool    // on both sides, as a suspect may be
}

// Value is a figure of the file, adjusted.
type Value struct {
	Key       string
	Angle     bool
	Given     float64
	Adjusted  float64
	PlusMinus float64 // within which it lies with 95 %, at most the accuracy that it was measured with
}

// Found is where a mark whose place was left open is.
type Found struct {
	Mark      int // in Setup.Checks
	At        r3.Vector
	PlusMinus [3]float64
	Open      bool       // its tapes leave it free to move
	Mirror    *r3.Vector // where it may be as well: the other side of the plane that its tapes begin in
}

// Result is a setup reconciled with what was measured on the vehicle.
type Result struct {
	Setup        *setup.Setup
	Observations []Observation // tapes, wheels, the steering wheel's centre and turns, rods, marks, then figures of the file
	Suspects     []Suspect     // the most probable first
	// Symptom is the reading, a tape, a wheel or a rod, that the first suspect explains best: with that put right, at least half of what
	// the reading is off by the file is gone. -1 where there is none, and where the suspect is itself a reading.
	Symptom  int
	Values   []Value // the file's figures that the observations or the wheels' angles hang on
	Marks    []Found
	Adjusted *setup.Setup // as the file would give it, before its [change]
	// Strained: no observation stands out, but all together are further off than their accuracies allow.
	Strained bool
	// Misfit is the sum of squares, each in its own standard deviation, by which the observations missed before any was taken out.
	Misfit  float64
	More    bool    // others stand out besides the suspects
	Freedom float64 // observations more than are needed
	Untold  []int   // observations of which a slip of SlipLength or SlipAngle would not show, those that turn the wheels most first
	Advice  []Check // what would tell them, the most telling first
	// Mixed, where it is not nil, says that wheels' angles were mixed up when they were put down: Setup and all else here have them put right.
	Mixed *Mixed
	// Gross: something is so far off that no slip of a likely size in one figure explains it.
	Gross bool

	model *model
	fit   *adjust.Fit
}

// Agrees reports whether the file and the vehicle agree within their accuracies.
func (r *Result) Agrees() bool {
	return len(r.Suspects) == 0 && !r.Strained && !r.Gross && r.Mixed == nil
}

// ErrNothing: the file has nothing to be held against.
var ErrNothing = errors.New("nothing was measured to hold the file against")

// ErrExact: nothing in the file may be off, by its own accuracies.
var ErrExact = errors.New("by its [accuracy] every figure of the file is exact, so that nothing is left to be adjusted or checked")

// ReachError is a reading of the wheels at a turn of the steering wheel that the file's linkage does not get to.
type ReachError struct{ Column s1.Angle }

func (e *ReachError) Error() string {
	return "the linkage of the file does not get to a turn of the steering wheel at which the wheels were read"
}

// PlaceError is a point that the setup does not have any more after its [change].
type PlaceError struct{ Name string }

func (e *PlaceError) Error() string {
	return "a tape is held to " + e.Name + ", which [change] has taken away"
}

const (
	// critical is Baarda's bound of a normalised residual: a sound observation exceeds it once in a thousand (Baarda, A
	// Testing Procedure for Use in Geodetic Networks, 1968, 1 - 0.999 two-sided: memory; 3.29 is the normal quantile).
	critical = 3.29
	// mostSuspects bounds how many are looked for: what has more wrong with it wants measuring anew.
	mostSuspects = 3
	// farFetched is how many times the error of a suspect, each in its own accuracies, is too much for another to be named in
	// its place: a rear track half a metre out, a rake of 73° for one of 45°.
	farFetched = 10
	// leastFreedom must be left for another to be found out.
	leastFreedom = 0.9
	// ninetyFive is the half-width in standard deviations that holds 95 % of a normal distribution.
	ninetyFive = 1.96
)

// run reconciles what was measured as it was put down.
func run(s *setup.Setup) (*Result, error) {
	m, err := newModel(s)
	if err != nil {
		return nil, err
	}
	if m.measured() == 0 {
		return nil, ErrNothing
	}
	r := &Result{Setup: s, Observations: m.observations, Symptom: -1, model: m}
	x := make([]float64, len(m.unknowns))
	m.startMarks(x)
	kept := make([]int, len(m.observations))
	for i := range kept {
		kept[i] = i
	}
	p := m.problem(kept)
	fit, err := adjust.Solve(p, x)
	if err != nil {
		return nil, err
	}
	r.Misfit = fit.Sum
	r.marks(r.snoop(p, m.chooseSides(p, fit), kept))
	r.close()
	r.symptom()
	r.tell()
	return r, nil
}

// snoop takes the suspect out of the observations kept and adjusts anew, until none stands out, mostSuspects are found, or too few
// observations are left to find another (data snooping). It returns the last problem.
func (r *Result) snoop(p *adjust.Problem, fit *adjust.Fit, kept []int) *adjust.Problem {
	m := r.model
	for {
		r.fit = fit
		w := make([]float64, len(kept))
		worst := 0
		for i, o := range kept {
			w[i] = m.observations[o].note(p, fit, i)
			if stands(w, i, worst, fit) {
				worst = i
			}
		}
		r.Freedom = fit.Freedom()
		if math.Abs(w[worst]) <= critical || len(r.Suspects) == mostSuspects || r.Freedom < leastFreedom {
			r.More = math.Abs(w[worst]) > critical
			r.Strained = len(r.Suspects) == 0 && (r.More || fit.Sum > chiSquared(r.Freedom))
			return p
		}
		s, without, ok := m.suspect(p, fit, kept, w, worst)
		if !ok {
			r.More, r.Gross = true, len(r.Suspects) == 0
			return p
		}
		r.Suspects = append(r.Suspects, s)
		p, fit, kept = without.problem, without.fit, without.kept
		m.observations[s.Observation].Suspect = true
		if s.Both {
			m.observations[s.Mate].Suspect = true
		}
	}
}

// Bounds of what a figure of the file is ever called wrong by: a digit of a hundred put down wrong and a little more, and what an angle is off
// that was taken from the other side. What is further off is no slip in that figure (a choice, no source).
const (
	furthestShift = 150.0 // mm
	furthestTilt  = 30 * s1.Degree
)

// tooFar reports whether a figure would have to be further off than anybody measures.
func (o *Observation) tooFar(by float64) bool {
	if o.Angle {
		return o.Kind == Figure && math.Abs(by) > float64(furthestTilt)
	}
	return o.Kind == Figure && math.Abs(by) > furthestShift
}

// adjusted is an adjustment of the observations kept.
type adjusted struct {
	problem *adjust.Problem
	fit     *adjust.Fit
	kept    []int
}

// suspect finds who is to blame where one of those kept stands out most: itself, what cannot be told apart from it, or a figure of both
// sides, and what the rest makes of it all then; ok is false where whatever is named would be too far off.
func (m *model) suspect(p *adjust.Problem, fit *adjust.Fit, kept []int, w []float64, worst int) (s Suspect, without adjusted, ok bool) {
	size := func(i int) float64 { return math.Abs(fit.Error(i)) / m.observations[kept[i]].Accuracy }
	possible := append([]int{worst}, alsoPossible(fit, w, worst)...)
	likeliestFirst(possible, w, size)
	alike := m.bothSides(p, fit, kept)
	for len(possible)+len(alike) > 0 {
		both := len(alike) > 0 && (len(possible) == 0 || alike[0].likely > likely(w[possible[0]], size(possible[0]))+unasked)
		if both {
			s = m.suspectBoth(kept, alike)
		} else {
			s = Suspect{Observation: kept[possible[0]]}
		}
		without.kept = slices.DeleteFunc(slices.Clone(kept), func(o int) bool { return o == s.Observation || s.Both && o == s.Mate })
		without.problem = m.problem(without.kept)
		var err error
		if without.fit, err = adjust.Solve(without.problem, fit.X); err == nil && !m.shifted(&s, without.fit.X) {
			most := size(slices.Index(kept, s.Observation))
			if both {
				most = alike[0].size
			}
			for _, i := range possible {
				o := &m.observations[kept[i]]
				if by := 0 - fit.Error(i); kept[i] != s.Observation && !(both && kept[i] == s.Mate) && size(i) <= farFetched*most && !o.tooFar(by) {
					s.Also = append(s.Also, Other{kept[i], by, false})
				}
			}
			return s, without, true
		}
		if both {
			alike = alike[1:]
		} else {
			possible = possible[1:]
		}
	}
	return s, without, false
}

// shifted reports whether a suspect is too far off by what an adjustment without it makes of it.
func (m *model) shifted(s *Suspect, x []float64) bool {
	o := &m.observations[s.Observation]
	computed, ok := m.compute(x)
	return ok && o.tooFar(computed[s.Observation]-o.Given)
}

// suspectBoth is the likeliest figure of both sides, with the others that it may be instead.
func (m *model) suspectBoth(kept []int, alike []both) Suspect {
	b := alike[0]
	s := Suspect{Observation: kept[b.at], Both: true, Mate: kept[b.mate]}
	for _, o := range alike[1:] {
		if b.w*b.w-o.w*o.w <= critical*critical && o.size <= farFetched*b.size && !m.observations[kept[o.at]].tooFar(o.by) {
			s.Also = append(s.Also, Other{kept[o.at], o.by, true})
		}
	}
	return s
}

// note takes over what an adjustment says of an observation, and returns its normalised residual, 0 where there is none.
func (o *Observation) note(p *adjust.Problem, fit *adjust.Fit, i int) float64 {
	w, known := fit.Normalised(p, i)
	if o.Normalised, o.Redundancy = w, fit.Redundancy(i); !known {
		o.Normalised = math.NaN()
		return 0
	}
	return w
}

// alike is within what two normalised residuals count as equal: of observations that cannot be told apart it is rounding
// which is the larger.
const alike = 1e-6

// stands reports whether observation i stands out more than another; of two alike the one that the smaller error, in its own
// accuracies, would explain.
func stands(w []float64, i, than int, fit *adjust.Fit) bool {
	a, b := math.Abs(w[i]), math.Abs(w[than])
	if math.Abs(a-b) <= alike*math.Max(a, 1) {
		return fit.Redundancy(i) > fit.Redundancy(than)*(1+alike)
	}
	return a > b
}

// alsoPossible lists the observations that could be wrong instead of the worst: taken out in its place they leave it
// a normalised residual that does not stand out, (w₁ - ρ w)/√(1 - ρ²).
func alsoPossible(fit *adjust.Fit, w []float64, worst int) (list []int) {
	for i := range w {
		if i == worst || w[i] == 0 {
			continue
		}
		rho := fit.Alike(worst, i)
		left := 1 - rho*rho
		if left < alike || math.Abs(w[worst]-rho*w[i]) <= critical*math.Sqrt(left) {
			list = append(list, i)
		}
	}
	return list
}

// likeliestFirst puts observations in order that the test cannot tell apart: by how well the rest agrees without one, of which
// w²/2 is the logarithm, and by how likely an error is of its size in accuracies, for which 1/size² is taken: small
// slips are made more often than great ones (a choice, no source).
func likeliestFirst(list []int, w []float64, size func(int) float64) {
	slices.SortStableFunc(list, func(a, b int) int { // what differs by rounding only stays as it is
		if by := likely(w[b], size(b)) - likely(w[a], size(a)); math.Abs(by) > alike {
			return cmp.Compare(by, 0)
		}
		return 0
	})
}

// likely is how likely an error is, as likeliestFirst has it.
func likely(w, size float64) float64 { return w*w/2 - 2*math.Log(math.Max(size, 1)) }

// chiSquared is what a sum of squares of so many degrees of freedom exceeds once in a thousand (Wilson and Hilferty's
// approximation, 1931: memory).
func chiSquared(freedom float64) float64 {
	if freedom < leastFreedom {
		return math.Inf(1)
	}
	const z = 3.0902
	k := 2 / (9 * freedom)
	return freedom * math.Pow(1-k+z*math.Sqrt(k), 3)
}

// close fills in what the last adjustment gives.
func (r *Result) close() {
	m, fit := r.model, r.fit
	computed, _ := m.compute(fit.X) // it was worked out there before
	for i := range m.observations {
		m.observations[i].Adjusted = computed[i]
	}
	for i := range r.Suspects {
		o := &m.observations[r.Suspects[i].Observation]
		r.Suspects[i].By = o.Adjusted - o.Given
		if s := &r.Suspects[i]; s.Both {
			mate := &m.observations[s.Mate]
			s.By = (s.By + mirrored(o.Key)*(mate.Adjusted-mate.Given)) / 2
		}
	}
	for i := range m.unknowns {
		if u := &m.unknowns[i]; u.kind == Figure {
			r.Values = append(r.Values, Value{u.key, u.angle, u.file, u.file + fit.X[i], math.Min(ninetyFive*fit.Deviation(i), u.accuracy)})
		}
	}
	lengths, _ := m.slopes(fit.X, func(st *stand) []float64 { return st.rods[:] })
	for i, o := range m.observations[:m.checks] {
		if o.Kind == Rod && lengths != nil {
			rod := m.rods[i-m.firstRod()].rod
			r.Values = append(r.Values, Value{o.Key, false, o.Given, o.Adjusted, math.Min(spread(fit.Cofactors, lengths.RowView(rod)), o.Accuracy)})
		}
	}
	r.Adjusted = m.adjusted(fit.X)
}
