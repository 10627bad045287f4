package drill

import (
	"cmp"
	"errors"
	"math"

	"github.com/golang/geo/r2"

	"locksweep/geometry/planar"
	"locksweep/geometry/region"
	"locksweep/geometry/setup"
)

// Figure is what a map shows.
type Figure int

const (
	LockFigure         Figure = iota // inner wheel at the lesser lock, degrees
	ErrorFigure                      // greatest departure from the Ackermann wanted, degrees
	RatioFigure                      // wheel per column at centre
	TransmissionFigure               // least leverage up to the lock wanted, degrees
)

func (f Figure) String() string {
	return [4]string{"lock", "error", "ratio", "transmission"}[f]
}

// of returns the figure of a place; NaN where it has none.
func (f Figure) of(j *judged) float64 {
	v := [4]float64{j.Figures.Lock().Degrees(), j.Worst.Degrees(), j.Ratio, j.Transmission.Degrees()}[f]
	if !j.possible || math.IsInf(v, 0) {
		return math.NaN()
	}
	return v
}

// Map is a figure over the metal, in the metal's plane, mm. With a hole in both arms or with two pins, places are those of the left one.
type Map struct {
	Metal     *Metal
	Figure    Figure
	Levels    []float64    // ascending, round
	Good      []int        // by band, from below the first level to above the last, how good it is: 0 is worst
	Wanted    float64      // of the ratio, what is best: that asked for, or today's
	Known     [][]r2.Point // where the figure has a value, as rings by the even-odd rule
	Above     []Contour    // by level: the area with more, rings by the even-odd rule, reaching past the metal's edge
	Lines     []Contour    // by level: the lines between, within the metal
	Forbidden [][]r2.Point // where no hole may go, as rings by the even-odd rule
	OneHole   [][]r2.Point // lines within Forbidden where one hole for both rods may go all the same
	Unfit     [][]r2.Point // where a place would be listed with an alarm, as rings by the even-odd rule, reaching past the metal's edge
	Bounds    r2.Rect      // of the metal, or of the square that stands for it
	Around    [][]r2.Point // the metal, or that square
}

// Contour is a set of lines or rings of one value.
type Contour struct {
	Value float64
	Lines [][]r2.Point
}

// mapPlaces is roughly how many places a map is made of.
const mapPlaces = 1500

// Map judges a grid of places all over the metal, allowed or not, and draws contours of a figure through it.
func (r *Result) Map(figure Figure) (*Map, error) {
	if r.On == Both {
		return nil, errors.New("a map shows one hole: search for the one on arm or on drop-arm")
	}
	m := &Map{Metal: r.Metals[0], Figure: figure, Wanted: cmp.Or(max(r.Aims.Ratio, 0), r.Current.Ratio)}
	around, err := r.search.ground(m)
	if err != nil {
		return nil, err
	}
	beyond, err := around.Minus(region.Of(circle(r2.Point{}, m.Metal.LeastLever)))
	if err != nil {
		return nil, err
	}
	f := r.search.field(m)
	m.Unfit = (&field{columns: f.columns, at: f.at, values: r.search.chart.unfit}).above(0)
	m.Levels, m.Known = levels(f, m), f.above(math.Inf(-1))
	m.Good = m.good()
	for _, level := range m.Levels {
		lines, err := within(f.lines(level), beyond)
		if err != nil {
			return nil, err
		}
		m.Above = append(m.Above, Contour{level, f.above(level)})
		m.Lines = append(m.Lines, Contour{level, lines})
	}
	return m, nil
}

