package template

import (
	"math"
	"strings"

	"github.com/golang/geo/r2"

	"locksweep/geometry/drill"
	"locksweep/geometry/setup"
	"locksweep/render/sheet"
	"locksweep/render/wording"
)

// piece is one arm on the sheet.
type piece struct {
	metal  *drill.Metal
	holes  []drill.Drilled
	turned bool    // lies on its side: forward, or down, is to the right
	ends   float64 // paper kept above it and below it, mm
	head   float64 // and above that for its name
	room   r2.Rect // on paper, its own
	view   *sheet.Panel
}

// axes lays a piece on the sheet: a steering arm as seen from above, forward up; a drop arm as the driver sees
// it, down being down; either turned to its side.
func (p *piece) axes() sheet.Axes {
	a := sheet.FromAboveOn(p.metal.Side == setup.Right)
	if p.metal.Drop {
		a = sheet.DownColumn
	}
	switch {
	case p.turned && p.metal.Drop: // down to the right
		return a.Turned().Turned().Turned()
	case p.turned:
		return a.Turned()
	}
	return a
}

// bounds is what of a piece must be on the sheet, model mm.
func (p *piece) bounds() r2.Rect {
	b := r2.RectFromPoints(r2.Point{})
	for _, q := range p.metal.Outline {
		b = b.AddPoint(q)
	}
	for _, h := range p.metal.Holes {
		b = b.AddRect(r2.RectFromCenterSize(h.At, r2.Point{X: h.Diameter, Y: h.Diameter}))
	}
	for _, h := range p.holes {
		b = b.AddRect(r2.RectFromCenterSize(h.At, r2.Point{X: 16, Y: 16}))
	}
	if len(p.metal.Outline) == 0 {
		b = b.ExpandedByMargin(card)
	}
	return b
}

// cutLine is what the paper is cut along: the metal's outline, or the edge of a card.
func (p *piece) cutLine() []r2.Point {
	if len(p.metal.Outline) > 0 {
		return p.metal.Outline
	}
	return sheet.Corners(p.bounds())
}

// size is the paper that a piece takes.
func (p *piece) size() r2.Point {
	s, aside := p.axes().Size(p.bounds()), around
	if len(p.metal.Outline) == 0 {
		aside = beside
	}
	return r2.Point{X: s.X + 2*aside, Y: s.Y + 2*p.ends + p.head}
}

// outlines draws what of an arm is line: its outline, the axis, the old holes and the new.
func (d *drilling) outlines(p *piece) {
	v := p.view
	v.Polygon(sheet.Visible, sheet.NoFill, p.cutLine()...)
	v.Cross(sheet.Thin, r2.Point{}, axisArm)
	if end, text := p.datum(); text != "" {
		v.Line(sheet.Centre, r2.Point{}, end)
	}
	for _, h := range p.metal.Holes {
		p.keepClear(d.sheet, h.At, h.Diameter)
		v.Circle(sheet.Visible, sheet.NoFill, h.At, h.Diameter/2)
		v.Cross(sheet.Thin, h.At, h.Diameter/2+3)
	}
	for i := range p.holes {
		d.punch(p, &p.holes[i])
	}
}

// heading names an arm above it, and says how it is seen.
func (d *drilling) heading(p *piece) {
	v := p.view
	seen := "this face up: seen from above, forward is " + [2]string{"up", "to the right"}[bit(p.turned)]
	if p.metal.Drop {
		seen = "this face to the driver, down is " + [2]string{"down", "to the right"}[bit(p.turned)]
	}
	top := r2.Point{X: p.room.Center().X, Y: p.room.Y.Lo + 1}
	d.sheet.Text(top, sheet.S, sheet.Style{Height: sheet.Medium, Max: p.room.Size().X}, strings.ToUpper(p.metal.Name))
	for i, line := range append([]string{seen}, hung(&d.r.Setup.Rehung, p.metal.Drop, p.metal.Side)...) {
		d.sheet.Text(r2.Point{X: top.X, Y: top.Y + 6 + 3.6*float64(i)}, sheet.S, sheet.Style{Height: sheet.Fine, Max: v.Rect.Size().X}, line)
	}
}

