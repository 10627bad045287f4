package topview

import (
	"fmt"
	"math"

	"github.com/golang/geo/r2"

	"locksweep/render/sheet"
	"locksweep/render/wording"
)

// Paper kept free, mm.
const (
	edge       = 4.0  // inside the frame
	gap        = 4.0  // between what stands on the sheet
	dimLeft    = 25.0 // beside the vehicle, for labels
	dimRight   = 33.0 // and for a dimension
	dimAbove   = 12.0
	dimBelow   = 19.0
	closeSides = 6.0 // about the linkage at the larger scale
	closeRows  = 5.5
	headRow    = 5.5  // of a view's name, above its frame
	leastWords = 72.0 // narrowest column that can be read
)

// places says where things stand on paper, and at which scales.
type places struct {
	whole, close, words r2.Rect // close is empty where a second view shows nothing more
	scale, closeScale   sheet.Scale
}

// arrange settles scales and places: of the ways to lay out the sheet the one that shows most.
func (d *drawing) arrange(room r2.Rect) (best places, err error) {
	scale := d.opt.Scale
	if scale == 0 {
		size := d.model().Size()
		scale = sheet.FitScale(size.Y, size.X, room.Size().X-dimLeft-dimRight, room.Size().Y-dimAbove-dimBelow)
	}
	most := 0.0
	for range 5 {
		for _, lay := range d.ways() {
			if p, ok := lay(room, scale); ok && p.shows() > most {
				best, most = p, p.shows()
			}
		}
		if d.opt.Scale != 0 {
			break
		}
		scale = scale.Smaller()
	}
	if most == 0 {
		return best, d.tooLarge(scale, room)
	}
	return best, nil
}

// ways lists how a sheet may be laid out; a pose takes the whole width for its axle lines.
func (d *drawing) ways() []func(r2.Rect, sheet.Scale) (places, bool) {
	if d.opt.Pose != nil {
		return []func(r2.Rect, sheet.Scale) (places, bool){d.stacked}
	}
	return []func(r2.Rect, sheet.Scale) (places, bool){d.sideBySide, d.stacked, d.inColumns}
}

func (d *drawing) tooLarge(scale sheet.Scale, room r2.Rect) error {
	w, h := d.wholeSize(scale)
	if d.opt.Scale == 0 {
		return fmt.Errorf("%s has no room for the vehicle beside the words: take larger paper", d.opt.Paper.Name)
	}
	return fmt.Errorf("at %s the drawing takes %.0f by %.0f mm of paper and there is room for %.0f by %.0f beside the words: choose a smaller scale",
		scale, w, h, room.Size().X, room.Size().Y-d.wordsHeight(room.Size().X))
}

// shows returns how much an arrangement shows: the more the larger its views are, a second one if it is the larger. A vehicle at 1:20
// rather than 1:50 counts for more than a front axle at 1:5 rather than 1:10; but that the front axle is large enough to measure by
// counts for most.
func (p *places) shows() float64 {
	weight := math.Pow(float64(p.scale), 0.9) * float64(max(p.scale, p.closeScale))
	for _, enough := range axleScales {
		if max(p.scale, p.closeScale) < enough {
			weight /= 100
		}
	}
	if p.scale < leastWhole {
		weight /= 1e6
	}
	return weight
}

// axleScales are those at which pickups and rods of the front axle can be read off well, 1:5, and at all, 1:10; leastWhole is that at
// which the labels of the whole vehicle still stand beside what they name.
var axleScales = [2]sheet.Scale{0.2, 0.1}

const leastWhole sheet.Scale = 0.02

// wholeSize is the paper that the whole vehicle takes with its dimensions, mm.
func (d *drawing) wholeSize(s sheet.Scale) (width, height float64) {
	size := d.model().Size()
	return size.Y*float64(s) + dimLeft + dimRight, size.X*float64(s) + dimAbove + dimBelow
}

// stacked puts the vehicle above the linkage above the words.
func (d *drawing) stacked(room r2.Rect, s sheet.Scale) (p places, ok bool) {
	w, h := d.wholeSize(s)
	width := room.Size().X
	free := room.Size().Y - h - d.wordsHeight(width) - gap
	if w > width || free < 0 {
		return p, false
	}
	p.scale = s
	closeHeight := 0.0
	if p.closeScale, closeHeight = d.closeUp(width, free-gap, s); p.closeScale > 0 {
		free -= closeHeight + gap
	}
	p.whole = sheet.Rect(room.X.Lo, room.Y.Lo, width, h+0.6*free)
	y := p.whole.Y.Hi + gap
	if p.closeScale > 0 {
		p.close = sheet.Rect(room.X.Lo, y, width, closeHeight)
		y += closeHeight + gap
	}
	p.words = sheet.Rect(room.X.Lo, y, width, room.Y.Hi-y)
	return p, true
}

// sideBySide puts the linkage above the vehicle, and the words beside the vehicle.
func (d *drawing) sideBySide(room r2.Rect, s sheet.Scale) (p places, ok bool) {
	w, h := d.wholeSize(s)
	width := room.Size().X
	wordsWidth := width - w - gap
	if wordsWidth < leastWords {
		return p, false
	}
	free := room.Size().Y - max(h, d.wordsHeight(wordsWidth))
	if free < 0 {
		return p, false
	}
	p.scale = s
	y := room.Y.Lo
	closeHeight := 0.0
	if p.closeScale, closeHeight = d.closeUp(width, free-gap, s); p.closeScale > 0 {
		p.close = sheet.Rect(room.X.Lo, y, width, closeHeight)
		y += closeHeight + gap
	}
	p.whole = sheet.Rect(room.X.Lo, y, w, room.Y.Hi-y)
	p.words = sheet.Rect(p.whole.X.Hi+gap, y, wordsWidth, room.Y.Hi-y)
	return p, true
}

// inColumns puts the vehicle to the left of the linkage and the words.
func (d *drawing) inColumns(room r2.Rect, s sheet.Scale) (p places, ok bool) {
	w, h := d.wholeSize(s)
	width := room.Size().X - w - gap
	if width < leastWords || h > room.Size().Y {
		return p, false
	}
	words := d.wordsHeight(width)
	x := room.X.Hi - width
	height := 0.0
	p.scale = s
	p.closeScale, height = d.closeUp(width, room.Size().Y-words-gap, s)
	if p.closeScale == 0 {
		return p, false
	}
	p.whole = sheet.Rect(room.X.Lo, room.Y.Lo, w, room.Size().Y)
	p.close = sheet.Rect(x, room.Y.Lo, width, height)
	p.words = sheet.Rect(x, p.close.Y.Hi+gap, width, room.Y.Hi-p.close.Y.Hi-gap)
	return p, true
}

// closeUp finds the scale of the second view, larger than that of the whole vehicle, and its height
// on paper with its name; 0 where there is none.
func (d *drawing) closeUp(width, height float64, whole sheet.Scale) (sheet.Scale, float64) {
	size := d.linkage.Size()
	if d.apart || height < headRow+2*closeRows {
		return 0, 0
	}
	s := sheet.FitScale(size.Y, size.X, width-2*closeSides, height-headRow-2*closeRows)
	if s <= whole {
		return 0, 0
	}
	return s, min(height, size.X*float64(s)+headRow+2*closeRows+60)
}

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
