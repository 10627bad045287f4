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
	plan   *Plan
	plates []*plate    // with no more points than the curve needs
	frozen [2]bool     // directions that get no further
	limit  [2]s1.Angle // columns, signed, that they are followed to
	stages []*stage
	last   [2][]*stage // where ground metal holds the wheels last, if that lies between two of them
}

// stage is how things stand when everything is ground for one target.
type stage struct {
	at      s1.Angle // in the measure of the target
	columns [2]s1.Angle
	after   [][]r2.Point // of each plate
	depth   []float64    // of each plate, mm
	by      [][2]bool    // whether a plate is cut for a direction
	bad     *Most        // the first cut that leaves too little metal
}

const (
	stages     = 16   // from the present lock to the furthest
	halvings   = 12   // to where something ends between two of them
	curveChord = 0.01 // mm: finer than the depths that the curve tells
)

// follow grinds up to the furthest, and finds on the way the most that grinding gives in either direction.
func (j *job) follow(p *Plan) (*course, error) {
	c := &course{job: j, plan: p}
	for _, plate := range j.plates {
		c.plates = append(c.plates, plate.coarse())
	}
	start, end := s1.InfAngle(), s1.Angle(0)
	for _, d := range sweep.Directions {
		w := p.ways[d]
		c.limit[d] = p.most(d).Column
		if c.limit[d].Abs() < w.today.Abs() {
			c.limit[d] = w.today
		}
		start = min(start, p.measure(d, w.today))
		end = max(end, p.measure(d, c.limit[d]))
	}
	if err := c.sort(); err != nil {
		return nil, err
	}
	first, err := c.advance(nil, start)
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

// most is the furthest that a target may lie: a stop that is ground comes a little beyond it.
func (p *Plan) most(d sweep.Direction) Most {
	w := p.ways[d]
	most := w.furthest
	if w.other == nil && most.Column.Abs() > w.today.Abs() {
		most.Column = p.column(d, p.measure(d, most.Column)-over/2)
	}
	return most
}

// measure returns what a column angle is in the measure of the target.
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

// sort leaves each plate with the obstacles that it is cut for on the way.
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

// none is for plates that cannot even be cut for what they are to keep clear of today: the wheels turn as far as they do.
func (c *course) none(bad *Most) {
	for _, d := range sweep.Directions {
		w, most := c.plan.ways[d], *bad
		most.Column, most.Steer, most.At = w.today, w.steer(w.today), w.steer(w.today)
		c.plan.Most[d] = most
	}
}

// column returns how far the column turns in a direction for a target: no less than today, no more than it may.
func (c *course) column(d sweep.Direction, target s1.Angle) s1.Angle {
	column := c.plan.column(d, target)
	if today := c.plan.ways[d].today; column.Abs() < today.Abs() {
		column = today
	}
	if column.Abs() > c.limit[d].Abs() {
		column = c.limit[d]
	}
	return column
}

// advance grinds on from a stage; nil is the setup as it stands straight ahead.
func (c *course) advance(from *stage, target s1.Angle) (*stage, error) {
	s := &stage{at: target}
	for _, d := range sweep.Directions {
		s.columns[d] = c.column(d, target)
	}
	for i := range c.plates {
		var err error
		if s.bad, err = c.cut(s, i, from, (*plate).take); s.bad != nil || err != nil {
			return s, err
		}
	}
	return s, nil
}

// outline returns how to grind on where only the outline of the plates that stop a way is asked for: the others stay, and no cut is measured.
// What metal carries hangs on the pose most of all: that in front of a contact carries nothing.
func (c *course) outline(w *way) grinding {
	return func(from *stage, target s1.Angle) (*stage, error) {
		s := *from
		s.at, s.columns = target, [2]s1.Angle{c.column(sweep.ToLeft, target), c.column(sweep.ToRight, target)}
		s.after, s.depth, s.by = nil, nil, nil
		for i, p := range c.plates {
			if _, ok := p.meets(w.own.Pair); !ok {
				s.after, s.depth, s.by = append(s.after, from.after[i]), append(s.depth, from.depth[i]), append(s.by, from.by[i])
				continue
			}
			var err error
			if s.bad, err = c.cut(&s, i, from, (*plate).shape); s.bad != nil || err != nil {
				return &s, err
			}
		}
		return &s, nil
	}
}

// grinding goes on from a stage to a target.
type grinding func(from *stage, target s1.Angle) (*stage, error)

// cut grinds one plate on from a stage for the next, by take or shape, or says what leaves too little metal.
func (c *course) cut(s *stage, i int, from *stage, take func(*plate, *Cut, region.Region, float64) error) (bad *Most, err error) {
	plate := c.plates[i]
	left, after, depth, by := plate.metal, plate.flat.Outline, 0.0, [2]bool{}
	var since [2]s1.Angle
	if from != nil {
		left, after, depth, by = region.Of(from.after[i]), from.after[i], from.depth[i], from.by[i]
		since = from.columns
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
			swept, by[d] = append(swept, areas...), by[d] || len(areas) > 0
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
		after, depth = cut.After, math.Max(depth, cut.Depth)
	}
	s.after, s.depth, s.by = append(s.after, after), append(s.depth, depth), append(s.by, by)
	return nil, nil
}

// isStop reports whether an obstacle is what a plate stops today.
func (c *course) isStop(p *plate, obstacle int, d sweep.Direction) bool {
	own := c.plan.ways[d].own
	return own != nil && !c.job.clear && own.Pair == pairOf(p.piece, obstacle)
}

// step goes on to a target, and ends a direction where a cut leaves too little metal.
func (c *course) step(target s1.Angle) error {
	for {
		last := c.stages[len(c.stages)-1]
		next, err := c.advance(last, target)
		if err != nil {
			return err
		}
		if next.bad == nil {
			c.stages = append(c.stages, next)
			return nil
		}
		low, high, err := c.between(last, next, c.advance, func(s *stage) (bool, error) { return s.bad != nil, nil })
		if err != nil {
			return err
		}
		c.stages = append(c.stages, low)
		if err := c.freeze(low, high); err != nil || c.frozen[0] && c.frozen[1] {
			return err
		}
	}
}

// between closes in on where something comes to be between two stages: the last at which it is not yet, the first at which it is.
func (c *course) between(low, high *stage, on grinding, is func(*stage) (bool, error)) (before, after *stage, err error) {
	for range halvings {
		mid, err := on(low, (low.at+high.at)/2)
		if err != nil {
			return nil, nil, err
		}
		if there, err := is(mid); err != nil {
			return nil, nil, err
		} else if there {
			high = mid
		} else {
			low = mid
		}
	}
	return low, high, nil
}

// freeze ends the directions that spoil a plate between two stages, each looked at alone or, if neither does alone, both.
func (c *course) freeze(good, bad *stage) error {
	var spoils [2]*Most
	limit := c.limit
	for _, d := range sweep.Directions {
		c.limit[1-d] = good.columns[1-d]
		alone, err := c.advance(good, bad.at)
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
			c.plan.Most[d] = most
		}
	}
	return nil
}

