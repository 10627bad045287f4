package setupfile

import (
	"fmt"
	"math"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/golang/geo/s1"

	"locksweep/geometry/setup"
)

// readings returns those of a file by their keys.
func readings(t *testing.T, text string, set ...string) map[string]setup.Reading {
	t.Helper()
	s, _, err := Read("kart.toml", []byte(text), Options{Set: set})
	if err != nil {
		t.Fatal(err)
	}
	by := map[string]setup.Reading{}
	for _, r := range s.Readings() {
		by[r.Key] = r
	}
	return by
}

func TestAccuracyIsRead(t *testing.T) {
	text := strings.Replace(whole, "[limits]\n", `[accuracy]
place = 1.5
height = 2
hole = 0.2
rod = 0.4
outline = 0.8
angle = 0.25
tape = 3
turned = 1
keys = { "arm.pickup[1]" = 0.7, part."side rail".tube.path = 4, "tie_rod.length" = 0.1, "kingpin.caster" = 0.75, "right.kingpin.caster" = 0 }

[limits]
`, 1)
	by := readings(t, text)
	degree := math.Pi / 180
	for key, want := range map[string]float64{
		"vehicle.wheelbase":                1.5,
		"column.foot[2]":                   1.5,
		"kingpin.height":                   2,
		"right.kingpin.height":             2,
		"arm.pickup[0]":                    0.2,
		"arm.pickup[1]":                    0.7,
		"right.arm.pickup[1]":              0.7, // the file gives it for both
		"drop_arm.left[0]":                 0.2,
		"tie_rod.left":                     0.1,
		"arm.outline[*][0]":                0.8,
		"arm.up":                           0.8,
		"column.rake":                      0.25 * degree,
		"limits.spindle":                   0.25 * degree,
		"kingpin.caster":                   0.75 * degree,
		"right.kingpin.caster":             0,
		`part."side rail".tube.path[*][2]`: 4,
	} {
		if got, ok := by[key]; !ok || math.Abs(got.Accuracy-want) > 1e-15 {
			t.Errorf("%s: ±%v (there: %v), want ±%v", key, got.Accuracy, ok, want)
		}
	}
	s, _, _ := Read("kart.toml", []byte(text), Options{})
	if a := s.Accuracy; !a.Given || a.Tape != 3 || a.Turned != s1.Degree {
		t.Errorf("accuracy %+v", a)
	}
	if s, _, _ = Read("kart.toml", []byte(whole), Options{}); s.Accuracy.Given {
		t.Error("a file without accuracies is taken to give them")
	}
}

// TestOneHoleIsOneReading: a hole and the balls in it are off together, and so are the two rods' balls on one pin; a rod
// that is cut to the toe, faces that are not given and a bolt along the kingpin are not measured.
func TestOneHoleIsOneReading(t *testing.T) {
	by := readings(t, whole)
	for key, figures := range map[string]int{
		"arm.pickup[1]": 2, "arm.pickup[2]": 2, "right.arm.pickup[1]": 1, "arm.holes.inner.at[1]": 1,
		"drop_arm.left[0]": 1, "drop_arm.up": 2, `part."stop lug".plate.outline[*][0]`: 4, "wheel.lead": 1,
	} {
		if got := len(by[key].Figures); got != figures {
			t.Errorf("%s moves %d figures, want %d", key, got, figures)
		}
	}
	for _, key := range []string{"arm.holes.factory.at[1]", "tie_rod.right", "arm.bolt[0]", "limits.clearance", "tie_rod.rod_end.body", "drop_arm.right_bolt[0]"} {
		if r, ok := by[key]; key != "arm.bolt[0]" && ok {
			t.Errorf("%s is a reading: %+v", key, r)
		}
	}
	if got := readings(t, whole, "accuracy.keys.\"arm.holes.factory.at\"=0.9")["arm.pickup[0]"].Accuracy; got != 0.9 {
		t.Errorf("the pickup in the factory hole is good to %v, want 0.9", got)
	}
	one := readings(t, least, "drop_arm.left=", "drop_arm.right=", "drop_arm.pin=[55,0,0]", `accuracy.keys."drop_arm.pin[0]"=0.6`)
	if r := one["drop_arm.pin[0]"]; len(r.Figures) != 2 || r.Accuracy != 0.6 {
		t.Errorf("one pin for both rods: %d figures, ±%v", len(r.Figures), r.Accuracy)
	}
	if r, ok := one["drop_arm.right[0]"]; ok {
		t.Errorf("the right rod's pin is a reading of its own: %+v", r)
	}
	for _, key := range []string{"arm.up", "wheel.tyre_shoulder", "tie_rod.left", "arm.bolt[2]"} {
		if r, ok := one[key]; ok {
			t.Errorf("%s is not in the file, but is measured: %+v", key, r)
		}
	}
}

