package linkage

import (
	"math"
	"testing"

	"github.com/golang/geo/s1"

	"locksweep/fixtures/random"
	"locksweep/fixtures/trial"
	"locksweep/geometry/setup"
)

// sampling is how densely the pose function is searched for what the roots should have found, radians.
const sampling = 0.1 * math.Pi / 180

// firstChange walks from 0 in steps of sampling, at most to end, until reached is true, and bisects the
// step; it knows nothing of derivatives or closed forms.
func firstChange(end float64, reached func(float64) bool) (at float64, found bool) {
	for i := 1; ; i++ {
		t := min(float64(i)*sampling, end)
		if reached(t) {
			low, high := t-sampling, t
			for range 60 {
				if mid := (low + high) / 2; reached(mid) {
					high = mid
				} else {
					low = mid
				}
			}
			return high, true
		}
		if t == end {
			return 0, false
		}
	}
}

// each calls f for both sides and directions of mechanisms that a builder might have and as many that none would.
// share tells how much of the full number, 300, these are.
func each(t *testing.T, f func(seed uint64, s *setup.Setup, m *Mechanism, side setup.Side, dir float64)) (share float64) {
	t.Helper()
	const all = 300
	n := uint64(trial.Count(50, all))
	share = float64(n) / all
	for seed := range 2 * n {
		s := random.FromSeed(seed)
		if seed >= n {
			s = random.Anywhere(seed)
		}
		m, err := New(s)
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		for _, side := range setup.Sides {
			for _, dir := range [2]float64{1, -1} {
				f(seed, s, m, side, dir)
			}
		}
	}
	return share
}

const exactly = 1e-6 // degrees: what a lock is good to

func TestDeadPointsAgainstSampling(t *testing.T) {
	count := 0
	share := each(t, func(seed uint64, s *setup.Setup, m *Mechanism, side setup.Side, dir float64) {
		l := &m.Rods[side].Loop
		want, wanted := firstChange(math.Pi, func(c float64) bool {
			sin, cos := math.Sincos(dir * c)
			x, y, v := l.x.at(sin, cos), l.y.at(sin, cos), l.c.at(sin, cos)
			return x*x+y*y < v*v
		})
		got, found := m.DeadPoint(int(side), dir)
		if found {
			count++
		}
		if found != wanted || found && math.Abs(dir*got.Degrees()-want*180/math.Pi) > exactly {
			t.Errorf("seed %d, %v, direction %v: dead point %v (%v), by sampling %v (%v)", seed, side, dir, got, found, s1.Angle(dir*want), wanted)
		}
	})
	if count < trial.Enough(int(400*share)) {
		t.Errorf("only %d dead points compared", count)
	}
}

func TestOverCentreAgainstSampling(t *testing.T) {
	count := 0
	share := each(t, func(seed uint64, s *setup.Setup, m *Mechanism, side setup.Side, dir float64) {
		end := math.Pi
		if c, found := m.DeadPoint(int(side), dir); found {
			end = math.Abs(float64(c))
		}
		rate := math.Copysign(1, m.straight.Rods[side].FromLever)
		want, wanted := firstChange(end, func(c float64) bool {
			return poseOf(t, m, side, dir*c).Rods[side].FromLever*rate <= 0
		})
		got, found := m.OverCentre(int(side), dir)
		if found {
			count++
		}
		if found != wanted || found && math.Abs(dir*got.Degrees()-want*180/math.Pi) > exactly {
			t.Errorf("seed %d, %v, direction %v: over centre %v (%v), by sampling %v (%v)", seed, side, dir, got, found, s1.Angle(dir*want), wanted)
		}
	})
	if count < trial.Enough(int(400*share)) {
		t.Errorf("only %d over-centre points compared", count)
	}
}

// poseOf poses one side though the other may have ended.
func poseOf(t testing.TB, m *Mechanism, side setup.Side, column float64) (p Pose) {
	t.Helper()
	p.Column = s1.Angle(column)
	p.sin, p.cos = math.Sincos(column)
	if !m.poseRod(int(side), &p) {
		t.Fatalf("no pose at %v", p.Column)
	}
	return p
}

// ownEnd is where a side ends by itself in a direction, radians.
func (m *Mechanism) ownEnd(side setup.Side, dir float64) float64 {
	end := math.Pi
	if c, found := m.DeadPoint(int(side), dir); found {
		end = min(end, math.Abs(float64(c)))
	}
	if c, found := m.OverCentre(int(side), dir); found {
		end = min(end, math.Abs(float64(c)))
	}
	return end
}

