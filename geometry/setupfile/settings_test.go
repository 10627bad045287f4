package setupfile

import (
	"strings"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"
	"github.com/google/go-cmp/cmp"

	"locksweep/geometry/setup"
)

func TestVariantAndSet(t *testing.T) {
	s := mustRead(t, whole, Options{
		Variant: "pickup 12 mm inboard",
		Set: []string{
			"arm.pickup[0]=-90", "vehicle.wheelbase = 990", "name=Two words", `part."stop lug".grind=false`,
			"part.side rail.tube.diameter=25", "arm.holes.inner.diameter=6", "right.arm.holes.inner.diameter=5",
			"wheel.lead=0", "tie_rod.rod_end={tilt=20}", "right.kingpin.caster=11", "column.travel=90", "drop_arm.right=spare",
		},
	})
	for _, c := range []struct {
		what      string
		got, want any
	}{
		{"pickup", s.Corners[setup.Left].Arm.Pickup, r3.Vector{X: -90, Y: -42}},
		{"right pickup", s.Corners[setup.Right].Arm.Pickup, r3.Vector{X: -95, Y: -28}},
		{"wheelbase", s.Vehicle.Wheelbase, 990.0},
		{"name", s.Name, "Two words"},
		{"grind", s.Parts[1].Grind, false},
		{"tube", s.Parts[0].Tube.Diameter, 25.0},
		{"hole", s.Corners[setup.Left].Arm.Metal.Holes[1].Diameter, 6.0},
		{"right hole", s.Corners[setup.Right].Arm.Metal.Holes[1].Diameter, 5.0},
		{"left hole kept", s.Corners[setup.Left].Arm.Metal.Holes[0].Diameter, 8.0},
		{"rod end", s.Corners[setup.Left].Rod.End, setup.RodEnd{Tilt: 20 * s1.Degree, Body: 36, Eye: 24, Thread: 8, Pitch: 1.25}},
		{"caster", [2]s1.Angle{s.Corners[setup.Left].Kingpin.Caster, s.Corners[setup.Right].Kingpin.Caster}, [2]s1.Angle{12 * s1.Degree, 11 * s1.Degree}},
		{"travel", s.Column.Travel, 90 * s1.Degree},
		{"pin", s.DropArm.Pins[setup.Right], r3.Vector{X: 40, Y: 0, Z: 7}},
	} {
		if diff := cmp.Diff(c.want, c.got, nearly); diff != "" {
			t.Errorf("%s: want - got +\n%s", c.what, diff)
		}
	}
	if diff := cmp.Diff(mustRead(t, whole, Options{}), mustRead(t, whole, Options{Set: []string{"wheel.lead=4"}}), anywhere); diff != "" {
		t.Errorf("setting what is there changes\n%s", diff)
	}
}

// TestWhereFrom: a setup says with which options it was read, a part in which line it stands.
func TestWhereFrom(t *testing.T) {
	s := mustRead(t, whole, Options{Variant: "pickup 12 mm inboard", Set: []string{"wheel.lead=4"}})
	if want := `variant "pickup 12 mm inboard", wheel.lead=4`; s.With != want {
		t.Errorf("With is %q, want %q", s.With, want)
	}
	lines := strings.Split(whole, "\n")
	for _, p := range s.Parts {
		if p.Line < 1 || !strings.Contains(lines[p.Line-1], p.Name) {
			t.Errorf("%s is said to stand in line %d", p.Name, p.Line)
		}
	}
}

// TestKeysTakenAway: what --set or a variant empties is as if the file had never had it.
func TestKeysTakenAway(t *testing.T) {
	without := func(parts ...string) string {
		text := whole
		for i := 0; i < len(parts); i += 2 {
			if !strings.Contains(text, parts[i]) {
				t.Fatalf("%q is not in the text", parts[i])
			}
			text = strings.Replace(text, parts[i], parts[i+1], 1)
		}
		return text
	}
	for _, c := range []struct {
		set  []string
		text string
	}{
		{[]string{"arm.outline="}, without("outline = [[15, 15], [15, -15], [-110, -45], [-110, -15]]\n", "")},
		{[]string{"tie_rod="}, without("[tie_rod]\nleft  = 256\ndiameter = 16\nrod_end  = { tilt = 13, body = 36, eye = 24, thread = 8, pitch = 1.25 }\n", "")},
		{[]string{`part."side rail"=`}, without("[[part]]\nname = \"side rail\"\non   = \"frame\"\nmirror = true\ntube = { diameter = 30, path = [[-200, 250, 100], [300, 200, 100]] }\n", "")},
		{[]string{"arm.holes.inner="}, without("},\n           { name = \"inner\", at = [-80, -25], diameter = 8 }]", "}]")},
		{[]string{"drop_arm.left=", "drop_arm.right=", "drop_arm.left_bolt=", "drop_arm.pin=[55, 0, 7]"},
			without("left  = [55, 20, 7]\nright = [55, -20, 7]\n", "pin = [55, 0, 7]\n", "left_bolt = [3, 0, 4]\n", "")},
		{[]string{"right.arm="}, without("[right.arm]\npickup = [-95, -28, 0]\n", "")},
	} {
		got, want := mustRead(t, whole, Options{Set: c.set}), mustRead(t, c.text, Options{})
		if diff := cmp.Diff(want, got, nearly); diff != "" {
			t.Errorf("%q: want - got +\n%s", c.set, diff)
		}
	}
	text := whole + "[[variant]]\nname = \"no outline\"\nset = { \"arm.outline\" = \"\" }\n"
	if s := mustRead(t, text, Options{Variant: "no outline"}); len(s.Corners[setup.Left].Arm.Metal.Outline) > 0 {
		t.Error("a variant cannot take the outline away")
	}
}
