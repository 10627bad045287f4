package setup_test

import (
	"testing"

	"locksweep/geometry/setup"
	"locksweep/geometry/setupfile"
)

// TestAsHungGivesTheFileBack: with every part hung anew, undoing it gives the balls as the file has them.
func TestAsHungGivesTheFileBack(t *testing.T) {
	plain := mustRead(t, changeable, setupfile.Options{})
	for _, set := range [][]string{
		{"change.swap_spindles=true"},
		{"change.turn_spindles_over=true", "change.turn_drop_arm_over=true"},
		{"change.swap_spindles=true", "change.turn_spindles_over=true", "change.turn_drop_arm_over=true"},
	} {
		changed := mustRead(t, changeable, setupfile.Options{Set: set})
		got := changed.AsHung()
		for _, side := range setup.Sides {
			if a, b := got.Corners[side].Arm.Pickup, plain.Corners[side].Arm.Pickup; a.Sub(b).Norm() > 1e-9 {
				t.Errorf("%v: %v pickup at %v, the file has %v", set, side, a, b)
			}
			if a, b := got.DropArm.Pins[side], plain.DropArm.Pins[side]; a.Sub(b).Norm() > 1e-9 {
				t.Errorf("%v: %v pin at %v, the file has %v", set, side, a, b)
			}
		}
		if changed.Corners[setup.Left].Arm.Pickup == plain.Corners[setup.Left].Arm.Pickup {
			t.Errorf("%v: nothing was hung anew", set)
		}
	}
}
