// Package drill answers where the hole of a steering arm, of the drop arm, or of both should go: it tries
// every place that the metal allows, each with the whole way from lock to lock and every contact on it.
//
// Holes are given as the file gives them: on a steering arm [forward, outboard] seen from above, corner axes;
// on the drop arm [down, left], column axes; millimetres. Distances to edges and between holes are taken in
// the metal's own plane, where lengths are true.
package drill

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/geometry/clearance"
	"locksweep/geometry/linkage"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// On says which hole is looked for.
type On int

const (
	Arm     On = iota // of both steering arms, mirrored
	DropArm           // of the drop arm, for both rods, mirrored; with a drag link for that alone
	Both              // both at once
	Link              // of the steering arm that a drag link turns, for the drag link
)

func (on On) String() string { return [4]string{"arm", "drop-arm", "both", "drag-link"}[on] }

// Spot is where both rods' balls go, by side: pickups in corner axes, pins in column axes, mm. Link is the ball of a
// drag link on its steering arm, corner axes; both pins are its other one.
type Spot struct {
	Pickups, Pins [2]r3.Vector
	Link          r3.Vector
}

// SpotOf returns where a setup has the rods' balls.
func SpotOf(s *setup.Setup) (sp Spot) {
	for _, side := range setup.Sides {
		sp.Pickups[side] = s.Corners[side].Arm.Pickup
	}
	sp.Pins = s.DropArm.Pins
	sp.Link, _, _ = s.LinkBall()
	return sp
}

// Apart returns the distance between a ball and the same ball of another spot, mm: that of the ball for which it is greatest.
func (sp *Spot) Apart(o *Spot) (most float64) {
	most = sp.Link.Sub(o.Link).Norm()
	for _, side := range setup.Sides {
		most = max(most, sp.Pickups[side].Sub(o.Pickups[side]).Norm(), sp.Pins[side].Sub(o.Pins[side]).Norm())
	}
	return most
}

// oneHole reports whether one hole of the drop arm takes both rods.
func (sp *Spot) oneHole() bool { return sp.Pins[setup.Left] == sp.Pins[setup.Right] }

// Fit returns the setup with the balls moved and the rods cut so that they keep the file's toe.
func (sp *Spot) Fit(s *setup.Setup) *setup.Setup {
	fit := *s
	for _, side := range setup.Sides {
		fit.Corners[side].Arm.Pickup = sp.Pickups[side]
	}
	fit.DropArm.Pins = sp.Pins
	fit.RodsCutAnew()
	fit.MoveLinkBall(sp.Link)
	return &fit
}

// Place is a place for the hole, and what the steering does with the hole there.
type Place struct {
	Spot
	Figures
	Within   Within
	Existing string // name of the hole that is there already
}

// Listed is a place looked at closely.
type Listed struct {
	Place
	Sweep     *sweep.Result
	Clearance float64 // least gap up to the lock wanted but for what stops it, mm; NaN: nothing comes near
	Nearest   clearance.Near
	Edge, Web float64 // least distance of a hole's centre to the edge and to other holes' centres, mm; NaN: unknown
	PerMM     PerMM
	Alarms    []sweep.Code // what makes it unfit, within the slip
	Marks     []sweep.Code // what is less than wanted in it, within the slip; sweep.LowClearance also for TightPast
	// DecidedBy is the first aim by which it differs from what it is compared with: place 1 from today's hole
	// (where it is today's, from the next best), the others from place 1. -1 where there is nothing to compare with.
	DecidedBy Aim

	rank rank
}

// PerMM is how much a place's figures change, at the worst of eight directions, for a hole drilled 1 mm
// off. NaN where such a place is impossible.
type PerMM struct {
	Lock, Worst, Transmission s1.Angle
	Ratio                     float64
}

// Result is the answer.
type Result struct {
	Setup   *setup.Setup
	Today   *sweep.Model // of the setup as it stands
	On      On
	Aims    Aims     // with what was left open filled in
	Options Options  // likewise
	Metals  []*Metal // left and right steering arm, or the drop arm, or all three
	Current Listed
	Best    []Listed // best first
	// Front is those that no other beats in both lock within the slip and Ackermann error, least error first: of places
	// that meet all other aims. None for hole and stop together.
	Front  []Place
	Misses []Miss // aims that the best place does not meet, the first to give way first
	// Weak is why the places with all the leverage wanted are out of the question, where the best has less.
	Weak   []Barred
	Judged int
	// Leave tells that no place is fit to be recommended: the best has an alarm.
	Leave bool
	// Narrow tells that the metal has no room for another hole than those that are there, and how much it has; nil where it has.
	Narrow *NoRoomError

	search *search
}

// NoRoomError says that the metal has no place for the hole.
type NoRoomError struct {
	Diameter, Edge, Web float64
	Widest              float64 // greatest edge distance that the metal offers, in hole diameters, other holes kept clear of
	Anew                bool    // the metal is made for the hole, so that there are no other holes
}

