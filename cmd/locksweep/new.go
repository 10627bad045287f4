package main

import (
	"slices"
	"strings"

	"github.com/spf13/pflag"

	"locksweep/fixtures"
)

var newCommand = command{
	name:    "new",
	brief:   "a setup file to fill in, with a sketch of what to measure",
	example: "locksweep new -o kart.toml\nlocksweep new --linkage rack -o buggy.toml",
	prepare: prepareNew,
}

func prepareNew(flags *pflag.FlagSet) action {
	var t target
	linkage := flags.String("linkage", fixtures.Linkages[0], "how the wheels are turned: `two-rods|cross-rod|rack`")
	t.register(flags)
	return func(sh *shell, args []string) error {
		if len(args) > 0 {
			return usagef("new takes no arguments; name the file with -o: locksweep new -o %s", args[0])
		}
		if !slices.Contains(fixtures.Linkages, *linkage) {
			return usagef("--linkage %s: there are three, %s", *linkage, strings.Join(fixtures.Linkages, ", "))
		}
		data, err := fixtures.StarterFor(*linkage)
		if err != nil {
			return err
		}
		return t.write(sh, "", data)
	}
}
