package main

import (
	"bufio"
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/pflag"

	"locksweep/render/page"
	"locksweep/render/sheet"
)

// files are what this run has read, which nothing overwrites, and what it has written, which nothing writes again.
var files struct{ read, written []string }

// target is where a result goes.
type target struct {
	path  string // empty or "-": standard output
	force bool
}

// register adds the flags that name an output file.
func (t *target) register(flags *pflag.FlagSet) {
	flags.StringVarP(&t.path, "output", "o", "", "write to `FILE`; - is standard output")
	t.registerForce(flags)
}

func (t *target) registerForce(flags *pflag.FlagSet) {
	flags.BoolVar(&t.force, "force", false, "overwrite a file that is no drawing of ours")
}

// offTerminal refuses to write to a terminal what nobody reads there, unless - asks for it.
func (t *target) offTerminal(sh *shell, what, name string) error {
	if t.path != "" || !sh.terminal {
		return nil
	}
	return usagef("%s is not for reading on the terminal; name a file with -o %s, or write -o - to see it all the same", what, name)
}

// drawingTo checks the name of a file that a drawing is to go to: it is an SVG, whatever the name says.
func drawingTo(option, path string) error {
	ext := filepath.Ext(path)
	switch strings.ToLower(ext) {
	case ".png", ".jpg", ".jpeg", ".gif", ".bmp", ".webp", ".tif", ".tiff", ".pdf", ".ps", ".eps", ".html", ".htm", ".dxf", ".dwg":
		return usagef("%s %s: drawings are written as SVG; name it %s.svg (a browser shows, prints and converts it)",
			option, path, strings.TrimSuffix(path, ext))
	}
	return nil
}

// toFile reports whether a file is to be written.
func (t *target) toFile() bool { return t.path != "" && t.path != "-" }

// colour reports whether what goes there may be coloured.
func (t *target) colour(sh *shell) bool { return sh.colour && !t.toFile() }

// write puts the result where it belongs. input is the path of the file that the result was made
// from, which is never overwritten; empty where there is none.
func (t *target) write(sh *shell, input string, data []byte) error {
	if !t.toFile() {
		return sh.print(data)
	}
	return writeFile(t.path, input, data, t.force)
}

// stream is write for a result that is made piece by piece, and may be long.
func (t *target) stream(sh *shell, input string, make func(w io.Writer) error) error {
	if t.toFile() {
		var b bytes.Buffer
		if err := make(&b); err != nil {
			return err
		}
		return writeFile(t.path, input, b.Bytes(), t.force)
	}
	out := bufio.NewWriterSize(sh.out, 1<<16) // which keeps its first error
	return printed(cmp.Or(make(out), out.Flush()))
}

// writeFile writes a file as a whole or not at all, or to standard output for "-". A file that is there already gives way
// if it is a drawing of ours, says the same already, or if force allows it; never what this run has read, nor input,
// nor what it has written before. Links are followed.
func writeFile(path, input string, data []byte, force bool) error {
	to, err := placeFor(path, []string{input}, data, force)
	if err != nil {
		return err
	}
	return to.write(data)
}

// place is where a file may be written, and how.
type place struct {
	path, real string // real: with links followed
	manner
}

type manner int

const (
	toOutput  manner = iota
	asNew            // nothing is there
	asBefore         // it says the same already
	instead          // it gives way
	asItComes        // a device or a pipe
)

// placeFor finds out whether and how a file may be written; see writeFile. Of data that is not made yet, nil, it finds out
// all but whether the file says the same.
func placeFor(path string, inputs []string, data []byte, force bool) (place, error) {
	refuse := func(text string) (place, error) { return place{}, fileError{path, text} }
	if path == "-" || isOutput(path) {
		return place{path, path, toOutput}, nil
	}
	if _, err := os.Lstat(path); errors.Is(err, fs.ErrNotExist) {
		return place{path, path, asNew}, notWritten(path, mayWrite(filepath.Dir(path)))
	}
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return refuse("is a link that leads to no file; name the file itself")
	case err != nil:
		return refuse("cannot be written: " + reason(err))
	case info.IsDir():
		return refuse("is a folder; name a file in it")
	case !info.Mode().IsRegular():
		return place{path, path, asItComes}, nil
	case sameFile(info, append(inputs, files.read...)):
		return refuse("is the setup file itself; give the result a name of its own")
	case sameFile(info, files.written):
		return refuse("was written just now for another option or sheet; give each a name of its own")
	}
	real, err := filepath.EvalSymlinks(path)
	if err != nil {
		return refuse("cannot be written: " + reason(err))
	}
	old, err := head(real, len(data))
	switch {
	case data != nil && bytes.Equal(old, data) && info.Size() == int64(len(data)):
		return place{path, real, asBefore}, nil
	case force || sheet.IsOurs(old) || page.IsOurs(old):
		return place{path, real, instead}, nil
	case err != nil:
		return refuse("is there already and cannot be read, so it may not be a drawing of ours; --force overwrites it")
	}
	return refuse(foreign)
}

// isOutput reports whether a path is a system's name of standard output, as /dev/stdout, wherever that goes.
func isOutput(path string) bool {
	if !strings.HasPrefix(path, "/dev/") && !strings.HasPrefix(path, "/proc/") {
		return false
	}
	named, err := os.Stat(path)
	own, bad := os.Stdout.Stat()
	return err == nil && bad == nil && os.SameFile(named, own)
}

// isDevice reports whether a path is one of a device or a pipe, whose name says nothing of what it takes.
func isDevice(path string) bool {
	info, err := os.Stat(path)
	return isOutput(path) || err == nil && !info.IsDir() && !info.Mode().IsRegular()
}

