package setup_test

import (
	"math"
	"strings"
	"testing"

	"github.com/golang/geo/s1"

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

// TestAsHungLevelsThePitchedFrame: after other tyres, all measures but those of the tyres are the file's again.
func TestAsHungLevelsThePitchedFrame(t *testing.T) {
	plain := mustRead(t, changeable, setupfile.Options{})
	changed := mustRead(t, changeable, setupfile.Options{Set: []string{
		"change.tyre={ diameter = 300, width = 130 }", "change.rear_tyre={ diameter = 250, width = 100 }", "change.swap_spindles=true"}})
	got := map[string]setup.Measure{}
	for _, m := range changed.AsHung().Measures() {
		got[m.Key] = m
	}
	for _, m := range plain.Measures() {
		for i, f := range m.Figures {
			g := got[m.Key]
			if strings.Contains(m.Key, "tyre") {
				continue
			}
			if len(g.Figures) <= i || math.Abs(*g.Figures[i]-*f) > 1e-9 {
				t.Errorf("%s: %v, the file has %v", m.Key, g.Figures, *f)
			}
		}
	}
	if a, b := changed.Corners[0].Kingpin.Caster, plain.Corners[0].Kingpin.Caster; a-b < 1*s1.Degree {
		t.Errorf("caster %v, was %v: front up by 20 and rear down by 5 on 1000 are some 1.5 degrees", a, b)
	}
}
