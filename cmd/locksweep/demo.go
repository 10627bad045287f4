package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"

	"github.com/spf13/pflag"

	"locksweep/fixtures"
	"locksweep/geometry/sweep"
	"locksweep/render/curves"
	"locksweep/render/export"
	"locksweep/render/report"
	"locksweep/render/sheet"
	"locksweep/render/topview"
)

var demoCommand = command{
	name: "demo", args: "[NAME]",
	brief:   "an example: its report and its drawings; nothing to prepare",
	about:   "Prints the report and writes setup file and drawings into a folder.",
	example: "locksweep demo\nlocksweep demo cyclekart -o /tmp/cyclekart",
	prepare: prepareDemo,
}

type demoFlags struct {
	folder string
	list   bool
	force  bool
}

func prepareDemo(flags *pflag.FlagSet) action {
	var f demoFlags
	flags.BoolVar(&f.list, "list", false, "list the examples")
	flags.StringVarP(&f.folder, "output", "o", "locksweep-demo", "write into this `FOLDER`")
	flags.BoolVar(&f.force, "force", false, "overwrite files that are no drawings of ours")
	return f.run
}

func (f *demoFlags) run(sh *shell, args []string) error {
	if f.list {
		return sh.print(exampleList())
	}
	if f.folder == "-" {
		return usagef("-o -: the demo writes several files; name a folder for them")
	}
	example, err := findExample(args)
	if err != nil {
		return err
	}
	data, err := example.Data()
	if err != nil {
		return err
	}
	src := source{path: example.Name + ".toml", data: data}
	s, err := src.parse(sh)
	if err != nil {
		return err
	}
	r, err := sweep.Run(s, defaultStep)
	if err != nil {
		return err
	}
	a := &answer{result: r, poses: export.Poses(r)}
	if err := sh.print(report.Sweep(r, a.report(src.report(sh.colour)))); err != nil {
		return err
	}
	return f.write(sh, example, data, r.Model.Run(drawStep))
}

// write puts the setup file and the drawings into the folder and names each.
func (f *demoFlags) write(sh *shell, example fixtures.Example, data []byte, r *sweep.Result) error {
	if err := os.MkdirAll(f.folder, 0o755); err != nil {
		return fileError{f.folder, "cannot be made a folder: " + reason(err)}
	}
	said := bytes.NewBufferString("\nWritten:\n")
	wrote := func(path, about string) { fmt.Fprintf(said, "  %s: %s\n", path, about) }
	for _, d := range demoDrawings(r) {
		drawn, err := d.draw(r)
		if err != nil {
			return noAnswer{err}
		}
		path := filepath.Join(f.folder, example.Name+"-"+d.name+".svg")
		if err := writeFile(path, "", drawn.Bytes(), f.force); err != nil {
			return err
		}
		wrote(path, d.about)
	}
	path := filepath.Join(f.folder, example.Name+".toml")
	err := writeFile(path, "", data, f.force)
	switch {
	case isForeign(err): // changed since by the reader, whose work it is
		sh.warn(path + ": differs from the example and is left as it is; --force overwrites it")
	case err != nil:
		return err
	default:
		wrote(path, "the setup file; change it and run locksweep sweep on it")
	}
	return sh.print(said.Bytes())
}

type demoDrawing struct {
	name, about string
	draw        func(r *sweep.Result) (*sheet.Sheet, error)
}

func demoDrawings(r *sweep.Result) []demoDrawing {
	lock := r.Locks[sweep.ToLeft].Column
	landscape := sheet.Options{Paper: sheet.A4.Landscape(), Origin: sheet.Origin{Program: program}}
	return []demoDrawing{
		{"top", "top view with both locks, to scale", func(r *sweep.Result) (*sheet.Sheet, error) {
			return topview.Sheet(r, topview.Options{Options: landscape, Warned: report.LookAt(r, nil)})
		}},
		{"left-lock", "at the left lock, with axle lines", func(r *sweep.Result) (*sheet.Sheet, error) {
			return topview.Sheet(r, topview.Options{Options: landscape, Pose: &lock})
		}},
		{"angles", "wheel angles over the steering wheel angle", func(r *sweep.Result) (*sheet.Sheet, error) { return curves.Angles(r, landscape) }},
		{"error", "Ackermann error over the steer", func(r *sweep.Result) (*sheet.Sheet, error) { return curves.Error(r, landscape) }},
	}
}

func exampleNames() (names []string) {
	for _, e := range fixtures.Examples {
		names = append(names, e.Name)
	}
	return names
}

func exampleList() []byte {
	var b bytes.Buffer
	for _, e := range fixtures.Examples {
		fmt.Fprintf(&b, "%-12s %s\n", e.Name, e.About)
	}
	return b.Bytes()
}

// findExample returns the example named, or the first where none is.
func findExample(args []string) (none fixtures.Example, err error) {
	switch {
	case len(args) == 0:
		return fixtures.Examples[0], nil
	case len(args) > 1:
		return none, usagef("demo takes the name of one example; locksweep demo --list lists them")
	}
	for _, e := range fixtures.Examples {
		if e.Name == args[0] {
			return e, nil
		}
	}
	return none, unlisted(fmt.Sprintf("there is no example %q", args[0]), args[0], exampleNames(), "%q", "locksweep demo --list lists them")
}
