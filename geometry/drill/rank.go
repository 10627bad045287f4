package drill

import (
	"cmp"
	"math"
	"slices"

	"github.com/golang/geo/s1"

	"locksweep/geometry/sweep"
)

// Aim is one thing that a place is held against.
type Aim int

// The aims in the order in which they count: a later one is looked at only between places that fall
// equally short of all before it.
const (
	Sense     Aim = iota // steers the way the wheel is turned, both wheels alike
	Stop                 // a metal stop holds the wheels before anything else touches
	Clearance            // least gap
	Leverage             // least transmission angle
	Lock                 // inner wheel at the lesser lock
	Ratio                // wheel per column at centre
	Alike                // both ways alike
	Ackermann            // departure of the inner wheel from the wanted Ackermann
	aims

	// Change decides between places alike in all aims: how little today's hole is changed. It is never missed.
	Change = aims
)

func (a Aim) String() string {
	return [aims + 1]string{"sense", "stop", "clearance", "leverage", "lock", "ratio", "alike", "ackermann", "change"}[a]
}

// IsAngle reports whether the aim's values are angles.
func (a Aim) IsAngle() bool { return a == Leverage || a == Lock || a == Alike || a == Ackermann }

// rank is by aim how far a place falls short, at its worst within the slip, 0 where the aim is met: in whole hundredths of a degree or, for
// Clearance, of a millimetre; for Ratio in ten-thousandths of the ratio wanted; for Stop it counts the faults of both ways. Places that
// differ by less are alike in an aim, and a later aim decides. Ackermann is the departure itself, unrounded, in degrees: less is always
// better.
type rank [aims]float64

func (a *Aims) rank(f *Figures, w *Within) (r rank) {
	short := func(by float64) float64 {
		switch {
		case by <= 0.01:
			return 0
		case math.IsNaN(by): // falls short of anything
			return math.Inf(1)
		}
		return math.Round(100*by) / 100
	}
	r[Sense] = one(!(f.Ratio > 0) || f.Opposed)
	r[Stop] = w.unsound(a.Cut)
	if r[Clearance] = short(a.Clearance - w.Clearance); w.Impossible {
		r[Clearance] = math.Inf(1)
	}
	r[Leverage] = short((a.Leverage - w.Transmission).Degrees())
	r[Lock] = short((a.Lock - w.Lock).Degrees())
	if a.Ratio > 0 {
		r[Ratio] = math.Round(1e4*max(0, math.Abs(f.Ratio-a.Ratio)/a.Ratio-ratioSlack)) / 1e4
	}
	if a.Alike {
		r[Alike] = short((f.Unlike - AlikeSlack).Degrees())
	}
	r[Ackermann] = f.Worst.Degrees()
	return r
}

// one returns 1 for yes and 0 for no.
func one(yes bool) float64 {
	if yes {
		return 1
	}
	return 0
}

// nowhere is the rank of a place where the steering is impossible.
func nowhere() (r rank) {
	for i := range r {
		r[i] = math.Inf(1)
	}
	return r
}

// unsound counts what is wrong with how the wheels are stopped: 2 for a way without a stop that holds, 1 where it
// only comes too near to the linkage's own end. cut tells that the stop is yet to be ground.
func (w *Within) unsound(cut bool) (n float64) {
	if cut {
		return 0
	}
	for _, codes := range w.Faults {
		switch {
		case len(codes) == 0:
		case len(codes) == 1 && codes[0] == sweep.StopMargin:
			n++
		default:
			n += 2
		}
	}
	return n
}

// compare orders ranks, better first.
func (r *rank) compare(o *rank) int { return slices.Compare(r[:], o[:]) }

// meets reports whether all aims but Lock and Ackermann are met: what the trade between those two may not cost.
func (r *rank) meets() bool {
	for aim := range Ackermann {
		if aim != Lock && r[aim] > 0 {
			return false
		}
	}
	return true
}

// safe reports whether a place of this rank is marked with no alarm.
func (r *rank) safe() bool { return r[Sense] == 0 && r[Stop] == 0 && r[Clearance] == 0 }

// Tie is by how much places may differ and still count as alike, since a tape cannot tell them apart. Of those that are alike, the one that
// changes least of today's hole is chosen.
type Tie struct {
	Error s1.Angle // of the departure from the Ackermann wanted; 0: DefaultTieError; negative: none
	Lock  s1.Angle // of lock, leverage and likeness where none comes up to what is wanted; 0: DefaultTieLock; negative: none
}

// Common practice, no source: what a millimetre more or less on a tape does to these figures.
const (
	DefaultTieError = 0.3 * s1.Degree
	DefaultTieLock  = 0.5 * s1.Degree
)

// alike reports whether a place of one rank does as well as the best, within the Tie. An aim that the best meets must be met.
func (a *Aims) alike(r, best *rank) bool {
	for aim := range Ackermann {
		slack := 0.0
		if best[aim] > 0 && aim.IsAngle() {
			slack = max(0, a.Tie.Lock.Degrees())
		}
		if !(r[aim] <= best[aim]+slack) {
			return false
		}
	}
	if within := a.Within.Degrees(); within > 0 && best[Ackermann] <= within && r[Ackermann] > within {
		return false
	}
	return r[Ackermann] <= best[Ackermann]+max(0, a.Tie.Error.Degrees())
}

