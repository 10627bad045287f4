package main

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"
	"github.com/spf13/pflag"

	"locksweep/geometry/drill"
	"locksweep/geometry/grind"
	"locksweep/geometry/setup"
	"locksweep/geometry/setupfile"
	"locksweep/render/drillmap"
	"locksweep/render/export"
	"locksweep/render/report"
	"locksweep/render/sheet"
	"locksweep/render/template"
	"locksweep/render/wording"
)

var drillCommand = command{
	name: "drill", args: "SETUP",
	brief: "where to put the hole of the steering arm or of the drop arm",
	about: "Tries every place that the metal allows, rods cut to suit, and lists the best.\n" +
		"Aims in order: stop, gaps, leverage, --lock, --ratio, --alike, --ackermann.",
	also: []string{"alike", "steer", "within", "ratio", "diameter", "edge", "spacing", "reach", "new-arm", "each", "grind", "slip", "tie", "step", "best", "figure", "pick", "sheet",
		"paper", "save", "force"},
	example: "locksweep drill kart.toml --lock 40 --template arm.svg --map arm-map.svg",
	prepare: prepareDrill,
}

type drillFlags struct {
	source                         source
	target                         target
	saving                         saving
	json, alike, newArm, each      bool
	grind                          bool
	on, steer, slip, tie           string
	lock, ackermann, within, ratio float64
	diameter, edge, spacing, reach float64
	step                           float64
	best, pick                     int
	chart, figure, template, paper string
	sheet                          string
}

func prepareDrill(flags *pflag.FlagSet) action {
	var f drillFlags
	flags.StringVar(&f.on, "on", "arm", "which `HOLE`: arm, drop-arm, both or drag-link")
	flags.Float64Var(&f.lock, "lock", 0, "`DEGREES` wanted of the inner wheel; left out: as today")
	flags.Float64Var(&f.ackermann, "ackermann", 100, "`PERCENT` wanted: 100 ideal, 0 parallel")
	flags.StringVar(&f.steer, "steer", "", "mean steer `FROM,TO` that this counts for; left out: 5 to the lock")
	flags.Float64Var(&f.within, "within", 0, "`DEGREES` that the inner wheel may be off that; 0: any")
	flags.Float64Var(&f.ratio, "ratio", 0, "`WHEEL` turn per turn of the column, within 5 %; 0: any")
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
	flags.BoolVar(&f.json, "json", false, "everything as one JSON object, in full precision")
	flags.StringVar(&f.chart, "map", "", "draw a map of the metal to `FILE`")
	flags.StringVar(&f.figure, "figure", "lock", "of the map, `NAME`: lock, error, ratio or transmission")
	flags.StringVar(&f.template, "template", "", "draw a 1:1 template to drill by to `FILE`, FILE-2 …")
	flags.IntVar(&f.pick, "pick", 1, "`NUMBER` of the place that the template is for")
	flags.StringVar(&f.sheet, "sheet", "all", "`ARMS` on the template: all, left, right or drop-arm")
	flags.StringVar(&f.paper, "paper", "a4", "of drawings: `a4|letter`, or either with -landscape")
	f.saving.register(flags)
	f.source.register(flags)
	f.target.register(flags)
	return f.run
}

func (f *drillFlags) run(sh *shell, args []string) (err error) {
	if f.source.path, err = oneSetup("drill", args); err != nil {
		return err
	}
	on, aims, err := f.aims()
	if err != nil {
		return err
	}
	figure, err := figureOf(f.figure)
	if err != nil {
		return err
	}
	sheets, err := f.sheets()
	if err != nil {
		return err
	}
	if f.grind && f.saving.path != "" {
		return usagef("--save holds a hole or a cut: without --grind save the hole, then the cut with grind --variant … --save")
	}
	if on == drill.Both && f.chart != "" {
		return usagef("--map shows one hole; ask for it with --on arm or --on drop-arm")
	}
	name, data, err := readInput(sh, f.source.path)
	if err != nil {
		return err
	}
	s, warnings, err := setupfile.Read(name, data, f.source.opt)
	if err != nil {
		return err
	}
	f.source.tell(sh, warnings)
	r, both, err := f.search(s, on, aims)
	if err != nil {
		return err
	}
	out, err := f.print(sh, r, both, func(p *drill.Place) []string { return f.settings(r, p, name, data) })
	if err != nil {
		return err
	}
	if err := f.target.write(sh, f.source.path, out); err != nil {
		return err
	}
	if err := f.draw(r, both, figure, sheets); err != nil {
		return err
	}
	if both != nil && both.Plan == nil {
		return noAnswer{f.source.about(drill.ErrNoTogether)}
	}
	if missed := report.Missed(r); missed != "" {
		return noAnswer{f.source.about(errors.New(missed))}
	}
	f.source.data = data
	return f.save(sh, r, func(p *drill.Place) []string { return f.settings(r, p, name, data) })
}