func TestRodTiltAgainstSampling(t *testing.T) {
	count := map[bool]int{}
	share := each(t, func(seed uint64, s *setup.Setup, m *Mechanism, side setup.Side, dir float64) {
		end := m.ownEnd(side, dir)
		for _, at := range Ends {
			tiltAt := func(c float64) s1.Angle {
				p := poseOf(t, m, side, dir*c)
				return m.RodTilt(int(side), &p)[at]
			}
			straight := tiltAt(0)
			tilt := straight + (90*s1.Degree-straight)*s1.Angle(1+seed%17)/40
			got, found := m.TiltAt(int(side), at, tilt, dir, s1.Angle(dir*end))
			if found {
				c := math.Abs(float64(got))
				// Near a dead point the tilt runs away from the column angle, which is what is found to this.
				steep := (tiltAt(c) - tiltAt(max(c-1e-11, 0))).Abs()
				if by := (tiltAt(c) - tilt).Abs(); by > 1e-8*s1.Degree+steep {
					t.Errorf("seed %d, %v, direction %v, %v: tilt off by %v degrees at the root", seed, side, dir, at, by.Degrees())
				}
				count[m.Rods[side].boltAlongAxis[at]]++
			}
			// The root may be a touch that sampling passes over, never later than what sampling finds.
			want, wanted := firstChange(end, func(c float64) bool { return tiltAt(c) > tilt })
			if wanted && (!found || dir*got.Degrees() > want*180/math.Pi+exactly) {
				t.Errorf("seed %d, %v, direction %v, %v: tilt %v at %v (%v), by sampling at %v", seed, side, dir, at, tilt, got, found, s1.Angle(dir*want))
			}
		}
	})
	if least := trial.Enough(int(100 * share)); count[true] < least || count[false] < least {
		t.Errorf("too few tilts compared: %v", count)
	}
}

func TestColumnAtAgainstSampling(t *testing.T) {
	count, none := 0, 0
	share := each(t, func(seed uint64, s *setup.Setup, m *Mechanism, side setup.Side, dir float64) {
		end, straight := m.ownEnd(side, dir), m.Straight[side]
		way := math.Copysign(1, m.straight.Sides[side].Rate*dir)
		spindle := straight + s1.Angle(way)*s1.Angle(5+seed%60)*s1.Degree
		want, wanted := firstChange(end, func(c float64) bool {
			return way*Turn(straight, poseOf(t, m, side, dir*c).Sides[side].Spindle) >= way*float64(spindle-straight)
		})
		got, found := m.ColumnAt(side, spindle, dir)
		found = found && math.Abs(float64(got)) <= end
		if found {
			count++
		} else {
			none++
		}
		if found != wanted || found && math.Abs(dir*got.Degrees()-want*180/math.Pi) > exactly {
			t.Errorf("seed %d, %v, direction %v: spindle %v at column %v (%v), by sampling %v (%v)", seed, side, dir, spindle, got, found, s1.Angle(dir*want), wanted)
		}
	})
	if count < trial.Enough(int(400*share)) || none < trial.Enough(int(100*share)) {
		t.Errorf("too few compared: %d found, %d not", count, none)
	}
}

// TestParallelogramChangePoint: the discriminant touches zero without crossing it where all four
// links lie in one line; sampling would pass over it, the wheel would not.
func TestParallelogramChangePoint(t *testing.T) {
	for _, c := range []struct{ arm, ground float64 }{{60, 250}, {90, 90}, {35, 800}} {
		l := planar(c.ground, c.arm, c.ground, c.arm, 1)
		start := math.Pi / 2
		l.Branch = l.branchOf(s1.Angle(start), s1.Angle(start))
		for _, dir := range [2]float64{1, -1} {
			in, _, found := l.fold(start, dir, 2*math.Pi)
			if want := start + dir*math.Pi/2; !found || math.Abs(in-want) > 1e-6 {
				t.Errorf("%+v, direction %v: change point at %v (%v), want %v", c, dir, in, found, want)
			}
		}
		// Both angles are equal on the way there.
		for i := 1; i < 90; i++ {
			in := s1.Angle(i) * s1.Degree
			if out, ok := l.output(in); !ok || apart(out, in) > 1e-9 {
				t.Errorf("%+v: output %v at input %v", c, out, in)
			}
		}
	}
}

// TestNearTangentFold makes the coupler of a parallelogram a little longer or shorter: at the change point
// there is then either a fold, where the toggle formula puts it, or none, and both must be told apart.
func TestNearTangentFold(t *testing.T) {
	const ground, arm = 250.0, 60.0
	for _, by := range []float64{1e-1, 1e-3, 1e-6, 1e-9} {
		// In line inwards, the ball is ground - arm from the rocker's centre.
		long := planar(ground, arm, ground+by, arm, 1)
		want := math.Acos((arm*arm + ground*ground - math.Pow(ground+by-arm, 2)) / (2 * arm * ground))
		at, _, found := long.fold(math.Pi/2, -1, 3)
		// The angle is the root of by: rounding of 1e-13 in the squares moves it by 1e-14 / angle.
		if slack := 1e-9 + 1e-13/want; !found || math.Abs(at-want) > slack {
			t.Errorf("coupler long by %g: fold at %v (%v), want %v", by, at, found, want)
		}
		short := planar(ground, arm, ground-by, arm, 1)
		if at, _, found := short.fold(math.Pi/2, -1, 3); found {
			t.Errorf("coupler short by %g: fold at %v, but it goes through", by, at)
		}
	}
}