// Miss is an aim that is not met. Values are in the units of Place.Value.
type Miss struct {
	Aim     Aim
	Wanted  float64
	Nearest float64  // that any place comes while the aims before it are met as well as they can be
	Alone   float64  // that any place comes with nothing else asked for but the right sense
	Barred  []Barred // of the first aim missed: why the places that would meet it are out of the question
}

// Value returns a place's figure for an aim. Leverage and Lock (radians), Clearance (mm) and Stop are those at their worst within the slip;
// Ratio (wheel per column), Alike and Ackermann (radians) and Sense are those of the place itself. Sense and Stop are 1 if right, else 0.
func (p *Place) Value(aim Aim) float64 {
	return [aims]float64{Sense: one(p.Ratio > 0 && !p.Opposed), Stop: one(p.Within.unsound(false) == 0), Clearance: p.Within.Clearance,
		Leverage: float64(p.Within.Transmission), Lock: float64(p.Within.Lock), Ratio: p.Ratio, Alike: float64(p.Unlike),
		Ackermann: float64(p.Worst)}[aim]
}

// wanted returns the value asked for, in the units of Value.
func (a *Aims) wanted(aim Aim) float64 {
	return [aims]float64{Sense: 1, Stop: 1, Clearance: a.Clearance, Leverage: float64(a.Leverage), Lock: float64(a.Lock),
		Ratio: a.Ratio, Alike: float64(AlikeSlack), Ackermann: float64(a.Within)}[aim]
}

// fails reports whether a place with a rank misses an aim.
func (s *search) fails(r *rank, aim Aim) bool {
	if aim == Ackermann {
		return s.aims.Within > 0 && !(r[aim] <= s.aims.Within.Degrees())
	}
	return r[aim] > 0
}

// missed lists the aims that a place does not meet.
func (s *search) missed(p *Place) (list []Aim) {
	r := s.aims.rank(&p.Figures, &p.Within)
	for aim := range aims {
		if s.fails(&r, aim) {
			list = append(list, aim)
		}
	}
	return list
}

// misses says of each aim that a place does not meet how near to it places come.
func (s *search) misses(p *Place) (list []Miss) {
	r := s.aims.rank(&p.Figures, &p.Within)
	for _, aim := range s.missed(p) {
		list = append(list, Miss{Aim: aim, Wanted: s.aims.wanted(aim), Nearest: s.nearestTo(aim, p, &r), Alone: s.alone(aim)})
	}
	if len(list) > 0 {
		first := list[0].Aim
		list[0].Barred = s.bars(first, func(j *judged) bool {
			w := j.Figures.itself(nothingNear)
			own := s.aims.rank(&j.Figures, &w)
			return first < Leverage || !s.fails(&own, first)
		})
	}
	return list
}

// nearestTo returns Miss.Nearest for an aim that a place misses: that place's value. Of Lock it is the most of any place that serves the aims
// before it as well, since the place may have been chosen for a lesser change over others that turn a little further.
func (s *search) nearestTo(aim Aim, p *Place, r *rank) float64 {
	value := p.Value(aim)
	if aim != Lock {
		return value
	}
	return max(value, float64(s.mostLock(func(j *judged) bool {
		for before := range Lock {
			if j.rank[before] > r[before] {
				return false
			}
		}
		return true
	})))
}

// mostLock returns the most lock within the slip, up to the lock wanted, of the places that fit, to a millionth of a degree; 0 where none does.
// A place that fits must also fit while only its bounds are known.
func (s *search) mostLock(fits func(*judged) bool) (most s1.Angle) {
	const told = 1e-6 * s1.Degree
	q := queue{less: func(a, b int) int {
		return cmp.Or(cmp.Compare(s.pool[b].Within.Lock, s.pool[a].Within.Lock), cmp.Compare(a, b))
	}}
	for i := range s.pool {
		switch j := &s.pool[i]; {
		case !j.possible || !fits(j):
		case j.sure:
			most = max(most, min(j.Within.Lock, s.aims.Lock))
		default:
			q.list = append(q.list, i)
		}
	}
	more := func(j *judged) bool { return min(j.Within.Lock, s.aims.Lock) > most+told }
	for i := range s.inTurn(&q, func(j *judged) bool { return fits(j) && more(j) }, func(j *judged) bool { return !fits(j) || j.Within.Lock <= most }) {
		if j := &s.pool[i]; j.sure && fits(j) {
			most = max(most, min(j.Within.Lock, s.aims.Lock))
		}
	}
	return most
}

// alone returns the value nearest to an aim of all places judged that steer the right way; NaN where there is none.
func (s *search) alone(aim Aim) float64 {
	steers := func(j *judged) bool { return aim == Sense || j.rank[Sense] == 0 }
	switch aim {
	case Lock:
		return float64(s.mostLock(steers))
	case Ackermann: // with less lock than its bound a place may have less error
		s.wholePool()
	}
	found := s.topBy(1, func(n int) bool { return steers(&s.pool[n]) }, func(a, b int) int {
		return cmp.Or(cmp.Compare(s.pool[a].rank[aim], s.pool[b].rank[aim]), s.better(a, b))
	}, nil)
	if len(found) == 0 {
		return math.NaN()
	}
	p := s.place(found[0])
	return p.Value(aim)
}

// decides returns the first aim by which one rank differs from another: Change where they are alike.
func (a *Aims) decides(r, o *rank) Aim {
	for aim := range Ackermann {
		if r[aim] != o[aim] {
			return aim
		}
	}
	if by := math.Abs(r[Ackermann] - o[Ackermann]); by > max(0, a.Tie.Error.Degrees()) {
		return Ackermann
	}
	return Change
}
