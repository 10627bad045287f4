package reconcile

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/golang/geo/s1"

	"locksweep/fixtures/example"
	"locksweep/fixtures/trial"
	"locksweep/geometry/setup"
)

// read is the shed kart with its own tapes, and its wheels read with the steering wheel at some angles and put down at others.
func read(t *testing.T, stood, called []s1.Angle) *setup.Setup {
	t.Helper()
	s := example.Read(t, "shed-kart")
	stands, err := newStand(s)
	if err != nil {
		t.Fatal(err)
	}
	for _, tape := range [][2]string{{"left pickup", "right pickup"}, {"left kingpin", "left pin"}, {"left kingpin", "right pickup"}} {
		from, _ := s.Place(tape[0])
		to, _ := s.Place(tape[1])
		s.Checks.Taped = append(s.Checks.Taped, setup.Taped{From: tape[0], To: tape[1], Distance: stands.tape([2]setup.Place{from, to})})
	}
	for i, column := range stood {
		steer, ok := stands.steer(column * s1.Degree)
		if !ok {
			t.Fatalf("the shed kart does not get to %g", float64(column))
		}
		s.Checks.Turned = append(s.Checks.Turned, setup.Turned{
			Column: called[i] * s1.Degree, Read: [2]bool{true, true}, Steer: [2]s1.Angle{s1.Angle(steer[0]), s1.Angle(steer[1])},
		})
	}
	return s
}

// TestSteeringWheelMisread: where the steering wheel did not stand where it was said to, that is named, and no column half
// upright nor a pin moved by half an arm in its place.
func TestSteeringWheelMisread(t *testing.T) {
	for _, c := range []struct {
		stood, called []s1.Angle
		key           string // "" where they agree
		by            float64
	}{
		{[]s1.Angle{20, -20}, []s1.Angle{20, -20}, "", 0},
		{[]s1.Angle{20, -17}, []s1.Angle{20, -20}, "turned[1].column", 3},
		{[]s1.Angle{16.5, -20}, []s1.Angle{20, -20}, "turned[0].column", -3.5},
		{[]s1.Angle{20, 10, -20}, []s1.Angle{20, 15, -20}, "turned[1].column", -5},
		{[]s1.Angle{24, 14, -16}, []s1.Angle{20, 10, -20}, "", 4}, // called 0 too early: the centre, of which no file has a key
	} {
		r, err := Run(read(t, c.stood, c.called))
		if err != nil {
			t.Fatal(err)
		}
		if c.by == 0 {
			if !r.Agrees() {
				t.Errorf("%v: a suspect where nothing is wrong: %+v", c.called, r.Suspects)
			}
			continue
		}
		if len(r.Suspects) != 1 {
			t.Errorf("stood at %v, called %v: %d suspects, want one", c.stood, c.called, len(r.Suspects))
			continue
		}
		first := r.Suspects[0]
		if got := r.Observations[first.Observation].Key; got != c.key || math.Abs(s1.Angle(first.By).Degrees()-c.by) > 0.5 {
			t.Errorf("stood at %v, called %v: named %q by %.2f°, want %q by %g°", c.stood, c.called, got, s1.Angle(first.By).Degrees(), c.key, c.by)
		}
		for _, also := range first.Also {
			if o := r.Observations[also.Observation]; o.Key == "column.rake" && math.Abs(s1.Angle(also.By).Degrees()) > 15 {
				t.Errorf("stood at %v, called %v: a rake %.1f° out is named too", c.stood, c.called, s1.Angle(also.By).Degrees())
			}
		}
		if o := r.Observations[max(r.Symptom, 0)]; r.Symptom < 0 || o.Kind != Turn || c.key != "" && !strings.HasPrefix(c.key, o.Key[:len("turned[0]")]) {
			t.Errorf("stood at %v, called %v: explained is %d, want a wheel read then", c.stood, c.called, r.Symptom)
		}
	}
}

// TestSymptomIsMended: what is named as explained is so: with the suspect put right in the file, the vehicle measured anew has
// that reading at most half as far off as before, and no reading is named where the suspect is itself one.
func TestSymptomIsMended(t *testing.T) {
	named, n := 0, trial.Count(12, 80)
	for seed := range uint64(n) {
		k := measured(t, seed, exact, 1)
		for i := range setup.Sides {
			k.file.Corners[i].Rod.Length = 0 // rods of given length would move the wheels besides
		}
		lever := k.file.Spacing
		slipped := Observation{Key: []string{"kingpin.spacing", "arm.pickup[0]", "right.arm.pickup[1]"}[seed%3]}
		plant(k.file, &slipped, SlipLength)
		if seed%3 == 0 && k.file.Spacing == lever {
			t.Fatal("the spacing did not take its slip")
		}
		got, err := Run(k.file)
		if err != nil || len(got.Suspects) == 0 {
			continue
		}
		suspect := got.Observations[got.Suspects[0].Observation]
		if !suspect.Suspect {
			t.Errorf("seed %d: the suspect %s is not marked", seed, suspect.Key)
		}
		if suspect.read() && got.Symptom >= 0 {
			t.Errorf("seed %d: %s explains %s", seed, suspect.Key, got.Observations[got.Symptom].Key)
		}
		if suspect.Kind != Figure || got.Symptom < 0 {
			continue
		}
		named++
		o := got.Observations[got.Symptom]
		mended := k.file.Clone()
		plant(mended, &suspect, got.Suspects[0].By)
		stands, err := newStand(mended)
		if err != nil {
			t.Fatal(err)
		}
		now := 0.0
		if o.Kind == Tape {
			tape := mended.Checks.Taped[o.Index]
			from, _ := mended.Place(tape.From)
			to, _ := mended.Place(tape.To)
			now = stands.tape([2]setup.Place{from, to})
		} else {
			steer, _ := stands.steer(mended.Checks.Turned[o.Index].Column)
			now = steer[o.Side]
		}
		if off, left := math.Abs(o.Given-o.Before), math.Abs(o.Given-now); left > off/2+1e-9 {
			t.Errorf("seed %d: %s by %g leaves %s %g off of %g", seed, suspect.Key, got.Suspects[0].By, o.Key, left, off)
		}
		// A reading that is much further off, and that the suspect explains nothing of, is not named in its place.
		was, other := got.Symptom, slices.IndexFunc(got.Observations, func(r Observation) bool { return r.read() && r.Key != o.Key })
		got.Observations[other].Before -= 1000 * got.Observations[other].Accuracy
		if got.symptom(); got.Symptom != was {
			t.Errorf("seed %d: %s is said to explain %s, which is further off, not %s", seed, suspect.Key, got.Observations[got.Symptom].Key, o.Key)
		}
	}
	if trial.Seed == 0 && named < n/4 {
		t.Errorf("%d of %d karts name what is explained", named, n)
	}
}
