package grind

import (
	"math"
	"slices"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/geometry/clearance"
	"locksweep/geometry/linkage"
	"locksweep/geometry/neck"
	"locksweep/geometry/planar"
	"locksweep/geometry/region"
	"locksweep/geometry/rigid"
	"locksweep/geometry/solid"
	"locksweep/geometry/sweep"
)

// plate is a piece that metal may be taken off, in its own plane.
type plate struct {
	piece    int // of the scene
	flat     *clearance.Flat
	body     linkage.Body
	home     rigid.Motion // vehicle axes into the plate's, straight ahead
	metal    region.Region
	box      r2.Rect // of the metal
	others   []int   // pieces that may hit it
	model    *sweep.Model
	stops    int // the obstacle that it is the stop against; -1: none
	root     neck.Root
	width    float64                  // least that counts as a stop, mm
	past     Past                     // why it stops the wheels only past the target
	sections map[sectionKey]*sections // of obstacles that turn about the plate's normal, by what they depend on
}

type sectionKey struct {
	piece      int
	gap, chord float64
}

// sections are the outlines of what a piece, grown by a gap, fills between a plate's faces straight ahead: of each of its convex solids by itself, and
// joined as far as that leaves no holes.
type sections struct{ apart, joined [][]r2.Point }

func newPlate(m *sweep.Model, piece int, others []int) *plate {
	p := &m.Scene.Pieces[piece]
	return &plate{
		piece: piece, flat: p.Flat, body: p.Body, home: p.Flat.Place.Inverse(), model: m,
		metal: region.Of(p.Flat.Outline), box: r2.RectFromPoints(p.Flat.Outline...), others: others,
		sections: map[sectionKey]*sections{}, stops: -1,
	}
}

// settle notes what the plate stops, what it hangs on and how wide it has to be.
func (p *plate) settle(ways [2]*way) {
	for _, w := range ways {
		if w.own == nil || p.stops >= 0 {
			continue
		}
		if o, ok := p.meets(w.own.Pair); ok {
			p.stops = o
		}
	}
	p.width, p.root = neck.Least(p.model.Scene.Pieces[p.piece].Part), p.rootOf()
}

// swept returns areas of the plate's plane that metal must leave for a piece to pass by a gap, mm, while the column turns from one angle to
// another, signed: all that the piece, grown by the gap, fills between the plate's faces as seen from the plate, in chords that stay within chord, mm,
// as far as it is near the metal. What only ever passes over or under the plate is left to pass as near as it does.
func (p *plate) swept(piece int, from, to s1.Angle, gap, chord float64) (areas []region.Region, err error) {
	other := &p.model.Scene.Pieces[piece]
	if spin, ok := p.spin(other.Body, from, to); ok {
		s, err := p.sectionsOf(piece, gap, chord)
		if err != nil {
			return nil, err
		}
		if areas, err = p.near(p.turns(s.joined, &spin, chord)); err != nil { // rounding may let a joined outline cross itself
			areas, err = p.near(p.turns(s.apart, &spin, chord))
		}
		return areas, err
	}
	var outlines [][]r2.Point
	for i := range other.Solids {
		outlines = append(outlines, p.movedSections(&other.Solids[i], other.Body, from, to, gap, chord)...)
	}
	return p.near(outlines)
}

// struck returns what an obstacle, grown by gap, meets of metal of the plate while the column turns from straight ahead to an angle: see swept.
func (p *plate) struck(metal region.Region, obstacle int, to s1.Angle, gap, chord float64) (met region.Region, err error) {
	areas, err := p.swept(obstacle, 0, to, gap, chord)
	if err != nil {
		return met, err
	}
	return metal.Met(areas...)
}

// near returns the areas of those outlines that come near the metal.
func (p *plate) near(outlines [][]r2.Point) (areas []region.Region, err error) {
	for _, o := range outlines {
		if !r2.RectFromPoints(o...).Intersects(p.box) {
			continue
		}
		area := region.Of(o)
		if area.Empty() && math.Abs(planar.Area(o)) > 1e-6 {
			return nil, errSwept
		}
		areas = append(areas, area)
	}
	return areas, nil
}

