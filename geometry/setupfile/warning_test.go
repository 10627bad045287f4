package setupfile

import (
	"strings"
	"testing"
)

func TestSuspicionsAreWarnings(t *testing.T) {
	for _, c := range []struct{ old, new, want string }{
		{"= 1000", "= 25", `kart.toml:4: vehicle.wheelbase: is only 25 mm; if the file is in inches write units = "in"`},
		{"= 1000", "= 104.5", `kart.toml:4: vehicle.wheelbase: is only 104.5 mm`},
		{"= 1000", "= 1000\nrear_track = 1.12", `kart.toml:5: vehicle.rear_track: is 1.12 mm, less than one rear tyre is wide (130 mm)`},
		{"= 120", "= 120\ntoe = 15", `kart.toml:9: wheel.toe: is 15 degrees for each wheel`},
		{"= 130", "= 13.2", `kart.toml:10: wheel.tyre_width: is only 13.2 mm; is it in another unit?`},
		{"left = [55, 20, 0]", "left = [55, -30, 0]", `kart.toml:17: drop_arm.left: lies to the right of the right rod's pin`},
		{"[-95, -30, 0]", "[-95, 60, 0]", "kart.toml:12: arm.pickup: lies outboard of the tyre's inner face (55 mm)"},
		{"= 600", "= 600\nheight = 200", "kart.toml:7: kingpin.height: puts the wheel's centre at 200 mm, but the tyre's radius is 130 mm"},
		{"[-95, -30, 0]", "[-95, -30, 0]\noutline = [[9, -9], [9, 9], [-80, 9], [-80, -9]]", "kart.toml:12: arm.pickup: lies 25.807 mm outside the arm's outline"},
		{"[-95, -30, 0]", "[-95, -30, 0]\noutline = [[9, -9], [9, 9], [-99, 9], [-99, -39]]\nholes = [{name = 'a', at = [-95, 0], diameter = 10}]", "kart.toml:14: arm.holes.a.at: breaks through the arm's edge, which is 4 mm from"},
		{"[-95, -30, 0]", "[-95, -30, 0]\nholes = [{name = 'a', at = [-95, 0], diameter = 10}, {name = 'b', at = [-90, 0], diameter = 8}]", `kart.toml:13: arm.holes.b.at: runs into the hole "a"`},
	} {
		text := strings.Replace(least, c.old, c.new, 1)
		s, warnings, err := Read("kart.toml", []byte(text), Options{})
		if err != nil || s == nil {
			t.Errorf("%s: %v", c.new, err)
			continue
		}
		if len(warnings) != 1 || !strings.HasPrefix(warnings[0].String(), c.want) || warnings[0].Code == "" {
			t.Errorf("%s\n got %v\nwant %s", c.new, warnings, c.want)
		}
	}
	inches := strings.Replace(strings.NewReplacer(`"mm"`, `"in"`, "1000", "201", "600", "24", "= 120", "= 5", "260", "10", "130\n", "5\n", "-95, -30", "-4, -1", "-95, 0, 130", "-4, 0, 5", "55, 20", "2, 1", "55, -20", "2, -1").Replace(least), "", "", 1)
	_, warnings, err := Read("kart.toml", []byte(inches), Options{})
	if err != nil || len(warnings) != 1 || warnings[0].Code != "units" {
		t.Errorf("inches: %v, %v", warnings, err)
	}
	for _, text := range []string{least, whole, rescaled(whole)} {
		if _, warnings, _ := Read("kart.toml", []byte(text), Options{}); len(warnings) > 0 {
			t.Errorf("a sound file is suspected: %v", warnings)
		}
	}
}
