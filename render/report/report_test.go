package report_test

import (
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/golang/geo/s1"

	"locksweep/fixtures"
	"locksweep/geometry/setup"
	"locksweep/geometry/setupfile"
	"locksweep/geometry/sweep"
	"locksweep/render/report"
)

func swept(t *testing.T, name string, set ...string) *sweep.Result {
	t.Helper()
	for _, e := range fixtures.Examples {
		if e.Name != name {
			continue
		}
		data, err := e.Data()
		if err != nil {
			t.Fatal(err)
		}
		s, _, err := setupfile.Read(name, data, setupfile.Options{Set: set})
		if err != nil {
			t.Fatal(err)
		}
		r, err := sweep.Run(s, 5*s1.Degree)
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	t.Fatalf("no example %s", name)
	return nil
}

// TestAnswerComesFirst: right below the title stand the warnings, where there are any, then the locks, and the report is 80
// columns wide.
func TestAnswerComesFirst(t *testing.T) {
	for _, e := range fixtures.Examples {
		r := swept(t, e.Name)
		rows := []report.Row{{Column: 0, Pose: &r.Straight}, {Column: 3}}
		lines := strings.Split(string(report.Sweep(r, report.Options{Rows: rows})), "\n")
		answer := 2
		if lines[2] == "" {
			if answer = 4 + slices.Index(lines[4:], "") + 1; !strings.HasSuffix(strings.TrimSuffix(lines[3], "s"), " warning") || !strings.HasPrefix(lines[4], "- ") {
				t.Errorf("%s: below the title stands %q", e.Name, lines[3:5])
			}
		}
		if !strings.HasPrefix(lines[answer], "Turned left ") {
			t.Errorf("%s: the answer begins with %q", e.Name, lines[answer])
		}
		for _, line := range lines {
			if utf8.RuneCountInString(line) > 80 {
				t.Errorf("%s: wider than 80 columns: %q", e.Name, line)
			}
		}
	}
}

// TestCautionEndsTheReport, whatever else it says.
func TestCautionEndsTheReport(t *testing.T) {
	text := string(report.Sweep(swept(t, "shed-kart"), report.Options{}))
	if i := strings.Index(text, "certifies nothing"); i < 0 || strings.Count(text[i:], "\n") > 4 {
		t.Errorf("no caution at the end: %s", text[max(len(text)-300, 0):])
	}
}

// TestRodsSayHowMuchToTurn: two threads of pitch p move a rod's end by 2p a turn of its sleeve. The left
// rod of the cyclekart is set 1/24 in (one pitch of 3/8-24) longer than its toe needs.
func TestRodsSayHowMuchToTurn(t *testing.T) {
	needs := swept(t, "cyclekart").Rods[setup.Left].Derived / setup.MMPerInch
	r := swept(t, "cyclekart", "tie_rod.rod_end.pitch=0.0416666667", "tie_rod.left="+strconv.FormatFloat(needs+1.0/24, 'g', -1, 64))
	text := strings.Join(strings.Fields(string(report.Sweep(r, report.Options{}))), " ")
	if want := "shorten it by 0.042 in"; !strings.Contains(text, want) {
		t.Errorf("does not say %q: %s", want, text)
	}
	if want := "0.50 turns of a sleeve with left- and right-hand ends, or 1.00 of one rod end"; !strings.Contains(text, want) {
		t.Errorf("does not say %q: %s", want, text)
	}
}
