package setup

import (
	"testing"

	"github.com/golang/geo/s1"
)

// Inches of a rule are said as they are typed, others to a thousandth.
func TestLengthsAreSaidAsTyped(t *testing.T) {
	for _, c := range []struct {
		unit Unit
		mm   float64
		want string
	}{
		{Inch, 0.1875 * MMPerInch, "0.1875 in"},
		{Inch, MMPerInch / 64, "0.015625 in"},
		{Inch, 0.35 * MMPerInch, "0.35 in"},
		{Inch, 5, "0.197 in"},
		{0, 4.76249, "4.762 mm"},
		{0, -0.0004, "0 mm"},
		{Inch, -0.0004, "0 in"},
	} {
		if got := c.unit.Say(c.mm); got != c.want {
			t.Errorf("%g mm: %q, want %q", c.mm, got, c.want)
		}
	}
}

// What is cut to leave a gap leaves it to a fiftieth of a millimetre.
func TestGapThatIsKeptIsNotTight(t *testing.T) {
	l := Limits{Clearance: 4.7625}
	for gap, want := range map[float64]bool{4.7617: false, 4.7625: false, 4.74: true, 0: true} {
		if l.Tight(gap) != want {
			t.Errorf("a gap of %g mm, %g wanted: tight %v", gap, l.Clearance, !want)
		}
	}
}

// A hundredth of a degree of leverage is told by nobody.
func TestLeverageThatIsKeptIsNotWeak(t *testing.T) {
	l := Limits{Transmission: 25 * s1.Degree}
	for degrees, want := range map[float64]bool{90: false, 25: false, 24.991: false, 24.989: true, 0: true} {
		if l.Weak(s1.Angle(degrees)*s1.Degree) != want {
			t.Errorf("%g° of leverage, %v wanted: weak %v", degrees, l.Transmission, !want)
		}
	}
}
