// Package neck answers how wide a plate is between where it takes a blow and what it hangs on, and so whether it can be a
// stop: the axes of the plate's own plane, millimetres.
package neck

import (
	"math"
	"slices"

	"github.com/golang/geo/r2"

	"locksweep/geometry/clearance"
	"locksweep/geometry/planar"
	"locksweep/geometry/region"
	"locksweep/geometry/rigid"
	"locksweep/geometry/setup"
	"locksweep/geometry/solid"
)

// DefaultLeast is the least width of metal that counts as a stop where the file gives none, mm (common practice, no source).
const DefaultLeast = 6.0

// Least returns the least width of a part that counts as a stop, mm.
func Least(part *setup.Part) float64 {
	if part.MinWidth > 0 {
		return part.MinWidth
	}
	return DefaultLeast
}

// Judged reports whether the file says enough of a piece to tell how wide it is: that it is a plate marked stop or grind, or one with a
// root or a least width.
func Judged(p *clearance.Piece) bool {
	return p.Flat != nil && p.Part != nil && (p.Part.Stop || p.Part.Grind || p.Part.MinWidth > 0 || len(p.Part.Root) > 0)
}

const (
	chord      = 0.02   // of the curves of narrowed metal, mm
	sectionErr = 0.01   // of what a solid fills of the plate, mm
	outlineErr = 0.0025 // by which the outline may lose points, mm
	rootSlack  = 0.1    // by which metal may miss its root, mm: those chords, and root given by hand
	rightAngle = math.Sqrt2
)

// Metal is the metal of a plate as one that takes a blow.
type Metal struct {
	Region region.Region // without the bore
	root   Root
	bore   float64    // radius, mm
	stages []narrowed // an outline of many corners
}

// narrowed is the metal less so much all round.
type narrowed struct {
	by     float64 // mm
	region region.Region
}

// New prepares the metal inside an outline, which runs counter-clockwise.
func New(outline []r2.Point, root Root, bore float64) (m Metal, err error) {
	thin := planar.ThinRing(outline, outlineErr)
	m = Metal{Region: region.Of(thin), root: root, bore: bore / 2}
	if m.Region.Empty() {
		thin, m.Region = outline, region.Of(outline)
	}
	if m.Region, err = m.bored(m.Region); err != nil {
		return m, err
	}
	return m, m.stage(thin)
}

// bored returns metal less the bore.
func (m *Metal) bored(metal region.Region) (region.Region, error) {
	if m.bore == 0 {
		return metal, nil
	}
	return metal.Minus(region.Of(planar.Circle(r2.Point{}, m.bore, around)))
}

// From manyCorners on an outline is narrowed by steps, the first of firstStep, mm, and each twice the last: at once, teeth by the thousand
// would each be held against all others, and after the first step there are none. What two steps take away is what one as
// large as both does.
const (
	manyCorners = 300
	firstStep   = 0.01
)

// stage narrows an outline of many corners by steps, until it has few or nothing is left.
func (m *Metal) stage(outline []r2.Point) error {
	at := narrowed{region: m.Region}
	if len(outline) > manyCorners {
		if plain := region.Of(planar.ThinRing(blunt(outline), outlineErr)); !plain.Empty() {
			var err error
			if at.region, err = m.bored(plain); err != nil {
				return err
			}
			m.stages = append(m.stages, at)
		}
	}
	for step := firstStep; len(edges(at.region.Rings())) > manyCorners && at.by+step < widest/2; step *= 2 {
		next, err := at.region.Grown(-step, chord/stageShare)
		if err != nil {
			return err
		}
		if at = (narrowed{at.by + step, next}); len(at.region.Pieces()) == 1 && len(at.region.Rings()) == 1 { // what is left of teeth is all but straight
			if thin := region.Of(planar.ThinRing(at.region.Rings()[0], outlineErr)); !thin.Empty() {
				at.region = thin
			}
		}
		m.stages = append(m.stages, at)
	}
	return nil
}

const (
	thinTooth = 0.04 // of what is left out of an outline, mm: no disc of a width that is told goes in there
	tipCorner = 4    // corners that the tip of one may have
)

