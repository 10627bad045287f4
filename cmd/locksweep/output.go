package main

import (
	"bytes"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/pflag"

	"locksweep/render/sheet"
)

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

// toFile tells whether a file is to be written.
func (t *target) toFile() bool { return t.path != "" && t.path != "-" }

// write puts the result where it belongs. input is the path of the file that the result was made
// from, which is never overwritten; empty where there is none.
func (t *target) write(sh *shell, input string, data []byte) error {
	if !t.toFile() {
		return sh.print(data)
	}
	return writeFile(t.path, input, data, t.force)
}

// writeFile writes a file as a whole or not at all. A file that is there already gives way if it is a
// drawing of ours, says the same already, or if force allows it. Links are followed.
func writeFile(path, input string, data []byte, force bool) error {
	refuse := func(text string) error { return fileError{path, text} }
	if _, err := os.Lstat(path); errors.Is(err, fs.ErrNotExist) {
		return replaceFile(path, path, data)
	}
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return refuse("is a link that leads to no file; name the file itself")
	case err != nil:
		return refuse("cannot be written: " + reason(err))
	case info.IsDir():
		return refuse("is a folder; name a file in it")
	case sameFile(info, input):
		return refuse("is the setup file itself; give the result a name of its own")
	case !info.Mode().IsRegular(): // a device or a pipe takes what comes
		return writeThrough(path, data)
	}
	real, err := filepath.EvalSymlinks(path)
	if err != nil {
		return refuse("cannot be written: " + reason(err))
	}
	old, err := head(real, len(data))
	switch {
	case bytes.Equal(old, data) && info.Size() == int64(len(data)):
		return nil
	case force || sheet.IsOurs(old):
		return replaceFile(path, real, data)
	case err != nil:
		return refuse("is there already and cannot be read, so it may not be a drawing of ours; --force overwrites it")
	}
	return foreignError{path}
}

// head returns the beginning of a file: enough to compare it with n bytes and to know a drawing by.
func head(path string, n int) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, int64(max(n, 4096))))
}

func sameFile(info fs.FileInfo, input string) bool {
	if input == "" || input == "-" {
		return false
	}
	in, err := os.Stat(input)
	return err == nil && os.SameFile(in, info)
}

// writeThrough writes to what is not a regular file.
func writeThrough(path string, data []byte) error {
	f, err := os.OpenFile(path, os.O_WRONLY, 0)
	if err == nil {
		_, err = f.Write(data)
		err = errors.Join(err, f.Close())
	}
	if err != nil {
		return fileError{path, "cannot be written: " + reason(err)}
	}
	return nil
}

// replaceFile writes the file at real as a whole; shown is its name for messages.
func replaceFile(shown, real string, data []byte) error {
	err := atomically(real, data)
	if err == nil || errors.Is(err, errInterrupted) {
		return err
	}
	if errors.Is(err, fs.ErrNotExist) {
		return fileError{shown, "cannot be written: the folder is not there"}
	}
	return fileError{shown, "cannot be written: " + reason(err)}
}
