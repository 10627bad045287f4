package grind

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"locksweep/geometry/sweep"
)

// role is what the ground metal is in one direction.
type role int

const (
	asIs   role = iota // the target lies within today's lock: the stop stays as it is
	isStop             // the ground metal is the stop at the target
	passes             // something else is the stop: the ground metal passes it by the clearance
)

const (
	over    = 0.05 * s1.Degree // how far beyond its target a stop may come, in the target's measure
	tries   = 16               // cuts that are made and swept for one target at most
	mostGap = 0.05             // the most that is kept between a stop and its own cut so that it does not catch on that, mm
	exactly = 1e-9 * s1.Degree // by how much angles may differ and still be the same
)

// gap returns how far a plate is to stay clear of an obstacle in a direction, mm; NaN where it stays as it is, since the wheels turn as far as the
// target today.
func (j *job) gap(piece, obstacle int, d sweep.Direction) float64 {
	switch w := j.ways[d]; {
	case j.roles[d] == asIs:
		return math.NaN()
	case w.own == nil || j.Clear || w.own.Pair != pairOf(piece, obstacle):
	case j.roles[d] == isStop:
		return j.least[d]
	}
	return math.Max(j.Clearance, leastGap)
}

// pairOf returns two pieces as the pair that limits and gaps name them by: the lesser first.
func pairOf(a, b int) [2]int { return [2]int{min(a, b), max(a, b)} }

// settle finds the cuts for the target and proves them by a fresh sweep: the stop comes at the target or just beyond, with metal that is wide
// enough. It returns the directions in which they do not hold.
func (j *job) settle() (beyond [2]bool, err error) {
	for _, d := range sweep.Directions {
		j.goals[d].aimAt(j.endOf(d))
	}
	for range tries {
		var bad *Most
		j.ends = [2]s1.Angle{j.goals[0].end, j.goals[1].end}
		if j.Cuts, bad, err = j.cuts(j.ends, j.gap); err != nil || bad != nil {
			return [2]bool{true, true}, err
		}
		if err := j.prove(); err != nil {
			return beyond, err
		}
		again := false
		for _, d := range sweep.Directions {
			mend, err := j.correct(d, &j.goals[d])
			if err != nil {
				return beyond, err
			}
			again = again || mend
		}
		if !again {
			if beyond = j.unsound(); beyond == [2]bool{} {
				if err := j.stand(); err != nil {
					return beyond, err
				}
				if err := j.trim(); err != nil {
					return beyond, err
				}
			}
			return beyond, j.finish()
		}
	}
	return beyond, errors.New("the plan does not hold: no cut was found that stops the wheels at the target")
}

// goal is where a stop is to come in one direction, and up to where metal is ground for that: a stop that is met aslant comes well beyond where
// it was ground to, so that this has to be tried.
type goal struct {
	column     s1.Angle // where the stop is to come, signed
	end        s1.Angle // up to where metal is ground, signed
	short, far s1.Angle // ends, unsigned, with which the stop came too soon, or too late
	left       int      // tries that are left
	lost       bool     // what is met there is no stop, and nothing else is one
}

// aimAt begins anew with a column angle, signed, at which the stop is to come.
func (g *goal) aimAt(column s1.Angle) {
	*g = goal{column: column, end: column, far: s1.InfAngle(), left: tries / 2}
}

// next returns the end to try next, unsigned, after the last one has brought the stop off too far, a column angle, negative for too soon; ok is
// false where no more is to be tried, since there is no metal that would stop there.
func (g *goal) next(off s1.Angle) (next s1.Angle, ok bool) {
	end := g.end.Abs()
	if off < 0 {
		g.short = max(g.short, end)
	} else {
		g.far = min(g.far, end)
	}
	if g.left--; g.left < 0 {
		return g.far, !math.IsInf(float64(g.far), 1) && end != g.far
	}
	next = end - off
	if !(next > g.short && next < g.far) {
		next = (g.short + g.far) / 2
	}
	return next, true
}

// endOf returns the column angle up to which metal is ground for a direction at first, signed.
func (j *job) endOf(d sweep.Direction) s1.Angle {
	w := j.ways[d]
	switch j.roles[d] {
	case asIs:
		if w.stopped {
			return w.today
		}
	case passes:
		return w.other.Column
	}
	return j.Columns[d]
}

