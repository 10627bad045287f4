package rods

import (
	"errors"
	"math"
	"testing"

	"github.com/golang/geo/s1"

	"locksweep/fixtures/example"
	"locksweep/fixtures/random"
	"locksweep/fixtures/trial"
	"locksweep/geometry/linkage"
	"locksweep/geometry/road"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

func model(t *testing.T, name string, set ...string) *sweep.Model {
	t.Helper()
	m, err := sweep.New(example.Read(t, name, set...))
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func bar(length, body, shank, threadDiameter, pitch float64, stock setup.Stock) *linkage.Rod {
	r := &linkage.Rod{Part: "tie rod", Sided: true, Spec: setup.Rod{Diameter: 16, Stock: stock, End: setup.RodEnd{Body: body, Shank: shank, Thread: threadDiameter, Pitch: pitch}}}
	r.Length = length
	return r
}

// TestCutLengthsByHand: three rods worked out with pencil and paper (derived): cut = centres - 2 (body - engagement).
func TestCutLengthsByHand(t *testing.T) {
	const in = 25.4
	for _, c := range []struct {
		name                                      string
		rod                                       *linkage.Rod
		engagement, exposed, cut, out, way, depth float64
		middle, middleTravel                      float64
	}{
		// M8 × 1.25, 36 mm body with 24 mm of thread, mild steel: jam nut 4, so 12 to 20 in the rod: 16, and 20 left out at
		// either end; 3.75 more for the tap.
		{"256 mm, M8, mild steel", bar(256, 36, 24, 8, 1.25, setup.Stock{}), 16, 20, 216, 4, 4, 23.75, 216, 4},
		// The same on a rod of 76 mm: 4 mm further in they would meet, so 2 either way about 14.
		{"76 mm, M8, mild steel", bar(76, 36, 24, 8, 1.25, setup.Stock{}), 14, 22, 32, 2, 2, 16, 32, 2},
		// One diameter and a half asked for: nothing is left to screw out.
		{"256 mm, M8, 12 mm in", bar(256, 36, 24, 8, 1.25, setup.Stock{Engagement: 1.5}), 12, 24, 208, 0, 8, 23.75, 216, 4},
		// M10 × 1.5, 48 mm body with 30 mm of thread, aluminium, 22.5 asked for where 20 is the least: most 25.
		{"300 mm, M10, aluminium", bar(300, 48, 30, 10, 1.5, setup.Stock{Material: setup.Aluminium, Engagement: 2.25}), 22.5, 25.5, 249, 2.5, 2.5, 29.5, 249, 2.5},
		// 3/8-24, 1 1/2 in body with 1 in of thread, nut steel: jam nut 3/16, so 3/8 to 13/16 in the rod: 19/32, 29/32 out.
		{"10 1/2 in, 3/8-24, nut steel", bar(10.5*in, 1.5*in, 1*in, 0.375*in, in/24, setup.Stock{Material: setup.NutSteel}),
			19. / 32 * in, 29. / 32 * in, 8.6875 * in, 0.21875 * in, 0.21875 * in, (0.8125 + 0.125) * in, 8.6875 * in, 0.21875 * in},
		// Made from a rod of 210 mm, 3 mm less in either end; from one of 190, which is too short, with the least.
		{"from 210 mm", bar(256, 36, 24, 8, 1.25, setup.Stock{Donor: setup.Donor{Length: 210, ThreadDepth: 50}}), 13, 23, 210, 1, 7, 23.75, 216, 4},
		{"from 190 mm", bar(256, 36, 24, 8, 1.25, setup.Stock{Donor: setup.Donor{Length: 190, ThreadDepth: 50}}), 12, 24, 208, 0, 8, 23.75, 216, 4},
	} {
		r, err := cut(c.rod)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		for _, f := range []struct {
			what      string
			got, want float64
		}{{"engagement", r.Engagement, c.engagement}, {"exposed", r.Exposed, c.exposed}, {"cut", r.Cut, c.cut}, {"out", r.Out, c.out}, {"in", r.In, c.way},
			{"depth", r.Depth, c.depth}, {"middle", r.Middle, c.middle}, {"middle travel", r.MiddleTravel, c.middleTravel}, {"witness", r.Witness, r.Least}} {
			if math.Abs(f.got-f.want) > 1e-9 {
				t.Errorf("%s: %s %.4f, want %.4f", c.name, f.what, f.got, f.want)
			}
		}
	}
}

// TestRodPutBackGivesTheToe: rods of the length that cut and rod ends give in the end have the file's toe.
func TestRodPutBackGivesTheToe(t *testing.T) {
	for _, name := range []string{"shed-kart", "pedal-quad", "field-buggy"} {
		m := model(t, name, "wheel.toe=0.7")
		list, err := List(m)
		if err != nil {
			t.Fatal(err)
		}
		again := *m.Setup
		for i, r := range list {
			again.Corners[i].Rod.Length = r.Cut + 2*(r.Spec.End.Body-r.Engagement)
		}
		back, err := sweep.New(&again)
		if err != nil {
			t.Fatal(err)
		}
		for _, side := range setup.Sides {
			if toe := back.Straight.Wheels[side].Steer * s1.Angle(-side.Sign()); (toe - 0.7*s1.Degree).Abs() > 1e-9*s1.Degree {
				t.Errorf("%s, %v: toe %v, want 0.7", name, side, toe)
			}
		}
	}
}

// TestToePerTurnIsMeasured: a rod made a hundredth of a millimetre longer turns its wheel by what is said, and the other
// not at all, on random setups.
func TestToePerTurnIsMeasured(t *testing.T) {
	const longer = 0.01
	for seed := range uint64(trial.Count(60, 600)) {
		s := random.FromSeed(seed)
		at := func(s *setup.Setup) (*linkage.Mechanism, [2]road.Wheel) {
			m, err := linkage.New(s)
			if err != nil {
				t.Fatalf("seed %d: %v", seed, err)
			}
			p, _ := m.Pose(0)
			return m, road.New(s).Wheels(&p)
		}
		m, before := at(s)
		for _, side := range setup.Sides {
			own := &sweep.Model{Setup: s, Linkage: m}
			own.Straight.Pose, _ = m.Pose(0)
			own.Straight.Wheels = before
			rod := m.Driver[side]
			got := toePerLength(own, rod)
			if got[side.Other()] != 0 {
				t.Errorf("seed %d: the %v rod moves the other wheel by %v", seed, side, got[side.Other()])
			}
			var steer [2]s1.Angle
			for i, by := range [2]float64{-longer, longer} {
				long := *s
				long.Corners[side].Rod.Length = m.Rods[rod].Length + by
				_, w := at(&long)
				steer[i] = w[side].Steer
			}
			want := (steer[1] - steer[0]) * s1.Angle(-side.Sign()/(2*longer))
			if by := (got[side] - want).Abs(); by > 1e-5*(want.Abs()+1e-3) {
				t.Errorf("seed %d, %v: %v a millimetre, measured %v", seed, side, got[side], want)
			}
		}
	}
}

// TestDonor: what is cut off a rod that is there already, and what is left of its thread.
func TestDonor(t *testing.T) {
	for _, c := range []struct {
		name          string
		length, depth float64
		off, thread   float64
		both          bool
		verdict       Verdict
	}{ // the rod above, of 216 mm or down to 208, whose thread is to be 23.75 deep and at least as much as is screwed in
		{"a little long", 228, 50, 12, 38, false, Serves},
		{"long", 248, 50, 32, 34, true, Serves},
		{"longer", 268, 45, 52, 19, true, Tight},
		{"far too long", 308, 40, 92, 0, true, Deeper},
		{"a little short", 210, 30, 0, 30, false, Serves},
		{"short", 200, 50, -8, 50, false, TooShort},
		{"as it is", 216, 30, 0, 30, false, Serves},
	} {
		r, err := cut(bar(256, 36, 24, 8, 1.25, setup.Stock{Donor: setup.Donor{Length: c.length, ThreadDepth: c.depth}}))
		if err != nil {
			t.Fatal(err)
		}
		if d := r.Donor; math.Abs(d.Off-c.off) > 1e-9 || math.Abs(d.Thread-c.thread) > 1e-9 || d.BothEnds != c.both || d.Verdict != c.verdict {
			t.Errorf("%s: %+v", c.name, d)
		}
	}
}

// TestNoRodToCut: what is missing or cannot be is said with the lengths that matter.
func TestNoRodToCut(t *testing.T) {
	for _, c := range []struct {
		name  string
		rod   *linkage.Rod
		fault Fault
		need  float64
	}{
		{"no body", bar(256, 0, 0, 8, 1.25, setup.Stock{}), NoBody, 0},
		{"no thread", bar(256, 36, 0, 0, 0, setup.Stock{}), NoThread, 0},
		{"no such coarse thread", bar(256, 36, 0, 9, 0, setup.Stock{}), NoPitch, 0},
		{"bodies longer than the rod", bar(30, 36, 24, 8, 1.25, setup.Stock{}), BodiesMeet, 32},
		{"threads run into each other", bar(60, 36, 24, 8, 1.25, setup.Stock{}), ThreadMeet, 24},
		{"engagement beyond the thread", bar(256, 36, 24, 8, 1.25, setup.Stock{Engagement: 3}), ShortShank, 28},
	} {
		_, err := cut(c.rod)
		var e *Error
		if !errors.As(err, &e) || e.Fault != c.fault || math.Abs(e.Need-c.need) > 1e-9 {
			t.Errorf("%s: %+v", c.name, err)
		}
	}
	if r, err := cut(bar(256, 36, 0, 10, 0, setup.Stock{})); err != nil || !r.PitchAssumed || !r.ShankAssumed || r.Thread.Pitch != 1.5 || math.Abs(r.Shank-21.6) > 1e-9 {
		t.Errorf("M10 of no pitch: %+v, %v", r, err)
	}
}

// TestMetalAboutTheThread: tubes too wide inside for a thread, and bars too thin about it.
func TestMetalAboutTheThread(t *testing.T) {
	for _, c := range []struct {
		name             string
		stock            setup.Stock
		inserts, thin    bool
		bore, wall, turn float64
	}{
		{"bar of 16", setup.Stock{LeftHand: true}, false, false, 0, 4, 2.5},
		{"tube 14 × 1.5", setup.Stock{Outer: 14, Wall: 1.5}, true, false, 11, 3, 0},
		{"tube 14 × 3.6", setup.Stock{Outer: 14, Wall: 3.6}, false, false, 6.8, 3, 0},
		{"tube 10 × 2", setup.Stock{Outer: 10, Wall: 2}, false, true, 6, 1, 0},
	} {
		r, err := cut(bar(256, 36, 24, 8, 1.25, c.stock))
		if err != nil {
			t.Fatal(err)
		}
		// Of the depth in a hole of 6.75, by the radii: (8 - bore) / 1.25.
		if share := r.ThreadShare(); math.Abs(share-min((8-r.Spec.Bore())/1.25, 1)) > 1e-9 {
			t.Errorf("%s: %v of the thread's depth", c.name, share)
		}
		if r.NeedsInserts() != c.inserts || r.TooThin() != c.thin || math.Abs(r.Spec.Bore()-c.bore) > 1e-9 || math.Abs(r.Wall()-c.wall) > 1e-9 || r.PerTurn() != c.turn {
			t.Errorf("%s: inserts %v, thin %v, bore %v, wall %v, a turn %v", c.name, r.NeedsInserts(), r.TooThin(), r.Spec.Bore(), r.Wall(), r.PerTurn())
		}
	}
}
