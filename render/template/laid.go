package template

import (
	"fmt"
	"strings"

	"github.com/golang/geo/r2"

	"locksweep/geometry/drill"
	"locksweep/geometry/setup"
	"locksweep/render/sheet"
	"locksweep/render/wording"
)

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
	s, room := newSheet(opt.Options, fmt.Sprintf("Drill template 1:1, place %d", d.number), d.r.Setup, opt.alarms(d.r), d.words(), edge)
	if head != "" {
		s.Say(&room, sheet.Style{Height: sheet.Medium}, 0, head)
	}
	words, letters := d.words(), sheet.Medium
	if !d.cautions {
		words, letters = words+" How to lay it on, and what to heed, stands on the last sheet."+more, cautions
	}
	s.Say(&room, sheet.Style{Height: letters}, 1, words)
	if d.cautions { // these run on, one after the other: a line each would cost the metal its room on the paper
		s.Say(&room, sheet.Style{}, 0.5, d.laying())
		s.Say(&room, sheet.Style{Height: cautions}, 0.5, strings.Join(wording.DrillCautions(d.r), "  •  "))
	}
	room.X.Lo += barDepth
	room.Y.Lo, room.Y.Hi = room.Y.Lo+1, room.Y.Hi-barDepth
	return s, room
}

// place gives each piece its part of the sheet: side by side or one above the other, turned to lie on its side where it has
// room only so. The error says that there is no room for all.
func (d *drilling) place(room r2.Rect) error {
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
	return &largeError{d.r.Setup.Unit, "the template of the " + strings.Join(names, " and the "), d.sheet.Size, d.need(false), ""}
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
