package clearance

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"

	"github.com/golang/geo/r3"

	"locksweep/geometry/linkage"
	"locksweep/geometry/planar"
	"locksweep/geometry/setup"
	"locksweep/geometry/solid"
)

// Scene is all pieces of a setup and the pairs that may touch. It is only read once it is made.
type Scene struct {
	Pieces []Piece

	mechanism *linkage.Mechanism
	start     stop // straight ahead
	restarted bool // what pairs of one body alone have noted may be of other spindle angles straight ahead
	onePin    bool // both rods hang on one pin of an arm, or on two too near to tell apart
	ignored   map[[2]string]bool
	margin    float64            // pairs that are further apart at all poses are left out, mm
	alike     *Alike             // of a scene made by Glance: what was known beforehand
	fits      func() []candidate // the pairs with a piece that depends on rods or holes, noted at the first Refit
	// Two lists of pairs: those that stay as they are under other rods and holes, and those with a piece that does not.
	lasting, fitted []pair
	touching        func() []Touch // measured when first asked for: between thousands of solids that takes a second
}

// Told returns a scene of the same pieces without their shapes, of which there may be thousands: enough to name pieces and to tell what
// touches. It must not be asked for gaps or contacts.
func (s *Scene) Told() *Scene {
	touches := s.Touching()
	told := &Scene{Pieces: slices.Clone(s.Pieces), touching: func() []Touch { return touches }}
	for i := range told.Pieces {
		p := &told.Pieces[i]
		p.Solids, p.Flat, p.shapes = nil, nil, nil
	}
	return told
}

// TouchError says which pieces touch with the column centred.
type TouchError struct {
	Pairs [][2]string
	At    []r3.Vector // where, by pair, vehicle axes, mm
}

func (e *TouchError) Error() string {
	var b strings.Builder
	for i, p := range e.Pairs {
		if i > 0 {
			b.WriteString("; ")
		}
		fmt.Fprintf(&b, "%s and %s", p[0], p[1])
	}
	return "in touch straight ahead: " + b.String() +
		"; nothing can be told of what moves through metal (measure again, or name the pair under ignore)"
}

// leastMargin is the least margin of a scene, mm.
const leastMargin = 25.0

// New prepares the pieces of a setup. The error is a *TouchError where given pieces touch straight ahead; the scene
// serves all the same, but those pairs are not looked at further: see Touching.
func New(s *setup.Setup, m *linkage.Mechanism) (*Scene, error) {
	sc, err := place(s, m, math.Max(leastMargin, 10*s.Limits.Clearance), nil)
	if err != nil {
		return nil, err
	}
	sc.lasting = sc.pairUp(func(a, b *Piece) bool { return !eitherFitted(a, b) })
	sc.fitted = sc.pairUp(eitherFitted)
	return sc, sc.examine(sc.lasting, sc.fitted)
}

// place makes the pieces of a setup, with plates cut as is known beforehand, by piece.
func place(s *setup.Setup, m *linkage.Mechanism, margin float64, cuts []planar.Cut) (*Scene, error) {
	pieces, err := build(s, m, cuts)
	if err != nil {
		return nil, err
	}
	sc := &Scene{Pieces: pieces, ignored: ignoreList(s.Ignore), margin: margin}
	sc.touching = sync.OnceValue(sc.overlaps)
	sc.fits = sync.OnceValue(func() []candidate { return sc.noted(eitherFitted) })
	sc.ride(m)
	for i := range sc.Pieces {
		sc.study(&sc.Pieces[i])
	}
	return sc, nil
}

// Refit is New for the same setup with other pickups, pins or rods: every other piece, and all that is
// known of it, is taken over.
func (sc *Scene) Refit(s *setup.Setup, m *linkage.Mechanism) (*Scene, error) {
	known := sc.fits()
	fit := *sc
	fit.touching = sync.OnceValue(fit.overlaps)
	fit.Pieces = slices.Clone(sc.Pieces)
	fit.ride(m)
	b := builder{setup: s, mechanism: m}
	for i := range fit.Pieces {
		if p := &fit.Pieces[i]; p.fitted() {
			b.again(p)
			fit.study(p)
		}
	}
	if b.err != nil {
		return nil, b.err
	}
	fit.fitted = fit.close(known, [2]int{len(sc.fitted), 2 * len(sc.fitted)}) // about as many as there
	if fit.spindles() == sc.spindles() {
		return &fit, fit.examine(fit.fitted)
	}
	fit.restarted = true
	stand, anew := fit.restart()
	err := fit.examine(anew, fit.fitted)
	fit.lasting = append(stand, anew...)
	return &fit, err
}

// spindles returns both spindle angles straight ahead.
func (sc *Scene) spindles() [2]float64 {
	return [2]float64{float64(sc.start.pose.Sides[setup.Left].Spindle), float64(sc.start.pose.Sides[setup.Right].Spindle)}
}

// restart parts the lasting pairs, for other spindle angles straight ahead, into those of which all that is
// known still holds and those that must be looked at again. It holds where the spindle still stands between the contacts that were found
// either way.
func (sc *Scene) restart() (stand, anew []pair) {
	start := sc.spindles()
	for _, p := range sc.lasting {
		free := p.alone == linkage.Input
		if p.alone != linkage.Frame && p.alone != linkage.Input && !p.touching {
			at := start[p.alone.Side()]
			free = !(p.touches[0] && at >= p.turn[0]) && !(p.touches[1] && at <= p.turn[1])
		}
		if free {
			stand = append(stand, p)
		} else {
			p.meets = slices.Clone(p.meets) // what is noted of them must not reach the scene that they come from
			anew = append(anew, p)
		}
	}
	return stand, anew
}

