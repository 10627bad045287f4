package clearance

import (
	"math"
	"slices"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/geometry/linkage"
	"locksweep/geometry/setup"
	"locksweep/geometry/solid"
)

// Near is a pair where it comes nearest, or where it first touches.
type Near struct {
	Pair   [2]int
	Gap    float64 // mm; 0 in contact
	Column s1.Angle
	Side   setup.Side
	Point  r3.Vector // midway between the nearest points, vehicle axes, mm
}

// Touching is the gap that counts as contact, mm: faces that slide on one another are in contact. Below a gap of about 5e-6 mm rounding may
// blur its direction so much that no step is safe any more, and that counts as contact too: 3e-6 degrees at a lever of 100 mm.
const Touching = 1e-8

// Contacts returns the first contact of every pair on the way from straight ahead to the column angle
// end, in the order of the pairs. The way must hold no dead point and no over-centre point.
func (sc *Scene) Contacts(end s1.Angle) (contacts []Near) {
	s := sc.search(end)
	for p := range sc.pairs {
		if column, found := s.firstTouch(p, end); found {
			if c, ok := sc.at(p.pieces, column); ok {
				contacts = append(contacts, c)
			}
		}
	}
	return inOrder(contacts)
}

// FirstContact returns the one of Contacts that comes first, of the pairs that are wanted, or of all for nil. It looks no further than
// that, so that it costs much less.
func (sc *Scene) FirstContact(end s1.Angle, wanted func(pair [2]int) bool) (c Near, found bool) {
	var first *pair
	s := sc.search(end)
	for _, known := range [2]bool{true, false} { // the sooner the way is short, the less is left to look at
		for p := range sc.pairs {
			if (p.alone != linkage.Frame) != known || wanted != nil && !wanted(p.pieces) {
				continue
			}
			column, touches := s.firstTouch(p, end)
			if touches && (first == nil || column != end || order(p.pieces, first.pieces) < 0) {
				first, end = p, column
				if beyond := end + s1.Angle(s.dir*grain); beyond.Abs() < s.end.Abs() { // what is put down to the same angle is met too
					s = sc.search(beyond)
				}
			}
		}
	}
	if first == nil {
		return c, false
	}
	return sc.at(first.pieces, end)
}

// at is a pair at a column angle; ok is false where the linkage does not get there.
func (sc *Scene) at(pair [2]int, column s1.Angle) (n Near, ok bool) {
	pose, ok := sc.mechanism.Pose(column)
	if !ok {
		return n, false
	}
	gap, a, b := sc.Gap(pair, &pose)
	return Near{Pair: pair, Gap: math.Max(gap, 0), Column: column, Side: sc.side(pair), Point: a.Add(b).Mul(0.5)}, true
}

// inOrder sorts by pairs.
func inOrder(list []Near) []Near {
	slices.SortFunc(list, func(a, b Near) int { return order(a.Pair, b.Pair) })
	return list
}

// search looks for contacts from straight ahead in one direction.
type search struct {
	*Scene
	dir float64
	way *journey // made when it is first needed
	end s1.Angle
}

func (sc *Scene) search(end s1.Angle) search {
	return search{Scene: sc, dir: math.Copysign(1, float64(end)), end: end}
}

// grain is what the column angle of a contact is a multiple of, radians (of a rack mm): 2⁻³⁶, 1e-9 degrees. An angle is put down to
// the next one nearer to straight ahead, so that every processor, each with roundings of its own, comes to the same.
const grain = 1.0 / (1 << 36)

// firstTouch returns the column angle, from straight ahead to end, at which a pair first touches, as a multiple of grain.
func (s *search) firstTouch(p *pair, end s1.Angle) (column s1.Angle, found bool) {
	if column, found = s.touches(p); !found {
		return 0, false
	}
	column = s1.Angle(math.Trunc(float64(column)/grain) * grain)
	return column, column.Abs() <= end.Abs()
}

// touches returns the column angle at which a pair first touches, as exactly as it is found. It may lie past the end of the search.
func (s *search) touches(p *pair) (column s1.Angle, found bool) {
	if p.out() {
		return 0, false
	}
	if p.alone == linkage.Frame {
		return s.follow(p)
	}
	way := linkage.DirectionIndex(s.mechanism.Way(p.alone, s.dir))
	turn, touches := p.turn[way], p.touches[way]
	switch {
	case !touches && s.within(p.alone, turn):
		return 0, false
	case !touches:
		return s.follow(p)
	case p.alone == linkage.Input:
		return s1.Angle(turn), true
	}
	return s.mechanism.ColumnAt(p.alone.Side(), s1.Angle(turn), s.dir)
}

