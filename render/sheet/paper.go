package sheet

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/golang/geo/r2"
)

// Size is a sheet of paper, millimetres.
type Size struct {
	Name          string
	Width, Height float64
}

// The papers that can be asked for, portrait: those of a home printer, and of twice the size.
var (
	A4      = Size{Name: "A4", Width: 210, Height: 297}
	A3      = Size{Name: "A3", Width: 297, Height: 420}
	Letter  = Size{Name: "Letter", Width: 215.9, Height: 279.4}
	Tabloid = Size{Name: "Tabloid", Width: 279.4, Height: 431.8}
)

const landscape = " landscape" // behind the name of a sheet that lies on its side

// Landscape returns the sheet on its side.
func (z Size) Landscape() Size {
	if z.Width > z.Height {
		return z
	}
	return z.Turned()
}

// Turned returns the sheet laid the other way.
func (z Size) Turned() Size {
	name, lying := strings.CutSuffix(z.Name, landscape)
	if !lying {
		name += landscape
	}
	return Size{Name: name, Width: z.Height, Height: z.Width}
}

// SizeByName finds a paper by the name that a user types: "A4", "letter", "a4 landscape", "a4-landscape". The error lists
// the names that there are.
func SizeByName(name string) (Size, error) {
	word, turned := strings.CutSuffix(strings.ToLower(strings.TrimSpace(name)), "landscape")
	word = strings.TrimRight(word, " -")
	for _, z := range []Size{A4, A3, Letter, Tabloid} {
		if word == strings.ToLower(z.Name) {
			if turned {
				return z.Landscape(), nil
			}
			return z, nil
		}
	}
	return Size{}, fmt.Errorf("unknown paper %q: it is A4, A3, Letter or Tabloid, or any with -landscape", name)
}

// Scale is paper length over model length: 0.1 is 1:10. The zero Scale is "not to scale".
type Scale float64

// scales of ISO 5455 from 50:1 to 1:10 000 000: 1, 2 and 5 times powers of ten, largest first.
var scales = func() []Scale {
	all := []Scale{50, 20, 10, 5, 2, 1}
	for ten := 1.0; ten <= 1e6; ten *= 10 {
		all = append(all, Scale(1/(2*ten)), Scale(1/(5*ten)), Scale(1/(10*ten)))
	}
	return all
}()

// FitScale is the largest scale of ISO 5455, at most 1:1, at which a model of the given width and
// height (mm) fits into room of the given width and height (mm on paper). For what is bigger than
// the smallest scale can hold it is that smallest scale.
func FitScale(width, height, roomWidth, roomHeight float64) Scale {
	return FitScaleUpTo(1, width, height, roomWidth, roomHeight)
}

// FitScaleUpTo is FitScale with another largest scale: 5 allows 5:1 for small parts.
func FitScaleUpTo(largest Scale, width, height, roomWidth, roomHeight float64) Scale {
	const slack = 1 + 1e-9 // a part of exactly the room's size fits
	for _, s := range scales {
		k := float64(s)
		if s <= largest && width*k <= roomWidth*slack && height*k <= roomHeight*slack {
			return s
		}
	}
	return scales[len(scales)-1]
}

// Smaller is the next smaller scale of ISO 5455.
func (s Scale) Smaller() Scale { return FitScaleUpTo(s*0.99, 0, 0, 1, 1) }

func (s Scale) String() string {
	switch {
	case !(s > 0):
		return "–"
	case s >= 1:
		return strconv.FormatFloat(float64(s), 'g', 6, 64) + ":1"
	}
	return "1:" + strconv.FormatFloat(1/float64(s), 'g', 6, 64)
}

// ParseScale reads "1:5" or "2:1"; the error says how a scale is written.
func ParseScale(text string) (Scale, error) {
	paper, model, found := strings.Cut(strings.TrimSpace(text), ":")
	p, errP := strconv.ParseFloat(strings.TrimSpace(paper), 64)
	m, errM := strconv.ParseFloat(strings.TrimSpace(model), 64)
	k := p / m
	if !found || errP != nil || errM != nil || !(k >= 1e-6 && k <= 100) {
		return 0, fmt.Errorf("scale %q: write it as paper to vehicle, like 1:5 or 1:10", text)
	}
	return Scale(k), nil
}

// Rect is the paper rectangle with its upper left corner at (x, y), millimetres, y down the sheet.
func Rect(x, y, width, height float64) r2.Rect {
	return r2.RectFromPoints(r2.Point{X: x, Y: y}, r2.Point{X: x + width, Y: y + height})
}

// Split cuts a rectangle into columns × rows equal ones, gap millimetres apart, row by row from
// the upper left.
func Split(r r2.Rect, columns, rows int, gap float64) []r2.Rect {
	columns, rows = max(1, columns), max(1, rows)
	w := (r.Size().X - gap*float64(columns-1)) / float64(columns)
	h := (r.Size().Y - gap*float64(rows-1)) / float64(rows)
	var out []r2.Rect
	for j := range rows {
		for i := range columns {
			out = append(out, Rect(r.X.Lo+float64(i)*(w+gap), r.Y.Lo+float64(j)*(h+gap), w, h))
		}
	}
	return out
}

// finite reports whether all coordinates are numbers that can be drawn.
func finite(ps ...r2.Point) bool {
	for _, p := range ps {
		if math.IsNaN(p.X+p.Y) || math.IsInf(p.X, 0) || math.IsInf(p.Y, 0) {
			return false
		}
	}
	return true
}
