package sheet

import (
	"fmt"
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"locksweep/geometry/planar"
)

// Panel is a rectangle of the sheet on which a model is drawn. Points and radii are model
// millimetres; pens, letters and gaps are paper millimetres. Shapes are clipped to Rect. A point
// that is no number is left out, as a gap.
type Panel struct {
	Rect  r2.Rect // on paper
	View  View
	sheet *Sheet
}

// At returns the paper point of a model point.
func (p *Panel) At(q r2.Point) r2.Point { return p.View.At(q) }

// all returns the paper points of model points.
func (p *Panel) all(pts []r2.Point) []r2.Point {
	out := make([]r2.Point, len(pts))
	for i, q := range pts {
		out[i] = p.View.At(q)
	}
	return out
}

// Line draws the line from a to b.
func (p *Panel) Line(pen Pen, a, b r2.Point) { p.Polyline(pen, a, b) }

// Polyline draws an open line through the points.
func (p *Panel) Polyline(pen Pen, pts ...r2.Point) { p.strokePaper(pen, p.all(pts)) }

// strokePaper draws an open line given on paper.
func (p *Panel) strokePaper(pen Pen, pts []r2.Point) {
	if !pen.draws() {
		return
	}
	for _, run := range clipPath(pts, p.Rect) {
		run = planar.Thin(run, straying)
		p.sheet.path(pathData(run, false), run, painted(pen, NoFill))
	}
}

// Polygon draws and fills one closed outline.
func (p *Panel) Polygon(pen Pen, fill Fill, pts ...r2.Point) { p.Area(pen, fill, pts) }

// Area draws and fills a region bounded by closed rings, by the even-odd rule: a ring inside
// another is a hole.
func (p *Panel) Area(pen Pen, fill Fill, rings ...[]r2.Point) {
	var whole, clipped [][]r2.Point
	inside := true
	for _, ring := range rings {
		paper := p.all(ring)
		if len(paper) == 0 || !finite(paper...) {
			continue
		}
		paper = planar.ThinRing(paper, straying)
		whole = append(whole, paper)
		inside = inside && p.Rect.Contains(r2.RectFromPoints(paper...))
		if c := clipRing(paper, p.Rect); len(c) > 2 {
			clipped = append(clipped, c)
		}
	}
	if inside && fill.Hatch == (Hatch{}) {
		p.sheet.rings(whole, painted(pen, fill), pen.draws())
		return
	}
	p.fill(fill, clipped)
	if !pen.draws() {
		return
	}
	if inside {
		p.sheet.rings(whole, painted(pen, NoFill), true)
		return
	}
	for _, ring := range whole {
		p.strokePaper(pen, roundRing(ring))
	}
}

// roundRing returns a ring as a line that ends where it begins.
func roundRing(ring []r2.Point) []r2.Point { return append(ring[:len(ring):len(ring)], ring[0]) }

// rings writes closed outlines, on paper, as one path; line says that their edges are drawn, and labels keep off them.
func (s *Sheet) rings(rings [][]r2.Point, look paint, line bool) {
	if len(rings) == 0 || look == "" {
		return
	}
	var d []byte
	for _, ring := range rings {
		d = appendPath(d, ring, true)
		if line {
			s.addInk(roundRing(ring))
		}
	}
	s.path(string(d), nil, look)
}

// fill tints and hatches rings given on paper.
func (p *Panel) fill(fill Fill, rings [][]r2.Point) {
	if len(rings) == 0 {
		return
	}
	if fill.Tinted {
		p.sheet.rings(rings, painted(NoPen, fill), false)
	}
	if h := fill.Hatch; h.Spacing >= 0.3 {
		lines := hatchLines(rings, h.Angle, h.Spacing)
		if h.Cross {
			lines = append(lines, hatchLines(rings, h.Angle+90, h.Spacing)...)
		}
		var d []byte
		for _, l := range lines {
			d = appendPath(d, l[:], false)
			p.sheet.ink.add(segment{l[0], l[1]})
		}
		p.sheet.path(string(d), nil, painted(Pen{Width: 0.18}, NoFill))
	}
}

// Circle draws and fills a circle.
func (p *Panel) Circle(pen Pen, fill Fill, centre r2.Point, radius float64) {
	c, r := p.At(centre), p.View.Length(radius)
	if !finite(c, r2.Point{X: r}) || !(r > 0) {
		return
	}
	ring := arcPoints(c, r, 0, 2*math.Pi, onPaper)
	plain := fill.Hatch.Spacing == 0 && p.Rect.Contains(r2.RectFromPoints(ring...))
	if !plain {
		p.paper().Area(pen, fill, ring[:len(ring)-1])
		return
	}
	p.sheet.shapes.Circle(written(c.X), written(c.Y), written(r), p.sheet.class(painted(pen, fill)))
	p.sheet.addInk(ring)
}

// Arc draws the arc about centre from one angle to another, both from model x towards model y; it
// runs backwards if to is the smaller.
func (p *Panel) Arc(pen Pen, centre r2.Point, radius float64, from, to s1.Angle) {
	c, r := p.At(centre), p.View.Length(radius)
	if !finite(c, r2.Point{X: r, Y: float64(from)}, r2.Point{X: float64(to)}) || !(r > 0) {
		return
	}
	pts := arcPoints(c, r, from, to, p.View.Axes)
	span := math.Abs(float64(to - from))
	if !p.Rect.Contains(r2.RectFromPoints(pts...)) || span >= 2*math.Pi-1e-6 {
		p.strokePaper(pen, pts)
		return
	}
	// The axes may mirror the model, so the turn on paper is read off the points.
	turn := pts[1].Sub(c).Cross(pts[0].Sub(c)) < 0
	a, b := pts[0], pts[len(pts)-1]
	d := appendPair([]byte("M"), hundredths(a.X), hundredths(a.Y))
	d = fmt.Appendf(d, "a%s %s 0 %d %d ", number(r), number(r), bit(span > math.Pi), bit(turn))
	d = appendPair(d, hundredths(b.X)-hundredths(a.X), hundredths(b.Y)-hundredths(a.Y))
	p.sheet.path(string(d), planar.Thin(pts, straying), painted(pen, NoFill))
}

