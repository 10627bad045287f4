package neck

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r2"

	"locksweep/fixtures/grid"
	"locksweep/fixtures/trial"
	"locksweep/geometry/planar"
	"locksweep/geometry/region"
)

// made is the metal inside an outline; bore is a diameter.
func made(t *testing.T, outline []r2.Point, root Root, bore float64) Metal {
	t.Helper()
	m, err := New(outline, root, bore)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// corners reads an outline off its coordinates in turn.
func corners(xy ...float64) (out []r2.Point) {
	for i := 0; i < len(xy); i += 2 {
		out = append(out, r2.Point{X: xy[i], Y: xy[i+1]})
	}
	return out
}

// The least width of plain shapes (derived: it is read off their figures).
func TestLeastWidthOfPlainShapes(t *testing.T) {
	bottom := Root{Edge: [2]r2.Point{{X: -20}, {X: 20}}}
	finger := corners(-20, 0, 20, 0, 20, 10, 2.5, 10, 2.5, 40, -2.5, 40, -2.5, 10, -20, 10)
	neck := corners(-20, 0, 20, 0, 20, 10, 3.5, 10, 3.5, 14, 20, 14, 20, 40, -20, 40, -20, 14, -3.5, 14, -3.5, 10, -20, 10)
	block := corners(-20, 0, 20, 0, 20, 30, -20, 30)
	around := corners(-15, -12, 40, -12, 40, 12, -15, 12)
	for _, c := range []struct {
		name    string
		outline []r2.Point
		root    Root
		bore    float64
		patch   planar.Edge
		want    float64
	}{
		{"finger, touched at its end", finger, bottom, 0, planar.Edge{{X: -2.5, Y: 40}, {X: 2.5, Y: 40}}, 5},
		{"finger, touched beside it", finger, bottom, 0, planar.Edge{{X: 10, Y: 10}, {X: 18, Y: 10}}, 10},
		{"neck", neck, bottom, 0, planar.Edge{{X: -10, Y: 40}, {X: 10, Y: 40}}, 7},
		{"block, touched on its face", block, bottom, 0, planar.Edge{{X: -10, Y: 30}, {X: 10, Y: 30}}, 30},
		{"block, touched at a corner", block, bottom, 0, planar.Edge{{X: 20, Y: 29.9}, {X: 19.9, Y: 30}}, 30},
		{"strip on its root", corners(-20, 0, 20, 0, 20, 4, -20, 4), bottom, 0, planar.Edge{{X: -10, Y: 4}, {X: 10, Y: 4}}, 4},
		{"hung on a short edge", block, Root{Edge: [2]r2.Point{{X: -20, Y: 10}, {X: -20, Y: 16}}}, 0, planar.Edge{{X: 20, Y: 5}, {X: 20, Y: 25}}, 30},
		{"about the kingpin", around, Root{Kingpin: true}, 10, planar.Edge{{X: 40, Y: -5}, {X: 40, Y: 5}}, 24},
		// Past the bore 7 mm lead on either side to the far end.
		{"past the bore", around, Root{Edge: [2]r2.Point{{X: -15, Y: -12}, {X: -15, Y: 12}}}, 10, planar.Edge{{X: 40, Y: -5}, {X: 40, Y: 5}}, 7},
	} {
		t.Run(c.name, func(t *testing.T) {
			m := made(t, c.outline, c.root, c.bore)
			patch := planar.NewNearest([]planar.Edge{c.patch})
			got, err := m.Width(patch)
			if err != nil {
				t.Fatal(err)
			}
			if math.Abs(got-c.want) > 0.35 {
				t.Errorf("width %g, want %g", got, c.want)
			}
			for width, want := range map[float64]bool{c.want - 0.5: true, c.want + 0.5: false} {
				if ok, err := m.Carries(patch, width); err != nil || ok != want {
					t.Errorf("carries %g: got %v (%v), want %v", width, ok, err, want)
				}
			}
		})
	}
}

// An outline of many teeth is narrowed by steps, and is as wide as it is narrowed at once.
func TestTeethAreNarrowedBySteps(t *testing.T) {
	r := rand.New(rand.NewPCG(7, trial.Seed))
	tried := 0
	for range trial.Count(2, 20) {
		teeth := 310 + r.IntN(40)
		var outline []r2.Point
		for i := range teeth {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(teeth))
			far := 20 + 3*float64(i%2)*r.Float64() + 2*math.Sin(5*math.Atan2(sin, cos))
			outline = append(outline, r2.Point{X: 6 + far*cos, Y: far * sin})
		}
		m := made(t, outline, Root{Kingpin: true}, 12)
		if len(m.stages) < 2 {
			t.Fatalf("%d teeth are narrowed in %d steps", teeth, len(m.stages))
		}
		at := r.IntN(teeth)
		patch := planar.NewNearest([]planar.Edge{{outline[at], outline[(at+1)%teeth]}})
		got, err := m.Width(patch)
		if err != nil {
			t.Fatal(err)
		}
		m.stages = nil
		for off, want := range map[float64]bool{-4 * Step: true, 4 * Step: false} {
			if got+off <= 0 {
				continue
			}
			if at, err := m.Carries(patch, got+off); err != nil || at != want {
				t.Errorf("%d teeth: %g mm wide by steps; at once it carries %g: %v (%v)", teeth, got, got+off, at, err)
			}
		}
		if got > 2 {
			tried++
		}
	}
	if tried == 0 {
		t.Error("no outline has any width")
	}
}

