package drill

import (
	"math"
	"slices"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"locksweep/geometry/planar"
	"locksweep/geometry/setup"
)

// Metal is an arm laid flat: everything in its own plane, square to the axis that it turns about, which
// passes through the origin. The plane's axes are forward and outboard for a steering arm, seen from
// above along the kingpin; down and left for the drop arm, seen by the driver along the column.
type Metal struct {
	Name       string
	Drop       bool       // the drop arm
	Side       setup.Side // of a steering arm
	Outline    []r2.Point // counter-clockwise in its axes, mm; empty where not given
	Holes      []Hole     // that are there already
	LeastLever float64    // no hole nearer to the axis, mm
	Bore       float64    // diameter of the bore about the axis, as far as a part on the same body tells it, mm; 0: it does not

	link    bool        // the steering arm, for the drag link's hole
	columns [2]r2.Point // images of the file's two unit vectors
	shift   r2.Point    // and of its origin, at the balls' height
	free    [2]r2.Rect  // about each of today's balls, by side, in the file's axes, where there is no outline
	pins    [2]r2.Point // today's pickup, or both pins of the drop arm, in the plane
}

// Hole is a hole in the plane of its metal.
type Hole struct {
	Name     string
	At       r2.Point
	Diameter float64 // mm
	InUse    bool    // a rod's ball sits in it today
	taken    bool    // by a rod that stays where it is
}

const (
	sameHole      = 0.05 // how near two points of a file are to be one hole, mm
	atHole        = 1e-5 // how near a place is to a hole to use it as it is, mm
	roundingSlack = 1e-4 // by which a distance wanted of a hole may be missed, mm
)

// metals lays out the arms that are to be drilled.
func metals(s *setup.Setup, on On, opt *Options) (list []*Metal) {
	if on == Link {
		_, side, _ := s.LinkBall()
		return append(list, steeringArm(s, side, on, opt))
	}
	if on != DropArm {
		for _, side := range setup.Sides {
			list = append(list, steeringArm(s, side, on, opt))
		}
	}
	if on != Arm {
		list = append(list, dropArm(s, opt))
	}
	return list
}

// steeringArm lays out one steering arm.
func steeringArm(s *setup.Setup, side setup.Side, on On, opt *Options) *Metal {
	arm := &s.Corners[side].Arm
	m := &Metal{Name: side.String() + " steering arm", Side: side}
	own, other, name := arm.Pickup, arm.Pickup, ""
	if link, of, ok := s.LinkBall(); ok && of == side {
		other, name = link, "drag link's hole"
		if on == Link {
			own, other, name, m.link = link, arm.Pickup, "tie rod's hole", true
		}
	}
	ball := s.Along(side, own)
	m.shift = s.ArmPlane(side, r2.Point{}, ball)
	m.columns = [2]r2.Point{s.ArmPlane(side, r2.Point{X: 1}, ball).Sub(m.shift), s.ArmPlane(side, r2.Point{Y: 1}, ball).Sub(m.shift)}
	middle := arm.Metal.Middle()
	if arm.Metal.Upper == arm.Metal.Lower { // not given: the metal is taken to be level with the ball
		middle = ball
	}
	for _, p := range arm.Metal.Outline {
		m.Outline = append(m.Outline, s.ArmPlane(side, p, middle))
	}
	for _, h := range arm.Metal.Holes {
		at := s.ArmPlane(side, h.At, s.Along(side, r3.Vector{X: h.At.X, Y: h.At.Y, Z: h.Up}))
		m.Holes = append(m.Holes, Hole{Name: h.Name, At: at, Diameter: h.Diameter})
	}
	m.lay(opt, r2.Point{X: own.X, Y: own.Y})
	if name != "" {
		m.take(s.ArmPlane(side, r2.Point{X: other.X, Y: other.Y}, s.Along(side, other)), name, opt)
	}
	for i := range s.Parts {
		if p := &s.Parts[i]; p.On == setup.OnSpindle && p.Sides[side] {
			m.Bore = max(m.Bore, p.Bore)
		}
	}
	if m.Bore > 0 {
		m.LeastLever = max(m.LeastLever, m.Bore/2+opt.Edge*opt.Diameter)
	}
	return m
}

// take marks the hole of a rod that stays where it is, at a point of the plane, as taken, unless it is today's hole itself.
func (m *Metal) take(q r2.Point, name string, opt *Options) {
	h := m.holeAt(q, sameHole)
	switch {
	case opt.NewMetal || h == nil:
		m.Holes = append(m.Holes, Hole{Name: name, At: q, Diameter: opt.today, InUse: true, taken: true})
	case q.Sub(m.pins[0]).Norm() >= sameHole:
		h.InUse, h.taken = true, true
	}
}

