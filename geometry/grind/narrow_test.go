package grind

import (
	"math"
	"testing"

	"locksweep/fixtures"
	"locksweep/geometry/setupfile"
	"locksweep/geometry/sweep"
)

// A stop lug that reaches the yoke by a finger 4 mm wide (derived: it is drawn so) counts as a stop only where so little is wanted.
func TestNarrowStops(t *testing.T) {
	const finger = `part."stop lug".plate.outline=[[14, -12], [14, 14], [-8, 16], [-21.17, -8.379], [-57.17, -34.379], [-54.83, -37.621], [-18.83, -11.621], [-12, -12]]`
	for _, c := range []struct {
		name  string
		set   []string
		width float64 // 0: none is narrow
		least float64
	}{
		{"as it is", nil, 0, 0},
		{"a finger", []string{finger}, 4, DefaultWidth},
		{"wanted wider", []string{finger, `part."stop lug".min_width=4.5`}, 4, 4.5},
		{"wide enough", []string{finger, `part."stop lug".min_width=3.5`}, 0, 0},
		{"of which nothing is said", []string{finger, `part."stop lug".grind=false`}, 0, 0},
		{"meant as the stop", []string{finger, `part."stop lug".grind=false`, `part."stop lug".stop=true`}, 4, DefaultWidth},
		{"stopped by something else", []string{finger, "limits.spindle=20"}, 0, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, _, err := setupfile.Read("kart.toml", shipped(t, "shed-kart"), setupfile.Options{Set: c.set})
			if err != nil {
				t.Fatal(err)
			}
			m, err := sweep.New(s)
			if err != nil {
				t.Fatal(err)
			}
			locks := [2]sweep.Lock{m.Lock(sweep.ToLeft), m.Lock(sweep.ToRight)}
			found := Narrow(m, &locks)
			if c.width == 0 {
				if len(found) > 0 {
					t.Errorf("got %+v, want none", found)
				}
				return
			}
			if len(found) != 1 || math.Abs(found[0].Width-c.width) > 2*widthStep || found[0].Least != c.least || found[0].Code != sweep.NarrowStop {
				t.Fatalf("got %+v, want one %g wide of %g", found, c.width, c.least)
			}
			if part := m.Scene.Pieces[found[0].Pair[0]].Part; part == nil || part.Name != "stop lug" {
				t.Errorf("got %+v, want the stop lug", part)
			}
		})
	}
}

func shipped(t *testing.T, name string) []byte {
	t.Helper()
	for _, e := range fixtures.Examples {
		if e.Name == name {
			data, err := e.Data()
			if err != nil {
				t.Fatal(err)
			}
			return data
		}
	}
	t.Fatal("no example " + name)
	return nil
}