// save writes the setup with the picked place as one more variant, where that is asked for.
func (f *drillFlags) save(sh *shell, r *drill.Result, settings func(*drill.Place) []string) error {
	if f.saving.path == "" {
		return nil
	}
	if f.pick < 1 || f.pick > len(r.Best) {
		return noAnswer{f.source.about(fmt.Errorf("--save: there is no place %d", f.pick))}
	}
	if err := f.fit(r, f.pick-1, "--save: nothing is written of"); err != nil {
		return err
	}
	set := settings(&r.Best[f.pick-1].Place)
	if len(set) == 0 {
		return noAnswer{f.source.about(errors.New("--save: " + noSettings(r)))}
	}
	return f.saving.write(sh, &f.source, fmt.Sprintf("drilled, place %d", f.pick), set, f.target.force)
}

// draw writes the map and the template, where they are asked for.
func (f *drillFlags) draw(r *drill.Result, both *drill.Together, figure drill.Figure, opt template.Options) error {
	if f.chart != "" {
		out, err := drillmap.Draw(r, figure, drillmap.Options{Paper: opt.Paper, Program: program})
		if err != nil {
			return noAnswer{err}
		}
		if err := writeFile(f.chart, f.source.path, out, f.target.force); err != nil {
			return err
		}
	}
	if f.template == "" {
		return nil
	}
	if len(r.Misses) > 0 {
		return noAnswer{f.source.about(errors.New("no template, since not all aims are met: " + report.Missed(r)))}
	}
	pick := f.pick - 1
	if both != nil {
		if pick = 0; both.Plan == nil {
			return noAnswer{f.source.about(drill.ErrNoTogether)}
		}
	}
	if err := f.fit(r, pick, "no template for"); err != nil {
		return err
	}
	var drawn [][]byte
	if onlyCut := both != nil && r.Best[0].Existing != "" && len(both.Plan.Cuts) > 0; !onlyCut {
		var err error
		if drawn, err = template.Drill(r, pick, opt); err != nil {
			return noAnswer{err}
		}
	}
	if both != nil && len(both.Plan.Cuts) > 0 {
		cuts, err := template.Grind(both.Plan, template.GrindOptions{Paper: opt.Paper, Program: opt.Program})
		if err != nil {
			return noAnswer{f.source.about(err)}
		}
		drawn = append(drawn, cuts...)
	}
	return writeSheets(f.template, f.source.path, drawn, f.target.force)
}

// fit refuses a place that is listed with an alarm: such a one is neither drawn to drill by nor saved.
func (f *drillFlags) fit(r *drill.Result, pick int, refusal string) error {
	if pick < 0 || pick >= len(r.Best) || len(r.Best[pick].Alarms) == 0 {
		return nil
	}
	return noAnswer{f.source.about(fmt.Errorf("%s place %d: %s", refusal, pick+1, strings.Join(wording.DrillAlarms(r, &r.Best[pick]), "; ")))}
}

// sheets reads what paper is wanted and which arms on it.
func (f *drillFlags) sheets() (opt template.Options, err error) {
	if err := cmp.Or(drawingTo("--map", f.chart), drawingTo("--template", f.template)); err != nil {
		return opt, err
	}
	opt.Program, opt.File = program, f.template
	if opt.Paper, err = sheet.SizeByName(f.paper); err != nil {
		return opt, usagef("--paper: %v", err)
	}
	for _, a := range []template.Arms{template.All, template.Left, template.Right, template.Drop} {
		if a.String() == strings.ToLower(f.sheet) {
			opt.Arms = a
			return opt, nil
		}
	}
	return opt, usagef("--sheet %s: should be all, left, right or drop-arm", f.sheet)
}

