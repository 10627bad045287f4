package loads

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/geometry/linkage"
	"locksweep/geometry/thread"
)

// at picks the check of a kind at an end.
func at(t *testing.T, list []Check, k Kind, end linkage.End) Check {
	t.Helper()
	for _, c := range list {
		if c.Kind == k && (!k.AtEnd() || c.End == end) {
			return c
		}
	}
	t.Errorf("no %v at end %v", k, end)
	return Check{}
}

// TestBothEndsAreJudged: each end with its own bolt, metal and burden, by hand (derived): M8, at the arm in single shear 9 mm off,
// at the drop arm a plain shank of 300 N/mm² in double shear 5 mm off. The drop arm's hole at [64, 12] is 10.28 mm from the edge
// between [72, 24] and [77, 0], in 6 mm of metal.
func TestBothEndsAreJudged(t *testing.T) {
	m := model(t, "shed-kart", "tie_rod.bolt={offset=9}", "tie_rod.inner_bolt={offset=5, double=true, plain=true, yield=300}")
	for rod := range m.Linkage.Rods {
		list := m.checks(rod, Burden{Force: 1000, Bolts: [2]float64{linkage.AtArm: 1000, linkage.AtDropArm: 1500}, Holes: [2]float64{linkage.AtArm: 1000, linkage.AtDropArm: 2000}})
		root, area := (thread.Thread{Diameter: 8, Pitch: 1.25}).Root(), (thread.Thread{Diameter: 8, Pitch: 1.25}).StressArea()
		near(t, "bending at the arm", at(t, list, BoltBending, linkage.AtArm).Margin, 640/(32*1000*9/(math.Pi*root*root*root)), 1e-9)
		near(t, "bending at the drop arm", at(t, list, BoltBending, linkage.AtDropArm).Margin, 300/(32*1500*5/(math.Pi*512)/2), 1e-9)
		near(t, "shear at the arm", at(t, list, BoltShear, linkage.AtArm).Margin, 640/math.Sqrt(3)/(1000/area), 1e-9)
		near(t, "shear at the drop arm", at(t, list, BoltShear, linkage.AtDropArm).Margin, 300/math.Sqrt(3)/(1500/(math.Pi/4*64*2)), 1e-9)
		edge := 252 / math.Hypot(5, 24)
		k1 := min(2.8*edge/8-1.7, 2.5)
		near(t, "hole in the drop arm", at(t, list, HoleEdge, linkage.AtDropArm).Capacity, k1*edge/24*360*8*6/1.25, 1e-6)
		near(t, "its load", at(t, list, HoleEdge, linkage.AtDropArm).Margin*2000, k1*edge/24*360*8*6/1.25, 1e-6)
		if h, ok := m.hole(rod, linkage.AtArm); !ok || h.Edge == edge || at(t, list, HoleEdge, linkage.AtArm).Margin != h.bearing()/1000 {
			t.Errorf("rod %d: hole in the steering arm %+v", rod, h)
		}
	}
}

// TestWhatAnEndSitsOn: a drag link on the drop arm (22 mm from its hole to either side, 8 mm thick) and on one steering arm, a
// cross rod on both steering arms (12 mm thick), a rack of which no hole is known; offsets of bolts from the balls to the faces.
func TestWhatAnEndSitsOn(t *testing.T) {
	m := model(t, "beam-cyclekart")
	for _, c := range []struct {
		rod       int
		end       linkage.End
		thickness float64
	}{{0, linkage.AtDropArm, 8}, {0, linkage.AtArm, 12}, {1, linkage.AtDropArm, 12}, {1, linkage.AtArm, 12}} {
		h, ok := m.hole(c.rod, c.end)
		if !ok || math.Abs(h.Thickness-c.thickness) > 1e-9 || h.Edge <= 0 {
			t.Errorf("rod %d, end %v: %+v", c.rod, c.end, h)
		}
		if c.thickness == 8 {
			near(t, "edge of the drop arm", h.Edge, 22, 1e-9)
		}
	}
	// The link's ball stands 26 mm above the arm's upper face, -22; its other one within the drop arm, where nothing is known.
	if b, _ := m.Bolt(0, linkage.AtArm); b.OffsetAssumed || math.Abs(b.Offset-(m.Setup.DragLink.Pickup.Z+22)) > 1e-9 {
		t.Errorf("drag link at the arm: %+v, ball %v", b, m.Setup.DragLink.Pickup)
	}
	if b, _ := m.Bolt(0, linkage.AtDropArm); !b.OffsetAssumed || b.Offset != 1.5*b.Diameter {
		t.Errorf("drag link at the drop arm: %+v", b)
	}
	high := model(t, "beam-cyclekart", "drop_arm.thickness=", "drop_arm.up=[-12, -4]")
	if b, _ := high.Bolt(0, linkage.AtDropArm); b.OffsetAssumed || math.Abs(b.Offset-10) > 1e-9 {
		t.Errorf("10 mm above the drop arm's face: %+v", b)
	}
	rack := model(t, "rack-buggy")
	for rod := range rack.Linkage.Rods {
		if _, ok := rack.hole(rod, linkage.AtDropArm); ok {
			t.Error("a hole in a rack of which only a diameter is known")
		}
		if b, ok := rack.Bolt(rod, linkage.AtDropArm); !ok || !b.OffsetAssumed {
			t.Errorf("bolt at the rack: %+v", b)
		}
		if _, _, hole, bolt := rack.shares(rod, linkage.AtDropArm); hole || bolt {
			t.Error("balls of a rack share no bolt")
		}
	}
}

