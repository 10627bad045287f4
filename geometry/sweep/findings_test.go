package sweep

import (
	"math"
	"slices"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/fixtures/random"
	"locksweep/fixtures/trial"
	"locksweep/geometry/setup"
)

// findingsOf is what a sweep says, by code.
func findingsOf(t *testing.T, set func(s *setup.Setup)) map[Code][]Finding {
	t.Helper()
	s := level()
	stopAt(s, 40)
	set(s)
	found := map[Code][]Finding{}
	for _, f := range bare(t, s).Run(s1.Degree).Findings {
		found[f.Code] = append(found[f.Code], f)
	}
	return found
}

// TestLeverageWithinOfBothWays is the least of all poses from lock to lock.
func TestLeverageWithinOfBothWays(t *testing.T) {
	toRight := 0
	for seed := range uint64(60) {
		r := bare(t, random.FromSeed(seed)).Run(2 * s1.Degree)
		least := s1.InfAngle()
		for i := range r.Poses {
			for _, ends := range r.Poses[i].Transmission {
				least = min(least, ends[0], ends[1])
			}
		}
		got := r.LeverageWithin()
		if got.Angle > least+1e-9 || got.Angle < least-0.05*s1.Degree {
			t.Errorf("seed %d: least %+v, of the poses %v", seed, got, least)
		}
		if got.Column < 0 {
			toRight++
		}
	}
	if toRight < trial.Enough(10) {
		t.Errorf("least to the right in %d setups only", toRight)
	}
}

// stopAt gives both spindles a stop, degrees either way; 0 takes it away.
func stopAt(s *setup.Setup, degrees float64) {
	for side := range s.Corners {
		s.Corners[side].Stop = s1.Angle(degrees) * s1.Degree
	}
}

