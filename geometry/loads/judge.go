package loads

import (
	"cmp"
	"math"
	"slices"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/geometry/linkage"
	"locksweep/geometry/planar"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

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

// AtEnd reports whether a kind is judged at either end of a rod on its own.
func (k Kind) AtEnd() bool { return k == BoltBending || k == BoltShear || k == HoleEdge }

// Check is how far something is from giving way, and where it is.
type Check struct {
	Kind     Kind
	Rod      int             // without meaning for StopPlate
	End      linkage.End     // of the rod, where Kind.AtEnd
	Lock     sweep.Direction // StopPlate
	Force    float64         // N
	Stress   float64         // N/mm²; NaN where a force is compared
	Capacity float64         // N where Stress is NaN, else N/mm²
	Margin   float64         // capacity over load: 1 is just enough
}

func stressed(k Kind, force, stress, capacity float64) Check {
	return Check{Kind: k, Force: force, Stress: stress, Capacity: capacity, Margin: capacity / stress}
}

func loaded(k Kind, force, capacity float64) Check {
	return Check{Kind: k, Force: force, Stress: math.NaN(), Capacity: capacity, Margin: capacity / math.Abs(force)}
}

// Burden is the worst that a rod and what holds it have to bear within the locks, from any cause, N.
type Burden struct {
	Force   float64    // in the rod, positive where it is pressed
	Pressed float64    // the greatest that presses it; 0 of a rod that is only pulled
	Bolts   [2]float64 // across the bolt at either end, by linkage.End: of both rods where they share it; without sign
	Holes   [2]float64 // on the edge of the hole at either end, likewise
}

// Boundless is the force, N, above which a rod is taken to stand in line with the arm that drives it.
const Boundless = 1e7

// burden gathers what a rod has to bear.
func (m *Model) burden(rod int) (b Burden) {
	m.forces(func(_ Cause, _ s1.Angle, f *Force, p *linkage.Pose) {
		force := f.Rods[rod]
		if math.Abs(force) > math.Abs(b.Force) || math.IsNaN(force) {
			b.Force = force
		}
		if math.Abs(force) > Boundless {
			b.Pressed = math.Abs(force) // whether it is pressed or pulled is chance there
		}
		b.Pressed = max(b.Pressed, force)
		for _, end := range linkage.Ends {
			own, both := math.Abs(force), math.Abs(force)
			other, at, hole, bolt := m.shares(rod, end)
			if hole {
				both = push(f, p, rod, end).Add(push(f, p, other, at)).Norm()
			}
			if bolt {
				own = both
			}
			b.Bolts[end], b.Holes[end] = max(b.Bolts[end], own), max(b.Holes[end], both)
		}
	})
	return b
}

// push is what a rod does to the ball at one of its ends, N, vehicle axes.
func push(f *Force, p *linkage.Pose, rod int, end linkage.End) r3.Vector {
	along := p.Rods[rod].Along.Mul(f.Rods[rod])
	if end == linkage.AtDropArm {
		return along.Mul(-1)
	}
	return along
}

// sameHole is how far apart two places on a piece of metal may be and be the same hole, mm.
const sameHole = 0.05

// shares reports whether the bolt at an end of a rod sits in the same hole as the bolt of the other rod, which end of that
// one it is, and whether it is the same length of the bolt that bears both: both eyes on the same side of the metal.
func (m *Model) shares(rod int, end linkage.End) (other int, at linkage.End, hole, bolt bool) {
	other = 1 - rod
	body := m.Linkage.Rods[rod].On(end)
	if m.Linkage.Slides(body) {
		return other, at, false, false
	}
	metal, here := m.metal(rod, end)
	for _, at = range linkage.Ends {
		if m.Linkage.Rods[other].On(at) != body {
			continue
		}
		if _, there := m.metal(other, at); math.Hypot(there.X-here.X, there.Y-here.Y) < sameHole {
			middle := metal.Middle()
			return other, at, true, (here.Z-middle)*(there.Z-middle) >= 0
		}
	}
	return other, at, false, false
}

// checks judges a rod and what holds both its ends under what they bear. What the file does not give enough for is left out.
func (m *Model) checks(rod int, b Burden) (list []Check) {
	r := &m.Linkage.Rods[rod]
	add := func(end linkage.End, c Check) {
		c.Rod, c.End = rod, end
		list = append(list, c)
	}
	strut := strutOf(&r.Spec, r.Length)
	add(0, loaded(Buckling, b.Pressed, strut.buckling()))
	if end := &r.Spec.End; end.Thread > 0 {
		th := threadOf(end)
		yield := rodEndYield
		if end.Yield > 0 {
			yield = end.Yield
		}
		add(0, stressed(Thread, b.Force, math.Abs(b.Force)/th.StressArea(), yield))
	}
	for _, end := range linkage.Ends {
		if bolt, ok := m.Bolt(rod, end); ok {
			force := b.Bolts[end]
			add(end, stressed(BoltBending, force, bolt.bending(force), bolt.Yield))
			add(end, stressed(BoltShear, force, bolt.shear(force), bolt.Yield/math.Sqrt(3)))
		}
		if h, ok := m.hole(rod, end); ok {
			add(end, loaded(HoleEdge, b.Holes[end], h.bearing()))
		}
	}
	return list
}

// Shared reports whether what is judged bears both rods, their bolts being in one hole.
func (m *Model) Shared(c Check) bool {
	if !c.Kind.AtEnd() {
		return false
	}
	_, _, hole, bolt := m.shares(c.Rod, c.End)
	return bolt || hole && c.Kind == HoleEdge
}

// Judged judges a rod and what holds both its ends under the worst that they have to bear, the least margin first.
func (m *Model) Judged(rod int) (list []Check) {
	list = m.checks(rod, m.burden(rod))
	weakestFirst(list)
	return list
}

// Weakest is all that is judged, the least margin first.
func (m *Model) Weakest() (list []Check) {
	for rod := range m.Linkage.Rods {
		list = append(list, m.Judged(rod)...)
	}
	for _, d := range sweep.Directions {
		if s := m.Stopped(d); !math.IsNaN(s.Plate.Margin) {
			list = append(list, s.Plate)
		}
	}
	weakestFirst(list)
	return list
}

func weakestFirst(list []Check) {
	slices.SortStableFunc(list, func(a, b Check) int { return cmp.Compare(a.Margin, b.Margin) })
}

// Bolt is the bolt at an end of a rod; ok is false where no thread is given.
func (m *Model) Bolt(rod int, end linkage.End) (b Bolt, ok bool) {
	r := &m.Linkage.Rods[rod]
	if r.Spec.End.Thread == 0 {
		return b, false
	}
	given := r.Spec.Stock.Bolt
	if end == linkage.AtDropArm {
		given = r.Spec.Stock.InnerBolt
	}
	b = Bolt{Thread: threadOf(&r.Spec.End), Offset: given.Offset, Double: given.Double, Plain: given.Plain, Yield: given.Yield}
	if b.Yield == 0 {
		b.Yield = boltYield
	}
	if b.Offset == 0 {
		if metal, at := m.metal(rod, end); metal != nil && metal.Upper > metal.Lower {
			b.Offset = max(0, at.Z-metal.Upper, metal.Lower-at.Z)
		}
		if b.OffsetAssumed = b.Offset == 0; b.OffsetAssumed {
			b.Offset = 1.5 * b.Diameter
		}
	}
	return b, true
}

// metal is what an end of a rod sits on, and the rod's ball there in its axes, corner or column axes: the outline's two and
// the one along its faces. It is nil on a rack, of which no more than a diameter is known.
func (m *Model) metal(rod int, end linkage.End) (metal *setup.Metal, at r3.Vector) {
	r := &m.Linkage.Rods[rod]
	switch body := r.On(end); {
	case body.IsSpindle():
		return &m.Setup.Corners[body.Side()].Arm.Metal, setup.FromCorner(body.Side(), r.Arm(end)) // a mirror image is its own inverse
	case m.Linkage.Slides(body):
		return nil, at
	}
	return &m.Setup.DropArm.Metal, m.Setup.Column.FromColumn(r.Arm(end)) // likewise: a half turn
}

// hole is the hole that the bolt at an end of a rod sits in; ok is false where outline or faces are not given.
func (m *Model) hole(rod int, end linkage.End) (h Hole, ok bool) {
	r := &m.Linkage.Rods[rod]
	metal, ball := m.metal(rod, end)
	if metal == nil || len(metal.Outline) == 0 || metal.Upper <= metal.Lower || r.Spec.End.Thread == 0 {
		return h, false
	}
	at := r2.Point{X: ball.X, Y: ball.Y}
	h = Hole{Diameter: r.Spec.End.Thread, Bolt: r.Spec.End.Thread, Thickness: metal.Upper - metal.Lower, Edge: planar.ToEdge(metal.Outline, at)}
	for _, drilled := range metal.Holes {
		if drilled.At.Sub(at).Norm() < sameHole {
			h.Diameter = max(drilled.Diameter, h.Bolt)
		}
	}
	return h, true
}
