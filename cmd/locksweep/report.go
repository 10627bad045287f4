package main

import (
	"cmp"
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"github.com/spf13/pflag"

	"locksweep/geometry/clearance"
	"locksweep/geometry/compare"
	"locksweep/geometry/drill"
	"locksweep/geometry/grind"
	"locksweep/geometry/loads"
	"locksweep/geometry/reconcile"
	"locksweep/geometry/rods"
	"locksweep/geometry/setup"
	"locksweep/geometry/setupfile"
	"locksweep/geometry/sweep"
	"locksweep/geometry/tolerance"
	"locksweep/render/export"
	"locksweep/render/page"
	"locksweep/render/report"
	"locksweep/render/wording"
)

var reportCommand = command{
	name: "report", args: "SETUP [SETUP...]",
	brief: "one page (HTML) with it all: to slide from lock to lock, to print",
	about: "One file that needs no network. Several setups, or several --variant, are laid\n" +
		"over one another and compared.",
	example:  "locksweep report kart.toml -o kart.html\nlocksweep report kart.toml --grind 40 -o kart.html",
	prepare:  prepareReport,
	searches: true,
}

type reportFlags struct {
	pageFlags
	target target
}

// pageFlags say what stands on a page.
type pageFlags struct {
	variants, set []string
	drill         bool
	grind         float64
	tolerance     bool
	card          bool
	asked         func(flag string) bool
}

func prepareReport(flags *pflag.FlagSet) action {
	var f reportFlags
	f.pageFlags.register(flags)
	f.target.register(flags)
	return f.run
}

func (f *pageFlags) register(flags *pflag.FlagSet) {
	flags.BoolVar(&f.drill, "drill", false, "with the best places for the arm's hole (takes seconds)")
	flags.Float64Var(&f.grind, "grind", 0, "with the cut for `DEGREES` of the inner wheel at either lock")
	flags.BoolVar(&f.tolerance, "tolerance", false, "with how sure the figures are (takes seconds)")
	flags.BoolVar(&f.card, "card", false, "with what the finished kart should measure")
	flags.StringArrayVar(&f.variants, "variant", nil, "with the file's variant `NAME`; repeated: beside the file as it is")
	flags.StringArrayVar(&f.set, "set", nil, "with `KEY=VALUE`, as arm.pickup[1]=-42; repeatable")
	f.asked = flags.Changed
}

// mostOnPage bounds how many setups are laid over one another.
const mostOnPage = 10

func (f *reportFlags) run(sh *shell, args []string) error {
	if ext := strings.ToLower(filepath.Ext(f.target.path)); f.target.toFile() && ext != ".html" && ext != ".htm" && !isDevice(f.target.path) {
		return usagef("-o %s: the page is HTML, which any browser shows and prints; give the file a name that ends in .html, or write -o - for standard output", f.target.path)
	}
	if err := f.target.offTerminal(sh, "a page", "kart.html"); err != nil {
		return err
	}
	out, err := f.page(sh, args, "")
	if err != nil {
		return err
	}
	return f.target.write(sh, args[0], out)
}

// sources lists the setups that are asked for.
func (f *pageFlags) sources(paths []string) (list []source, err error) {
	for _, path := range paths {
		variants := f.variants
		if len(variants) != 1 {
			variants = append([]string{""}, variants...)
		}
		for _, variant := range variants {
			list = append(list, source{path: path, opt: setupfile.Options{Variant: variant, Set: f.set}})
		}
	}
	if len(list) > mostOnPage {
		return nil, usagef("report would lay %d setups over one another; at most %d are taken", len(list), mostOnPage)
	}
	return list, nil
}

// page makes the page of the setups that are asked for.
func (f *pageFlags) page(sh *shell, paths []string, live string) ([]byte, error) {
	sources, err := f.sources(paths)
	if err != nil {
		return nil, err
	}
	entries := make([]page.Entry, len(sources))
	compared := make([]compare.Entry, len(sources))
	var first *tolerance.Result // how sure the first is
	for i := range sources {
		sure, err := f.entry(sh, &sources[i], &entries[i], i == 0)
		if err != nil {
			return nil, err
		}
		if i == 0 {
			first = sure
		}
		s := entries[i].Result.Setup
		compared[i] = compare.Entry{Name: cmp.Or(sources[i].opt.Variant, s.Name), Setup: s}
	}
	distinguish(compared, func(i int) string { return entries[i].Source.File })
	for i := range entries {
		entries[i].Name = compared[i].Name
	}
	opt := page.Options{Live: live}
	if len(entries) > 1 {
		opt.Compared, opt.Told = comparison(compared)
	}
	if opt.Sections, err = f.sections(&sources[0], &entries[0], first); err != nil {
		return nil, err
	}
	return page.Make(entries, opt)
}

// entry reads and sweeps a setup of the page, and returns how sure it is, where its file says how exact it is or the first is asked for that.
func (f *pageFlags) entry(sh *shell, src *source, e *page.Entry, first bool) (sure *tolerance.Result, err error) {
	if e.Result, err = src.swept(sh, page.Step); err != nil {
		return nil, err
	}
	if m, err := loads.New(e.Result); err == nil {
		e.Loads = m
	}
	sh.alarms(e.Alarms())
	given := e.Result.Setup.Accuracy.Given
	if given || first && (f.tolerance || f.card) {
		if sure, err = f.sure(e.Result, first); err != nil {
			return nil, noAnswer{src.about(err)}
		}
	}
	if sure != nil {
		src.known(sh, sure)
	}
	if given || first && f.tolerance {
		e.Sure = sure
	}
	e.Source = src.origin()
	return sure, nil
}

