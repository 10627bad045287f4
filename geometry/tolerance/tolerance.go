// Package tolerance answers how sure the figures of a setup are, given how exact its measures are: by how much each may
// be off, which measures that comes from, which limit may turn out to stop the wheels, and how exact holes and rods have to be.
// Millimetres and radians; NaN stands for what has no meaning.
//
// What is measured lies anywhere within its half-width (setup.Reading), each reading by itself. Thousands of karts are
// drawn that may all be the one measured, and all figures are worked out for each (Monte Carlo method of JCGM 101,
// memory). Beside that, central differences tell what each reading does to each figure.
package tolerance

import (
	"errors"
	"math"
	"sync"

	"github.com/golang/geo/s1"

	"locksweep/geometry/compare"
	"locksweep/geometry/cores"
	"locksweep/geometry/road"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// Options say what is asked.
type Options struct {
	Draws   int        // 0: none, only differences
	Drill   *float64   // how exact balls and holes are placed, mm, whatever the setup says of it; nil: as that says
	Path    road.Slide // of slides, as compare.Run takes it; without a radius that of sweep.SlideRadius
	Columns []s1.Angle // at which Bands are wanted
	Keys    []string   // of the figures that are asked for, as compare has them; nil: all. Of the others nothing is known
	Told    func(begun int)
}

// DefaultDraws are enough to know a ± to some 3 %.
const DefaultDraws = 2000

// Bounds of what may be asked for. With fewer the ends of an interval of 95 % are too few karts.
const (
	LeastDraws = 100
	MostDraws  = 100_000
)

// Result is how sure a setup is.
type Result struct {
	*sweep.Result // as the setup stands
	Options
	Readings []setup.Reading // what is measured, with its accuracy; rods that are cut to the toe at the end, exact
	Figures  []Figure
	AtStop   [2]Figure // the column's angle at either lock, without sign, by sweep.Direction; key LockColumn
	Stops    [2][]Stop // by sweep.Direction, what stops most karts first
	Apart    int       // draws whose rods do not reach, so that they have no figures
	Touching int       // draws in which something touches straight ahead that does not as the setup stands
	Bands    []Band    // by Columns

	differences [][][2]float64 // by reading: how far each figure is moved for each unit; NaN where that is not known
	units       [][2]float64   // valuesOf the setup as it stands
	asked       compare.Asked
	alike       *sweep.Alike
}

// Figure is one figure of the comparison, one side of it.
type Figure struct {
	*compare.Figure
	Side  int     // index in compare.Row.Values
	Value float64 // as the setup stands
	Draws Spread  // zero without draws
	Differences
	// Bent tells that draws and differences disagree, so that Uncertainty, Worst and From are only a rough guide. Worst is
	// at least as far as any draw lies off.
	Bent bool
}

// Differences is what the readings do to a figure, each by itself and as if the figure went by a straight line with it.
type Differences struct {
	Uncertainty float64 // standard uncertainty
	Worst       float64 // the most that all together can move it
	From        []Share // the greatest first; none that does nothing
}

// Share is what one reading does to a figure.
type Share struct {
	Reading int     // in Result.Readings
	Share   float64 // of the figure's variance, 0 to 1
	PerUnit float64 // by how much the figure moves for each mm or radian
}

// Stop is a limit that stops the wheels in some of the draws.
type Stop struct {
	// Limit says which, in the terms of Result.Model but without its column and point; nil: nothing does.
	Limit *sweep.Limit
	Count int
}

// ErrNone says that not one of the draws could be assembled.
var ErrNone = errors.New("not one of the karts that the setup may be in truth can be assembled")

// Run answers for a setup that was swept. The answer is the same on any number of cores.
func Run(of *sweep.Result, opt Options) (*Result, error) {
	if opt.Path.Radius == 0 {
		opt.Path.Radius = sweep.SlideRadius(of.Setup.Unit, of.Setup.Vehicle.Wheelbase)
	}
	r := &Result{Result: of, Options: opt, asked: compare.Ask(opt.Keys), alike: of.Alike()}
	r.units = r.valuesOf(of)
	r.readings()
	ends, draws := r.karts()
	r.differ(ends)
	for i, f := range compare.Figures() {
		for side := range 2 {
			if side == 0 || f.Split != compare.Single {
				r.Figures = append(r.Figures, r.figure(&f, i, side, draws))
			}
		}
	}
	if r.count(draws); opt.Draws > 0 && r.Apart == opt.Draws {
		return r, ErrNone
	}
	for _, d := range sweep.Directions {
		r.AtStop[d] = r.figure(&compare.Figure{Key: LockColumn, Kind: compare.Angle, Split: compare.ByLock}, len(compare.Figures()), int(d), draws)
	}
	r.bands(ends, draws)
	return r, nil
}

// chunk is how many karts one worker makes in one go.
const chunk = 20

// karts makes two karts for each reading, moved either way by its reach, and those that are drawn.
func (r *Result) karts() (ends, draws []kart) {
	still, as := idle(r.Setup, r.Readings), kart{values: r.units, curves: curves(r.Result, r.Columns)}
	moved := 2 * len(r.Readings)
	karts := make([]kart, moved+r.Draws)
	workshops := sync.Pool{New: func() any { return r.workshop() }}
	cores.Each((len(karts)+chunk-1)/chunk, func(c int) {
		w := workshops.Get().(*workshop)
		defer workshops.Put(w)
		for i := c * chunk; i < min((c+1)*chunk, len(karts)); i++ {
			if karts[i] = as; i >= moved || !still[i/2] {
				karts[i] = w.make(i)
			}
		}
	}, func(begun int) {
		if r.Told != nil {
			r.Told(min(begun*chunk, len(karts)))
		}
	})
	return karts[:moved], karts[moved:]
}

// LockColumn is the key of the column's angle at a lock, which is no figure of the comparison.
const LockColumn = "lock_column"

// valuesOf are the figures of the comparison, and after them the column's angle at the locks.
func (r *Result) valuesOf(one *sweep.Result) [][2]float64 {
	return append(r.asked.Values(one, r.Path), [2]float64{float64(one.Locks[0].Column.Abs()), float64(one.Locks[1].Column.Abs())})
}

// figure gathers what is known of one figure.
func (r *Result) figure(of *compare.Figure, i, side int, draws []kart) Figure {
	f := Figure{Figure: of, Side: side, Value: r.units[i][side]}
	if len(draws) > 0 {
		f.Draws = spreadOf(draws, func(k *kart) float64 { return k.values[i][side] })
	}
	f.Differences = r.sum(func(reading int) float64 { return r.differences[reading][i][side] })
	f.Bent = f.bent()
	f.Worst = math.Max(f.Worst, f.Draws.furthest(f.Value))
	return f
}

// By how much draws may disagree with differences, chance aside, and the figure still count as going by a straight line.
const (
	alike = 0.1  // the spread, as a share of the greater
	aside = 0.15 // the mean from the figure as the setup stands, in standard deviations
)

// bent reports whether draws and differences disagree: in some karts another limit or pair comes first, the spread is
// another, or the mean lies aside. Chance counts for three standard deviations of a standard deviation and of a mean.
func (f *Figure) bent() bool {
	d := &f.Draws
	if d.Known == 0 {
		return false
	}
	n, slack := float64(d.Known), f.Kind.Slack()/10
	wider := math.Abs(d.Deviation - f.Uncertainty)
	off := math.Abs(d.Mean - f.Value)
	return d.Known < d.Of || !(off <= (aside+3/math.Sqrt(n))*d.Deviation+slack) ||
		wider > (alike+3/math.Sqrt(2*n))*math.Max(d.Deviation, f.Uncertainty)+slack
}

// PlusMinus is by how much a figure may be off either way: half the shortest interval that holds 95 % of the draws, without
// draws by the differences. NaN where it is not known.
func (f *Figure) PlusMinus() float64 {
	switch {
	case f.Draws.Of > 0:
		return f.Draws.half()
	case math.IsNaN(f.Value) || math.IsInf(f.Value, 0):
		return math.NaN()
	}
	return f.Differences.half()
}

// Margins are the keys of the figures that do the driver harm where they turn out to be nothing: see MayBeNone.
var Margins = [3]string{"least_gap", "stop_margin", "countersteer_to_over_centre"}

// MayBeNone reports whether a figure that is positive as the setup stands may be nothing in truth: the interval that holds 95 %
// reaches down to 0.
func (f *Figure) MayBeNone() bool {
	if f.Draws.Of > 0 {
		return f.Value > 0 && f.Draws.Low <= f.Kind.Slack()/10
	}
	by := f.PlusMinus()
	return f.Value > 0 && by > 0 && by >= f.Value
}

// Find returns one side of a figure by its key in compare, or LockColumn; nil where there is none.
func (r *Result) Find(key string, side int) *Figure {
	for i := range r.Figures {
		if f := &r.Figures[i]; f.Key == key && f.Side == side {
			return f
		}
	}
	if key == LockColumn {
		return &r.AtStop[side]
	}
	return nil
}

// OfRod returns how sure the length of a rod of the linkage is.
func (r *Result) OfRod(rod int) *Figure {
	return r.Find("rod_length", int(r.Linkage.Rods[rod].To.Side()))
}

// AtLock returns how sure a wheel's angle at a lock is, which as a figure of the comparison is positive into the turn; nil where the
// wheels do not turn there.
func (r *Result) AtLock(d sweep.Direction, side setup.Side) *Figure {
	turn := &r.Locks[d].Pose.Turn
	switch {
	case !turn.Known():
		return nil
	case side == turn.Inner:
		return r.Find("lock_inner", int(d))
	}
	return r.Find("lock_outer", int(d))
}
