package setupfile

import (
	"math"
	"strings"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"
	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"locksweep/geometry/setup"
)

// least holds the required keys only; its dimensions are invented.
const least = `locksweep = 1
units = "mm"
[vehicle]
wheelbase = 1000
[kingpin]
spacing = 600
[wheel]
offset = 120
tyre_diameter = 260
tyre_width = 130
[arm]
pickup = [-95, -30, 0]
[column]
foot = [-95, 0, 130]
rake = 35
[drop_arm]
left = [55, 20, 0]
right = [55, -20, 0]
`

// whole uses every key of format 1; its dimensions are invented.
const whole = `locksweep = 1
name  = "Shed kart"
units = "mm"
ignore = [["stop lug", "column"]]

[vehicle]
wheelbase  = 1000
rear_track = 900
rear_tyre  = { diameter = 280, width = 180 }

[kingpin]
spacing     = 600
height      = 130
inclination = 10
caster      = 12

[wheel]
offset        = 120
lead          = 4
toe           = 1
camber        = -1
tyre_diameter = 260
tyre_width    = 130
tyre_shoulder = 20

[arm]
pickup  = "factory"
bolt    = [0, 0, 2]
outline = [[15, 15], [15, -15], [-110, -45], [-110, -15]]
up      = [-4, 4]
holes   = [{ name = "factory", at = [-95, -30], up = 1, diameter = 8 },
           { name = "inner", at = [-80, -25], diameter = 8 }]

[column]
foot   = [-95, 0, 130]
rake   = 35
travel = 120

[drop_arm]
left  = [55, 20, 7]
right = [55, -20, 7]
outline = [[-10, -30], [65, -30], [65, 30], [-10, 30]]
thickness = 6
left_bolt = [3, 0, 4]
holes = [{ name = "spare", at = [40, 0], diameter = 8 }]

[tie_rod]
left  = 256
diameter = 16
rod_end  = { tilt = 13, body = 36, eye = 24, thread = 8, pitch = 1.25 }

[limits]
spindle      = 50
clearance    = 3
transmission = 20

[space]
width  = 1400
length = 2000

[aims]
lock      = 36
ackermann = 100

[[part]]
name = "side rail"
on   = "frame"
mirror = true
tube = { diameter = 30, path = [[-200, 250, 100], [300, 200, 100]] }

[[part]]
name = "stop lug"
on   = "spindle"
side = "left"
plate = { outline = [[-12, -12], [-12, 12], [40, 12], [40, -12]], up = [-10, 10] }
grind = true
bore = 12
keep = [[20, -5], [25, -5], [25, 5], [20, 5]]
min_wall = 6
min_width = 8
root = [[20, -5], [20, 5]]
density = 7850

[[part]]
name = "yoke ear"
on   = "frame"
at   = "kingpin"
plate = { outline = [[-20, -20], [20, -20], [20, 20], [-20, 20]], up = [-12, 12] }

[[part]]
name = "brake disc"
on   = "spindle"
disc = { centre = [0, 60, 0], axis = [0, 2, 0], diameter = 150, width = 4 }

[right.arm]
pickup = [-95, -28, 0]
[right.limits]
spindle = 45

[[variant]]
name = "pickup 12 mm inboard"
set  = { "arm.pickup" = [-95, -42, 0] }
`

// anywhere compares what setups describe; where they were read from may differ.
var anywhere = cmp.Options{cmpopts.IgnoreFields(setup.Part{}, "Line"), cmpopts.IgnoreFields(setup.Setup{}, "With")}

// nearly is anywhere, to rounding.
var nearly = cmp.Options{cmpopts.EquateApprox(0, 1e-12), anywhere}

func mustRead(t *testing.T, text string, opt Options) *setup.Setup {
	t.Helper()
	s, _, err := Read("kart.toml", []byte(text), opt)
	if err != nil {
		t.Fatalf("%v\nin\n%s", err, text)
	}
	return s
}

func square(lo, hi r2.Point) []r2.Point {
	return []r2.Point{lo, {X: hi.X, Y: lo.Y}, hi, {X: lo.X, Y: hi.Y}}
}

