package setupfile

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
)

// plate is metal for the arm of the least setup, whose pickup lies at [-95, -30].
const plate = "\noutline = [[15, 15], [-20, 15], [-110, -20], [-110, -45], [-20, -20], [15, -15]]\nup = [-4, 4]"

const drilled = "\nholes = [{name = 'outer', at = [-95, -30], diameter = 8, up = 0}, {name = 'inner', at = [-70, -22], diameter = 8, up = 0}]"

// TestDoubtfulPickups gives setups of which one sign or place is wrong, and sound ones like them.
func TestDoubtfulPickups(t *testing.T) {
	for _, c := range []struct {
		name, pickup, more string
		set                []string
		code, want         string // code empty: no doubt
	}{
		{name: "sound", pickup: "[-95, -30, 0]"},
		{name: "straight back", pickup: "[-95, 0, 0]"},
		{name: "hardly outboard, 2.4 degrees", pickup: "[-95, 4, 0]"},
		{name: "outboard for inboard", pickup: "[-95, 30, 0]", code: "pickup-sign",
			want: "kart.toml:12: arm.pickup: is behind the kingpin with outboard 30, so that the arms splay away from the rear axle and turn the wheels too much alike; arms behind are aimed inboard, as with outboard -30; is the sign right? inboard is negative"},
		{name: "ahead and outboard is as it should be", pickup: "[95, 30, 0]"},
		{name: "swapped", pickup: "[-30, -95, 0]", code: "pickup-swapped",
			want: "kart.toml:12: arm.pickup: lies 95 mm inboard and 30 mm back: the arm points across the kart"},
		{name: "swapped, outboard and ahead", pickup: "[10, 30, 0]", code: "pickup-swapped", want: "kart.toml:12: arm.pickup: lies 30 mm outboard and 10 mm ahead:"},
		{name: "aslant, 60 degrees", pickup: "[-50, -86, 0]"},
		{name: "aslant, 65 degrees", pickup: "[-42, -90, 0]", code: "pickup-swapped", want: "kart.toml:12: arm.pickup: lies 90 mm inboard and 42 mm back"},
		{name: "one sign on the right", pickup: "[-95, -30, 0]", more: "[right.arm]\npickup = [-94, 29, 0]", code: "pickup-sign",
			want: "kart.toml:14: right.arm.pickup: puts the pickup 59 mm from the left one's mirror image, with outboard 29; with -29 it would be 1.4 mm; has one of the two the wrong sign? inboard is negative"},
		{name: "forward on the right", pickup: "[-95, -30, 0]", more: "[right.arm]\npickup = [95, -30, 0]", code: "pickup-sign",
			want: "kart.toml:14: right.arm.pickup: puts the pickup 190 mm from the left one's mirror image, with forward 95; with -95 it would be 0 mm"},
		{name: "up on the right", pickup: "[-95, -30, -24]", more: "[right.arm]\npickup = [-95, -30, 24]", code: "pickup-sign",
			want: "kart.toml:14: right.arm.pickup: puts the pickup 48 mm from the left one's mirror image, with up 24; with -24 it would be 0 mm"},
		{name: "the right arm bent by 8 mm", pickup: "[-95, -4, 0]", more: "[right.arm]\npickup = [-95, 4, 0]"},
		{name: "another arm on the right", pickup: "[-95, -30, 0]", more: "[right.arm]\npickup = [-70, -20, 0]"},
		{name: "forward a tenth", pickup: "[-9.5, -15, 0]", code: "ten-times",
			want: "kart.toml:12: arm.pickup: has forward -9.5 beside outboard -15 and kingpin.spacing of 600 mm; 60 mm to 210 mm is usual, forward or behind; a slip of the point?"},
		{name: "a short arm", pickup: "[-25, -15, 0]"},
		{name: "outboard a tenth on the right", pickup: "[-95, -30, 0]", more: "[right.arm]\npickup = [-95, -3, 0]", code: "ten-times",
			want: "kart.toml:14: right.arm.pickup: puts the pickup 27 mm from the left one's mirror image, with outboard -3; with -30 it would be 0 mm; a slip of the point?"},
		{name: "forward ten times on the right", pickup: "[-45, -15, 0]", more: "[right.arm]\npickup = [-450, -15, 0]", code: "ten-times",
			want: "kart.toml:14: right.arm.pickup: puts the pickup 410 mm from the left one's mirror image, with forward -450; with -45 it would be 0 mm"},
		{name: "outboard a tenth, a rod given", pickup: "[-95, -3, 0]", more: "[tie_rod]\nlength = 256.0", code: "ten-times",
			want: "kart.toml:12: arm.pickup: has outboard -3, with which a rod of 256 mm is 26 mm off; with -30 it would fit; a slip of the point?"},
		{name: "a rod screwed out", pickup: "[-95, -30, 0]", more: "[tie_rod]\nlength = 261.0"},
		{name: "a rod of another kart", pickup: "[-95, -30, 0]", more: "[tie_rod]\nlength = 268.0"},
		{name: "in a hole", pickup: "[-95, -30, 0]" + plate + drilled},
		{name: "in a hole by tape", pickup: "[-94, -28, 0]" + plate + drilled},
		{name: "named", pickup: "'inner'" + plate + drilled},
		{name: "sign of a drilled arm", pickup: "[-95, 30, 0]" + plate + drilled, code: "pickup-no-hole",
			want: `kart.toml:12: arm.pickup: is at [-95, 30], at none of the arm's holes: "outer" is at [-95, -30], 60 mm away; is the sign of outboard right? inboard is negative`},
		{name: "forward of a drilled arm", pickup: "[95, -30, 0]" + plate + drilled, code: "pickup-no-hole",
			want: `kart.toml:12: arm.pickup: is at [95, -30], at none of the arm's holes: "outer" is at [-95, -30], 190 mm away; is the sign of forward right? behind the kingpin is negative`},
		{name: "beside its holes", pickup: "[-82, -26, 0]" + plate + drilled, code: "pickup-no-hole",
			want: `kart.toml:12: arm.pickup: is at [-82, -26], at none of the arm's holes: "inner" is at [-70, -22], 13 mm away; measure both again, or give the hole that it sits in`},
		{name: "at another height", pickup: "[-95, -30, 20]" + plate + drilled, set: []string{"kingpin.inclination=12"}, code: "pickup-no-hole",
			want: `kart.toml:12: arm.pickup: is at [-95, -30, 20], at none of the arm's holes: "outer" has its ball at [-95, -30, `},
		{name: "a hole to be drilled", pickup: "[-95, -30, 0]" + plate + drilled, set: []string{"arm.pickup=[-82, -26, 0]"}},
		{name: "a sign in a setting", pickup: "[-95, -30, 0]" + plate + drilled, set: []string{"arm.pickup=[-70, 22, 0]"}, code: "pickup-no-hole",
			want: `--set: arm.pickup: is at [-70, 22], at none of the arm's holes: "inner" is at [-70, -22], 44 mm away`},
		{name: "outboard of a spindle that is swapped", pickup: "[-95, 30, 0]", set: []string{"change.swap_spindles=true"}},
		{name: "outboard of a spindle that is turned over", pickup: "[-95, 30, 0]", set: []string{"change.turn_spindles_over=true"}},
		{name: "outboard of a spindle that is swapped and turned over", pickup: "[-95, 30, 0]", set: []string{"change.swap_spindles=true", "change.turn_spindles_over=true"}, code: "pickup-sign",
			want: "kart.toml:12: arm.pickup: is behind the kingpin with outboard 30,"},
		{name: "given for a spindle that is swapped", pickup: "[-95, -30, 0]", set: []string{"change.swap_spindles=true", "arm.pickup=[-91, 18.7, 0]"}},
		{name: "given as it stands after the swap", pickup: "[-95, -30, 0]", set: []string{"change.swap_spindles=true", "arm.pickup=[85, 18.7, 38]", "kingpin.caster=6"}, code: "pickup-after-change",
			want: "--set: arm.pickup: is ahead of the kingpin already, and the spindles are swapped, which turns it behind; figures are as the spindle hangs before the change: what is to stand at [85, 18.7, 38] after it is given as [-91.04, 18.7, 19.5]"},
		{name: "given as it stands once turned over", pickup: "[-95, -30, 0]", set: []string{"change.turn_spindles_over=true", "arm.pickup=[85, 18, 0]"}, code: "pickup-after-change",
			want: "--set: arm.pickup: is ahead of the kingpin already, and the spindles are turned over,"},
		{name: "of the right side alone", pickup: "[-95, -30, 0]", set: []string{"change.swap_spindles=true", "right.arm.pickup=[85, 18, 0]"}, code: "pickup-after-change", want: "--set: right.arm.pickup: "},
		{name: "an arm ahead, swapped to be behind", pickup: "[95, 30, 0]", set: []string{"change.swap_spindles=true"}},
		{name: "another arm ahead, swapped to be behind", pickup: "[95, 30, 0]", set: []string{"change.swap_spindles=true", "arm.pickup=[80, 30, 0]"}},
		{name: "all in the file, arms ahead and a drop arm that hangs", pickup: "[95, 30, 0]", more: "[change]\nswap_spindles = true\nturn_drop_arm_over = true", code: "pickup-after-change", want: "kart.toml:12: arm.pickup: is ahead"},
		{name: "all in the file, the drop arm forgotten", pickup: "[95, 30, 0]", more: "[change]\nswap_spindles = true"},
		{name: "off the metal by a sign", pickup: "[95, -30, 0]" + plate, code: "pickup-off-metal",
			want: "kart.toml:12: arm.pickup: lies 81.394 mm outside the arm's outline; with the other sign of forward it would lie inside: is the sign right? behind the kingpin is negative"},
		{name: "off the metal", pickup: "[-125, -40, 0]" + plate, code: "pickup-off-metal",
			want: "kart.toml:12: arm.pickup: lies 15 mm outside the arm's outline; are both measured from the kingpin centre?"},
	} {
		text := strings.Replace(least, "[-95, -30, 0]", c.pickup, 1)
		text = strings.Replace(text, "[column]", c.more+"\n[column]", 1)
		_, warnings, err := Read("kart.toml", []byte(text), Options{Set: c.set})
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		var pickups []Warning
		for _, w := range warnings {
			if strings.HasPrefix(w.Code, "pickup-") || w.Code == "ten-times" && strings.HasSuffix(w.Key, "arm.pickup") {
				pickups = append(pickups, w)
			}
		}
		switch {
		case c.code == "" && len(pickups) > 0:
			t.Errorf("%s: doubted: %v", c.name, pickups)
		case c.code != "" && (len(pickups) != 1 || pickups[0].Code != c.code || !strings.HasPrefix(pickups[0].String(), c.want)):
			t.Errorf("%s:\n got %v\nwant %s: %s", c.name, pickups, c.code, c.want)
		}
	}
}

