package compare

import (
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/geometry/setup"
)

// Difference is a measure of two setups that is not the same.
type Difference struct {
	Key      string // of the setup file
	Kind     DifferenceKind
	From, To [3]float64 // angles in radians, lengths in mm; one value unless it is a point
}

// DifferenceKind is what a measure is.
type DifferenceKind int

const (
	OfLength DifferenceKind = iota
	OfAngle
	OfPoint
)

// same is what reading a file may lose, mm or radians.
const same = 1e-9

// Differ lists the measures in which a setup differs from another: what the file gives one by one, not the
// parts that may be hit. A corner that is changed alike on both sides is listed once.
func Differ(from, to *setup.Setup) (list []Difference) {
	a, b := measures(from), measures(to)
	for i := range a {
		if !near(a[i].To, b[i].To) {
			list = append(list, Difference{a[i].Key, a[i].Kind, a[i].To, b[i].To})
		}
	}
	return tidy(list)
}

// tidy says once what both corners have in common.
func tidy(list []Difference) (out []Difference) {
	const right = "right."
	used := map[string]bool{}
	for _, d := range list {
		for _, other := range list {
			if other.Key == right+d.Key && near(d.From, other.From) && near(d.To, other.To) {
				used[other.Key] = true
			}
		}
	}
	for _, d := range list {
		if !used[d.Key] {
			out = append(out, d)
		}
	}
	return out
}

func near(a, b [3]float64) bool {
	for i := range a {
		if d := a[i] - b[i]; d > same || d < -same {
			return false
		}
	}
	return true
}

// measures lists what is compared of a setup, in the order of the file.
func measures(s *setup.Setup) (list []Difference) {
	length := func(key string, v float64) { list = append(list, Difference{Key: key, To: [3]float64{v}}) }
	angle := func(key string, v s1.Angle) {
		list = append(list, Difference{Key: key, Kind: OfAngle, To: [3]float64{float64(v)}})
	}
	point := func(key string, p r3.Vector) {
		list = append(list, Difference{Key: key, Kind: OfPoint, To: [3]float64{p.X, p.Y, p.Z}})
	}
	length("vehicle.wheelbase", s.Vehicle.Wheelbase)
	length("vehicle.rear_track", s.Vehicle.RearTrack)
	length("vehicle.rear_tyre.diameter", s.Vehicle.RearTyre.Diameter)
	length("vehicle.rear_tyre.width", s.Vehicle.RearTyre.Width)
	length("kingpin.spacing", s.Spacing)
	for _, side := range setup.Sides {
		at := [2]string{"", "right."}[side]
		c := &s.Corners[side]
		length(at+"kingpin.height", c.Kingpin.Height)
		angle(at+"kingpin.inclination", c.Kingpin.Inclination)
		angle(at+"kingpin.caster", c.Kingpin.Caster)
		length(at+"wheel.offset", c.Wheel.Offset)
		length(at+"wheel.lead", c.Wheel.Lead)
		angle(at+"wheel.toe", c.Wheel.Toe)
		angle(at+"wheel.camber", c.Wheel.Camber)
		length(at+"wheel.tyre_diameter", c.Wheel.Tyre.Diameter)
		length(at+"wheel.tyre_width", c.Wheel.Tyre.Width)
		point(at+"arm.pickup", c.Arm.Pickup)
		angle(at+"limits.spindle", c.Stop)
		angle(at+"rod_end.tilt", c.Rod.End.Tilt)
	}
	point("column.foot", s.Column.Foot)
	angle("column.rake", s.Column.Rake)
	angle("column.travel", s.Column.Travel)
	point("drop_arm.left", s.DropArm.Pins[setup.Left])
	point("drop_arm.right", s.DropArm.Pins[setup.Right])
	length("tie_rod.left", s.Corners[setup.Left].Rod.Length)
	length("tie_rod.right", s.Corners[setup.Right].Rod.Length)
	length("limits.clearance", s.Limits.Clearance)
	return list
}
