// Command licences writes the licences of everything that is linked into the program, for all systems that it is released for, out
// of the module cache: `go run ./.ci/licences >THIRD-PARTY.txt`. With -check it compares that file with what it would write; the
// exit status is 1 where they differ or a module has no licence.
package main

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
)

// kept is the file that the repository keeps.
const kept = "THIRD-PARTY.txt"

// systems are all that a release is made for.
var systems = []string{"linux/amd64", "linux/arm64", "darwin/amd64", "darwin/arm64", "windows/amd64", "windows/arm64"}

func main() {
	check := flag.Bool("check", false, "compare "+kept+" with what would be written")
	flag.Parse()
	text, err := all()
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	if !*check {
		os.Stdout.Write(text)
		return
	}
	if old, err := os.ReadFile(kept); err != nil || !bytes.Equal(old, text) {
		fmt.Fprintf(os.Stderr, "%s does not hold the licences of what is linked: go run ./.ci/licences >%s\n", kept, kept)
		os.Exit(1)
	}
}

// all is the whole file: Go's own licence, then those of the modules by path.
func all() ([]byte, error) {
	modules, err := linked()
	if err != nil {
		return nil, err
	}
	var out bytes.Buffer
	fmt.Fprintf(&out, "Third-party software that is linked into locksweep, and its licences.\n")
	fmt.Fprintf(&out, "Written by .ci/licences out of the modules themselves.\n")
	if err := section(&out, "The Go standard library and runtime", goRoot()); err != nil {
		return nil, err
	}
	for _, m := range modules {
		path, rest, _ := strings.Cut(m, " ")
		version, dir, _ := strings.Cut(rest, " ")
		if err := section(&out, path+" "+version, dir); err != nil {
			return nil, err
		}
	}
	return out.Bytes(), nil
}

// linked lists the modules that are linked for any of the systems, each as path, version and folder.
func linked() (modules []string, err error) {
	for _, system := range systems {
		goos, goarch, _ := strings.Cut(system, "/")
		list := exec.Command("go", "list", "-deps", "-f", "{{with .Module}}{{if not .Main}}{{.Path}} {{.Version}} {{.Dir}}{{end}}{{end}}", "./cmd/locksweep")
		list.Env = append(os.Environ(), "CGO_ENABLED=0", "GOOS="+goos, "GOARCH="+goarch)
		list.Stderr = os.Stderr
		out, err := list.Output()
		if err != nil {
			return nil, fmt.Errorf("go list for %s: %w", system, err)
		}
		for line := range strings.Lines(string(out)) {
			if line = strings.TrimSpace(line); line != "" && !slices.Contains(modules, line) {
				modules = append(modules, line)
			}
		}
	}
	slices.Sort(modules)
	if len(modules) == 0 {
		return nil, fmt.Errorf("nothing is linked")
	}
	return modules, nil
}

func goRoot() string {
	out, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		return "" // told by section
	}
	return strings.TrimSpace(string(out))
}

// section writes the licence texts and notices that stand at the top of a module, with those of what it took over from others.
func section(out *bytes.Buffer, name, dir string) error {
	var files []string
	found := false
	entries, err := os.ReadDir(dir)
	if err != nil {
		return err
	}
	for _, e := range entries {
		upper := strings.ToUpper(e.Name())
		licence := strings.HasPrefix(upper, "LICENSE") || strings.HasPrefix(upper, "LICENCE") || strings.HasPrefix(upper, "COPYING")
		switch others := strings.HasPrefix(upper, "THIRD_PARTY") || strings.HasPrefix(upper, "NOTICE"); {
		case e.IsDir() && others:
			inside, err := os.ReadDir(filepath.Join(dir, e.Name()))
			if err != nil {
				return err
			}
			for _, f := range inside {
				files = append(files, filepath.Join(e.Name(), f.Name()))
			}
		case !e.IsDir() && (licence || others):
			files, found = append(files, e.Name()), found || licence
		}
	}
	if !found {
		return fmt.Errorf("%s has no licence in %s", name, dir)
	}
	for _, file := range files {
		text, err := os.ReadFile(filepath.Join(dir, file))
		if err != nil {
			return err
		}
		fmt.Fprintf(out, "\n%s\n%s: %s\n\n%s\n", strings.Repeat("=", 72), name, filepath.ToSlash(file), strings.TrimSpace(strings.ReplaceAll(string(text), "\r\n", "\n")))
	}
	return nil
}
