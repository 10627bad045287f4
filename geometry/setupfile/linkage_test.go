package setupfile

import (
	"strings"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/google/go-cmp/cmp"

	"locksweep/geometry/setup"
)

// withLink and withRack are least with another linkage.
var (
	withLink = strings.Replace(least, "left = [55, 20, 0]\nright = [55, -20, 0]\n", "pin = [55, 0, 0]\n", 1) +
		"[drag_link]\nside = \"right\"\npickup = [-70, -20, 5]\n"
	withRack = least[:strings.Index(least, "[column]")] + "[rack]\nleft = [-95, 110, 130]\nright = [-95, -110, 130]\nper_turn = 50\n"
)

func TestLinkagesAreRead(t *testing.T) {
	s := mustRead(t, withLink+"length = 250\nrod_end = { tilt = 20 }\npickup_bolt = [0, 0, 2]\n[tie_rod]\nlength = 530\n", Options{})
	rod := setup.Rod{Length: 250, Diameter: setup.DefaultRodDiameter}
	rod.End.Tilt = s.DragLink.Rod.End.Tilt
	want := &setup.DragLink{Side: setup.Right, Pickup: r3.Vector{X: -70, Y: -20, Z: 5}, Bolt: r3.Vector{Z: 1}, Rod: rod}
	if d := cmp.Diff(want, s.DragLink); d != "" || rod.End.Tilt.Degrees() < 19.99 || s.Corners[setup.Left].Rod.Length != 530 {
		t.Errorf("%s, cross rod %v", d, s.Corners[setup.Left].Rod.Length)
	}
	if s.Linkage().String() != "cross rod" || s.DropArm.Pins[0] != s.DropArm.Pins[1] {
		t.Errorf("linkage %v, pins %v", s.Linkage(), s.DropArm.Pins)
	}
	s = mustRead(t, withRack+"travel = 60\nleft_bolt = [3, 0, 0]\n", Options{})
	rack := &setup.Rack{Balls: [2]r3.Vector{{X: -95, Y: 110, Z: 130}, {X: -95, Y: -110, Z: 130}}, Bolts: [2]r3.Vector{{X: 1}, {}}, PerTurn: 50, Travel: 60, Diameter: setup.DefaultRackDiameter}
	if d := cmp.Diff(rack, s.Rack); d != "" || s.Linkage().String() != "rack" {
		t.Errorf("%s, linkage %v", d, s.Linkage())
	}
	if said := strings.Join(s.Assumed, ", "); !strings.Contains(said, "rack diameter 25 mm") {
		t.Errorf("assumed: %s", said)
	}
	// In inches, and with the hole of an arm by its name.
	s = mustRead(t, strings.Replace(withRack, `units = "mm"`, `units = "in"`, 1), Options{})
	if s.Rack.PerTurn != 50*setup.MMPerInch || s.Rack.Balls[0].Y != 110*setup.MMPerInch {
		t.Errorf("in inches: %+v", s.Rack)
	}
	s = mustRead(t, strings.Replace(withLink, "[-70, -20, 5]", `"top"`, 1)+"[right.arm]\nholes = [{ name = \"top\", at = [-60, -10], up = 7, diameter = 8 }]\n", Options{})
	if want := (r3.Vector{X: -60, Y: -10, Z: 7}); s.DragLink.Pickup != want {
		t.Errorf("the hole named top stands at %v, want %v", s.DragLink.Pickup, want)
	}
}

