package tolerance

import (
	"cmp"
	"math"
	"slices"

	"github.com/golang/geo/s1"

	"locksweep/geometry/sweep"
)

// Spread is how the draws of one figure lie, in the figure's own unit.
type Spread struct {
	Low, High       float64 // the shortest interval that holds coverage of what is known
	Least, Most     float64 // of all that is known
	Mean, Deviation float64 // standard deviation
	Known, Of       int     // how many draws have the figure, of how many that could be assembled
}

// coverage is the part of the draws that an interval holds.
const coverage = 0.95

// half is half the interval; NaN where nothing is known.
func (s *Spread) half() float64 { return (s.High - s.Low) / 2 }

// furthest is how far the draws lie off a value at most; 0 where the value or the draws are not known.
func (s *Spread) furthest(value float64) float64 {
	if s.Known == 0 || math.IsNaN(value) || math.IsInf(value, 0) {
		return 0
	}
	return math.Max(s.Most-value, value-s.Least)
}

// spreadOf sums up a figure of the draws that could be assembled.
func spreadOf(draws []kart, of func(k *kart) float64) Spread {
	var values []float64
	for i := range draws {
		if draws[i].values != nil {
			values = append(values, of(&draws[i]))
		}
	}
	return spread(values)
}

// spread sums values up. Those that are no numbers are not known.
func spread(values []float64) Spread {
	s := Spread{Low: math.NaN(), High: math.NaN(), Least: math.NaN(), Most: math.NaN(), Mean: math.NaN(), Deviation: math.NaN(), Of: len(values)}
	known := make([]float64, 0, len(values))
	for _, v := range values {
		if !math.IsNaN(v) && !math.IsInf(v, 0) {
			known = append(known, v)
		}
	}
	if s.Known = len(known); s.Known == 0 {
		return s
	}
	slices.Sort(known)
	s.Low, s.High = shortest(known)
	s.Least, s.Most = known[0], known[s.Known-1]
	sum := 0.0
	for _, v := range known {
		sum += v
	}
	s.Mean = sum / float64(s.Known)
	squares := 0.0
	for _, v := range known {
		squares += (v - s.Mean) * (v - s.Mean)
	}
	s.Deviation = math.Sqrt(squares / float64(max(s.Known-1, 1)))
	return s
}

// shortest returns the shortest interval that holds coverage of sorted values, with so many steps from its low end to its high
// one (JCGM 101, 7.7, memory). Of several the lowest is taken.
func shortest(sorted []float64) (low, high float64) {
	steps := int(coverage*float64(len(sorted)) + 0.5)
	if steps >= len(sorted) {
		return sorted[0], sorted[len(sorted)-1]
	}
	low, high = sorted[0], sorted[steps]
	for i := range len(sorted) - steps {
		if sorted[i+steps]-sorted[i] < high-low {
			low, high = sorted[i], sorted[i+steps]
		}
	}
	return low, high
}

// Curve is what is drawn over the column: both wheels' steer by setup.Side, and the Ackermann error.
type Curve [3]s1.Angle

// AckermannError is the place of the Ackermann error in a Curve.
const AckermannError = 2

// Band is where the curves lie at a column angle.
type Band struct {
	Column s1.Angle
	Value  Curve     // as the setup stands
	Within [3]Spread // radians; zero without draws
	Moved  [3]Differences
}

// PlusMinus is by how much one of the curves may be off there either way, as Figure.PlusMinus.
func (b *Band) PlusMinus(which int) s1.Angle {
	switch {
	case b.Within[which].Of > 0:
		return s1.Angle(b.Within[which].half())
	case math.IsNaN(float64(b.Value[which])):
		return s1.Angle(math.NaN())
	}
	return s1.Angle(b.Moved[which].half())
}

// Band returns the band at a column angle; nil where none was asked for there.
func (r *Result) Band(column s1.Angle) *Band {
	for i := range r.Bands {
		if r.Bands[i].Column == column {
			return &r.Bands[i]
		}
	}
	return nil
}

// bands fills in Bands from the karts with one reading moved and those that are drawn.
func (r *Result) bands(ends, draws []kart) {
	for i, column := range r.Columns {
		b := Band{Column: column, Value: curve(r.Result, column)}
		for k := range b.Within {
			at := func(one *kart) float64 {
				if one.values == nil {
					return math.NaN()
				}
				return float64(one.curves[i][k])
			}
			b.Moved[k] = r.sum(func(reading int) float64 {
				return slope(at(&ends[2*reading+1]), float64(b.Value[k]), at(&ends[2*reading]), r.reach(reading))
			})
			if len(draws) > 0 {
				b.Within[k] = spreadOf(draws, at)
			}
		}
		r.Bands = append(r.Bands, b)
	}
}

// count fills in Stops from the draws, and how many of them could not be assembled or touch straight ahead.
func (r *Result) count(draws []kart) {
	for d := range sweep.Directions {
		at := map[stop]int{} // in Stops
		for k := range draws {
			if draws[k].values == nil {
				continue
			}
			s := draws[k].stops[d]
			i, known := at[s]
			if !known {
				i = len(r.Stops[d])
				at[s] = i
				r.Stops[d] = append(r.Stops[d], Stop{})
				if s.found {
					r.Stops[d][i].Limit = &s.Limit
				}
			}
			r.Stops[d][i].Count++
		}
		slices.SortStableFunc(r.Stops[d], func(a, b Stop) int { return cmp.Compare(b.Count, a.Count) })
	}
	for k := range draws {
		switch {
		case draws[k].values == nil:
			r.Apart++
		case draws[k].touching:
			r.Touching++
		}
	}
}
