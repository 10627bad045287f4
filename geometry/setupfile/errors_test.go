package setupfile

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// faulty is a change to a sound file and the error it must bring.
type faulty struct {
	old, new string // in the file; an empty old appends
	at       string // "line:column: key" of the error
	text     string // part of its text
}

// checkFaulty applies each change to base on its own and wants the error, and no error elsewhere.
func checkFaulty(t *testing.T, base string, cases []faulty) {
	t.Helper()
	for _, c := range cases {
		text := base + c.new
		if c.old != "" {
			if text = strings.Replace(base, c.old, c.new, 1); text == base {
				t.Errorf("%q is not in the file", c.old)
				continue
			}
		}
		_, _, err := Read("kart.toml", []byte(text), Options{})
		var list Errors
		if !errors.As(err, &list) {
			t.Errorf("%s: no error, want %s: …%s…", c.new, c.at, c.text)
			continue
		}
		e := list[0]
		got := fmt.Sprintf("%d:%d: %s", e.Line, e.Column, e.Key)
		if got != c.at || !strings.Contains(e.Text, c.text) || len(list) > 1 {
			t.Errorf("%s\n got %v\nwant %s: …%s…", c.new, err, c.at, c.text)
		}
	}
}

func TestNumbersOutOfReason(t *testing.T) {
	checkFaulty(t, least, []faulty{
		{"= 1000", "= -1000", "4:13: vehicle.wheelbase", "is -1000, must be more than 0"},
		{"= 1000", "= 0", "4:13: vehicle.wheelbase", "must be more than 0"},
		{"= 1000", "= nan", "4:13: vehicle.wheelbase", "not a finite number"},
		{"= 1000", "= -inf", "4:13: vehicle.wheelbase", "not a finite number"},
		{"= 1000", "= 1e308", "4:13: vehicle.wheelbase", "more than 100 m"},
		{"= 1000", "= 1e999", "4:13: vehicle.wheelbase", "not a finite number"},
		{"= 1000", "= 1e-300", "4:13: vehicle.wheelbase", "too small"},
		{"= 1000", "= 1e-5", "4:13: vehicle.wheelbase", "less than 0.001 mm"},
		{"-30, 0", "-30, 1e-300", "12:21: arm.pickup[2]", "write 0"},
		{"= 600", "= 0", "6:11: kingpin.spacing", "more than 0"},
		{"= 600", "= -5", "6:11: kingpin.spacing", "more than 0"},
		{"offset = 120", "offset = -120", "8:10: wheel.offset", "puts the track inside the kingpins"},
		{"r = 260", "r = 0", "9:17: wheel.tyre_diameter", "more than 0"},
		{"h = 130", "h = -130", "10:14: wheel.tyre_width", "more than 0"},
		{"h = 130", "h = 130\ntyre_shoulder = 66", "11:17: wheel.tyre_shoulder", "at most 65 mm"},
		{"= 600", "= 600\ncaster = 90", "7:10: kingpin.caster", "is 90, must be less than 90 degrees"},
		{"= 600", "= 600\ninclination = -95", "7:15: kingpin.inclination", "must be less than 90 degrees"},
		{"= 600", "= 600\nheight = -1", "7:10: kingpin.height", "more than 0"},
		{"h = 130", "h = 130\ncamber = 60", "11:10: wheel.camber", "from -45 to 45 degrees"},
		{"h = 130", "h = 130\ntoe = -46", "11:7: wheel.toe", "from -45 to 45 degrees"},
		{"= 35", "= 181", "15:8: column.rake", "is 181, must be from -90 to 180 degrees"},
		{"= 35", "= -90.5", "15:8: column.rake", "must be from -90 to 180 degrees"},
		{"= 35", "= 35\ntravel = 200", "16:10: column.travel", "from 0 to 180 degrees each way"},
		{"", "[limits]\nspindle = 181\n", "20:11: limits.spindle", "from 0 to 180 degrees either way"},
		{"", "[limits]\nspindle = 0\n", "20:11: limits.spindle", "more than 0"},
		{"", "[limits]\nclearance = -1\n", "20:13: limits.clearance", "must not be negative"},
		{"", "[limits]\nclearance = 26\n", "20:13: limits.clearance", "is 26 mm; at most 25.4 mm is looked after"},
		{"", "[limits]\ntransmission = 90\n", "20:16: limits.transmission", "less than 90"},
		{"", "[tie_rod]\nlength = 0\n", "20:10: tie_rod.length", "more than 0"},
		{"", "[tie_rod]\nright = -4\n", "20:9: tie_rod.right", "more than 0"},
		{"", "[tie_rod]\nlength = 250\nleft = 250\n", "21:8: tie_rod.left", "beside length"},
		{"", "[tie_rod]\nrod_end = { thread = 8, pitch = 8 }\n", "20:33: tie_rod.rod_end.pitch", "from thread to thread"},
		{"", "[tie_rod]\nrod_end = { tilt = 90 }\n", "20:20: tie_rod.rod_end.tilt", "less than 90"},
		{"", "[space]\nwidth = 0\n", "20:9: space.width", "more than 0"},
		{"", "[aims]\nlock = 0\n", "20:8: aims.lock", "more than 0"},
		{"", "[aims]\nlock = 91\n", "20:8: aims.lock", "from 0 to 90 degrees of the inner wheel"},
		{"", "[aims]\nackermann = 0\n", "20:13: aims.ackermann", "from 1 to 500 percent"},
		{"", "[aims]\nangle = 36\n", "20:1: aims.angle", "is not a key of this table"},
		{"= 1000", "= 1000\nrear_track = -1", "5:14: vehicle.rear_track", "must not be negative"},
	})
}

