package main

import (
	"errors"
	"fmt"
	"math"
	"strconv"

	"locksweep/geometry/drill"
	"locksweep/geometry/grind"
	"locksweep/geometry/setup"
	"locksweep/render/wording"
)

func (f *drillFlags) search(s *setup.Setup, on drill.On, aims drill.Aims) (r *drill.Result, both *drill.Together, err error) {
	unit := s.Unit.ToMM
	opt := drill.Options{
		Diameter: unit(f.diameter), Edge: f.edge, Web: f.spacing, Reach: unit(f.reach), NewMetal: f.newArm, Each: f.each,
		Step: unit(f.step), Best: f.best,
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
	told, done := progress("searching", "places tried")
	opt.Progress = told
	opt.Planning = func(begun, of int) {
		if begun == 1 {
			done()
			told, done = progress("planning the cuts", fmt.Sprintf("of %d begun", of))
		}
		if told != nil {
			told(begun)
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
	return r, both, f.refused(s.Unit, err)
}

// refused says why there is no search, in the words of the command line where that asks for what cannot be; nil for nil.
func (f *drillFlags) refused(u setup.Unit, err error) error {
	var (
		room   *drill.NoRoomError
		option *drill.OptionError
		work   *drill.WorkError
	)
	switch {
	case err == nil:
		return nil
	case errors.As(err, &room):
		return noAnswer{f.source.about(errors.New(wording.NoRoom(u, room)))}
	case errors.Is(err, drill.ErrNowhere), errors.Is(err, grind.ErrNothingMarked):
		return noAnswer{f.source.about(err)}
	case errors.As(err, &option):
		return usagef("%s", outOfRange(u, option))
	case errors.As(err, &work):
		return usagef("%s", f.tooMuch(u, work))
	case errors.Is(err, drill.ErrNoLock):
		return usagef("--grind: %v; say it with --lock DEGREES", err)
	case errors.Is(err, drill.ErrNoDropArm), errors.Is(err, drill.ErrNoDragLink):
		return usagef("--on %s: %v", f.on, err)
	case errors.Is(err, drill.ErrBothEach), errors.Is(err, drill.ErrOneHole):
		return usagef("--each --on %s: %v", f.on, err)
	}
	return f.source.about(err)
}

// outOfRange says in the words of the command line and in the file's unit that an option is out of range.
func outOfRange(u setup.Unit, e *drill.OptionError) string {
	value, low, high, unit := e.Value, e.Low, e.High, ""
	if e.Length {
		value, low, high, unit = u.FromMM(value), u.FromMM(low), u.FromMM(high), " "+u.String()
	}
	given := fmt.Sprintf("%.4g", value)
	if value >= 1e4 && value <= 1e6 {
		given = fmt.Sprintf("%.0f", value)
	}
	return fmt.Sprintf("--%s %s%s%s: should be from %.4g to %.4g%s", e.Option, given, unit, e.Why, low, high, unit)
}

// tooMuch says that a search is too large, and what would make it small enough.
func (f *drillFlags) tooMuch(u setup.Unit, e *drill.WorkError) string {
	what, cure := "the outline", "is it too large, or in the wrong unit?"
	switch {
	case f.step > 0:
		what = fmt.Sprintf("--step %.4g %s", f.step, u)
		switch {
		case e.Needed > 0:
			cure = fmt.Sprintf("--step %.3g would do", math.Ceil(u.FromMM(e.Needed)*100)/100)
		case f.reach > 0:
			cure = "no step makes that few enough: look less far, with a lesser --reach"
		}
	case f.reach > 0:
		what, cure = fmt.Sprintf("--reach %.4g %s", f.reach, u), "look less far, or give the outline"
	}
	return fmt.Sprintf("%s: %s places to try, at most %d are; %s", what, wording.Many(e.Places, e.Most), e.Most, cure)
}
