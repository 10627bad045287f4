package template

import (
	"fmt"
	"math"
	"strings"

	"github.com/golang/geo/r2"

	"locksweep/geometry/setup"
	"locksweep/render/sheet"
	"locksweep/render/wording"
)

// tiling cuts what is larger than the paper into tiles of one size, which overlap. Along the middle of every overlap runs a
// joining line, the same on both tiles, with two crosses on it: the tile with the higher number is trimmed to it and
// glued on the other, line on line and cross on cross.
type tiling struct {
	columns, rows int
	room          r2.Rect // on each sheet, for its tile
}

const (
	lap       = 14.0 // by how much neighbours overlap, mm
	mostTiles = 12   // that can be glued to one true sheet
	joinArm   = 4.0  // of a cross on a joining line, mm
	joinRing  = 2.0  // and the radius of its circle
)

// crossAt is where the crosses stand on a joining line, as a share of its length.
var crossAt = [2]float64{0.2, 0.8}

// tiled is the tiling of so much paper over sheets that have the same room each.
func tiled(need r2.Point, room r2.Rect) tiling {
	// In whole millimetres no tile is rounded in another way than its neighbour.
	room = r2.RectFromPoints(r2.Point{X: math.Ceil(room.X.Lo), Y: math.Ceil(room.Y.Lo)}, r2.Point{X: math.Floor(room.X.Hi), Y: math.Floor(room.Y.Hi)})
	count := func(need, has float64) int { return max(1, int(math.Ceil((need-lap)/(has-lap)))) }
	return tiling{count(need.X, room.Size().X), count(need.Y, room.Size().Y), room}
}

func (t *tiling) count() int { return t.columns * t.rows }

// inTiles draws something over several sheets, upright or turned, whichever takes fewer; no sheets where both take too many. need is the
// paper that it takes, open begins a sheet with a heading and more words and returns the room that they leave, and draw draws all of
// it on a sheet before that is cut.
func inTiles(name string, need func(turned bool) r2.Point, open func(head, more string) (*sheet.Sheet, r2.Rect), draw func(whole *sheet.Sheet, turned bool)) (sheets []*sheet.Sheet, turned bool) {
	_, room := open(name, longestGlued)
	t := tiled(need(false), room)
	if lying := tiled(need(true), room); lying.count() < t.count() {
		t, turned = lying, true
	}
	if t.count() > mostTiles {
		return nil, turned
	}
	whole := t.whole()
	draw(whole, turned)
	for i := range t.count() {
		s, _ := open(t.called(name, i), t.glued(i))
		t.lay(whole, i, s)
		sheets = append(sheets, s)
	}
	return sheets, turned
}

// step is how far it is from one tile to the next, both ways.
func (t *tiling) step() r2.Point { return t.room.Size().Sub(r2.Point{X: lap, Y: lap}) }

// part is what of the whole stands on a tile, counted from 0 row by row.
func (t *tiling) part(i int) r2.Rect {
	step, size := t.step(), t.room.Size()
	return sheet.Rect(float64(i%t.columns)*step.X, float64(i/t.columns)*step.Y, size.X, size.Y)
}

// whole is the sheet to draw on before it is cut. No text stands where tiles overlap, so that each is whole on one of them.
func (t *tiling) whole() *sheet.Sheet {
	step := t.step()
	all := r2.Point{X: float64(t.columns)*step.X + lap, Y: float64(t.rows)*step.Y + lap}
	s := sheet.Plain(all.X, all.Y)
	s.Strict = true
	for k := 1; k < t.columns; k++ {
		s.Reserve(sheet.Rect(float64(k)*step.X, 0, lap, all.Y))
	}
	for k := 1; k < t.rows; k++ {
		s.Reserve(sheet.Rect(0, float64(k)*step.Y, all.X, lap))
	}
	return s
}

