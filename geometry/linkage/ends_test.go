package linkage

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/fixtures/published"
	"locksweep/fixtures/random"
	"locksweep/fixtures/trial"
	"locksweep/geometry/setup"
)

// eachKind calls f for both rods and directions of n linkages of every kind but the two rods, of a quarter of them without -long.
func eachKind(t *testing.T, n uint64, f func(at string, s *setup.Setup, m *Mechanism, rod int, dir float64)) {
	t.Helper()
	if !trial.Long() {
		n /= 4
	}
	for name, make := range kinds {
		for seed := range n {
			s := make(seed)
			m, err := New(s)
			if err != nil {
				t.Fatalf("%s, seed %d: %v", name, seed, err)
			}
			for rod := range m.Rods {
				for _, dir := range [2]float64{1, -1} {
					f(fmt.Sprintf("%s, seed %d, %s, direction %v", name, seed, m.Rods[rod].Name(), dir), s, m, rod, dir)
				}
			}
		}
	}
}

// walk poses rods 0 to rod at column dir·c, whatever dead points are known; ok tells by rod whether it reaches.
func (m *Mechanism) walk(rod int, column float64) (p Pose, ok [2]bool) {
	blind := *m
	blind.Rods[0].deadPoints, blind.Rods[1].deadPoints = [2]fold{}, [2]fold{}
	m.turnInput(&p, s1.Angle(column))
	for i := range rod + 1 {
		ok[i] = blind.poseRod(i, &p)
	}
	return p, ok
}

// drivers are the rods that must stand before a rod can, itself included.
func (m *Mechanism) drivers(rod int) []int {
	if from := m.Rods[rod].From; from != Input {
		return []int{m.Driver[from.Side()], rod}
	}
	return []int{rod}
}

// TestEndsOfChainsAgainstSampling walks in steps and knows nothing of folds: a dead point is where a rod first fails to reach while
// what drives it stands, over centre where its lever about that changes sign.
func TestEndsOfChainsAgainstSampling(t *testing.T) {
	dead, over, second := 0, 0, 0
	eachKind(t, 80, func(at string, s *setup.Setup, m *Mechanism, rod int, dir float64) {
		most := min(float64(m.Most), 2.5*math.Pi)
		own := m.drivers(rod)
		stops := func(c float64) bool {
			_, ok := m.walk(rod, dir*c)
			return slices.ContainsFunc(own, func(i int) bool { return !ok[i] })
		}
		want, wanted := firstChange(most, stops)
		if wanted {
			_, ok := m.walk(rod, dir*want)
			wanted = len(own) == 1 || ok[own[0]] // else what drives it ends first
		}
		got, found := m.DeadPoint(rod, dir)
		if found && math.Abs(float64(got)) > most {
			found = false
		}
		if wanted != found && !(found && !wanted && want > 0) || wanted && math.Abs(dir*got.Degrees()-want*180/math.Pi) > 1e-5 {
			t.Errorf("%s: dead point %v (%v), by sampling %v (%v)", at, got, found, s1.Angle(dir*want), wanted)
		}
		if wanted {
			dead++
			second += map[bool]int{true: 1}[len(own) == 2]
		}
		end := most
		if want > 0 {
			end = min(end, want*(1-1e-9))
		}
		for _, i := range own {
			p, _ := m.walk(rod, 0)
			sign := math.Copysign(1, p.Rods[i].FromLever)
			turn, turns := firstChange(end, func(c float64) bool {
				p, _ := m.walk(rod, dir*c)
				return p.Rods[i].FromLever*sign <= 0
			})
			if turns && i != rod {
				end = turn // ColumnAt goes no further
			}
			if i != rod {
				continue
			}
			got, found := m.OverCentre(rod, dir)
			if found && math.Abs(float64(got)) > most {
				found = false
			}
			if turns {
				over++
			}
			if turns != found && !(found && math.Abs(float64(got)) > end-1e-6) || turns && math.Abs(dir*got.Degrees()-turn*180/math.Pi) > 1e-5 {
				t.Errorf("%s: over centre %v (%v), by sampling %v (%v) within %v", at, got, found, s1.Angle(dir*turn), turns, s1.Angle(end))
			}
		}
	})
	least := trial.Every(10, 40)
	if dead < trial.Enough(least) || over < trial.Enough(least) || second < trial.Enough(least/4) {
		t.Errorf("only %d dead points, %d of them of a second rod, and %d over-centre points compared", dead, second, over)
	}
}

// wayOf is as far as a rod and what drives it go without a dead point or over centre.
func (m *Mechanism) wayOf(rod int, dir float64) float64 {
	end := float64(m.Most)
	for _, i := range m.drivers(rod) {
		for _, f := range []func(int, float64) (s1.Angle, bool){m.DeadPoint, m.OverCentre} {
			if c, found := f(i, dir); found {
				end = min(end, math.Abs(float64(c)))
			}
		}
	}
	return end
}

