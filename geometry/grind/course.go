package grind

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"locksweep/geometry/planar"
	"locksweep/geometry/region"
	"locksweep/geometry/sweep"
)

// course is what comes of grinding further and further, both ways at once, up to where a stop may stand.
type course struct {
	job    *job
	plates []*plate    // with no more points than the curve needs
	frozen [2]bool     // directions that get no further
	limit  [2]s1.Angle // columns, signed, up to which a direction is ground for
	stages []*stage    // the first is today's lock
	last   [2][]*stage // where ground metal holds the wheels last, if that lies between two stages
}

// stage is how things stand when everything is ground for one target.
type stage struct {
	at      s1.Angle    // in the measure of the target
	columns [2]s1.Angle // by direction, signed
	plates  []remnant
	bad     *Most // the first cut that leaves too little metal; plates are those before it then
}

// remnant is what is left of a plate.
type remnant struct {
	after []r2.Point // its outline
	depth float64    // of the cut, mm
	by    [2]bool    // the directions that it is cut for
}

const (
	stages     = 16   // from today's lock to the furthest
	halvings   = 12   // in closing in between two stages
	curveChord = 0.01 // mm: finer than the depths that the curve tells
)

// follow grinds up to the furthest, and finds on the way the most that grinding gives in either direction.
func (j *job) follow() (*course, error) {
	c := &course{job: j}
	for _, plate := range j.plates {
		c.plates = append(c.plates, plate.coarse())
	}
	start, end := s1.InfAngle(), s1.Angle(0)
	for _, d := range sweep.Directions {
		w := j.ways[d]
		c.limit[d] = j.most(d).Column
		if c.limit[d].Abs() < w.today.Abs() {
			c.limit[d] = w.today
		}
		start = min(start, j.measure(d, w.today))
		end = max(end, j.measure(d, c.limit[d]))
	}
	if err := c.sort(); err != nil {
		return nil, err
	}
	first, err := c.advance(nil, start, nil)
	if err != nil {
		return nil, err
	}
	if first.bad != nil {
		c.none(first.bad)
		return c, nil
	}
	c.stages = append(c.stages, first)
	for i := 1; i <= stages && !(c.frozen[0] && c.frozen[1]); i++ {
		if err := c.step(start + (end-start)*s1.Angle(i)/stages); err != nil {
			return nil, err
		}
	}
	return c, c.most()
}

// most returns the furthest that a target may lie: a little before the furthest that a stop may stand where it is ground, since it comes a little
// beyond its target then.
func (p *Plan) most(d sweep.Direction) Most {
	w := p.ways[d]
	most := w.furthest
	if w.other == nil && most.Column.Abs() > w.today.Abs() {
		most.Column = p.column(d, p.measure(d, most.Column)-over/2)
	}
	return most
}

// measure returns a column angle in the measure of the target, positive into the turn.
func (p *Plan) measure(d sweep.Direction, column s1.Angle) s1.Angle {
	if p.Target.Measure == ByColumn {
		return column.Abs()
	}
	return p.ways[d].steer(column)
}

// column returns the column angle of a target in one direction, signed; the linkage's own end where it gets no further.
func (p *Plan) column(d sweep.Direction, target s1.Angle) s1.Angle {
	if p.Target.Measure == ByColumn {
		return s1.Angle(d.Sign()) * target
	}
	if column, ok := p.ways[d].columnAt(target); ok {
		return column
	}
	return p.ways[d].end
}

// sort leaves each plate of the course only the obstacles that it is cut for somewhere on the way.
func (c *course) sort() error {
	for i, plate := range c.plates {
		gap := func(o int, d sweep.Direction) float64 { return c.job.gap(plate.piece, o, d) }
		_, met, err := c.job.plates[i].areas(c.limit, gap, curveChord)
		if err != nil {
			return err
		}
		plate.others = met
	}
	return nil
}

// none fills in the most for plates that cannot even be cut for what they are to keep clear of within today's lock: today's lock.
func (c *course) none(bad *Most) {
	for _, d := range sweep.Directions {
		w, most := c.job.ways[d], *bad
		most.Column, most.Steer, most.At = w.today, w.steer(w.today), w.steer(w.today)
		c.job.Most[d] = most
	}
}

// column returns the column angle for a target in a direction, signed: no less than today's, no more than the limit.
func (c *course) column(d sweep.Direction, target s1.Angle) s1.Angle {
	column := c.job.column(d, target)
	if today := c.job.ways[d].today; column.Abs() < today.Abs() {
		column = today
	}
	if column.Abs() > c.limit[d].Abs() {
		column = c.limit[d]
	}
	return column
}

// advance grinds on to a target from a stage, nil for the setup as it stands straight ahead. With a way, only the outlines of the plates that
// stop it are wanted: the others stay as they are, and no depth is measured.
func (c *course) advance(from *stage, target s1.Angle, only *way) (*stage, error) {
	s := &stage{at: target, columns: [2]s1.Angle{c.column(sweep.ToLeft, target), c.column(sweep.ToRight, target)}}
	for i, p := range c.plates {
		take := (*plate).take
		if only != nil {
			if _, ok := p.meets(only.own.Pair); !ok {
				s.plates = append(s.plates, from.plates[i])
				continue
			}
			take = (*plate).shape
		}
		var err error
		if s.bad, err = c.cut(s, i, from, take); s.bad != nil || err != nil {
			return s, err
		}
	}
	return s, nil
}

