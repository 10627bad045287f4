package drill

import (
	"math"
	"slices"
	"testing"

	"github.com/golang/geo/s1"

	"locksweep/fixtures/example"
	"locksweep/fixtures/trial"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// grounds are searches before their first place, and the step of a grid: rods that run into posts, a wish for more lock than there is and one
// for little error alone, no stop at all, and steerings of all kinds.
func grounds(t *testing.T) map[string]struct {
	*search
	step int
} {
	t.Helper()
	more := func(s *search) { s.aims.Lock, s.aims.Percent, s.leastLock = 45*s1.Degree, 60, 30*s1.Degree }
	stopless := posted()
	for side := range stopless.Corners {
		stopless.Corners[side].Stop = 0
	}
	list := map[string]struct {
		*search
		step int
	}{}
	add := func(name string, s *setup.Setup, on On, step int, opt Options, change func(*search)) {
		opt.NewMetal, opt.Edge, opt.Web = true, EdgeFloor, WebFloor
		r := prepared(t, s, on, opt)
		r.search.aims.settle(r.search.base)
		r.search.leastLock = min(r.search.aims.Lock, r.search.now.Lock())
		if change != nil {
			change(r.search)
		}
		list[name] = struct {
			*search
			step int
		}{r.search, step}
	}
	add("posts", posted(), Arm, trial.Every(120, 40), Options{Reach: 24}, nil)
	add("posts, more lock", posted(), Arm, trial.Every(120, 40), Options{Reach: 24}, more)
	add("no stop", stopless, DropArm, trial.Every(80, 30), Options{Reach: 16}, nil)
	add("buggy, both", example.Read(t, "field-buggy"), Both, trial.Every(280, 150), Options{}, nil)
	if trial.Long() {
		add("kart", example.Read(t, "shed-kart"), DropArm, 20, Options{}, nil)
		add("quad, more lock", example.Read(t, "pedal-quad"), Arm, 40, Options{}, more)
		add("cross rod", example.Read(t, "beam-cyclekart"), Both, 80, Options{}, nil)
		add("rack", example.Read(t, "rack-buggy"), Arm, 15, Options{}, nil)
	}
	return list
}

// TestGlanceBounds: no place is better than a glance at it says, neither as it is nor within the slip, and each bound by itself holds for all
// places for which the search asks for it.
func TestGlanceBounds(t *testing.T) {
	met, close, all := 0, 0, 0
	for name, g := range grounds(t) {
		for _, n := range g.gridOf(g.step) {
			bound, j := g.glance(n), g.figures(n)
			if j.possible && !bound.possible {
				t.Errorf("%s: %v is possible, at a glance it is not", name, n)
			}
			if !j.possible || !bound.glanced {
				continue
			}
			all++
			if bound.rank.compare(&j.rank) > 0 {
				t.Errorf("%s: %v is %v, at a glance %v", name, n, j.rank, bound.rank)
			}
			if bound.Ratio != j.Ratio || bound.change != j.change || bound.Transmission < j.Transmission || bound.Figures.Lock() < j.Figures.Lock()-1e-9 {
				t.Errorf("%s: %v has %+v, at a glance %+v", name, n, j.Figures, bound.Figures)
			}
			for aim := range Ackermann {
				if bound.rank[aim] > j.rank[aim] {
					t.Errorf("%s: %v falls short of %v by %v, at a glance by %v", name, n, aim, j.rank[aim], bound.rank[aim])
				}
			}
			for d, codes := range bound.Faults {
				if !slices.Contains(j.Faults[d], sweep.NoMetalStop) && len(codes) > 0 {
					t.Errorf("%s: %v has a stop, with faults %v, at a glance %v", name, n, j.Faults[d], codes)
				}
			}
			if j.Figures.Lock() >= g.leastLock-leastGain {
				if met++; bound.Worst > j.Worst {
					t.Errorf("%s: %v is %v off, at a glance %v", name, n, j.Worst, bound.Worst)
				}
			}
			if bound.Worst > 0.8*j.Worst {
				close++
			}
		}
	}
	if all < 30 || met < 10 || 2*close < all {
		t.Errorf("of %d places %d have a lock that counts, and of %d the error is as good as known", all, met, close)
	}
}

// TestLazyIsExact: what is asked of a pool in which places are judged, and looked at within the slip, only where that may decide, is what it is
// of one in which all are one by one.
func TestLazyIsExact(t *testing.T) {
	places, open, but := 0, 0, 0
	all := func(int) bool { return true }
	for name, g := range grounds(t) {
		grid := g.gridOf(g.step)
		pool := func() *search {
			s := newSearch(g.r, g.base)
			s.aims, s.leastLock = g.aims, g.leastLock
			s.judge(grid)
			return s
		}
		eager := pool()
		eager.wholePool()
		for _, i := range possible(eager) {
			eager.surely(&eager.pool[i], nil, nil)
		}
		for _, fits := range []func(*rank) bool{func(r *rank) bool { return r.safe() }, func(r *rank) bool { return r[Sense] == 0 }} {
			got, want := pool().mostLeverage(fits), eager.mostLeverage(fits)
			if got != want && min(got, want) < g.aims.Leverage {
				t.Errorf("%s: the most leverage is %v, of all judged one by one %v", name, got, want)
			}
		}
		lazy := pool()
		got, want := lazy.top(5, all), eager.top(5, all)
		if !slices.Equal(got, want) {
			t.Errorf("%s: the best are %v, of all judged one by one %v", name, got, want)
		}
		if len(want) > 0 && lazy.asGood(want[0], anywhere) != eager.asGood(want[0], anywhere) {
			t.Errorf("%s: the one that changes least is not that of all judged one by one", name)
		}
		if got, want := pool().trade(), eager.trade(); !slices.Equal(got, want) {
			t.Errorf("%s: the trade is %v, of all judged one by one %v", name, got, want)
		}
		glanced, unsure := 0, 0
		for i := range lazy.pool {
			j, one := &lazy.pool[i], &eager.pool[i]
			switch {
			case !one.possible && j.possible && !j.glanced:
				t.Errorf("%s: %v is possible, judged by itself it is not", name, j.node)
			case j.sure && j.rank != one.rank:
				t.Errorf("%s: %v is said to be known within the slip as %v, it is %v", name, j.node, j.rank, one.rank)
			case one.possible && one.rank.compare(&j.rank) < 0:
				t.Errorf("%s: %v is within the slip %v, better than its bound %v", name, j.node, one.rank, j.rank)
			}
			if one.possible && !j.sure {
				if unsure++; j.glanced {
					glanced++
				}
			}
		}
		if open += unsure; len(lazy.pool) < 9 {
			t.Errorf("%s: only %d places", name, len(lazy.pool))
		}
		but, places = but+glanced, places+len(lazy.pool)
		// Of places that keep the stop and the gaps first: to be alone asks for more to be looked at.
		safe := func(j *judged) bool { return j.rank.safe() }
		if got, want := pool().mostLock(safe), eager.mostLock(safe); (got - want).Abs() > 1.01e-6*s1.Degree {
			t.Errorf("%s: the most lock is %v, of all judged one by one %v", name, got, want)
		}
		for _, aim := range []Aim{Stop, Clearance, Lock, Ackermann} {
			if got, want := lazy.alone(aim), eager.alone(aim); math.Abs(got-want) > 2e-8 { // radians; Lock is told to a millionth of a degree
				t.Errorf("%s: the nearest to %v alone is %v, of all judged one by one %v", name, aim, got, want)
			}
		}
	}
	if 2*open < places || 4*but < places {
		t.Errorf("of %d places %d were left open, %d of these but glanced at", places, open, but)
	}
}

// possible lists the places of a pool that are.
func possible(s *search) []int { return s.those(func(_ int, j *judged) bool { return j.possible }) }
