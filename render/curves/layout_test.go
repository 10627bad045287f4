package curves

import (
	"math"
	"strings"
	"testing"

	"github.com/golang/geo/s1"

	"locksweep/fixtures/random"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/render/sheet"
)

// TestNothingOverlapsOnRandomSetups draws charts of setups of every kind: reversed, hardly turning,
// without a lock.
func TestNothingOverlapsOnRandomSetups(t *testing.T) {
	drawn := 0
	for seed := range uint64(40) {
		s := random.FromSeed(seed)
		s.Name = strings.Repeat("long <name> & ", 20)
		r, err := sweep.Run(s, 2*s1.Degree)
		if err != nil {
			continue // pieces in touch straight ahead
		}
		drawn++
		for name, draw := range map[string]func(*sweep.Result, sheet.Options) (*sheet.Sheet, error){"angles": Angles, "errors": Error} {
			for _, paper := range []sheet.Size{sheet.A4.Landscape(), sheet.Letter} {
				sh, err := draw(r, sheet.Options{Paper: paper})
				if err != nil {
					t.Fatalf("seed %d, %s: %v", seed, name, err)
				}
				if o, u := sh.Overlaps(), sh.Unplaced(); len(o) > 0 || len(u) > 0 {
					t.Errorf("seed %d, %s on %s: overlap %v, unplaced %q", seed, name, paper.Name, o, u)
				}
			}
		}
	}
	if drawn < 20 {
		t.Errorf("only %d of 40 setups could be swept", drawn)
	}
}

// TestErrorAtTheLock: the chart of errors shows the errors, not something else. With the
// ideal inner angle worked out by the plane Ackermann condition, cot outer - cot inner = spacing/wheelbase
// (Ackermann's condition as in any textbook; derived), the last point must be the lock's error.
func TestErrorAtTheLock(t *testing.T) {
	held := 0
	for seed := range uint64(20) {
		s := random.FromSeed(seed)
		for _, side := range setup.Sides {
			s.Corners[side].Kingpin = setup.Kingpin{Height: 150}
			s.Corners[side].Wheel.Lead, s.Corners[side].Wheel.Camber, s.Corners[side].Wheel.Toe = 0, 0, 0
			s.Corners[side].Rod.Length = 0 // the rods follow, so that static toe is nought too
		}
		r, err := sweep.Run(s, s1.Degree)
		if err != nil || !r.Locks[sweep.ToLeft].Pose.Turn.Known() {
			continue // in touch straight ahead, or at the lock no turn to speak of
		}
		turn := r.Locks[sweep.ToLeft].Pose.Turn
		cot := func(a s1.Angle) float64 { return 1 / math.Tan(float64(a)) }
		ideal := math.Atan2(1, cot(turn.OuterSteer)-s.Spacing/s.Vehicle.Wheelbase)
		want := turn.InnerSteer.Degrees() - ideal*180/math.Pi
		curve := errorCurve(r, sweep.ToLeft)
		if got := curve.Points[0].Y; math.Abs(got-want) > 1e-9 { // poses run from the left lock
			t.Errorf("seed %d: error at the left lock %.6f°, by the plane condition %.6f°", seed, got, want)
		}
		held++
	}
	if held < 10 {
		t.Errorf("only %d of 20 setups with an error at the lock", held)
	}
}
