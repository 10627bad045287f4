package reconcile

import (
	"math"
	"testing"

	"github.com/golang/geo/s1"

	"locksweep/fixtures/example"
	"locksweep/geometry/setup"
)

// TestBothSides: a kart as it is differs from its file in figures of both sides or of one; tapes are read to a millimetre and wheels to half a
// degree. What was given wrong for both is named, first or as what it could be as well, and first stands a slip of a few mm on both sides and no
// column tens of degrees off; what is wrong on one side, or a tape, is named as that.
func TestBothSides(t *testing.T) {
	both := func(do func(s *setup.Setup, side setup.Side)) func(*setup.Setup) {
		return func(s *setup.Setup) {
			for _, side := range setup.Sides {
				do(s, side)
			}
		}
	}
	for _, c := range []struct {
		what string
		is   func(s *setup.Setup)
		tape float64 // the third is misread by, mm
		key  string  // "" where they agree
		by   float64 // mm
		both bool
	}{
		{"as it is", func(*setup.Setup) {}, 0, "", 0, false},
		{"both pickups", both(func(s *setup.Setup, side setup.Side) { s.Corners[side].Arm.Pickup.X += 8 }), 0, "arm.pickup[0]", 8, true},
		{"both pins", both(func(s *setup.Setup, side setup.Side) { s.DropArm.Pins[side].X += 8 }), 0, "drop_arm.left[0]", 8, true},
		{"the right pickup", func(s *setup.Setup) { s.Corners[setup.Right].Arm.Pickup.X += 10 }, 0, "right.arm.pickup[0]", 10, false},
		{"a tape", func(*setup.Setup) {}, 10, "taped[2].distance", 10, false},
	} {
		file := example.Read(t, "shed-kart")
		file.RodsCutAnew()
		file.Checks = setup.Checks{}
		truth := file.Clone()
		c.is(truth)
		stands, err := newStand(truth)
		if err != nil {
			t.Fatal(err)
		}
		for i, tape := range [][2]string{{"right pickup", "left pin"}, {"left pickup", "right pin"}, {"left pickup", "right pickup"}, {"left kingpin", "left pin"}} {
			from, _ := truth.Place(tape[0])
			to, _ := truth.Place(tape[1])
			d := math.Round(stands.tape([2]setup.Place{from, to}))
			if i == 2 {
				d += c.tape
			}
			file.Checks.Taped = append(file.Checks.Taped, setup.Taped{From: tape[0], To: tape[1], Distance: d})
		}
		for _, column := range []s1.Angle{24, 12, -12, -24} {
			column *= s1.Degree
			steer, ok := stands.steer(column)
			if !ok {
				t.Fatalf("%s: does not get to %v", c.what, column)
			}
			turned := setup.Turned{Column: column, Read: [2]bool{true, true}}
			for side := range steer {
				turned.Steer[side] = s1.Angle(math.Round(2*s1.Angle(steer[side]).Degrees())/2) * s1.Degree
			}
			file.Checks.Turned = append(file.Checks.Turned, turned)
		}
		r, err := Run(file)
		if err != nil {
			t.Errorf("%s: %v", c.what, err)
			continue
		}
		if c.key == "" {
			if !r.Agrees() {
				t.Errorf("%s: %+v", c.what, r.Suspects)
			}
			continue
		}
		if len(r.Suspects) == 0 {
			t.Errorf("%s: no suspect, %+v", c.what, r.Observations)
			continue
		}
		s := r.Suspects[0]
		named := false
		for _, o := range append([]Other{{s.Observation, s.By, s.Both}}, s.Also...) {
			named = named || r.Observations[o.Observation].Key == c.key && math.Abs(math.Abs(o.By)-c.by) < 2 && o.Both == c.both
		}
		if o := r.Observations[s.Observation]; !named || s.Both != c.both || math.Abs(s.By) > 12 || o.Angle || len(r.Suspects) > 1 || r.More {
			t.Errorf("%s: %s by %.4f, both sides %v, of %+v", c.what, o.Key, s.By, s.Both, r.Suspects)
		}
	}
}
