package chart

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/golang/geo/r2"
	"locksweep/render/sheet"
)

// scale is an axis with its ticks: from lo to hi in whole steps.
type scale struct {
	lo, hi, step float64
}

// holds reports whether a value lies on the axis, but for rounding.
func (s scale) holds(v float64) bool {
	slack := 1e-9 * (s.hi - s.lo)
	return v >= s.lo-slack && v <= s.hi+slack
}

// share is how far along the axis v lies, 0 to 1; what lies past an end by rounding alone lies at it.
func (s scale) share(v float64) float64 {
	share := (v - s.lo) / (s.hi - s.lo)
	if end := math.Round(share); (end == 0 || end == 1) && math.Abs(share-end) < 1e-5 {
		return end
	}
	return share
}

// ticks returns the whole steps within the axis.
func (s scale) ticks() (list []float64) {
	for k := math.Ceil(s.lo/s.step - 1e-6); k*s.step <= s.hi+1e-6*s.step; k++ {
		list = append(list, k*s.step)
	}
	return list
}

// widest is the width of the widest figure at the ticks, mm of paper.
func (s scale) widest() (most float64) {
	for _, v := range s.ticks() {
		most = max(most, sheet.TextWidth(s.label(v), sheet.Small))
	}
	return most
}

// label writes a tick with as many decimals as the step needs and a real minus sign.
func (s scale) label(v float64) string {
	decimals := int(max(0, math.Ceil(-math.Log10(s.step)-1e-9)))
	text := sheet.Decimal(v, decimals)
	if decimals > 6 || math.Abs(v) >= 1e6 {
		text = strconv.FormatFloat(v, 'g', 8, 64)
	}
	if strings.Trim(text, "-0.") == "" {
		return "0"
	}
	return strings.Replace(text, "-", "−", 1)
}

// niceStep is the smallest of 1, 2 and 5 times a power of ten that is at least least.
func niceStep(least float64) float64 {
	ten := math.Pow(10, math.Floor(math.Log10(least)))
	for _, k := range []float64{1, 2, 5} {
		if step := k * ten; step >= least*(1-1e-9) {
			return step
		}
	}
	return 10 * ten
}

// scaleOf fits an axis to the values, with at most parts steps. A rounded one ends on whole steps,
// unless its range was given.
func scaleOf(a Axis, values []float64, parts float64, rounded bool) scale {
	lo, hi := a.Min, a.Max
	fixed := lo < hi && hi-lo < 1e13
	if !fixed {
		lo, hi = span(values)
	}
	parts = max(1, parts)
	s := scale{lo: lo, hi: hi, step: niceStep((hi - lo) / parts)}
	if rounded && !fixed {
		s.lo = math.Floor(lo/s.step+1e-6) * s.step
		s.hi = math.Ceil(hi/s.step-1e-6) * s.step
	}
	return s
}

// Span returns the least and the greatest of those values that are numbers and finite; +∞ and -∞ where none is.
func Span(values []float64) (least, greatest float64) {
	least, greatest = math.Inf(1), math.Inf(-1)
	for _, v := range values {
		if !math.IsNaN(v) && !math.IsInf(v, 0) {
			least, greatest = min(least, v), max(greatest, v)
		}
	}
	return least, greatest
}

// span is the range of the values, never empty.
func span(values []float64) (lo, hi float64) {
	lo, hi = Span(values)
	if lo > hi {
		return 0, 1
	}
	if room := 1e-6 * max(1e-3, math.Abs(lo), math.Abs(hi)); hi-lo < room {
		half := max(0.5, math.Abs(lo)*0.1)
		return lo - half, hi + half
	}
	return lo, hi
}

// layout is where everything stands on paper.
type layout struct {
	rect, plot r2.Rect
	x, y       scale
	pens       []sheet.Pen
}

// Distances on paper, mm.
const (
	tickText   = 1.6  // from the y axis to its figures
	tickBelow  = 2.4  // from the x axis to its figures
	titleRow   = 6.5  // of the title
	labelRow   = 6.2  // of an axis label
	figureRow  = 5.4  // of the figures below the x axis
	endGap     = 2.5  // from the plot to the names of curves
	xSpacing   = 16.0 // least distance of ticks along x
	ySpacing   = 9.0  // and along y
	lastTick   = 5.0  // beside the plot for half of the x axis' last figure
	mostNaming = 0.34 // share of the width that names may take
)

func (c Chart) layout(rect r2.Rect) *layout {
	l := &layout{rect: rect, plot: rect, pens: c.pens()}
	if c.Title != "" {
		l.plot.Y.Lo += titleRow
	}
	l.plot.Y.Lo += labelRow
	l.plot.Y.Hi -= figureRow + labelRow
	xs, ys := c.values()
	l.y = scaleOf(c.Y, ys, l.plot.Size().Y/ySpacing, true)
	l.plot.X.Lo += l.y.widest() + tickText + 0.5
	names := 0.0
	for _, curve := range c.Curves {
		if curve.Name != "" {
			names = max(names, endGap+4+sheet.TextWidth(curve.Name, sheet.Small))
		}
	}
	l.plot.X.Hi -= min(max(names, lastTick), mostNaming*rect.Size().X)
	l.x = scaleOf(c.X, xs, l.plot.Size().X/xSpacing, false)
	for l.crowded() {
		l.x.step = niceStep(1.01 * l.x.step)
	}
	for finer := *l; len(finer.x.ticks()) < 2; *l = finer {
		if finer.x.step = niceStep(0.39 * finer.x.step); finer.crowded() { // the next of 1, 2 and 5 down
			break
		}
	}
	return l
}

