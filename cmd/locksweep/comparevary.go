package main

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/golang/geo/s1"

	"locksweep/geometry/compare"
	"locksweep/geometry/setup"
	"locksweep/geometry/setupfile"
	"locksweep/render/export"
)

// Bounds of what is varied.
const (
	mostValues = 200  // of one axis
	mostVaried = 2000 // of two together
)

// parseVary reads KEY=FROM..TO/N.
func parseVary(text string) (a compare.Axis, err error) {
	wrong := func(what string) error {
		return usagef("--vary %q: %s; write it as KEY=FROM..TO/N, such as --vary 'arm.pickup[1]=-20..-50/7'", text, what)
	}
	key, value, ok := setupfile.SplitSet(text)
	if !ok {
		return a, wrong("there is no =")
	}
	limits, count, ok := strings.Cut(value, "/")
	if !ok || !strings.Contains(limits, "..") {
		return a, wrong("the range is not complete")
	}
	from, to, ok := pair(limits, "..")
	if !ok || !(math.Abs(from) < 1e9 && math.Abs(to) < 1e9) || from == to {
		return a, wrong("FROM and TO should be two different numbers without a unit")
	}
	n, errN := strconv.Atoi(strings.TrimSpace(count))
	if errN != nil || n < 2 || n > mostValues {
		return a, wrong(fmt.Sprintf("N, how many values, should be from 2 to %d", mostValues))
	}
	a.Key = key
	for i := range n {
		v := from + (to-from)*float64(i)/float64(n-1)
		// Twelve digits are more than any tape, and free of what the division leaves behind.
		v, _ = strconv.ParseFloat(strconv.FormatFloat(v, 'g', 12, 64), 64)
		a.Values = append(a.Values, v)
	}
	return a, nil
}

// readVaried reads one setup with every value of --vary and sets all of them side by side.
func (f *compareFlags) readVaried(sh *shell) (*compared, error) {
	if len(f.paths) > 1 || len(f.variants) > 1 {
		return nil, usagef("--vary takes one setup file, with at most one --variant")
	}
	asked := &compared{}
	for _, text := range f.vary {
		a, err := parseVary(text)
		if err != nil {
			return nil, err
		}
		asked.Axes = append(asked.Axes, a)
	}
	switch {
	case len(asked.Axes) > 2:
		return nil, usagef("--vary stands %d times; two values at once are as much as a map can show", len(asked.Axes))
	case len(asked.Axes) == 2 && len(asked.Axes[0].Values)*len(asked.Axes[1].Values) > mostVaried:
		return nil, usagef("--vary: %d by %d setups; at most %d together", len(asked.Axes[0].Values), len(asked.Axes[1].Values), mostVaried)
	}
	base, err := f.base(sh)
	if err != nil {
		return nil, err
	}
	if err := asked.readValues(base); err != nil {
		return nil, err
	}
	return asked, f.sweep(asked)
}

// readValues reads the setup with every value. A value that the file cannot bear is told beside the others; it is
// an error where all are so.
func (asked *compared) readValues(base source) error {
	for i := range asked.Axes {
		asked.Axes[i].Today = math.NaN()
	}
	if s, err := base.setup(); err == nil { // else it may be a varied value that mends it
		if s.Before != nil {
			s = s.Before // the file's figures are varied, not what [change] makes of them
		}
		asked.today(s)
	}
	var first error
	good := false
	all := settings(asked.Axes)
	for _, set := range all {
		src := base.with(set...)
		e := compare.Entry{Name: strings.Join(set, ", "), Brief: true}
		s, err := src.setup()
		var mistakes setupfile.Errors
		switch {
		case errors.As(err, &mistakes):
			first = cmp.Or(first, err)
			e.Err = errors.New(mistakes[0].Key + ": " + mistakes[0].Text)
		case err != nil:
			return err
		default:
			if !good {
				asked.measured(s)
			}
			e.Setup = s
			if err := bounded([]compare.Entry{e}, len(all), mostPointsVaried); err != nil {
				return err
			}
			asked.Unit, asked.title, good = s.Unit, s.Name, true
		}
		asked.add(src, e)
	}
	if !good {
		return asVaried(first, asked.Axes)
	}
	return nil
}

// measured says what the varied keys are counted in.
func (asked *compared) measured(s *setup.Setup) {
	for i := range asked.Axes {
		a := &asked.Axes[i]
		a.Quantity = setup.Words
		if figure, m := s.Figure(a.Key); figure != nil {
			a.Quantity = m.Quantity
		}
	}
}

// today says what the varied keys are in the setup with nothing varied. A size of nought is one that is not given.
func (asked *compared) today(s *setup.Setup) {
	for i := range asked.Axes {
		a := &asked.Axes[i]
		figure, m := s.Figure(a.Key)
		switch {
		case figure == nil || *figure == 0 && !m.Signed:
		case m.Quantity == setup.OfLength:
			a.Today = s.Unit.FromMM(*figure)
		case m.Quantity == setup.OfAngle:
			a.Today = s1.Angle(*figure).Degrees()
		default:
			a.Today = *figure
		}
	}
}

// asVaried names --vary where a mistake lies in a value that it gave.
func asVaried(err error, axes []compare.Axis) error {
	var mistakes setupfile.Errors
	if errors.As(err, &mistakes) {
		for _, e := range mistakes {
			varied := slices.ContainsFunc(axes, func(a compare.Axis) bool { return strings.HasPrefix(e.Excerpt, a.Key+"=") })
			if e.Source == "--set" && varied {
				e.Source = "--vary"
			}
		}
	}
	return err
}

// settings lists what is set, entry by entry: the second axis runs faster.
func settings(axes []compare.Axis) (sets [][]string) {
	sets = [][]string{nil}
	for _, a := range axes {
		var next [][]string
		for _, set := range sets {
			for _, v := range a.Values {
				next = append(next, append(slices.Clone(set), a.Key+"="+export.Figure(v)))
			}
		}
		sets = next
	}
	return sets
}

// Figures shown where none are asked for.
var (
	variedFigures = []string{"lock_inner", "lock_outer", "ackermann_error_20", "turning_circle_balanced", "least_transmission", "least_gap",
		"slide_held_inside", "slide_held_outside", "slide_apart_30"}
	mappedFigures = []string{"lock_inner", "ackermann_error_20", "least_transmission", "slide_held_inside"}
)

// mostFigures is how many figures stand beside each other.
const mostFigures = 9

// figureKeys returns the figures that are shown of what is varied.
func (f *compareFlags) figureKeys(axes int) ([]string, error) {
	switch {
	case len(f.figures) > 0 && axes == 0:
		return nil, usagef("--figure goes with --vary; without it every figure is in the table")
	case len(f.figures) > mostFigures:
		return nil, usagef("--figure stands %d times; at most %d figures have room beside each other", len(f.figures), mostFigures)
	case len(f.figures) == 0 && axes == 2:
		return mappedFigures, nil
	case len(f.figures) == 0:
		return variedFigures, nil
	}
	for _, key := range f.figures {
		if err := checkFigure("--figure", key); err != nil {
			return nil, err
		}
	}
	return f.figures, nil
}

// checkFigure refuses a key that is no figure's.
func checkFigure(flag, key string) error {
	keys := compare.Keys()
	if slices.Contains(keys, key) {
		return nil
	}
	return unlisted(flag+" "+key+": there is no such figure", key, keys, "%s", "they are "+strings.Join(keys, ", "))
}
