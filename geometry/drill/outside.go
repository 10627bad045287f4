package drill

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"
)

// Outside is the best of a coarse grid of places about today's hole that the outline leaves out, where that serves the aims much better than
// place 1. It asks for another part: it is told so that nobody takes place 1 for all that can be had, not to be drilled.
type Outside struct {
	Place
	Decides Aim     // the first aim by which it does better
	Out, Of int     // how many places of the grid the outline leaves out, and how many there are
	Reach   float64 // half the side of the square that the grid lies in, mm
}

// outsideAcross is how many places of the grid outside the outline lie in a row.
const outsideAcross = 20

// muchBetter is by how much less the departure from Ackermann outside the outline has to be, beside less than half of place 1's: a little can be had
// outside any outline (common practice, no source).
const muchBetter = 2 * s1.Degree

// Outside looks beyond the outline, where one hole moves and the outline is given; nil where nothing much better lies there.
func (r *Result) Outside() *Outside {
	if len(r.search.axes) > 2 || !r.EdgeKept() {
		return nil
	}
	wide, in := *r, r.search
	wide.Options.Progress, wide.Metals = nil, nil
	for _, m := range r.Metals {
		free := *m
		free.Outline = nil
		for i := range free.free {
			free.free[i] = r2.RectFromPoints(m.Plan(m.pins[i])).ExpandedByMargin(r.Options.Reach)
		}
		wide.Metals = append(wide.Metals, &free)
	}
	s := newSearch(&wide, in.base)
	s.aims, s.leastLock, s.leverageAsked = in.aims, in.leastLock, in.leverageAsked
	o := &Outside{Reach: r.Options.Reach}
	var out []node
	for _, n := range s.gridOf(int(math.Ceil(2 * o.Reach / outsideAcross / tenth))) {
		if o.Of++; !in.allowed(n) {
			out = append(out, n)
		}
	}
	o.Out = len(out)
	s.judge(out)
	i := s.first(anywhere)
	if i < 0 {
		return nil
	}
	best := &r.Best[0]
	if rank := &s.pool[i].rank; !rank.safe() || rank.compare(&best.rank) > 0 || s.aims.alike(&best.rank, rank) {
		return nil
	}
	o.Place, o.Decides = s.place(i), s.aims.decides(&s.pool[i].rank, &best.rank)
	if o.Decides == Ackermann && (2*o.Worst > best.Worst || o.Worst > best.Worst-muchBetter) {
		return nil
	}
	return o
}