func figureOf(name string) (drill.Figure, error) {
	for _, f := range []drill.Figure{drill.LockFigure, drill.ErrorFigure, drill.RatioFigure, drill.TransmissionFigure} {
		if f.String() == strings.ToLower(name) {
			return f, nil
		}
	}
	return 0, usagef("--figure %s: there are four, lock, error, ratio and transmission", name)
}

// search carries the search out.
func (f *drillFlags) search(s *setup.Setup, on drill.On, aims drill.Aims) (r *drill.Result, both *drill.Together, err error) {
	unit := s.Unit.ToMM
	told, done := progress("places tried")
	opt := drill.Options{
		Diameter: unit(f.diameter), Edge: f.edge, Web: f.spacing, Reach: unit(f.reach), NewMetal: f.newArm, Each: f.each,
		Step: unit(f.step), Best: f.best, Progress: told,
	}
	if f.slip != "" {
		slip, err := strconv.ParseFloat(f.slip, 64)
		if err != nil || !(slip >= 0) {
			return nil, nil, usagef("--slip %q: should be a length, 0 for none", f.slip)
		}
		if opt.Slip = unit(slip); slip == 0 {
			opt.Slip = -1
		}
	}
	if f.grind {
		if both, err = drill.SearchTogether(s, on, aims, opt); both != nil {
			r, err = both.Result, nil
		}
	} else {
		r, err = drill.Search(s, on, aims, opt)
	}
	done()
	var (
		room   *drill.NoRoomError
		option *drill.OptionError
		work   *drill.WorkError
	)
	switch {
	case errors.As(err, &room), errors.Is(err, drill.ErrNowhere):
		return nil, nil, noAnswer{f.source.about(err)}
	case errors.As(err, &option):
		return nil, nil, usagef("%s", outOfRange(s.Unit, option))
	case errors.As(err, &work):
		return nil, nil, usagef("%s", f.tooMuch(s.Unit, work))
	case errors.Is(err, drill.ErrNoLock):
		return nil, nil, usagef("--grind: %v; say it with --lock DEGREES", err)
	case errors.Is(err, grind.ErrNothingMarked):
		return nil, nil, noAnswer{f.source.about(err)}
	case errors.Is(err, drill.ErrBothEach):
		return nil, nil, usagef("--each --on both: %v", err)
	case errors.Is(err, drill.ErrNoDropArm), errors.Is(err, drill.ErrNoDragLink):
		return nil, nil, usagef("--on %s: %v", f.on, err)
	case errors.Is(err, drill.ErrOneHole):
		return nil, nil, usagef("--each --on %s: %v", f.on, err)
	case err != nil:
		return nil, nil, f.source.about(err)
	}
	return r, both, nil
}

// outOfRange says in the words of the command line and in the file's unit that an option is out of range.
func outOfRange(u setup.Unit, e *drill.OptionError) string {
	value, low, high, unit := e.Value, e.Low, e.High, ""
	if e.Length {
		value, low, high, unit = u.FromMM(value), u.FromMM(low), u.FromMM(high), " "+u.String()
	}
	return fmt.Sprintf("--%s %.4g%s%s: should be from %.4g to %.4g%s", e.Option, value, unit, e.Why, low, high, unit)
}

// tooMuch says that a search is too large, and what would make it small enough.
func (f *drillFlags) tooMuch(u setup.Unit, e *drill.WorkError) string {
	what, cure := "the outline", "is it too large, or in the wrong unit?"
	switch {
	case f.step > 0:
		what = fmt.Sprintf("--step %.4g %s", f.step, u)
		if cure = "a coarser step?"; e.Needed > 0 {
			cure = fmt.Sprintf("--step %.3g would do", math.Ceil(u.FromMM(e.Needed)*100)/100)
		}
	case f.reach > 0:
		what, cure = fmt.Sprintf("--reach %.4g %s", f.reach, u), "look less far, or give the outline"
	}
	return fmt.Sprintf("%s: %s places to try, at most %d are; %s", what, wording.Many(e.Places, e.Most), e.Most, cure)
}

