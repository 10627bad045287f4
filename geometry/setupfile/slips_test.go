package setupfile

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"locksweep/fixtures"
	"locksweep/fixtures/trial"
)

// TestOneCoordinateSlips gives files with one co-ordinate ten times off, and sound ones near to them: which key is doubted, and by what.
func TestOneCoordinateSlips(t *testing.T) {
	const column = "[column]\nfoot = [-95, 0, 130]\nrake = 35\n[drop_arm]\nleft = [55, 20, 0]\nright = [55, -20, 0]" // of least
	const link = "[drag_link]\nside = \"left\"\npickup = [-90, -20, 4]\nlength = 343\n[column]\nfoot = [-95, -60, 200]\nrake = 35\n[drop_arm]\npin = [70, 0, 0]\n[tie_rod]\n"
	const rack = "[rack]\nleft = [-95, 100, 130]\nright = [-95, -100, 130]\nper_turn = -60\n[tie_rod]\n"
	for _, c := range []struct{ name, old, new, key, want string }{
		{"outboard ten times, no rod given", "[-95, -30, 0]", "[-95, -180, 0]", "arm.pickup", "has outboard -180 beside forward -95, so that the arm points more across the kart than along it"},
		{"far inboard, but further back", "[-95, -30, 0]", "[-150, -140, 0]", "", ""},
		{"outboard a tenth", "[-95, -30, 0]", "[-95, -3.2, 0]", "arm.pickup", "has outboard -3.2 beside whole figures, finer than a tape reads; is it -32, a slip of the point?"},
		{"half a millimetre", "[-95, -30, 0]", "[-95, -3.5, 0]", "", ""},
		{"measured by calliper", "[-95, -30, 0]", "[-95.2, -3.2, 0]", "", ""},
		{"to a tenth, and large", "[-95, -30, 0]", "[-95, -30.2, 0]", "", ""},
		{"all small", "[-95, -30, 0]", "[-95, -30, 0]\nbolt = [0.2, 0, 1]", "", ""},
		{"up ten times", "[-95, -30, 0]\n[column]\nfoot = [-95, 0, 130]", "[-95, -30, 150]\n[column]\nfoot = [-65, 0, 190]", "arm.pickup", "has up 150, with which the left tie rod runs 28 degrees from straight across the vehicle, wheels straight ahead; with 15 it would be 0; a slip of the point?"},
		{"a rod askew by 14 degrees", "foot = [-95, 0, 130]", "foot = [-110, 0, 120]", "", ""},
		{"a rod askew that no slip explains", "[-95, -30, 0]", "[-180, -40, 0]", "", ""},
		{"down a tenth on both sides", "left = [55, 20, 0]\nright = [55, -20, 0]", "left = [5.5, 20, 0]\nright = [5.5, -20, 0]", "drop_arm.left", "is 5.5 mm beside arm.pickup of 100 mm"},
		{"down a tenth of a wide drop arm", "left = [55, 20, 0]\nright = [55, -20, 0]", "left = [8, 60, 0]\nright = [8, -60, 0]", "", ""},
		{"one pin's left", "left = [55, 20, 0]", "left = [55, 200, 0]", "drop_arm.left", "has left 200 where drop_arm.right has -20, and is its mirror image else"},
		{"one pin's down", "right = [55, -20, 0]", "right = [550, -20, 0]", "drop_arm.right", ""},
		{"one pin's along", "right = [55, -20, 0]", "right = [55, -20, 80]", "", ""},
		{"one pin's along, with the other's a tenth", "left = [55, 20, 0]\nright = [55, -20, 0]", "left = [55, 20, 8]\nright = [55, -20, 80]", "drop_arm.left", "has along 8 where drop_arm.right has 80, and is its mirror image else"},
		{"pins that differ", "right = [55, -20, 0]", "right = [58, -18, 0]", "", ""},
		{"foot forward ten times", "foot = [-95, 0, 130]", "foot = [-950, 0, 130]", "column.foot", "has forward -950, with which"},
		{"foot up ten times", "foot = [-95, 0, 130]", "foot = [-60, 0, 1600]", "column.foot", "has up 1600, with which"},
		{"a pin, by the rod that is given", "[drop_arm]\nleft = [55, 20, 0]\nright = [55, -20, 0]", "[tie_rod]\nlength = 256\n[drop_arm]\nleft = [55, 2, 0]\nright = [55, -2, 0]", "drop_arm.left", "has left 2, with which a rod of 256 mm is 18 mm off; with 20 it would fit"},
		{"a drag link that is given", column, strings.Replace(link, "-90, -20", "-90, -200", 1), "drag_link.pickup", "has outboard -200, with which a rod of 343 mm is"},
		{"a sound drag link", column, strings.Replace(link, "length = 343\n", "", 1), "", ""},
		{"a drag link's arm", column, strings.Replace(link, "-90, -20, 4]\nlength = 343", "-9, -2, 4]", 1), "drag_link.pickup", "is 9.2 mm beside kingpin.spacing of 600 mm"},
		{"a drag link that climbs", column, strings.NewReplacer("length = 343\n", "", "-60, 200", "-60, 2000").Replace(link), "column.foot", "has up 2000, with which the drag link runs 79 degrees from level"},
		{"a rack's ball", column, strings.Replace(rack, "-95, 100", "-95, 10", 1), "rack.left", "has left 10 where rack.right has -100"},
		{"both balls of a rack", column, strings.ReplaceAll(rack, "-95, ", "-950, "), "rack.left", "has forward -950, with which"},
		{"a rack under the ground", column, strings.ReplaceAll(rack, "0, 130]", "0, -20]"), "rack.left", "lies 20 mm under the ground"},
		{"a sound rack", column, rack, "", ""},
		{"a thread", "[drop_arm]", "[tie_rod]\ndiameter = 14\nrod_end = {thread = 80}\n[drop_arm]", "tie_rod.rod_end.thread", "is 80 mm beside tie_rod.diameter of 14 mm"},
		{"a rod end's body", "[drop_arm]", "[tie_rod]\nrod_end = {body = 3.3, thread = 8}\n[drop_arm]", "tie_rod.rod_end.body", "is 3.3 mm beside tie_rod.rod_end.thread of 8 mm"},
		{"a pitch", "[drop_arm]", "[tie_rod]\nrod_end = {thread = 8, pitch = 0.125}\n[drop_arm]", "tie_rod.rod_end.pitch", "is 0.125 mm beside tie_rod.rod_end.thread of 8 mm"},
		{"a sound rod end", "[drop_arm]", "[tie_rod]\ndiameter = 14\nrod_end = {body = 33, thread = 8, pitch = 1}\n[drop_arm]", "", ""},
	} {
		text := strings.Replace(least, c.old, c.new, 1)
		_, warnings, err := Read("kart.toml", []byte(text), Options{})
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		at := slices.IndexFunc(warnings, func(w Warning) bool { return w.Key == c.key && strings.HasPrefix(w.Text, c.want) })
		if c.key == "" && len(warnings) > 0 || c.key != "" && at < 0 {
			t.Errorf("%s:\n got %v\nwant %s: %s", c.name, warnings, c.key, c.want)
		}
	}
}

