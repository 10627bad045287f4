package linkage

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"
	"pgregory.net/rapid"

	"locksweep/fixtures/random"
	"locksweep/fixtures/trial"
	"locksweep/geometry/rigid"
	"locksweep/geometry/setup"
)

// mechanism makes a random setup ready.
func mechanism(t *rapid.T) (*setup.Setup, *Mechanism) {
	s := random.Setup(t)
	m, err := New(s)
	if err != nil {
		t.Fatal(err)
	}
	return s, m
}

// column draws a column angle up to where the linkage ends, the end itself included.
func (m *Mechanism) columnWithin(t *rapid.T) s1.Angle {
	dir := rapid.SampledFrom([]float64{1, -1}).Draw(t, "direction")
	return s1.Angle(dir * m.end(dir) * rapid.Float64Range(0, 1).Draw(t, "share"))
}

func mustPose(t *rapid.T, m *Mechanism, column s1.Angle) Pose {
	p, ok := m.Pose(column)
	if !ok {
		t.Fatalf("no pose at %v", column)
	}
	return p
}

// TestRodsKeepTheirLength also at the ends of the linkage, and both balls stay on their circles.
func TestRodsKeepTheirLength(t *testing.T) {
	trial.Check(t, func(t *rapid.T) {
		_, m := mechanism(t)
		columns := []s1.Angle{0, m.columnWithin(t), m.columnWithin(t), s1.Angle(m.end(1)), s1.Angle(-m.end(-1))}
		for _, column := range columns {
			p := mustPose(t, m, column)
			for _, side := range setup.Sides {
				l, sp, rp := &m.Rods[side].Loop, &p.Sides[side], &p.Rods[side]
				if off := math.Abs(rp.To.Sub(rp.From).Norm() - l.Length); !(off <= 1e-9*l.Length) {
					t.Errorf("%v, column %v: rod %v off by %g", side, column, l.Length, off)
				}
				for _, on := range []struct {
					crank Crank
					ball  r3.Vector
					by    s1.Angle
				}{{l.In, rp.From, column}, {l.Out, rp.To, sp.Spindle}} {
					if want := on.crank.Axis.RotatePoint(on.crank.at(0, 1), on.by); on.ball.Sub(want).Norm() > 1e-9*l.Length {
						t.Errorf("%v, column %v: ball at %v, want %v", side, column, on.ball, want)
					}
				}
			}
		}
	})
}

func TestMirrorSymmetry(t *testing.T) {
	trial.Check(t, func(t *rapid.T) {
		s, m := mechanism(t)
		mirror, err := New(random.Mirrored(s))
		if err != nil {
			t.Fatal(err)
		}
		for _, side := range setup.Sides {
			for _, dir := range [2]float64{1, -1} {
				a, foundA := m.DeadPoint(int(side), dir)
				b, foundB := mirror.DeadPoint(int(side.Other()), -dir)
				c, foundC := m.OverCentre(int(side), dir)
				d, foundD := mirror.OverCentre(int(side.Other()), -dir)
				if foundA != foundB || foundC != foundD || apart(a, -b) > 1e-9 || apart(c, -d) > 1e-9 {
					t.Errorf("%v, direction %v: dead point %v, mirrored %v; over centre %v, mirrored %v", side, dir, a, b, c, d)
				}
			}
		}
		p := mustPose(t, m, m.columnWithin(t))
		q := mustPose(t, mirror, -p.Column)
		for _, side := range setup.Sides {
			a, b := &p.Sides[side], &q.Sides[side.Other()]
			c, d := &p.Rods[side], &q.Rods[side.Other()]
			slack := roundingSlack(math.Abs(c.ToLever) / m.Rods[side].Levers[AtArm])
			if apart(a.Spindle, -b.Spindle) > slack {
				t.Errorf("%v, column %v: spindle %v, mirrored %v", side, p.Column, a.Spindle, b.Spindle)
			}
			if lever := slack * m.Rods[side].Length; math.Abs(c.ToLever+d.ToLever) > lever || math.Abs(c.FromLever+d.FromLever) > lever {
				t.Errorf("%v, column %v: levers %v and %v, mirrored %v and %v", side, p.Column, c.ToLever, c.FromLever, d.ToLever, d.FromLever)
			}
		}
	})
}

// roundingSlack is what rounding may make of an angle, degrees: 1e-9, and more only where the sine of the
// transmission angle is under 1e-3. At the dead point itself the angle is a double root and keeps
// half its digits.
func roundingSlack(transmission float64) float64 {
	return min(1e-9*max(1, 1e-3/transmission), 1e-5)
}

// TestMotionAndScaleChangeNothing moves and enlarges whole loops.
func TestMotionAndScaleChangeNothing(t *testing.T) {
	trial.Check(t, func(t *rapid.T) {
		_, m := mechanism(t)
		l := m.Rods[rapid.IntRange(0, 1).Draw(t, "side")].Loop
		number := func(name string, size float64) float64 { return rapid.Float64Range(-size, size).Draw(t, name) }
		dir := r3.Vector{X: number("x", 1), Y: number("y", 1), Z: 1 + number("z", 0.5)}.Normalize()
		motion := rigid.About(rigid.Axis{Point: r3.Vector{X: number("px", 500), Y: number("py", 500)}, Dir: dir}, s1.Angle(number("turn", 3)))
		scale := math.Exp(number("log scale", 7))
		crank := func(c Crank) Crank {
			return Crank{Axis: rigid.Axis{Point: motion.Point(c.Axis.Point).Mul(scale), Dir: motion.Direction(c.Axis.Dir)}, Arm: motion.Direction(c.Arm).Mul(scale)}
		}
		moved := newLoop(crank(l.In), crank(l.Out), l.Length*scale, l.Branch)

		column := m.columnWithin(t)
		want, _ := l.output(column)
		got, ok := moved.output(column)
		if !ok || apart(got, want) > roundingSlack(l.leverAt(column, want)/l.Out.lever()) {
			t.Errorf("column %v: moved %v (%v), was %v", column, got, ok, want)
		}
		for _, way := range [2]float64{1, -1} {
			a, _, foundA := l.fold(0, way, math.Pi)
			b, _, foundB := moved.fold(0, way, math.Pi)
			if foundA != foundB || math.Abs(a-b) > 1e-9 {
				t.Errorf("dead point %v, moved %v", a, b)
			}
		}
	})
}

