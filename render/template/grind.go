package template

import (
	"fmt"
	"slices"
	"strings"

	"github.com/golang/geo/r2"

	"locksweep/geometry/clearance"
	"locksweep/geometry/grind"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/render/sheet"
	"locksweep/render/wording"
)

const (
	grindRoom  = 10.0 // kept about an outline, mm
	grindHead  = 16.0 // of the lines above it
	grindWidth = 62.0 // least of it, for the words
	grindBars  = 13.0 // depth of the check bars
	heedGap    = 0.6  // below each of the words that are to be heeded
	leastSpan  = 6.0  // of a depth that is drawn with arrowheads
)

// Grind draws the finished outlines at 1:1, to glue on the parts: as many to a sheet as fit, in the order of the cuts, turned
// where they fit only so; with the cautions on a sheet of their own where an outline needs their room, and cut into
// tiles where it needs more. The error says which outline would take more tiles than can be glued.
func Grind(p *grind.Plan, opt Options) ([][]byte, error) {
	if len(p.Cuts) == 0 {
		return nil, fmt.Errorf("there is nothing to draw: %s", wording.GrindAnswer(p))
	}
	sheets, err := grindSheets(p, opt)
	return sheet.Closed(sheets, opt.File), err
}

func grindSheets(p *grind.Plan, opt Options) ([]*sheet.Sheet, error) {
	g := grinding{p: p, opt: opt, cautions: true}
	sheets, full, err := g.sheets()
	if err == nil && full {
		g.cautions = false
		if sheets, _, err = g.sheets(); err == nil {
			sheets = append(sheets, g.cautionSheet())
		}
	}
	return sheets, err
}

// grinding is a template of finished outlines in the making.
type grinding struct {
	p        *grind.Plan
	opt      Options
	cautions bool // stand on every sheet
}

// laid is an outline and the paper that it has.
type laid struct {
	cut    *grind.Cut
	turned bool // forward is to the right
	room   r2.Rect
}

// sheets lays all outlines. full tells that one needs more room than the cautions leave.
func (g *grinding) sheets() (all []*sheet.Sheet, full bool, err error) {
	for rest := g.p.Cuts; len(rest) > 0; {
		s, room := g.open("", "")
		done := flow(rest, room)
		switch {
		case len(done) == 0 && g.cautions:
			return nil, true, nil
		case len(done) == 0:
			tiles, err := g.tiles(rest[0])
			if err != nil {
				return nil, false, err
			}
			all, rest = append(all, tiles...), rest[1:]
			continue
		}
		for i := range done {
			g.outline(s, &done[i], grindHead)
		}
		all, rest = append(all, s), rest[len(done):]
	}
	return all, false, nil
}

// open begins a sheet with its words and bars, and returns the room that they leave. head and more are said of this sheet alone.
func (g *grinding) open(head, more string) (*sheet.Sheet, r2.Rect) {
	s, room := newSheet(g.opt.Options, "Grind template, finished outline", g.p.Model.Setup, wording.Alarms(g.p.Model, &g.p.Before),
		"Finished outlines at full size, to glue on the parts. "+wording.GrindAnswer(g.p), 2)
	words := "Print at 100 %, measure both bars, cut out along the outer line, the old outline, and glue on " + g.registered() + " Grind the hatched metal to the thick line."
	if head != "" {
		s.Say(&room, sheet.Style{Height: sheet.Medium}, 0, head)
	}
	letters := sheet.Medium
	if !g.cautions {
		words, letters = words+" What to heed stands on the last sheet."+more, sheet.Small
	}
	s.Say(&room, sheet.Style{Height: letters}, heedGap, words)
	if g.cautions {
		g.heed(s, &room)
	}
	room.X.Lo += grindBars
	room.Y.Lo, room.Y.Hi = room.Y.Lo+2-heedGap, room.Y.Hi-grindBars
	return s, room
}

// registered tells what the paper is laid on by.
func (g *grinding) registered() string {
	switch cuts := g.p.Cuts; {
	case !slices.ContainsFunc(cuts, func(c *grind.Cut) bool { return !c.AroundKingpin() }):
		return "with the cross on the kingpin."
	case slices.ContainsFunc(cuts, (*grind.Cut).AtKingpin):
		return "edge on edge with the part. The cross is the middle of the kingpin, which faces are measured from."
	}
	return "edge on edge with the part."
}

// heed writes what comes off and what must be heeded at the head of a room, and takes its paper from that.
func (g *grinding) heed(s *sheet.Sheet, room *r2.Rect) {
	s.Say(room, sheet.Style{}, heedGap, wording.GrindAnswer(g.p))
	if text := wording.RootsTaken(g.p); text != "" {
		s.Say(room, sheet.Style{}, heedGap, wording.Capital(text)+".")
	}
	for _, text := range wording.GrindShouts(g.p) {
		s.Say(room, sheet.Style{Colour: sheet.Vermilion}, heedGap, text)
	}
	for _, text := range wording.GrindCautions {
		s.Say(room, sheet.Style{}, heedGap, "– "+text)
	}
}

