// Package neck answers how wide a plate is between where it takes a blow and what it hangs on, and so whether it can be a
// stop. Points are in the axes of the plate's own plane, lengths in millimetres.
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

// Judged reports whether the width of a piece is to be judged: whether it is a plate marked stop or grind, or one that has a root or a least
// width in the file.
func Judged(p *clearance.Piece) bool {
	return p.Flat != nil && p.Part != nil && (p.Part.Stop || p.Part.Grind || p.Part.MinWidth > 0 || len(p.Part.Root) > 0)
}

const (
	chord      = 0.02   // by how much the curves of narrowed metal may be off, mm
	sectionErr = 0.01   // and the outline of what a solid fills of the plate, mm
	outlineErr = 0.0025 // and an outline for want of the points that were left out, mm
	rootSlack  = 0.1    // by how much metal may miss its root, mm: for those chords, and for a root that was measured by hand
)

// Metal is what is needed of a plate's metal to tell how wide it is.
type Metal struct {
	Region region.Region // without the bore
	root   Root
	bore   float64    // radius, mm
	stages []narrowed // of an outline of many corners, the least narrowed first
}

// narrowed is metal from which a margin has been taken off all round.
type narrowed struct {
	by     float64 // mm
	region region.Region
}

// New prepares the metal inside an outline, which runs counter-clockwise, less a bore about the origin of a diameter, mm, which may be 0.
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

// bored returns metal without the bore.
func (m *Metal) bored(metal region.Region) (region.Region, error) {
	if m.bore == 0 {
		return metal, nil
	}
	return metal.Minus(region.Of(planar.Circle(r2.Point{}, m.bore, around)))
}

// Steps by which an outline of many corners is narrowed. The time of one step goes with the square of the corners, which on a ragged edge are
// thousands; a first small step leaves few of them. Two steps take away what one as large as both does.
const (
	manyCorners = 300  // from which on it is narrowed so
	firstStep   = 0.01 // mm; each one after it is twice the last
	stageShare  = 8    // by how much finer the curves of a step are than chord, so that all steps together stay within chord
)

// stage narrows an outline of many corners step by step, until it has few or nothing is left.
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
		at = narrowed{at.by + step, next}
		if rings := next.Rings(); len(rings) == 1 { // a ragged edge is all but straight now
			if thin := region.Of(planar.ThinRing(rings[0], outlineErr)); !thin.Empty() {
				at.region = thin
			}
		}
		m.stages = append(m.stages, at)
	}
	return nil
}

const (
	thinTooth = 0.04 // width under which a tooth of an outline is left out, mm: no disc of a width that is told goes in there
	tipCorner = 4    // corners that the tip of one may have
)

// blunt leaves the tips of narrow teeth out of an outline, counter-clockwise: up to tipCorner corners that all stand out between two that are
// no further apart than thinTooth.
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

// narrowed returns the metal without a margin of a width all round, mm.
func (m *Metal) narrowed(by float64) (region.Region, error) {
	from := narrowed{region: m.Region}
	for _, s := range m.stages {
		if s.by <= by {
			from = s
		}
	}
	return from.region.Grown(from.by-by, chord)
}

// around is how many corners a bore has: so many that its outline is within chord.
const around = 96

// Carries reports whether metal at least of a width, mm, leads from the root to a patch: whether a disc of that diameter can be moved within
// the metal from the root to the patch, or as near to it as such a disc comes to the corner of a right angle. The middle of the disc can be
// where the metal narrowed by half of the width hangs together with the root.
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

// apart returns the distance of a piece of narrowed metal from the root, mm: outline is its outline, and all has the edges of its holes too.
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

// reach returns how near the middle of a disc of a width has to come to a patch, mm: as near as it comes to the corner of a right angle.
func reach(width float64) float64 { return math.Sqrt2*width/2 + rootSlack }

// widest is the greatest width that is told, mm.
const widest = 100.0

// Step is how near Width comes to the true width, mm.
const Step = 0.05

// Width returns the greatest width at which the metal carries a patch, mm, from 0 to 100, at most Step too little; NaN with an error.
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

// Met returns the metal of a plate that another piece reaches into, once a motion has taken that piece into the plate's axes.
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

// Section returns what a solid, moved into a plate's axes and grown by a gap (mm), fills between the plate's faces. The faces are taken apart
// by clearance.Touching on either side, since a solid that slides on a face touches the plate, in a sweep as here.
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
