package grind

import (
	"errors"
	"math"

	"github.com/golang/geo/s1"

	"locksweep/geometry/sweep"
)

// aim finds the column angles of the target, and refuses one out of reach.
func (j *job) aim(p *Plan) error {
	if p.Target.Measure == AsFar {
		return j.aimFar(p)
	}
	var beyond [2]bool
	for _, d := range sweep.Directions {
		w, ok := p.ways[d], true
		if p.Target.Measure == ByColumn {
			p.Columns[d] = s1.Angle(d.Sign()) * p.Target.Angle
		} else {
			p.Columns[d], ok = w.columnAt(p.Target.Angle)
		}
		beyond[d] = !ok || p.Columns[d].Abs() > w.most.Column.Abs()+slack/100
		p.Steer[d] = w.steer(p.Columns[d])
	}
	if beyond[0] || beyond[1] {
		return &BeyondError{p, beyond}
	}
	cuts, bad, err := j.spoils(p.Columns)
	if err != nil || bad == nil {
		p.Cuts = cuts
		return err
	}
	return &BeyondError{p, j.lower(p)}
}

// aimFar takes both wheels as far as the one that gets less far.
func (j *job) aimFar(p *Plan) error {
	steer := s1.Angle(math.Min(float64(p.Most[0].Steer), float64(p.Most[1].Steer)))
	at := func(steer s1.Angle) (columns [2]s1.Angle) {
		for _, d := range sweep.Directions {
			columns[d], _ = p.ways[d].columnAt(steer)
			columns[d] = s1.Angle(d.Sign()) * min(columns[d].Abs(), p.ways[d].most.Column.Abs())
		}
		return columns
	}
	p.Columns = at(steer)
	cuts, bad, err := j.spoils(p.Columns)
	if err != nil {
		return err
	}
	if p.Cuts = cuts; bad != nil {
		j.lower(p)
		steer = s1.Angle(math.Min(float64(p.Most[0].Steer), float64(p.Most[1].Steer)))
		p.Columns = at(steer)
		if p.Cuts, _, err = j.spoils(p.Columns); err != nil {
			return err
		}
	}
	for _, d := range sweep.Directions {
		p.Steer[d] = p.ways[d].steer(p.Columns[d])
	}
	p.Target.Angle = steer
	return nil
}

// spoils returns what must come off every plate for the column to turn between two angles, or the first
// cut that leaves too little metal.
func (j *job) spoils(columns [2]s1.Angle) (cuts []*Cut, bad *Most, err error) {
	for _, plate := range j.plates {
		c, err := plate.cut(columns[sweep.ToRight], columns[sweep.ToLeft], j.gap, j.chord)
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

// lower brings Most down to what leaves enough metal on every plate, and tells in which directions that
// is less than the columns of the plan. Each direction is looked at with the other straight ahead.
func (j *job) lower(p *Plan) (beyond [2]bool) {
	for _, d := range sweep.Directions {
		var columns [2]s1.Angle
		turned := func(share float64) *Most {
			columns[d] = p.Columns[d] * s1.Angle(share)
			_, bad, err := j.spoils(columns)
			if err != nil {
				return &Most{Reason: ByMetal, Cut: j.plates[0].whole()}
			}
			return bad
		}
		bad := turned(1)
		if bad == nil {
			continue
		}
		beyond[d] = true
		low, high := 0.0, 1.0
		for range 24 {
			mid := (low + high) / 2
			if found := turned(mid); found != nil {
				high, bad = mid, found
			} else {
				low = mid
			}
		}
		bad.Column = p.Columns[d] * s1.Angle(low)
		bad.Steer = p.ways[d].steer(bad.Column)
		p.Most[d] = *bad
	}
	if !beyond[0] && !beyond[1] { // only both together take too much
		beyond = [2]bool{true, true}
	}
	return beyond
}
