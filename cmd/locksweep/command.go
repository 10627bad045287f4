package main

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/spf13/pflag"

	"locksweep/geometry/setupfile"
)

// command is one command of the table.
type command struct {
	name    string
	args    string   // what stands after the name: "SETUP"
	brief   string   // one line for the overview
	about   string   // a few lines for the command's own help
	also    []string // options that the short help only names
	example string
	// searches tells that the answer may take long. Then a file in its way is refused beforehand, though the answer might
	// turn out to say the same.
	searches bool
	// prepare registers the flags and returns what carries the command out once they are parsed.
	prepare func(flags *pflag.FlagSet) action
}

// action carries out a command whose flags are parsed, with the arguments that are left.
type action func(sh *shell, args []string) error

// run parses the command's arguments and carries it out.
func (c command) run(sh *shell, args []string) error {
	flags, act := c.flagSet()
	if err := flags.Parse(args); err != nil {
		return c.flagError(flags, err)
	}
	if help, _ := flags.GetBool("help"); help {
		return sh.print(c.help(slices.Contains(flags.Args(), "all")))
	}
	if err := cmp.Or(distinct(flags), outputs(flags, c.searches), c.setups(flags.Args())); err != nil {
		return err
	}
	return act(sh, flags.Args())
}

// flagSet is a fresh set of the command's flags.
func (c command) flagSet() (*pflag.FlagSet, action) {
	flags := pflag.NewFlagSet(c.name, pflag.ContinueOnError)
	flags.SortFlags = false
	flags.Usage = func() {}
	flags.SetNormalizeFunc(func(_ *pflag.FlagSet, name string) pflag.NormalizedName {
		if name == "out" {
			name = "output"
		}
		return pflag.NormalizedName(name)
	})
	act := c.prepare(flags)
	flags.BoolP("help", "h", false, "show this help")
	return flags, act
}

// help is the command's own help, at most a screen, or all of it.
func (c command) help(all bool) []byte {
	flags, _ := c.flagSet()
	also := ""
	if len(c.also) > 0 && !all {
		text := "Also --" + strings.Join(c.also, " --") + ": locksweep help " + c.name + " all"
		also = folded("  ", "    ", text) + "\n"
		for _, name := range append([]string{"help"}, c.also...) {
			flags.Lookup(name).Hidden = true
		}
	}
	var b strings.Builder
	b.WriteString(folded("", "  ", "locksweep "+c.name+": "+c.brief) + "\n\n")
	fmt.Fprintf(&b, "Usage: %s\n", strings.Join(strings.Fields("locksweep "+c.name+" "+c.args+" [options]"), " "))
	if c.about != "" {
		fmt.Fprintf(&b, "\n%s\n", c.about)
	}
	fmt.Fprintf(&b, "\nOptions:\n%s%s\nExample:\n  %s\n", optionList(flags), also, strings.ReplaceAll(c.example, "\n", "\n  "))
	return []byte(b.String())
}

// optionList lays the options that are not hidden out in two columns.
func optionList(flags *pflag.FlagSet) string {
	type option struct{ name, usage string }
	var list []option
	widest := 0
	flags.VisitAll(func(f *pflag.Flag) {
		if f.Hidden {
			return
		}
		value, usage := pflag.UnquoteUsage(f)
		name := "    --" + f.Name
		if f.Shorthand != "" {
			name = "-" + f.Shorthand + ", --" + f.Name
		}
		if f.Value.Type() != "bool" {
			name += " " + value
		}
		// Nought stands for what is left out; the text says what that means.
		if !slices.Contains([]string{"", "[]", "0", "false"}, f.DefValue) {
			usage += " (" + f.DefValue + ")"
		}
		list = append(list, option{name, usage})
		widest = max(widest, len(name))
	})
	var b strings.Builder
	for _, o := range list {
		b.WriteString(folded(fmt.Sprintf("  %-*s  ", widest, o.name), strings.Repeat(" ", widest+4), o.usage) + "\n")
	}
	return b.String()
}

// folded puts a text behind a mark, lines at most 80 wide, further ones behind an indent.
func folded(mark, indent, text string) string {
	const most = 80
	var b strings.Builder
	line, some := mark, false
	for _, word := range strings.Fields(text) {
		if some && utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) > most {
			b.WriteString(line + "\n")
			line, some = indent, false
		}
		if some {
			line += " "
		}
		line, some = line+word, true
	}
	return b.String() + line
}

// flagError puts what the flag parser found wrong into our words.
func (c command) flagError(flags *pflag.FlagSet, err error) error {
	var (
		unknown *pflag.NotExistError
		missing *pflag.ValueRequiredError
		invalid *pflag.InvalidValueError
	)
	switch {
	case errors.As(err, &unknown):
		name := unknown.GetSpecifiedName()
		if unknown.GetSpecifiedShortnames() != "" {
			return usagef("%s has no option -%s; locksweep %s --help lists them", c.name, name, c.name)
		}
		var names []string
		flags.VisitAll(func(f *pflag.Flag) { names = append(names, f.Name) })
		return unlisted(fmt.Sprintf("%s has no option --%s", c.name, name), name, names, "--%s", fmt.Sprintf("locksweep %s --help lists them", c.name))
	case errors.As(err, &missing):
		what, _ := pflag.UnquoteUsage(missing.GetFlag())
		return usagef("--%s needs a value: --%s %s", missing.GetFlag().Name, missing.GetFlag().Name, what)
	case errors.As(err, &invalid):
		f := invalid.GetFlag()
		what, _ := pflag.UnquoteUsage(f)
		if f.Value.Type() == "bool" {
			return usagef("--%s=%s: takes no value; give --%s alone, or leave it out", f.Name, invalid.GetValue(), f.Name)
		}
		return usagef("--%s %s: should be --%s %s, %s", f.Name, invalid.GetValue(), f.Name, what, numberHint(f))
	}
	return usagef("%v", err)
}

// unlisted says that there is nothing of a name, and which of the names there are was meant, as it is typed, or else where they are told.
func unlisted(wrong, name string, names []string, typed, told string) error {
	if near := setupfile.Nearest(name, names); near != "" {
		told = "did you mean " + fmt.Sprintf(typed, near) + "?"
	}
	return usagef("%s; %s", wrong, told)
}

// numberHint says what kind of value a flag takes.
func numberHint(f *pflag.Flag) string {
	if f.Value.Type() == "int" {
		return "a whole number, in digits"
	}
	return "a plain number without a unit"
}

// setups checks the arguments of a command that takes one setup file or several.
func (c command) setups(args []string) error {
	switch {
	case !strings.HasPrefix(c.args, "SETUP"), len(args) == 1, len(args) > 1 && c.args != "SETUP":
		return nil
	case c.args != "SETUP":
		example, _, _ := strings.Cut(c.example, "\n")
		return usagef("%s needs a setup file: %s", c.name, example)
	case len(args) == 0:
		return usagef("%s needs a setup file: locksweep %s kart.toml (locksweep new -o kart.toml writes one to fill in)", c.name, c.name)
	}
	return usagef("%s takes one setup file, but %d were given: %s", c.name, len(args), strings.Join(args, " "))
}
