package wording

import (
	"testing"

	"locksweep/geometry/setup"
)

// TestTubesThatHaveToBeBent: the metal that a cut leaves and the length along the bent path are told as one instruction.
func TestTubesThatHaveToBeBent(t *testing.T) {
	for _, c := range []struct {
		name string
		tube setup.TubeCut
		want string
	}{
		{"too short", setup.TubeCut{Old: 1000, New: 864, Out: []setup.Stretch{{From: 500, To: 650}}}, ": 14.0 mm would be missing, so leave 7.0 mm more at either side of the cut and trim to fit"},
		{"too short, two cuts", setup.TubeCut{Old: 1000, New: 904, Out: []setup.Stretch{{From: 100, To: 150}, {From: 500, To: 560}}}, ": 14.0 mm would be missing, so leave the ends at a cut that much longer and trim to fit"},
		{"too short, a piece set in", setup.TubeCut{Old: 1000, New: 1064, Out: []setup.Stretch{{From: 500, To: 500, Apart: 50}}}, ": 14.0 mm would be missing, so leave the ends at a cut that much longer and trim to fit"},
		{"too long", setup.TubeCut{Old: 1000, New: 840, Out: []setup.Stretch{{From: 500, To: 650}}}, ": trim 10.0 mm off once they are bent"},
		{"within a saw's cut", setup.TubeCut{Old: 1000, New: 850.4, Out: []setup.Stretch{{From: 500, To: 650}}}, ""},
	} {
		if got := spare(setup.MM, &c.tube); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}
