package grind

import (
	"errors"

	"github.com/golang/geo/s1"

	"locksweep/geometry/sweep"
)

// clearable finds for each direction whether everything can be cut so far that it passes by the clearance until something else stops the wheels.
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
		_, bad, err := j.cuts(ends, j.gap)
		if err != nil {
			return err
		}
		j.clears[d] = bad == nil
	}
	j.roles = [2]role{isStop, isStop}
	return nil
}

// nearly is how near to a target, in its own measure, counts as reached.
const nearly = 1e-6 * s1.Degree

// aim makes the cuts for the target, and tells in which directions it is out of reach. AsFar is aimed at with the most, which is known to some
// hundredths of a degree, and with a little less where that is too much.
func (j *job) aim() (beyond [2]bool, err error) {
	if j.Target.Measure != AsFar {
		return j.aimAt()
	}
	most := min(j.Most[0].Steer, j.Most[1].Steer)
	j.Target.Angle = most
	for range 10 {
		if beyond, err = j.aimAt(); err != nil || beyond == ([2]bool{}) {
			return beyond, err
		}
		j.Target.Angle -= 0.01 * s1.Degree
	}
	j.Target.Angle = most
	return beyond, nil
}

// aimAt is aim for the target's angle.
func (j *job) aimAt() (beyond [2]bool, err error) {
	for _, d := range sweep.Directions {
		w := j.ways[d]
		j.Columns[d] = j.column(d, j.Target.Angle)
		j.Steer[d] = w.steer(j.Columns[d])
		beyond[d] = j.Target.Angle > j.measure(d, j.Most[d].Column)+nearly
		switch {
		case j.Columns[d].Abs() <= w.today.Abs()+nearly && !j.Clear:
			j.roles[d] = asIs
		case j.Clear:
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
	return j.settle()
}

// cuts returns what must come off the plates for the column to turn between two angles, signed, with gaps as job.gap returns them; or bad, the
// first cut that leaves too little metal.
func (j *job) cuts(ends [2]s1.Angle, gap func(piece, obstacle int, d sweep.Direction) float64) (cuts []*Cut, bad *Most, err error) {
	for _, plate := range j.plates {
		c, err := plate.cut(ends, func(o int, d sweep.Direction) float64 { return gap(plate.piece, o, d) }, DefaultChord)
		if bad, err := plate.spoiled(c, err); bad != nil || err != nil {
			return nil, bad, err
		}
		if c.Area > leastArea {
			cuts = append(cuts, c)
		}
	}
	return cuts, nil, nil
}

// withoutStop readies the job to grind all the same in directions in which the target is out of reach only for want of a stop: up to the target,
// or as far as may be. missing tells whether there is such a direction. In others nothing is ground.
func (j *job) withoutStop(beyond [2]bool) (ends [2]s1.Angle, missing bool) {
	for _, d := range sweep.Directions {
		w, reason := j.ways[d], j.Most[d].Reason
		j.roles[d], ends[d] = asIs, w.today
		if beyond[d] && (reason == ByWidth || reason == ByNoStop) {
			missing, j.roles[d] = true, passes
			ends[d] = s1.Angle(d.Sign()) * max(min(j.Columns[d].Abs(), w.furthest.Column.Abs()), w.today.Abs())
		}
	}
	return ends, missing
}

// refuse says why a target is out of reach, and where no metal would stop the wheels proposes a pad.
func (j *job) refuse(beyond [2]bool, opt Options) error {
	e := &BeyondError{Plan: j.Plan, Beyond: beyond}
	if opt.Clear {
		opt.Clear = false
		_, err := Make(j.Model, j.Target, opt)
		if _, refused := errors.AsType[*BeyondError](err); err != nil && !refused {
			return err
		}
		e.ByOwn = err == nil
		return e
	}
	ends, missing := j.withoutStop(beyond)
	if !missing {
		return e
	}
	var bad *Most
	var err error
	switch j.Cuts, bad, err = j.cuts(ends, j.gap); {
	case err != nil:
		return err
	case bad != nil:
		return e
	}
	if err := j.prove(); err != nil {
		return err
	}
	for _, d := range sweep.Directions {
		j.Stops[d] = j.stop(d)
		if j.roles[d] == passes && !j.Stops[d].Missing() { // what is left may touch, but is no stop
			j.Stops[d].Metal, j.Stops[d].Faults = nil, []sweep.Code{sweep.NoMetalStop}
		}
	}
	if err := j.placePads(); err != nil {
		return err
	}
	return e
}
