package loads

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/fixtures/example"
	"locksweep/fixtures/random"
	"locksweep/fixtures/trial"
	"locksweep/geometry/linkage"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %.9g, want %.9g", what, got, want)
	}
}

func model(t *testing.T, name string, set ...string) *Model {
	t.Helper()
	return of(t, example.Read(t, name, append([]string{"load.front=60"}, set...)...))
}

func of(t *testing.T, s *setup.Setup) *Model {
	t.Helper()
	r, err := sweep.Run(s, 5*s1.Degree)
	if err != nil {
		t.Fatal(err)
	}
	m, err := New(r)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// eachSwept calls f for random setups of every linkage that can be swept, with loads; n of each.
func eachSwept(t *testing.T, n int, f func(seed uint64, m *Model)) {
	t.Helper()
	for linkage, draw := range map[setup.Linkage]func(uint64) *setup.Setup{setup.TwoRods: random.FromSeed, setup.CrossRod: random.CrossRod, setup.RackRods: random.Rack} {
		t.Run(linkage.String(), func(t *testing.T) { eachOf(t, n, draw, f) })
	}
}

func eachOf(t *testing.T, n int, draw func(uint64) *setup.Setup, f func(seed uint64, m *Model)) {
	t.Helper()
	done := 0
	for seed := uint64(0); done < n && seed < 20*uint64(n); seed++ {
		s := draw(seed)
		s.Load.Front = 80
		r, err := sweep.Run(s, 10*s1.Degree)
		if err != nil {
			continue // pieces in touch straight ahead
		}
		m, err := New(r)
		if err != nil {
			t.Fatal(err)
		}
		done++
		if f(seed, m); t.Failed() {
			return
		}
	}
	if done < n {
		t.Errorf("only %d setups", done)
	}
}

// TestVirtualWork: the column's torque is what the moments about the kingpins do as the spindles turn, by the linkage's own
// rates to 1e-9, and by the turns of poses a little to either side.
func TestVirtualWork(t *testing.T) {
	eachSwept(t, trial.Count(25, 250), func(seed uint64, m *Model) {
		for i := range m.Poses {
			p := &m.Poses[i]
			moments := [2]float64{3e4 * math.Sin(float64(i)), 2e4 * math.Cos(3*float64(i))}
			f := m.carry(moments, &p.Pose)
			want, size := 0.0, 0.0
			for side := range moments {
				want += moments[side] * p.Sides[side].Rate
				size += math.Abs(moments[side] * p.Sides[side].Rate)
			}
			if math.Abs(f.Torque-want) > 1e-9*size {
				t.Errorf("seed %d, column %v: torque %.12g, by virtual work %.12g", seed, p.Column, f.Torque, want)
			}
			const h = 1e-6
			a, ok := m.Linkage.Pose(p.Column - h)
			b, reached := m.Linkage.Pose(p.Column + h)
			if !ok || !reached || math.Abs(p.Sides[0].Rate)+math.Abs(p.Sides[1].Rate) > 20 {
				continue
			}
			turned := 0.0
			for side := range moments {
				turned += moments[side] * linkage.Turn(a.Sides[side].Spindle, b.Sides[side].Spindle) / (2 * h)
			}
			if math.Abs(f.Torque-turned) > 1e-5*size+1 {
				t.Errorf("seed %d, column %v: torque %.9g, by turns of poses %.9g", seed, p.Column, f.Torque, turned)
			}
			// Each spindle is in balance: what the rods push it with, at their balls, gives the moment.
			for _, side := range setup.Sides {
				axis, got, size := m.Linkage.Axes[linkage.Spindle(side)], 0.0, 1.0
				for rod := range m.Linkage.Rods {
					push := p.Rods[rod].Along.Mul(f.Rods[rod])
					for ball, way := range map[r3.Vector]float64{p.Rods[rod].To: 1, p.Rods[rod].From: -1} {
						on := m.Linkage.Rods[rod].To
						if way < 0 {
							on = m.Linkage.Rods[rod].From
						}
						if on == linkage.Spindle(side) {
							moment := way * axis.Dir.Dot(ball.Sub(axis.Point).Cross(push))
							got, size = got+moment, size+math.Abs(moment)
						}
					}
				}
				if math.Abs(got-moments[side]) > 1e-9*size {
					t.Errorf("seed %d, column %v: the rods give the %v spindle %.9g, want %.9g", seed, p.Column, side, got, moments[side])
				}
			}
			for _, held := range setup.Sides {
				hand := m.hand(p, sweep.Directions[i%2], held)
				if back := hand.Moments[held] * p.Sides[held].Rate; math.Abs(back-hand.Torque) > 1e-9*math.Abs(hand.Torque)+1e-9 && p.Sides[held].Rate != 0 {
					t.Errorf("seed %d, column %v: a pull of %.9g held by %.9g", seed, p.Column, hand.Torque, back)
				}
			}
		}
	})
}

// TestJackingOfATextbook: Barton and Fieldhouse, Automotive Chassis Engineering, 2018, p. 90 (memory): 400 kg on a wheel 20 mm
// off the kingpin at the hub, inclination 12 degrees, 7.5 and 11.3 N·m at 28 and 45 degrees. It leaves out the lean of the
// wheel, as a tyre of no size does here.
func TestJackingOfATextbook(t *testing.T) {
	s := model(t, "shed-kart").Setup
	s.Parts = nil
	s.Load.Front = 800
	for side := range s.Corners {
		c := &s.Corners[side]
		c.Kingpin.Caster, c.Kingpin.Inclination = 0, 12*s1.Degree
		c.Wheel = setup.Wheel{Offset: 20, Tyre: setup.Tyre{Diameter: 1e-6, Width: 1e-3}}
		c.Arm.Metal = setup.Metal{}
	}
	l, err := linkage.New(s)
	if err != nil {
		t.Fatal(err)
	}
	m := of(t, s)
	for _, c := range []struct{ steer, want float64 }{{28, 7.5}, {45, 11.3}} {
		var p sweep.Pose
		p.Pose, _ = l.Pose(0)
		for _, side := range setup.Sides {
			sin, cos := math.Sincos(c.steer * math.Pi / 180)
			p.Wheels[side] = m.Road.Corners[side].At(sin, cos)
			p.MomentArm[side] = m.Road.MomentArm(side, &p.Wheels[side])
			got := m.Jacking(side, &p) / 1000
			near(t, "moment in N·m", math.Abs(got), c.want, 0.05)
			if got > 0 {
				t.Errorf("%v wheel turned left: the weight turns it on by %.2f, should turn it back", side, got)
			}
		}
	}
}

// TestScrub against the formula of its source written out for the whole axle, and the friction that goes with it.
func TestScrub(t *testing.T) {
	m := model(t, "shed-kart", "kingpin.caster=0", "kingpin.inclination=0", "wheel.camber=0", "wheel.lead=0")
	p := &m.Straight
	offset, width := m.Setup.Corners[0].Wheel.Offset, m.Setup.Corners[0].Wheel.Tyre.Width
	near(t, "offset at the ground", m.offset(setup.Left, p), offset, 1e-9)
	want := 60 * 9.80665 * m.friction(offset/width) * math.Sqrt(width*width/8+offset*offset)
	near(t, "both wheels", m.Scrub(setup.Left, p)+m.Scrub(setup.Right, p), want, 1e-6)
	for ratio, want := range map[float64]float64{0: 0.7, 0.1: 0.58, 0.05: 0.64, 0.5: 0.365, 1.2: 0.25, 3: 0.25} {
		near(t, "friction", m.friction(ratio), want, 1e-12)
	}
	near(t, "friction of a sleeve", model(t, "shed-kart", "load.friction=0.35").friction(0.1), 0.29, 1e-12)
	// A square print turns as a disc of the same polar radius of gyration: B = s·2/√3.
	near(t, "square print", model(t, "shed-kart", "load.patch=[60, 60]").Print[0], 120/math.Sqrt(3), 1e-9)
	// 30 kg at 1 bar on a tyre of the kart's width.
	length := 30 * 9.80665 / 0.1 / width
	near(t, "print by pressure", model(t, "shed-kart", "load.pressure=1").Print[0], math.Sqrt((length*length+width*width)*2/3), 1e-9)
}

// TestWays of moments and forces: a knock from ahead turns a wheel outwards and the rods hold it back; grip to the left acts
// behind the kingpins of wheels with trail and turns them right.
func TestWays(t *testing.T) {
	m := model(t, "shed-kart", "kingpin.inclination=0", "kingpin.caster=10", "wheel.camber=0", "wheel.lead=0")
	p := &m.Straight
	for _, side := range setup.Sides {
		if kerb := m.kerb(p, side); kerb.Moments[side]*side.Sign() >= 0 || kerb.Moments[side.Other()] != 0 {
			t.Errorf("kerb at the %v wheel: rods give %v", side, kerb.Moments)
		}
		offset := m.Setup.Corners[side].Wheel.Offset
		near(t, "knock", math.Abs(m.kerb(p, side).Moments[side]), 1000*offset*math.Cos(10*math.Pi/180), 1)
	}
	moving := m.Moving(p, 1)
	trail := m.Setup.Corners[0].Kingpin.Height * math.Tan(10*math.Pi/180)
	// Per wheel 0.7 of its weight at the trail, seen along the kingpin; what the weight does at the offset cancels.
	sum := (moving.Moments[0] + moving.Moments[1]) / 2
	near(t, "grip to the left, held to the left", sum, 0.7*m.Wheel*trail*math.Cos(10*math.Pi/180), 0.02*sum)
	if m.Parked(p, sweep.ToLeft).Torque <= 0 || m.Parked(p, sweep.ToRight).Torque >= 0 {
		t.Errorf("parked: %v to the left, %v to the right", m.Parked(p, sweep.ToLeft).Torque, m.Parked(p, sweep.ToRight).Torque)
	}
	near(t, "rim", m.Rim(-16000), 100, 1e-9)
	// Inclined kingpins lift the frame: past straight ahead to the left the weight turns the wheels back to the right.
	lean := model(t, "shed-kart", "kingpin.inclination=12", "kingpin.caster=0", "wheel.camber=0")
	at := &lean.Locks[sweep.ToLeft].Pose
	if left, right := lean.Parked(at, sweep.ToLeft).Torque, lean.Parked(at, sweep.ToRight).Torque; left+right <= 0 {
		t.Errorf("at the left lock, on to the left %v, back to the right %v", left, right)
	}
}

// TestWorstIsTheWorstOfPoses, for each cause, and the hand's at a lock.
func TestWorstIsTheWorstOfPoses(t *testing.T) {
	m := model(t, "field-buggy")
	for rod := range m.Linkage.Rods {
		list := m.Worsts(rod)
		for i := range m.Poses {
			p := &m.Poses[i]
			for c, forces := range map[Cause][]float64{
				WhenParked: {m.Parked(p, sweep.ToLeft).Rods[rod], m.Parked(p, sweep.ToRight).Rods[rod]},
				WhenMoving: {m.Moving(p, 1).Rods[rod], m.Moving(p, -1).Rods[rod]},
				ByKerb:     {m.kerb(p, setup.Left).Rods[rod], m.kerb(p, setup.Right).Rods[rod]},
			} {
				for _, f := range forces {
					if math.Abs(f) > math.Abs(list[c].Force) {
						t.Errorf("%v: %v at %v, worst said %v", c, f, p.Column, list[c].Force)
					}
				}
			}
		}
		for c, w := range list {
			if w.Cause != Cause(c) || w.Force == 0 {
				t.Errorf("%v: %+v", Cause(c), w)
			}
		}
		lever := math.Abs(m.Locks[0].Pose.Rods[rod].FromLever)
		if held := m.stopped(sweep.ToLeft); int(held) == rod {
			near(t, "hand", math.Abs(m.hand(&m.Locks[0].Pose, sweep.ToLeft, held).Rods[rod]), 300*160/lever, 1e-6)
		}
	}
}

// TestMirror: what is alike on both sides bears mirrored loads turned the other way: moments and torques change sign, the
// forces of the two rods change places (derived from the mirror image alone).
func TestMirror(t *testing.T) {
	for name, set := range map[string][]string{"shed-kart": nil, "column ends it": {"column.travel=20"}} {
		m := model(t, "shed-kart", set...)
		same := func(what string, a, b, size float64) {
			t.Helper()
			if !(math.Abs(a-b) <= 1e-9*math.Abs(size)) {
				t.Errorf("%s, %s: %.12g, in the mirror %.12g", name, what, a, b)
			}
		}
		mirrored := func(what string, a, b Force) {
			t.Helper()
			most := max(math.Abs(a.Rods[0]), math.Abs(a.Rods[1]))
			for side := range 2 {
				same(what+", moment", a.Moments[side], 0-b.Moments[1-side], max(math.Abs(a.Moments[0]), math.Abs(a.Moments[1])))
				same(what+", rod", a.Rods[side], b.Rods[1-side], most)
			}
			same(what+", torque", a.Torque, 0-b.Torque, max(math.Abs(a.Torque), 1))
		}
		left, right := &m.Locks[sweep.ToLeft].Pose, &m.Locks[sweep.ToRight].Pose
		for _, side := range setup.Sides {
			mirrored("hand", m.hand(left, sweep.ToLeft, side), m.hand(right, sweep.ToRight, side.Other()))
			mirrored("kerb", m.kerb(left, side), m.kerb(right, side.Other()))
		}
		for i, d := range sweep.Directions {
			mirrored("parked", m.Parked(left, d), m.Parked(right, sweep.Directions[1-i]))
			mirrored("moving", m.Moving(left, d.Sign()), m.Moving(right, 0-d.Sign()))
		}
		a, b := m.Worsts(0), m.Worsts(1)
		for c := range a {
			same("worst, "+Cause(c).String(), a[c].Force, b[c].Force, a[c].Force)
		}
		one, two := m.burden(0), m.burden(1)
		same("pressed", one.Pressed, two.Pressed, one.Pressed)
		for end := range one.Bolts {
			same("bolt", one.Bolts[end], two.Bolts[end], one.Bolts[end])
			same("hole", one.Holes[end], two.Holes[end], one.Holes[end])
		}
		stops := [2]Stop{m.Stopped(sweep.ToLeft), m.Stopped(sweep.ToRight)}
		same("stop", stops[0].Moment, 0-stops[1].Moment, stops[0].Moment)
		if stops[0].Moment <= 0 {
			t.Errorf("%s: pulled to the left, the rods give the spindle %v", name, stops[0].Moment)
		}
	}
}

// TestArmIsTheMoment of unit forces at the contact, by the cross product written out.
func TestArmIsTheMoment(t *testing.T) {
	m := model(t, "pedal-quad")
	p := &m.Locks[0].Pose
	k := m.Setup.Kingpin(setup.Left)
	arm, r := p.MomentArm[setup.Left], p.Wheels[setup.Left].Contact.Sub(k.Point)
	for i, unit := range []r3.Vector{{X: 1}, {Y: 1}, {Z: 1}} {
		near(t, "moment", [3]float64{arm.X, arm.Y, arm.Z}[i], r.Cross(unit).Dot(k.Dir), 1e-9)
	}
}

// TestRodInLineWithItsArm: where a rod stands in line with the arm that drives it, rounding decides whether it is pushed or
// pulled, and by how much; the judgement does not hang on it.
func TestRodInLineWithItsArm(t *testing.T) {
	m := model(t, "starter") // without a stop: it turns until the rods are in line with the drop arm
	for rod := range m.Linkage.Rods {
		if b := m.burden(rod); !(math.Abs(b.Force) > Boundless && b.Pressed > Boundless) {
			t.Errorf("rod %d: %g N, pressed by %g N, both should be without bound", rod, b.Force, b.Pressed)
		}
		if c := m.checks(rod, m.burden(rod))[0]; c.Kind != Buckling || c.Margin > 0.1 {
			t.Errorf("rod %d: margin %g of buckling", rod, c.Margin)
		}
	}
}