// turns returns the outlines of what sections sweep that turn about the plate's normal.
func (p *plate) turns(sections [][]r2.Point, s *spin, chord float64) (outlines [][]r2.Point) {
	for _, section := range sections {
		if p.reaches(section, s.centre) {
			outlines = append(outlines, turned(section, s.centre, s.from, s.to, chord)...)
		}
	}
	return outlines
}

// spin is a turn in the plate's plane.
type spin struct {
	centre   r2.Point
	from, to float64 // radians from the straight-ahead pose of the file, in the sense of the plane's axes; from ≤ to
}

// spin returns the turn of a body as seen from the plate, if it is one about the plate's normal: one of
// the two stands on the frame and the other turns about an axis square to the plate.
func (p *plate) spin(other linkage.Body, from, to s1.Angle) (s spin, ok bool) {
	moving, sense := other, 1.0
	if other == linkage.Frame {
		moving, sense = p.body, -1
	} else if p.body != linkage.Frame {
		return s, false
	}
	axis, ok := p.model.Linkage.Axis(moving)
	if !ok {
		return s, false
	}
	dir, at := p.home.Direction(axis.Dir), p.home.Point(axis.Point)
	if math.Hypot(dir.X, dir.Y) > 1e-9 {
		return s, false
	}
	// Seen in left-handed axes a turn runs the other way.
	t := p.home.Turn
	sense *= math.Copysign(1, dir.Z) * math.Copysign(1, t[0].Cross(t[1]).Dot(t[2]))
	a, b := sense*p.angle(moving, from), sense*p.angle(moving, to)
	return spin{r2.Point{X: at.X, Y: at.Y}, math.Min(a, b), math.Max(a, b)}, true
}

// angle returns the angle of a spindle or of the column at a column angle, radians.
func (p *plate) angle(b linkage.Body, column s1.Angle) float64 {
	if b == linkage.Input {
		return float64(column)
	}
	pose, _ := p.model.Linkage.Pose(column)
	return float64(pose.Sides[b-linkage.LeftSpindle].Spindle)
}

// sectionsOf returns the sections of a piece. What they sweep has to be joined time and again, so the fewer there are the better.
func (p *plate) sectionsOf(piece int, gap, chord float64) (*sections, error) {
	key := sectionKey{piece, gap, chord}
	if known, ok := p.sections[key]; ok {
		return known, nil
	}
	of := &sections{}
	var areas []region.Region
	for i := range p.model.Scene.Pieces[piece].Solids {
		s := p.section(&p.model.Scene.Pieces[piece].Solids[i], p.home, gap)
		if s.Passes() >= 0 {
			continue
		}
		if outline := s.Outline(chord); outline != nil {
			of.apart, areas = append(of.apart, outline), append(areas, region.Of(outline))
		}
	}
	all, err := region.Union(areas...)
	if err != nil {
		return nil, err
	}
	const same = 1e-6 // mm
	for _, rings := range all.Pieces() {
		if len(rings) > 1 { // a hole
			of.joined = of.apart
			break
		}
		of.joined = append(of.joined, planar.Spaced(rings[0], same))
	}
	p.sections[key] = of
	return of, nil
}

// reaches reports whether an outline that turns about a centre can come to the metal at all.
func (p *plate) reaches(outline []r2.Point, centre r2.Point) bool {
	far := 0.0
	for _, v := range p.box.Vertices() {
		far = math.Max(far, v.Sub(centre).Norm())
	}
	near := math.Inf(1)
	for i, a := range outline {
		d, _ := planar.ToSegment(centre, a, outline[(i+1)%len(outline)])
		near = math.Min(near, d)
	}
	return near < far || planar.Inside(outline, centre)
}

// section is what a solid fills between the plate's faces.
func (p *plate) section(s *solid.Solid, motion rigid.Motion, gap float64) solid.Section {
	return neck.Section(p.flat, s, motion, gap)
}

// A motion that is no plain turn is followed in steps, and the hull of the sections at both ends stands for what a solid sweeps on a step. It
// leaves out less than a thousandth of a millimetre and takes at most hullSurplus too much, where an edge turns over itself.
const (
	hullSurplus = 0.008 // mm
	fineness    = 0.002 // of a clearance, where that is more: nobody files to that
	longestStep = 2.0   // mm
	firstStep   = 2 * s1.Degree
	stepDepth   = 12 // halvings of it at most
)