// within reports whether a body turns no further than to an angle, radians, as far as the search goes.
func (s *search) within(b linkage.Body, turn float64) bool {
	if b == linkage.Input {
		return s.end.Abs() <= s1.Angle(math.Abs(turn))
	}
	if !s.prepare() {
		return false
	}
	start, end := s.way.ends[0].pose.Sides[b.Side()].Spindle, s.way.ends[1].pose.Sides[b.Side()].Spindle
	return math.Abs(linkage.Turn(start, end)) <= math.Abs(turn-float64(start))
}

// prepare makes the way of the search, all of it; ok is false where the linkage does not get to its end.
func (s *search) prepare() (ok bool) {
	if s.way == nil {
		s.way, _ = s.journey(0, s.end)
	}
	return s.way.ends != nil
}

// follow finds the first contact of a pair by following each two of its solids.
func (s *search) follow(p *pair) (column s1.Angle, found bool) {
	s.prepare()
	// What a pair of one body alone notes is of the start that it was looked at from, which may not be this one.
	limit, found := s.way.firstOf(s.Scene, p, math.Abs(float64(s.end)), p.alone == linkage.Frame)
	return s1.Angle(s.dir * limit), found
}

// firstOf returns the first contact of a pair on a journey, within limit; noted tells that the journey
// starts where touchesAhead looked at the pair.
func (j *journey) firstOf(sc *Scene, p *pair, limit float64, noted bool) (at float64, found bool) {
	for i := range p.meets {
		m := &p.meets[i]
		meeting := sc.meeting(p, m)
		if m.apart > Touching || m.start.least && j.keepsOff(&meeting, &m.start, math.Nextafter(Touching, 1)) {
			continue
		}
		start := m.start
		start.known = start.known && noted && !start.least
		j.take(meeting, limit, start)
		if t, touches := j.First(Touching); touches {
			limit, found = min(limit, j.closeIn(t)), true
		}
	}
	return limit, found
}

// closeIn returns where the gap of the meeting at hand is zero, given t, where it is next to nothing and blurred by rounding. The
// gap is continued to zero from a little before, by the parabola through three places with gaps of about a ten thousandth of a millimetre.
// Where that does not agree with the gap at t, because another edge is nearest by then or the two only brush, it returns t.
func (j *journey) closeIn(t float64) float64 {
	const (
		probe = 1e-6 // radians, or mm of a rack
		off   = 1e-4 // mm
		blur  = 3e-7 // of a gap next to nothing, mm: see solid.Distance
	)
	at := func(t float64) float64 {
		s, ok := j.at(t)
		if !ok || t < 0 {
			return math.NaN()
		}
		return j.room(&s)
	}
	here := at(t)
	step := math.Exp2(math.Round(math.Log2(probe * off / (at(t-probe) - here))))
	one, two, three := at(t-step), at(t-2*step), at(t-3*step)
	gap, bend := 3*(one-two)+three, (one-2*two+three)/2 // at t
	fall := one - gap - bend
	on := 2 * gap / (fall + math.Sqrt(fall*fall-4*bend*gap))
	if !(fall > 0 && math.Abs(gap-here) <= blur && math.Abs(on) < 1) {
		return t
	}
	return t + on*step
}

// LookedAt is how far each way a body is looked at beforehand, radians: as far as wheels turn that steer.
const LookedAt = 1.5

// turnAlone finds the contacts of a pair of which one piece stands on the frame: they depend on the
// angle of the other's body alone, so they outlast a change of rods and holes. Other pairs it leaves.
func (sc *Scene) turnAlone(p *pair) {
	if p.alone == linkage.Frame {
		return
	}
	start := 0.0
	if p.alone != linkage.Input {
		start = sc.spindles()[p.alone.Side()]
	}
	for i, way := range [2]float64{1, -1} {
		at, found := sc.turning(p.alone, start, way, LookedAt).firstOf(sc, p, LookedAt, true)
		p.turn[i], p.touches[i] = start+way*at, found
	}
}

// Turns are the angles of the bodies at which they first touch the frame, to the left and to the right, radians (of a rack mm): infinite
// where they do not.
type Turns [linkage.Bodies][2]float64

// Turns returns when the spindles and the column first touch the frame, of the pairs that are wanted and depend on neither rods nor
// holes. It is of use to all setups with the same spindle angles straight ahead, see Refit. No body was turned further than LookedAt.
func (sc *Scene) Turns(wanted func(pair [2]int) bool) (turns Turns) {
	for b := range turns {
		turns[b] = [2]float64{math.Inf(1), math.Inf(-1)}
	}
	for i := range sc.lasting {
		p := &sc.lasting[i]
		if p.alone == linkage.Frame || p.out() || !wanted(p.pieces) {
			continue
		}
		at := &turns[p.alone]
		if p.touches[0] {
			at[0] = min(at[0], p.turn[0])
		}
		if p.touches[1] {
			at[1] = max(at[1], p.turn[1])
		}
	}
	return turns
}

