// Package grind answers how much metal must come off plates for the wheels to turn further, and what
// stops them then. A plate's cut is exact: what its obstacles, grown by the clearance, sweep in its plane, as seen from
// it, is taken off its outline. Points are in vehicle axes or in the axes of a plate's own plane, mm.
package grind

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"github.com/golang/geo/s1"

	"locksweep/geometry/linkage"
	"locksweep/geometry/road"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/geometry/tolerance"
)

// Measure is what a target is measured by.
type Measure int

const (
	BySteer  Measure = iota // the steer angle of the wheel inside the turn
	ByColumn                // the angle of the steering wheel
	AsFar                   // as far as grinding alone takes both wheels
)

// Target is how far the wheels are to turn, either way.
type Target struct {
	Measure Measure
	Angle   s1.Angle // positive; no meaning for AsFar
}

// Options are what a plan is held to.
type Options struct {
	Clearance float64 // wanted between the ground metal and what it passes, mm; NaN: the setup's
	Clear     bool    // the ground metal passes everything by the clearance, since something else is the stop
	Part      string  // the only part to be ground; empty: every part marked so
	Pad       Pad     // size of the stop pad to propose; zero: DefaultPadFor the setup's unit, or as thick as it takes
}

// DefaultChord is how near the chords of a finished outline stay to the true curve, mm: finer than any scribed line.
const DefaultChord = 0.002

// leastGap is what is kept clear even where no clearance is wanted, mm: metal that slides along its own cut
// must not catch on the chords of it.
const leastGap = 0.01

// Plan is metal to take off, and what comes of it.
//
// A plate that stops the wheels stays the stop: cut without clearance, it touches at the target or at most 0.05 degrees beyond. What
// else it passes, it passes by the clearance. Where what is left of it would be too narrow for a stop, it is cut away and something else
// has to stop the wheels in time; with Options.Clear that is so from the start.
type Plan struct {
	Model     *sweep.Model // as the setup is
	Before    [2]sweep.Lock
	Target    Target
	Clearance float64       // mm
	Clear     bool          // as asked for
	Steer     [2]s1.Angle   // of the wheel inside the turn at the target, by direction
	Columns   [2]s1.Angle   // the target by direction, signed
	Most      [2]Most       // how far a target is taken up
	Cuts      []*Cut        // in the order of the pieces; none where nothing needs to come off
	After     *sweep.Model  // a fresh one, with the finished outlines as the parts' outlines
	Locks     [2]sweep.Lock // of it
	Curve     []Step
	Stops     [2]Stop
	Sure      *tolerance.Result // by how much figures of After may be off; nil before Doubt, or without cuts
	Pads      []Pad             // the sizes of pad that were looked for a place for
	ways      [2]*way
	ends      [2]s1.Angle // columns, signed, up to which everything was ground
}

// Errors of a plan that need no figures.
var (
	ErrNothingMarked = errors.New("no part is marked grind = true, so nothing may come off; mark the plate that the wheel is stopped by")
	ErrOpposed       = errors.New("the wheels turn against each other, so neither is inside the turn; set the rods right first (see sweep)")
)

// BeyondError says that grinding alone does not take the wheels to the target.
type BeyondError struct {
	// Plan as far as it was made: Model, Before, Target, Most. Where no metal would stop the wheels, After and Stops too, with a place
	// for a pad that would.
	Plan   *Plan
	Beyond [2]bool // the directions in which the target is out of reach
	ByOwn  bool    // the target can be reached without Options.Clear: the ground metal is the stop then
}

func (e *BeyondError) Error() string { return "the target is beyond what grinding alone gives" }

// Make plans the cuts for a target. The error is a *BeyondError where grinding alone does not get there,
// ErrNothingMarked, ErrOpposed or a *TooMuchError. Where several pairs of metal to be ground may be the stop, the one that touches first
// is, unless only a later one gives the target.
func Make(m *sweep.Model, target Target, opt Options) (*Plan, error) {
	s, err := look(m, target.Measure, opt)
	if err != nil {
		return nil, err
	}
	return s.plan(target)
}

// study is what targets of one measure have in common: what comes of grinding further and further.
type study struct {
	opt  Options
	jobs []*job // one for each pair of metal that may be the stop
	best int    // the one that takes the wheels furthest
}

