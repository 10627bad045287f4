package main

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/pflag"

	"locksweep/geometry/drill"
	"locksweep/geometry/tolerance"
	"locksweep/render/drillmap"
	"locksweep/render/export"
	"locksweep/render/report"
	"locksweep/render/template"
	"locksweep/render/wording"
)

var drillCommand = command{
	name: "drill", args: "SETUP",
	brief: "where to put the hole of the steering arm or of the drop arm",
	about: "Tries every place that the metal allows, rods cut to suit, and lists the best.\n" +
		"Aims in order: stop, gaps, leverage, --lock, --ratio, --alike, --ackermann.",
	also: []string{"alike", "steer", "within", "ratio", "diameter", "edge", "spacing", "reach", "new-arm", "each", "grind", "slip", "tie", "step", "best", "figure", "pick", "sheet",
		"paper", "date", "embed", "save", "force"},
	example:  "locksweep drill kart.toml --lock 40 --template arm.svg --map arm-map.svg",
	prepare:  prepareDrill,
	searches: true,
}

type drillFlags struct {
	setupFlags
	saving                         saving
	alike, newArm, each            bool
	grind                          bool
	on, steer, slip, tie           string
	lock, ackermann, within, ratio float64
	diameter, edge, spacing, reach float64
	step                           float64
	best, pick                     int
	chart, figure, template        string
	sheet                          string
	doubts                         []string // margins of the picked place that are not sure
}

func prepareDrill(flags *pflag.FlagSet) action {
	var f drillFlags
	flags.StringVar(&f.on, "on", "arm", "which `HOLE`: arm, drop-arm, both or drag-link")
	flags.Float64Var(&f.lock, "lock", 0, "`DEGREES` wanted of the inner wheel; left out: as today")
	flags.Float64Var(&f.ackermann, "ackermann", 100, "`PERCENT` wanted: 100 ideal, 0 parallel")
	flags.StringVar(&f.steer, "steer", "", "mean steer `FROM,TO` that this counts for; left out: 5 to the lock")
	flags.Float64Var(&f.within, "within", 0, "`DEGREES` that the inner wheel may be off that; 0: any")
	flags.Float64Var(&f.ratio, "ratio", 0, "road `WHEEL` turn per steering wheel turn, within 5 %; 0: any")
	flags.BoolVar(&f.alike, "alike", false, "left and right alike within 0.5 degrees")
	flags.Float64Var(&f.diameter, "diameter", 0, "hole `DIAMETER`; 0: today's")
	flags.Float64Var(&f.edge, "edge", drill.DefaultEdge, "least hole centre to edge in hole `DIAMETERS`, 1.2 or more")
	flags.Float64Var(&f.spacing, "spacing", drill.DefaultWeb, "least hole to hole in hole `DIAMETERS`, 2.2 or more")
	flags.Float64Var(&f.reach, "reach", 0, "`LENGTH` about today's hole to try without an outline; 0: spacing + 20 mm")
	flags.BoolVar(&f.newArm, "new-arm", false, "the arm is made anew: the holes in it do not count")
	flags.BoolVar(&f.each, "each", false, "left and right each have their own place")
	flags.BoolVar(&f.grind, "grind", false, "hole and stop together, for --lock: the cut that suits the hole")
	flags.StringVar(&f.slip, "slip", "", "`LENGTH` that the drill may wander; left out: 0.5 mm")
	flags.StringVar(&f.tie, "tie", "", "`ERROR,LOCK` in degrees that count as alike; left out: 0.3,0.5")
	flags.Float64Var(&f.step, "step", 0, "`LENGTH` from place to place before refining; 0: 2 mm, both 6 mm")
	flags.IntVar(&f.best, "best", 3, "`NUMBER` of places to list")
	f.registerJSON(flags)
	flags.StringVar(&f.chart, "map", "", "draw a map of the metal to `FILE`")
	flags.StringVar(&f.figure, "figure", "lock", "of the map, `NAME`: lock, error, ratio or transmission")
	flags.StringVar(&f.template, "template", "", "draw a 1:1 template to drill by to `FILE`, FILE-2 …")
	flags.IntVar(&f.pick, "pick", 1, "`NUMBER` of the place that the template is for")
	flags.StringVar(&f.sheet, "sheet", "all", "`ARMS` on the template: all, left, right or drop-arm")
	f.registerPaper(flags, "a4")
	f.saving.register(flags)
	f.registerDrawn(flags)
	return f.forOne(f.run)
}

