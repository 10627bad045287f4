package wording_test

import (
	"math"
	"os/exec"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/golang/geo/s1"

	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/render/wording"
)

func TestLengths(t *testing.T) {
	for _, c := range []struct {
		unit setup.Unit
		mm   float64
		want string
	}{
		{setup.MM, 255.34, "255.3 mm"},
		{setup.MM, -0.04, "0.0 mm"},
		{setup.MM, -0.06, "-0.1 mm"},
		{setup.MM, math.NaN(), "- mm"},
		{setup.Inch, 254, "10.000 in"},
		{setup.Inch, -25.4 * 0.0004, "0.000 in"},
		{setup.Inch, 256.3, "10.091 in"},
	} {
		if got := wording.Length(c.unit, c.mm); got != c.want {
			t.Errorf("%v mm in %v: %q, want %q", c.mm, c.unit, got, c.want)
		}
	}
}

// TestSixteenths: eighths, quarters and halves are reduced, as on a tape.
func TestSixteenths(t *testing.T) {
	for inches, want := range map[float64]string{
		10.0625: "10 1/16", 10.09: "10 1/16", 10.1: "10 1/8", 0.5: "1/2", 0.75: "3/4", 3: "3", 2.97: "3", 0.01: "0", -1.25: "-1 1/4",
		14.125: "14 1/8", 13.9375: "13 15/16",
	} {
		if got := wording.Sixteenths(inches * 25.4); got != want {
			t.Errorf("%v in: %q, want %q", inches, got, want)
		}
	}
}

// TestDrills: a hole is told as its drill is sold.
func TestDrills(t *testing.T) {
	for _, c := range []struct {
		unit setup.Unit
		mm   float64
		want string
	}{
		{setup.MM, 8, "8.0 mm"}, {setup.MM, 6.35, "6.35 mm"}, {setup.MM, 8.25, "8.25 mm"}, {setup.MM, 7.9375, "7.94 mm"},
		{setup.Inch, 7.9375, "5/16 in"}, {setup.Inch, 9.525, "3/8 in"}, {setup.Inch, 7.54, "19/64 in"}, {setup.Inch, 25.4 * 1.25, "1 1/4 in"},
		{setup.Inch, 8, "0.315 in"}, {setup.Inch, 25.4 * 0.332, "0.332 in"}, {setup.Inch, 0, "0.000 in"},
	} {
		if got := wording.Drill(c.unit, c.mm); got != c.want {
			t.Errorf("%v mm in %v: %q, want %q", c.mm, c.unit, got, c.want)
		}
	}
}

func TestAngles(t *testing.T) {
	for _, c := range []struct {
		got, want string
	}{
		{wording.Angle(-0.02 * s1.Degree), "0.0°"},
		{wording.Angle(31.96 * s1.Degree), "32.0°"},
		{wording.Angle(s1.Angle(math.NaN())), "-"},
		{wording.Way(12 * s1.Degree), "12.0° left"},
		{wording.Way(-3.44 * s1.Degree), "3.4° right"},
		{wording.Way(-0.01 * s1.Degree), "0.0°"},
		{wording.Signed("3.2 mm"), "+3.2 mm"},
		{wording.Signed("-3.2 mm"), "-3.2 mm"},
		{wording.Signed("0.0 mm"), "0.0 mm"},
		{wording.Signed("0.0°"), "0.0°"},
		{wording.Signed("-"), "-"},
		{wording.Toe(0.26 * s1.Degree), "0.3° toe in"},
		{wording.Toe(-0.5 * s1.Degree), "0.5° toe out"},
		{wording.Toe(0.01 * s1.Degree), "0.0° toe"},
		{wording.Ratio(0.654), "0.65"},
		{wording.Ratio(1e15), "over 99"},
	} {
		if c.got != c.want {
			t.Errorf("%q, want %q", c.got, c.want)
		}
	}
}

// TestTurnsTellShortFromReversed: short of ideal is not reversed; that is only where the outer wheel
// turns further.
func TestTurnsTellShortFromReversed(t *testing.T) {
	got := wording.Turns([]sweep.TurnError{
		{Steer: 10 * s1.Degree, Ahead: -0.9 * s1.Degree, Error: -3.1 * s1.Degree, Percent: -45},
		{Steer: 20 * s1.Degree, Ahead: 2 * s1.Degree, Error: -1.24 * s1.Degree, Percent: 62.4},
		{Steer: 27.5 * s1.Degree, Ahead: 9 * s1.Degree, Error: 0.4 * s1.Degree, Percent: 104, AtLock: true},
		{Steer: 12 * s1.Degree, Ahead: -0.04 * s1.Degree, Error: -1.5 * s1.Degree, Percent: -3},
		{Steer: 9.9 * s1.Degree, Ahead: 0.3 * s1.Degree, Error: -0.6 * s1.Degree, Percent: 33, AtLock: true},
	})
	want := "reversed (outer wheel 0.9° further, 3.1° from ideal, -45%) at 10°, short by 1.2° (62%) at 20°, over by 0.4° (104%) at lock (27.5°), " +
		"about parallel (1.5° from ideal, -3%) at 12°, short by 0.6° at lock (9.9°)"
	if got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}

