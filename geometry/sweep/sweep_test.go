package sweep

import (
	"errors"
	"math"
	"slices"
	"testing"

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

// TestLeverageWithin: with equal arms the transmission angle is 90 degrees less the column angle.
func TestLeverageWithin(t *testing.T) {
	s := level()
	s.Column.Travel = 52 * s1.Degree
	r := bare(t, s).Run(10 * s1.Degree)
	if l := r.LeverageWithin(); math.Abs(l.Angle.Degrees()-38) > 1e-6 || math.Abs(l.Column.Abs().Degrees()-52) > 1e-9 {
		t.Errorf("least transmission %+v, want 38 at 52", l)
	}
}