// TestTiltsOfChainsAgainstSampling as TestRodTiltAgainstSampling does for two rods.
func TestTiltsOfChainsAgainstSampling(t *testing.T) {
	count := map[bool]int{}
	eachKind(t, 60, func(name string, s *setup.Setup, m *Mechanism, rod int, dir float64) {
		end := m.wayOf(rod, dir) * 0.999
		for _, at := range Ends {
			tiltAt := func(c float64) s1.Angle {
				p, _ := m.walk(rod, dir*c)
				return m.RodTilt(rod, &p)[at]
			}
			straight := tiltAt(0)
			tilt := straight + 3*s1.Degree
			got, found := m.TiltAt(rod, at, tilt, dir, s1.Angle(dir*end))
			if found {
				c := math.Abs(float64(got))
				steep := (tiltAt(c) - tiltAt(max(c-1e-11, 0))).Abs()
				if by := (tiltAt(c) - tilt).Abs(); by > 1e-9*s1.Degree+steep {
					t.Errorf("%s, %v: tilt off by %v degrees at the root", name, at, by.Degrees())
				}
				count[m.Rods[rod].boltAlongAxis[at]]++
			}
			want, wanted := firstChange(end, func(c float64) bool { return tiltAt(c) > tilt })
			if wanted && (!found || dir*got.Degrees() > want*180/math.Pi+exactly) {
				t.Errorf("%s, %v: tilt %v at %v (%v), by sampling at %v", name, at, tilt, got, found, s1.Angle(dir*want))
			}
		}
	})
	if count[true] < trial.Enough(10) || count[false] < trial.Enough(10) {
		t.Errorf("too few tilts compared: %v", count)
	}
}

// TestRatesOfChains: the rate is the slope, ColumnAt the inverse, and a pace bounds both derivatives.
func TestRatesOfChains(t *testing.T) {
	paced := 0
	eachKind(t, 100, func(name string, s *setup.Setup, m *Mechanism, rod int, dir float64) {
		r := rand.New(rand.NewPCG(uint64(rod), uint64(2+dir)))
		side := m.Rods[rod].To.Side()
		column := dir * m.wayOf(rod, dir) * (0.05 + 0.85*r.Float64())
		const h = 1e-5
		at := func(c float64) Pose { p, _ := m.walk(rod, c); return p }
		p, before, after := at(column), at(column-h), at(column+h)
		slope := Turn(before.Sides[side].Spindle, after.Sides[side].Spindle) / (2 * h)
		if rate := p.Sides[side].Rate; math.Abs(rate-slope) > 1e-4*(1+math.Abs(slope)) {
			t.Errorf("%s, column %v: rate %v, slope %v", name, s1.Angle(column), rate, slope)
		}
		if got, ok := m.ColumnAt(side, p.Sides[side].Spindle, dir); !ok || math.Abs(float64(got)-column) > 1e-8/math.Abs(slope) {
			t.Errorf("%s: spindle %v at column %v, by the inverse %v (%v)", name, p.Sides[side].Spindle, s1.Angle(column), got, ok)
		}
		turn := 0.5 * (m.wayOf(rod, dir) - math.Abs(column)) * r.Float64() * dir
		to := at(column + turn)
		first, second, ok := m.Pace(Spindle(side), &p, &to)
		if !ok {
			return
		}
		paced++
		rate := func(c float64) float64 { q := at(c); return q.Sides[side].Rate }
		for k := range 9 {
			c := column + turn*float64(k)/8
			if got := math.Abs(rate(c)); got > first*(1+1e-9) {
				t.Errorf("%s: rate %v, bound %v", name, got, first)
			}
			if bend := math.Abs(rate(c+h)-rate(c-h)) / (2 * h); bend > second*(1+1e-4)+1e-4 {
				t.Errorf("%s: second derivative %v, bound %v", name, bend, second)
			}
		}
	})
	if paced < trial.Enough(40) {
		t.Errorf("only %d paces looked at", paced)
	}
}