// look makes a study for targets of one measure.
func look(m *sweep.Model, by Measure, opt Options) (*study, error) {
	s := &study{opt: opt}
	for choice := 0; choice == 0 || choice < s.jobs[0].choices(); choice++ {
		j, err := newJob(m, opt, choice)
		if err != nil {
			return nil, err
		}
		if err := j.start(by); err != nil {
			return nil, err
		}
		if s.jobs = append(s.jobs, j); j.gives() > s.jobs[s.best].gives() {
			s.best = choice
		}
	}
	return s, nil
}

// plan is Make for one target of the measure.
func (s *study) plan(target Target) (*Plan, error) {
	most := s.jobs[s.best].Most
	var refused error
	for choice, j := range s.jobs {
		if choice != s.best && (target.Measure == AsFar || target.Angle > j.gives()+nearly) {
			continue
		}
		j = j.aimedAt(target)
		err := j.complete(s.opt)
		if _, beyond := errors.AsType[*BeyondError](err); !beyond {
			j.Most = most
			return j.Plan, err
		}
		if choice == s.best {
			refused = err
		}
	}
	return nil, refused
}

// start begins the plan and follows what comes of grinding further and further, for targets of a measure.
func (j *job) start(by Measure) (err error) {
	j.Target.Measure = by
	j.course, err = j.follow()
	return err
}

// aimedAt returns a copy of the job with a plan of its own, for a target.
func (j *job) aimedAt(target Target) *job {
	own, plan, course := *j, *j.Plan, *j.course
	plan.Target = target
	own.Plan, own.course, course.job = &plan, &course, &own
	return &own
}

// complete makes the cuts of the plan and fills in what comes of them.
func (j *job) complete(opt Options) error {
	if beyond, err := j.aim(); err != nil {
		return err
	} else if beyond != ([2]bool{}) {
		return j.refuse(beyond, opt)
	}
	for _, fill := range []func() error{j.course.curve, j.sights, j.ease, j.stops, j.spares} {
		if err := fill(); err != nil {
			return err
		}
	}
	return nil
}

// gives returns the furthest target that is taken up both ways, in its own measure.
func (p *Plan) gives() s1.Angle {
	return min(p.measure(sweep.ToLeft, p.Most[sweep.ToLeft].Column), p.measure(sweep.ToRight, p.Most[sweep.ToRight].Column))
}

// choices returns how many pairs of metal to be ground may be the stop.
func (j *job) choices() int { return max(j.ways[sweep.ToLeft].choices, j.ways[sweep.ToRight].choices) }

// job is a plan in the making.
type job struct {
	*Plan
	plates []*plate
	roles  [2]role
	least  [2]float64 // gap kept by direction between the stop and its own cut, mm
	course *course
	clears [2]bool // whether everything can be cut so far in a direction that it passes until something else is the stop
	goals  [2]goal
}

// TooMuchError says that a plan would take too long.
type TooMuchError struct {
	Points int // of the outlines to be ground
	Pieces int // convex pieces that they fall into, and what may hit them
}

func (e *TooMuchError) Error() string {
	return fmt.Sprintf("the parts marked grind have %d points in all, and they and what may hit them fall into %d convex pieces: that is too much for one plan; "+
		"grind one part at a time with --part, or give its outline by fewer points", e.Points, e.Pieces)
}

// mostWork bounds the sum over plates of points times pieces: some ten seconds.
const mostWork = 1_000_000

// work returns a *TooMuchError where the plan would take too long.
func (j *job) work() error {
	sum, e := 0, TooMuchError{}
	for _, p := range j.plates {
		solids := len(j.Model.Scene.Pieces[p.piece].Solids)
		for _, o := range p.others {
			solids += len(j.Model.Scene.Pieces[o].Solids)
		}
		e.Points, e.Pieces = e.Points+len(p.flat.Outline), e.Pieces+solids
		sum += len(p.flat.Outline) * solids
	}
	if sum > mostWork {
		return &e
	}
	return nil
}

// newJob prepares a plan. choice tells which of the pairs of metal that may be the stop is to be it, in the order in which they touch.
func newJob(m *sweep.Model, opt Options, choice int) (*job, error) {
	if m.Straight.Ratio[setup.Left]*m.Straight.Ratio[setup.Right] < 0 {
		return nil, ErrOpposed
	}
	j := &job{Plan: &Plan{Model: m, Clearance: opt.Clearance, Clear: opt.Clear, Pads: flats(m.Setup.Unit)}, least: [2]float64{leastGap, leastGap}}
	if math.IsNaN(j.Clearance) {
		j.Clearance = m.Setup.Limits.Clearance
	}
	if opt.Pad != (Pad{}) {
		j.Pads = []Pad{opt.Pad}
	}
	if j.plates = platesOf(m, opt.Part); len(j.plates) == 0 {
		return nil, ErrNothingMarked
	}
	if err := j.work(); err != nil {
		return nil, err
	}
	for _, d := range sweep.Directions {
		j.ways[d] = newWay(m, d, func(piece int) bool { return j.plate(piece) != nil }, j.Clearance, choice)
		j.Before[d] = j.ways[d].lock
	}
	for _, p := range j.plates {
		p.settle(j.ways)
	}
	return j, j.clearable()
}

