package main

import (
	"bytes"
	"fmt"

	"github.com/spf13/pflag"

	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/render/report"
	"locksweep/render/wording"
)

var checkCommand = command{
	name: "check", args: "SETUP",
	brief:   "whether a setup file makes sense, and what is assumed in it",
	about:   "Shows every mistake of the file at once, then what looks doubtful and what is\nassumed.",
	example: "locksweep check kart.toml",
	prepare: prepareCheck,
}

func prepareCheck(flags *pflag.FlagSet) action {
	var src source
	src.register(flags)
	return func(sh *shell, args []string) (err error) {
		if src.path, err = oneSetup("check", args); err != nil {
			return err
		}
		s, warnings, err := src.read(sh)
		if err != nil {
			return err
		}
		m, err := sweep.New(s)
		if err != nil {
			return src.about(err)
		}
		return sh.print(checked(s, m, len(warnings)))
	}
}

// checked says what was read, and that it can be swept.
func checked(s *setup.Setup, m *sweep.Model, warnings int) []byte {
	var b bytes.Buffer
	u := s.Unit
	holes := len(s.Corners[setup.Left].Arm.Metal.Holes) + len(s.DropArm.Metal.Holes)
	fmt.Fprintf(&b, "%s: fine", setup.Printable(s.Name))
	if warnings > 0 {
		fmt.Fprintf(&b, " but for %s (see above)", counted(warnings, "warning"))
	}
	fmt.Fprintf(&b, "\n\n  lengths in     %s\n", [2]string{"millimetres", "inches"}[u])
	fmt.Fprintf(&b, "  wheelbase      %s\n", wording.Length(u, s.Vehicle.Wheelbase))
	fmt.Fprintf(&b, "  kingpins       %s apart\n", wording.Length(u, s.Spacing))
	for _, side := range setup.Sides {
		origin := "as given"
		if s.Corners[side].Rod.Length == 0 {
			origin = "as the file's toe needs it"
		}
		fmt.Fprintf(&b, "  %-14s %s centre to centre, %s\n", side.String()+" tie rod", wording.TapeLength(u, m.Linkage.Rods[m.Linkage.Driver[side]].Length), origin)
	}
	for _, change := range wording.Changes(s) {
		for i, line := range report.Wrap(change, 80-17) {
			fmt.Fprintf(&b, "  %-14s %s\n", [2]string{"changed"}[min(i, 1)], line)
		}
	}
	fmt.Fprintf(&b, "  in the file    %s, %s, %s\n", counted(holes, "hole"), counted(len(s.Parts), "part"), counted(len(s.Variants), "variant"))
	for _, name := range s.Variants {
		fmt.Fprintf(&b, "    variant      %s\n", setup.Printable(name))
	}
	if assumed := wording.Assumed(m); len(assumed) > 0 {
		b.WriteString("\nAssumed, not measured:\n")
		for _, text := range assumed {
			fmt.Fprintf(&b, "- %s\n", setup.Printable(text))
		}
	}
	b.Write(report.CutList(s))
	return b.Bytes()
}

// counted is "1 part", "2 parts".
func counted(n int, what string) string {
	if n != 1 {
		what += "s"
	}
	return fmt.Sprintf("%d %s", n, what)
}