// mayWrite tries whether files may be made in a folder.
func mayWrite(folder string) error {
	f, err := os.CreateTemp(folder, ".locksweep*")
	if err != nil {
		return err
	}
	return errors.Join(f.Close(), os.Remove(f.Name()))
}

// write writes to the place.
func (p place) write(data []byte) (err error) {
	switch p.manner {
	case toOutput:
		return (&shell{out: os.Stdout}).print(data)
	case asItComes:
		return writeThrough(p.path, data)
	case asNew:
		err = createFile(p.path, data)
	case instead:
		err = notWritten(p.path, atomically(p.real, data, false))
	}
	if err == nil {
		files.written = append(files.written, p.path)
	}
	return err
}

// writeSheets writes sheets that belong together to a file and those numbered after it: all of them or, where one may not be
// written, none. Sheets that an earlier, longer row of sheets has left under the next numbers are removed.
func writeSheets(path, input string, sheets [][]byte, force bool) error {
	if path == "-" && len(sheets) > 1 {
		return usagef("the template takes %d sheets, and standard output holds one; name a file, which the further ones are numbered after", len(sheets))
	}
	places := make([]place, len(sheets))
	for i, data := range sheets {
		var err error
		if places[i], err = placeFor(sheet.FileName(path, i), []string{input}, data, force); err != nil {
			return err
		}
	}
	for i, data := range sheets {
		if err := places[i].write(data); err != nil {
			return err
		}
	}
	if places[0].manner == toOutput || places[0].manner == asItComes {
		return nil
	}
	for i := len(sheets); i < mostSheets; i++ {
		stale := sheet.FileName(path, i)
		if old, err := head(stale, 0); err != nil || !sheet.IsOurs(old) || !bytes.Contains(old, fmt.Appendf(nil, "Sheet %d of ", i+1)) {
			continue
		}
		if err := os.Remove(stale); err != nil {
			return fileError{stale, "is a sheet of an earlier drawing and cannot be removed: " + reason(err)}
		}
	}
	return nil
}

// mostSheets is more than any drawing takes.
const mostSheets = 100

// head returns the beginning of a file: enough to compare it with n bytes and to know a drawing by.
func head(path string, n int) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, int64(max(n, 4096))))
}

// sameFile reports whether a file is one of those at some paths.
func sameFile(info fs.FileInfo, paths []string) bool {
	return slices.ContainsFunc(paths, func(path string) bool {
		if path == "" || path == "-" {
			return false
		}
		other, err := os.Stat(path)
		return err == nil && os.SameFile(other, info)
	})
}

// distinct checks that no two options name the same file, and that a drawing on standard output is alone there.
func distinct(flags *pflag.FlagSet) error {
	named := map[string]string{}
	for _, f := range fileFlags(flags) {
		path := f.Value.String()
		where := filepath.Clean(path)
		if real, bad := filepath.EvalSymlinks(where); bad == nil {
			where = real
		}
		if whole, bad := filepath.Abs(where); bad == nil && path != "-" {
			where = whole
		}
		if isOutput(path) {
			where = "-"
		}
		if other := named[where]; other != "" {
			return usagef("--%s and --%s both go to %s; give each a file of its own", other, f.Name, path)
		}
		named[where] = f.Name
	}
	alone := named["-"] // of tolerance it is the drawing that is asked for, whichever of its two
	if out := flags.Lookup("output"); alone != "" && alone != "output" && alone != "save" && alone != "top" && out != nil && (out.Value.String() == "" || out.Value.String() == "-") {
		return usagef("--%s -: standard output takes the report; give that a file with -o FILE, and the drawing goes there", alone)
	}
	return nil
}

// fileFlags are the flags that name a file to write.
func fileFlags(flags *pflag.FlagSet) (list []*pflag.Flag) {
	flags.VisitAll(func(f *pflag.Flag) {
		if what, _ := pflag.UnquoteUsage(f); what == "FILE" && f.Value.String() != "" {
			list = append(list, f)
		}
	})
	return list
}

// outputs refuses, before anything is computed, what could not be written in the end: a drawing under another program's
// ending, a folder, a folder that is not there or may not be written in, what the command reads, a file that --force would
// overwrite. Of a command that does not search, a file that is there already is looked at in the end: it may say the same.
func outputs(flags *pflag.FlagSet, searches bool) (err error) {
	force, _ := flags.GetBool("force")
	for _, f := range fileFlags(flags) {
		path := f.Value.String()
		if strings.HasPrefix(f.Usage, "draw ") {
			err = drawingTo("--"+f.Name, path)
		}
		if err == nil {
			_, err = placeFor(path, flags.Args(), nil, force || !searches)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// writeThrough writes to what is not a regular file.
func writeThrough(path string, data []byte) error {
	f, err := os.OpenFile(path, os.O_WRONLY, 0)
	if err == nil {
		_, err = f.Write(data)
		err = errors.Join(err, f.Close())
	}
	switch {
	case closedPipe(err): // as at standard output
		return err
	case err != nil:
		return fileError{path, "cannot be written: " + reason(err)}
	}
	return nil
}

// createFile writes a file that was not there a moment ago. Where another program has made it since, that one keeps it.
func createFile(path string, data []byte) error {
	err := atomically(path, data, true)
	if errors.Is(err, fs.ErrExist) {
		return fileError{path, "was made by another program at this moment and is left as that wrote it; run again to replace it"}
	}
	return notWritten(path, err)
}

// notWritten says why a file could not be written; nil for nil.
func notWritten(path string, err error) error {
	switch {
	case err == nil, errors.Is(err, errInterrupted):
		return err
	case errors.Is(err, fs.ErrNotExist):
		return fileError{path, "cannot be written: the folder is not there"}
	}
	return fileError{path, "cannot be written: " + reason(err)}
}