// Teeth thinner than any width that is told are left out beforehand, whatever the tip they have; what remains is as wide as with them,
// and what is struck is still all of them.
func TestTeethTooThinForAnyWidthAreLeftOut(t *testing.T) {
	for _, c := range []struct {
		name string
		tip  []r2.Point // of a tooth from [0, 0] to [1, 0], in its own size
		want float64
	}{
		{"pointed", []r2.Point{{X: 0.5, Y: 1}}, 8},
		{"flat", []r2.Point{{X: 0.3, Y: 1}, {X: 0.7, Y: 1}}, 8},
		{"slits with teeth between them", []r2.Point{{X: 0.5, Y: -1}}, 5},
	} {
		const teeth, pitch, high = 800, 0.025, 3.0 // on the upper edge of a bar of 20 by 8, which hangs on its left end
		outline := []r2.Point{{}, {X: teeth * pitch}}
		for i := teeth; i > 0; i-- {
			outline = append(outline, r2.Point{X: float64(i) * pitch, Y: 8})
			for k := len(c.tip) - 1; k >= 0; k-- {
				outline = append(outline, r2.Point{X: (float64(i) - 1 + c.tip[k].X) * pitch, Y: 8 + high*c.tip[k].Y})
			}
		}
		outline = append(outline, r2.Point{Y: 8})
		if kept := len(blunt(outline)); kept > len(outline)*2/3 {
			t.Errorf("%s: %d of %d corners are kept", c.name, kept, len(outline))
		}
		m := made(t, outline, Root{Edge: [2]r2.Point{{}, {Y: 8}}}, 0)
		patch := planar.NewNearest([]planar.Edge{{{X: 20, Y: 2}, {X: 20, Y: 4}}})
		if got, err := m.Width(patch); err != nil || math.Abs(got-c.want) > 0.2 {
			t.Errorf("%s: width %v (%v), want %v", c.name, got, err, c.want)
		}
		if got, want := m.Region.Area(), planar.Area(outline); math.Abs(got-want) > 0.1 {
			t.Errorf("%s: the metal that may be struck has %v mm², want %v", c.name, got, want)
		}
	}
}