// TestWhatAVariantMovesIsDoubtedThere moves the column's foot in a variant and in settings: it, and no pin that stands as it stood before, may have
// slipped, and nothing has where spindles and drop arm are turned round as well, as the arms then stand ahead of the kingpins.
func TestWhatAVariantMovesIsDoubtedThere(t *testing.T) {
	text := strings.NewReplacer("left = [55, 20, 0]", "left = [55, 20, 8]", "right = [55, -20, 0]", "right = [55, -20, 8]").Replace(least) +
		"\n[[variant]]\nname = \"ahead\"\nset = { \"column.foot\" = [30, 0, 90], \"change.swap_spindles\" = true, \"change.turn_drop_arm_over\" = true }\n"
	for _, c := range []struct {
		what string
		opt  Options
		key  string
	}{
		{"as it stands", Options{}, ""},
		{"turned round", Options{Variant: "ahead"}, ""},
		{"moved beyond reason", Options{Set: []string{"column.foot=[-950, 0, 130]"}}, "column.foot"},
		{"moved", Options{Set: []string{"column.foot=[-30, 0, 90]"}}, ""},
	} {
		var keys []string
		_, warnings, err := Read("kart.toml", []byte(text), c.opt)
		for _, w := range warnings {
			if w.Code == "ten-times" {
				keys = append(keys, w.Key)
			}
		}
		if err != nil || strings.Join(keys, " ") != c.key {
			t.Errorf("%s: %v, %v doubted, want %s", c.what, err, warnings, c.key)
		}
	}
}

