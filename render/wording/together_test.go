package wording_test

import (
	"math"
	"strings"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/geometry/drill"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/render/wording"
)

// TestNoTogetherSaysWhatNext: what may be asked for instead, and by what gives out first with today's hole which lever there is: an arm behind the
// kingpin comes in line with its rod later the further outboard its pickup is, one ahead of it the further inboard (seen from above, the wheel
// inside the turn: derived), and a longer drop arm turns the wheels as far with less of its own turn.
func TestNoTogetherSaysWhatNext(t *testing.T) {
	for _, c := range []struct {
		forward float64
		reach   s1.Angle
		at      int
		ends    sweep.Kind
		want    []string
	}{
		{-88, 32.58 * s1.Degree, -1, sweep.DeadPoint, []string{"give 32.5° at most", "grind for that", "--new-arm", "further outboard"}},
		{-88, 32.58 * s1.Degree, 1, sweep.DeadPoint, []string{"place 2", "--lock 32.5", "further outboard"}},
		{88, 32.58 * s1.Degree, 1, sweep.DeadPoint, []string{"--lock 32.5", "further inboard"}},
		{-88, 32.58 * s1.Degree, -1, sweep.OverCentre, []string{"grind for that", "a longer drop arm"}},
		{-88, 32.58 * s1.Degree, 1, sweep.RodEnd, []string{"--lock 32.5", "--new-arm", "--on drop-arm"}},
		{-88, s1.Angle(math.NaN()), -1, sweep.DeadPoint, []string{"make a stop first"}},
	} {
		r := &drill.Result{Setup: &setup.Setup{}, Aims: drill.Aims{Lock: 40 * s1.Degree}, Best: make([]drill.Listed, 2)}
		r.Current.Sweep = &sweep.Result{}
		r.Current.Sweep.Locks[sweep.ToLeft].Chain = []sweep.Limit{{Kind: sweep.Contact}, {Kind: c.ends}}
		r.Current.Pickups[setup.Left] = r3.Vector{X: c.forward, Y: -20}
		got := wording.NoTogether(&drill.Together{Result: r, Reach: c.reach, ReachAt: c.at})
		for _, want := range c.want {
			if !strings.Contains(got, want) {
				t.Errorf("%+v: %q lacks %q", c, got, want)
			}
		}
		// Asked for as far as that goes, the advice is not to ask for the same again.
		r.Aims.Lock, r.Best[1].Alarms = 32.5*s1.Degree, []sweep.Code{sweep.WheelsOpposed}
		if got = wording.NoTogether(&drill.Together{Result: r, Reach: c.reach, ReachAt: c.at}); c.at == 1 &&
			(strings.Contains(got, "--lock") || !strings.Contains(got, "but there the wheels turn against each other; ask for less lock")) {
			t.Errorf("%+v, asked for that: %q", c, got)
		}
	}
}
