// Command locksweep answers how far the wheels of a small vehicle's steering turn, what stops them,
// and how well they follow a turn, from a setup file measured with a tape.
//
// It holds a table of commands, one file each: flags, files, exit status, JSON. It computes nothing.
package main

import (
	"fmt"
	"os"
	"strings"
)

// commands is every command, in the order in which help lists them.
func commands() []command {
	return []command{demoCommand, newCommand, checkCommand, sweepCommand, reportCommand, watchCommand, drawCommand, drillCommand, grindCommand, compareCommand, toleranceCommand, rodsCommand, loadsCommand, cardCommand, reconcileCommand, completionCommand(), helpCommand()}
}

func main() {
	ignoreClosedPipes()
	os.Exit(run(newShell(), os.Args[1:]))
}

// run carries out a command line and returns the exit status.
func run(sh *shell, args []string) int {
	if len(args) == 0 {
		sh.err.Write(overview())
		return statusUsage
	}
	switch name := args[0]; {
	case name == "-h" || name == "--help":
		return sh.fail(sh.print(overview()))
	case name == "--version":
		return sh.fail(sh.print(version()))
	case strings.HasPrefix(name, "-"):
		return sh.fail(usagef("%s stands before the command; write locksweep COMMAND %s (see locksweep --help)", name, name))
	default:
		c, err := find(name)
		if err != nil {
			return sh.fail(err)
		}
		return sh.fail(c.run(sh, args[1:]))
	}
}

// find returns the command of the name.
func find(name string) (command, error) {
	var names []string
	for _, c := range commands() {
		if c.name == name {
			return c, nil
		}
		names = append(names, c.name)
	}
	return command{}, unlisted(fmt.Sprintf("there is no command %q", name), name, names, "%q", "locksweep --help lists them")
}

// overview is the help for the program as a whole.
func overview() []byte {
	var b strings.Builder
	b.WriteString("locksweep: how far your wheels turn, what stops them, and how true they run\n\n")
	b.WriteString("Usage: locksweep COMMAND [options]\n\n")
	for _, c := range commands() {
		fmt.Fprintf(&b, "  %-11s %s\n", c.name, c.brief)
	}
	b.WriteString(`
Options: -h, --help after any command; --version

A setup file holds what you measured. "-" stands for standard input or output.
Exit status: 0 done, 1 no answer, 2 wrong command line or setup file,
3 file trouble.

Example:
  locksweep demo
`)
	return []byte(b.String())
}
