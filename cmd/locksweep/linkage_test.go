package main

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"runtime"
	"testing"

	"locksweep/fixtures/example"
)

// TestTwoRodsAsBefore: poses of two tie rods, as the program gave them when it knew no other linkage (testdata/two_rods.json, written by
// it then on amd64): to the last bit there, to 1e-12 where the processor makes one instruction of x*y + z. Keys that have come since are left out, and so is the Ackermann error, which is that of the
// linkage without static toe now.
func TestTwoRodsAsBefore(t *testing.T) {
	data, err := os.ReadFile(filepath.Join("testdata", "two_rods.json"))
	if err != nil {
		t.Fatal(err)
	}
	var before map[string]map[string]any
	if err := json.Unmarshal(data, &before); err != nil {
		t.Fatal(err)
	}
	compared := 0
	for name, want := range before {
		got := tree(t, said(t, example.Data(t, name), "sweep", "-", "--json", "--at=-70,-45,-20,-5,0,5,20,45,70"))
		compared += heldTo(t, name, want, got)
	}
	if compared < 500 {
		t.Errorf("only %d figures compared", compared)
	}
}

// heldTo holds everything in want against what stands in its place.
func heldTo(t *testing.T, at string, want, got any) (compared int) {
	t.Helper()
	switch want := want.(type) {
	case map[string]any:
		now, _ := got.(map[string]any)
		for key, v := range want {
			compared += heldTo(t, at+"."+key, v, now[key])
		}
	case []any:
		now, _ := got.([]any)
		if len(now) != len(want) {
			t.Errorf("%s: %d elements, were %d", at, len(now), len(want))
			return 0
		}
		for i, v := range want {
			compared += heldTo(t, at, v, now[i])
		}
	default:
		compared++
		was, figure := want.(float64)
		is, still := got.(float64)
		if near := figure && still && runtime.GOARCH != "amd64" && math.Abs(is-was) <= 1e-12*max(1, math.Abs(was)); !near && !reflect.DeepEqual(want, got) {
			t.Errorf("%s: %v, was %v", at, got, want)
		}
	}
	return compared
}

// TestRodsOfAPose: every linkage lists its rods by name and place; by corner stands what a corner has, else null.
func TestRodsOfAPose(t *testing.T) {
	type rod struct{ name, from, to string }
	for name, c := range map[string]struct {
		linkage  string
		rods     [2]rod
		dropArm  [2]bool // by corner
		perSide  bool
		driverOf [2]int
	}{
		"shed-kart":      {"two rods", [2]rod{{"left tie rod", "drop arm", "left arm"}, {"right tie rod", "drop arm", "right arm"}}, [2]bool{true, true}, true, [2]int{0, 1}},
		"beam-cyclekart": {"cross rod", [2]rod{{"drag link", "drop arm", "left arm"}, {"tie rod", "left arm", "right arm"}}, [2]bool{true, false}, false, [2]int{0, 1}},
		"rack-buggy":     {"rack", [2]rod{{"left tie rod", "rack", "left arm"}, {"right tie rod", "rack", "right arm"}}, [2]bool{false, false}, true, [2]int{0, 1}},
	} {
		got := tree(t, said(t, example.Data(t, name), "sweep", "-", "--json", "--at=10"))
		if l := at(t, got, "linkage"); l != c.linkage {
			t.Errorf("%s: linkage %v", name, l)
		}
		pose := at(t, got, "poses", 0)
		for i, want := range c.rods {
			r := at(t, pose, "rods", i)
			if at(t, r, "name") != want.name || at(t, r, "from", "on") != want.from || at(t, r, "to", "on") != want.to {
				t.Errorf("%s: rod %v, want %v", name, r, want)
			}
			if length := at(t, got, "rod_fits", i, "length"); at(t, got, "rod_fits", i, "name") != want.name || !(length.(float64) > 50) {
				t.Errorf("%s: rod %s is %v long", name, want.name, length)
			}
		}
		for side, key := range []string{"left", "right"} {
			driver := at(t, pose, "rods", c.driverOf[side])
			for _, f := range [2][2]string{{"transmission", "transmission"}, {"rod_tilt", "tilt"}} {
				if a, b := at(t, pose, key, f[0], "arm"), at(t, driver, "to", f[1]); a != b {
					t.Errorf("%s, %s: %s %v at the arm, of its rod %v", name, key, f[0], a, b)
				}
				drop := at(t, pose, key, f[0], "drop_arm")
				if c.dropArm[side] && drop != at(t, driver, "from", f[1]) || !c.dropArm[side] && drop != nil {
					t.Errorf("%s, %s: %s %v at the drop arm", name, key, f[0], drop)
				}
			}
			if given := at(t, got, "tie_rods", key) != nil; given != c.perSide {
				t.Errorf("%s: tie rod of the %s side given %v", name, key, given)
			}
		}
	}
}

// TestRackTravelLimits: with the stops off the spindles the rack's own travel stops it, at the turns of the steering wheel that
// it takes: 66 mm at 52 mm a turn.
func TestRackTravelLimits(t *testing.T) {
	got := tree(t, said(t, example.Data(t, "rack-buggy"), "sweep", "-", "--json"))
	found := false
	for _, l := range at(t, got, "locks", "left", "limits").([]any) {
		if at(t, l, "kind") == "rack travel" {
			found = true
			if c := at(t, l, "column").(float64); math.Abs(c-66.0/52*360) > 1e-9 || at(t, l, "side") != nil {
				t.Errorf("rack travel at %v, %v", c, l)
			}
		}
	}
	if !found {
		t.Error("no rack travel")
	}
}
