package linkage

import (
	"errors"
	"math"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/geometry/setup"
)

// level is a steering that can be worked out on paper: upright kingpins 600 apart, upright column (rake 90, so that
// `down` points rearward), arms and drop arm rearward, everything at one height.
func level(arm, dropArm float64) *setup.Setup {
	s := &setup.Setup{Spacing: 600}
	for side := range s.Corners {
		s.Corners[side].Kingpin.Height = 130
		s.Corners[side].Arm.Pickup = r3.Vector{X: -arm}
		s.DropArm.Pins[side] = r3.Vector{X: dropArm}
	}
	s.Column = setup.Column{Foot: r3.Vector{X: dropArm - arm, Z: 130}, Rake: 90 * s1.Degree}
	return s
}

func mustNew(t testing.TB, s *setup.Setup) *Mechanism {
	t.Helper()
	m, err := New(s)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// TestSense: which way the wheels go when the steering wheel is turned to the left.
func TestSense(t *testing.T) {
	raked := func(arm, down float64) *setup.Setup {
		s := level(arm, down)
		s.Column.Rake = 35 * s1.Degree
		s.Column.Foot = r3.Vector{X: -arm, Z: 130 + down*math.Cos(35*math.Pi/180)}
		return s
	}
	for _, c := range []struct {
		name string
		s    *setup.Setup
		want float64
	}{
		{"arms behind, drop arm hanging", raked(90, 60), 1},
		{"arms ahead, drop arm hanging: backwards", raked(-90, 60), -1},
		{"arms ahead, drop arm raised", raked(-90, -60), 1},
		{"arms behind, drop arm raised: backwards", raked(90, -60), -1},
	} {
		m := mustNew(t, c.s)
		p, ok := m.Pose(10 * s1.Degree)
		if !ok {
			t.Fatalf("%s: no pose", c.name)
		}
		for _, side := range setup.Sides {
			if got := p.Sides[side].Spindle; float64(got)*c.want <= 0 || p.Sides[side].Rate*c.want <= 0 {
				t.Errorf("%s: column 10 turns the %v spindle by %v, rate %v", c.name, side, got, p.Sides[side].Rate)
			}
		}
	}
}

// TestLevelByHand: with arm and drop arm equal and rods square to both straight ahead, the linkage is a
// parallelogram: the spindle turns as the column.
func TestLevelByHand(t *testing.T) {
	m := mustNew(t, level(80, 80))
	for column := -85.0; column <= 85; column += 17 {
		p, ok := m.Pose(degrees(column))
		if !ok {
			t.Fatalf("no pose at %v", column)
		}
		for _, side := range setup.Sides {
			sp := &p.Sides[side]
			if apart(sp.Spindle, degrees(column)) > 1e-9 || math.Abs(sp.Rate-1) > 1e-9 {
				t.Errorf("column %v: %v spindle %v, rate %v", column, side, sp.Spindle, sp.Rate)
			}
			// The rod stays across; the plane of either arm turns away from square to it.
			for _, end := range Ends {
				if got := m.Transmission(int(side), &p)[end]; math.Abs(got.Degrees()-(90-math.Abs(column))) > 1e-6 {
					t.Errorf("column %v: %v transmission at the %v %v, want %v", column, side, end, got, 90-math.Abs(column))
				}
				if got := m.RodTilt(int(side), &p)[end]; got > 1e-9 {
					t.Errorf("column %v: %v rod tilt at the %v %v, want 0", column, side, end, got)
				}
			}
		}
	}
	for _, side := range setup.Sides {
		for _, dir := range [2]float64{1, -1} {
			dead, found := m.DeadPoint(int(side), dir)
			over, foundOver := m.OverCentre(int(side), dir)
			if !found || math.Abs(dir*dead.Degrees()-90) > 1e-5 {
				t.Errorf("%v, direction %v: change point at %v (%v), want 90", side, dir, dead, found)
			}
			if foundOver && math.Abs(dir*over.Degrees()-90) > 1e-5 {
				t.Errorf("%v, direction %v: over centre at %v", side, dir, over)
			}
		}
	}
}

// TestOverCentreByHand: a drop arm of half the arm's length, rods straight across. Over centre is where
// drop arm and rod are in line, by the law of cosines in the triangle of column, pickup and kingpin.
func TestOverCentreByHand(t *testing.T) {
	m := mustNew(t, level(80, 40))
	l := &m.Rods[setup.Left].Loop
	// Seen from above, the left kingpin is 40 ahead of the column and 300 to its left.
	ground, toKingpin := math.Hypot(40, 300), math.Atan2(300, 40)
	reach := 40 + l.Length // from column to pickup with both in line
	corner := math.Acos((ground*ground + reach*reach - 80*80) / (2 * ground * reach))
	// The drop arm has turned from rearward to point at the pickup, which lies behind the line to the kingpin.
	want := math.Remainder(toKingpin+corner-math.Pi, 2*math.Pi)
	got, found := m.OverCentre(int(setup.Left), -1)
	if !found || math.Abs(float64(got)-want) > 1e-9 {
		t.Errorf("over centre at %v (%v), want %v", got, found, s1.Angle(want))
	}
	p, ok := m.Pose(got)
	if !ok || math.Abs(p.Sides[setup.Left].Rate) > 1e-9 {
		t.Errorf("the wheel does not stand still over centre: rate %v", p.Sides[setup.Left].Rate)
	}
}

// TestRodTiltByHand: a drop-arm pin 50 above the pickup, 200 away across.
func TestRodTiltByHand(t *testing.T) {
	s := level(80, 60)
	for side := range s.DropArm.Pins {
		s.DropArm.Pins[side] = r3.Vector{X: 60, Y: setup.Side(side).Sign() * 100, Z: 50}
	}
	m := mustNew(t, s)
	p, _ := m.Pose(0)
	want := math.Atan2(50, 200) * 180 / math.Pi
	for _, side := range setup.Sides {
		for _, end := range Ends {
			if got := m.RodTilt(int(side), &p)[end].Degrees(); math.Abs(got-want) > 1e-9 {
				t.Errorf("%v, %v: tilt %v, want %v", side, end, got, want)
			}
		}
		// Sine of the transmission angle: the rod's run across times the arm's reach fore and aft, each over
		// its own length.
		run := 200 / math.Hypot(200, 50)
		reach := [2]float64{AtArm: 1, AtDropArm: 60 / math.Hypot(60, 100)}
		for _, end := range Ends {
			want := math.Asin(run*reach[end]) * 180 / math.Pi
			if got := m.Transmission(int(side), &p)[end].Degrees(); math.Abs(got-want) > 1e-9 {
				t.Errorf("%v, %v: transmission %v, want %v", side, end, got, want)
			}
		}
	}
	// A bolt that lies across, along the rod's run, is nearly along the rod.
	for side := range s.Corners {
		s.Corners[side].Arm.Bolt = r3.Vector{Y: 1}
		s.DropArm.Bolts[side] = r3.Vector{X: 1}
	}
	m = mustNew(t, s)
	p, _ = m.Pose(0)
	for _, side := range setup.Sides {
		got := m.RodTilt(int(side), &p)
		if math.Abs(got[AtArm].Degrees()-(90-want)) > 1e-9 || got[AtDropArm].Degrees() > 1e-9 {
			t.Errorf("%v: tilt %v on a bolt across, %v on one lying forward, want %v, 0", side, got[AtArm], got[AtDropArm], 90-want)
		}
	}
}

// TestGivenRodsSetTheWheels: rods behind the kingpins that are too long push the arms outboard: the
// wheels toe in.
func TestGivenRodsSetTheWheels(t *testing.T) {
	const arm = 80.0
	s := level(arm, 60)
	for side := range s.Corners {
		s.Corners[side].Rod.Length = 303
	}
	m := mustNew(t, s)
	// Pin at [-80, 0], kingpin at [0, 300]: triangle of 303, 80 and hypot(80, 300).
	ground := math.Hypot(arm, 300)
	atKingpin := math.Acos((ground*ground + arm*arm - 303*303) / (2 * ground * arm))
	want := atKingpin - math.Acos((ground*ground+arm*arm-300*300)/(2*ground*arm))
	for _, side := range setup.Sides {
		if got := m.Straight[side]; math.Abs(float64(got)+side.Sign()*want) > 1e-12 {
			t.Errorf("%v spindle at %v with rods 3 mm long, want %v", side, got, s1.Angle(-side.Sign()*want))
		}
		if m.Rods[side].Derived != 300 {
			t.Errorf("%v derived length %v, want 300", side, m.Rods[side].Derived)
		}
	}
	for side := range s.Corners {
		s.Corners[side].Rod.Length = 300
	}
	if m := mustNew(t, s); m.Straight != [2]s1.Angle{} {
		t.Errorf("rods of the derived length leave the spindles at %v", m.Straight)
	}
}

func TestRodsThatCannotAssemble(t *testing.T) {
	for _, c := range []struct {
		side               setup.Side
		length, off, bound float64
	}{
		// From the pin the ball's circle lies between hypot(80, 300) ∓ 80 away: 230.483 and 390.483.
		{setup.Left, 200, -30.483, 230.483}, {setup.Right, 400, 9.517, 390.483}, {setup.Right, 203.2, -27.283, 230.483},
	} {
		s := level(80, 60)
		s.Unit, s.Corners[c.side].Rod.Length = setup.Inch, c.length
		_, err := New(s)
		var e *AssemblyError
		if !errors.As(err, &e) || e.Name != c.side.String()+" tie rod" || e.Rod != c.length || e.Unit != setup.Inch {
			t.Fatalf("rod %v: %v, %+v", c.length, err, e)
		}
		bound := e.Least
		if c.off > 0 {
			bound = e.Greatest
		}
		if math.Abs(bound-c.bound) > 5e-4 || math.Abs(e.Rod-bound-c.off) > 5e-4 {
			t.Errorf("rod %v: from %v to %v would reach, want the bound %v", c.length, e.Least, e.Greatest, c.bound)
		}
		// The bounds that it names do assemble, and a little beyond them nothing does.
		for _, b := range []struct{ at, out float64 }{{e.Least, -1e-3}, {e.Greatest, 1e-3}} {
			s.Corners[c.side].Rod.Length = b.at
			if _, err := New(s); err != nil {
				t.Errorf("rod at its bound: %v", err)
			}
			s.Corners[c.side].Rod.Length = b.at + b.out
			if _, err := New(s); err == nil {
				t.Errorf("rod of %v assembles", b.at+b.out)
			}
		}
	}
}

// TestNoPosePastADeadPoint though the rod would reach there again on another way.
func TestNoPosePastADeadPoint(t *testing.T) {
	m := mustNew(t, level(40, 80)) // the short arm is pulled straight first
	dead, found := m.DeadPoint(int(setup.Left), 1)
	if !found {
		t.Fatal("no dead point")
	}
	if _, ok := m.Pose(dead); !ok {
		t.Error("no pose at the dead point")
	}
	for by := 0.001; by < 100; by *= 2 {
		if p, ok := m.Pose(dead + degrees(by)); ok {
			t.Errorf("%v past the dead point: spindle %v", by, p.Sides[setup.Left].Spindle)
		}
	}
}

// TestNoPosePastADeadPointMoreThanHalfATurnOn: the other way round the same column angle is within
// reach.
func TestNoPosePastADeadPointMoreThanHalfATurnOn(t *testing.T) {
	tried := 0
	each(t, func(seed uint64, _ *setup.Setup, m *Mechanism, side setup.Side, dir float64) {
		if _, found := m.DeadPoint(int(side), dir); found {
			return
		}
		back, found := m.DeadPoint(int(side), -dir)
		if !found {
			return
		}
		tried++
		same := back + s1.Angle(dir*2*math.Pi) // reached from the other side
		p := Pose{Column: same + s1.Angle(dir*0.01)}
		p.sin, p.cos = math.Sincos(float64(same))
		if m.poseRod(int(side), &p) {
			t.Errorf("seed %d, %v, direction %v: pose at %v though %v is dead", seed, side, dir, p.Column, same)
		}
	})
	if tried == 0 {
		t.Error("no mechanism with a dead point one way only")
	}
}

func TestPoseMakesNoAllocation(t *testing.T) {
	m := mustNew(t, level(80, 60))
	if n := testing.AllocsPerRun(100, func() { sink, _ = m.Pose(0.3) }); n != 0 {
		t.Errorf("%v allocations a pose", n)
	}
}

var sink Pose
