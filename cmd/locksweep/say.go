// The rules for everything that is said to the user:
//
//   - Results go to standard output, or to the file named by -o; nothing else goes there.
//   - Errors, warnings and notes go to standard error. Each begins with "locksweep: ", has no
//     capital and no full stop; what is longer than a line goes on below, set in by two. A mistake in a
//     setup file is followed by the line of the file and a caret.
//   - A message says what is wrong and what would be right.
//   - What comes from outside (names, paths, arguments) is stripped of control characters first.
//   - Colour stands on a terminal only, never where NO_COLOR is set, and never carries a meaning alone.
package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"locksweep/geometry/clearance"
	"locksweep/geometry/linkage"
	"locksweep/geometry/setup"
	"locksweep/geometry/setupfile"
	"locksweep/render/report"
)

// shell is where a command reads and speaks.
type shell struct {
	in       io.Reader
	out, err io.Writer
	colour   bool // standard output is a terminal that may be coloured
	terminal bool // standard output is a terminal
	width    int  // columns of what is said to the user; 0: a message a line, however long
}

func newShell() *shell {
	terminal := isTerminal(os.Stdout)
	return &shell{
		in: os.Stdin, out: os.Stdout, err: os.Stderr, terminal: terminal, width: 80,
		colour: terminal && os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb",
	}
}

// isTerminal reports whether a file is a terminal; the null device is none.
func isTerminal(f *os.File) bool {
	info, err := f.Stat()
	if err != nil || info.Mode()&os.ModeCharDevice == 0 {
		return false
	}
	null, err := os.Stat(os.DevNull)
	return err != nil || !os.SameFile(null, info)
}

const (
	statusDone     = 0
	statusNoAnswer = 1 // the question has no answer
	statusUsage    = 2 // the command line or the setup file is wrong
	statusFile     = 3 // a file could not be read or written
)

// usageError is a mistake on the command line.
type usageError string

func (e usageError) Error() string { return setup.Printable(string(e)) }

func usagef(format string, args ...any) error { return usageError(fmt.Sprintf(format, args...)) }

// fileError is a file that could not be read or written.
type fileError struct{ path, text string }

func (e fileError) Error() string { return setup.Printable(e.path + ": " + e.text) }

// foreign is the text of the refusal to overwrite what is no drawing of ours.
const foreign = "is there already and is no drawing of ours; --force overwrites it"

// isForeign reports whether an error is that refusal.
func isForeign(err error) bool {
	var file fileError
	return errors.As(err, &file) && file.text == foreign
}

// noAnswer is a question that cannot be answered for this setup.
type noAnswer struct{ error }

// errInterrupted ends the program after an interrupt, as a shell expects.
var errInterrupted = errors.New("interrupted; nothing was written")

const statusInterrupted = 130

// status returns the exit status that goes with an error.
func status(err error) int {
	var (
		usage    usageError
		file     fileError
		mistakes setupfile.Errors
		touch    *clearance.TouchError
		assembly *linkage.AssemblyError
		none     noAnswer
	)
	switch {
	case err == nil, closedPipe(err): // the reader has had enough
		return statusDone
	case errors.Is(err, errInterrupted):
		return statusInterrupted
	case errors.As(err, &file):
		return statusFile
	case errors.As(err, &usage), errors.As(err, &mistakes):
		return statusUsage
	case errors.As(err, &assembly), errors.As(err, &touch), errors.As(err, &none):
		return statusNoAnswer
	}
	return statusFile
}

// fail says what went wrong and returns the exit status.
func (sh *shell) fail(err error) int {
	code := status(err)
	var mistakes setupfile.Errors
	switch {
	case code == statusDone:
	case errors.As(err, &mistakes):
		sh.mistakes(mistakes)
	default:
		sh.say(err.Error())
	}
	return code
}

// say writes a message, its first line wrapped; what stands below that, as the line of a file, stays as it is.
func (sh *shell) say(message string) {
	first, below, more := strings.Cut("locksweep: "+message, "\n")
	if sh.width > 0 {
		for i, line := range report.Wrap(first, sh.width-2) {
			fmt.Fprintf(sh.err, "%s%s\n", [2]string{"", "  "}[min(i, 1)], line)
		}
	} else {
		fmt.Fprintln(sh.err, first)
	}
	if more {
		fmt.Fprintln(sh.err, below)
	}
}

// mostMistakes is how many mistakes of a file are shown at once.
const mostMistakes = 40

func (sh *shell) mistakes(list setupfile.Errors) {
	for i, e := range list {
		if i == mostMistakes {
			sh.say(fmt.Sprintf("and %d more", len(list)-mostMistakes))
			return
		}
		sh.say(e.Error())
	}
}

// warn says what somebody should look at.
func (sh *shell) warn(text string) {
	sh.say("warning: " + setup.Printable(text))
}

func (sh *shell) warnAll(list []string) {
	for _, text := range list {
		sh.warn(text)
	}
}

// alarms says on standard error what must be known before anything else, where the result itself has no room for it.
func (sh *shell) alarms(list []string) {
	for _, text := range list {
		sh.warn("!!! " + text)
	}
}

// note says what was done.
func (sh *shell) note(text string) {
	sh.say(setup.Printable(text))
}

// print writes a result to standard output.
func (sh *shell) print(data []byte) error {
	_, err := sh.out.Write(data)
	return printed(err)
}

// printed says why standard output takes no more; nil for nil.
func printed(err error) error {
	if err == nil || closedPipe(err) {
		return err
	}
	return fileError{"standard output", "cannot be written: " + reason(err)}
}
