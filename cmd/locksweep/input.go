package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"time"

	"github.com/golang/geo/s1"
	"github.com/spf13/pflag"

	"locksweep/geometry/setup"
	"locksweep/geometry/setupfile"
	"locksweep/geometry/sweep"
	"locksweep/geometry/tolerance"
	"locksweep/render/export"
	"locksweep/render/sheet"
	"locksweep/render/wording"
)

// source is a setup file with the changes asked for on the command line.
type source struct {
	path     string
	opt      setupfile.Options
	warnings []setupfile.Warning // of the file, once it is read
	data     []byte              // likewise
	date     bool                // drawings are to say that of the file
	embed    bool                // drawings are for a web page
	sure     *tolerance.Result   // how sure the setup is as it stands, where the file says how exact it is and it was asked
}

// registerDate adds the flag that asks for the date on drawings.
func (s *source) registerDate(flags *pflag.FlagSet) {
	flags.BoolVar(&s.date, "date", false, "drawings say the file's date and the program's version")
}

// registerEmbed adds the flag that asks for drawings without page rules, as wide as what they stand in. What is cut out or filled in
// by hand stays paper.
func (s *source) registerEmbed(flags *pflag.FlagSet) {
	flags.BoolVar(&s.embed, "embed", false, "drawings for a web page: as wide as what they stand in, no page size")
}

// closed gives a drawing as it is written.
func (s *source) closed(d *sheet.Sheet) []byte {
	if s.embed {
		return d.Embed()
	}
	return d.Bytes()
}

// made says for the title block what draws, and from which file; with the version and the day of the file's last change where
// --date asks for them.
func (s *source) made() (sheet.Origin, error) {
	o := sheet.Origin{Program: program, Source: s.named()}
	if !s.date {
		return o, nil
	}
	if s.path == "-" {
		return o, usagef("--date: standard input has no date; name the setup file")
	}
	o.Program = versioned()
	if info, err := os.Stat(s.path); err == nil { // reading it says what is wrong
		o.Source += ", " + info.ModTime().Format(time.DateOnly)
	}
	return o, nil
}

// named is the name of the file as a template carries it, without its folders; empty for standard input.
func (s *source) named() string {
	if s.path == "-" {
		return ""
	}
	return filepath.Base(s.path)
}

// register adds the flags that change a setup.
func (s *source) register(flags *pflag.FlagSet) {
	flags.StringVar(&s.opt.Variant, "variant", "", "with the file's variant `NAME`")
	flags.StringArrayVar(&s.opt.Set, "set", nil, "with `KEY=VALUE`, as arm.pickup[1]=-42; repeatable")
}

// command is another command on the same setup, with settings on top of its own, as it may be pasted into a shell.
func (s *source) command(name string, set []string) []string {
	return wording.Command(name, s.path, s.opt.Variant, append(slices.Clone(s.opt.Set), set...), 76)
}

// read reads the setup and says its warnings.
func (s *source) read(sh *shell) (*setup.Setup, []setupfile.Warning, error) {
	name, data, err := readInput(sh, s.path)
	if err != nil {
		return nil, nil, err
	}
	s.data = data
	read, warnings, err := setupfile.Read(name, data, s.opt)
	if err != nil {
		return nil, nil, err
	}
	s.tell(sh, warnings)
	return read, warnings, nil
}

// swept reads the setup and sweeps it from lock to lock.
func (s *source) swept(sh *shell, step s1.Angle) (*sweep.Result, error) {
	read, _, err := s.read(sh)
	if err != nil {
		return nil, err
	}
	r, err := sweep.Run(read, step)
	if err != nil {
		return nil, s.about(err)
	}
	return r, nil
}

// tell says the warnings of a file and keeps them.
func (s *source) tell(sh *shell, warnings []setupfile.Warning) {
	s.warnings = warnings
	for _, w := range warnings {
		sh.warn(w.String())
	}
}

// origin says which setup a result is of.
func (s *source) origin() *export.Source {
	return &export.Source{File: nameOf(s.path), Variant: s.opt.Variant, Set: s.opt.Set, Warnings: s.warnings}
}

// about puts the file's name before what is wrong with the vehicle in it.
func (s *source) about(err error) error {
	return fmt.Errorf("%s: %w", setup.Printable(nameOf(s.path)), wording.Error(err))
}

// nameOf is an input's name for messages.
func nameOf(path string) string {
	if path == "-" {
		return "standard input"
	}
	return path
}

// mostInput is one byte more than a setup file may hold: enough to refuse it, however large it is.
const mostInput = 4<<20 + 1

// readInput reads a file, or standard input for "-", and returns its name for messages.
func readInput(sh *shell, path string) (name string, data []byte, err error) {
	if path == "-" {
		files.read = append(files.read, "/dev/stdin") // which may be a file
		data, err = io.ReadAll(io.LimitReader(sh.in, mostInput))
		if err != nil {
			return "", nil, fileError{nameOf(path), "cannot be read: " + reason(err)}
		}
		return nameOf(path), data, nil
	}
	f, err := os.Open(path)
	if err != nil {
		return "", nil, fileError{path, "cannot be read: " + reason(err)}
	}
	defer f.Close()
	if !slices.Contains(files.read, path) {
		files.read = append(files.read, path)
	}
	if info, err := f.Stat(); err == nil && info.IsDir() {
		return "", nil, fileError{path, "is a folder; name the setup file in it"}
	}
	data, err = io.ReadAll(io.LimitReader(f, mostInput))
	if err != nil {
		return "", nil, fileError{path, "cannot be read: " + reason(err)}
	}
	return path, data, nil
}

// reason says in plain words why the system refused a file.
func reason(err error) string {
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return "there is no such file"
	case errors.Is(err, fs.ErrPermission):
		return "permission denied"
	case fullDisk(err):
		return "the disk is full"
	case readOnly(err):
		return "the disk or folder is read-only"
	}
	var path *fs.PathError
	if errors.As(err, &path) {
		err = path.Err
	}
	return err.Error()
}
