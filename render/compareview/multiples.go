package compareview

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/golang/geo/r2"

	"locksweep/geometry/compare"
	"locksweep/geometry/setup"
	"locksweep/render/chart"
	"locksweep/render/sheet"
	"locksweep/render/wording"
)

// Varied draws figures of a setup with one value varied, each as a small chart over the value, or with two
// varied, each as a map. Entries are in the order of the first axis, and for each value of it in the
// order of the second.
func Varied(c *compare.Comparison, axes []compare.Axis, keys []string, name string, opt sheet.Options) (*sheet.Sheet, error) {
	var varied []string
	for _, a := range axes {
		varied = append(varied, a.Key)
	}
	words := "Values as in the setup file, in " + wording.SpelledUnit(unit(c)) + " or degrees. Slides on a path of " + wording.Path(unit(c), c.Path) + "."
	if today := today(axes, unit(c)); today != "" {
		words += " Today: " + today + "."
	}
	draw := small
	if len(axes) == 2 {
		words += " Of left and right the worse is shown; darker is more; * best of those that are sound; hatched: cannot be swept or has none."
		draw = mapped
	}
	s, room := begin(c, opt, wording.CountedAlarms(c), "Varied: "+strings.Join(varied, " and "), name, words)
	columns := columnsFor(len(keys), room.Size())
	for i, rect := range sheet.Split(room, columns, (len(keys)+columns-1)/columns, gap+2) {
		if i == len(keys) {
			break
		}
		if err := draw(s, rect, c, axes, c.Find(keys[i]), unit(c)); err != nil {
			return nil, err
		}
	}
	return s, nil
}

// columnsFor makes what is plotted as near square as the room allows, and leaves few places empty.
func columnsFor(n int, room r2.Point) (best int) {
	const names, titles = 25.0, 26.0 // paper that a picture takes beside and above what it plots, mm
	worst := math.Inf(1)
	for columns := 1; columns <= n; columns++ {
		rows := (n + columns - 1) / columns
		wide, high := room.X/float64(columns)-names, room.Y/float64(rows)-titles
		if off := math.Abs(math.Log(wide/high)) + 0.1*float64(columns*rows-n); wide > 0 && high > 0 && off < worst {
			worst, best = off, columns
		}
	}
	return max(best, 1)
}

// small draws one figure over the one value that is varied.
func small(s *sheet.Sheet, rect r2.Rect, c *compare.Comparison, axes []compare.Axis, row *compare.Row, u setup.Unit) error {
	a := axes[0]
	curve := func(name string, side int) chart.Curve {
		points := make([]r2.Point, len(a.Values))
		for i, v := range a.Values {
			points[i] = r2.Point{X: v, Y: wording.FigureValue(u, row.Kind, row.Values[i][side])}
		}
		return chart.Curve{Name: name, Points: points}
	}
	f := chart.Chart{
		X: chart.Axis{Label: setup.Printable(a.Key), Unit: unitOf(a, u)},
		Y: chart.Axis{Label: wording.FigureNamed(row.Key).Title, Unit: figureUnit(u, row.Kind)},
	}
	if a.Today >= slices.Min(a.Values) && a.Today <= slices.Max(a.Values) {
		f.Lines = []chart.Line{{X: a.Today, Text: "today"}}
	}
	if row.Split == compare.Single || row.Alike(nil) {
		f.Curves = []chart.Curve{curve("", 0)}
	} else {
		f.Curves = []chart.Curve{curve("left", 0), curve("right", 1)}
	}
	return f.Draw(s, rect)
}

// figureUnit is the unit of a figure for the title of an axis.
func figureUnit(u setup.Unit, k compare.Kind) string {
	return cmp.Or([7]string{compare.Ratio: "wheel per steering wheel", compare.Turns: "turns"}[k], wording.FigureUnit(u, k))
}

// unitOf is the unit of a varied value; empty where it has none, or is a change that may be of either kind.
func unitOf(a compare.Axis, u setup.Unit) string {
	return map[setup.Quantity]string{setup.OfLength: u.String(), setup.OfAngle: "°", setup.OfDensity: "kg/m³"}[a.Quantity]
}

