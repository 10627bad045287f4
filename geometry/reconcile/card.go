package reconcile

import (
	"cmp"
	"math"
	"slices"

	"github.com/golang/geo/s1"
	"gonum.org/v1/gonum/mat"

	"locksweep/geometry/clearance"
	"locksweep/geometry/linkage"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/geometry/tolerance"
)

// Card is what the finished vehicle should measure, to be held against it.
type Card struct {
	*sweep.Result
	Turns []Expected // from the left lock to the right lock
	// Toe is what both tyres are further apart behind than ahead, at hub height over their treads, mm; toe-in positive.
	Toe   Length
	Rods  []Length // centre to centre
	Tapes []Length
	Gaps  []clearance.Near // that may be felt, the least first; what stops the wheels is not among them
}

// Expected is what both wheels should stand at with the steering wheel at an angle.
type Expected struct {
	Column    s1.Angle
	Lock      bool
	Steer     [2]s1.Angle
	PlusMinus [2]s1.Angle // within which they lie with 95 %; NaN where that is not known
}

// Length is a distance that the vehicle should have, mm.
type Length struct {
	Name      string // of a rod
	From, To  string // of a tape
	Distance  float64
	PlusMinus float64
}

const (
	mostGaps = 4
	// probeTurn is about what the wheels turn from one row of the card to the next.
	probeTurn = 10 * s1.Degree
)

// steps are turns of the steering wheel that a protractor shows.
var steps = []float64{10, 20, 30, 45, 60, 90, 120, 180, 360}

// Columns are the turns of the steering wheel that the card of a swept setup has between its locks, from left to right.
func Columns(r *sweep.Result) (columns []s1.Angle) {
	step := stepOf(r)
	for i := 3; i >= -3; i-- {
		if column := s1.Angle(i) * step; column < r.Locks[sweep.ToLeft].Column && column > r.Locks[sweep.ToRight].Column {
			columns = append(columns, column)
		}
	}
	return columns
}

// Keys are the figures that a card asks how sure they are.
func Keys() []string { return []string{"lock_inner", "lock_outer", "rod_length"} }

// Expect works a card out of how sure a setup is, of its Keys and at its Columns among others, and at most so many tapes.
func Expect(sure *tolerance.Result, tapes int) (*Card, error) {
	c := &Card{Result: sure.Result}
	c.expect(sure)
	c.lengths(sure)
	if err := c.tapes(tapes); err != nil {
		return nil, err
	}
	c.gaps()
	return c, nil
}

// stepOf is 10° of a steering wheel whose wheels turn as far or less; else the turn of it that comes nearest to that.
func stepOf(r *sweep.Result) s1.Angle {
	rate := math.Max(math.Abs(r.Straight.Ratio[0]), math.Abs(r.Straight.Ratio[1]))
	best := steps[0]
	for _, s := range steps {
		if r.Linkage.Slides(linkage.Input) && math.Abs(s*rate-probeTurn.Degrees()) < math.Abs(best*rate-probeTurn.Degrees()) {
			best = s
		}
	}
	return s1.Angle(best) * s1.Degree
}

// expect fills in the wheels at the locks and between them, and how sure that is.
func (c *Card) expect(sure *tolerance.Result) {
	atLock := func(d sweep.Direction) {
		e := Expected{Column: c.Locks[d].Column, Lock: true}
		for _, side := range setup.Sides {
			e.Steer[side], e.PlusMinus[side] = c.Locks[d].Pose.Wheels[side].Steer, s1.Angle(math.NaN())
			if f := sure.AtLock(d, side); f != nil {
				e.PlusMinus[side] = s1.Angle(f.PlusMinus())
			}
		}
		c.Turns = append(c.Turns, e)
	}
	atLock(sweep.ToLeft)
	for _, column := range Columns(c.Result) {
		b := sure.Band(column)
		e := Expected{Column: column}
		for _, side := range setup.Sides {
			e.Steer[side], e.PlusMinus[side] = b.Value[side], b.PlusMinus(int(side))
		}
		c.Turns = append(c.Turns, e)
	}
	atLock(sweep.ToRight)
}

// tapes fills in the tapes, at most so many.
func (c *Card) tapes(most int) error {
	m, err := newModel(c.Setup)
	if err != nil {
		return err
	}
	x := make([]float64, len(m.unknowns))
	q := mat.NewDense(len(x), len(x), nil)
	for i := range m.unknowns {
		sigma := standard(m.unknowns[i].accuracy)
		q.Set(i, i, sigma*sigma)
	}
	for _, t := range m.telling(x, mat.DenseCopyOf(q), most) {
		c.Tapes = append(c.Tapes, Length{From: t.From, To: t.To, Distance: t.Distance, PlusMinus: spread(q, t.slopes[0])})
	}
	return nil
}

// lengths fills in the rods, and the toe of the wheels straight ahead.
func (c *Card) lengths(sure *tolerance.Result) {
	for i := range c.Linkage.Rods {
		c.Rods = append(c.Rods, Length{Name: c.Linkage.Rods[i].Name(), Distance: c.Linkage.Rods[i].Length, PlusMinus: sure.OfRod(i).PlusMinus()})
	}
	straight := c.Turns[slices.IndexFunc(c.Turns, func(e Expected) bool { return e.Column == 0 || e.Lock && e.Column <= 0 })]
	for _, side := range setup.Sides {
		d := c.Setup.Corners[side].Wheel.Tyre.Diameter
		c.Toe.Distance -= side.Sign() * d * math.Sin(float64(straight.Steer[side]))
		c.Toe.PlusMinus = math.Hypot(c.Toe.PlusMinus, d*float64(straight.PlusMinus[side]))
	}
}

// spread is the half-width that holds 95 % of what has the slopes g, of unknowns with cofactors q.
func spread(q *mat.Dense, g mat.Vector) float64 {
	return ninetyFive * math.Sqrt(math.Max(mat.Inner(g, q, g), 0))
}

// gaps lists the least gaps between the locks.
func (c *Card) gaps() {
	for _, n := range c.Near {
		if !c.Stops(n.Pair) && n.Gap > 0 {
			c.Gaps = append(c.Gaps, n)
		}
	}
	slices.SortStableFunc(c.Gaps, func(a, b clearance.Near) int { return cmp.Compare(a.Gap, b.Gap) })
	c.Gaps = c.Gaps[:min(len(c.Gaps), mostGaps)]
}