func TestNoLever(t *testing.T) {
	checkFaulty(t, least, []faulty{
		{"[-95, -30, 0]", "[0, 0, 0]", "12:10: arm.pickup", "lies on the kingpin axis; a steering arm needs a lever (measure from the kingpin centre to the hole)"},
		{"[-95, -30, 0]", "[0, 0, 40]", "12:10: arm.pickup", "lies on the kingpin axis"},
		{"[55, 20, 0]", "[0, 0, 12]", "17:8: drop_arm.left", "lies on the column's axis"},
	})
	// With the column level, down is straight down: the pin 30 below the foot is the pickup.
	text := strings.NewReplacer("[-95, 0, 130]", "[-95, 0, 160]", "rake = 35", "rake = 0", "[55, 20, 0]", "[30, 270, 0]").Replace(least)
	_, _, err := Read("kart.toml", []byte(text), Options{})
	if err == nil || !strings.HasPrefix(err.Error(), "kart.toml:17:8: drop_arm.left: lies on the left steering arm's pickup") {
		t.Errorf("pin on the pickup: %v", err)
	}
	// A kingpin that leans differs in where its axis runs.
	leaning := strings.Replace(least, "[arm]\npickup = [-95, -30, 0]", "caster = 0\n[arm]\npickup = [-10, 0, 10]\n[right.kingpin]\ncaster = 45", 1)
	leaning = strings.Replace(leaning, "caster = 0\n", "", 1)
	_, _, err = Read("kart.toml", []byte(leaning), Options{})
	if err == nil || !strings.HasPrefix(err.Error(), "kart.toml:12:10: arm.pickup: on the right corner: lies on the kingpin axis") {
		t.Errorf("right corner: %v", err)
	}
}

