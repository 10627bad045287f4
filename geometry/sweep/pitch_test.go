package sweep

import (
	"fmt"
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"
	"pgregory.net/rapid"

	"locksweep/fixtures/random"
	"locksweep/fixtures/trial"
	"locksweep/geometry/clearance"
	"locksweep/geometry/linkage"
	"locksweep/geometry/rigid"
	"locksweep/geometry/road"
	"locksweep/geometry/setup"
	"locksweep/geometry/solid"
)

// dressed is a random setup with parts of every kind on frame and spindles.
func dressed(t *rapid.T) *setup.Setup {
	s := random.Setup(t)
	box := []r2.Point{{X: -60, Y: 10}, {X: -20, Y: 5}, {X: -25, Y: 40}, {X: -55, Y: 45}}
	both := [2]bool{true, true}
	s.Parts = []setup.Part{
		{Name: "rail", On: setup.OnFrame, Sides: both, Tube: &setup.Tube{Diameter: 28, Path: []r3.Vector{{X: 200, Y: 150, Z: 90}, {X: -700, Y: 160, Z: 80}, {X: -700, Y: 0, Z: 80}}}},
		{Name: "floor", On: setup.OnFrame, Plate: &setup.Plate{Outline: []r2.Point{{X: -300, Y: -90}, {X: 100, Y: -80}, {X: 90, Y: 70}, {X: -300, Y: 60}}, Lower: 60, Upper: 62}},
		{Name: "sprocket", On: setup.OnFrame, Disc: &setup.Disc{Centre: r3.Vector{X: -600, Y: 50, Z: 140}, Axis: r3.Vector{X: 0.6, Z: 0.8}, Diameter: 180, Width: 5}},
		{Name: "ear", On: setup.OnFrame, AtKingpin: true, Sides: both, Plate: &setup.Plate{Outline: box, Lower: 16, Upper: 24}},
		{Name: "lug", On: setup.OnSpindle, Sides: both, Plate: &setup.Plate{Outline: box, Lower: -12, Upper: 12}, Keep: box},
		{Name: "hose", On: setup.OnSpindle, Sides: both, Tube: &setup.Tube{Diameter: 9, Path: []r3.Vector{{Y: 20, Z: 30}, {X: -30, Y: 10, Z: 60}}}},
		{Name: "brake", On: setup.OnSpindle, Sides: both, Disc: &setup.Disc{Centre: r3.Vector{Y: 40}, Diameter: 140, Width: 4}},
	}
	for side := range s.Corners {
		s.Corners[side].Arm.Metal = setup.Metal{Outline: []r2.Point{{X: -110, Y: -40}, {X: 20, Y: -20}, {X: 20, Y: 20}, {X: -110, Y: -10}}, Lower: -35, Upper: -25}
	}
	return s
}