// holes dimensions the new holes of an arm and says of each what is drilled.
func (d *drilling) holes(p *piece) {
	for i := range p.holes {
		d.dimensions(p, &p.holes[i])
	}
	for i := range p.holes {
		h := &p.holes[i]
		if p.metal.Drop && h.Rod != "both" {
			p.view.Inside(p.cutLine(), h.At, letters[2:], h.Rod+" rod", h.Rod+" rod") // the label says it too
		}
		d.holeLabel(p, h)
	}
	d.sheet.Settle() // what is drilled takes its place first: the rest may be small
}

// rest writes what else there is to say of an arm.
func (d *drilling) rest(p *piece) {
	d.identity(p)
	axis := "kingpin axis"
	if p.metal.Drop {
		axis = "column axis"
	}
	p.small(sheet.Label{Clear: 1, Lines: []string{axis}})
	if at, text := p.datum(); text != "" {
		p.small(sheet.Label{At: at, Lines: []string{text}})
	}
	for _, h := range p.metal.Holes {
		p.small(sheet.Label{At: h.At, Clear: h.Diameter / 2, Prefer: p.outwards(h.At), Lines: []string{setup.Printable(h.Name), "Ø " + wording.DrillFigure(d.r.Setup.Unit, h.Diameter)}})
	}
	p.inscribed().cutHere()
}

// inscribed is the line that a piece is cut out along, to be written inside.
func (p *piece) inscribed() inscribed { return inscribed{p.view, p.cutLine(), p.room} }

// small registers a label in fine letters with an arrow, on the paper that the piece has.
func (p *piece) small(l sheet.Label) {
	l.End, l.Style.Height, l.Within = sheet.ArrowEnd, sheet.Fine, p.room
	p.view.Label(l)
}

// datum returns the end of the line from the axis by which a card is laid, where the metal has no outline, and what that line is
// called: along the stub axle with the wheels straight ahead, or straight down. Metal with an outline has none.
func (p *piece) datum() (end r2.Point, text string) {
	switch b := p.bounds(); {
	case len(p.metal.Outline) > 0:
		return end, ""
	case p.metal.Drop:
		return r2.Point{X: b.X.Hi}, "straight down, column centred"
	default:
		return r2.Point{Y: b.Y.Hi}, "along the stub axle"
	}
}

// identity writes inside the cut line what the template has to keep when it is cut out and glued on.
func (d *drilling) identity(p *piece) {
	said := identity{name: d.r.Setup.Name, with: wording.With(d.r.Setup), source: d.source, face: "THIS FACE UP", front: "FRONT", tyre: "TYRE"}
	if p.metal.Drop {
		said.which, said.face, said.front, said.tyre = "DROP ARM", "THIS FACE TO DRIVER", "DOWN", "LEFT"
	} else {
		said.which = [2]string{"LEFT", "RIGHT"}[p.metal.Side]
	}
	p.inscribed().identity(said)
	size := "Ø " + wording.DrillFigure(d.r.Setup.Unit, d.r.Options.Diameter)
	for i := range p.holes {
		p.inscribed().text(p.holes[i].At, letters, size, size)
	}
}

// keepClear keeps texts off a hole's circle.
func (p *piece) keepClear(s *sheet.Sheet, at r2.Point, diameter float64) {
	s.Reserve(r2.RectFromCenterSize(p.view.At(at), r2.Point{X: 0.9 * diameter, Y: 0.9 * diameter}))
}

// outwards lists the sides of a hole that face away from all others, best first, so that each label stands
// beside its own hole.
func (p *piece) outwards(at r2.Point) []sheet.Dir {
	here, away := p.view.At(at), r2.Point{}
	off := func(other r2.Point) {
		if by := here.Sub(p.view.At(other)); by.Norm() > 1e-6 {
			away = away.Add(by.Mul(1 / by.Dot(by)))
		}
	}
	for _, h := range p.metal.Holes {
		off(h.At)
	}
	for _, h := range p.holes {
		off(h.At)
	}
	if away.Norm() < 1e-9 {
		return nil
	}
	return sheet.Towards(away, 2)
}

