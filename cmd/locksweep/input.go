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
	"locksweep/render/report"
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
	doubt    string              // what is not sure of what is drawn, in a line; empty for nothing
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

// setupFlags are those of a command on one setup.
type setupFlags struct {
	source source
	target target
	json   bool
	paper  string
}

func (f *setupFlags) registerJSON(flags *pflag.FlagSet) {
	flags.BoolVar(&f.json, "json", false, "everything as one JSON object, in full precision")
}

func (f *setupFlags) registerPaper(flags *pflag.FlagSet, paper string) {
	flags.StringVar(&f.paper, "paper", paper, "`PAPER`: a4, a3, letter, tabloid; -landscape turns it")
}

// register adds the flags that all of them have.
func (f *setupFlags) register(flags *pflag.FlagSet) {
	f.source.register(flags)
	f.target.register(flags)
}

// registerDrawn is register for a command that draws.
func (f *setupFlags) registerDrawn(flags *pflag.FlagSet) {
	f.source.registerDate(flags)
	f.source.registerEmbed(flags)
	f.register(flags)
}

// forOne is the action of a command that run carries out.
func (f *setupFlags) forOne(run func(sh *shell) error) action {
	return func(sh *shell, args []string) error {
		f.source.path = args[0]
		return run(sh)
	}
}

// report says what a report on the setup shows besides its result, where the output goes.
func (f *setupFlags) report(sh *shell) report.Options { return f.source.report(f.target.colour(sh)) }

// write puts the result where it belongs.
func (f *setupFlags) write(sh *shell, out []byte) error {
	return f.target.write(sh, f.source.path, out)
}

// command is another command on the same setup, with settings on top of its own, as it may be pasted into a shell.
func (s *source) command(name string, set []string) []string {
	return wording.Command(name, s.path, s.opt.Variant, append(slices.Clone(s.opt.Set), set...), 76)
}

// onPaper says on what drawings of the setup go, and of what their title block says they are.
func (s *source) onPaper(paper string) (opt sheet.Options, err error) {
	if opt.Paper, err = sheet.SizeByName(paper); err != nil {
		return opt, usagef("--paper: %v", err)
	}
	opt.Origin, err = s.made()
	return opt, err
}

// report says what a report on the setup shows besides its result.
func (s *source) report(colour bool) report.Options {
	return report.Options{Variant: s.opt.Variant, Set: s.opt.Set, Warnings: s.warnings, Sure: s.sure, Colour: colour}
}

// read reads the setup, and says and keeps the warnings of the file.
func (s *source) read(sh *shell) (*setup.Setup, error) {
	if err := s.fetch(sh); err != nil {
		return nil, err
	}
	return s.parse(sh)
}

// parse is read for a file that is fetched already.
func (s *source) parse(sh *shell) (*setup.Setup, error) {
	read, warnings, err := setupfile.Read(nameOf(s.path), s.data, s.opt)
	if err != nil {
		return nil, err
	}
	s.warnings = warnings
	for _, w := range warnings {
		sh.warn(w.String())
	}
	return read, nil
}

// with is the source with settings on top of its own.
func (s source) with(set ...string) source {
	s.opt.Set = append(slices.Clone(s.opt.Set), set...)
	return s
}

// setup is what a file that is read already says.
func (s source) setup() (*setup.Setup, error) {
	read, _, err := setupfile.Read(nameOf(s.path), s.data, s.opt)
	return read, err
}

// swept reads the setup and sweeps it from lock to lock.
func (s *source) swept(sh *shell, step s1.Angle) (*sweep.Result, error) {
	read, err := s.read(sh)
	if err != nil {
		return nil, err
	}
	r, err := sweep.Run(read, step)
	if err != nil {
		return nil, s.about(err)
	}
	return r, nil
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

// fetch takes what the file holds, or standard input for "-".
func (s *source) fetch(sh *shell) error {
	in, path := sh.in, "/dev/stdin" // which may be a file
	if s.path != "-" {
		f, err := os.Open(s.path)
		if err != nil {
			return fileError{s.path, "cannot be read: " + reason(err) + s.elsewhere(err)}
		}
		defer f.Close()
		in, path = f, s.path
		if info, err := f.Stat(); err == nil && info.IsDir() {
			return fileError{path, "is a folder; name the setup file in it"}
		}
	}
	if !slices.Contains(files.read, path) {
		files.read = append(files.read, path)
	}
	data, err := io.ReadAll(io.LimitReader(in, mostInput))
	if err != nil {
		return fileError{nameOf(s.path), "cannot be read: " + reason(err)}
	}
	s.data = data
	return nil
}

// elsewhere says where a file that is not there was looked for, and whether an editor has put .txt behind its name.
func (s *source) elsewhere(err error) string {
	if !errors.Is(err, fs.ErrNotExist) {
		return ""
	}
	if _, err := os.Stat(s.path + ".txt"); err == nil {
		return "; there is " + s.path + ".txt"
	}
	if folder, err := filepath.Abs(filepath.Dir(s.path)); err == nil {
		return " in " + folder
	}
	return ""
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
