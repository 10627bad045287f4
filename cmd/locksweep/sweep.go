package main

import (
	"math"
	"strconv"
	"strings"

	"github.com/golang/geo/s1"
	"github.com/spf13/pflag"

	"locksweep/geometry/compare"
	"locksweep/geometry/road"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/geometry/tolerance"
	"locksweep/render/export"
	"locksweep/render/report"
	"locksweep/render/wording"
)

var sweepCommand = command{
	name: "sweep", args: "SETUP",
	brief:   "how far the wheels turn, what stops them, how true they run",
	about:   "Turns the steering from lock to lock and reports; SETUP - reads standard input.",
	also:    []string{"radius", "front-slip", "outer-weight"},
	example: "locksweep sweep kart.toml\nlocksweep sweep kart.toml --json --at -20,0,20",
	prepare: prepareSweep,
}

// defaultStep is the column step of a sweep where none is given.
const defaultStep = 5 * s1.Degree

type sweepFlags struct {
	setupFlags
	csv    bool
	at     string
	step   float64
	slides slideFlags
}

func prepareSweep(flags *pflag.FlagSet) action {
	var f sweepFlags
	f.registerJSON(flags)
	flags.BoolVar(&f.csv, "csv", false, "the poses as CSV, in full precision")
	flags.StringVar(&f.at, "at", "", "poses at these `ANGLES` only, left positive: -20,0,20")
	flags.Float64Var(&f.step, "step", 5, "steering wheel `DEGREES` from pose to pose")
	f.slides.register(flags)
	f.register(flags)
	return f.forOne(f.run)
}

func (f *sweepFlags) run(sh *shell) error {
	if f.json && f.csv {
		return errJSONAndCSV
	}
	a, err := f.answer(sh)
	if err != nil {
		return err
	}
	switch {
	case f.json:
		return f.write(sh, export.Sweep(a.result, a.poses, a.path, f.source.origin()))
	case f.csv:
		sh.alarms(wording.Alarms(a.result.Model, &a.result.Locks))
		return f.write(sh, export.CSV(a.result, a.poses))
	}
	return f.write(sh, report.Sweep(a.result, a.report(f.report(sh))))
}

// answer is a sweep with the poses that are asked for.
type answer struct {
	result *sweep.Result
	poses  []export.Pose
	path   road.Slide // of slides
}

// answer carries the sweep out.
func (f *sweepFlags) answer(sh *shell) (*answer, error) {
	columns, err := parseAt(f.at)
	if err != nil {
		return nil, err
	}
	step := degreesOf(f.step)
	if !(step >= sweep.LeastStep*(1-1e-12) && step <= sweep.GreatestStep*(1+1e-12)) {
		return nil, usagef("--step %g: should be between %g and %g degrees", f.step, sweep.LeastStep.Degrees(), sweep.GreatestStep.Degrees())
	}
	s, err := f.source.read(sh)
	if err != nil {
		return nil, err
	}
	if s.Rack != nil && step < sweep.LeastRackStep*(1-1e-12) {
		return nil, usagef("--step %g: should be %g degrees or more with a rack, whose steering wheel is followed for five turns either way", f.step, sweep.LeastRackStep.Degrees())
	}
	path, err := f.slides.path(s.Unit, s.Vehicle.Wheelbase)
	if err != nil {
		return nil, err
	}
	result, err := sweep.Run(s, step)
	if err != nil {
		return nil, f.source.about(err)
	}
	for _, c := range columns {
		if err := withinReach("at", result.Model, c); err != nil {
			return nil, err
		}
	}
	poses := export.Poses(result)
	if f.at != "" {
		poses = export.PosesAt(result, columns)
	}
	var told []s1.Angle
	for i := range poses {
		told = append(told, degreesOf(poses[i].Asked))
	}
	_, err = f.source.unsure(sh, result, tolerance.Options{Columns: told})
	return &answer{result, poses, path}, err
}