// TestMirroredChains: a cross rod on a mirror-image vehicle driven from the other side, and a mirrored rack, do the
// mirrored thing.
func TestMirroredChains(t *testing.T) {
	eachKind(t, 100, func(name string, s *setup.Setup, m *Mechanism, rod int, dir float64) {
		mirror, err := New(random.Mirrored(s))
		if err != nil {
			t.Fatal(err)
		}
		side := m.Rods[rod].To.Side()
		other := mirror.Driver[side.Other()]
		for what, f := range map[string]func(m *Mechanism, rod int, dir float64) (s1.Angle, bool){"dead point": (*Mechanism).DeadPoint, "over centre": (*Mechanism).OverCentre} {
			a, foundA := f(m, rod, dir)
			b, foundB := f(mirror, other, -dir)
			if foundA != foundB || foundA && math.Abs(float64(a+b)) > 1e-8 {
				t.Errorf("%s: %s %v, mirrored %v", name, what, a, b)
			}
		}
		for _, share := range []float64{0, 0.3, 0.8} {
			column := s1.Angle(dir * m.end(dir) * share)
			p, ok := m.Pose(column)
			q, okMirrored := mirror.Pose(-column)
			if !ok || !okMirrored || apart(p.Sides[side].Spindle, -q.Sides[side.Other()].Spindle) > 1e-7 {
				t.Errorf("%s, column %v: spindle %v, mirrored %v", name, column, p.Sides[side].Spindle, q.Sides[side.Other()].Spindle)
			}
			a, b := m.Transmission(rod, &p), mirror.Transmission(other, &q)
			if (a[0]-b[0]).Abs() > 1e-7 || (a[1]-b[1]).Abs() > 1e-7 {
				t.Errorf("%s, column %v: transmission %v, mirrored %v", name, column, a, b)
			}
		}
	})
}

// TestCrossRodIsJazarsTrapezoid: a flat symmetric trapezoid whose drag link is a parallelogram of the column with the left arm, so that the
// left spindle turns as the column does; inner and outer against Jazar's relation (fixtures/published).
func TestCrossRodIsJazarsTrapezoid(t *testing.T) {
	compared := 0
	for _, p := range published.Trapezoids {
		sin, cos := math.Sincos(float64(degrees(p.Aim)))
		s := &setup.Setup{Spacing: p.Spacing}
		for side := range s.Corners {
			s.Corners[side].Arm.Pickup = r3.Vector{X: -p.Arm * cos, Y: -p.Arm * sin}
		}
		link := setup.DragLink{Side: setup.Left, Pickup: r3.Vector{X: -100}}
		s.Column = setup.Column{Foot: r3.Vector{Y: 17}, Rake: 90 * s1.Degree}
		s.DropArm.Pins = [2]r3.Vector{{X: 100}, {X: 100}} // down is rearward on an upright column
		s.DragLink = &link
		m := mustNew(t, s)
		for i, inner := range p.Inner {
			pose, ok := m.Pose(degrees(inner))
			if !ok {
				t.Fatalf("no pose at %v", inner)
			}
			compared++
			left, right := pose.Sides[setup.Left].Spindle, pose.Sides[setup.Right].Spindle
			if apart(left, degrees(inner)) > 1e-9 || apart(right, degrees(p.Outer[i])) > p.Within {
				t.Errorf("%s: inner %v gives left %.4f, right %.4f, want %v", p.Work, inner, left.Degrees(), right.Degrees(), p.Outer[i])
			}
		}
	}
	if compared < 4 {
		t.Errorf("only %d poses compared", compared)
	}
}

// TestRackByHand: everything level, the rack across at the depth of the balls. The law of cosines in the triangle of kingpin, inner ball
// and pickup gives the arm's angle (derived).
func TestRackByHand(t *testing.T) {
	const spacing, arm, half, perTurn = 700.0, 110.0, 180.0, 60.0
	for _, depth := range []float64{-110, -70, -140} { // of the rack behind the kingpins
		s := &setup.Setup{Spacing: spacing, Rack: &setup.Rack{PerTurn: -perTurn}}
		for _, side := range setup.Sides {
			s.Corners[side].Arm.Pickup = r3.Vector{X: -arm}
			s.Rack.Balls[side] = r3.Vector{X: depth, Y: side.Sign() * half}
		}
		m := mustNew(t, s)
		rod := math.Hypot(spacing/2-half, arm+depth)
		for _, column := range []float64{0, 40, -90, 200, -330, 420} {
			p, ok := m.Pose(degrees(column))
			if !ok {
				t.Fatalf("depth %v: no pose at %v", depth, column)
			}
			for _, side := range setup.Sides {
				// Seen from the kingpin: the inner ball is away forward and inward; the arm stands between it and the rear.
				slid := -perTurn * column / 360
				inward := spacing/2 - side.Sign()*(side.Sign()*half+slid)
				away := math.Hypot(inward, depth)
				toBall := math.Atan2(inward, -depth) // from rearward, inward
				atKingpin := math.Acos((away*away + arm*arm - rod*rod) / (2 * away * arm))
				want := side.Sign() * (toBall - atKingpin) // inward at the rear is a turn to the left on the left side
				if got := float64(p.Sides[side].Spindle); math.Abs(got-want) > 1e-10 {
					t.Errorf("depth %v, column %v, %v: spindle %v, by hand %v", depth, column, side, s1.Angle(got), s1.Angle(want))
				}
				along := r3.Vector{X: -arm * math.Cos(want), Y: side.Sign()*spacing/2 - arm*math.Sin(want)}.Sub(r3.Vector{X: depth, Y: side.Sign()*half + slid}).Normalize()
				if got := m.Transmission(int(side), &p)[AtDropArm]; math.Abs(float64(got)-math.Asin(math.Abs(along.Y))) > 1e-9 {
					t.Errorf("depth %v, column %v, %v: transmission at the rack %v, by hand %v", depth, column, side, got, s1.Angle(math.Asin(math.Abs(along.Y))))
				}
			}
		}
	}
}

