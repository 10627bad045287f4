package main

import (
	"cmp"
	"errors"

	"github.com/spf13/pflag"

	"locksweep/geometry/linkage"
	"locksweep/geometry/reconcile"
	"locksweep/render/export"
	"locksweep/render/report"
	"locksweep/render/wording"
)

var reconcileCommand = command{
	name: "reconcile", args: "SETUP",
	brief: "whether file and finished kart agree, and which figure is wrong",
	about: "Holds the file against [[taped]] and [[turned]] in it: tapes from point to\n" +
		"point, wheel angles read. locksweep card draws a page to measure by.",
	example:  "locksweep reconcile kart.toml -o kart2.toml",
	prepare:  prepareReconcile,
	searches: true,
}

type reconcileFlags struct {
	source source
	saving saving
	force  bool
	json   bool
}

func prepareReconcile(flags *pflag.FlagSet) action {
	f := reconcileFlags{saving: saving{option: "-o"}}
	flags.BoolVar(&f.json, "json", false, "everything as one JSON object, in full precision")
	flags.StringVarP(&f.saving.path, "output", "o", "", "write the setup file, with a variant as reconciled, to `FILE`")
	flags.BoolVar(&f.force, "force", false, "overwrite a file that is there already")
	f.source.register(flags)
	return f.run
}

func (f *reconcileFlags) run(sh *shell, args []string) (err error) {
	f.source.path = args[0]
	m, err := f.source.swept(sh, drawStep)
	if err := cmp.Or(err, f.saving.check()); err != nil {
		return err
	}
	r, err := reconcile.Run(m.Setup)
	var assembly *linkage.AssemblyError
	switch {
	case errors.As(err, &assembly):
		return f.source.about(err)
	case err != nil:
		return noAnswer{f.source.about(wording.ReconcileError(err))}
	}
	var out []byte
	if f.json {
		sh.alarms(wording.Alarms(m.Model, &m.Locks))
		if out, err = export.Reconcile(r, m, f.source.origin()); err != nil {
			return err
		}
	} else {
		out = report.Reconcile(r, m, f.source.report(sh.colour))
	}
	if err := sh.print(out); err != nil {
		return err
	}
	return f.save(sh, r)
}
