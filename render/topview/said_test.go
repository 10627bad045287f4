package topview

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/golang/geo/s1"

	"locksweep/fixtures/example"
	"locksweep/geometry/sweep"
	"locksweep/render/sheet"
)

func TestFarTurnCentreIsSaidWithItsDistance(t *testing.T) {
	small := 3 * s1.Degree
	r := swept(t, example.Read(t, "field-buggy"))
	drawing := sound(t, "buggy at 3°", r, Options{Options: sheet.Options{Paper: sheet.A4}, Pose: &small})
	p, _ := r.Pose(small)
	if want := fmt.Sprintf("turn centre %.0f mm", 10*math.Round(math.Abs(p.Turn.Centre.Y)/10)); !drawing.says(want) {
		t.Errorf("does not say %q", want)
	}
}

// TestWrongWayIsLoud: arms swapped to the front with the drop arm left hanging.
func TestWrongWayIsLoud(t *testing.T) {
	s := example.Read(t, "pedal-quad", `drop_arm={pin=[58,0,10]}`, "column.foot=[62,0,290]")
	s.Parts = nil
	r := swept(t, s)
	drawing := sound(t, "quad with a hanging drop arm", r, Options{Options: sheet.Options{Paper: sheet.A4}})
	if len(drawing.texts) == 0 || !strings.HasPrefix(drawing.texts[0], "!!! STEERS BACKWARDS") {
		t.Fatalf("the sheet begins with %q", drawing.texts[0])
	}
	if c := drawing.colours[drawing.texts[0]]; c == "" || c == "#000000" {
		t.Errorf("said in colour %q, want red", c)
	}
}

// TestStuckStraightAhead: no lock to either side, and all limits in one place on the strip.
func TestStuckStraightAhead(t *testing.T) {
	r := swept(t, example.Read(t, "shed-kart", "tie_rod.rod_end={tilt=0.5}"))
	if r.Locks[sweep.ToLeft].Column != 0 {
		t.Fatalf("turns to %v, the test wants a setup that does not turn", r.Locks[sweep.ToLeft].Column)
	}
	drawing := sound(t, "stuck kart", r, Options{Options: sheet.Options{Paper: sheet.A4}})
	if !strings.HasPrefix(drawing.texts[0], "!!! STUCK STRAIGHT AHEAD") {
		t.Errorf("the sheet begins with %q", drawing.texts[0])
	}
}

// TestTouchingIsMarked: what touches straight ahead has a mark in the drawing, and the lock is called "at most".
func TestTouchingIsMarked(t *testing.T) {
	r := swept(t, example.Read(t, "shed-kart", "wheel.tyre_width=260"))
	for _, paper := range []sheet.Size{sheet.A4, sheet.A4.Landscape(), sheet.Letter} {
		drawing := sound(t, "wide tyres", r, Options{Options: sheet.Options{Paper: paper}})
		if !strings.HasPrefix(drawing.texts[0], "!!! TOUCHING STRAIGHT AHEAD") {
			t.Errorf("%s: the sheet begins with %q", paper.Name, drawing.texts[0])
		}
		for _, tag := range []string{"T1", "T2", "T3"} {
			if !slices.Contains(drawing.texts, tag) {
				t.Errorf("%s: no %s", paper.Name, tag)
			}
		}
	}
}

func TestPastTheLockIsSaid(t *testing.T) {
	r := swept(t, example.Read(t, "shed-kart"))
	past := r.Locks[sweep.ToRight].Column * 1.1
	drawing := sound(t, "past the lock", r, Options{Options: sheet.Options{Paper: sheet.A4}, Pose: &past})
	if !drawing.says("PAST THE RIGHT LOCK") || !drawing.says("R1") {
		t.Errorf("says nothing of the contact that it is past: %q", drawing.texts[:3])
	}
}

func TestPoseOutOfReachAndScaleTooLarge(t *testing.T) {
	far := 90 * s1.Degree // the cyclekart has a dead point at about 60
	if _, err := Sheet(swept(t, example.Read(t, "cyclekart")), Options{Options: sheet.Options{Paper: sheet.A4}, Pose: &far}); err == nil || !strings.Contains(err.Error(), "does not reach 90.0°") ||
		!strings.Contains(err.Error(), "59.8°, the dead point of the left tie rod") {
		t.Errorf("pose out of reach: %v", err)
	}
	r := swept(t, example.Read(t, "shed-kart"))
	if _, err := Sheet(r, Options{Options: sheet.Options{Paper: sheet.A4}, Scale: 1}); err == nil || !strings.Contains(err.Error(), "smaller scale") {
		t.Errorf("scale too large: %v", err)
	}
	s, err := Sheet(r, Options{Options: sheet.Options{Paper: sheet.A4}, Scale: 0.05})
	if err != nil || s.Scale != 0.05 {
		t.Errorf("scale 1:20 asked for: %v, %v", s.Scale, err)
	}
}
