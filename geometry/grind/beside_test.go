package grind

import (
	"fmt"
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"locksweep/fixtures/trial"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

var lugOutline = corners(20, 10, 10, 20, -14, 18, -41, -44.6, -27.9, -53.7, -10.7, -29.2, 20, -14)

// tipped is a kart whose lug comes at a stop plate with its tip: the face of a cut is met by the tip's side, and beside it the tip's end
// passes metal on the way there.
func tipped(more string) string {
	plate := corners(0, -34, 30, -34, 30, -64, -6, -64)
	return fmt.Sprintf(kart, 0, 0, 5, part("lug plate", "spindle", plateOf(lugOutline, 20, 28))+
		part("stop plate", "frame", "at = \"kingpin\"\nstop = true\ngrind = true\n"+plateOf(plate, 19, 29)+"\n"+more))
}

const besideKeep = "keep = [[0, -64], [30, -64], [30, -61], [0, -61]]"

// ground is a plan for a lock of the inner wheel, in degrees, with its cut of the left plate.
func ground(t *testing.T, more string, lock float64) (*Plan, *Cut) {
	t.Helper()
	p, err := Make(model(t, tipped(more)), Target{Measure: BySteer, Angle: s1.Angle(lock) * s1.Degree}, Options{Clearance: math.NaN()})
	if err != nil || len(p.Cuts) != 2 {
		t.Fatalf("lock %v: %v", lock, err)
	}
	return p, p.Cuts[0]
}

// besideGap is how near the lug comes, as it turns to an angle, to metal beyond its reach: by points of the outline and of the turned lug.
func besideGap(outline []r2.Point, to float64) float64 {
	const reach = 60.6 // of the lug from the kingpin
	gap := math.Inf(1)
	for at := 0.0; at <= to; at += 0.005 {
		lug := turnedTo(lugOutline, r2.Point{}, at)
		for i, a := range outline {
			b := outline[(i+1)%len(outline)]
			for k := range 20 {
				q := a.Add(b.Sub(a).Mul(float64(k) / 20))
				for j, c := range lug {
					along := lug[(j+1)%len(lug)].Sub(c)
					on := c.Add(along.Mul(min(max(q.Sub(c).Dot(along)/along.Dot(along), 0), 1)))
					if q.Norm() > reach+0.1 {
						gap = min(gap, q.Sub(on).Norm())
					}
				}
			}
		}
	}
	return gap
}

// unheld counts of eight karts, the lug of each as far off as outlines may be, those that no metal stops as the plan has it.
func unheld(t *testing.T, p *Plan) (count int) {
	t.Helper()
	off := p.After.Setup.Accuracy.Outline
	for _, by := range []r2.Point{{X: off}, {X: -off}, {Y: off}, {Y: -off}, {X: off, Y: off}, {X: off, Y: -off}, {X: -off, Y: off}, {X: -off, Y: -off}} {
		s := p.After.Setup.Clone()
		for i := range s.Parts {
			for k := range s.Parts[i].Plate.Outline {
				if s.Parts[i].Name == "lug plate" {
					s.Parts[i].Plate.Outline[k] = s.Parts[i].Plate.Outline[k].Add(by)
				}
			}
		}
		m, err := sweep.New(s)
		if err != nil {
			t.Fatal(err)
		}
		lock := m.Lock(sweep.ToLeft)
		stopping := m.Stopping(&lock)
		if stopping.Stop == nil || (lock.Column-p.Locks[sweep.ToLeft].Column).Abs() > 8*s1.Degree {
			count++
		}
	}
	return count
}

// Until the face is as near as the room beside it, what is stopped stands off all other metal by that room, and with its outline off by its
// accuracy any way the face still stops it.
func TestMetalBesideTheFaceStandsOff(t *testing.T) {
	for lock := 25.0; lock <= 31; lock += trial.Every(6.0, 1) {
		p, c := ground(t, "", lock)
		if c.Catches {
			t.Errorf("lock %v: it may catch", lock)
		}
		room := 1.96 * math.Sqrt(2.0/3) // outlines of both to 1 mm, evenly (derived)
		first := p.Locks[sweep.ToLeft].First()
		pose, _ := p.After.Linkage.Pose(first.Column)
		lever := math.Hypot(first.Point.X, first.Point.Y-320)
		if gap := besideGap(c.After, float64(pose.Sides[setup.Left].Spindle)-room/lever); gap < room-0.02 || gap > room+0.5 {
			t.Errorf("lock %v: %.2f mm apart on the way to the face, want %.2f", lock, gap, room)
		}
		if n := unheld(t, p); n > 0 {
			t.Errorf("lock %v: %d of 8 karts are not stopped by the face", lock, n)
		}
	}
}

// Where that metal must be kept, it is told that it may catch there; and so it does in some karts.
func TestMetalBesideTheFaceThatIsKept(t *testing.T) {
	p, c := ground(t, besideKeep, 31)
	if !c.Catches || !p.Cuts[1].Catches {
		t.Error("it is not told that it may catch")
	}
	if n := unheld(t, p); n == 0 {
		t.Error("it catches in none of the karts")
	}
	if _, c := ground(t, besideKeep, 25); c.Catches {
		t.Error("at 25° nothing is kept beside the face")
	}
}
