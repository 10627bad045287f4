package grind

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"locksweep/geometry/linkage"
	"locksweep/geometry/planar"
	"locksweep/geometry/region"
	"locksweep/geometry/setup"
)

// DefaultWidth is the least width of metal that counts as a stop where the file gives none, mm (common practice, no source).
const DefaultWidth = 6.0

// Root is what a plate hangs on: an edge, or its middle about the kingpin.
type Root struct {
	Edge    [2]r2.Point // in the plate's plane, mm; both ends in the kingpin where it hangs on that
	Kingpin bool
	Assumed bool // not given in the file
}

// rootOf returns the root of a plate: the file's, else its middle where it lies about the kingpin, else the side nearest to what
// it turns about, or on the frame the one farthest from what it stops straight ahead.
func (p *plate) rootOf() Root {
	part := p.model.Scene.Pieces[p.piece].Part
	if len(part.Root) == 2 {
		return Root{Edge: [2]r2.Point{part.Root[0], part.Root[1]}}
	}
	r := Root{Assumed: true}
	turns := part.On == setup.OnSpindle || part.On == setup.OnColumn
	if turns && planar.Inside(p.flat.Outline, r2.Point{}) {
		r.Kingpin = true
		return r
	}
	from, better := r2.Point{}, func(d, best float64) bool { return d < best }
	if !turns {
		from, better = p.mover(), func(d, best float64) bool { return d > best }
	}
	best := math.NaN()
	for _, e := range edges(p.flat.Outline) {
		d, _ := planar.ToSegment(from, e[0], e[1])
		if !turns { // the side, not its nearer end
			d = e[0].Add(e[1]).Mul(0.5).Sub(from).Norm()
		}
		if math.IsNaN(best) || better(d, best-1e-9*math.Copysign(1, best)) {
			best, r.Edge = d, e
		}
	}
	return r
}

// mover returns the middle, straight ahead, of the moving piece that the plate stops first or else of the first that may hit it.
func (p *plate) mover() r2.Point {
	scene := p.model.Scene
	pick := -1
	for _, o := range p.others {
		if scene.Pieces[o].Body == linkage.Frame {
			continue
		}
		if pick < 0 || scene.Pieces[o].Solid() && !scene.Pieces[pick].Solid() {
			pick = o
		}
	}
	if p.stops >= 0 {
		pick = p.stops
	}
	if pick < 0 {
		return r2.Point{}
	}
	motion := p.home.After(scene.Motion(scene.Pieces[pick].Body, &p.model.Straight.Pose))
	box := r2.EmptyRect()
	for i := range scene.Pieces[pick].Solids {
		low, high := scene.Pieces[pick].Solids[i].Box(motion)
		box = box.AddPoint(r2.Point{X: low.X, Y: low.Y}).AddPoint(r2.Point{X: high.X, Y: high.Y})
	}
	return box.Center()
}

// rest is what is left of a plate, looked at as metal that takes a blow.
type rest struct {
	metal region.Region // without the bore
	root  Root
	bore  float64 // radius, mm
}

const (
	restChord  = 0.02 // of the curves of narrowed metal, mm
	rootSlack  = 0.1  // by which metal may miss its root, mm: those chords, and root given by hand
	rightAngle = math.Sqrt2
)

// rest looks at what is left of the plate inside an outline.
func (p *plate) rest(after []r2.Point) (r rest, err error) {
	part := p.model.Scene.Pieces[p.piece].Part
	r = rest{metal: region.Of(thinned(after, curveChord/4)), root: p.root, bore: part.Bore / 2}
	if r.metal.Empty() {
		r.metal = region.Of(after)
	}
	if r.bore > 0 {
		r.metal, err = r.metal.Minus(region.Of(circle(r.bore)))
	}
	return r, err
}

// circle returns a circle about the origin, within restChord.
func circle(radius float64) (ring []r2.Point) {
	const n = 96
	for i := range n {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / n)
		ring = append(ring, r2.Point{X: radius * cos, Y: radius * sin})
	}
	return ring
}

