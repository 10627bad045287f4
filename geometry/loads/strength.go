package loads

import (
	"math"

	"github.com/golang/geo/r2"

	"locksweep/geometry/planar"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/geometry/thread"
)

// What metal can bear, N/mm², where the file does not say: rod ends of plain steel, bolts of property class 8.8 (ISO 898-1,
// memory), S235 plate (EN 10025-2, memory).
const (
	rodEndYield   = 235.0
	boltYield     = 640.0
	plateUltimate = 360.0
	plateYield    = 235.0
	boltUltimate  = 800.0
)

// stiffness is Young's modulus of a material, N/mm²: steel and aluminium (memory; the tables differ by 2 %).
func stiffness(m setup.Material) float64 {
	if m == setup.Aluminium {
		return 70e3
	}
	return 210e3
}

// Strut is a rod as a column with pinned ends.
type Strut struct {
	Length, Outer, Inner float64 // mm
	Yield, Stiffness     float64 // N/mm²
}

// strutOf takes a rod of the setup.
func strutOf(r *setup.Rod, length float64) Strut {
	s := Strut{Length: length, Outer: r.Outer(), Inner: r.Bore(), Yield: r.Stock.Yield, Stiffness: stiffness(r.Stock.Material)}
	if s.Yield == 0 {
		s.Yield = r.Stock.Material.Yield()
	}
	return s
}

// area is the metal's cross-section, mm².
func (s *Strut) area() float64 { return math.Pi / 4 * (s.Outer*s.Outer - s.Inner*s.Inner) }

// inertia is the second moment of area, mm⁴.
func (s *Strut) inertia() float64 {
	return math.Pi / 64 * (math.Pow(s.Outer, 4) - math.Pow(s.Inner, 4))
}

// slenderness is length over radius of gyration.
func (s *Strut) slenderness() float64 { return s.Length / math.Sqrt(s.inertia()/s.area()) }

// limit is the slenderness from which Euler's formula holds: √(2π²E/yield), where both give half the yield strength.
func (s *Strut) limit() float64 { return math.Sqrt(2 * math.Pi * math.Pi * s.Stiffness / s.Yield) }

// euler is the load under which an elastic column gives way, π²EI/L², N.
func (s *Strut) euler() float64 {
	return math.Pi * math.Pi * s.Stiffness * s.inertia() / (s.Length * s.Length)
}

// johnson is the load under which a stocky column gives way, A·yield·(1 - yield·slenderness²/(4π²E)), N (J. B. Johnson 1893; read).
func (s *Strut) johnson() float64 {
	λ := s.slenderness()
	return s.area() * s.Yield * (1 - s.Yield*λ*λ/(4*math.Pi*math.Pi*s.Stiffness))
}

// buckling is the load that the column bears, N, by Johnson below the limit slenderness and by Euler above.
func (s *Strut) buckling() float64 {
	if s.slenderness() < s.limit() {
		return s.johnson()
	}
	return s.euler()
}

// Bolt holds a rod end at an arm or a rack.
type Bolt struct {
	thread.Thread
	Offset float64 // middle of the eye to the metal's face, mm
	Double bool    // held on both sides of the eye
	Plain  bool    // a plain shank at the face
	Yield  float64
	// OffsetAssumed tells that nothing in the file gives the offset.
	OffsetAssumed bool
}

// section is the diameter that bends, mm.
func (b *Bolt) section() float64 {
	if b.Plain {
		return b.Diameter
	}
	return b.Root()
}

// bending is the stress by a force at the eye, N/mm²: 32 F e/(π d³) in single shear. In double shear the eye sits in the
// middle of twice the offset, which halves it.
func (b *Bolt) bending(force float64) float64 {
	d := b.section()
	σ := 32 * math.Abs(force) * b.Offset / (math.Pi * d * d * d)
	if b.Double {
		σ /= 2
	}
	return σ
}

// shear is the mean shear stress, N/mm².
func (b *Bolt) shear(force float64) float64 {
	area := b.StressArea()
	if b.Plain {
		area = math.Pi / 4 * b.Diameter * b.Diameter
	}
	if b.Double {
		area *= 2
	}
	return math.Abs(force) / area
}

