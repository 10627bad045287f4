// Package region answers what is left of plane areas when they are joined, cut and grown. Points are
// r2.Point in millimetres. The booleans are those of a general polygon library; this package
// keeps its types out of the rest of the house.
package region

import (
	"fmt"
	"math"

	"github.com/golang/geo/r2"
	"github.com/peterstace/simplefeatures/geom"
)

// Region is a plane area of any number of pieces, holes included. The zero Region is empty.
type Region struct{ g geom.Geometry }

// Of returns the area inside a simple outline, of either sense. A thin or doubled outline gives an
// empty region.
func Of(outline []r2.Point) Region {
	if len(outline) < 3 {
		return Region{}
	}
	p := geom.NewPolygon([]geom.LineString{lineString(outline, true)})
	if p.Validate() != nil {
		return Region{}
	}
	return Region{p.AsGeometry()}
}

func lineString(pts []r2.Point, closed bool) geom.LineString {
	xy := make([]float64, 0, 2*len(pts)+2)
	for _, p := range pts {
		xy = append(xy, p.X, p.Y)
	}
	if closed && pts[0] != pts[len(pts)-1] {
		xy = append(xy, pts[0].X, pts[0].Y)
	}
	return geom.NewLineString(geom.NewSequence(xy, geom.DimXY))
}

// Union joins regions.
func Union(regions ...Region) (Region, error) {
	gs := make([]geom.Geometry, 0, len(regions))
	for _, r := range regions {
		if !r.Empty() {
			gs = append(gs, r.g)
		}
	}
	if len(gs) == 0 {
		return Region{}, nil
	}
	return made(geom.UnionMany(gs))
}

// Minus takes another region away.
func (r Region) Minus(o Region) (Region, error) {
	if r.Empty() || o.Empty() {
		return r, nil
	}
	return made(geom.Difference(r.g, o.g))
}

// Less takes any number of regions away at once.
func (r Region) Less(areas ...Region) (Region, error) {
	all, err := r.joined(areas)
	if err != nil {
		return Region{}, err
	}
	return r.Minus(all)
}

// Met is what any number of regions share with this one.
func (r Region) Met(areas ...Region) (Region, error) {
	all, err := r.joined(areas)
	if err != nil {
		return Region{}, err
	}
	return all.Common(r)
}

// joined joins areas, and where they are of many points only what lies in the region: joining hundreds of thousands takes the library
// seconds.
func (r Region) joined(areas []Region) (Region, error) {
	const many = 20_000
	points := 0
	for _, a := range areas {
		points += a.g.DumpCoordinates().Length()
	}
	if points <= many {
		return Union(areas...)
	}
	within := make([]Region, len(areas))
	for i, a := range areas {
		var err error
		if within[i], err = r.Common(a); err != nil {
			return Region{}, err
		}
	}
	return Union(within...)
}

// Common is what two regions share.
func (r Region) Common(o Region) (Region, error) {
	if r.Empty() || o.Empty() {
		return Region{}, nil
	}
	return made(geom.Intersection(r.g, o.g))
}

// Grown returns the points within distance d (mm, negative shrinks) of the region, corners rounded;
// the chords of the rounding stay within chord mm of the true arc.
func (r Region) Grown(d, chord float64) (Region, error) {
	if r.Empty() || d == 0 {
		return r, nil
	}
	segments := 2
	if size := math.Abs(d); chord < size {
		segments = max(2, int(math.Ceil(math.Pi/4/math.Acos(1-chord/size))))
	}
	return made(geom.Buffer(r.g, d, geom.BufferQuadSegments(segments), geom.BufferJoinStyleRound(), geom.BufferSimplifyFactor(0)))
}

func made(g geom.Geometry, err error) (Region, error) {
	if err != nil {
		return Region{}, fmt.Errorf("cut outlines: %w", err)
	}
	return Region{g}, nil
}

func (r Region) Empty() bool { return r.g.IsEmpty() }

// Area returns the area, mm².
func (r Region) Area() float64 { return r.g.Area() }

// Pieces returns the connected areas, each as its outline, counter-clockwise, followed by its holes.
func (r Region) Pieces() (pieces [][][]r2.Point) {
	for _, g := range r.g.Dump() {
		if !g.IsPolygon() || g.IsEmpty() {
			continue // lines and points have no area
		}
		p := g.MustAsPolygon().ForceCCW()
		piece := [][]r2.Point{points(p.ExteriorRing(), true)}
		for i := range p.NumInteriorRings() {
			piece = append(piece, points(p.InteriorRingN(i), true))
		}
		pieces = append(pieces, piece)
	}
	return pieces
}

// Rings returns all outlines and holes in one list.
func (r Region) Rings() (rings [][]r2.Point) {
	for _, piece := range r.Pieces() {
		rings = append(rings, piece...)
	}
	return rings
}

func points(l geom.LineString, ring bool) []r2.Point {
	seq := l.Coordinates()
	n := seq.Length()
	if ring {
		n--
	}
	pts := make([]r2.Point, n)
	for i := range pts {
		xy := seq.GetXY(i)
		pts[i] = r2.Point{X: xy.X, Y: xy.Y}
	}
	return pts
}

// Split cuts a line where it enters or leaves the region.
func (r Region) Split(line []r2.Point) (inside, outside [][]r2.Point, err error) {
	if r.Empty() || len(line) < 2 {
		return nil, [][]r2.Point{line}, nil
	}
	l := lineString(line, false).AsGeometry()
	in, err := geom.Intersection(l, r.g)
	if err != nil {
		return nil, nil, fmt.Errorf("split a line: %w", err)
	}
	out, err := geom.Difference(l, r.g)
	if err != nil {
		return nil, nil, fmt.Errorf("split a line: %w", err)
	}
	return lines(in), lines(out), nil
}

func lines(g geom.Geometry) (list [][]r2.Point) {
	for _, part := range g.Dump() {
		if part.IsLineString() {
			list = append(list, points(part.MustAsLineString(), false))
		}
	}
	return list
}
