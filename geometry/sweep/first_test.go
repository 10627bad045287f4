package sweep_test

import (
	"slices"
	"testing"

	"github.com/golang/geo/s1"

	"locksweep/fixtures/trial"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// TestFirstLimitTellsWhatTheChainDoes: of a lock that is found with less of the chain, the lock, what comes first and what stops the wheels,
// with its margin and faults, are those of the whole chain. Half of the setups have no stop but what metal there is.
func TestFirstLimitTellsWhatTheChainDoes(t *testing.T) {
	later, none := 0, 0
	eachLittered(t, 60, func(t *testing.T, s *setup.Setup) {
		if len(s.Parts)%2 == 0 {
			for side := range s.Corners {
				s.Corners[side].Stop = 0
			}
		}
		m, err := sweep.New(s)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range sweep.Directions {
			whole, quick := m.Lock(d), m.FirstLimit(d)
			if len(whole.Chain) == 0 && len(quick.Chain) == 0 && whole.Column == quick.Column {
				continue
			}
			if *whole.First() != *quick.First() || whole.Column != quick.Column || quick.Pose.Column != quick.Column {
				t.Fatalf("%v: the lock is at %v by %+v, with less of the chain at %v by %+v", d, whole.Column, whole.First(), quick.Column, quick.First())
			}
			want, got := m.Stopping(&whole), m.Stopping(&quick)
			if got.Margin != want.Margin || got.WheelMargin != want.WheelMargin || got.Leverage != want.Leverage || !slices.Equal(got.Faults(), want.Faults()) {
				t.Errorf("%v: stopped with margin %v and faults %v, with less of the chain %v and %v", d, want.Margin, want.Faults(), got.Margin, got.Faults())
			}
			if (got.Stop == nil) != (want.Stop == nil) || got.Stop != nil && *got.Stop != *want.Stop {
				t.Errorf("%v: the stop is %+v, with less of the chain %+v", d, want.Stop, got.Stop)
			}
			switch {
			case want.Stop == nil:
				none++
			case len(want.Before) > 0:
				later++
			}
		}
	})
	if least := trial.Enough(3); later < least || none < least {
		t.Errorf("%d stops that come later and %d ways without one", later, none)
	}
}

// TestManySweepsAtOnce: a model is only read once it is made, so any number of sweeps of it at the same time give
// the same answer (run with -race).
func TestManySweepsAtOnce(t *testing.T) {
	s := benchKart()
	s.Parts = frameParts()
	m, err := sweep.New(s)
	if err != nil {
		t.Fatal(err)
	}
	want := m.Run(2 * s1.Degree)
	results := make(chan *sweep.Result)
	for range 8 {
		go func() { results <- m.Run(2 * s1.Degree) }()
	}
	for range 8 {
		got := <-results
		if !slices.Equal(got.Near, want.Near) {
			t.Error("near pairs differ")
		}
		for _, d := range sweep.Directions {
			if !slices.Equal(chain(got, d, exactly), chain(want, d, exactly)) {
				t.Errorf("%v: %v, %v", d, chain(got, d, exactly), chain(want, d, exactly))
			}
		}
	}
}
