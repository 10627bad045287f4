package drill

import (
	"math"
	"testing"

	"github.com/golang/geo/s1"

	"locksweep/geometry/clearance"
	"locksweep/geometry/sweep"
)

// wish is what the tables of rules hold places against.
var wish = Aims{Lock: 30 * s1.Degree, Percent: 100, Leverage: 25 * s1.Degree, Clearance: 5, Tie: Tie{DefaultTieError, DefaultTieLock}}

// trait changes a place that meets every aim: lock 32, leverage 40, gap 10, error 1.
type trait func(*Figures, *Within)

func ranked(a *Aims, traits ...trait) rank {
	f := Figures{Ratio: 0.7, Worst: s1.Degree}
	w := Within{Lock: 32 * s1.Degree, Transmission: 40 * s1.Degree, Clearance: 10}
	for _, t := range traits {
		t(&f, &w)
	}
	return a.rank(&f, &w)
}

func lock(v s1.Angle) trait { return func(_ *Figures, w *Within) { w.Lock = v * s1.Degree } }
func leverage(v s1.Angle) trait {
	return func(_ *Figures, w *Within) { w.Transmission = v * s1.Degree }
}
func gap(v float64) trait     { return func(_ *Figures, w *Within) { w.Clearance = v } }
func off(v s1.Angle) trait    { return func(f *Figures, _ *Within) { f.Worst = v * s1.Degree } }
func ratio(v float64) trait   { return func(f *Figures, _ *Within) { f.Ratio = v } }
func unlike(v s1.Angle) trait { return func(f *Figures, _ *Within) { f.Unlike = v * s1.Degree } }
func opposed(f *Figures, _ *Within) {
	f.Opposed = true
}
func impossible(_ *Figures, w *Within) { w.Impossible = true }
func faults(codes ...sweep.Code) trait {
	return func(_ *Figures, w *Within) { w.Faults[sweep.ToRight] = codes }
}

// TestRules holds every rule of ranking against two places that differ by it: which comes first, and by which aim.
func TestRules(t *testing.T) {
	asking := func(change func(*Aims)) *Aims {
		a := wish
		change(&a)
		return &a
	}
	list := func(traits ...trait) []trait { return traits }
	for _, c := range []struct {
		reason        string
		aims          *Aims
		better, worse []trait
		by            Aim
		alike         bool // for all that a tape can tell
	}{
		{"backwards is worse than anything", &wish, list(faults(sweep.NoMetalStop), gap(0), leverage(1), lock(2), off(90)), list(ratio(-0.7)), Sense, false},
		{"wheels against each other likewise", &wish, list(faults(sweep.NoMetalStop)), list(opposed), Sense, false},
		{"no movement at centre is no way to steer", &wish, list(gap(0)), list(ratio(0)), Sense, false},
		{"a rod that becomes the stop comes after every gap", &wish, list(gap(0), leverage(1), lock(2)), list(faults(sweep.TouchesFirst)), Stop, false},
		{"so does a tyre", &wish, list(gap(0)), list(faults(sweep.TyreTouches)), Stop, false},
		{"so does no stop at all", &wish, list(gap(0)), list(faults(sweep.NoMetalStop)), Stop, false},
		{"so does a stop too near to a dead point", &wish, list(gap(0)), list(faults(sweep.StopMargin)), Stop, false},
		{"but that is better than none", &wish, list(faults(sweep.StopMargin)), list(faults(sweep.NoMetalStop)), Stop, false},
		{"a gap under what is wanted comes after any leverage", &wish, list(leverage(1), lock(2), off(90)), list(gap(4.9)), Clearance, false},
		{"of two such gaps the wider", &wish, list(gap(4)), list(gap(3)), Clearance, false},
		{"a hundredth of a millimetre is none", &wish, list(gap(4.995), off(1)), list(off(1.5)), Ackermann, false},
		{"more gap than is wanted is worth nothing", &wish, list(gap(5), off(1)), list(gap(50), off(1.5)), Ackermann, false},
		{"what is impossible within the slip comes after any gap", &wish, list(gap(0)), list(impossible), Clearance, false},
		{"leverage before lock", &wish, list(lock(2)), list(leverage(24)), Leverage, false},
		{"more leverage than is wanted is worth nothing", &wish, list(leverage(25), off(1)), list(leverage(80), off(1.5)), Ackermann, false},
		{"lock before error", &wish, list(off(90)), list(lock(29)), Lock, false},
		{"more lock than is wanted is a margin, no merit", &wish, list(lock(30), off(1)), list(lock(60), off(1.5)), Ackermann, false},
		{"half a degree more where both fall short of it is the same to a tape", &wish, list(lock(29)), list(lock(28.6)), Lock, true},
		{"but more than that is not", &wish, list(lock(29)), list(lock(28.4)), Lock, false},
		{"lock that is met is not given away for a tie", &wish, list(lock(30)), list(lock(29.9)), Lock, false},
		{"ratio before error", asking(func(a *Aims) { a.Ratio = 0.7 }), list(off(90)), list(ratio(0.76)), Ratio, false},
		{"within five per cent it is met", asking(func(a *Aims) { a.Ratio = 0.7 }), list(ratio(0.73), off(1)), list(off(1.5)), Ackermann, false},
		{"a ratio that is not asked for is nothing", &wish, list(ratio(2), off(1)), list(off(1.5)), Ackermann, false},
		{"likeness before error", asking(func(a *Aims) { a.Alike = true }), list(off(90)), list(unlike(1)), Alike, false},
		{"likeness that is not asked for is nothing", &wish, list(unlike(9), off(1)), list(off(1.5)), Ackermann, false},
		{"error in the end", &wish, list(off(1)), list(off(1.31)), Ackermann, false},
		{"three tenths of it are the same to a tape", &wish, list(off(1)), list(off(1.29)), Change, true},
		{"unless nothing is", asking(func(a *Aims) { a.Tie = strict }), list(off(1)), list(off(1.01)), Ackermann, false},
		{"or the most that it may be lies between", asking(func(a *Aims) { a.Within = 1.1 * s1.Degree }), list(off(1)), list(off(1.2)), Change, false},
		{"an error without meaning is as bad as any", &wish, list(off(90)), list(func(f *Figures, _ *Within) { f.Worst = s1.InfAngle() }), Ackermann, false},
		{"no number falls short", &wish, list(gap(5)), list(gap(math.NaN())), Clearance, false},
	} {
		better, worse := ranked(c.aims, c.better...), ranked(c.aims, c.worse...)
		if better.compare(&worse) >= 0 || worse.compare(&better) <= 0 {
			t.Errorf("%s: %v is not before %v", c.reason, better, worse)
		}
		if by := c.aims.decides(&better, &worse); by != c.by {
			t.Errorf("%s: decided by %v, want %v", c.reason, by, c.by)
		}
		if got := c.aims.alike(&worse, &better); got != c.alike {
			t.Errorf("%s: alike: %v, want %v", c.reason, got, c.alike)
		}
	}
}

