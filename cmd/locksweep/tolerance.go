package main

import (
	"github.com/golang/geo/s1"
	"github.com/spf13/pflag"

	"locksweep/geometry/grind"
	"locksweep/geometry/setup"
	"locksweep/geometry/setupfile"
	"locksweep/geometry/sweep"
	"locksweep/geometry/tolerance"
	"locksweep/render/curves"
	"locksweep/render/export"
	"locksweep/render/report"
	"locksweep/render/sheet"
	"locksweep/render/topview"
	"locksweep/render/wording"
)

var toleranceCommand = command{
	name: "tolerance", args: "SETUP",
	brief: "how sure the figures are, and what to measure again first",
	about: "Draws karts that all measure like yours to within [accuracy]: ± of every figure,\n" +
		"what may stop the wheels, and how exact to drill and cut.",
	also:     []string{"radius", "front-slip", "outer-weight", "embed"},
	example:  "locksweep tolerance kart.toml\nlocksweep tolerance kart.toml --drill 0.5 -o sure.svg --top locks.svg",
	prepare:  prepareTolerance,
	searches: true,
}

type toleranceFlags struct {
	setupFlags
	slides slideFlags
	draws  int
	drill  float64
	top    string
	asked  func(flag string) bool
}

func prepareTolerance(flags *pflag.FlagSet) action {
	f := toleranceFlags{asked: flags.Changed}
	f.registerJSON(flags)
	flags.IntVar(&f.draws, "draws", tolerance.DefaultDraws, "how many karts to draw, `NUMBER`")
	flags.Float64Var(&f.drill, "drill", 0, "balls and holes are exact to `LENGTH`, whatever the file says")
	flags.StringVar(&f.top, "top", "", "draw the top view with the spread of both locks to `FILE`")
	flags.StringVar(&f.paper, "paper", "a4", "`PAPER` of the drawings: a4, a3, letter or tabloid")
	f.slides.register(flags)
	f.source.registerDate(flags)
	f.source.registerEmbed(flags)
	f.source.register(flags)
	flags.StringVarP(&f.target.path, "output", "o", "", "draw the wheel angles and the error with their bands to `FILE`")
	f.target.registerForce(flags)
	return f.forOne(f.run)
}

func (f *toleranceFlags) run(sh *shell) error {
	opt, err := f.source.onPaper(f.paper)
	switch {
	case err != nil:
		return err
	case f.draws < tolerance.LeastDraws || f.draws > tolerance.MostDraws:
		return usagef("--draws %d: should be from %d to %d", f.draws, tolerance.LeastDraws, tolerance.MostDraws)
	case f.json && (f.target.path == "-" || f.top == "-"):
		return usagef("--json and a drawing both go to standard output; name a file for the drawing: -o sure.svg")
	}
	opt.Paper = opt.Paper.Landscape()
	r, err := f.answer(sh)
	if err != nil {
		return err
	}
	opt.Origin.Doubt = f.source.doubt
	if err := f.draw(sh, r, opt); err != nil {
		return err
	}
	if f.target.path == "-" || f.top == "-" {
		return nil
	}
	if f.json {
		sh.alarms(wording.Alarms(r.Model, &r.Locks))
		return sh.print(export.Tolerance(r, f.source.origin()))
	}
	return sh.print(report.Tolerance(r, f.source.report(sh.colour)))
}

// draw writes the drawings that are asked for.
func (f *toleranceFlags) draw(sh *shell, r *tolerance.Result, opt sheet.Options) error {
	for _, d := range [2]struct {
		path string
		draw func(t target) ([]*sheet.Sheet, error)
	}{
		{f.target.path, func(target) ([]*sheet.Sheet, error) { return one(curves.Sure(r, opt)) }},
		{f.top, func(t target) ([]*sheet.Sheet, error) {
			return topview.Sheets(r.Result, topview.Options{Options: opt, Sure: r, Single: f.source.single(t)})
		}},
	} {
		if d.path == "" {
			continue
		}
		to := target{path: d.path, force: f.target.force}
		drawn, err := d.draw(to)
		if err != nil {
			return noAnswer{err}
		}
		if err := f.source.writeSheets(sh, to, drawn); err != nil {
			return err
		}
	}
	return nil
}

