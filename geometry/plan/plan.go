// Package plan answers what is seen of a setup from above at a pose: the outline of every piece, which
// stretches of it lie under something higher, and the ground that a piece sweeps. Vehicle axes
// seen from above (x forward, y left), millimetres.
package plan

import (
	"cmp"
	"math"
	"slices"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"locksweep/geometry/clearance"
	"locksweep/geometry/linkage"
	"locksweep/geometry/planar"
	"locksweep/geometry/region"
	"locksweep/geometry/rigid"
)

// Outline is one piece seen from above.
type Outline struct {
	Piece     int // of the scene
	Rings     [][]r2.Point
	Low, High float64 // heights between which it lies, mm
	// Visible and Hidden are the stretches of the outline that are seen and that lie under a higher piece.
	Visible, Hidden [][]r2.Point
}

// At returns the outlines of all pieces of a scene at a pose, the highest first.
func At(sc *clearance.Scene, p *linkage.Pose) ([]Outline, error) {
	outlines := make([]Outline, len(sc.Pieces))
	var patches []patch
	for i := range sc.Pieces {
		patches = append(patches, patchesOf(sc, i, p)...)
		rings, err := Silhouette(sc, i, p)
		if err != nil {
			return nil, err
		}
		outlines[i] = Outline{Piece: i, Rings: rings}
		outlines[i].Low, outlines[i].High = heights(sc, i, p)
	}
	for i := range outlines {
		outlines[i].see(patches)
	}
	slices.SortStableFunc(outlines, func(a, b Outline) int { return cmp.Compare(b.High, a.High) })
	return outlines, nil
}

// patch is the ground that the solids of one piece cover that reach up equally high. A bent tube has
// several: what passes over its low end may pass under its high one.
type patch struct {
	piece  int
	convex []cover // that together cover it
	box    r2.Rect
	high   float64
}

// cover is a convex ring, counter-clockwise, with the upright rectangle round it.
type cover struct {
	ring []r2.Point
	box  r2.Rect
}

// patchesOf sorts the solids of a piece by how high they reach.
func patchesOf(sc *clearance.Scene, piece int, p *linkage.Pose) (patches []patch) {
	s := &sc.Pieces[piece]
	m := sc.Motion(s.Body, p)
	pieces := s.Solids
	if _, ok := level(s, m); !ok {
		pieces = solids(s)
	}
	for i := range pieces {
		ring := pieces[i].Plan(m)
		if len(ring) < 3 {
			continue
		}
		_, high := pieces[i].Heights(m)
		k := slices.IndexFunc(patches, func(o patch) bool { return math.Abs(o.high-high) < sameHeight })
		if k < 0 {
			k = len(patches)
			patches = append(patches, patch{piece: piece, high: high, box: r2.EmptyRect()})
		}
		box := r2.RectFromPoints(ring...)
		patches[k].convex, patches[k].box = append(patches[k].convex, cover{ring, box}), patches[k].box.Union(box)
	}
	return patches
}

// manySolids is from how many convex solids on a plate is not put together from them where it lies level, and from a thinned outline
// where it leans: that takes as long as they are many, squared.
const manySolids = 40

// level returns the ground that a plate of many solids covers where it lies level: its outline. ok is false where it is askew.
func level(s *clearance.Piece, m rigid.Motion) (outline []r2.Point, ok bool) {
	if s.Flat == nil || len(s.Solids) < manySolids {
		return nil, false
	}
	place := m.After(s.Flat.Place)
	if up := place.Turn[2]; math.Hypot(up.X, up.Y) > 1e-9 {
		return nil, false
	}
	for _, q := range s.Flat.Outline {
		top := place.Point(r3.Vector{X: q.X, Y: q.Y, Z: s.Flat.Upper})
		outline = append(outline, r2.Point{X: top.X, Y: top.Y})
	}
	if planar.Area(outline) < 0 { // a mirror image
		slices.Reverse(outline)
	}
	return outline, true
}

// sameHeight is how little two solids may differ in height to count as equally high, mm.
const sameHeight = 1e-6

// over reports whether a patch lies above what another piece has at the given height; of two equally high
// pieces the one that comes first does.
func (o *patch) over(piece int, high float64) bool {
	return o.piece != piece && (o.high > high+sameHeight || o.high > high-sameHeight && o.piece < piece)
}

// see divides an outline into what is seen and what lies under other pieces.
func (o *Outline) see(patches []patch) {
	for _, ring := range o.Rings {
		for _, run := range runs(ring, o.Piece, patches) {
			var covers []cover
			box := r2.RectFromPoints(run.line...)
			for i := range patches {
				if !patches[i].over(o.Piece, run.high) || !patches[i].box.Intersects(box) {
					continue
				}
				for _, c := range patches[i].convex {
					if c.box.Intersects(box) {
						covers = append(covers, c)
					}
				}
			}
			hidden, visible := divide(run.line, covers)
			o.Visible, o.Hidden = append(o.Visible, visible...), append(o.Hidden, hidden...)
		}
	}
}

// onRim is how near a line lies to the rim of a cover that runs along it, mm, and how short a stretch of it is none.
const onRim = 1e-7

// divide cuts a line where it passes below covers and where it comes out again.
func divide(line []r2.Point, covers []cover) (hidden, visible [][]r2.Point) {
	var under []planar.Interval
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		box := r2.RectFromPoints(a, b)
		under = under[:0]
		for k := range covers {
			if c := &covers[k]; c.box.Intersects(box) {
				if in, ok := planar.Through(c.ring, a, b, onRim); ok {
					under = append(under, in)
				}
			}
		}
		at := 0.0
		for _, seen := range append(planar.Outside(under), planar.Interval{From: 1, To: 1}) {
			hidden = stretched(hidden, a, b, at, seen.From)
			visible = stretched(visible, a, b, seen.From, seen.To)
			at = seen.To
		}
	}
	return hidden, visible
}

