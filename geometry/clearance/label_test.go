package clearance

import (
	"testing"

	"locksweep/geometry/setup"
)

// TestLabels: a side is told once, also where the name tells it.
func TestLabels(t *testing.T) {
	for _, c := range []struct {
		name  string
		side  setup.Side
		sided bool
		want  string
	}{
		{"lug", setup.Left, true, "left lug"}, {"lug", setup.Right, false, "lug"},
		{"left lug", setup.Left, true, "left lug"}, {"left lug", setup.Right, true, "left lug, right side"},
		{"Right ear", setup.Right, true, "Right ear"}, {"left", setup.Left, true, "left left"},
		{"leftover bar", setup.Right, true, "right leftover bar"}, {"right rail", setup.Left, false, "right rail"},
	} {
		p := Piece{Name: c.name, Side: c.side, Sided: c.sided}
		if got := p.Label(); got != c.want {
			t.Errorf("%q on the %v, sided %v: %q, want %q", c.name, c.side, c.sided, got, c.want)
		}
	}
}