func TestWrongKindsAndLengths(t *testing.T) {
	checkFaulty(t, least, []faulty{
		{"= 1000", `= "1040 mm"`, "4:13: vehicle.wheelbase", "is text, should be a number: write 1040, without quotes or unit"},
		{"= 1000", `= "104 cm"`, "4:13: vehicle.wheelbase", "is text, should be a number, in mm like the whole file, without quotes or unit"},
		{"= 1000", `= "41 in"`, "4:13: vehicle.wheelbase", "is text, should be a number, in mm like the whole file, without quotes or unit"},
		{"= 1000", `= "40 15/16\""`, "4:13: vehicle.wheelbase", "is text, should be a number, in mm like the whole file"},
		{"= 1000", `= "wide"`, "4:13: vehicle.wheelbase", "is text, should be a number, without quotes"},
		{"= 1000", "= true", "4:13: vehicle.wheelbase", "is true or false, should be a number"},
		{"= 1000", "= [1000]", "4:13: vehicle.wheelbase", "is a list, should be a number"},
		{"= 1000", "= { mm = 1000 }", "4:1: vehicle.wheelbase", "is a table, should be a number"},
		{"= 1000", "= 2020-01-01", "4:13: vehicle.wheelbase", "is a date, should be a number"},
		{"[-95, -30, 0]", "[-95, -30]", "12:10: arm.pickup", "has 2 numbers, should be [forward, outboard, up]"},
		{"[-95, -30, 0]", "[-95]", "12:10: arm.pickup", "has 1 number, should be"},
		{"[-95, -30, 0]", "[-95,5, -30,5, 0,0]", "12:10: arm.pickup", "decimals take a point"},
		{"[-95, -30, 0]", "[-95, -30, 0, 0]", "12:10: arm.pickup", "has 4 numbers"},
		{"[-95, -30, 0]", `[-95, "30 mm", 0]`, "12:16: arm.pickup[1]", "write 30"},
		{"[-95, -30, 0]", "95", "12:10: arm.pickup", "is a number, should be [forward, outboard, up] or the name of a hole"},
		{"[-95, -30, 0]", `"inner"`, "12:10: arm.pickup", `names the hole "inner", but the arm has no holes`},
		{"[-95, -30, 0]", `"iner"` + "\n" + `holes = [{ name = "inner", at = [-90, 0], diameter = 8 }]`, "12:10: arm.pickup", `did you mean "inner"?`},
		{"[-95, -30, 0]", `"rear"` + "\n" + `holes = [{ name = "inner", at = [-90, 0], diameter = 8 }]`, "12:10: arm.pickup", `it has "inner"`},
		{"[-95, -30, 0]", "[-95, -30, 0]\nbolt = [0, 0, 0]", "13:8: arm.bolt", "has no direction"},
		{"[-95, -30, 0]", "[-95, -30, 0]\nup = [4, -4]", "13:6: arm.up", "faces swapped"},
		{"[-95, -30, 0]", "[-95, -30, 0]\nup = [4, 4]", "13:6: arm.up", "both faces at the same height"},
		{"[vehicle]\nwheelbase = 1000", "vehicle = 1000", "3:11: vehicle", "is a number, should be a table"},
		{`"mm"`, `"cm"`, "2:9: units", `is "cm", should be "mm" or "in"`},
		{`"mm"`, "25.4", "2:9: units", "is a number, should be text"},
		{"= 1\n", "= 2\n", "1:13: locksweep", "is format 2; this program reads format 1"},
		{"= 1\n", "= 0\n", "1:13: locksweep", "is 0, should be 1"},
		{"= 1\n", "= \"1\"\n", "1:13: locksweep", "write 1"},
		{`units = "mm"`, `units = "mm"` + "\nname = ''", "3:8: name", "is empty"},
		{"right = [55, -20, 0]", "right = [55, -20, 0]\npin = [55, 0, 0]", "19:7: drop_arm.pin", "is given beside left or right"},
		{"right = [55, -20, 0]", "right = [55, -20, 0]\nup = [0, 4]\nthickness = 4", "20:13: drop_arm.thickness", "is given beside up"},
	})
}

