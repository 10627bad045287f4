package grind

import (
	"errors"
	"fmt"
	"math"

	"github.com/golang/geo/s1"

	"locksweep/geometry/region"
	"locksweep/geometry/sweep"
)

// role is what the ground metal is in one direction.
type role int

const (
	asIs   role = iota // the target lies within the present lock: the stop stays as it is
	isStop             // the ground metal is the stop at the target
	passes             // something else is the stop: the ground metal passes it by the clearance
)

const (
	// over is how far beyond its target a stop may come, of the inner wheel or of the column, as the target is measured.
	over    = 0.05 * s1.Degree
	tries   = 10
	mostGap = 0.05 // that metal is kept from sliding along its own cut at most, mm
	exactly = 1e-9 * s1.Degree
)

// gap returns how far a plate is to stay clear of an obstacle in a direction, mm; NaN where it is left as it is,
// since the wheels turn so far today.
func (j *job) gap(piece, obstacle int, d sweep.Direction) float64 {
	switch w := j.ways[d]; {
	case j.roles[d] == asIs:
		return math.NaN()
	case w.own == nil || j.clear || w.own.Pair != pairOf(piece, obstacle):
	case j.roles[d] == isStop:
		return j.least[d]
	}
	return math.Max(j.want, leastGap)
}

func (j *job) gaps(p *plate) gaps {
	return func(obstacle int, d sweep.Direction) float64 { return j.gap(p.piece, obstacle, d) }
}

func pairOf(a, b int) [2]int { return [2]int{min(a, b), max(a, b)} }

// settle finds the cuts for the target and proves them: the stop comes at the target or just beyond, with metal that is wide enough.
// It tells in which directions they do not hold.
func (j *job) settle(p *Plan) (beyond [2]bool, err error) {
	ends := p.Columns
	for _, d := range sweep.Directions {
		ends[d] = j.endOf(p, d)
	}
	shifted := [2]int{}
	for range tries {
		var bad *Most
		if p.Cuts, bad, err = j.spoils(ends); err != nil || bad != nil {
			return [2]bool{true, true}, err
		}
		if err := j.prove(p); err != nil {
			return beyond, err
		}
		again := false
		for _, d := range sweep.Directions {
			mend, err := j.correct(p, d, &ends, &shifted[d])
			if err != nil {
				return beyond, err
			}
			again = again || mend
		}
		if !again {
			return j.unsound(p), j.finish(p, ends)
		}
	}
	return beyond, errors.New("the plan does not hold: no cut was found that stops the wheels at the target")
}

// endOf returns the column angle up to which a direction is ground for.
func (j *job) endOf(p *Plan, d sweep.Direction) s1.Angle {
	w := p.ways[d]
	switch j.roles[d] {
	case asIs:
		if w.stopped {
			return w.today
		}
	case passes:
		return w.other.Column
	}
	return p.Columns[d]
}

// correct looks at what a fresh sweep says of one direction, and changes what it is ground for where that does not do.
func (j *job) correct(p *Plan, d sweep.Direction, ends *[2]s1.Angle, shifted *int) (again bool, err error) {
	w, lock := p.ways[d], &p.Locks[d]
	first := lock.First()
	if j.roles[d] != isStop {
		return false, nil
	}
	plate, obstacle := j.touched(first)
	beyond := p.measure(d, lock.Column) - p.measure(d, p.Columns[d])
	room := min(over, max(p.measure(d, w.furthest.Column)-p.measure(d, p.Columns[d]), over/4))
	switch {
	case plate == nil:
		if w.other != nil { // nothing is left that would be the stop
			j.roles[d] = passes
			ends[d] = j.endOf(p, d)
			return true, nil
		}
		return false, nil
	case beyond < -exactly: // it catches on the chords of its own cut
		if j.least[d] *= 2; j.least[d] > mostGap {
			return false, fmt.Errorf("the plan does not hold: swept afresh the steering stops %s at %.3f degrees of column angle, %.3f were planned",
				d, lock.Column.Abs().Degrees(), p.Columns[d].Abs().Degrees())
		}
		return true, nil
	case beyond > room && *shifted < 4 && first.Pair == w.own.Pair:
		*shifted++
		back := (lock.Column - p.Columns[d]) * s1.Angle(1-float64(room/4/beyond))
		ends[d] -= back
		return true, nil
	}
	return j.cutAway(p, plate, obstacle, lock.Column)
}

// touched returns the plate that a limit stops against, and what stops it; nil where it is none.
func (j *job) touched(l *sweep.Limit) (plate *plate, obstacle int) {
	if l == nil || l.Kind != sweep.Contact {
		return nil, 0
	}
	for _, p := range j.plates {
		for i, piece := range l.Pair {
			if piece == p.piece {
				return p, l.Pair[1-i]
			}
		}
	}
	return nil, 0
}

// cutAway takes off what is left of a plate in the way of an obstacle where it is too narrow to be a stop.
func (j *job) cutAway(p *Plan, plate *plate, obstacle int, column s1.Angle) (again bool, err error) {
	r, err := plate.rest(p.outline(plate))
	if err != nil {
		return false, err
	}
	patch, err := plate.patch(r.metal, obstacle, column)
	if err != nil || patch.Area() <= leastArea {
		return false, err
	}
	if ok, err := r.carries(newNearest(edgesOf(patch)), plate.width); ok || err != nil {
		return false, err
	}
	narrow, err := r.narrow(patch, plate.width)
	if err != nil || narrow.Area() <= leastArea {
		return false, err
	}
	plate.spoilt, err = region.Union(plate.spoilt, narrow)
	plate.away = true
	return true, err
}