func (f *drillFlags) run(sh *shell) error {
	sheets, figure, err := f.drawings()
	if err != nil {
		return err
	}
	r, both, err := f.found(sh)
	if err != nil {
		return err
	}
	settings := func(p *drill.Place) []string { return f.settings(r, both, p) }
	if err := f.write(sh, f.print(sh, r, both, settings)); err != nil {
		return err
	}
	if err := f.drawMap(r, figure, sheets); err != nil { // whatever it answers
		return err
	}
	if both != nil && both.Plan == nil {
		return f.unanswered(wording.NoTogether(both))
	}
	if missed := report.Missed(r); missed != "" {
		return f.unanswered(missed)
	}
	if err := f.drawTemplate(sh, r, both, sheets); err != nil {
		return err
	}
	return f.save(sh, r, both, settings)
}

// drawings reads what is to be drawn and on what.
func (f *drillFlags) drawings() (sheets template.Options, figure drill.Figure, err error) {
	figure, ok := named(f.figure, drill.LockFigure, drill.ErrorFigure, drill.RatioFigure, drill.TransmissionFigure)
	if !ok {
		return sheets, figure, usagef("--figure %s: there are four, lock, error, ratio and transmission", f.figure)
	}
	switch sheets, err = f.sheets(); {
	case err != nil:
	case strings.EqualFold(f.on, drill.Both.String()) && f.chart != "":
		err = usagef("--map shows one hole; ask for it with --on arm or --on drop-arm")
	case f.source.embed && f.template != "" && f.chart == "":
		err = usagef("--embed is for the map; a template is printed at its true size: leave out --embed")
	}
	return sheets, figure, err
}

// found reads the setup and what is wanted, and carries the search out.
func (f *drillFlags) found(sh *shell) (*drill.Result, *drill.Together, error) {
	on, aims, err := f.aims()
	if err != nil {
		return nil, nil, err
	}
	s, err := f.source.read(sh)
	if err != nil {
		return nil, nil, err
	}
	if err := cmp.Or(f.source.unsureOf(sh, s), f.saving.check()); err != nil {
		return nil, nil, err
	}
	r, both, err := f.search(s, on, aims)
	switch {
	case err != nil:
	case both == nil:
		err = f.doubtPlace(sh, r)
	case both.Plan != nil:
		f.source.doubtPlan(sh, both.Plan, f.json)
	}
	return r, both, err
}

// doubtPlace warns of margins of the picked place that are smaller than they are sure, where the file says how exact it is.
func (f *drillFlags) doubtPlace(sh *shell, r *drill.Result) error {
	l := listed(r, f.pick)
	if !r.Setup.Accuracy.Given || l == nil || !r.Changes(l) {
		return nil
	}
	sure, err := tolerance.Run(l.Sweep, margins())
	if err != nil {
		return err
	}
	f.source.doubt = wording.Doubt(sure)
	for _, text := range wording.Unsure(sure) {
		f.doubts = append(f.doubts, fmt.Sprintf("place %d: %s", f.pick, text))
	}
	f.source.doubts(sh, f.doubts)
	return nil
}

// save writes the setup with the picked place as one more variant, where that is asked for.
func (f *drillFlags) save(sh *shell, r *drill.Result, both *drill.Together, settings func(*drill.Place) []string) error {
	if f.saving.path == "" {
		return nil
	}
	l, called := listed(r, f.pick), fmt.Sprintf("drilled, place %d", f.pick)
	if l == nil {
		return noAnswer{f.source.about(fmt.Errorf("--save: there is no place %d", f.pick))}
	}
	if err := f.fit(r, f.pick, "--save: nothing is written of"); err != nil {
		return err
	}
	switch {
	case both != nil && f.pick != 1:
		return usagef("--pick %d: with --grind the cut is planned for place 1 alone", f.pick)
	case both != nil:
		called = "drilled and ground"
		if l.Spot == r.Current.Spot {
			called = "ground"
		}
	}
	if !r.Changes(l) && (both == nil || len(both.Plan.Cuts) == 0) {
		return noAnswer{f.source.about(fmt.Errorf("--save: nothing is saved, since place %d leaves hole and rods as they are", f.pick))}
	}
	set := settings(&l.Place)
	if len(set) == 0 {
		return noAnswer{f.source.about(errors.New("--save: " + noSettings(r)))}
	}
	if f.template == "" { // else it was told beside that
		mark(sh, r, f.pick, "that is saved")
	}
	return f.saving.write(sh, &f.source, called, set, f.target.force)
}

