package sweep

import (
	"math"
	"testing"

	"github.com/golang/geo/s1"
	"pgregory.net/rapid"

	"locksweep/fixtures/random"
	"locksweep/fixtures/trial"
)

// TestExtentAgainstSampling: no pose between the locks is narrower or wider, and both are met where they are said to be.
func TestExtentAgainstSampling(t *testing.T) {
	trial.Check(t, func(t *rapid.T) {
		r := locked(t, random.Setup(t))
		e := r.Extent()
		if e.Straight != r.widthAt(0) || !(e.Narrowest <= e.Straight && e.Straight <= e.Widest) {
			t.Fatalf("straight %v: %+v", r.widthAt(0), e)
		}
		if by := r.widthAt(e.NarrowestAt) - e.Narrowest; math.Abs(by) > 1e-8 {
			t.Errorf("narrowest off by %g where it is said to be", by)
		}
		if by := r.widthAt(e.WidestAt) - e.Widest; math.Abs(by) > 1e-8 {
			t.Errorf("widest off by %g where it is said to be", by)
		}
		from, to := r.Locks[ToRight].Column, r.Locks[ToLeft].Column
		for i := range 2000 {
			w := r.widthAt(from + (to-from)*s1.Angle(i)/2000)
			if w < e.Narrowest-1e-3 || w > e.Widest+1e-3 {
				t.Fatalf("%v at %v: %+v", w, from+(to-from)*s1.Angle(i)/2000, e)
			}
		}
	})
}

// TestLengthOverTheTyres by hand: wheelbase, half a rear tyre, half a front one, which stands the lead of its stub
// further ahead.
func TestLengthOverTheTyres(t *testing.T) {
	s := random.FromSeed(3)
	for side := range s.Corners {
		s.Corners[side].Wheel.Toe, s.Corners[side].Wheel.Camber, s.Corners[side].Wheel.Lead = 0, 0, 12
		s.Corners[side].Rod.Length = 0
		s.Corners[side].Wheel.Tyre.Diameter = 260
	}
	want := s.Vehicle.Wheelbase + s.Vehicle.RearTyre.Diameter/2 + 130 + 12
	if got := locked(t, s).Extent().Length; math.Abs(got-want) > 1e-9 {
		t.Errorf("%v, want %v", got, want)
	}
}
