package report

import (
	"testing"

	"github.com/golang/geo/r3"

	"locksweep/geometry/drill"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// TestTodaysHoleIsOnePlace: a listed place is today's hole only with today's rods, and with a cut asked for only where none can be made.
func TestTodaysHoleIsOnePlace(t *testing.T) {
	at := func(x, rod float64, alarms ...sweep.Code) drill.Listed {
		l := drill.Listed{Sweep: &sweep.Result{}, Alarms: alarms}
		l.Pickups[setup.Left], l.Sweep.Rods[0].Length = r3.Vector{X: x}, rod
		return l
	}
	for _, c := range []struct {
		what  string
		place drill.Listed
		cut   bool
		want  bool
	}{
		{"the same hole", at(-88, 240), false, true},
		{"another hole", at(-66, 240), false, false},
		{"another rod", at(-88, 250), false, false},
		{"the same hole with a cut", at(-88, 240), true, false},
		{"the same hole where none can be made", at(-88, 240, sweep.NoMetalStop), true, true},
		{"another hole where none can be made", at(-66, 240, sweep.NoMetalStop), true, false},
	} {
		r := &drill.Result{Current: at(-88, 240), Best: []drill.Listed{at(-50, 240), c.place}, Aims: drill.Aims{Cut: c.cut}}
		if _, listed := todays(r); (listed == 1) != c.want || listed == 0 {
			t.Errorf("%s: listed as %d, want that %v", c.what, listed, c.want)
		}
	}
}