// TestFindings provokes each code once and looks at what it carries; the plain setup has none of them but
// that a linkage of parallel arms has no Ackermann at all.
func TestFindings(t *testing.T) {
	bothCorners := func(s *setup.Setup, set func(c *setup.Corner)) {
		for side := range s.Corners {
			set(&s.Corners[side])
		}
	}
	if found := findingsOf(t, func(*setup.Setup) {}); len(found) != 0 {
		t.Errorf("plain setup: %+v", found)
	}
	// Rods of derived length set the file's toe, whatever it is.
	if f := findingsOf(t, func(s *setup.Setup) { bothCorners(s, func(c *setup.Corner) { c.Wheel.Toe = s1.Degree }) })[RodLength]; len(f) != 0 {
		t.Errorf("toe of the file: %+v", f)
	}
	toed := level()
	bothCorners(toed, func(c *setup.Corner) { c.Wheel.Toe = s1.Degree })
	rods := bare(t, toed).Run(s1.Degree).Rods
	if f := findingsOf(t, func(s *setup.Setup) { // a hundredth of a millimetre off what the file's toe asks for
		for side := range s.Corners {
			s.Corners[side].Wheel.Toe, s.Corners[side].Rod.Length = s1.Degree, rods[side].Derived+0.01
		}
	})[RodLength]; len(f) != 0 {
		t.Errorf("rods that set the file's toe: %+v", f)
	}
	for _, c := range []struct {
		code Code
		set  func(s *setup.Setup)
		want func(f []Finding) bool
	}{
		{BrokenStraight, func(s *setup.Setup) {
			s.DropArm.Pins[setup.Right].Z = 150 // the right rod climbs by atan(1/2)
			s.Corners[setup.Right].Rod.End.Tilt = 20 * s1.Degree
		}, func(f []Finding) bool {
			return len(f) == 1 && f[0].Side == setup.Right && f[0].Limit.Kind == RodEnd && f[0].Limit.Column == 0
		}},
		{SteersBackwards, func(s *setup.Setup) {
			bothCorners(s, func(c *setup.Corner) { c.Arm.Pickup.X = 80 })
			s.Column.Foot.X = 160
		}, func(f []Finding) bool { return len(f) == 1 }},
		{WheelsOpposed, func(s *setup.Setup) {
			s.Corners[setup.Left].Arm.Pickup.X = 80
			s.Column.Foot.X = 80
		}, func(f []Finding) bool { return len(f) == 1 }},
		// Arms behind that lean outboard: the inner wheel turns less.
		{ReversedAckermann, func(s *setup.Setup) { bothCorners(s, func(c *setup.Corner) { c.Arm.Pickup.Y = 30 }) },
			func(f []Finding) bool {
				return len(f) == 1 && f[0].Both && f[0].Lock == ToLeft && len(f[0].Turns) == 3 &&
					f[0].Turns[0].Steer == 10*s1.Degree && f[0].Turns[1].Steer == 20*s1.Degree && f[0].Turns[2].AtLock &&
					f[0].Turns[0].Percent < 0 && f[0].Turns[0].Error < 0
			}},
		// The same on one side only: then either way by its own figures.
		{ReversedAckermann, func(s *setup.Setup) {
			bothCorners(s, func(c *setup.Corner) { c.Arm.Pickup.Y = 30 })
			s.Corners[setup.Right].Arm.Pickup.Y = 28
		}, func(f []Finding) bool {
			return len(f) == 2 && !f[0].Both && f[0].Lock == ToLeft && f[1].Lock == ToRight
		}},
		{LowTransmission, func(s *setup.Setup) { stopAt(s, 70) },
			func(f []Finding) bool {
				return len(f) == 1 && math.Abs(f[0].Angle.Degrees()-20) < 1e-6 && math.Abs(f[0].Column.Abs().Degrees()-70) < 1e-9
			}},
		{UnequalLocks, func(s *setup.Setup) { s.Corners[setup.Right].Rod.Length = 301; s.Column.Travel = 38 * s1.Degree }, // the right wheel starts at 0.7 degrees
			func(f []Finding) bool { return len(f) == 1 && f[0].Angle > 0.5*s1.Degree && f[0].Angle < 1.5*s1.Degree }},
		{RodLength, func(s *setup.Setup) { s.Corners[setup.Right].Rod.Length = 299 },
			func(f []Finding) bool {
				return len(f) == 1 && f[0].Side == setup.Right && math.Abs(f[0].Angle.Degrees()+0.716) < 0.01 // toe-out
			}},
		{NoMetalStop, func(s *setup.Setup) { stopAt(s, 0) },
			func(f []Finding) bool {
				return len(f) == 2 && f[0].Lock == ToLeft && f[1].Lock == ToRight && f[0].Limit.Kind == DeadPoint && f[0].First == nil
			}},
		// The column's own stop holds no wheel.
		{NoMetalStop, func(s *setup.Setup) { stopAt(s, 0); s.Column.Travel = 40 * s1.Degree },
			func(f []Finding) bool {
				return len(f) == 2 && f[1].Lock == ToRight && f[1].Limit.Kind == DeadPoint && f[1].First.Kind == ColumnTravel
			}},
		{TouchesFirst, func(s *setup.Setup) { s.Column.Travel = 30 * s1.Degree },
			func(f []Finding) bool {
				return len(f) == 2 && f[0].Lock == ToLeft && f[0].Limit.Kind == ColumnTravel && f[0].First.Kind == DeclaredStop
			}},
		{StopMargin, func(s *setup.Setup) { stopAt(s, 87.1) },
			func(f []Finding) bool {
				return len(f) == 2 && f[0].Lock == ToLeft && f[1].Lock == ToRight && f[0].Limit.Kind == DeadPoint && f[0].First.Kind == DeclaredStop &&
					math.Abs(f[0].Angle.Degrees()-2.9) < 1e-4 && math.Abs(f[0].Column.Degrees()-2.9) < 1e-4 && f[1].Column < 0
			}},
		// Both arms are alike, so that rods and arms fall in line at once.
		{ChangePoint, func(s *setup.Setup) { stopAt(s, 88) },
			func(f []Finding) bool {
				return len(f) == 2 && f[0].Lock == ToLeft && f[1].Lock == ToRight && f[0].Angle < 0.1*s1.Degree && f[0].Limit.Kind.Ends()
			}},
		// The rod runs along its arm: pickup and pin as far out as the drop arm's pin.
		{DeadCentre, func(s *setup.Setup) {
			s.Corners[setup.Right].Arm.Pickup = r3.Vector{X: -0.5, Y: -80}
			s.DropArm.Pins[setup.Right] = r3.Vector{X: 0.5, Y: -20}
			s.Corners[setup.Right].Stop = 0
		}, func(f []Finding) bool { return len(f) == 1 && f[0].Rod == 1 && f[0].Angle < 1*s1.Degree }},
	} {
		if found := findingsOf(t, c.set); !c.want(found[c.code]) {
			t.Errorf("%s: %+v\nall: %+v", c.code, found[c.code], found)
		}
	}
}

// TestFindingsOfMetal: a post beside the left tyre, near and nearer.
func TestFindingsOfMetal(t *testing.T) {
	found := func(gap float64, travel s1.Angle) map[Code][]Finding {
		s := level()
		s.Column.Travel = travel
		// The tyre's inner face stands at y = 355; it comes inboard at the front when it turns right.
		post := r3.Vector{X: 100, Y: 355 - gap - 10, Z: 100}
		s.Parts = []setup.Part{{Name: "post", Sides: [2]bool{true, false}, Tube: &setup.Tube{Diameter: 20, Path: []r3.Vector{post, post.Add(r3.Vector{Z: 60})}}}}
		r, err := Run(s, s1.Degree)
		if err != nil {
			t.Fatal(err)
		}
		found := map[Code][]Finding{}
		for _, f := range r.Findings {
			found[f.Code] = append(found[f.Code], f)
		}
		return found
	}
	// A tyre turned by 20 degrees brings its rim, 100 ahead, inboard by about 100 tan 20 = 36.
	all := found(20, 40*s1.Degree)
	if f := all[TyreTouches]; len(f) != 1 || f[0].Lock != ToRight || f[0].Side != setup.Left || f[0].Limit.Kind != Contact {
		t.Errorf("post 20 beside the tyre, 40 degrees of travel: %+v", f)
	}
	if f := all[LowClearance]; len(f) != 0 { // what stops the steering is not near, it touches
		t.Errorf("post 20 beside the tyre: said to be near as well: %+v", f[0].Near)
	}
	if f := found(60, 20*s1.Degree); len(f[TyreTouches]) != 0 || len(f[LowClearance]) != 0 {
		t.Errorf("post 60 beside the tyre, 20 degrees of travel: %+v", f)
	}
	if f := found(3, 0.1*s1.Degree); len(f[TyreTouches]) != 0 || len(f[LowClearance]) != 1 || f[LowClearance][0].Near.Gap > 3 || f[LowClearance][0].Near.Gap < 2 {
		t.Errorf("post 3 beside the tyre, hardly any travel: %+v", f)
	}
}

