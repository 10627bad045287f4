package linkage

import (
	"errors"
	"math"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/geometry/setup"
)

// FuzzPose poses linkages of any shape that the setup reader lets through, sensible or not: lengths up to
// 100 m, levers and rods of half a millimetre, any rake, kingpins that all but lie down. Whatever comes out
// must be a number and must come.
func FuzzPose(f *testing.F) {
	f.Add(600.0, 130.0, 0.0, 0.0, -95.0, -30.0, 0.0, -95.0, 130.0, 35.0, 55.0, 20.0, 0.0, 256.0, 13.0, 40.0, false)
	f.Add(560.0, 150.0, 12.0, 8.0, 95.0, 10.0, 20.0, 90.0, 230.0, 60.0, -55.0, 0.0, 5.0, 0.0, 20.0, -170.0, true)
	f.Add(500.0, 0.0, 0.0, 0.0, -80.0, 0.0, 0.0, 0.0, 0.0, 90.0, 80.0, 0.0, 0.0, 250.0, 0.1, 180.0, false)
	f.Add(1e5, 1e5, 89.9, -89.9, 0.5, 0.0, 1e5, -1e5, 0.0, -90.0, 0.5, 1e-9, 1e5, 1e-3, 89.0, 1e9, true)
	f.Fuzz(func(t *testing.T, spacing, height, caster, inclination, fore, out, up, footX, footZ, rake, down, left, along, rod, tilt, column float64, askew bool) {
		s := &setup.Setup{Spacing: spacing}
		for side := range s.Corners {
			c := &s.Corners[side]
			c.Kingpin = setup.Kingpin{Height: height, Caster: degrees(caster), Inclination: degrees(inclination)}
			c.Arm.Pickup = r3.Vector{X: fore, Y: out, Z: up}
			s.DropArm.Pins[side] = r3.Vector{X: down, Y: left, Z: along}
			if askew {
				c.Arm.Bolt, s.DropArm.Bolts[side] = r3.Vector{Y: 1}, r3.Vector{X: 1}
			}
		}
		s.Corners[setup.Left].Rod.Length = rod
		s.Column = setup.Column{Foot: r3.Vector{X: footX, Z: footZ}, Rake: degrees(rake)}
		if !readable(s, tilt, column) {
			t.Skip("refused by the reader")
		}
		m, err := New(s)
		if err != nil {
			var e *AssemblyError
			if !errors.As(err, &e) || anyNaN(e.Least, e.Greatest) || e.Rod >= e.Least && e.Rod <= e.Greatest {
				t.Errorf("%v: %+v", err, err)
			}
			return
		}
		checkEverything(t, m, degrees(column), degrees(tilt))
	})
}

// readable reports whether the reader lets such figures through.
func readable(s *setup.Setup, tilt, column float64) bool {
	c := &s.Corners[setup.Left]
	for _, v := range []float64{s.Spacing, c.Kingpin.Height, c.Rod.Length, c.Arm.Pickup.X, c.Arm.Pickup.Y, c.Arm.Pickup.Z,
		s.Column.Foot.X, s.Column.Foot.Z, s.DropArm.Pins[0].X, s.DropArm.Pins[0].Y, s.DropArm.Pins[0].Z} {
		if !(math.Abs(v) <= 100e3) {
			return false
		}
	}
	rake := s.Column.Rake.Degrees()
	if !(s.Spacing > 1 && c.Rod.Length >= 0 && c.Kingpin.Caster.Abs() < 90*s1.Degree && c.Kingpin.Inclination.Abs() < 90*s1.Degree &&
		rake >= -90 && rake <= 180 && tilt > 0 && tilt < 90 && math.Abs(column) <= 1e6) {
		return false
	}
	for _, side := range setup.Sides {
		pickup := setup.FromCorner(side, s.Corners[side].Arm.Pickup)
		pin := s.DropArm.Pins[side]
		if s.Kingpin(side).Dir.Cross(pickup).Norm() < 0.5 || math.Hypot(pin.X, pin.Y) < 0.5 ||
			s.Column.ColumnPoint(pin).Sub(s.CornerPoint(side, s.Corners[side].Arm.Pickup)).Norm() < 0.5 {
			return false
		}
	}
	return true
}

func anyNaN(values ...float64) bool {
	for _, v := range values {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return true
		}
	}
	return false
}

func checkEverything(t *testing.T, m *Mechanism, column, tilt s1.Angle) {
	columns := []s1.Angle{0, column}
	for _, side := range setup.Sides {
		for _, dir := range [2]float64{1, -1} {
			end := s1.Angle(dir * math.Pi)
			for name, root := range map[string]func() (s1.Angle, bool){
				"dead point":  func() (s1.Angle, bool) { return m.DeadPoint(int(side), dir) },
				"over centre": func() (s1.Angle, bool) { return m.OverCentre(int(side), dir) },
				"tilt at arm": func() (s1.Angle, bool) {
					return m.TiltAt(int(side), AtArm, tilt, dir, s1.Angle(dir*m.ownEnd(side, dir)))
				},
				"tilt at drop arm": func() (s1.Angle, bool) {
					return m.TiltAt(int(side), AtDropArm, tilt, dir, s1.Angle(dir*m.ownEnd(side, dir)))
				},
				"column at spindle": func() (s1.Angle, bool) { return m.ColumnAt(side, tilt, dir) },
			} {
				at, found := root()
				if anyNaN(float64(at)) || found && float64(at)*dir < 0 {
					t.Errorf("%v, direction %v: %s at %v", side, dir, name, at)
				}
				if found && at.Abs() <= end.Abs() {
					columns = append(columns, at)
				}
			}
		}
	}
	for _, c := range columns {
		p, ok := m.Pose(c)
		if !ok {
			continue
		}
		for _, side := range setup.Sides {
			sp, rp, l := &p.Sides[side], &p.Rods[side], &m.Rods[side].Loop
			ends, tilts := m.Transmission(int(side), &p), m.RodTilt(int(side), &p)
			if anyNaN(float64(sp.Spindle), sp.Sin, sp.Cos, rp.ToLever, rp.FromLever, rp.From.Norm(), rp.To.Norm(), rp.Along.Norm(),
				float64(ends[0]), float64(ends[1]), float64(tilts[0]), float64(tilts[1])) {
				t.Errorf("column %v, %v: %+v, transmission %v, tilt %v", c, side, sp, ends, tilts)
			}
			// Figures of 100 m about levers of half a millimetre leave few digits for the rod.
			size := l.Length + l.In.Arm.Norm() + l.Out.Arm.Norm() + l.In.Axis.Point.Sub(l.Out.Axis.Point).Norm()
			if off := math.Abs(rp.To.Sub(rp.From).Norm() - l.Length); off > 1e-9*size*(1+size/l.Out.lever()) {
				t.Errorf("column %v, %v: rod %v off by %g", c, side, l.Length, off)
			}
		}
	}
}
