package compareview

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"locksweep/geometry/compare"
	"locksweep/geometry/plan"
	"locksweep/geometry/road"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/render/chart"
	"locksweep/render/sheet"
	"locksweep/render/wording"
)

// mostSlides is how many setups stand on one drawing of slides.
const mostSlides = 4

// Slide draws each of the first setups held in a slide on a path to one side: the path going up the sheet, the
// body, both front wheels with their axle lines, and the centre of the path. A setup whose locks do not hold the
// angle is drawn in the greatest slide that it holds.
func Slide(c *compare.Comparison, d sweep.Direction, angle s1.Angle, opt sheet.Options) (*sheet.Sheet, error) {
	slides, err := slidesOf(c, d, angle)
	if err != nil {
		return nil, err
	}
	var titles []string
	ground := r2.EmptyRect()
	for _, v := range slides {
		titles, ground = append(titles, v.e.Name), ground.Union(v.ground)
	}
	words := fmt.Sprintf("On a path to the %s of %s radius, of the rear axle's middle; %s. The steering wheel is held so that the slips of both front wheels add up to nought. "+
		"A wheel rolls free where its axle line meets the centre of the path. Kinematics only: rigid tyres, flat ground, a steady slide.", d, unit(c).Say(c.Path.Radius), wording.FrontWheels(c.Path))
	if missing := notDrawn(c, slides); len(missing) > 0 {
		words += " Not drawn: " + wording.Listed(missing, wording.Letter) + "."
	}
	if len(slides) > mostHeld {
		words += fmt.Sprintf(" With no more than %d setups the slide at lock is drawn too, over the radius of the path.", mostHeld)
	}
	s, room := begin(c, opt, loud(c), slideTitle(slides, angle), strings.Join(titles, " / "), words)
	if len(slides) <= mostHeld {
		if room, err = heldCurves(s, room, slides, c.Path, unit(c)); err != nil {
			return nil, err
		}
	}
	rects, heads, scale := slidePlaces(slides, room, ground)
	s.Scale = scale
	for i := range slides {
		slides[i].draw(s, rects[i], heads, ground, scale)
	}
	return s, nil
}

// notDrawn lists the setups of a comparison that are not among slides.
func notDrawn(c *compare.Comparison, slides []slide) (entries []int) {
	for i := range c.Entries {
		if !slices.ContainsFunc(slides, func(v slide) bool { return v.e == &c.Entries[i] }) {
			entries = append(entries, i)
		}
	}
	return entries
}

// slidesOf takes from the geometry the first setups that hold a slide on the path.
func slidesOf(c *compare.Comparison, d sweep.Direction, angle s1.Angle) (slides []slide, err error) {
	for i := range c.Entries {
		p, ok := c.Entries[i].SlideAt(c.Path, d, angle)
		if !ok || len(slides) == mostSlides {
			continue
		}
		v := slide{e: &c.Entries[i], p: p, turn: d, wanted: angle, unit: unit(c)}
		if len(c.Entries) > 1 {
			v.letter = wording.Letter(i)
		}
		if err := v.see(); err != nil {
			return nil, err
		}
		slides = append(slides, v)
	}
	if len(slides) == 0 {
		return nil, fmt.Errorf("none of the setups holds any slide on a path of %s radius", unit(c).Say(c.Path.Radius))
	}
	return slides, nil
}

// slideTitle names the angles that are drawn, and the one asked for where none of them is that.
func slideTitle(slides []slide, wanted s1.Angle) string {
	least, most := slides[0].p.Slide.Angle, slides[0].p.Slide.Angle
	for i := range slides {
		least, most = min(least, slides[i].p.Slide.Angle), max(most, slides[i].p.Slide.Angle)
	}
	title := "Held in a slide of " + wording.Angle(most)
	if wording.Angle(least) != wording.Angle(most) {
		title = "Held in slides of " + wording.Angle(least) + " to " + wording.Angle(most)
	}
	if wording.Angle(most) != wording.Angle(wanted) {
		title += ", " + wording.Angle(wanted) + " asked for"
	}
	return title
}

