package sheet

import (
	"github.com/golang/geo/r2"
)

// View maps model millimetres to paper millimetres. Paper has its origin at the upper left corner
// of the sheet, x to the right and y down.
type View struct {
	Scale  Scale
	Origin r2.Point // where the model's origin lies on paper
	Axes   Axes
}

// Axes says how the model lies on the sheet: the directions of model x and y on paper.
type Axes struct{ X, Y r2.Point }

var (
	// FromAbove is a vehicle seen from above: x (forward) up the sheet, y (left) to its left.
	FromAbove = Axes{X: r2.Point{Y: -1}, Y: r2.Point{X: -1}}
	// FromAboveRight is what stands in corner axes on the right side, seen from above: forward up the sheet, outboard to its right.
	FromAboveRight = Axes{X: r2.Point{Y: -1}, Y: r2.Point{X: 1}}
	// DownColumn is a drop arm as the driver sees it, looking down the column: down the sheet, left to its left.
	DownColumn = Axes{X: r2.Point{Y: 1}, Y: r2.Point{X: -1}}
	// Upright is the way of a graph: x to the right, y up the sheet.
	Upright = Axes{X: r2.Point{X: 1}, Y: r2.Point{Y: -1}}
	// onPaper is paper itself.
	onPaper = Axes{X: r2.Point{X: 1}, Y: r2.Point{Y: 1}}
)

// At gives the paper point of a model point.
func (v View) At(p r2.Point) r2.Point {
	k := float64(v.Scale)
	return v.Origin.Add(v.Axes.X.Mul(k * p.X)).Add(v.Axes.Y.Mul(k * p.Y))
}

// Length gives the paper length of a model length.
func (v View) Length(l float64) float64 { return float64(v.Scale) * l }

// Centred gives the view in which the model rectangle stands in the middle of room at the scale s.
func Centred(room, model r2.Rect, axes Axes, s Scale) View {
	v := View{Scale: s, Axes: axes}
	v.Origin = room.Center().Sub(v.At(model.Center()))
	return v
}
