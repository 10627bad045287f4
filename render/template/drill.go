// Package template draws templates at 1:1, to be glued to the metal: where to drill. Everything stands in the
// metal's own plane, where lengths are true.
package template

import (
	"errors"
	"fmt"
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
	Source  string // file and date that the title block names

	cautions bool // stand on a sheet of their own
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
	all, err := drillSheets(r, place, opt)
	var large *largeError
	if errors.As(err, &large) {
		return nil, fmt.Errorf("%w; %s", large, elsewhere(r, place, opt))
	}
	return closed(all, opt.File), err
}

// drillSheets takes the first of the ways to lay the template out that the paper has room for: all arms on one sheet, or
// one to a sheet, with the cautions; then the same with the cautions on a sheet of their own.
func drillSheets(r *drill.Result, place int, opt Options) (all []*sheet.Sheet, err error) {
	for _, opt.cautions = range []bool{false, true} {
		s, err := DrillSheet(r, place, opt)
		if all = []*sheet.Sheet{s}; err != nil {
			var large *largeError
			if !errors.As(err, &large) {
				return nil, err
			}
			all, err = apart(r, place, opt)
		}
		switch {
		case err == nil && opt.cautions:
			return append(all, cautionSheet(r, place, opt)), nil
		case err == nil || opt.cautions:
			return all, err
		}
	}
	return all, err
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
		if _, err := drillSheets(r, place, other); err == nil {
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
	d.sheet = newSheet(opt.Paper, fmt.Sprintf("Drill template 1:1, place %d", place+1), r.Setup, opt.Program, opt.Source,
		wording.Alarmed(r.Today), d.words())
	d.cautions = !opt.cautions
	if err := d.place(opt.Paper); err != nil {
		return nil, nil, err
	}
	for i := range d.pieces {
		d.draw(&d.pieces[i])
	}
	return d.sheet, d, nil
}

// newSheet opens a sheet at 1:1 to work by, on which no label touches a line.
func newSheet(paper sheet.Size, what string, s *setup.Setup, program, source string, alarms []string, said string) *sheet.Sheet {
	made := sheet.New(paper, sheet.Title{
		Title: what, Subtitle: wording.Title(s), Note: wording.Caution, Origin: sheet.Origin{Program: program, Source: source},
		Alarms: alarms, Desc: what + " for " + s.Name + ". " + said,
	})
	made.Inches, made.Scale, made.Strict = s.Unit == setup.Inch, 1, true
	return made
}

// cautionSheet holds the cautions where the metal takes the room beside it.
func cautionSheet(r *drill.Result, place int, opt Options) *sheet.Sheet {
	s := sheet.New(opt.Paper, sheet.Title{
		Title: fmt.Sprintf("Before you drill, place %d", place+1), Subtitle: wording.Title(r.Setup), Note: wording.Caution,
		Origin: sheet.Origin{Program: opt.Program, Source: opt.Source}, Alarms: wording.Alarmed(r.Today), Desc: "What to heed before you drill.",
	})
	area := s.Area().ExpandedByMargin(-edge)
	at := area.Lo()
	d := drilling{r: r}
	for i := range r.Metals {
		d.pieces = append(d.pieces, piece{metal: &r.Metals[i]})
	}
	for _, text := range append([]string{d.laying()}, wording.DrillCautions(r)...) {
		at.Y = s.Paragraph(at, area.Size().X, sheet.Style{Height: sheet.Medium}, "– "+text).Y.Hi + 2
	}
	return s
}

type drilling struct {
	r        *drill.Result
	p        *drill.Place
	pieces   []piece
	sheet    *sheet.Sheet
	cautions bool // stand on this sheet
}

const (
	barDepth = 12.0 // paper that the check bars take along two sides
	around   = 15.0 // kept on both sides of an arm for dimensions, mm
	over     = 11.0 // and above and below it
	head     = 11.0 // above that for its name
	edge     = 3.0  // kept off the frame
	cautions = 2.0  // height of their letters
	card     = 6.0  // kept about axis and holes where the metal has no outline: what is cut out then is a card
	beside   = 10.0 // kept on both sides of a card, whose dimensions stand on it
)

// place writes the words and bars and gives each piece its part of the sheet: side by side or one above the other, turned
// to lie on its side where it has room only so.
func (d *drilling) place(paper sheet.Size) error {
	area := d.sheet.Area().ExpandedByMargin(-edge)
	d.sheet.CheckBars(r2.Point{X: area.X.Lo, Y: area.Y.Hi})
	at := r2.Point{X: area.X.Lo, Y: area.Y.Lo}
	width := area.Size().X
	words, letters := d.words(), sheet.Medium
	if !d.cautions {
		words, letters = words+" How to lay it on, and what to heed, stands on the last sheet.", cautions
	}
	at.Y = d.sheet.Paragraph(at, width, sheet.Style{Height: letters}, words).Y.Hi + 1
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
	for turned := range 1 << len(d.pieces) {
		for i := range d.pieces {
			d.pieces[i].turned = turned>>i&1 == 1
		}
		for _, stacked := range []bool{false, true} {
			if need := d.need(stacked); need.X <= room.Size().X && need.Y <= room.Size().Y {
				d.lay(room, stacked)
				return nil
			}
		}
	}
	var names []string
	for i := range d.pieces {
		d.pieces[i].turned = false
		names = append(names, d.pieces[i].metal.Name)
	}
	return &largeError{strings.Join(names, " and the "), paper, d.need(false), room.Size()}
}

// need is the paper that all pieces take, side by side or one above the other.
func (d *drilling) need(stacked bool) (all r2.Point) {
	for i := range d.pieces {
		if size := d.pieces[i].size(); stacked {
			all = r2.Point{X: max(all.X, size.X), Y: all.Y + size.Y}
		} else {
			all = r2.Point{X: all.X + size.X, Y: max(all.Y, size.Y)}
		}
	}
	return all
}

// lay gives each piece its share of the room.
func (d *drilling) lay(room r2.Rect, stacked bool) {
	spare := room.Size().Sub(d.need(stacked)).Mul(1 / float64(len(d.pieces)))
	for i := range d.pieces {
		p := &d.pieces[i]
		size := p.size()
		part := room
		if stacked {
			part.Y.Hi = part.Y.Lo + size.Y + spare.Y
			room.Y.Lo = part.Y.Hi
		} else {
			part.X.Hi = part.X.Lo + size.X + spare.X
			room.X.Lo = part.X.Hi
		}
		below := part
		below.Y.Lo += head
		p.view = d.sheet.NewPanel(part, sheet.Centred(below, p.bounds(), p.axes(), 1))
	}
}

// sizes says what is drilled and what it is opened out to.
func (d *drilling) sizes() string {
	u, hole := d.r.Setup.Unit, d.r.Options.Diameter
	return "pilot Ø " + wording.Drill(u, drill.Pilot(hole, u == setup.Inch)) + ", ream to Ø " + wording.Drill(u, hole)
}

// words says what is to be drilled.
func (d *drilling) words() string {
	return fmt.Sprintf("At the heavy crosses: %s. Print at 100 %%, never “fit to page”, and measure both bars, both ways, before you drill.", d.sizes())
}

// steps says how, and what to heed, where that stands on this sheet.
func (d *drilling) steps() []string {
	if !d.cautions {
		return nil
	}
	// The cautions run on, one after the other: a line each would cost the metal its room on the paper.
	return []string{d.laying(), strings.Join(wording.DrillCautions(d.r), "  •  ")}
}

// laying says how the template is laid on the metal and checked.
func (d *drilling) laying() string {
	outlined, holes := true, true
	for i := range d.pieces {
		outlined = outlined && len(d.pieces[i].metal.Outline) > 0
		holes = holes && len(d.pieces[i].metal.Holes) > 0
	}
	lay := "Cut out along the line of the card, lay it on the metal this face up, cross on the axis and the long line along the stub axle"
	switch {
	case outlined && holes:
		lay = "Cut out along the outline, lay it on the metal this face up, and line up outline and old holes: all must fit at once, or something is measured wrong"
	case outlined:
		lay = "Cut out along the outline, lay it on the metal this face up, and line up the outline all round"
	case holes:
		lay = "Cut out along the line of the card, lay it on the metal this face up, and line up the axis and the old holes"
	}
	return lay + ". Then check the punch mark with callipers against the distances given: they are true on the metal; in a plan of the vehicle they are shorter by the lean."
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

// punch and axisArm are the lengths of the arms of a punch cross and of an axis's, mm. Crosses are continuous,
// not dashed as centre lines are: they are to be pricked through.
const (
	punch   = 7.0
	axisArm = 6.0
)
