package drill

import (
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"locksweep/fixtures/example"
	"locksweep/geometry/planar"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// TestOutsideTheOutline: what is told of a place outside the outline is what a sweep of it says, the metal has no room for it, and it is much
// better than any place inside; where there is no outline, and where only a little more can be had, nothing is told.
func TestOutsideTheOutline(t *testing.T) {
	r := search1(t, example.Read(t, "pedal-quad"), Arm, Aims{Percent: 100}, Options{Best: 1, Slip: -1})
	o := r.Outside()
	if o == nil || o.Decides != Ackermann || o.Out >= o.Of || o.Out < o.Of/2 {
		t.Fatalf("pedal-quad: %+v", o)
	}
	if worst, best := o.Worst, r.Best[0].Worst; !(2*worst <= best && worst <= best-muchBetter) {
		t.Errorf("%v off outside, %v inside", worst.Degrees(), best.Degrees())
	}
	for _, m := range r.Metals {
		at := o.Pickups[m.Side]
		q := m.Plane(r2.Point{X: at.X, Y: at.Y})
		if edge := planar.ToEdge(m.Outline, q); planar.Inside(m.Outline, q) && edge >= r.Options.Edge*r.Options.Diameter {
			t.Errorf("%v at %v lies %v mm within the outline", m.Name, q, edge)
		}
	}
	m, err := sweep.New(o.Fit(r.Setup))
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range sweep.Directions { // departure at the lock that is judged up to, from the road alone
		p, ok := m.AtInnerSteer(m.FirstLimit(d).Column, min(r.Aims.Lock, o.Figures.Lock())-1e-9*s1.Degree)
		if off := p.Turn.Error.Abs(); !ok || off > o.Worst+1e-6*s1.Degree {
			t.Errorf("%v: swept %v off, said at most %v", d, off.Degrees(), o.Worst.Degrees())
		}
	}

	free := example.Read(t, "pedal-quad")
	for _, side := range setup.Sides {
		free.Corners[side].Arm.Metal.Outline = nil
	}
	if o := search1(t, free, Arm, Aims{Percent: 100}, Options{Best: 1, Slip: -1, Step: 12, Reach: 30}).Outside(); o != nil {
		t.Errorf("without an outline: %+v", o)
	}
	if o := search1(t, example.Read(t, "shed-kart"), Arm, Aims{Percent: 100}, Options{Best: 1, Slip: -1}).Outside(); o != nil {
		t.Errorf("where all that can be had is two degrees: %+v", o)
	}
}
