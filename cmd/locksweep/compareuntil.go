package main

import (
	"errors"
	"math"
	"strconv"
	"strings"

	"locksweep/geometry/compare"
	"locksweep/geometry/road"
	"locksweep/geometry/setup"
	"locksweep/geometry/setupfile"
	"locksweep/render/export"
	"locksweep/render/wording"
)

// wanted is what --until asks of a figure, and the range in which it is looked for.
type wanted struct {
	export.Until
	axis compare.Axis
}

// mostMet is how many values that meet what is wanted are set beside the setup as it stands.
const mostMet = 5

// parseUntil reads --until FIGURE=VALUE with its --vary KEY=FROM..TO.
func (f *compareFlags) parseUntil() (w *wanted, err error) {
	if len(f.vary) != 1 || len(f.paths) > 1 || len(f.variants) > 1 {
		return nil, usagef("--until takes one setup file, one --vary KEY=FROM..TO and at most one --variant")
	}
	key, text, ok := strings.Cut(f.until, "=")
	value, errValue := strconv.ParseFloat(strings.TrimSpace(text), 64)
	if !ok || errValue != nil || !(math.Abs(value) < 1e9) {
		return nil, usagef("--until %q: write it as FIGURE=VALUE, a number without a unit, such as --until width=990", f.until)
	}
	w = &wanted{Until: export.Until{Figure: strings.TrimSpace(key), Wanted: value}}
	if err := checkFigure("--until", w.Figure); err != nil {
		return nil, err
	}
	vary := f.vary[0]
	if !strings.Contains(vary, "/") {
		vary += "/2" // how many values are looked at is for the search to say
	}
	w.axis, err = parseVary(vary)
	w.Key = w.axis.Key
	return w, err
}

// readUntil looks for the values of --vary at which a figure is as wanted, and sets the setup as it stands beside them, or
// beside the nearest.
func (f *compareFlags) readUntil(sh *shell) (*compared, error) {
	w, err := f.parseUntil()
	if err != nil {
		return nil, err
	}
	base, err := f.base(sh)
	if err != nil {
		return nil, err
	}
	s, err := base.setup()
	if err != nil {
		return nil, err
	}
	asked := &compared{Compared: export.Compared{Unit: s.Unit, Until: &w.Until}}
	asked.add(base, compare.Entry{Name: s.Name, Setup: s})
	path, err := f.slides.path(s.Unit, s.Vehicle.Wheelbase)
	if err != nil {
		return nil, err
	}
	with := func(v float64) (source, compare.Entry, error) { return w.at(base, v) }
	_, done := progress("searching", "")
	err = w.search(s.Unit, path, with)
	done()
	if err != nil {
		return nil, asVaried(err, []compare.Axis{w.axis})
	}
	for _, v := range w.beside() {
		src, e, err := with(v)
		if err != nil {
			return nil, err
		}
		asked.add(src, e)
	}
	asked.Comparison = compare.Run(asked.entries, path, nil)
	return asked, nil
}

// at is a setup at a value of what is varied.
func (w *wanted) at(base source, v float64) (source, compare.Entry, error) {
	set := w.Key + "=" + export.Figure(v)
	src := base.with(set)
	s, err := src.setup()
	return src, compare.Entry{Name: set, Setup: s, Err: err}, err
}

// search finds what is wanted. The error is the first mistake in a value where the file can bear none of the range.
func (w *wanted) search(u setup.Unit, path road.Slide, with func(v float64) (source, compare.Entry, error)) error {
	row := compare.Run(nil, path, nil).Find(w.Figure)
	scale := 1.0 // of the unit in which the figure is wanted
	switch row.Kind {
	case compare.Angle:
		scale = math.Pi / 180
	case compare.Length, compare.Ground:
		scale = u.ToMM(1)
	}
	var first error
	gap := func(values []float64) []float64 {
		entries := make([]compare.Entry, len(values))
		for i, v := range values {
			var err error
			if _, entries[i], err = with(v); err != nil && first == nil {
				first = err
			}
		}
		found, _ := compare.Run(entries, path, nil).Find(w.Figure).Worse()
		for i := range found {
			found[i] -= w.Wanted * scale
			if math.IsInf(found[i], 0) {
				found[i] = math.NaN()
			}
		}
		return found
	}
	tolerance := row.Kind.Slack() / 50
	values := w.axis.Values
	w.Found = compare.Until(values[0], values[len(values)-1], tolerance, gap)
	var mistakes setupfile.Errors
	if w.Found.Known == 0 && errors.As(first, &mistakes) {
		return first
	}
	for i, v := range w.Found.Met {
		w.Found.Met[i] = plainest(v, func(x float64) bool { return math.Abs(gap([]float64{x})[0]) <= tolerance })
	}
	return nil
}

// plainest returns a value with as few decimals as will do.
func plainest(v float64, does func(x float64) bool) float64 {
	for decimals := 0; decimals <= 6; decimals++ {
		if x, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'f', decimals, 64), 64); does(x) {
			return x
		}
	}
	return v
}

// beside lists the values that are compared with the setup as it stands.
func (w *wanted) beside() []float64 {
	switch met := w.Found.Met; {
	case len(met) > 0:
		return met[:min(len(met), mostMet)]
	case math.IsNaN(w.Found.Nearest):
		return nil
	}
	return []float64{w.Found.Nearest}
}

// sought says what --until found.
func (asked *compared) sought() []string {
	w := asked.Until
	return wording.Until(asked.Unit, asked.Find(w.Figure), w.Key, w.Wanted, w.Found)
}
