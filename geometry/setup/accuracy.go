package setup

import (
	"fmt"
	"slices"
	"strings"

	"github.com/golang/geo/s1"
)

// Accuracy is how exact what is measured is: half-widths, the truth lying anywhere between the figure less it and the
// figure plus it, one place as likely as another. Its standard uncertainty is then the half-width by √3 (GUM 4.3.7, memory).
type Accuracy struct {
	Given   bool // the file says something of it
	Place   float64
	Height  float64
	Hole    float64
	Rod     float64
	Outline float64
	Tape    float64 // of a distance taped on the vehicle, mm; those above are mm too
	Angle   s1.Angle
	Turned  s1.Angle           // of a wheel's angle read on the vehicle
	Keys    map[string]float64 // of single measures and figures by their keys, mm or radians
}

// GreatestAccuracy bounds what a file may give: what is less exact has not been measured.
const (
	GreatestAccuracy      = 25.4 // mm
	GreatestAngleAccuracy = 10 * s1.Degree
)

// DefaultAccuracy is what garage tools give when used with care (common practice, no source): the least that a rule in
// the unit shows, callipers for holes.
func DefaultAccuracy(u Unit) Accuracy {
	a := Accuracy{Place: 1, Height: 1, Hole: 0.3, Rod: 0.5, Outline: 1, Tape: 2, Angle: 0.5 * s1.Degree, Turned: 0.5 * s1.Degree}
	if u == Inch {
		const sixtyFourth = MMPerInch / 64
		a.Place, a.Height, a.Hole, a.Rod, a.Outline, a.Tape = 2*sixtyFourth, 2*sixtyFourth, sixtyFourth, sixtyFourth, 2*sixtyFourth, 4*sixtyFourth
	}
	return a
}

// Of is the half-width of a class, mm or radians; 0 for what is not measured.
func (a *Accuracy) Of(c Class) float64 {
	return [...]float64{Wanted: 0, OfPlace: a.Place, OfHeight: a.Height, OfHole: a.Hole, OfRod: a.Rod, OfOutline: a.Outline, OfTilt: float64(a.Angle)}[c]
}

// Reading is what one error of measuring moves together: a figure, or one co-ordinate of all points of an outline or a path, or both
// faces of a piece. A hole and the ball that sits in it are one reading.
type Reading struct {
	Key      string // arm.pickup[1]; [*] stands for every point of a list: part."side rail".tube.path[*][1]
	Quantity Quantity
	Class    Class
	Size     bool       // it has to keep its sign
	Figures  []*float64 // in the setup itself, mm or radians
	Accuracy float64    // half-width, mm or radians; 0: exact
	Holds    []string   // keys that its accuracy may be given under, the most particular first
}

// Readings lists all that is measured, in the order of the file, with how exact it is. A size of nought is none that was
// measured, nor is a direction that the file leaves to follow from others.
func (s *Setup) Readings() []Reading {
	var all []Reading
	for _, m := range s.Measures() {
		if m.measured() {
			all = append(all, m.readings(&s.Rehung)...)
		}
	}
	all = s.joined(all)
	for i := range all {
		r := &all[i]
		r.Accuracy = s.Accuracy.Of(r.Class)
		for _, key := range r.Holds {
			if a, ok := s.Accuracy.Keys[key]; ok {
				r.Accuracy = a
				break
			}
		}
	}
	return all
}

// measured reports whether a measure was taken and given.
func (m *Measure) measured() bool {
	if m.Class == Wanted || len(m.Figures) == 0 {
		return false
	}
	if m.Faces {
		return *m.Figures[0] != *m.Figures[1]
	}
	return m.Signed || slices.ContainsFunc(m.Figures, func(f *float64) bool { return *f != 0 })
}

