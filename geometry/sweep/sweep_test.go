package sweep

import (
	"errors"
	"math"
	"slices"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/fixtures/random"
	"locksweep/fixtures/trial"
	"locksweep/geometry/linkage"
	"locksweep/geometry/setup"
)

// apart is the difference of two angles in degrees, the short way round.
func apart(a, b s1.Angle) float64 {
	return math.Abs(math.Remainder(float64(a-b), 2*math.Pi)) * 180 / math.Pi
}

// TestPosesRunFromLockToLock: both locks, straight ahead and all whole multiples of the step, each once.
func TestPosesRunFromLockToLock(t *testing.T) {
	for seed := range uint64(200) {
		m := bare(t, random.FromSeed(seed))
		step := s1.Angle(1+seed%7) * s1.Degree
		r := m.Run(step)
		left, right := r.Locks[ToLeft].Column, r.Locks[ToRight].Column
		columns := columnsOf(r)
		if columns[0] != left || columns[len(columns)-1] != right {
			t.Errorf("seed %d: from %v to %v, locks %v and %v", seed, columns[0], columns[len(columns)-1], left, right)
		}
		if !slices.Contains(columns, 0) {
			t.Errorf("seed %d: not straight ahead", seed)
		}
		for i := 1; i < len(columns); i++ {
			if by := columns[i-1] - columns[i]; by <= 0 || by > step*(1+1e-9) {
				t.Errorf("seed %d: step of %v at %v", seed, by, columns[i])
			}
			if n := float64(columns[i] / step); i < len(columns)-1 && math.Abs(n-math.Round(n)) > 1e-9 {
				t.Errorf("seed %d: %v is no multiple of %v", seed, columns[i], step)
			}
		}
		// From right to left, each pose by itself, the same bits.
		for i := len(r.Poses) - 1; i >= 0; i-- {
			p, ok := m.Pose(columns[i])
			if !ok || p.Pose != r.Poses[i].Pose || p.Wheels != r.Poses[i].Wheels {
				t.Errorf("seed %d: pose at %v depends on the way there", seed, columns[i])
			}
		}
	}
}

// TestLockOnAMultipleOfTheStep comes once, though rounding puts it a little beside.
func TestLockOnAMultipleOfTheStep(t *testing.T) {
	s := level()
	for _, travel := range []float64{30, 33, 42, 70} {
		s.Column.Travel = s1.Angle(travel) * s1.Degree
		m := bare(t, s)
		for _, parts := range []float64{1, 3, 7, 11, 30, 300, 700} {
			columns := columnsOf(m.Run(s.Column.Travel / s1.Angle(parts)))
			if want := 2*int(parts) + 1; len(columns) != want {
				t.Errorf("travel %v in %v parts: %d poses, want %d", travel, parts, len(columns), want)
			}
		}
	}
}

// TestMirroredSweep: the mirrored setup gives swapped, negated answers.
func TestMirroredSweep(t *testing.T) {
	for seed := range uint64(200) {
		s := random.FromSeed(seed)
		r, q := bare(t, s).Run(5*s1.Degree), bare(t, random.Mirrored(s)).Run(5*s1.Degree)
		for _, d := range Directions {
			a, b := &r.Locks[d], &q.Locks[1-d]
			if len(a.Chain) != len(b.Chain) {
				t.Fatalf("seed %d, %v: chain %+v, mirrored %+v", seed, d, a.Chain, b.Chain)
			}
			for i := range a.Chain {
				// A dead point is where the discriminant vanishes; rounding there is worth 1e-9 degrees at most.
				if apart(a.Chain[i].Column, -b.Chain[i].Column) > 1e-9 {
					t.Errorf("seed %d, %v: %v at %v, mirrored %v", seed, d, a.Chain[i].Kind, a.Chain[i].Column, b.Chain[i].Column)
				}
			}
		}
		for share := -0.95; share < 1; share += 0.1 {
			column := r.Locks[ToLeft].Column * s1.Angle(max(share, 0))
			if share < 0 {
				column = r.Locks[ToRight].Column * s1.Angle(-share)
			}
			comparePoses(t, seed, r.Model, q.Model, column)
		}
	}
}

