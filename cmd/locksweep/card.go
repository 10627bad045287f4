package main

import (
	"github.com/spf13/pflag"

	"locksweep/geometry/reconcile"
	"locksweep/geometry/tolerance"
	"locksweep/render/card"
	"locksweep/render/wording"
)

var cardCommand = command{
	name: "card", args: "SETUP",
	brief: "a page for the bench: what the finished kart should measure",
	about: "Wheel angles, rods, toe, four tapes and gaps, with blanks beside. What you write\n" +
		"on it goes into [[turned]] and [[taped]] of the file, for locksweep reconcile.",
	example:  "locksweep card kart.toml --paper letter -o card.svg",
	prepare:  prepareCard,
	searches: true,
}

type cardFlags struct{ setupFlags }

// cardTapes is how many tapes the card has.
const cardTapes = 4

func prepareCard(flags *pflag.FlagSet) action {
	var f cardFlags
	flags.StringVar(&f.paper, "paper", "a4", "`PAPER`, upright: a4, a3, letter or tabloid")
	f.source.registerDate(flags)
	f.register(flags)
	return f.forOne(f.run)
}

func (f *cardFlags) run(sh *shell) error {
	if err := drawingTo("-o", f.target.path); err != nil {
		return err
	}
	opt, err := f.source.onPaper(f.paper)
	switch {
	case err != nil:
		return err
	case opt.Paper.Width > opt.Paper.Height:
		return usagef("--paper %s: the card stands upright, a4, a3, letter or tabloid", f.paper)
	}
	if err := f.target.offTerminal(sh, "a drawing", "card.svg"); err != nil {
		return err
	}
	r, err := f.source.swept(sh, drawStep)
	if err != nil {
		return err
	}
	sure, err := tolerance.Run(r, tolerance.Options{Columns: reconcile.Columns(r), Keys: append(reconcile.Keys(), tolerance.Margins[:]...)})
	if err != nil {
		return noAnswer{f.source.about(err)}
	}
	f.source.known(sh, sure)
	opt.Origin.Doubt = f.source.doubt
	c, err := reconcile.Expect(sure, cardTapes)
	if err != nil {
		return noAnswer{f.source.about(err)}
	}
	return f.write(sh, card.Sheet(c, opt, wording.OnOneLine(f.source.command("reconcile", nil))).Bytes())
}
