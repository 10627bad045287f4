package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"locksweep/fixtures"
	"locksweep/fixtures/example"
)

// said runs a command line in this process, with the setup on standard input.
func said(t *testing.T, setup []byte, args ...string) string {
	t.Helper()
	var out, err bytes.Buffer
	sh := &shell{in: bytes.NewReader(setup), out: &out, err: &err}
	if code := run(sh, args); code != statusDone {
		t.Fatalf("locksweep %q: exit status %d: %s", args, code, err.String())
	}
	return out.String()
}

// tree is a JSON value read without our own types.
func tree(t *testing.T, text string) map[string]any {
	t.Helper()
	var v map[string]any
	if err := json.Unmarshal([]byte(text), &v); err != nil {
		t.Fatalf("no JSON: %v\n%s", err, text)
	}
	return v
}

// at walks down keys and indices.
func at(t *testing.T, v any, path ...any) any {
	t.Helper()
	for i, step := range path {
		switch step := step.(type) {
		case string:
			m, ok := v.(map[string]any)
			if !ok {
				t.Fatalf("%v: no object", path[:i])
			}
			if v, ok = m[step]; !ok {
				t.Fatalf("%v: not there", path[:i+1])
			}
		case int:
			v = v.([]any)[step]
		}
	}
	return v
}

// TestJSONHasEveryKeyOfTheContract holds the output against the object that other programs rely on.
func TestJSONHasEveryKeyOfTheContract(t *testing.T) {
	v := tree(t, said(t, example.Data(t, "shed-kart"), "sweep", "-", "--json"))
	for key, want := range map[string]any{"format": "locksweep.sweep/1", "setup": "Shed kart, shortened donor", "length_unit": "mm", "angle_unit": "deg"} {
		if got := at(t, v, key); got != want {
			t.Errorf("%s is %v, want %v", key, got, want)
		}
	}
	for _, side := range []string{"left", "right"} {
		at(t, v, "tie_rods", side)
		for _, path := range [][]any{{"spindle"}, {"steer"}, {"camber"}, {"contact", 2}, {"transmission", "arm"}, {"transmission", "drop_arm"}, {"rod_tilt", "arm"}, {"rod_tilt", "drop_arm"}} {
			at(t, v, append([]any{"poses", 0, side}, path...)...)
		}
		for _, path := range [][]any{{"column"}, {"left", "spindle"}, {"left", "steer"}, {"right", "spindle"}, {"right", "steer"}, {"limit", "kind"}, {"limit", "parts", 1}, {"limit", "side"}} {
			at(t, v, append([]any{"locks", side}, path...)...)
		}
	}
	for _, key := range []string{"column", "inner", "outer", "ideal_inner", "ackermann_error", "ackermann_percent", "toe_out_on_turns", "turn_centre", "axle_cross"} {
		at(t, v, "poses", 0, key)
	}
	at(t, tree(t, said(t, example.Data(t, "pedal-quad"), "sweep", "-", "--json")), "warnings", 0, "code")
}

// TestMeaninglessIsNull: straight ahead there is no inner wheel, and without limits there is no limit.
func TestMeaninglessIsNull(t *testing.T) {
	v := tree(t, said(t, example.Data(t, "shed-kart"), "sweep", "-", "--json", "--at", "0"))
	for _, key := range []string{"inner", "outer", "ideal_inner", "ackermann_error", "ackermann_percent", "toe_out_on_turns", "turn_centre", "axle_cross"} {
		if got := at(t, v, "poses", 0, key); got != nil {
			t.Errorf("%s straight ahead is %v, want null", key, got)
		}
	}
	if text := said(t, example.Data(t, "shed-kart"), "sweep", "-", "--json"); strings.Contains(text, "NaN") || strings.Contains(text, "Inf") {
		t.Error("the JSON holds what is no number")
	}
}

