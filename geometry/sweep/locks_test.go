package sweep

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/fixtures/random"
	"locksweep/fixtures/trial"
	"locksweep/geometry/setup"
)

// broken tells what is past its limit at a column angle, by looking at the pose alone: nil where nothing is.
// way is the direction in which each spindle goes.
func (m *Model) broken(column s1.Angle, way [2]float64) (kinds []Kind) {
	if travel := m.Setup.Column.Travel; travel > 0 && column.Abs() > travel {
		kinds = append(kinds, ColumnTravel)
	}
	p, ok := m.Pose(column)
	if !ok {
		return append(kinds, DeadPoint)
	}
	for _, side := range setup.Sides {
		c := &m.Setup.Corners[side]
		if p.Rods[side].FromLever*m.Straight.Rods[side].FromLever < 0 {
			kinds = append(kinds, OverCentre)
		}
		if c.Stop > 0 && way[side]*float64(p.Sides[side].Spindle) > float64(c.Stop) {
			kinds = append(kinds, DeclaredStop)
		}
		for _, tilt := range p.Tilt[side] {
			if limit := c.Rod.End.Tilt; limit > 0 && tilt > limit {
				kinds = append(kinds, RodEnd)
			}
		}
	}
	return kinds
}

// TestLocksAgainstSampling walks from straight ahead to the lock in small steps and on past it: nothing is
// broken before, the limit named is broken just after.
func TestLocksAgainstSampling(t *testing.T) {
	const before, after = 1e-6 * s1.Degree, 2e-6 * s1.Degree
	count := map[Kind]int{}
	for seed := range uint64(600) {
		m := bare(t, random.FromSeed(seed))
		for _, d := range Directions {
			dir := s1.Angle(d.Sign())
			lock := m.Lock(d)
			var way [2]float64
			for side := range way {
				way[side] = math.Copysign(1, m.Straight.Sides[side].Rate*d.Sign())
			}
			first := lock.First()
			if first == nil {
				t.Logf("seed %d, %v: no limit", seed, d)
				continue
			}
			count[first.Kind]++
			if first.Column != lock.Column || lock.Pose.Column != lock.Column || lock.Column*dir < 0 {
				t.Fatalf("seed %d, %v: lock %v, pose %v, first limit %+v", seed, d, lock.Column, lock.Pose.Column, first)
			}
			if lock.Column == 0 {
				if c := &m.Setup.Corners[first.Side]; !(first.Kind == RodEnd && m.Straight.Tilt[first.Side][first.End] >= c.Rod.End.Tilt ||
					first.Kind == DeclaredStop && m.Straight.Sides[first.Side].Spindle.Abs() >= c.Stop) {
					t.Errorf("seed %d, %v: %+v said to be broken straight ahead", seed, d, first)
				}
				continue
			}
			const looks = 800
			for i := 0; i < looks; i += trial.Every(4, 1) {
				at := dir * (lock.Column.Abs() - before) * s1.Angle(i) / (looks - 1)
				if kinds := m.broken(at, way); kinds != nil {
					t.Fatalf("seed %d, %v: lock at %v, but %v broken at %v", seed, d, lock.Column, kinds, at)
				}
			}
			ok := false
			for _, kind := range m.broken(lock.Column+dir*after, way) {
				ok = ok || kind == first.Kind
			}
			// Past a dead point there is no pose and nothing else to be seen.
			if !ok && len(lock.Chain) > 1 && lock.Chain[1].Kind == DeadPoint {
				ok = (lock.Chain[1].Column - lock.Column).Abs() < after
			}
			if !ok {
				t.Errorf("seed %d, %v: lock at %v by %v, but just past it broken is %v", seed, d, lock.Column, first.Kind, m.broken(lock.Column+dir*after, way))
			}
		}
	}
	for _, kind := range []Kind{DeadPoint, OverCentre, RodEnd, DeclaredStop, ColumnTravel} {
		if count[kind] < 20 {
			t.Errorf("%v came first only %d times", kind, count[kind])
		}
	}
}

// TestChainIsInOrder and ends with the linkage's own end.
func TestChainIsInOrder(t *testing.T) {
	for seed := range uint64(500) {
		m := bare(t, random.FromSeed(seed))
		for _, d := range Directions {
			chain := m.Lock(d).Chain
			for i, l := range chain {
				if l.Column*s1.Angle(d.Sign()) < 0 || l.Column.Abs() > m.Linkage.Most {
					t.Errorf("seed %d, %v: %v at %v", seed, d, l.Kind, l.Column)
				}
				if i > 0 && l.Column.Abs() < chain[i-1].Column.Abs() {
					t.Errorf("seed %d, %v: %v at %v after %v", seed, d, l.Kind, l.Column, chain[i-1].Column)
				}
				if l.Kind.Ends() && i != len(chain)-1 {
					t.Errorf("seed %d, %v: the chain goes on past %v", seed, d, l.Kind)
				}
			}
		}
	}
}

