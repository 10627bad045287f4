package template

import (
	"fmt"
	"strings"

	"github.com/golang/geo/r2"

	"locksweep/geometry/grind"
	"locksweep/geometry/setup"
	"locksweep/render/sheet"
	"locksweep/render/wording"
)

// GrindOptions says how to draw templates of finished outlines.
type GrindOptions struct {
	Paper   sheet.Size
	File    string // where the first sheet goes, so that each names its fellows
	Program string
	Source  string // file and date that the title block names
}

const (
	grindRoom  = 10.0 // kept about an outline, mm
	grindHead  = 16.0 // of the line above it
	grindWidth = 62.0 // least of it, for the words
	grindBars  = 13.0 // and their depth
)

// Grind draws the finished outlines at 1:1, to glue on the parts: as many to a sheet as fit, in the order
// of the cuts. The error says which outline is larger than the paper.
func Grind(p *grind.Plan, opt GrindOptions) ([][]byte, error) {
	if len(p.Cuts) == 0 {
		return nil, fmt.Errorf("there is nothing to draw: %s", wording.GrindAnswer(p))
	}
	var sheets []*sheet.Sheet
	for rest := p.Cuts; len(rest) > 0; {
		s, done, err := grindSheet(p, rest, opt)
		if err != nil {
			return nil, err
		}
		sheets, rest = append(sheets, s), rest[done:]
	}
	return closed(sheets, opt.File), nil
}

// grindSheet fills one sheet and tells how many cuts it holds.
func grindSheet(p *grind.Plan, cuts []*grind.Cut, opt GrindOptions) (s *sheet.Sheet, done int, err error) {
	s = newSheet(opt.Paper, "Grind template, finished outline", p.Model.Setup, opt.Program, opt.Source, wording.Alarms(p.Model, &p.Before),
		"Finished outlines at full size, to glue on the parts. "+wording.GrindAnswer(p))
	area := s.Area().ExpandedByMargin(-2)
	s.CheckBars(r2.Point{X: area.X.Lo, Y: area.Y.Hi})
	top := grindCautions(s, p, area)
	room := r2.RectFromPoints(r2.Point{X: area.X.Lo + grindBars, Y: top}, r2.Point{X: area.X.Hi, Y: area.Y.Hi - grindBars})
	x, y, row := room.X.Lo, room.Y.Lo, 0.0
	for _, c := range cuts {
		size := grindBox(c).Size() // forward is up the sheet
		w, h := max(size.Y+2*grindRoom, grindWidth), size.X+2*grindRoom+grindHead
		if x+w > room.X.Hi && x > room.X.Lo {
			x, y, row = room.X.Lo, y+row, 0
		}
		if x+w > room.X.Hi || y+h > room.Y.Hi {
			if done > 0 {
				return s, done, nil
			}
			return nil, 0, fmt.Errorf("the outline of the %s takes %.0f by %.0f mm at 1:1 and the paper has room for %.0f by %.0f: take a larger sheet, or transfer the outline from the figures of grind --json",
				wording.Piece(p.Model, c.Piece), w, h, room.Size().X, room.Size().Y)
		}
		grindOutline(s, p, c, sheet.Rect(x, y, w, h), opt)
		x, row = x+w, max(row, h)
		done++
	}
	return s, done, nil
}

// grindCautions writes what must be heeded, above the outlines, and returns where it ends.
func grindCautions(s *sheet.Sheet, p *grind.Plan, area r2.Rect) float64 {
	at := s.Paragraph(area.Vertices()[0], area.Size().X, sheet.Style{Height: sheet.Medium},
		"Print at 100 %, measure both bars, cut out along the outer line, the old outline, and glue on with the cross on the kingpin. Grind the hatched metal to the thick line.").Y.Hi
	at = s.Paragraph(r2.Point{X: area.X.Lo, Y: at + 0.6}, area.Size().X, sheet.Style{}, wording.GrindAnswer(p)).Y.Hi
	for _, text := range wording.StopAdvices(p) {
		at = s.Paragraph(r2.Point{X: area.X.Lo, Y: at + 0.6}, area.Size().X, sheet.Style{Colour: sheet.Vermilion}, "!!! "+text).Y.Hi
	}
	for _, text := range wording.GrindCautions {
		at = s.Paragraph(r2.Point{X: area.X.Lo, Y: at + 0.6}, area.Size().X, sheet.Style{}, "– "+text).Y.Hi
	}
	return at + 2
}

