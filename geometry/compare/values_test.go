package compare_test

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"
	"pgregory.net/rapid"

	"locksweep/fixtures"
	"locksweep/fixtures/example"
	"locksweep/fixtures/random"
	"locksweep/fixtures/trial"
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
	r, touches, err := like.Alike().Glance(s, true)
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
	all := compare.Ask(nil)
	for i, got := range all.Values(r, road.Slide{Radius: 4000}) {
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
	trial.Check(t, func(t *rapid.T) {
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

// post is a round post of the frame at a place, on one side only.
func post(x, y float64) setup.Part {
	return setup.Part{Name: "post", Tube: &setup.Tube{Diameter: 12, Path: []r3.Vector{{X: x, Y: y, Z: 60}, {X: x, Y: y, Z: 200}}}}
}

// posted yields the shed kart with a post at one place after another about its right front tyre, swept, where nothing touches straight ahead.
func posted(t *testing.T, yield func(s *setup.Setup, r *sweep.Result) (more bool)) {
	for x := -220.0; x <= 220; x += 10 {
		for y := -540.0; y <= -330; y += 10 {
			s := example.Read(t, "shed-kart")
			s.Parts = append(s.Parts, post(x, y))
			r, err := sweep.Run(s, compare.Step)
			if err != nil || len(r.Scene.Touching()) > 0 {
				continue
			}
			if !yield(s, r) {
				return
			}
		}
	}
}

// TestGlanceSeesBothWays: a post that the right tyre passes most nearly on its way to the right lock, between centre and lock, is the least gap at a
// glance too.
func TestGlanceSeesBothWays(t *testing.T) {
	seen := 0
	posted(t, func(s *setup.Setup, r *sweep.Result) bool {
		near, ok := r.LeastGap()
		right := r.Locks[sweep.ToRight].Column
		if ok && near.Column < 0.1*right && near.Column > 0.9*right && near.Gap < 3 {
			seen++
			sameValues(t, "a post passed", s, r)
		}
		return seen < 3
	})
	if seen == 0 {
		t.Error("no post is passed between centre and the right lock")
	}
}

// TestGlanceLooksForTheStop: where a tyre touches a post before the metal stop does its work, the stop that would hold and its margin are the same at a glance.
func TestGlanceLooksForTheStop(t *testing.T) {
	seen := 0
	posted(t, func(s *setup.Setup, r *sweep.Result) bool {
		stopping := r.Stopping(&r.Locks[sweep.ToRight])
		if first := r.Locks[sweep.ToRight].First(); first != nil && !r.Positive(first) && stopping.Stop != nil && stopping.End != nil {
			seen++
			sameValues(t, "a post touched", s, r)
		}
		return seen < 3
	})
	if seen == 0 {
		t.Error("no post is touched before the stop")
	}
}

// TestGlanceSeesWhatTouchesElsewhere: what stops a setup by something that stands far off in the setup that the glance goes by, and touches nothing
// there, is the same at a glance, either way.
func TestGlanceSeesWhatTouchesElsewhere(t *testing.T) {
	s := example.Read(t, "shed-kart")
	s.Parts = append(s.Parts, post(-900, -700))
	like, err := sweep.Run(s, compare.Step)
	if err != nil {
		t.Fatal(err)
	}
	seen := [2]int{}
	posted(t, func(s *setup.Setup, r *sweep.Result) bool {
		for d := range r.Locks {
			first := r.Locks[d].First()
			if first == nil || r.Positive(first) || seen[d] == 2 {
				continue
			}
			seen[d]++
			sameValues(t, "a post elsewhere", s, like)
		}
		return seen[0] < 2 || seen[1] < 2
	})
	if seen[0] == 0 || seen[1] == 0 {
		t.Errorf("%v posts are touched", seen)
	}
}
