package loads

import (
	"cmp"
	"math"
	"slices"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"locksweep/geometry/linkage"
	"locksweep/geometry/planar"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/geometry/thread"
)

// What metal can bear, N/mm², where the file does not say: rod ends of plain steel, bolts of property class 8.8 (ISO 898-1,
// memory), S235 plate (EN 10025-2, memory).
const (
	RodEndYield   = 235.0
	BoltYield     = 640.0
	PlateUltimate = 360.0
	PlateYield    = 235.0
	boltUltimate  = 800.0
)

// Stiffness is Young's modulus of a material, N/mm²: steel and aluminium (memory; the tables differ by 2 %).
func Stiffness(m setup.Material) float64 {
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

// StrutOf takes a rod of the setup.
func StrutOf(r *setup.Rod, length float64) Strut {
	s := Strut{Length: length, Outer: r.Diameter, Yield: r.Stock.Yield, Stiffness: Stiffness(r.Stock.Material)}
	if r.Stock.Outer > 0 {
		s.Outer, s.Inner = r.Stock.Outer, r.Stock.Outer-2*r.Stock.Wall
	}
	if s.Yield == 0 {
		s.Yield = r.Stock.Material.Yield()
	}
	return s
}

// Area is the metal's cross-section, mm².
func (s *Strut) Area() float64 { return math.Pi / 4 * (s.Outer*s.Outer - s.Inner*s.Inner) }

// inertia is the second moment of area, mm⁴.
func (s *Strut) inertia() float64 {
	return math.Pi / 64 * (math.Pow(s.Outer, 4) - math.Pow(s.Inner, 4))
}

// Slenderness is length over radius of gyration.
func (s *Strut) Slenderness() float64 { return s.Length / math.Sqrt(s.inertia()/s.Area()) }

// Limit is the slenderness from which Euler's formula holds: √(2π²E/yield), where both give half the yield strength.
func (s *Strut) Limit() float64 { return math.Sqrt(2 * math.Pi * math.Pi * s.Stiffness / s.Yield) }

// Euler is the load under which an elastic column gives way, π²EI/L², N.
func (s *Strut) Euler() float64 {
	return math.Pi * math.Pi * s.Stiffness * s.inertia() / (s.Length * s.Length)
}

// Johnson is that of a stocky one, A·yield·(1 - yield·slenderness²/(4π²E)), N (J. B. Johnson 1893; read).
func (s *Strut) Johnson() float64 {
	λ := s.Slenderness()
	return s.Area() * s.Yield * (1 - s.Yield*λ*λ/(4*math.Pi*math.Pi*s.Stiffness))
}

// Buckling is the load that the column bears, N, by Johnson below the limit slenderness and by Euler above.
func (s *Strut) Buckling() float64 {
	if s.Slenderness() < s.Limit() {
		return s.Johnson()
	}
	return s.Euler()
}

// Bolt holds a rod end at a steering arm.
type Bolt struct {
	thread.Thread
	Offset float64 // middle of the eye to the arm's face, mm
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

// Bending is the stress by a force at the eye, N/mm²: 32 F e/(π d³) in single shear. In double shear the eye sits in the
// middle of twice the offset, which halves it.
func (b *Bolt) Bending(force float64) float64 {
	d := b.section()
	σ := 32 * math.Abs(force) * b.Offset / (math.Pi * d * d * d)
	if b.Double {
		σ /= 2
	}
	return σ
}

// Shear is the mean shear stress, N/mm².
func (b *Bolt) Shear(force float64) float64 {
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

// Bearing is the design resistance of a hole's edge, k1·αb·fu·d·t/γM2, N (EN 1993-1-8 table 3.4, read): αb the least of
// e/(3d0), the bolt's strength over the plate's, and 1; k1 the lesser of 2.8 e/d0 - 1.7 and 2.5; γM2 1.25. The nearest
// edge is taken both along and across the load.
func (h *Hole) Bearing() float64 {
	const γ = 1.25
	αb := min(h.Edge/(3*h.Diameter), boltUltimate/PlateUltimate, 1)
	k1 := min(2.8*h.Edge/h.Diameter-1.7, 2.5)
	return max(0, k1*αb) * PlateUltimate * h.Bolt * h.Thickness / γ
}

// Kind is what is judged.
type Kind int

const (
	Buckling Kind = iota
	Thread
	BoltBending
	BoltShear
	HoleEdge
	StopPlate
)

func (k Kind) String() string {
	return [6]string{"buckling", "rod end thread", "bolt bending", "bolt shear", "hole edge", "stop plate"}[k]
}

// Check is how far something is from giving way.
type Check struct {
	Kind     Kind
	Force    float64 // N
	Stress   float64 // N/mm²; NaN where a force is compared
	Capacity float64 // N where Stress is NaN, else N/mm²
	Margin   float64 // capacity over load: 1 is just enough
}

func stressed(k Kind, force, stress, capacity float64) Check {
	return Check{k, force, stress, capacity, capacity / stress}
}

func loaded(k Kind, force, capacity float64) Check {
	return Check{k, force, math.NaN(), capacity, capacity / math.Abs(force)}
}

// Checks judges a rod and what holds it under a force, pressed or pulled, and whether the rod buckles under the force that
// presses it. What the file does not give enough for is left out.
func (m *Model) Checks(rod int, force, pressed float64) (list []Check) {
	r := &m.Linkage.Rods[rod]
	strut := StrutOf(&r.Spec, r.Length)
	list = append(list, loaded(Buckling, pressed, strut.Buckling()))
	if end := &r.Spec.End; end.Thread > 0 {
		th := threadOf(end)
		yield := RodEndYield
		if end.Yield > 0 {
			yield = end.Yield
		}
		list = append(list, stressed(Thread, force, math.Abs(force)/th.StressArea(), yield))
	}
	if b, ok := m.Bolt(rod); ok {
		list = append(list, stressed(BoltBending, force, b.Bending(force), b.Yield), stressed(BoltShear, force, b.Shear(force), b.Yield/math.Sqrt(3)))
	}
	if h, ok := m.Hole(rod); ok {
		list = append(list, loaded(HoleEdge, force, h.Bearing()))
	}
	return list
}

// Judged is Checks of a rod under the worst it has to bear, the least margin first.
func (m *Model) Judged(rod int) []Check {
	worst := 0.0
	for _, w := range m.Worsts(rod) {
		if math.Abs(w.Force) > math.Abs(worst) || math.IsNaN(w.Force) {
			worst = w.Force
		}
	}
	list := m.Checks(rod, worst, m.Pressed(rod))
	slices.SortStableFunc(list, func(a, b Check) int { return cmp.Compare(a.Margin, b.Margin) })
	return list
}

// Weak is something that is judged, and where it is.
type Weak struct {
	Check
	Rod  int             // without meaning for StopPlate
	Lock sweep.Direction // StopPlate
}

// Weakest is all that is judged, the least margin first.
func (m *Model) Weakest() (list []Weak) {
	for rod := range m.Linkage.Rods {
		for _, c := range m.Judged(rod) {
			list = append(list, Weak{Check: c, Rod: rod})
		}
	}
	for _, d := range sweep.Directions {
		if s := m.Stopped(d); !math.IsNaN(s.Plate.Margin) {
			list = append(list, Weak{Check: s.Plate, Lock: d})
		}
	}
	slices.SortStableFunc(list, func(a, b Weak) int { return cmp.Compare(a.Margin, b.Margin) })
	return list
}

func threadOf(end *setup.RodEnd) thread.Thread {
	if end.Pitch == 0 {
		th, _ := thread.Coarse(end.Thread)
		return th
	}
	return thread.Thread{Diameter: end.Thread, Pitch: end.Pitch}
}

// Bolt is the bolt at the steering arm that a rod drives; ok is false where no thread is given.
func (m *Model) Bolt(rod int) (b Bolt, ok bool) {
	r := &m.Linkage.Rods[rod]
	if r.Spec.End.Thread == 0 {
		return b, false
	}
	given := &r.Spec.Stock.Bolt
	b = Bolt{Thread: threadOf(&r.Spec.End), Offset: given.Offset, Double: given.Double, Plain: given.Plain, Yield: given.Yield}
	if b.Yield == 0 {
		b.Yield = BoltYield
	}
	if b.Offset == 0 {
		if metal, at := m.pickup(r); metal.Upper > metal.Lower {
			b.Offset = max(0, at.Z-metal.Upper, metal.Lower-at.Z)
		}
		if b.OffsetAssumed = b.Offset == 0; b.OffsetAssumed {
			b.Offset = 1.5 * b.Diameter
		}
	}
	return b, true
}

// pickup is the metal of the steering arm that a rod drives, and the rod's ball there, corner axes.
func (m *Model) pickup(r *linkage.Rod) (metal *setup.Metal, at r3.Vector) {
	side := r.To.Side()
	return &m.Setup.Corners[side].Arm.Metal, setup.FromCorner(side, r.Out.Arm) // a mirror image is its own inverse
}

// Hole is the hole of a steering arm that a rod's bolt sits in; ok is false where outline or faces are not given.
func (m *Model) Hole(rod int) (h Hole, ok bool) {
	r := &m.Linkage.Rods[rod]
	metal, ball := m.pickup(r)
	if len(metal.Outline) == 0 || metal.Upper <= metal.Lower || r.Spec.End.Thread == 0 {
		return h, false
	}
	at := r2.Point{X: ball.X, Y: ball.Y}
	h = Hole{Diameter: r.Spec.End.Thread, Bolt: r.Spec.End.Thread, Thickness: metal.Upper - metal.Lower, Edge: planar.ToEdge(metal.Outline, at)}
	for _, drilled := range metal.Holes {
		if drilled.At.Sub(at).Norm() < 0.05 {
			h.Diameter = max(drilled.Diameter, h.Bolt)
		}
	}
	return h, true
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
	s := Stop{Moment: m.Hand(&lock.Pose, d, side).Moments[side], Lever: math.NaN(), Force: math.NaN(), Plate: Check{Margin: math.NaN()}, Width: math.NaN()}
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
		s.Width, s.Plate = width, stressed(StopPlate, s.Force, stress, PlateYield)
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
