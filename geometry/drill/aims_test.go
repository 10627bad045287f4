package drill

import (
	"testing"

	"github.com/golang/geo/s1"

	"locksweep/fixtures/example"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// TestLeverageStaysTheFiles: a bad hole today does not lower what is wanted, and where no place attains it the
// search still answers, without a miss that nobody asked about; a figure of its own is missed.
func TestLeverageStaysTheFiles(t *testing.T) {
	s := plane{640, 1040, -60, 60, 14}.setup(-100, -20)
	s.Limits.Transmission = 80 * s1.Degree // more than any place has
	opt := Options{NewMetal: true, Step: 8, Best: 1, Reach: 8, Slip: -1}
	r, err := Search(s, Arm, Aims{Percent: 100}, opt)
	if err != nil {
		t.Fatal(err)
	}
	if r.Aims.Leverage != s.Limits.Transmission || len(r.Misses) > 0 {
		t.Errorf("wanted %v, missed %v; should be the file's 80 degrees and nothing", r.Aims.Leverage, r.Misses)
	}
	if got, now := r.Best[0].Transmission, r.Current.Transmission; got < now-0.01*s1.Degree {
		t.Errorf("place 1 has leverage %v, today's hole %v", got, now)
	}
	r, err = Search(s, Arm, Aims{Percent: 100, Leverage: 80 * s1.Degree}, opt)
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Misses) == 0 || r.Misses[0].Aim != Leverage {
		t.Errorf("80 degrees asked for: missed %v", r.Misses)
	}
}

// TestOwnEndIsNoAim: where no metal stop sets today's lock, what is wanted stays sweep.WantedMargin of the column clear of the
// linkage's own end, however little leverage is asked for, and where the leverage asked for is gone before that, clear of there.
func TestOwnEndIsNoAim(t *testing.T) {
	s := plane{640, 1040, -60, 60, 14}.setup(-100, -20)
	for _, side := range setup.Sides {
		s.Corners[side].Stop = 0
	}
	m, err := sweep.New(s)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		leverage s1.Angle
		clear    s1.Angle // of the column, before the end
	}{{-1, sweep.WantedMargin}, {30 * s1.Degree, 10 * s1.Degree}} {
		a := Aims{Percent: 100, Leverage: c.leverage}
		a.settle(m)
		for _, d := range sweep.Directions {
			end := m.FirstLimit(d).Column
			p, ok := m.AtInnerSteer(end, a.Lock)
			if by := (end - p.Column).Abs(); !ok || by < c.clear-1e-6*s1.Degree || c.leverage < 0 && by > c.clear+1e-6*s1.Degree {
				t.Errorf("leverage %v turning %v: wanted %v, %v of the column before the end", c.leverage, d, a.Lock, by)
			}
		}
	}
}

// trading is a steering whose spindles stop at 40 degrees, either one, and a turn-in wanted that is reversed: the nearer to
// it, the sooner the outer wheel stops the inner one.
func trading(t *testing.T) *Result {
	if found["trading"] == nil {
		s := plane{640, 1040, -60, 60, 14}.setup(-100, -20)
		found["trading"] = search1(t, s, Arm, Aims{Percent: -60, Lock: 30 * s1.Degree}, Options{NewMetal: true, Step: 6})
	}
	return found["trading"]
}

// TestTradeKeepsTheLock: no place in the trade has less lock than today's and the wanted.
func TestTradeKeepsTheLock(t *testing.T) {
	r := trading(t)
	if len(r.Front) < 3 {
		t.Errorf("%d places in the trade", len(r.Front))
	}
	for i := range r.Front {
		if lock := r.Front[i].Figures.Lock(); lock < min(r.Aims.Lock, r.Current.Figures.Lock())-leastGain {
			t.Errorf("%v in the trade, today's is %v", lock, r.Current.Lock())
		}
	}
}

// TestLargerHoleIsDrilledOut: a hole smaller than the one asked for is not there already.
func TestLargerHoleIsDrilledOut(t *testing.T) {
	s := example.Read(t, "starter", "limits.spindle=30")
	r, err := Search(s, Arm, Aims{Percent: 100}, Options{Diameter: 12, Step: 8, Best: 1, Reach: 10})
	if err != nil {
		t.Fatal(err)
	}
	if r.Best[0].Existing != "" || len(r.Drilled(r.Metals[0], &r.Best[0].Place)) != 1 {
		t.Errorf("a hole of 12 mm is said to be there: %q", r.Best[0].Existing)
	}
	if _, err := Search(s, Arm, Aims{Percent: 100}, Options{Diameter: 60}); err == nil {
		t.Error("a hole of 60 mm was looked for")
	}
}