// most tells how far a target is taken up in either direction: as far as ground metal that is wide enough holds the wheels, or all the
// way where something else does.
func (c *course) most() error {
	for _, d := range sweep.Directions {
		w, most := c.plan.ways[d], &c.plan.Most[d]
		if !c.frozen[d] {
			*most = c.plan.most(d)
		}
		if w.other != nil && c.job.clears[d] {
			*most = w.furthest
			continue
		}
		if w.other != nil && c.job.clear {
			most.Column = w.today // it passes what else is the stop, or nothing is ground
			continue
		}
		if err := c.lasts(d, most); err != nil {
			return err
		}
	}
	for _, d := range sweep.Directions {
		w, most := c.plan.ways[d], &c.plan.Most[d]
		most.At = w.steer(most.Column)
		if most.Column.Abs() < w.today.Abs() {
			most.Column = w.today
		}
		most.Steer = w.steer(most.Column)
	}
	return nil
}

// coarse returns the plate with no more points than the curve needs.
func (p *plate) coarse() *plate {
	few := *p
	flat := *p.flat
	flat.Outline = planar.Fewest(flat.Outline, curveChord/4)
	few.flat = &flat
	if few.metal = region.Of(flat.Outline); few.metal.Empty() { // thin metal may cross itself then
		return p
	}
	return &few
}