// blunt leaves the tips of teeth out of an outline, counter-clockwise: corners that stand out between two that are no further apart than
// thinTooth.
func blunt(outline []r2.Point) (left []r2.Point) {
	n := len(outline)
	for i := 0; i < n; i++ {
		from := outline[i]
		left = append(left, from)
		for k := min(tipCorner+1, n-1-i); k > 1; k-- {
			to := outline[i+k]
			if to.Sub(from).Norm() <= thinTooth && !slices.ContainsFunc(outline[i+1:i+k], func(p r2.Point) bool { return planar.Orient(from, to, p) >= 0 }) {
				i += k - 1
				break
			}
		}
	}
	return left
}

// stageShare is by how much finer steps are than chord, so that all of them stay within it.
const stageShare = 8

// narrowed returns the metal less so much all round, mm.
func (m *Metal) narrowed(by float64) (region.Region, error) {
	from := narrowed{region: m.Region}
	for _, s := range m.stages {
		if s.by <= by {
			from = s
		}
	}
	return from.region.Grown(from.by-by, chord)
}

// around is how many corners a bore has, within chord.
const around = 96

// Carries reports whether metal at least so wide leads from the root to a patch: whether a disc of that diameter can be moved
// within the metal from the root to the patch, or as near to it as to the corner of a right angle. Its middle may lie in the metal, narrowed
// by half of it, as far as that hangs together with the root.
func (m *Metal) Carries(patch *planar.Nearest, width float64) (bool, error) {
	metal, err := m.narrowed(width / 2)
	if err != nil {
		return false, err
	}
	for _, rings := range metal.Pieces() {
		all := edges(rings)
		rooted := m.apart(rings[0], all) <= width/2+rootSlack
		if rooted && slices.ContainsFunc(all, func(e planar.Edge) bool { return patch.ToSegment(e[0], e[1]) <= reach(width) }) {
			return true, nil
		}
	}
	return false, nil
}

// apart returns the distance of a piece of narrowed metal from the root.
func (m *Metal) apart(outline []r2.Point, all []planar.Edge) float64 {
	near := planar.NewNearest(all)
	if !m.root.Kingpin {
		return near.ToSegment(m.root.Edge[0], m.root.Edge[1])
	}
	d, _ := near.To(r2.Point{})
	if m.bore == 0 && planar.Inside(outline, r2.Point{}) {
		return 0
	}
	return math.Max(d-m.bore, 0)
}

// reach is how near a disc has to come to metal that it carries: as near as to the corner of a right angle.
func reach(width float64) float64 { return rightAngle*width/2 + rootSlack }

const (
	widest = 100.0 // that a width is told, mm
	// Step is within what a width is found, mm.
	Step = 0.05
)

// Width returns the greatest width at which the metal carries a patch, mm; NaN with an error.
func (m *Metal) Width(patch *planar.Nearest) (float64, error) {
	low, high := 0.0, widest
	for high-low > Step {
		mid := (low + high) / 2
		if low == 0 && high == widest {
			mid = 2 * DefaultLeast
		}
		ok, err := m.Carries(patch, mid)
		switch {
		case err != nil:
			return math.NaN(), err
		case ok:
			low = mid
		default:
			high = mid
		}
	}
	return low, nil
}

// Met returns the metal of a plate that another piece reaches into, moved into the plate's axes.
func (m *Metal) Met(plate *clearance.Flat, other *clearance.Piece, motion rigid.Motion) (met region.Region, err error) {
	var all []region.Region
	for i := range other.Solids {
		s := Section(plate, &other.Solids[i], motion, 0)
		if s.Passes() >= 0 {
			continue
		}
		one, err := m.Region.Common(region.Of(s.Outline(sectionErr)))
		if err != nil {
			return met, err
		}
		all = append(all, one)
	}
	return region.Union(all...)
}

// Section is what a solid, moved into a plate's axes and grown by a gap (mm), fills between the plate's faces. What slides on a face
// touches the plate, in a sweep as here, so the faces are taken that much further apart.
func Section(plate *clearance.Flat, s *solid.Solid, motion rigid.Motion, gap float64) solid.Section {
	return solid.Section{Solid: s.Under(motion), Grown: gap, Lower: plate.Lower - clearance.Touching, Upper: plate.Upper + clearance.Touching}
}

// Edges returns the edges of all outlines and holes of a region.
func Edges(r region.Region) []planar.Edge { return edges(r.Rings()) }

func edges(rings [][]r2.Point) (all []planar.Edge) {
	for _, ring := range rings {
		all = append(all, planar.Edges(ring)...)
	}
	return all
}