// cut grinds one plate on from a stage for the next, by take or shape, or says what leaves too little metal.
func (c *course) cut(s *stage, i int, from *stage, take func(*plate, *Cut, region.Region, float64) error) (bad *Most, err error) {
	plate := c.plates[i]
	left, now, since := plate.metal, remnant{after: plate.flat.Outline}, [2]s1.Angle{}
	if from != nil {
		now, since = from.plates[i], from.columns
		left = region.Of(now.after)
	}
	var swept []region.Region
	for _, o := range plate.others {
		for _, d := range sweep.Directions {
			if from == nil && c.isStop(plate, o, d) || from != nil && since[d] == s.columns[d] {
				continue
			}
			areas, err := plate.swept(o, since[d], s.columns[d], c.job.gap(plate.piece, o, d), curveChord)
			if err != nil {
				return nil, err
			}
			swept, now.by[d] = append(swept, areas...), now.by[d] || len(areas) > 0
		}
	}
	if len(swept) > 0 {
		if left, err = left.Less(swept...); err != nil {
			return nil, err
		}
		cut := plate.whole()
		if bad, err := plate.spoiled(cut, take(plate, cut, left, curveChord)); bad != nil || err != nil {
			return bad, err
		}
		now.after, now.depth = cut.After, math.Max(now.depth, cut.Depth)
	}
	s.plates = append(s.plates, now)
	return nil, nil
}

// isStop reports whether an obstacle is what a plate stops today.
func (c *course) isStop(p *plate, obstacle int, d sweep.Direction) bool {
	own := c.job.ways[d].own
	return own != nil && !c.job.Clear && own.Pair == pairOf(p.piece, obstacle)
}

// step goes on to a target, and ends a direction where a cut leaves too little metal.
func (c *course) step(target s1.Angle) error {
	for {
		last := c.stages[len(c.stages)-1]
		next, err := c.advance(last, target, nil)
		if err != nil {
			return err
		}
		if next.bad == nil {
			c.stages = append(c.stages, next)
			return nil
		}
		low, high, err := c.between(last, next, nil, func(s *stage) (bool, error) { return s.bad != nil, nil })
		if err != nil {
			return err
		}
		c.stages = append(c.stages, low)
		if err := c.freeze(low, high); err != nil || c.frozen[0] && c.frozen[1] {
			return err
		}
	}
}

// between closes in on where something comes to be the case between two stages, by advance with the same way: it returns the last stage at
// which it is not, and the first at which it is.
func (c *course) between(low, high *stage, only *way, is func(*stage) (bool, error)) (before, after *stage, err error) {
	for range halvings {
		mid, err := c.advance(low, (low.at+high.at)/2, only)
		if err != nil {
			return nil, nil, err
		}
		switch there, err := is(mid); {
		case err != nil:
			return nil, nil, err
		case there:
			high = mid
		default:
			low = mid
		}
	}
	return low, high, nil
}

// freeze ends, at the good one of two stages, the directions for which too much metal goes on the way to the bad one: each that alone takes too
// much, or both where neither does alone.
func (c *course) freeze(good, bad *stage) error {
	var spoils [2]*Most
	limit := c.limit
	for _, d := range sweep.Directions {
		c.limit[1-d] = good.columns[1-d]
		alone, err := c.advance(good, bad.at, nil)
		if err != nil {
			return err
		}
		spoils[d] = alone.bad
		c.limit = limit
	}
	if spoils == ([2]*Most{}) {
		spoils = [2]*Most{bad.bad, bad.bad}
	}
	for _, d := range sweep.Directions {
		if spoils[d] != nil {
			c.limit[d], c.frozen[d] = good.columns[d], true
			most := *spoils[d]
			most.Column = good.columns[d]
			c.job.Most[d] = most
		}
	}
	return nil
}

// most fills in the most in either direction: as far as ground metal that is wide enough stops the wheels, or as far as may be where something else
// does.
func (c *course) most() error {
	for _, d := range sweep.Directions {
		w, most := c.job.ways[d], &c.job.Most[d]
		if !c.frozen[d] {
			*most = c.job.most(d)
		}
		switch {
		case w.other != nil && c.job.clears[d]:
			*most = w.furthest
		case w.other != nil && c.job.Clear:
			most.Column = w.today // it passes what else is the stop, or nothing is ground
		default:
			if err := c.lasts(d, most); err != nil {
				return err
			}
		}
		most.At = w.steer(most.Column)
		if most.Column.Abs() < w.today.Abs() {
			most.Column = w.today
		}
		most.Steer = w.steer(most.Column)
	}
	return nil
}

// coarse returns a copy of the plate with no more points than the curve needs.
func (p *plate) coarse() *plate {
	few, flat := *p, *p.flat
	flat.Outline = planar.Fewest(flat.Outline, curveChord/4)
	if metal := region.Of(flat.Outline); !metal.Empty() { // thin metal may cross itself then
		few.flat, few.metal = &flat, metal
	}
	return &few
}
