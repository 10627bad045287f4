package plan

import (
	"math"
	"slices"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/fixtures/random"
	"locksweep/geometry/clearance"
	"locksweep/geometry/linkage"
	"locksweep/geometry/setup"
)

// upright has upright kingpins 600 apart and the given parts.
func upright(parts ...setup.Part) *setup.Setup {
	c := setup.Corner{
		Kingpin: setup.Kingpin{Height: 130},
		Wheel:   setup.Wheel{Offset: 120, Tyre: setup.Tyre{Diameter: 260, Width: 130}},
		Arm:     setup.Arm{Pickup: r3.Vector{X: -95}},
		Rod:     setup.Rod{Diameter: 12},
	}
	s := &setup.Setup{Spacing: 600, Corners: [2]setup.Corner{c, c}, Parts: parts}
	s.Vehicle = setup.Vehicle{Wheelbase: 1000, RearTrack: 900, RearTyre: setup.Tyre{Diameter: 280, Width: 180}}
	s.Column = setup.Column{Foot: r3.Vector{X: -45, Z: 130}, Rake: 90 * s1.Degree}
	s.DropArm.Pins = [2]r3.Vector{{X: 50, Y: 20}, {X: 50, Y: -20}}
	return s
}

func sceneOf(t *testing.T, s *setup.Setup) (*clearance.Scene, *linkage.Mechanism) {
	t.Helper()
	m, err := linkage.New(s)
	if err != nil {
		t.Fatal(err)
	}
	sc, err := clearance.New(s, m)
	if err != nil {
		t.Fatal(err)
	}
	return sc, m
}

func pieceOf(t *testing.T, sc *clearance.Scene, label string) int {
	t.Helper()
	i := slices.IndexFunc(sc.Pieces, func(p clearance.Piece) bool { return p.Label() == label })
	if i < 0 {
		t.Fatalf("no piece %q", label)
	}
	return i
}

func length(lines [][]r2.Point) (sum float64) {
	for _, line := range lines {
		for i := 1; i < len(line); i++ {
			sum += line[i].Sub(line[i-1]).Norm()
		}
	}
	return sum
}

func girth(rings [][]r2.Point) (sum float64) {
	for _, ring := range rings {
		sum += length([][]r2.Point{append(slices.Clip(ring), ring[0])})
	}
	return sum
}

func area(rings [][]r2.Point) (sum float64) {
	for _, ring := range rings {
		for i, p := range ring {
			sum += p.Cross(ring[(i+1)%len(ring)]) / 2
		}
	}
	return sum
}

// TestHiddenUnderAPlate: both long edges of a tube are hidden for the width of a plate that lies over it,
// and seen where it lies under the tube.
func TestHiddenUnderAPlate(t *testing.T) {
	tube := setup.Part{Name: "tube", Tube: &setup.Tube{Diameter: 20, Path: []r3.Vector{{X: -500, Z: 60}, {X: -300, Z: 60}}}}
	for _, c := range []struct{ low, hidden float64 }{{80, 2 * 70}, {20, 0}} {
		plate := setup.Part{Name: "plate", Plate: &setup.Plate{
			Outline: []r2.Point{{X: -450, Y: -80}, {X: -380, Y: -80}, {X: -380, Y: 80}, {X: -450, Y: 80}}, Lower: c.low, Upper: c.low + 3}}
		sc, m := sceneOf(t, upright(tube, plate))
		pose, _ := m.Pose(0)
		outlines, err := At(sc, &pose)
		if err != nil {
			t.Fatal(err)
		}
		at := slices.IndexFunc(outlines, func(o Outline) bool { return o.Piece == pieceOf(t, sc, "tube") })
		o := outlines[at]
		if got := length(o.Hidden); math.Abs(got-c.hidden) > 1e-6 {
			t.Errorf("plate at %g: %g hidden, want %g", c.low, got, c.hidden)
		}
		if got, want := length(o.Visible)+length(o.Hidden), girth(o.Rings); math.Abs(got-want) > 1e-6 {
			t.Errorf("plate at %g: %g seen and hidden, girth %g", c.low, got, want)
		}
		if o.Low != 50 || o.High != 70 {
			t.Errorf("tube between %g and %g, want 50 and 70", o.Low, o.High)
		}
		if got, want := area(o.Rings), 200*20+math.Pi*100; math.Abs(got-want) > 60*0.05 {
			t.Errorf("tube covers %g, want %g", got, want)
		}
	}
}

