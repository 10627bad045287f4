package topview

import (
	"github.com/golang/geo/r2"

	"locksweep/render/sheet"
	"locksweep/render/wording"
)

// axlePlaces is how the front axle lies on a sheet of its own: whole, or its left half above its right one.
type axlePlaces struct {
	paper  sheet.Size
	halves bool
	scale  sheet.Scale
}

// axleLargest is the largest scale of a front axle on its own sheet.
const axleLargest sheet.Scale = 0.5

// axleSheet draws the front axle alone, large enough to measure by: on the paper asked for, on its side, or in halves one below the
// other, the first of these at which it stands at 1:5 or larger, else the one that shows it largest.
func (d *drawing) axleSheet() {
	d.kept = ""
	for range mostPasses {
		best := axlePlaces{}
		for _, p := range []axlePlaces{{paper: d.opt.Paper}, {paper: d.opt.Paper.Turned()}, {paper: d.opt.Paper, halves: true}, {paper: d.opt.Paper.Turned(), halves: true}} {
			d.open(p.paper, d.axleTitle())
			rects, _ := d.axleRooms(p.halves)
			size, room := d.axleModels(p.halves)[0].Size(), rects[0].Size() // both halves are alike
			p.scale = sheet.FitScaleUpTo(axleLargest, size.Y, size.X, room.X-2*closeSides, room.Y-headRow-2*closeRows)
			if p.scale > best.scale {
				best = p
			}
			if best.scale >= axleScales[0] {
				break
			}
		}
		if d.drawAxle(best) {
			return
		}
		d.kept = d.numberList()
	}
}

// drawAxle draws the sheet, and reports whether its list of numbers has room.
func (d *drawing) drawAxle(p axlePlaces) bool {
	d.open(p.paper, d.axleTitle())
	d.sheet.Scale = p.scale
	names := []string{"Front axle"}
	if p.halves {
		names = []string{"Front axle, left half", "Front axle, right half"}
	}
	rects, words := d.axleRooms(p.halves)
	var views []*view
	for i, model := range d.axleModels(p.halves) {
		views = append(views, d.near(rects[i], model, p.scale, names[i]))
	}
	for _, v := range views {
		v.joints()
	}
	d.contacts(views)
	for _, v := range views {
		v.pickups()
		v.linkageNames()
	}
	d.partNames(views)
	return d.explained(words)
}

// axleRooms divides the sheet for one frame or two, and the words below.
func (d *drawing) axleRooms(halves bool) (rects []r2.Rect, words r2.Rect) {
	room := d.sheet.Area().ExpandedByMargin(-edge)
	width := room.Size().X
	words = room
	words.Y.Lo = room.Y.Hi - sheet.ParagraphHeight(d.key(), sheet.Fine, width) - sheet.ParagraphHeight(d.kept, sheet.Fine, width)
	room.Y.Hi = words.Y.Lo - gap
	if !halves {
		return []r2.Rect{room}, words
	}
	return sheet.Split(room, 1, 2, gap), words
}

// middleShown is how far a half reaches past the middle, as a share of the axle.
const middleShown = 0.12

// axleModels is the ground that the frames show.
func (d *drawing) axleModels(halves bool) []r2.Rect {
	if !halves {
		return []r2.Rect{d.linkage}
	}
	left, right := d.linkage, d.linkage
	past := middleShown * d.linkage.Size().Y
	left.Y.Lo, right.Y.Hi = d.linkage.Center().Y-past, d.linkage.Center().Y+past
	return []r2.Rect{left, right}
}

func (d *drawing) axleTitle() sheet.Title {
	t := d.title()
	t.Title = "Front axle, straight ahead with both locks"
	if d.opt.Pose != nil {
		t.Title = "Front axle, steering wheel at " + wording.Way(*d.opt.Pose)
	}
	t.Desc = t.Title + " of " + t.Subtitle + ", at a scale to measure by."
	return t
}
