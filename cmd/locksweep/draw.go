package main

import (
	"errors"
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
	source source
	target target
	pose   string
	chart  string
	paper  string
	scale  string
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
	flags.StringVar(&f.paper, "paper", "a4-landscape", "`PAPER`: a4, a3, letter, tabloid; -landscape turns it")
	flags.StringVar(&f.scale, "scale", "", "at `1:5` and so on; left out, the largest that fits")
	f.source.registerDate(flags)
	f.source.registerEmbed(flags)
	f.source.register(flags)
	f.target.register(flags)
	return f.run
}

func (f *drawFlags) run(sh *shell, args []string) (err error) {
	if f.source.path, err = oneSetup("draw", args); err != nil {
		return err
	}
	if err := drawingTo("-o", f.target.path); err != nil {
		return err
	}
	d, err := f.drawing()
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
	drawn, err := d(r)
	var usage usageError
	switch {
	case errors.As(err, &usage):
		return err
	case err != nil:
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

// drawing draws a sweep. Its error says that there is no such drawing.
type drawing func(r *sweep.Result) (*sheet.Sheet, error)

// drawings draws a sweep on one sheet or more, as drawing.
type drawings func(r *sweep.Result) ([]*sheet.Sheet, error)

// alone is a drawing on one sheet as drawings.
func alone(d drawing) drawings {
	return func(r *sweep.Result) ([]*sheet.Sheet, error) {
		s, err := d(r)
		return []*sheet.Sheet{s}, err
	}
}

// drawing returns what the flags ask for.
func (f *drawFlags) drawing() (drawings, error) {
	paper, err := sheet.SizeByName(f.paper)
	if err != nil {
		return nil, usagef("--paper: %v", err)
	}
	made, err := f.source.made()
	if err != nil {
		return nil, err
	}
	if f.chart != "" {
		return f.chartDrawing(sheet.Options{Paper: paper.Landscape(), Origin: made})
	}
	if f.measuring && f.pose != "" {
		return nil, usagef("--measuring shows the wheels straight ahead; leave out --pose")
	}
	if f.swing && (f.pose != "" || f.measuring) {
		return nil, usagef("--animate goes from lock to lock; leave out --pose and --measuring")
	}
	top := topview.Options{Paper: paper, Origin: made, Keys: f.measuring, Swing: f.swing, Single: f.source.single(f.target)}
	if f.scale != "" {
		if top.Scale, err = sheet.ParseScale(f.scale); err != nil {
			return nil, usagef("--%v", err)
		}
	}
	if f.pose != "" {
		column, err := parseColumn("pose", f.pose)
		if err != nil {
			return nil, err
		}
		angle := s1.Angle(column) * s1.Degree
		top.Pose = &angle
		return func(r *sweep.Result) ([]*sheet.Sheet, error) {
			if err := withinReach("pose", r.Model, column); err != nil {
				return nil, err
			}
			return f.fromAbove(r, top)
		}, nil
	}
	return func(r *sweep.Result) ([]*sheet.Sheet, error) { return f.fromAbove(r, top) }, nil
}

// fromAbove draws the vehicle from above with what is to be looked at.
func (f *drawFlags) fromAbove(r *sweep.Result, opt topview.Options) ([]*sheet.Sheet, error) {
	opt.Warned = report.LookAt(r, f.source.warnings)
	return topview.Sheets(r, opt)
}

func (f *drawFlags) chartDrawing(opt sheet.Options) (drawings, error) {
	if f.pose != "" || f.scale != "" || f.measuring || f.swing {
		return nil, usagef("--chart has no pose, no scale, nothing to measure and nothing that moves; leave out --pose, --scale, --measuring and --animate")
	}
	switch strings.ToLower(f.chart) {
	case "angles":
		return alone(func(r *sweep.Result) (*sheet.Sheet, error) { return curves.Angles(r, opt) }), nil
	case "error":
		return alone(func(r *sweep.Result) (*sheet.Sheet, error) { return curves.Error(r, opt) }), nil
	}
	return nil, usagef("--chart %s: there are two charts, angles and error", f.chart)
}