// platesOf prepares the plates that may be ground: those of one part or, where that is empty, of all parts marked so. Of two pieces that may hit
// one another and may both be ground, the one that moves is ground, since that comes off for the bench.
func platesOf(m *sweep.Model, part string) (plates []*plate) {
	first := func(i int) bool { return m.Scene.Pieces[i].Body != linkage.Frame }
	marked := func(i int) bool {
		p := &m.Scene.Pieces[i]
		return p.Part != nil && p.Part.Grind && p.Flat != nil && (part == "" || p.Part.Name == part)
	}
	for i := range m.Scene.Pieces {
		if !marked(i) {
			continue
		}
		others := slices.DeleteFunc(m.Scene.Against(i), func(o int) bool {
			return marked(o) && (first(o) || !first(i)) && (first(i) != first(o) || i > o)
		})
		plates = append(plates, newPlate(m, i, others))
	}
	return plates
}

// plate returns the plate that a piece is; nil where it is not to be ground.
func (j *job) plate(piece int) *plate {
	if i := slices.IndexFunc(j.plates, func(p *plate) bool { return p.piece == piece }); i >= 0 {
		return j.plates[i]
	}
	return nil
}

// prove sweeps the setup with the finished outlines afresh: it fills in After and Locks.
func (j *job) prove() (err error) {
	if j.After, err = sweep.New(refit(j.Model, j.Cuts)); err != nil {
		return fmt.Errorf("with the finished outlines: %w", err)
	}
	for _, d := range sweep.Directions {
		j.Locks[d] = j.After.Lock(d)
	}
	return nil
}

// Lock returns the steer angle of the wheel inside the turn at the lock, before or after the cuts,
// positive into the turn.
func (p *Plan) Lock(d sweep.Direction, after bool) s1.Angle {
	if after {
		return p.SteerAt(d, p.Locks[d].Column)
	}
	return p.SteerAt(d, p.Before[d].Column)
}

// Lesser returns the lesser of both locks, before or after the cuts.
func (p *Plan) Lesser(after bool) s1.Angle {
	return min(p.Lock(sweep.ToLeft, after), p.Lock(sweep.ToRight, after))
}

// Shorter returns the direction in which grinding alone takes the wheel inside the turn less far: left where both are alike.
func (p *Plan) Shorter() sweep.Direction {
	if p.Most[sweep.ToRight].Steer < p.Most[sweep.ToLeft].Steer {
		return sweep.ToRight
	}
	return sweep.ToLeft
}

// SteerAt returns the steer angle of the wheel inside the turn at a column angle, positive into the turn.
func (p *Plan) SteerAt(d sweep.Direction, column s1.Angle) s1.Angle { return p.ways[d].steer(column) }

// Reached returns how far the wheels turn both ways in the fresh sweep, at most the target, in the target's own measure.
func (p *Plan) Reached() s1.Angle {
	reached := p.Target.Angle
	for _, d := range sweep.Directions {
		reached = min(reached, p.measure(d, p.Locks[d].Column))
	}
	return reached
}

// Stays reports whether a limit, of the model before or after the cuts, is one that grinding does not take away. Both scenes have the same
// pieces in the same order.
func (p *Plan) Stays(l *sweep.Limit) bool { return p.ways[0].stays(*l) }

// SlideRadius is the path on which the slide angle is told, mm.
func SlideRadius(s *setup.Setup) float64 { return sweep.SlideRadius(s.Unit, s.Vehicle.Wheelbase) }

// SlideHeld returns the slide angle that the wheels hold at a lock, turned against the turn, on a path of
// SlideRadius: that of the wheel which runs out first, rolling free. NaN where they cannot point along the path.
func SlideHeld(m *sweep.Model, lock *sweep.Lock) s1.Angle {
	return m.SlideHeldAt(lock, road.Slide{Radius: SlideRadius(m.Setup)})
}
