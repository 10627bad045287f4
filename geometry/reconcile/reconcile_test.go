package reconcile

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/golang/geo/s1"

	"locksweep/fixtures/example"
	"locksweep/fixtures/random"
	"locksweep/fixtures/trial"
	"locksweep/geometry/linkage"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// kart is a vehicle as it is, and what was measured of it.
type kart struct {
	truth *setup.Setup
	file  *setup.Setup // with tapes, rods and wheels, each off by less than its accuracy
}

// measured returns the kart of a seed: a setup drawn at random, four tapes chosen for what they tell, both rods and three
// turns, all measured with errors anywhere within their accuracies times noise.
func measured(t *testing.T, seed uint64, accuracy setup.Accuracy, noise float64) kart {
	t.Helper()
	s := random.FromSeed(seed)
	s.Accuracy = accuracy
	s.RodsCutAnew()
	m, err := linkage.New(s)
	if err != nil {
		t.Fatal(err)
	}
	for _, side := range setup.Sides {
		s.Corners[side].Rod.Length = m.DriverOf(side).Derived
	}
	card := Card{Result: &sweep.Result{Model: &sweep.Model{Setup: s, Linkage: m}}}
	if err := card.tapes(4); err != nil {
		t.Fatal(err)
	}
	stands, err := newStand(s)
	if err != nil {
		t.Fatal(err)
	}
	k := kart{s, s.Clone()}
	r := rand.New(rand.NewPCG(seed, 0x7a9e))
	off := func(accuracy float64) float64 { return noise * accuracy * (2*r.Float64() - 1) }
	for _, c := range card.Tapes {
		k.file.Checks.Taped = append(k.file.Checks.Taped, setup.Taped{From: c.From, To: c.To, Distance: c.Distance + off(s.Accuracy.Tape)})
	}
	for _, column := range []s1.Angle{-18, 12, 22} {
		column *= s1.Degree
		steer, ok := stands.steer(column)
		if !ok {
			continue
		}
		turned := setup.Turned{Column: column, Read: [2]bool{true, true}}
		for side := range steer {
			turned.Steer[side] = s1.Angle(steer[side] + off(float64(s.Accuracy.Turned)))
		}
		k.file.Checks.Turned = append(k.file.Checks.Turned, turned)
	}
	for _, reading := range k.file.Readings() {
		by := off(reading.Accuracy)
		for _, f := range reading.Figures {
			*f += by
		}
	}
	return k
}

// TestItComesBack: held against what it gives itself, a setup comes back.
func TestItComesBack(t *testing.T) {
	for seed := range uint64(trial.Count(5, 60)) {
		k := measured(t, seed, setup.DefaultAccuracy(setup.MM), 0)
		r, err := Run(k.file)
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		if !r.Agrees() {
			t.Errorf("seed %d: does not agree with itself: %+v", seed, r.Suspects)
		}
		want, got := k.truth.Readings(), r.Adjusted.Readings()
		for i := range want {
			for n, f := range want[i].Figures {
				if by := math.Abs(*got[i].Figures[n] - *f); !(by < 1e-6) {
					t.Errorf("seed %d: %s comes back off by %g", seed, want[i].Key, by)
				}
			}
		}
	}
}

// exact are accuracies of careful measuring, among which a slip of SlipLength stands out.
var exact = setup.Accuracy{
	Given: true, Place: 0.5, Height: 0.5, Hole: 0.2, Rod: 0.3, Outline: 1, Tape: 0.5, Angle: 0.2 * s1.Degree, Turned: 0.2 * s1.Degree,
}

// TestExactReadings: what the file calls exact is as good as that, and no error.
func TestExactReadings(t *testing.T) {
	accuracy := setup.DefaultAccuracy(setup.MM)
	accuracy.Tape, accuracy.Turned, accuracy.Rod = 0, 0, 0
	k := measured(t, 3, accuracy, 0)
	r, err := Run(k.file)
	if err != nil || !r.Agrees() {
		t.Fatalf("exact readings of the vehicle itself: %v, %+v", err, r)
	}
	accuracy.Place, accuracy.Height, accuracy.Hole, accuracy.Angle = 0, 0, 0, 0
	k.file.Accuracy = accuracy
	if r, err = Run(k.file); err != nil || !r.Agrees() || len(r.Values) > len(r.model.rods) {
		t.Fatalf("all of it exact: %v, %+v", err, r)
	}
	k.file.Checks.Turned = nil
	if _, err = Run(k.file); err != ErrExact {
		t.Fatalf("all of it exact, and no wheel read: %v, want %v", err, ErrExact)
	}
}

