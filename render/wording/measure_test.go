package wording_test

import (
	"testing"

	"locksweep/geometry/setup"
	"locksweep/render/wording"
)

func TestMeasureNames(t *testing.T) {
	for key, want := range map[string]string{
		"arm.pickup[1]":                       "pickup, outboard (arm.pickup[1])",
		"right.arm.pickup[0]":                 "right pickup, forward (right.arm.pickup[0])",
		"drop_arm.left[0]":                    "left pin, down (drop_arm.left[0])",
		"kingpin.caster":                      "caster (kingpin.caster)",
		"right.kingpin.caster":                "right caster (right.kingpin.caster)",
		`part."stop lug".plate.outline[*][1]`: `part."stop lug".plate.outline[*][1]`,
		"part.a\x1b.plate.up":                 `part.a.plate.up`,
		"column.foot[9]":                      "column.foot[9]",
	} {
		if got := wording.MeasureName(&setup.Rehung{}, key); got != want {
			t.Errorf("%q: %q, want %q", key, got, want)
		}
	}
}

// TestMeasureNamesAfterAChange: what stands on the left is called left, and the file's key is that of the side it came from.
func TestMeasureNamesAfterAChange(t *testing.T) {
	hung := &setup.Rehung{Swapped: true, DropArmOver: true}
	for key, want := range map[string]string{
		"arm.pickup[1]":    "pickup, outboard (right.arm.pickup[1])",
		"drop_arm.left[0]": "left pin, down (drop_arm.right[0])",
		"drop_arm.pin[0]":  "pin, down (drop_arm.pin[0])",
		"kingpin.caster":   "caster (kingpin.caster)",
	} {
		if got := wording.MeasureName(hung, key); got != want {
			t.Errorf("%q: %q, want %q", key, got, want)
		}
	}
}
