package page

import (
	"math"
	"strings"

	"github.com/golang/geo/s1"

	"locksweep/geometry/linkage"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/render/chart"
	"locksweep/render/wording"
)

// plot is a chart over the column angle, left on the left as everywhere on the page, with a cursor that the script moves.
type plot struct {
	Title  string
	Lines  []curve
	X, Y   []mark
	Zero   string  // the height of nought, empty where it does not lie within
	Origin float64 // where the cursor stands straight ahead, in the units of the view box
	Scale  float64 // by how much it goes to the left for a degree of column to the left
	Nought string  // Origin, as it is printed
}

// curve is a line of a chart with its name.
type curve struct{ Name, Class, Path string }

// mark is a tick of an axis.
type mark struct{ At, Text string }

// Where the plot lies in the view box of a chart, which is 400 by 230.
const (
	plotLeft, plotRight = 44.0, 392.0
	plotTop, plotBottom = 10.0, 204.0
)

// quantity is what a chart shows of a pose, in the units of its axis.
type quantity struct {
	name, class string
	of          func(p *sweep.Pose) float64
}

// plots are the charts of a setup, from lock to lock.
func plots(r *sweep.Result) []plot {
	degrees := func(of func(p *sweep.Pose) s1.Angle) func(p *sweep.Pose) float64 {
		return func(p *sweep.Pose) float64 { return of(p).Degrees() }
	}
	angles := []quantity{
		{"left wheel", "a", degrees(func(p *sweep.Pose) s1.Angle { return p.Wheels[setup.Left].Steer })},
		{"right wheel", "b", degrees(func(p *sweep.Pose) s1.Angle { return p.Wheels[setup.Right].Steer })},
		{"ideal inner wheel", "c", degrees(func(p *sweep.Pose) s1.Angle { return p.Turn.IdealInner * s1.Angle(p.Turn.Inner.Sign()) })},
	}
	errors := []quantity{{"inner wheel off ideal", "a", degrees(func(p *sweep.Pose) s1.Angle { return p.Turn.Error })}}
	least := func(end linkage.End) func(p *sweep.Pose) float64 {
		return func(p *sweep.Pose) float64 {
			low := math.NaN()
			for rod := range r.Linkage.Rods {
				if v := p.Transmission[rod][end].Degrees(); !math.IsNaN(v) && !(v >= low) {
					low = v
				}
			}
			return low
		}
	}
	levers := []quantity{{"at the steering arms", "a", least(linkage.AtArm)}, {"at the " + wording.Input(r.Model), "b", least(linkage.AtDropArm)}}
	return []plot{
		newPlot(r, "Wheel angles, left positive", angles), newPlot(r, "Ackermann error", errors), newPlot(r, "Least leverage", levers),
	}
}

// newPlot lays out the chart of some quantities over the column angle.
func newPlot(r *sweep.Result, title string, list []quantity) plot {
	p := plot{Title: title}
	var values []float64
	for _, q := range list {
		for i := range r.Poses {
			values = append(values, q.of(&r.Poses[i]))
		}
	}
	low, high := chart.Span(values)
	if low > high {
		low, high = 0, 1
	}
	low, high = low-0.05*(high-low)-0.25, high+0.05*(high-low)+0.25
	left, right := r.Locks[sweep.ToLeft].Column.Degrees(), r.Locks[sweep.ToRight].Column.Degrees()
	if left-right < 1 {
		left, right = left+0.5, right-0.5
	}
	p.Scale = (plotRight - plotLeft) / (left - right)
	p.Origin = plotLeft + left*p.Scale
	x := func(column float64) float64 { return p.Origin - column*p.Scale }
	y := func(v float64) float64 { return plotBottom - (v-low)/(high-low)*(plotBottom-plotTop) }
	ticks, _ := chart.Ticks(right, left, 8)
	for _, v := range ticks {
		p.X = append(p.X, mark{wording.Fixed(x(v), 1), wording.Fixed(math.Abs(v), 0) + "°"})
	}
	ticks, labels := chart.Ticks(low, high, 6)
	for i, v := range ticks {
		p.Y = append(p.Y, mark{wording.Fixed(y(v), 1), strings.Replace(labels[i], "−", "-", 1)}) // as everywhere on the page
	}
	if low < 0 && high > 0 {
		p.Zero = wording.Fixed(y(0), 1)
	}
	p.Nought = wording.Fixed(p.Origin, 1)
	for _, q := range list {
		p.Lines = append(p.Lines, curve{q.name, q.class, line(r, func(pose *sweep.Pose) (float64, float64) {
			return x(pose.Column.Degrees()), y(q.of(pose))
		})})
	}
	return p
}

// line is a curve over the poses as the data of a path, with gaps where it has no value.
func line(r *sweep.Result, at func(p *sweep.Pose) (x, y float64)) string {
	var b strings.Builder
	pen := "M"
	for i := range r.Poses {
		x, y := at(&r.Poses[i])
		if math.IsNaN(y) || math.IsInf(y, 0) {
			pen = "M"
			continue
		}
		b.WriteString(pen + wording.Fixed(x, 1) + " " + wording.Fixed(y, 1))
		pen = "L"
	}
	return b.String()
}