// core returns where the middle of a disc of a diameter may lie within the metal on its way from the root: the metal, narrowed by half
// of it, as far as it hangs together with the root. A piece is its outline with its holes.
func (r *rest) core(width float64) (pieces [][]edge, err error) {
	narrowed, err := r.metal.Grown(-width/2, restChord)
	if err != nil {
		return nil, err
	}
	for _, rings := range narrowed.Pieces() {
		var all []edge
		for _, ring := range rings {
			all = append(all, edges(ring)...)
		}
		if r.apart(rings[0], all) <= width/2+rootSlack {
			pieces = append(pieces, all)
		}
	}
	return pieces, nil
}

// apart returns the distance of a piece of narrowed metal from the root.
func (r *rest) apart(outline []r2.Point, all []edge) float64 {
	near := newNearest(all)
	if !r.root.Kingpin {
		return near.toSegment(r.root.Edge[0], r.root.Edge[1])
	}
	d, _ := near.to(r2.Point{})
	if r.bore == 0 && planar.Inside(outline, r2.Point{}) {
		return 0
	}
	return math.Max(d-r.bore, 0)
}

// carries reports whether metal at least so wide leads from the root to a patch: whether a disc of that diameter can be moved
// within the metal from the root to the patch, or as near to it as to the corner of a right angle.
func (r *rest) carries(patch *nearest, width float64) (ok bool, err error) {
	pieces, err := r.core(width)
	if err != nil {
		return false, err
	}
	for _, piece := range pieces {
		for _, e := range piece {
			if patch.toSegment(e[0], e[1]) <= rightAngle*width/2+rootSlack {
				return true, nil
			}
		}
	}
	return false, nil
}

const (
	widest    = 100.0 // that a width is told, mm
	widthStep = 0.05  // within which it is found, mm
)

// width returns the greatest width at which the rest carries a patch, mm.
func (r *rest) width(patch *nearest) (float64, error) {
	low, high := 0.0, widest
	for high-low > widthStep {
		mid := (low + high) / 2
		if low == 0 && high == widest {
			mid = 2 * DefaultWidth
		}
		ok, err := r.carries(patch, mid)
		switch {
		case err != nil:
			return 0, err
		case ok:
			low = mid
		default:
			high = mid
		}
	}
	return low, nil
}

// neck returns the least width of metal on the way from what of the plate, inside an outline, an obstacle meets at a column angle to
// the plate's root, mm.
func (p *plate) neck(outline []r2.Point, obstacle int, column s1.Angle) (float64, error) {
	r, err := p.rest(outline)
	if err != nil {
		return 0, err
	}
	patch, err := p.patch(r.metal, obstacle, column)
	if err != nil {
		return 0, err
	}
	return r.width(newNearest(edgesOf(patch)))
}

// ahead is how far beyond a column angle metal is looked for that takes the blow there.
const ahead = 0.5 * s1.Degree

// patch returns the metal of what is left that an obstacle meets next beyond a column angle, signed.
func (p *plate) patch(left region.Region, obstacle int, column s1.Angle) (patch region.Region, err error) {
	pose, ok := p.model.Linkage.Pose(column + s1.Angle(math.Copysign(float64(ahead), float64(column))))
	if !ok {
		return patch, nil
	}
	scene := p.model.Scene
	motion := p.home.After(scene.Motion(p.body, &pose).Inverse()).After(scene.Motion(scene.Pieces[obstacle].Body, &pose))
	var all []region.Region
	for i := range scene.Pieces[obstacle].Solids {
		s := p.section(&scene.Pieces[obstacle].Solids[i], motion, 0)
		if s.passes() >= 0 {
			continue
		}
		met, err := left.Common(region.Of(s.outline(curveChord)))
		if err != nil {
			return patch, err
		}
		all = append(all, met)
	}
	return region.Union(all...)
}

// ring edges of a region.
func edgesOf(r region.Region) (all []edge) {
	for _, ring := range r.Rings() {
		all = append(all, edges(ring)...)
	}
	return all
}
