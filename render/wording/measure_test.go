package wording_test

import (
	"testing"

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
		if got := wording.MeasureName(key); got != want {
			t.Errorf("%q: %q, want %q", key, got, want)
		}
	}
}
