package clearance

import (
	"math"

	"github.com/golang/geo/r3"

	"locksweep/geometry/linkage"
	"locksweep/geometry/rigid"
	"locksweep/geometry/setup"
	"locksweep/geometry/solid"
)

// pair is two pieces that may come near one another.
type pair struct {
	pieces [2]int
	meets  []meet
	// alone is the spindle or column that moves against the frame; Frame where more than one body moves.
	alone linkage.Body
	// turn is the angle of that body at the first contact, to the left and to the right.
	turn    [2]float64
	touches [2]bool
	// unchecked: the pair touches straight ahead, but only by the assumed shape of one of them.
	unchecked bool
	touching  bool // straight ahead, both shapes as given
}

// out reports whether a pair is not looked at beyond straight ahead.
func (p *pair) out() bool { return p.unchecked || p.touching }

// meet is two convex solids, one of either piece of a pair, that may come near one another.
type meet struct {
	solids [2]int
	apart  float64 // that they are never nearer than, however their bodies are turned, mm; negative infinity where nothing is known
	// reach is the greatest distance of either solid's core from what the other's body turns about, mm, where
	// that is a spindle or the column.
	reach [2]float64
	start view      // straight ahead
	ahead r3.Vector // a way along which they are apart there, where one is known beforehand
}

// pairUp returns the pairs of pieces that may come within the margin of one another, in order, of those
// that are wanted.
func (sc *Scene) pairUp(wanted func(a, b *Piece) bool) []pair {
	return sc.close(sc.may(func(a, b *Piece) bool { return wanted(a, b) && a.space.gap(&b.space) <= sc.margin }), [2]int{})
}

// may returns the pairs of pieces that are wanted, in order. Pieces of one body and pieces held together by a joint make no pair.
func (sc *Scene) may(wanted func(a, b *Piece) bool) (pairs []candidate) {
	var movers []int // before the piece at hand
	add := func(j, i int) {
		if a, b := &sc.Pieces[j], &sc.Pieces[i]; a.Body != b.Body && wanted(a, b) && !sc.jointed(a, b) && !sc.ignored[[2]string{a.Name, b.Name}] {
			pairs = append(pairs, candidate{pieces: [2]int{j, i}})
		}
	}
	for i := range sc.Pieces {
		if sc.Pieces[i].Body == linkage.Frame {
			for _, j := range movers {
				add(j, i)
			}
			continue
		}
		for j := range i {
			add(j, i)
		}
		movers = append(movers, i)
	}
	return pairs
}

// close returns those pairs that may come within the margin of one another, of which so many are expected, with so many solids.
func (sc *Scene) close(may []candidate, much [2]int) []pair {
	pairs, meets := make([]pair, 0, much[0]), make([]meet, 0, much[1])
	for k := range may {
		c := &may[k]
		a, b, from := &sc.Pieces[c.pieces[0]], &sc.Pieces[c.pieces[1]], len(meets)
		if a.space.gap(&b.space) <= sc.margin {
			meets = sc.meets(c, meets)
		}
		if to := len(meets); to > from {
			pairs = append(pairs, pair{pieces: c.pieces, meets: meets[from:to:to], alone: alone(a.Body, b.Body)})
		}
	}
	return pairs
}

// meets adds the solids of a pair of pieces that may come within the margin of one another.
func (sc *Scene) meets(c *candidate, meets []meet) []meet {
	a, b, known := &sc.Pieces[c.pieces[0]], &sc.Pieces[c.pieces[1]], c.ways
	if c.solids != [2]int{len(a.shapes), len(b.shapes)} {
		known = nil // cut otherwise, so that its solids are others
	}
	for i := range a.shapes {
		for j := range b.shapes {
			var of *ways
			if len(known) > 0 && known[0].solids == [2]int{i, j} {
				of, known = &known[0], known[1:]
			}
			s, o := &a.shapes[i], &b.shapes[j]
			if s.space.gap(&o.space) > sc.margin {
				continue
			}
			if apart, beyond := sc.apart(of, s, o); !beyond {
				reach := [2]float64{sc.reach(a.Body, &a.Solids[i], s, b.Body), sc.reach(b.Body, &b.Solids[j], o, a.Body)}
				m := meet{solids: [2]int{i, j}, apart: apart, reach: reach}
				if of != nil {
					m.ahead = of.ahead
				}
				meets = append(meets, m)
			}
		}
	}
	return meets
}

