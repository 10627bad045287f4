// Package grindview draws a plan to grind: each plate in its own plane with the metal to remove hatched and
// what it makes room for, and the curve of lock against depth. It lays out what grind has found and
// computes nothing.
package grindview

import (
	"fmt"

	"github.com/golang/geo/r2"

	"locksweep/geometry/grind"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/render/sheet"
	"locksweep/render/wording"
)

// Options says how to draw.
type Options struct {
	Paper   sheet.Size
	Program string
}

// Draw draws every plate before and after on one sheet.
func Draw(p *grind.Plan, opt Options) ([]byte, error) {
	s, err := Sheet(p, opt)
	if err != nil {
		return nil, err
	}
	return s.Bytes(), nil
}

const (
	gap        = 4.0  // between panels, mm of paper
	headHeight = 7.0  // of the line above a panel
	aside      = 11.0 // kept about a plate for labels
)

// Sheet is Draw before the sheet is closed.
func Sheet(p *grind.Plan, opt Options) (*sheet.Sheet, error) {
	if len(p.Cuts) == 0 {
		return nil, fmt.Errorf("there is nothing to draw: %s", wording.GrindAnswer(p))
	}
	s := sheet.New(opt.Paper, sheet.Title{
		Title: "Metal to grind off, before and after", Subtitle: wording.Title(p.Model.Setup), Program: opt.Program, Note: wording.Caution,
		Desc: "Each plate in its own plane with the metal to remove hatched. " + wording.GrindAnswer(p),
	})
	s.Inches = p.Model.Setup.Unit == setup.Inch
	area := s.Area().ExpandedByMargin(-3)
	area.Y.Lo = words(s, p, area) + 2
	rooms, scale := arrange(p.Cuts, area)
	s.Scale = scale
	for i, c := range p.Cuts {
		plate(s, p, c, rooms[i], scale)
	}
	return s, nil
}

// arrange shares the paper out among the cuts in the number of columns that lets them be drawn largest.
func arrange(cuts []*grind.Cut, area r2.Rect) (best []r2.Rect, largest sheet.Scale) {
	for columns := 1; columns <= len(cuts); columns++ {
		rooms := sheet.Split(area, columns, (len(cuts)+columns-1)/columns, gap)
		scale := sheet.Scale(2)
		for i, c := range cuts {
			size, room := bounds(c).Size(), inner(rooms[i])
			scale = min(scale, sheet.FitScaleUpTo(2, size.Y, size.X, room.X, room.Y))
		}
		if scale > largest {
			best, largest = rooms, scale
		}
	}
	return best, largest
}

// words writes the answer above the plates and returns where it ends.
func words(s *sheet.Sheet, p *grind.Plan, area r2.Rect) float64 {
	width := area.Size().X
	at := s.Paragraph(area.Vertices()[0], width, sheet.Style{}, wording.GrindAnswer(p)).Y.Hi + 1
	for _, advice := range wording.StopAdvices(p) {
		at = s.Paragraph(r2.Point{X: area.X.Lo, Y: at}, width, sheet.Style{Colour: sheet.Vermilion}, "!!! "+advice).Y.Hi + 1
	}
	return at
}

// inner is the paper of a panel that the plate itself may take.
func inner(room r2.Rect) r2.Point {
	return r2.Point{X: room.Size().X - 2*aside, Y: room.Size().Y - headHeight - 2*aside}
}

// bounds is what must be seen of a cut: the plate, whole, and its kingpin.
func bounds(c *grind.Cut) r2.Rect {
	box := r2.RectFromPoints(c.Before...)
	if atKingpin(c) {
		box = box.AddPoint(r2.Point{})
	}
	return box
}

// atKingpin tells whether a plate is drawn from a kingpin.
func atKingpin(c *grind.Cut) bool { return c.Part.On == setup.OnSpindle || c.Part.AtKingpin }

// axes lays a plate on the sheet as it is seen from above: forward up the sheet, outboard to its own side.
func axes(m *sweep.Model, c *grind.Cut) sheet.Axes {
	piece := &m.Scene.Pieces[c.Piece]
	if piece.Sided && piece.Side == setup.Right {
		return sheet.Axes{X: r2.Point{Y: -1}, Y: r2.Point{X: 1}}
	}
	return sheet.FromAbove
}

