package main

import (
	"github.com/spf13/pflag"

	"locksweep/fixtures"
	"locksweep/render/report"
)

var checkCommand = command{
	name: "check", args: "SETUP",
	brief:   "what is wrong or doubtful in a setup file, and what is assumed",
	about:   "Shows every mistake of the file at once; without any, what looks doubtful in it,\nwhat the vehicle has wrong, and what is assumed.",
	example: "locksweep check kart.toml",
	prepare: prepareCheck,
}

func prepareCheck(flags *pflag.FlagSet) action {
	var src source
	src.register(flags)
	return func(sh *shell, args []string) error {
		src.path = args[0]
		r, err := src.swept(sh, defaultStep)
		if err != nil {
			return err
		}
		if _, err := src.unsure(sh, r, margins()); err != nil {
			return err
		}
		unfilled, err := fixtures.Unfilled(src.data)
		if err != nil {
			return err
		}
		return sh.print(report.Check(r, unfilled, src.report(sh.colour)))
	}
}
