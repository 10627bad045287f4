package sweep

import (
	"math"
	"slices"
	"sync"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/geometry/clearance"
	"locksweep/geometry/linkage"
	"locksweep/geometry/neck"
	"locksweep/geometry/planar"
	"locksweep/geometry/region"
)

// ahead is how far beyond a contact the spindle is turned on to see which metal takes the blow.
const ahead = 0.5 * s1.Degree

// MetAhead returns, of the metal of a plate on a spindle or on the frame, what another piece reaches into ahead of a column angle, signed,
// at which they touch: what takes the blow. It is in the plate's axes, and empty where there is none.
func (m *Model) MetAhead(metal *neck.Metal, plate, other *clearance.Piece, column s1.Angle) (region.Region, error) {
	spindle, _, pose, ok := m.spindleAt(plate, other, column)
	if !ok {
		return region.Region{}, nil
	}
	turnOn(spindle, &pose, ahead)
	return m.met(metal, plate, other, &pose)
}

// turnOn turns the spindle of a piece on by an angle, the way that it turns as the column goes on.
func turnOn(spindle *clearance.Piece, pose *linkage.Pose, by s1.Angle) {
	s := &pose.Sides[spindle.Body.Side()]
	s.Spindle += by * way(s, pose)
}

// way is the sense in which a spindle turns at a pose as the column goes on: +1 to the left, -1 to the right.
func way(s *linkage.SidePose, pose *linkage.Pose) s1.Angle {
	return s1.Angle(math.Copysign(1, s.Rate*float64(pose.Column)))
}

// met returns what of a plate's metal another piece reaches into at a pose.
func (m *Model) met(metal *neck.Metal, plate, other *clearance.Piece, pose *linkage.Pose) (region.Region, error) {
	home := plate.Flat.Place.Inverse().After(m.Linkage.Motion(plate.Body, pose).Inverse())
	return metal.Met(plate.Flat, other, home.After(m.Linkage.Motion(other.Body, pose)))
}

// RootOf returns what a plate hangs on, where it is to stop another piece.
func (m *Model) RootOf(plate, other *clearance.Piece) neck.Root {
	return neck.RootOf(plate, func() r2.Point {
		return neck.Middle(other, plate.Flat.Place.Inverse().After(m.Scene.Motion(other.Body, &m.Straight.Pose)))
	})
}

// narrow reports which pieces of a pair that touches at a point are narrower than counts as a stop, on the way from there to what they
// hang on. Pieces that the file does not say enough of are not judged: see neck.Judged. What cannot be measured counts as too narrow; an
// error says why.
func (m *Model) narrow(pair [2]int, column s1.Angle, point r3.Vector) (narrow [2]bool, unmeasured [2]error) {
	for i := range pair {
		b, judged := m.blow(pair[i], pair[1-i], column, point)
		if !judged || neck.Plainly(b.plate.Flat.Outline, b.root, b.plate.Part.Bore, b.least, b.at) {
			continue
		}
		carries, err := m.widths.carries(&b, func() (bool, error) {
			metal, met, err := b.struck(m)
			if err != nil {
				return false, err
			}
			return metal.Carries(met, b.least)
		})
		narrow[i], unmeasured[i] = !carries || err != nil, err
	}
	return narrow, unmeasured
}

// blow is a plate that is hit.
type blow struct {
	pieces  [2]int // of the scene: the plate, and what hits it
	plate   *clearance.Piece
	other   *clearance.Piece
	spindle int          // its angle, in steps of sameSpindle
	next    linkage.Pose // with the spindle a little further
	at      r2.Point     // where it is hit, in its plane
	root    neck.Root
	least   float64 // width wanted, mm
}

// blow looks at a piece that another one touches at a point; judged is false where its width is not judged.
func (m *Model) blow(piece, other int, column s1.Angle, point r3.Vector) (b blow, judged bool) {
	b = blow{pieces: [2]int{piece, other}, plate: &m.Scene.Pieces[piece], other: &m.Scene.Pieces[other]}
	spindle, _, next, ok := m.spindleAt(b.plate, b.other, column)
	if b.next = next; !ok || !neck.Judged(b.plate) {
		return b, false
	}
	home, plane := m.Linkage.Motion(b.plate.Body, &b.next).Inverse(), b.plate.Flat.Place.Inverse()
	hit := plane.Point(home.Point(point))
	b.at = r2.Point{X: hit.X, Y: hit.Y}
	b.spindle = atStep(&b.next.Sides[spindle.Body.Side()].Spindle)
	turnOn(spindle, &b.next, ahead)
	b.root, b.least = m.RootOf(b.plate, b.other), neck.Least(b.plate.Part)
	return b, true
}

// struck returns the plate's metal, and what of it takes the blow: the outline of that, or where it has no area the place that is hit.
func (b *blow) struck(m *Model) (metal neck.Metal, met *planar.Nearest, err error) {
	if metal, err = m.widths.metalOf(b); err != nil {
		return metal, nil, err
	}
	next, err := m.met(&metal, b.plate, b.other, &b.next)
	edges := neck.Edges(next)
	if len(edges) == 0 {
		edges = []planar.Edge{{b.at, b.at}}
	}
	return metal, planar.NewNearest(edges), err
}

