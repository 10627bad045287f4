package tolerance

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
	"strings"

	"github.com/golang/geo/s1"

	"locksweep/geometry/compare"
	"locksweep/geometry/setup"
)

// Question is something that decides whether a kart is as wanted, answered by one figure or by both its sides.
type Question int

const (
	Lock Question = iota
	Ackermann
	Gap
	RodLength
)

// Questions lists all.
var Questions = [4]Question{Lock, Ackermann, Gap, RodLength}

// Answers returns the figures that answer a question, one for each side: of the first of its keys that is known; none
// where it has no answer.
func (r *Result) Answers(q Question) (list []*Figure) {
	for _, key := range [4][]string{{"lock_inner"}, {"ackermann_error_20", "ackermann_error_lock"}, {"least_gap"}, {"rod_length"}}[q] {
		for side := range 2 {
			if f := r.Find(key, side); f != nil && !math.IsNaN(f.Value) && !math.IsInf(f.Value, 0) {
				list = append(list, f)
			}
		}
		if len(list) > 0 {
			break
		}
	}
	return list
}

// Matter is a measure and how much of the doubt about something is its doing.
type Matter struct {
	Key   string // of the left side, where both sides have it
	Both  bool   // the right side's counts with it
	Share float64
}

// Most returns the measures that matter most to a question, the worst first, left and right counted together.
func (r *Result) Most(q Question) (list []Matter) {
	all := 0.0
	for _, f := range r.Answers(q) {
		all += f.Uncertainty * f.Uncertainty
	}
	for _, f := range r.Answers(q) {
		for _, s := range f.From {
			key, right := ofLeft(r.Readings[s.Reading].Key)
			i := slices.IndexFunc(list, func(m Matter) bool { return m.Key == key })
			if i < 0 {
				i = len(list)
				list = append(list, Matter{Key: key})
			}
			list[i].Share += s.Share * f.Uncertainty * f.Uncertainty / all
			list[i].Both = list[i].Both || right
		}
	}
	slices.SortStableFunc(list, func(a, b Matter) int { return cmp.Compare(b.Share, a.Share) })
	return list
}

// ofLeft is the key of the same measure on the left side; right tells that it is not the key itself.
func ofLeft(key string) (left string, right bool) {
	if left, right = strings.CutPrefix(key, "right."); right {
		return left, true
	}
	for _, of := range [...]string{"drop_arm", "tie_rod", "rack"} {
		if strings.HasPrefix(key, of+".right") {
			return strings.Replace(key, of+".right", of+".left", 1), true
		}
	}
	return key, false
}

// Wanted is within what locks and errors are wanted to be known: what a protractor on the floor can tell.
const Wanted = 0.5 * s1.Degree

// Exact is how exact holes and rods have to be, each with all else exact, so that 95 % of the karts are within Wanted
// of a figure, and so that all are; mm, +Inf where it does not depend on them.
type Exact struct {
	Holes, Rods             float64
	HolesAlways, RodsAlways float64
	// Enough reports whether all else leaves room for that: with holes and rods exact, 95 % of the karts are within Wanted.
	Enough bool
}

// Exact answers for Lock or Ackermann; the worse of both sides counts.
func (r *Result) Exact(q Question) Exact {
	e := Exact{Holes: math.Inf(1), Rods: math.Inf(1), HolesAlways: math.Inf(1), RodsAlways: math.Inf(1), Enough: true}
	for _, f := range r.Answers(q) {
		holes, rods, others := r.parts(f)
		e.Holes, e.HolesAlways = math.Min(e.Holes, within(half(holes))), math.Min(e.HolesAlways, within(sum(holes)))
		e.Rods, e.RodsAlways = math.Min(e.Rods, within(half(rods))), math.Min(e.RodsAlways, within(sum(rods)))
		e.Enough = e.Enough && half(others) < float64(Wanted)
	}
	return e
}

// within is how exact something has to be that moves a figure by so many radians for each mm: +Inf where that is nothing but
// what contacts and rounding leave.
func within(perMM float64) float64 {
	const nothing = float64(Wanted) / 100 // for a mm
	if perMM < nothing {
		return math.Inf(1)
	}
	return float64(Wanted) / perMM
}

// parts returns what a millimetre at each hole and at each rod does to a figure, and what each other reading does to it within its accuracy.
func (r *Result) parts(f *Figure) (holes, rods, others []float64) {
	i := slices.IndexFunc(compare.Figures(), func(of compare.Figure) bool { return of.Key == f.Key })
	for k := range r.Readings {
		one, per := &r.Readings[k], math.Abs(r.differences[k][i][f.Side])
		switch {
		case !(per > 0) || math.IsInf(per, 0):
		case one.Class == setup.OfHole && strings.HasSuffix(one.Key, "]"):
			holes = append(holes, per)
		case one.Class == setup.OfRod:
			rods = append(rods, per)
		default:
			others = append(others, per*one.Accuracy)
		}
	}
	return holes, rods, others
}

func sum(list []float64) (all float64) {
	for _, x := range list {
		all += x
	}
	return all
}

// half returns within what a share coverage of the sums lie to which each of a list adds evenly from -x to +x.
func half(widths []float64) float64 {
	if len(widths) == 0 {
		return 0
	}
	const draws = 20_000
	random := rand.New(rand.NewPCG(seed, 0))
	sums := make([]float64, draws)
	for i := range sums {
		for _, x := range widths {
			sums[i] += (2*random.Float64() - 1) * x
		}
	}
	slices.Sort(sums)
	low, high := shortest(sums)
	return (high - low) / 2
}
