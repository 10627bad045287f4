package neck

import (
	"math"

	"github.com/golang/geo/r2"

	"locksweep/geometry/clearance"
	"locksweep/geometry/planar"
	"locksweep/geometry/rigid"
	"locksweep/geometry/setup"
)

// Root is what a plate hangs on: an edge, or its middle about the kingpin.
type Root struct {
	Edge    [2]r2.Point // in the plate's plane, mm; both ends in the origin where it hangs on what it turns about
	Kingpin bool        // it hangs on what it turns about, the kingpin or the column
	Assumed bool        // not given in the file
}

// RootOf returns the root of a plate: the file's; else the kingpin, or the column, where the plate turns about that and lies about it; else the
// side nearest to what it turns about; or of a plate on the frame the side farthest from what it stops. The middle of that, straight ahead, is
// what mover returns; it is asked only for a plate of the frame that has no root in the file.
func RootOf(p *clearance.Piece, mover func() r2.Point) Root {
	if root := p.Part.Root; len(root) == 2 {
		return Root{Edge: [2]r2.Point{root[0], root[1]}}
	}
	r := Root{Assumed: true}
	if turns(p) && planar.Inside(p.Flat.Outline, r2.Point{}) {
		r.Kingpin = true
		return r
	}
	best, stopped := math.Inf(1), r2.Point{}
	if !turns(p) {
		stopped = mover()
	}
	for _, e := range planar.Edges(p.Flat.Outline) {
		var far float64 // the less the better
		if turns(p) {
			far, _ = planar.ToSegment(r2.Point{}, e[0], e[1])
		} else { // by the middle of the side, not its nearer end
			far = -e[0].Add(e[1]).Mul(0.5).Sub(stopped).Norm()
		}
		if far < best-1e-9 {
			best, r.Edge = far, e
		}
	}
	return r
}

// turns reports whether a plate turns about the origin of its plane.
func turns(p *clearance.Piece) bool {
	return p.Part.On == setup.OnSpindle || p.Part.On == setup.OnColumn
}

// Middle returns the middle of the box about a piece that a motion takes into a plate's axes.
func Middle(p *clearance.Piece, motion rigid.Motion) r2.Point {
	box := r2.EmptyRect()
	for i := range p.Solids {
		low, high := p.Solids[i].Box(motion)
		box = box.AddPoint(r2.Point{X: low.X, Y: low.Y}).AddPoint(r2.Point{X: high.X, Y: high.Y})
	}
	return box.Center()
}