func (e *NoRoomError) Error() string {
	text := fmt.Sprintf("no place in the metal keeps %.3g hole diameters to the edge and %.3g to the other holes", e.Edge, e.Web)
	if e.Widest > 0 && !math.IsInf(e.Widest, 0) {
		text += fmt.Sprintf("; the best one keeps %.2f to the edge", e.Widest)
	}
	return text
}

// ErrNowhere says that the metal has room, but only where the steering is impossible.
var ErrNowhere = errors.New("wherever the metal has room for the hole, the linkage does not assemble or metal touches metal straight ahead")

// Search looks for the best place. The error is that of a sweep of the setup as it stands, a *NoRoomError, a *WorkError,
// ErrNowhere or an *OptionError.
func Search(s *setup.Setup, on On, aims Aims, opt Options) (*Result, error) {
	if err := opt.settle(s, on); err != nil {
		return nil, err
	}
	now, err := sweep.New(s)
	if err != nil {
		return nil, err
	}
	start := SpotOf(s)
	base, err := sweep.New(start.Fit(s))
	if err != nil {
		return nil, err
	}
	asked := aims.Leverage > 0
	aims.settle(now)
	r := &Result{Setup: s, Today: now, On: on, Aims: aims, Options: opt, Metals: metals(s, on, &opt)}
	r.search = newSearch(r, base)
	f := aims.figures(now)
	r.search.leastLock, r.search.leverageAsked = min(aims.Lock, f.Lock()), asked
	if err := r.search.run(); err != nil {
		return nil, err
	}
	r.Current = r.search.listedNow(now)
	if r.Best, r.Front = r.search.best(), r.search.front(); len(r.Best) == 0 {
		return nil, ErrNowhere
	}
	r.conclude()
	if aims.Lacks(r.Best[0].Within.Transmission) {
		r.Weak = r.search.bars(Leverage, func(j *judged) bool { return !aims.Lacks(j.Transmission) })
	}
	if r.Judged = len(r.search.pool); !r.search.anew() {
		r.Narrow = r.search.room()
	}
	return r, nil
}

// conclude puts the places that have an alarm last, since a place may turn out unfit only when it is looked at closely, and fills in what
// hangs on which place is the first: Leave, Misses, and by which aim each place differs from what it is compared with.
func (r *Result) conclude() {
	slices.SortStableFunc(r.Best, func(a, b Listed) int { return min(len(a.Alarms), 1) - min(len(b.Alarms), 1) })
	first := &r.Best[0]
	r.Leave, r.Misses = len(first.Alarms) > 0, r.search.misses(&first.Place)
	r.Current.DecidedBy, first.DecidedBy = -1, -1
	switch {
	case first.Spot != r.Current.Spot:
		first.DecidedBy = r.Aims.decides(&first.rank, &r.Current.rank)
		r.Current.DecidedBy = first.DecidedBy
	case len(r.Best) > 1:
		first.DecidedBy = r.Aims.decides(&first.rank, &r.Best[1].rank)
	}
	for i := 1; i < len(r.Best); i++ {
		r.Best[i].DecidedBy = r.Aims.decides(&r.Best[i].rank, &first.rank)
	}
}

// Rods returns the lengths of the rods for the place, centre to centre, mm.
func (r *Result) Rods(p *Place) (lengths [2]float64) {
	m, err := linkage.New(p.Fit(r.Setup))
	if err != nil {
		return [2]float64{math.NaN(), math.NaN()}
	}
	for side := range lengths {
		lengths[side] = m.Rods[m.Driver[side]].Derived
	}
	return lengths
}

// Stays reports whether place 1 is today's hole as it is, with the same rods: there is nothing to do.
func (r *Result) Stays() bool {
	best := &r.Best[0]
	return best.Spot == r.Current.Spot && best.Existing != "" && !r.Aims.Cut && !r.Recut(best)
}

// EdgeKept reports whether the distance to the edge was kept in all arms: it cannot be in one whose outline is not given.
func (r *Result) EdgeKept() bool {
	return !slices.ContainsFunc(r.Metals, func(m *Metal) bool { return len(m.Outline) == 0 })
}

// Recut reports whether a listed place is today's hole with rods of other lengths than those that the file gives.
func (r *Result) Recut(l *Listed) bool {
	const tape = 0.05 // mm
	for side, rod := range l.Sweep.Rods {
		if l.Spot == r.Current.Spot && math.Abs(rod.Length-r.Current.Sweep.Rods[side].Length) > tape {
			return true
		}
	}
	return false
}

// Changes reports whether a listed place is another hole than today's, or the same with other rods.
func (r *Result) Changes(l *Listed) bool { return l.Spot != r.Current.Spot || r.Recut(l) }

// Better reports whether the best place serves the aims at least as well as today's hole, as far as a tape can tell the two apart.
func (r *Result) Better() bool {
	best, now := &r.Best[0].rank, &r.Current.rank
	return best.compare(now) <= 0 || r.search.aims.alike(best, now)
}
