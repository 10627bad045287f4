package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"

	"locksweep/fixtures"
	"locksweep/fixtures/example"
	"locksweep/fixtures/trial"
)

// columnsWide is what every line of text has to stand in: the width of the oldest terminals, and of paper.
const columnsWide = 80

// longNamed gives everything that has a name in a setup one of eighty characters, wherever the file says it: every other one of words,
// the others in one piece.
func longNamed(data []byte) []byte {
	n, long := 0, map[string]string{}
	for _, m := range regexp.MustCompile(`name\s*=\s*("[^"]*")`).FindAllSubmatch(data, -1) {
		n++
		fill := [2]string{"very long name of a thing ", "unbroken"}[n%2]
		long[string(m[1])] = `"` + (fmt.Sprintf("no %d ", n) + strings.Repeat(fill, 12))[:80] + `"`
	}
	return regexp.MustCompile(`"[^"]*"`).ReplaceAllFunc(data, func(name []byte) []byte {
		if as, named := long[string(name)]; named {
			return []byte(as)
		}
		return name
	})
}

// asked are the command lines that answer in text, for a setup file.
func asked(path string, all bool) [][]string {
	list := [][]string{
		{"check", path}, {"sweep", path}, {"sweep", path, "--step", "4"}, {"sweep", path, "--at", "-10,0,10"},
		{"rods", path}, {"loads", path, "--set", "load.front=80"}, {"loads", path, "--set", "load={front=80,driver=70}"},
		{"compare", path}, {"compare", path, "--vary", "kingpin.caster=0..8/3"}, {"reconcile", path},
		{"grind", path, "--lock", "32"}, {"grind", path, "--lock", "80"},
		{"drill", path, "--step", "0.001"}, {"drill", path, "--lock", "60", "--reach", "0.1", "--step", "20", "--best", "1", "--slip", "0"},
		{"draw", path, "--pose", "900", "-o", os.DevNull}, {"draw", path, "--scale", "1:1", "-o", os.DevNull},
		{"sweep", path, "--set", "kingpin.spacing=-3"}, {"sweep", path, "--set", "arm.pikup=[1,2,3]"},
		{"sweep", path, "--variant", "the other variant that nobody ever wrote into this file"},
		{"sweep", path, "--set", "tie_rod.length=1"}, {"compare", path, "--vary", "no.such.key.in.this.file.of.yours=0..8/3"},
	}
	if all {
		list = append(list, [][]string{
			{"card", path, "-o", os.DevNull}, {"report", path, "--card", "-o", os.DevNull}, {"grind", path, "--as-far-as-possible"}, {"compare", path, path}, {"compare", path, "--vary", "kingpin.caster=0..8", "--until", "lock_inner=31"},
			{"tolerance", path, "--draws", "100"}, {"drill", path, "--step", "20", "--best", "2", "--slip", "0"},
			{"drill", path, "--step", "20", "--best", "1", "--slip", "0", "--new-arm", "--edge", "1.6", "--lock", "50"},
			{"reconcile", path, "--set", "turned=[{column=20, left=13.4, right=12}]"},
		}...)
	}
	return list
}

// TestEveryLineFits: no line of any command's text, of its refusals and warnings, is longer than the page: on every example, on a file
// in inches, and where every name is eighty characters long.
func TestEveryLineFits(t *testing.T) {
	dir := t.TempDir()
	for i, e := range fixtures.Examples {
		// As a rule one of each linkage and the one in inches, with long names; the scripts look at lines with those that they have.
		if !trial.Long() && (e.Name == "pedal-quad" || e.Name == "field-buggy") {
			continue
		}
		data := example.Data(t, e.Name)
		for _, form := range []struct {
			name string
			data []byte
		}{{"as it is", data}, {"long names", longNamed(data)}} {
			if form.name == "as it is" && !trial.Long() {
				continue
			}
			path := filepath.Join(dir, e.Name+".toml")
			if err := os.WriteFile(path, form.data, 0o644); err != nil {
				t.Fatal(err)
			}
			all := trial.Long() || i == 0 && form.name == "long names" // searches of all of them only under -long
			for _, args := range asked(path, all) {
				fits(t, form.name, args...)
			}
		}
	}
}

// TestHelpFits: the overview, every command's help, the files to fill in and what is said of a wrong command line.
func TestHelpFits(t *testing.T) {
	fits(t, "", "--help")
	fits(t, "")
	fits(t, "", "swep")
	for _, c := range commands() {
		fits(t, "", "help", c.name)
		fits(t, "", "help", c.name, "all")
		fits(t, "", c.name, "--no-such-option-as-this-one-that-is-rather-long-and-would-not-fit-on-a-line")
		if c.name == "watch" || c.name == "demo" { // one waits for its file, the other makes a folder
			continue
		}
		fits(t, "", c.name, "a-setup-file-that-does-not-exist-and-has-a-name-that-goes-on.toml", "another", "and a third")
		fits(t, "", c.name, "/nowhere/at/all/in/a/rather/deep/folder/that/is/not/there/kart.toml")
	}
	for _, linkage := range fixtures.Linkages {
		fits(t, linkage, "new", "--linkage", linkage)
	}
}

// fits carries out a command and measures what it prints and says.
func fits(t *testing.T, what string, args ...string) {
	t.Helper()
	files.read, files.written = nil, nil
	var out, side bytes.Buffer
	status := run(&shell{in: strings.NewReader(""), out: &out, err: &side, width: columnsWide}, args)
	if out.Len()+side.Len() == 0 && status != statusDone {
		t.Errorf("%s: %q says nothing", what, args)
	}
	for _, text := range []string{out.String(), side.String()} {
		for line := range strings.Lines(text) {
			if n := utf8.RuneCountInString(strings.TrimRight(line, "\n")); n > columnsWide {
				t.Errorf("%s: %q: %d columns: %s", what, args, n, line)
			}
		}
	}
}
