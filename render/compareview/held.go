package compareview

import (
	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"locksweep/geometry/road"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/render/chart"
	"locksweep/render/sheet"
	"locksweep/render/wording"
)

// mostHeld is how many setups leave room for heldCurves.
const mostHeld = 2

// heldHeight is the paper that the charts of heldCurves take, mm.
const heldHeight = 46.0

// heldCurves draws, at the foot of the room, in what slide each front wheel rolls free with the steering at the lock against the
// turn, over the radius of the path, and returns the room above: of one setup both wheels in one chart, of several a chart for
// each wheel.
func heldCurves(s *sheet.Sheet, room r2.Rect, slides []slide, path road.Slide, u setup.Unit) (r2.Rect, error) {
	path.Turn = slides[0].turn.Sign()
	sides := [2]setup.Side{path.Outside().Other(), path.Outside()}
	wheels := [2]string{"inside wheel", "outside wheel"}
	title := wording.SlideAtLock
	charts := []chart.Chart{heldChart(title+", "+wheels[0], u), heldChart(title+", "+wheels[1], u)}
	for k, side := range sides {
		for i := range slides {
			name := slides[i].letter
			if len(slides) == 1 {
				name = wheels[k]
			}
			charts[k].Curves = append(charts[k].Curves, chart.Curve{Name: name, Points: held(slides[i].e.Result, path, side, u)})
		}
	}
	if len(slides) == 1 {
		charts[0].Title, charts[0].Curves = title, append(charts[0].Curves, charts[1].Curves...)
		charts = charts[:1]
	}
	foot := room
	foot.Y.Lo = room.Y.Hi - heldHeight
	room.Y.Hi = foot.Y.Lo - gap
	return room, chart.DrawAll(s, sheet.Split(foot, len(charts), 1, gap), charts...)
}

// heldChart is a chart of slide angles over radii without its curves.
func heldChart(title string, u setup.Unit) chart.Chart {
	unit := "m"
	if u == setup.Inch {
		unit = "in"
	}
	return chart.Chart{Title: title, X: chart.Axis{Label: "radius of the path", Unit: unit}, Y: chart.Axis{Label: "slide angle", Unit: "°", Min: 0, Max: 90}}
}

// held returns the slide angle, degrees, that a wheel holds at the lock, over the radius of the path, metres or inches.
func held(r *sweep.Result, path road.Slide, side setup.Side, u setup.Unit) (points []r2.Point) {
	for _, on := range r.HeldOver(path, sweep.SlideRadii(u)) {
		x := on.Radius / 1000
		if u == setup.Inch {
			x = u.FromMM(on.Radius)
		}
		points = append(points, r2.Point{X: x, Y: s1.Angle(on.Held[side]).Degrees()})
	}
	return points
}