// today says what the varied values are in the setup as it stands.
func today(axes []compare.Axis, u setup.Unit) string {
	var said []string
	for _, a := range axes {
		if !math.IsNaN(a.Today) {
			said = append(said, setup.Printable(a.Key)+" "+withUnit(strconv.FormatFloat(a.Today+0, 'g', figureDigits, 64), unitOf(a, u)))
		}
	}
	return strings.Join(said, ", ")
}

// withUnit puts a unit behind a figure, a degree sign close to it.
func withUnit(figure, unit string) string {
	if unit == "" || unit == "°" {
		return figure + unit
	}
	return figure + " " + unit
}

// figureDigits are those of a value of the setup file beside a drawing.
const figureDigits = 5

// Distances on paper of a map, mm.
const (
	mapTitle   = 16.0
	mapLabels  = 12.0
	mapFigures = 14.0 // below: the values across, and what the tints stand for
	leastCell  = 1.5
	mapSteps   = 7
)

// mapped draws one figure over both values that are varied: the first down, the second across.
func mapped(s *sheet.Sheet, rect r2.Rect, c *compare.Comparison, axes []compare.Axis, row *compare.Row, u setup.Unit) error {
	down, across := axes[0], axes[1]
	title := wording.InUnit(wording.FigureNamed(row.Key).Title, wording.FigureUnit(u, row.Kind))
	s.Text(r2.Point{X: rect.X.Lo, Y: rect.Y.Lo + 3}, sheet.E, sheet.Style{Height: sheet.Medium, Max: rect.Size().X}, title)
	for i, a := range axes {
		key := wording.InUnit([2]string{"down: ", "across: "}[i]+setup.Printable(a.Key), unitOf(a, u))
		style := sheet.Style{Height: sheet.LettersFor(key, rect.Size().X, sheet.Small, sheet.Fine), Max: rect.Size().X}
		s.Text(r2.Point{X: rect.X.Lo, Y: rect.Y.Lo + 8.5 + 4*float64(i)}, sheet.E, style, key)
	}
	body := sheet.Rect(rect.X.Lo+mapLabels, rect.Y.Lo+mapTitle, rect.Size().X-mapLabels, rect.Size().Y-mapTitle-mapFigures)
	w, h := body.Size().X/float64(len(across.Values)), body.Size().Y/float64(len(down.Values))
	if !(w >= leastCell && h >= leastCell) {
		return fmt.Errorf("a map of %d by %d values is too fine for its %.0f by %.0f mm of paper; ask for fewer values or figures",
			len(down.Values), len(across.Values), body.Size().X, body.Size().Y)
	}
	low, high := cells(s, body, row, u, len(across.Values), r2.Point{X: w, Y: h})
	ticks(s, body, down.Values, across.Values)
	if low != high {
		tints(s, body, low, high)
	}
	return nil
}

// cells draws the cells of a map, so many across and each of a size, and returns its least and its greatest figure as printed.
func cells(s *sheet.Sheet, body r2.Rect, row *compare.Row, u setup.Unit, across int, size r2.Point) (least, greatest string) {
	values, best := row.Worse()
	shown := make([]float64, len(values)) // as printed, so that cells of one figure have one tint
	for i, v := range values {
		shown[i] = printed(u, row.Kind, v)
	}
	low, high := chart.Span(shown)
	height := lettering(values, best, row.Kind, u, size.X, size.Y)
	for at, v := range values {
		cell := sheet.Rect(body.X.Lo+float64(at%across)*size.X, body.Y.Lo+float64(at/across)*size.Y, size.X, size.Y)
		if math.IsNaN(v) {
			s.Polygon(sheet.Grid, sheet.Fill{Hatch: sheet.Hatch{Angle: 45, Spacing: 1.5}}, sheet.Corners(cell)...)
			continue
		}
		s.Polygon(sheet.Grid, sheet.Step(step(shown[at], low, high), mapSteps), sheet.Corners(cell)...)
		if height > 0 {
			s.Text(cell.Center(), sheet.Over, sheet.Style{Height: height}, cellText(v, best[at], row.Kind, u))
		}
	}
	if !(low < high) {
		return "", ""
	}
	text := func(v float64) string { return wording.Compared(u, row.Kind, values[slices.Index(shown, v)]) }
	return text(low), text(high)
}

