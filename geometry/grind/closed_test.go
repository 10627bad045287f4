package grind

import (
	"fmt"
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"locksweep/fixtures/trial"
	"locksweep/geometry/planar"
	"locksweep/geometry/region"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// fine is a chord error, mm, at which areas of arcs of some 100 mm agree with closed forms to the share of them that share is.
func fine() float64 { return trial.Every(1.2e-5, 1.2e-6) }

func share() float64 { return trial.Every(1e-5, 1e-6) }

// A round post that goes a good way past the radial edge of a plate sweeps, grown by the clearance to
// radius R at distance d from the kingpin: a piece of ring of angle θ, 2dRθ, and half a disc at its end
// (area of an annular sector and of a disc: derived). The deepest point is R beyond the post's centre.
func TestPostAgainstStraightEdge(t *testing.T) {
	const d, post, gap = 60.0, 7.0, 3.0
	start, turn := 16*s1.Degree, 38*s1.Degree
	x, y := -d*math.Sin(float64(start)), d*math.Cos(float64(start))
	text := fmt.Sprintf(kart, 0, 0, gap,
		part("lug", "spindle", "grind = true\n"+plateOf(corners(0, 20, 80, 20, 80, 110, 0, 110), -10, 10))+
			part("post", "frame", fmt.Sprintf("mirror = true\ntube = { diameter = %v, path = [[%v, %v, 90], [%v, %v, 170]] }", 2*post, x, 320+y, x, 320+y)))
	m := model(t, text)
	p := leftPlate(t, m, "lug")
	c, err := cutTo(p, atSpindle(t, m, turn), gap, fine())
	if err != nil {
		t.Fatal(err)
	}
	theta, r := float64(turn-start), post+gap
	near(t, "area", c.Area, 2*d*r*theta+math.Pi*r*r/2, share()*c.Area)
	near(t, "depth", c.Depth, d*math.Sin(theta)+r, share())
	near(t, "mass", c.Mass, c.Area*20*7850e-9, 1e-12)
}

// A pad whose leading face is radial, from r1 to r2, and which is longer than it gets past the edge,
// sweeps (r2²·tanθ - r1²·θ)/2 of the plate: between the arc of its inner corner and the line of its
// outer side (derived). The deepest point is the end of its outer corner: r2·sinθ.
func TestPadAgainstStraightEdge(t *testing.T) {
	const near1, far = 40.0, 62.0
	start, turn := 12*s1.Degree, 37*s1.Degree
	theta := float64(turn - start)
	long := far*math.Tan(theta) + 5
	text := fmt.Sprintf(kart, 0, 0, 0,
		part("lug", "spindle", "grind = true\n"+plateOf(corners(0, 20, 80, 20, 80, 110, 0, 110), -10, 10))+
			part("pad", "frame", "at = \"kingpin\"\n"+plateOf(turnedTo(corners(0, near1, 0, far, -long, far, -long, near1), r2.Point{}, float64(start)), -20, 20)))
	m := model(t, text)
	p := leftPlate(t, m, "lug")
	c, err := cutTo(p, atSpindle(t, m, turn), 0, fine())
	if err != nil {
		t.Fatal(err)
	}
	near(t, "area", c.Area, (far*far*math.Tan(theta)-near1*near1*theta)/2, share()*c.Area)
	near(t, "depth", c.Depth, far*math.Sin(theta), 1e-6)
}

// A round post that ploughs 15.5 mm into an arm 17.5 mm wide, 30 mm from its end, makes a notch: 15.5 mm deep from the
// side that it comes from, though its floor lies 2 mm from the far edge and its walls nowhere 9.8 mm from an edge (derived).
func TestDepthOfNotchFromItsOwnSide(t *testing.T) {
	before := corners(0, 0, 60, 0, 60, 17.5, 0, 17.5)
	notch := corners(0, 0, 20, 0, 20, 15.5, 39, 15.5, 39, 0, 60, 0, 60, 17.5, 0, 17.5)
	depth := func(after []r2.Point) float64 {
		t.Helper()
		removed, err := region.Of(before).Minus(region.Of(after))
		if err != nil {
			t.Fatal(err)
		}
		c := &Cut{Before: before, After: after}
		c.bites(removed)
		return c.Depth
	}
	near(t, "notch", depth(notch), 15.5, 1e-3)
	// The same aslant: rounding lets the mouth's corners miss the old edge, and a spike without width runs along it.
	for _, angle := range []float64{0.3, 1.1, 2.5} {
		before = turnedTo(corners(0, 0, 60, 0, 60, 17.5, 0, 17.5), r2.Point{}, angle)
		near(t, fmt.Sprintf("notch at %g", angle), depth(turnedTo(notch, r2.Point{}, angle)), 15.5, 1e-3)
	}
	before = corners(0, 0, 60, 0, 60, 17.5, 0, 17.5)
	near(t, "tip", depth(corners(0, 0, 48, 0, 48, 17.5, 0, 17.5)), 12, 1e-3)
	near(t, "edge", depth(corners(0, 3, 60, 3, 60, 17.5, 0, 17.5)), 3, 1e-3)
}

// A spike of no width that runs 33 mm along an old edge is no depth: that a cut tapers to nothing, or comes off a
// slanted edge, lets the polygon library leave one.
func TestSpikeIsNoDepth(t *testing.T) {
	before, after := planar.NearRing(corners(0, 0, 60, 0, 60, 20, 0, 20)), planar.NearRing(corners(0, 0, 50, 0, 50, 4, 60, 4, 60, 20, 0, 20))
	b := Bite{Rings: [][]r2.Point{corners(50, 0, 60, 0, 60, 4, 50, 4, 50, 0, 17, 0)}}
	b.measure(before, after)
	near(t, "depth", b.Depth, 4, 1e-3) // a corner of 10 by 4
}

// The wall of a bore is that of a pin's hole: EN 1993-1-8:2005, table 3.9, type B, 1.6 diameters from the centre (figure read, that it is
// counted from the centre: memory), so 1.1 from the edge; never under 5 mm (common practice).
func TestLeastWall(t *testing.T) {
	for bore, want := range map[float64]float64{20: 22, 16: 17.6, 5: 5.5, 4: 5} {
		near(t, "wall", LeastWall(&setup.Part{Bore: bore}), want, 1e-9)
	}
}

// A plate square to a tilted kingpin meets a tyre-like disc as an upright one does: what turns with the
// spindle keeps its section. Here a ball of radius R (a rod end would do) at height h over the plate's upper face
// cuts a circle of radius √(R² - h²) into the plane (derived).
func TestSectionOfBallAbovePlate(t *testing.T) {
	const d, ball, gap, h = 60.0, 9.0, 2.0, 4.0
	start, turn := 16*s1.Degree, 38*s1.Degree
	x, y := -d*math.Sin(float64(start)), d*math.Cos(float64(start))
	const up = 140.0 // above ground: 10 above the kingpin centre, where the ball's middle is
	text := fmt.Sprintf(kart, 0, 0, gap,
		part("lug", "spindle", "grind = true\n"+plateOf(corners(0, 20, 80, 20, 80, 110, 0, 110), -10, 10-h))+
			part("ball", "frame", fmt.Sprintf("mirror = true\ntube = { diameter = %v, path = [[%v, %v, %v], [%v, %v, %v]] }", 2*ball, x, 320+y, up, x, 320+y, up+0.002)))
	m := model(t, text)
	c, err := cutTo(leftPlate(t, m, "lug"), atSpindle(t, m, turn), gap, fine())
	if err != nil {
		t.Fatal(err)
	}
	theta, r := float64(turn-start), math.Sqrt((ball+gap)*(ball+gap)-h*h)
	near(t, "area", c.Area, 2*d*r*theta+math.Pi*r*r/2, share()*c.Area)
}

// What passes over the plate without touching is left to pass.
func TestPassingOverNeedsNoCut(t *testing.T) {
	text := fmt.Sprintf(kart, 0, 0, 5,
		part("lug", "spindle", "grind = true\n"+plateOf(corners(0, 20, 80, 20, 80, 110, 0, 110), -10, 10))+
			part("ear", "frame", "at = \"kingpin\"\n"+plateOf(corners(-20, 20, -20, 60, -40, 60, -40, 20), 12, 20)))
	m := model(t, text)
	c, err := cutTo(leftPlate(t, m, "lug"), atSpindle(t, m, 38*s1.Degree), 5, DefaultChord)
	if err != nil || c.Area != 0 {
		t.Errorf("got %.6g mm² to take off (%v), want none: the ear passes 2 mm above", c.Area, err)
	}
}

// cutTo cuts a plate for a turn to the left, everything passing by the same gap.
func cutTo(p *plate, left s1.Angle, gap, chord float64) (*Cut, error) {
	return p.cut([2]s1.Angle{left, 0}, func(int, sweep.Direction) float64 { return gap }, chord)
}
