package advance

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"locksweep/fixtures/trial"
)

// TestBlurredRoomEndsASearch: where rounding makes every step, however short, take a little more than the room that is
// left, that is contact, on long ways too.
func TestBlurredRoomEndsASearch(t *testing.T) {
	for _, at := range []float64{1e-3, 0.7, 14.650736865207985, 31, 1e4} {
		n := 0
		m := counted(2*at, func(t float64) float64 {
			if t < at {
				return at - t + 1
			}
			return 1.8766742684306337e-06
		}, func(from, to *state) float64 {
			if from.t < at {
				return math.Max(to.t-at, 0)*1e9 + to.t - from.t
			}
			return 1.8958565e-06
		}, &n)
		if got, found := m.First(1e-8); !found || math.Abs(got-at) > 1e-6*at {
			t.Errorf("contact at %v (%v), want %v", got, found, at)
		}
	}
}

// wave is a room that rises and falls: base + Σ size·sin(rate·t + phase).
type wave struct {
	base               float64
	size, rate, phases []float64
}

func drawWave(t *rapid.T) wave {
	n := rapid.IntRange(1, 4).Draw(t, "terms")
	w := wave{base: rapid.Float64Range(0, 3).Draw(t, "base")}
	for range n {
		w.size = append(w.size, rapid.Float64Range(0, 1).Draw(t, "size"))
		w.rate = append(w.rate, rapid.Float64Range(0, 12).Draw(t, "rate"))
		w.phases = append(w.phases, rapid.Float64Range(0, 6).Draw(t, "phase"))
	}
	return w
}

func (w wave) at(t float64) float64 {
	sum := w.base
	for i, size := range w.size {
		sum += size * math.Sin(w.rate[i]*t+w.phases[i])
	}
	return sum
}

// slope and curvature bound the first and second derivative.
func (w wave) slope() (sum float64) {
	for i, size := range w.size {
		sum += size * w.rate[i]
	}
	return sum
}

func (w wave) curvature() (sum float64) {
	for i, size := range w.size {
		sum += size * w.rate[i] * w.rate[i]
	}
	return sum
}

// state is a place of a motion.
type state struct{ t float64 }

// counted is a motion over a room that counts how often the room is measured.
func counted(limit float64, room func(t float64) float64, travel func(from, to *state) float64, n *int) *Motion[state] {
	return &Motion[state]{
		Limit:  limit,
		At:     func(t float64) (state, bool) { return state{t}, true },
		Room:   func(s *state) float64 { *n++; return room(s.t) },
		Travel: travel,
	}
}

// lipschitz bounds travel by the greatest slope; taylor by the slope where it starts and the greatest
// curvature, as clearances are bounded.
func lipschitz(slope float64) func(from, to *state) float64 {
	return func(from, to *state) float64 { return slope * math.Abs(to.t-from.t) }
}

func taylor(room func(t float64) float64, curvature float64) func(from, to *state) float64 {
	return func(from, to *state) float64 {
		const h = 1e-5
		slope := (room(from.t+h)-room(from.t-h))/(2*h) + curvature*h*h
		step := to.t - from.t
		worst := 0.0 // of slope·s + curvature/2·s², or its lowest place in between
		for _, s := range [3]float64{step, 0, math.Copysign(math.Min(math.Abs(step), math.Abs(slope)/math.Max(curvature, 1e-12)), step)} {
			worst = math.Max(worst, -slope*s+curvature*s*s/2)
		}
		return worst + 1e-9
	}
}

