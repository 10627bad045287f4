package setup_test

import (
	"testing"

	"github.com/golang/geo/r3"

	"locksweep/fixtures/example"
	"locksweep/geometry/setup"
)

// TestPlaces: named points stand where the file has them, worked out by hand from its figures.
func TestPlaces(t *testing.T) {
	kart := example.Read(t, "shed-kart")
	// spacing 620, height 128, offset 118; pickup [-98, -14] on the arm's hole "outer"; column foot [-60, 0, 130].
	for _, c := range []struct {
		name string
		want r3.Vector // z left out where it follows from a lean
		on   setup.Body
	}{
		{"left kingpin", r3.Vector{Y: 310, Z: 128}, setup.OnFrame},
		{"right kingpin", r3.Vector{Y: -310, Z: 128}, setup.OnFrame},
		{"left tyre", r3.Vector{Y: 428, Z: 128}, setup.OnSpindle},
		{"right rear tyre", r3.Vector{X: -860, Y: -530, Z: 139}, setup.OnFrame},
		{"foot", r3.Vector{X: -60, Z: 130}, setup.OnFrame},
		{"right side rail[1]", r3.Vector{X: -520, Y: -330, Z: 50}, setup.OnFrame},
		{"front hoop[1]", r3.Vector{X: 110, Y: 205, Z: 62}, setup.OnFrame},
	} {
		p, ok := kart.Place(c.name)
		if !ok {
			t.Errorf("no point %q", c.name)
			continue
		}
		at, ok := p.At(kart)
		if at.Sub(c.want).Norm() > 1e-9 || !ok || p.On != c.on {
			t.Errorf("%s at %v on %v, want %v on %v", c.name, at, p.On, c.want, c.on)
		}
	}
	for _, same := range [][2]string{{"left pickup", "left arm outer"}, {"right pickup", "right arm outer"}, {"left pin", "drop arm left"}} {
		a, _ := kart.Place(same[0])
		b, ok := kart.Place(same[1])
		moved := kart.Clone()
		moved.Corners[setup.Left].Arm.Pickup.X += 5
		moved.Corners[setup.Right].Arm.Pickup.Y += 5
		moved.DropArm.Pins[setup.Left].X += 5
		at, _ := a.At(moved)
		if beside, _ := b.At(moved); !ok || at != beside {
			t.Errorf("%s at %v and %s at %v are one hole", same[0], at, same[1], beside)
		}
	}
	if p, _ := kart.Place("right pickup"); p.On != setup.OnSpindle || p.Side != setup.Right {
		t.Errorf("the right pickup is on %v %v", p.Side, p.On)
	}
}

// TestPlacesOfLinkages: a drag link has its own ball and one pin, a rack its two inner balls and no column.
func TestPlacesOfLinkages(t *testing.T) {
	for name, want := range map[string]map[string]bool{
		"beam-cyclekart": {"pin": true, "left pin": false, "drag link pickup": true, "foot": true, "cable clip[0]": false},
		"rack-buggy":     {"left pin": true, "right pin": true, "foot": false, "pin": false},
		"shed-kart":      {"left pin": true, "pin": false, "drag link pickup": false, "left floor tray[0]": false, "column tube[1]": true},
	} {
		s := example.Read(t, name)
		for place, there := range want {
			if _, ok := s.Place(place); ok != there {
				t.Errorf("%s has %q: %v, want %v", name, place, ok, there)
			}
		}
	}
	one := example.Read(t, "shed-kart", "drop_arm.left=", "drop_arm.right=", "drop_arm.pin=[64, 0, 8]")
	if _, ok := one.Place("pin"); !ok {
		t.Error("one hole for both rods is the pin")
	}
}

// TestBeforeChange: what the file gives is kept beside what [change] makes of it.
func TestBeforeChange(t *testing.T) {
	s := example.Read(t, "shed-kart", "change.narrow=40")
	if s.Before == nil || s.Before.Spacing != 620 || s.Spacing != 580 || s.Made.Narrow != 40 {
		t.Errorf("before %v, after %g", s.Before, s.Spacing)
	}
	again := s.Before.Clone()
	s.Made.Apply(again)
	if again.Spacing != s.Spacing || again.Corners[0].Arm.Pickup != s.Corners[0].Arm.Pickup {
		t.Error("made again the change gives another setup")
	}
	if example.Read(t, "shed-kart").Before != nil {
		t.Error("a setup that nothing changes has one before it")
	}
}

// TestPlacesOfPartsAreOfTheirSide: of two parts of one name each has its own, a disc its centre and a tube its points.
func TestPlacesOfPartsAreOfTheirSide(t *testing.T) {
	s := example.Read(t, "shed-kart")
	left, right, end := r3.Vector{X: -40, Y: 10, Z: 30}, r3.Vector{X: -55, Y: 12, Z: 31}, r3.Vector{X: -80, Y: 20, Z: 5}
	s.Parts = []setup.Part{
		{Name: "bush", On: setup.OnSpindle, Sides: [2]bool{setup.Left: true}, Disc: &setup.Disc{Centre: left}},
		{Name: "bush", On: setup.OnSpindle, Sides: [2]bool{setup.Right: true}, Tube: &setup.Tube{Path: []r3.Vector{right, end}}},
	}
	for name, want := range map[string]r3.Vector{
		"left bush": s.CornerPoint(setup.Left, left), "right bush[0]": s.CornerPoint(setup.Right, right), "right bush[1]": s.CornerPoint(setup.Right, end),
	} {
		p, found := s.Place(name)
		if !found {
			t.Errorf("no place %q", name)
			continue
		}
		if at, ok := p.At(s); !ok || at.Sub(want).Norm() > 1e-12 {
			t.Errorf("%s is at %v (%v), want %v", name, at, ok, want)
		}
	}
	if _, found := s.Place("right bush"); found {
		t.Error("a tube has a place of its own name")
	}
}