// TestSweptByAPost: an upright post of radius r on a spindle, at a lever ρ, sweeps 2·ρ·r times the turn, and its
// own foot π·r² (Pappus; derived).
func TestSweptByAPost(t *testing.T) {
	const lever, radius = 60, 8
	post := setup.Part{Name: "post", On: setup.OnSpindle, Sides: [2]bool{true, false}, Tube: &setup.Tube{Diameter: 2 * radius, Path: []r3.Vector{{X: lever, Z: 40}, {X: lever, Z: 90}}}}
	sc, m := sceneOf(t, upright(post))
	var poses []linkage.Pose
	for c := -20.0; c <= 20; c += 0.5 {
		pose, _ := m.Pose(s1.Angle(c) * s1.Degree)
		poses = append(poses, pose)
	}
	rings, err := Swept(sc, pieceOf(t, sc, "left post"), poses)
	if err != nil {
		t.Fatal(err)
	}
	turn := math.Abs(float64(poses[len(poses)-1].Sides[setup.Left].Spindle - poses[0].Sides[setup.Left].Spindle))
	want := 2*lever*radius*turn + math.Pi*radius*radius
	if got := area(rings); math.Abs(got-want) > 0.01*want {
		t.Errorf("swept %g, want %g", got, want)
	}
	if len(rings) != 1 {
		t.Errorf("%d rings", len(rings))
	}
	one, err := Silhouette(sc, pieceOf(t, sc, "left post"), &poses[0])
	if err != nil || math.Abs(area(one)-math.Pi*radius*radius) > 0.05*2*math.Pi*radius {
		t.Errorf("one post covers %g, %v", area(one), err)
	}
}

// TestOutlinesOfAnySetup: every piece is there once, the highest first; what is seen and what is hidden are the
// whole outline, and nothing hides the highest.
func TestOutlinesOfAnySetup(t *testing.T) {
	for seed := range uint64(60) {
		s := random.FromSeed(seed)
		m, err := linkage.New(s)
		if err != nil {
			t.Fatal(err)
		}
		sc, _ := clearance.New(s, m) // pieces that touch are seen none the less
		for _, column := range []s1.Angle{0, 0.3, -0.2} {
			pose, ok := m.Pose(column)
			if !ok {
				continue
			}
			outlines, err := At(sc, &pose)
			if err != nil {
				t.Fatalf("seed %d at %v: %v", seed, column, err)
			}
			if len(outlines) != len(sc.Pieces) {
				t.Fatalf("seed %d: %d outlines of %d pieces", seed, len(outlines), len(sc.Pieces))
			}
			for i, o := range outlines {
				if i > 0 && o.High > outlines[i-1].High || o.Low > o.High {
					t.Errorf("seed %d: piece %d from %g to %g is out of order", seed, o.Piece, o.Low, o.High)
				}
				if seen, want := length(o.Visible)+length(o.Hidden), girth(o.Rings); math.Abs(seen-want) > 1e-6*(1+want) {
					t.Errorf("seed %d, %s: %g seen and hidden, girth %g", seed, sc.Pieces[o.Piece].Label(), seen, want)
				}
			}
			if hidden := length(outlines[0].Hidden); hidden > 1e-9 {
				t.Errorf("seed %d: %g of the highest piece is hidden", seed, hidden)
			}
		}
	}
}

// A bent tube rises past a rod's height at one end only: over its low stretch the rod is seen, and the
// tube's edge there lies under the rod.
func TestBentTubeLiesUnderAndOver(t *testing.T) {
	tube := setup.Part{Name: "rail", Tube: &setup.Tube{Diameter: 30, Path: []r3.Vector{{X: -300, Y: 150, Z: 60}, {X: 40, Y: 150, Z: 60}, {X: 80, Y: 150, Z: 260}}}}
	sc, m := sceneOf(t, upright(tube))
	pose, _ := m.Pose(0)
	outlines, err := At(sc, &pose)
	if err != nil {
		t.Fatal(err)
	}
	rod, rail := pieceOf(t, sc, "left tie rod"), pieceOf(t, sc, "rail")
	for _, o := range outlines {
		switch o.Piece {
		case rod:
			if got := length(o.Hidden); got > 1e-6 {
				t.Errorf("%.3f mm of the rod are hidden, want none: the rail passes 50 mm below it", got)
			}
		case rail: // both edges pass under the rod, 12 mm wide
			if got := length(o.Hidden); math.Abs(got-24) > 0.3 {
				t.Errorf("%.3f mm of the rail are hidden, want 24", got)
			}
		}
	}
}