func comparePoses(t *testing.T, seed uint64, m, mirror *Model, column s1.Angle) {
	t.Helper()
	p, ok := m.Pose(column)
	q, ok2 := mirror.Pose(-column)
	if !ok || !ok2 {
		t.Fatalf("seed %d: no pose at %v", seed, column)
	}
	for _, side := range setup.Sides {
		a, b := &p.Wheels[side], &q.Wheels[side.Other()]
		for name, by := range map[string]float64{
			"steer": apart(a.Steer, -b.Steer), "camber": apart(a.Camber, b.Camber),
			"contact x": a.Contact.X - b.Contact.X, "contact y": a.Contact.Y + b.Contact.Y, "contact z": a.Contact.Z - b.Contact.Z,
			"ratio":             (p.Ratio[side] - q.Ratio[side.Other()]) / (1 + math.Abs(p.Ratio[side])),
			"transmission, arm": apart(p.Transmission[side][0], q.Transmission[side.Other()][0]),
			"tilt, arm":         apart(p.Tilt[side][0], q.Tilt[side.Other()][0]),
			"tilt, drop arm":    apart(p.Tilt[side][1], q.Tilt[side.Other()][1]),
		} {
			if !(math.Abs(by) <= 1e-8) {
				t.Errorf("seed %d, column %v, %v: %s differs from the mirrored one by %g", seed, column, side, name, by)
			}
		}
	}
	if p.Turn.Known() != q.Turn.Known() {
		t.Fatalf("seed %d, column %v: turn %+v, mirrored %+v", seed, column, p.Turn, q.Turn)
	}
	if p.Turn.Known() && (p.Turn.Inner == q.Turn.Inner || apart(p.Turn.Error, q.Turn.Error) > 1e-9) {
		t.Errorf("seed %d, column %v: turn %+v, mirrored %+v", seed, column, p.Turn, q.Turn)
	}
}

// scaled multiplies all lengths.
func scaled(s *setup.Setup, f float64) *setup.Setup {
	m := *s
	m.Spacing *= f
	m.Vehicle = setup.Vehicle{Wheelbase: f * s.Vehicle.Wheelbase, RearTrack: f * s.Vehicle.RearTrack,
		RearTyre: setup.Tyre{Diameter: f * s.Vehicle.RearTyre.Diameter, Width: f * s.Vehicle.RearTyre.Width}}
	m.Column.Foot = s.Column.Foot.Mul(f)
	for side := range m.Corners {
		c := &m.Corners[side]
		c.Kingpin.Height *= f
		c.Wheel.Offset *= f
		c.Wheel.Lead *= f
		c.Wheel.Tyre = setup.Tyre{Diameter: f * c.Wheel.Tyre.Diameter, Width: f * c.Wheel.Tyre.Width}
		c.Arm.Pickup = c.Arm.Pickup.Mul(f)
		c.Rod.Length *= f
		m.DropArm.Pins[side] = s.DropArm.Pins[side].Mul(f)
	}
	return &m
}

// TestScaleChangesNoAngle and multiplies every length.
func TestScaleChangesNoAngle(t *testing.T) {
	for seed := range uint64(150) {
		s := random.FromSeed(seed)
		f := []float64{25.4, 1 / 25.4, 0.001, 17}[seed%4]
		r, q := bare(t, s).Run(10*s1.Degree), bare(t, scaled(s, f)).Run(10*s1.Degree)
		for _, d := range Directions {
			a, b := &r.Locks[d], &q.Locks[d]
			if apart(a.Column, b.Column) > 1e-9 || len(a.Chain) != len(b.Chain) {
				t.Errorf("seed %d, scale %v: lock %v, was %v", seed, f, b.Column, a.Column)
			}
			p, _ := r.Pose(a.Column * 0.9)
			w, ok := q.Pose(a.Column * 0.9)
			if !ok {
				t.Fatalf("seed %d, scale %v: no pose", seed, f)
			}
			fp, fq := r.Figures(&p), q.Figures(&w)
			for name, x := range map[string][2]float64{
				"steer": {float64(p.Wheels[0].Steer), float64(w.Wheels[0].Steer)}, "camber": {float64(p.Wheels[1].Camber), float64(w.Wheels[1].Camber)},
				"ideal": {float64(p.Turn.IdealInner), float64(w.Turn.IdealInner)}, "percent": {p.Turn.Percent, w.Turn.Percent},
				"contact": {f * p.Wheels[0].Contact.Norm(), w.Wheels[0].Contact.Norm()}, "ratio": {p.Ratio[0], w.Ratio[0]},
				"circle": {f * fp.Outer.OverFrontTyres, fq.Outer.OverFrontTyres}, "inner rear": {f * fp.Outer.InnerRear, fq.Outer.InnerRear},
				"balanced": {f * fp.Circle.OverFrontTyres, fq.Circle.OverFrontTyres}, "by the inner wheel": {f * fp.Inner.OverFrontTyres, fq.Inner.OverFrontTyres},
				"width": {f * fp.Width, fq.Width}, "rise": {f * (1000 + fp.Rise[0]), f*1000 + fq.Rise[0]},
			} {
				if !(math.Abs(x[0]-x[1]) <= 1e-8*(math.Abs(x[0])+1e-3*f+1e-3)) && !(math.IsNaN(x[0]) && math.IsNaN(x[1])) {
					t.Errorf("seed %d, scale %v, %v: %s %v, want %v", seed, f, d, name, x[1], x[0])
				}
			}
		}
	}
}

