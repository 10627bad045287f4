package drill

import (
	"math"

	"github.com/golang/geo/s1"

	"locksweep/geometry/sweep"
)

// Aim is one thing that a place is held against.
type Aim int

// The aims in the order in which they count: a later one is looked at only between places that fall
// equally short of all before it.
const (
	Sense     Aim = iota // steers the way the wheel is turned, both wheels alike
	Leverage             // least transmission angle
	Lock                 // inner wheel at the lesser lock
	Ratio                // wheel per column at centre
	Alike                // both locks alike
	Ackermann            // departure of the inner wheel from the wanted Ackermann
	aims
)

// rank says how far a place falls short of each aim, in whole hundredths of a degree (Ratio: ten-thousandths of
// the ratio wanted): finer than that no two places differ in earnest, and a later aim may decide. The
// departure stands whole, because less of it is always better. Between places equal in all that, more lock
// is better.
type rank [aims + 1]float64

func (a *Aims) rank(f *Figures) (r rank) {
	short := func(by s1.Angle) float64 {
		if d := by.Degrees(); !(d <= 0.01) { // NaN falls short
			return math.Round(100*d) / 100
		}
		return 0
	}
	if !(f.Ratio > 0) || f.Opposed {
		r[Sense] = 1
	}
	r[Leverage] = short(a.Leverage - f.Transmission)
	r[Lock] = short(a.Lock - f.Lock())
	if a.Ratio > 0 {
		r[Ratio] = math.Round(1e4*max(0, math.Abs(f.Ratio-a.Ratio)/a.Ratio-RatioSlack)) / 1e4
	}
	if a.Alike {
		r[Alike] = short(difference(f) - AlikeSlack)
	}
	r[Ackermann] = f.Worst.Degrees()
	r[aims] = -f.Lock().Degrees()
	return r
}

func difference(f *Figures) s1.Angle { return (f.Inner[sweep.ToLeft] - f.Inner[sweep.ToRight]).Abs() }

// compare is negative where r is the better rank.
func (r *rank) compare(o *rank) int {
	for i := range r {
		switch {
		case r[i] < o[i]:
			return -1
		case r[i] > o[i]:
			return 1
		}
	}
	return 0
}

// meets tells whether all aims but Lock and Ackermann are met: what the trade between those two may not cost.
func (r *rank) meets() bool {
	return r[Sense] == 0 && r[Leverage] == 0 && r[Ratio] == 0 && r[Alike] == 0
}

// Miss is an aim that is not met. Nearest is the nearest to it that any place comes while those before it
// are met as well as they can be, Alone the nearest with nothing else asked for but the right sense;
// angles in radians.
type Miss struct {
	Aim                    Aim
	Wanted, Nearest, Alone float64
}

// Value is a place's figure for an aim: radians, or wheel per column. Sense is 1 if right.
func (f *Figures) Value(a Aim) float64 {
	switch a {
	case Sense:
		if f.Ratio > 0 && !f.Opposed {
			return 1
		}
		return 0
	case Leverage:
		return float64(f.Transmission)
	case Lock:
		return float64(f.Lock())
	case Ratio:
		return f.Ratio
	case Alike:
		return float64(difference(f))
	}
	return float64(f.Worst)
}

// wanted is the value asked for.
func (a *Aims) wanted(aim Aim) float64 {
	return [aims]float64{Sense: 1, Leverage: float64(a.Leverage), Lock: float64(a.Lock), Ratio: a.Ratio,
		Alike: float64(AlikeSlack), Ackermann: float64(a.Within)}[aim]
}

// misses lists the aims that the best place does not meet.
func (s *search) misses(best *Figures) (list []Miss) {
	r := s.aims.rank(best)
	for aim := range aims {
		missed := r[aim] > 0
		if aim == Ackermann {
			missed = s.aims.Within > 0 && !(best.Worst <= s.aims.Within)
		}
		if missed {
			list = append(list, Miss{aim, s.aims.wanted(aim), best.Value(aim), s.alone(aim)})
		}
	}
	return list
}

// alone is the value nearest to an aim of all places judged that steer the right way.
func (s *search) alone(aim Aim) float64 {
	nearest, least := math.NaN(), math.Inf(1)
	for i := range s.pool {
		j := &s.pool[i]
		if j.rank[Sense] > 0 && aim != Sense || !j.possible {
			continue
		}
		if least > j.rank[aim] || math.IsNaN(nearest) {
			nearest, least = j.Value(aim), j.rank[aim]
		}
	}
	return nearest
}

func (a Aim) String() string {
	return [aims]string{"sense", "leverage", "lock", "ratio", "alike", "ackermann"}[a]
}

// IsAngle tells whether the aim's values are angles.
func (a Aim) IsAngle() bool { return a != Sense && a != Ratio }