// sure is how sure a setup is: for all on the page that says so.
func (f *pageFlags) sure(r *sweep.Result, first bool) (*tolerance.Result, error) {
	opt := tolerance.Options{Columns: page.Columns(r)}
	if first && f.card {
		opt.Columns = append(opt.Columns, reconcile.Columns(r)...)
	}
	if first && f.tolerance {
		opt.Draws = tolerance.DefaultDraws
	}
	return tolerance.Run(r, opt)
}

// comparison compares setups, and reports that, figures in the first one's unit.
func comparison(entries []compare.Entry) (*compare.Comparison, []byte) {
	unit := entries[0].Setup.Unit
	path, _ := new(slideFlags).pathOf(unit, entries)
	asked := compared{Compared: export.Compared{Comparison: compare.Run(entries, path, nil), Unit: unit}}
	return asked.Comparison, report.Compare(asked.Comparison, report.CompareOptions{Unit: unit, Changes: asked.changes()})
}

// sections are the answers of other commands: of those that are asked for, by an option or by [aims] of the file, and of those
// whose figures the file has.
func (f *pageFlags) sections(src *source, e *page.Entry, sure *tolerance.Result) (list []page.Section, err error) {
	r, aims, opt := e.Result, e.Result.Setup.Aims, src.report(false)
	opt.Sure = e.Sure
	add := func(title string, text []byte) {
		list = append(list, page.Section{Title: title, Text: text, Asked: true})
	}
	if f.drill || aims.Ackermann > 0 {
		text, err := f.drilled(src, r.Setup)
		if err != nil && f.drill {
			return nil, noAnswer{src.about(fmt.Errorf("--drill: %w", err))}
		}
		add("Where to drill", orWhy(text, err))
	}
	if f.asked("grind") || aims.Lock > 0 {
		lock := aims.Lock.Degrees()
		if f.asked("grind") {
			lock = f.grind
		}
		text, err := f.ground(src, r.Setup, lock)
		if err != nil && f.asked("grind") {
			return nil, err
		}
		add(fmt.Sprintf("What to grind for %s°", wording.Fixed(lock, 1)), orWhy(text, err))
	}
	if f.tolerance {
		add("How sure it is", report.Tolerance(sure, opt))
	}
	if f.card {
		c, err := reconcile.Expect(sure, cardTapes)
		if err != nil {
			return nil, noAnswer{src.about(fmt.Errorf("--card: %w", err))}
		}
		add("What the finished kart should measure", report.Card(c, opt))
	}
	return append(list, given(e, opt)...), nil
}

// given are the answers of commands whose figures the file has.
func given(e *page.Entry, opt report.Options) (list []page.Section) {
	if cut, err := rods.List(e.Result.Model); err == nil {
		list = append(list, page.Section{Title: "Rods to cut", Text: report.Rods(e.Result, cut, opt)})
	}
	if e.Loads != nil {
		list = append(list, page.Section{Title: "Loads, roughly", Text: report.Loads(e.Loads, opt)})
	}
	return list
}

// orWhy is the text of a section, or why there is none.
func orWhy(text []byte, err error) []byte {
	if err == nil {
		return text
	}
	return []byte(strings.Join(report.Wrap(err.Error(), 78), "\n") + "\n")
}

// drilled is where to drill the arm: for what [aims] of the file says, else for an ideal Ackermann and any lock.
func (f *pageFlags) drilled(src *source, s *setup.Setup) ([]byte, error) {
	aims := drill.Aims{Percent: cmp.Or(s.Aims.Ackermann, 100), Lock: s.Aims.Lock}
	found, err := drill.Search(s, drill.Arm, aims, drill.Options{Edge: drill.DefaultEdge, Web: drill.DefaultWeb, Best: 3})
	if err != nil {
		return nil, err
	}
	return report.Drill(found, report.DrillOptions{Options: src.report(false)}), nil
}

// ground is what to grind for a lock; one out of reach is told in its place.
func (f *pageFlags) ground(src *source, s *setup.Setup, lock float64) ([]byte, error) {
	g := grindFlags{setupFlags: setupFlags{source: *src}, lock: lock, asked: func(flag string) bool { return flag == "lock" }}
	goal, err := g.goal()
	if err != nil {
		return nil, usagef("--grind %g: should be more than 0 and at most 90 degrees; it holds for both ways", lock)
	}
	opt, err := g.options(s)
	if err != nil {
		return nil, err
	}
	m, err := sweep.New(s)
	var touch *clearance.TouchError
	var plan *grind.Plan
	if err == nil {
		plan, err = grind.Make(m, goal, opt)
	}
	var beyond *grind.BeyondError
	switch {
	case errors.As(err, &beyond), errors.As(err, &touch):
		return orWhy(nil, wording.GrindError(err)), nil
	case err != nil:
		return nil, noAnswer{src.about(wording.GrindError(err))}
	}
	if s.Accuracy.Given {
		if err := plan.Doubt(); err != nil {
			return nil, noAnswer{src.about(err)}
		}
	}
	return report.Grind(plan, src.report(false)), nil
}