// Paper taken by the name above each slide, and from there to the drawing, mm.
const (
	slideName  = 6.0
	slideWords = 20.0
	slideLine  = 1.7 * sheet.Small // of each line
)

// slidePlaces splits the room so that the scale is the largest, with heads of paper above each slide for words.
func slidePlaces(slides []slide, room r2.Rect, ground r2.Rect) (rects []r2.Rect, heads float64, scale sheet.Scale) {
	n := len(slides)
	for columns := 1; columns <= n; columns++ {
		split := sheet.Split(room, columns, (n+columns-1)/columns, gap)
		size := split[0].Size()
		most := slideWords
		for i := range slides {
			lines := len(sheet.Wrap(slides[i].text(), sheet.Small, size.X))
			most = max(most, slideName+slideLine*float64(lines)+1)
		}
		if s := sheet.FitScale(ground.Size().Y, ground.Size().X, size.X-2, size.Y-most); s > scale {
			rects, heads, scale = split, most, s
		}
	}
	return rects, heads, scale
}

// slide is one setup in its slide. Points are seen from above with the origin at the middle of the rear axle and
// x along the path.
type slide struct {
	e      *compare.Entry
	p      sweep.SlidePose
	turn   sweep.Direction
	wanted s1.Angle
	letter string // in the comparison; empty where that is of one alone
	unit   setup.Unit

	pieces []outline
	centre r2.Point
	ground r2.Rect
}

type outline struct {
	rings [][]r2.Point
	frame bool
}

// onPath turns a point of the vehicle, seen from above, into the axes of the path.
func (v *slide) onPath(p r2.Point) r2.Point {
	sin, cos := math.Sincos(v.turn.Sign() * float64(v.p.Slide.Angle))
	x, y := p.X+v.e.Setup.Vehicle.Wheelbase, p.Y
	return r2.Point{X: x*cos - y*sin, Y: x*sin + y*cos}
}

// see takes what is drawn from the geometry.
func (v *slide) see() error {
	r := v.e.Result
	v.centre = v.onPath(r.Road.Centre(v.p.Slide))
	behind, ahead := v.pathShown()
	v.ground = r2.RectFromPoints(v.centre, r2.Point{X: ahead}, r2.Point{X: -behind})
	for i := range r.Scene.Pieces {
		rings, err := plan.Silhouette(r.Scene, i, &v.p.Pose.Pose)
		if err != nil {
			return err
		}
		for _, ring := range rings {
			for k := range ring {
				ring[k] = v.onPath(ring[k])
				v.ground = v.ground.AddPoint(ring[k])
			}
		}
		v.pieces = append(v.pieces, outline{rings, r.Scene.Pieces[i].Part != nil})
	}
	return nil
}

// draw draws the slide into a rectangle of paper.
func (v *slide) draw(s *sheet.Sheet, rect r2.Rect, heads float64, ground r2.Rect, scale sheet.Scale) {
	v.words(s, rect)
	body := rect
	body.Y.Lo += heads
	panel := s.NewPanel(body, sheet.Centred(body, ground, sheet.FromAbove, scale))
	v.path(panel, rect)
	for _, p := range v.pieces {
		pen := sheet.Pen{Width: 0.35}
		if p.frame {
			pen = sheet.Pen{Width: 0.18, Colour: sheet.Grey}
		}
		panel.Area(pen, sheet.NoFill, p.rings...)
	}
	v.axles(panel, rect)
	v.angle(panel)
}

// words says above a slide what it shows. The angle stands before the name, which may be cut.
func (v *slide) words(s *sheet.Sheet, rect r2.Rect) {
	title := v.e.Name
	if v.letter != "" {
		title = v.letter + "  " + title
	}
	if v.p.Slide.Angle < v.wanted-1e-9 {
		title = "no more than " + wording.Angle(v.p.Slide.Angle) + ": " + title
	}
	s.Text(r2.Point{X: rect.X.Lo, Y: rect.Y.Lo + 2}, sheet.E, sheet.Style{Height: sheet.Medium, Max: rect.Size().X}, title)
	s.Paragraph(r2.Point{X: rect.X.Lo, Y: rect.Y.Lo + slideName}, rect.Size().X, sheet.Style{}, v.text())
}