// plate draws one cut.
func plate(s *sheet.Sheet, p *grind.Plan, c *grind.Cut, room r2.Rect, scale sheet.Scale) {
	u := p.Model.Setup.Unit
	s.Text(r2.Point{X: room.X.Lo + 1, Y: room.Y.Lo + headHeight/2}, sheet.E, sheet.Style{Height: sheet.Medium, Max: room.Size().X - 2},
		wording.Piece(p.Model, c.Piece)+": "+wording.Length(u, c.Depth))
	frame := room
	frame.Y.Lo += headHeight
	v := s.NewPanel(frame, sheet.Centred(frame, bounds(c), axes(p.Model, c), scale))
	corners := frame.Vertices()
	s.Polygon(sheet.Thin.In(sheet.Grey), sheet.NoFill, corners[:]...)
	for _, sight := range c.Sights {
		v.Area(sheet.Phantom, sheet.Shade, sight.Rings...)
	}
	for _, b := range c.Bites {
		v.Area(sheet.NoPen, sheet.Removed, b.Rings...)
	}
	v.Polygon(sheet.Thin, sheet.NoFill, c.Before...)
	v.Polygon(sheet.Visible, sheet.NoFill, c.After...)
	if len(c.Part.Keep) > 0 {
		v.Polygon(sheet.Hidden, sheet.NoFill, c.Part.Keep...)
	}
	kingpin(v, c)
	pads(v, p, c)
	labels(v, p, c, frame)
}

// kingpin marks what a plate turns about, and its bore.
func kingpin(v *sheet.Panel, c *grind.Cut) {
	if !atKingpin(c) {
		return
	}
	arm := 5.0
	if c.Part.Bore > 0 {
		v.Circle(sheet.Visible, sheet.Paper, r2.Point{}, c.Part.Bore/2)
		arm = v.View.Length(c.Part.Bore/2) + 3
	}
	v.Cross(sheet.Centre, r2.Point{}, arm)
}

// pads draws the stop pads that are proposed on this plate.
func pads(v *sheet.Panel, p *grind.Plan, c *grind.Cut) {
	for _, d := range sweep.Directions {
		if at := p.Stops[d].Pad; at != nil && at.Piece == c.Piece {
			v.Polygon(sheet.Hidden, sheet.NoFill, at.Outline...)
		}
	}
}

// labels dimensions the deepest points and names what is drawn.
func labels(v *sheet.Panel, p *grind.Plan, c *grind.Cut, frame r2.Rect) {
	u := p.Model.Setup.Unit
	within := frame.ExpandedByMargin(-1)
	for _, b := range c.Bites {
		v.Dim(sheet.Aligned, b.At[0], b.At[1], 0, wording.Length(u, b.Depth))
	}
	if atKingpin(c) {
		v.Label(sheet.Label{At: r2.Point{}, Clear: v.View.Length(c.Part.Bore/2) + 1, Within: within, Lines: []string{"kingpin"},
			Prefer: []sheet.Dir{sheet.NE, sheet.NW, sheet.SE, sheet.SW}})
	}
	for _, sight := range c.Sights {
		if at, ok := nearest(sight.Rings, c.Before); ok {
			v.Label(sheet.Label{At: at, Within: within, End: sheet.DotEnd,
				Lines: []string{wording.Piece(p.Model, sight.Piece), fmt.Sprintf("turned %s, %s", sight.Way, wording.Angle(p.Steer[sight.Way]))}})
		}
	}
	for _, d := range sweep.Directions {
		if at := p.Stops[d].Pad; at != nil && at.Piece == c.Piece {
			v.Label(sheet.Label{At: at.At, Within: within, End: sheet.ArrowEnd, Lines: []string{"stop pad", "gives " + wording.Angle(at.Lock)}})
		}
	}
}

// nearest picks a corner of an obstacle to name it by: the one nearest to the plate's first corner that is cut.
func nearest(rings [][]r2.Point, plate []r2.Point) (best r2.Point, ok bool) {
	middle := r2.RectFromPoints(plate...).Center()
	for _, ring := range rings {
		for _, q := range ring {
			if !ok || q.Sub(middle).Norm() < best.Sub(middle).Norm() {
				best, ok = q, true
			}
		}
	}
	return best, ok
}