// cautionSheet holds what must be heeded where the outlines take the room.
func (g *grinding) cautionSheet() *sheet.Sheet {
	s := wording.Sheet(g.opt.Options, "Before you grind", g.p.Model.Setup, wording.Alarms(g.p.Model, &g.p.Before), "What to heed before you grind.")
	room := s.Area().ExpandedByMargin(-edge)
	g.heed(s, &room)
	return s
}

// flow lays as many outlines as the room takes, in rows, upright or turned.
func flow(cuts []*grind.Cut, room r2.Rect) (list []laid) {
	at, row := room.Lo(), 0.0
	for _, c := range cuts {
		found := false
		for _, corner := range [2]r2.Point{at, {X: room.X.Lo, Y: at.Y + row}} {
			for _, turned := range [2]bool{false, true} {
				size := grindNeed(c, turned, grindHead)
				if part := sheet.Rect(corner.X, corner.Y, size.X, size.Y); !found && room.Contains(part) {
					if found = true; corner != at {
						row = 0
					}
					list = append(list, laid{c, turned, part})
					at, row = r2.Point{X: part.X.Hi, Y: corner.Y}, max(row, size.Y)
				}
			}
		}
		if !found {
			break
		}
	}
	return list
}

// grindNeed is the paper that an outline takes with the lines above it.
func grindNeed(c *grind.Cut, turned bool, head float64) r2.Point {
	size := c.Bounds().Size()
	if !turned { // forward is up the sheet
		size.X, size.Y = size.Y, size.X
	}
	return r2.Point{X: max(size.X+2*grindRoom, grindWidth), Y: size.Y + 2*grindRoom + head}
}

// tiles draws an outline over several sheets.
func (g *grinding) tiles(c *grind.Cut) (sheets []*sheet.Sheet, err error) {
	u, name := g.p.Model.Setup.Unit, wording.Piece(g.p.Model, c.Piece)
	paper := fitting(u, func(z sheet.Size) bool {
		other := grinding{p: g.p, opt: g.opt}
		other.opt.Paper = z
		_, room := other.open("", "")
		return len(flow([]*grind.Cut{c}, room)) > 0
	})
	head := setup.Printable(strings.ToUpper(name))
	said := onePiece(paper) + " " + strings.Join(g.about(c), "; ") + "."
	need := func(turned bool) r2.Point { return grindNeed(c, turned, 0) }
	open := func(head, more string) (*sheet.Sheet, r2.Rect) { return g.open(head, more+said) }
	sheets, _ = inTiles(head, need, open, func(whole *sheet.Sheet, turned bool) {
		g.outline(whole, &laid{c, turned, whole.Area()}, 0)
	})
	if sheets == nil {
		return nil, &largeError{u, "the outline of the " + name, g.opt.Paper, need(false), paper}
	}
	return sheets, nil
}

// about says what comes off an outline, what stays, and where its spindle came from.
func (g *grinding) about(c *grind.Cut) []string {
	u, piece := g.p.Model.Setup.Unit, &g.p.Model.Scene.Pieces[c.Piece]
	said := []string{wording.DepthOff(u, c), wording.WallShort(u, &c.Wall)}
	if piece.Sided && c.Part.On == setup.OnSpindle {
		said = append(said, hung(&g.p.Model.Setup.Rehung, false, piece.Side)...)
	}
	return said
}

// outline draws one outline as it is seen from above: forward up the sheet or to the right, outboard to its own side; with
// its lines above it where they have room, mm.
func (g *grinding) outline(s *sheet.Sheet, l *laid, above float64) {
	c := l.cut
	piece := &g.p.Model.Scene.Pieces[c.Piece]
	axes, name := l.seen(piece)
	frame := l.room
	frame.Y.Lo += above
	if above > 0 {
		g.heading(s, l, name)
	}
	v := s.NewPanel(frame, sheet.Centred(frame, c.Bounds(), axes, 1))
	for _, b := range c.Bites {
		v.Area(sheet.NoPen, sheet.Removed, b.Rings...)
	}
	v.Polygon(sheet.Visible, sheet.NoFill, c.Before...)
	v.Polygon(sheet.Wide, sheet.NoFill, c.After...)
	grindKingpin(v, c)
	across := grind.CornerRound(g.p.Model.Setup.Unit)
	for _, corner := range c.Corners {
		if c.Eased && corner.Drill {
			v.Circle(sheet.Thin, sheet.NoFill, corner.Hole, across/2)
			v.Cross(sheet.Thin, corner.Hole, across/2+1)
		}
	}
	within := frame.ExpandedByMargin(-0.5)
	g.depths(v, c, within)
	inscribed{v, c.After, within}.identity(g.identity(c, piece, name))
	for _, corner := range c.Corners {
		if c.Eased && corner.Drill {
			v.Label(sheet.Label{At: corner.Hole, Clear: across/2 + 1, Within: within, Lines: []string{wording.CornerDrill(g.p.Model.Setup.Unit), "first"}})
		}
	}
	if c.AtKingpin() {
		v.Label(sheet.Label{At: r2.Point{}, Clear: max(c.Part.Bore/2, 1), Within: within, Lines: []string{"kingpin"}})
	}
	inscribed{v, c.Before, within}.cutHere()
}

