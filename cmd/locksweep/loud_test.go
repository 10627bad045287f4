package main

import (
	"bytes"
	"cmp"
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"locksweep/fixtures"
	"locksweep/fixtures/example"
	"locksweep/fixtures/trial"
)

// provoked is a setup in which a finding is made: an example, or the starter, with settings and lines more.
type provoked struct {
	file string
	set  []string
	more string
}

// inLine is a linkage of equal arms, seen from above: rods and arms fall in line at once.
const inLine = `locksweep = 1
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
pickup = [-80, 0, 0]
[column]
foot = [0, 0, 130]
rake = 90
[drop_arm]
pin = [80, 0, 0]
`

// passing are two tubes that pass one another closely, however the column turns.
const passing = `
[[part]]
name = "sleeve"
on = "column"
tube = { diameter = 20, path = [[0, 0, 50], [0, 0, 150]] }
[[part]]
name = "stay"
on = "frame"
tube = { diameter = 20, path = [[-98.3, 20.4, 160.1], [-174.9, 20.4, 224.4]] }
`

// provokedBy is how each finding of the table in docs/safety.md is made.
var provokedBy = map[string]provoked{
	"touching":              {file: "shed-kart", set: []string{`part."column bush".tube.diameter=60`}},
	"broken-straight-ahead": {file: "shed-kart", set: []string{"tie_rod.rod_end.tilt=1"}},
	"steers-backwards":      {file: "field-buggy", set: []string{"drop_arm.left[0]=-85", "drop_arm.right[0]=-85"}},
	"wheels-opposed":        {file: "field-buggy", set: []string{"drop_arm.left[0]=-85"}},
	"dead-point-at-centre":  {file: "field-buggy", set: []string{"arm.pickup=[-36.9, -128.4, -8.3]"}},
	"change-point":          {more: inLine},
	"no-metal-stop":         {file: "starter"},
	"tyre-touches":          {file: "field-buggy", set: []string{"limits.spindle=60"}},
	"touches-first":         {file: "field-buggy", set: []string{"column.travel=40"}},
	"stop-margin":           {file: "starter", set: []string{"limits.spindle=48"}},
	"low-transmission":      {file: "starter", set: []string{"limits.spindle=45"}},
	"reversed-ackermann":    {file: "pedal-quad"},
	"narrow-stop":           {file: "shed-kart", set: []string{`part."stop lug".plate.outline=[[14, -12], [14, 14], [-8, 16], [-21.2, -8.4], [-57.2, -34.4], [-54.8, -37.6], [-18.8, -11.6], [-12, -12]]`}},
	"early-lock":            {file: "shed-kart", set: []string{`part."yoke web".plate.outline=[[-45, -62], [-45, -44], [18, -44], [18, -62]]`}},
	"low-clearance":         {file: "shed-kart", set: []string{"limits.clearance=20"}},
	"unsure":                {file: "starter", set: []string{"limits.spindle=40"}, more: "[accuracy]" + passing},
	"rod-length":            {file: "cyclekart"},
	"unequal-locks":         {file: "field-buggy", set: []string{"right.limits.spindle=30"}},
	"unchecked-pair": {file: "starter", more: `
[[part]]
name = "tray"
on = "frame"
tube = { diameter = 20, path = [[-90, -10, 90], [-90, 10, 90]] }
`},
}

// write puts the setup into a folder and returns the arguments that name it.
func (p provoked) write(t *testing.T, dir string) []string {
	t.Helper()
	var data []byte
	switch p.file {
	case "":
	case "starter":
		starter, err := fixtures.StarterFor("two-rods")
		if err != nil {
			t.Fatal(err)
		}
		data = starter
	default:
		data = example.Data(t, p.file)
	}
	path := filepath.Join(dir, "kart.toml")
	if err := os.WriteFile(path, append(data, p.more...), 0o644); err != nil {
		t.Fatal(err)
	}
	args := []string{path}
	for _, set := range p.set {
		args = append(args, "--set", set)
	}
	return args
}

