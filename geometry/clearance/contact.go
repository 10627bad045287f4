package clearance

import (
	"math"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/geometry/advance"
	"locksweep/geometry/linkage"
	"locksweep/geometry/rigid"
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
	for i := range sc.pairs {
		column, found := sc.firstTouch(i, end)
		if !found {
			continue
		}
		pose, ok := sc.mechanism.Pose(column)
		if !ok {
			continue
		}
		pair := sc.pairs[i].pieces
		_, p, q := sc.Gap(pair, &pose)
		contacts = append(contacts, Contact{Pair: pair, Column: column, Side: sc.side(pair), Point: p.Add(q).Mul(0.5)})
	}
	return contacts
}

// firstTouch returns the column angle, from straight ahead to end, at which a pair first touches.
func (sc *Scene) firstTouch(i int, end s1.Angle) (column s1.Angle, found bool) {
	p := &sc.pairs[i]
	if p.unchecked {
		return 0, false
	}
	dir := math.Copysign(1, float64(end))
	if p.alone == Frame {
		t, found := sc.posed(p.pieces, 0, end).First(touching)
		return s1.Angle(dir * t), found
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
// angle of the other's body alone, so they outlast a change of rods and holes.
func (sc *Scene) turnAlone(p *pair) {
	still, moving := &sc.Pieces[p.pieces[0]], &sc.Pieces[p.pieces[1]]
	if moving.Body == Frame {
		still, moving = moving, still
	}
	start := 0.0
	if p.alone != Column {
		start = float64(sc.straight.Sides[p.alone.side()].Spindle)
	}
	for i, way := range [2]float64{1, -1} {
		motion := advance.Motion[float64]{
			Limit: math.Pi,
			At:    func(t float64) (float64, bool) { return start + way*t, true },
			Room: func(angle *float64) float64 {
				gap, _, _ := between(still, moving, rigid.Identity, rigid.About(sc.axes[p.alone], s1.Angle(*angle)), farOff)
				return gap
			},
			Travel: func(from, to *float64) float64 { return moving.reach * math.Abs(*to-*from) },
		}
		t, found := motion.First(touching)
		p.turn[i], p.touches[i] = start+way*t, found
	}
}

// posed is the motion of a pair from one column angle to another.
func (sc *Scene) posed(pair [2]int, start, end s1.Angle) *advance.Motion[linkage.Pose] {
	a, b := &sc.Pieces[pair[0]], &sc.Pieces[pair[1]]
	dir := math.Copysign(1, float64(end-start))
	return &advance.Motion[linkage.Pose]{
		Limit: math.Abs(float64(end - start)),
		At:    func(t float64) (linkage.Pose, bool) { return sc.poseOn(start, dir, t) },
		Room: func(p *linkage.Pose) float64 {
			gap, _, _ := between(a, b, sc.Motion(a.Body, p), sc.Motion(b.Body, p), farOff)
			return gap
		},
		Travel: func(from, to *linkage.Pose) float64 {
			return sc.travel(a, from, to) + sc.travel(b, from, to)
		},
	}
}

// farOff is how far apart the balls about two pieces may be before their shapes matter, mm.
const farOff = 50.0

// Near is a pair that comes near within the lock.
type Near struct {
	Pair   [2]int
	Gap    float64 // least, mm; 0 in contact
	Column s1.Angle
	Side   setup.Side
	Point  r3.Vector // midway between the nearest points, vehicle axes, mm
}

// Nearest returns the pairs that come nearer than near (mm) between two column angles, each with its
// least gap (to gapTolerance) and where that is. Neither a dead point nor an over-centre point may lie
// between the two.
func (sc *Scene) Nearest(from, to s1.Angle, near float64) (list []Near) {
	for i := range sc.pairs {
		pair := sc.pairs[i].pieces
		if sc.pairs[i].unchecked {
			continue
		}
		motion := sc.posed(pair, from, to)
		t, _, found := motion.Least(near, gapTolerance)
		if !found {
			continue
		}
		pose, _ := sc.poseOn(from, math.Copysign(1, float64(to-from)), t)
		gap, p, q := sc.Gap(pair, &pose)
		list = append(list, Near{Pair: pair, Gap: math.Max(gap, 0), Column: pose.Column, Side: sc.side(pair), Point: p.Add(q).Mul(0.5)})
	}
	return list
}

// gapTolerance is how near the least gap is found, mm: far finer than a tape.
const gapTolerance = 0.01
