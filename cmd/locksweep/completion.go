package main

import (
	"fmt"
	"strings"

	"github.com/spf13/pflag"

	"locksweep/geometry/compare"
)

// completionCommand is a function because it writes down the table that it stands in.
func completionCommand() command {
	return command{
		name: "completion", args: "bash|zsh|fish",
		brief: "a script that completes commands and options in your shell",
		about: "bash: source <(locksweep completion bash)\n" +
			"zsh:  source <(locksweep completion zsh)\n" +
			"fish: locksweep completion fish | source",
		example: "locksweep completion bash >> ~/.bash_completion",
		prepare: func(*pflag.FlagSet) action { return runCompletion },
	}
}

func runCompletion(sh *shell, args []string) error {
	shells := map[string]func() string{"bash": bashCompletion, "zsh": zshCompletion, "fish": fishCompletion}
	if len(args) == 1 && shells[args[0]] != nil {
		return sh.print([]byte(shells[args[0]]()))
	}
	return usagef("completion takes the name of your shell: bash, zsh or fish")
}

// choices are the values of options that take one of a few words, by command and option.
var choices = map[string]string{
	"draw chart": "angles error", "draw scale": "1:1 1:2 1:5 1:10 1:20",
	"drill on": "arm drop-arm both", "drill figure": "lock error ratio transmission", "drill sheet": "all left right drop-arm",
	"compare turn": "left right", "compare figure": strings.Join(compare.Keys(), " "),
}

// choicesOf are the values of an option of a command; empty where it may take any.
func (c command) choicesOf(flag string) string {
	if flag == "paper" {
		return "a4 a4-landscape a3 a3-landscape letter letter-landscape tabloid tabloid-landscape"
	}
	return choices[c.name+" "+flag]
}

// chosen calls do for every option that takes one of a few words.
func (c command) chosen(do func(flag, values string)) {
	flags, _ := c.flagSet()
	flags.VisitAll(func(f *pflag.Flag) {
		if values := c.choicesOf(f.Name); values != "" {
			do(f.Name, values)
		}
	})
}

// words returns what may follow a command: its options, and for some commands its arguments.
func (c command) words() []string {
	var words []string
	switch c.name {
	case "help":
		words = commandNames()
	case "completion":
		words = []string{"bash", "zsh", "fish"}
	case "demo":
		words = exampleNames()
	}
	flags, _ := c.flagSet()
	flags.VisitAll(func(f *pflag.Flag) { words = append(words, "--"+f.Name) })
	return words
}

func commandNames() (names []string) {
	for _, c := range commands() {
		names = append(names, c.name)
	}
	return names
}

// cases writes a line for each option that takes one of a few words, with command, option and words, and behind what comes between one for
// each command with all that may follow it.
func cases(b *strings.Builder, choice, between, follow string) {
	for _, c := range commands() {
		c.chosen(func(flag, values string) { fmt.Fprintf(b, choice, c.name, flag, values) })
	}
	b.WriteString(between)
	for _, c := range commands() {
		fmt.Fprintf(b, follow, c.name, strings.Join(c.words(), " "))
	}
}

func bashCompletion() string {
	var b strings.Builder
	b.WriteString("# completion of locksweep for bash\n_locksweep() {\n  local cur=\"${COMP_WORDS[COMP_CWORD]}\" prev=\"${COMP_WORDS[COMP_CWORD-1]}\" words=\"\"\n")
	fmt.Fprintf(&b, "  if [ \"$COMP_CWORD\" -eq 1 ]; then\n    COMPREPLY=($(compgen -W \"%s --help --version\" -- \"$cur\"))\n    return\n  fi\n",
		strings.Join(commandNames(), " "))
	b.WriteString("  case \"${COMP_WORDS[1]} $prev\" in\n")
	cases(&b, "    '%s --%s') COMPREPLY=($(compgen -W \"%s\" -- \"$cur\")); return ;;\n", "  esac\n  case \"${COMP_WORDS[1]}\" in\n", "    %s) words=\"%s\" ;;\n")
	b.WriteString("  esac\n  COMPREPLY=($(compgen -W \"$words\" -- \"$cur\"))\n" +
		"  if [[ \"$cur\" != -* ]]; then\n    COMPREPLY+=($(compgen -f -- \"$cur\"))\n  fi\n}\n" +
		"complete -o filenames -F _locksweep locksweep\n")
	return b.String()
}

func zshCompletion() string {
	var b strings.Builder
	b.WriteString("#compdef locksweep\n# completion of locksweep for zsh\n_locksweep() {\n  local -a commands\n  commands=(\n")
	for _, c := range commands() {
		fmt.Fprintf(&b, "    '%s:%s'\n", c.name, shellText(c.brief))
	}
	b.WriteString("  )\n  if (( CURRENT == 2 )); then\n    _describe command commands\n    return\n  fi\n  case \"$words[2] $words[CURRENT-1]\" in\n")
	cases(&b, "    '%s --%s') compadd -- %s; return ;;\n", "  esac\n  case $words[2] in\n", "    %s) compadd -- %s; _files ;;\n")
	b.WriteString("  esac\n}\nif [ \"$funcstack[1]\" = _locksweep ]; then _locksweep; else compdef _locksweep locksweep; fi\n")
	return b.String()
}

func fishCompletion() string {
	var b strings.Builder
	b.WriteString("# completion of locksweep for fish\n")
	for _, c := range commands() {
		fmt.Fprintf(&b, "complete -c locksweep -n __fish_use_subcommand -f -a %s -d '%s'\n", c.name, shellText(c.brief))
	}
	for _, c := range commands() {
		flags, _ := c.flagSet()
		flags.VisitAll(func(f *pflag.Flag) {
			_, usage := pflag.UnquoteUsage(f)
			line := fmt.Sprintf("complete -c locksweep -n '__fish_seen_subcommand_from %s' -l %s", c.name, f.Name)
			if f.Shorthand != "" {
				line += " -s " + f.Shorthand
			}
			switch values := c.choicesOf(f.Name); {
			case values != "":
				line += " -x -a '" + values + "'"
			case f.Value.Type() != "bool":
				line += " -r"
			}
			fmt.Fprintf(&b, "%s -d '%s'\n", line, shellText(usage))
		})
	}
	return b.String()
}

// shellText makes a text fit to stand between single quotes.
func shellText(s string) string { return strings.ReplaceAll(s, "'", "") }