// carriedOut carries out a command and returns its status, what it prints and what it says on the side.
func carriedOut(args ...string) (status int, out, side string) {
	var printed, told bytes.Buffer
	status = run(&shell{in: strings.NewReader(""), out: &printed, err: &told}, args)
	return status, printed.String(), told.String()
}

// oneLine is a text without line breaks, and without what stands before the lines of an alarm.
func oneLine(text string) string {
	return strings.Join(strings.Fields(strings.ReplaceAll(text, "!!! ", " ")), " ")
}

// TestWhatIsLoudWhere walks the table of docs/safety.md: every finding is provoked, and is said where the table has it
// and nowhere else.
func TestWhatIsLoudWhere(t *testing.T) {
	doc, err := os.ReadFile(filepath.Join("..", "..", "docs", "safety.md"))
	if err != nil {
		t.Fatal(err)
	}
	_, table, _ := strings.Cut(string(doc), "## What is loud where")
	table, _, _ = strings.Cut(table, "\n## ")
	rows := 0
	for line := range strings.Lines(table) {
		cells := strings.Split(strings.Trim(strings.TrimSpace(line), "|"), "|")
		if len(cells) != 7 || !strings.Contains(cells[0], "`") {
			continue
		}
		rows++
		code := strings.Trim(strings.TrimSpace(cells[0]), "`")
		p, known := provokedBy[code]
		if !known {
			t.Errorf("%s stands in the table, but nothing provokes it", code)
			continue
		}
		t.Run(code, func(t *testing.T) { walkLoud(t, code, p, cells) })
	}
	if rows != len(provokedBy) {
		t.Errorf("%d rows, %d findings", rows, len(provokedBy))
	}
}

func walkLoud(t *testing.T, code string, p provoked, cells []string) {
	dir := t.TempDir()
	file := p.write(t, dir)
	with := func(command string, more ...string) []string {
		return append(append([]string{command}, file...), more...)
	}
	status, out, _ := carriedOut(with("sweep", "--json", "--at", "0")...)
	var r struct {
		Warnings []struct{ Code, Text string }
	}
	if err := json.Unmarshal([]byte(out), &r); status != statusDone || err != nil {
		t.Fatalf("sweep --json: status %d, %v", status, err)
	}
	text := ""
	for _, w := range r.Warnings {
		if w.Code == code {
			text = w.Text
		}
	}
	if text == "" {
		t.Fatalf("not provoked; warnings %+v", r.Warnings)
	}
	head, _, _ := strings.Cut(text, ": ")
	head, _, _ = strings.Cut(head, " turning ") // both ways are said in one
	shout := "!!! " + strings.ToUpper(head)
	check := func(where, cell, got string) {
		t.Helper()
		loud := strings.Contains(got, shout) || strings.Contains(got, ", "+strings.ToUpper(head)) && strings.Contains(got, "!!!")
		noted := strings.Contains(got, ">! not sure: ")
		switch want := strings.TrimSpace(cell); {
		case want == "loud" && !loud:
			t.Errorf("%s: not loud: %s", where, shout)
		case want != "loud" && loud:
			t.Errorf("%s: loud, the table says %s", where, want)
		case want == "listed" && !strings.Contains(oneLine(got), text):
			t.Errorf("%s: not listed: %s", where, text)
		case (want == "one line") != noted:
			t.Errorf("%s: in a line: %v, the table says %s", where, noted, want)
		}
	}
	for at, command := range []string{"sweep", "check"} {
		status, out, _ := carriedOut(with(command)...)
		if status != statusDone {
			t.Fatalf("%s: status %d", command, status)
		}
		check(command, cells[1+at], out)
	}
	for i, kind := range [][]string{{}, {"--chart=angles"}, {"--measuring"}} {
		if i > 0 && strings.TrimSpace(cells[3]) == "no" && !trial.Long() {
			continue
		}
		status, out, side := carriedOut(with("draw", append(kind, "-o", "-")...)...)
		if status != statusDone {
			t.Fatalf("draw %v: status %d: %s", kind, status, side)
		}
		check("draw "+strings.Join(kind, " "), cells[3], out)
	}
	paths := map[string]string{"--overlay": filepath.Join(dir, "overlay.svg"), "--charts": filepath.Join(dir, "charts.svg")}
	if status, _, side := carriedOut(with("compare", "--overlay", paths["--overlay"], "--charts", paths["--charts"])...); status != statusDone {
		t.Fatalf("compare: status %d: %s", status, side)
	}
	for option, path := range paths {
		drawn, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if loud := strings.Contains(string(drawn), ": "+strings.ToUpper(head)) && strings.Contains(string(drawn), "!!! "); loud != (strings.TrimSpace(cells[3]) == "loud") {
			t.Errorf("compare %s: loud: %v, the table says %s", option, loud, cells[3])
		}
	}
	if strings.TrimSpace(cells[5]) != "yes" {
		t.Errorf("JSON has it, the table says %s", cells[5])
	}
	_, _, side := carriedOut(with("sweep", "--csv", "--at", "0")...)
	check("beside CSV", cells[6], side)
	templateLoud(t, code, p, dir, check, cells[4])
}