func TestMissingKeysAreNamed(t *testing.T) {
	checkFaulty(t, least, []faulty{
		{"locksweep = 1\n", "", "1:1: locksweep", "is missing: the number of the format; write locksweep = 1"},
		{`units = "mm"`, "", "1:1: units", `write units = "mm" or units = "in"`},
		{"wheelbase = 1000", "", "3:2: vehicle.wheelbase", "is missing"},
		{"[vehicle]\nwheelbase = 1000", "", "1:1: vehicle.wheelbase", "is missing"},
		{"spacing = 600", "", "5:2: kingpin.spacing", "is missing"},
		{"offset = 120", "", "7:2: wheel.offset", "is missing"},
		{"tyre_diameter = 260", "", "7:2: wheel.tyre_diameter", "is missing"},
		{"tyre_width = 130", "", "7:2: wheel.tyre_width", "is missing"},
		{"pickup = [-95, -30, 0]", "", "11:2: arm.pickup", "is missing"},
		{"foot = [-95, 0, 130]", "", "13:2: column.foot", "is missing"},
		{"rake = 35", "", "13:2: column.rake", "is missing"},
		{"left = [55, 20, 0]", "", "16:2: drop_arm.left", "is missing"},
		{"right = [55, -20, 0]", "", "16:2: drop_arm.right", "is missing"},
		{"left = [55, 20, 0]\nright = [55, -20, 0]", "", "16:2: drop_arm.pin", "give left and right, or pin for one hole that takes both rods"},
		{"= 1000", "= 1000\nrear_tyre = { diameter = 5 }", "5:1: vehicle.rear_tyre.width", "is missing"},
		{"", "[[part]]\non = \"frame\"\ntube = { diameter = 5, path = [[0,0,0],[9,0,0]] }\n", "19:3: part[0].name", "is missing"},
		{"", "[[part]]\nname = \"p\"\non = \"frame\"\ntube = { path = [[0,0,0],[9,0,0]] }\n", "22:1: part.p.tube.diameter", "is missing"},
		{"", "[[variant]]\nname = \"v\"\n", "19:3: variant.v.set", "is missing"},
	})
	// right.* needs nothing of its own
	mustRead(t, least+"[right.kingpin]\n[right.arm]\n", Options{})
}

func TestUnknownKeys(t *testing.T) {
	checkFaulty(t, least, []faulty{
		{"[kingpin]", "wheelbas = 4\n[kingpin]", "5:1: vehicle.wheelbas", `is not a key of this table; did you mean "wheelbase"?`},
		{"[kingpin]", "Rear-Track = 4\n[kingpin]", "5:1: vehicle.Rear-Track", `did you mean "rear_track"?`},
		{"[wheel]", "wheelbase = 4\n[wheel]", "7:1: kingpin.wheelbase", "it belongs in [vehicle]"},
		{"[wheel]", "[wheel]\ndiameter = 4", "8:1: wheel.diameter", `did you mean "tyre_diameter"?`},
		{"[column]", "[colum]\n[column]", "13:2: colum", `did you mean "column"?`},
		{"", `ignore = [["column", "tyre"]]`, "19:1: drop_arm.ignore", "it belongs at the top of the file, before the first [heading]"},
		{"", "[right.column]\nrake = 35\n", "19:8: right.column", "belongs to the whole vehicle: [column]"},
		{"", "[right.wheel]\noffst = 35\n", "20:1: right.wheel.offst", `did you mean "offset"?`},
		{"", "[right.kingpin]\nspacing = 600\n", "20:11: right.kingpin.spacing", "belongs to both corners"},
		{"", "[right.tie_rod]\nlength = 250\n", "20:10: right.tie_rod.length", "as left and right"},
		{"", "[right.limits]\nclearance = 5\n", "20:13: right.limits.clearance", "for both corners"},
		{"[-95, -30, 0]", "[-95, -30, 0]\nqqqq = 1", "13:1: arm.qqqq", "known here: outline, up, holes, pickup, bolt"},
	})
}