func TestEveryKeyIsRead(t *testing.T) {
	arm := setup.Metal{
		Outline: []r2.Point{{X: -110, Y: -15}, {X: -110, Y: -45}, {X: 15, Y: -15}, {X: 15, Y: 15}},
		Lower:   -4, Upper: 4,
		Holes: []setup.Hole{
			{Name: "factory", At: r2.Point{X: -95, Y: -30}, Up: 1, Diameter: 8},
			// Mid metal is the plane through the kingpin centre square to the kingpin:
			// up = forward tan(caster) + outboard tan(inclination).
			{Name: "inner", At: r2.Point{X: -80, Y: -25}, Up: -80*math.Tan(12*math.Pi/180) - 25*math.Tan(10*math.Pi/180), Diameter: 8},
		},
	}
	left := setup.Corner{
		Kingpin: setup.Kingpin{Height: 130, Inclination: 10 * s1.Degree, Caster: 12 * s1.Degree},
		Wheel:   setup.Wheel{Offset: 120, Lead: 4, Toe: 1 * s1.Degree, Camber: -1 * s1.Degree, Tyre: setup.Tyre{Diameter: 260, Width: 130, Shoulder: 20}},
		Arm:     setup.Arm{Pickup: r3.Vector{X: -95, Y: -30, Z: 1}, Bolt: r3.Vector{Z: 1}, Metal: arm},
		Rod:     setup.Rod{Length: 256, Diameter: 16, End: setup.RodEnd{Tilt: 13 * s1.Degree, Body: 36, Eye: 24, Thread: 8, Pitch: 1.25}},
		Stop:    50 * s1.Degree,
	}
	right := left
	right.Arm.Pickup = r3.Vector{X: -95, Y: -28}
	right.Rod.Length = 0
	right.Stop = 45 * s1.Degree
	want := &setup.Setup{
		Name:    "Shed kart",
		Vehicle: setup.Vehicle{Wheelbase: 1000, RearTrack: 900, RearTyre: setup.Tyre{Diameter: 280, Width: 180}},
		Spacing: 600,
		Corners: [2]setup.Corner{left, right},
		Column:  setup.Column{Foot: r3.Vector{X: -95, Z: 130}, Rake: 35 * s1.Degree, Travel: 120 * s1.Degree},
		DropArm: setup.DropArm{
			Pins:  [2]r3.Vector{{X: 55, Y: 20, Z: 7}, {X: 55, Y: -20, Z: 7}},
			Bolts: [2]r3.Vector{{X: 0.6, Z: 0.8}, {}},
			Metal: setup.Metal{Outline: square(r2.Point{X: -10, Y: -30}, r2.Point{X: 65, Y: 30}), Lower: 4, Upper: 10,
				Holes: []setup.Hole{{Name: "spare", At: r2.Point{X: 40}, Up: 7, Diameter: 8}}},
		},
		Limits:   setup.Limits{Clearance: 3, Transmission: 20 * s1.Degree},
		Accuracy: setup.DefaultAccuracy(setup.MM),
		Parts: []setup.Part{
			{Name: "side rail", Sides: [2]bool{true, true},
				Tube: &setup.Tube{Diameter: 30, Path: []r3.Vector{{X: -200, Y: 250, Z: 100}, {X: 300, Y: 200, Z: 100}}}},
			{Name: "stop lug", On: setup.OnSpindle, Sides: [2]bool{true, false}, Grind: true, Bore: 12, MinWall: 6, MinWidth: 8, Root: []r2.Point{{X: 20, Y: -5}, {X: 20, Y: 5}}, Density: 7850,
				Plate: &setup.Plate{Outline: []r2.Point{{X: 40, Y: -12}, {X: 40, Y: 12}, {X: -12, Y: 12}, {X: -12, Y: -12}}, Lower: -10, Upper: 10},
				Keep:  square(r2.Point{X: 20, Y: -5}, r2.Point{X: 25, Y: 5})},
			{Name: "yoke ear", Sides: [2]bool{true, true}, AtKingpin: true,
				Plate: &setup.Plate{Outline: square(r2.Point{X: -20, Y: -20}, r2.Point{X: 20, Y: 20}), Lower: -12, Upper: 12}},
			{Name: "brake disc", On: setup.OnSpindle, Sides: [2]bool{true, true},
				Disc: &setup.Disc{Centre: r3.Vector{Y: 60}, Axis: r3.Vector{Y: 1}, Diameter: 150, Width: 4}},
		},
		Ignore:   [][2]string{{"stop lug", "column"}},
		Space:    setup.Space{Width: 1400, Length: 2000},
		Aims:     setup.Aims{Lock: 36 * s1.Degree, Ackermann: 100},
		Variants: []string{"pickup 12 mm inboard"},
		Assumed:  []string{"drop_arm.bolt: the rods' bolts at the drop arm point along the column; it decides whether a rod end binds"}, // the right one
	}
	got := mustRead(t, whole, Options{})
	if diff := cmp.Diff(want, got, nearly); diff != "" {
		t.Errorf("want - got +\n%s", diff)
	}
}