// lay lays a tile of the whole on its sheet, with its joining lines.
func (t *tiling) lay(whole *sheet.Sheet, i int, s *sheet.Sheet) {
	s.Inset(whole, t.part(i), t.room.Lo())
	row, column := i/t.columns, i%t.columns
	if column > 0 {
		t.join(s, i-1, r2.Point{X: -1})
	}
	if column+1 < t.columns {
		t.join(s, i+1, r2.Point{X: 1})
	}
	if row > 0 {
		t.join(s, i-t.columns, r2.Point{Y: -1})
	}
	if row+1 < t.rows {
		t.join(s, i+t.columns, r2.Point{Y: 1})
	}
}

// join draws the joining line towards another tile, which lies the given way.
func (t *tiling) join(s *sheet.Sheet, other int, way r2.Point) {
	size := t.room.Size()
	out := t.room.Center().Add(r2.Point{X: way.X * (size.X - lap) / 2, Y: way.Y * (size.Y - lap) / 2})
	half := r2.Point{X: math.Abs(way.Y) * size.X / 2, Y: math.Abs(way.X) * size.Y / 2}
	a, b := out.Sub(half), out.Add(half) // the same end first on both tiles
	s.Line(sheet.Phantom, a, b)
	for _, share := range crossAt {
		at := a.Add(b.Sub(a).Mul(share))
		s.Circle(sheet.Thin, sheet.NoFill, at, joinRing)
		s.Cross(sheet.Thin, at, joinArm)
	}
	beyond := way.Mul(lap / 2)
	text := fmt.Sprintf("joining line: tile %d on this side", other+1)
	s.Inside([]r2.Point{a, b, b.Add(beyond), a.Add(beyond)}, out.Add(beyond.Mul(0.5)), letters[2:], text, text)
}

// called is the heading of a tile.
func (t *tiling) called(name string, i int) string {
	return fmt.Sprintf("%s, TILE %d OF %d", name, i+1, t.count())
}

// longestGlued takes as much room as anything that glued says.
const longestGlued = " Trim it to the joining lines towards tile 11 and tile 10 and glue it on, line on line and cross on cross, and more."

// glued says on a tile how it goes together with the others.
func (t *tiling) glued(i int) string {
	left, above := fmt.Sprintf("tile %d", i), fmt.Sprintf("tile %d", i-t.columns+1)
	towards := "lines towards " + left + " and " + above
	switch row, column := i/t.columns, i%t.columns; {
	case i == 0:
		return " The other tiles are trimmed to their joining lines and glued on, line on line and cross on cross."
	case row == 0:
		towards = "line towards " + left
	case column == 0:
		towards = "line towards " + above
	}
	return " Trim it to the joining " + towards + " and glue it on, line on line and cross on cross."
}

// largeError says that what stands on a template is larger than the paper.
type largeError struct {
	unit      setup.Unit
	what      string
	paper     sheet.Size
	size      r2.Point // mm
	elsewhere string   // the paper on which it fits, as it is asked for
}

func (e *largeError) Error() string {
	decimals := bit(e.unit == setup.Inch)
	figure := func(mm float64) string { return wording.Fixed(e.unit.FromMM(mm), decimals) }
	hint := "no paper that can be asked for is large enough: mark it out by the figures of the report"
	if e.elsewhere != "" {
		hint = "it fits on --paper " + e.elsewhere
	}
	return fmt.Sprintf("at 1:1 %s takes %s by %s %s, more than %d sheets of %s glued together; %s",
		e.what, figure(e.size.X), figure(e.size.Y), e.unit, mostTiles, e.paper.Name, hint)
}

// fitting names the first paper that has room, as it is asked for: of the sizes that go with the unit; empty where none has.
func fitting(u setup.Unit, fits func(sheet.Size) bool) string {
	sizes := [2]sheet.Size{sheet.A4, sheet.A3}
	if u == setup.Inch {
		sizes = [2]sheet.Size{sheet.Letter, sheet.Tabloid}
	}
	for _, z := range sizes {
		for _, way := range [2]sheet.Size{z, z.Landscape()} {
			if fits(way) {
				return strings.ReplaceAll(strings.ToLower(way.Name), " ", "-")
			}
		}
	}
	return ""
}

// onePiece says on which paper something goes without being cut into tiles; nothing where there is none.
func onePiece(paper string) string {
	if paper == "" {
		return ""
	}
	return " It goes on one sheet with --paper " + paper + "."
}
