package advance

import "math"

// Least returns the t at which the room is least over the whole motion, and the room there, which is missed by no more than tolerance and,
// where the room is smooth about its least, by much less. found is false where the room is nowhere less than near, which costs less to find
// out, or where the motion does not reach its Limit.
func (m *Motion[S]) Least(near, tolerance float64) (t, room float64, found bool) {
	s := leastSearch[S]{m: m, best: near, tolerance: tolerance}
	a, okA := s.sample(0)
	b, okB := s.sample(m.Limit)
	if okA && okB {
		s.between(a, b, maxHalvings)
		if s.found {
			s.settle()
		}
	}
	m.free = append(m.free, a, b)
	return s.at, s.best, s.found && okA && okB
}

// maxHalvings bounds the depth of a search for the least room: 2^-40 of the motion.
const maxHalvings = 40

type leastSearch[S any] struct {
	m         *Motion[S]
	tolerance float64
	at, best  float64
	found     bool
	beside    [2]point // the samples on either side of the best when it was found
}

// point is a room at a place of the motion.
type point struct{ t, room float64 }

type sample[S any] struct {
	point
	state S
}

// sample measures the room at t, which lies between two samples, if any, and notes it if it is the least so far; ok is false where the motion
// does not get there.
func (s *leastSearch[S]) sample(t float64, beside ...point) (p *sample[S], ok bool) {
	if n := len(s.m.free); n > 0 {
		p, s.m.free = s.m.free[n-1], s.m.free[:n-1]
	} else {
		p = new(sample[S])
	}
	if p.state, ok = s.m.At(t); !ok {
		return p, false
	}
	p.t, p.room = t, s.m.Room(&p.state)
	if p.room < s.best-s.even(t) {
		s.at, s.best, s.found = t, p.room, true
		s.beside = [2]point{p.point, p.point}
		copy(s.beside[:], beside)
	}
	return p, true
}

// alike is by how much the room, in its unit, has to be less at a place elsewhere than at the best so far: of places that differ by less the
// first one found is kept, since rounding would choose between the two ends of a motion that is its own mirror image.
const alike = 1e-5

// even returns by how much the room has to be less at t than at the best: alike or, between the samples beside the best, nothing.
func (s *leastSearch[S]) even(t float64) float64 {
	if s.found && t >= s.beside[0].t && t <= s.beside[1].t {
		return 0
	}
	return alike
}

// between looks between two samples, unless nothing there can beat the best so far.
func (s *leastSearch[S]) between(a, b *sample[S], depth int) {
	if depth == 0 || s.floor(a, b) >= s.best-s.tolerance {
		return
	}
	t := (a.t + b.t) / 2
	if t == a.t || t == b.t { // as on a motion of no length, where travel need not come to nothing
		return
	}
	mid, ok := s.sample(t, a.point, b.point)
	if !ok {
		return
	}
	if b.room < a.room { // the nearer end first: a low best cuts the rest off
		s.between(mid, b, depth-1)
		s.between(a, mid, depth-1)
	} else {
		s.between(a, mid, depth-1)
		s.between(mid, b, depth-1)
	}
	s.m.free = append(s.m.free, mid)
}

// floor returns a bound from below of the room between two samples.
func (s *leastSearch[S]) floor(a, b *sample[S]) float64 {
	if floor := b.room - s.m.Travel(&b.state, &a.state); floor >= s.best-s.tolerance {
		return floor
	}
	return a.room - s.m.Travel(&a.state, &b.state)
}

const (
	// settled is the gain in room for which no more is done.
	settled = 1e-9
	// nearEnd is how far from an end, as a share of the motion, the room is measured to see whether it falls inwards from there.
	nearEnd = 1e-4
	// mostSettling bounds the steps of the last closing in, which takes three to six where room is smooth.
	mostSettling = 20
)

// settle closes in on the least room about the best sample by parabolas through three points.
func (s *leastSearch[S]) settle() {
	if s.beside[0].t == s.beside[1].t && !s.leaveEnd() {
		return
	}
	a, x, b := s.beside[0], point{s.at, s.best}, s.beside[1]
	for range mostSettling {
		t, gain := vertex(a, x, b)
		if gain <= settled {
			return
		}
		p, ok := s.sample(t)
		if !ok {
			return
		}
		next := p.point
		if next.room > x.room {
			next, x = x, next
		}
		if x.t < next.t { // next is the better of the two, and the other one bounds the least on its side
			a = x
		} else {
			b = x
		}
		x = next
		s.m.free = append(s.m.free, p)
	}
}

// leaveEnd reports whether the room falls inwards from the end of the motion at which it is least so far, and if so brackets the place where it
// is least; else that is the end itself.
func (s *leastSearch[S]) leaveEnd() bool {
	end := point{s.at, s.best}
	way := 1.0
	if end.t > 0 {
		way = -1
	}
	before := end
	for h := nearEnd * s.m.Limit; h <= s.m.Limit; h *= 2 {
		p, ok := s.sample(end.t + way*h)
		if !ok {
			return false
		}
		if p.room >= before.room {
			s.beside = [2]point{end, p.point}
			if way < 0 {
				s.beside = [2]point{p.point, end}
			}
			return before != end
		}
		before = p.point
	}
	return false
}

// vertex returns where the parabola through three points, in order of t and the middle one no higher than the others, is least, no further than
// the outer ones, and how far under the middle one it is there. Where the points lie in line or two of them at one t, gain is 0.
func vertex(a, x, b point) (t, gain float64) {
	left, right := x.t-a.t, b.t-x.t
	if !(left > 0 && right > 0) {
		return x.t, 0
	}
	// Slopes from the middle to either side; the bend is positive where it is least within.
	sa, sb := (x.room-a.room)/left, (b.room-x.room)/right
	bend := (sb - sa) / (left + right)
	if !(bend > 0) {
		return x.t, 0
	}
	slope := sa + bend*left // at the middle
	t = x.t - slope/(2*bend)
	return math.Min(math.Max(t, a.t), b.t), slope * slope / (4 * bend)
}
