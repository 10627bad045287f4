package compareview

import (
	"fmt"
	"slices"
	"unicode/utf8"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"locksweep/geometry/compare"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/render/chart"
	"locksweep/render/sheet"
	"locksweep/render/wording"
)

// Charts draws three charts with a curve for every setup, turning or sliding to one side: how far the wheels
// follow the steering wheel, how true they roll in a turn, and how they stand to each other in a slide.
func Charts(c *compare.Comparison, d sweep.Direction, opt sheet.Options) (*sheet.Sheet, error) {
	entries, remark := drawn(c)
	words := "Turning " + d.String() + ". Slides on a path to the " + d.String() + " of " + wording.Path(unit(c), c.Path) +
		", the steering wheel held so that the slips of both front wheels add up to nought; each curve ends where the locks do. " + remark
	s, room := begin(c, opt, loud(c), "Comparison: turning and sliding", names(c, entries), words)
	charts := chartsOf(c, d, entries)
	columns, rows := 1, len(charts)
	if opt.Paper.Width > opt.Paper.Height {
		columns, rows = len(charts), 1
	}
	if long(c, entries, room.Size().X/float64(columns)) {
		room = legend(s, room, c, entries)
		for i := range charts {
			for k, n := range entries {
				charts[i].Curves[k].Name = wording.Letter(n)
			}
		}
	}
	return s, chart.DrawAll(s, sheet.Split(room, columns, rows, gap), charts...)
}

// chartsOf are the three charts.
func chartsOf(c *compare.Comparison, d sweep.Direction, entries []int) []chart.Chart {
	return []chart.Chart{
		{
			Title: "How far the wheels follow",
			X:     chart.Axis{Label: "steering wheel", Unit: "°"}, Y: chart.Axis{Label: "mean of both front wheels", Unit: "°"},
			Curves: curves(c, entries, turned(d, func(p *sweep.Pose) r2.Point { return chart.Degrees(p.Column.Abs(), p.MeanSteer()*s1.Angle(d.Sign())) })),
		},
		{
			Title: "Rolling in a turn",
			X:     chart.Axis{Label: "mean of both front wheels", Unit: "°"}, Y: chart.Axis{Label: "inner wheel beyond ideal", Unit: "°"},
			Curves: curves(c, entries, turned(d, func(p *sweep.Pose) r2.Point { return chart.Degrees(p.LinkageSteer.Abs(), p.Turn.Error) })),
		},
		{
			Title: "Held in a slide",
			X:     chart.Axis{Label: "slide angle of the body", Unit: "°"}, Y: chart.Axis{Label: "wheels splay beyond rolling free, − pinch", Unit: "°"},
			Curves: curves(c, entries, func(e *compare.Entry) (points []r2.Point) {
				for i := range e.Slides[d] {
					points = append(points, chart.Degrees(e.Slides[d][i].Slide.Angle, e.Slides[d][i].Apart))
				}
				return points
			}),
		},
	}
}

// long reports whether names are too long to stand at the curves of a chart; letters stand there then.
func long(c *compare.Comparison, entries []int, width float64) bool {
	return slices.ContainsFunc(entries, func(i int) bool { return sheet.TextWidth(c.Entries[i].Name, sheet.Small) > 0.3*width })
}

// curves makes a curve for every entry.
func curves(c *compare.Comparison, entries []int, points func(e *compare.Entry) []r2.Point) (list []chart.Curve) {
	for k, i := range entries {
		list = append(list, chart.Curve{Name: c.Entries[i].Name, Pen: sheet.CurvePens[k], Points: points(&c.Entries[i])})
	}
	return list
}

// turned goes through the poses from straight ahead to one lock.
func turned(d sweep.Direction, at func(p *sweep.Pose) r2.Point) func(e *compare.Entry) []r2.Point {
	return func(e *compare.Entry) (points []r2.Point) {
		for i := range e.Result.Poses {
			if p := &e.Result.Poses[i]; float64(p.Column)*d.Sign() >= 0 {
				points = append(points, at(p))
			}
		}
		return points
	}
}

// names strings the names of entries together, or counts them where the title block has no room for that.
func names(c *compare.Comparison, entries []int) (text string) {
	for k, i := range entries {
		if k > 0 {
			text += " / "
		}
		text += setup.Printable(c.Entries[i].Name)
	}
	if utf8.RuneCountInString(text) > mostNamed && len(entries) > 1 {
		return fmt.Sprintf("%d setups, named above", len(entries))
	}
	return text
}

// mostNamed is how many letters the names of the setups may have together in a title block.
const mostNamed = 34
