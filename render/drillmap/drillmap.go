// Package drillmap draws what a search for a hole has found over the metal: contours of one figure, where no
// hole may go, the holes that are there, today's and the best places. It lays out what geometry/drill has found.
package drillmap

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"github.com/golang/geo/r2"

	"locksweep/geometry/drill"
	"locksweep/geometry/setup"
	"locksweep/render/sheet"
	"locksweep/render/wording"
)

// Sheet draws a map on one sheet. The error says that there is no such map.
func Sheet(r *drill.Result, figure drill.Figure, opt sheet.Options) (*sheet.Sheet, error) {
	m, err := r.Map(figure)
	if err != nil {
		return nil, err
	}
	what := title(r, figure)
	s := wording.Sheet(opt, what, r.Setup, wording.Alarmed(r.Today), what+" of "+r.Setup.Name+". "+described(r, m))
	d := &drawing{r: r, m: m, sheet: s}
	d.place()
	d.tints()
	d.metal()
	d.lines()
	d.places()
	return s, nil
}

type drawing struct {
	r     *drill.Result
	m     *drill.Map
	sheet *sheet.Sheet
	view  *sheet.Panel

	values []r2.Point // where contours carry theirs
}

// What is hatched: where a hole has no room, and where it has, but would not do.
var (
	noRoom = sheet.Fill{Hatch: sheet.Hatch{Angle: 45, Spacing: 1.6}}
	noGood = sheet.Fill{Hatch: sheet.Hatch{Angle: 135, Spacing: 2.4}}
)

// margin is kept round the metal for labels, mm.
const margin = 16.0

// place writes the words and settles how the metal lies below them: a steering arm as seen from above, a drop arm as the driver
// sees it.
func (d *drawing) place() {
	room := d.sheet.Area().ExpandedByMargin(-3)
	room.Y.Lo++
	words := r2.Rect{X: room.X.Expanded(-2), Y: room.Y}
	d.sheet.Say(&words, sheet.Style{}, 1, legend(d.r, d.m))
	for _, one := range samples(d.r, d.m) {
		d.sheet.Polygon(sheet.Thin, one.fill, sheet.Corners(sheet.Rect(words.X.Lo, words.Y.Lo, sheet.SampleWide, sheet.SampleHigh))...)
		beside := words
		beside.X.Lo += sheet.SampleWide + sheet.SampleGap
		d.sheet.Say(&beside, sheet.Style{}, 1, one.text)
		words.Y.Lo = beside.Y.Lo
	}
	room.Y.Lo = words.Y.Lo + 1
	size, inner := d.m.Bounds.Size(), room.ExpandedByMargin(-margin).Size()
	d.sheet.Scale = sheet.FitScaleUpTo(5, size.Y, size.X, inner.X, inner.Y)
	axes := sheet.FromAbove
	if d.m.Metal.Drop {
		axes = sheet.DownColumn
	}
	d.view = d.sheet.NewPanel(room, sheet.Centred(room, d.m.Bounds, axes, d.sheet.Scale))
}

// tints fills from a pale to a middle tint, darker for better, and covers what reaches past the metal.
func (d *drawing) tints() {
	n := len(d.m.Levels) + 2
	tint := func(band int) sheet.Fill { return sheet.Step(d.m.Good[band]+1, n) }
	d.view.Area(sheet.NoPen, tint(0), d.m.Known...)
	for i, c := range d.m.Above {
		d.view.Area(sheet.NoPen, tint(i+1), c.Lines...)
	}
	if len(d.m.Unfit) > 0 {
		d.view.Area(sheet.NoPen, noGood, d.m.Unfit...)
	}
	far := sheet.Corners(d.m.Bounds.ExpandedByMargin(1000))
	d.view.Area(sheet.NoPen, sheet.Paper, append([][]r2.Point{far}, d.m.Around...)...)
}

// lines draws the contours with their values on them.
func (d *drawing) lines() {
	for _, c := range d.m.Lines {
		longest, length := []r2.Point(nil), 0.0
		for _, line := range c.Lines {
			d.view.Polyline(sheet.Thin, line...)
			if l := along(line); l > length {
				longest, length = line, l
			}
		}
		if length*float64(d.sheet.Scale) > 6 {
			d.value(longest, length, figure(c.Value, d.m.Levels))
		}
	}
}

