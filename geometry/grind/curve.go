package grind

import (
	"cmp"
	"errors"
	"math"
	"slices"

	"github.com/golang/geo/s1"

	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// Step is a row of the curve: the lock that a depth of cut gives. Where ground metal is the stop, the depth is that of what goes for the stop
// alone, else that of all that goes.
type Step struct {
	Depth float64     // mm
	Lock  [2]s1.Angle // by direction, of the wheel inside the turn, where metal that was cut so deep touches again or something else stops it
	Ended [2]bool     // no deeper cut is planned in that direction: Lock is the last one
}

// Lesser returns the lock that both directions reach.
func (s Step) Lesser() s1.Angle { return min(s.Lock[0], s.Lock[1]) }

// stepDepths is, by the file's unit, the step of depth from one row of the curve to the next, mm; where that makes too many rows, the step is a
// whole multiple of it.
var stepDepths = [2]float64{setup.MM: 0.5, setup.Inch: setup.MMPerInch / 64}

const mostSteps = 60 // rows

// point is a lock and the depth of the cut that gives it, in one direction.
type point struct {
	depth float64 // mm
	lock  s1.Angle
}

// curve fills in the curve of a plan, read off the course: rows at even depths and at those of the plan's own cuts, up to where grinding ends.
func (c *course) curve() error {
	var paths [2][]point
	var marked []float64
	deepest, ends := 0.0, [2]float64{}
	for _, d := range sweep.Directions {
		var err error
		if paths[d], err = c.path(d); err != nil {
			return err
		}
		if depth, ok := c.job.deepest(d); ok {
			paths[d] = through(paths[d], point{depth, c.job.SteerAt(d, c.job.Locks[d].Column)})
			marked = append(marked, depth)
		}
		ends[d] = paths[d][len(paths[d])-1].depth
		marked = append(marked, ends[d])
		deepest = math.Max(deepest, ends[d])
	}
	step := stepDepths[c.job.Model.Setup.Unit]
	step *= math.Max(1, math.Ceil(deepest/step/mostSteps))
	depths := []float64{0}
	for i := 1; float64(i)*step < deepest; i++ {
		depths = append(depths, float64(i)*step)
	}
	for _, m := range marked {
		if i, found := slices.BinarySearch(depths, m); !found {
			depths = slices.Insert(depths, i, m)
		}
	}
	depths = apart(depths, marked)
	for _, depth := range depths {
		s := Step{Depth: depth}
		for _, d := range sweep.Directions {
			s.Lock[d], s.Ended[d] = along(paths[d], depth), depth > ends[d]+curveChord
		}
		c.job.Curve = append(c.job.Curve, s)
	}
	return nil
}

// apart leaves out of ascending depths those within curveChord of the one before; a marked one takes its place instead, but not that of 0.
func apart(depths, marked []float64) (out []float64) {
	for _, d := range depths {
		n := len(out)
		switch {
		case n == 0 || d-out[n-1] > curveChord:
			out = append(out, d)
		case slices.Contains(marked, d) && out[n-1] > 0:
			out[n-1] = d
		}
	}
	return out
}

// deepest returns the depth of the plan's cuts for the lock in a direction, mm: of those that stop the wheels there, or that let them get to what
// else is the stop; ok is false where there is none.
func (j *job) deepest(d sweep.Direction) (depth float64, ok bool) {
	for _, c := range j.Cuts {
		switch {
		case c.Stops[d] && j.roles[d] == isStop:
			depth, ok = math.Max(depth, c.alone[d]), true
		case j.roles[d] == passes && !j.Clear:
			depth, ok = math.Max(depth, c.Depth), true
		}
	}
	return depth, ok
}

// path returns depths and locks from today's lock to the most that grinding gives, in one direction.
func (c *course) path(d sweep.Direction) ([]point, error) {
	w := c.job.ways[d]
	path := []point{{0, w.steer(w.today)}}
	list := append(c.stages[:len(c.stages):len(c.stages)], c.last[d]...)
	slices.SortStableFunc(list, func(a, b *stage) int { return cmp.Compare(a.columns[d].Abs(), b.columns[d].Abs()) })
	atStop, err := c.atStop(d, list)
	if err != nil {
		return nil, err
	}
	for k, s := range list {
		if s.columns[d].Abs() > c.job.Most[d].Column.Abs()+nearly || s.columns[d].Abs() <= w.today.Abs() {
			continue
		}
		p := point{0, w.steer(s.columns[d])}
		for i := range c.plates {
			if now := &s.plates[i]; now.by[d] {
				p.depth = math.Max(p.depth, now.depth)
			}
		}
		if atStop != nil {
			p.depth = atStop[k]
		}
		path = through(path, p)
	}
	return path, nil
}

// atStop returns how deep metal is cut for the stop alone in a direction, at stages in the order of their columns, mm; nil where something else is
// the stop.
func (c *course) atStop(d sweep.Direction, list []*stage) (depths []float64, err error) {
	w := c.job.ways[d]
	if w.own == nil || c.job.roles[d] == passes {
		return nil, nil
	}
	depths = make([]float64, len(list))
	for i, plate := range c.plates {
		obstacle, ok := plate.meets(w.own.Pair)
		if !ok {
			continue
		}
		if len(plate.others) == 1 && !slices.ContainsFunc(list, func(s *stage) bool { return s.plates[i].by[1-d] }) { // all that goes is for the stop
			for k, s := range list {
				depths[k] = math.Max(depths[k], s.plates[i].depth)
			}
			continue
		}
		left, since := plate.metal, w.today
		for k, s := range list {
			areas, err := plate.swept(obstacle, since, s.columns[d], c.job.least[d], curveChord)
			if err != nil {
				return nil, err
			}
			if left, err = left.Less(areas...); err != nil {
				return nil, err
			}
			cut := plate.whole()
			switch err := plate.take(cut, left, curveChord); {
			case errors.Is(err, errGone), errors.Is(err, errHole): // of all that goes it is known
				cut.Depth = s.plates[i].depth
			case err != nil:
				return nil, err
			}
			depths[k], since = math.Max(depths[k], cut.Depth), s.columns[d]
		}
	}
	return depths, nil
}

// through adds a point to a path in the order of locks, and deepens what follows so that the depth never falls along it.
func through(path []point, p point) []point {
	i := slices.IndexFunc(path, func(q point) bool { return q.lock > p.lock })
	if i < 0 {
		i = len(path)
	}
	if i > 0 {
		p.depth = math.Max(p.depth, path[i-1].depth)
	}
	path = slices.Insert(path, i, p)
	for k := i + 1; k < len(path); k++ {
		path[k].depth = math.Max(path[k].depth, p.depth)
	}
	return path
}

// along returns the lock of a path at a depth, between its points in proportion.
func along(path []point, depth float64) s1.Angle {
	for i := len(path) - 1; i >= 0; i-- {
		a := path[i]
		if a.depth > depth {
			continue
		}
		if i == len(path)-1 {
			return a.lock
		}
		b := path[i+1]
		return a.lock + (b.lock-a.lock)*s1.Angle((depth-a.depth)/(b.depth-a.depth))
	}
	return path[0].lock
}