// identity is what stands on the outline of a piece.
func (g *grinding) identity(c *grind.Cut, piece *clearance.Piece, name string) identity {
	s := g.p.Model.Setup
	id := identity{which: setup.Printable(strings.ToUpper(name)), face: "THIS FACE UP", front: "FRONT", tyre: "LEFT", name: s.Name, with: wording.With(s), source: g.opt.Origin.Source}
	switch {
	case c.Part.On == setup.OnColumn:
		id.front = "DOWN"
	case piece.Sided:
		id.tyre = "TYRE"
	}
	return id
}

// seen is how an outline lies on the paper, and what it is called.
func (l *laid) seen(piece *clearance.Piece) (axes sheet.Axes, name string) {
	axes, name = sheet.FromAboveOn(piece.Sided && piece.Side == setup.Right), piece.Name
	if piece.Sided {
		name = strings.Replace(piece.Label(), piece.Side.String(), strings.ToUpper(piece.Side.String()), 1)
	}
	if l.turned {
		axes = axes.Turned()
	}
	return axes, name
}

// depths draws how deep the bites are, and marks the faces that are the stop, with the words on the paper that the outline has.
func (g *grinding) depths(v *sheet.Panel, c *grind.Cut, within r2.Rect) {
	u := g.p.Model.Setup.Unit
	say := func(at r2.Point, lines ...string) {
		v.Label(sheet.Label{At: at, Clear: 0.6, End: sheet.ArrowEnd, Within: within, Style: sheet.Style{Height: sheet.Fine}, Lines: lines})
	}
	for i := range c.Bites {
		b := &c.Bites[i]
		for _, d := range sweep.Directions {
			f := &c.Faces[d]
			if !b.Stops[d] || f.Line == nil {
				continue
			}
			ways := "turned " + d.String()
			if b.Stops == [2]bool{true, true} && f.Mark() == c.Faces[1-d].Mark() {
				if ways = "turned either way"; d == sweep.ToRight {
					continue // said already
				}
			}
			v.Polyline(sheet.Wide.In(sheet.Vermilion), f.Line...)
			v.Span(f.At[0], f.At[1], leastSpan)
			v.Dot(sheet.Vermilion, f.Mark(), 0.7)
			say(f.Mark(), wording.StopMark(u, f, ways)...)
		}
		if text := wording.DeepMark(u, c, b); text != "" {
			v.Span(b.At[0], b.At[1], leastSpan)
			say(b.At[0].Add(b.At[1]).Mul(0.5), text)
		}
	}
}

// heading writes what an outline is above it.
func (g *grinding) heading(s *sheet.Sheet, l *laid, name string) {
	at, most := r2.Point{X: l.room.X.Lo + 1, Y: l.room.Y.Lo + 3.5}, l.room.Size().X-2
	s.Text(at, sheet.E, sheet.Style{Height: sheet.Medium, Max: most}, setup.Printable(name))
	for i, line := range g.about(l.cut) {
		style, down := sheet.Style{Max: most}, 5+4*float64(i)
		if i > 1 {
			style.Height, down = sheet.Fine, 12.5+3.6*float64(i-2)
		}
		s.Text(r2.Point{X: at.X, Y: at.Y + down}, sheet.E, style, line)
	}
	s.Reserve(sheet.Rect(l.room.X.Lo, l.room.Y.Lo, l.room.Size().X, grindHead))
}

// grindKingpin draws the kingpin to register on.
func grindKingpin(v *sheet.Panel, c *grind.Cut) {
	if c.AtKingpin() {
		arm := 6.0
		if c.Part.Bore > 0 {
			v.Circle(sheet.Visible, sheet.NoFill, r2.Point{}, c.Part.Bore/2)
			arm = c.Part.Bore/2 + 4
		}
		v.Cross(sheet.Centre, r2.Point{}, arm)
	}
}