// TestFirstAgainstSampling: wherever the room is found used up it is, and nowhere before.
func TestFirstAgainstSampling(t *testing.T) {
	const tolerance, limit, samples = 1e-7, 3.0, 20000
	trial.Check(t, func(t *rapid.T) {
		w := drawWave(t)
		for name, travel := range map[string]func(from, to *state) float64{
			"lipschitz": lipschitz(w.slope()), "taylor": taylor(w.at, w.curvature()),
		} {
			n := 0
			at, found := counted(limit, w.at, travel, &n).First(tolerance)
			if found && w.at(at) > tolerance {
				t.Fatalf("%s: stopped at %g with %g left, %+v", name, at, w.at(at), w)
			}
			end := limit
			if found {
				end = at
			}
			for i := range samples {
				if s := limit * float64(i) / samples; s < end && w.at(s) < 0 {
					t.Fatalf("%s: passed over %g (room %g), found %v at %g, %+v", name, s, w.at(s), found, at, w)
				}
			}
			if n > 5000 {
				t.Fatalf("%s: %d measurements, %+v", name, n, w)
			}
		}
	})
}

// TestThinTab: a room that falls to nothing over a millionth of the motion is found, one that falls to almost
// nothing is passed.
func TestThinTab(t *testing.T) {
	const at, width = 0.6180339, 1e-6
	for _, c := range []struct {
		depth float64
		found bool
	}{{1.01, true}, {0.99, false}} {
		room := func(t float64) float64 { return 1 - c.depth*math.Max(0, 1-math.Abs(t-at)/width) }
		n := 0
		got, found := counted(1, room, lipschitz(c.depth/width), &n).First(1e-9)
		if found != c.found || found && math.Abs(got-at) > width {
			t.Errorf("depth %g: found %v at %g", c.depth, found, got)
		}
	}
}

// TestGrazing: a room that just falls to zero and rises again is found; one that stays off zero by a
// hair is passed in few steps.
func TestGrazing(t *testing.T) {
	for _, c := range []struct {
		left  float64
		found bool
		most  int
	}{{0, true, 40}, {1e-9, true, 40}, {3e-7, false, 60}, {1e-5, false, 40}, {1e-2, false, 20}} {
		room := func(t float64) float64 { return 1 - math.Cos(t-0.7) + c.left }
		n := 0
		at, found := counted(2, room, taylor(room, 1), &n).First(1e-7)
		if found != c.found || found && math.Abs(at-0.7) > 1e-3 {
			t.Errorf("%g left: found %v at %g", c.left, found, at)
		}
		if n > c.most {
			t.Errorf("%g left: %d measurements, want at most %d", c.left, n, c.most)
		}
	}
}

// TestFirstWhereTheMotionEnds: a motion that does not get to its limit has not used up its room, but
// what it uses up before is found.
func TestFirstWhereTheMotionEnds(t *testing.T) {
	for _, c := range []struct {
		end, zero float64
		found     bool
	}{{0.7, 2, false}, {0.7, 0.7 - 1e-6, true}, {0.7, 0.7 + 1e-6, false}, {-1, 0.5, false}, {1, 0.5, true}, {1, 1, true}, {1, 1 + 1e-6, false}} {
		n := 0
		room := func(t float64) float64 { return c.zero - t }
		m := counted(1, room, lipschitz(1), &n)
		m.At = func(t float64) (state, bool) { return state{t}, t <= c.end }
		at, found := m.First(1e-9)
		if found != c.found || found && math.Abs(at-c.zero) > 2e-9 {
			t.Errorf("%+v: found %v at %g", c, found, at)
		}
		if n > 200 {
			t.Errorf("%+v: %d measurements", c, n)
		}
	}
}

// TestFirstAtTheStart: no room to begin with, and no motion at all.
func TestFirstAtTheStart(t *testing.T) {
	n := 0
	if at, found := counted(1, func(float64) float64 { return -1 }, lipschitz(1), &n).First(1e-9); !found || at != 0 {
		t.Errorf("no room: found %v at %g", found, at)
	}
	if _, found := counted(0, func(float64) float64 { return 1 }, lipschitz(1), &n).First(1e-9); found {
		t.Error("no motion used up room")
	}
	if _, found := counted(1, func(float64) float64 { return math.NaN() }, lipschitz(1), &n).First(1e-9); !found {
		t.Error("a room that is no number was taken for room")
	}
}

