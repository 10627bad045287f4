package clearance

import (
	"cmp"
	"math"
	"slices"

	"github.com/golang/geo/r3"

	"locksweep/geometry/linkage"
	"locksweep/geometry/planar"
	"locksweep/geometry/rigid"
	"locksweep/geometry/setup"
	"locksweep/geometry/solid"
)

// Alike is what one scene tells of the scenes of thousands of setups that differ little from its own. It is only read once it is made.
type Alike struct {
	near  float64
	pairs []candidate  // in the order in which they are looked at
	cuts  []planar.Cut // of the plates among the pieces, by piece
	much  [2]int       // how many pairs, and how many solids of them, may be expected to come near
}

// candidate is two pieces that may make a pair, with what one scene has shown of them.
type candidate struct {
	pieces [2]int
	solids [2]int // how many solids either had there
	ways   []ways // of the solids that may come near, in the order of meets
}

// ways are unit vectors from one solid to another along which they are apart, zero where they are not. How far the two are apart along any
// vector bounds their gap from below: along these the bound is the gap itself, and in setups that are alike nearly so.
type ways struct {
	solids [2]int
	ever   r3.Vector // between all places that the two may come to
	ahead  r3.Vector // straight ahead
}

// Alike notes what Glance uses at scenes like this one. Gaps of more than near (mm) are not told there; pairs that are left out here are left
// out there; pairs that first names are looked at before the others.
func (sc *Scene) Alike(near float64, first [][2]int) *Alike {
	l := &Alike{near: near, cuts: make([]planar.Cut, len(sc.Pieces))}
	out := map[[2]int]bool{}
	for p := range sc.pairs {
		out[p.pieces] = p.out()
	}
	l.pairs = slices.DeleteFunc(sc.noted(func(a, b *Piece) bool { return true }), func(c candidate) bool { return out[c.pieces] })
	rank := map[[2]int]int{}
	for i, pair := range first {
		if _, named := rank[pair]; !named {
			rank[pair] = i - len(first)
		}
	}
	slices.SortStableFunc(l.pairs, func(a, b candidate) int { return cmp.Compare(rank[a.pieces], rank[b.pieces]) })
	for i := range sc.Pieces {
		if flat := sc.Pieces[i].Flat; flat != nil {
			l.cuts[i] = planar.CutOf(flat.Outline)
		}
	}
	nearer := *sc
	nearer.margin = near
	for _, p := range nearer.close(l.pairs, [2]int{}) {
		l.much[0]++
		l.much[1] += len(p.meets)
	}
	return l
}

// noted lists the pairs that are wanted, with their ways.
func (sc *Scene) noted(wanted func(a, b *Piece) bool) []candidate {
	pairs := sc.may(wanted)
	for i := range pairs {
		sc.noteWays(&pairs[i])
	}
	return pairs
}

// noteWays notes the ways of two pieces.
func (sc *Scene) noteWays(c *candidate) {
	a, b := &sc.Pieces[c.pieces[0]], &sc.Pieces[c.pieces[1]]
	ma, mb := sc.start.place[a.Body], sc.start.place[b.Body]
	c.solids = [2]int{len(a.shapes), len(b.shapes)}
	if a.space.gap(&b.space) > sc.margin {
		return
	}
	for i := range a.shapes {
		for j := range b.shapes {
			s, o := &a.shapes[i], &b.shapes[j]
			if s.space.gap(&o.space) <= sc.margin {
				c.ways = append(c.ways, ways{
					solids: [2]int{i, j},
					ever:   wayApart(&s.swept, &o.swept, rigid.Identity, rigid.Identity),
					ahead:  wayApart(&a.Solids[i], &b.Solids[j], ma, mb),
				})
			}
		}
	}
}

// wayApart is the way from one solid to another where they are nearest; zero where they touch.
func wayApart(a, b *solid.Solid, ma, mb rigid.Motion) r3.Vector {
	gap, onA, onB := solid.Distance(a, b, ma, mb)
	if gap <= 0 {
		return r3.Vector{}
	}
	return onB.Sub(onA).Normalize()
}

// Glance is New for a scene that is asked only once for what comes first and what comes nearest: the answers are the same, at a fraction of
// the cost, since the turns of bodies by themselves are not looked at beforehand. The error names what touches here and not in the scene
// that it is like. The scene has no Refit.
func (l *Alike) Glance(s *setup.Setup, m *linkage.Mechanism) (*Scene, error) {
	sc, err := place(s, m, l.near, l.cuts)
	if err != nil {
		return nil, err
	}
	sc.alike = l
	sc.lasting = sc.close(l.pairs, l.much)
	return sc, sc.examine(sc.lasting)
}

// apart bounds from below how near two solids ever come to one another, mm; beyond tells that the bound is more than the margin. of is
// what is known of them beforehand, nil where nothing is.
func (sc *Scene) apart(of *ways, s, o *shape) (bound float64, beyond bool) {
	switch {
	case of == nil:
		return solid.Apart(&s.swept, &o.swept, sc.margin)
	case of.ever == (r3.Vector{}):
		return math.Inf(-1), false
	}
	bound = along(&s.swept, &o.swept, &rigid.Identity, &rigid.Identity, of.ever)
	return bound, bound > sc.margin
}

// along is how far two solids are apart along a unit vector, mm: no more than the gap.
func along(a, b *solid.Solid, ma, mb *rigid.Motion, way r3.Vector) float64 {
	return -a.Reaches(ma, way) - b.Reaches(mb, way.Mul(-1))
}
