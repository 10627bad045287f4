package grindview

import (
	"math"
	"strings"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"locksweep/geometry/grind"
	"locksweep/geometry/sweep"
	"locksweep/render/chart"
	"locksweep/render/sheet"
	"locksweep/render/wording"
)

// Curve draws the lock of the inner wheel against the depth of the cut.
func Curve(p *grind.Plan, opt sheet.Options) (*sheet.Sheet, error) {
	u := p.Model.Setup.Unit
	c := chart.Chart{
		X: chart.Axis{Label: wording.CurveDepth(p), Unit: u.String()},
		Y: chart.Axis{Label: wording.CurveLabel(p), Unit: "°"},
	}
	deepest := 0.0
	for _, d := range sweep.Directions {
		var line []r2.Point
		for _, step := range p.Curve {
			if !step.Ended[d] {
				line = append(line, r2.Point{X: u.FromMM(step.Depth), Y: step.Lock[d].Degrees()})
			}
		}
		c.Curves = append(c.Curves, chart.Curve{Name: "turned " + d.String(), Points: line})
		deepest = max(deepest, line[len(line)-1].X)
	}
	if level := target(p); !math.IsNaN(level.Degrees()) {
		c.Curves = append(c.Curves, chart.Curve{Name: "target", Reference: true, Points: []r2.Point{{Y: level.Degrees()}, {X: deepest, Y: level.Degrees()}}})
	}
	text := wording.GrindAnswer(p)
	opt.Paper = opt.Paper.Landscape()
	s := wording.Sheet(opt, "Lock against depth of cut", p.Model.Setup, wording.Alarms(p.Model, &p.Before),
		"Lock of the inner wheel against the depth of the cut. "+text)
	room := s.Area().ExpandedByMargin(-4)
	s.Say(&room, sheet.Style{}, 1, text)
	most := wording.BothWays(func(d sweep.Direction) string {
		return "Turned " + d.String() + " grinding alone gives " + wording.Angle(p.Most[d].Steer) + " at most, where the curve ends: " + wording.Blocks(p.Model, &p.Most[d]) + "."
	}, "Turned right it is the same on the other side.")
	s.Say(&room, sheet.Style{}, 3, strings.Join(most, " "))
	return s, c.Draw(s, room)
}

// target is the lock asked for as an angle of the inner wheel; NaN where both ways differ.
func target(p *grind.Plan) s1.Angle {
	if (p.Steer[0] - p.Steer[1]).Abs() > 1e-6 {
		return s1.Angle(math.NaN())
	}
	return p.Steer[0]
}