func TestPartsAreChecked(t *testing.T) {
	const head = "[[part]]\nname = \"lug\"\n"
	const tube = "tube = { diameter = 5, path = [[0,0,0],[9,0,0]] }\n"
	const plate = "plate = { outline = [[0,0],[9,0],[9,9]], up = [0,1] }\n"
	checkFaulty(t, least, []faulty{
		{"", head + "on = \"fame\"\n" + tube, "21:6: part.lug.on", `should be frame, spindle, column or tie_rod; did you mean "frame"?`},
		{"", head + tube, "19:3: part.lug.on", "is missing"},
		{"", head + "on = \"frame\"\n", "19:3: part.lug", "has no shape"},
		{"", head + "on = \"frame\"\n" + tube + plate, "23:1: part.lug.plate", "is a second shape"},
		{"", head + "on = \"frame\"\ntube = { diameter = 5, path = [[0,0,0]] }\n", "22:31: part.lug.tube.path", "has 1 point; a tube runs through at least 2"},
		{"", head + "on = \"frame\"\ntube = { diameter = 0, path = [[0,0,0],[9,0,0]] }\n", "22:21: part.lug.tube.diameter", "more than 0"},
		{"", head + "on = \"frame\"\ntube = { diameter = 5, path = [[9,0,0],[9,0,0]] }\n", "22:40: part.lug.tube.path[1]", "is the same point as the one before"},
		{"", head + "on = \"frame\"\ntube = { diameter = 5, path = [[9,0],[9,0,0]] }\n", "22:32: part.lug.tube.path[0]", "should be [x, y, z]"},
		{"", head + "on = \"spindle\"\nplate = { outline = [[0,0],[9,0],[9,9]], up = [1,1] }\n", "22:47: part.lug.plate.up", "a thickness"},
		{"", head + "on = \"column\"\nplate = { outline = [[0,0],[9,0],[9,9]], up = [2,1] }\n", "22:47: part.lug.plate.up", "swapped"},
		{"", head + "on = \"tie_rod\"\n" + plate, "22:1: part.lug.plate", "cannot ride on a tie rod"},
		{"", head + "on = \"column\"\ndisc = { centre = [0,0,0], diameter = 9, width = 1 }\n", "22:1: part.lug.disc.axis", "is missing"},
		{"", head + "on = \"spindle\"\nmirror = true\n" + plate, "22:10: part.lug.mirror", "for frame parts only"},
		{"", head + "on = \"frame\"\nside = \"left\"\n" + plate, "22:8: part.lug.side", "stands where its co-ordinates say"},
		{"", head + "on = \"spindle\"\nside = \"port\"\n" + plate, "22:8: part.lug.side", `should be "left" or "right"`},
		{"", head + "on = \"spindle\"\nat = \"kingpin\"\n" + plate, "22:6: part.lug.at", "for frame parts only"},
		{"", head + "on = \"frame\"\nat = \"column\"\n" + plate, "22:6: part.lug.at", `should be "kingpin"`},
		{"", head + "on = \"frame\"\nat = \"kingpin\"\n" + tube, "22:6: part.lug.at", "takes a plate"},
		{"", head + "on = \"spindle\"\nmin_width = 5\n" + tube, "22:13: part.lug.min_width", "for plates only"},
		{"", head + "on = \"spindle\"\nmin_width = 0\n" + plate, "22:13: part.lug.min_width", "must be more than 0"},
		{"", head + "on = \"spindle\"\nroot = [[0, 0]]\n" + plate, "22:8: part.lug.root", "has 1 point; an edge is given by its two ends, [[forward, outboard], [forward, outboard]]"},
		{"", head + "on = \"spindle\"\nroot = [[1, 2], [1, 2]]\n" + plate, "22:8: part.lug.root", "same point twice"},
		{"", head + "on = \"spindle\"\nroot = [[1, 2], [1]]\n" + plate, "22:17: part.lug.root[1]", "has 1 number"},
		{"", head + "on = \"spindle\"\ngrind = true\n" + tube, "22:9: part.lug.grind", "for plates only"},
		{"", head + "on = \"spindle\"\ngrind = 1\n" + plate, "22:9: part.lug.grind", "should be true or false"},
		{"", head + "on = \"spindle\"\ndensity = 7.85\n" + plate, "22:11: part.lug.density", "kg/m³"},
		{"", head + "on = \"spindle\"\n" + plate + head + "on = \"column\"\n" + plate, "24:8: part[1].name", "is the name of another part, in line 20"},
		{"", "[[part]]\nname = \"tyre\"\non = \"spindle\"\n" + plate, "20:8: part[0].name", "there already"},
		{"[vehicle]", "ignore = [[\"lug\", \"tyre\"]]\n[vehicle]", "3:12: ignore[0][0]", `names no part; it has "tyre"`},
		{"[vehicle]", "ignore = [[\"tire\", \"tyre\"]]\n[vehicle]", "3:12: ignore[0][0]", `did you mean "tyre"?`},
		{"[vehicle]", "ignore = [[\"tyre\"]]\n[vehicle]", "3:11: ignore[0]", "has 1 name, should be two"},
		{"[vehicle]", "ignore = [\"tyre\"]\n[vehicle]", "3:11: ignore[0]", "is text, should be a list"},
	})
}

