// Package chart draws curves over a pair of axes on a rectangle of a sheet. It lays out what it is
// given and computes nothing else. Curves are told apart by their dashes as well as their colour
// and carry their names at their ends, so that no legend is needed.
package chart

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"locksweep/render/sheet"
)

// Chart is a set of curves over common axes.
type Chart struct {
	Title  string
	X, Y   Axis
	Bands  []Band
	Curves []Curve
	Marks  []Mark
	Lines  []Line
}

// Band is what lies between two curves over the same points of the x axis, tinted, its edges drawn thin. Where a coordinate is
// no number there is a gap.
type Band struct {
	Low, High []r2.Point
	Colour    sheet.Colour
}

// Axis is what is measured along an axis. Where Min is not below Max, the range is that of the data;
// along y it is rounded outwards to whole steps.
type Axis struct {
	Label, Unit string
	Min, Max    float64
}

// Curve is a line through points in the units of the axes. A point with a coordinate that is no
// number is a gap in the curve.
type Curve struct {
	Name      string // empty: none is written
	Points    []r2.Point
	Pen       sheet.Pen // the zero Pen takes the next of sheet.CurvePens
	Reference bool      // an ideal or limit to compare with: a thin dashed line
}

// Line is a value along x that is marked from top to bottom, such as today's.
type Line struct {
	X    float64
	Text string
}

// Mark is a point of interest, ringed and labelled.
type Mark struct {
	At   r2.Point
	Text string
}

// The smallest plot that can be read, mm.
const leastPlot = 15.0

// referencePen draws what the curves are compared with.
var referencePen = sheet.Pen{Width: 0.35, Line: sheet.Dashed}

// Draw draws the chart into a paper rectangle of the sheet. It fails only if the rectangle is too
// small for the chart to be read.
func (c Chart) Draw(s *sheet.Sheet, rect r2.Rect) error {
	l := c.layout(rect)
	if size := l.plot.Size(); !(size.X >= leastPlot && size.Y >= leastPlot) {
		return fmt.Errorf("chart %q: %.0f × %.0f mm of paper is too small; it leaves %.0f × %.0f for the curves, at least %.0f × %.0f are needed",
			c.Title, rect.Size().X, rect.Size().Y, size.X, size.Y, leastPlot, leastPlot)
	}
	panel := s.NewPanel(l.plot, s.View)
	for _, b := range c.Bands {
		for _, ring := range b.rings() {
			panel.Polygon(sheet.NoPen, sheet.Tinted(b.Colour.Light()), l.points(ring)...)
		}
	}
	l.axes(s, c)
	for _, b := range c.Bands {
		for _, edge := range [2][]r2.Point{b.Low, b.High} {
			panel.Polyline(sheet.Thin.In(b.Colour), l.points(edge)...)
		}
	}
	for _, line := range c.Lines {
		l.line(s, line)
	}
	ends, some := l.curves(panel, c.Curves)
	if !some {
		s.Text(l.plot.Center(), sheet.Over, sheet.Style{Halo: true}, "no data in this range")
	}
	l.nameEnds(s, ends)
	for i := range c.Marks {
		l.mark(s, c.Marks, i)
	}
	return nil
}

// DrawAll draws charts, each into its rectangle of the sheet. The error is the first of theirs.
func DrawAll(s *sheet.Sheet, rects []r2.Rect, charts ...Chart) error {
	for i := range charts {
		if err := charts[i].Draw(s, rects[i]); err != nil {
			return err
		}
	}
	return nil
}

// curves draws curves, and returns the ends of those with a name; some tells that any lies within the axes.
func (l *layout) curves(panel *sheet.Panel, curves []Curve) (ends []end, some bool) {
	for i, curve := range curves {
		pen := l.pens[i]
		panel.Polyline(pen, l.points(curve.Points)...)
		for _, p := range lone(curve.Points) {
			panel.Dot(pen.Colour, l.at(p), 0.6)
		}
		last, ok := endOf(curve.Points, l.x, l.y)
		some = some || ok
		if ok && curve.Name != "" {
			ends = append(ends, end{name: curve.Name, at: l.at(last), pen: pen})
		}
	}
	return ends, some
}

// line draws a value along x, if it lies within the axis, with its name at its foot.
func (l *layout) line(s *sheet.Sheet, m Line) {
	if !l.x.holds(m.X) {
		return
	}
	x := l.at(r2.Point{X: m.X}).X
	s.Line(referencePen, r2.Point{X: x, Y: l.plot.Y.Lo}, r2.Point{X: x, Y: l.plot.Y.Hi})
	s.Label(sheet.Label{At: r2.Point{X: x, Y: l.plot.Y.Hi - 2.5}, Within: l.plot, Lines: []string{m.Text}, Style: sheet.Style{Height: sheet.Fine},
		Prefer: []sheet.Dir{sheet.E, sheet.W}})
}

// rings are the closed outlines of a band: one for each stretch without a gap.
func (b *Band) rings() (rings [][]r2.Point) {
	for i := 0; i < len(b.Low); {
		n := i
		for n < len(b.Low) && isNumber(b.Low[n]) && isNumber(b.High[n]) {
			n++
		}
		if n-i > 1 {
			ring := slices.Clone(b.High[i:n])
			slices.Reverse(ring)
			rings = append(rings, append(slices.Clone(b.Low[i:n]), ring...))
		}
		i = n + 1
	}
	return rings
}

