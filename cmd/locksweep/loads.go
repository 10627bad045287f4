package main

import (
	"errors"

	"github.com/spf13/pflag"

	"locksweep/geometry/loads"
	"locksweep/render/export"
	"locksweep/render/report"
	"locksweep/render/wording"
)

var loadsCommand = command{
	name: "loads", args: "SETUP",
	brief: "what rods, bolts, holes and stops have to bear, roughly",
	about: "Needs load.front, the kg on both front wheels. Orders of magnitude only; what is\n" +
		"not modelled is said.",
	example: "locksweep loads kart.toml --set load.front=70",
	prepare: prepareLoads,
}

type loadsFlags struct{ setupFlags }

func prepareLoads(flags *pflag.FlagSet) action {
	var f loadsFlags
	f.registerJSON(flags)
	f.register(flags)
	return f.forOne(f.run)
}

func (f *loadsFlags) run(sh *shell) error {
	r, err := f.source.swept(sh, drawStep)
	if err != nil {
		return err
	}
	m, err := loads.New(r)
	if err != nil {
		return noAnswer{f.source.about(errors.New("no forces without a weight: give load.front, the kg on both front wheels together with the driver in the seat"))}
	}
	if f.json || f.target.toFile() {
		gives, thin := wording.Strained(m)
		sh.alarms(append(wording.Alarms(m.Model, &m.Locks), gives...))
		sh.warnAll(append(thin, wording.RodsLength(m.Result)...))
	}
	if f.json {
		return f.write(sh, export.Loads(m, f.source.origin()))
	}
	return f.write(sh, report.Loads(m, f.report(sh)))
}
