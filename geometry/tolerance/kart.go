package tolerance

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"

	"github.com/golang/geo/s1"

	"locksweep/geometry/compare"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// readings lists what is measured, with the accuracy that Drill gives holes.
func (r *Result) readings() {
	r.Readings = listed(r.Setup)
	for i := range r.Readings {
		if one := &r.Readings[i]; r.Drill != nil && one.Class == setup.OfHole && strings.HasSuffix(one.Key, "]") {
			one.Accuracy = *r.Drill
		}
	}
}

// listed lists the readings of a setup and, after them, the rods that are cut to the toe: exact, for what their lengths do.
func listed(s *setup.Setup) []setup.Reading {
	list := s.Readings()
	for _, m := range s.Measures() {
		if m.Class == setup.OfRod && *m.Figures[0] == 0 {
			list = append(list, setup.Reading{Key: m.Key, Quantity: m.Quantity, Class: m.Class, Figures: m.Figures})
		}
	}
	return list
}

// idle reports which readings do nothing to any figure: those of holes that no ball or pin is in, of which there may be hundreds.
func idle(s *setup.Setup, list []setup.Reading) []bool {
	metals := []*setup.Metal{&s.DropArm.Metal}
	for side := range s.Corners {
		metals = append(metals, &s.Corners[side].Arm.Metal)
	}
	of := map[*float64]bool{}
	for _, m := range metals {
		for i := range m.Holes {
			h := &m.Holes[i]
			of[&h.At.X], of[&h.At.Y], of[&h.Up], of[&h.Diameter] = true, true, true, true
		}
	}
	idle := make([]bool, len(list))
	for i := range list {
		idle[i] = !slices.ContainsFunc(list[i].Figures, func(f *float64) bool { return !of[f] })
	}
	return idle
}

// reach is how far a reading is moved either way to see what it does, mm or radians: its accuracy, and where that is
// nought what is usual.
func (r *Result) reach(reading int) float64 {
	one := &r.Readings[reading]
	if one.Accuracy > 0 {
		return one.Accuracy
	}
	usual := setup.DefaultAccuracy(r.Setup.Unit)
	return usual.Of(one.Class)
}

// workshop makes karts out of one copy of the setup.
type workshop struct {
	r        *Result
	setup    *setup.Setup
	readings []setup.Reading
	as       [][]float64 // by reading and figure, as the setup stands
}

func (r *Result) workshop() *workshop {
	w := &workshop{r: r, setup: r.Setup.Clone()}
	w.readings = listed(w.setup)
	for i := range w.readings {
		var as []float64
		for _, f := range w.readings[i].Figures {
			as = append(as, *f)
		}
		w.as = append(w.as, as)
	}
	return w
}

// kart is one of those that the setup may be in truth.
type kart struct {
	values   [][2]float64 // valuesOf it; nil where its rods do not reach
	stops    [2]stop      // by sweep.Direction
	touching bool
	curves   []Curve // by Options.Columns
}

// make makes a kart by its number: first each reading moved one way and the other, then draws. Every draw has a row of
// random numbers of its own, so that it does not matter who makes it, or when.
func (w *workshop) make(number int) kart {
	off := make([]float64, len(w.readings))
	draw := number - 2*len(w.readings)
	if draw < 0 {
		off[number/2] = w.r.reach(number/2) * float64(1-2*(number%2))
	} else {
		random := rand.New(rand.NewPCG(seed, uint64(draw)))
		for i := range off {
			off[i] = (2*random.Float64() - 1) * w.r.Readings[i].Accuracy // exact ones take a number too
		}
	}
	w.set(off)
	result, touching, err := w.r.alike.Glance(w.setup, w.r.asked.Gaps())
	if err != nil {
		return kart{}
	}
	k := kart{values: w.r.valuesOf(result), touching: touching}
	if touching && w.r.asked.Gaps() { // what is left out for that has no gap left
		k.values[leastGap][0] = 0
	}
	if draw >= 0 {
		for _, d := range sweep.Directions {
			k.stops[d] = stopOf(result.Locks[d].First())
		}
	}
	k.curves = curves(result, w.r.Columns)
	return k
}

// leastGap is where Result.units has the least gap.
var leastGap = slices.IndexFunc(compare.Figures(), func(f compare.Figure) bool { return f.Key == "least_gap" })

// seed is where all draws begin, so that they are the same each time.
const seed = 0x10c5_3eed

// leastLeft is the part of a size that is left at least, however far it is off: what is there is there.
const leastLeft = 0.1

// set sets all figures to what they are as the setup stands, and each reading off by so much.
func (w *workshop) set(off []float64) {
	for i := range w.readings {
		one := &w.readings[i]
		for k, f := range one.Figures {
			as := w.as[i][k]
			switch {
			case off[i] == 0:
				*f = as
			case one.Class == setup.OfRod && as == 0:
				*f = w.r.Linkage.Rods[w.r.Linkage.RodKeyed(one.Key)].Derived + off[i]
			default:
				*f = as + off[i]
			}
			if one.Size && off[i] != 0 {
				*f = math.Copysign(math.Max(math.Abs(as)*leastLeft, *f*math.Copysign(1, as)), as)
			}
		}
		if one.Quantity == setup.OfDirection && strings.HasSuffix(one.Key, "[2]") {
			x, y, z := w.readings[i-2].Figures[0], w.readings[i-1].Figures[0], one.Figures[0]
			long := math.Hypot(math.Hypot(*x, *y), *z)
			*x, *y, *z = *x/long, *y/long, *z/long
		}
	}
	for side := range w.setup.Corners {
		tyre := &w.setup.Corners[side].Wheel.Tyre
		tyre.Shoulder = math.Min(tyre.Shoulder, math.Min(tyre.Width, tyre.Diameter)/2)
	}
}

// stop tells limits apart, so that the same one of two karts is equal; zero for none.
type stop struct {
	found bool
	sweep.Limit
}

func stopOf(l *sweep.Limit) (s stop) {
	if l == nil {
		return s
	}
	s.found, s.Kind, s.Brushes = true, l.Kind, l.Brushes
	switch l.Kind {
	case sweep.Contact:
		s.Side, s.Pair = l.Side, l.Pair
	case sweep.ColumnTravel, sweep.RackTravel:
	default:
		s.Rod, s.Side, s.End = l.Rod, l.Side, l.End
	}
	return s
}

// curves are the angles at column angles.
func curves(r *sweep.Result, columns []s1.Angle) []Curve {
	out := make([]Curve, len(columns))
	for i, c := range columns {
		out[i] = curve(r, c)
	}
	return out
}

func curve(r *sweep.Result, column s1.Angle) Curve {
	nan := s1.Angle(math.NaN())
	c := Curve{nan, nan, nan}
	if p, ok := r.Pose(column); ok {
		c[setup.Left], c[setup.Right] = p.Wheels[setup.Left].Steer, p.Wheels[setup.Right].Steer
		c[AckermannError] = p.Turn.Error
	}
	return c
}