func TestAccuraciesOutOfReason(t *testing.T) {
	checkFaulty(t, least, []faulty{
		{"", "[accuracy]\nhole = -1\n", "20:8: accuracy.hole", "is -1, must be from 0 to 25.4 mm; what is less exact has not been measured"},
		{"", "[accuracy]\nplace = 26\n", "20:9: accuracy.place", "must be from 0 to 25.4 mm"},
		{"", "[accuracy]\nangle = 10.5\n", "20:9: accuracy.angle", "from 0 to 10 degrees"},
		{"", "[accuracy]\nturned = \"1°\"\n", "20:10: accuracy.turned", "without quotes"},
		{"", "[accuracy]\nholes = 1\n", "20:1: accuracy.holes", `did you mean "hole"?`},
		{"", "[accuracy]\nkeys = { \"arm.pikup\" = 1 }\n", `20:10: accuracy.keys."arm.pikup"`, `is no figure of this file; did you mean "arm.pickup"?`},
		{"", "[accuracy]\nkeys = { \"arm.pickup[3]\" = 1 }\n", `20:10: accuracy.keys."arm.pickup[3]"`, `did you mean "arm.pickup[`},
		{"", "[accuracy]\nkeys = { \"arm..pickup\" = 1 }\n", `20:10: accuracy.keys."arm..pickup"`, "a name is missing"},
		{"", "[accuracy]\nkeys = { \"limits.clearance\" = 1 }\n", `20:10: accuracy.keys."limits.clearance"`, "is not measured or not given here"},
		{"", "[accuracy]\nkeys = { \"arm.pickup\" = 30 }\n", `20:25: accuracy.keys."arm.pickup"`, "from 0 to 25.4 mm"},
		{"", "[accuracy]\nkeys = { \"column.rake\" = 11 }\n", `20:26: accuracy.keys."column.rake"`, "from 0 to 10 degrees"},
		{"", "[accuracy]\nkeys = 1\n", "20:8: accuracy.keys", "should be a table"},
		{"", "[right.accuracy]\nhole = 1\n", "19:8: right.accuracy", "it belongs to the whole vehicle: [accuracy]"},
	})
	inches := strings.Replace(least, `"mm"`, `"in"`, 1)
	for _, n := range []string{"1000", "600", "120", "260", "130", "55", "95"} {
		inches = strings.ReplaceAll(inches, n, n+"e-1")
	}
	checkFaulty(t, inches, []faulty{{"", "[accuracy]\nhole = 1.1\n", "20:8: accuracy.hole", "must be from 0 to 1 in"}})
}

// TestAccuracyGoesWithTheSpindle: what the file gives of the right spindle holds for it where it hangs after a swap.
func TestAccuracyGoesWithTheSpindle(t *testing.T) {
	got := readings(t, whole, `accuracy.keys."right.arm.pickup"=0.9`, "change.swap_spindles=true")
	if left, right := got["arm.pickup[0]"].Accuracy, got["right.arm.pickup[0]"].Accuracy; left != 0.9 || right == 0.9 {
		t.Errorf("left pickup to ±%v, right pickup to ±%v; the right spindle, known to ±0.9, hangs on the left", left, right)
	}
}

// TestVariantWithoutThePart: an accuracy of a part that a variant takes away is no mistake of that variant.
func TestVariantWithoutThePart(t *testing.T) {
	text := least + "[[part]]\nname = \"rail\"\non = \"frame\"\ntube = { diameter = 20, path = [[-300, 0, 40], [-200, 0, 40]] }\n" +
		"[accuracy]\nkeys = { \"part.rail.tube.path\" = 2 }\n[[variant]]\nname = \"bare\"\nset = { \"part.rail\" = \"\" }\n"
	if _, _, err := Read("kart.toml", []byte(text), Options{Variant: "bare"}); err != nil {
		t.Error(err)
	}
	if got := readings(t, text)["part.rail.tube.path[*][1]"].Accuracy; got != 2 {
		t.Errorf("the rail is good to ±%v, want 2", got)
	}
}

// TestMeasuringTellsTheAccuracies: the table of docs/measuring.md is that of the program, key by key, in both units.
func TestMeasuringTellsTheAccuracies(t *testing.T) {
	page, err := os.ReadFile("../../docs/measuring.md")
	if err != nil {
		t.Fatal(err)
	}
	mm, in := setup.DefaultAccuracy(setup.MM), setup.DefaultAccuracy(setup.Inch)
	length := func(a, b float64) string {
		return fmt.Sprintf("±%v mm (1/%v in)", a, math.Round(25.4/b))
	}
	degrees := func(a s1.Angle) string { return fmt.Sprintf("±%v°", math.Round(a.Degrees()*1e6)/1e6) }
	want := []string{
		"place " + length(mm.Place, in.Place), "height " + length(mm.Height, in.Height), "hole " + length(mm.Hole, in.Hole),
		"rod " + length(mm.Rod, in.Rod), "outline " + length(mm.Outline, in.Outline), "angle " + degrees(mm.Angle),
		"tape " + length(mm.Tape, in.Tape), "turned " + degrees(mm.Turned),
	}
	var got []string
	for _, row := range regexp.MustCompile("(?m)^\\| `([a-z]+)` \\|.*\\| (±[^|]*) \\|$").FindAllStringSubmatch(string(page), -1) {
		got = append(got, row[1]+" "+row[2])
	}
	if !slices.Equal(got, want) {
		t.Errorf("docs/measuring.md has\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}
