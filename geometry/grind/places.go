package grind

import (
	"math"
	"slices"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"locksweep/geometry/planar"
	"locksweep/geometry/region"
	"locksweep/geometry/sweep"
)

const (
	// onFace is how far the point where a stop touches may lie from the face that was ground for it, mm: by the gap that is kept there and
	// the chords of both outlines.
	onFace = 0.25
	// moreArea is how much metal, beyond what goes for the stop, counts as cut for a clearance, mm².
	moreArea = 0.05
)

// placesOf fills in what each bite of a cut is for, a stop or clearances, and how deep the cut is at the stop.
func (j *job) placesOf(c *Cut) error {
	plate := j.plate(c.Piece)
	rest := plate.metal // and then without what goes for the stops alone
	for _, d := range sweep.Directions {
		if !c.Stops[d] || j.roles[d] != isStop {
			continue
		}
		own, err := j.stopPlace(c, d)
		if err != nil {
			return err
		}
		if rest, err = rest.Common(region.Of(own.After)); err != nil {
			return err
		}
	}
	c.deepestFirst()
	box := r2.RectFromPoints(c.Before...)
	for i := range c.Bites {
		b := &c.Bites[i]
		b.towards(box)
		b.Tip = slices.ContainsFunc(c.Tips, func(t Tip) bool { return t.Off && first(planar.NearRing(b.Rings[0]).To(t.At)) <= onFace })
	}
	return j.clearedBy(c, rest)
}

// stopPlace fills in where a cut plate is the stop in a direction and how deep the cut is there, and returns the cut that would do for that stop
// alone.
func (j *job) stopPlace(c *Cut, d sweep.Direction) (own *Cut, err error) {
	first := j.Locks[d].First()
	plate, obstacle := j.touched(first)
	own, err = plate.cut(j.ends, func(o int, way sweep.Direction) float64 {
		if o != obstacle || way != d {
			return math.NaN()
		}
		return j.gap(c.Piece, o, way)
	}, DefaultChord)
	if err != nil {
		return nil, err
	}
	at := plate.seen(j.Plan, first)
	c.alone[d] = own.Depth
	alone := biteAt(own.Bites, at)
	if alone != nil {
		c.alone[d] = alone.Depth
	}
	c.StopDepth[d] = c.alone[d]
	if b := biteAt(c.Bites, at); b != nil {
		b.Stops[d] = true
		c.Faces[d], err = plate.face(c, b, alone, at, obstacle, first.Column)
		c.StopDepth[d] = c.Faces[d].Depth
		b.deepen(&c.Faces[d])
	}
	return own, err
}

// clearedBy notes which obstacles take metal of each bite beyond what goes for the stops alone. rest is the metal without that.
func (j *job) clearedBy(c *Cut, rest region.Region) error {
	plate := j.plate(c.Piece)
	for _, o := range c.Obstacles {
		for _, d := range sweep.Directions {
			gap := j.gap(c.Piece, o, d)
			if math.IsNaN(gap) {
				continue
			}
			more, err := plate.struck(rest, o, j.ends[d], gap, DefaultChord)
			if err != nil {
				return err
			}
			for i := range c.Bites {
				b := &c.Bites[i]
				took, err := more.Common(region.Of(b.Rings[0]))
				if err != nil {
					return err
				}
				if took.Area() > moreArea && !slices.Contains(b.Clears, o) {
					b.Clears = append(b.Clears, o)
				}
			}
		}
	}
	return nil
}

// seen returns where a plate is touched at a limit, in its own plane, mm.
func (p *plate) seen(plan *Plan, l *sweep.Limit) r2.Point {
	pose, _ := plan.After.Linkage.Pose(l.Column)
	home := p.model.Scene.Motion(p.body, &pose).Inverse()
	q := p.home.Point(home.Point(l.Point))
	return r2.Point{X: q.X, Y: q.Y}
}

// biteAt returns the bite to which a point of the finished outline belongs; nil where there is none.
func biteAt(bites []Bite, at r2.Point) (found *Bite) {
	least := onFace
	for i := range bites {
		for _, ring := range bites[i].Rings {
			if d, _ := planar.NearRing(ring).To(at); d < least {
				found, least = &bites[i], d
			}
		}
	}
	return found
}

// towards fills in which way a bite lies from the middle of its plate.
func (b *Bite) towards(box r2.Rect) {
	const third = 1.0 / 3
	at := b.At[0].Add(b.At[1]).Mul(0.5).Sub(box.Lo())
	for axis, share := range [2]float64{at.X / box.X.Length(), at.Y / box.Y.Length()} {
		switch {
		case share > 1-third:
			b.Towards[axis] = 1
		case share < third:
			b.Towards[axis] = -1
		}
	}
}