// text says how the front wheels stand.
func (v *slide) text() string {
	p := &v.p
	inside, outside := setup.Side(v.turn), setup.Side(v.turn).Other()
	wheel := func(name string, side setup.Side) string {
		return fmt.Sprintf("%s (%s) wheel %s, free at %s", name, side, wording.Way(p.Wheels[side].Steer), wording.Way(p.Free[side]))
	}
	text := "steering wheel " + wording.Way(p.Column) + "; " + wheel("inside", inside) + "; " + wheel("outside", outside) + "; "
	switch splay := wording.Angle(p.Apart.Abs()); {
	case splay == "0.0°":
		text += "both roll free"
	case p.Apart > 0:
		text += "they splay (open in front) by " + splay
	default:
		text += "they pinch (closed in front) by " + splay
	}
	return text
}

// pathShown is how much of the path is drawn behind and before the rear axle's middle, mm.
func (v *slide) pathShown() (behind, ahead float64) {
	return 0.6 * v.e.Setup.Vehicle.Wheelbase, 1.35 * v.e.Setup.Vehicle.Wheelbase
}

// path draws the way that the rear axle's middle goes, its centre and its radius.
func (v *slide) path(panel *sheet.Panel, within r2.Rect) {
	radius := v.centre.Norm()
	at := s1.Angle(math.Atan2(-v.centre.Y, -v.centre.X))
	behind, ahead := v.pathShown()
	way := v.turn.Sign() / radius
	panel.Arc(sheet.Phantom, v.centre, radius, at-s1.Angle(behind*way), at+s1.Angle(ahead*way))
	on := func(by float64) r2.Point {
		sin, cos := math.Sincos(float64(at) + by*way)
		return v.centre.Add(r2.Point{X: radius * cos, Y: radius * sin})
	}
	panel.Arrow(sheet.Thin, on(0.97*ahead), on(ahead))
	panel.Line(sheet.Centre, v.centre, r2.Point{})
	panel.Cross(sheet.Visible, v.centre, 2.5)
	panel.Label(sheet.Label{At: v.centre, Within: within, Clear: 3, Lines: []string{"centre of the path"}, Prefer: []sheet.Dir{sheet.S, sheet.N, sheet.SE, sheet.SW}})
	panel.Label(sheet.Label{At: v.centre.Mul(0.5), Within: within, Clear: 0.5, Lines: []string{"R " + v.unit.Say(v.p.Radius)}, Prefer: []sheet.Dir{sheet.S, sheet.N}})
}

// axlePens tell the wheel inside the turn from the one outside.
var axlePens = [2]sheet.Pen{{Width: 0.35, Colour: sheet.Blue}, {Width: 0.35, Line: sheet.Dashed, Colour: sheet.Vermilion}}

// axles draws the axle lines of both front wheels as far as they go beside the centre, and the rear axle's.
func (v *slide) axles(panel *sheet.Panel, within r2.Rect) {
	rear := [2]r2.Point{}
	for i, y := range [2]float64{-1, 1} {
		rear[i] = v.onPath(r2.Point{X: -v.e.Setup.Vehicle.Wheelbase, Y: y * v.e.Setup.Vehicle.RearTrack / 2})
	}
	panel.Line(sheet.Thin, rear[0], rear[1])
	front := v.onPath(r2.Point{})
	panel.Line(sheet.Centre, r2.Point{}, front.Mul(1.3))
	for side := range v.p.Wheels {
		w := &v.p.Wheels[side]
		from := v.onPath(flat(w.Stub))
		along := v.onPath(flat(w.Stub.Add(w.Leftward))).Sub(from)
		reach := v.centre.Sub(from).Dot(along) / along.Dot(along)
		beyond := math.Copysign(0.06*math.Abs(reach), reach)
		k := 0
		name := "inside"
		if setup.Side(side) != setup.Side(v.turn) {
			k, name = 1, "outside"
		}
		panel.Line(axlePens[k], from, from.Add(along.Mul(reach+beyond)))
		panel.Label(sheet.Label{At: from.Add(along.Mul([2]float64{0.3, 0.6}[k] * reach)), Within: within, Clear: 0.5, Style: sheet.Style{Colour: axlePens[k].Colour},
			Lines: []string{name + " wheel's axle line"}, Prefer: [][]sheet.Dir{{sheet.S, sheet.SW, sheet.SE}, {sheet.N, sheet.NW, sheet.NE}}[k]})
	}
}