// TestRatioIsTheSlope of steer over column angle, by central differences.
func TestRatioIsTheSlope(t *testing.T) {
	const h = 1e-5
	for seed := range uint64(300) {
		m := bare(t, random.FromSeed(seed))
		for _, d := range Directions {
			column := m.Lock(d).Column * s1.Angle(seed%10) / 11
			p, ok := m.Pose(column)
			before, ok1 := m.Pose(column - h)
			after, ok2 := m.Pose(column + h)
			if !ok || !ok1 || !ok2 {
				t.Fatalf("seed %d: no pose near %v", seed, column)
			}
			for _, side := range setup.Sides {
				slope := float64(after.Wheels[side].Steer-before.Wheels[side].Steer) / (2 * h)
				if math.Abs(p.Ratio[side]-slope) > 1e-6*(1+math.Abs(slope)) {
					t.Errorf("seed %d, column %v, %v: ratio %v, slope %v", seed, column, side, p.Ratio[side], slope)
				}
			}
		}
	}
}

// TestAtMeanSteerAgainstSampling: the pose found has the steer, and no sample before it has.
func TestAtMeanSteerAgainstSampling(t *testing.T) {
	met, short := 0, 0
	for seed := range uint64(300) {
		m := bare(t, random.FromSeed(seed))
		for _, d := range Directions {
			lock := m.Lock(d)
			steer := s1.Angle(3+seed%25) * s1.Degree
			p, ok := m.AtMeanSteer(&lock, steer)
			reached := lock.Pose.LinkageSteer.Abs() >= steer
			if ok != reached {
				t.Errorf("seed %d, %v: %v reached %v, but the lock has %v", seed, d, steer, ok, lock.Pose.LinkageSteer)
			}
			if !ok {
				short++
				continue
			}
			met++
			if by := (p.LinkageSteer.Abs() - steer).Abs(); by > 1e-10*s1.Degree || p.Column.Abs() > lock.Column.Abs() || p.Column*lock.Column < 0 {
				t.Errorf("seed %d, %v: at %v mean steer %v, want %v", seed, d, p.Column, p.LinkageSteer, steer)
			}
			if whole, _ := m.Pose(p.Column); whole.Turn.Known() != p.Turn.Known() || whole.Transmission != p.Transmission || whole.Tilt != p.Tilt {
				t.Errorf("seed %d, %v: figures at %v differ from those of the pose", seed, d, p.Column)
			}
		}
	}
	if met < trial.Enough(200) || short < trial.Enough(20) {
		t.Errorf("%d met, %d out of reach: too few of either", met, short)
	}
}

func TestLockToLockByHand(t *testing.T) {
	s := level()
	s.Column.Travel = 45 * s1.Degree
	if got := bare(t, s).Run(s1.Degree).LockToLock(); math.Abs(got-0.25) > 1e-12 {
		t.Errorf("45 degrees each way are %v turns", got)
	}
}

// TestGivenRods: a rod longer by e turns an arm of 80 that it meets squarely by about e/80; behind the
// kingpin that is toe-in on both sides, by the derived length it is none.
func TestGivenRods(t *testing.T) {
	s := level()
	for side := range s.Corners {
		s.Corners[side].Rod.Length = 300 + 1.5*float64(1+side)
	}
	r := bare(t, s).Run(s1.Degree)
	for _, side := range setup.Sides {
		fit, longer := r.Rods[side], 1.5*float64(1+side)
		want := longer / 80 * 180 / math.Pi
		if fit.Length != 300+longer || fit.Derived != 300 || math.Abs(fit.Toe.Degrees()-want) > 0.02*want {
			t.Errorf("%v: %+v, want toe of about %v", side, fit, want)
		}
	}
}

func TestRodsThatCannotAssemble(t *testing.T) {
	s := level()
	s.Corners[setup.Right].Rod.Length = 100
	_, err := Run(s, s1.Degree)
	var e *linkage.AssemblyError
	if !errors.As(err, &e) || e.Name != "right tie rod" {
		t.Errorf("got %v", err)
	}
}

// TestLeastTransmission: with equal arms the transmission angle is 90 degrees less the column angle.
func TestLeastTransmission(t *testing.T) {
	s := level()
	s.Column.Travel = 52 * s1.Degree
	r := bare(t, s).Run(10 * s1.Degree)
	if l := r.LeastTransmission(); math.Abs(l.Angle.Degrees()-38) > 1e-6 || math.Abs(l.Column.Abs().Degrees()-52) > 1e-9 {
		t.Errorf("least transmission %+v, want 38 at 52", l)
	}
}

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

// TestLeastTransmissionOfBothWays is the least of all poses from lock to lock.
func TestLeastTransmissionOfBothWays(t *testing.T) {
	toRight := 0
	for seed := range uint64(60) {
		r := bare(t, random.FromSeed(seed)).Run(2 * s1.Degree)
		least := s1.InfAngle()
		for i := range r.Poses {
			for _, ends := range r.Poses[i].Transmission {
				least = min(least, ends[0], ends[1])
			}
		}
		got := r.LeastTransmission()
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
				return len(f) == 2 && f[0].Lock == ToLeft && f[1].Lock == ToRight && len(f[0].Turns) == 3 &&
					f[0].Turns[0].Steer == 10*s1.Degree && f[0].Turns[1].Steer == 20*s1.Degree && f[0].Turns[2].AtLock &&
					f[0].Turns[0].Percent < 0 && f[0].Turns[0].Error < 0
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