// spares finds second stops that are lost only to the clearance: positive stops that would come next after the stop, before anything else touches,
// if metal were ground to pass metal with hardly a gap.
func (j *job) spares() error {
	clears := func(c *Cut) bool {
		return slices.ContainsFunc(c.Bites, func(b Bite) bool {
			return slices.ContainsFunc(b.Clears, func(o int) bool { return j.Model.Metal(pairOf(c.Piece, o)) })
		})
	}
	if j.Clear || j.Clearance <= leastGap || !slices.ContainsFunc(j.Cuts, clears) {
		return nil
	}
	cuts, bad, err := j.cuts(j.ends, func(piece, o int, d sweep.Direction) float64 {
		gap := j.gap(piece, o, d)
		if j.Model.Metal(pairOf(piece, o)) {
			gap = math.Min(gap, j.least[d])
		}
		return gap
	})
	if bad != nil || err != nil {
		return err
	}
	m, err := sweep.New(refit(j.Model, cuts))
	if err != nil {
		return nil // it cannot be built so, and nothing is lost
	}
	for _, d := range sweep.Directions {
		lock := m.Lock(d)
		if (lock.Column-j.Locks[d].Column).Abs() > over || second(j.After, &j.Locks[d]) != nil {
			continue
		}
		j.Stops[d].Spare = second(m, &lock)
	}
	return nil
}

// second returns the positive stop that comes next after the one that is the lock; nil where something else comes first.
func second(m *sweep.Model, lock *sweep.Lock) *sweep.Limit {
	if next := lock.Next(); len(lock.Chain) > 0 && m.Positive(&lock.Chain[0]) && next != nil && m.Positive(next) {
		return next
	}
	return nil
}

// Face is the stretch of a finished outline that is met at the lock, in the plate's plane, mm.
type Face struct {
	Line  []r2.Point  // of the finished outline; just the point that is touched where no more is known; nil where there is no face
	At    [2]r2.Point // a point of the finished outline and one of the old outline, as far apart as the cut is deep at the stop
	Depth float64
}

// Mark returns the point of the finished outline by which a face is named.
func (f *Face) Mark() r2.Point { return f.At[0] }

// face finds the face in a bite of a cut at which the plate stops an obstacle at a column angle: touched is the point of contact, and own the bite of
// a cut for that stop alone, nil where there is none. The depth is that of own where its floor is on the finished outline too; else the greatest
// distance of the face from the old outline of the bite.
func (p *plate) face(c *Cut, b, own *Bite, touched r2.Point, obstacle int, column s1.Angle) (Face, error) {
	left, err := p.rest(c.After)
	if err != nil {
		return Face{}, err
	}
	patch, err := p.patch(&left, obstacle, column)
	if err != nil {
		return Face{}, err
	}
	before, after := planar.NearRing(c.Before), planar.NearRing(c.After)
	_, at := after.To(touched)
	f := Face{Line: []r2.Point{at}}
	for _, ring := range patch.Rings() {
		if run := met(ring, before, after); length(run) > length(f.Line) {
			f.Line = run
		}
	}
	if own != nil {
		for i, q := range own.At {
			if d, on := after.To(q); d <= onFace/5 {
				f.At, f.Depth = [2]r2.Point{on, own.At[1-i]}, own.Depth
				return f, nil
			}
		}
	}
	old, _, both := b.sides(before, after)
	from := planar.NewNearest(slices.Concat(old, both))
	for i := range f.Line {
		if len(from.Edges) > 0 {
			furthest(from, f.Line[i], f.Line[min(i+1, len(f.Line)-1)], &f.Depth, &f.At)
		}
	}
	return f, nil
}

// met returns the longest run of a ring that lies on a finished outline and not on the old one.
func met(ring []r2.Point, before, after *planar.Nearest) (best []r2.Point) {
	var run []r2.Point
	for i := range 2 * len(ring) { // twice round, for the run that goes over the ring's first point
		a, b := ring[i%len(ring)], ring[(i+1)%len(ring)]
		mid := a.Add(b).Mul(0.5)
		if first(after.To(mid)) > onCut || first(before.To(mid)) <= onCut || len(run) > len(ring) {
			run = nil
			continue
		}
		if run == nil {
			run = []r2.Point{a}
		}
		if run = append(run, b); length(run) > length(best) {
			best = slices.Clone(run)
		}
	}
	return best
}

// onCut is how near to an outline a point of it still lies after polygon work, mm.
const onCut = 1e-3

// length returns the length of a line, mm.
func length(line []r2.Point) (sum float64) {
	for i := range line[:max(len(line)-1, 0)] {
		sum += line[i+1].Sub(line[i]).Norm()
	}
	return sum
}