func TestDefaultsAreDocumentedOnes(t *testing.T) {
	s := mustRead(t, least, Options{})
	corner := setup.Corner{
		Kingpin: setup.Kingpin{Height: 130},
		Wheel:   setup.Wheel{Offset: 120, Tyre: setup.Tyre{Diameter: 260, Width: 130}},
		Arm:     setup.Arm{Pickup: r3.Vector{X: -95, Y: -30}},
		Rod:     setup.Rod{Diameter: setup.DefaultRodDiameter},
	}
	want := &setup.Setup{
		Name:     "kart",
		Vehicle:  setup.Vehicle{Wheelbase: 1000, RearTrack: 840, RearTyre: setup.Tyre{Diameter: 260, Width: 130}},
		Spacing:  600,
		Corners:  [2]setup.Corner{corner, corner},
		Column:   setup.Column{Foot: r3.Vector{X: -95, Z: 130}, Rake: 35 * s1.Degree},
		DropArm:  setup.DropArm{Pins: [2]r3.Vector{{X: 55, Y: 20}, {X: 55, Y: -20}}},
		Limits:   setup.Limits{Clearance: setup.DefaultClearance, Transmission: setup.DefaultTransmission},
		Accuracy: setup.DefaultAccuracy(setup.MM),
		Assumed: []string{
			"kingpin centre 130 mm above ground, the tyre's radius",
			"tie-rod diameter 12 mm",
			"rear track 840 mm, as in front",
			"rear tyre 260 mm by 130 mm, as in front",
			"inclination, caster, toe, camber, lead: 0, since the file does not say",
			"tyre_shoulder: 0, the careful assumption; a tyre with round shoulders touches later",
			"the right corner: as the left one, mirrored",
			"rod ends that never bind, since no tilt is given: look whether they do",
			"nothing to be hit but the wheels, rods and arms themselves, since no parts are given",
		},
	}
	if diff := cmp.Diff(want, s, nearly); diff != "" {
		t.Errorf("want - got +\n%s", diff)
	}
}

func TestLooksOfTheTextDoNotMatter(t *testing.T) {
	want := mustRead(t, whole, Options{})
	for name, text := range map[string]string{
		"byte order mark":  "\ufeff" + whole,
		"CRLF":             strings.ReplaceAll(whole, "\n", "\r\n"),
		"no last newline":  strings.TrimSpace(whole),
		"notes":            strings.ReplaceAll(whole, "\n", " # [note]\n"),
		"clockwise":        strings.ReplaceAll(whole, "[[-10, -30], [65, -30], [65, 30], [-10, 30]]", "[[-10, 30], [65, 30], [65, -30], [-10, -30]]"),
		"inline table":     strings.Replace(whole, "[space]\nwidth  = 1400\nlength = 2000", "[space]\nwidth = 14e2\nlength = 2_000.0", 1),
		"dotted rod end":   strings.Replace(whole, "rod_end  = { tilt = 13, body = 36, eye = 24, thread = 8, pitch = 1.25 }", "rod_end.tilt = 13\nrod_end.body = 36\nrod_end.eye = 24\nrod_end.thread = 8\nrod_end.pitch = 1.25", 1),
		"holes as tables":  strings.Replace(whole, `holes = [{ name = "spare", at = [40, 0], diameter = 8 }]`, "[[drop_arm.holes]]\nname = \"spare\"\nat = [40, 0]\ndiameter = 8", 1),
		"right arm inline": strings.Replace(whole, "[right.arm]\npickup = [-95, -28, 0]\n[right.limits]\nspindle = 45", "[right]\narm = { pickup = [-95, -28, 0] }\nlimits.spindle = 45", 1),
	} {
		if name != "byte order mark" && text == whole {
			t.Fatalf("%s: the text is the same", name)
		}
		if diff := cmp.Diff(want, mustRead(t, text, Options{}), nearly); diff != "" {
			t.Errorf("%s: want - got +\n%s", name, diff)
		}
	}
}