func (f *drillFlags) print(sh *shell, r *drill.Result, both *drill.Together, settings func(*drill.Place) []string) ([]byte, error) {
	if f.json {
		return export.Drill(r, both, f.source.origin(), settings)
	}
	opt := report.DrillOptions{Variant: f.source.opt.Variant, Set: f.source.opt.Set, Colour: sh.colour && !f.target.toFile(), Together: both}
	if len(r.Best) > 0 && r.Best[0].Existing == "" {
		if opt.Settings = settings(&r.Best[0].Place); opt.Settings == nil {
			opt.NoSettings = noSettings(r)
		}
	}
	return report.Drill(r, opt), nil
}

// aims reads what is wanted.
func (f *drillFlags) aims() (on drill.On, a drill.Aims, err error) {
	switch strings.ToLower(f.on) {
	case "arm":
		on = drill.Arm
	case "drop-arm":
		on = drill.DropArm
	case "both":
		on = drill.Both
	case "drag-link":
		on = drill.Link
	default:
		return on, a, usagef("--on %s: there are four, arm, drop-arm, both and drag-link", f.on)
	}
	for _, v := range []struct {
		flag        string
		value, most float64
	}{{"lock", f.lock, 90}, {"within", f.within, 90}, {"ratio", f.ratio, 20}} {
		if !(v.value >= 0 && v.value <= v.most) {
			return on, a, usagef("--%s %g: should be more than 0 and at most %g", v.flag, v.value, v.most)
		}
	}
	for _, v := range []struct { // how far these may go depends on the file's unit
		flag  string
		value float64
	}{{"diameter", f.diameter}, {"reach", f.reach}, {"step", f.step}} {
		if !(v.value >= 0 && v.value <= 1e6) {
			return on, a, usagef("--%s %g: should be more than 0", v.flag, v.value)
		}
	}
	if f.best < 1 {
		return on, a, usagef("--best %d: the number of places to list should be from 1 to 20", f.best)
	}
	if !(f.ackermann >= -500 && f.ackermann <= 500) {
		return on, a, usagef("--ackermann %g: should be a percentage from -500 to 500; 100 is ideal, 0 parallel", f.ackermann)
	}
	a = drill.Aims{
		Lock: degreesOf(f.lock), Percent: f.ackermann, Within: degreesOf(f.within), Ratio: f.ratio, Alike: f.alike,
	}
	if f.steer != "" {
		if a.From, a.To, err = steerRange(f.steer); err != nil {
			return on, a, err
		}
	}
	if f.tie != "" {
		a.Tie, err = tieOf(f.tie)
	}
	return on, a, err
}

func degreesOf(v float64) s1.Angle { return s1.Angle(v) * s1.Degree }

// tieOf reads "ERROR,LOCK".
func tieOf(text string) (t drill.Tie, err error) {
	first, second, _ := strings.Cut(text, ",")
	a, errA := strconv.ParseFloat(strings.TrimSpace(first), 64)
	b, errB := strconv.ParseFloat(strings.TrimSpace(second), 64)
	if errA != nil || errB != nil || !(a >= 0 && a <= 10 && b >= 0 && b <= 10) {
		return t, usagef("--tie %q: should be two angles from 0 to 10 degrees, of Ackermann error and of lock, such as --tie 0.3,0.5", text)
	}
	none := func(v float64) s1.Angle {
		if v == 0 {
			return -1
		}
		return degreesOf(v)
	}
	return drill.Tie{Error: none(a), Lock: none(b)}, nil
}

// steerRange reads "FROM,TO".
func steerRange(text string) (from, to s1.Angle, err error) {
	low, high, _ := strings.Cut(text, ",")
	a, errA := strconv.ParseFloat(strings.TrimSpace(low), 64)
	b, errB := strconv.ParseFloat(strings.TrimSpace(high), 64)
	if errA != nil || errB != nil || !(a >= 1 && a < b && b <= 90) {
		return 0, 0, usagef("--steer %q: should be two angles of mean steer, from 1 to 90 degrees, such as --steer 5,30", text)
	}
	return degreesOf(a), degreesOf(b), nil
}