// plausible writes a two-rod kart whose sizes are drawn from what is usual, every figure whole as a tape reads it, and the places of its
// point co-ordinates. Its rods run up to some 14 degrees from straight across.
func plausible(r *rand.Rand) (text string, points map[string][3]int) {
	between := func(low, high float64) int { return int(math.Round(low + (high-low)*r.Float64())) }
	spacing := between(480, 950)
	lever := between(0.12*float64(spacing), 0.2*float64(spacing))
	sign := -1 // arms behind, a hanging drop arm
	if r.IntN(4) == 0 {
		sign = 1
	}
	height, rake := between(120, 290), 35.0
	down := between(0.5*float64(lever), 0.9*float64(lever))
	pickup := [3]int{sign * lever, -sign * -between(0, 0.35*float64(lever)), between(-25, 15)}
	sin, cos := math.Sincos(rake * math.Pi / 180)
	drop, aside, along := -sign*down, between(10, 25), between(0, 15)
	// The pins about level with the pickups and as far ahead.
	askew := 0.16 * (float64(spacing)/2 - float64(lever))
	x := float64(pickup[0]) + sin*float64(drop) + cos*float64(along) + askew*(2*r.Float64()-1)
	z := float64(height+pickup[2]) + cos*float64(drop) - sin*float64(along) + askew*(2*r.Float64()-1)
	points = map[string][3]int{
		"arm.pickup": pickup, "column.foot": {int(math.Round(x)), 0, int(math.Round(z))}, "drop_arm.left": {drop, aside, along}, "drop_arm.right": {drop, -aside, along},
	}
	tyre := 2 * height
	text = fmt.Sprintf("locksweep = 1\nunits = \"mm\"\n[vehicle]\nwheelbase = %d\n[kingpin]\nspacing = %d\nheight = %d\ncaster = 10\n[wheel]\noffset = %d\ntyre_diameter = %d\ntyre_width = %d\n",
		between(1.4*float64(spacing), 2.2*float64(spacing)), spacing, height, between(0.12*float64(spacing), 0.25*float64(spacing)), tyre, between(0.2*float64(tyre), 0.5*float64(tyre)))
	for _, key := range []string{"arm.pickup", "column.foot", "drop_arm.left", "drop_arm.right"} {
		table, name, _ := strings.Cut(key, ".")
		if key != "drop_arm.right" {
			text += "[" + table + "]\n"
		}
		text += fmt.Sprintf("%s = [%d, %d, %d]\n", name, points[key][0], points[key][1], points[key][2])
		if key == "column.foot" {
			text += "rake = 35\n"
		}
	}
	return text, points
}

// TestPlausibleVehiclesAreNotDoubted draws vehicles as they may be built and taped, none of which is doubted, then takes the point of one
// co-ordinate of 10 mm or more one place too far or too short, of which nearly all are. The examples are not doubted either.
func TestPlausibleVehiclesAreNotDoubted(t *testing.T) {
	r := rand.New(rand.NewPCG(16, trial.Seed))
	slipped, found := 0, 0
	for range trial.Count(60, 300) {
		text, points := plausible(r)
		_, warnings, err := Read("kart.toml", []byte(text), Options{})
		if err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		for _, w := range warnings {
			if w.Cause() || w.Code == "under-ground" {
				t.Errorf("a sound file is doubted: %v\n%s", w, text)
			}
		}
		for key, at := range points {
			for axis, v := range at {
				for _, by := range []float64{10, 0.1} {
					if v > -10 && v < 10 {
						continue
					}
					is := [3]float64{float64(at[0]), float64(at[1]), float64(at[2])}
					is[axis] *= by
					set := fmt.Sprintf("%s=[%.4g, %.4g, %.4g]", key, is[0], is[1], is[2])
					_, warnings, err := Read("kart.toml", []byte(text), Options{Set: []string{set}})
					slipped++
					if err != nil || slices.ContainsFunc(warnings, func(w Warning) bool { return w.Code != "foot-aside" }) {
						found++
					}
				}
			}
		}
	}
	if share := float64(found) / float64(slipped); share < 0.85 {
		t.Errorf("of %d slips %d are doubted or refused, %.0f %%", slipped, found, 100*share)
	} else {
		t.Logf("of %d slips %.1f %% are doubted", slipped, 100*share)
	}
	for _, e := range fixtures.Examples {
		data, err := e.Data()
		if err != nil {
			t.Fatal(err)
		}
		if _, warnings, _ := Read(e.Name, data, Options{}); len(warnings) > 0 {
			t.Errorf("%s: %v", e.Name, warnings)
		}
	}
}
