package grind

import (
	"slices"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"locksweep/geometry/neck"
	"locksweep/geometry/planar"
	"locksweep/geometry/solid"
	"locksweep/geometry/sweep"
)

// holds reports whether the ground metal is the stop at a stage, and wide enough for it.
func (c *course) holds(s *stage, d sweep.Direction) (bool, error) {
	w := c.plan.ways[d]
	if s.bad != nil || s.columns[d].Abs() <= w.today.Abs() {
		return false, nil
	}
	for i, plate := range c.plates {
		if o, ok := plate.meets(w.own.Pair); ok {
			if holds, err := plate.holds(s.after[i], o, s.columns[d]); holds || err != nil {
				return holds, err
			}
		}
	}
	return false, nil
}

// lasts brings the most down to where ground metal holds the wheels last; a stop comes a little beyond its target.
func (c *course) lasts(d sweep.Direction, most *Most) error {
	w := c.plan.ways[d]
	switch {
	case c.limit[d].Abs() <= w.today.Abs():
		return nil // nothing may be ground for
	case w.late && (w.own == nil || c.job.clear):
		most.Column = w.today
		return nil
	case w.own == nil || c.job.clear:
		*most = Most{Column: w.today, Reason: ByNoStop, Limit: w.lock.First()}
		return nil
	}
	last := len(c.stages) - 1
	for ; last > 0; last-- { // the first stage is the present lock
		if holds, err := c.holds(c.stages[last], d); err != nil {
			return err
		} else if holds {
			break
		}
	}
	if last == len(c.stages)-1 {
		return nil // as far as it was followed
	}
	low, _, err := c.between(c.stages[last], c.stages[last+1], c.outline(w), func(s *stage) (bool, error) {
		holds, err := c.holds(s, d)
		return !holds, err
	})
	if err != nil {
		return err
	}
	*most = Most{Column: c.plan.column(d, max(c.plan.measure(d, low.columns[d])-over, 0)), Reason: ByWidth, Cut: c.owner(w)}
	end, err := c.advance(c.stages[last], c.plan.measure(d, most.Column))
	if err == nil && end.bad == nil {
		c.last[d] = []*stage{end}
	}
	return err
}

// next finds where ground metal holds the wheels again beyond a column angle, and makes that the goal.
func (c *course) next(d sweep.Direction, column s1.Angle, g *goal) (found bool, err error) {
	roles := c.job.roles
	c.job.roles = [2]role{isStop, isStop}
	defer func() { c.job.roles = roles }()
	held := func(s *stage) (bool, error) {
		if s.columns[d].Abs() <= column.Abs()+nearly {
			return false, nil
		}
		return c.holds(s, d)
	}
	for i, high := range c.stages[1:] {
		if holds, err := held(high); err != nil {
			return false, err
		} else if !holds {
			continue
		}
		if _, high, err = c.between(c.stages[i], high, c.outline(c.plan.ways[d]), held); err != nil {
			return false, err
		}
		g.aimAt(high.columns[d])
		return true, nil
	}
	return false, nil
}

// owner returns the cut of the plate that is the stop in one direction, for what is said of it.
func (c *course) owner(w *way) *Cut {
	for _, plate := range c.plates {
		if _, ok := plate.meets(w.own.Pair); ok {
			return plate.whole()
		}
	}
	return c.plates[0].whole()
}

// meets returns the obstacle of a pair that the plate belongs to.
func (p *plate) meets(pair [2]int) (other int, ok bool) {
	switch p.piece {
	case pair[0]:
		other = pair[1]
	case pair[1]:
		other = pair[0]
	default:
		return 0, false
	}
	return other, slices.Contains(p.others, other)
}

// holds reports whether what is left of a plate takes the blow of an obstacle at a column angle with metal of its least width, and
// does not only brush past it.
func (p *plate) holds(after []r2.Point, obstacle int, column s1.Angle) (bool, error) {
	if p.brushes(after, obstacle, column) {
		return false, nil
	}
	r, err := p.rest(after)
	if err != nil {
		return false, err
	}
	patch, err := p.patch(&r, obstacle, column)
	if err != nil || patch.Area() <= leastArea {
		return false, err
	}
	return r.Carries(planar.NewNearest(neck.Edges(patch)), p.width)
}

// brushes reports whether what is left of a plate only brushes past an obstacle at a column angle.
func (p *plate) brushes(after []r2.Point, obstacle int, column s1.Angle) bool {
	pieces := p.model.Scene.Pieces
	left := pieces[p.piece]
	var err error
	if left.Solids, err = solid.Plate(planar.Fewest(after, curveChord/4), p.flat.Lower, p.flat.Upper, p.flat.Place); err != nil {
		if left.Solids, err = solid.Plate(after, p.flat.Lower, p.flat.Upper, p.flat.Place); err != nil {
			return true
		}
	}
	return p.model.BrushesBy(&left, &pieces[obstacle], column)
}
