// Package template draws templates at 1:1, to be glued to the metal: where to drill. Everything stands in the
// metal's own plane, where lengths are true.
package template

import (
	"errors"
	"fmt"
	"slices"

	"github.com/golang/geo/r2"

	"locksweep/geometry/drill"
	"locksweep/geometry/setup"
	"locksweep/render/sheet"
	"locksweep/render/wording"
)

// Options says how to draw.
type Options struct {
	sheet.Options
	File string // where the first sheet goes, so that each names its fellows
	Arms Arms   // which of them; the zero Arms is all on one sheet

	cautions bool            // they stand on a sheet of their own
	whole    bool            // no arm may be cut into tiles
	together *drill.Together // the plan of hole and stop that the holes are part of; nil where holes alone are drilled
}

// alarms are those at the head of a sheet: of the setup as it stands, before anything is drilled.
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
	s, _, err := drillSheet(r, place, opt)
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
		sheets := []*sheet.Sheet{s}
		switch {
		case err == nil && len(s.Unplaced()) > 0 && !opt.cautions: // the cautions' room may do
			err = &largeError{}
		case errors.As(err, &large) && opt.cautions && !opt.whole:
			sheets, err = d.tiles(one)
		}
		if err != nil {
			return nil, err
		}
		all = append(all, sheets...)
	}
	return all, nil
}

// drills reports whether a place needs a hole in one of the arms.
func drills(r *drill.Result, place int, arm Arms) bool {
	return slices.ContainsFunc(r.Metals, func(m *drill.Metal) bool {
		return arm.hold(m) && len(r.Drilled(m, &r.Best[place].Place)) > 0
	})
}

// drillSheet draws the arms that the options ask for on one sheet.
func drillSheet(r *drill.Result, place int, opt Options) (*sheet.Sheet, *drilling, error) {
	if place < 0 || place >= len(r.Best) {
		return nil, nil, fmt.Errorf("there is no place %d; %d are listed", place+1, len(r.Best))
	}
	d := &drilling{r: r, p: &r.Best[place].Place, number: place + 1}
	for _, m := range r.Metals {
		if !opt.Arms.hold(m) {
			continue
		}
		if holes := r.Drilled(m, d.p); len(holes) > 0 {
			d.pieces = append(d.pieces, piece{metal: m, holes: holes, ends: [2]float64{ends, tight}[bit(opt.cautions)], head: head})
		}
	}
	if len(d.pieces) == 0 {
		if r.Narrow != nil {
			return nil, nil, errors.New("no template, since nothing is to be drilled: " + wording.NoRoom(r.Setup.Unit, r.Narrow))
		}
		return nil, nil, fmt.Errorf("no template: nothing is to be drilled for place %d in what was asked for", place+1)
	}
	d.cautions, d.source = !opt.cautions, opt.Origin.Source
	var room r2.Rect
	d.sheet, room = d.open(opt, "", "")
	if err := d.place(room); err != nil {
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

// newSheet begins a sheet at 1:1 to work by, on which no label touches a line, with its check bars; it returns the room inside a
// margin, the bars' paper included.
func newSheet(opt sheet.Options, what string, s *setup.Setup, alarms []string, said string, margin float64) (made *sheet.Sheet, room r2.Rect) {
	made = wording.Sheet(opt, what, s, alarms, what+" for "+s.Name+". "+said)
	made.Scale, made.Strict = 1, true
	room = made.Area().ExpandedByMargin(-margin)
	made.CheckBars(r2.Point{X: room.X.Lo, Y: room.Y.Hi})
	return made, room
}

// cautionSheet holds the cautions where the metal takes the room beside it.
func cautionSheet(r *drill.Result, place int, opt Options) *sheet.Sheet {
	s := wording.Sheet(opt.Options, fmt.Sprintf("Before you drill, place %d", place+1), r.Setup, opt.alarms(r), "What to heed before you drill.")
	room := s.Area().ExpandedByMargin(-edge)
	d := drilling{r: r}
	for _, m := range r.Metals {
		d.pieces = append(d.pieces, piece{metal: m})
	}
	for _, text := range append([]string{d.laying()}, wording.DrillCautions(r)...) {
		s.Say(&room, sheet.Style{Height: sheet.Medium}, 2, "– "+text)
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

// punch and axisArm are the lengths of the arms of a punch cross and of an axis's, mm. Crosses are continuous,
// not dashed as centre lines are: they are to be pricked through.
const (
	punch   = 7.0
	axisArm = 6.0
)

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
		if cuts, err = grindSheets(t.Plan, opt); err != nil {
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
