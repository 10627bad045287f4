// Package template draws templates at 1:1, to be glued to the metal: where to drill. Everything stands in the
// metal's own plane, where lengths are true.
package template

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/golang/geo/r2"

	"locksweep/geometry/drill"
	"locksweep/geometry/setup"
	"locksweep/render/sheet"
	"locksweep/render/wording"
)

// Options says how to draw.
type Options struct {
	Paper   sheet.Size
	Program string
	File    string // where the first sheet goes, so that each names its fellows
	Arms    Arms   // which of them; the zero Arms is all on one sheet
}

// Arms says which arms stand on a template.
type Arms int

const (
	All Arms = iota
	Left
	Right
	Drop
)

func (a Arms) String() string { return [4]string{"all", "left", "right", "drop-arm"}[a] }

// hold tells whether an arm stands on the template.
func (a Arms) hold(m *drill.Metal) bool {
	return a == All || m.Drop && a == Drop || !m.Drop && a == [2]Arms{Left, Right}[m.Side]
}

// Drill draws the template for one of the listed places, counted from 0: on one sheet, or one arm to a sheet
// where all together do not fit. The error says that there is nothing to drill, or that the metal is larger
// than the paper.
func Drill(r *drill.Result, place int, opt Options) (sheets [][]byte, err error) {
	s, err := DrillSheet(r, place, opt)
	if err == nil {
		return closed([]*sheet.Sheet{s}, opt.File), nil
	}
	var large *largeError
	if !errors.As(err, &large) {
		return nil, err
	}
	each, err := apart(r, place, opt)
	if errors.As(err, &large) {
		return nil, fmt.Errorf("%w; %s", large, elsewhere(r, place, opt))
	}
	return closed(each, opt.File), err
}

// apart draws one arm to a sheet.
func apart(r *drill.Result, place int, opt Options) (sheets []*sheet.Sheet, err error) {
	for _, arm := range []Arms{Left, Right, Drop} {
		if opt.Arms != All && arm != opt.Arms || !drills(r, place, arm) {
			continue
		}
		one := opt
		one.Arms = arm
		s, err := DrillSheet(r, place, one)
		if err != nil {
			return nil, err
		}
		sheets = append(sheets, s)
	}
	return sheets, nil
}

// drills tells whether a place needs a hole in one of the arms.
func drills(r *drill.Result, place int, arm Arms) bool {
	return slices.ContainsFunc(r.Metals, func(m drill.Metal) bool {
		return arm.hold(&m) && len(r.Drilled(&m, &r.Best[place].Place)) > 0
	})
}

// elsewhere says on which paper a template has room.
func elsewhere(r *drill.Result, place int, opt Options) string {
	for _, paper := range []sheet.Size{sheet.A4, sheet.A4.Landscape(), sheet.Letter, sheet.Letter.Landscape()} {
		other := opt
		if other.Paper = paper; paper == opt.Paper {
			continue
		}
		if _, err := apart(r, place, other); err == nil {
			return "it fits on --paper " + strings.ReplaceAll(strings.ToLower(paper.Name), " ", "-")
		}
	}
	return "no paper that can be asked for is large enough: mark it out by the figures in the table"
}

// largeError says that an arm is larger than the paper.
type largeError struct {
	arms       string
	paper      sheet.Size
	size, room r2.Point
}

func (e *largeError) Error() string {
	return fmt.Sprintf("at 1:1 the template of the %s takes %.0f by %.0f mm and %s has room for %.0f by %.0f",
		e.arms, e.size.X, e.size.Y, e.paper.Name, e.room.X, e.room.Y)
}

// DrillSheet is Drill before the sheet is closed.
func DrillSheet(r *drill.Result, place int, opt Options) (*sheet.Sheet, error) {
	s, _, err := drillSheet(r, place, opt)
	return s, err
}

func drillSheet(r *drill.Result, place int, opt Options) (*sheet.Sheet, *drilling, error) {
	if place < 0 || place >= len(r.Best) {
		return nil, nil, fmt.Errorf("there is no place %d; %d are listed", place+1, len(r.Best))
	}
	d := &drilling{r: r, p: &r.Best[place].Place}
	for i := range r.Metals {
		m := &r.Metals[i]
		if !opt.Arms.hold(m) {
			continue
		}
		if holes := r.Drilled(m, d.p); len(holes) > 0 {
			d.pieces = append(d.pieces, piece{metal: m, holes: holes})
		}
	}
	if len(d.pieces) == 0 {
		if r.Narrow != nil {
			return nil, nil, errors.New("no template, since nothing is to be drilled: " + wording.NoRoom(r.Setup.Unit, r.Narrow))
		}
		return nil, nil, fmt.Errorf("no template: nothing is to be drilled for place %d in what was asked for", place+1)
	}
	what := fmt.Sprintf("Drill template 1:1, place %d", place+1)
	d.sheet = sheet.New(opt.Paper, sheet.Title{
		Title: what, Subtitle: wording.Title(r.Setup), Note: wording.Caution, Program: opt.Program,
		Alarms: wording.Alarmed(r.Today), Desc: what + " for " + r.Setup.Name + ". " + d.words(),
	})
	d.sheet.Inches = r.Setup.Unit == setup.Inch
	d.sheet.Scale = 1
	if err := d.place(opt.Paper); err != nil {
		return nil, nil, err
	}
	for i := range d.pieces {
		d.draw(&d.pieces[i])
	}
	return d.sheet, d, nil
}