// reach bounds the distance of a solid's core, wherever its own body goes, from what another body turns about.
func (sc *Scene) reach(own linkage.Body, s *solid.Solid, sh *shape, other linkage.Body) float64 {
	switch axis := sc.mechanism.Axes[other]; {
	case other == linkage.Frame || other.IsRod():
		return 0
	case own == linkage.Frame:
		return s.CoreReach(axis)
	default:
		return axis.Dir.Cross(sh.space.centre.Sub(axis.Point)).Norm() + sh.space.radius
	}
}

// fitted reports whether a piece depends on where the rods' balls are.
func (p *Piece) fitted() bool { return p.Body.IsRod() || p.Assumed }

// eitherFitted reports whether a pair does.
func eitherFitted(a, b *Piece) bool { return a.fitted() || b.fitted() }

// bare reports whether a piece is a rod itself.
func (p *Piece) bare() bool { return p.Body.IsRod() && p.Part == nil }

// alone returns the body that moves where the other stands on the frame and it is no rod; else Frame.
func alone(a, b linkage.Body) linkage.Body {
	if a == linkage.Frame {
		a, b = b, a
	}
	if b != linkage.Frame || a.IsRod() {
		return linkage.Frame
	}
	return a
}

func ignoreList(pairs [][2]string) map[[2]string]bool {
	ignored := make(map[[2]string]bool, 2*len(pairs))
	for _, p := range pairs {
		ignored[p], ignored[[2]string{p[1], p[0]}] = true, true
	}
	return ignored
}

// jointed reports whether two pieces are held together by a joint, so that they touch by construction: a rod
// on the arms that carry its balls, an arm of assumed shape on the frame's ears about its kingpin.
func (sc *Scene) jointed(a, b *Piece) bool {
	for _, p := range [2][2]*Piece{{a, b}, {b, a}} {
		one, two := p[0], p[1]
		switch {
		case one.bare() && two.Part == nil && (two.Name == DropArm || two.Name == Rack || two.Name == Arm):
			if r := &sc.mechanism.Rods[one.Body.Rod()]; r.From == two.Body || r.To == two.Body {
				return true
			}
		case one.Name == Arm && one.Part == nil && one.Assumed && two.Part != nil && two.Part.AtKingpin && one.Side == two.Side:
			return true
		}
	}
	return false
}

// PairNames returns the labels of a pair.
func (sc *Scene) PairNames(pair [2]int) [2]string {
	return [2]string{sc.Pieces[pair[0]].Label(), sc.Pieces[pair[1]].Label()}
}

// side tells on which side of the vehicle a pair meets: that of the piece that moves, if it has one.
func (sc *Scene) side(pair [2]int) setup.Side {
	for _, i := range pair {
		if p := &sc.Pieces[i]; p.Sided && p.Body != linkage.Frame {
			return p.Side
		}
	}
	for _, i := range pair {
		if p := &sc.Pieces[i]; p.Sided {
			return p.Side
		}
	}
	return setup.Left
}

// Gap returns the distance between the two pieces of a pair at a pose and the nearest points on either,
// vehicle axes, mm. It is zero or negative where they touch or overlap. Where many points are as near, as where two edges
// lie along one another, the points are those of solid.Facing, of the first solids that come as near.
func (sc *Scene) Gap(pair [2]int, p *linkage.Pose) (gap float64, onFirst, onSecond r3.Vector) {
	a, b := &sc.Pieces[pair[0]], &sc.Pieces[pair[1]]
	ma, mb := sc.Motion(a.Body, p), sc.Motion(b.Body, p)
	gap = math.Inf(1)
	const same = 1e-6 // mm
	shown := gap      // the gap of the solids that the points are of
	for i := range a.Solids {
		for j := range b.Solids {
			first, second := a.shapes[i].ball.moved(&ma), b.shapes[j].ball.moved(&mb)
			if first.gap(&second) >= gap {
				continue
			}
			g, p, q := solid.Distance(&a.Solids[i], &b.Solids[j], ma, mb)
			if g < shown-same {
				shown, onFirst, onSecond = g, p, q
				if p, q, ok := solid.Facing(&a.Solids[i], &b.Solids[j], ma, mb, g); ok && g >= 0 {
					onFirst, onSecond = p, q
				}
			}
			gap = min(gap, g)
		}
	}
	return gap, onFirst, onSecond
}

// Reach reports whether two pieces, moved so far from straight ahead, reach into one another by at least so much (mm): whether there is
// metal of both that has to be moved so far, whichever way, to come clear.
func Reach(a, b *Piece, ma, mb rigid.Motion, depth float64) bool {
	for i := range a.Solids {
		for j := range b.Solids {
			if solid.Reach(&a.Solids[i], &b.Solids[j], ma, mb, depth) {
				return true
			}
		}
	}
	return false
}