// value writes a contour's value on its longest line, of a length in mm of metal, where it keeps off the other values and the
// places; nowhere if there is no such spot.
func (d *drawing) value(line []r2.Point, length float64, text string) {
	for _, share := range []float64{0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9} {
		at := pointAlong(line, share*length)
		free := !slices.ContainsFunc(d.values, func(o r2.Point) bool {
			off := d.view.At(o).Sub(d.view.At(at))
			return math.Abs(off.X) < 7 && math.Abs(off.Y) < 3
		})
		for i := range d.r.Best { // a place is to be seen, and its number
			free = free && d.view.At(d.at(&d.r.Best[i].Place)).Sub(d.view.At(at)).Norm() > d.view.View.Length(d.r.Options.Diameter/2)+4
		}
		if free {
			d.values = append(d.values, at)
			d.view.Text(at, sheet.Over, sheet.Style{Height: sheet.Fine, Halo: true}, text)
			return
		}
	}
}

func along(line []r2.Point) (length float64) {
	for i := 1; i < len(line); i++ {
		length += line[i].Sub(line[i-1]).Norm()
	}
	return length
}

// pointAlong is the point of a line at a length from its beginning.
func pointAlong(line []r2.Point, left float64) r2.Point {
	for i := 1; i < len(line); i++ {
		step := line[i].Sub(line[i-1])
		if l := step.Norm(); l >= left && l > 0 {
			return line[i-1].Add(step.Mul(left / l))
		}
		left -= step.Norm()
	}
	return line[len(line)-1]
}

// figure writes a level with as many decimals as tell it from the next.
func figure(v float64, levels []float64) string {
	decimals := 0
	if len(levels) > 1 {
		decimals = max(0, int(math.Ceil(-math.Log10(levels[1]-levels[0])-1e-9)))
	}
	return wording.Fixed(v, min(decimals, 3))
}

// metal draws the arm, where no hole may go, and the holes that are there.
func (d *drawing) metal() {
	d.view.Circle(sheet.NoPen, sheet.Paper, r2.Point{}, d.m.Metal.LeastLever)
	d.view.Area(sheet.Thin, noRoom, d.m.Forbidden...)
	for _, line := range d.m.OneHole {
		d.view.Polyline(sheet.Centre, line...)
	}
	pen := sheet.Visible
	if len(d.m.Metal.Outline) == 0 {
		pen = sheet.Phantom // a square that stands for metal that is not given
	}
	d.view.Area(pen, sheet.NoFill, d.m.Around...)
	for _, h := range d.m.Metal.Holes {
		d.view.Circle(sheet.Visible, sheet.Paper, h.At, h.Diameter/2)
		d.view.Cross(sheet.Centre, h.At, d.view.View.Length(h.Diameter/2)+2)
	}
	if d.view.Rect.ContainsPoint(d.view.At(r2.Point{})) {
		d.view.Cross(sheet.Centre, r2.Point{}, 4)
		axis := "kingpin axis"
		if d.m.Metal.Drop {
			axis = "column axis"
		}
		d.view.Label(sheet.Label{Clear: 1, End: sheet.ArrowEnd, Style: sheet.Style{Height: sheet.Fine}, Lines: []string{axis}})
	}
}

// places marks today's place and the best ones.
func (d *drawing) places() {
	d.view.Cross(sheet.Thin, d.at(&d.r.Current.Place), 2)
	d.view.Label(sheet.Label{At: d.at(&d.r.Current.Place), Clear: 1, End: sheet.ArrowEnd, Lines: []string{"today"}})
	for i := range d.r.Best {
		p := &d.r.Best[i].Place
		at := d.at(p)
		d.view.Circle(sheet.Wide, sheet.NoFill, at, d.r.Options.Diameter/2)
		d.view.Cross(sheet.Visible, at, 2.4)
		d.view.Balloon(at, strconv.Itoa(i+1), sheet.E, sheet.W, sheet.NE, sheet.NW, sheet.SE, sheet.SW, sheet.N, sheet.S)
	}
}

// at is where a place's left ball lies in the plane of the metal.
func (d *drawing) at(p *drill.Place) r2.Point {
	ball := p.Pickups[setup.Left]
	if d.r.On == drill.Link {
		ball = p.Link
	}
	if d.m.Metal.Drop {
		ball = p.Pins[setup.Left]
	}
	return d.m.Metal.Plane(r2.Point{X: ball.X, Y: ball.Y})
}