// TestPlantedBlunder: one figure a slip off is named first where theory says that it can be told: where the slip is so many
// standard deviations that it stands out in 95 of 100 cases, and so far from what stands out like it that noise seldom
// puts that first. Where a slip cannot show at all the result says so.
func TestPlantedBlunder(t *testing.T) {
	const perKart = 6
	n, told, named, hidden, outOfReach := trial.Count(10, 150), 0, 0, 0, 0
	for seed := range uint64(n) {
		k := measured(t, seed, exact, 1)
		clean, err := Run(k.file)
		if err != nil {
			t.Errorf("seed %d: %v", seed, err)
			continue
		}
		if !clean.Agrees() {
			continue // counted in a test of its own
		}
		r := rand.New(rand.NewPCG(seed, 0xb1))
		for range perKart {
			at := r.IntN(len(clean.Observations))
			o := clean.Observations[at]
			by := SlipLength * float64(2*r.IntN(2)-1)
			if o.Angle {
				continue
			}
			file := k.file.Clone()
			file.Checks.Taped = slices.Clone(k.file.Checks.Taped)
			plant(file, &o, by)
			got, err := Run(file)
			if reach := (*ReachError)(nil); errors.As(err, &reach) { // off so, the file's linkage cannot stand as read: that says it
				outOfReach++
				continue
			}
			if err != nil {
				t.Errorf("seed %d, %s off by %g: %v", seed, o.Key, by, err)
				continue
			}
			switch can, cannot := tellable(clean, at); {
			case can:
				told++
				if len(got.Suspects) > 0 && got.Observations[got.Suspects[0].Observation].Key == o.Key {
					named++
					if off := math.Abs(got.Suspects[0].By + by); off > SlipLength/2 {
						t.Errorf("seed %d, %s off by %g: should be changed by %g", seed, o.Key, by, got.Suspects[0].By)
					}
				} else {
					t.Logf("seed %d, %s off by %g: named %+v", seed, o.Key, by, got.Suspects)
				}
			case cannot && o.Kind == Figure:
				hidden++
				if !slices.Contains(clean.Untold, at) && steers(clean, at) {
					t.Errorf("seed %d: %s cannot show a slip, redundancy %g, and that is not said", seed, o.Key, o.Redundancy)
				}
			}
		}
	}
	t.Logf("%d of %d named first, %d cannot show", named, told, hidden)
	missed, mostMissed := float64(told-named), 0.05*float64(told)
	if trial.Seed != 0 { // another seed may draw few, none that is hidden, and by chance more that are missed: four standard deviations
		hidden, mostMissed = n, mostMissed+4*math.Sqrt(mostMissed)
	}
	if told < trial.Enough(n) || hidden < n/3 || outOfReach > n/20 || missed > mostMissed {
		t.Errorf("%d of %d slips that can be told are named first, %d cannot show", named, told, hidden)
	}
}

// tellable says of a slip of an observation whether theory has it named first nineteen times in twenty, and whether it cannot show.
func tellable(r *Result, at int) (can, cannot bool) {
	o := &r.Observations[at]
	size := SlipLength * math.Sqrt(o.Redundancy) / standard(o.Accuracy)
	most := 0.0
	for i := range r.Observations {
		if i != at {
			most = math.Max(most, math.Abs(r.fit.Alike(at, i)))
		}
	}
	// The difference of two normalised residuals has mean size·(1 - ρ) and variance 2(1 - ρ).
	return size > critical+1.645 && size*math.Sqrt((1-most)/2) > 2.5, size < 3
}

// steers reports whether the wheels' angles hang on a figure.
func steers(r *Result, at int) bool {
	for i := range r.model.unknowns {
		if u := &r.model.unknowns[i]; u.key == r.Observations[at].Key {
			return u.steers > 0
		}
	}
	return false
}

// TestCleanKarts: measured with no slip at all, at most one kart in twenty has a figure named.
func TestCleanKarts(t *testing.T) {
	n := trial.Count(20, 300)
	wrong := 0
	for seed := range uint64(n) {
		r, err := Run(measured(t, seed, setup.DefaultAccuracy(setup.MM), 1).file)
		if err != nil {
			t.Errorf("seed %d: %v", seed, err)
			continue
		}
		if !r.Agrees() {
			wrong++
		}
	}
	most := float64(n) / 20
	if trial.Seed != 0 { // by chance more: four standard deviations
		most += 4 * math.Sqrt(most)
	}
	if float64(wrong) > most {
		t.Errorf("%d of %d sound karts have a suspect", wrong, n)
	}
}