// TestReportPrintsTheFiguresOfTheJSON compares the digits of the report's table and answer with the JSON.
func TestReportPrintsTheFiguresOfTheJSON(t *testing.T) {
	for _, e := range fixtures.Examples {
		t.Run(e.Name, func(t *testing.T) {
			data := example.Data(t, e.Name)
			v := tree(t, said(t, data, "sweep", "-", "--json"))
			text := said(t, data, "sweep", "-")
			poses := at(t, v, "poses").([]any)
			rows := regexp.MustCompile(`(?m)^ *-?\d+\.\d( +(-|[-+]?\d+(\.\d+)?)){9}$`).FindAllString(text, -1)
			if len(rows) != len(poses) {
				t.Fatalf("the table has %d rows, the JSON %d poses", len(rows), len(poses))
			}
			for i, row := range rows {
				comparePose(t, strings.Fields(row), poses[i])
			}
			for _, d := range []string{"left", "right"} {
				for _, side := range []string{"left", "right"} {
					steer := math.Abs(at(t, v, "locks", d, side, "steer").(float64))
					want := fmt.Sprintf("(%s) wheel %.1f°", side, steer)
					if line := lineOf(text, "Turned "+d); !strings.Contains(line, want) {
						t.Errorf("%q does not say %q", line, want)
					}
				}
			}
		})
	}
}

// comparePose holds a row of the table against a pose of the JSON.
func comparePose(t *testing.T, cells []string, pose any) {
	t.Helper()
	least := func(side string) float64 {
		for _, rod := range at(t, pose, "rods").([]any) {
			if at(t, rod, "to", "on") == side+" arm" {
				return math.Min(at(t, rod, "from", "transmission").(float64), at(t, rod, "to", "transmission").(float64))
			}
		}
		return math.NaN()
	}
	percent := at(t, pose, "ackermann_percent")
	// Printed from 10 degrees of mean steer on; static toe makes a hair of difference to the mean.
	if mean := math.Abs(at(t, pose, "left", "steer").(float64)+at(t, pose, "right", "steer").(float64)) / 2; mean < 10 {
		percent = nil
	}
	for i, want := range []any{
		at(t, pose, "column"), at(t, pose, "left", "steer"), at(t, pose, "right", "steer"), at(t, pose, "ideal_inner"),
		at(t, pose, "ackermann_error"), percent, least("left"), least("right"),
		at(t, pose, "left", "ratio"), at(t, pose, "right", "ratio"),
	} {
		if want == nil {
			if cells[i] != "-" {
				t.Errorf("cell %d of %v: want - for null", i, cells)
			}
			continue
		}
		if percent, isNumber := want.(float64); i == 5 && isNumber && math.Abs(percent) >= 1000 && cells[i] == "-" {
			continue // no figure, where ideal geometry hardly differs from parallel
		}
		got, err := strconv.ParseFloat(cells[i], 64)
		_, decimals, _ := strings.Cut(cells[i], ".")
		if half := 0.5 * math.Pow(10, -float64(len(decimals))); err != nil || math.Abs(got-want.(float64)) > half*(1+1e-9) {
			t.Errorf("cell %d of %v: the JSON has %v", i, cells, want)
		}
	}
}

// lineOf returns the line that begins with the prefix.
func lineOf(text, prefix string) string {
	for _, line := range strings.Split(text, "\n") {
		if strings.HasPrefix(line, prefix) {
			return line
		}
	}
	return ""
}

// TestCSVHoldsTheFiguresOfTheJSON compares every row's steer angles, bit for bit.
func TestCSVHoldsTheFiguresOfTheJSON(t *testing.T) {
	data := example.Data(t, "cyclekart")
	poses := at(t, tree(t, said(t, data, "sweep", "-", "--json")), "poses").([]any)
	rows, err := csv.NewReader(strings.NewReader(said(t, data, "sweep", "-", "--csv"))).ReadAll()
	if err != nil || len(rows) != len(poses)+1 {
		t.Fatalf("%d rows for %d poses: %v", len(rows), len(poses), err)
	}
	column := map[string]int{}
	for i, name := range rows[0] {
		column[name] = i
	}
	for i, pose := range poses {
		for name, want := range map[string]any{
			"left steer (deg)": at(t, pose, "left", "steer"), "right contact y (in)": at(t, pose, "right", "contact", 1),
			"Ackermann error (deg)": at(t, pose, "ackermann_error"),
		} {
			cell := rows[i+1][column[name]]
			if want == nil && cell == "" {
				continue
			}
			if got, err := strconv.ParseFloat(cell, 64); err != nil || want == nil || got != want.(float64) {
				t.Errorf("row %d, %s: %q, the JSON has %v", i+1, name, cell, want)
			}
		}
	}
}

