package setup_test

import (
	"math"
	"testing"

	"locksweep/geometry/setup"
	"locksweep/geometry/setupfile"
)

// TestStandsAsTheChangeMovesIt: a figure of the file made a little more makes more, or less, of just that figure of the vehicle after the
// change which Stands names.
func TestStandsAsTheChangeMovesIt(t *testing.T) {
	keys := []string{
		"arm.pickup[0]", "arm.pickup[1]", "arm.pickup[2]", "right.arm.pickup[0]", "right.arm.pickup[1]", "right.arm.pickup[2]",
		"wheel.offset", "wheel.lead", "wheel.camber", "right.wheel.offset", "right.wheel.lead", "right.wheel.camber",
		"wheel.toe", "right.wheel.toe", "kingpin.height", "right.kingpin.height", "kingpin.caster", "right.kingpin.inclination",
		"column.foot[0]", "column.foot[1]", "column.rake",
		"drop_arm.left[0]", "drop_arm.left[1]", "drop_arm.left[2]", "drop_arm.right[0]", "drop_arm.right[1]",
	}
	const little = 1e-4 // mm, radians
	for of := range 8 {
		made := setup.Change{SwapSpindles: of&1 > 0, TurnSpindlesOver: of&2 > 0, TurnDropArmOver: of&4 > 0}
		for _, key := range keys {
			before := mustRead(t, changeable, setupfile.Options{})
			after := before.Clone()
			figure, _ := after.Figure(key)
			*figure += little
			made.Apply(before)
			made.Apply(after)
			now, sign := after.Rehung.Stands(key)
			was, _ := before.Figure(now)
			is, _ := after.Figure(now)
			if was == nil || is == nil {
				t.Fatalf("%+v: %s should stand as %s, which is no figure", made, key, now)
			}
			if got, want := *is-*was, sign*little; math.Abs(got-want) > little/4 {
				t.Errorf("%+v: %s made %g more makes %s %g more, want %g", made, key, little, now, got, want)
			}
		}
	}
}