// movedSections returns outlines that together are what one solid sweeps near the plate in any motion, in small steps.
func (p *plate) movedSections(s *solid.Solid, body linkage.Body, from, to s1.Angle, gap, chord float64) (hulls [][]r2.Point) {
	chord = math.Max(chord, fineness*gap/4)
	w := walk{plate: p, solid: s, body: body, gap: gap}
	n := int(math.Ceil(float64((to - from).Abs() / firstStep)))
	at := w.at(from)
	for i := range n {
		next := w.at(from + (to-from)*s1.Angle(i+1)/s1.Angle(n))
		w.between(&at, &next, stepDepth)
		at = next
	}
	if !slices.ContainsFunc(w.near, func(m moved) bool { return m.section.Passes() < 0 }) {
		return nil
	}
	nearby := func(m *moved) []r2.Point { return m.section.OutlineIn(p.box.ExpandedByMargin(longestStep+1), chord) }
	var a, b []r2.Point
	for i := 0; i < len(w.near); i += 2 {
		from, to := &w.near[i], &w.near[i+1]
		if a = b; i == 0 || from.column != w.near[i-1].column {
			a = nearby(from)
		}
		b = nearby(to)
		if hull := planar.Hull(slices.Concat(a, b)); len(hull) >= 3 {
			hulls = append(hulls, hull)
		}
	}
	return hulls
}

// walk follows a solid as seen from a plate.
type walk struct {
	plate *plate
	solid *solid.Solid
	body  linkage.Body
	gap   float64
	near  []moved // pairs of poses between which the solid may come nearer than gap
}

// moved is a solid at a pose, in the plate's axes.
type moved struct {
	column  s1.Angle
	motion  rigid.Motion
	apart   float64 // from the plate, mm
	section solid.Section
}

// at returns the solid at a column angle.
func (w *walk) at(column s1.Angle) moved {
	pose, _ := w.plate.model.Linkage.Pose(column)
	scene := w.plate.model.Scene
	own := scene.Motion(w.plate.body, &pose)
	m := moved{column: column, motion: w.plate.home.After(own.Inverse()).After(scene.Motion(w.body, &pose)), apart: math.Inf(1)}
	metal := scene.Pieces[w.plate.piece].Solids
	for i := range metal {
		d, _, _ := solid.Distance(&metal[i], w.solid, w.plate.home, m.motion)
		m.apart = math.Min(m.apart, d)
	}
	m.section = w.plate.section(w.solid, m.motion, w.gap)
	return m
}

// between notes the steps between two poses on which the solid may come nearer than the gap: on the way the distance falls under the mean of that at
// both ends by no more than half of what the solid travels.
func (w *walk) between(a, b *moved, depth int) {
	travel, turn := travelled(w.solid, &a.motion, &b.motion)
	if (a.apart+b.apart-1.1*travel)/2 > w.gap+0.05 {
		return
	}
	if depth > 0 && (travel > longestStep || turn*w.plate.box.Size().Norm()/4 > math.Max(hullSurplus, fineness*w.gap)) {
		mid := w.at((a.column + b.column) / 2)
		w.between(a, &mid, depth-1)
		w.between(&mid, b, depth-1)
		return
	}
	w.near = append(w.near, *a, *b)
}

// travelled returns bounds of how far a solid's points move from one motion to another, mm, and of the angle by which it turns, radians.
func travelled(s *solid.Solid, a, b *rigid.Motion) (travel, turn float64) {
	low, high := s.Box(rigid.Identity)
	for i := range 8 {
		end := [2]r3.Vector{low, high}
		corner := r3.Vector{X: end[i&1].X, Y: end[i>>1&1].Y, Z: end[i>>2].Z}
		travel = math.Max(travel, a.Point(corner).Sub(b.Point(corner)).Norm())
	}
	for i := range 3 {
		turn = math.Max(turn, a.Turn[i].Sub(b.Turn[i]).Norm())
	}
	return travel, turn
}
