package grind

import (
	"fmt"
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"locksweep/geometry/sweep"
)

// A pad that slides exactly on a face of the plate stops a sweep, so it takes as much metal as one that reaches
// between the faces (area as in TestPadAgainstStraightEdge, derived); a hair above the face it does neither.
func TestWhatSlidesOnAFaceIsContactInSweepAndGrind(t *testing.T) {
	const near1, far = 40.0, 62.0
	start, turn := 12*s1.Degree, 37*s1.Degree
	theta := float64(turn - start)
	long := far*math.Tan(theta) + 5
	for _, c := range []struct {
		low, high float64
		touches   bool
	}{{10, 20, true}, {-20, -10, true}, {10.0001, 20, false}, {-20, -10.0001, false}} {
		text := fmt.Sprintf(kart, 0, 0, 0,
			part("lug", "spindle", "grind = true\n"+plateOf(corners(0, 20, 80, 20, 80, 110, 0, 110), -10, 10))+
				part("pad", "frame", "at = \"kingpin\"\n"+plateOf(turnedTo(corners(0, near1, 0, far, -long, far, -long, near1), r2.Point{}, float64(start)), c.low, c.high)))
		m := model(t, text)
		lock := m.Lock(sweep.ToLeft)
		stops := false
		for i := range lock.Chain {
			if l := &lock.Chain[i]; l.Kind == sweep.Contact && m.Scene.Pieces[l.Pair[0]].Name+m.Scene.Pieces[l.Pair[1]].Name == "lugpad" {
				stops = true
				pose, _ := m.Pose(l.Column)
				near(t, "spindle at contact", pose.Sides[0].Spindle.Degrees(), start.Degrees(), 1e-3)
			}
		}
		p := leftPlate(t, m, "lug")
		cut, err := cutTo(p, atSpindle(t, m, turn), 0, fine())
		if err != nil {
			t.Fatal(err)
		}
		if cut != nil && cut.Area == 0 {
			cut = nil
		}
		if stops != c.touches || (cut != nil) != c.touches {
			t.Errorf("pad from %v to %v: the sweep stops %v, grind cuts %v, want %v", c.low, c.high, stops, cut != nil, c.touches)
		}
		if cut != nil {
			near(t, "area", cut.Area, (far*far*math.Tan(theta)-near1*near1*theta)/2, share()*cut.Area)
		}
	}
}