// TestFrameIsOneBodyOnOtherTyres turns the whole frame by hand, about an axis across the vehicle, by change of front
// radius less change of rear radius over the wheelbase, and holds everything that the change describes anew against
// it: kingpins, wheels at any spindle angle, balls of the rods at any column angle, metal.
func TestFrameIsOneBodyOnOtherTyres(t *testing.T) {
	trial.Check(t, func(t *rapid.T) {
		s := dressed(t)
		grow := func(name string) float64 { return rapid.Float64Range(-60, 60).Draw(t, name) }
		front, rear := grow("front"), grow("rear")
		change := setup.Change{RearTyre: setup.Tyre{Diameter: s.Vehicle.RearTyre.Diameter + 2*rear, Width: 120}}
		for side := range change.Tyre {
			change.Tyre[side] = s.Corners[side].Wheel.Tyre
			change.Tyre[side].Diameter += 2 * front
		}
		c := *s
		if refused := change.Apply(&c); len(refused) > 0 {
			t.Fatalf("refused: %v", refused)
		}
		// By hand: nose up about the left-pointing axis by -angle, the rear axle lifted; then only the origin moves along x.
		axle := rigid.Axis{Point: r3.Vector{X: -s.Vehicle.Wheelbase, Z: s.Vehicle.RearTyre.Diameter / 2}, Dir: r3.Vector{Y: 1}}
		by := rigid.About(axle, -s1.Angle((front-rear)/s.Vehicle.Wheelbase))
		by.Shift.Z += rear
		back := (by.Point(s.Centre(setup.Left)).X + by.Point(s.Centre(setup.Right)).X) / 2
		by.Shift.X -= back
		same := func(what string, got, want r3.Vector) {
			t.Helper()
			if got.Sub(want).Norm() > 1e-9*(1+want.Norm()) {
				t.Errorf("%s: %v, by hand %v", what, got, want)
			}
		}
		if got, want := c.Vehicle.Wheelbase, s.Vehicle.Wheelbase+back; math.Abs(got-want) > 1e-9 {
			t.Errorf("wheelbase %v, by hand %v", got, want)
		}
		was, is := road.New(s), road.New(&c)
		before, after := mustLink(t, s), mustLink(t, &c)
		for _, side := range setup.Sides {
			same("kingpin centre", c.Centre(side), by.Point(s.Centre(side)))
			same("kingpin", c.Kingpin(side).Dir, by.Direction(s.Kingpin(side).Dir))
			if a, b := c.Corners[side].Rod.Length, s.Corners[side].Rod.Length; a != b {
				t.Errorf("rod %v, was %v", a, b)
			}
			sin, cos := math.Sincos(rapid.Float64Range(-1.2, 1.2).Draw(t, "spindle"))
			v, w := was.Corners[side].At(sin, cos), is.Corners[side].At(sin, cos)
			same("tyre's centre", w.Centre, by.Point(v.Centre))
			same("spin axis", w.Leftward, by.Direction(v.Leftward))
			if rate := math.Abs(w.Rate - v.Rate); rate > 0.3 {
				t.Errorf("steer per spindle changes by %v", rate)
			}
		}
		column := s1.Angle(rapid.Float64Range(-0.5, 0.5).Draw(t, "column"))
		p, ok := before.Pose(column)
		q, still := after.Pose(column)
		if ok != still {
			t.Fatalf("column %v: assembles %v, changed %v", column, ok, still)
		}
		if !ok {
			return
		}
		for side := range p.Sides {
			if d := (p.Sides[side].Spindle - q.Sides[side].Spindle).Abs(); d > 1e-9 && math.Abs(p.Rods[side].ToLever) > 1 {
				t.Errorf("spindle off by %v at %v", d, column)
			}
			same("pin", q.Rods[side].From, by.Point(p.Rods[side].From))
		}
		sameMetal(t, s, before, &c, after, by)
	})
}

// sameMetal holds the pieces of a scene, straight ahead, against those of another moved by hand.
func sameMetal(t *rapid.T, s *setup.Setup, before *linkage.Mechanism, c *setup.Setup, after *linkage.Mechanism, by rigid.Motion) {
	a, _ := clearance.New(s, before)
	b, _ := clearance.New(c, after)
	if a == nil || b == nil || len(a.Pieces) != len(b.Pieces) {
		t.Fatalf("scenes of %v and %v", a, b)
	}
	compared := 0
	for i := range a.Pieces {
		p, q := &a.Pieces[i], &b.Pieces[i]
		if p.Name != q.Name || p.Side != q.Side {
			t.Fatalf("piece %d is %s, was %s", i, q.Label(), p.Label())
		}
		if p.Rubber() || p.Name == clearance.TieRod {
			continue
		}
		var was, is [2]r3.Vector
		was[0], was[1] = boxOf(p.Solids, by)
		is[0], is[1] = boxOf(q.Solids, rigid.Identity)
		for k := range was {
			if was[k].Sub(is[k]).Norm() > 1e-6 {
				t.Errorf("%s: box %v, by hand %v", p.Label(), is, was)
			}
		}
		compared++
	}
	if compared < trial.Enough(12) {
		t.Errorf("only %d pieces compared", compared)
	}
}

func boxOf(solids []solid.Solid, m rigid.Motion) (low, high r3.Vector) {
	low, high = solids[0].Box(m)
	for i := range solids {
		l, h := solids[i].Box(m)
		low = r3.Vector{X: min(low.X, l.X), Y: min(low.Y, l.Y), Z: min(low.Z, l.Z)}
		high = r3.Vector{X: max(high.X, h.X), Y: max(high.Y, h.Y), Z: max(high.Z, h.Z)}
	}
	return low, high
}

func mustLink(t *rapid.T, s *setup.Setup) *linkage.Mechanism {
	m, err := linkage.New(s)
	if err != nil {
		t.Fatal(fmt.Sprint(err))
	}
	return m
}