func TestLinkagesAreChecked(t *testing.T) {
	for _, c := range []struct{ base, old, new, key, text string }{
		{withLink, "side = \"right\"", "side = \"port\"", "drag_link.side", `should be "left" or "right"`},
		{withLink, "side = \"right\"\n", "", "drag_link.side", "is missing"},
		{withLink, "pickup = [-70, -20, 5]\n", "", "drag_link.pickup", "is missing"},
		{withLink, "[-70, -20, 5]", "[0, 0, 5]", "drag_link.pickup", "lies on the kingpin axis"},
		{withLink, "[-70, -20, 5]", "\"top\"", "drag_link.pickup", "but the arm has no holes"},
		{withLink, "pin = [55, 0, 0]", "left = [55, 20, 0]\nright = [55, -20, 0]", "drop_arm.pin", "is missing"},
		{withLink, "pin = [55, 0, 0]", "pin = [55, 0, 0]\nleft = [55, 20, 0]", "drop_arm.left", "give pin"},
		{withLink, "pin = [55, 0, 0]", "pin = [55, 0, 0]\nright_bolt = [0, 0, 1]", "drop_arm.right_bolt", "give bolt"},
		{withLink, "", "[tie_rod]\nleft = 250\n", "tie_rod.left", "give length"},
		{withLink, "", "tilt = 20\n", "drag_link.tilt", "is not a key of this table"},
		{withLink, "", "[[part]]\nname = \"lug\"\non = \"rack\"\ntube = { diameter = 5, path = [[0,0,0],[9,0,0]] }\n", "part.lug.on", "should be frame, spindle, column, tie_rod or drag_link"},
		{withLink, "", "[[part]]\nname = \"drag link\"\non = \"frame\"\ntube = { diameter = 5, path = [[0,0,0],[9,0,0]] }\n", "part[0].name", "is there already"},
		{withLink, "", "[[part]]\nname = \"lug\"\non = \"tie_rod\"\nside = \"left\"\ntube = { diameter = 5, path = [[0,0,0],[9,0,0]] }\n", "part.lug.side", "stands where its co-ordinates say"},
		{withLink, "", "[change]\none_hole = true\n", "change.one_hole", "has one hole already"},
		{withRack, "", "[column]\nfoot = [0, 0, 100]\nrake = 40\n", "column", "is given beside [rack]"},
		{withRack, "", "[drop_arm]\npin = [50, 0, 0]\n", "drop_arm", "is given beside [rack]"},
		{withRack, "", "[drag_link]\nside = \"left\"\n", "drag_link", "is given beside [rack]"},
		{withRack, "left = [-95, 110, 130]\n", "", "rack.left", "is missing"},
		{withRack, "per_turn = 50\n", "", "rack.per_turn", "is missing"},
		{withRack, "= 50", "= 4", "rack.per_turn", "hardly moves the rack"},
		{withRack, "= 50", "= -4", "rack.per_turn", "hardly moves the rack"},
		{withRack, "[-95, 110, 130]", "[-95, -110, 130]", "rack.left", "is where the right ball is"},
		{withRack, "[-95, 110, 130]", "[-95, 270, 130]", "rack.left", "lies on the left steering arm's pickup"},
		{withRack, "", "travel = 0\n", "rack.travel", "more than 0"},
		{withRack, "", "[[part]]\nname = \"lug\"\non = \"column\"\ntube = { diameter = 5, path = [[0,0,0],[9,0,0]] }\n", "part.lug.on", "should be frame, spindle, rack or tie_rod"},
		{withRack, "", "[change]\nlengthen_drop_arm = 10\n", "change.lengthen_drop_arm", "a rack has none"},
		{least, "[drop_arm]", "[[part]]\nname = \"rack\"\non = \"rack\"\ntube = { diameter = 5, path = [[0,0,0],[9,0,0]] }\n[drop_arm]", "part.rack.on", "should be frame, spindle, column or tie_rod"},
	} {
		text := c.base + c.new
		if c.old != "" {
			if text = strings.Replace(c.base, c.old, c.new, 1); text == c.base {
				t.Errorf("%q is not in the file", c.old)
				continue
			}
		}
		_, _, err := Read("kart.toml", []byte(text), Options{})
		list, _ := err.(Errors)
		if len(list) == 0 || list[0].Key != c.key || !strings.Contains(list[0].Text, c.text) {
			t.Errorf("%s\n got %v\nwant %s: …%s…", c.new, err, c.key, c.text)
		}
	}
	// A part may be called rack where the vehicle has none, and a part rides on rack and drag link.
	mustRead(t, least+"[[part]]\nname = \"rack\"\non = \"frame\"\ntube = { diameter = 5, path = [[0,0,0],[9,0,0]] }\n", Options{})
	s := mustRead(t, withRack+"[[part]]\nname = \"lug\"\non = \"rack\"\nplate = { outline = [[0,0],[9,0],[9,9]], up = [0,1] }\n", Options{})
	if s.Parts[0].On != setup.OnRack || s.Parts[0].Sides != [2]bool{} {
		t.Errorf("%+v", s.Parts[0])
	}
	s = mustRead(t, withLink+"[[part]]\nname = \"clip\"\non = \"drag_link\"\ntube = { diameter = 5, path = [[0,0,0],[9,0,0]] }\n", Options{})
	if s.Parts[0].On != setup.OnDragLink || s.Parts[0].Sides != [2]bool{} {
		t.Errorf("%+v", s.Parts[0])
	}
}

// TestDragLinkGoesWithItsSpindle: swapped side for side the ball stands on the other arm, and back again; turned over
// it stays on its side.
func TestDragLinkGoesWithItsSpindle(t *testing.T) {
	before := mustRead(t, withLink, Options{})
	s := mustRead(t, withLink+"[change]\nswap_spindles = true\n", Options{})
	if s.DragLink.Side != setup.Left || s.DragLink.Pickup.X != 70 || s.DragLink.Pickup.Y != -20 {
		t.Errorf("swapped: %+v", s.DragLink)
	}
	if back := s.AsHung(); back.DragLink.Side != setup.Right || back.DragLink.Pickup.Sub(before.DragLink.Pickup).Norm() > 1e-9 {
		t.Errorf("swapped twice: %+v, was %+v", back.DragLink, before.DragLink)
	}
	s = mustRead(t, withLink+"[change]\nturn_spindles_over = true\n", Options{})
	if s.DragLink.Side != setup.Right || s.DragLink.Pickup.Z != -5 {
		t.Errorf("turned over: %+v", s.DragLink)
	}
}
