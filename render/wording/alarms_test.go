package wording_test

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"locksweep/geometry/clearance"
	"locksweep/geometry/setupfile"
	"locksweep/geometry/sweep"
	"locksweep/render/wording"
)

// stopped is a kart with a lug behind each kingpin and a plate ahead of it, and a rail that the tyres clear by 8 mm.
const stopped = `
locksweep = 1
units = "mm"
vehicle = { wheelbase = 1000 }
kingpin = { spacing = 600 }
wheel = { offset = 120, tyre_diameter = 260, tyre_width = 110 }
arm = { pickup = [-95, -30, 0] }
column = { foot = [-95, 0, 130], rake = 35 }
drop_arm = { left = [55, 20, 0], right = [55, -20, 0] }
tie_rod = { diameter = 14 }

[[part]]
name = "lug"
on = "spindle"
plate = { outline = [[10, 10], [-20, 10], [-60, -30], [-40, -55], [10, -10]], up = [20, 28] }

[[part]]
name = "plate"
on = "frame"
at = "kingpin"
plate = { outline = [[30, -20], [60, -20], [60, -50], [30, -50]], up = [20, 28] }

[[part]]
name = "rail"
on = "frame"
mirror = true
tube = { diameter = 30, path = [[-600, 260, 40], [200, 260, 40]] }
`

// TestTheCauseThatAppliesIsNamed: what touches straight ahead, and a steering that works backwards, are put down to what the builder did, and
// to a cut of the frame only where what was cut is in it.
func TestTheCauseThatAppliesIsNamed(t *testing.T) {
	const (
		swap, over, narrow = "change.swap_spindles=true", "change.turn_drop_arm_over=true", "change.narrow=80"
		cut                = "the frame as cut may run into it: cut less out"
		stayed             = "the spindles hang the other way round with what is on them, and the plate stayed: move it"
		crossed            = "the rods cross, since the left one's pin lies to the right of the right one's"
		again              = "measure again, or name the pair under ignore"
		rod                = "measure again where both ends of the rod sit"
	)
	causes := []string{cut, stayed, crossed, again, rod}
	for _, c := range []struct {
		what string
		set  []string
		head string
		want []string
	}{
		{"as it is", nil, "", nil},
		{"a lug that came over", []string{swap, over}, "TOUCHING STRAIGHT AHEAD: ", []string{stayed}},
		{"the same of a narrowed kart", []string{swap, over, narrow}, "TOUCHING STRAIGHT AHEAD: ", []string{stayed}},
		{"a plate where the lug is", []string{`part."plate".plate.outline=[[-30, -20], [-60, -20], [-60, -50], [-30, -50]]`, narrow}, "TOUCHING STRAIGHT AHEAD: ", []string{again}},
		{"a rail in the tyre", []string{`part."rail".tube.path=[[-600, 350, 130], [200, 350, 130]]`}, "TOUCHING STRAIGHT AHEAD: ", []string{again}},
		{"a post that the cut leaves where it was", []string{`part."rail".tube.path=[[-60, 175, 200], [-60, 175, 300]]`, "change.narrow=400"}, "TOUCHING STRAIGHT AHEAD: ", []string{cut}},
		{"crossed pins", []string{"drop_arm.left=[55, -20, 0]", "drop_arm.right=[55, 20, 0]"}, "TOUCHING STRAIGHT AHEAD: ", []string{crossed}},
		{"a rod in a tyre", []string{"arm.pickup=[-95, 80, 0]", narrow}, "TOUCHING STRAIGHT AHEAD: ", []string{rod}},
		{"spindles swapped alone", []string{swap}, "STEERS BACKWARDS: ", []string{"that over too (change.turn_drop_arm_over = true)"}},
		{"the drop arm turned alone", []string{over}, "STEERS BACKWARDS: ", []string{"(change.turn_drop_arm_over = false), or swap the spindles too"}},
		{"both turned, the pickups given as they stand after it", []string{swap, over, "arm.pickup=[95, 30, 0]"}, "STEERS BACKWARDS: ", []string{"are arm.pickup, the pins of drop_arm given as they stand after it?"}},
		{"a sign", []string{"drop_arm.left=[-55, 20, 0]", "drop_arm.right=[-55, -20, 0]"}, "STEERS BACKWARDS: ", []string{"is a sign wrong?"}},
	} {
		s, _, err := setupfile.Read("kart.toml", []byte(stopped), setupfile.Options{Set: c.set})
		if err != nil {
			t.Errorf("%s: %v", c.what, err)
			continue
		}
		m, err := sweep.AsMeasured(s)
		if err != nil {
			t.Errorf("%s: %v", c.what, err)
			continue
		}
		said := ""
		for _, text := range wording.Alarmed(m) {
			if strings.HasPrefix(text, c.head) {
				said = text
			}
		}
		for _, cause := range causes {
			if strings.Contains(said, cause) && !slices.Contains(c.want, cause) {
				t.Errorf("%s: %q is named in %q", c.what, cause, said)
			}
		}
		for _, want := range c.want {
			if !strings.Contains(said, want) {
				t.Errorf("%s: %q lacks %q", c.what, said, want)
			}
		}
	}
}

// TestStopsThatCannotBeMeasuredAreTold: neither the alarm nor the warning gives a width that nobody knows.
func TestStopsThatCannotBeMeasuredAreTold(t *testing.T) {
	s, _, err := setupfile.Read("kart.toml", []byte(stopped), setupfile.Options{Set: []string{`part."lug".stop=true`}})
	if err != nil {
		t.Fatal(err)
	}
	r, err := sweep.Run(s, 5)
	if err != nil {
		t.Fatal(err)
	}
	lug := slices.IndexFunc(r.Scene.Pieces, func(p clearance.Piece) bool { return p.Name == "lug" })
	unknown := func(piece string) string {
		return "it cannot be told how wide " + piece + " is between where it is hit and its root"
	}
	f := sweep.Finding{Code: sweep.NarrowStop, Pair: [2]int{lug, 0}, Width: math.NaN(), Least: 6}
	if got := wording.Finding(r, &f); !strings.Contains(got, unknown("lug")) || strings.Contains(got, "has only") {
		t.Errorf("warned: %q", got)
	}
	l := sweep.Limit{Kind: sweep.Contact, Pair: [2]int{lug, 0}, Narrow: [2]bool{true}, Unmeasured: [2]error{errors.New("failed")}}
	alarm := sweep.Finding{Code: sweep.NoMetalStop, First: &l}
	if got := wording.Finding(r, &alarm); !strings.Contains(got, unknown("left lug")+", so it is no stop") {
		t.Errorf("alarmed: %q", got)
	}
	l.Unmeasured = [2]error{}
	if got := wording.Finding(r, &alarm); !strings.Contains(got, "left lug is narrower than 6 mm") {
		t.Errorf("measured: %q", got)
	}
}