func TestHolesAreChecked(t *testing.T) {
	holes := func(list string) string { return "[-95, -30, 0]\nholes = [" + list + "]" }
	const p = "[-95, -30, 0]"
	checkFaulty(t, least, []faulty{
		{p, holes(`{ name = "a", at = [-90, 0], diameter = 8 }, { name = "a", at = [-70, 0], diameter = 8 }`), "13:64: arm.holes[1].name", "is the name of another hole"},
		{p, holes(`{ name = "a", at = [-90, 0], diameter = 8 }, { name = "b", at = [-90, 0], diameter = 8 }`), "13:74: arm.holes.b.at", `is the place of the hole "a" already`},
		{p, holes(`{ name = "a", at = [-90, 0] }`), "13:10: arm.holes.a.diameter", "is missing"},
		{p, holes(`{ name = "a", at = [-90, 0, 4], diameter = 8 }`), "13:29: arm.holes.a.at", "should be [forward, outboard]"},
		{p, holes(`{ name = "a", at = [9, 0], diameter = 8 }`) + "\noutline = [[-9, -9], [0, -9], [0, 9], [-9, 9]]", "13:29: arm.holes.a.at", "outside the arm's outline, 9 mm from its edge"},
	})
}

func TestVariantsAreChecked(t *testing.T) {
	variant := func(set string) string { return "[[variant]]\nname = \"v\"\nset = { " + set + " }\n" }
	checkFaulty(t, least, []faulty{
		{"", variant(`"arm.pikup" = [0, 1, 2]`), "21:9: arm.pikup", `in variant "v": is not a key of this table; did you mean "pickup"?`},
		{"", variant(`"arm.pickup" = [0, 0, 2]`), "21:24: arm.pickup", `in variant "v": lies on the kingpin axis`},
		{"", variant(`"vehicle.wheelbase" = -1`), "21:31: vehicle.wheelbase", `in variant "v": is -1, must be more than 0`},
		{"", variant(`"arm.pickup[3]" = 1`), "21:9: arm.pickup[3]", "arm.pickup has 3 elements, counted from 0"},
		{"", variant(`"arm.outline[0]" = 1`), "21:9: arm.outline[0]", "arm.outline is not in the file, so one element of it cannot be set"},
		{"", variant(`"part.lug.grind" = true`), "21:9: part", "is a table, should be a list"},
		{"", variant(`"arm.pickup[" = 1`), `21:9: variant.v.set."arm.pickup["`, "] is missing"},
		{"", variant(`"arm..pickup" = 1`), `21:9: variant.v.set."arm..pickup"`, "a name is missing"},
		{"", variant(`"vehicle.wheelbase.left" = 1`), "21:9: vehicle.wheelbase.left", "vehicle.wheelbase is a number and has no parts"},
		{"", variant(`"vehicle[0]" = 1`), "21:9: vehicle[0]", "vehicle is a table; name one of its keys"},
		{"", variant(`"locksweep" = 1`), "21:9: locksweep", "cannot be set"},
		// The mistake comes out at the pickup, which the variant does not name: it is shown at the variant.
		{"[-95, -30, 0]", "[-10, 0, 10]\n[[variant]]\nname = \"v\"\nset = { \"kingpin.caster\" = 45 }", "14:8: arm.pickup", `in variant "v": lies on the kingpin axis`},
		{"", variant("") + variant(""), "23:8: variant[1].name", "is the name of another variant"},
		{"", "[[variant]]\nname = \"v\"\nset = 5\n", "21:7: variant.v.set", "is a number, should be a table"},
	})
}

