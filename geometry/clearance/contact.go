package clearance

import (
	"math"
	"slices"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/geometry/linkage"
	"locksweep/geometry/setup"
)

// Contact is the first touch of a pair in one direction.
type Contact struct {
	Pair   [2]int
	Column s1.Angle
	Side   setup.Side
	Point  r3.Vector // vehicle axes, mm
}

// touching is the gap that counts as contact, mm: as an angle, under 1e-5 degrees at any lever of note.
const touching = 1e-6

// Contacts returns the first contact of every pair on the way from straight ahead to the column angle
// end, in the order of the pairs. The way must hold no dead point and no over-centre point.
func (sc *Scene) Contacts(end s1.Angle) (contacts []Contact) {
	for p := range sc.pairs {
		if column, found := sc.firstTouch(p, end); found {
			contacts = sc.contact(contacts, p, column)
		}
	}
	slices.SortFunc(contacts, func(a, b Contact) int { return inOrder(a.Pair, b.Pair) })
	return contacts
}

// FirstContact returns the one of Contacts that comes first. It looks no further than that, so that
// it costs much less.
func (sc *Scene) FirstContact(end s1.Angle) (c Contact, found bool) {
	var first *pair
	for _, cheap := range [2]bool{true, false} { // the sooner the way is short, the less is left to look at
		for p := range sc.pairs {
			if (p.alone != Frame) != cheap {
				continue
			}
			column, touches := sc.firstTouch(p, end)
			if touches && (first == nil || column != end || inOrder(p.pieces, first.pieces) < 0) {
				first, end = p, column
			}
		}
	}
	if first == nil {
		return c, false
	}
	contacts := sc.contact(nil, first, end)
	return contacts[0], len(contacts) > 0
}

// contact adds the contact of a pair at a column angle.
func (sc *Scene) contact(list []Contact, p *pair, column s1.Angle) []Contact {
	pose, ok := sc.mechanism.Pose(column)
	if !ok {
		return list
	}
	_, a, b := sc.Gap(p.pieces, &pose)
	return append(list, Contact{Pair: p.pieces, Column: column, Side: sc.side(p.pieces), Point: a.Add(b).Mul(0.5)})
}

// firstTouch returns the column angle, from straight ahead to end, at which a pair first touches.
func (sc *Scene) firstTouch(p *pair, end s1.Angle) (column s1.Angle, found bool) {
	if p.unchecked {
		return 0, false
	}
	dir := math.Copysign(1, float64(end))
	if p.alone == Frame {
		limit := end
		for _, m := range p.meets {
			if m.apart > touching {
				continue
			}
			meeting := sc.meeting(p, m)
			if t, touches := meeting.posed(0, limit).First(touching); touches {
				limit, found = s1.Angle(dir*t), true
			}
		}
		return limit, found
	}
	way := dir
	if p.alone != Column {
		way = math.Copysign(1, sc.straight.Sides[p.alone.side()].Rate()*dir)
	}
	turn, touches := p.touch(way)
	switch {
	case !touches:
		return 0, false
	case p.alone == Column:
		column = s1.Angle(turn)
	default:
		if column, found = sc.mechanism.ColumnAt(p.alone.side(), s1.Angle(turn), dir); !found {
			return 0, false
		}
	}
	return column, column.Abs() <= end.Abs()
}

// touch returns the angle of the one body that moves at the first contact the way ±1.
func (p *pair) touch(way float64) (angle float64, touches bool) {
	if way > 0 {
		return p.turn[0], p.touches[0]
	}
	return p.turn[1], p.touches[1]
}

// turnAlone finds the contacts of a pair of which one piece stands on the frame: they depend on the
// angle of the other's body alone, so they outlast a change of rods and holes. Other pairs it leaves.
func (sc *Scene) turnAlone(p *pair) {
	if p.alone == Frame {
		return
	}
	start := 0.0
	if p.alone != Column {
		start = sc.spindles()[p.alone.side()]
	}
	for i, way := range [2]float64{1, -1} {
		limit, touches := math.Pi, false
		for _, m := range p.meets {
			if m.apart > touching {
				continue
			}
			meeting := sc.meeting(p, m)
			if t, found := meeting.turned(p.alone, start, way, limit).First(touching); found {
				limit, touches = t, true
			}
		}
		p.turn[i], p.touches[i] = start+way*limit, touches
	}
}

// Near is a pair that comes near within the lock.
type Near struct {
	Pair   [2]int
	Gap    float64 // least, mm; 0 in contact
	Column s1.Angle
	Side   setup.Side
	Point  r3.Vector // midway between the nearest points, vehicle axes, mm
}

// gapTolerance is within what the least gap is known to be least, mm: finer than a tape.
const gapTolerance = 0.01

// Nearest returns the pairs that come nearer than near (mm, at most 50 or ten times the clearance wanted)
// between two column angles, each with its least gap and where that is. Neither a dead point nor an
// over-centre point may lie between the two.
func (sc *Scene) Nearest(from, to s1.Angle, near float64) (list []Near) {
	for p := range sc.pairs {
		if p.unchecked {
			continue
		}
		if n, found := sc.nearest(p, from, to, near); found {
			list = append(list, n)
		}
	}
	slices.SortFunc(list, func(a, b Near) int { return inOrder(a.Pair, b.Pair) })
	return list
}

// nearest is Nearest for one pair.
func (sc *Scene) nearest(p *pair, from, to s1.Angle, near float64) (n Near, found bool) {
	var at float64
	for _, m := range p.meets {
		if m.apart >= near {
			continue
		}
		meeting := sc.meeting(p, m)
		if t, room, nearer := meeting.posed(from, to).Least(near, gapTolerance); nearer {
			at, near, found = t, room, true
		}
	}
	if !found {
		return n, false
	}
	pose, ok := sc.poseOn(from, math.Copysign(1, float64(to-from)), at)
	gap, a, b := sc.Gap(p.pieces, &pose)
	return Near{Pair: p.pieces, Gap: math.Max(gap, 0), Column: pose.Column, Side: sc.side(p.pieces), Point: a.Add(b).Mul(0.5)}, ok
}

// poseOn is a pose at t radians of column angle in direction dir from a column angle.
func (sc *Scene) poseOn(start s1.Angle, dir, t float64) (linkage.Pose, bool) {
	return sc.mechanism.Pose(start + s1.Angle(dir*t))
}
