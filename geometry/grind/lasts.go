package grind

import (
	"slices"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"locksweep/geometry/linkage"
	"locksweep/geometry/neck"
	"locksweep/geometry/planar"
	"locksweep/geometry/region"
	"locksweep/geometry/solid"
	"locksweep/geometry/sweep"
)

// holds reports whether at a stage ground metal stops the wheels in a direction, wide enough for it.
func (c *course) holds(s *stage, d sweep.Direction) (bool, error) {
	w := c.job.ways[d]
	if s.bad != nil || s.columns[d].Abs() <= w.today.Abs() {
		return false, nil
	}
	for i, plate := range c.plates {
		if o, ok := plate.meets(w.own.Pair); ok {
			if holds, err := plate.holds(s.plates[i].after, o, s.columns[d]); holds || err != nil {
				return holds, err
			}
		}
	}
	return false, nil
}

// lasts brings the most in a direction down to a little before where ground metal holds the wheels last, since a stop comes a little beyond its
// target; or down to today's lock where none can.
func (c *course) lasts(d sweep.Direction, most *Most) error {
	w := c.job.ways[d]
	switch {
	case c.limit[d].Abs() <= w.today.Abs():
		return nil // nothing may be ground for
	case w.late && (w.own == nil || c.job.Clear):
		most.Column = w.today
		return nil
	case w.own == nil || c.job.Clear:
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
	low, _, err := c.between(c.stages[last], c.stages[last+1], w, func(s *stage) (bool, error) {
		holds, err := c.holds(s, d)
		return !holds, err
	})
	if err != nil {
		return err
	}
	*most = Most{Column: c.job.column(d, max(c.job.measure(d, low.columns[d])-over, 0)), Reason: ByWidth, Cut: c.owner(w)}
	end, err := c.advance(c.stages[last], c.job.measure(d, most.Column), nil)
	if err == nil && end.bad == nil {
		c.last[d] = []*stage{end}
	}
	return err
}

// next finds where ground metal holds the wheels again beyond a column angle, signed, and makes that the goal; found is false where it does not.
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
		if _, high, err = c.between(c.stages[i], high, c.job.ways[d], held); err != nil {
			return false, err
		}
		g.aimAt(high.columns[d])
		return true, nil
	}
	return false, nil
}

// owner returns a cut that takes nothing, of the plate that is the stop on a way: it says whose metal would be too narrow.
func (c *course) owner(w *way) *Cut {
	for _, plate := range c.plates {
		if _, ok := plate.meets(w.own.Pair); ok {
			return plate.whole()
		}
	}
	return c.plates[0].whole()
}

// meets returns the other piece of a pair; ok is false where the plate is not of the pair or the other is none of its obstacles.
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

// holds reports whether what is left of a plate stops an obstacle at a column angle: it does not only brush past it, and metal of the least width
// leads from where it is hit to its root.
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

// rootOf returns what a plate hangs on, as seen from the obstacle that it is the stop against or, where it is none, from the first that moves and
// may hit it, of known shape if there is such a one.
func (p *plate) rootOf() neck.Root {
	pick, pieces := p.stops, p.model.Scene.Pieces
	if pick < 0 {
		for _, o := range p.others {
			if pieces[o].Body != linkage.Frame && (pick < 0 || pieces[o].Solid() && !pieces[pick].Solid()) {
				pick = o
			}
		}
	}
	if pick >= 0 {
		return p.model.RootOf(&pieces[p.piece], &pieces[pick])
	}
	return neck.RootOf(&pieces[p.piece], func() r2.Point { return r2.Point{} })
}

// rest returns the metal of the plate that is left inside an outline.
func (p *plate) rest(after []r2.Point) (neck.Metal, error) {
	return neck.New(after, p.root, p.model.Scene.Pieces[p.piece].Part.Bore)
}

// neck returns the least width of the metal inside an outline, mm, on the way from where an obstacle meets it at a column angle to the plate's root.
func (p *plate) neck(outline []r2.Point, obstacle int, column s1.Angle) (float64, error) {
	r, err := p.rest(outline)
	if err != nil {
		return 0, err
	}
	patch, err := p.patch(&r, obstacle, column)
	if err != nil {
		return 0, err
	}
	return r.Width(planar.NewNearest(neck.Edges(patch)))
}

// patch returns the part of what is left that an obstacle meets next beyond a column angle, signed.
func (p *plate) patch(left *neck.Metal, obstacle int, column s1.Angle) (region.Region, error) {
	pieces := p.model.Scene.Pieces
	return p.model.MetAhead(left, &pieces[p.piece], &pieces[obstacle], column)
}
