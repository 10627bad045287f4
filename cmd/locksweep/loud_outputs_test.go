package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/spf13/pflag"

	"locksweep/geometry/sweep"
)

// unstopped has no metal stop, and what every command asks for; backwards steers the wrong way, and can be drilled and ground all the same.
var (
	unstopped = provoked{file: "starter", set: []string{"limits.spindle=180"}, more: `
[load]
front = 90
[[taped]]
from = "left pickup"
to = "right pickup"
distance = 832
`}
	backwards = provoked{file: "shed-kart", set: []string{"drop_arm.left=[-64, 12, 8]", "drop_arm.right=[-64, -12, 8]", "drop_arm.holes=[]",
		"drop_arm.outline=[[-90, -30], [90, -30], [90, 30], [-90, 30]]", `ignore=[["tie rod", "column tube"]]`, "limits.transmission=1"}}
)

// everyOutput is each command with each output that it has, behind the setup file; @ names a file in the test's folder.
var everyOutput = []struct {
	of   *provoked
	code sweep.Code
	args string
}{
	{&unstopped, sweep.NoMetalStop, "check"},
	{&unstopped, sweep.NoMetalStop, "sweep"},
	{&unstopped, sweep.NoMetalStop, "sweep --json --at 0"},
	{&unstopped, sweep.NoMetalStop, "sweep --csv --at 0"},
	{&unstopped, sweep.NoMetalStop, "sweep -o @sweep.txt"},
	{&unstopped, sweep.NoMetalStop, "report -o @page.html"},
	{&unstopped, sweep.NoMetalStop, "draw -o @draw.svg"},
	{&unstopped, sweep.NoMetalStop, "draw --embed -o -"},
	{&unstopped, sweep.NoMetalStop, "draw --pose 10 -o -"},
	{&unstopped, sweep.NoMetalStop, "draw --animate -o -"},
	{&unstopped, sweep.NoMetalStop, "draw --measuring -o @measuring.svg"},
	{&unstopped, sweep.NoMetalStop, "draw --chart angles -o -"},
	{&unstopped, sweep.NoMetalStop, "draw --chart error -o -"},
	{&unstopped, sweep.NoMetalStop, "drill --reach 3 --step 3 --slip 0 --best 1 --map @holes.svg -o @drill.txt"},
	{&unstopped, sweep.NoMetalStop, "drill --reach 3 --step 3 --slip 0 --best 1 --json"},
	{&backwards, sweep.SteersBackwards, "drill --on drop-arm --lock 15 --step 12 --slip 0 --best 1 --template @hole.svg"},
	{&backwards, sweep.SteersBackwards, "grind --lock 30.6 --view @view.svg --template @ground.svg --curve @curve.svg -o @grind.txt"},
	{&backwards, sweep.SteersBackwards, "grind --lock 30.6 --json"},
	{&unstopped, sweep.NoMetalStop, "compare --overlay @overlay.svg --charts @charts.svg --slide @slide.svg --slide-angle 10 -o @compare.txt"},
	{&unstopped, sweep.NoMetalStop, "compare --json"},
	{&unstopped, sweep.NoMetalStop, "compare --csv"},
	{&unstopped, sweep.NoMetalStop, "compare --vary column.rake=25..35/3 --plot @plot.svg"},
	{&unstopped, sweep.NoMetalStop, "compare --vary column.rake=25..35/3 --json"},
	{&unstopped, sweep.NoMetalStop, "compare --vary column.rake=25..35/3 --csv"},
	{&unstopped, sweep.NoMetalStop, "compare --vary column.rake=25..35 --until ratio_centre=0.7"},
	{&unstopped, sweep.NoMetalStop, "tolerance --draws 100 -o @sure.svg --top @top.svg"},
	{&unstopped, sweep.NoMetalStop, "tolerance --draws 100 --json"},
	{&unstopped, sweep.NoMetalStop, "rods"},
	{&unstopped, sweep.NoMetalStop, "rods --json"},
	{&unstopped, sweep.NoMetalStop, "rods -o @rods.svg"},
	{&unstopped, sweep.NoMetalStop, "loads"},
	{&unstopped, sweep.NoMetalStop, "loads --json"},
	{&unstopped, sweep.NoMetalStop, "loads -o @loads.txt"},
	{&unstopped, sweep.NoMetalStop, "card -o @card.svg"},
	{&unstopped, sweep.NoMetalStop, "reconcile"},
	{&unstopped, sweep.NoMetalStop, "reconcile --json"},
}

// firstLines is where an alarm has to stand in a report: the title takes two, and of a comparison no more.
const firstLines = 3

// An alarm stands in the first lines of every report, at the head of every drawing, template and page, among the warnings of every JSON, and on
// standard error beside CSV; no command and no output is left out here.
func TestAlarmStandsInEveryOutput(t *testing.T) {
	asked := map[string]bool{}
	for _, o := range everyOutput {
		name, rest, _ := strings.Cut(o.args, " ")
		for _, arg := range strings.Fields(rest) {
			if option, ok := strings.CutPrefix(arg, "-"); ok && option != "" {
				asked[name+" "+strings.TrimPrefix(option, "-")] = true
			}
		}
		asked[name] = true
		t.Run(o.args, func(t *testing.T) { outputAlarmed(t, o.of, o.code, name, strings.Fields(rest)) })
	}
	for _, c := range commands() {
		if slices.Contains([]string{"demo", "new", "watch", "completion", "help"}, c.name) { // of no setup, or as report
			continue
		}
		if !asked[c.name] {
			t.Errorf("%s is not asked", c.name)
		}
		flags, _ := c.flagSet()
		flags.VisitAll(func(f *pflag.Flag) {
			what, usage := pflag.UnquoteUsage(f)
			output := what == "FILE" && !strings.HasPrefix(usage, "write the setup file") || f.Name == "json" || f.Name == "csv"
			if output && !asked[c.name+" "+f.Name] && !asked[c.name+" "+f.Shorthand] {
				t.Errorf("%s --%s is not asked", c.name, f.Name)
			}
		})
	}
}

