package drill

import (
	"errors"
	"math"
	"slices"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/fixtures/example"
	"locksweep/fixtures/trial"
	"locksweep/geometry/grind"
	"locksweep/geometry/planar"
	"locksweep/geometry/rigid"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// TestHoleAndStopTogether: hole and cut put into the file give the lock that was asked for, swept from scratch, and a metal
// stop holds then; each alone gives what is said.
func TestHoleAndStopTogether(t *testing.T) {
	s := example.Read(t, "shed-kart")
	for i := range s.Parts {
		if s.Parts[i].Grind {
			s.Parts[i].Name = "lug" // whatever it is called
		}
	}
	aims := Aims{Percent: 100, Lock: 33 * s1.Degree}
	var begun, of []int
	both, err := SearchTogether(s, Arm, aims, Options{Edge: 1.2, Web: 2.2, Step: trial.Every(20.0, 10), Best: 2, Planning: func(n, all int) {
		begun, of = append(begun, n), append(of, all)
	}})
	if err != nil {
		t.Fatal(err)
	}
	if steps := len(both.Best) + 1; !slices.Equal(begun, []int{1, 2, 3}[:steps]) || of[0] != steps {
		t.Errorf("planning %d cuts and one more tells of %v of %v", len(both.Best), begun, of)
	}
	after, err := sweep.New(both.Plan.After.Setup)
	if err != nil {
		t.Fatal(err)
	}
	if got := lesserLock(after); math.Abs(float64(got-both.Both)) > 1e-9 || got < aims.Lock-1e-6*s1.Degree || got > aims.Lock+0.05*s1.Degree {
		t.Errorf("hole and cut: %v, said %v, wanted %v", got, both.Both, aims.Lock)
	}
	if !held(after) {
		t.Error("nothing holds the wheels in the end")
	}
	for i, l := range append([]Listed{both.Current}, both.Best...) {
		m := both.Today // the table has the setup as it stands, and then hole and cut
		switch none := slices.Contains(l.Alarms, sweep.NoMetalStop); {
		case i == 1:
			m = after
		case i > 1 && (!none || trial.Long()):
			var plan *grind.Plan
			if drilled, err := sweep.New(l.Fit(s)); err == nil { // else what is to be ground is in the way
				plan = both.plan(drilled)
			}
			if plan == nil && !none {
				t.Errorf("no cut can be made at place %d, and no alarm is given", i)
			}
			if plan == nil {
				continue
			}
			m = plan.After
		case i > 1:
			continue
		}
		fresh, err := sweep.Run(m.Setup, listStep)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range sweep.Directions {
			inner, _ := turned(&fresh.Locks[d].Pose)
			if got := l.Inner[d]; math.Abs(float64(got-inner)) > 1e-9 || l.Sweep.Locks[d].Column != fresh.Locks[d].Column {
				t.Errorf("place %d %v: the table says %v, swept %v", i, d, got, inner)
			}
		}
		if lock := l.Figures.Lock(); l.Within.Lock > lock || i == 1 && (lock < aims.Lock-1e-6*s1.Degree || len(l.Alarms) > 0) {
			t.Errorf("place %d: lock %v, within the slip %v, alarms %v", i, lock, l.Within.Lock, l.Alarms)
		}
	}
	for _, side := range setup.Sides {
		if got, want := after.Setup.Corners[side].Arm.Pickup, both.Best[0].Pickups[side]; got != want {
			t.Errorf("the plan has the %v pickup at %v, place 1 at %v", side, got, want)
		}
	}
	hole, err := sweep.New(both.Best[0].Fit(s))
	if err != nil {
		t.Fatal(err)
	}
	if got := lesserLock(hole); got != both.Hole || both.First == HoleFirst && !held(hole) {
		t.Errorf("the hole alone: %v, said %v; first %v", got, both.Hole, both.First)
	}
	alone, err := grind.Make(both.Today, grind.Target{Measure: grind.AsFar}, grind.Options{Clearance: math.NaN()})
	if err != nil || both.Cut > lesserLock(alone.After)+1e-9 || len(both.Front) > 0 {
		t.Errorf("grinding alone gives %v at most (%v), said %v; %d places in a trade that no cut is planned for", lesserLock(alone.After), err, both.Cut, len(both.Front))
	}
	if both.Now > both.Both || both.Now != lesserLock(both.Today) {
		t.Errorf("today %v, then %v", both.Now, both.Both)
	}
	if _, err := SearchTogether(s, Arm, Aims{Percent: 100}, Options{}); !errors.Is(err, ErrNoLock) {
		t.Errorf("without a lock: %v", err)
	}
	for i := range s.Parts {
		s.Parts[i].Grind = false
	}
	if _, err := SearchTogether(s, Arm, aims, Options{}); !errors.Is(err, grind.ErrNothingMarked) {
		t.Errorf("with nothing to grind: %v", err)
	}
}

// TestNoCutLeavesTheHole: where no cut gives the lock, no hole is recommended, and each place is judged with the stop as it
// is, within the slip too: half a millimetre does not change lock or leverage by degrees.
func TestNoCutLeavesTheHole(t *testing.T) {
	both, err := narrowTogether().most, narrowTogether().mostErr
	if trial.Long() {
		both, err = SearchTogether(example.Read(t, "shed-kart"), Arm, Aims{Percent: 100, Lock: 60 * s1.Degree}, Options{Edge: 1.2, Web: 2.2, Step: 10, Best: 2})
	}
	if !errors.Is(err, ErrNoTogether) || !both.Leave || len(both.Front) > 0 {
		t.Fatalf("%v, leave %v, %d places in the trade", err, both.Leave, len(both.Front))
	}
	judged := 0
	for i := range both.Best {
		l := &both.Best[i]
		if !slices.Contains(l.Alarms, sweep.NoMetalStop) || l.DecidedBy == Sense {
			t.Errorf("place %d: alarms %v, decided by %v", i+1, l.Alarms, l.DecidedBy)
		}
		if m, err := sweep.New(l.Fit(both.Today.Setup)); err != nil || lesserLock(m) != l.Figures.Lock() {
			continue // what is to be ground is in the way
		}
		judged++
		if (l.Figures.Lock()-l.Within.Lock).Abs() > 3*s1.Degree || (l.Transmission-l.Within.Transmission).Abs() > 3*s1.Degree {
			t.Errorf("place %d: lock %v and leverage %v, within the slip %v and %v", i+1, l.Figures.Lock(), l.Transmission, l.Within.Lock, l.Within.Transmission)
		}
	}
	if judged == 0 {
		t.Error("no place was judged with the stop as it is")
	}
}

// TestWhatStaysStaysInPlace: metal that may not be ground lies where the plate lay, also where a change has pitched the frame.
func TestWhatStaysStaysInPlace(t *testing.T) {
	pitched := rigid.Motion{Turn: rigid.Identity.Turn, Shift: r3.Vector{Z: 25}}
	square := func(half float64) []r2.Point {
		return []r2.Point{{X: -half, Y: -half}, {X: half, Y: -half}, {X: half, Y: half}, {X: -half, Y: half}}
	}
	plate := setup.Plate{Outline: square(20), Lower: -3, Upper: 5, Place: &pitched}
	bare, err := cutAway(&setup.Setup{Parts: []setup.Part{{Name: "stop", On: setup.OnFrame, Grind: true, Keep: square(4), Plate: &plate}}})
	if err != nil || len(bare.Parts) != 1 {
		t.Fatalf("%d parts are left, %v", len(bare.Parts), err)
	}
	left := bare.Parts[0].Plate
	if area := planar.Area(left.Outline); math.Abs(area-64) > 1e-6 {
		t.Errorf("%.3f mm² are left of what is to be kept, want 64", area)
	}
	if left.Lower != plate.Lower || left.Upper != plate.Upper || left.Place == nil || *left.Place != pitched {
		t.Errorf("what is left lies from %v to %v at %v, want %v to %v at %v", left.Lower, left.Upper, left.Place, plate.Lower, plate.Upper, pitched)
	}
}