// ride takes the mechanism that moves the bodies of a scene.
func (sc *Scene) ride(m *linkage.Mechanism) {
	sc.mechanism = m
	straight, _ := m.Pose(0)
	sc.start = sc.stop(straight)
	sc.onePin = false
	one, two := &m.Rods[0], &m.Rods[1]
	for _, end := range linkage.Ends {
		for _, other := range linkage.Ends {
			if one.On(end) == two.On(other) {
				sc.onePin = sc.onePin || one.Arm(end).Sub(two.Arm(other)).Norm() < (one.Spec.Diameter+two.Spec.Diameter)/2+Touching
			}
		}
	}
}

// examine looks at pairs with the column centred, and finds the contacts of those of which one piece stands
// on the frame. The error is a *TouchError.
func (sc *Scene) examine(lists ...[]pair) error {
	var touch TouchError
	for _, pairs := range lists {
		for i := range pairs {
			p := &pairs[i]
			a, b := &sc.Pieces[p.pieces[0]], &sc.Pieces[p.pieces[1]]
			p.unchecked, p.touching = sc.onePin && a.bare() && b.bare(), false
			switch {
			case p.unchecked:
			case !sc.touchesAhead(p):
				if sc.alike != nil {
					p.alone = linkage.Frame // it is followed like any other
				} else {
					sc.turnAlone(p)
				}
			case a.Assumed || b.Assumed:
				p.unchecked = true
			default:
				p.touching = true
				touch.add(sc, p)
			}
		}
	}
	if len(touch.Pairs) > 0 {
		return &touch
	}
	return nil
}

// worthwhile is the bound, mm, of a gap straight ahead above which the gap itself is not measured: such a bound mostly shows already that the two
// keep off on all of the way.
const worthwhile = 15.0

// touchesAhead reports whether a pair touches straight ahead. It notes how far its solids are apart there: those that may ever touch, in a
// scene made by Glance all.
func (sc *Scene) touchesAhead(p *pair) (touches bool) {
	for i := range p.meets {
		m := &p.meets[i]
		if m.apart > Touching && sc.alike == nil {
			continue
		}
		meeting := sc.meeting(p, m)
		at := meeting.stance(&sc.start)
		if m.ahead != (r3.Vector{}) {
			if meeting.along(&at, m.ahead) > worthwhile {
				m.start = at.view
				continue
			}
			at.view = view{}
		}
		touches = meeting.room(&at) <= Touching || touches
		m.start = at.view
	}
	return touches
}

func (e *TouchError) add(sc *Scene, p *pair) {
	_, at, _ := sc.Gap(p.pieces, &sc.start.pose)
	names := sc.PairNames(p.pieces)
	for i, piece := range p.pieces {
		if part := sc.Pieces[piece].Part; part != nil && part.Line > 0 {
			names[i] += fmt.Sprintf(" (line %d)", part.Line)
		}
	}
	e.Pairs = append(e.Pairs, names)
	e.At = append(e.At, at)
}

// pairs yields all pairs that may come near.
func (sc *Scene) pairs(yield func(*pair) bool) {
	for _, list := range [2][]pair{sc.lasting, sc.fitted} {
		for i := range list {
			if !yield(&list[i]) {
				return
			}
		}
	}
}

// Touch is a pair of given shapes that touches or overlaps with the column centred.
type Touch struct {
	Pair  [2]int
	Depth float64   // by how much one would have to be moved to come clear, where the overlap is deepest, mm
	Point r3.Vector // there, vehicle axes, mm
}

// Touching returns the pairs of given shapes that touch straight ahead, in order. Neither contacts nor gaps are told of
// them.
func (sc *Scene) Touching() []Touch {
	if sc.touching == nil { // a scene of no pieces
		return nil
	}
	return sc.touching()
}

// overlaps measures what Touching tells.
func (sc *Scene) overlaps() (touches []Touch) {
	for p := range sc.pairs {
		if p.touching {
			touches = append(touches, sc.touch(p))
		}
	}
	slices.SortFunc(touches, func(a, b Touch) int { return order(a.Pair, b.Pair) })
	return touches
}

// touch measures how deep a pair overlaps straight ahead.
func (sc *Scene) touch(p *pair) Touch {
	t := Touch{Pair: p.pieces, Depth: -1}
	a, b := &sc.Pieces[p.pieces[0]], &sc.Pieces[p.pieces[1]]
	ma, mb := &sc.start.place[a.Body], &sc.start.place[b.Body]
	for i := range p.meets {
		one, other := &a.Solids[p.meets[i].solids[0]], &b.Solids[p.meets[i].solids[1]]
		gap, onOne, onOther := solid.Distance(one, other, *ma, *mb)
		if gap > 0 {
			continue
		}
		if depth := solid.Depth(one, other, *ma, *mb); depth > t.Depth {
			t.Depth, t.Point = depth, onOne.Add(onOther).Mul(0.5)
		}
	}
	t.Depth = math.Max(t.Depth, 0)
	return t
}

// Unchecked returns the pairs that touch straight ahead only by the assumed shape of one of them, and
// are not looked at further.
func (sc *Scene) Unchecked() (pairs [][2]int) {
	for p := range sc.pairs {
		if a, b := &sc.Pieces[p.pieces[0]], &sc.Pieces[p.pieces[1]]; p.unchecked && (a.Assumed || b.Assumed) {
			pairs = append(pairs, p.pieces)
		}
	}
	slices.SortFunc(pairs, order)
	return pairs
}

// order compares pairs by their pieces.
func order(a, b [2]int) int { return slices.Compare(a[:], b[:]) }
