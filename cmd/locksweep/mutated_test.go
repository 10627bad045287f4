package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"runtime/debug"
	"strings"
	"testing"
	"time"

	"locksweep/fixtures"
	"locksweep/fixtures/trial"
)

var numberIn = regexp.MustCompile(`-?\b\d+(\.\d+)?\b`)

// mutated changes a setup file in a few places as a tired hand, or a hostile one, might: numbers out of scale, of the wrong sign,
// not numbers at all; lines left out, doubled, exchanged; words for figures and figures for words.
func mutated(r *rand.Rand, text string) string {
	lines := strings.Split(text, "\n")
	odd := []string{"0", "-0.0", "1e308", "-1e-308", "nan", "inf", "99999", "-1", "0.001", `"four"`, "[]", "{}", "true", "9007199254740993", "1e5"}
	for range 1 + r.IntN(3) {
		at := r.IntN(len(lines))
		switch r.IntN(24) {
		case 0:
			lines = append(lines[:at:at], lines[at+1:]...)
		case 1:
			lines = append(lines[:at+1:at+1], lines[at:]...)
		case 2:
			other := r.IntN(len(lines))
			lines[at], lines[other] = lines[other], lines[at]
		default: // a number, mostly: the structure stays
			for tries := 0; tries < 50 && !numberIn.MatchString(lines[at]); tries++ {
				at = r.IntN(len(lines))
			}
			spots := numberIn.FindAllStringIndex(lines[at], -1)
			if len(spots) == 0 {
				continue
			}
			spot := spots[r.IntN(len(spots))]
			was := lines[at][spot[0]:spot[1]]
			put := odd[r.IntN(len(odd))]
			if r.IntN(8) > 0 {
				var v float64
				fmt.Sscan(was, &v)
				v = []float64{-v, v * 10, v / 25.4, v + r.NormFloat64()*20, v + r.NormFloat64()*3, v * (1 + r.NormFloat64()/5), v * (1 + r.NormFloat64()/20)}[r.IntN(7)]
				put = fmt.Sprintf("%g", v)
			}
			lines[at] = lines[at][:spot[0]] + put + lines[at][spot[1]:]
		}
	}
	return strings.Join(lines, "\n")
}

// TestMutatedFilesEndWell: whatever is wrong in a file, a command answers or refuses with one of the four statuses, in bounded time, and
// what it answers holds no figure that could not be measured.
func TestMutatedFilesEndWell(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "kart.toml")
	list := [][]string{{"check"}, {"sweep", "--json"}, {"sweep"}, {"sweep", "--csv"}, {"rods"}, {"loads", "--set", "load.front=80", "--json"}, {"compare", "--json"},
		{"draw", "-o", "-"}, {"draw", "--measuring", "-o", "-"}, {"draw", "--chart", "error", "-o", "-"}, {"grind", "--lock", "32", "--json"}, {"grind", "--as-far-as-possible"},
		{"reconcile", "--json"}, {"card", "-o", "-"}, {"drill", "--json", "--step", "25", "--slip", "0", "--best", "1", "--reach", "6"},
		{"compare", "--vary", "kingpin.caster=0..9/2", "--json"}}
	statuses := map[int]int{}
	for n := range trial.Count(32, 3000) {
		r := rand.New(rand.NewPCG(uint64(n), 0xf11e+trial.Seed))
		e := fixtures.Examples[r.IntN(len(fixtures.Examples))]
		data, err := e.Data()
		if err != nil {
			t.Fatal(err)
		}
		text := mutated(r, string(data))
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		args := list[n%len(list)]
		args = append([]string{args[0], path}, args[1:]...)
		if status, wrong := endsWell(args); wrong != "" {
			t.Errorf("case %d of %s, %q: %s\n%s", n, e.Name, args[2:], wrong, text)
		} else {
			statuses[status]++
		}
	}
	t.Logf("statuses %v", statuses)
	if statuses[statusDone] == 0 || statuses[statusUsage] == 0 {
		t.Errorf("statuses %v: cases that show little", statuses)
	}
}

// endsWell carries out a command and says what is wrong with how it ended.
func endsWell(args []string) (status int, wrong string) {
	type ending struct {
		status int
		wrong  string
	}
	ended := make(chan ending, 1)
	var out, side bytes.Buffer
	go func() {
		defer func() {
			if p := recover(); p != nil {
				ended <- ending{wrong: fmt.Sprintf("panic: %v\n%s", p, debug.Stack())}
			}
		}()
		files.read, files.written = nil, nil
		ended <- ending{status: run(&shell{in: strings.NewReader(""), out: &out, err: &side}, args)}
	}()
	select {
	case e := <-ended:
		if status, wrong = e.status, e.wrong; wrong != "" {
			return status, wrong
		}
	case <-time.After(2 * time.Minute): // far more than any answer takes, on a busy machine too
		return 0, "no end in two minutes"
	}
	switch {
	case status < statusDone || status > statusFile:
		return status, fmt.Sprintf("status %d", status)
	case status != statusDone && side.Len() == 0:
		return status, fmt.Sprintf("status %d without a word", status)
	case status == statusDone && bytes.Contains(out.Bytes(), []byte("NaN")):
		return status, "NaN in what it prints"
	}
	var v any
	if json.Unmarshal(out.Bytes(), &v) == nil {
		if at, far := beyond("", v); far {
			return status, "no figure to measure: " + at
		}
	}
	return status, ""
}

// beyond finds a number in JSON that no vehicle has.
func beyond(at string, v any) (string, bool) {
	switch v := v.(type) {
	case float64:
		return fmt.Sprintf("%s = %g", at, v), math.Abs(v) > 1e7
	case []any:
		for i := range v {
			if where, far := beyond(fmt.Sprintf("%s[%d]", at, i), v[i]); far {
				return where, true
			}
		}
	case map[string]any:
		for key := range v {
			if where, far := beyond(at+"."+key, v[key]); far {
				return where, true
			}
		}
	}
	return "", false
}