// Widths counted on a grid, by nothing but distances to edges and neighbours that hang together: none of the code
// under test, no polygon library.
func TestLeastWidthAgainstGrid(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 8))
	tried := 0
	trials := trial.Count(21, 60)
	for i := range trials {
		outline := star(r, 6+r.IntN(8))
		if !planar.Inside(outline, r2.Point{}) {
			continue
		}
		at := r.IntN(len(outline))
		patch := planar.Edge{outline[at], outline[(at+1)%len(outline)]}
		got, err := (&Metal{Region: region.Of(outline), root: Root{Kingpin: true}}).Width(planar.NewNearest([]planar.Edge{patch}))
		if err != nil {
			t.Fatal(err)
		}
		want := grid.Of(outline).Width(patch)
		if math.Abs(got-want) > math.Max(1.2, want/12) {
			t.Errorf("outline %d: %v, touched between %v and %v: got %.2f, the grid says %.2f", i, outline, patch[0], patch[1], got, want)
		}
		tried++
	}
	if tried < trials/3 {
		t.Errorf("only %d outlines", tried)
	}
}

// star is a random outline about a point beside the origin.
func star(r *rand.Rand, n int) (ring []r2.Point) {
	for i := range n {
		sin, cos := math.Sincos(2 * math.Pi * (float64(i) + 0.8*r.Float64()) / float64(n))
		far := 9 + 25*r.Float64()
		ring = append(ring, r2.Point{X: 8 + far*cos, Y: 4 + far*sin})
	}
	return ring
}

// What is plainly carried is carried, of outlines of all kinds; and much that is carried is plainly so.
func TestWhatIsPlainlyCarriedIsCarried(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 2))
	plain, carried := 0, 0
	for i := range 300 {
		outline := star(r, 6+r.IntN(8))
		root, bore := Root{Kingpin: true}, 0.0
		switch i % 3 {
		case 1:
			bore = 4 + 6*r.Float64()
		case 2:
			root = Root{Edge: [2]r2.Point(planar.Edges(outline)[0])}
		}
		e := planar.Edges(outline)[r.IntN(len(outline))]
		at := e[0].Add(e[1].Sub(e[0]).Mul(r.Float64()))
		m := made(t, outline, root, bore)
		width := 3 + 9*r.Float64()
		ok, err := m.Carries(planar.NewNearest([]planar.Edge{{at, at}}), width)
		if err != nil {
			t.Fatal(err)
		}
		if ok {
			carried++
		}
		if Plainly(outline, root, bore, width, at) {
			plain++
			if !ok {
				t.Errorf("outline %d: %v, root %v, bore %g: a disc of %g is said to reach %v, and does not", i, outline, root, bore, width, at)
			}
		}
	}
	if carried < 50 || plain < carried/2 {
		t.Errorf("%d of %d plainly", plain, carried)
	}
}

// Two notches leave a neck of 4 mm, and a straight line through it that touches neither: whether a disc gets along it hangs on the
// notches' tips, not on the ends of its way.
func TestTipsOfNotchesBarTheWay(t *testing.T) {
	notched := func(half float64) []r2.Point {
		return corners(-20, 0, 20, 0, 20, 7, half, 8.5, 20, 10, 20, 20, -20, 20, -20, 10, -half, 8.5, -20, 7)
	}
	at, width := r2.Point{Y: 20}, 6.0
	root := Root{Edge: [2]r2.Point{{X: -20}, {X: 20}}}
	for half, want := range map[float64]bool{2: false, 6: true} {
		outline := notched(half)
		m := made(t, outline, root, 0)
		carried, err := m.Carries(planar.NewNearest([]planar.Edge{{at, at}}), width)
		if err != nil {
			t.Fatal(err)
		}
		if plainly := Plainly(outline, root, 0, width, at); carried != want || plainly != want {
			t.Errorf("a neck of %g mm, asked for %g: carried %v, plainly %v, want %v", 2*half, width, carried, plainly, want)
		}
	}
}
