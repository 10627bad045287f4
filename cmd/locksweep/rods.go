package main

import (
	"path/filepath"
	"strings"

	"github.com/spf13/pflag"

	"locksweep/geometry/rods"
	"locksweep/geometry/sweep"
	"locksweep/geometry/tolerance"
	"locksweep/render/export"
	"locksweep/render/report"
	"locksweep/render/rodsheet"
	"locksweep/render/wording"
)

var rodsCommand = command{
	name: "rods", args: "SETUP",
	brief: "what to cut for the rods: tube, thread, engagement, toe per turn",
	about: "Needs tie_rod.rod_end.body and thread. With -o sheet.svg the rods are drawn too,\n" +
		"to scale with their dimensions.",
	example:  "locksweep rods kart.toml -o rods.svg --paper letter",
	prepare:  prepareRods,
	searches: true,
}

type rodsFlags struct{ setupFlags }

func prepareRods(flags *pflag.FlagSet) action {
	var f rodsFlags
	f.registerJSON(flags)
	f.registerPaper(flags, "a4-landscape")
	f.registerDrawn(flags)
	return f.forOne(f.run)
}

func (f *rodsFlags) run(sh *shell) error {
	if err := drawingTo("-o", f.target.path); err != nil {
		return err
	}
	paper, err := f.source.onPaper(f.paper)
	if err != nil {
		return err
	}
	m, err := f.source.swept(sh, drawStep)
	if err != nil {
		return err
	}
	list, err := rods.List(m.Model)
	if err != nil {
		return noAnswer{f.source.about(wording.RodsError(m.Setup.Unit, err))}
	}
	if f.json || f.target.toFile() {
		sh.alarms(wording.Alarms(m.Model, &m.Locks))
		sh.warnAll(wording.RodsLength(m))
	}
	if _, err := f.source.unsure(sh, m, tolerance.Options{}); err != nil {
		return noAnswer{f.source.about(err)}
	}
	paper.Origin.Doubt = f.source.doubt
	out := f.print(sh, m, list)
	if strings.EqualFold(filepath.Ext(f.target.path), ".svg") {
		if err := f.write(sh, f.source.closed(rodsheet.Sheet(m.Model, list, paper))); err != nil {
			return err
		}
		return sh.print(out)
	}
	return f.write(sh, out)
}

func (f *rodsFlags) print(sh *shell, m *sweep.Result, list []rods.Rod) []byte {
	if f.json {
		return export.Rods(m, list, f.source.sure, f.source.origin())
	}
	return report.Rods(m, list, f.report(sh))
}
