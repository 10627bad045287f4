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
	// onFace is how far the point where a stop touches may lie from the face that was ground for it, mm: the gap that is kept there and
	// the chords of both outlines.
	onFace = 0.25
	// moreArea of metal beyond what goes for the stop counts as cut for a clearance, mm².
	moreArea = 0.05
)

// placesOf fills in what each bite of a cut is for: the stop, or a clearance, and how deep it is at the stop.
func (j *job) placesOf(p *Plan, c *Cut, ends [2]s1.Angle) error {
	plate := j.plate(c.Piece)
	rest := plate.metal // but for what goes for the stops alone
	for _, d := range sweep.Directions {
		if !c.Stops[d] || j.roles[d] != isStop {
			continue
		}
		own, err := j.stopPlace(p, c, d, ends)
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
	return j.clearedBy(c, rest, ends)
}

// stopPlace fills in where a cut plate is the stop in a direction and how deep it is there, and returns the cut for that alone.
func (j *job) stopPlace(p *Plan, c *Cut, d sweep.Direction, ends [2]s1.Angle) (own *Cut, err error) {
	first := p.Locks[d].First()
	plate, obstacle := j.touched(first)
	own, err = plate.cut(ends, func(o int, way sweep.Direction) float64 {
		if o != obstacle || way != d {
			return math.NaN()
		}
		return j.gap(c.Piece, o, way)
	}, DefaultChord)
	if err != nil {
		return nil, err
	}
	at := plate.seen(p, first)
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

// clearedBy notes which obstacles take more of each bite than the stops do.
func (j *job) clearedBy(c *Cut, rest region.Region, ends [2]s1.Angle) error {
	plate := j.plate(c.Piece)
	for _, o := range c.Obstacles {
		for _, d := range sweep.Directions {
			gap := j.gap(c.Piece, o, d)
			if math.IsNaN(gap) {
				continue
			}
			areas, err := plate.swept(o, 0, ends[d], gap, DefaultChord)
			if err != nil {
				return err
			}
			all, err := region.Union(areas...)
			if err != nil {
				return err
			}
			more, err := rest.Common(all)
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

// seen returns where a plate is touched at a limit, in its own plane.
func (p *plate) seen(plan *Plan, l *sweep.Limit) r2.Point {
	pose, _ := plan.After.Linkage.Pose(l.Column)
	home := p.model.Scene.Motion(p.body, &pose).Inverse()
	q := p.home.Point(home.Point(l.Point))
	return r2.Point{X: q.X, Y: q.Y}
}

// biteAt returns the bite that a point of the finished outline belongs to; nil where it is none's.
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

// spares finds the second stops that only the clearance takes away: positive ones that would come next after the stop, before anything else
// touches, were metal ground to pass metal without it.
func (j *job) spares(p *Plan) error {
	clears := func(c *Cut) bool {
		return slices.ContainsFunc(c.Bites, func(b Bite) bool {
			return slices.ContainsFunc(b.Clears, func(o int) bool { return j.model.Metal(pairOf(c.Piece, o)) })
		})
	}
	if j.clear || j.want <= leastGap || !slices.ContainsFunc(p.Cuts, clears) {
		return nil
	}
	cuts, bad, err := j.cuts(p.ends, func(piece, o int, d sweep.Direction) float64 {
		gap := j.gap(piece, o, d)
		if j.model.Metal(pairOf(piece, o)) {
			gap = math.Min(gap, j.least[d])
		}
		return gap
	})
	if bad != nil || err != nil {
		return err
	}
	m, err := sweep.New(refit(j.model.Setup, j.model, cuts))
	if err != nil {
		return nil // no such kart, so nothing is lost
	}
	for _, d := range sweep.Directions {
		lock := m.Lock(d)
		if (lock.Column-p.Locks[d].Column).Abs() > over || second(p.After, &p.Locks[d]) != nil {
			continue
		}
		p.Stops[d].Spare = second(m, &lock)
	}
	return nil
}

// second returns the positive stop that comes next after the one that is the lock; nil where anything else comes before.
func second(m *sweep.Model, lock *sweep.Lock) *sweep.Limit {
	if next := after(lock); len(lock.Chain) > 0 && m.Positive(&lock.Chain[0]) && next != nil && m.Positive(next) {
		return next
	}
	return nil
}

// after returns what limits next after the lock; nil for nothing.
func after(lock *sweep.Lock) *sweep.Limit {
	for i := range lock.Chain {
		if (lock.Chain[i].Column - lock.Column).Abs() > nearly {
			return &lock.Chain[i]
		}
	}
	return nil
}