// report says what the report shows besides the sweep itself.
func (a *answer) report(opt report.Options) report.Options {
	opt.Path = a.path
	for i := range a.poses {
		p := &a.poses[i]
		row := report.Row{Column: degreesOf(p.Asked), PastLock: p.PastLock}
		if p.Assembles {
			row.Pose = &p.Pose
		}
		opt.Rows = append(opt.Rows, row)
	}
	return opt
}

// mostAt bounds how many poses may be asked for.
const mostAt = 100_000

// parseAt reads a list of column angles in degrees.
func parseAt(list string) (columns []float64, err error) {
	if list == "" {
		return nil, nil
	}
	fields := strings.Split(list, ",")
	if len(fields) > mostAt {
		return nil, usagef("--at lists %d angles; at most %d are taken", len(fields), mostAt)
	}
	for _, field := range fields {
		c, err := parseColumn(field, "--at", "-20,0,20")
		if err != nil {
			return nil, err
		}
		columns = append(columns, c)
	}
	return columns, nil
}

// parseColumn reads one column angle in degrees; example is what an option reads like.
func parseColumn(text, option, example string) (float64, error) {
	c, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
	if err != nil || math.IsNaN(c) {
		return 0, usagef("%s: %q is no angle; give degrees of the steering wheel, left positive, such as %s %s", option, text, option, example)
	}
	return c, nil
}

// withinReach refuses a column angle further than the steering wheel is followed.
func withinReach(flag string, m *sweep.Model, column float64) error {
	most := m.Linkage.Most.Degrees()
	if math.Abs(column) <= most {
		return nil
	}
	return usagef("--%s: %g is more than %s; the steering wheel is followed from -%.0f to %.0f degrees", flag, column, wording.Followed(m), most, most)
}

// slideFlags say what slides are looked at on.
type slideFlags struct{ radius, frontSlip, outerWeight float64 }

func (f *slideFlags) register(flags *pflag.FlagSet) {
	flags.Float64Var(&f.radius, "radius", 0, "`LENGTH` of a slide's path, radius; left out: 4000 mm, or 160 in, for a long vehicle twice its wheelbase")
	flags.Float64Var(&f.frontSlip, "front-slip", 0, "`DEGREES` that the front tyres slip in a slide; 0: they roll free")
	flags.Float64Var(&f.outerWeight, "outer-weight", 0, "`SHARE` of the front wheels' weight on the outer one, 0.5 to 1; left out: alike")
}

// pathOf is path for setups, of which some may be nil.
func (f *slideFlags) pathOf(u setup.Unit, entries []compare.Entry) (road.Slide, error) {
	longest := 0.0
	for i := range entries {
		if s := entries[i].Setup; s != nil {
			longest = max(longest, s.Vehicle.Wheelbase)
		}
	}
	return f.path(u, longest)
}

// path returns what slides are looked at on, for vehicles of up to a wheelbase, mm.
func (f *slideFlags) path(u setup.Unit, wheelbase float64) (path road.Slide, err error) {
	path.FrontSlip, path.OuterWeight = degreesOf(f.frontSlip), f.outerWeight
	switch {
	case !(f.frontSlip >= 0 && f.frontSlip <= 30):
		return path, usagef("--front-slip %g: should be from 0 to 30 degrees", f.frontSlip)
	case f.outerWeight != 0 && !(f.outerWeight >= 0.5 && f.outerWeight <= 1):
		return path, usagef("--outer-weight %g: should be from 0.5, both wheels alike, to 1, all on the outer one", f.outerWeight)
	case f.radius == 0:
		path.Radius = sweep.SlideRadius(u, wheelbase)
		return path, nil
	}
	if path.Radius = u.ToMM(f.radius); path.Radius >= wheelbase && path.Radius <= 1e6 {
		return path, nil
	}
	return path, usagef("--radius %g: should be at least the wheelbase, %.6g %s, and at most a kilometre", f.radius, u.FromMM(wheelbase), u)
}
