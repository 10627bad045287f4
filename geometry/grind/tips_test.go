package grind

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/golang/geo/r2"

	"locksweep/geometry/planar"
	"locksweep/geometry/region"
	"locksweep/geometry/sweep"
)

// Which metal that a cut leaves is a tip: by hand, from the radius of 1.5 mm that goes into a corner no nearer than 1.5/sin of half its angle.
func TestThinMetalThatACutLeaves(t *testing.T) {
	plain := corners(0, 0, 40, 0, 40, 20, 0, 20)
	for _, c := range []struct {
		name          string
		before, after []r2.Point
		least         float64 // width of a stop
		at            []r2.Point
	}{
		{"a square corner", plain, corners(0, 0, 40, 0, 40, 10, 20, 10, 20, 20, 0, 20), 6, nil},
		{"a hook 2 wide round a notch", plain, corners(0, 0, 40, 0, 40, 20, 38, 20, 38, 8, 30, 8, 30, 20, 0, 20), 6, corners(40, 20)},
		{"the same, where a stop may be 3 wide", plain, corners(0, 0, 40, 0, 40, 20, 38, 20, 38, 8, 30, 8, 30, 20, 0, 20), 3, nil},
		{"a hook 4 wide", plain, corners(0, 0, 40, 0, 40, 20, 36, 20, 36, 8, 30, 8, 30, 20, 0, 20), 6, nil},
		{"a wedge of 45 degrees", plain, corners(0, 0, 40, 0, 20, 20, 0, 20), 6, corners(40, 0)},
		{"a wedge of 70 degrees", plain, corners(0, 0, 40, 0, 40-20/2.747, 20, 0, 20), 6, nil},
		{"a hook that was there before", corners(0, 0, 40, 0, 40, 20, 38, 20, 38, 8, 30, 8, 30, 20, 0, 20), corners(0, 5, 40, 5, 40, 20, 38, 20, 38, 8, 30, 8, 30, 20, 0, 20), 6, nil},
		{"one that was there, made longer", corners(0, 0, 40, 0, 40, 20, 38, 20, 38, 15, 30, 15, 30, 20, 0, 20), corners(0, 0, 40, 0, 40, 20, 38, 20, 38, 8, 30, 8, 30, 20, 0, 20), 6, corners(40, 20)},
		{"a chip", plain, corners(0, 0, 40, 0, 40, 20, 0.2, 20, 0, 19.8), 6, nil},
	} {
		cut := &Cut{Before: c.before, After: c.after, LeastWide: c.least}
		tips, err := cut.tips()
		if err != nil || len(tips) != len(c.at) {
			t.Errorf("%s: %d tips (%v), want %d", c.name, len(tips), err, len(c.at))
			continue
		}
		for i, tip := range tips {
			if d := tip.at.Sub(c.at[i]).Norm(); d > 2.1 { // either end of a blunt tip
				t.Errorf("%s: at %v, want %v", c.name, tip.at, c.at[i])
			}
		}
	}
}

// hooked is a lug whose cut for the block, past which it turns, would leave a hook beyond the block.
func hooked(rest string) string {
	lug := part("lug", "spindle", "grind = true\n"+rest+"\n"+plateOf(corners(-62, -16, -40, -24, 14, -14, 14, 14, -40, 10, -64, 4), -10, 10))
	return lug + part("web", "frame", "at = \"kingpin\"\n"+plateOf(corners(-50, -60, -10, -60, -10, -32, -50, -32), -30, 30))
}

// Tips go with the cut where the stop stays as it is; where what must be kept hangs on them they stay and are told.
func TestTipsGoWithTheCut(t *testing.T) {
	for _, c := range []struct {
		name, text string
		off, stay  int // of the left lug
	}{
		{"a hook", hooked(""), 1, 0},
		{"a hook that a keep outline runs into", hooked("keep = [[-63.7, 3], [-63.4, 0], [-63.2, 0], [-63.2, 3]]\nmin_wall = 0.1"), 0, 1},
		{"no hook", lug("") + web, 0, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, err := Make(model(t, fmt.Sprintf(kart, 8, 10, 3, c.text)), to(35), plain)
			if err != nil {
				t.Fatal(err)
			}
			holdsAt(t, p, 35)
			cut := p.Cuts[0]
			off, stay := 0, 0
			for _, tip := range cut.Tips {
				inside := planar.Inside(cut.After, tip.At) || first(planar.NearRing(cut.After).To(tip.At)) < onLine
				if tip.Off {
					off++
				} else {
					stay++
				}
				if inside == tip.Off {
					t.Errorf("tip %v: in the finished outline: %v", tip, inside)
				}
				if at := slices.ContainsFunc(cut.Bites, func(b Bite) bool { return b.Tip }); at != tip.Off {
					t.Errorf("a bite with it: %v", at)
				}
			}
			if off != c.off || stay != c.stay {
				t.Errorf("%d tips go and %d stay (%v), want %d and %d; outline %v", off, stay, cut.Tips, c.off, c.stay, points(cut.After))
			}
			left, err := cut.tips()
			if err != nil || len(left) != c.stay {
				t.Errorf("%d tips are left (%v)", len(left), err)
			}
			whole := region.Of(cut.Before).Area()
			near(t, "removed and kept", cut.Area+region.Of(cut.After).Area(), whole, 1e-6*whole)
			if p.Lock(sweep.ToLeft, true).Degrees() > 35.05 || math.IsNaN(cut.Width) {
				t.Errorf("lock %v, %g wide", p.Lock(sweep.ToLeft, true), cut.Width)
			}
		})
	}
}