// gapTolerance is within what the least gap is known to be least, mm: far finer than a tape.
const gapTolerance = 0.01

// Clear is the least gap, mm, of which Closest and Nearest are sure that nothing that they looked at touches on the way.
const Clear = 2 * gapTolerance

// Nearest returns the pairs that come nearer than near (mm, at most 25 or ten times the clearance wanted)
// between two column angles, each with its least gap and where that is. Neither a dead point nor an
// over-centre point may lie between the two.
func (sc *Scene) Nearest(from, to s1.Angle, near float64) (list []Near) {
	var j *journey // a scene of no pieces knows no motion
	for p := range sc.pairs {
		if p.out() {
			continue
		}
		if j == nil {
			j, _ = sc.journey(from, to)
		}
		if n, found := sc.nearest(j, p, near); found {
			list = append(list, n)
		}
	}
	return inOrder(list)
}

// Closest returns the one of Nearest that comes nearest, of the pairs that except does not leave out. It
// looks at a pair only as far as it may beat the ones before, so that it costs less.
func (sc *Scene) Closest(from, to s1.Angle, near float64, except func(pair [2]int) bool) (least Near, found bool) {
	j, _ := sc.journey(from, to)
	for p := range sc.pairs {
		if p.out() || except(p.pieces) {
			continue
		}
		if n, nearer := sc.nearest(j, p, near); nearer {
			least, near, found = n, n.Gap, true
		}
	}
	return least, found
}

// ClosestAt is Closest at one pose.
func (sc *Scene) ClosestAt(pose *linkage.Pose, near float64, except func(pair [2]int) bool) (least Near, found bool) {
	at := sc.stop(*pose)
	for p := range sc.pairs {
		if p.out() || except(p.pieces) {
			continue
		}
		for i := range p.meets {
			m := &p.meets[i]
			if m.apart >= near {
				continue
			}
			a, b := &sc.Pieces[p.pieces[0]], &sc.Pieces[p.pieces[1]]
			one, other := &a.Solids[m.solids[0]], &b.Solids[m.solids[1]]
			if m.start.known && along(one, other, &at.place[a.Body], &at.place[b.Body], m.start.away) > near {
				continue
			}
			if gap, beyond := solid.Beyond(one, other, at.place[a.Body], at.place[b.Body], near); !beyond {
				near, found = gap, true
				least = Near{Pair: p.pieces, Gap: math.Max(gap, 0), Column: pose.Column, Side: sc.side(p.pieces)}
			}
		}
	}
	return least, found
}

// nearest is Nearest for one pair.
func (sc *Scene) nearest(j *journey, p *pair, near float64) (n Near, found bool) {
	var at float64
	for i := range p.meets {
		m := &p.meets[i]
		if m.apart >= near {
			continue
		}
		meeting := sc.meeting(p, m)
		if (p.alone == linkage.Frame || !sc.restarted) && j.keepsOff(&meeting, &m.start, near) {
			continue
		}
		j.take(meeting, j.length, view{})
		if t, room, nearer := j.Least(near, gapTolerance); nearer {
			at, near, found = t, room, true
		}
	}
	if !found {
		return n, false
	}
	pose, _ := j.pose(at)
	return sc.at(p.pieces, pose.Column)
}

// Against returns the pieces that a piece is checked against, in ascending order.
func (sc *Scene) Against(piece int) (others []int) {
	for p := range sc.pairs {
		switch {
		case p.out():
		case p.pieces[0] == piece:
			others = append(others, p.pieces[1])
		case p.pieces[1] == piece:
			others = append(others, p.pieces[0])
		}
	}
	slices.Sort(others)
	return others
}

// NearestOf is Nearest for one pair; found is false where its gap is nowhere under near, or where the pair is
// not one that is checked.
func (sc *Scene) NearestOf(pair [2]int, from, to s1.Angle, near float64) (n Near, found bool) {
	for p := range sc.pairs {
		if !p.out() && (p.pieces == pair || p.pieces == [2]int{pair[1], pair[0]}) {
			j, ok := sc.journey(from, to)
			if !ok {
				return n, false
			}
			n, found = sc.nearest(j, p, near)
			n.Pair = pair
			return n, found
		}
	}
	return n, false
}