// stretched adds the stretch of a–b between two shares of it to lines, to the last of them where that ends there.
func stretched(lines [][]r2.Point, a, b r2.Point, from, to float64) [][]r2.Point {
	way := b.Sub(a)
	if (to-from)*way.Norm() <= onRim {
		return lines
	}
	start, end := a.Add(way.Mul(from)), a.Add(way.Mul(to))
	if to == 1 {
		end = b
	}
	if n := len(lines); n > 0 && lines[n-1][len(lines[n-1])-1] == start {
		lines[n-1] = append(lines[n-1], end)
		return lines
	}
	return append(lines, []r2.Point{start, end})
}

// run is a stretch of an outline that belongs to solids of one height.
type run struct {
	line []r2.Point
	high float64
}

// onEdge is how near a point lies that lies on an edge, mm.
const onEdge = 1e-6

// runs cuts a ring where it passes from one patch of its piece to another.
func runs(ring []r2.Point, piece int, patches []patch) (list []run) {
	own := slices.DeleteFunc(slices.Clone(patches), func(o patch) bool { return o.piece != piece })
	if len(own) == 1 {
		return []run{{append(slices.Clone(ring), ring[0]), own[0].high}}
	}
	var edges []planar.Edge
	var high []float64 // of the patch of each edge
	for i := range own {
		for _, c := range own[i].convex {
			edges = append(edges, planar.Edges(c.ring)...)
			high = append(high, slices.Repeat([]float64{own[i].high}, len(c.ring))...)
		}
	}
	near := planar.NewNearest(edges)
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		_, _, edge := near.Find(a.Add(b).Mul(0.5))
		if n := len(list); n > 0 && list[n-1].high == high[edge] {
			list[n-1].line = append(list[n-1].line, b)
		} else {
			list = append(list, run{line: []r2.Point{a, b}, high: high[edge]})
		}
	}
	return list
}

// Silhouette returns the ground that a piece covers at a pose, as rings.
func Silhouette(sc *clearance.Scene, piece int, p *linkage.Pose) ([][]r2.Point, error) {
	s := &sc.Pieces[piece]
	m := sc.Motion(s.Body, p)
	if outline, ok := level(s, m); ok {
		return [][]r2.Point{outline}, nil
	}
	var convex [][]r2.Point
	pieces := solids(s)
	for i := range pieces {
		convex = append(convex, pieces[i].Plan(m))
	}
	return joined(convex)
}

// joined returns the rings round what convex rings cover together; those of fewer than three corners cover nothing.
func joined(convex [][]r2.Point) ([][]r2.Point, error) {
	convex = slices.DeleteFunc(convex, func(ring []r2.Point) bool { return len(ring) < 3 })
	if len(convex) == 1 {
		return convex, nil
	}
	if rings, ok := planar.Union(convex); ok {
		return ordered(rings), nil
	}
	parts := make([]region.Region, len(convex))
	for i := range convex {
		parts[i] = region.Of(convex[i])
	}
	all, err := region.Union(parts...)
	return ordered(all.Rings()), err
}

// before orders points by x and then y, with what differs by rounding alone alike.
func before(p, q r2.Point) int {
	switch {
	case math.Abs(p.X-q.X) > onEdge:
		return cmp.Compare(p.X, q.X)
	case math.Abs(p.Y-q.Y) > onEdge:
		return cmp.Compare(p.Y, q.Y)
	}
	return 0
}

// ordered turns rings so that each begins with its first corner by x and then y, and sorts them by that: where it began hangs on
// how it was put together.
func ordered(rings [][]r2.Point) [][]r2.Point {
	for i, ring := range rings {
		at := 0
		for k, p := range ring {
			if before(p, ring[at]) < 0 {
				at = k
			}
		}
		rings[i] = append(ring[at:len(ring):len(ring)], ring[:at]...)
	}
	slices.SortStableFunc(rings, func(a, b []r2.Point) int { return before(a[0], b[0]) })
	return rings
}

// heights returns the lowest and the highest point of a piece at a pose, mm.
func heights(sc *clearance.Scene, piece int, p *linkage.Pose) (low, high float64) {
	s := &sc.Pieces[piece]
	m := sc.Motion(s.Body, p)
	low, high = math.Inf(1), math.Inf(-1)
	for i := range s.Solids {
		l, h := s.Solids[i].Heights(m)
		low, high = min(low, l), max(high, h)
	}
	return low, high
}

// sweptError is how far the rim of swept ground may stay inside the true one, mm, beside the chords of a solid's own plan: a
// hundredth of a millimetre on a sheet at 1:5.
const sweptError = 0.05

// Swept returns the ground that a piece covers at any of the poses, as rings.
func Swept(sc *clearance.Scene, piece int, poses []linkage.Pose) ([][]r2.Point, error) {
	s := &sc.Pieces[piece]
	pieces := solids(s)
	var convex [][]r2.Point
	for i := range poses {
		m := sc.Motion(s.Body, &poses[i])
		for k := range pieces {
			if seen := pieces[k].Plan(m); len(seen) > 2 {
				convex = append(convex, planar.ThinRing(seen, sweptError))
			}
		}
	}
	return joined(convex)
}