// TestRackEndsByHand: a level rack in line with the kingpins, seen from above. Each rod is pulled out straight where the inner ball is
// rod + arm from the kingpin, and stands square to the rack where the arm's reach across is what the kingpin is off the ball.
func TestRackEndsByHand(t *testing.T) {
	const arm, half = 100.0, 150.0
	s := &setup.Setup{Spacing: 700, Rack: &setup.Rack{PerTurn: 60}}
	for _, side := range setup.Sides {
		s.Corners[side].Arm.Pickup = r3.Vector{X: -arm}
		s.Rack.Balls[side] = r3.Vector{X: 0, Y: side.Sign() * half}
	}
	m := mustNew(t, s)
	rod := math.Hypot(200, arm)
	dead := (rod + arm - 200) / 60 * 2 * math.Pi // the rack goes away from the left kingpin, to the right
	got, found := m.DeadPoint(int(setup.Left), -1)
	if !found || math.Abs(float64(got)+dead) > 1e-9 {
		t.Errorf("dead point at %v (%v), want %v", got, found, s1.Angle(-dead))
	}
	// Square to the rack: the pickup stands a rod's length behind the rack's line, more than the arm has: never.
	if got, found := m.OverCentre(int(setup.Left), -1); found {
		t.Errorf("over centre at %v", got)
	}
	// Behind the kingpins, with a short rod: the pickup then stands a rod's length ahead of the ball, at a depth of 60 - rod.
	s.Rack.Balls[setup.Left] = r3.Vector{X: -60, Y: 310}
	s.Rack.Balls[setup.Right] = r3.Vector{X: -60, Y: -310}
	m = mustNew(t, s)
	rod = math.Hypot(40, 40)
	across := math.Sqrt(arm*arm - (60-rod)*(60-rod))
	want := (350 + across - 310) / 60 * 2 * math.Pi
	if got, found := m.OverCentre(int(setup.Left), 1); !found || math.Abs(float64(got)-want) > 1e-9 {
		t.Errorf("over centre at %v (%v), want %v", got, found, s1.Angle(want))
	}
	// The other way only the other assembly would stand so; this one is pulled out straight.
	dead = (math.Sqrt((rod+arm)*(rod+arm)-60*60) - 40) / 60 * 2 * math.Pi
	got, found = m.DeadPoint(int(setup.Left), -1)
	if _, over := m.OverCentre(int(setup.Left), -1); over || !found || math.Abs(float64(got)+dead) > 1e-9 {
		t.Errorf("over centre %v, dead point at %v (%v), want %v", over, got, found, s1.Angle(-dead))
	}
}

func TestChainsMakeNoAllocation(t *testing.T) {
	for name, make := range kinds {
		m := mustNew(t, make(3))
		if n := testing.AllocsPerRun(100, func() { sink, _ = m.Pose(0.3) }); n != 0 {
			t.Errorf("%s: %v allocations a pose", name, n)
		}
	}
}

// TestRootsOfPolynomials: products of known factors.
func TestRootsOfPolynomials(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 4))
	for range 2000 {
		want := []float64{}
		p := poly{1 + r.Float64()}
		for range 1 + r.IntN(4) {
			root := 6*r.Float64() - 3
			want = append(want, root)
			next := make(poly, len(p)+1)
			for i, c := range p {
				next[i] -= c * root
				next[i+1] += c
			}
			p = next
		}
		slices.Sort(want)
		close := false
		for i := range want[1:] {
			close = close || want[i+1]-want[i] < 1e-3
		}
		if close {
			continue
		}
		got := p.roots(-3, 3)
		if len(got) != len(want) {
			t.Fatalf("%v: roots %v, want %v", p, got, want)
		}
		for i := range got {
			if math.Abs(got[i]-want[i]) > 1e-9 {
				t.Errorf("%v: root %v, want %v", p, got[i], want[i])
			}
		}
	}
}