// punch draws the cross of a new hole, and the lines that its distances are square to.
func (d *drilling) punch(p *piece, h *drill.Drilled) {
	p.keepClear(d.sheet, h.At, d.r.Options.Diameter)
	p.view.Circle(sheet.Visible, sheet.NoFill, h.At, d.r.Options.Diameter/2)
	p.view.Cross(sheet.Visible, h.At, punch)
	for _, m := range h.Marks {
		if m.Square {
			p.view.Line(sheet.Centre, m.Line[0], m.Line[1])
		}
	}
}

// dimensions draws the distances that mark a new hole out.
func (d *drilling) dimensions(p *piece, h *drill.Drilled) {
	for i, m := range h.Marks {
		off := [2]float64{9, -9}[i%2]
		if m.Square {
			off = 0
		}
		if m.New && h.Rod == "right" {
			continue // the left one has it
		}
		p.view.Dim(sheet.Aligned, m.At, h.At, off, wording.Figure(d.r.Setup.Unit, m.Length))
	}
}

// holeLabel says what is drilled, and how far it is from what is there.
func (d *drilling) holeLabel(p *piece, h *drill.Drilled) {
	u := d.r.Setup.Unit
	lines := d.sizes()
	lines[0] += ","
	if p.metal.Drop && h.Rod != "both" {
		lines = append(lines, "for the "+h.Rod+" rod")
	}
	axis := p.metal.Drop && len(h.Marks) == 2 // two distances fix the hole, and a pair of holes has little room
	for _, m := range h.Marks {
		axis = axis || strings.HasSuffix(m.From, " axis")
		lines = append(lines, wording.Figure(u, m.Length)+" from "+setup.Printable(m.From))
	}
	for _, m := range h.Old {
		lines = append(lines, wording.Figure(u, m.Length)+" from "+setup.Printable(m.From))
	}
	if !axis {
		lines = append(lines, wording.Figure(u, h.Lever)+" from "+map[bool]string{true: "column", false: "kingpin"}[p.metal.Drop]+" centre")
	}
	if !math.IsInf(h.Edge, 0) {
		lines = append(lines, wording.Figure(u, h.Edge)+" hole's rim to nearest edge")
	}
	p.view.Label(sheet.Label{At: h.At, Clear: d.r.Options.Diameter / 2, End: sheet.ArrowEnd, Prefer: p.outwards(h.At), Within: p.room, Lines: lines})
}

// tiles draws the one arm of a template over several sheets.
func (d *drilling) tiles(opt Options) (sheets []*sheet.Sheet, err error) {
	p, u := &d.pieces[0], d.r.Setup.Unit
	p.head, p.ends = 0, ends
	opt.whole = true
	paper := fitting(u, func(z sheet.Size) bool {
		other := opt
		other.Paper = z
		_, err := drillWays(d.r, d.number-1, other)
		return err == nil
	})
	name, said := strings.ToUpper(p.metal.Name), onePiece(paper)
	for _, line := range hung(&d.r.Setup.Rehung, p.metal.Drop, p.metal.Side) {
		said += " The " + p.metal.Name + " is " + line + "."
	}
	need := func(turned bool) r2.Point {
		p.turned = turned
		return p.size()
	}
	open := func(head, more string) (*sheet.Sheet, r2.Rect) { return d.open(opt, head, more+said) }
	sheets, turned := inTiles(name, need, open, func(whole *sheet.Sheet, turned bool) {
		d.sheet, p.turned = whole, turned
		d.lay(whole.Area(), false)
		d.draw()
	})
	if sheets == nil {
		return nil, &largeError{u, "the template of the " + p.metal.Name, opt.Paper, need(turned), paper}
	}
	return sheets, nil
}
