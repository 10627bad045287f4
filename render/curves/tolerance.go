package curves

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"locksweep/geometry/tolerance"
	"locksweep/render/chart"
	"locksweep/render/sheet"
	"locksweep/render/wording"
)

// Sure draws the wheel angles and the Ackermann error over the column angle, each on its band: what 95 of a hundred karts
// lie within that measure alike. Beside whole turns the wheels' bands are narrow, so that their edges stand once more by themselves.
func Sure(r *tolerance.Result, opt sheet.Options) (*sheet.Sheet, error) {
	title := "How sure: wheel angles and Ackermann error with their bands"
	words := "Tinted, and between each two lines of the middle chart: 95 of a hundred karts that measure like yours. Accuracies: " + wording.Accuracies(r) + "."
	charts := []chart.Chart{
		{Y: chart.Axis{Label: "wheel angle, left positive", Unit: "°"}},
		{Y: chart.Axis{Label: "wheel angle, left of what the file says", Unit: "°"}},
		{Y: chart.Axis{Label: "inner wheel beyond ideal", Unit: "°"}},
	}
	for which, name := range [3]string{"left wheel", "right wheel", "error"} {
		pen := sheet.CurvePens[which]
		as, low, high := bandOf(r, which)
		c := &charts[0]
		if which == tolerance.AckermannError {
			c = &charts[2]
		} else {
			charts[1].Curves = append(charts[1].Curves, chart.Curve{Name: name, Pen: pen, Points: above(high, as)}, chart.Curve{Pen: pen, Points: above(low, as)})
		}
		c.Curves = append(c.Curves, chart.Curve{Name: name, Pen: pen, Points: as})
		c.Bands = append(c.Bands, chart.Band{Low: low, High: high, Colour: pen.Colour})
	}
	for i := range charts {
		charts[i].X = chart.Axis{Label: "steering wheel angle, left positive", Unit: "°"}
	}
	return draw(r.Result, opt, title, words, charts...)
}

// bandOf returns one of the curves as the setup stands, and both edges of its band.
func bandOf(r *tolerance.Result, which int) (as, low, high []r2.Point) {
	for i := range r.Bands {
		b := &r.Bands[i]
		within := b.Within[which]
		if within.Known < within.Of { // some karts do not get there
			within.Low, within.High = math.NaN(), math.NaN()
		}
		as = append(as, chart.Degrees(b.Column, b.Value[which]))
		low, high = append(low, chart.Degrees(b.Column, s1.Angle(within.Low))), append(high, chart.Degrees(b.Column, s1.Angle(within.High)))
	}
	return as, low, high
}

// above is a curve less another.
func above(curve, base []r2.Point) (off []r2.Point) {
	for i, p := range curve {
		off = append(off, r2.Point{X: p.X, Y: p.Y - base[i].Y})
	}
	return off
}
