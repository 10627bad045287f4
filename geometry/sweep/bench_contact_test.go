package sweep_test

import (
	"fmt"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// benchKart is a kart with caster, arms behind the kingpins and a hanging drop arm, all arms of given
// outline.
func benchKart() *setup.Setup {
	corner := setup.Corner{
		Kingpin: setup.Kingpin{Height: 130, Inclination: 10 * s1.Degree, Caster: 11 * s1.Degree},
		Wheel:   setup.Wheel{Offset: 120, Tyre: setup.Tyre{Diameter: 256, Width: 128, Shoulder: 16}},
		Arm: setup.Arm{Pickup: r3.Vector{X: -98, Y: -16}, Metal: setup.Metal{
			Outline: []r2.Point{{X: 20, Y: 15}, {X: -20, Y: 14}, {X: -110, Y: 0}, {X: -110, Y: -30}, {X: -24, Y: -17}, {X: 20, Y: -15}},
			Lower:   -5, Upper: 5,
		}},
		Rod: setup.Rod{Diameter: 14, End: setup.RodEnd{Tilt: 24 * s1.Degree, Eye: 22}},
	}
	s := &setup.Setup{Name: "bench kart", Spacing: 620, Corners: [2]setup.Corner{corner, corner}}
	s.Vehicle = setup.Vehicle{Wheelbase: 900, RearTrack: 1080, RearTyre: setup.Tyre{Diameter: 278, Width: 180}}
	s.Limits = setup.Limits{Clearance: setup.DefaultClearance, Transmission: setup.DefaultTransmission}
	s.Column = setup.Column{Foot: r3.Vector{X: -62, Z: 132}, Rake: 38 * s1.Degree}
	s.DropArm.Pins = [2]r3.Vector{{X: 64, Y: 12, Z: 8}, {X: 64, Y: -12, Z: 8}}
	s.DropArm.Metal = setup.Metal{
		Outline: []r2.Point{{X: -16, Y: -14}, {X: 54, Y: -26}, {X: 76, Y: -24}, {X: 76, Y: 24}, {X: 54, Y: 26}, {X: -16, Y: 14}},
		Lower:   -3, Upper: 3,
	}
	return s
}

var bothSides = [2]bool{true, true}

// tube is a frame part: a round bar along points.
func tube(name string, sides [2]bool, diameter float64, path ...r3.Vector) setup.Part {
	return setup.Part{Name: name, Sides: sides, Tube: &setup.Tube{Diameter: diameter, Path: path}}
}

// rectangle is a plate's outline.
func rectangle(x0, y0, x1, y1 float64) []r2.Point {
	return []r2.Point{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}}
}