// at returns the ball's place with the crank at the angle whose terms are given.
func (c *Crank) at(sin, cos float64) r3.Vector { return c.Axis.Point.Add(c.from(sin, cos)) }

// leverAt is the rod's lever about Out's axis, mm.
func (l *Loop) leverAt(in, out s1.Angle) float64 {
	pin, pickup := l.In.at(math.Sincos(float64(in))), l.Out.at(math.Sincos(float64(out)))
	return math.Abs(pickup.Sub(pin).Normalize().Dot(l.Out.Axis.Dir.Cross(pickup.Sub(l.Out.Axis.Point))))
}

func TestRateIsTheSlope(t *testing.T) {
	trial.Check(t, func(t *rapid.T) {
		_, m := mechanism(t)
		const h = 1e-5
		dir := rapid.SampledFrom([]float64{1, -1}).Draw(t, "direction")
		column := s1.Angle(dir * (m.end(dir) - 0.05) * rapid.Float64Range(0, 1).Draw(t, "share"))
		p := mustPose(t, m, column)
		before, after := mustPose(t, m, column-h), mustPose(t, m, column+h)
		for _, side := range setup.Sides {
			slope := Turn(before.Sides[side].Spindle, after.Sides[side].Spindle) / (2 * h)
			if got := p.Sides[side].Rate; math.Abs(got-slope) > 1e-5*(1+math.Abs(slope)) {
				t.Errorf("%v, column %v: rate %v, slope %v", side, column, got, slope)
			}
		}
	})
}

// TestColumnAtIsTheInverse up to the over-centre point, where the wheel stands still.
func TestColumnAtIsTheInverse(t *testing.T) {
	trial.Check(t, func(t *rapid.T) {
		_, m := mechanism(t)
		dir := rapid.SampledFrom([]float64{1, -1}).Draw(t, "direction")
		for _, side := range setup.Sides {
			column := dir * min(m.end(dir), m.ownEnd(side, dir)) * rapid.Float64Range(0.01, 0.99).Draw(t, "share")
			p := mustPose(t, m, s1.Angle(column))
			got, ok := m.ColumnAt(side, p.Sides[side].Spindle, dir)
			if !ok || math.Abs(float64(got)-column) > 1e-9/math.Abs(p.Sides[side].Rate) {
				t.Errorf("%v: spindle %v at column %v, by the inverse %v (%v)", side, p.Sides[side].Spindle, s1.Angle(column), got, ok)
			}
		}
	})
}

// TestPoseDoesNotDependOnTheWay: going there and back, in any order, gives the same bits.
func TestPoseDoesNotDependOnTheWay(t *testing.T) {
	trial.Check(t, func(t *rapid.T) {
		_, m := mechanism(t)
		a, b := m.columnWithin(t), m.columnWithin(t)
		first := mustPose(t, m, a)
		mustPose(t, m, b)
		if again := mustPose(t, m, a); again != first {
			t.Errorf("pose at %v: %+v, then %+v", a, first, again)
		}
	})
}

// TestReach: rods up to the bounds assemble, a little past them nothing does.
func TestReach(t *testing.T) {
	trial.Check(t, func(t *rapid.T) {
		s := random.Anywhere(rapid.Uint64Range(0, 1e6).Draw(t, "seed"))
		m, err := New(s)
		if err != nil {
			t.Fatal(err)
		}
		l := m.Rods[rapid.IntRange(0, 1).Draw(t, "side")].Loop
		in := s1.Angle(rapid.Float64Range(-math.Pi, math.Pi).Draw(t, "in"))
		least, greatest := l.reach(in)
		assembles := func(rod float64) bool {
			other := newLoop(l.In, l.Out, rod, 1)
			_, ok := other.output(in)
			return ok
		}
		const by = 1e-6
		if !assembles(least+by) || !assembles(greatest-by) || assembles(greatest+by) || least > by && assembles(least-by) {
			t.Errorf("from %v to %v: below %v, within %v and %v, beyond %v", least, greatest, assembles(least-by), assembles(least+by), assembles(greatest-by), assembles(greatest+by))
		}
	})
}

// TestBallRangeBounds the distance of either ball from the other axis's point, which the search for a
// rod's tilt relies on.
func TestBallRangeBounds(t *testing.T) {
	trial.Check(t, func(t *rapid.T) {
		m, err := New(random.Anywhere(rapid.Uint64Range(0, 1e6).Draw(t, "seed")))
		if err != nil {
			t.Fatal(err)
		}
		l := m.Rods[rapid.IntRange(0, 1).Draw(t, "side")].Loop
		for i := range 60 {
			ball := l.In.at(math.Sincos(float64(i) / 60 * 2 * math.Pi))
			if d := ball.Sub(l.Out.Axis.Point).Norm(); d > l.ballRange(0)*(1+1e-12) {
				t.Errorf("ball %v away, range %v", d, l.ballRange(0))
			}
		}
	})
}
