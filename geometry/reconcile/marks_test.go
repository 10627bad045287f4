package reconcile

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"

	"locksweep/fixtures/example"
	"locksweep/geometry/setup"
)

// TestTrilateration: the distances from the corners of a box of 3 by 4 by 12 to its far corner are 13 along the diagonal, and
// √(4² + 12²), √(3² + 12²) from the two corners beside the first (derived: Pythagoras's quadruple 3, 4, 12, 13).
func TestTrilateration(t *testing.T) {
	at, ok := trilaterate([3]r3.Vector{{}, {X: 3}, {Y: 4}}, [3]float64{13, math.Sqrt(160), math.Sqrt(153)})
	want := [2]r3.Vector{{X: 3, Y: 4, Z: 12}, {X: 3, Y: 4, Z: -12}}
	for i := range want {
		if !ok || at[i].Sub(want[i]).Norm() > 1e-12 {
			t.Errorf("got %v, want %v", at, want)
		}
	}
	// The same, turned and moved: a cyclic change of axes, 100 further along each.
	turn := func(p r3.Vector) r3.Vector { return r3.Vector{X: p.Z + 100, Y: p.X + 100, Z: p.Y + 100} }
	at, ok = trilaterate([3]r3.Vector{turn(r3.Vector{}), turn(r3.Vector{X: 3}), turn(r3.Vector{Y: 4})}, [3]float64{13, math.Sqrt(160), math.Sqrt(153)})
	if !ok || at[0].Sub(turn(want[0])).Norm() > 1e-12 {
		t.Errorf("turned: got %v, want %v", at[0], turn(want[0]))
	}
	if _, ok := trilaterate([3]r3.Vector{{}, {X: 30}, {X: 70}}, [3]float64{50, 50, 50}); ok {
		t.Error("three points in line find a point")
	}
}

// withMark is an example with a mark that three or more tapes are taken to, and where the mark is.
func withMark(t *testing.T, at r3.Vector, mark setup.Mark, from ...string) *setup.Setup {
	t.Helper()
	s := example.Read(t, "shed-kart")
	mark.Name = "nail"
	s.Checks.Marks = []setup.Mark{mark}
	for _, name := range from {
		p, ok := s.Place(name)
		if !ok {
			t.Fatalf("no point %q", name)
		}
		end, _ := p.At(s)
		s.Checks.Taped = append(s.Checks.Taped, setup.Taped{From: name, To: "nail", Distance: end.Sub(at).Norm()})
	}
	return s
}

// TestMarkIsFound: a nail in the floor is found from three tapes, nearer the ground of two mirror images, and the other is
// told; a fourth tape from a point off their plane, or a rough place, leaves but one.
func TestMarkIsFound(t *testing.T) {
	nail := r3.Vector{X: 150, Y: 90}
	for _, c := range []struct {
		what   string
		s      *setup.Setup
		mirror bool
	}{
		{"three tapes", withMark(t, nail, setup.Mark{}, "left kingpin", "right kingpin", "foot"), true},
		{"a fourth tape", withMark(t, nail, setup.Mark{}, "left kingpin", "right kingpin", "foot", "left side rail[0]"), false},
	} {
		r, err := Run(c.s)
		if err != nil {
			t.Fatalf("%s: %v", c.what, err)
		}
		f := r.Marks[0]
		if f.At.Sub(nail).Norm() > 1e-4 || f.Open || (f.Mirror != nil) != c.mirror {
			t.Errorf("%s: found %+v, want it at %v, with a mirror image %v", c.what, f, nail, c.mirror)
		}
		if f.Mirror != nil {
			// The plane through both kingpins, at z = 128, and the foot, at x = -60 and z = 130.
			normal := r3.Vector{X: 2, Z: 60}.Normalize()
			want := nail.Sub(normal.Mul(2 * normal.Dot(nail.Sub(r3.Vector{Z: 128}))))
			if f.Mirror.Sub(want).Norm() > 1e-3 {
				t.Errorf("mirror image at %v, want %v", *f.Mirror, want)
			}
		}
		for _, pm := range f.PlusMinus {
			if !(pm > 0.5 && pm < 30) {
				t.Errorf("%s: found to ±%v", c.what, f.PlusMinus)
			}
		}
	}
	high := r3.Vector{X: 150, Y: 90, Z: 300}
	r, err := Run(withMark(t, high, setup.Mark{At: r3.Vector{X: 100, Y: 60, Z: 350}, Given: true, Accuracy: 150}, "left kingpin", "right kingpin", "foot"))
	if err != nil {
		t.Fatal(err)
	}
	if x := r.Observations[len(r.Observations)-1]; !r.Agrees() || len(r.Marks) != 0 {
		t.Errorf("a mark given roughly: %+v, %v", x, r.Marks)
	}
	for _, o := range r.Observations {
		if o.Kind == MarkAt && math.Abs(o.Adjusted-[3]float64{150, 90, 300}[int(o.Key[len(o.Key)-2]-'0')]) > 2 {
			t.Errorf("%s is %g", o.Key, o.Adjusted)
		}
	}
}

// TestMarkLeftOpen: two tapes leave a mark on a circle, and that is said.
func TestMarkLeftOpen(t *testing.T) {
	s := withMark(t, r3.Vector{X: 150, Y: 90}, setup.Mark{}, "left kingpin", "right kingpin")
	s.Checks.Taped = append(s.Checks.Taped, setup.Taped{From: "left pickup", To: "right pickup", Distance: 648})
	r, err := Run(s)
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Marks) != 1 || !r.Marks[0].Open || r.Marks[0].Mirror != nil {
		t.Errorf("found %+v", r.Marks)
	}
}