// ground fills in the metal of a map, which it returns, and where in it no hole may go.
func (s *search) ground(m *Map) (around region.Region, err error) {
	if around, err = region.Union(region.Of(m.Metal.ground(setup.Left))); err != nil {
		return around, err
	}
	m.Around, m.Bounds = around.Rings(), r2.EmptyRect()
	for _, ring := range m.Around {
		m.Bounds = m.Bounds.Union(r2.RectFromPoints(ring...))
	}
	allowed, err := s.zone()
	if err != nil {
		return around, err
	}
	apart := allowed
	if strip := s.tooClose(); len(strip) > 0 {
		if apart, err = allowed.Minus(region.Of(strip)); err != nil {
			return around, err
		}
		if m.OneHole, err = within(s.middle(), allowed); err != nil {
			return around, err
		}
		m.OneHole = s.fitLines(m.OneHole)
	}
	forbidden, err := around.Minus(apart)
	m.Forbidden = forbidden.Rings()
	return around, err
}

// good grades the bands between levels, 0 the worst, so that a grade reads the same way whatever the figure: more lock and leverage are
// better, less error is, and a ratio is the better the nearer it is to what is wanted.
func (m *Map) good() []int {
	n := len(m.Levels) + 1
	good := make([]int, n)
	for i := range good {
		switch m.Figure {
		case ErrorFigure:
			good[i] = n - 1 - i
		case RatioFigure:
			for k := range good {
				if m.off(k) > m.off(i) {
					good[i]++
				}
			}
		default:
			good[i] = i
		}
	}
	return good
}

// off returns how many bands lie between a band and the ratio wanted, counting the ratio's own: 0 where that lies in the band.
func (m *Map) off(band int) (n int) {
	for i, level := range m.Levels {
		if (level <= m.Wanted) != (i < band) {
			n++
		}
	}
	return n
}

// toldApart is the least step between levels, by figure: a tenth of a degree, a hundredth of the ratio.
var toldApart = [4]float64{LockFigure: 0.1, ErrorFigure: 0.1, RatioFigure: 0.01, TransmissionFigure: 0.1}

// levels returns some eight round values, no nearer to one another than toldApart, between the least and the greatest in the metal; none where
// these are no further apart than that.
func levels(f *field, on *Map) (list []float64) {
	m, fine := on.Metal, toldApart[on.Figure]
	least, greatest := math.Inf(1), math.Inf(-1)
	for i, v := range f.values {
		if edge, _ := m.room(f.at[i]); !math.IsNaN(v) && edge >= 0 && f.at[i].Norm() >= m.LeastLever {
			least, greatest = min(least, v), max(greatest, v)
		}
	}
	span := greatest - least
	if !(span > fine) {
		return nil
	}
	ten, step := math.Pow(10, math.Floor(math.Log10(span/8))), 0.0
	for _, k := range [4]float64{1, 2, 5, 10} {
		if step = ten * k; span/step <= 9 {
			break
		}
	}
	step = max(step, fine)
	for i := math.Ceil(least / step); i*step < greatest; i++ {
		list = append(list, i*step)
	}
	return list
}

// within keeps the stretches of lines that lie in a region.
func within(lines [][]r2.Point, r region.Region) (kept [][]r2.Point, err error) {
	for _, line := range lines {
		inside, _, err := r.Split(line)
		if err != nil {
			return nil, err
		}
		kept = append(kept, inside...)
	}
	return kept, nil
}

// ground returns the outline of a metal or, where none is given, the square about today's ball of a side, in the metal's plane.
func (m *Metal) ground(ball setup.Side) []r2.Point {
	if len(m.Outline) > 0 {
		return m.Outline
	}
	square := m.free[ball].Vertices()
	return carryAll(square[:], m.Plane)
}

// zone returns where the left hole may be drilled in the plane of the first metal: so that the right one, moved as its mirror image, is well
// placed too unless it has its own place. It leaves out how near the holes of a drop arm for both rods come to one another.
func (s *search) zone() (region.Region, error) {
	all, err := region.Union(region.Of(s.r.Metals[0].ground(setup.Left)))
	for _, m := range s.r.Metals {
		for ball := range setup.Sides {
			if ball > 0 && (!m.Drop || s.base.Setup.OnePin()) || s.r.Options.Each && (m != s.r.Metals[0] || ball > 0) {
				continue
			}
			own, e := m.zone(setup.Side(ball), &s.r.Options)
			err = errors.Join(err, e)
			own, e = s.toFirst(own, m, setup.Side(ball))
			err = errors.Join(err, e)
			all, e = all.Common(own)
			err = errors.Join(err, e)
		}
	}
	return all, err
}