// Cross draws an upright cross, its arms of the given length on paper.
func (p *Panel) Cross(pen Pen, at r2.Point, arm float64) {
	c := p.At(at)
	p.strokePaper(pen, []r2.Point{{X: c.X - arm, Y: c.Y}, {X: c.X + arm, Y: c.Y}})
	p.strokePaper(pen, []r2.Point{{X: c.X, Y: c.Y - arm}, {X: c.X, Y: c.Y + arm}})
}

// Dot draws a filled dot of the given radius on paper.
func (p *Panel) Dot(c Colour, at r2.Point, radius float64) {
	if q := p.At(at); finite(q) && p.Rect.ContainsPoint(q) {
		p.paper().Circle(NoPen, Tinted(c.forLine()), q, radius)
	}
}

// Arrow draws a line from a to b with an arrowhead at b.
func (p *Panel) Arrow(pen Pen, a, b r2.Point) {
	qa, qb := p.At(a), p.At(b)
	if !finite(qa, qb) || qa == qb {
		return
	}
	p.strokePaper(pen, []r2.Point{qa, qb})
	p.paper().head(pen.Colour, qb, qb.Sub(qa).Normalize())
}

// Span draws a thin line from a to b, with arrowheads at both ends if it is at least so long on paper, mm.
func (p *Panel) Span(a, b r2.Point, least float64) {
	if p.View.Length(b.Sub(a).Norm()) < least {
		p.Line(Thin, a, b)
		return
	}
	p.Arrow(Thin, a, b)
	p.Arrow(Thin, b, a)
}

// head draws a filled arrowhead with its tip at a paper point, pointing along the unit vector u.
func (p *Panel) head(c Colour, tip, u r2.Point) {
	back := tip.Sub(u.Mul(arrowLength))
	side := u.Ortho().Mul(arrowHalf)
	p.Polygon(NoPen, Tinted(c.forLine()), tip, back.Add(side), back.Sub(side))
}

// paper is the same panel with paper as its model.
func (p *Panel) paper() *Panel {
	return &Panel{Rect: p.Rect, View: paperView, sheet: p.sheet}
}

// path writes one path; ink is the line that it leaves on paper, which labels keep off.
func (s *Sheet) path(d string, ink []r2.Point, look paint) {
	if d == "" {
		return
	}
	s.shapes.Path(d, s.class(look))
	s.addInk(ink)
}

func (s *Sheet) addInk(pts []r2.Point) {
	for i := 1; i < len(pts); i++ {
		s.ink.add(segment{pts[i-1], pts[i]})
	}
}

func bit(b bool) int {
	if b {
		return 1
	}
	return 0
}

// View maps model millimetres to paper millimetres.
type View struct {
	Scale  Scale
	Origin r2.Point // where the model's origin lies on paper
	Axes   Axes
}

// Axes says how the model lies on the sheet: the directions of model x and y on paper.
type Axes struct{ X, Y r2.Point }

var (
	// FromAbove is a vehicle seen from above: x (forward) up the sheet, y (left) to its left.
	FromAbove = Axes{X: r2.Point{Y: -1}, Y: r2.Point{X: -1}}
	// fromAboveRight is what stands in corner axes on the right side, seen from above: forward up the sheet, outboard to its right.
	fromAboveRight = Axes{X: r2.Point{Y: -1}, Y: r2.Point{X: 1}}
	// DownColumn is a drop arm as the driver sees it, looking down the column: down the sheet, left to its left.
	DownColumn = Axes{X: r2.Point{Y: 1}, Y: r2.Point{X: -1}}
	// Upright is the way of a graph: x to the right, y up the sheet.
	Upright = Axes{X: r2.Point{X: 1}, Y: r2.Point{Y: -1}}
	// onPaper is paper itself, and paperView shows what is given in the millimetres of paper.
	onPaper   = Axes{X: r2.Point{X: 1}, Y: r2.Point{Y: 1}}
	paperView = View{Scale: 1, Axes: onPaper}
)

// FromAboveOn returns how what stands in corner axes on the left side, or on the right one, lies on the sheet as seen from above.
func FromAboveOn(right bool) Axes {
	if right {
		return fromAboveRight
	}
	return FromAbove
}

// Turned lays the model a quarter turn clockwise.
func (a Axes) Turned() Axes { return Axes{a.X.Ortho(), a.Y.Ortho()} }

// Size returns the width and the height that a rectangle of the model has on paper at 1:1.
func (a Axes) Size(model r2.Rect) r2.Point {
	size := model.Size()
	if a.X.X == 0 {
		return r2.Point{X: size.Y, Y: size.X}
	}
	return size
}

// At returns the paper point of a model point.
func (v View) At(p r2.Point) r2.Point {
	k := float64(v.Scale)
	return v.Origin.Add(v.Axes.X.Mul(k * p.X)).Add(v.Axes.Y.Mul(k * p.Y))
}

// Length returns the paper length of a model length.
func (v View) Length(l float64) float64 { return float64(v.Scale) * l }

// Centred returns the view in which the model rectangle stands in the middle of room at the scale s.
func Centred(room, model r2.Rect, axes Axes, s Scale) View {
	v := View{Scale: s, Axes: axes}
	v.Origin = room.Center().Sub(v.At(model.Center()))
	return v
}
