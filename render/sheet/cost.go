package sheet

import (
	"math"

	"github.com/golang/geo/r2"

	"locksweep/geometry/planar"
)

const (
	leaderCost = 0.35 // of a millimetre of leader
	longLeader = 18.0 // mm, the longest leader of an optional label
	mostCost   = 14.0 // that the place of an optional label may have
)

// cost returns what it costs to write a label with the middle of its lines at a place on paper: base, which a place has by itself, and
// more for the lines that label and leader cover; infinite where a label must not stand. Where it is more than most, any cost
// above that may be returned, so that the rest need not be looked at.
func (s *Sheet) cost(w *placing, centre r2.Point, base, most float64) float64 {
	block := w.block(centre)
	if !w.Within.Contains(block) || !s.free(rectBox(block.ExpandedByMargin(0.6))) {
		return math.Inf(1)
	}
	// What lies within the clear circle is named by the label and no obstacle to it.
	if near := block.ClampPoint(w.at).Sub(w.at).Norm(); near < w.Clear {
		return math.Inf(1)
	}
	cost, enough := 0.0, 0.0
	if !s.Strict {
		enough = max(0, (most-base-4)/0.8)
	}
	if covered := s.ink.within(block.ExpandedByMargin(0.4), enough); covered > 0 && s.Strict {
		return math.Inf(1)
	} else if covered > 0 {
		cost += 4 + 0.8*covered
	}
	for _, m := range s.marked {
		cost += costs(m.at != w.at && block.ClampPoint(m.at).Sub(m.at).Norm() < m.radius+0.4, 12)
	}
	if base+cost > most {
		return base + cost
	}
	if from, to, drawn := w.leader(block); drawn {
		cost += s.crossed(w, from, to)
	}
	return base + cost
}

// crossed is the cost of what a leader crosses: a text or a leader most, then dimensions and marks, then any line;
// one that it nearly follows would be taken for it.
func (s *Sheet) crossed(w *placing, from, to r2.Point) (cost float64) {
	line, bounds := []r2.Point{from, to}, r2.RectFromPoints(from, to)
	for i := range s.lettered {
		if b := &s.lettered[i]; b.bounds.Intersects(bounds) && b.crosses(from, to) {
			return math.Inf(1)
		}
	}
	crosses := func(l segment) bool { return convexOverlap(line, []r2.Point{l.a, l.b}) }
	for _, l := range s.leaders {
		cost += costs(l.near(bounds) && crosses(l), 9)
	}
	for _, l := range s.extensions {
		cost += costs(l.near(bounds) && crosses(l), 5)
	}
	for _, m := range s.marked {
		near, _ := planar.ToSegment(m.at, from, to)
		cost += costs(m.at != w.at && near < m.radius+0.3, 7)
	}
	n := 0.0
	s.ink.near(bounds.ExpandedByMargin(alongside), func(l segment) bool {
		n += costs(crosses(l), 1)
		cost += 0.8 * follows(from, to, l)
		return true
	})
	return cost + 0.4*min(n, 20)
}

// alongside is how near a leader a line runs, mm, to be mistaken for it.
const alongside = 0.6

// follows returns the length over which the leader from–to runs along a line, mm.
func follows(from, to r2.Point, l segment) float64 {
	way, v := to.Sub(from), l.b.Sub(l.a)
	if across := way.Cross(v); across*across > 0.01*way.Dot(way)*v.Dot(v) { // as most lines do, so no root is taken before
		return 0
	}
	u := way.Normalize()
	a, b := l.a.Sub(from).Dot(u), l.b.Sub(from).Dot(u)
	lo, hi := max(0, min(a, b)), min(way.Norm(), max(a, b))
	if hi <= lo {
		return 0
	}
	if d, _ := planar.ToSegment(from.Add(u.Mul((lo+hi)/2)), l.a, l.b); d > alongside {
		return 0
	}
	return hi - lo
}

// free reports whether a text may stand in the box.
func (s *Sheet) free(b Box) bool {
	k := keep(b)
	for i := range s.taken {
		if k.hit(&s.taken[i]) {
			return false
		}
	}
	for _, l := range s.leaders {
		if l.near(k.bounds) && b.crosses(l.a, l.b) {
			return false
		}
	}
	return true
}

// inked are the lines of a drawing in the order in which they were drawn, with a rectangle round each inkChunk of them. Lines that
// follow one another mostly lie beside one another, so that those far from a place are passed over a chunk at a time.
type inked struct {
	lines  []segment
	bounds []r2.Rect // of the chunks
}

const inkChunk = 16

func (k *inked) add(l segment) {
	if len(k.lines)%inkChunk == 0 {
		k.bounds = append(k.bounds, r2.EmptyRect())
	}
	last := &k.bounds[len(k.bounds)-1]
	*last = last.AddPoint(l.a).AddPoint(l.b)
	k.lines = append(k.lines, l)
}

// near calls seen with the lines whose bounds touch a rectangle, in their order, until it returns false.
func (k *inked) near(r r2.Rect, seen func(segment) bool) {
	for i, bounds := range k.bounds {
		if !bounds.Intersects(r) {
			continue
		}
		for _, l := range k.lines[i*inkChunk : min((i+1)*inkChunk, len(k.lines))] {
			if l.near(r) && !seen(l) {
				return
			}
		}
	}
}

// within returns the length of the lines inside a rectangle, mm. Once that is more than enough, the rest need not be counted.
func (k *inked) within(r r2.Rect, enough float64) (sum float64) {
	k.near(r, func(l segment) bool {
		if a, b, ok := clipSegment(l.a, l.b, r); ok {
			sum += b.Sub(a).Norm()
		}
		return sum <= enough
	})
	return sum
}

// near reports whether the segment's bounds touch the rectangle.
func (l segment) near(r r2.Rect) bool {
	return min(l.a.X, l.b.X) <= r.X.Hi && max(l.a.X, l.b.X) >= r.X.Lo &&
		min(l.a.Y, l.b.Y) <= r.Y.Hi && max(l.a.Y, l.b.Y) >= r.Y.Lo
}
