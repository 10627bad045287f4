package main

import (
	"slices"
	"strings"

	"github.com/golang/geo/s1"
	"github.com/spf13/pflag"

	"locksweep/geometry/sweep"
	"locksweep/render/curves"
	"locksweep/render/report"
	"locksweep/render/sheet"
	"locksweep/render/topview"
)

var drawCommand = command{
	name: "draw", args: "SETUP",
	brief: "a drawing to scale (SVG): top view, a pose, a chart",
	about: "Left alone: straight ahead, with both locks in phantom line.\n" +
		"Print at 100 %, not fit to page.",
	also:    []string{"animate", "embed", "date"},
	example: "locksweep draw kart.toml --pose 20 --paper letter -o left.svg",
	prepare: prepareDraw,
}

// drawStep is the column step of the sweep behind a drawing: fine enough for smooth curves.
const drawStep = 1 * s1.Degree

type drawFlags struct {
	setupFlags
	pose, chart, scale string
	// measuring asks for the drawing of what to measure.
	measuring bool
	// swing asks for the front axle in motion.
	swing bool
}

func prepareDraw(flags *pflag.FlagSet) action {
	var f drawFlags
	flags.StringVar(&f.pose, "pose", "", "at this `ANGLE` of the steering wheel, with axle lines")
	flags.StringVar(&f.chart, "chart", "", "a chart instead: `angles|error`")
	flags.BoolVar(&f.swing, "animate", false, "the front axle, swinging from lock to lock in a browser")
	flags.BoolVar(&f.measuring, "measuring", false, "what to measure, by the keys of the file")
	f.registerPaper(flags, "a4-landscape")
	flags.StringVar(&f.scale, "scale", "", "at `1:5` and so on; left out, the largest that fits")
	f.registerDrawn(flags)
	return f.forOne(f.run)
}

func (f *drawFlags) run(sh *shell) error {
	if err := drawingTo("-o", f.target.path); err != nil {
		return err
	}
	top, column, err := f.check()
	if err != nil {
		return err
	}
	if err := f.target.offTerminal(sh, "a drawing", "kart.svg"); err != nil {
		return err
	}
	r, err := f.source.swept(sh, drawStep)
	if err != nil {
		return err
	}
	if err := withinReach("pose", r.Model, column); err != nil {
		return err
	}
	if _, err := f.source.unsure(sh, r, margins()); err != nil {
		return noAnswer{f.source.about(err)}
	}
	top.Origin.Doubt = f.source.doubt
	drawn, err := f.draw(r, top)
	if err != nil {
		return noAnswer{err}
	}
	return f.source.writeSheets(sh, f.target, drawn)
}

// single reports whether a drawing has one sheet only: standard output and a web page hold no more.
func (s *source) single(t target) bool { return s.embed || !t.toFile() }

// writeSheets writes a drawing of one sheet or more where it belongs.
func (s *source) writeSheets(sh *shell, t target, drawn []*sheet.Sheet) error {
	if s.single(t) {
		return t.write(sh, s.path, s.closed(drawn[0]))
	}
	return writeSheets(t.path, s.path, sheet.Closed(drawn, t.path), t.force)
}

// one is a drawing of one sheet among those of several.
func one(s *sheet.Sheet, err error) ([]*sheet.Sheet, error) { return []*sheet.Sheet{s}, err }

// check reads what is asked for, before any file is read: the top view unless chart names another drawing.
func (f *drawFlags) check() (top topview.Options, column float64, err error) {
	on, err := f.source.onPaper(f.paper)
	if err != nil {
		return top, 0, err
	}
	top = topview.Options{Options: on, Keys: f.measuring, Swing: f.swing, Single: f.source.single(f.target)}
	switch {
	case f.chart != "" && (f.pose != "" || f.scale != "" || f.measuring || f.swing):
		return top, 0, usagef("--chart has no pose, no scale, nothing to measure and nothing that moves; leave out --pose, --scale, --measuring and --animate")
	case !slices.Contains([]string{"", "angles", "error"}, strings.ToLower(f.chart)):
		return top, 0, usagef("--chart %s: there are two charts, angles and error", f.chart)
	case f.measuring && f.pose != "":
		return top, 0, usagef("--measuring shows the wheels straight ahead; leave out --pose")
	case f.swing && (f.pose != "" || f.measuring):
		return top, 0, usagef("--animate goes from lock to lock; leave out --pose and --measuring")
	}
	if f.scale != "" {
		if top.Scale, err = sheet.ParseScale(f.scale); err != nil {
			return top, 0, usagef("--%v", err)
		}
	}
	if f.pose != "" {
		column, err = parseColumn(f.pose, "--pose", "-20")
		top.Pose = new(degreesOf(column))
	}
	return top, column, err
}

// draw draws what is asked for. Its error says that there is no such drawing.
func (f *drawFlags) draw(r *sweep.Result, top topview.Options) ([]*sheet.Sheet, error) {
	opt := top.Options
	opt.Paper = opt.Paper.Landscape()
	switch strings.ToLower(f.chart) {
	case "angles":
		return one(curves.Angles(r, opt))
	case "error":
		return one(curves.Error(r, opt))
	}
	top.Warned = report.LookAt(r, slices.DeleteFunc(slices.Clone(f.source.warnings), unsure)) // what is not sure stands at the head of the sheet
	return topview.Sheets(r, top)
}