// outputAlarmed carries a command out and looks at all that it gives.
func outputAlarmed(t *testing.T, of *provoked, code sweep.Code, name string, rest []string) {
	dir := t.TempDir()
	args := append([]string{name}, of.write(t, dir)...)
	var paths []string
	for _, arg := range rest {
		if file, ok := strings.CutPrefix(arg, "@"); ok {
			arg = filepath.Join(dir, file)
			paths = append(paths, arg)
		}
		args = append(args, arg)
	}
	_, out, side := carriedOut(args...)
	head := map[sweep.Code]string{sweep.NoMetalStop: "NO METAL STOP", sweep.SteersBackwards: "STEERS BACKWARDS"}[code]
	shouts := func(text string) bool { return strings.Contains(text, "!!! ") && strings.Contains(text, head) }
	early := func(where, text string) {
		lines := strings.SplitN(text, "\n", firstLines+2)
		if !shouts(strings.Join(lines[:min(len(lines), firstLines+1)], "\n")) {
			t.Errorf("%s: not in its first lines:\n%.600s", where, text)
		}
	}
	switch {
	case slices.Contains(rest, "--json"):
		if !slices.Contains(codesOf(t, out), string(code)) {
			t.Errorf("%s is not among the warnings", code)
		}
	case slices.Contains(rest, "--csv"):
		if !shouts(side) {
			t.Errorf("standard error does not say it: %q", side)
		}
	case strings.HasPrefix(out, "<svg"), strings.Contains(out, "<svg "):
		if !shouts(out) {
			t.Error("the drawing does not say it")
		}
	case out != "":
		early("report", out)
	case len(paths) == 0:
		t.Fatalf("nothing comes: %s", side)
	}
	for _, path := range paths {
		made, err := os.ReadFile(path)
		switch text := string(made); {
		case err != nil:
			t.Errorf("%v: %s", err, side)
		case strings.HasSuffix(path, ".txt"):
			early(path, text)
		case strings.HasSuffix(path, ".html"): // reports within the page have it too, further down
			_, alarms, _ := strings.Cut(text, `<section class="alarms"`)
			if alarms, _, _ = strings.Cut(alarms, "</section>"); !strings.Contains(alarms, head) {
				t.Errorf("%s does not say it at its head", path)
			}
		case !shouts(text):
			t.Errorf("%s does not say it", path)
		}
		further, _ := filepath.Glob(strings.TrimSuffix(path, ".svg") + "-[0-9].svg")
		for _, path := range further {
			if made, err := os.ReadFile(path); err != nil || !shouts(string(made)) {
				t.Errorf("%s does not say it: %v", path, err)
			}
		}
	}
}

// What is not sure stands in a line at the head of every sheet of one setup, and among the warnings of every JSON about one.
func TestUnsureStandsOnEverySheet(t *testing.T) {
	cut := provoked{file: "shed-kart", set: []string{"accuracy.outline=8"}}
	for _, o := range []struct {
		of   provoked
		args string
	}{
		{provokedBy["unsure"], "draw --pose 10 -o @a.svg"},
		{provokedBy["unsure"], "draw --animate -o @a.svg"},
		{provokedBy["unsure"], "draw --measuring -o @a.svg"},
		{provokedBy["unsure"], "draw --chart error -o @a.svg"},
		{provokedBy["unsure"], "card -o @a.svg"},
		{provokedBy["unsure"], "rods -o @a.svg"},
		{provokedBy["unsure"], "tolerance --draws 100 -o @a.svg --top @b.svg"},
		{cut, "grind --lock 33 --view @a.svg --template @b.svg --curve @c.svg"},
		{provokedBy["unsure"], "rods --json"},
		{provokedBy["unsure"], "tolerance --draws 100 --json"},
		{cut, "grind --lock 33 --json"},
	} {
		t.Run(o.args, func(t *testing.T) {
			dir := t.TempDir()
			name, rest, _ := strings.Cut(o.args, " ")
			args := append([]string{name}, o.of.write(t, dir)...)
			for _, arg := range strings.Fields(rest) {
				args = append(args, strings.Replace(arg, "@", dir+string(filepath.Separator), 1))
			}
			_, out, side := carriedOut(args...)
			if strings.HasSuffix(o.args, "--json") && !slices.Contains(codesOf(t, out), "unsure") {
				t.Errorf("unsure is not among the warnings: %s", side)
			}
			sheets, _ := filepath.Glob(filepath.Join(dir, "*.svg"))
			if len(sheets) < strings.Count(o.args, "@") {
				t.Fatalf("only %q come: %s", sheets, side)
			}
			for _, path := range sheets {
				if made, err := os.ReadFile(path); err != nil || !strings.Contains(string(made), ">! not sure: ") {
					t.Errorf("%s does not say it: %v", path, err)
				}
			}
		})
	}
}

// codesOf are the codes of all warnings of an answer.
func codesOf(t *testing.T, answer string) (codes []string) {
	type warned struct{ Warnings []struct{ Code string } }
	var a struct {
		warned
		Setups []warned
	}
	if err := json.Unmarshal([]byte(answer), &a); err != nil {
		t.Fatal(err)
	}
	for _, one := range append(a.Setups, a.warned) {
		for _, w := range one.Warnings {
			codes = append(codes, w.Code)
		}
	}
	return codes
}
