package drill

import (
	"math"
	"slices"
	"strings"

	"github.com/golang/geo/r2"

	"locksweep/geometry/planar"
)

// Mark is a distance from something on the metal to a new hole's centre, for marking out with callipers.
type Mark struct {
	From   string      // "hole outer", "edge", "kingpin axis", "line axis – hole outer"
	Line   [2]r2.Point // that the distance is square to, where it is no edge
	At     r2.Point    // the hole's centre, or the foot on the edge or line, in the metal's plane
	Length float64     // mm
	Square bool        // to an edge or a line

	New bool // from the other new hole

	way   r2.Point // direction of the distance, unit
	worth float64  // how well it can be measured, from 0 to 1
}

// Drilled is a new hole of a place, in the plane of its metal.
type Drilled struct {
	At    r2.Point
	Rod   string  // "left", "right" or "both"
	Marks []Mark  // two, or fewer where the metal offers no more
	Old   []Mark  // distances from the holes in use today that are none of these
	Lever float64 // from the centre of the kingpin or the column, mm
	Edge  float64 // from the rim of the finished hole to the nearest edge of the metal, mm; +Inf where no outline is given
}

// Drilled returns the holes to be drilled in a metal for a place; none where they are there already.
func (r *Result) Drilled(m *Metal, p *Place) (list []Drilled) {
	balls := m.balls(&p.Spot)
	for i, at := range balls {
		rod := [2]string{"left", "right"}[i]
		if !m.Drop {
			rod = m.Side.String()
		} else if balls[0] == balls[1] {
			rod = "both"
		}
		q := m.Plane(at)
		if m.ready(q, &r.Options) == nil {
			marks := m.marks(q, m.Plane(balls[1-i]))
			list = append(list, Drilled{q, rod, marks, m.fromOld(q, marks), q.Norm(), planar.ToEdge(m.Outline, q) - r.Options.Diameter/2})
		}
		if balls[0] == balls[1] {
			break
		}
	}
	return list
}

// marks picks the two marks that fix a point best: holes rather than edges, edges rather than the axis, and
// directions that cross as squarely as can be. other is the other new hole of a drop arm.
func (m *Metal) marks(q, other r2.Point) []Mark {
	all := m.candidates(q)
	if length := other.Sub(q).Norm(); length >= leastMark && m.holeAt(other, atHole) == nil {
		all = append(all, Mark{From: "the other new hole", New: true, At: other, Length: length, way: other.Sub(q).Normalize(), worth: 0.8})
	}
	best, worth := []Mark(nil), 0.0
	for i, a := range all {
		if a.worth > worth && len(best) < 2 {
			best, worth = []Mark{a}, a.worth
		}
		for _, b := range all[:i] {
			crossing := math.Abs(a.way.Cross(b.way))
			if w := 2 + a.worth*b.worth*crossing; crossing > 0.25 && w > worth {
				best, worth = []Mark{b, a}, w
			}
		}
	}
	return best
}

// fromOld returns the distances of a new hole from the holes in use today, but for those that are its marks.
func (m *Metal) fromOld(q r2.Point, marks []Mark) (list []Mark) {
	for _, h := range m.Holes {
		marked := slices.ContainsFunc(marks, func(k Mark) bool { return k.At == h.At })
		if length := h.At.Sub(q).Norm(); h.InUse && !marked && length >= leastMark {
			list = append(list, Mark{From: h.called(), At: h.At, Length: length})
		}
	}
	return list
}

// leastMark is the shortest distance that is worth measuring, mm.
const leastMark = 4.0

// candidates lists all marks that would do for a point, with their worth.
func (m *Metal) candidates(q r2.Point) (list []Mark) {
	add := func(from string, at r2.Point, square bool, worth float64) {
		if length := at.Sub(q).Norm(); length >= leastMark {
			list = append(list, Mark{From: from, At: at, Length: length, Square: square, way: at.Sub(q).Normalize(), worth: worth})
		}
	}
	axis := "kingpin axis"
	if m.Drop {
		axis = "column axis"
	}
	for _, h := range m.Holes {
		add(h.called(), h.At, false, 1)
		if along := h.At.Normalize(); h.At.Norm() > leastMark {
			foot := along.Mul(q.Dot(along))
			list = append(list, Mark{From: "line axis – " + h.called(), At: foot, Line: [2]r2.Point{{}, h.At}, Length: foot.Sub(q).Norm(), Square: true, way: along.Ortho(), worth: 0.4})
		}
	}
	for i, e := range planar.Edges(m.Outline) {
		a, side := e[0], e[1].Sub(e[0])
		// A foot near a corner, or an edge that another part of the metal lies before, is no datum.
		foot := a.Add(side.Mul(q.Sub(a).Dot(side) / side.Dot(side)))
		t, length := foot.Sub(a).Dot(side.Normalize()), side.Norm()
		if t > 2 && t < length-2 && m.clear(q, foot, i) {
			add("edge", foot, true, 0.7)
		}
	}
	add(axis, r2.Point{}, false, 0.5)
	return list
}

// called returns how a sentence names a hole.
func (h *Hole) called() string {
	if strings.Contains(h.Name, "hole") {
		return h.Name
	}
	return "hole " + h.Name
}

// clear reports whether the way from a point to its foot on an edge crosses no other edge.
func (m *Metal) clear(q, foot r2.Point, edge int) bool {
	way := foot.Sub(q)
	for i, e := range planar.Edges(m.Outline) {
		side := e[1].Sub(e[0])
		if i != edge && way.Cross(e[0].Sub(q))*way.Cross(e[1].Sub(q)) < 0 && side.Cross(q.Sub(e[0]))*side.Cross(foot.Sub(e[0])) < 0 {
			return false
		}
	}
	return true
}