// zone returns where a metal allows the hole for the ball of a side, in its own plane.
func (m *Metal) zone(ball setup.Side, opt *Options) (r region.Region, err error) {
	const chord = 0.02 // mm
	if r = region.Of(m.ground(ball)); len(m.Outline) > 0 {
		r, err = r.Grown(-opt.Edge*opt.Diameter, chord)
	}
	take := func(centre r2.Point, radius float64) {
		var e error
		r, e = r.Minus(region.Of(circle(centre, radius)))
		err = errors.Join(err, e)
	}
	take(r2.Point{}, m.LeastLever)
	for _, h := range m.Holes {
		take(h.At, opt.Web*max(opt.Diameter, h.Diameter))
	}
	return r, err
}

func circle(centre r2.Point, radius float64) []r2.Point { return planar.Circle(centre, radius, 96) }

// toFirst carries a region of a metal's plane into that of the first metal: to where its left ball lies while this metal's ball of a side
// lies in the region.
func (s *search) toFirst(r region.Region, m *Metal, ball setup.Side) (region.Region, error) {
	first := s.r.Metals[0]
	home, own := first.balls(&s.start)[0], m.balls(&s.start)[ball]
	carry := func(q r2.Point) r2.Point {
		by := m.Plan(q).Sub(own)
		if m.Drop {
			by.Y *= ball.Sign()
		}
		return first.Plane(home.Add(by))
	}
	var parts []region.Region
	for _, piece := range r.Pieces() {
		whole := region.Of(carryAll(piece[0], carry))
		for _, hole := range piece[1:] {
			var err error
			if whole, err = whole.Minus(region.Of(carryAll(hole, carry))); err != nil {
				return whole, err
			}
		}
		parts = append(parts, whole)
	}
	return region.Union(parts...)
}

func carryAll(ring []r2.Point, carry func(r2.Point) r2.Point) []r2.Point {
	out := make([]r2.Point, len(ring))
	for i, p := range ring {
		out[i] = carry(p)
	}
	return out
}

// tooClose returns the strip of a drop arm in which the left hole would run into the right one, its mirror image; on the strip's middle line one
// hole for both rods is allowed all the same. It is nil where there is no such strip.
func (s *search) tooClose() []r2.Point {
	m := s.r.Metals[0]
	if !m.Drop || s.r.Options.Each || s.base.Setup.OnePin() {
		return nil
	}
	left, right := s.start.Pins[setup.Left], s.start.Pins[setup.Right]
	apart, along := s.r.Options.Web*s.r.Options.Diameter, math.Abs(left.X-right.X)
	if along >= apart {
		return nil
	}
	middle, half := (left.Y-right.Y)/2, math.Sqrt(apart*apart-along*along)/2
	low, high := left.Y-middle-half, left.Y-middle+half
	b := m.bounds(setup.Left)
	return []r2.Point{{X: b.X.Lo - 1, Y: low}, {X: b.X.Hi + 1, Y: low}, {X: b.X.Hi + 1, Y: high}, {X: b.X.Lo - 1, Y: high}}
}

// middle returns the line of a drop arm on which one hole takes both rods; none where one pin stands further down than the other, so that the
// two never meet.
func (s *search) middle() [][]r2.Point {
	left, right := s.start.Pins[setup.Left], s.start.Pins[setup.Right]
	if left.X != right.X {
		return nil
	}
	b, y := s.r.Metals[0].bounds(setup.Left), (left.Y+right.Y)/2
	return [][]r2.Point{{{X: b.X.Lo - 1, Y: y}, {X: b.X.Hi + 1, Y: y}}}
}