// angle draws the slide angle between path and body.
func (v *slide) angle(panel *sheet.Panel) {
	beta := v.p.Slide.Angle
	if beta < 2*s1.Degree {
		return
	}
	panel.Line(sheet.Thin, r2.Point{}, r2.Point{X: 1.25 * v.e.Setup.Vehicle.Wheelbase})
	panel.DimAngle(r2.Point{}, panel.View.Length(1.15*v.e.Setup.Vehicle.Wheelbase), 0, s1.Angle(v.turn.Sign())*beta, wording.Angle(beta))
}

// mostHeld is how many setups leave room for heldCurves.
const mostHeld = 2

// heldHeight is the paper that the charts of heldCurves take, mm.
const heldHeight = 46.0

// heldCurves draws, at the foot of the room, in what slide each front wheel rolls free with the steering at the lock against the
// turn, over the radius of the path, and returns the room above: of one setup both wheels in one chart, of several a chart for
// each wheel.
func heldCurves(s *sheet.Sheet, room r2.Rect, slides []slide, path road.Slide, u setup.Unit) (r2.Rect, error) {
	path.Turn = slides[0].turn.Sign()
	sides := [2]setup.Side{path.Outside().Other(), path.Outside()}
	wheels := [2]string{"inside wheel", "outside wheel"}
	title := wording.SlideAtLock
	charts := []chart.Chart{heldChart(title+", "+wheels[0], u), heldChart(title+", "+wheels[1], u)}
	for k, side := range sides {
		for i := range slides {
			name := slides[i].letter
			if len(slides) == 1 {
				name = wheels[k]
			}
			charts[k].Curves = append(charts[k].Curves, chart.Curve{Name: name, Points: held(slides[i].e.Result, path, side, u)})
		}
	}
	if len(slides) == 1 {
		charts[0].Title, charts[0].Curves = title, append(charts[0].Curves, charts[1].Curves...)
		charts = charts[:1]
	}
	foot := room
	foot.Y.Lo = room.Y.Hi - heldHeight
	room.Y.Hi = foot.Y.Lo - gap
	return room, chart.DrawAll(s, sheet.Split(foot, len(charts), 1, gap), charts...)
}

// heldChart is a chart of slide angles over radii without its curves.
func heldChart(title string, u setup.Unit) chart.Chart {
	unit := "m"
	if u == setup.Inch {
		unit = "in"
	}
	return chart.Chart{Title: title, X: chart.Axis{Label: "radius of the path", Unit: unit}, Y: chart.Axis{Label: "slide angle", Unit: "°", Min: 0, Max: 90}}
}

// held returns the slide angle, degrees, that a wheel holds at the lock, over the radius of the path, metres or inches.
func held(r *sweep.Result, path road.Slide, side setup.Side, u setup.Unit) (points []r2.Point) {
	for _, on := range r.HeldOver(path, sweep.SlideRadii(u)) {
		x := on.Radius / 1000
		if u == setup.Inch {
			x = u.FromMM(on.Radius)
		}
		points = append(points, r2.Point{X: x, Y: s1.Angle(on.Held[side]).Degrees()})
	}
	return points
}