// mark rings the i-th of marks and labels it, if it lies within the axes: of two one above the other, the upper is named above and the
// lower below, so that neither figure stands at the other's point.
func (l *layout) mark(s *sheet.Sheet, marks []Mark, i int) {
	m := marks[i]
	if !l.x.holds(m.At.X) || !l.y.holds(m.At.Y) {
		return
	}
	prefer := []sheet.Dir{sheet.SE, sheet.NW, sheet.NE, sheet.SW}
	for k, other := range marks {
		if k == i || math.Abs(l.at(other.At).X-l.at(m.At).X) > nameRow {
			continue
		}
		prefer = []sheet.Dir{sheet.SE, sheet.SW}
		if m.At.Y > other.At.Y {
			prefer = []sheet.Dir{sheet.NE, sheet.NW}
		}
	}
	at := l.at(m.At)
	s.Circle(sheet.Pen{Width: 0.35}, sheet.Paper, at, 1)
	s.Label(sheet.Label{At: at, Clear: 1.2, Within: l.plot, Lines: []string{m.Text}, Prefer: prefer})
}

// lone returns the points of a curve that have no neighbour to draw a line to.
func lone(pts []r2.Point) (list []r2.Point) {
	known := func(i int) bool { return i >= 0 && i < len(pts) && isNumber(pts[i]) }
	for i, p := range pts {
		if known(i) && !known(i-1) && !known(i+1) {
			list = append(list, p)
		}
	}
	return list
}

// endOf returns the end of a curve that lies further to the right, among its points within the axes; ok is false where none is.
func endOf(pts []r2.Point, x, y scale) (end r2.Point, ok bool) {
	var first r2.Point
	for _, p := range pts {
		if isNumber(p) && x.holds(p.X) && y.holds(p.Y) {
			if end = p; !ok {
				first, ok = p, true
			}
		}
	}
	if first.X > end.X {
		return first, ok
	}
	return end, ok
}

// isNumber reports whether a point can be drawn; values beyond any real measurement cannot.
func isNumber(p r2.Point) bool { return math.Abs(p.X) < 1e12 && math.Abs(p.Y) < 1e12 }

// Degrees is the point of one angle over another, in degrees.
func Degrees(x, y s1.Angle) r2.Point { return r2.Point{X: x.Degrees(), Y: y.Degrees()} }

// end is the right end of a curve with its name.
type end struct {
	name string
	at   r2.Point
	pen  sheet.Pen
}

const nameRow = 4.4 // least distance of two names, mm

// nameEnds writes the names of the curves at their ends. Ends near the right edge of the plot are
// named in a column beside it, moved apart where they are near each other, with a thin leader; a
// curve that ends earlier is named where it ends.
func (l *layout) nameEnds(s *sheet.Sheet, ends []end) {
	var beside []end
	for _, e := range ends {
		if e.at.X > l.plot.X.Hi-0.12*l.plot.Size().X && float64(len(beside)+1)*nameRow <= l.plot.Size().Y+nameRow {
			beside = append(beside, e)
			continue
		}
		s.Label(sheet.Label{At: e.at, Clear: 0.5, Within: l.plot, Lines: []string{e.name},
			Style: sheet.Style{Colour: e.pen.Colour}, Prefer: []sheet.Dir{sheet.E, sheet.NE, sheet.SE}})
	}
	slices.SortStableFunc(beside, func(a, b end) int { return cmp.Compare(a.at.Y, b.at.Y) })
	wanted := make([]float64, len(beside))
	for i, e := range beside {
		wanted[i] = e.at.Y
	}
	x := l.plot.X.Hi + endGap + 1.5
	for i, y := range apart(wanted, nameRow, l.plot.Y.Lo, l.plot.Y.Hi) {
		e := beside[i]
		text := r2.Point{X: x, Y: y}
		s.Line(sheet.Pen{Width: 0.18, Colour: e.pen.Colour}, e.at, r2.Point{X: x - 0.7, Y: y})
		s.Text(text, sheet.E, sheet.Style{Colour: e.pen.Colour, Max: l.rect.X.Hi - x}, e.name)
	}
}

// apart moves sorted positions as little as it can, in the sum of squares, so that they stand at
// least gap apart and within lo and hi, or evenly from lo if they do not fit. It pools neighbours
// that are too near into runs about their common mean (isotonic regression).
func apart(wanted []float64, gap, lo, hi float64) []float64 {
	type run struct {
		sum float64
		n   int
	}
	var runs []run
	for i, w := range wanted {
		runs = append(runs, run{w - gap*float64(i), 1})
		for k := len(runs) - 1; k > 0 && runs[k-1].sum/float64(runs[k-1].n) >= runs[k].sum/float64(runs[k].n); k-- {
			runs[k-1] = run{runs[k-1].sum + runs[k].sum, runs[k-1].n + runs[k].n}
			runs = runs[:k]
		}
	}
	top := math.Max(lo, hi-gap*float64(len(wanted)-1))
	var out []float64
	for _, r := range runs {
		base := math.Min(math.Max(r.sum/float64(r.n), lo), top)
		for range r.n {
			out = append(out, base+gap*float64(len(out)))
		}
	}
	return out
}
