package main

import (
	"github.com/spf13/pflag"

	"locksweep/fixtures"
)

var newCommand = command{
	name:    "new",
	brief:   "a setup file to fill in, with a sketch of what to measure",
	example: "locksweep new -o kart.toml",
	prepare: prepareNew,
}

func prepareNew(flags *pflag.FlagSet) action {
	var t target
	t.register(flags)
	return func(sh *shell, args []string) error {
		if len(args) > 0 {
			return usagef("new takes no arguments; name the file with -o: locksweep new -o %s", args[0])
		}
		data, err := fixtures.Starter()
		if err != nil {
			return err
		}
		return t.write(sh, "", data)
	}
}
