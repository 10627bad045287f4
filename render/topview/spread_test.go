package topview

import (
	"math"
	"strings"
	"testing"

	"github.com/golang/geo/s1"

	"locksweep/fixtures/example"
	"locksweep/fixtures/trial"
	"locksweep/geometry/road"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/geometry/tolerance"
	"locksweep/render/sheet"
)

// TestSpreadOfTheLocks: at each wheel and lock a wedge is drawn whose sides head where the draws end, with the wheel's own heading between
// them, and its ± stands behind the angle.
func TestSpreadOfTheLocks(t *testing.T) {
	for _, name := range []string{"shed-kart", "rack-buggy", "cyclekart"}[:trial.Count(1, 3)] {
		as, err := sweep.Run(example.Read(t, name), 4*s1.Degree)
		if err != nil {
			t.Fatal(err)
		}
		sure, err := tolerance.Run(as, tolerance.Options{Draws: tolerance.LeastDraws, Path: road.Slide{Radius: 4000}})
		if err != nil {
			t.Fatal(err)
		}
		d := drawing{r: as, opt: Options{Sure: sure}, pose: as.Straight}
		if err := d.see(); err != nil {
			t.Fatal(err)
		}
		if len(d.fans) != 4 {
			t.Fatalf("%s: %d wedges, want 4", name, len(d.fans))
		}
		i := 0
		for _, dir := range sweep.Directions {
			for _, side := range setup.Sides {
				f := d.fans[i]
				i++
				w := &as.Locks[dir].Pose.Wheels[side]
				of := sure.AtLock(dir, side)
				first, last := f.ring[1].Sub(f.ring[0]), f.ring[len(f.ring)-1].Sub(f.ring[0])
				low, high := math.Atan2(first.Y, first.X), math.Atan2(last.Y, last.X)
				if w.Steer < 0 { // to the right the greatest turn heads lowest
					low, high = high, low
				}
				if !(low < float64(w.Steer) && float64(w.Steer) < high) || math.Abs(high-low-(of.Draws.High-of.Draws.Low)) > 1e-9 {
					t.Errorf("%s, %v lock, %v wheel at %v: wedge from %v to %v, draws %+v", name, dir, side, w.Steer, s1.Angle(low), s1.Angle(high), of.Draws)
				}
			}
		}
		s, err := Sheet(as, Options{Options: sheet.Options{Paper: sheet.A4.Landscape()}, Sure: sure})
		if err != nil {
			t.Fatal(err)
		}
		if o, u := s.Overlaps(), s.Unplaced(); len(o)+len(u) > 0 {
			t.Errorf("%s: overlap %v, unplaced %q", name, o, u)
		}
		if n := strings.Count(string(s.Bytes()), "° ±"); n != 4 {
			t.Errorf("%s: %d angles have their ±, want 4", name, n)
		}
	}
}
