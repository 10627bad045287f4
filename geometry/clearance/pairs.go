package clearance

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/geometry/linkage"
	"locksweep/geometry/rigid"
	"locksweep/geometry/setup"
	"locksweep/geometry/solid"
)

// Scene is all pieces of a setup and the pairs that may touch. It is only read once it is made.
type Scene struct {
	Pieces []Piece

	mechanism *linkage.Mechanism
	axes      [bodies]rigid.Axis // that a spindle or the column turns about
	rodHome   [2]rigid.Motion    // straight ahead back to rod axes
	levers    [2][2]float64      // of the rods' balls, by side and linkage.End
	straight  linkage.Pose
	onePin    bool // both rods hang on one pin of the drop arm, or on two too near to tell apart
	pairs     []pair
}

// pair is two pieces that may touch.
type pair struct {
	pieces [2]int
	// alone is the spindle or column that moves against the frame; Frame where more than one body moves.
	alone Body
	// turn is the angle of that body at the first contact, to the left and to the right.
	turn    [2]float64
	touches [2]bool
	// unchecked: the pair touches straight ahead, but only by the assumed shape of one of them.
	unchecked bool
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

// New prepares the pieces of a setup. The error is a *TouchError where given pieces touch straight ahead.
func New(s *setup.Setup, m *linkage.Mechanism) (*Scene, error) {
	pieces, err := build(s, m)
	if err != nil {
		return nil, err
	}
	sc := &Scene{Pieces: pieces}
	sc.ride(s, m)
	for i := range sc.Pieces {
		sc.Pieces[i].bound(sc)
	}
	ignored := ignoreList(s.Ignore)
	for i := range sc.Pieces {
		for j := range i {
			a, b := &sc.Pieces[j], &sc.Pieces[i]
			if a.Body == b.Body || jointed(a, b) || ignored[[2]string{a.Name, b.Name}] {
				continue
			}
			sc.pairs = append(sc.pairs, pair{pieces: [2]int{j, i}, alone: alone(a.Body, b.Body)})
		}
	}
	return sc, sc.examine(func(*pair) bool { return true })
}

// Refit is New for the same setup with other pickups, pins or rods: every other piece, and all that is
// known of it, is taken over.
func (sc *Scene) Refit(s *setup.Setup, m *linkage.Mechanism) (*Scene, error) {
	fit := *sc
	fit.Pieces, fit.pairs = slices.Clone(sc.Pieces), slices.Clone(sc.pairs)
	fit.ride(s, m)
	b := builder{setup: s, mechanism: m}
	for i := range fit.Pieces {
		p := &fit.Pieces[i]
		if !p.fitted() {
			continue
		}
		b.pieces = b.pieces[:0]
		switch {
		case p.Part != nil:
			b.standing(p.Part, p.Side, p.Sided)
		case p.Name == TieRod:
			b.rod(p.Side)
		case p.Name == Arm:
			b.arm(p.Side)
		default:
			b.dropArm()
		}
		*p = b.pieces[0]
		p.bound(&fit)
	}
	if b.err != nil {
		return nil, b.err
	}
	sameStart := fit.straight.Sides[setup.Left].Spindle == sc.straight.Sides[setup.Left].Spindle &&
		fit.straight.Sides[setup.Right].Spindle == sc.straight.Sides[setup.Right].Spindle
	return &fit, fit.examine(func(p *pair) bool {
		return !sameStart || fit.Pieces[p.pieces[0]].fitted() || fit.Pieces[p.pieces[1]].fitted()
	})
}

// fitted tells whether a piece depends on where the rods' balls are.
func (p *Piece) fitted() bool { return p.Body.isRod() || p.Assumed }

// ride notes how the bodies of a scene move.
func (sc *Scene) ride(s *setup.Setup, m *linkage.Mechanism) {
	sc.mechanism = m
	sc.straight, _ = m.Pose(0)
	sc.axes[Column] = s.Column.Axis()
	diameters := 0.0
	for _, side := range setup.Sides {
		sp := &sc.straight.Sides[side]
		sc.axes[spindle(side)] = s.Kingpin(side)
		sc.rodHome[side] = setup.RodAxes(side, sp.Pin, sp.Rod).Inverse()
		sc.levers[side] = [2]float64{linkage.AtArm: m.Loops[side].Out.Lever(), linkage.AtDropArm: m.Loops[side].In.Lever()}
		diameters += s.Corners[side].Rod.Diameter
	}
	sc.onePin = s.DropArm.Pins[setup.Left].Sub(s.DropArm.Pins[setup.Right]).Norm() < diameters/2
}

// examine looks at the pairs that are wanted with the column centred, and finds the contacts of those of
// which one piece stands on the frame. The error is a *TouchError.
func (sc *Scene) examine(wanted func(*pair) bool) error {
	var touch TouchError
	for i := range sc.pairs {
		p := &sc.pairs[i]
		if !wanted(p) {
			continue
		}
		a, b := &sc.Pieces[p.pieces[0]], &sc.Pieces[p.pieces[1]]
		if p.unchecked = sc.onePin && a.bare() && b.bare(); p.unchecked {
			continue
		}
		gap, at, _ := between(a, b, sc.Motion(a.Body, &sc.straight), sc.Motion(b.Body, &sc.straight), farOff)
		switch {
		case gap > 0 && p.alone != Frame:
			sc.turnAlone(p)
		case gap > 0:
		case a.Assumed || b.Assumed:
			p.unchecked = true
		default:
			touch.Pairs = append(touch.Pairs, [2]string{a.Label(), b.Label()})
			touch.At = append(touch.At, at)
		}
	}
	if len(touch.Pairs) > 0 {
		return &touch
	}
	return nil
}

// bare tells whether a piece is a tie rod itself.
func (p *Piece) bare() bool { return p.Name == TieRod && p.Part == nil }

// alone returns the body that moves where the other stands on the frame and it is no rod; else Frame.
func alone(a, b Body) Body {
	if a == Frame {
		a, b = b, a
	}
	if b != Frame || a.isRod() {
		return Frame
	}
	return a
}

// Unchecked returns the pairs that touch straight ahead only by the assumed shape of one of them, and
// are not looked at further.
func (sc *Scene) Unchecked() (pairs [][2]int) {
	for i := range sc.pairs {
		p := &sc.pairs[i]
		if a, b := &sc.Pieces[p.pieces[0]], &sc.Pieces[p.pieces[1]]; p.unchecked && (a.Assumed || b.Assumed) {
			pairs = append(pairs, p.pieces)
		}
	}
	return pairs
}

func ignoreList(pairs [][2]string) map[[2]string]bool {
	ignored := make(map[[2]string]bool, 2*len(pairs))
	for _, p := range pairs {
		ignored[p], ignored[[2]string{p[1], p[0]}] = true, true
	}
	return ignored
}

// jointed tells whether two pieces are held together by a joint, so that they touch by construction: a rod
// on its own steering arm and on the drop arm, an arm of assumed shape on the frame's ears about its
// kingpin.
func jointed(a, b *Piece) bool {
	for _, p := range [2][2]*Piece{{a, b}, {b, a}} {
		one, two := p[0], p[1]
		own := one.Side == two.Side
		switch {
		case one.bare() && two.Part == nil && (two.Name == DropArm || two.Name == Arm && own):
			return true
		case one.Name == Arm && one.Part == nil && one.Assumed && two.Part != nil && two.Part.AtKingpin && own:
			return true
		}
	}
	return false
}

// bound notes how far the piece reaches: the ball about it, and the distance from what it turns about.
func (p *Piece) bound(sc *Scene) {
	low, high := r3.Vector{X: math.Inf(1), Y: math.Inf(1), Z: math.Inf(1)}, r3.Vector{X: math.Inf(-1), Y: math.Inf(-1), Z: math.Inf(-1)}
	for i := range p.Solids {
		c, r := p.Solids[i].Ball()
		ball := r3.Vector{X: r, Y: r, Z: r}
		low, high = minVector(low, c.Sub(ball)), maxVector(high, c.Add(ball))
	}
	p.centre = low.Add(high).Mul(0.5)
	for i := range p.Solids {
		c, r := p.Solids[i].Ball()
		p.radius = math.Max(p.radius, c.Sub(p.centre).Norm()+r)
		switch {
		case p.Body.isRod():
			home := sc.rodHome[p.Body.side()]
			line := rigid.Axis{Point: home.Inverse().Shift, Dir: home.Inverse().Turn[0]}
			p.reach = math.Max(p.reach, p.Solids[i].CoreReach(line))
		case p.Body != Frame:
			p.reach = math.Max(p.reach, p.Solids[i].CoreReach(sc.axes[p.Body]))
		}
	}
}

func minVector(a, b r3.Vector) r3.Vector {
	return r3.Vector{X: math.Min(a.X, b.X), Y: math.Min(a.Y, b.Y), Z: math.Min(a.Z, b.Z)}
}

func maxVector(a, b r3.Vector) r3.Vector {
	return r3.Vector{X: math.Max(a.X, b.X), Y: math.Max(a.Y, b.Y), Z: math.Max(a.Z, b.Z)}
}

// Motion returns how a body has moved from straight ahead (spindles: from the file's pose) to a pose.
func (sc *Scene) Motion(b Body, p *linkage.Pose) rigid.Motion {
	switch {
	case b == Frame:
		return rigid.Identity
	case b == Column:
		return rigid.About(sc.axes[Column], p.Column)
	case b.isRod():
		side := b.side()
		sp := &p.Sides[side]
		return setup.RodAxes(side, sp.Pin, sp.Rod).After(sc.rodHome[side])
	}
	return rigid.About(sc.axes[b], p.Sides[b.side()].Spindle)
}

// travel bounds how far any point of a piece moves between two poses between which all angles run one way.
func (sc *Scene) travel(piece *Piece, from, to *linkage.Pose) float64 {
	b := piece.Body
	column := math.Abs(float64(to.Column - from.Column))
	switch {
	case b == Frame:
		return 0
	case b == Column:
		return piece.reach * column
	}
	side := b.side()
	turn := math.Abs(linkage.Turn(from.Sides[side].Spindle, to.Sides[side].Spindle))
	if !b.isRod() {
		return piece.reach * turn
	}
	// Points on the line of the rod move no more than its two balls; what stands off it turns with it
	// besides, about a line square to the rod and, to stay level, about the rod.
	ends := [2]float64{sc.levers[side][linkage.AtArm] * turn, sc.levers[side][linkage.AtDropArm] * column}
	along := math.Max(ends[0], ends[1])
	if piece.reach == 0 {
		return along
	}
	return along + rodTwist*piece.reach*(ends[0]+ends[1])/sc.mechanism.Loops[side].Rod
}

// rodTwist bounds how fast a rod's own axes turn, per turn of the rod: 1 for the swing and up to the
// tangent of its slope for keeping level, taken for slopes up to 80 degrees.
const rodTwist = 7

// Gap returns the distance between the two pieces of a pair at a pose and the nearest points on either,
// vehicle axes, mm. It is zero or negative where they touch or overlap.
func (sc *Scene) Gap(pair [2]int, p *linkage.Pose) (gap float64, onFirst, onSecond r3.Vector) {
	a, b := &sc.Pieces[pair[0]], &sc.Pieces[pair[1]]
	return between(a, b, sc.Motion(a.Body, p), sc.Motion(b.Body, p), math.Inf(1))
}

// between is the distance of two pieces under their motions. Pieces further apart than far are not
// looked at closely: gap is then a lower bound of it, at least far.
func between(a, b *Piece, ma, mb rigid.Motion, far float64) (gap float64, onA, onB r3.Vector) {
	apart := ma.Point(a.centre).Sub(mb.Point(b.centre)).Norm() - a.radius - b.radius
	if apart > far {
		return apart, onA, onB
	}
	gap = math.Inf(1)
	for i := range a.Solids {
		for j := range b.Solids {
			if len(a.Solids)*len(b.Solids) > 1 && ballGap(&a.Solids[i], &b.Solids[j], &ma, &mb) >= gap {
				continue
			}
			if g, p, q := solid.Distance(&a.Solids[i], &b.Solids[j], ma, mb); g < gap {
				gap, onA, onB = g, p, q
			}
		}
	}
	return gap, onA, onB
}

func ballGap(a, b *solid.Solid, ma, mb *rigid.Motion) float64 {
	ca, ra := a.Ball()
	cb, rb := b.Ball()
	return ma.Point(ca).Sub(mb.Point(cb)).Norm() - ra - rb
}

// PairNames returns the labels of a pair.
func (sc *Scene) PairNames(pair [2]int) [2]string {
	return [2]string{sc.Pieces[pair[0]].Label(), sc.Pieces[pair[1]].Label()}
}

// sides tells on which side of the vehicle a pair meets: that of the piece that moves, if it has one.
func (sc *Scene) side(pair [2]int) setup.Side {
	for _, i := range pair {
		if p := &sc.Pieces[i]; p.Sided && p.Body != Frame {
			return p.Side
		}
	}
	i := slices.IndexFunc(pair[:], func(i int) bool { return sc.Pieces[i].Sided })
	if i < 0 {
		return setup.Left
	}
	return sc.Pieces[pair[i]].Side
}

// poseOn is a pose at t radians of column angle in direction dir from a column angle.
func (sc *Scene) poseOn(start s1.Angle, dir, t float64) (linkage.Pose, bool) {
	return sc.mechanism.Pose(start + s1.Angle(dir*t))
}