// printed is a value of a map's cell rounded as it is printed, in the unit of FigureValue; unrounded where the print is no plain number.
func printed(u setup.Unit, k compare.Kind, v float64) float64 {
	if shown, err := strconv.ParseFloat(wording.Compared(u, k, v), 64); err == nil {
		return shown
	}
	return wording.FigureValue(u, k, v)
}

// cellText is what stands in a map's cell, in millimetres or degrees as compared, the best marked.
func cellText(v float64, best bool, k compare.Kind, u setup.Unit) string {
	text := wording.Compared(u, k, v)
	if best {
		text += "*"
	}
	return text
}

// lettering is the height of the figures in the cells of a map; 0 where they have no room.
func lettering(values []float64, best []bool, k compare.Kind, u setup.Unit, w, h float64) float64 {
	for _, height := range []float64{sheet.Small, sheet.Fine} {
		widest := 0.0
		for i, v := range values {
			widest = max(widest, sheet.TextWidth(cellText(v, best[i], k, u), height))
		}
		if widest+0.6 <= w && 1.4*height <= h {
			return height
		}
	}
	return 0
}

// tints shows below a map what the tints stand for, between the least and the greatest figure.
func tints(s *sheet.Sheet, body r2.Rect, left, right string) {
	const tall = 3.2
	y := body.Y.Hi + 9
	x := body.X.Lo + sheet.TextWidth(left, sheet.Small) + 1.5
	wide := min(7, (body.X.Hi-x-sheet.TextWidth(right, sheet.Small)-1.5)/mapSteps)
	s.Text(r2.Point{X: body.X.Lo, Y: y + tall/2}, sheet.E, sheet.Style{}, left)
	for i := range mapSteps {
		s.Polygon(sheet.Grid, sheet.Step(i, mapSteps), sheet.Corners(sheet.Rect(x+float64(i)*wide, y, wide, tall))...)
	}
	s.Text(r2.Point{X: x + mapSteps*wide + 1.5, Y: y + tall/2}, sheet.E, sheet.Style{}, right)
}

// ticks writes the values beside and below a map, as many as have room.
func ticks(s *sheet.Sheet, body r2.Rect, down, across []float64) {
	digits := figureDigits
	label := func(v float64) string { return strconv.FormatFloat(v+0, 'g', digits, 64) }
	width := func(values []float64) (widest float64) {
		for _, v := range values {
			widest = max(widest, sheet.TextWidth(label(v), sheet.Small))
		}
		return widest
	}
	for digits > 2 && width(down) > mapLabels-2 {
		digits--
	}
	widest := width(across)
	w, h := body.Size().X/float64(len(across)), body.Size().Y/float64(len(down))
	every := int(math.Ceil((widest + 2) / w))
	for k := 0; k < len(across); k += every {
		s.Text(r2.Point{X: body.X.Lo + (float64(k)+0.5)*w, Y: body.Y.Hi + 2.4}, sheet.S, sheet.Style{}, label(across[k]))
	}
	every = int(math.Ceil(4 / h))
	for i := 0; i < len(down); i += every {
		s.Text(r2.Point{X: body.X.Lo - 1.6, Y: body.Y.Lo + (float64(i)+0.5)*h}, sheet.W, sheet.Style{Max: mapLabels - 2}, label(down[i]))
	}
}

// step is the tint of a value between the lowest and the highest.
func step(v, low, high float64) int {
	if !(high > low) {
		return 0
	}
	return int(min(max((v-low)/(high-low), 0)*mapSteps, mapSteps-1))
}