// answer reads the setup and draws the karts.
func (f *toleranceFlags) answer(sh *shell) (*tolerance.Result, error) {
	as, err := f.source.swept(sh, drawStep)
	if err != nil {
		return nil, err
	}
	s, opt := as.Setup, tolerance.Options{Draws: f.draws}
	if f.asked("drill") {
		drill := s.Unit.ToMM(f.drill)
		if !(drill >= 0 && drill <= setup.GreatestAccuracy) {
			return nil, usagef("--drill %g: should be from 0 to %.4g %s", f.drill, s.Unit.FromMM(setup.GreatestAccuracy), s.Unit)
		}
		opt.Drill = &drill
	}
	if opt.Path, err = f.slides.path(s.Unit, s.Vehicle.Wheelbase); err != nil {
		return nil, err
	}
	if f.target.path != "" {
		opt.Columns = chartColumns(as)
	}
	told, done := progress("drawing karts", "drawn")
	opt.Told = told
	r, err := tolerance.Run(as, opt)
	if done(); err != nil {
		return nil, noAnswer{f.source.about(err)}
	}
	f.source.known(sh, r)
	return r, nil
}

// chartColumns are the column angles of the bands, from lock to lock.
func chartColumns(as *sweep.Result) (columns []s1.Angle) {
	const steps = 60
	from, to := as.Locks[sweep.ToRight].Column, as.Locks[sweep.ToLeft].Column
	for i := range steps + 1 {
		columns = append(columns, from+(to-from)*s1.Angle(i)/steps)
	}
	return columns
}

// unsure warns of margins that are smaller than they are sure, where the file says how exact it is: by differences, which take
// a fraction of the time of draws. It returns what that is read off, with what else is asked; nil where the file does not say.
func (s *source) unsure(sh *shell, as *sweep.Result, opt tolerance.Options) (*tolerance.Result, error) {
	if !as.Setup.Accuracy.Given {
		return nil, nil
	}
	r, err := tolerance.Run(as, opt)
	if err != nil {
		return nil, err
	}
	s.known(sh, r)
	return r, nil
}

// known keeps how sure the setup is, and warns of margins that are smaller than that, where the file says how exact it is.
func (s *source) known(sh *shell, r *tolerance.Result) {
	if r.Setup.Accuracy.Given {
		s.sure, s.doubt = r, wording.Doubt(r)
		s.doubts(sh, wording.Unsure(r))
	}
}

// margins asks for the figures that may turn out to be nothing: all that unsure warns of.
func margins() tolerance.Options { return tolerance.Options{Keys: tolerance.Margins[:]} }

const unsureCode = "unsure"

// unsure reports whether a warning is of what is not sure.
func unsure(w setupfile.Warning) bool { return w.Code == unsureCode }

// doubts warns of what is not sure.
func (s *source) doubts(sh *shell, list []string) {
	for _, text := range list {
		w := setupfile.Warning{Code: unsureCode, Source: nameOf(s.path), Key: "accuracy", Text: text}
		s.warnings = append(s.warnings, w)
		sh.warn(w.String())
	}
}

// doubtPlan finds by how much the locks of a plan to grind may be off, where that is told anyway, the file says how exact it is or something may
// touch next, and warns of what may do so before the stop for that and of margins and walls that are not sure.
func (s *source) doubtPlan(sh *shell, plan *grind.Plan, told bool) {
	if told || plan.Model.Setup.Accuracy.Given || plan.Stops[sweep.ToRight].Next != nil || plan.Stops[sweep.ToLeft].Next != nil {
		if err := plan.Doubt(); err != nil {
			sh.note("how sure the lock is cannot be told, so 3° are wanted before anything else touches")
		}
	}
	doubts := wording.UnsurePlan(plan)
	if len(plan.Cuts) > 0 {
		s.doubt = wording.DoubtOfPlan(plan)
	}
	for _, text := range [2]string{wording.CatchAdvice(plan), wording.NextAdvice(plan)} {
		if text != "" {
			doubts = append([]string{text}, doubts...)
		}
	}
	s.doubts(sh, doubts)
}

// unsureOf is unsure for a command that does not sweep the setup as it stands: it says how sure that is. What cannot be swept is told
// elsewhere.
func (s *source) unsureOf(sh *shell, stands *setup.Setup) error {
	if !stands.Accuracy.Given {
		return nil
	}
	as, err := sweep.Run(stands, drawStep)
	if err != nil {
		return nil
	}
	r, err := s.unsure(sh, as, tolerance.Options{})
	if err != nil {
		return err
	}
	sh.note("as it stands, these are known to: " + wording.HowSure(r))
	return nil
}