// readings cuts a measure into its readings, still without Accuracy; Holds has the file's keys, which of what [change] hung anew are
// others than the measure's own.
func (m *Measure) readings(hung *Rehung) (list []Reading) {
	file, _ := hung.Stands(m.Key)
	axes := m.Point
	if m.Faces { // a piece keeps its thickness wherever it is
		axes = 1
	}
	for i := range axes {
		r := Reading{Key: m.Key, Quantity: m.Quantity, Class: m.Class, Size: !m.Signed && !m.Faces && m.Quantity != OfDirection}
		switch {
		case m.List:
			r.Key += fmt.Sprintf("[*][%d]", i)
		case axes > 1:
			r.Key += fmt.Sprintf("[%d]", i)
		}
		for k := i; k < len(m.Figures); k += axes {
			r.Figures = append(r.Figures, m.Figures[k])
		}
		for key, index := file, r.Key[len(m.Key):]; key != ""; key = giver(key) {
			r.Holds = append(r.Holds, key+index, key)
		}
		list = append(list, r)
	}
	return list
}

// giver is the key, for both sides or both rods, that a file may give a measure by instead of its own; empty where there is none.
func giver(key string) string {
	switch {
	case strings.HasPrefix(key, "right."):
		return key[len("right."):]
	case key == "tie_rod.left", key == "tie_rod.right":
		return "tie_rod.length"
	case key == "drop_arm.left", key == "drop_arm.right":
		return "drop_arm.pin"
	case key == "drop_arm.left_bolt", key == "drop_arm.right_bolt", key == "rack.left_bolt", key == "rack.right_bolt":
		return key[:strings.IndexByte(key, '.')] + ".bolt"
	}
	return ""
}

// sameHole leads from each co-ordinate of a hole to that of the ball that sits in it, and from those of a right pin to those of a left
// one in the same place.
func (s *Setup) sameHole() (same map[*float64]*float64) {
	same = map[*float64]*float64{}
	join := func(x, y, z *float64, m *Metal) {
		for i := range m.Holes {
			if h := &m.Holes[i]; h.At.X == *x && h.At.Y == *y && h.Up == *z {
				same[&h.At.X], same[&h.At.Y], same[&h.Up] = x, y, z
			}
		}
	}
	for side := range s.Corners {
		arm := &s.Corners[side].Arm
		join(&arm.Pickup.X, &arm.Pickup.Y, &arm.Pickup.Z, &arm.Metal)
	}
	if d := s.DragLink; d != nil {
		join(&d.Pickup.X, &d.Pickup.Y, &d.Pickup.Z, &s.Corners[d.Side].Arm.Metal)
	}
	pins := &s.DropArm.Pins
	for side := range pins {
		join(&pins[side].X, &pins[side].Y, &pins[side].Z, &s.DropArm.Metal)
	}
	if pins[Left] == pins[Right] {
		same[&pins[Right].X], same[&pins[Right].Y], same[&pins[Right].Z] = &pins[Left].X, &pins[Left].Y, &pins[Left].Z
	}
	return same
}

// joined makes one reading of each co-ordinate of a hole and of the balls that sit in it, in place.
func (s *Setup) joined(all []Reading) []Reading {
	same, at := s.sameHole(), map[*float64]int{}
	for i := range all {
		if !strings.Contains(all[i].Key, "[*]") {
			at[all[i].Figures[0]] = i
		}
	}
	for i := range all {
		first := all[i].Figures[0]
		for same[first] != nil {
			first = same[first]
		}
		if k, ok := at[first]; ok && k != i && first != all[i].Figures[0] {
			all[k].Figures, all[k].Holds = append(all[k].Figures, all[i].Figures...), append(all[k].Holds, all[i].Holds...)
			if pin, one := strings.CutPrefix(all[k].Key, "drop_arm.left"); one && strings.HasPrefix(all[i].Key, "drop_arm.right") {
				all[k].Key = "drop_arm.pin" + pin // as a file gives one pin for both rods
			}
			all[i].Figures = nil // they are part of another reading
		}
	}
	return slices.DeleteFunc(all, func(r Reading) bool { return r.Figures == nil })
}
