package grind

import (
	"math"
	"testing"

	"github.com/golang/geo/s1"

	"locksweep/fixtures/example"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// ofKart is the plan for the shed kart as it is, made once.
var ofKart *Plan

// planOf is the plan for an inner wheel at 34° of the shed kart, changed where there is a change.
func planOf(t *testing.T, change func(*setup.Setup)) *Plan {
	t.Helper()
	if change == nil && ofKart != nil {
		return ofKart
	}
	s := example.Read(t, "shed-kart")
	if change != nil {
		change(s)
	}
	m, err := sweep.New(s)
	if err != nil {
		t.Fatal(err)
	}
	p, err := Make(m, Target{Measure: BySteer, Angle: 34 * s1.Degree}, Options{Clearance: math.NaN()})
	if err != nil {
		t.Fatal(err)
	}
	if change == nil {
		ofKart = p
	}
	return p
}

// TestWallPlusMinus (derived): two outlines of half-widths a and b and a bore of c give 1.96 √((a² + b² + (c/2)²)/3); a file that gives a
// figure its own accuracy is heeded, and the less exact of an outline's axes.
func TestWallPlusMinus(t *testing.T) {
	of := func(a, b, c float64) float64 { return 1.959964 * math.Sqrt((a*a+b*b+c*c/4)/3) }
	p := *planOf(t, nil)
	for _, c := range []struct {
		set  string
		want float64
	}{
		{"accuracy={place=3}", of(1, 1, 0.3)},
		{"accuracy={outline=2, hole=0.6}", of(2, 2, 0.6)},
		{"accuracy={outline=0, hole=0}", 0},
		{`accuracy={keys={"part.'stop lug'.plate.outline"=4, "part.'yoke web'.plate.outline[*][1]"=0.5, "part.'stop lug'.bore"=1}}`, of(4, 1, 1)},
	} {
		known := *p.Model
		known.Setup = example.Read(t, "shed-kart", c.set)
		p.Model = &known
		if got := p.WallPlusMinus(p.Cuts[0]); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%s: ±%v, want ±%v", c.set, got, c.want)
		}
	}
}

// TestWallMovesAsSaid: with the stop's own outline and what it meets moved by a millimetre along either axis, the wall that the plan leaves
// moves by no more than that, and by most of it along one of them.
func TestWallMovesAsSaid(t *testing.T) {
	as := planOf(t, nil).Cuts[0].Wall.Left()
	most := 0.0
	for axis := range 2 {
		p := planOf(t, func(s *setup.Setup) {
			for i := range s.Parts {
				if s.Parts[i].Name == "yoke web" {
					for k := range s.Parts[i].Plate.Outline {
						p := &s.Parts[i].Plate.Outline[k]
						*[2]*float64{&p.X, &p.Y}[axis]++
					}
				}
			}
		})
		moved := math.Abs(p.Cuts[0].Wall.Left() - as)
		if most = math.Max(most, moved); moved > 1.1 {
			t.Errorf("along axis %d by 1 mm: the wall moves by %.2f mm", axis, moved)
		}
	}
	if most < 0.5 {
		t.Errorf("the wall moves by %.2f mm at most", most)
	}
}