// plant makes an observation of a file wrong.
func plant(s *setup.Setup, o *Observation, by float64) {
	switch o.Kind {
	case Tape:
		s.Checks.Taped[o.Index].Distance += by
	case Turn:
		s.Checks.Turned[o.Index].Steer[o.Side] += s1.Angle(by)
	default:
		for _, r := range s.Readings() {
			if r.Key == o.Key {
				for _, f := range r.Figures {
					*f += by
				}
			}
		}
	}
}

// TestRodThatDoesNotReach: a rod put down so short that the file's linkage does not get to where the wheels were read is named all the same.
func TestRodThatDoesNotReach(t *testing.T) {
	k := measured(t, 3, exact, 0)
	rod := &k.file.Corners[setup.Left].Rod.Length
	right := *rod
	for ; *rod > right-60; *rod-- {
		stands, err := newStand(k.file)
		if err != nil {
			t.Skip("it does not even assemble before it does not reach")
		}
		if _, ok := stands.steer(k.file.Checks.Turned[len(k.file.Checks.Turned)-1].Column); !ok {
			break
		}
	}
	r, err := Run(k.file)
	var assembly *linkage.AssemblyError
	if trial.Seed != 0 && errors.As(err, &assembly) {
		t.Skip("of another seed, and it does not even assemble before it does not reach: ", err)
	}
	if err != nil {
		t.Fatal(err)
	}
	if first := r.Observations[r.Suspects[0].Observation].Key; first != "tie_rod.left" || math.Abs(r.Suspects[0].By-(right-*rod)) > 0.5 {
		t.Errorf("the first suspect is %s by %g, want tie_rod.left by %g", first, r.Suspects[0].By, right-*rod)
	}
}

// TestChangedSetups: what is measured on a vehicle that [change] was made to is held against that, and comes back as the figures
// that the file gives before it.
func TestChangedSetups(t *testing.T) {
	for _, change := range []string{"change.narrow=40", "change.lengthen_drop_arm=8", "change.swap_spindles=true", "change.spacer=12"} {
		s := example.Read(t, "shed-kart", change)
		stands, err := newStand(s)
		if err != nil {
			t.Fatal(err)
		}
		for _, tape := range [][2]string{{"left pickup", "right pickup"}, {"left kingpin", "right pin"}, {"left tyre", "foot"}} {
			from, _ := s.Place(tape[0])
			to, _ := s.Place(tape[1])
			s.Checks.Taped = append(s.Checks.Taped, setup.Taped{From: tape[0], To: tape[1], Distance: stands.tape([2]setup.Place{from, to})})
		}
		steer, _ := stands.steer(15 * s1.Degree)
		s.Checks.Turned = []setup.Turned{{Column: 15 * s1.Degree, Steer: [2]s1.Angle{s1.Angle(steer[0]), s1.Angle(steer[1])}, Read: [2]bool{true, true}}}
		s.Before.Checks = s.Checks
		r, err := Run(s)
		if err != nil {
			t.Errorf("%s: %v", change, err)
			continue
		}
		for _, o := range r.Observations {
			if math.Abs(o.Given-o.Before) > 1e-9 || math.Abs(o.Given-o.Adjusted) > 1e-6 {
				t.Errorf("%s: %s given %.6f, by the file %.6f, adjusted %.6f", change, o.Key, o.Given, o.Before, o.Adjusted)
			}
		}
		if r.Adjusted.Spacing != 620 || math.Abs(r.Adjusted.Corners[0].Arm.Pickup.X+98) > 1e-6 {
			t.Errorf("%s: spacing %g, pickup %v, want those of before the change", change, r.Adjusted.Spacing, r.Adjusted.Corners[0].Arm.Pickup)
		}
	}
}

// TestUntold: what is said to hide a slip is what theory has so: a slip of 6 mm or 3° is less than 4.13 standard deviations of its
// estimate, the figure's own by the root of its redundancy.
func TestUntold(t *testing.T) {
	r, err := Run(measured(t, 5, exact, 1).file)
	if err != nil {
		t.Fatal(err)
	}
	hidden, shown := 0, 0
	for i, o := range r.Observations {
		if o.Kind != Figure || !steers(r, i) {
			continue
		}
		slip := 6.0
		if o.Angle {
			slip = 3 * math.Pi / 180
		}
		hides := slip*math.Sqrt(o.Redundancy) < 4.13*o.Accuracy/math.Sqrt(3)
		if hides {
			hidden++
		} else {
			shown++
		}
		if slices.Contains(r.Untold, i) != hides {
			t.Errorf("%s, redundancy %g: said to hide a slip %v, want %v", o.Key, o.Redundancy, !hides, hides)
		}
	}
	if hidden == 0 || shown == 0 {
		t.Errorf("%d hidden, %d shown: both should come up", hidden, shown)
	}
}
