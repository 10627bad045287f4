package chart

import (
	"cmp"
	"math"
	"slices"

	"github.com/golang/geo/r2"
	"locksweep/render/sheet"
)

// end is the right end of a curve with its name.
type end struct {
	name string
	at   r2.Point
	pen  sheet.Pen
}

const nameRow = 4.4 // least distance of two names, mm

// nameEnds writes the names of the curves at their ends. Ends near the right edge of the plot are
// named in a column beside it, moved apart where they are near each other, with a thin leader; a
// curve that ends earlier is named where it ends.
func (l *layout) nameEnds(s *sheet.Sheet, ends []end) {
	var beside []end
	for _, e := range ends {
		if e.at.X > l.plot.X.Hi-0.12*l.plot.Size().X && float64(len(beside)+1)*nameRow <= l.plot.Size().Y+nameRow {
			beside = append(beside, e)
			continue
		}
		s.Label(sheet.Label{At: e.at, Clear: 0.5, Within: l.plot, Lines: []string{e.name},
			Style: sheet.Style{Colour: e.pen.Colour}, Prefer: []sheet.Dir{sheet.E, sheet.NE, sheet.SE}})
	}
	slices.SortStableFunc(beside, func(a, b end) int { return cmp.Compare(a.at.Y, b.at.Y) })
	wanted := make([]float64, len(beside))
	for i, e := range beside {
		wanted[i] = e.at.Y
	}
	x := l.plot.X.Hi + endGap + 1.5
	for i, y := range apart(wanted, nameRow, l.plot.Y.Lo, l.plot.Y.Hi) {
		e := beside[i]
		text := r2.Point{X: x, Y: y}
		s.Line(sheet.Pen{Width: 0.18, Colour: e.pen.Colour}, e.at, r2.Point{X: x - 0.7, Y: y})
		s.Text(text, sheet.E, sheet.Style{Colour: e.pen.Colour, Max: l.rect.X.Hi - x}, e.name)
	}
}

// apart moves sorted positions as little as it can, in the sum of squares, so that they stand at
// least gap apart and within lo and hi, or evenly from lo if they do not fit. It pools neighbours
// that are too near into runs about their common mean (isotonic regression).
func apart(wanted []float64, gap, lo, hi float64) []float64 {
	type run struct {
		sum float64
		n   int
	}
	var runs []run
	for i, w := range wanted {
		runs = append(runs, run{w - gap*float64(i), 1})
		for k := len(runs) - 1; k > 0 && runs[k-1].sum/float64(runs[k-1].n) >= runs[k].sum/float64(runs[k].n); k-- {
			runs[k-1] = run{runs[k-1].sum + runs[k].sum, runs[k-1].n + runs[k].n}
			runs = runs[:k]
		}
	}
	top := math.Max(lo, hi-gap*float64(len(wanted)-1))
	var out []float64
	for _, r := range runs {
		base := math.Min(math.Max(r.sum/float64(r.n), lo), top)
		for range r.n {
			out = append(out, base+gap*float64(len(out)))
		}
	}
	return out
}
