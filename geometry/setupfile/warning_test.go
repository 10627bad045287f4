package setupfile

import (
	"slices"
	"strings"
	"testing"
)

// lug begins a part on the spindle.
const lug = "[[part]]\nname = 'lug'\non = 'spindle'\n"

// rail begins a tube on the frame.
const rail = "[[part]]\nname = 'rail'\non = 'frame'\ntube = {diameter = 30, path = "

func TestSuspicionsAreWarnings(t *testing.T) {
	for _, c := range []struct{ old, new, want string }{
		{"= 1000", "= 25", `kart.toml:4: vehicle.wheelbase: is only 25 mm; if the file is in inches write units = "in"`},
		{"= 1000", "= 104.5", `kart.toml:4: vehicle.wheelbase: is only 104.5 mm`},
		{"= 1000", "= 1000\nrear_track = 1.12", `kart.toml:5: vehicle.rear_track: is 1.12 mm, less than one rear tyre is wide (130 mm)`},
		{"= 120", "= 120\ntoe = 15", `kart.toml:9: wheel.toe: is 15 degrees for each wheel`},
		{"= 130", "= 13.2", `kart.toml:10: wheel.tyre_width: is only 13.2 mm; is it in another unit?`},
		{"left = [55, 20, 0]", "left = [55, -30, 0]", `kart.toml:17: drop_arm.left: lies to the right of the right rod's pin`},
		{"right = [55, -20, 0]", "right = [55, -20, 0]\noutline = [[-9, -30], [70, -30], [70, 9], [-9, 9]]", `kart.toml:17: drop_arm.left: lies 11 mm outside the drop arm's outline`},
		{"right = [55, -20, 0]", "right = [55, -20, 0]\noutline = [[30, -30], [70, -30], [70, 30], [30, 30]]", `kart.toml:19: drop_arm.outline: does not hold the column, [0, 0], which lies 30 mm outside`},
		{"[-95, -30, 0]", "[-95, 60, 0]", "kart.toml:12: arm.pickup: lies outboard of the tyre's inner face (55 mm)"},
		{"= 600", "= 600\nheight = 200", "kart.toml:7: kingpin.height: puts the wheel's centre at 200 mm, but the tyre's radius is 130 mm"},
		{"[-95, -30, 0]", "[-95, -30, 0]\noutline = [[9, -9], [9, 9], [-80, 9], [-80, -9]]", "kart.toml:12: arm.pickup: lies 25.807 mm outside the arm's outline"},
		{"[-95, -30, 0]", "[-95, -30, 0]\noutline = [[9, -9], [9, 9], [-99, 9], [-99, -39]]\nholes = [{name = 'a', at = [-95, 0], diameter = 10}]", "kart.toml:14: arm.holes.a.at: breaks through the arm's edge, which is 4 mm from"},
		{"[-95, -30, 0]", "[-95, -30, 0]\nholes = [{name = 'a', at = [-95, 0], diameter = 10}, {name = 'b', at = [-90, 0], diameter = 8}]", `kart.toml:13: arm.holes.b.at: runs into the hole "a"`},
		// A centimetre slip, or a figure in another unit.
		{"= 1000", "= 8000", "kart.toml:4: vehicle.wheelbase: is 8000 mm beside kingpin.spacing of 600 mm; from 600 mm to 2400 mm is usual"},
		{"= 600", "= 60", "kart.toml:6: kingpin.spacing: is 60 mm, out of proportion to vehicle.wheelbase (1000 mm) and 4 more"},
		{"= 120", "= 12", "kart.toml:8: wheel.offset: is 12 mm beside kingpin.spacing of 600 mm; from 48 mm to 240 mm is usual"},
		{"= 260", "= 26", "kart.toml:9: wheel.tyre_diameter: is 26 mm beside vehicle.wheelbase of 1000 mm; from 150 mm to 700 mm is usual"},
		{"= 130\n", "= 2100\n", "kart.toml:10: wheel.tyre_width: is 2100 mm beside wheel.tyre_diameter of 260 mm"},
		{"[-95, -30, 0]", "[-9.5, -3.0, 0]", "kart.toml:12: arm.pickup: is 10 mm beside kingpin.spacing of 600 mm; from 60 mm to 210 mm is usual"},
		{"left = [55, 20, 0]\nright = [55, -20, 0]", "pin = [5.5, 0, 0]", "kart.toml:17: drop_arm.pin: is 5.5 mm beside arm.pickup of 100 mm; from 40 mm to 150 mm is usual"},
		{"= 1000", "= 1000\nrear_tyre = {diameter = 28, width = 18}", "kart.toml:5: vehicle.rear_tyre.diameter: is 28 mm beside wheel.tyre_diameter of 260 mm"},
		{"= 1000", "= 1000\nrear_tyre = {diameter = 280, width = 3}", "kart.toml:5: vehicle.rear_tyre.width: is 3 mm beside vehicle.rear_tyre.diameter of 280 mm"},
		{"= 1000", "= 1000\nrear_track = 9500", "kart.toml:5: vehicle.rear_track: is 9500 mm beside kingpin.spacing of 600 mm"},
		{"[drop_arm]", "[tie_rod]\ndiameter = 120\n[drop_arm]", "kart.toml:17: tie_rod.diameter: is 120 mm beside wheel.tyre_diameter of 260 mm"},
		{"[-95, -30, 0]", "[-95, -30, 0]\noutline = [[9, -9], [9, 9], [-99, 9], [-99, -390], [-80, -39]]", "kart.toml:13: arm.outline[3]: has -390 where the other points lie between -39 and 9; is it a slip of the point?"},
		{"[-95, -30, 0]", "[-95, -30, -150]", "kart.toml:12: arm.pickup: lies 20 mm under the ground"},
		{"foot = [-95, 0, 130]", "foot = [-95, 0, 30]", "kart.toml:17: drop_arm.left: lies 15 mm under the ground"},
		{"= 600", "= 600\ncaster = -3", "kart.toml:7: kingpin.caster: puts the kingpin 6.8 mm behind the tyre's contact on the ground (negative trail)"},
		{"= 120", "= 120\nlead = 4", "kart.toml:9: wheel.lead: puts the kingpin 4 mm behind"},
		{"[-95, -30, 0]", "[-95, -30, 50]\noutline = [[9, -9], [9, 9], [-99, 9], [-99, -39]]\nup = [-4, 4]", "kart.toml:12: arm.pickup: stands 46 mm above the metal of the arm; within 30 mm is usual"},
		{"[-95, -30, 0]", "[-95, -30, -50]\noutline = [[9, -9], [9, 9], [-99, 9], [-99, -39]]\nup = [-4, 4]", "kart.toml:12: arm.pickup: stands 46 mm below the metal of the arm"},
		{"[-95, -30, 0]", "[-95, -30, 0]\noutline = [[9, -9], [9, 9], [-99, 9], [-99, -39]]\nup = [-4, 4]\nholes = [{name = 'a', at = [-80, 0], diameter = 8, up = 40}]", "kart.toml:15: arm.holes.a.up: stands 36 mm above the metal of the arm"},
		{"left = [55, 20, 0]", "outline = [[-9, -30], [-9, 30], [70, 30], [70, -30]]\nup = [60, 66]\nleft = [55, 20, 40]", "kart.toml:20: drop_arm.right: stands 60 mm below the metal of the drop arm"},
		{"[drop_arm]", "[limits]\nspindle = 4\n[drop_arm]", "kart.toml:17: limits.spindle: lets the spindle turn only 4 degrees; a stop at 25 to 45 is usual"},
		{"[drop_arm]", "[tie_rod]\nrod_end = {body = 140}\n[drop_arm]", "kart.toml:17: tie_rod.rod_end.body: is 140 mm at either end of a rod of 25"},
		{"[drop_arm]", lug + "bore = 12\nplate = {outline = [[20, -5], [20, 5], [40, 5], [40, -5]], up = [0, 9]}\n[drop_arm]", `kart.toml:19: part.lug.bore: goes round the kingpin, at [0, 0], which has no metal`},
		{"[drop_arm]", lug + "bore = 12\nplate = {outline = [[-5, -15], [-5, 15], [40, 15], [40, -15]], up = [0, 9]}\n[drop_arm]", `kart.toml:19: part.lug.bore: goes round the kingpin`},
		{"[drop_arm]", "[[part]]\nname = 'rail'\non = 'frame'\ntube = {diameter = 30, path = [[-900, 200, 50], [0, 200, -50]]}\n[drop_arm]", `kart.toml:19: part.rail.tube.path[1]: lies 50 mm under the ground`},
		{"[drop_arm]", rail + "[[-300, 250, 45], [-280, 230, 450], [-20, 240, 40], [0, 240, 50]]}\n[drop_arm]", `kart.toml:19: part.rail.tube.path[1]: has 450 where the other points lie between 40 and 50`},
		{"[drop_arm]", rail + "[[-1600, 250, 45], [-150, 230, 45], [-20, 240, 60], [0, 240, 110]]}\n[drop_arm]", `kart.toml:19: part.rail.tube.path[0]: has -1600 where the other points lie between -150 and 0`},
	} {
		text := strings.Replace(least, c.old, c.new, 1)
		s, warnings, err := Read("kart.toml", []byte(text), Options{})
		if err != nil || s == nil {
			t.Errorf("%s: %v", c.new, err)
			continue
		}
		// What is wrong may show in a figure beside it too.
		found := slices.ContainsFunc(warnings, func(w Warning) bool { return strings.HasPrefix(w.String(), c.want) && w.Code != "" })
		if !found || len(warnings) > 3 {
			t.Errorf("%s\n got %v\nwant %s", c.new, warnings, c.want)
		}
	}
	inches := strings.Replace(strings.NewReplacer(`"mm"`, `"in"`, "1000", "201", "600", "24", "= 120", "= 5", "260", "10", "130\n", "5\n", "-95, -30", "-4, -1", "-95, 0, 130", "-4, 0, 5", "55, 20", "2, 1", "55, -20", "2, -1").Replace(least), "", "", 1)
	_, warnings, err := Read("kart.toml", []byte(inches), Options{})
	if err != nil || len(warnings) != 1 || warnings[0].Code != "units" {
		t.Errorf("inches: %v, %v", warnings, err)
	}
	backwards := strings.Replace(least, "[drop_arm]", rail+"[[-900, 250, 45], [-150, 230, 45], [-20, 240, 60], [0, 240, 110]]}\n[drop_arm]", 1) // to the rear axle
	for _, text := range []string{least, whole, rescaled(whole), backwards} {
		if _, warnings, _ := Read("kart.toml", []byte(text), Options{}); len(warnings) > 0 {
			t.Errorf("a sound file is suspected: %v", warnings)
		}
	}
}