// crowded reports whether the figures below the x axis come too near each other.
func (l *layout) crowded() bool {
	return len(l.x.ticks()) > 1 && l.x.step/(l.x.hi-l.x.lo)*l.plot.Size().X < l.x.widest()+2
}

// pens gives each curve its pen.
func (c Chart) pens() []sheet.Pen {
	pens := make([]sheet.Pen, len(c.Curves))
	next := 0
	for i, curve := range c.Curves {
		switch {
		case curve.Pen != (sheet.Pen{}):
			pens[i] = curve.Pen
		case curve.Reference:
			pens[i] = referencePen
		default:
			pens[i] = sheet.CurvePens[next%len(sheet.CurvePens)]
			next++
		}
	}
	return pens
}

// values returns all coordinates that can be drawn.
func (c Chart) values() (xs, ys []float64) {
	var lines [][]r2.Point
	for _, curve := range c.Curves {
		lines = append(lines, curve.Points)
	}
	for _, b := range c.Bands {
		lines = append(lines, b.Low, b.High)
	}
	for _, p := range slices.Concat(lines...) {
		if isNumber(p) {
			xs, ys = append(xs, p.X), append(ys, p.Y)
		}
	}
	return xs, ys
}

// at returns the paper point of a point of the chart.
func (l *layout) at(p r2.Point) r2.Point {
	return r2.Point{
		X: l.plot.X.Lo + l.x.share(p.X)*l.plot.Size().X,
		Y: l.plot.Y.Hi - l.y.share(p.Y)*l.plot.Size().Y,
	}
}

// points returns the paper points of points of the chart, no numbers where a point cannot be drawn.
func (l *layout) points(pts []r2.Point) []r2.Point {
	out := make([]r2.Point, len(pts))
	for i, p := range pts {
		out[i] = r2.Point{X: math.NaN()}
		if isNumber(p) {
			out[i] = l.at(p)
		}
	}
	return out
}

// zeroPen draws the lines on which a value is nought.
var zeroPen = sheet.Pen{Width: 0.35}

// axes draws title, grid, figures and axis labels.
func (l *layout) axes(s *sheet.Sheet, c Chart) {
	p := l.plot
	for _, v := range l.x.ticks() {
		x := l.at(r2.Point{X: v}).X
		s.Line(gridPen(v, l.x), r2.Point{X: x, Y: p.Y.Lo}, r2.Point{X: x, Y: p.Y.Hi})
		s.Text(r2.Point{X: x, Y: p.Y.Hi + tickBelow}, sheet.S, sheet.Style{}, l.x.label(v))
	}
	for _, v := range l.y.ticks() {
		y := l.at(r2.Point{Y: v}).Y
		s.Line(gridPen(v, l.y), r2.Point{X: p.X.Lo, Y: y}, r2.Point{X: p.X.Hi, Y: y})
		s.Text(r2.Point{X: p.X.Lo - tickText, Y: y}, sheet.W, sheet.Style{}, l.y.label(v))
	}
	s.Polygon(sheet.Thin, sheet.NoFill, sheet.Corners(p)...)
	width := l.rect.Size().X
	if c.Title != "" {
		s.Text(r2.Point{X: l.rect.X.Lo, Y: l.rect.Y.Lo + titleRow/2}, sheet.E, sheet.Style{Height: sheet.Medium, Max: width}, c.Title)
	}
	s.Text(r2.Point{X: l.rect.X.Lo, Y: p.Y.Lo - 2.8}, sheet.NE, sheet.Style{Max: width}, c.Y.title())
	half := min(sheet.TextWidth(c.X.title(), sheet.Small), width) / 2
	middle := min(max(p.Center().X, l.rect.X.Lo+half), l.rect.X.Hi-half)
	s.Text(r2.Point{X: middle, Y: p.Y.Hi + figureRow + labelRow/2}, sheet.Over, sheet.Style{Max: width}, c.X.title())
}

// gridPen draws the line of a tick; that of nought is the heavier.
func gridPen(v float64, along scale) sheet.Pen {
	if math.Abs(v) < 1e-9*along.step {
		return zeroPen
	}
	return sheet.Grid
}

func (a Axis) title() string {
	if a.Unit == "" {
		return a.Label
	}
	return a.Label + " (" + a.Unit + ")"
}

// Ticks returns the round values between two ends of an axis, lo less than hi, in at most so many steps, and how each is written.
func Ticks(lo, hi, parts float64) (values []float64, labels []string) {
	s := scale{lo: lo, hi: hi, step: niceStep((hi - lo) / parts)}
	for _, v := range s.ticks() {
		values, labels = append(values, v), append(labels, s.label(v))
	}
	return values, labels
}
