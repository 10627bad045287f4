package grind

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"locksweep/geometry/sweep"
)

// A square plate turns on an upright kingpin before the straight face of a web, 36 mm behind it. A corner at [x, y] that is turned by an angle
// t towards the face reaches x sin t + y cos t, so the stop's corner loses that less 36, and the one that is only to clear loses the clearance
// more (derived).
func TestStopAndClearanceAreToldApart(t *testing.T) {
	const long, wide, face = 35.0, 22.0, 36.0
	plate := []r2.Point{{X: long, Y: -wide}, {X: long, Y: wide}, {X: -long, Y: wide}, {X: -long, Y: -wide}}
	web := []r2.Point{{X: -30, Y: -70}, {X: 30, Y: -70}, {X: 30, Y: -face}, {X: -30, Y: -face}}
	for _, clearance := range []float64{5, 0} {
		p := planFor(t, fmt.Sprintf(kart, 0, 0, clearance, part("plate", "spindle", "grind = true\n"+plateOf(plate, -8, 8))+
			part("web", "frame", "at = \"kingpin\"\n"+plateOf(web, -14, 14))), 33)
		if len(p.Cuts) != 2 {
			t.Fatalf("%d cuts", len(p.Cuts))
		}
		for _, c := range p.Cuts {
			side := p.Model.Scene.Pieces[c.Piece].Side
			stops := sweep.Direction(side) // the plate inside the turn, which turns further here, is stopped by its rear corner
			if c.Stops != [2]bool{stops == sweep.ToLeft, stops == sweep.ToRight} {
				t.Fatalf("clearance %g: %v is the stop %v", clearance, side, c.Stops)
			}
			loses := func(d sweep.Direction, gap float64) float64 {
				pose, _ := p.Model.Linkage.Pose(p.ends[d])
				turned := math.Abs(float64(pose.Sides[side].Spindle))
				return long*math.Sin(turned) + wide*math.Cos(turned) - face + gap
			}
			atStop, toClear := loses(stops, leastGap), loses(1-stops, math.Max(clearance, leastGap))
			if math.Abs(c.StopDepth[stops]-atStop) > 0.01 || !math.IsNaN(c.StopDepth[1-stops]) {
				t.Errorf("clearance %g: %v is %v deep at the stop, want %.3f turned %v", clearance, side, c.StopDepth, atStop, stops)
			}
			bites := 2
			if toClear < 0 { // that corner passes as it is
				bites = 1
			}
			if len(c.Bites) != bites {
				t.Fatalf("clearance %g: %d bites, want %d", clearance, len(c.Bites), bites)
			}
			for _, b := range c.Bites {
				if b.Stops[1-stops] || b.Towards[1] != -1 {
					t.Errorf("bite %+v", b)
				}
				want, front := toClear, 1
				if b.Stops[stops] {
					want, front = atStop, -1
				}
				if math.Abs(b.Depth-want) > 0.01 || b.Towards[0] != front || b.Stops[stops] == (len(b.Clears) > 0) {
					t.Errorf("clearance %g: bite %.3f deep at %v, stop %v, clears %v; want %.3f at the %+d end", clearance, b.Depth, b.Towards, b.Stops, b.Clears, want, front)
				}
			}
			if !slices.ContainsFunc(p.Curve, func(s Step) bool {
				return math.Abs(s.Depth-c.StopDepth[stops]) <= curveChord && (s.Lock[stops]-p.Lock(stops, true)).Abs() < over
			}) {
				t.Errorf("clearance %g: no row of the curve has the depth at the stop, %.3f: %v", clearance, c.StopDepth[stops], p.Curve)
			}
		}
		for _, d := range sweep.Directions {
			if p.Stops[d].Spare != nil { // the wheel outside never turns so far that its plate would touch
				t.Errorf("clearance %g: second stop taken away turned %v", clearance, d)
			}
		}
	}
}

// The bites of a plate lie in the outer thirds of its box or between them.
func TestWhereABiteLies(t *testing.T) {
	box := r2.RectFromPoints(r2.Point{X: -30, Y: 0}, r2.Point{X: 60, Y: 30})
	for at, want := range map[r2.Point][2]int{
		{X: 58, Y: 1}: {1, -1}, {X: -28, Y: 29}: {-1, 1}, {X: 15, Y: 15}: {0, 0}, {X: 15, Y: 29}: {0, 1}, {X: 29, Y: 9}: {0, -1}, {X: 31, Y: 11}: {1, 0},
	} {
		b := Bite{At: [2]r2.Point{at, at}}
		if b.towards(box); b.Towards != want {
			t.Errorf("%v lies towards %v, want %v", at, b.Towards, want)
		}
	}
}

// What touches next is doubtful where it comes no later than the lock may be off; where that is not known, than 3° (common practice, no source).
func TestWhatMayTouchFirst(t *testing.T) {
	unknown := s1.Angle(math.NaN())
	for _, c := range []struct {
		margin, by s1.Angle
		next, want bool
	}{
		{2.8 * s1.Degree, 5 * s1.Degree, true, true}, {2.8 * s1.Degree, 2 * s1.Degree, true, false}, {2 * s1.Degree, 2 * s1.Degree, true, true},
		{2.8 * s1.Degree, unknown, true, true}, {3.2 * s1.Degree, unknown, true, false}, {1 * s1.Degree, 5 * s1.Degree, false, false},
	} {
		s := Stop{Margin: c.margin, PlusMinus: c.by}
		if c.next {
			s.Next = &sweep.Limit{}
		}
		if s.Doubtful() != c.want {
			t.Errorf("%v later, off by %v: doubtful %t", c.margin, c.by, s.Doubtful())
		}
	}
}

func planFor(t *testing.T, text string, lock float64) *Plan {
	t.Helper()
	p, err := Make(model(t, text), Target{Measure: BySteer, Angle: s1.Angle(lock) * s1.Degree}, Options{Clearance: math.NaN()})
	if err != nil {
		t.Fatal(err)
	}
	return p
}
