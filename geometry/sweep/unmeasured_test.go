package sweep

import (
	"errors"
	"math"
	"slices"
	"testing"

	"locksweep/fixtures/example"
	"locksweep/geometry/neck"
)

// TestMetalThatCannotBeMeasuredIsNoStop: where the polygon library fails on a plate that is a stop, the plate counts as none, and that is told.
func TestMetalThatCannotBeMeasuredIsNoStop(t *testing.T) {
	const finger = `part."stop lug".plate.outline=[[14, -12], [14, 14], [-8, 16], [-21.17, -8.379], [-57.17, -34.379], [-54.83, -37.621], [-18.83, -11.621], [-12, -12]]`
	s := example.Read(t, "shed-kart", finger, `part."stop lug".min_width=3.5`)
	m, err := New(s)
	if err != nil {
		t.Fatal(err)
	}
	sound := m.Lock(ToLeft)
	if first := sound.First(); !m.Positive(first) || first.Unmeasured != [2]error{} {
		t.Fatalf("as it is: %+v, want a stop", first)
	}
	failed := errors.New("it failed")
	if m, err = New(s); err != nil {
		t.Fatal(err)
	}
	for i := range m.Scene.Pieces {
		for k := range m.Scene.Pieces {
			m.widths.metals.Store([2]int{i, k}, &prepared{metal: func() (neck.Metal, error) { return neck.Metal{}, failed }})
		}
	}
	r := m.Run(5)
	for _, d := range Directions {
		first := r.Locks[d].First()
		if at := slices.Index(first.Narrow[:], true); r.Positive(first) || at < 0 || !errors.Is(first.Unmeasured[at], failed) {
			t.Errorf("%s: %+v, want no stop, by the failure", d, first)
		}
	}
	at := slices.IndexFunc(r.Findings, func(f Finding) bool { return f.Code == NarrowStop })
	if at < 0 || !math.IsNaN(r.Findings[at].Width) || r.Findings[at].Least != 3.5 {
		t.Errorf("got %+v, want a narrow stop of unknown width", r.Findings)
	}
}