// frameParts are the 20 parts that a builder would measure about the front axle of a kart.
func frameParts() []setup.Part {
	atKingpin := func(name string, outline []r2.Point, low, high float64) setup.Part {
		return setup.Part{Name: name, Sides: bothSides, AtKingpin: true, Plate: &setup.Plate{Outline: outline, Lower: low, Upper: high}}
	}
	onSpindle := func(name string, p setup.Part) setup.Part {
		p.Name, p.On, p.Sides = name, setup.OnSpindle, bothSides
		return p
	}
	ear := []r2.Point{{X: -18, Y: -62}, {X: 18, Y: -62}, {X: 18, Y: 8}, {X: 9, Y: 18}, {X: -9, Y: 18}, {X: -18, Y: 8}}
	lug := []r2.Point{{X: 14, Y: -12}, {X: 14, Y: 14}, {X: -8, Y: 16}, {X: -30, Y: -6}, {X: -60, Y: -28}, {X: -52, Y: -42}, {X: -12, Y: -12}}
	return []setup.Part{
		tube("side rail", bothSides, 30, r3.Vector{X: -900, Y: 330, Z: 50}, r3.Vector{X: -520, Y: 330, Z: 50}, r3.Vector{X: -240, Y: 228, Z: 50}, r3.Vector{X: -40, Y: 228, Z: 62}),
		tube("front hoop", [2]bool{}, 28, r3.Vector{X: -40, Y: 228, Z: 62}, r3.Vector{X: 110, Y: 205, Z: 62}, r3.Vector{X: 150, Y: 165, Z: 62}, r3.Vector{X: 150, Y: -165, Z: 62}, r3.Vector{X: 110, Y: -205, Z: 62}, r3.Vector{X: -40, Y: -228, Z: 62}),
		{Name: "floor tray", Plate: &setup.Plate{Outline: []r2.Point{{X: -500, Y: -215}, {X: 120, Y: -195}, {X: 120, Y: 195}, {X: -500, Y: 215}}, Lower: 30, Upper: 33}},
		atKingpin("upper ear", ear, 28, 36),
		atKingpin("lower ear", ear, -36, -28),
		atKingpin("yoke web", rectangle(-18, -62, 18, -52), -36, 36),
		onSpindle("stop lug", setup.Part{Plate: &setup.Plate{Outline: lug, Lower: 8, Upper: 20}}),
		onSpindle("brake disc", setup.Part{Disc: &setup.Disc{Centre: r3.Vector{Y: 38}, Diameter: 150, Width: 5}}),
		onSpindle("stub axle", setup.Part{Tube: &setup.Tube{Diameter: 17, Path: []r3.Vector{{Y: 10}, {Y: 200}}}}),
		{Name: "column tube", On: setup.OnColumn, Tube: &setup.Tube{Diameter: 20, Path: []r3.Vector{{Z: 14}, {Z: 560}}}},
		tube("column bush", [2]bool{}, 22, r3.Vector{X: -30, Y: -80, Z: 62}, r3.Vector{X: -46, Y: -40, Z: 118}),
		tube("cross tube", [2]bool{}, 28, r3.Vector{X: -240, Y: 228, Z: 50}, r3.Vector{X: -240, Y: -228, Z: 50}),
		tube("bumper", [2]bool{}, 18, r3.Vector{X: 100, Y: 300, Z: 120}, r3.Vector{X: 230, Y: 200, Z: 120}, r3.Vector{X: 230, Y: -200, Z: 120}, r3.Vector{X: 100, Y: -300, Z: 120}),
		tube("bumper stay", bothSides, 14, r3.Vector{X: 150, Y: 100, Z: 62}, r3.Vector{X: 230, Y: 100, Z: 120}),
		tube("side pod", bothSides, 18, r3.Vector{X: -700, Y: 420, Z: 80}, r3.Vector{X: -330, Y: 420, Z: 80}),
		tube("seat stay", bothSides, 20, r3.Vector{X: -520, Y: 330, Z: 50}, r3.Vector{X: -600, Y: 220, Z: 260}),
		tube("tank", [2]bool{}, 120, r3.Vector{X: -330, Y: 0, Z: 110}, r3.Vector{X: -430, Y: 0, Z: 110}),
		{Name: "pedal plate", Sides: bothSides, Plate: &setup.Plate{Outline: rectangle(60, 90, 110, 150), Lower: 70, Upper: 160}},
		tube("steering hoop", [2]bool{}, 22, r3.Vector{X: -250, Y: 160, Z: 60}, r3.Vector{X: -330, Y: 90, Z: 420}, r3.Vector{X: -330, Y: -90, Z: 420}, r3.Vector{X: -250, Y: -160, Z: 60}),
		{Name: "rear axle", Disc: &setup.Disc{Centre: r3.Vector{X: -900, Z: 139}, Diameter: 40, Width: 880}},
	}
}

// farTubes are tubes that nothing comes near: a cage behind the driver.
func farTubes(n int) []setup.Part {
	parts := make([]setup.Part, n)
	for i := range parts {
		x := -1200 - float64(i)
		parts[i] = tube(fmt.Sprintf("cage %d", i), [2]bool{}, 25, r3.Vector{X: x, Y: 300, Z: 50}, r3.Vector{X: x, Y: 300, Z: 900})
	}
	return parts
}

// BenchmarkSweep40Parts is the cost of a setup with 40 parts: 20 about the front axle and 20 behind.
func BenchmarkSweep40Parts(b *testing.B) { benchSweep(b, 20) }

// BenchmarkFarParts shows what parts cost that nothing comes near.
func BenchmarkFarParts(b *testing.B) {
	for _, n := range []int{40, 400, 4000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) { benchSweep(b, n) })
	}
}

func benchSweep(b *testing.B, far int) {
	s := benchKart()
	s.Parts = append(frameParts(), farTubes(far)...)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := sweep.Run(s, s1.Degree); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkRefitLocks is one place of a search for holes: another pickup, both locks, with contact
// against 20 parts.
func BenchmarkRefitLocks(b *testing.B) {
	s := benchKart()
	s.Parts = frameParts()
	m, err := sweep.New(s)
	if err != nil {
		b.Fatal(err)
	}
	moved := *s
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		for side := range moved.Corners {
			moved.Corners[side].Arm.Pickup.X = s.Corners[side].Arm.Pickup.X + float64(i%20)
		}
		fit, err := m.Refit(&moved)
		if err != nil {
			b.Fatal(err)
		}
		for _, d := range sweep.Directions {
			fit.Lock(d)
		}
	}
}

// BenchmarkRefitFirstContact is the same where only the lock is asked, not all that would come after it.
func BenchmarkRefitFirstContact(b *testing.B) {
	s := benchKart()
	s.Parts = frameParts()
	m, err := sweep.New(s)
	if err != nil {
		b.Fatal(err)
	}
	moved := *s
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		for side := range moved.Corners {
			moved.Corners[side].Arm.Pickup.X = s.Corners[side].Arm.Pickup.X + float64(i%20)
		}
		fit, err := m.Refit(&moved)
		if err != nil {
			b.Fatal(err)
		}
		for _, d := range sweep.Directions {
			if _, found := fit.Scene.FirstContact(s1.Angle(d.Sign())*60*s1.Degree, nil); !found {
				b.Fatal("no contact")
			}
		}
	}
}