type drilling struct {
	r      *drill.Result
	p      *drill.Place
	pieces []piece
	sheet  *sheet.Sheet
}

// piece is one arm on the sheet.
type piece struct {
	metal *drill.Metal
	holes []drill.Drilled
	view  *sheet.Panel
}

const (
	barDepth = 12.0 // paper that the check bars take along two sides
	around   = 15.0 // kept on both sides of an arm for dimensions, mm
	over     = 11.0 // and above and below it
	head     = 14.0 // above that for its name
	edge     = 3.0  // kept off the frame
	cautions = 2.0  // height of their letters
)

// axes lays a piece on the sheet: a steering arm as seen from above, forward up; a drop arm as the driver sees
// it, down being down.
func axes(m *drill.Metal) sheet.Axes {
	switch {
	case m.Drop:
		return sheet.Axes{X: r2.Point{Y: 1}, Y: r2.Point{X: -1}}
	case m.Side == setup.Right:
		return sheet.Axes{X: r2.Point{Y: -1}, Y: r2.Point{X: 1}}
	}
	return sheet.FromAbove
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
	return b
}

// place writes the words and bars and gives each piece its part of the sheet, side by side.
func (d *drilling) place(paper sheet.Size) error {
	area := d.sheet.Area().ExpandedByMargin(-edge)
	d.sheet.CheckBars(r2.Point{X: area.X.Lo, Y: area.Y.Hi})
	at := r2.Point{X: area.X.Lo, Y: area.Y.Lo}
	width := area.Size().X
	at.Y = d.sheet.Paragraph(at, width, sheet.Style{Height: sheet.Medium}, d.words()).Y.Hi + 1
	for i, text := range d.steps() {
		style := sheet.Style{}
		if i > 0 {
			style.Height = cautions
		}
		at.Y = d.sheet.Paragraph(at, width, style, text).Y.Hi + 0.5
	}
	room := r2.Rect{X: area.X, Y: area.Y}
	room.X.Lo += barDepth
	room.Y.Lo, room.Y.Hi = at.Y+1, area.Y.Hi-barDepth
	widest, highest, names := 0.0, 0.0, []string{}
	for i := range d.pieces {
		size := d.pieces[i].size()
		widest, highest = widest+size.X, max(highest, size.Y)
		names = append(names, d.pieces[i].metal.Name)
	}
	if widest > room.Size().X || highest > room.Size().Y {
		return &largeError{strings.Join(names, " and the "), paper, r2.Point{X: widest, Y: highest}, room.Size()}
	}
	spare := (room.Size().X - widest) / float64(len(d.pieces))
	for i := range d.pieces {
		p := &d.pieces[i]
		size := p.size()
		part := sheet.Rect(room.X.Lo, room.Y.Lo, size.X+spare, room.Size().Y)
		room.X.Lo += size.X + spare
		below := part
		below.Y.Lo += head
		p.view = d.sheet.NewPanel(part, sheet.Centred(below, p.bounds(), axes(p.metal), 1))
	}
	return nil
}

// size is the paper that a piece takes.
func (p *piece) size() r2.Point {
	s := p.bounds().Size()
	return r2.Point{X: s.Y + 2*around, Y: s.X + over + head}
}

// words says what is to be drilled.
func (d *drilling) words() string {
	return fmt.Sprintf("Drill Ø %s at the heavy crosses. Print at 100 %%, never “fit to page”, and measure both bars, both ways, before you drill.",
		wording.Length(d.r.Setup.Unit, d.r.Options.Diameter))
}

// steps says how, and what to heed.
func (d *drilling) steps() []string {
	lay := "Cut out along the outline, lay it on the metal this face up, and line up outline and old holes: all must fit at once, or something is measured wrong. Then check the punch mark with callipers against the distances given."
	for i := range d.pieces {
		if len(d.pieces[i].metal.Outline) == 0 {
			lay = "Lay it on the metal this face up and line up the axis and the old holes. Then check the punch mark with callipers against the distances given."
			break
		}
	}
	// The cautions run on, one after the other: a line each would cost the metal its room on the paper.
	return []string{lay, strings.Join(wording.DrillCautions(d.r), "  •  ")}
}

