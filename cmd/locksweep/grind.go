package main

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/pflag"

	"locksweep/geometry/grind"
	"locksweep/geometry/setup"
	"locksweep/geometry/setupfile"
	"locksweep/geometry/sweep"
	"locksweep/render/export"
	"locksweep/render/grindview"
	"locksweep/render/report"
	"locksweep/render/sheet"
	"locksweep/render/template"
	"locksweep/render/wording"
)

var grindCommand = command{
	name: "grind", args: "SETUP",
	brief: "how much of the stop to take away, and what stops it next",
	about: "What must come off the parts marked grind = true for the inner wheel to reach\n" +
		"--lock, or the steering wheel --column, both ways, with the clearance wanted.",
	also:     []string{"pad", "clearance", "part", "curve", "paper", "date", "embed", "save", "force"},
	example:  "locksweep grind kart.toml --lock 40",
	prepare:  prepareGrind,
	searches: true,
}

type grindFlags struct {
	setupFlags
	far       bool
	clear     bool
	lock      float64
	column    float64
	clearance float64
	part, pad string
	view      string
	template  string
	curve     string
	saving    saving
	asked     func(flag string) bool
}

func prepareGrind(flags *pflag.FlagSet) action {
	var f grindFlags
	flags.Float64Var(&f.lock, "lock", 0, "`DEGREES` of the inner wheel wanted at either lock")
	flags.Float64Var(&f.column, "column", 0, "`DEGREES` of the steering wheel wanted either way")
	flags.BoolVar(&f.far, "as-far-as-possible", false, "as far as grinding alone takes both wheels")
	flags.BoolVar(&f.clear, "clear", false, "pass clear: something else is the stop")
	flags.StringVar(&f.pad, "pad", "", "find a place for a stop pad, width and thickness `WxT`")
	flags.StringVar(&f.view, "view", "", "draw the plates before and after to `FILE`")
	flags.StringVar(&f.template, "template", "", "draw the finished outlines at 1:1 to `FILE`, FILE-2 …")
	f.registerJSON(flags)
	flags.Float64Var(&f.clearance, "clearance", 0, "`LENGTH` of gap wanted; left out: the file's limits.clearance")
	flags.StringVar(&f.part, "part", "", "grind this `PART` only; the others stay as they are")
	flags.StringVar(&f.curve, "curve", "", "draw the lock against the depth of cut to `FILE`")
	f.registerPaper(flags, "a4")
	f.saving.register(flags)
	f.registerDrawn(flags)
	f.asked = flags.Changed
	return f.forOne(f.run)
}

func (f *grindFlags) run(sh *shell) error {
	goal, err := f.goal()
	if err != nil {
		return err
	}
	if f.source.embed && f.template != "" && f.view == "" && f.curve == "" {
		return usagef("--embed is for view and curve; a template is printed at its true size: leave out --embed")
	}
	paper, err := f.source.onPaper(f.paper)
	if err != nil {
		return err
	}
	s, err := f.source.read(sh)
	if err != nil {
		return err
	}
	if err := cmp.Or(f.source.unsureOf(sh, s), f.saving.check()); err != nil {
		return err
	}
	opt, err := f.options(s)
	if err != nil {
		return err
	}
	m, err := sweep.New(s)
	if err != nil {
		return f.source.about(err)
	}
	_, done := progress("planning the cut", "")
	plan, err := grind.Make(m, goal, opt)
	done()
	if err != nil {
		return f.refuse(sh, m, err)
	}
	return f.answer(sh, plan, paper)
}

// answer tells of the plan, draws and saves it.
func (f *grindFlags) answer(sh *shell, plan *grind.Plan, paper sheet.Options) error {
	f.source.doubtPlan(sh, plan, f.json)
	out := f.print(sh, plan)
	paper.Origin.Doubt = f.source.doubt
	undrawn := f.draw(plan, paper) // the answer is told whatever comes of the drawings
	if err := cmp.Or(f.write(sh, out), undrawn); err != nil {
		return err
	}
	return f.save(sh, plan)
}

// refuse says why there is no plan, and what must be known of the setup before anything else; as JSON the refusal is said on
// standard output too.
func (f *grindFlags) refuse(sh *shell, m *sweep.Model, err error) error {
	sh.alarms(wording.Alarmed(m))
	var beyond *grind.BeyondError
	if f.json && errors.As(err, &beyond) {
		if bad := f.write(sh, export.Refused(beyond, f.source.origin())); bad != nil {
			return bad
		}
	}
	said := wording.GrindError(err)
	if errors.As(err, &beyond) {
		if instead := wording.InsteadOf(beyond, f.drillCommand()); instead != "" {
			said = fmt.Errorf("%w; %s", said, instead)
		}
	}
	return noAnswer{f.source.about(said)}
}