// TestSoundPickupsAreNotDoubted draws 300 arms as karts have them, with a rod that fits to what it is screwed by or of no given length,
// and then takes the point of their forward figure one place too far.
func TestSoundPickupsAreNotDoubted(t *testing.T) {
	r := rand.New(rand.NewPCG(16, 300))
	doubted := func(x, y float64, more string) (slip, any bool) {
		text := strings.Replace(least, "[-95, -30, 0]", fmt.Sprintf("[%.2f, %.1f, 0]", x, y), 1)
		text = strings.Replace(text, "[column]", more+"\n[column]", 1)
		_, warnings, err := Read("kart.toml", []byte(text), Options{})
		if err != nil {
			t.Fatalf("%v in %s", err, text)
		}
		for _, w := range warnings {
			any = any || w.Key == "arm.pickup"
			slip = slip || w.Key == "arm.pickup" && w.Code == "ten-times"
		}
		return slip, any
	}
	for range 300 {
		x := -60 - 150*r.Float64()
		y, more := x*(r.Float64()*0.6-0.05), ""
		if r.IntN(2) == 0 { // pin at (-126.5, 20, 84.9), pickup at (x, 300 + y, 130)
			length := math.Sqrt((x+126.5)*(x+126.5)+(280+y)*(280+y)+45*45) + 10*r.Float64() - 5
			more = fmt.Sprintf("[tie_rod]\nlength = %.1f", length)
		}
		if slip, _ := doubted(x, y, more); slip {
			t.Errorf("[%.1f, %.1f] %s is doubted", x, y, more)
		}
		if _, any := doubted(x/10, y, ""); !any && x > -180 { // it may be doubted as another mistake: swapped, or aimed the wrong way
			t.Errorf("[%.2f, %.1f] is not doubted", x/10, y)
		}
	}
}

