package compare_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"locksweep/fixtures"
	"locksweep/fixtures/example"
	"locksweep/fixtures/random"
	"locksweep/geometry/compare"
	"locksweep/geometry/road"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// sameValues compares the figures of a glance at a setup with those of a whole comparison. Like is what the glance goes by.
func sameValues(t interface{ Fatalf(string, ...any) }, name string, s *setup.Setup, like *sweep.Result) {
	c := side(s)
	if c.Entries[0].Err != nil {
		return
	}
	r, touches, err := like.Alike().Glance(s)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	if touches != (len(r.Scene.Touching()) > 0) {
		t.Fatalf("%s: touching ahead %v: %v", name, r.Scene.Touching(), touches)
	}
	for d := range r.Locks {
		got, want := r.Locks[d].First(), c.Entries[0].Result.Locks[d].First()
		if (got == nil) != (want == nil) || got != nil && (got.Kind != want.Kind || got.Side != want.Side && got.Kind != sweep.Contact) {
			t.Fatalf("%s: stopped by %+v, want %+v", name, got, want)
		}
	}
	for i, got := range compare.Values(r, road.Slide{Radius: 4000}) {
		want := c.Rows[i].Values[0]
		for k := range got {
			// Contacts are known to some 3e-6 degrees, least gaps to 0.1 mm where a rod's eye passes.
			tolerance := c.Rows[i].Kind.Slack() / 50
			if c.Rows[i].Key == "least_gap" || c.Rows[i].Key == "countersteer_gap" {
				tolerance = 0.1
			}
			if got[k] != want[k] && !(math.IsNaN(got[k]) && math.IsNaN(want[k])) && !(math.Abs(got[k]-want[k]) < tolerance) {
				t.Fatalf("%s: %s %d is %v at a glance, %v in the comparison", name, c.Rows[i].Key, k, got[k], want[k])
			}
		}
	}
}

// TestGlanceTellsTheSame: every figure of the comparison, of every example, is the same from a glance: at the setup that the glance goes by,
// and at another.
func TestGlanceTellsTheSame(t *testing.T) {
	for _, e := range fixtures.Examples {
		s := example.Read(t, e.Name)
		like, err := sweep.Run(s, compare.Step)
		if err != nil {
			t.Fatal(err)
		}
		sameValues(t, e.Name, s, like)
		other := s.Clone()
		for side := range other.Corners {
			other.Corners[side].Arm.Pickup.Y += 4
			other.Corners[side].Kingpin.Caster += 0.02
		}
		other.Vehicle.Wheelbase -= 7
		sameValues(t, e.Name+", moved", other, like)
	}
}

func TestGlanceTellsTheSameOfRandomSetups(t *testing.T) {
	swept := 0
	rapid.Check(t, func(t *rapid.T) {
		s := random.Setup(t)
		like, err := sweep.Run(s, compare.Step)
		if err != nil {
			return
		}
		swept++
		sameValues(t, "as it is", s, like)
	})
	if swept < 10 {
		t.Errorf("only %d setups could be swept", swept)
	}
}