func TestOnePinTakesBothRods(t *testing.T) {
	text := strings.Replace(least, "left = [55, 20, 0]\nright = [55, -20, 0]", `pin = "end"`+"\n"+`holes = [{ name = "end", at = [55, 3], diameter = 8 }]`+"\nup = [2, 8]", 1)
	s := mustRead(t, text, Options{})
	want := [2]r3.Vector{{X: 55, Y: 3, Z: 5}, {X: 55, Y: 3, Z: 5}}
	if s.DropArm.Pins != want {
		t.Errorf("pins %v, want %v", s.DropArm.Pins, want)
	}
}

func TestRodLengths(t *testing.T) {
	for _, c := range []struct {
		keys string
		want [2]float64
	}{
		{"", [2]float64{0, 0}},
		{"length = 250", [2]float64{250, 250}},
		{"left = 250", [2]float64{250, 0}},
		{"right = 251", [2]float64{0, 251}},
		{"left = 250\nright = 251", [2]float64{250, 251}},
	} {
		s := mustRead(t, least+"[tie_rod]\n"+c.keys+"\n[right.tie_rod]\ndiameter = 10\n", Options{})
		if got := [2]float64{s.Corners[setup.Left].Rod.Length, s.Corners[setup.Right].Rod.Length}; got != c.want {
			t.Errorf("%q: lengths %v, want %v", c.keys, got, c.want)
		}
		if s.Corners[setup.Right].Rod.Diameter != 10 || s.Corners[setup.Left].Rod.Diameter != setup.DefaultRodDiameter {
			t.Errorf("%q: diameters %v, %v", c.keys, s.Corners[setup.Left].Rod.Diameter, s.Corners[setup.Right].Rod.Diameter)
		}
	}
}

func TestSidesOfParts(t *testing.T) {
	both, one, left, right := [2]bool{true, true}, [2]bool{}, [2]bool{true, false}, [2]bool{false, true}
	const tube = "\ntube = { diameter = 10, path = [[0,0,0],[9,0,0]] }"
	const plate = "\nplate = { outline = [[0,0],[9,0],[9,9]], up = [0,1] }"
	for _, c := range []struct {
		keys string
		want [2]bool
	}{
		{`on = "frame"` + tube, one},
		{`on = "frame"` + "\nmirror = false" + tube, one},
		{`on = "frame"` + "\nmirror = true" + tube, both},
		{`on = "frame"` + "\nat = \"kingpin\"" + plate, both},
		{`on = "frame"` + "\nat = \"kingpin\"\nmirror = false" + plate, left},
		{`on = "frame"` + "\nat = \"kingpin\"\nside = \"right\"" + plate, right},
		{`on = "spindle"` + tube, both},
		{`on = "spindle"` + "\nside = \"right\"" + tube, right},
		{`on = "tie_rod"` + tube, both},
		{`on = "tie_rod"` + "\nside = \"left\"" + tube, left},
		{`on = "column"` + plate, one},
	} {
		s := mustRead(t, least+"[[part]]\nname = \"p\"\n"+c.keys+"\n", Options{})
		if s.Parts[0].Sides != c.want {
			t.Errorf("%s\nsides %v, want %v", c.keys, s.Parts[0].Sides, c.want)
		}
	}
}
