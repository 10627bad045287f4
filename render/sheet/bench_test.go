package sheet_test

import (
	"fmt"
	"math"
	"testing"

	"locksweep/render/sheet"
)

// A busy sheet: fifty curves of a hundred points and forty labels among them.
func BenchmarkBusySheet(b *testing.B) {
	for b.Loop() {
		s := sheet.New(sheet.A4, sheet.Title{Title: "busy", Note: caution})
		area := s.Area()
		at := func(i, j int) pt {
			return pt{X: area.X.Lo + 1.7*float64(j), Y: area.Center().Y + float64(i-25)*3 + 20*math.Sin(float64(j)/8)}
		}
		for i := range 50 {
			pts := make([]pt, 100)
			for j := range pts {
				pts[j] = at(i, j)
			}
			s.Polyline(sheet.Thin, pts...)
		}
		for i := range 40 {
			s.Label(sheet.Label{At: at(i, (i*37)%100), Lines: []string{fmt.Sprintf("label %d", i)}})
		}
		s.Bytes()
	}
}
