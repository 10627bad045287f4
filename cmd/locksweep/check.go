package main

import (
	"github.com/spf13/pflag"

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
	return func(sh *shell, args []string) (err error) {
		if src.path, err = oneSetup("check", args); err != nil {
			return err
		}
		r, err := src.swept(sh, defaultStep)
		if err != nil {
			return err
		}
		return sh.print(report.Check(r, report.Options{Variant: src.opt.Variant, Set: src.opt.Set, Warnings: src.warnings, Colour: sh.colour}))
	}
}
