package wording

import (
	"cmp"
	"fmt"
	"strings"

	"github.com/golang/geo/s1"

	"locksweep/geometry/reconcile"
	"locksweep/geometry/setup"
)

// Observed names an observation.
func Observed(s *setup.Setup, o *reconcile.Observation) string {
	switch o.Kind {
	case reconcile.Tape:
		t := s.Checks.Taped[o.Index]
		return setup.Printable(t.From + " to " + t.To)
	case reconcile.Turn:
		return fmt.Sprintf("%s wheel at %s", o.Side, Way(s.Checks.Turned[o.Index].Column))
	case reconcile.Rod:
		return rodOfKey(o.Key)
	case reconcile.Centre:
		return "steering wheel at 0"
	case reconcile.Column:
		return "steering wheel at " + Way(s.Checks.Turned[o.Index].Column)
	case reconcile.MarkAt:
		return setup.Printable(s.Checks.Marks[o.Index].Name) + " (" + vehicleAxes[axisOf(o.Key)] + ")"
	}
	return figureOfFile(s, o.Key)
}

// figureOfFile names a figure of the file by its key, and by what stands on the vehicle: "left pickup (outboard)", "right caster"; by
// the key itself where it has no name.
func figureOfFile(s *setup.Setup, key string) string {
	now, _ := s.Rehung.Stands(key)
	side, rest := sideOf(now)
	if at := strings.IndexByte(rest, '['); at > 0 {
		if p, ok := points[onePin(s, rest[:at])]; ok {
			return strings.ReplaceAll(p.noun, "[side]", side) + " (" + p.axes[axisOf(rest)] + ")"
		}
	}
	if p, ok := scalars[rest]; ok {
		return strings.ReplaceAll(p.name, "[side]", side)
	}
	return setup.Printable(key)
}

// sideOf cuts the side off a key.
func sideOf(key string) (side, rest string) {
	if rest, right := strings.CutPrefix(key, "right."); right {
		return "right", rest
	}
	return "left", key
}

// onePin is the key of a pin, or of the one pin that takes both rods.
func onePin(s *setup.Setup, key string) string {
	if s.Rack == nil && s.DropArm.Pins[setup.Left] == s.DropArm.Pins[setup.Right] && strings.HasPrefix(key, "drop_arm.") {
		return "drop_arm.pin"
	}
	return key
}

// rodOfKey names the rod whose length a key of the file is.
func rodOfKey(key string) string {
	return cmp.Or(map[string]string{"drag_link.length": "drag link", "tie_rod.left": "left tie rod", "tie_rod.right": "right tie rod"}[key], "tie rod")
}

// amount says a length in mm, or an angle in radians, with its unit.
func amount(u setup.Unit, angle bool, v float64) string {
	if angle {
		return Angle(s1.Angle(v))
	}
	return Length(u, v)
}
