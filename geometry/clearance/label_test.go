package clearance

import (
	"slices"
	"testing"

	"locksweep/fixtures/example"
	"locksweep/geometry/linkage"
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

// TestWhatSteers: of each linkage its rods, arms and what the steering wheel moves; no tyre, nothing that the file adds.
func TestWhatSteers(t *testing.T) {
	for name, want := range map[string][]string{
		"shed-kart":      {"drop arm", "left steering arm", "left tie rod", "right steering arm", "right tie rod"},
		"beam-cyclekart": {"drag link", "drop arm", "left steering arm", "right steering arm", "tie rod"},
		"rack-buggy":     {"left steering arm", "left tie rod", "rack", "right steering arm", "right tie rod"},
	} {
		s := example.Read(t, name)
		m, err := linkage.New(s)
		if err != nil {
			t.Fatal(err)
		}
		sc, err := New(s, m)
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for i := range sc.Pieces {
			if p := &sc.Pieces[i]; p.Steers() {
				got = append(got, p.Label())
			}
		}
		if slices.Sort(got); !slices.Equal(got, want) {
			t.Errorf("%s: %q steer, want %q", name, got, want)
		}
	}
}
