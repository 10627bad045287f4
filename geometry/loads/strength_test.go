package loads

import (
	"errors"
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"locksweep/geometry/linkage"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/geometry/thread"
)

// TestWeakest: everything that is judged, the least margin first, each under the worst of its rod.
func TestWeakest(t *testing.T) {
	for _, name := range []string{"shed-kart", "field-buggy"} {
		m := model(t, name)
		list, judged := m.Weakest(), 0
		for i := 1; i < len(list); i++ {
			if list[i].Margin < list[i-1].Margin {
				t.Errorf("%s: margin %v after %v", name, list[i].Margin, list[i-1].Margin)
			}
		}
		for rod := range m.Linkage.Rods {
			worst := 0.0
			for _, w := range m.Worsts(rod) {
				worst = max(worst, math.Abs(w.Force))
			}
			for _, w := range list {
				if w.Rod == rod && w.Kind != StopPlate && w.Kind != Buckling && math.Abs(w.Force) != worst {
					t.Errorf("%s: %v under %v, the worst is %v", name, w.Kind, w.Force, worst)
				}
			}
			judged += len(m.checks(rod, m.burden(rod)))
		}
		for _, d := range sweep.Directions {
			if !math.IsNaN(m.Stopped(d).Plate.Margin) {
				judged++
			}
		}
		if len(list) != judged || judged == 0 {
			t.Errorf("%s: %d of %d", name, len(list), judged)
		}
	}
}

// TestPressed is the greatest of all forces with its sign, a rod that is only pulled has none.
func TestPressed(t *testing.T) {
	m := model(t, "field-buggy")
	for rod := range m.Linkage.Rods {
		most := 0.0
		m.forces(func(_ Cause, _ s1.Angle, f *Force, _ *linkage.Pose) {
			if f.Rods[rod] > most {
				most = f.Rods[rod]
			}
		})
		worst := 0.0
		for _, w := range m.Worsts(rod) {
			worst = max(worst, w.Force)
		}
		if got := m.burden(rod).Pressed; got != most || most < worst || most <= 0 {
			t.Errorf("rod %d: pressed by %v, want %v, not less than %v", rod, got, most, worst)
		}
		if c := m.checks(rod, Burden{Force: -5000})[0]; c.Kind != Buckling || !math.IsInf(c.Margin, 1) {
			t.Errorf("rod %d, never pressed: %+v", rod, c)
		}
	}
}

// TestBuckling: figures worked out by hand, a pipe of a textbook, and the two formulas where they meet.
func TestBuckling(t *testing.T) {
	tube := strutOf(&setup.Rod{Stock: setup.Stock{Outer: 14, Wall: 1.5}}, 285)
	near(t, "Euler, tube 14 × 1.5, 285 long (derived)", tube.euler()/1000, 29.8, 0.05)
	near(t, "Johnson, the same (derived)", tube.johnson()/1000, 12.2, 0.05)
	near(t, "what holds, below the limit slenderness", tube.buckling(), tube.johnson(), 0)
	// Gere, Mechanics of Materials, 7th edition, problem 11.4-2 (read, in a solution of it): pipe 40 and 36 mm, 1.2 m, 210 GPa, 62.2 kN.
	pipe := Strut{Length: 1200, Outer: 40, Inner: 36, Yield: 235, Stiffness: 210e3}
	near(t, "Gere 11.4-2", pipe.euler()/1000, 62.2, 0.05)
	long := strutOf(&setup.Rod{Diameter: 12}, 900)
	if long.slenderness() < long.limit() || long.buckling() != long.euler() {
		t.Errorf("slenderness %v, limit %v: bears %v, Euler %v", long.slenderness(), long.limit(), long.buckling(), long.euler())
	}
	at := tube
	at.Length *= at.limit() / at.slenderness()
	near(t, "Johnson meets Euler", at.johnson(), at.euler(), 1e-6)
	near(t, "at half the yield strength", at.euler()/at.area(), 235/2.0, 1e-9)
	soft := strutOf(&setup.Rod{Diameter: 12, Stock: setup.Stock{Material: setup.Aluminium}}, 900)
	near(t, "aluminium bar a third as stiff", soft.euler(), long.euler()/3, 1e-6)
}