func TestAllMistakesAreToldAtOnce(t *testing.T) {
	const text = `locksweep = 1
units = "mm"
[vehicle]
wheelbase = 1000 mm
rear_trakc = 900
[kingpin]
spacing = -600
[wheel]
offset = 120
tyre_diameter = 260
tyre_width = "130 mm"
[arm]
pickup = [-95, -30, 0
[column]
foot = [-95, 0, 130]
rake = 350
[drop_arm]
left = [55, 20, 0]
[[part]]
name = "lug"
on = "spindel"
`
	_, _, err := Read("kart.toml", []byte(text), Options{Variant: "narrow", Set: []string{"arm.pickup[1]", "vehicle.wheelbase=1 m"}})
	var list Errors
	if !errors.As(err, &list) {
		t.Fatal(err)
	}
	var got []string
	for _, e := range list {
		got = append(got, fmt.Sprintf("%s:%d:%d: %s", e.Source, e.Line, e.Column, e.Key))
	}
	// Missing keys are not told beside syntax errors: they may stand in what was skipped.
	want := []string{
		"kart.toml:4:18: ", "kart.toml:5:1: vehicle.rear_trakc", "kart.toml:7:11: kingpin.spacing", "kart.toml:11:14: wheel.tyre_width",
		"kart.toml:13:1: ", "kart.toml:16:8: column.rake", "kart.toml:21:6: part.lug.on",
		"kart.toml:0:0: variant", "--set:0:1: ",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("want - got +\n%s\n%v", diff, err)
	}
}

func TestSetIsChecked(t *testing.T) {
	for _, c := range []struct{ arg, want string }{
		{"arm.pickup", "--set: should read key=value, such as arm.pickup[1]=-42\n  arm.pickup\n  ^"},
		{"arm.pickup=", "--set: arm.pickup: is missing: the tie rod's hole"},
		{"arm.bolts=", "--set: arm.bolts: is not in the file, so it cannot be taken away"},
		{"drop_arm.left[7]=", "--set: drop_arm.left[7]: drop_arm.left has 3 elements"},
		{"=4", "--set: a name is missing"},
		{"arm.pickup[x]=4", "--set: arm.pickup[x]: an index is a number from 0"},
		{"drop_arm.left[5]=4", "--set: drop_arm.left[5]: drop_arm.left has 3 elements, counted from 0"},
		{"arm.pickup[-1]=4", "--set: arm.pickup[-1]: an index is a number from 0"},
		{"vehicel.wheelbase=4", "--set: vehicel: is not a key of this table; did you mean \"vehicle\"?"},
		{"vehicle.wheelbase=-4", "--set: vehicle.wheelbase: is -4, must be more than 0\n  vehicle.wheelbase=-4\n                    ^"},
		{"vehicle.wheelbase=900 mm", "--set: vehicle.wheelbase: is text, should be a number: write 900"},
		{"vehicle.wheelbase=[900", "--set: vehicle.wheelbase: is not a value"},
		{"vehicle.wheelbase=900\nname = 'x'", "--set: vehicle.wheelbase: is not a value"},
		{"drop_arm.left[1]={a = 1, a = 2}", "--set: drop_arm.left[1]: is given twice; keep"},
		{"arm.pickup=[0, 0, 1]", "--set: arm.pickup: lies on the kingpin axis"},
		{`part."side rial".grind=true`, `--set: part."side rial".grind: part has no element named "side rial"; did you mean "side rail"?`},
		{`part.stop lug.grind=maybe`, `--set: part."stop lug".grind: is text, should be true or false`},
		{"variant[0].name=x", "--set: variant[0].name: cannot be set from outside"},
		{"arm.pickup[0]=1", "--set: arm.pickup[0]: arm.pickup names a hole, so it has no single co-ordinate; set one of the hole's, such as arm.holes."},
		{"right.part.x=1", `--set: right.part: is not a key of this table`},
		{strings.Repeat("a.", 40) + "=1", "--set: "},
	} {
		_, _, err := Read("kart.toml", []byte(whole), Options{Set: []string{c.arg}})
		if err == nil || !strings.HasPrefix(err.Error(), c.want) {
			t.Errorf("--set %q\n got %v\nwant %s", c.arg, err, c.want)
		}
	}
}

func TestVariantThatIsNotThere(t *testing.T) {
	for _, c := range []struct{ text, name, want string }{
		{whole, "pickup 12 mm inbord", `kart.toml: variant: the file has no variant "pickup 12 mm inbord"; did you mean "pickup 12 mm inboard"?`},
		{whole, "narrow", `kart.toml: variant: the file has no variant "narrow"; it has "pickup 12 mm inboard"`},
		{least, "narrow", "kart.toml: variant: the file has no variants"},
	} {
		_, _, err := Read("kart.toml", []byte(c.text), Options{Variant: c.name})
		if err == nil || err.Error() != c.want {
			t.Errorf("%v, want %s", err, c.want)
		}
	}
}
