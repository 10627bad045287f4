// Package curves draws charts of a sweep: the wheel angles against the column angle, and the Ackermann
// error against the mean steer. It computes nothing.
package curves

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/geometry/tolerance"
	"locksweep/render/chart"
	"locksweep/render/sheet"
	"locksweep/render/wording"
)

// Angles draws the steer angles of both wheels against the column angle, and beside them the angle that
// the inner wheel should have.
func Angles(r *sweep.Result, opt sheet.Options) (*sheet.Sheet, error) {
	c := chart.Chart{
		X: chart.Axis{Label: "steering wheel angle from the right lock to the left lock, left positive", Unit: "°"},
		Y: chart.Axis{Label: "wheel angle, left positive", Unit: "°"},
		Curves: []chart.Curve{
			{Name: "left wheel", Points: against(r, steer(setup.Left))},
			{Name: "right wheel", Points: against(r, steer(setup.Right))},
			{Name: "ideal inner wheel", Reference: true, Points: against(r, func(p *sweep.Pose) s1.Angle { return p.Turn.IdealInner * s1.Angle(p.Turn.Inner.Sign()) })},
		},
	}
	for _, d := range sweep.Directions {
		p := &r.Locks[d].Pose
		for _, side := range setup.Sides {
			at := steer(side)(p)
			c.Marks = append(c.Marks, chart.Mark{At: chart.Degrees(p.Column, at), Text: lockMark(d, at)})
		}
	}
	return draw(r, opt, "Wheel angles over the steering wheel angle", wording.Answer(r), c)
}

// lockMark says what a figure is at a lock: L or R, and the figure with its sign.
func lockMark(d sweep.Direction, a s1.Angle) string {
	return [2]string{"L ", "R "}[d] + wording.Angle(a)
}

// steer picks a wheel's steer angle.
func steer(side setup.Side) func(p *sweep.Pose) s1.Angle {
	return func(p *sweep.Pose) s1.Angle { return p.Wheels[side].Steer }
}

// against returns points of a figure over the column angle, in degrees.
func against(r *sweep.Result, figure func(p *sweep.Pose) s1.Angle) []r2.Point {
	points := make([]r2.Point, len(r.Poses))
	for i := range r.Poses {
		points[i] = chart.Degrees(r.Poses[i].Column, figure(&r.Poses[i]))
	}
	return points
}

// leastError is the error that the chart shows at least, either way, degrees.
const leastError = 0.5

// Error draws the Ackermann error against the mean steer of both wheels, in either direction, with
// ideal rolling as the line to compare with.
func Error(r *sweep.Result, opt sheet.Options) (*sheet.Sheet, error) {
	c := chart.Chart{
		X: chart.Axis{Label: "mean steer of both wheels, either way", Unit: "°"},
		Y: chart.Axis{Label: "inner wheel beyond ideal", Unit: "°"},
	}
	lowest, highest, farthest := -leastError, leastError, 0.0 // so that the ideal line stands clear of the frame
	for _, d := range sweep.Directions {
		curve := errorCurve(r, d)
		for _, p := range curve.Points {
			farthest = max(farthest, p.X)
			if !math.IsNaN(p.Y) {
				lowest, highest = min(lowest, p.Y), max(highest, p.Y)
			}
		}
		c.Curves = append(c.Curves, curve)
		if p := &r.Locks[d].Pose; p.Turn.Known() {
			c.Marks = append(c.Marks, chart.Mark{At: chart.Degrees(p.LinkageSteer.Abs(), p.Turn.Error), Text: lockMark(d, p.Turn.Error)})
		}
	}
	c.Y.Min, c.Y.Max = outwards(lowest, highest)
	c.Curves = append(c.Curves, chart.Curve{Name: "ideal", Reference: true, Points: []r2.Point{{}, {X: farthest}}})
	words := ""
	for _, l := range wording.Ackermann(r) {
		words += l.Label + ": " + l.Text + ". "
	}
	return draw(r, opt, "Ackermann error over the mean steer", words+"Of "+wording.AckermannTerms+".", c)
}

// errorCurve returns the Ackermann error over the mean steer in one direction, degrees.
func errorCurve(r *sweep.Result, d sweep.Direction) chart.Curve {
	curve := chart.Curve{Name: "turning " + d.String()}
	for i := range r.Poses {
		p := &r.Poses[i]
		if p.Turn.Known() && math.Signbit(float64(p.Column)) == (d == sweep.ToRight) {
			curve.Points = append(curve.Points, chart.Degrees(p.LinkageSteer.Abs(), p.Turn.Error))
		}
	}
	return curve
}

// outwards rounds the range of an axis to whole steps that suit it, degrees.
func outwards(low, high float64) (lower, upper float64) {
	step := 10.0
	for _, s := range []float64{5, 2, 1, 0.5} {
		if high-low <= 8*s {
			step = s
		}
	}
	return math.Floor(low/step) * step, math.Ceil(high/step) * step
}

// wordsRoom is the paper above each chart, mm.
const wordsRoom = 4.0

// draw puts words and charts on a sheet, one below the other.
func draw(r *sweep.Result, opt sheet.Options, title, words string, charts ...chart.Chart) (*sheet.Sheet, error) {
	s := wording.Sheet(opt, title, r.Setup, wording.Alarms(r.Model, &r.Locks), title+". "+words)
	room := s.Area().ExpandedByMargin(-4)
	s.Say(&room, sheet.Style{}, wordsRoom, words)
	return s, chart.DrawAll(s, sheet.Split(room, 1, len(charts), wordsRoom), charts...)
}

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