// widths remembers which plates are too narrow at which contacts, and which pairs only brush by. For a contact between frame and spindle both
// depend on the spindle's angle alone, so that they hold under other rods and holes too.
type widths struct {
	known  sync.Map // by widthKey: func() (carries bool, err error)
	brush  sync.Map // by brushKey: func() bool
	metals sync.Map // by blow.pieces: *prepared
	like   *widths  // of a setup that is much alike, whose metal serves where it is the same; nil: of none
}

// prepared is the metal of a plate, made when it is asked for, and what it is made of.
type prepared struct {
	metal   func() (neck.Metal, error)
	outline []r2.Point
	root    neck.Root
	bore    float64
}

// metalOf returns the metal of the plate that is hit, made once: of an outline of thousands of corners that takes a second.
func (w *widths) metalOf(b *blow) (neck.Metal, error) {
	p := &prepared{outline: slices.Clone(b.plate.Flat.Outline), root: b.root, bore: b.plate.Part.Bore}
	p.metal = sync.OnceValues(func() (neck.Metal, error) { return neck.New(p.outline, p.root, p.bore) })
	// Setups that are alike differ from the one that they are like, and mostly in something else than this plate. They are made over again
	// in their place, so what is kept is a copy.
	for from := w.like; from != nil; from = from.like {
		known, _ := from.metals.LoadOrStore(b.pieces, p)
		if is := known.(*prepared); is.bore == p.bore && is.root == p.root && slices.Equal(is.outline, p.outline) {
			return is.metal()
		}
	}
	known, _ := w.metals.LoadOrStore(b.pieces, p)
	return known.(*prepared).metal()
}

type widthKey struct {
	pieces  [2]int
	spindle int // in steps of sameSpindle
}

// sameSpindle is within what the same contact is found again with other rods: the rounding of its search.
const sameSpindle = 1e-4 * s1.Degree

func (w *widths) carries(b *blow, measure func() (bool, error)) (bool, error) {
	carries, _ := w.known.LoadOrStore(widthKey{b.pieces, b.spindle}, sync.OnceValues(measure))
	return carries.(func() (bool, error))()
}

type brushKey struct {
	pieces  [2]int
	spindle int  // in steps of sameSpindle
	left    bool // the way that the spindle goes on
}

// brushes is BrushesBy of two pieces of the scene, remembered.
func (m *Model) brushes(pair [2]int, column s1.Angle) bool {
	spindle, frame, pose, ok := m.spindleAt(&m.Scene.Pieces[pair[0]], &m.Scene.Pieces[pair[1]], column)
	if !ok {
		return false
	}
	side := &pose.Sides[spindle.Body.Side()]
	key := brushKey{pair, atStep(&side.Spindle), way(side, &pose) > 0}
	brushes, _ := m.widths.brush.LoadOrStore(key, sync.OnceValue(func() bool { return m.giveWay(spindle, frame, &pose) }))
	return brushes.(func() bool)()
}

// atStep rounds a spindle angle to a multiple of sameSpindle and returns which: what is remembered must not depend on who asked first.
func atStep(spindle *s1.Angle) (step int) {
	step = int(math.Round(float64(*spindle / sameSpindle)))
	*spindle = s1.Angle(step) * sameSpindle
	return step
}

// narrowStops finds the plates that would be the stop but for their width. A part that stands on both sides is named once, where it is
// narrowest.
func (r *Result) narrowStops() (found []Finding) {
	for _, d := range Directions {
		before := r.Stopping(&r.Locks[d]).Before
		for i := range before {
			f, narrow := r.narrowStop(d, &before[i])
			if !narrow {
				continue
			}
			part := r.Scene.Pieces[f.Pair[0]].Part
			at := slices.IndexFunc(found, func(o Finding) bool { return r.Scene.Pieces[o.Pair[0]].Part == part })
			switch {
			case at < 0:
				found = append(found, f)
			case math.IsNaN(f.Width) || f.Width < found[at].Width-neck.Step:
				found[at] = f
			}
		}
	}
	return found
}

// narrowStop measures the first piece of a contact that is too narrow for a stop; its Width is NaN where it cannot be measured.
func (m *Model) narrowStop(d Direction, l *Limit) (f Finding, ok bool) {
	for i, narrow := range l.Narrow {
		if !narrow {
			continue
		}
		b, _ := m.blow(l.Pair[i], l.Pair[1-i], l.Column, l.Point)
		f = Finding{Code: NarrowStop, Lock: d, Limit: l, Side: l.Side, Pair: b.pieces, Width: math.NaN(), Least: b.least}
		if metal, met, err := b.struck(m); err == nil {
			f.Width, _ = metal.Width(met)
		}
		return f, true
	}
	return f, false
}