// TestInchesAndMillimetresAgree writes the same kart in both units.
func TestInchesAndMillimetresAgree(t *testing.T) {
	kart := func(unit string, k float64) []byte {
		return fmt.Appendf(nil, `locksweep = 1
units = %q
vehicle = { wheelbase = %v, rear_track = %v }
kingpin = { spacing = %v, height = %v, inclination = 10, caster = 8 }
wheel = { offset = %v, tyre_diameter = %v, tyre_width = %v }
arm = { pickup = [%v, %v, %v] }
column = { foot = [%v, 0, %v], rake = 40 }
drop_arm = { left = [%v, %v, 0], right = [%v, %v, 0] }
`, unit, 1000/k, 1050/k, 600/k, 130/k, 120/k, 260/k, 120/k, -95/k, -20/k, -10/k, -70/k, 128/k, 58/k, 15/k, 58/k, -15/k)
	}
	mm := tree(t, said(t, kart("mm", 1), "sweep", "-", "--json", "--at", "-20,25"))
	in := tree(t, said(t, kart("in", 25.4), "sweep", "-", "--json", "--at", "-20,25"))
	for _, path := range [][]any{
		{"tie_rods", "left"}, {"poses", 1, "left", "contact", 1}, {"poses", 0, "turn_centre", 1}, {"locks", "left", "turning_circle"},
		{"scrub_radius", "left"}, {"trail", "right"}, {"width"}, {"locks", "right", "rise", "left"},
	} {
		a, b := at(t, mm, path...).(float64), at(t, in, path...).(float64)
		if math.Abs(a-b*25.4) > 1e-9*math.Abs(a) {
			t.Errorf("%v: %v mm, but %v in", path, a, b)
		}
	}
	for _, path := range [][]any{{"poses", 1, "left", "steer"}, {"poses", 0, "ackermann_error"}, {"locks", "left", "column"}} {
		a, b := at(t, mm, path...).(float64), at(t, in, path...).(float64)
		if math.Abs(a-b) > 1e-9 {
			t.Errorf("%v: %v in the file in mm, %v in the file in inches", path, a, b)
		}
	}
}

// TestClosedPipeEndsQuietly writes to a pipe that nobody reads.
func TestClosedPipeEndsQuietly(t *testing.T) {
	r, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	defer w.Close()
	r.Close()
	var errs bytes.Buffer
	sh := &shell{in: bytes.NewReader(example.Data(t, "shed-kart")), out: w, err: &errs}
	if code := run(sh, []string{"sweep", "-"}); code != statusDone || errs.Len() > 0 {
		t.Errorf("exit status %d, said %q; want 0 and nothing", code, errs.String())
	}
}

// TestColourOnlyRepeats: without its colours the coloured report is the plain one.
func TestColourOnlyRepeats(t *testing.T) {
	data := example.Data(t, "pedal-quad")
	var out bytes.Buffer
	sh := &shell{in: bytes.NewReader(data), out: &out, err: &bytes.Buffer{}, colour: true}
	run(sh, []string{"sweep", "-"})
	if !strings.Contains(out.String(), "\x1b[") {
		t.Error("no colour on a terminal")
	}
	if plain := regexp.MustCompile("\x1b\\[[0-9;]*m").ReplaceAllString(out.String(), ""); plain != said(t, data, "sweep", "-") {
		t.Error("the coloured report says something else than the plain one")
	}
}

// TestDrawingIsNotPouredOnATerminal asks for a file name instead, unless told to.
func TestDrawingIsNotPouredOnATerminal(t *testing.T) {
	data := example.Data(t, "shed-kart")
	for _, c := range []struct {
		args []string
		want int
	}{{[]string{"draw", "-"}, statusUsage}, {[]string{"draw", "-", "-o", "-"}, statusDone}} {
		var out, err bytes.Buffer
		sh := &shell{in: bytes.NewReader(data), out: &out, err: &err, terminal: true}
		if got := run(sh, c.args); got != c.want || (out.Len() > 0) != (c.want == statusDone) {
			t.Errorf("%v on a terminal: exit status %d and %d bytes, want %d", c.args, got, out.Len(), c.want)
		}
	}
}