func title(r *drill.Result, figure drill.Figure) string {
	hole := "Left arm from above: "
	if r.Metals[0].Side == setup.Right {
		hole = "Right arm from above: "
	}
	if r.On == drill.DropArm {
		hole = "Drop arm from behind: "
	}
	lock := "lock"
	if r.Aims.Cut {
		lock = "lock without stops"
	}
	return hole + [4]string{
		drill.LockFigure:         lock,
		drill.ErrorFigure:        "Ackermann error",
		drill.RatioFigure:        "ratio",
		drill.TransmissionFigure: "leverage",
	}[figure]
}

// holeHere says of which hole a place of the map is told, and what of the others.
func holeHere(r *drill.Result) string {
	of := "if the tie rod's hole is here, the right arm its mirror image"
	switch {
	case r.Options.Each:
		of = "if the left rod's hole is here and the right one's where it is today"
	case r.On == drill.Link || r.On == drill.DropArm && r.Setup.OnePin():
		of = "if the drag link's hole is here"
	case r.On == drill.DropArm:
		of = "if the left rod's hole is here, the right one's its mirror image"
	}
	if r.Aims.Cut {
		of += ", as if all that may be ground were gone"
	}
	return of
}

// darker says what the darker tints are.
func darker(r *drill.Result, m *drill.Map) string {
	switch {
	case m.Figure != drill.RatioFigure:
		return "Darker is better"
	case r.Aims.Ratio > 0:
		return "Darker is better: nearer to the " + wording.Ratio(m.Wanted) + " wanted"
	}
	return "Darker is better: nearer to today's " + wording.Ratio(m.Wanted)
}

// sample is one way of filling with what it stands for.
type sample struct {
	fill sheet.Fill
	text string
}

// samples is what the map is filled with beside its tints.
func samples(r *drill.Result, m *drill.Map) []sample {
	list := []sample{{noRoom, fmt.Sprintf("No hole of %s here: less than %s diameters to the edge, %s to another hole, or too near the axis.",
		wording.Drill(r.Setup.Unit, r.Options.Diameter), wording.Fixed(r.Options.Edge, 1), wording.Fixed(r.Options.Web, 1))}}
	if len(m.Unfit) > 0 {
		off := ""
		if slip := r.Options.Slip; slip > 0 {
			off = ", with the hole up to " + wording.Length(r.Setup.Unit, slip) + " off"
		}
		list = append(list, sample{noGood, "Out of the question: no stop would hold in time, something would come nearer than " + wording.GapWanted(r) + " or touch first, or it would steer wrong" + off + "."})
	}
	return append(list, sample{sheet.Paper, "It does not assemble, or metal would touch straight ahead."})
}

// described says in words all that the map shows, to whoever cannot see it.
func described(r *drill.Result, m *drill.Map) string {
	text := legend(r, m)
	for _, one := range samples(r, m) {
		text += " " + one.text
	}
	return text
}

// legend says what the map shows.
func legend(r *drill.Result, m *drill.Map) string {
	says := [4]string{
		drill.LockFigure:         "Degrees that the inner wheel turns at the lesser lock, with every contact",
		drill.ErrorFigure:        "Degrees that the inner wheel is off " + wording.Percent(r.Aims.Percent) + " Ackermann at most",
		drill.RatioFigure:        "Turn of the wheels per turn of the steering wheel, at centre",
		drill.TransmissionFigure: "Least leverage (transmission angle) up to the lock wanted, degrees",
	}[m.Figure]
	of := holeHere(r)
	if r.Aims.Cut && m.Figure == drill.LockFigure {
		of += "; ground so that a stop is left it turns less, which the report tells of each place"
	}
	seen := "Seen along the kingpin from above, forward is up."
	if r.On == drill.DropArm {
		seen = "Seen along the column by the driver."
	}
	text := fmt.Sprintf("%s, %s. %s %s.", says, of, seen, darker(r, m))
	if len(m.Levels) == 0 {
		text += " All over the metal it is the same, as near as can be told."
	}
	if len(m.OneHole) > 0 {
		text += " On the chain line in it one hole may take both rods."
	}
	if len(r.Best) > 0 {
		text += " Numbers: the places of the report."
	}
	return text
}
