// Package compare answers which of several setups does better, and by how much: the figures that decide,
// turning and sliding, side by side. Millimetres and s1.Angle; NaN stands for what has no meaning.
package compare

import (
	"math"
	"slices"

	"github.com/golang/geo/s1"

	"locksweep/geometry/cores"
	"locksweep/geometry/road"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// Entry is one setup to compare. Name, Setup, Brief and, where it is known beforehand that the setup cannot be
// swept, Err are given; Run fills in the rest.
type Entry struct {
	Name    string
	Brief   bool // of very many entries: to save room its Result keeps no poses between the locks and no shapes of pieces
	Setup   *setup.Setup
	Result  *sweep.Result // nil where Err says why
	Err     error
	Extent  sweep.Extent          // without what is widest
	Against [2]sweep.Countersteer // by the way that the path turns: the lock against it
	Held    [2][2]s1.Angle        // by the way that the path turns, then by side: see sweep.Result.SlideHeld
	Slides  [2][]sweep.SlidePose  // by the way that the path turns: at SlideAngles, as far as the locks hold

	Stopping [2]sweep.Stopping    // by the way that the column turns
	AtEnd    [2]sweep.Leverage    // the least within the locks, by linkage.End
	AtLock   [2]sweep.LockFigures // by sweep.Direction
	Faults   []Fault              // for which it is best at nothing
}

// Comparison is setups side by side.
type Comparison struct {
	Path      road.Slide // of slides: its Angle and Turn have no meaning
	Entries   []Entry
	Reference int // the first entry that could be swept; -1 where none could
	Rows      []Row
}

// Axis is a value of the setup file that is varied from entry to entry.
type Axis struct {
	Key      string
	Quantity setup.Quantity // Words where the key is none of a figure, but of a change or of text
	Values   []float64      // as the file has them: in its own unit, in degrees
	Today    float64        // likewise, of the setup with nothing varied; NaN where it has no such figure
}

// Row is one figure of every entry.
type Row struct {
	*Figure
	Values [][2]float64 // by entry; angles in radians, lengths in mm
	Best   [][2]bool    // by entry: no other that is sound is better by more than Slack; none where all are alike
	Fails  [][2]bool    // by entry: a fault of the entry shows in this figure
	sound  []bool       // by entry
}

// Step is the column step of the sweeps.
const Step = 1 * s1.Degree

// Run sweeps the entries on all cores and sets their figures side by side. Path is what slides are looked at on; its Angle and Turn do not count.
// Told, unless nil, is told on the caller's goroutine how many entries have been begun.
func Run(entries []Entry, path road.Slide, told func(begun int)) *Comparison {
	cores.Each(len(entries), func(i int) { entries[i].sweep(path) }, told)
	c := &Comparison{Path: path, Entries: entries, Reference: slices.IndexFunc(entries, func(e Entry) bool { return e.Result != nil })}
	for i := range figures {
		c.Rows = append(c.Rows, c.row(&figures[i]))
	}
	return c
}

// sweep finds everything that is compared.
func (e *Entry) sweep(path road.Slide) {
	if e.Err != nil {
		return
	}
	if e.Result, e.Err = sweep.Run(e.Setup, Step); e.Err != nil {
		return
	}
	e.measure(path, everything)
	e.judge()
	for _, d := range sweep.Directions {
		path.Turn = d.Sign()
		e.Slides[d] = slides(e.Result, path)
	}
	if e.Brief {
		e.Result.Poses = nil
		e.Result.Told()
		for d := range e.Slides {
			e.Slides[d] = slices.Clone(e.Slides[d]) // without the room to grow
		}
	}
}

// everything is all that figures are read off.
const everything = ^needs(0)

// measure fills in the fields that are needed of those that figures are read off; Slides and Faults are found elsewhere.
func (e *Entry) measure(path road.Slide, need needs) {
	r := e.Result
	if need&needEnds != 0 {
		e.AtEnd = r.LeverageByEnd()
	}
	if need&needExtent != 0 {
		e.Extent = r.LeastExtent()
	}
	for _, d := range sweep.Directions {
		path.Turn = d.Sign()
		if need&needStopping != 0 {
			e.Stopping[d] = r.Stopping(&r.Locks[d])
		}
		if need&needAgainst != 0 {
			e.Against[d] = r.Countersteer(path)
		}
		if need&needGround != 0 {
			e.AtLock[d] = r.Figures(&r.Locks[d].Pose)
		}
		if need&needHeld != 0 {
			e.Held[d] = r.SlideHeld(path)
		}
	}
}

// Asked are the figures of the comparison that are asked for.
type Asked struct {
	figures []bool // by Figures
	need    needs
}

// Ask asks for figures by their keys; nil asks for all.
func Ask(keys []string) (a Asked) {
	a.figures = make([]bool, len(figures))
	for i := range figures {
		if keys == nil || slices.Contains(keys, figures[i].Key) {
			a.figures[i] = true
			a.need |= figures[i].needs
		}
	}
	return a
}

// Gaps reports whether one of the figures asked for needs the gaps between pieces, sweep.Result.Near.
func (a *Asked) Gaps() bool { return a.need&needNear != 0 }

// Values returns the figures that are asked for of one setup that was swept, or glanced at: in the order of Figures, each as in
// Row.Values. All others are NaN.
func (a *Asked) Values(r *sweep.Result, path road.Slide) [][2]float64 {
	e := Entry{Setup: r.Setup, Result: r}
	e.measure(path, a.need)
	for _, d := range sweep.Directions {
		if a.need&needSlides == 0 {
			break // no figure is read off a slide
		}
		path.Turn, e.Slides[d] = d.Sign(), make([]sweep.SlidePose, 0, len(apartAt))
		for _, degrees := range apartAt {
			path.Angle = s1.Angle(degrees) * s1.Degree
			if p, ok := r.Sliding(path); ok {
				e.Slides[d] = append(e.Slides[d], p)
			}
		}
	}
	values := make([][2]float64, len(figures), len(figures)+1)
	for i := range figures {
		if values[i] = [2]float64{math.NaN(), math.NaN()}; a.figures[i] {
			values[i] = figures[i].of(&e, path)
		}
	}
	return values
}

// slideAngles are the slide angles that are looked at: every degree from 0 to 90.
const slideAngles = 91

// slides returns how slides of 0, 1, 2 … degrees are held, from the first that the locks let the wheels hold to the last.
func slides(r *sweep.Result, path road.Slide) (held []sweep.SlidePose) {
	for i := range slideAngles {
		path.Angle = s1.Angle(i) * s1.Degree
		p, ok := r.Sliding(path)
		switch {
		case ok:
			held = append(held, p)
		case len(held) > 0: // the wheels turn on the same way
			return held
		}
	}
	return held
}

// row works one figure out for all entries.
func (c *Comparison) row(f *Figure) Row {
	row := Row{Figure: f, Values: make([][2]float64, len(c.Entries)), Best: make([][2]bool, len(c.Entries))}
	for i := range c.Entries {
		row.sound = append(row.sound, c.Entries[i].Sound())
		row.Fails = append(row.Fails, f.fails(&c.Entries[i]))
		row.Values[i] = [2]float64{math.NaN(), math.NaN()}
		if c.Entries[i].Result != nil {
			row.Values[i] = f.of(&c.Entries[i], c.Path)
		}
	}
	for side := range 2 {
		column := make([]float64, len(row.Values))
		for i, v := range row.Values {
			column[i] = v[side]
		}
		for i, best := range row.best(column) {
			row.Best[i][side] = best
		}
	}
	return row
}

// best reports which values, by entry, are best: of sound entries those that no other is better than by more than Slack. None is
// where all are within that, or where neither more nor less is better.
func (r *Row) best(values []float64) []bool {
	marks := make([]bool, len(values))
	most, least := math.Inf(-1), math.Inf(1)
	for i, v := range values {
		if m := r.Better.merit(v); r.sound[i] && !math.IsNaN(m) {
			most, least = math.Max(most, m), math.Min(least, m)
		}
	}
	if r.Better == Neither || !(most > least+r.Kind.Slack()) {
		return marks
	}
	for i, v := range values {
		marks[i] = r.sound[i] && r.Better.merit(v) > most-r.Kind.Slack()
	}
	return marks
}

// merit is a figure turned so that more is better.
func (b Better) merit(v float64) float64 {
	switch b {
	case Less:
		return -v
	case NearZero:
		return -math.Abs(v)
	}
	return v
}

// Alike reports whether both sides of the figure are the same, as printed, in each of some entries (nil: of all), so that one may be
// printed for both.
func (r *Row) Alike(entries []int) bool {
	for i, v := range r.Values {
		if (entries == nil || slices.Contains(entries, i)) && !(math.IsNaN(v[0]) && math.IsNaN(v[1]) || v[0] == v[1] || math.Abs(v[0]-v[1]) < r.Kind.Slack()/10) {
			return false
		}
	}
	return true
}

// Worse returns, by entry, the worse of both sides, and which entries are best by that: none where more than half of them are.
// Where neither more nor less is better, and where the figure has one side only, it is the first side. It is NaN where one of the
// sides is not known.
func (r *Row) Worse() (values []float64, best []bool) {
	values = make([]float64, len(r.Values))
	for i, v := range r.Values {
		values[i] = v[0]
		if r.Split != Single && r.Better != Neither && !math.IsNaN(v[0]) && !(r.Better.merit(v[0]) <= r.Better.merit(v[1])) {
			values[i] = v[1]
		}
	}
	best, count := r.best(values), 0
	for _, b := range best {
		if b {
			count++
		}
	}
	if 2*count > len(best) {
		clear(best)
	}
	return values, best
}

// Differs returns by how much an entry is more than the reference; NaN for the reference itself and where
// either is not known.
func (c *Comparison) Differs(r *Row, entry, side int) float64 {
	if c.Reference < 0 || entry == c.Reference {
		return math.NaN()
	}
	by := r.Values[entry][side] - r.Values[c.Reference][side]
	if math.IsInf(by, 0) {
		return math.NaN()
	}
	return by
}

// Find returns the row of a figure; nil where there is no such figure.
func (c *Comparison) Find(key string) *Row {
	for i := range c.Rows {
		if c.Rows[i].Key == key {
			return &c.Rows[i]
		}
	}
	return nil
}

// SlideAt returns how an entry is held in a slide of an angle on a path to a side, or in the greatest slide of
// whole degrees that it holds; ok is false where it holds none.
func (e *Entry) SlideAt(path road.Slide, d sweep.Direction, angle s1.Angle) (p sweep.SlidePose, ok bool) {
	if e.Result == nil {
		return p, false
	}
	path.Angle, path.Turn = angle, d.Sign()
	if p, ok = e.Result.Sliding(path); ok {
		return p, true
	}
	if held := e.Slides[d]; len(held) > 0 {
		return held[len(held)-1], true
	}
	return p, false
}
