package reconcile

import (
	"math"
	"testing"

	"github.com/golang/geo/s1"

	"locksweep/fixtures/trial"
	"locksweep/geometry/setup"
)

// mix puts readings down mixed up.
func mix(s *setup.Setup, what Mixup, which []int) {
	for _, i := range which {
		t := &s.Checks.Turned[i]
		switch what {
		case Exchanged:
			t.Steer[0], t.Steer[1] = t.Steer[1], t.Steer[0]
		case Reversed:
			t.Steer = [2]s1.Angle{-t.Steer[0], -t.Steer[1]}
		case OtherWay:
			t.Column = -t.Column
		}
	}
}

// TestMixedUpReadingsAreNamed: wheels' angles put down mixed up are named as that, all or one, and no part in their place; beside a tape that is wrong
// too, that is named then.
func TestMixedUpReadingsAreNamed(t *testing.T) {
	for _, c := range []struct {
		name    string
		at      []s1.Angle
		what    Mixup
		which   []int
		tape    float64 // the first is misread by, mm
		mixed   bool
		suspect bool
	}{
		{"as read", []s1.Angle{30, -30}, Exchanged, nil, 0, false, false},
		{"left and right, one reading", []s1.Angle{30}, Exchanged, []int{0}, 0, true, false},
		{"left and right, all", []s1.Angle{30, 20, -30}, Exchanged, []int{0, 1, 2}, 0, true, false},
		{"left and right, of two", []s1.Angle{30, 20, -30}, Exchanged, []int{2}, 0, true, false},
		{"sign", []s1.Angle{30}, Reversed, []int{0}, 0, true, false},
		{"sign, all", []s1.Angle{30, -20}, Reversed, []int{0, 1}, 0, true, false},
		{"the steering wheel's sign, of two", []s1.Angle{30, -20, 24}, OtherWay, []int{1}, 0, true, false},
		{"sign, and a tape", []s1.Angle{30, -20}, Reversed, []int{0, 1}, 12, true, true},
		{"a tape alone", []s1.Angle{30, -20}, Reversed, nil, 12, false, true},
	} {
		s := read(t, c.at, c.at)
		mix(s, c.what, c.which)
		s.Checks.Taped[0].Distance += c.tape
		r, err := Run(s)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if (r.Mixed != nil) != c.mixed || len(r.Suspects) > 0 != c.suspect || r.Strained || r.Gross || (c.mixed || c.suspect) == r.Agrees() {
			t.Errorf("%s: mixed %+v, suspects %+v", c.name, r.Mixed, r.Suspects)
			continue
		}
		if c.mixed && (r.Mixed.What != c.what || len(r.Mixed.Turned) != len(c.which) || r.Mixed.Turned[0] != c.which[0]) {
			t.Errorf("%s: took it for %+v, want %v of %v", c.name, r.Mixed, c.what, c.which)
		}
		for i, column := range c.at { // the result has them as they were
			if got := r.Setup.Checks.Turned[i].Column; math.Abs(float64(got-column*s1.Degree)) > 1e-12 {
				t.Errorf("%s: reading %d stands at %v, was at %v", c.name, i, got, column*s1.Degree)
			}
		}
	}
}

// TestAFileThatSteersBackwardsIsNotBelieved: where the file has the wheels turn the wrong way and they were seen to turn the right way, no
// sign of a reading is said to be wrong.
func TestAFileThatSteersBackwardsIsNotBelieved(t *testing.T) {
	s := read(t, []s1.Angle{20, -20}, []s1.Angle{20, -20})
	s.Checks.Taped, s.Accuracy.Turned = s.Checks.Taped[:1], 2*s1.Degree
	setup.Change{TurnDropArmOver: true}.Apply(s)
	if !backwards(s) {
		t.Fatal("turned over, the drop arm should steer backwards")
	}
	if r, err := Run(s); err == nil && r.Mixed != nil {
		t.Errorf("mixed %+v", r.Mixed)
	}
}

// TestNoMixupWithoutOne: karts measured within their accuracies, as they are or with a hole 6 mm off, have no readings mixed up; with the sign of all
// reversed they have, unless they steer backwards.
func TestNoMixupWithoutOne(t *testing.T) {
	for seed := range uint64(trial.Count(6, 40)) {
		for _, off := range []float64{0, 6} {
			k := measured(t, seed, setup.DefaultAccuracy(setup.MM), 1)
			k.file.Corners[setup.Left].Arm.Pickup.Y += off
			if r, err := Run(k.file); err != nil || r.Mixed != nil {
				t.Errorf("seed %d, %v mm off: %+v, %v", seed, off, r, err)
			}
			if off != 0 || len(k.file.Checks.Turned) == 0 {
				continue
			}
			all := make([]int, len(k.file.Checks.Turned))
			for i := range all {
				all[i] = i
			}
			mix(k.file, Reversed, all)
			if r, err := Run(k.file); err != nil || (r.Mixed == nil) != backwards(k.file) || r.Mixed != nil && r.Mixed.What == Exchanged {
				t.Errorf("seed %d, signs reversed: %+v, suspects %+v, of %+v, %v", seed, r.Mixed, r.Suspects, r.Setup.Checks.Turned, err)
			}
		}
	}
}

// TestNoPartIsSaidToBeFarOff: with wheels read that no setting of this kart gives, no figure is called wrong by more than anybody measures, and
// that something is far off is said.
func TestNoPartIsSaidToBeFarOff(t *testing.T) {
	for _, by := range []s1.Angle{-60, -50, -40, -30, -20, 15, 20, 25, 30, 40} {
		s := read(t, []s1.Angle{30}, []s1.Angle{30})
		s.Checks.Taped = s.Checks.Taped[:1]
		for side := range s.Checks.Turned[0].Steer {
			s.Checks.Turned[0].Steer[side] += by * s1.Degree
		}
		r, err := Run(s)
		if err != nil {
			t.Errorf("%v off: %v", by, err)
			continue
		}
		if r.Agrees() {
			t.Errorf("%v off: agrees", by)
		}
		for _, one := range r.Suspects {
			for _, o := range append([]Other{{one.Observation, one.By, one.Both}}, one.Also...) {
				if what := &r.Observations[o.Observation]; what.Kind == Figure && (what.Angle && math.Abs(o.By) > math.Pi/4 || !what.Angle && math.Abs(o.By) > 200) {
					t.Errorf("%v off: %s by %v", by, what.Key, o.By)
				}
			}
		}
	}
}