// dropArm lays out the drop arm.
func dropArm(s *setup.Setup, opt *Options) *Metal {
	m := &Metal{Name: "drop arm", Drop: true, columns: [2]r2.Point{{X: 1}, {Y: 1}}}
	left, right := s.DropArm.Pins[setup.Left], s.DropArm.Pins[setup.Right]
	m.Outline = slices.Clone(s.DropArm.Metal.Outline)
	for _, h := range s.DropArm.Metal.Holes {
		m.Holes = append(m.Holes, Hole{Name: h.Name, At: h.At, Diameter: h.Diameter})
	}
	m.lay(opt, r2.Point{X: left.X, Y: left.Y}, r2.Point{X: right.X, Y: right.Y})
	return m
}

// lay fills in what follows from today's balls, in the file's co-ordinates, once outline and holes are there.
func (m *Metal) lay(opt *Options, pins ...r2.Point) {
	if len(m.Outline) == 0 {
		for i := range m.free {
			m.free[i] = r2.RectFromPoints(pins[min(i, len(pins)-1)]).ExpandedByMargin(opt.Reach)
		}
	}
	m.LeastLever = math.Inf(1)
	for i, p := range pins {
		m.pins[i] = m.Plane(p)
		m.LeastLever = min(m.LeastLever, m.pins[i].Norm()/2)
	}
	if len(pins) == 1 {
		m.pins[1] = m.pins[0]
	}
	for _, pin := range m.pins {
		if h := m.holeAt(pin, sameHole); h != nil {
			h.InUse = true
		} else {
			m.Holes = append(m.Holes, Hole{Name: "today's hole", At: pin, Diameter: opt.today, InUse: true})
		}
	}
	if opt.NewMetal {
		m.Holes = nil
	}
}

// Plane takes a ball's place from the file's co-ordinates, at the height along the axis that balls have, into the metal's plane, mm.
func (m *Metal) Plane(p r2.Point) r2.Point {
	return m.columns[0].Mul(p.X).Add(m.columns[1].Mul(p.Y)).Add(m.shift)
}

// Plan is the inverse of Plane.
func (m *Metal) Plan(q r2.Point) r2.Point { return m.Shift(q.Sub(m.shift)) }

// Shift takes a displacement within the metal's plane into the file's co-ordinates, mm.
func (m *Metal) Shift(by r2.Point) r2.Point {
	det := m.columns[0].Cross(m.columns[1])
	return r2.Point{X: by.Cross(m.columns[1]) / det, Y: m.columns[0].Cross(by) / det}
}

// holeAt returns the hole within a distance of a point, nil where there is none.
func (m *Metal) holeAt(q r2.Point, within float64) *Hole {
	for i := range m.Holes {
		if m.Holes[i].At.Sub(q).Norm() < within {
			return &m.Holes[i]
		}
	}
	return nil
}

// sameDrill is by how much a hole may be smaller than wanted and still do, mm.
const sameDrill = 0.1

// ready returns the hole at a point, nil where there is none or another rod has it. Where a larger hole than today's is asked for, a smaller one
// is not returned either: it would have to be drilled out, which takes as much metal about it as a new one.
func (m *Metal) ready(q r2.Point, opt *Options) *Hole {
	if h := m.holeAt(q, atHole); h != nil && !h.taken && !(opt.drillOut && h.Diameter < opt.Diameter-sameDrill) {
		return h
	}
	return nil
}

// room returns the distance of a point from the metal's edge, negative outside, and from the nearest hole's
// centre, mm; +Inf where there is none.
func (m *Metal) room(q r2.Point) (edge, web float64) {
	edge, web = planar.ToEdge(m.Outline, q), math.Inf(1)
	if len(m.Outline) > 0 && !planar.Inside(m.Outline, q) {
		edge = -edge
	}
	for _, h := range m.Holes {
		web = min(web, h.At.Sub(q).Norm())
	}
	return edge, web
}

// allows reports whether the hole for the ball of a side may be drilled at a point, or is there already. Spacing is in
// diameters of the larger hole.
func (m *Metal) allows(at r2.Point, ball setup.Side, opt *Options) bool {
	q := m.Plane(at)
	if m.ready(q, opt) != nil {
		return true
	}
	if len(m.Outline) == 0 && !m.free[ball].ExpandedByMargin(roundingSlack).ContainsPoint(at) || q.Norm() < m.LeastLever-roundingSlack {
		return false
	}
	for _, h := range m.Holes {
		if apart := h.At.Sub(q).Norm(); (apart >= atHole || h.taken) && apart < opt.Web*max(opt.Diameter, h.Diameter)-roundingSlack {
			return false
		}
	}
	edge, _ := m.room(q)
	return edge >= opt.Edge*opt.Diameter-roundingSlack
}

// bounds returns the rectangle, in the file's axes, that holds every place for the ball of a side, mm.
func (m *Metal) bounds(ball setup.Side) r2.Rect {
	if len(m.Outline) == 0 {
		return m.free[ball]
	}
	return r2.RectFromPoints(carryAll(m.Outline, m.Plan)...)
}