func grindBox(c *grind.Cut) r2.Rect {
	box := r2.RectFromPoints(c.Before...)
	if grindAtKingpin(c) {
		box = box.AddPoint(r2.Point{})
	}
	return box
}

func grindAtKingpin(c *grind.Cut) bool { return c.Part.On == setup.OnSpindle || c.Part.AtKingpin }

// grindOutline draws one outline as it is seen from above: forward up the sheet, outboard to its own side.
func grindOutline(s *sheet.Sheet, p *grind.Plan, c *grind.Cut, room r2.Rect, opt GrindOptions) {
	piece := &p.Model.Scene.Pieces[c.Piece]
	axes, head := sheet.FromAbove, piece.Name
	var said []string
	if piece.Sided {
		if c.Part.On == setup.OnSpindle {
			said = hung(&p.Model.Setup.Rehung, false, piece.Side)
		}
		head = strings.Replace(piece.Label(), piece.Side.String(), strings.ToUpper(piece.Side.String()), 1)
		if piece.Side == setup.Right {
			axes = sheet.Axes{X: r2.Point{Y: -1}, Y: r2.Point{X: 1}}
		}
	}
	frame := room
	frame.Y.Lo += grindHead
	most := sheet.Style{Max: room.Size().X - 2}
	s.Text(r2.Point{X: room.X.Lo + 1, Y: room.Y.Lo + 3.5}, sheet.E, sheet.Style{Height: sheet.Medium, Max: most.Max}, setup.Printable(head))
	s.Text(r2.Point{X: room.X.Lo + 1, Y: room.Y.Lo + 8.5}, sheet.E, most, wording.Length(p.Model.Setup.Unit, c.Depth)+" off at most")
	s.Text(r2.Point{X: room.X.Lo + 1, Y: room.Y.Lo + 12.5}, sheet.E, most, wording.WallShort(p.Model.Setup.Unit, &c.Wall))
	for i, line := range said {
		s.Text(r2.Point{X: room.X.Lo + 1, Y: room.Y.Lo + 16 + 3.6*float64(i)}, sheet.E, sheet.Style{Height: sheet.Fine, Max: most.Max}, line)
	}
	s.Reserve(sheet.Rect(room.X.Lo, room.Y.Lo, room.Size().X, grindHead))
	v := s.NewPanel(frame, sheet.Centred(frame, grindBox(c), axes, 1))
	for _, b := range c.Bites {
		v.Area(sheet.NoPen, sheet.Removed, b.Rings...)
	}
	v.Polygon(sheet.Visible, sheet.NoFill, c.Before...)
	v.Polygon(sheet.Wide, sheet.NoFill, c.After...)
	grindKingpin(v, c)
	for _, b := range c.Bites {
		v.Dim(sheet.Aligned, b.At[0], b.At[1], 0, wording.Length(p.Model.Setup.Unit, b.Depth))
	}
	id := identity{which: setup.Printable(strings.ToUpper(head)), face: "THIS FACE UP", front: "FRONT", tyre: "LEFT", name: p.Model.Setup.Name, source: opt.Source}
	switch {
	case c.Part.On == setup.OnColumn:
		id.front = "DOWN"
	case piece.Sided:
		id.tyre = "TYRE"
	}
	id.write(v, c.After, axes)
	grindLabels(v, c, frame)
}

// grindKingpin draws the kingpin to register on.
func grindKingpin(v *sheet.Panel, c *grind.Cut) {
	if grindAtKingpin(c) {
		arm := 6.0
		if c.Part.Bore > 0 {
			v.Circle(sheet.Visible, sheet.NoFill, r2.Point{}, c.Part.Bore/2)
			arm = c.Part.Bore/2 + 4
		}
		v.Cross(sheet.Centre, r2.Point{}, arm)
	}
}

// grindLabels says what to cut the paper along, what to grind to, and what the cross is.
func grindLabels(v *sheet.Panel, c *grind.Cut, frame r2.Rect) {
	within := frame.ExpandedByMargin(-0.5)
	if grindAtKingpin(c) {
		v.Label(sheet.Label{At: r2.Point{}, Clear: max(c.Part.Bore/2, 1), Within: within, Lines: []string{"kingpin"}})
	}
	cutHere(v, c.Before, "cut along this line")
}