// TestOneBoltForBothRods bears what both rods do to it together, by the forces on the poses' balls added as vectors; two balls
// on the two sides of the metal each bend their own length of bolt, and the hole bears both.
func TestOneBoltForBothRods(t *testing.T) {
	soft := []string{"load.kerb=1", "load.hand=1"} // so that the tyres of both wheels load the rods most
	for name, set := range map[string][]string{
		"one side":   nil,
		"both sides": {"drop_arm.pin=", "drop_arm.left=[-58, 0, 30]", "drop_arm.right=[-58, 0, -10]", "drop_arm.thickness=", "drop_arm.up=[6, 14]"},
	} {
		m := model(t, "pedal-quad", append(set, soft...)...)
		sum := 0.0
		m.forces(func(_ Cause, _ s1.Angle, f *Force, p *linkage.Pose) {
			var on r3.Vector
			for rod := range p.Rods {
				on = on.Add(p.Rods[rod].From.Sub(p.Rods[rod].To).Normalize().Mul(f.Rods[rod]))
			}
			sum = max(sum, on.Norm())
		})
		for rod := range m.Linkage.Rods {
			b := m.burden(rod)
			bolt, own := sum, math.Abs(b.Force)
			if name == "both sides" {
				bolt = own
			}
			near(t, name+", bolt", b.Bolts[linkage.AtDropArm], bolt, 1e-6)
			near(t, name+", hole", b.Holes[linkage.AtDropArm], sum, 1e-6)
			near(t, name+", bolt at the arm", b.Bolts[linkage.AtArm], own, 1e-9)
			if !(sum > 1.1*own) {
				t.Errorf("%s: both rods give %v, one alone %v", name, sum, own)
			}
		}
	}
	// A cross rod on the drag link's own hole: the first rod's ball at the arm, the second's at what drives it.
	m := model(t, "beam-cyclekart", "drag_link.pickup=tail")
	if other, end, hole, bolt := m.shares(0, linkage.AtArm); other != 1 || end != linkage.AtDropArm || !hole || !bolt {
		t.Errorf("drag link and cross rod in one hole: rod %d, end %v, hole %v, bolt %v", other, end, hole, bolt)
	}
	if other, end, hole, _ := m.shares(1, linkage.AtDropArm); other != 0 || end != linkage.AtArm || !hole {
		t.Errorf("cross rod and drag link in one hole: rod %d, end %v, hole %v", other, end, hole)
	}
	sum := 0.0
	m.forces(func(_ Cause, _ s1.Angle, f *Force, p *linkage.Pose) { // the link pushes on the ball, the cross rod the other way
		link, cross := p.Rods[0].To.Sub(p.Rods[0].From).Normalize(), p.Rods[1].To.Sub(p.Rods[1].From).Normalize()
		sum = max(sum, link.Mul(f.Rods[0]).Sub(cross.Mul(f.Rods[1])).Norm())
	})
	near(t, "drag link and cross rod together", m.burden(0).Holes[linkage.AtArm], sum, 1e-6)
	near(t, "cross rod and drag link together", m.burden(1).Bolts[linkage.AtDropArm], sum, 1e-6)
	if _, _, hole, _ := m.shares(0, linkage.AtDropArm); hole {
		t.Error("the drag link is alone on the drop arm")
	}
	apart := model(t, "beam-cyclekart")
	if _, _, hole, _ := apart.shares(0, linkage.AtArm); hole {
		t.Error("holes apart")
	}
}