// TestEarlyLock: a square lug against a wall ahead of it meets it when it has turned by the angle at which its corner, 50 mm ahead and 10 mm
// aside, comes to the wall's face. By hand: 50 cos θ + 10 sin θ = x for a wall at x.
func TestEarlyLock(t *testing.T) {
	for _, c := range []struct {
		degrees float64
		want    int
	}{{9.9, 2}, {10.1, 0}, {25, 0}} {
		theta := c.degrees * math.Pi / 180
		wall := 50*math.Sin(theta) + 10*math.Cos(theta) // of y, either side of the lug
		s := level()
		stopAt(s, 0)
		both := [2]bool{true, true}
		box := func(x0, x1, y0, y1 float64) []r2.Point {
			return []r2.Point{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}}
		}
		s.Parts = []setup.Part{
			{Name: "lug", On: setup.OnSpindle, Sides: both, Plate: &setup.Plate{Outline: box(0, 50, -10, 10), Lower: 60, Upper: 80}},
			{Name: "inboard", On: setup.OnFrame, AtKingpin: true, Sides: both, Plate: &setup.Plate{Outline: box(0, 80, -wall-20, -wall), Lower: 60, Upper: 80}},
			{Name: "outboard", On: setup.OnFrame, AtKingpin: true, Sides: both, Plate: &setup.Plate{Outline: box(0, 80, wall, wall+20), Lower: 60, Upper: 80}},
		}
		s.Ignore = [][2]string{{"inboard", "tyre"}, {"outboard", "tyre"}, {"lug", "tyre"}}
		r, err := Run(s, s1.Degree)
		if err != nil {
			t.Fatal(err)
		}
		told := 0
		for _, f := range r.Findings {
			if f.Code != EarlyLock {
				continue
			}
			if told++; math.Abs(f.Angle.Degrees()-c.degrees) > 0.01 {
				t.Errorf("said at %v, want %g", f.Angle, c.degrees)
			}
		}
		if told != c.want {
			t.Errorf("a lug that meets at %g degrees: told %d times, want %d; lock at %v", c.degrees, told, c.want, r.Locks[ToLeft].Column)
		}
	}
}

// TestUncheckedPair: a frame tube stands where the drop arm, whose shape is not given, is assumed to be.
func TestUncheckedPair(t *testing.T) {
	s := level()
	s.Column.Travel = 10 * s1.Degree
	s.Parts = []setup.Part{{Name: "tray", Tube: &setup.Tube{Diameter: 20, Path: []r3.Vector{{X: -40, Y: -10, Z: 130}, {X: -40, Y: 10, Z: 130}}}}}
	r, err := Run(s, s1.Degree)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range r.Findings {
		if f.Code != UncheckedPair {
			continue
		}
		a, b := r.Scene.Pieces[f.Pair[0]].Name, r.Scene.Pieces[f.Pair[1]].Name
		if a != "tray" && b != "tray" {
			t.Errorf("unchecked: %s and %s", a, b)
		}
		return
	}
	t.Errorf("not said: %+v", r.Findings)
}

// TestRaisedDropArmCuresBackwardSteering: with the arms ahead, a hanging drop arm steers backwards
// and one that stands above the column does not.
func TestRaisedDropArmCuresBackwardSteering(t *testing.T) {
	for _, c := range []struct {
		forward, down float64
		backwards     bool
	}{{-80, 60, false}, {80, 60, true}, {80, -60, false}} {
		s := level()
		s.Column.Rake = 40 * s1.Degree
		for side := range s.Corners {
			s.Corners[side].Arm.Pickup.X = c.forward
			s.DropArm.Pins[side] = r3.Vector{X: c.down}
		}
		s.Column.Foot = r3.Vector{X: c.forward, Z: 130 + c.down*math.Cos(40*math.Pi/180)}
		r := bare(t, s).Run(5 * s1.Degree)
		got := slices.ContainsFunc(r.Findings, func(f Finding) bool { return f.Code == SteersBackwards })
		left, _ := r.Pose(10 * s1.Degree)
		for _, side := range setup.Sides {
			if got != c.backwards || (left.Wheels[side].Steer > 0) == c.backwards || (r.Straight.Ratio[side] > 0) == c.backwards {
				t.Errorf("arms %v, drop arm %v down: backwards %v, %v steer %v at column 10", c.forward, c.down, got, side, left.Wheels[side].Steer)
			}
		}
	}
}
