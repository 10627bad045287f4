package setupfile

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"github.com/golang/geo/r2"

	"locksweep/geometry/planar"
	"locksweep/geometry/setup"
)

const (
	maxPoints   = 10_000 // of one outline
	maxAll      = 50_000 // of all lists of points in a file
	leastEdge   = 1e-3   // mm; nearer points are the same point given twice
	leastArea   = 1e-2   // mm²
	maxCrossing = 5      // crossings told of one outline
)

// outlineFault is something wrong with an outline; at is the index of the point it is shown at, -1 for the whole.
type outlineFault struct {
	at   int
	text string
}

// outlineKey is a list in the file, read in a unit.
type outlineKey struct {
	list *node
	unit setup.Unit
}

// outlineResult is an outline in mm, counter-clockwise, and what is wrong with it.
type outlineResult struct {
	points []r2.Point
	faults []outlineFault
}

// outline reads a list of points in the plane that bound a simple area, and returns it counter-clockwise, mm; nil where it is
// missing or wrong. The file may go round either way.
func (v value) outline(names []string) []r2.Point {
	if !v.is(list) {
		return nil
	}
	if len(v.n.items) > maxPoints {
		v.fail("has %d points; at most %d are read", len(v.n.items), maxPoints)
		return nil
	}
	items := v.items()
	if v.d.points += len(items); v.d.points > maxAll {
		v.fail("is too much: a file may have %d points in all", maxAll)
		return nil
	}
	result, known := v.d.outlines[outlineKey{v.n, v.d.unit}]
	if !known {
		points := make([]r2.Point, len(items))
		for i, item := range items {
			points[i] = item.planePoint(names)
		}
		if slices.ContainsFunc(points, func(p r2.Point) bool { return math.IsNaN(p.X) }) {
			return nil
		}
		result = checkOutline(points)
		v.d.outlines[outlineKey{v.n, v.d.unit}] = result
	}
	for _, f := range result.faults {
		at := v
		if f.at >= 0 {
			at = items[f.at]
			at.as = v.path()
		}
		at.fail("%s", f.text)
	}
	if len(result.faults) > 0 {
		return nil
	}
	return result.points
}

// checkOutline returns the outline counter-clockwise and what is wrong with it. Points are counted from 1 in messages.
func checkOutline(points []r2.Point) outlineResult {
	if len(points) < 3 {
		return outlineResult{faults: []outlineFault{{-1, "has " + counted(len(points), "point") + "; an outline needs at least 3"}}}
	}
	faults := doubled(points)
	if len(faults) == 0 {
		area := planar.Area(points)
		if faults = spikes(points); len(faults) == 0 {
			faults = crossings(points)
		}
		if math.Abs(area) < leastArea && len(faults) == 0 || collinear(points) {
			faults = []outlineFault{{-1, "encloses no area"}}
		}
		if area < 0 {
			points = slices.Clone(points)
			slices.Reverse(points)
		}
	}
	return outlineResult{points, faults}
}

// collinear reports that all points lie on one line.
func collinear(points []r2.Point) bool {
	far := slices.MaxFunc(points, func(a, b r2.Point) int {
		return cmp.Compare(a.Sub(points[0]).Norm(), b.Sub(points[0]).Norm())
	}).Sub(points[0])
	for _, p := range points {
		if math.Abs(far.Cross(p.Sub(points[0]))) > leastEdge*far.Norm() {
			return false
		}
	}
	return true
}

// doubled finds neighbours that are the same point.
func doubled(points []r2.Point) (faults []outlineFault) {
	for i := range points {
		j := (i + 1) % len(points)
		if points[i].Sub(points[j]).Norm() >= leastEdge || len(faults) >= maxCrossing {
			continue
		}
		text := fmt.Sprintf("has point %d twice running; give it once", i+1)
		at := j
		if j == 0 {
			at, text = i, "ends with its first point again; leave that out, the outline closes by itself"
		}
		faults = append(faults, outlineFault{at, text})
	}
	return faults
}

