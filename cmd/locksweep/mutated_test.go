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
	"locksweep/fixtures/example"
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

// mutatedCommands are the commands that mutated files go through: each that reads a setup, with all that it draws and writes. Where it
// stands in %s, a file of the test's folder is meant.
var mutatedCommands = strings.Split(`check
sweep
sweep --json
sweep --csv
sweep --json --at -200,-30,0,30 --radius 5000 --front-slip 3
rods
rods --json -o %s/rods.svg
loads --set load.front=80 --json
compare --json
compare --overlay %s/overlay.svg --charts %s/charts.svg --slide %s/slide.svg
compare --vary kingpin.caster=0..9/2 --json
compare --vary kingpin.caster=0..9/3 --plot %s/plot.svg --csv
compare --vary wheel.toe=0..3/2 --vary kingpin.caster=0..9/2 --plot %s/map.svg
compare --vary kingpin.caster=0..9 --until lock_inner=30
draw -o %s/kart.svg
draw --pose 12 --paper letter -o -
draw --animate -o -
draw --measuring -o %s/measuring.svg
draw --chart angles -o -
draw --chart error -o -
grind --lock 32 --json
grind --as-far-as-possible
grind --lock 32 --template %s/glue.svg --view %s/view.svg --curve %s/curve.svg
grind --column 40 --clear --pad 10x5 --save %s/ground.toml --force
reconcile --json
reconcile -o %s/reconciled.toml --force
card -o -
drill --json --step 25 --slip 0 --best 1 --reach 6
drill --step 25 --slip 0 --best 1 --reach 6 --edge 1.2 --new-arm --template %s/arm.svg --map %s/arm-map.svg
drill --step 25 --slip 0 --best 1 --reach 6 --grind --lock 32 --template %s/both.svg --json
drill --on drop-arm --step 25 --slip 0 --best 1 --reach 6 --save %s/drilled.toml --force
tolerance --draws 100 --json
tolerance --draws 100 -o %s/sure.svg --top %s/top.svg
report -o -
report --grind 32 --card -o %s/kart.html`, "\n")

// TestMutatedFilesEndWell: whatever is wrong in a file, a command answers or refuses with one of the four statuses, within ten seconds of a
// processor's time, and what it answers, draws and writes holds no figure that could not be measured.
func TestMutatedFilesEndWell(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "kart.toml")
	statuses := map[int]int{}
	var longest time.Duration
	for n := range trial.Count(len(mutatedCommands), 3000) {
		r := rand.New(rand.NewPCG(uint64(n), 0xf11e+trial.Seed))
		e := fixtures.Examples[r.IntN(len(fixtures.Examples))]
		data := example.Data(t, e.Name)
		text := mutated(r, string(data))
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		args := strings.Fields(strings.ReplaceAll(mutatedCommands[n%len(mutatedCommands)], "%s", dir))
		began := processorTime()
		status, wrong := endsWell(append([]string{args[0], path}, args[1:]...))
		took := processorTime() - began
		longest = max(longest, took)
		switch {
		case wrong == "" && took > 10*time.Second:
			wrong = "took " + took.String()
		case wrong == "":
			wrong = soundFiles(dir)
		}
		if wrong != "" {
			t.Errorf("case %d of %s, %q: %s\n%s", n, e.Name, args, wrong, text)
		}
		statuses[status]++
	}
	t.Logf("statuses %v, the longest took %v", statuses, longest)
	if statuses[statusDone] == 0 || statuses[statusUsage] == 0 {
		t.Errorf("statuses %v: cases that show little", statuses)
	}
}

// soundFiles says what is wrong with the files that a command has written beside the setup, and takes them away.
func soundFiles(dir string) (wrong string) {
	written, err := os.ReadDir(dir)
	if err != nil {
		return err.Error()
	}
	for _, f := range written {
		path := filepath.Join(dir, f.Name())
		if f.Name() == "kart.toml" {
			continue
		}
		data, err := os.ReadFile(path)
		if err == nil {
			err = os.Remove(path)
		}
		switch {
		case err != nil:
			return err.Error()
		case noFigureIn(data) != nil && filepath.Ext(path) != ".toml": // which repeats what its hand wrote
			return fmt.Sprintf("%s holds %q", f.Name(), noFigureIn(data))
		}
	}
	return ""
}

// noFigure is how what is no number is printed; asWord where it stands by itself, as on a page, whose frames are packed into letters.
var (
	noFigure = regexp.MustCompile(`NaN|[+-]Inf\b`)
	asWord   = regexp.MustCompile(`[\s>":,(\[](NaN|[+-]?Inf)[\s<",)°\]]`)
)

// noFigureIn finds what is no number in what a command prints or writes; nil where there is none.
func noFigureIn(data []byte) []byte {
	if bytes.HasPrefix(data, []byte("<!DOCTYPE html>")) {
		return asWord.Find(data)
	}
	return noFigure.Find(data)
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
	case <-time.After(5 * time.Minute): // it may wait for a processor
		return 0, "no end in five minutes"
	}
	switch {
	case status < statusDone || status > statusFile:
		return status, fmt.Sprintf("status %d", status)
	case status != statusDone && side.Len() == 0:
		return status, fmt.Sprintf("status %d without a word", status)
	case noFigureIn(out.Bytes()) != nil:
		return status, fmt.Sprintf("%q in what it prints", noFigureIn(out.Bytes()))
	}
	if !bytes.HasPrefix(out.Bytes(), []byte("{")) {
		return status, ""
	}
	var v any
	if err := json.Unmarshal(out.Bytes(), &v); err != nil {
		return status, "no JSON: " + err.Error()
	}
	if at, far := beyond("", v); far {
		return status, "no figure to measure: " + at
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
