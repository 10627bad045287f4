package compare_test

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"locksweep/fixtures/example"
	"locksweep/geometry/compare"
	"locksweep/geometry/setup"
)

// metal is added to the trapezoid: parts and outlines to differ in.
const metal = `
[[part]]
name = "lug"
on = "spindle"
plate = { outline = [[10, -10], [40, -10], [40, -30], [10, -30]], up = [40, 50] }
[[part]]
name = "rail 1.5"
on = "frame"
mirror = true
tube = { diameter = 20, path = [[-300, 200, 60], [100, 200, 60]] }
`

// TestDiffer names everything that the file would change, by the key that --set takes, once for both corners.
func TestDiffer(t *testing.T) {
	for name, c := range map[string]struct {
		set  []string
		want string
	}{
		"nothing":                {nil, ""},
		"a point":                {[]string{"arm.pickup=[-90,-32,0]"}, "arm.pickup"},
		"an angle":               {[]string{"kingpin.caster=4"}, "kingpin.caster"},
		"one corner":             {[]string{"right.wheel.lead=5"}, "right.wheel.lead"},
		"each corner its own":    {[]string{"wheel.lead=4", "right.wheel.lead=5"}, "wheel.lead right.wheel.lead"},
		"what follows from it":   {[]string{"right.wheel.offset=125"}, "vehicle.rear_track right.wheel.offset"},
		"both rods":              {[]string{"tie_rod.length=300"}, "tie_rod.length"},
		"one rod":                {[]string{"tie_rod.right=300"}, "tie_rod.right"},
		"rod end":                {[]string{"tie_rod.rod_end.tilt=13"}, "tie_rod.rod_end.tilt"},
		"rod end of the right":   {[]string{"right.tie_rod.rod_end.tilt=13"}, "right.tie_rod.rod_end.tilt"},
		"the stop taken away":    {[]string{"limits.spindle=41"}, "limits.spindle"},
		"clearance":              {[]string{"limits.clearance=7", "limits.transmission=30"}, "limits.clearance limits.transmission"},
		"room":                   {[]string{"space.width=1000"}, "space.width"},
		"a part's face":          {[]string{"part.lug.plate.up[1]=51"}, "part.lug.plate.up"},
		"a corner of its metal":  {[]string{"part.lug.plate.outline[1][0]=41"}, "part.lug.plate.outline"},
		"its side":               {[]string{"part.lug.side=left"}, "part.lug.side"},
		"marked to be ground":    {[]string{"part.lug.grind=true", "part.lug.bore=18"}, "part.lug.grind part.lug.bore"},
		"a name with a point":    {[]string{`part."rail 1.5".tube.diameter=25`, `part."rail 1.5".tube.path[0][0]=-200`}, `part."rail 1.5".tube.diameter part."rail 1.5".tube.path`},
		"arm given an outline":   {[]string{"arm.outline=[[-120,-50],[20,-50],[20,20],[-120,20]]", "arm.up=[-4,4]"}, "arm.outline arm.up"},
		"pairs ignored":          {[]string{`ignore=[["lug","tyre"]]`}, "ignore"},
		"a frame cut alone":      {[]string{"change.narrow=40"}, "kingpin.spacing"},
		"a rail, then cut":       {[]string{`part."rail 1.5".tube.path[0][1]=210`, "change.narrow=40"}, `kingpin.spacing part."rail 1.5".tube.path later`},
		"a rail ahead of a cut":  {[]string{`part."rail 1.5".tube.path[0][1]=210`, "change.shorten=100"}, `vehicle.wheelbase part."rail 1.5".tube.path`},
		"a rail, not cut":        {[]string{`part."rail 1.5".tube.path[0][1]=210`, "change={narrow=40,keep_frame=true}"}, `kingpin.spacing part."rail 1.5".tube.path`},
		"spindles swapped alone": {[]string{"change.swap_spindles=true"}, ""},
	} {
		a, b := example.Parse(t, trapezoid+metal), example.Parse(t, trapezoid+metal, c.set...)
		var keys []string
		for _, d := range compare.Differ(a, b) {
			if keys = append(keys, d.Key); d.Later {
				keys = append(keys, "later")
			}
		}
		if got := strings.Join(keys, " "); got != c.want {
			t.Errorf("%s: got %s, want %s", name, got, c.want)
		}
	}
}

// TestPartsComeAndGo: a part that only one has is named once, not by all that it is made of.
func TestPartsComeAndGo(t *testing.T) {
	without, with := example.Parse(t, trapezoid), example.Parse(t, trapezoid+metal)
	list := compare.Differ(without, with)
	if len(list) != 2 || !list[0].New || list[0].Key != "part.lug" || !list[1].New || list[1].Key != `part."rail 1.5"` {
		t.Errorf("added: %+v", list)
	}
	list = compare.Differ(with, without)
	if len(list) != 2 || !list[0].Gone || list[0].Key != "part.lug" || list[0].New {
		t.Errorf("taken away: %+v", list)
	}
}

// TestMoved by hand: a point that goes 3 one way and 4 the other has moved by 5.
func TestMoved(t *testing.T) {
	a, b := example.Parse(t, trapezoid+metal), example.Parse(t, trapezoid+metal, "part.lug.plate.outline[1]=[43,-14]", "part.lug.plate.outline[2][0]=41")
	list := compare.Differ(a, b)
	if len(list) != 1 {
		t.Fatalf("got %+v", list)
	}
	if n, far, ok := list[0].Moved(); n != 2 || math.Abs(far-5) > 1e-12 || !ok {
		t.Errorf("%d points, by up to %v, %v", n, far, ok)
	}
	b = example.Parse(t, trapezoid+metal, "part.lug.plate.outline=[[10,-10],[40,-10],[40,-30]]")
	if _, _, ok := compare.Differ(a, b)[0].Moved(); ok {
		t.Error("outlines of different length cannot be compared point by point")
	}
}

// TestKeysAreThoseOfSet: every figure of every measure, changed by its key with --set, comes out changed there.
func TestKeysAreThoseOfSet(t *testing.T) {
	text := strings.Replace(trapezoid+metal, "wheelbase = 1000", "wheelbase = 1000, rear_tyre = { diameter = 280, width = 180 }", 1)
	s := example.Parse(t, text)
	tried := 0
	for _, m := range s.Measures() {
		for i, f := range m.Figures {
			if m.List || m.Quantity == setup.OfDirection || *f == 0 {
				continue // lists are told as a whole; a figure of 0 may stand for one not given
			}
			key := m.Key
			if m.Point > 1 {
				key += "[" + string(rune('0'+i)) + "]"
			}
			value := *f + 0.25
			set := value
			if m.Quantity == setup.OfAngle {
				set = value * 180 / math.Pi
			}
			at, _ := example.Parse(t, text, key+"="+strconv.FormatFloat(set, 'g', -1, 64)).Figure(key)
			if at == nil {
				t.Fatalf("%s is not found", key)
			}
			got := *at
			if tried++; math.Abs(got-value) > 1e-9 {
				t.Errorf("--set %s=%v gives %v", key, set, got)
			}
		}
	}
	if tried < 33 {
		t.Errorf("only %d figures were tried", tried)
	}
}
