package clearance

import (
	"cmp"
	"math"
	"slices"

	"github.com/golang/geo/r3"

	"locksweep/geometry/linkage"
	"locksweep/geometry/rigid"
	"locksweep/geometry/setup"
	"locksweep/geometry/solid"
)

// Alike is what is known beforehand of the scenes of thousands of setups that are much alike. It is only read once it
// is made.
type Alike struct {
	near float64
	out  map[[2]int]bool // pairs that are not looked at
	rank map[[2]int]int  // of pairs that are looked at before the others
	ways map[[4]int]ways // by pieces and solids of either piece
}

// ways are unit vectors from one solid to another along which they are apart, zero where they are not. Along any vector there is
// a bound of the gap: these are good, and in setups that are alike nearly as good.
type ways struct {
	ever  r3.Vector // of the places that the two may come to
	ahead r3.Vector // straight ahead
}

// Alike notes what scenes like this one have in common. Gaps of more than near (mm) are not told there. What is not
// looked at here is not looked at there. Pairs that first names are looked at before the others.
func (sc *Scene) Alike(near float64, first [][2]int) *Alike {
	l := &Alike{near: near, out: map[[2]int]bool{}, rank: map[[2]int]int{}, ways: map[[4]int]ways{}}
	for p := range sc.pairs {
		l.out[p.pieces] = p.out()
	}
	for i, pair := range first {
		if _, named := l.rank[pair]; !named {
			l.rank[pair] = i - len(first)
		}
	}
	for i := range sc.Pieces {
		for j := range i {
			if a, b := &sc.Pieces[j], &sc.Pieces[i]; a.Body != b.Body && a.space.gap(&b.space) <= sc.margin {
				sc.studyWays([2]int{j, i}, l.ways)
			}
		}
	}
	return l
}

// fits is what scenes have in common that are refitted from one: the pairs with a piece that depends on rods or holes, and their ways.
type fits struct {
	pairs [][2]int
	ways  map[[4]int]ways
}

func (sc *Scene) noteFits() *fits {
	f := &fits{ways: map[[4]int]ways{}}
	f.pairs = sc.may(eitherFitted)
	for _, pair := range f.pairs {
		sc.studyWays(pair, f.ways)
	}
	return f
}

// studyWays notes the ways of two pieces.
func (sc *Scene) studyWays(pair [2]int, into map[[4]int]ways) {
	a, b := &sc.Pieces[pair[0]], &sc.Pieces[pair[1]]
	ma, mb := sc.start.place[a.Body], sc.start.place[b.Body]
	for i := range a.shapes {
		for j := range b.shapes {
			s, o := &a.shapes[i], &b.shapes[j]
			if s.space.gap(&o.space) <= sc.margin {
				into[[4]int{pair[0], pair[1], i, j}] = ways{
					ever:  wayApart(&s.swept, &o.swept, rigid.Identity, rigid.Identity),
					ahead: wayApart(&a.Solids[i], &b.Solids[j], ma, mb),
				}
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

// Glance is New for who asks a scene but once for what comes first and nearest: it answers the same and costs a
// fraction, since no body is looked at by itself beforehand. The error tells of what touches beyond what touches in the
// scene that all are like. It has no Refit.
func (l *Alike) Glance(s *setup.Setup, m *linkage.Mechanism) (*Scene, error) {
	sc, err := place(s, m, l.near)
	if err != nil {
		return nil, err
	}
	sc.alike = l
	sc.ways = l.ways
	sc.lasting = sc.pairUp(func(a, b *Piece) bool { return true })
	sc.lasting = slices.DeleteFunc(sc.lasting, func(p pair) bool { return l.out[p.pieces] })
	slices.SortStableFunc(sc.lasting, func(a, b pair) int { return cmp.Compare(l.rank[a.pieces], l.rank[b.pieces]) })
	return sc, sc.examine(sc.lasting)
}

// apart bounds from below how far two solids ever are apart, as well as is needed to tell whether that is more than the
// margin: beyond. Place is theirs in Alike.ways.
func (sc *Scene) apart(place [4]int, s, o *shape) (bound float64, beyond bool) {
	if of, known := sc.ways[place]; known {
		if of.ever == (r3.Vector{}) {
			return math.Inf(-1), false
		}
		bound = along(&s.swept, &o.swept, &rigid.Identity, &rigid.Identity, of.ever)
		return bound, bound > sc.margin
	}
	return solid.Apart(&s.swept, &o.swept, sc.margin)
}

// along is how far two solids are apart along a unit vector, mm: no more than the gap.
func along(a, b *solid.Solid, ma, mb *rigid.Motion, way r3.Vector) float64 {
	return -a.Reaches(ma, way) - b.Reaches(mb, way.Mul(-1))
}
