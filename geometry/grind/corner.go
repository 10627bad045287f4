package grind

import (
	"cmp"
	"slices"

	"github.com/golang/geo/r2"

	"locksweep/geometry/neck"
	"locksweep/geometry/planar"
	"locksweep/geometry/region"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// Corner is an inner corner of a cut that is sharper than CornerRound: no grinding disc gets into it, and a crack begins there.
type Corner struct {
	At   r2.Point // in the plate's plane, mm
	Hole r2.Point // middle of a hole of CornerRound with its edge through the corner
	// Drill tells that the hole may be drilled before anything is ground: all of it lies in the metal as it is, far enough from edges that stay
	// and from other such holes.
	Drill bool
}

// CornerRound returns the diameter that an inner corner is drilled or filed round to, mm: 5 mm or 3/16 in (common practice, no source).
func CornerRound(u setup.Unit) float64 {
	if u == setup.Inch {
		return 3 * setup.MMPerInch / 16
	}
	return 5
}

// leastEnd is the least distance of the middle of a drilled hole from an edge, in hole diameters, and half of the least between two: what EN
// 1993-1-8:2005, table 3.3, asks of a bolt hole's end distance; it asks for a little less between two, 2.2 (memory).
const leastEnd = 1.2

// sharp is how far a corner lies at least behind the round of CornerRound to be told, mm: a corner of some 140 degrees.
const sharp = 0.15

// corners fills in the inner corners that the cut made and that are sharper than the round of a diameter, mm.
func (c *Cut) corners(across float64) error {
	rounded, err := region.Of(c.After).Grown(across/2, curveChord)
	if err == nil {
		rounded, err = rounded.Grown(-across/2, curveChord)
	}
	if err != nil {
		return err
	}
	round := planar.NewNearest(neck.Edges(rounded))
	before := planar.NearRing(c.Before)
	stays := planar.NewNearest(slices.DeleteFunc(planar.Edges(c.After), func(e planar.Edge) bool { // of the old outline
		return first(before.To(e[0].Add(e[1]).Mul(0.5))) > onLine
	}))
	deep := map[r2.Point]float64{}
	for i, q := range c.After {
		n := len(c.After)
		inner := planar.Orient(c.After[(i+n-1)%n], q, c.After[(i+1)%n]) < 0
		d, on := round.To(q)
		if !inner || d < sharp || slices.Contains(c.Before, q) {
			continue
		}
		at := Corner{At: q, Hole: q.Add(on.Sub(q).Normalize().Mul(across / 2))}
		at.Drill = planar.Inside(c.Before, at.Hole) && planar.ToEdge(c.Before, at.Hole) >= across/2
		at.Drill = at.Drill && first(stays.To(at.Hole)) >= leastEnd*across
		deep[q] = d
		if i := slices.IndexFunc(c.Corners, func(o Corner) bool { return o.At.Sub(q).Norm() < across/2 }); i < 0 {
			c.Corners = append(c.Corners, at)
		} else if d > deep[c.Corners[i].At] {
			c.Corners[i] = at
		}
	}
	for i := range c.Corners {
		near := func(o Corner) bool { return o.Drill && o.Hole.Sub(c.Corners[i].Hole).Norm() < 2*leastEnd*across }
		c.Corners[i].Drill = c.Corners[i].Drill && !slices.ContainsFunc(c.Corners[:i], near)
	}
	return nil
}

// eased returns the finished outline with its inner corners made round by their holes, which run a little into its faces.
func (c *Cut) eased(across float64) ([]r2.Point, error) {
	left := region.Of(c.After)
	for _, corner := range c.Corners {
		var err error
		if left, err = left.Minus(region.Of(planar.Circle(corner.Hole, across/2, 64))); err != nil {
			return nil, err
		}
	}
	pieces := left.Pieces()
	if len(pieces) == 0 {
		return nil, nil
	}
	return slices.MaxFunc(pieces, func(a, b [][]r2.Point) int { return cmp.Compare(planar.Area(a[0]), planar.Area(b[0])) })[0], nil
}

// ease fills in the inner corners of all cuts, and whether they may be made round: whether every lock stays where it is then, with stops as
// sound.
func (j *job) ease() error {
	across := CornerRound(j.Model.Setup.Unit)
	var holed []*Cut
	any := false
	for _, c := range j.Cuts {
		if err := c.corners(across); err != nil {
			return err
		}
		after, err := c.eased(across)
		if err != nil {
			return err
		}
		own := *c
		own.After = after
		holed, any = append(holed, &own), any || len(c.Corners) > 0
	}
	if !any {
		return nil
	}
	m, err := sweep.New(refit(j.Model, holed))
	if err != nil {
		return nil // they may not
	}
	stands := true
	for _, d := range sweep.Directions {
		lock := m.Lock(d)
		stopping, before := m.Stopping(&lock), j.After.Stopping(&j.Locks[d])
		stands = stands && (lock.Column-j.Locks[d].Column).Abs() < over/5 && slices.Equal(stopping.Faults(), before.Faults())
	}
	for _, c := range j.Cuts {
		c.Eased = stands && len(c.Corners) > 0
	}
	return nil
}
