// Command faults sows mistakes into the code, one at a time, and tells which of them the tests find.
// The tree itself stays as it is: the changed file reaches the compiler by an overlay.
//
//	go run ./.ci/faults [-run REGEXP] [LIST…]    all lists, or those named (grind for .ci/faults/grind.txt)
//
// A list holds faults with an empty line between them:
//
//	# what is wrong then
//	file: geometry/sweep/limits.go
//	- the line as it stands (spaces at its ends do not count; it must stand once in the file)
//	+ the line that takes its place; none removes it
//	test: ./geometry/sweep ./cmd/locksweep
//
// Several lines with - stand one below the other in the file. Without test: the file's own package is tested.
// The status is 1 where fewer than nine in ten faults are found, 2 where a list is wrong or out of date.
package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

type fault struct {
	list, what, file string
	old, new         []string
	tests            []string
}

func main() {
	run := flag.String("run", "", "only the tests that match, as for go test")
	flag.Parse()
	faults, err := read(flag.Args())
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(2)
	}
	found, wrong := 0, false
	for _, f := range faults {
		verdict, err := f.sow(*run)
		if err != nil {
			verdict, wrong = err.Error(), true
		}
		if verdict == "found" {
			found++
		}
		fmt.Printf("%-8s %s: %s\n", verdict, f.list, f.what)
	}
	fmt.Printf("%d of %d faults found\n", found, len(faults))
	switch {
	case wrong:
		os.Exit(2)
	case 10*found < 9*len(faults):
		os.Exit(1)
	}
}

// read returns the faults of the lists named, or of all.
func read(names []string) (faults []fault, err error) {
	if len(names) == 0 {
		paths, _ := filepath.Glob(".ci/faults/*.txt")
		for _, p := range paths {
			names = append(names, strings.TrimSuffix(filepath.Base(p), ".txt"))
		}
	}
	for _, name := range names {
		text, err := os.ReadFile(filepath.Join(".ci/faults", name+".txt"))
		if err != nil {
			return nil, err
		}
		for block := range strings.SplitSeq(string(text), "\n\n") {
			if strings.TrimSpace(block) == "" {
				continue
			}
			f, err := parse(name, block)
			if err != nil {
				return nil, err
			}
			faults = append(faults, f)
		}
	}
	return faults, nil
}

func parse(list, block string) (f fault, err error) {
	f.list = list
	for line := range strings.SplitSeq(strings.Trim(block, "\n"), "\n") {
		mark, rest, _ := strings.Cut(line, " ")
		rest = strings.TrimSpace(rest)
		switch mark {
		case "#":
			f.what = strings.TrimSpace(f.what + " " + rest)
		case "file:":
			f.file = rest
		case "-":
			f.old = append(f.old, rest)
		case "+":
			f.new = append(f.new, rest)
		case "test:":
			f.tests = strings.Fields(rest)
		default:
			return f, fmt.Errorf("%s: not understood: %s", list, line)
		}
	}
	if f.what == "" || f.file == "" || len(f.old) == 0 {
		return f, fmt.Errorf("%s: a fault needs a line with #, file: and -, this one has not: %s", list, block)
	}
	if f.tests == nil {
		f.tests = []string{"./" + filepath.Dir(f.file)}
	}
	return f, nil
}

// changed returns the file with the fault in it.
func (f *fault) changed() ([]byte, error) {
	text, err := os.ReadFile(f.file)
	if err != nil {
		return nil, err
	}
	lines := strings.Split(string(text), "\n")
	at := -1
	for i := 0; i+len(f.old) <= len(lines); i++ {
		same := true
		for k, old := range f.old {
			same = same && strings.TrimSpace(lines[i+k]) == old
		}
		switch {
		case same && at >= 0:
			return nil, fmt.Errorf("stands twice in %s", f.file)
		case same:
			at = i
		}
	}
	if at < 0 {
		return nil, fmt.Errorf("does not stand in %s", f.file)
	}
	sown := append(append(append([]string{}, lines[:at]...), f.new...), lines[at+len(f.old):]...)
	return []byte(strings.Join(sown, "\n")), nil
}

// longest is the seconds of the processor that a package's tests may take before they count as stuck: not of the clock, by which a busy
// machine would find faults that no test finds.
const longest = "300"

// sow reports whether the tests find the fault: "found", "missed", or "useless" where it does not compile.
func (f *fault) sow(run string) (verdict string, err error) {
	text, err := f.changed()
	if err != nil {
		return "", err
	}
	dir, err := os.MkdirTemp("", "faults")
	if err != nil {
		return "", err
	}
	defer os.RemoveAll(dir)
	sown, overlay := filepath.Join(dir, "sown.go"), filepath.Join(dir, "overlay.json")
	place, err := filepath.Abs(f.file)
	if err != nil {
		return "", err
	}
	list, err := json.Marshal(map[string]map[string]string{"Replace": {place: sown}})
	if err := errors.Join(err, os.WriteFile(sown, text, 0o600), os.WriteFile(overlay, list, 0o600)); err != nil {
		return "", err
	}
	if out, err := exec.Command("go", "build", "-overlay", overlay, "./"+filepath.Dir(f.file)).CombinedOutput(); err != nil {
		return "useless", fmt.Errorf("does not compile: %s", bytes.TrimSpace(out))
	}
	args := []string{"-c", "ulimit -t " + longest + `; exec go "$@"`, "go", "test", "-vet=off", "-overlay", overlay, "-failfast", "-timeout", "0"}
	if run != "" {
		args = append(args, "-run", run)
	}
	err = exec.Command("sh", append(args, f.tests...)...).Run()
	if exit := (*exec.ExitError)(nil); errors.As(err, &exit) { // failing, or stuck until its time is up
		return "found", nil
	}
	return "missed", err
}