// draw draws one arm.
func (d *drilling) draw(p *piece) {
	v := p.view
	name := map[bool]string{true: "DROP ARM", false: [2]string{"LEFT STEERING ARM", "RIGHT STEERING ARM"}[p.metal.Side]}[p.metal.Drop]
	seen := "this face up: seen from above, forward is up"
	if p.metal.Drop {
		seen = "this face to the driver, down is down"
	}
	top := r2.Point{X: v.Rect.Center().X, Y: v.Rect.Y.Lo + 1}
	d.sheet.Text(top, sheet.S, sheet.Style{Height: sheet.Medium, Max: v.Rect.Size().X}, name)
	for i, line := range append([]string{seen}, hung(&d.r.Setup.Rehung, p.metal.Drop, p.metal.Side)...) {
		d.sheet.Text(r2.Point{X: top.X, Y: top.Y + 6 + 3.6*float64(i)}, sheet.S, sheet.Style{Height: sheet.Fine, Max: v.Rect.Size().X}, line)
	}
	v.Polygon(sheet.Visible, sheet.NoFill, p.metal.Outline...)
	v.Cross(sheet.Thin, r2.Point{}, axisArm)
	axis := "kingpin axis"
	if p.metal.Drop {
		axis = "column axis"
	}
	v.Label(sheet.Label{Clear: 1, End: sheet.ArrowEnd, Style: sheet.Style{Height: sheet.Fine}, Lines: []string{axis}})
	for _, h := range p.metal.Holes {
		p.keepClear(d.sheet, h.At, h.Diameter)
		v.Circle(sheet.Visible, sheet.NoFill, h.At, h.Diameter/2)
		v.Cross(sheet.Thin, h.At, h.Diameter/2+3)
	}
	for i := range p.holes {
		p.keepClear(d.sheet, p.holes[i].At, d.r.Options.Diameter)
	}
	for i := range p.holes {
		d.hole(p, &p.holes[i])
	}
	for _, h := range p.metal.Holes {
		v.Label(sheet.Label{At: h.At, Clear: h.Diameter / 2, End: sheet.ArrowEnd, Prefer: p.outwards(h.At), Style: sheet.Style{Height: sheet.Fine},
			Lines: []string{setup.Printable(h.Name), "Ø " + wording.Figure(d.r.Setup.Unit, h.Diameter)}})
	}
}

// hung says which spindle a metal is on and how it hangs, where that or the drop arm was hung anew.
func hung(h *setup.Rehung, drop bool, side setup.Side) (said []string) {
	if drop {
		if h.DropArmOver {
			said = append(said, "turned half round on the column")
		}
		return said
	}
	if h.Swapped {
		said = append(said, "on the spindle that came from the "+side.Other().String()+" side")
	}
	if h.SpindlesOver {
		said = append(said, "spindle upside down: this face was below")
	}
	if len(said) == 2 {
		return []string{said[0] + ", upside down"}
	}
	return said
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
	east := int(math.Round(math.Atan2(-away.Y, away.X) / (math.Pi / 4)))
	dirs := []sheet.Dir{}
	for _, turn := range []int{0, 1, -1, 2, -2} {
		dirs = append(dirs, sheet.E+sheet.Dir((east+turn+8)%8))
	}
	return dirs
}

// punch and axisArm are the lengths of the arms of a punch cross and of an axis's, mm. Crosses are continuous,
// not dashed as centre lines are: they are to be pricked through.
const (
	punch   = 7.0
	axisArm = 6.0
)

// hole draws a new hole with the distances that mark it out.
func (d *drilling) hole(p *piece, h *drill.Drilled) {
	v := p.view
	v.Circle(sheet.Visible, sheet.NoFill, h.At, d.r.Options.Diameter/2)
	v.Cross(sheet.Visible, h.At, punch)
	for i, m := range h.Marks {
		off := [2]float64{9, -9}[i%2]
		if m.Square {
			off = 0
			v.Line(sheet.Centre, m.Line[0], m.Line[1])
		}
		if m.New && h.Rod == "right" {
			continue // the left one has it
		}
		v.Dim(sheet.Aligned, m.At, h.At, off, wording.Figure(d.r.Setup.Unit, m.Length))
	}
	lines := []string{"drill here, Ø " + wording.Figure(d.r.Setup.Unit, d.r.Options.Diameter)}
	if p.metal.Drop && h.Rod != "both" {
		lines = append(lines, h.Rod+" rod")
	}
	for _, m := range h.Marks {
		lines = append(lines, wording.Figure(d.r.Setup.Unit, m.Length)+" from "+setup.Printable(m.From))
	}
	v.Label(sheet.Label{At: h.At, Clear: d.r.Options.Diameter / 2, End: sheet.ArrowEnd, Prefer: p.outwards(h.At), Lines: lines})
}