func TestLocksDoNotDependOnTheStep(t *testing.T) {
	for seed := range uint64(trial.Count(10, 60)) {
		s := random.FromSeed(seed)
		m := bare(t, s)
		want := m.Run(1 * s1.Degree)
		for _, step := range []s1.Angle{0.1, 0.7, 5, 15, 90, 0, -3, s1.Angle(math.Inf(1))} {
			if step == 0.1 && seed >= 4 {
				continue
			}
			got := m.Run(step * s1.Degree)
			for _, d := range Directions {
				a, b := &got.Locks[d], &want.Locks[d]
				if (a.Column-b.Column).Abs() > 1e-6*s1.Degree || len(a.Chain) != len(b.Chain) {
					t.Errorf("seed %d, step %v: lock %v, with step 1 %v", seed, step, a.Column, b.Column)
				}
			}
		}
	}
}

// TestFirstLimitOfEachKind sets up one steering so that each kind comes first in turn, at a column angle
// known on paper: equal arms with rods straight across, the spindle turning as the column does.
func TestFirstLimitOfEachKind(t *testing.T) {
	for _, c := range []struct {
		kind   Kind
		set    func(s *setup.Setup)
		column float64
		side   setup.Side
	}{
		{DeadPoint, func(*setup.Setup) {}, 90, setup.Left},
		{ColumnTravel, func(s *setup.Setup) { s.Column.Travel = 55 * s1.Degree }, 55, setup.Left},
		{DeclaredStop, func(s *setup.Setup) { s.Corners[setup.Right].Stop = 40 * s1.Degree }, 40, setup.Right},
		// The left rod's arm bolt lies forward and turns with the arm, so that the rod tilts as the arm turns.
		{RodEnd, func(s *setup.Setup) {
			s.Corners[setup.Left].Arm.Bolt = r3.Vector{X: 1}
			s.Corners[setup.Left].Rod.End.Tilt = 25 * s1.Degree
		}, 25, setup.Left},
	} {
		s := level()
		c.set(s)
		for _, d := range Directions {
			lock := bare(t, s).Lock(d)
			first := lock.First()
			if first == nil || first.Kind != c.kind {
				t.Errorf("%v, %v: first limit %+v", c.kind, d, first)
				continue
			}
			within := 1e-6
			if c.kind == DeadPoint { // here a double root: the change point of a parallelogram
				within = 1e-5
			}
			if got := lock.Column.Degrees() * d.Sign(); math.Abs(got-c.column) > within {
				t.Errorf("%v, %v: lock at %v, want %v", c.kind, d, got, c.column)
			}
			if c.kind != ColumnTravel && c.kind != DeadPoint && first.Side != c.side {
				t.Errorf("%v, %v: on the %v, want the %v", c.kind, d, first.Side, c.side)
			}
		}
	}
}

// level is a steering of upright axes, arms and drop arm 80 long and all rearward, rods across.
func level() *setup.Setup {
	s := &setup.Setup{Spacing: 600, Limits: setup.Limits{Clearance: 5, Transmission: 25 * s1.Degree}}
	s.Vehicle = setup.Vehicle{Wheelbase: 1000, RearTrack: 800, RearTyre: setup.Tyre{Diameter: 280, Width: 150}}
	for side := range s.Corners {
		c := &s.Corners[side]
		c.Kingpin.Height = 130
		c.Wheel = setup.Wheel{Offset: 120, Tyre: setup.Tyre{Diameter: 260, Width: 130}}
		c.Arm.Pickup = r3.Vector{X: -80}
		c.Rod.Diameter = 12
		s.DropArm.Pins[side] = r3.Vector{X: 80}
	}
	s.Column = setup.Column{Foot: r3.Vector{Z: 130}, Rake: 90 * s1.Degree}
	return s
}

// TestOneSideEndsFirst: shortening one arm makes that side's dead point the lock both ways, though the
// other side goes further.
func TestOneSideEndsFirst(t *testing.T) {
	for _, side := range setup.Sides {
		s := level()
		s.Corners[side].Arm.Pickup.X = -60
		m := bare(t, s)
		for _, d := range Directions {
			own, _ := m.Linkage.DeadPoint(int(side), d.Sign())
			lock := m.Lock(d)
			if first := lock.First(); first == nil || first.Kind != DeadPoint || first.Side != side || lock.Column != own || own.Abs() >= 89*s1.Degree {
				t.Errorf("%v arm short, %v: lock %v by %+v, own dead point %v", side, d, lock.Column, first, own)
			}
		}
	}
}
