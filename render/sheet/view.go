package sheet

import (
	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"
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

// Direction gives the paper direction of the model direction at an angle from model x towards model
// y, a unit vector.
func (v View) Direction(angle s1.Angle) r2.Point {
	return v.Axes.at(1, angle)
}

// Fit gives the view in which the model rectangle stands in the middle of the paper rectangle room
// at the largest scale of ISO 5455 up to 1:1.
func Fit(room, model r2.Rect, axes Axes) View {
	size := extent(model.Size(), axes)
	s := FitScale(size.X, size.Y, room.Size().X, room.Size().Y)
	return Centred(room, model, axes, s)
}

// Centred gives the view in which the model rectangle stands in the middle of room at the scale s.
func Centred(room, model r2.Rect, axes Axes, s Scale) View {
	v := View{Scale: s, Axes: axes}
	v.Origin = room.Center().Sub(v.At(model.Center()))
	return v
}

// extent is the size on paper, at 1:1, of a model of the given size.
func extent(size r2.Point, a Axes) r2.Point {
	w, h := a.X.Mul(size.X), a.Y.Mul(size.Y)
	return r2.Point{X: abs(w.X) + abs(h.X), Y: abs(w.Y) + abs(h.Y)}
}
