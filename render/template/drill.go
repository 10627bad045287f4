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
	Paper  sheet.Size
	Origin sheet.Origin
	File   string // where the first sheet goes, so that each names its fellows
	Arms   Arms   // which of them; the zero Arms is all on one sheet

	cautions bool            // stand on a sheet of their own
	whole    bool            // no arm may be cut into tiles
	together *drill.Together // that the holes belong to
}

// alarms are what a sheet shouts: of the setup as it stands, before anything is drilled.
func (o *Options) alarms(r *drill.Result) []string {
	if o.together != nil { // r is without what may be ground
		return wording.Alarms(o.together.Plan.Model, &o.together.Plan.Before)
	}
	lines := wording.Alarmed(r.Today)
	for i := range lines {
		lines[i] += " (as it stands today, with the old hole)"
	}
	return lines
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

// hold reports whether an arm stands on the template.
func (a Arms) hold(m *drill.Metal) bool {
	return a == All || m.Drop && a == Drop || !m.Drop && a == [2]Arms{Left, Right}[m.Side]
}

// Drill draws the template for one of the listed places, counted from 0: on one sheet, or one arm to a sheet
// where all together do not fit, or an arm on several sheets to be glued together. The error says that there is
// nothing to drill, or that the metal would take more sheets than can be glued.
func Drill(r *drill.Result, place int, opt Options) (sheets [][]byte, err error) {
	all, err := drillSheets(r, place, opt)
	return sheet.Closed(all, opt.File), err
}

// Together draws the template of hole and stop together: what is to be drilled and what is to be cut, in the order in which it
// is to be done. The errors are those of Drill and Grind.
func Together(t *drill.Together, opt Options) (sheets [][]byte, err error) {
	var holes, cuts []*sheet.Sheet
	opt.together = t
	if t.Best[0].Existing == "" || len(t.Plan.Cuts) == 0 {
		if holes, err = drillSheets(t.Result, 0, opt); err != nil {
			return nil, err
		}
	}
	if len(t.Plan.Cuts) > 0 {
		if cuts, err = grindSheets(t.Plan, GrindOptions{Paper: opt.Paper, Origin: opt.Origin}); err != nil {
			return nil, err
		}
	}
	first, then := holes, cuts
	if t.First == drill.CutFirst {
		first, then = cuts, holes
	}
	if len(first) > 0 && len(then) > 0 {
		for i, of := range [2][]*sheet.Sheet{first, then} {
			for _, s := range of {
				step := fmt.Sprintf("Step %d: ", i+1)
				if t.First == drill.AtOnce {
					step = "At once: "
				}
				s.Title.Title = step + s.Title.Title
			}
		}
	}
	return sheet.Closed(append(first, then...), opt.File), nil
}

// drillSheets takes the first of the ways to lay the template out that the paper has room for: all arms on one sheet, or
// one to a sheet, with the cautions; then the same with the cautions on a sheet of their own; and an arm that is too
// large even so is cut into tiles.
func drillSheets(r *drill.Result, place int, opt Options) (all []*sheet.Sheet, err error) {
	for _, opt.cautions = range []bool{false, true} {
		if all, err = drillWays(r, place, opt); err == nil && opt.cautions {
			all = append(all, cautionSheet(r, place, opt))
		}
		var large *largeError
		if !errors.As(err, &large) {
			return all, err
		}
	}
	return all, err
}

// drillWays lays the arms on one sheet, or on one each.
func drillWays(r *drill.Result, place int, opt Options) (all []*sheet.Sheet, err error) {
	s, err := DrillSheet(r, place, opt)
	var large *largeError
	if err == nil && len(s.Unplaced()) == 0 {
		return []*sheet.Sheet{s}, nil
	} else if err != nil && !errors.As(err, &large) {
		return nil, err
	}
	for _, arm := range []Arms{Left, Right, Drop} {
		if opt.Arms != All && arm != opt.Arms || !drills(r, place, arm) {
			continue
		}
		one := opt
		one.Arms = arm
		s, d, err := drillSheet(r, place, one)
		switch {
		case err == nil && len(s.Unplaced()) > 0 && !opt.cautions: // the cautions' room may do
			return nil, &largeError{}
		case err == nil:
			all = append(all, s)
			continue
		case errors.As(err, &large) && opt.cautions && !opt.whole:
			tiles, err := d.tiles(one)
			if err != nil {
				return nil, err
			}
			all = append(all, tiles...)
			continue
		}
		return nil, err
	}
	return all, nil
}

// drills reports whether a place needs a hole in one of the arms.
func drills(r *drill.Result, place int, arm Arms) bool {
	return slices.ContainsFunc(r.Metals, func(m drill.Metal) bool {
		return arm.hold(&m) && len(r.Drilled(&m, &r.Best[place].Place)) > 0
	})
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
	d := &drilling{r: r, p: &r.Best[place].Place, number: place + 1}
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
	d.cautions, d.source = !opt.cautions, opt.Origin.Source
	for i := range d.pieces {
		d.pieces[i].ends, d.pieces[i].head = [2]float64{ends, tight}[bit(opt.cautions)], head
	}
	s, room := d.open(opt, "", "")
	if err := d.place(s, room); err != nil {
		return nil, d, err
	}
	for i := range d.pieces {
		d.heading(&d.pieces[i])
	}
	d.draw()
	return d.sheet, d, nil
}

// draw draws the arms where they lie: all lines first, so that no text comes to stand on one.
func (d *drilling) draw() {
	for _, do := range []func(*piece){d.outlines, d.holes, d.rest} {
		for i := range d.pieces {
			do(&d.pieces[i])
		}
	}
}

// newSheet opens a sheet at 1:1 to work by, on which no label touches a line.
func newSheet(paper sheet.Size, what string, s *setup.Setup, origin sheet.Origin, alarms []string, said string) *sheet.Sheet {
	made := sheet.New(paper, sheet.Title{
		Title: what, Subtitle: wording.Title(s), Note: wording.Caution, Origin: origin,
		Alarms: alarms, Desc: what + " for " + s.Name + ". " + said,
	})
	made.Inches, made.Scale, made.Strict = s.Unit == setup.Inch, 1, true
	return made
}

// cautionSheet holds the cautions where the metal takes the room beside it.
func cautionSheet(r *drill.Result, place int, opt Options) *sheet.Sheet {
	s := sheet.New(opt.Paper, sheet.Title{
		Title: fmt.Sprintf("Before you drill, place %d", place+1), Subtitle: wording.Title(r.Setup), Note: wording.Caution,
		Origin: opt.Origin, Alarms: opt.alarms(r), Desc: "What to heed before you drill.",
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
	cautions bool   // stand on this sheet
	number   int    // of the place, from 1
	source   string // file and date
}

const (
	barDepth = 12.0 // paper that the check bars take along two sides
	around   = 15.0 // kept on both sides of an arm for dimensions, mm
	ends     = 5.5  // and above it, and below it
	tight    = 3.5  // the same where paper is short
	head     = 11.0 // above that for its name
	edge     = 3.0  // kept off the frame
	cautions = 2.0  // height of their letters
	card     = 6.0  // kept about axis and holes where the metal has no outline: what is cut out then is a card
	beside   = 10.0 // kept on both sides of a card, whose dimensions stand on it
)

// open begins a sheet with its words and bars, and returns the room that they leave. head and more are said of this sheet
// alone.
func (d *drilling) open(opt Options, head, more string) (*sheet.Sheet, r2.Rect) {
	s := newSheet(opt.Paper, fmt.Sprintf("Drill template 1:1, place %d", d.number), d.r.Setup, opt.Origin, opt.alarms(d.r), d.words())
	area := s.Area().ExpandedByMargin(-edge)
	s.CheckBars(r2.Point{X: area.X.Lo, Y: area.Y.Hi})
	at := r2.Point{X: area.X.Lo, Y: area.Y.Lo}
	width := area.Size().X
	if head != "" {
		at.Y = s.Paragraph(at, width, sheet.Style{Height: sheet.Medium}, head).Y.Hi
	}
	words, letters := d.words(), sheet.Medium
	if !d.cautions {
		words, letters = words+" How to lay it on, and what to heed, stands on the last sheet."+more, cautions
	}
	at.Y = s.Paragraph(at, width, sheet.Style{Height: letters}, words).Y.Hi + 1
	for i, text := range d.steps() {
		style := sheet.Style{}
		if i > 0 {
			style.Height = cautions
		}
		at.Y = s.Paragraph(at, width, style, text).Y.Hi + 0.5
	}
	room := r2.Rect{X: area.X, Y: area.Y}
	room.X.Lo += barDepth
	room.Y.Lo, room.Y.Hi = at.Y+1, area.Y.Hi-barDepth
	return s, room
}

// place gives each piece its part of a sheet: side by side or one above the other, turned to lie on its side where it has
// room only so.
func (d *drilling) place(s *sheet.Sheet, room r2.Rect) error {
	for turned := range 1 << len(d.pieces) {
		for i := range d.pieces {
			d.pieces[i].turned = turned>>i&1 == 1
		}
		for _, stacked := range []bool{false, true} {
			if need := d.need(stacked); need.X <= room.Size().X && need.Y <= room.Size().Y {
				d.sheet = s
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
	return &largeError{d.r.Setup.Unit, "the template of the " + strings.Join(names, " and the "), s.Size, d.need(false), ""}
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
		below.Y.Lo += p.head
		p.room = part
		p.view = d.sheet.NewPanel(part, sheet.Centred(below, p.bounds(), p.axes(), 1))
	}
}

// sizes says what is drilled and what it is opened out to.
func (d *drilling) sizes() []string {
	u, hole := d.r.Setup.Unit, d.r.Options.Diameter
	return []string{"pilot Ø " + wording.Drill(u, drill.Pilot(hole, u == setup.Inch)), "ream to Ø " + wording.Drill(u, hole)}
}

// words says what is to be drilled.
func (d *drilling) words() string {
	return fmt.Sprintf("At the heavy crosses: %s. Print at 100 %%, never “fit to page”, and measure both bars, both ways, before you drill.", strings.Join(d.sizes(), ", "))
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
	outlined, holes, drop, arm := true, true, false, false
	for i := range d.pieces {
		m := d.pieces[i].metal
		outlined, holes = outlined && len(m.Outline) > 0, holes && len(m.Holes) > 0
		drop, arm = drop || m.Drop, arm || !m.Drop
	}
	up := map[[2]bool]string{{true, false}: "this face up", {false, true}: "this face to the driver", {true, true}: "as each says which face is seen"}[[2]bool{arm, drop}]
	line := map[[2]bool]string{
		{true, false}: "along the stub axle", {false, true}: "straight down with the column centred",
		{true, true}: "along the stub axle, of a drop arm straight down with the column centred",
	}[[2]bool{arm, drop}]
	lay := "Cut out along the line of the card, lay it on the metal " + up + ", cross on the axis and the long line " + line
	switch {
	case outlined && holes:
		lay = "Cut out along the outline, lay it on the metal " + up + ", and line up outline and old holes: all must fit at once, or something is measured wrong"
	case outlined:
		lay = "Cut out along the outline, lay it on the metal " + up + ", and line up the outline all round"
	case holes:
		lay = "Cut out along the line of the card, lay it on the metal " + up + ", and line up the axis and the old holes"
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