// spikes finds points at which the outline turns back on itself.
func spikes(points []r2.Point) (faults []outlineFault) {
	n := len(points)
	for i := range points {
		in, out := points[i].Sub(points[(i+n-1)%n]), points[(i+1)%n].Sub(points[i])
		if in.Dot(out) < 0 && math.Abs(in.Cross(out)) < 1e-9*in.Norm()*out.Norm() && len(faults) < maxCrossing {
			faults = append(faults, outlineFault{i, fmt.Sprintf("turns straight back at point %d: a spike without width", i+1)})
		}
	}
	return faults
}

// edge is one side of an outline with its extent along the sweep and across it.
type edge struct {
	index                  int
	a, b                   r2.Point
	from, to, lower, upper float64
}

// crossings finds edges that meet other than at the corner they share. A line sweeps along the axis
// in which the edges are shorter, so that few edges are under it at once.
func crossings(points []r2.Point) (faults []outlineFault) {
	var under []edge
	for _, e := range sweepEdges(points) {
		kept := under[:0]
		for _, o := range under {
			if o.to < e.from {
				continue
			}
			kept = append(kept, o)
			if o.lower > e.upper || o.upper < e.lower || !edgesMeet(e, o, len(points)) {
				continue
			}
			first, second := min(e.index, o.index), max(e.index, o.index)
			const text = "crosses or touches itself: the edge from point %d to %d meets the edge from point %d to %d"
			told := fmt.Sprintf(text, first+1, first+2, second+1, (second+1)%len(points)+1)
			faults = append(faults, outlineFault{first, told})
		}
		under = append(kept, e)
		if len(faults) >= maxCrossing {
			break
		}
	}
	slices.SortFunc(faults, func(a, b outlineFault) int { return cmp.Or(cmp.Compare(a.at, b.at), cmp.Compare(a.text, b.text)) })
	return slices.CompactFunc(faults, func(a, b outlineFault) bool { return a.at == b.at })
}

// sweepEdges returns the edges in the order in which the sweep meets them.
func sweepEdges(points []r2.Point) []edge {
	edges := make([]edge, len(points))
	var across, along float64
	box := r2.RectFromPoints(points...)
	for i, a := range points {
		b := points[(i+1)%len(points)]
		edges[i] = edge{index: i, a: a, b: b}
		along += math.Abs(b.X - a.X)
		across += math.Abs(b.Y - a.Y)
	}
	alongY := along*box.Y.Length() > across*box.X.Length()
	for i := range edges {
		e := &edges[i]
		e.from, e.to = min(e.a.X, e.b.X), max(e.a.X, e.b.X)
		e.lower, e.upper = min(e.a.Y, e.b.Y), max(e.a.Y, e.b.Y)
		if alongY {
			e.from, e.to, e.lower, e.upper = e.lower, e.upper, e.from, e.to
		}
	}
	slices.SortStableFunc(edges, func(a, b edge) int { return cmp.Compare(a.from, b.from) })
	return edges
}

// edgesMeet reports whether two edges of an outline with n points have a point in common beyond the
// corner that neighbours share. Neighbours that fold back are spikes, found elsewhere.
func edgesMeet(e, o edge, n int) bool {
	if gap := (e.index - o.index + n) % n; gap == 1 || gap == n-1 {
		return false
	}
	s1, s2, s3, s4 := turn(o.a, o.b, e.a), turn(o.a, o.b, e.b), turn(e.a, e.b, o.a), turn(e.a, e.b, o.b)
	if s1*s2 < 0 && s3*s4 < 0 {
		return true
	}
	return s1 == 0 && within(o, e.a) || s2 == 0 && within(o, e.b) || s3 == 0 && within(e, o.a) || s4 == 0 && within(e, o.b)
}

// turn is the sign of the turn a→b→p: +1 left, -1 right, 0 where p lies within a nanometre of the line.
func turn(a, b, p r2.Point) float64 {
	ab := b.Sub(a)
	cross := ab.Cross(p.Sub(a))
	if math.Abs(cross) <= 1e-6*ab.Norm() {
		return 0
	}
	return math.Copysign(1, cross)
}

// within reports whether p, known to lie on the line of the edge, lies between its ends.
func within(e edge, p r2.Point) bool {
	way := e.b.Sub(e.a)
	t := p.Sub(e.a).Dot(way)
	return t >= 0 && t <= way.Dot(way)
}
