package drill

import (
	"math"
	"testing"

	"github.com/golang/geo/s1"

	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// TestWhatIsJudgedOnTheWay: each row a small setup, up to where it is judged, and what that says of it, found from pose to pose both ways.
func TestWhatIsJudgedOnTheWay(t *testing.T) {
	for _, c := range []struct {
		reason string
		parts  []setup.Part
		lock   float64
		near   bool // something comes nearer than 12 mm
	}{
		{"with nothing about there is no gap, and leverage is that where the wheels are turned most", nil, 40, false},
		{"so it is up to a lock short of the stop", nil, 20, false},
		{"a post that a rod nears turning one way counts", []setup.Part{post(-60, 180, 6)}, 40, true},
		{"and one on the other side, the other way", []setup.Part{post(-60, -180, 6)}, 40, true},
		{"but not where the lock wanted comes before it does", []setup.Part{post(-60, 180, 6)}, 3, false},
		{"a post beside the rod counts straight ahead", []setup.Part{post(-115, 180, 6)}, 3, true},
	} {
		s := plane{640, 1040, -60, 60, 14}.setup(-100, -20)
		s.Parts = c.parts
		m, err := sweep.New(s)
		if err != nil {
			t.Fatal(err)
		}
		a := Aims{Percent: 100, Lock: s1.Angle(c.lock) * s1.Degree, From: s1.Degree}
		f := a.figures(m)
		got, err := judgedAnew(s, a.Lock, a.From, 100)
		if err != nil {
			t.Fatal(err)
		}
		near := f.nearest(m, 12)
		if math.Abs(float64(f.Transmission-got.leverage)) > 1e-4 || (f.Lock()-got.lock).Abs() > 1e-6*s1.Degree {
			t.Errorf("%s: leverage %v and lock %v, from pose to pose %v and %v", c.reason, f.Transmission, f.Lock(), got.leverage, got.lock)
		}
		if found := near.Gap < 12; found != c.near || found && math.Abs(near.Gap-got.gap) > 0.02 || !found && got.gap < 12 {
			t.Errorf("%s: least gap %v, from pose to pose %v", c.reason, near.Gap, got.gap)
		}
	}
}

// TestKnownWithinTheSlip: a place counts as known only when all about it has been looked at, and what is about it stands on or outside the
// circle of the slip everywhere between its corners.
func TestKnownWithinTheSlip(t *testing.T) {
	s := plane{640, 1040, -60, 60, 14}.setup(-100, -20)
	r := prepared(t, s, Arm, Options{NewMetal: true, Slip: 1.5})
	n := r.search.home()
	n[leftArm] -= 7
	_, groups := r.search.looks(n)
	for i, o := range groups[0] {
		next := groups[0][(i+1)%len(groups[0])]
		middle := math.Hypot((o[0]+next[0])/2-n[0], (o[1]+next[1])/2-n[1])
		if apart := o.apart(&n); apart < 1.5 || math.Abs(middle-1.5) > 1e-9 {
			t.Errorf("%v lies %v off, and the middle to the next %v; the slip is 1.5", o, apart, middle)
		}
	}
	for _, c := range []struct {
		reason string
		out    func(looks *int) func(*rank) bool
		sure   bool
	}{
		{"nobody says enough", func(*int) func(*rank) bool { return nil }, true},
		{"never out of the question", func(*int) func(*rank) bool { return func(*rank) bool { return false } }, true},
		{"out of the question at once", func(*int) func(*rank) bool { return func(*rank) bool { return true } }, false},
		{"at the last but one", func(k *int) func(*rank) bool { return func(*rank) bool { *k++; return *k == directions } }, false},
		{"at the last", func(k *int) func(*rank) bool { return func(*rank) bool { *k++; return *k == 1+directions } }, true},
	} {
		looks := 0
		j := r.search.figures(n)
		if r.search.surely(&j, nil, c.out(&looks)); j.sure != c.sure {
			t.Errorf("%s: known %v, want %v", c.reason, j.sure, c.sure)
		}
	}
}

// TestOffByThemselves: what is drilled by itself is off by itself.
func TestOffByThemselves(t *testing.T) {
	for _, c := range []struct {
		on   On
		each bool
		want int
	}{{Arm, false, 1}, {DropArm, false, 1}, {Both, false, 2}, {Arm, true, 2}, {DropArm, true, 2}} {
		r := prepared(t, plane{640, 1040, -60, 60, 14}.setup(-100, -20), c.on, Options{NewMetal: true, Each: c.each})
		n := r.search.home()
		for i := range n {
			n[i] += 7
		}
		if list, groups := r.search.looks(n); len(groups) != c.want || len(list) != 1+c.want*directions {
			t.Errorf("%v, each %v: %d groups and %d places to look at, want %d and %d", c.on, c.each, len(groups), len(list), c.want, 1+c.want*directions)
		}
	}
}

// TestTopOfAPool: a pool made by hand, all known: the best come first, of two alike the one that changes less, and none that is not free.
func TestTopOfAPool(t *testing.T) {
	var pool []judged
	for _, c := range []struct{ error, far float64 }{{3, 1}, {1, 9}, {2, 5}, {1, 4}, {5, 0}} {
		j := judged{possible: true, sure: true, change: [3]float64{1, c.far}}
		j.rank[Ackermann] = c.error
		pool = append(pool, j)
	}
	pool[4].possible = false
	s := &search{r: &Result{}, pool: pool}
	for _, c := range []struct {
		reason string
		n      int
		free   func(int) bool
		want   []int
	}{
		{"all", 9, func(int) bool { return true }, []int{3, 1, 2, 0}}, {"two", 2, func(int) bool { return true }, []int{3, 1}},
		{"but the best", 2, func(i int) bool { return i != 3 }, []int{1, 2}}, {"none", 2, func(int) bool { return false }, nil},
	} {
		got := s.top(c.n, c.free)
		same := len(got) == len(c.want)
		for i := range c.want {
			same = same && got[i] == c.want[i]
		}
		if !same {
			t.Errorf("%s: %v, want %v", c.reason, got, c.want)
		}
	}
}