// onPaper is how a template is asked for that a finding stands on: of a setup in which another place mends it, or without it.
type onPaper struct {
	of   *provoked // nil: that of provokedBy
	args string    // instead of --step 12
	none string    // there is no template, and this is why
}

var onPapers = map[string]onPaper{
	"touching":              {none: "in touch straight ahead"},
	"broken-straight-ahead": {of: &provoked{file: "starter", set: []string{"arm.pickup=[-95, -30, 30]", "limits.spindle=20", "tie_rod.rod_end.tilt=5"}}, args: "--step 12 --reach 60"},
	"steers-backwards":      {of: &backwards, args: "--on drop-arm --lock 15 --step 12"},
	"wheels-opposed":        {of: &provoked{file: "starter", set: []string{"drop_arm.left=[-30, 20, 0]", "limits.spindle=35"}}, args: "--on drop-arm --each --step 30 --reach 60"},
	"dead-point-at-centre":  {of: &provoked{more: inLine, set: []string{"arm.pickup=[-16, -60, 0]", "limits.spindle=30"}}, args: "--step 12 --reach 90"},
	"change-point":          {none: "at no place does a metal stop hold the wheels"},
	"no-metal-stop":         {of: &provoked{file: "starter", set: []string{"limits.spindle=50"}}},
	"tyre-touches":          {args: "--step 12 --lock 30"},
	"narrow-stop":           {none: "at no place does a metal stop hold the wheels"},
	"early-lock":            {none: "no room for another hole"},
	"low-clearance":         {of: &provoked{file: "starter", set: []string{"limits.spindle=40"}, more: passing}},
	"rod-length":            {args: "--step 0.5 --edge 1.4 --new-arm"},
	"unchecked-pair":        {none: "in touch straight ahead"},
}

// templateLoud looks whether a template says it, and that where there is none that is for the reason that is known.
func templateLoud(t *testing.T, code string, p provoked, dir string, check func(where, cell, got string), cell string) {
	paper, path := onPapers[code], filepath.Join(dir, "hole.svg")
	if paper.of != nil {
		p = *paper.of
	}
	file := p.write(t, dir)
	if _, out, _ := carriedOut(append(append([]string{"sweep"}, file...), "--json", "--at", "0")...); !slices.Contains(codesOf(t, out), code) {
		t.Fatalf("template: not provoked: %v", codesOf(t, out))
	}
	args := append(append([]string{"drill"}, file...), "--best", "1", "--slip", "0", "--template", path)
	_, _, side := carriedOut(append(args, strings.Fields(cmp.Or(paper.args, "--step 12"))...)...)
	sheet, err := os.ReadFile(path)
	switch {
	case paper.none != "" && (err == nil || !strings.Contains(side, paper.none)):
		t.Errorf("template: written %v, want none since %s: %s", err == nil, paper.none, side)
	case paper.none == "" && err != nil:
		t.Errorf("template: none: %s", side)
	case err == nil:
		check("template", cell, string(sheet))
	}
	if refused := strings.TrimSpace(cell) == "refused"; refused && paper.none == "" {
		t.Error("template: the table says refused, and there is one")
	}
}
