package grind

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"locksweep/geometry/sweep"
)

// unsound tells in which directions the plan does not hold: the target is not reached, or nothing stops the wheels there that is wide enough
// and that a fresh sweep calls a stop.
func (j *job) unsound(p *Plan, goals *[2]goal) (beyond [2]bool) {
	for _, d := range sweep.Directions {
		lock := &p.Locks[d]
		short := p.measure(d, lock.Column) < p.Target.Angle-nearly
		stopping := p.After.Stopping(lock)
		beyond[d] = short || goals[d].lost || j.roles[d] != asIs && len(stopping.Faults()) > 0
	}
	return beyond
}

// finish fills in what is said of the cuts once they hold: what they are clear of, what is left of those that are the stop.
func (j *job) finish(p *Plan, ends [2]s1.Angle) error {
	p.ends = ends
	for _, c := range p.Cuts {
		for _, d := range sweep.Directions {
			if err := j.stopOf(p, c, d); err != nil {
				return err
			}
		}
		j.gapsOf(p, c, ends)
		if err := j.placesOf(p, c, ends); err != nil {
			return err
		}
		c.Past = j.plate(c.Piece).past
	}
	return nil
}

// gapsOf fills in how near a cut plate comes, as far as it was ground for, to what it was cut for.
func (j *job) gapsOf(p *Plan, c *Cut, ends [2]s1.Angle) {
	c.Clearance, c.Passes = math.Inf(1), math.NaN()
	for _, o := range c.Obstacles {
		pair := pairOf(c.Piece, o)
		near, found := p.After.Scene.NearestOf(pair, ends[sweep.ToRight], ends[sweep.ToLeft], j.want+1)
		if !found {
			continue
		}
		c.Clearance = math.Min(c.Clearance, near.Gap)
		stop := false
		for _, d := range sweep.Directions {
			first := p.Locks[d].First()
			stop = stop || first != nil && first.Pair == pair && p.After.Positive(first) && first.Kind == sweep.Contact
		}
		if !stop && !(c.Passes < near.Gap) {
			c.Passes = near.Gap
		}
	}
}

// stopOf fills in how a cut plate is the stop in one direction, if it is.
func (j *job) stopOf(p *Plan, c *Cut, d sweep.Direction) error {
	first := p.Locks[d].First()
	plate, obstacle := j.touched(first)
	if plate == nil || plate.piece != c.Piece || !p.After.Positive(first) {
		return nil
	}
	width, err := plate.neck(c.After, obstacle, p.Locks[d].Column)
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
	for _, c := range p.Cuts {
		if c.Piece == plate.piece {
			return c.After
		}
	}
	return plate.flat.Outline
}