// TestBoltsAndHoles by hand (derived): M8 at its root, 12 mm off, 1.23 kN; an edge by EN 1993-1-8 table 3.4.
func TestBoltsAndHoles(t *testing.T) {
	b := Bolt{Thread: thread.Thread{Diameter: 8, Pitch: 1.25}, Offset: 12}
	near(t, "bending", b.bending(-1230), 555, 1.5)
	near(t, "shear", b.shear(1230), 33.6, 0.1)
	double := b
	double.Double = true
	near(t, "bending in double shear", double.bending(1230), b.bending(1230)/2, 1e-9)
	near(t, "double shear", double.shear(1230), b.shear(1230)/2, 1e-9)
	plain := b
	plain.Plain = true
	near(t, "bending of a plain shank", plain.bending(1230), 32*1230*12/(math.Pi*512), 1e-9)
	near(t, "shear of a plain shank", plain.shear(1230), 1230/(math.Pi*16), 1e-9)
	for _, c := range []struct{ edge, want float64 }{
		{24, 2.5 * 1 * 360 * 8 * 6 / 1.25}, // three diameters
		{12, 2.5 * 0.5 * 360 * 8 * 6 / 1.25},
		{9.6, (2.8*1.2 - 1.7) * 0.4 * 360 * 8 * 6 / 1.25}, // the floor of table 3.3
		{2, 0},
	} {
		h := Hole{Diameter: 8, Bolt: 8, Thickness: 6, Edge: c.edge}
		near(t, "hole's edge", h.bearing(), c.want, 1e-6)
	}
}

// TestChecksOfTheKart: what is judged, with the margins that go with it.
func TestChecksOfTheKart(t *testing.T) {
	m := model(t, "shed-kart", "tie_rod.tube={outer=14, wall=1.5}")
	kinds := map[Kind]Check{}
	for _, c := range m.checks(0, Burden{Force: -1230, Pressed: 900}) {
		kinds[c.Kind] = c
	}
	strut := strutOf(&m.Linkage.Rods[0].Spec, m.Linkage.Rods[0].Length)
	near(t, "buckling", kinds[Buckling].Margin, strut.buckling()/900, 1e-9)
	near(t, "thread", kinds[Thread].Margin, 235*36.6/1230, 0.01)
	for _, d := range sweep.Directions {
		s := m.Stopped(d)
		if first := m.Locks[d].First(); first.Kind == sweep.Contact && !(s.Force > 0 && math.Abs(s.Force*s.Lever-math.Abs(s.Moment)) < 1e-6*math.Abs(s.Moment)) {
			t.Errorf("stop: %+v", s)
		} else if first.Kind == sweep.Contact {
			axis, least := m.Setup.Kingpin(first.Side), math.Inf(1)
			for along := -400.0; along < 400; along += 0.01 {
				least = min(least, axis.Point.Add(axis.Dir.Mul(along)).Sub(first.Point).Norm())
			}
			near(t, "stop's lever", s.Lever, least, 1e-4)
		}
	}
	if _, err := New(m.Result); err != nil {
		t.Error(err)
	}
	empty := *m.Result
	model := *empty.Model
	bare := *model.Setup
	bare.Load = setup.Load{}
	model.Setup, empty.Model = &bare, &model
	if _, err := New(&empty); !errors.Is(err, ErrNoWeight) {
		t.Errorf("without a weight: %v", err)
	}
}

// TestPlateStress: a bar 20 wide as a lug, against the same cantilever with chords of arcs in closed form (derived).
func TestPlateStress(t *testing.T) {
	p := &setup.Part{Bore: 20, Plate: &setup.Plate{Outline: []r2.Point{{X: -10, Y: -50}, {X: 10, Y: -50}, {X: 10, Y: 100}, {X: -10, Y: 100}}, Upper: 8}}
	want, at := 0.0, 0.0
	for r := 10.0; r < 80; r += 0.01 {
		w := 2 * r * math.Asin(10/r)
		if σ := 6 * 1000 * (80 - r) / (8 * w * w); σ > want {
			want, at = σ, w
		}
	}
	stress, width := plateStress(p, r2.Point{Y: 80}, 1000)
	near(t, "stress", stress, want, 0.02*want)
	near(t, "width", width, at, 0.05*at)
}
