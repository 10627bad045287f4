package grind

import (
	"slices"

	"github.com/golang/geo/r2"

	"locksweep/geometry/neck"
	"locksweep/geometry/planar"
	"locksweep/geometry/region"
	"locksweep/geometry/sweep"
)

// Tip is metal that a cut would leave thinner than half of what counts as a stop: a hook round an obstacle, a sharp wedge. It bends or
// breaks off (common practice, no source).
type Tip struct {
	At  r2.Point // its end, in the plate's plane, mm
	Off bool     // it is cut away too; else it stays, for the sake of the stop or of what must stay
}

// tip is a Tip with its metal.
type tip struct {
	at    r2.Point
	metal region.Region
}

// leastTip is the area of thin metal that is looked at, mm²: less is the burr of an edge.
const leastTip = 0.5

// thin returns the metal inside an outline that no disc of a diameter across, mm, gets to, and the edges of the body that it gets to.
func thin(outline []r2.Point, across float64) (rest region.Region, body *planar.Nearest, err error) {
	metal := region.Of(planar.ThinRing(outline, curveChord/4))
	broad, err := metal.Grown(-across/2, curveChord)
	if err == nil {
		broad, err = broad.Grown(across/2+curveChord, curveChord)
	}
	if err != nil {
		return rest, nil, err
	}
	rest, err = metal.Minus(broad)
	return rest, planar.NewNearest(neck.Edges(broad)), err
}

// tips returns the thin metal that the cut has made.
func (c *Cut) tips() (tips []tip, err error) {
	across := c.LeastWide / 2
	now, body, err := thin(c.After, across)
	if err != nil || len(body.Edges) == 0 {
		return nil, err
	}
	was, _, err := thin(c.Before, across)
	if err != nil {
		return nil, err
	}
	for _, rings := range now.Pieces() {
		one := tip{metal: region.Of(rings[0])}
		furthest := across / 2 // as the corner of a wedge of 60 degrees from the disc that gets furthest into it
		sharp := false
		for _, q := range rings[0] {
			if d, _ := body.To(q); d > furthest {
				one.at, furthest, sharp = q, d, true
			}
		}
		made, err := one.metal.Minus(was)
		if err != nil {
			return nil, err
		}
		if sharp && made.Area() > leastTip {
			tips = append(tips, one)
		}
	}
	return tips, nil
}

// without returns a cut that takes tips off as well; nil where too little would be left.
func (p *plate) without(c *Cut, tips []tip) (*Cut, error) {
	var off []region.Region
	for _, t := range tips {
		off = append(off, t.metal)
	}
	more, err := p.lessened(c, off)
	for i := 0; more != nil && i < len(tips); i++ {
		more.Tips = append(more.Tips, Tip{At: tips[i].at, Off: true})
	}
	return more, err
}

// trim takes off the tips that the cuts would leave, as far as every stop stays where it is then: all of them or, where that does not do, one by
// one. Cuts list the tips that stay too.
func (j *job) trim() error {
	tips := make([][]tip, len(j.Cuts))
	any := false
	for i, c := range j.Cuts {
		var err error
		if tips[i], err = c.tips(); err != nil {
			return err
		}
		any = any || len(tips[i]) > 0
	}
	if !any {
		return nil
	}
	if done, err := j.trimmed(tips); done || err != nil {
		return err
	}
	for i, list := range tips {
		for k, t := range list {
			one := make([][]tip, len(tips))
			one[i] = list[k : k+1]
			if done, err := j.trimmed(one); err != nil {
				return err
			} else if !done {
				j.Cuts[i].Tips = append(j.Cuts[i].Tips, Tip{At: t.at})
			}
		}
	}
	return nil
}

// trimmed takes tips, by cut, off a plan, and reports whether it then holds as it did; where not, the plan is left as it was.
func (j *job) trimmed(tips [][]tip) (done bool, err error) {
	return j.tried(func(i int, c *Cut) (*Cut, error) {
		if len(tips[i]) == 0 {
			return c, nil
		}
		return j.plate(c.Piece).without(c, tips[i])
	})
}

// tried replaces the cuts of a plan by others, and reports whether it then holds as it did; where not, or where one of them is nil, the plan is
// left as it was.
func (j *job) tried(other func(i int, c *Cut) (*Cut, error)) (done bool, err error) {
	before := *j.Plan
	defer func() {
		if !done {
			j.Cuts, j.After, j.Locks = before.Cuts, before.After, before.Locks
		}
	}()
	j.Cuts = slices.Clone(j.Cuts)
	for i, c := range j.Cuts {
		if j.Cuts[i], err = other(i, c); err != nil || j.Cuts[i] == nil {
			return false, err
		}
	}
	if err := j.prove(); err != nil || j.unsound() != [2]bool{} {
		return false, err
	}
	return j.unmoved(&before)
}

// unmoved reports whether a plan stops the wheels where another one does, by metal that holds as well.
func (j *job) unmoved(before *Plan) (bool, error) {
	for _, d := range sweep.Directions {
		lock := &j.Locks[d]
		if (lock.Column - before.Locks[d].Column).Abs() > over/20 {
			return false, nil
		}
		if plate, obstacle := j.touched(lock.First()); plate != nil && j.roles[d] == isStop {
			if holds, err := plate.holds(j.outline(plate), obstacle, lock.Column); !holds || err != nil {
				return false, err
			}
		}
	}
	return true, nil
}
