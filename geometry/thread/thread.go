// Package thread answers what a screw thread is called, what is left of the metal at its root, and what to drill for
// it. Lengths are in millimetres.
package thread

import (
	"fmt"
	"math"
)

// Thread is a screw thread of 60 degrees, metric or unified.
type Thread struct {
	Diameter, Pitch float64 // nominal, mm
}

// metric are the pitches of each diameter, mm, the coarse one first (ISO 261 and ISO 262; memory, coarse and fine pitches
// of M8 and M10 read).
var metric = []struct {
	diameter float64
	pitches  []float64
}{
	{4, []float64{0.7, 0.5}}, {5, []float64{0.8, 0.5}}, {6, []float64{1, 0.75}}, {7, []float64{1, 0.75}}, {8, []float64{1.25, 1, 0.75}},
	{10, []float64{1.5, 1.25, 1, 0.75}}, {12, []float64{1.75, 1.5, 1.25, 1}}, {14, []float64{2, 1.5, 1.25, 1}},
	{16, []float64{2, 1.5, 1}}, {18, []float64{2.5, 2, 1.5, 1}}, {20, []float64{2.5, 2, 1.5, 1}}, {22, []float64{2.5, 2, 1.5, 1}},
	{24, []float64{3, 2, 1.5, 1}},
}

// unified are the sizes with threads to an inch, coarse and fine (ASME B1.1; diameters and fine series read in a
// table of it, coarse series memory).
var unified = []struct {
	name         string
	inches       float64
	coarse, fine float64
}{
	{"#8", 0.164, 32, 36}, {"#10", 0.19, 24, 32}, {"1/4", 0.25, 20, 28}, {"5/16", 0.3125, 18, 24}, {"3/8", 0.375, 16, 24},
	{"7/16", 0.4375, 14, 20}, {"1/2", 0.5, 13, 20}, {"9/16", 0.5625, 12, 18}, {"5/8", 0.625, 11, 18}, {"3/4", 0.75, 10, 16},
}

// Coarse returns the coarse thread of a diameter, where a standard has one.
func Coarse(diameter float64) (t Thread, ok bool) {
	for _, m := range metric {
		if math.Abs(diameter-m.diameter) < sameDiameter {
			return Thread{diameter, m.pitches[0]}, true
		}
	}
	for _, u := range unified {
		if math.Abs(diameter-u.inches*inch) < sameDiameter {
			return Thread{diameter, inch / u.coarse}, true
		}
	}
	return Thread{Diameter: diameter}, false
}

const inch = 25.4

// Two figures from a file are taken for one size if they differ by no more, mm.
const (
	sameDiameter = 0.02
	samePitch    = 0.002
)

// unifiedSize finds a thread among the unified ones.
func (t Thread) unifiedSize() (name string, perInch float64, series string, ok bool) {
	for _, u := range unified {
		if math.Abs(t.Diameter-u.inches*inch) >= sameDiameter {
			continue
		}
		if math.Abs(t.Pitch-inch/u.coarse) < samePitch {
			return u.name, u.coarse, "UNC", true
		}
		if math.Abs(t.Pitch-inch/u.fine) < samePitch {
			return u.name, u.fine, "UNF", true
		}
	}
	return "", 0, "", false
}

// Standard reports whether a standard has the thread.
func (t Thread) Standard() bool {
	for _, m := range metric {
		if math.Abs(t.Diameter-m.diameter) < sameDiameter {
			for _, p := range m.pitches {
				if math.Abs(t.Pitch-p) < samePitch {
					return true
				}
			}
		}
	}
	_, _, _, ok := t.unifiedSize()
	return ok
}

// String is what the thread is called: "M8 × 1.25", "3/8-24 UNF".
func (t Thread) String() string {
	if name, perInch, series, ok := t.unifiedSize(); ok {
		return fmt.Sprintf("%s-%g %s", name, perInch, series)
	}
	return fmt.Sprintf("M%.4g × %.4g", t.Diameter, t.Pitch)
}

// Root is the diameter at the root of an outside thread, mm: the d3 of ISO 724 and ISO 68-1, d - 1.22687 P (read).
// Unified threads have the same profile.
func (t Thread) Root() float64 { return t.Diameter - 1.22687*t.Pitch }

// StressArea is the area that stands for an outside thread in tension, mm²: of the mean of pitch and root diameter, so
// π/4 (d - 0.93819 P)² (ISO 898-1; memory). ASME B1.1 has 0.9743 there for unified threads, which is up to 1 % less.
func (t Thread) StressArea() float64 {
	factor := 0.93819
	if _, _, _, ok := t.unifiedSize(); ok {
		factor = 0.9743
	}
	d := t.Diameter - factor*t.Pitch
	return math.Pi / 4 * d * d
}

// TapDrill is the hole to drill before tapping, mm: diameter less pitch (common practice, no source).
func (t Thread) TapDrill() float64 { return t.Diameter - t.Pitch }

// JamNut is the height of a thin nut, mm: half the diameter (ISO 4035 has 4 for M8 and 5 for M10; memory).
func (t Thread) JamNut() float64 { return t.Diameter / 2 }