// TestLeastAgainstSampling: nothing sampled is less by more than the tolerance, and what is said to be
// least is there.
func TestLeastAgainstSampling(t *testing.T) {
	const tolerance, limit, samples = 1e-3, 3.0, 20000
	trial.Check(t, func(t *rapid.T) {
		w := drawWave(t)
		least := math.Inf(1)
		for i := range samples + 1 {
			least = math.Min(least, w.at(limit*float64(i)/samples))
		}
		for name, travel := range map[string]func(from, to *state) float64{
			"lipschitz": lipschitz(w.slope()), "taylor": taylor(w.at, w.curvature()),
		} {
			n := 0
			at, room, found := counted(limit, w.at, travel, &n).Least(1e9, tolerance)
			if !found || room != w.at(at) || at < 0 || at > limit {
				t.Fatalf("%s: least %g at %g where it is %g, found %v, %+v", name, room, at, w.at(at), found, w)
			}
			if room > least+tolerance {
				t.Fatalf("%s: least %g at %g, sampled %g, %+v", name, room, at, least, w)
			}
			if n > 200000 {
				t.Fatalf("%s: %d measurements, %+v", name, n, w)
			}
			near := rapid.Float64Range(-1, 2).Draw(t, "near")
			if _, room, found := counted(limit, w.at, travel, &n).Least(near, tolerance); found && room > least+tolerance || !found && least < near-tolerance {
				t.Fatalf("%s: under %g: found %v with %g, sampled %g, %+v", name, near, found, room, least, w)
			}
		}
	})
}

// TestLeastIsClosedInOn: where the room is smooth about its least, that is found far finer than the tolerance
// asks, also close to an end, and at an end itself.
func TestLeastIsClosedInOn(t *testing.T) {
	for _, at := range []float64{0.31, 0.003, 1.997, 1e-4, 3e-5, 1.3, 1.9999, 2 - 1e-6, -0.2, 2.2} {
		room := func(t float64) float64 { return 5 + 40*(1-math.Cos(t-at)) + 0.1*math.Pow(t-at, 4) }
		n := 0
		got, least, found := counted(2, room, taylor(room, 47), &n).Least(10, 0.01)
		want := math.Min(math.Max(at, 0), 2)
		if !found || math.Abs(least-room(want)) > 1e-6 || n > 120 {
			t.Errorf("least at %g: found %v, %.9g at %g, want %.9g, %d measurements", at, found, least, got, room(want), n)
		}
	}
}

// TestLeastOfAFlatRoom: a room that does not change costs no search.
func TestLeastOfAFlatRoom(t *testing.T) {
	n := 0
	room := func(float64) float64 { return 2 }
	if _, least, found := counted(2, room, taylor(room, 0), &n).Least(10, 1e-3); !found || least != 2 || n > 10 {
		t.Errorf("least %g, found %v, %d measurements", least, found, n)
	}
	if _, _, found := counted(2, room, taylor(room, 0), &n).Least(1, 1e-3); found {
		t.Error("found a room under what it is")
	}
}

// TestLeastWhereTheMotionEnds: the motion must reach its limit.
func TestLeastWhereTheMotionEnds(t *testing.T) {
	n := 0
	m := counted(1, func(t float64) float64 { return t }, lipschitz(1), &n)
	m.At = func(t float64) (state, bool) { return state{t}, t < 1 }
	if _, _, found := m.Least(10, 1e-3); found {
		t.Error("found the least of a motion that does not get to its limit")
	}
}

// TestLeastOfNoMotion: a motion of no length ends at once, also where rounding makes its bound of travel more than nothing.
func TestLeastOfNoMotion(t *testing.T) {
	n := 0
	m := counted(0, func(float64) float64 { return 1e-14 }, func(from, to *state) float64 { return 0.09 }, &n)
	if at, least, found := m.Least(10, 0.01); !found || at != 0 || least != 1e-14 || n > 10 {
		t.Errorf("least %g at %g, found %v, %d measurements", least, at, found, n)
	}
}
