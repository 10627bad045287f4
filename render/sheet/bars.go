package sheet

import (
	"math"
	"strconv"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"
)

const inch = 25.4

// scaleBar draws a divided bar of a round model length, at most width millimetres of paper long,
// its lower left end at a paper point, with its figures above.
func (s *Sheet) scaleBar(at r2.Point, width float64, scale Scale, inches bool) {
	unit, name := 1.0, "mm"
	if inches {
		unit, name = inch, "in"
	}
	if !finite(at, r2.Point{X: width}) || !(scale > 0) || !(width > 0) {
		return
	}
	length, parts := roundLength(width / float64(scale) / unit)
	step := length * unit * float64(scale) / float64(parts)
	const high = 1.4
	for i := range parts {
		fill := NoFill
		if i%2 == 0 {
			fill = Tinted(Black)
		}
		s.Polygon(Thin, fill, Corners(Rect(at.X+float64(i)*step, at.Y-high, step, high))...)
	}
	start, end := r2.Point{X: at.X, Y: at.Y - high - 0.8}, r2.Point{X: at.X + float64(parts)*step, Y: at.Y - high - 0.8}
	s.write(start, N, Style{Height: Fine}, "0")
	s.write(end, N, Style{Height: Fine}, strconv.FormatFloat(length, 'f', -1, 64)+" "+name)
}

// roundLength is the largest of 1, 2 and 5 times a power of ten that is at most most, and the
// number of equal parts in which it reads well.
func roundLength(most float64) (length float64, parts int) {
	ten := math.Pow(10, math.Floor(math.Log10(most)))
	for _, k := range []struct {
		times float64
		parts int
	}{{5, 5}, {2, 4}, {1, 5}} {
		if length = k.times * ten; length <= most*(1+1e-12) {
			return length, k.parts
		}
	}
	return length, 5
}

// CheckBars draws bars of 100 mm and 4 in both ways along the sheet, an angle whose corner is at a
// paper point, the arms to its right and above, each about 10 mm wide; every sheet at 1:1 carries
// them. Labels keep out.
func (s *Sheet) CheckBars(corner r2.Point) {
	if !finite(corner) {
		return
	}
	const depth = 10.0
	across := func(d, along float64) r2.Point { return corner.Add(r2.Point{X: depth + along, Y: -d}) }
	up := func(d, along float64) r2.Point { return corner.Add(r2.Point{X: d, Y: -depth - along}) }
	s.checkBar(across, 0)
	s.checkBar(up, 90*s1.Degree)
	s.Reserve(Rect(corner.X, corner.Y-depth, depth+4*inch+2, depth))
	s.Reserve(Rect(corner.X, corner.Y-depth-4*inch-2, depth, 4*inch+2))
}

// checkBar draws one pair of bars: at returns the paper point at a distance from the sheet's edge
// and a distance along the bar.
func (s *Sheet) checkBar(at func(d, along float64) r2.Point, turn s1.Angle) {
	const mid, far = 5.0, 1.0 // far is the side of the millimetres: above a level bar, to the right of an upright one
	bar := func(length, step, sign float64) {
		n := int(math.Round(length / step))
		for i := 0; i <= n; i++ {
			tick := 1.2
			if i == 0 || i == n {
				tick = 2.4
			}
			s.strokePaper(Thin, []r2.Point{at(mid+sign*0.4, float64(i)*step), at(mid+sign*(0.4+tick), float64(i)*step)})
		}
		s.strokePaper(Thin, []r2.Point{at(mid+sign*0.4, 0), at(mid+sign*0.4, length)})
	}
	bar(100, 10, far)
	bar(4*inch, inch/2, -far)
	style := Style{Turn: turn, Height: Fine, Halo: true}
	s.write(at(mid+far*3.2, 50), Over, style, "100 mm – print at 100 %, never “fit to page”")
	s.write(at(mid-far*3.2, 50.8), Over, style, "4 in – measure both bars before use")
}
