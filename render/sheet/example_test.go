package sheet_test

import (
	"fmt"

	"github.com/golang/geo/r2"
	"locksweep/render/sheet"
)

// A plate of 400 by 300 mm, drawn as large as an A4 sheet allows.
func Example() {
	s := sheet.New(sheet.A4, sheet.Title{Title: "Plate", Origin: sheet.Origin{Program: "example"}})
	plate := r2.RectFromPoints(r2.Point{}, r2.Point{X: 400, Y: 300})
	room := s.Area().ExpandedByMargin(-20)
	view := sheet.Centred(room, plate, sheet.Upright, sheet.FitScale(400, 300, room.Size().X, room.Size().Y))
	s.Scale = view.Scale
	p := s.NewPanel(s.Area(), view)
	corners := plate.Vertices()
	p.Polygon(sheet.Visible, sheet.Shade, corners[:]...)
	p.Dim(sheet.Horizontal, corners[0], corners[1], -sheet.DimGap, "400")
	p.Dim(sheet.Vertical, corners[1], corners[2], sheet.DimGap, "300")
	svg := s.Bytes()

	fmt.Println("scale", view.Scale)
	fmt.Println("400 mm are", view.Length(400), "mm on paper")
	fmt.Println("overlapping texts:", len(s.Overlaps()))
	fmt.Println("drawing of ours:", sheet.IsOurs(svg))
	// Output:
	// scale 1:5
	// 400 mm are 80 mm on paper
	// overlapping texts: 0
	// drawing of ours: true
}