// TestCausesStandFirst reads files of which one figure makes others doubtful: it is the first to be told.
func TestCausesStandFirst(t *testing.T) {
	for _, c := range []struct{ name, old, new, code, want string }{
		{"inches of millimetres", `"mm"`, `"in"`, "units", "vehicle.wheelbase: is 1000 inches, more than 5 m"},
		{"centimetres", "= 1000", "= 100", "units", "vehicle.wheelbase: is only 100 mm"},
		{"an offset in inches", "= 120", "= 4.375", "ten-times", "wheel.offset: is 4.375 mm beside kingpin.spacing of 600 mm; from 48 mm to 240 mm is usual; is it in another unit (in inches it would be 110 mm), or a slip of the point?"},
		{"an offset in centimetres", "= 120", "= 12", "ten-times", "wheel.offset: is 12 mm beside kingpin.spacing of 600 mm; from 48 mm to 240 mm is usual; is it in another unit (in centimetres it would be 120 mm), or a slip of the point?"},
		{"an arm's faces in inches", "[-95, -30, 0]", "[-95, -30, 0]\nup = [-0.95, -0.63]", "ten-times", "arm.up: is 0.32 mm of metal beside kingpin.spacing of 600 mm; from 3.6 mm to 24 mm is usual; is it in another unit (in inches it would be 8.1 mm), or"},
		{"a drop arm's thickness in inches", "right = [55, -20, 0]", "right = [55, -20, 0]\nthickness = 0.32", "ten-times", "drop_arm.thickness: is 0.32 mm beside"},
		{"a gap in inches", "[drop_arm]", "[limits]\nclearance = 0.2\n[drop_arm]", "ten-times", "limits.clearance: is 0.2 mm beside kingpin.spacing of 600 mm; from 3 mm to 18 mm is usual; is it in another unit (in inches it would be 5.1 mm), or"},
		{"crossed pins", "left = [55, 20, 0]\nright = [55, -20, 0]", "left = [55, -20, 0]\nright = [55, 20, 0]", "pins-crossed", "left is positive"},
		{"swapped and with trail behind", "[-95, -30, 0]", "[-10, -95, 0]\n[right.wheel]\nlead = 4", "pickup-swapped", "arm.pickup: lies 95 mm inboard"},
	} {
		text := strings.Replace(least, c.old, c.new, 1)
		_, warnings, err := Read("kart.toml", []byte(text), Options{})
		if err != nil || len(warnings) == 0 || warnings[0].Code != c.code || !warnings[0].Cause() || !strings.Contains(warnings[0].String(), c.want) {
			t.Errorf("%s:\n got %v, %v\nwant %s: %s", c.name, warnings, err, c.code, c.want)
			continue
		}
		if _, alike, _ := Read("kart.toml", []byte(text+"\n[[variant]]\nname = \"short\"\nset = { \"change.shorten\" = 40 }\n"), Options{Variant: "short"}); len(alike) != len(warnings) {
			t.Errorf("%s: in a variant it is %v", c.name, alike)
		}
		if last := warnings[len(warnings)-1]; len(warnings) > 1 && c.code == "pickup-swapped" && last.Cause() {
			t.Errorf("%s: a cause stands last: %v", c.name, warnings)
		}
	}
	// A figure of which a change of a variant leaves nothing is a mistake itself where it is doubted, and only there.
	const narrowed = "\n[[variant]]\nname = \"narrow\"\nset = { \"change.narrow\" = %d }\n[[variant]]\nname = \"narrower\"\nset = { \"change.narrow\" = %d }\n"
	for _, c := range []struct {
		spacing  string
		off      int
		mistakes []string
	}{
		{"spacing = 600", 100, nil},
		{"spacing = 600", 700, []string{"change.narrow", "change.narrow"}},
		{"spacing = 23.6", 100, []string{"kingpin.spacing", "change.narrow", "change.narrow"}},
	} {
		text := strings.Replace(least, "spacing = 600", c.spacing, 1) + fmt.Sprintf(narrowed, c.off, c.off)
		var got []string
		_, _, err := Read("kart.toml", []byte(text), Options{})
		if errs := (Errors{}); errors.As(err, &errs) {
			for _, e := range errs {
				got = append(got, e.Key)
			}
		}
		if !slices.Equal(got, c.mistakes) || len(got) == 3 && !strings.Contains(err.Error(), "kingpin.spacing: is 23.6 mm, out of proportion to") {
			t.Errorf("%s, %d off: %v", c.spacing, c.off, err)
		}
	}
	// A unit that makes mistakes of other figures is the first of them.
	text := strings.NewReplacer(`"mm"`, `"in"`, "[drop_arm]", "[limits]\nclearance = 5\n[drop_arm]").Replace(least)
	_, _, err := Read("kart.toml", []byte(text), Options{})
	if err == nil || !strings.HasPrefix(err.Error(), `kart.toml:2:9: units: is "in", but vehicle.wheelbase is 1000 inches, more than 5 m; if the file is in millimetres write units = "mm"`) {
		t.Errorf("units: %v", err)
	}
}

// TestUnderTheGroundIsJudgedAfterTheChange: a pin that hangs under the ground is doubted, and not where the drop arm is turned over to stand.
func TestUnderTheGroundIsJudgedAfterTheChange(t *testing.T) {
	for _, c := range []struct {
		set  []string
		want bool
	}{
		{[]string{"column.foot=[-95, 0, 30]"}, true},
		{[]string{"column.foot=[-95, 0, 30]", "change.turn_drop_arm_over=true"}, false},
		{[]string{"drop_arm.left=[-250, 20, 0]", "drop_arm.right=[-250, -20, 0]", "change.turn_drop_arm_over=true"}, true},
		{[]string{"arm.pickup=[-95, -30, -140]"}, true},
		{[]string{"arm.pickup=[-95, -30, -140]", "change.turn_spindles_over=true"}, false},
	} {
		_, warnings, err := Read("kart.toml", []byte(least), Options{Set: c.set})
		if err != nil {
			t.Fatal(err)
		}
		if got := slices.ContainsFunc(warnings, func(w Warning) bool { return w.Code == "under-ground" }); got != c.want {
			t.Errorf("%v: under the ground is %v, want %v: %v", c.set, got, c.want, warnings)
		}
	}
}