// settings returns what --set takes to get a place's sweep; nil where the file's form does not allow it. The
// ways to write it are tried until one reads back as the place.
func (f *drillFlags) settings(r *drill.Result, p *drill.Place, name string, data []byte) []string {
	for _, balls := range ballSettings(r, p) {
		for _, rods := range rodSettings(r, p) {
			set := append(append([]string{}, balls...), rods...)
			opt := setupfile.Options{Variant: f.source.opt.Variant, Set: append(append([]string{}, f.source.opt.Set...), set...)}
			if got, _, err := setupfile.Read(name, data, opt); err == nil && stands(got, r, p) {
				return set
			}
		}
	}
	return nil
}

// noSettings says why a place cannot be given with --set.
func noSettings(r *drill.Result) string {
	if len(r.Setup.Changes) > 0 && r.On != drill.Arm {
		return "place 1 cannot be swept with --set: [change] moves the drop arm's holes after it"
	}
	return "place 1 cannot be swept with --set, because of the form in which the file gives arms or rods: write the place into a copy of the file"
}

// stands tells whether a setup has its balls and rods as the place has them, to a ten-thousandth of a millimetre.
func stands(s *setup.Setup, r *drill.Result, p *drill.Place) bool {
	const same = 1e-4
	rods := r.Rods(p)
	if link := s.DragLink; link != nil {
		length, wanted := link.Rod.Length, rods[link.Side]
		if link.Pickup.Sub(p.Link).Norm() > same || length != 0 && !(length-wanted < same && wanted-length < same) {
			return false
		}
		s = s.Clone()
		s.Corners[link.Side].Rod.Length = 0 // stands for the cross rod's once
	}
	for _, side := range setup.Sides {
		length := s.Corners[side].Rod.Length
		if s.Corners[side].Arm.Pickup.Sub(p.Pickups[side]).Norm() > same || s.DropArm.Pins[side].Sub(p.Pins[side]).Norm() > same ||
			length != 0 && !(length-rods[side] < same && rods[side]-length < same) {
			return false
		}
	}
	return true
}

// ballSettings lists the ways to say where the balls are: as the file has them, before [change] hangs parts anew.
func ballSettings(r *drill.Result, p *drill.Place) (ways [][]string) {
	length := func(mm float64) string { return export.Figure(r.Setup.Unit.FromMM(mm)) }
	filed := p.Fit(r.Setup).AsHung()
	pickups, pins := [2]r3.Vector{filed.Corners[0].Arm.Pickup, filed.Corners[1].Arm.Pickup}, filed.DropArm.Pins
	point := func(key string, ball r3.Vector) string {
		return fmt.Sprintf("%s=[%s, %s, %s]", key, length(ball.X), length(ball.Y), length(ball.Z))
	}
	if r.On == drill.Link {
		return [][]string{{point("drag_link.pickup", filed.DragLink.Pickup)}}
	}
	arm := [][]string{nil}
	if r.On != drill.DropArm {
		left, right := point("arm.pickup", pickups[0]), point("right.arm.pickup", pickups[1])
		arm = [][]string{{left}, {left, right}}
	}
	drop := [][]string{nil}
	if r.On != drill.Arm {
		left, right := point("drop_arm.left", pins[0]), point("drop_arm.right", pins[1])
		drop = [][]string{{point("drop_arm.pin", pins[0])}, {left, right}}
	}
	for _, a := range arm {
		for _, d := range drop {
			ways = append(ways, append(append([]string{}, a...), d...))
		}
	}
	return ways
}

// rodSettings lists the ways to say how long the rods are.
func rodSettings(r *drill.Result, p *drill.Place) [][]string {
	rods := r.Rods(p)
	length := func(mm float64) string { return export.Figure(r.Setup.Unit.FromMM(mm)) }
	left, right := length(rods[0]), length(rods[1])
	if link := r.Setup.DragLink; link != nil {
		return [][]string{nil, {"drag_link.length=" + length(rods[link.Side]), "tie_rod.length=" + length(rods[link.Side.Other()])}}
	}
	return [][]string{nil, {"tie_rod.length=" + left}, {"tie_rod.left=" + left, "tie_rod.right=" + right}}
}
