package curves

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"locksweep/geometry/setup"
	"locksweep/geometry/tolerance"
	"locksweep/render/chart"
	"locksweep/render/sheet"
	"locksweep/render/wording"
)

// Sure draws the wheel angles and the Ackermann error over the column angle, each between the ends of its band: what 95
// of a hundred karts lie within that measure alike.
func Sure(r *tolerance.Result, opt Options) (*sheet.Sheet, error) {
	title := "How sure: wheel angles and Ackermann error with their bands"
	words := "Dashed: 95 of a hundred karts that measure like yours lie between. Accuracies: " + wording.Accuracies(r) + "."
	s := sheet.New(opt.Paper, sheet.Title{
		Title: title, Subtitle: wording.Title(r.Setup), Note: wording.Caution, Origin: opt.Origin, Desc: title + ". " + words,
		Alarms: wording.Alarms(r.Model, &r.Locks),
	})
	area := s.Area().ExpandedByMargin(-4)
	y := s.Paragraph(r2.Point{X: area.X.Lo, Y: area.Y.Lo}, area.Size().X, sheet.Style{}, words).Y.Hi + wordsRoom
	x := chart.Axis{Label: "steering wheel angle, left positive", Unit: "°"}
	angles := chart.Chart{X: x, Y: chart.Axis{Label: "wheel angle, left positive", Unit: "°"}}
	angles.Curves = append(banded(r, int(setup.Left), "left wheel", sheet.CurvePens[0]), banded(r, int(setup.Right), "right wheel", sheet.CurvePens[1])...)
	off := chart.Chart{X: x, Y: chart.Axis{Label: "inner wheel beyond ideal", Unit: "°"}, Curves: banded(r, tolerance.AckermannError, "error", sheet.CurvePens[2])}
	height := (area.Y.Hi - y - wordsRoom) / 2
	for i, c := range []chart.Chart{angles, off} {
		if err := c.Draw(s, sheet.Rect(area.X.Lo, y+float64(i)*(height+wordsRoom), area.Size().X, height)); err != nil {
			return nil, err
		}
	}
	return s, nil
}

// banded is a curve with the two ends of its band.
func banded(r *tolerance.Result, which int, name string, pen sheet.Pen) []chart.Curve {
	edge := sheet.Pen{Width: 0.25, Line: sheet.Dashed, Colour: pen.Colour}
	list := []chart.Curve{{Name: name, Pen: pen}, {Pen: edge}, {Pen: edge}}
	for i := range r.Bands {
		b := &r.Bands[i]
		for k, v := range [3]float64{float64(b.Value[which]), b.Within[which].Low, b.Within[which].High} {
			at := point(b.Column, s1.Angle(v))
			if b.Within[which].Known < b.Within[which].Of && k > 0 { // some karts do not get there
				at.Y = math.NaN()
			}
			list[k].Points = append(list[k].Points, at)
		}
	}
	return list
}