// unanswered says why there is no answer, and which of the files asked for are not written for that.
func (f *drillFlags) unanswered(why string) error {
	var not []string
	if f.template != "" {
		not = append(not, "no template")
	}
	if f.saving.path != "" {
		not = append(not, "nothing saved")
	}
	if len(not) > 0 {
		why = strings.Join(not, " and ") + ": " + why
	}
	return noAnswer{f.source.about(errors.New(why))}
}

// drawMap writes the map, where it is asked for.
func (f *drillFlags) drawMap(r *drill.Result, figure drill.Figure, opt template.Options) error {
	if f.chart == "" {
		return nil
	}
	_, done := progress("judging the map", "")
	drawn, err := drillmap.Sheet(r, figure, opt.Options)
	done()
	if err != nil {
		return noAnswer{err}
	}
	return writeFile(f.chart, f.source.path, f.source.closed(drawn), f.target.force)
}

// drawTemplate writes the template, where it is asked for.
func (f *drillFlags) drawTemplate(sh *shell, r *drill.Result, both *drill.Together, opt template.Options) error {
	if f.template == "" {
		return nil
	}
	pick := f.pick
	if both != nil {
		pick = 1
	}
	opt.Origin.Doubt = f.source.doubt
	if l := listed(r, pick); l != nil {
		opt.Origin.Doubt = strings.Join(slices.DeleteFunc([]string{opt.Origin.Doubt, wording.DrillPast(r, l)}, func(text string) bool { return text == "" }), "; ")
	}
	refusal := "no template for"
	if f.saving.path != "" {
		refusal = "no template is drawn and nothing saved for"
	}
	if err := f.fit(r, pick, refusal); err != nil {
		return err
	}
	mark(sh, r, pick, "of the template")
	var drawn [][]byte
	var err error
	if both != nil {
		drawn, err = template.Together(both, opt)
	} else {
		drawn, err = template.Drill(r, pick-1, opt)
	}
	if err != nil {
		if f.saving.path != "" {
			err = fmt.Errorf("%w; nothing is saved either", err)
		}
		return noAnswer{f.source.about(err)}
	}
	return writeSheets(f.template, f.source.path, drawn, f.target.force)
}

// listed is a place by its number, from 1; nil where none has that number.
func listed(r *drill.Result, pick int) *drill.Listed {
	if pick < 1 || pick > len(r.Best) {
		return nil
	}
	return &r.Best[pick-1]
}

// mark warns of what is less than wanted in a place, before anything is made of it.
func mark(sh *shell, r *drill.Result, pick int, what string) {
	if l := listed(r, pick); l != nil {
		for _, text := range wording.DrillMarks(r, l) {
			sh.warn(fmt.Sprintf("! place %d %s: %s", pick, what, text))
		}
	}
}

// fit refuses a place that is listed with an alarm: such a one is neither drawn to drill by nor saved.
func (f *drillFlags) fit(r *drill.Result, pick int, refusal string) error {
	l := listed(r, pick)
	if l == nil || len(l.Alarms) == 0 {
		return nil
	}
	return noAnswer{f.source.about(fmt.Errorf("%s place %d: %s", refusal, pick, strings.Join(wording.DrillAlarms(r, l), "; ")))}
}

// sheets reads what paper is wanted and which arms on it.
func (f *drillFlags) sheets() (opt template.Options, err error) {
	if opt.Options, err = f.source.onPaper(f.paper); err != nil {
		return opt, err
	}
	opt.File = f.template
	arms, ok := named(f.sheet, template.All, template.Left, template.Right, template.Drop)
	if !ok {
		return opt, usagef("--sheet %s: should be all, left, right or drop-arm", f.sheet)
	}
	opt.Arms = arms
	return opt, nil
}

func (f *drillFlags) print(sh *shell, r *drill.Result, both *drill.Together, settings func(*drill.Place) []string) []byte {
	if f.json {
		return export.Drill(r, both, f.source.origin(), settings)
	}
	opt := report.DrillOptions{Options: f.report(sh), Together: both, Doubts: f.doubts}
	if r.Changes(&r.Best[0]) || both != nil && both.Plan != nil {
		switch set := settings(&r.Best[0].Place); {
		case set == nil:
			opt.NoSettings = noSettings(r)
		case len(set) > 0:
			opt.ToSweep = f.source.command("sweep", set)
		}
	}
	return report.Drill(r, opt)
}