// TestPercentNearNought: the ideal turn-in is so small that the percentage tells nothing.
func TestPercentNearNought(t *testing.T) {
	for p, want := range map[float64]string{55.4: "55%", -45: "-45%", 999: "999%", 1000: "-", -12345: "-", 999.6: "-", math.NaN(): "-", math.Inf(-1): "-"} {
		if got := wording.Percent(p); got != want {
			t.Errorf("%g: got %s, want %s", p, got, want)
		}
	}
	got := wording.Turns([]sweep.TurnError{{Steer: 10 * s1.Degree, Ahead: 3.1 * s1.Degree, Error: 3 * s1.Degree, Percent: 4000}, {Steer: 20 * s1.Degree, Error: -2 * s1.Degree, Ahead: -1 * s1.Degree, Percent: -2000}})
	if want := "over by 3.0° at 10°, reversed (outer wheel 1.0° further, 2.0° from ideal) at 20°"; got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}

// TestSetArguments: what a shell makes of them is what --set takes.
func TestSetArguments(t *testing.T) {
	set := []string{"arm.pickup=[-96, -26, 0]", `part."it's a lug".plate.outline=[[1, 2], [3, 4], [5, 6], [7, 8]]`}
	lines := wording.SetArguments(set, 53)
	want := []string{`--set 'arm.pickup=[-96, -26, 0]' \`, `--set 'part."it'\''s a lug".plate.outline=[[1, 2],`, " [3, 4], [5, 6], [7, 8]]'"}
	if !slices.Equal(lines, want) {
		t.Errorf("got %q, want %q", lines, want)
	}
}

// TestLongWordsArePasted: names and paths longer than a line go on in the next, and a shell makes of them what they were; on one line too.
func TestLongWordsArePasted(t *testing.T) {
	sh, err := exec.LookPath("sh")
	if err != nil {
		t.Skip("no shell here that could read the command")
	}
	for _, name := range []string{"short", strings.Repeat("it's ", 30), strings.Repeat("ganz lang, ß ", 12), strings.Repeat("'", 90), strings.Repeat("k", 74), strings.Repeat("k", 75)} {
		want := []string{"sweep", name + ".toml", "--variant", name, "--set", `part."` + name + `".plate.outline=[[-52, -42], [1, 2], [3, 4], [5, 6], [7, 8], [9, 10], [11, 12]]`, "--set", "a=1"}
		lines := wording.Command("sweep", want[1], name, []string{want[5], want[7]}, 76)
		for _, typed := range []string{strings.Join(lines, "\n"), wording.OnOneLine(lines)} {
			got, err := exec.Command(sh, "-c", `locksweep() { printf '%s\0' "$@"; }; `+typed).Output()
			args := strings.Split(strings.TrimSuffix(strings.ReplaceAll(string(got), "\n", ""), "\x00"), "\x00")
			if err != nil || !slices.Equal(args, want) {
				t.Errorf("%v: got %q, want %q of %s", err, args, want, typed)
			}
		}
		for _, line := range lines {
			if n := utf8.RuneCountInString(line); n > 76 {
				t.Errorf("%d columns: %s", n, line)
			}
		}
	}
}

// TestForcesToTwoFigures: no more than they are good for, nothing of rounding, nothing without bound.
func TestForcesToTwoFigures(t *testing.T) {
	for v, want := range map[float64]string{1234: "1200 N", -87.6: "-88 N", 3.14: "3.1 N", 0.0456: "0.046 N", 1e-15: "0 N", -1e-15: "0 N", 0: "0 N",
		math.Inf(1): "-", math.NaN(): "-", 3e9: "-"} {
		if got := wording.Newtons(v); got != want {
			t.Errorf("%v: %q, want %q", v, got, want)
		}
	}
	if got := wording.NewtonMetres(-9340); got != "-9.3 N·m" {
		t.Errorf("moment %q", got)
	}
}

// TestCapitalOfAnyLetter: names of marks may begin with any letter.
func TestCapitalOfAnyLetter(t *testing.T) {
	for text, want := range map[string]string{"öse left": "Öse left", "left": "Left", "ñ": "Ñ", "2 mm": "2 mm", "": ""} {
		if got := wording.Capital(text); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}
