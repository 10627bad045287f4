package grind

import (
	"errors"

	"github.com/golang/geo/s1"

	"locksweep/geometry/sweep"
)

// clearable finds out whether everything can be cut so far that it passes by the clearance what stops the wheels otherwise.
func (j *job) clearable() error {
	for _, d := range sweep.Directions {
		w := j.ways[d]
		if w.other == nil {
			continue
		}
		var ends [2]s1.Angle
		ends[d], ends[1-d] = w.other.Column, j.ways[1-d].today
		j.roles = [2]role{}
		j.roles[d] = passes
		_, bad, err := j.spoils(ends)
		if err != nil {
			return err
		}
		j.clears[d] = bad == nil
	}
	j.roles = [2]role{isStop, isStop}
	return nil
}

// nearly is within what a target counts as reached, in its own measure.
const nearly = 1e-6 * s1.Degree

// aim finds the columns of the target and the cuts for it, and tells in which directions it is out of reach.
func (j *job) aim(p *Plan) (beyond [2]bool, err error) {
	if p.Target.Measure != AsFar {
		return j.aimAt(p)
	}
	most := min(p.Most[0].Steer, p.Most[1].Steer)
	p.Target.Angle = most
	for range 10 { // the most is known to a hundredth of a degree or so
		if beyond, err = j.aimAt(p); err != nil || beyond == ([2]bool{}) {
			return beyond, err
		}
		p.Target.Angle -= 0.01 * s1.Degree
	}
	p.Target.Angle = most
	return beyond, nil
}

func (j *job) aimAt(p *Plan) (beyond [2]bool, err error) {
	for _, d := range sweep.Directions {
		w := p.ways[d]
		p.Columns[d] = p.column(d, p.Target.Angle)
		p.Steer[d] = w.steer(p.Columns[d])
		beyond[d] = p.Target.Angle > p.measure(d, p.Most[d].Column)+nearly
		switch {
		case p.Columns[d].Abs() <= w.today.Abs()+nearly && !j.clear:
			j.roles[d] = asIs
		case j.clear:
			j.roles[d] = passes
			beyond[d] = beyond[d] || w.other == nil
		default:
			j.roles[d] = isStop
		}
	}
	if beyond != ([2]bool{}) {
		return beyond, nil
	}
	for _, plate := range j.plates {
		plate.past = NotPast
	}
	j.least = [2]float64{leastGap, leastGap}
	return j.settle(p)
}

// spoils returns what must come off every plate for the column to turn between two angles, or the first
// cut that leaves too little metal.
func (j *job) spoils(ends [2]s1.Angle) (cuts []*Cut, bad *Most, err error) {
	for _, plate := range j.plates {
		c, err := plate.cut(ends, j.gaps(plate), j.chord)
		var gone *GoneError
		switch {
		case errors.As(err, &gone):
			return nil, &Most{Reason: ByMetal, Cut: plate.whole()}, nil
		case err != nil:
			return nil, nil, err
		case c.Wall.Thin():
			return nil, &Most{Reason: ByWall, Cut: c}, nil
		case c.Area > leastArea:
			cuts = append(cuts, c)
		}
	}
	return cuts, nil, nil
}

// refuse says why a target is out of reach, and where no metal would stop the wheels proposes a pad.
func (j *job) refuse(p *Plan, beyond [2]bool, opt Options) error {
	e := &BeyondError{Plan: p, Beyond: beyond}
	if opt.Clear {
		opt.Clear = false
		_, err := Make(p.Model, p.Target, opt)
		e.ByOwn = err == nil
		return e
	}
	var ends [2]s1.Angle
	missing := false
	for _, d := range sweep.Directions {
		w := p.ways[d]
		ends[d] = w.today
		if reason := p.Most[d].Reason; beyond[d] && (reason == ByWidth || reason == ByNoStop) {
			missing = true
			j.roles[d], ends[d] = passes, s1.Angle(d.Sign())*min(p.Columns[d].Abs(), w.furthest.Column.Abs())
			if ends[d].Abs() < w.today.Abs() {
				ends[d] = w.today
			}
		} else {
			j.roles[d] = asIs
		}
	}
	if !missing {
		return e
	}
	var bad *Most
	var err error
	if p.Cuts, bad, err = j.spoils(ends); err != nil {
		return err
	}
	if bad != nil {
		p.Cuts = nil
		return e
	}
	if err := j.prove(p); err != nil {
		return err
	}
	for _, d := range sweep.Directions {
		p.Stops[d] = p.stop(d)
		if j.roles[d] == passes && !p.Stops[d].Missing() { // what is left may touch, but is no stop
			p.Stops[d].Metal, p.Stops[d].Faults = nil, []sweep.Code{sweep.NoMetalStop}
		}
	}
	if err := j.placePads(p); err != nil {
		return err
	}
	return e
}
