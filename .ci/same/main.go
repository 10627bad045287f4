// Command same holds the program to the same answers on another processor: it builds it for both, runs the example setups through the
// commands on this machine and, under an emulator, on the other, and compares. As archives are built (unfused) every output has to be
// the same to the byte; with -plain, as go build or go install make it, text, drawings and templates to the byte and numbers of JSON
// and CSV to 1e-12 of their size or of 1. A word after it picks the command lines that hold it. The exit status is 1 where something
// differs, 0 where nothing does or there is no emulator, which is said.
package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"flag"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"
)

// unfused keeps the compiler from making one instruction of x*y + z, which amd64 has not and arm64 rounds another way: then every
// number is the same on both. It is what .ci/release builds with.
const unfused = "-gcflags=all=-d=fmahash=qn"

// within is how near two numbers have to be in a plain build, of their size or of 1.
const within = 1e-12

// bound is how long one run may take under emulation.
const bound = 5 * time.Minute

func main() {
	plain := flag.Bool("plain", false, "as go build makes it, which may fuse x*y + z")
	flag.Parse()
	other := map[string]string{"amd64": "arm64", "arm64": "amd64"}[runtime.GOARCH]
	emulator := findEmulator(other)
	if emulator == "" {
		fmt.Printf("skipped: no emulator for another processor than %s (Debian: qemu-user-static)\n", runtime.GOARCH)
		return
	}
	dir, err := os.MkdirTemp("", "same")
	if err != nil {
		fail(err)
	}
	defer os.RemoveAll(dir)
	here, there := filepath.Join(dir, "here"), filepath.Join(dir, "there")
	for path, arch := range map[string]string{here: runtime.GOARCH, there: other} {
		build := exec.Command("go", "build", "-o", path, "./cmd/locksweep")
		if arch != "amd64" && !*plain {
			build.Args = slices.Insert(build.Args, 2, unfused)
		}
		build.Env = append(os.Environ(), "CGO_ENABLED=0", "GOARCH="+arch)
		if out, err := build.CombinedOutput(); err != nil {
			fail(fmt.Errorf("build for %s: %v\n%s", arch, err, out))
		}
	}
	setups, err := filepath.Glob("fixtures/*.toml")
	setups = slices.DeleteFunc(setups, func(name string) bool { return strings.Contains(name, "starter-") }) // forms that new fills in
	if err != nil || len(setups) == 0 {
		fail(fmt.Errorf("no setups in fixtures: %v", err))
	}
	list := runs(setups)
	if flag.NArg() > 0 {
		list = keep(list, flag.Arg(0))
	}
	differ := compareAll(list, []string{here}, []string{emulator, there}, *plain)
	fmt.Printf("%d runs, %d differ on %s\n", len(list), differ, other)
	if differ > 0 || len(list) == 0 {
		os.Exit(1)
	}
}

func keep(list [][]string, word string) (kept [][]string) {
	for _, args := range list {
		if strings.Contains(strings.Join(args, " "), word) {
			kept = append(kept, args)
		}
	}
	return kept
}

func fail(err error) {
	fmt.Fprintln(os.Stderr, err)
	os.Exit(2)
}

func findEmulator(arch string) string {
	name := map[string]string{"arm64": "aarch64", "amd64": "x86_64"}[arch]
	for _, command := range []string{"qemu-" + name + "-static", "qemu-" + name} {
		if path, err := exec.LookPath(command); err == nil && name != "" {
			return path
		}
	}
	return ""
}

// runs are the command lines to compare; what they draw goes to standard output.
func runs(setups []string) (list [][]string) {
	add := func(args ...string) { list = append(list, args) }
	for _, s := range setups {
		add("sweep", s)
		add("sweep", s, "--json")
		add("sweep", s, "--at", "-12,-5,0,7,15", "--csv")
		add("check", s)
		add("draw", s, "-o", "-")
		add("draw", s, "--pose", "20", "-o", "-")
		add("draw", s, "--chart", "angles", "-o", "-")
		add("draw", s, "--chart", "error", "-o", "-")
		add("draw", s, "--measuring", "-o", "-")
		add("rods", s)
		add("loads", s, "--set", "load.front=80")
		add("loads", s, "--set", "load.front=80", "--json")
	}
	two := []string{"fixtures/shed-kart.toml", "fixtures/pedal-quad.toml"}
	for _, what := range []string{"--overlay", "--charts", "--slide"} {
		add("compare", two[0], two[1], "-o", os.DevNull, "--force", what, "-")
	}
	add("compare", two[0], two[1])
	add("compare", two[0], two[1], "--json")
	add("drill", "fixtures/shed-kart.toml")
	add("grind", "fixtures/shed-kart.toml", "--lock", "32")
	return list
}

