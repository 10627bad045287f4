package template

import (
	"fmt"
	"strings"

	"github.com/golang/geo/r2"

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
