package main

import (
	"slices"

	"github.com/spf13/pflag"
)

// helpCommand is a function because it shows the table that it stands in.
func helpCommand() command {
	return command{
		name: "help", args: "[COMMAND [all]]",
		brief:   "what a command does, its options, an example",
		example: "locksweep help sweep\nlocksweep help drill all",
		prepare: func(*pflag.FlagSet) action { return runHelp },
	}
}

func runHelp(sh *shell, args []string) error {
	if len(args) == 0 {
		return sh.print(overview())
	}
	c, err := find(args[0])
	if err != nil {
		return err
	}
	return sh.print(c.help(slices.Contains(args[1:], "all")))
}