// drillCommand looks for a hole and a cut that together give the lock asked for; without one it is left to the user.
func (f *grindFlags) drillCommand() string {
	lock := "DEGREES"
	if f.asked("lock") {
		lock = strconv.FormatFloat(f.lock, 'g', -1, 64)
	}
	return wording.OnOneLine(f.source.command("drill", nil)) + " --grind --lock " + lock
}

func (f *grindFlags) print(sh *shell, plan *grind.Plan) []byte {
	if f.json {
		return export.Grind(plan, f.source.origin())
	}
	out := report.Grind(plan, f.report(sh))
	if set, ok := f.settings(plan); ok && len(set) > 0 {
		out = append(out, report.ToSweep(f.source.command("sweep", set), f.target.colour(sh))...)
	}
	return out
}

// draw writes the drawings that are asked for. All are made before the first is written.
func (f *grindFlags) draw(plan *grind.Plan, opt sheet.Options) error {
	var writes []func() error
	for _, d := range []struct {
		path string
		draw func(*grind.Plan, sheet.Options) (*sheet.Sheet, error)
	}{{f.view, grindview.Sheet}, {f.curve, grindview.Curve}} {
		if d.path == "" {
			continue
		}
		drawn, err := d.draw(plan, opt)
		if err != nil {
			return noAnswer{f.source.about(err)}
		}
		writes = append(writes, func() error { return writeFile(d.path, f.source.path, f.source.closed(drawn), f.target.force) })
	}
	if f.template != "" {
		sheets, err := template.Grind(plan, template.Options{Options: opt, File: f.template})
		if err != nil {
			return noAnswer{f.source.about(err)}
		}
		writes = append(writes, func() error { return writeSheets(f.template, f.source.path, sheets, f.target.force) })
	}
	for _, write := range writes {
		if err := write(); err != nil {
			return err
		}
	}
	return nil
}

// goal reads how far the wheels are to turn.
func (f *grindFlags) goal() (t grind.Target, err error) {
	given := slices.DeleteFunc([]string{"lock", "column", "as-far-as-possible"}, func(flag string) bool { return !f.asked(flag) })
	if len(given) != 1 || given[0] == "as-far-as-possible" && !f.far {
		return t, usagef("grind needs one aim: --lock DEGREES, --column DEGREES or --as-far-as-possible")
	}
	value, most := f.lock, 90.0
	switch t.Measure = grind.BySteer; given[0] {
	case "as-far-as-possible":
		return grind.Target{Measure: grind.AsFar}, nil
	case "column":
		t.Measure, value, most = grind.ByColumn, f.column, 180
	}
	if !(value > 0 && value <= most) {
		return t, usagef("--%s %g: should be more than 0 and at most %g degrees; it holds for both ways", given[0], value, most)
	}
	t.Angle = degreesOf(value)
	return t, nil
}

// options reads what a plan is held to; lengths are in the setup's unit.
func (f *grindFlags) options(s *setup.Setup) (opt grind.Options, err error) {
	opt = grind.Options{Clearance: math.NaN(), Clear: f.clear, Part: f.part}
	if f.asked("clearance") {
		if opt.Clearance = s.Unit.ToMM(f.clearance); !(opt.Clearance >= 0 && opt.Clearance <= setup.GreatestClearance) {
			return opt, usagef("--clearance %g: should be between 0 and %.4g %s", f.clearance, s.Unit.FromMM(setup.GreatestClearance), s.Unit)
		}
	}
	if f.part != "" {
		if err := markedPart(s, f.part); err != nil {
			return opt, err
		}
	}
	if f.pad != "" {
		opt.Pad, err = parsePad(s.Unit, f.pad)
	}
	return opt, err
}

// markedPart checks that a part is there and may be ground.
func markedPart(s *setup.Setup, name string) error {
	var names []string
	for i := range s.Parts {
		switch p := &s.Parts[i]; {
		case p.Name == name && p.Grind && p.Plate != nil:
			return nil
		case p.Name == name:
			return usagef("--part %s: is not marked grind = true in the setup", name)
		case p.Grind:
			names = append(names, p.Name)
		}
	}
	if near := setupfile.Nearest(name, names); near != "" {
		return usagef("--part %s: there is no such part; did you mean %q?", name, near)
	}
	return usagef("--part %s: there is no such part in the setup", name)
}

// parsePad reads "WxT".
func parsePad(u setup.Unit, text string) (p grind.Pad, err error) {
	width, thick, ok := pair(strings.ToLower(text), "x")
	p = grind.Pad{Width: u.ToMM(width), Thickness: u.ToMM(thick)}
	if !ok || !(p.Width >= 1 && p.Width <= 200 && p.Thickness >= 0.5 && p.Thickness <= 100) {
		return p, usagef("--pad %q: should be width and thickness in %s, such as --pad %.2gx%.2g", text, wording.SpelledUnit(u),
			u.FromMM(grind.DefaultPadFor(u).Width), u.FromMM(grind.DefaultPadFor(u).Thickness))
	}
	return p, nil
}
