package solid

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"

	"locksweep/geometry/rigid"
)

// TestPlateRefuses outlines that enclose nothing or cross, and faces without end.
func TestPlateRefuses(t *testing.T) {
	for _, outline := range [][]r2.Point{nil, {{X: 0, Y: 0}, {X: 1, Y: 1}}, {{X: 0, Y: 0}, {X: 10, Y: 10}, {X: 10, Y: 0}, {X: 0, Y: 12}}} {
		if _, err := Plate(outline, 0, 1, rigid.Identity); err == nil {
			t.Errorf("%v: no error", outline)
		}
	}
	if _, err := Plate(circle(3, 0), 0, math.Inf(1), rigid.Identity); err == nil {
		t.Error("endless plate: no error")
	}
}