// compareAll runs every command line by both programs, two at a time, and returns how many differ.
func compareAll(list [][]string, here, there []string, plain bool) (differ int) {
	said := make([]string, len(list))
	turns := make(chan int)
	var all sync.WaitGroup
	for range runtime.NumCPU() {
		all.Go(func() {
			for i := range turns {
				said[i] = compare(list[i], here, there, plain)
			}
		})
	}
	for i := range list {
		turns <- i
	}
	close(turns)
	all.Wait()
	for i, text := range said {
		if text != "" {
			differ++
			fmt.Printf("differs: %s\n%s\n", strings.Join(list[i], " "), text)
		}
	}
	return differ
}

// compare returns where the two programs differ on a command line, nothing where they do not; numbers may differ by as much as within
// where they are near.
func compare(args, here, there []string, near bool) string {
	a, err := run(here, args)
	if err != nil {
		return err.Error()
	}
	b, err := run(there, args)
	if err != nil {
		return err.Error()
	}
	switch last := args[len(args)-1]; {
	case near && last == "--csv":
		return differentCSV(string(a), string(b))
	case near && last == "--json":
		return differentJSON(a, b)
	}
	return differentText(string(a), string(b))
}

// run returns what a program prints, with its exit status at the end.
func run(program, args []string) ([]byte, error) {
	ctx, stop := context.WithTimeout(context.Background(), bound)
	defer stop()
	cmd := exec.CommandContext(ctx, program[0], append(program[1:], args...)...)
	var out, complaints bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &complaints
	err := cmd.Run()
	if ctx.Err() != nil {
		return nil, fmt.Errorf("took over %v: %v", bound, program)
	}
	if status := cmd.ProcessState.ExitCode(); err != nil && (status < 0 || status > 1) {
		return nil, fmt.Errorf("%v: status %d\n%s", program, status, complaints.Bytes())
	}
	if out.Len() == 0 {
		return complaints.Bytes(), nil
	}
	return out.Bytes(), nil
}

func differentText(a, b string) string {
	one, two := strings.Split(a, "\n"), strings.Split(b, "\n")
	told := ""
	for i, lines := 0, 0; i < min(len(one), len(two)) && lines < 3; i++ {
		if one[i] != two[i] {
			told += fmt.Sprintf("line %d\n  here  %s\n  there %s\n", i+1, one[i], two[i])
			lines++
		}
	}
	if told != "" {
		return told
	}
	if len(one) != len(two) {
		return fmt.Sprintf("%d lines here, %d there", len(one), len(two))
	}
	return ""
}

func differentJSON(a, b []byte) string {
	var one, two any
	if err := json.Unmarshal(a, &one); err != nil {
		return differentText(string(a), string(b)) // a refusal
	}
	if err := json.Unmarshal(b, &two); err != nil {
		return err.Error()
	}
	return different("", one, two)
}

// different returns the first place where two values of JSON differ.
func different(at string, a, b any) string {
	switch one := a.(type) {
	case map[string]any:
		two, ok := b.(map[string]any)
		if !ok || len(one) != len(two) {
			return at + ": another form"
		}
		for key, v := range one {
			if text := different(at+"."+key, v, two[key]); text != "" {
				return text
			}
		}
		return ""
	case []any:
		two, ok := b.([]any)
		if !ok || len(one) != len(two) {
			return at + ": another length"
		}
		for i, v := range one {
			if text := different(fmt.Sprintf("%s[%d]", at, i), v, two[i]); text != "" {
				return text
			}
		}
		return ""
	case float64:
		if two, ok := b.(float64); ok && near(at, one, two) {
			return ""
		}
	default:
		if a == b {
			return ""
		}
	}
	return fmt.Sprintf("%s: here %v, there %v", at, a, b)
}

// near reports whether two numbers of one name are equal but for rounding; what is in percent is a hundred times its size.
func near(name string, a, b float64) bool {
	if strings.Contains(name, "percent") {
		a, b = a/100, b/100
	}
	return math.Abs(a-b) <= within*max(1, math.Abs(a), math.Abs(b))
}

func differentCSV(a, b string) string {
	one, err := csv.NewReader(strings.NewReader(a)).ReadAll()
	if err != nil || len(one) == 0 {
		return differentText(a, b) // a refusal
	}
	two, err := csv.NewReader(strings.NewReader(b)).ReadAll()
	if err != nil {
		return err.Error()
	}
	if len(two) != len(one) || len(two[0]) != len(one[0]) {
		return fmt.Sprintf("%d rows of %d fields here, another number there", len(one), len(one[0]))
	}
	for row := range one {
		for i, name := range one[0] {
			here, there := one[row][i], two[row][i]
			x, wrong := strconv.ParseFloat(here, 64)
			y, too := strconv.ParseFloat(there, 64)
			if here != there && (wrong != nil || too != nil || !near(name, x, y)) {
				return fmt.Sprintf("row %d, %s: here %s, there %s", row, name, here, there)
			}
		}
	}
	return ""
}