// Hole is a bolt's hole in a plate.
type Hole struct {
	Diameter, Bolt  float64 // mm
	Thickness, Edge float64 // of the plate; hole's centre to the nearest edge, mm
}

// bearing is the design resistance of a hole's edge, k1·αb·fu·d·t/γM2, N (EN 1993-1-8 table 3.4, read as Steel Buildings in Europe, part 5, 3.3.1.2, has it): αb the least of
// e/(3d0), the bolt's strength over the plate's, and 1; k1 the lesser of 2.8 e/d0 - 1.7 and 2.5; γM2 1.25. The nearest
// edge is taken both along and across the load.
func (h *Hole) bearing() float64 {
	const γ = 1.25
	αb := min(h.Edge/(3*h.Diameter), boltUltimate/plateUltimate, 1)
	k1 := min(2.8*h.Edge/h.Diameter-1.7, 2.5)
	return max(0, k1*αb) * plateUltimate * h.Bolt * h.Thickness / γ
}

func threadOf(end *setup.RodEnd) thread.Thread {
	if end.Pitch == 0 {
		th, _ := thread.Coarse(end.Thread)
		return th
	}
	return thread.Thread{Diameter: end.Thread, Pitch: end.Pitch}
}

// Stop is a hard pull against what stops the wheels at a lock.
type Stop struct {
	Moment float64 // that the rods give to the spindle, about its kingpin, N·mm
	Lever  float64 // of the contact about the kingpin, mm; NaN where nothing known is touched
	Force  float64 // N
	// Plate is the check of a plate on the spindle that is touched; its Margin is NaN where there is none.
	Plate Check
	Width float64 // of the plate's weakest section, mm
}

// Stopped returns what a hard pull does at a lock.
func (m *Model) Stopped(d sweep.Direction) Stop {
	lock := &m.Locks[d]
	side := m.stopped(d)
	s := Stop{Moment: m.hand(&lock.Pose, d, side).Moments[side], Lever: math.NaN(), Force: math.NaN(), Plate: Check{Margin: math.NaN()}, Width: math.NaN()}
	first := lock.First()
	if first == nil || first.Kind != sweep.Contact {
		return s
	}
	axis := m.Setup.Kingpin(side)
	s.Lever = axis.Dir.Cross(first.Point.Sub(axis.Point)).Norm()
	s.Force = math.Abs(s.Moment) / s.Lever
	for _, piece := range first.Pair {
		p := m.Scene.Pieces[piece].Part
		if p == nil || p.Plate == nil || p.On != setup.OnSpindle {
			continue
		}
		back := m.Setup.KingpinPlane(side).Inverse().After(m.Linkage.Motion(m.Scene.Pieces[piece].Body, &lock.Pose.Pose).Inverse())
		at := back.Point(first.Point)
		stress, width := plateStress(p, r2.Point{X: at.X, Y: at.Y}, s.Force)
		s.Width, s.Plate = width, stressed(StopPlate, s.Force, stress, plateYield)
		s.Plate.Lock = d
	}
	return s
}

// plateStress takes a plate as a cantilever about the kingpin: at each radius between bore and contact the arc of metal on
// the way to the contact bends under the force, 6 F a/(t w²). It returns the greatest stress and the width of that section.
func plateStress(p *setup.Part, at r2.Point, force float64) (stress, width float64) {
	reach, t, inner := at.Norm(), p.Plate.Upper-p.Plate.Lower, p.Bore/2
	if inner == 0 {
		inner = reach / 2 // of a bore that is not given nothing is known further in
	}
	width = math.NaN()
	const rings, step = 60, math.Pi / 720
	bearing := math.Atan2(at.Y, at.X)
	for i := range rings {
		radius := inner + (reach-inner)*(float64(i)+0.5)/rings
		arc := func(way float64) (angle float64) {
			for angle < math.Pi && planar.Inside(p.Plate.Outline, r2.Point{X: radius * math.Cos(bearing+way*angle), Y: radius * math.Sin(bearing+way*angle)}) {
				angle += step
			}
			return angle
		}
		w := radius * (arc(1) + arc(-1))
		if σ := 6 * force * (reach - radius) / (t * w * w); w > 0 && σ > stress {
			stress, width = σ, w
		}
	}
	return stress, width
}
