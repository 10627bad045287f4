package drill

import (
	"slices"

	"github.com/golang/geo/s1"

	"locksweep/geometry/linkage"
	"locksweep/geometry/sweep"
)

// glance bounds how well a place may do, at a tenth of the cost of judging it: it does no better, neither at the place itself nor within the
// slip. The bounds are the figures of the linkage by itself, turned as far as it turns at the most: locks and leverage are at most those, the
// error is at least that. Where such a bound has no meaning, the place is judged in full.
//
// A place whose rods touch something before that has less lock, or a stop that does not hold, and in either it ranks behind the bound; but
// over the shorter way its error and its leverage may be better. So the bound of the error is that of the way up to the least lock that
// still ranks as the bound's own, and the bound of the leverage is that straight ahead.
func (s *search) glance(n node) judged {
	sp := s.spot(n)
	b, err := s.foretold.Bound(sp.Fit(s.base.Setup))
	if err != nil {
		return judged{node: n, rank: nowhere()}
	}
	j := judged{node: n, possible: true, glanced: true}
	f := &j.Figures
	f.steering(b.Model)
	if !(f.Ratio > 0) || f.Opposed {
		return s.figures(n)
	}
	f.Transmission = s1.InfAngle()
	for _, rod := range b.Straight.Transmission {
		f.Transmission = min(f.Transmission, rod[linkage.AtArm], rod[linkage.AtDropArm])
	}
	for _, d := range sweep.Directions {
		lock, ok := b.Heading(b.Column[d])
		if !ok { // by rounding, at a dead point
			return s.figures(n)
		}
		f.Inner[d], _ = turned(&lock)
		if b.NoStop[d] {
			f.Faults[d] = []sweep.Code{sweep.NoMetalStop}
		}
	}
	for _, d := range sweep.Directions {
		f.Worst = max(f.Worst, s.leastWorst(&b, b.Column[d], f.Lock()))
	}
	j.Within = f.itself(nothingNear)
	j.rank = s.aims.rank(f, &j.Within)
	j.change = s.changeOf(&j)
	return j
}

// leastWorst returns a bound from below of the greatest departure of the inner wheel from the Ackermann wanted on the way to a column angle,
// unsigned. It holds for every lock that falls short of the given one, and of s.leastLock, by no more than what counts as no loss.
func (s *search) leastWorst(b *sweep.Bound, column, lock s1.Angle) (worst s1.Angle) {
	const (
		short = leastGain + 0.02*s1.Degree // of the lock: what counts as no loss, rounding of ranks, and a little more
		// More than the worst is missed by where a place is judged, between samples.
		missed, share = 0.002 * s1.Degree, 0.01
	)
	end, ok := b.AtInnerSteer(column, min(lock, s.leastLock)-short)
	if !ok {
		return 0
	}
	for _, part := range [...]s1.Angle{1, 0.9, 0.8, 0.7, 0.6, 0.5, 0.4} {
		p, ok := b.Heading(end.Column * part)
		if steer := p.LinkageSteer.Abs(); ok && steer > s.aims.From && (s.aims.To == 0 || steer < s.aims.To) {
			worst = max(worst, s.aims.departure(&p).Abs()*(1-share)-missed)
		}
	}
	return worst
}

// whole judges in full those of some places of the pool that have only been glanced at, on all cores.
func (s *search) whole(places []int) {
	places = slices.DeleteFunc(slices.Clone(places), func(i int) bool { return !s.pool[i].glanced })
	for k, j := range each(places, func(i int) judged { return s.figures(s.pool[i].node) }, nil) {
		s.pool[places[k]] = j
	}
}

// wholePool judges in full all places of the pool that have only been glanced at.
func (s *search) wholePool() { s.whole(s.those(func(_ int, j *judged) bool { return j.glanced })) }