// TestWithinTheSlip: what is worst of the place and of all about it counts, and what is off by itself adds up.
func TestWithinTheSlip(t *testing.T) {
	at := func(lock, leverage, gap float64, codes ...sweep.Code) measured {
		m := measured{nearest: clearance.Near{Gap: gap}, possible: true}
		l := s1.Angle(lock) * s1.Degree
		m.Inner, m.Transmission, m.Ratio, m.Worst = [2]s1.Angle{l, l + s1.Degree}, s1.Angle(leverage)*s1.Degree, 0.7, s1.Degree
		m.Faults[sweep.ToLeft] = codes
		return m
	}
	one, two := [][]node{make([]node, 2)}, [][]node{make([]node, 1), make([]node, 1)}
	for _, c := range []struct {
		reason              string
		all                 []measured
		groups              [][]node
		lock, leverage, gap float64
		faults              int
		impossible          bool
	}{
		{"nothing is drilled", []measured{at(32, 40, 7)}, nil, 32, 40, 7, 0, false},
		{"the worst of each figure, wherever it is", []measured{at(32, 40, 7), at(31, 41, 8), at(33, 38, 6)}, one, 31, 38, 6, 0, false},
		{"what is better about the place is no help", []measured{at(32, 40, 7), at(33, 41, 8), at(34, 42, 9)}, one, 32, 40, 7, 0, false},
		{"two holes lose what each loses", []measured{at(32, 40, 7), at(31, 39, 6), at(30, 37, 5)}, two, 29, 36, 4, 0, false},
		{"and no less than all", []measured{at(32, 40, 1), at(31, 39, 0.4), at(30, 37, 0.3)}, two, 29, 36, 0, 0, false},
		{"a fault anywhere counts", []measured{at(32, 40, 7), at(32, 40, 7), at(32, 40, 7, sweep.TyreTouches)}, one, 32, 40, 7, 1, false},
		{"two faults are told once each", []measured{at(32, 40, 7), at(32, 40, 7, sweep.TyreTouches), at(32, 40, 7, sweep.TyreTouches, sweep.StopMargin)}, one, 32, 40, 7, 2, false},
		{"where it does not assemble nothing is left", []measured{at(32, 40, 7), {}, at(32, 40, 7)}, one, 0, 0, 0, 0, true},
	} {
		w := gathered(c.all, c.groups, 20)
		if w.Lock.Degrees()-c.lock > 1e-9 || c.lock-w.Lock.Degrees() > 1e-9 || math.Abs(w.Transmission.Degrees()-c.leverage) > 1e-9 ||
			math.Abs(w.Clearance-c.gap) > 1e-9 || len(w.Faults[sweep.ToLeft]) != c.faults || w.Impossible != c.impossible {
			t.Errorf("%s: got %+v", c.reason, w)
		}
	}
	if w := gathered([]measured{at(32, 40, math.Inf(1)), at(32, 40, 30)}, [][]node{make([]node, 1)}, 20); !math.IsInf(w.Clearance, 1) {
		t.Errorf("a gap of 30 where up to 20 was looked: %v", w.Clearance)
	}
}
