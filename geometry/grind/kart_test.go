package grind

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"locksweep/fixtures/example"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// kart is a setup whose arms, rods and column stay clear of what is tried out on the kingpins; %s takes
// inclination, caster and parts.
const kart = `
locksweep = 1
name = "trial kart"
units = "mm"
[vehicle]
wheelbase = 1000
rear_track = 1000
rear_tyre = { diameter = 280, width = 150 }
[kingpin]
spacing = 640
height = 130
inclination = %v
caster = %v
[wheel]
offset = 300
tyre_diameter = 120
tyre_width = 40
[arm]
pickup = [-100, -20, -60]
[column]
foot = [-60, 0, 120]
rake = 40
[drop_arm]
left = [66, 14, 8]
right = [66, -14, 8]
[tie_rod]
diameter = 12
[limits]
clearance = %v
transmission = 10
%s
`

func model(t testing.TB, text string) *sweep.Model {
	t.Helper()
	m, err := sweep.New(example.Parse(t, text))
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	return m
}

// part writes a [[part]].
func part(name, on, rest string) string {
	return fmt.Sprintf("[[part]]\nname = %q\non = %q\n%s\n", name, on, rest)
}

// plateOf writes a plate.
func plateOf(outline []r2.Point, low, high float64) string {
	return fmt.Sprintf("plate = { outline = %s, up = [%v, %v] }", points(outline), low, high)
}

func points(outline []r2.Point) string {
	var list []string
	for _, p := range outline {
		list = append(list, fmt.Sprintf("[%v, %v]", float(p.X), float(p.Y)))
	}
	return "[" + strings.Join(list, ", ") + "]"
}

// float writes a number as TOML takes it.
func float(v float64) string {
	text := fmt.Sprintf("%v", v)
	if !strings.ContainsAny(text, ".e") {
		text += ".0"
	}
	return text
}

func corners(xy ...float64) (out []r2.Point) {
	for i := 0; i < len(xy); i += 2 {
		out = append(out, r2.Point{X: xy[i], Y: xy[i+1]})
	}
	return out
}

// atSpindle returns the column angle at which the left spindle stands at an angle.
func atSpindle(t *testing.T, m *sweep.Model, angle s1.Angle) s1.Angle {
	t.Helper()
	column, ok := m.Linkage.ColumnAt(setup.Left, angle, math.Copysign(1, float64(angle)))
	if !ok {
		t.Fatalf("no column angle for %v", angle)
	}
	return column
}

// leftPlate returns the left piece of the name, with all that may hit it.
func leftPlate(t *testing.T, m *sweep.Model, name string) *plate {
	t.Helper()
	for i := range m.Scene.Pieces {
		if p := &m.Scene.Pieces[i]; p.Name == name && p.Side == setup.Left {
			return newPlate(m, i, m.Scene.Against(i))
		}
	}
	t.Fatalf("no piece %q", name)
	return nil
}

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: got %.12g, want %.12g (off by %.3g, allowed %g)", what, got, want, got-want, tolerance)
	}
}

// holdsAt looks whether a plan does what it says: where ground metal is the stop it touches at the target or at most 0.05 degrees
// beyond, wide enough, and whatever else it was cut for it passes by the clearance.
func holdsAt(t *testing.T, p *Plan, degrees float64) {
	t.Helper()
	for _, d := range sweep.Directions {
		lock := p.Lock(d, true).Degrees()
		if lock < degrees {
			t.Errorf("turned %s the wheel gets to %.4f, short of %.4f", d, lock, degrees)
		}
		if p.Lock(d, false).Degrees() > degrees {
			continue
		}
		for _, c := range p.Cuts {
			if c.Stops[d] && c.Past == NotPast && lock > degrees+0.05 {
				t.Errorf("turned %s the %s touches at %.4f, want at most 0.05 beyond %.4f", d, c.Part.Name, lock, degrees)
			}
		}
		if s := &p.Stops[d]; s.Missing() {
			t.Errorf("turned %s: %v", d, s.Faults)
		}
	}
	for _, c := range p.Cuts {
		if c.Passes < p.Clearance-0.02 {
			t.Errorf("%s passes at %g, want %g", c.Part.Name, c.Passes, p.Clearance)
		}
		if c.Stops != [2]bool{} && c.Width < c.LeastWide-0.3 {
			t.Errorf("%s is a stop %g wide, want %g", c.Part.Name, c.Width, c.LeastWide)
		}
	}
}