// correct looks at the fresh sweep in one direction. Where the stop does not come as it should, it changes what is ground for, and again is true.
func (j *job) correct(d sweep.Direction, g *goal) (again bool, err error) {
	w, lock := j.ways[d], &j.Locks[d]
	if j.roles[d] != isStop {
		return false, nil
	}
	first := lock.First()
	plate, obstacle := j.touched(first)
	if plate == nil {
		return w.other != nil && j.pass(d, g), nil // nothing is left that would be the stop
	}
	beyond := j.measure(d, lock.Column) - j.measure(d, g.column)
	room := min(over, max(j.measure(d, w.furthest.Column)-j.measure(d, g.column), over/4))
	switch {
	case lock.Column.Abs() < g.end.Abs()-exactly: // it catches on the chords of its own cut
		if j.least[d] *= 2; j.least[d] > mostGap {
			return false, fmt.Errorf("the plan does not hold: swept afresh the steering stops short of what was planned, turned %s", d)
		}
		g.aimAt(g.column)
		return true, nil
	case beyond < -exactly || beyond > room && first.Pair == w.own.Pair && lock.Column.Abs() > w.own.Column.Abs()+exactly:
		off := (lock.Column - g.column).Abs() * s1.Angle(math.Copysign(1, float64(beyond))-float64(room/2/beyond.Abs()))
		if end, ok := g.next(off); ok {
			g.end = end * s1.Angle(d.Sign())
			return true, nil
		}
	}
	if beyond > room && plate.past == NotPast {
		plate.past = PastGap
	}
	return j.onward(d, plate, obstacle, g)
}

// pass makes the ground metal pass everything by the clearance in a direction, up to what else is the stop there.
func (j *job) pass(d sweep.Direction, g *goal) bool {
	j.roles[d] = passes
	g.aimAt(j.endOf(d))
	return true
}

// onward looks at what is left of a plate where an obstacle meets it. Where that is no stop, because it is too narrow or only brushed past, it is
// ground on, up to where it is one again or until the wheels come to something else that is one.
func (j *job) onward(d sweep.Direction, plate *plate, obstacle int, g *goal) (again bool, err error) {
	column := j.Locks[d].Column
	if holds, err := plate.holds(j.outline(plate), obstacle, column); holds || err != nil {
		return false, err
	}
	plate.past = PastNarrow
	if plate.brushes(j.outline(plate), obstacle, column) {
		plate.past = PastBrush
	}
	again, err = j.course.next(d, column, g)
	if !again && err == nil && j.ways[d].other != nil {
		again = j.pass(d, g)
	}
	g.lost = !again
	return again, err
}

// touched returns the plate that is met at a limit, and the piece that meets it; nil where no plate to be ground is.
func (j *job) touched(l *sweep.Limit) (plate *plate, obstacle int) {
	if l == nil || l.Kind != sweep.Contact {
		return nil, 0
	}
	for i, piece := range l.Pair {
		if plate := j.plate(piece); plate != nil {
			return plate, l.Pair[1-i]
		}
	}
	return nil, 0
}

// unsound returns the directions in which the plan does not hold: the target is not reached, or where metal is ground the wheels are not stopped
// there by what a fresh sweep calls a stop without fault.
func (j *job) unsound() (beyond [2]bool) {
	for _, d := range sweep.Directions {
		lock := &j.Locks[d]
		short := j.measure(d, lock.Column) < j.Target.Angle-nearly
		stopping := j.After.Stopping(lock)
		beyond[d] = short || j.goals[d].lost || j.roles[d] != asIs && len(stopping.Faults()) > 0
	}
	return beyond
}

// finish fills in what is said of the cuts once they hold: what they pass and how near, what is left of those that are the stop.
func (j *job) finish() error {
	for _, c := range j.Cuts {
		for _, d := range sweep.Directions {
			if err := j.stopOf(c, d); err != nil {
				return err
			}
		}
		j.gapsOf(c)
		if err := j.placesOf(c); err != nil {
			return err
		}
		c.Past = j.plate(c.Piece).past
	}
	return nil
}

// gapsOf fills in how near a cut plate comes to what it was cut for, between the columns up to which it was ground.
func (j *job) gapsOf(c *Cut) {
	c.Clearance, c.Passes = math.Inf(1), math.NaN()
	for _, o := range c.Obstacles {
		pair := pairOf(c.Piece, o)
		near, found := j.After.Scene.NearestOf(pair, j.ends[sweep.ToRight], j.ends[sweep.ToLeft], j.Clearance+1)
		if !found {
			continue
		}
		c.Clearance = math.Min(c.Clearance, near.Gap)
		stop := slices.ContainsFunc(j.Locks[:], func(l sweep.Lock) bool {
			first := l.First()
			return first != nil && first.Pair == pair && j.After.Positive(first) && first.Kind == sweep.Contact
		})
		if !stop && !(c.Passes < near.Gap) {
			c.Passes = near.Gap
		}
	}
}

// stopOf fills in how a cut plate is the stop in one direction, if it is.
func (j *job) stopOf(c *Cut, d sweep.Direction) error {
	first := j.Locks[d].First()
	plate, obstacle := j.touched(first)
	if plate == nil || plate.piece != c.Piece || !j.After.Positive(first) {
		return nil
	}
	width, err := plate.neck(c.After, obstacle, j.Locks[d].Column)
	if err != nil {
		return err
	}
	c.Stops[d] = true
	if !(c.Width < width) {
		c.Width = width
	}
	return nil
}

// outline returns the finished outline of a plate.
func (p *Plan) outline(plate *plate) []r2.Point {
	if i := slices.IndexFunc(p.Cuts, func(c *Cut) bool { return c.Piece == plate.piece }); i >= 0 {
		return p.Cuts[i].After
	}
	return plate.flat.Outline
}
