package main

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/golang/geo/s1"

	"locksweep/geometry/drill"
)

// aims reads what is wanted.
func (f *drillFlags) aims() (on drill.On, a drill.Aims, err error) {
	on, ok := named(f.on, drill.Arm, drill.DropArm, drill.Both, drill.Link)
	if !ok {
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
			return on, a, usagef("--%s %g: should be more than 0, and no more than a part is large", v.flag, v.value)
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

// degreesOf is an angle given in degrees.
func degreesOf(v float64) s1.Angle { return s1.Angle(v) * s1.Degree }

// tieOf reads "ERROR,LOCK".
func tieOf(text string) (t drill.Tie, err error) {
	a, b, ok := pair(text, ",")
	if !ok || !(a >= 0 && a <= 10 && b >= 0 && b <= 10) {
		return t, usagef("--tie %q: should be two angles from 0 to 10 degrees, of Ackermann error and of lock, such as --tie 0.3,0.5", text)
	}
	return drill.Tie{Error: cmp.Or(degreesOf(a), -1), Lock: cmp.Or(degreesOf(b), -1)}, nil // 0 would stand for what is left out, less for none
}

// steerRange reads "FROM,TO".
func steerRange(text string) (from, to s1.Angle, err error) {
	a, b, ok := pair(text, ",")
	if !ok || !(a >= 1 && a < b && b <= 90) {
		return 0, 0, usagef("--steer %q: should be two angles of mean steer, from 1 to 90 degrees, such as --steer 5,30", text)
	}
	return degreesOf(a), degreesOf(b), nil
}

// named returns the one of a few that has a name, in capitals or not.
func named[T fmt.Stringer](name string, list ...T) (one T, ok bool) {
	i := slices.IndexFunc(list, func(v T) bool { return v.String() == strings.ToLower(name) })
	if i < 0 {
		return one, false
	}
	return list[i], true
}

// pair reads two numbers with a sign between them.
func pair(text, between string) (a, b float64, ok bool) {
	first, second, _ := strings.Cut(text, between)
	a, errA := strconv.ParseFloat(strings.TrimSpace(first), 64)
	b, errB := strconv.ParseFloat(strings.TrimSpace(second), 64)
	return a, b, errA == nil && errB == nil
}
