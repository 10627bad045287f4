package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// say runs a command and returns what it prints.
func say(t *testing.T, want int, args ...string) string {
	t.Helper()
	var out, problems bytes.Buffer
	if got := run(&shell{in: strings.NewReader(""), out: &out, err: &problems}, args); got != want {
		t.Fatalf("locksweep %s: exit status %d, want %d\n%s", strings.Join(args, " "), got, want, problems.String())
	}
	return out.String()
}

// The outline of the JSON goes back into the file by --set, and the file then turns to the target, at
// which the metal stands off as wanted. In inches as in millimetres.
func TestOutlineOfTheJSONGoesBackIntoTheFile(t *testing.T) {
	const kart = `
locksweep = 1
name = "lug"
units = %q
vehicle = { wheelbase = %v, rear_track = %v, rear_tyre = { diameter = %v, width = %v } }
kingpin = { spacing = %v, height = %v, inclination = 8, caster = 10 }
wheel = { offset = %v, tyre_diameter = %v, tyre_width = %v }
arm = { pickup = [%v, %v, %v] }
column = { foot = [%v, 0, %v], rake = 40 }
drop_arm = { left = [%v, %v, %v], right = [%v, %v, %v] }
tie_rod = { diameter = %v }
limits = { clearance = %v, transmission = 10 }
[[part]]
name = "lug"
on = "spindle"
grind = true
bore = %v
plate = { outline = [[%v, %v], [%v, %v], [%v, %v], [%v, %v]], up = [%v, %v] }
[[part]]
name = "web"
on = "frame"
at = "kingpin"
plate = { outline = [[%v, %v], [%v, %v], [%v, %v], [%v, %v]], up = [%v, %v] }
`
	figures := []float64{1000, 1000, 280, 150, 640, 130, 300, 120, 40, -100, -20, -60, -60, 120, 66, 14, 8, 66, -14, 8, 12, 3,
		12, -40, -14, 14, -14, 14, 14, -40, 10, -10, 10, -60, -60, -10, -60, -10, -32, -60, -32, -30, 30}
	for unit, size := range map[string]float64{"mm": 1, "in": 25.4} {
		values := []any{unit}
		for _, f := range figures {
			values = append(values, f/size)
		}
		path := filepath.Join(t.TempDir(), "kart.toml")
		if err := os.WriteFile(path, fmt.Appendf(nil, kart, values...), 0o644); err != nil {
			t.Fatal(err)
		}
		var plan struct {
			Reached float64
			Cuts    []struct {
				Side             string
				Clearance, Depth float64
				Share            float64 `json:"share_left"`
				Area             float64 `json:"area_left"`
				Width            float64 `json:"width_left"`
				Passes           *float64
				Stop             []string
				Outline          [][2]float64
			}
			Curve []struct{ Depth, Lock float64 }
		}
		said := say(t, 0, "grind", path, "--lock", "35", "--json")
		if !strings.Contains(said, `"refused": null`) {
			t.Errorf("%s: refused is not null, or not there", unit)
		}
		if strings.Count(said, `"plus_minus": `) != 2 || strings.Contains(said, `"plus_minus": null`) {
			t.Errorf("%s: it is not said how sure the locks are", unit)
		}
		decode(t, said, &plan)
		if len(plan.Cuts) != 2 || plan.Reached < 35-1e-9 {
			t.Fatalf("%d cuts, reached %v", len(plan.Cuts), plan.Reached)
		}
		// The lug is the stop, and passes nothing else: an area of 54 by 26 mm or so is left of it.
		if c := &plan.Cuts[0]; c.Clearance*size > 0.05 || c.Passes != nil || len(c.Stop) != 1 || c.Stop[0] != "left" ||
			!(c.Share > 0.9 && c.Share < 1 && c.Area*size*size > 1250 && c.Area*size*size < 1404 && c.Width*size > 20 && c.Width*size < 28) {
			t.Errorf("%s: %+v", unit, c)
		}
		outline, err := json.Marshal(plan.Cuts[0].Outline)
		if err != nil {
			t.Fatal(err)
		}
		var swept struct {
			Locks struct {
				Left, Right struct{ Left, Right struct{ Steer float64 } }
			}
		}
		decode(t, say(t, 0, "sweep", path, "--json", "--set", "part.lug.plate.outline="+string(outline)), &swept)
		if left, right := swept.Locks.Left.Left.Steer, -swept.Locks.Right.Right.Steer; left < 35 || right < 35 {
			t.Errorf("%s: with the outline put back the wheels turn %v left and %v right, want 35", unit, left, right)
		}
		for i := range plan.Curve[1:] {
			if plan.Curve[i+1].Lock < plan.Curve[i].Lock {
				t.Errorf("%s: the lock shrinks with depth: %v", unit, plan.Curve)
			}
		}
	}
}

func decode(t *testing.T, text string, into any) {
	t.Helper()
	if err := json.Unmarshal([]byte(text), into); err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
}

// A kart that is past where it should stop is told so rather than that it gets less far than it does.
func TestRefusalOfAKartThatIsPastItsLimit(t *testing.T) {
	const kart = "../../fixtures/shed-kart.toml"
	var plan map[string]any
	decode(t, say(t, 1, "grind", kart, "--lock", "44", "--json", "--set", "limits.transmission=35"), &plan)
	said, _ := plan["refused"].(string)
	if !strings.Contains(said, "already turns 30.1°, past 29.4°") || strings.Contains(said, "at most") {
		t.Errorf("got %q", said)
	}
	if answer := say(t, 0, "grind", "../../fixtures/cyclekart.toml", "--lock", "32"); strings.Contains(answer, "/16)") {
		t.Errorf("depths in decimals are wanted:\n%s", answer)
	}
	decode(t, say(t, 1, "grind", "../../fixtures/cyclekart.toml", "--lock", "32", "--json", "--set", "part.stop lug.min_width=3"), &plan)
	if said, _ := plan["refused"].(string); !strings.Contains(said, "narrower than 3.000 in") || !strings.Contains(said, "a pad 0.500 in wide") {
		t.Errorf("want of width and a pad are wanted: %q", said)
	}
}
