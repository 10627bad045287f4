package solid

import (
	"math"
	"math/rand/v2"
	"slices"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/geometry/planar"
	"locksweep/geometry/rigid"
)

// model is an independent description of a solid by its nearest point: what the solid was made from, and
// none of what the package makes of it. The nearest points on segment, disc, polygon and prism are
// those of Ericson, Real-Time Collision Detection, ch. 5 (memory).
type model struct {
	place        rigid.Motion // of its own axes in the body's
	outline      []r2.Point   // nil for a disc
	radius       float64
	lower, upper float64
	round        float64
}

// kinds of random solids, from a point to a tyre.
var kinds = []string{"point", "segment", "ball", "capsule", "disc", "cylinder", "tyre", "box", "sheet", "prism", "many-sided prism"}

// randomSolid makes a solid of a kind, of 1 to 1000 mm, near the origin of its body's axes.
func randomSolid(rng *rand.Rand, kind string) (Solid, model) {
	size := func() float64 { return math.Pow(10, 3*rng.Float64()) / 2 }
	at, dir := randomVector(rng, size()), randomVector(rng, 1).Normalize()
	x := dir.Cross(r3.Vector{X: 0.3, Y: -0.5, Z: 0.2}).Normalize()
	place := rigid.Motion{Turn: [3]r3.Vector{x, dir.Cross(x), dir}, Shift: at}
	m := model{place: place}
	switch kind {
	case "point", "ball", "segment", "capsule":
		if kind == "segment" || kind == "capsule" {
			m.upper = size()
		}
		if kind == "ball" || kind == "capsule" {
			m.round = size()
		}
		return Capsule(at, at.Add(dir.Mul(m.upper)), m.round), m
	case "disc", "cylinder", "tyre":
		radius, half, shoulder := size(), 0.0, 0.0
		if kind != "disc" {
			half = size()
		}
		if kind == "tyre" {
			shoulder = rng.Float64() * math.Min(radius, half)
		}
		m.radius, m.lower, m.upper, m.round = radius-shoulder, shoulder-half, half-shoulder, shoulder
		return Cylinder(at, dir.Mul(size()), radius, half, shoulder), m
	case "box", "sheet":
		x, y := size(), size()
		m.outline = []r2.Point{{X: -x, Y: -y}, {X: x, Y: -y}, {X: x, Y: y}, {X: -x, Y: y}}
	case "prism":
		m.outline = randomConvex(rng, 3+rng.IntN(8), size(), size())
	default:
		m.outline = randomConvex(rng, 100+rng.IntN(300), size(), size())
	}
	m.lower = -size()
	if kind == "sheet" {
		m.upper = m.lower
	}
	if rng.IntN(2) == 0 {
		m.place.Turn[1] = m.place.Turn[1].Mul(-1) // as on the right-hand side
	}
	return plateOf(m.outline, m.lower, m.upper, m.place), m
}

func randomVector(rng *rand.Rand, size float64) r3.Vector {
	return r3.Vector{X: rng.NormFloat64(), Y: rng.NormFloat64(), Z: rng.NormFloat64()}.Mul(size / math.Sqrt(3))
}

// randomConvex returns the hull of points on an ellipse.
func randomConvex(rng *rand.Rand, n int, a, b float64) []r2.Point {
	points := make([]r2.Point, n)
	for i := range points {
		sin, cos := math.Sincos(2 * math.Pi * (float64(i) + 0.9*rng.Float64()) / float64(n))
		points[i] = r2.Point{X: a * cos, Y: b * sin}
	}
	return planar.Hull(points)
}

// plateOf is a plate of one piece.
func plateOf(outline []r2.Point, lower, upper float64, place rigid.Motion) Solid {
	pieces, err := Plate(slices.Clone(outline), lower, upper, place)
	if err != nil || len(pieces) != 1 {
		panic(err)
	}
	return pieces[0]
}

// randomMotion turns anyhow and shifts by about size.
func randomMotion(rng *rand.Rand, size float64) rigid.Motion {
	axis := rigid.Axis{Point: randomVector(rng, size), Dir: randomVector(rng, 1).Normalize()}
	m := rigid.About(axis, s1.Angle(2*math.Pi*rng.Float64()))
	m.Shift = m.Shift.Add(randomVector(rng, size))
	return m
}

// squareMotion turns by right angles and shifts by whole steps, so that faces are parallel and edges meet.
func squareMotion(rng *rand.Rand) rigid.Motion {
	m := rigid.Identity
	for range 3 {
		i := rng.IntN(3)
		j := (i + 1) % 3
		m.Turn[i], m.Turn[j] = m.Turn[j], m.Turn[i].Mul(-1)
	}
	m.Shift = r3.Vector{X: float64(50 * rng.IntN(20)), Y: float64(50 * rng.IntN(20)), Z: float64(50 * rng.IntN(20))}
	return m
}

// moved is the model under a motion.
func (m model) moved(by rigid.Motion) model {
	m.place = by.After(m.place)
	return m
}

// nearest returns the point of the solid nearest to p.
func (m *model) nearest(p r3.Vector) r3.Vector {
	home := m.place.Inverse()
	q := home.Point(p)
	c := m.nearestInCore(q)
	if out := q.Sub(c); out.Norm() > m.round {
		c = c.Add(out.Mul(m.round / out.Norm()))
	} else {
		c = q
	}
	return m.place.Point(c)
}

func (m *model) nearestInCore(p r3.Vector) r3.Vector {
	flat := r2.Point{X: p.X, Y: p.Y}
	if m.outline == nil {
		if n := flat.Norm(); n > m.radius {
			flat = flat.Mul(m.radius / n)
		}
	} else {
		flat = nearestInPolygon(m.outline, flat)
	}
	return r3.Vector{X: flat.X, Y: flat.Y, Z: math.Max(m.lower, math.Min(m.upper, p.Z))}
}

func nearestInPolygon(polygon []r2.Point, p r2.Point) r2.Point {
	inside, best := true, r2.Point{}
	least := math.Inf(1)
	for i, a := range polygon {
		b := polygon[(i+1)%len(polygon)]
		along := b.Sub(a)
		if along.Cross(p.Sub(a)) < 0 {
			inside = false
		}
		t := math.Max(0, math.Min(1, p.Sub(a).Dot(along)/along.Dot(along)))
		if q := a.Add(along.Mul(t)); q.Sub(p).Norm() < least {
			best, least = q, q.Sub(p).Norm()
		}
	}
	if inside {
		return p
	}
	return best
}

// reach returns the greatest value of dir·p over the solid; dir is a unit vector.
func (m *model) reach(dir r3.Vector) float64 {
	home := m.place.Inverse()
	d := home.Direction(dir)
	most := math.Max(d.Z*m.lower, d.Z*m.upper)
	if m.outline == nil {
		most += m.radius * math.Hypot(d.X, d.Y)
	} else {
		across := math.Inf(-1)
		for _, c := range m.outline {
			across = math.Max(across, c.X*d.X+c.Y*d.Y)
		}
		most += across
	}
	return most + m.round + dir.Dot(m.place.Shift)
}

// off returns how far outside the solid a point lies.
func (m *model) off(p r3.Vector) float64 { return m.nearest(p).Sub(p).Norm() }

// middle returns a point in the middle of the solid.
func (m *model) middle() r3.Vector {
	flat := r2.Point{}
	for _, c := range m.outline {
		flat = flat.Add(c.Mul(1 / float64(len(m.outline))))
	}
	return m.place.Point(r3.Vector{X: flat.X, Y: flat.Y, Z: (m.lower + m.upper) / 2})
}

// surface returns a point on the surface: the nearest to one far away.
func (m *model) surface(rng *rand.Rand) r3.Vector {
	return m.nearest(m.place.Shift.Add(randomVector(rng, 1).Normalize().Mul(3000 * rng.Float64())))
}

// pairOf makes a random pair under random motions, half of them square to one another, an eighth about one place.
func pairOf(rng *rand.Rand, kindA, kindB string) (p pair) {
	p.kinds = kindA + " and " + kindB
	p.a, p.modelA = randomSolid(rng, kindA)
	p.b, p.modelB = randomSolid(rng, kindB)
	p.ma, p.mb = randomMotion(rng, 300), randomMotion(rng, 300)
	if rng.IntN(4) == 0 {
		p.mb = randomMotion(rng, 10).After(p.modelB.place.Inverse())
		p.ma = p.modelA.place.Inverse()
	}
	if rng.IntN(2) == 0 {
		p.ma = squareMotion(rng).After(p.modelA.place.Inverse())
		p.mb = squareMotion(rng).After(p.modelB.place.Inverse())
	}
	p.modelA, p.modelB = p.modelA.moved(p.ma), p.modelB.moved(p.mb)
	return p
}

type pair struct {
	kinds          string
	a, b           Solid
	ma, mb         rigid.Motion
	modelA, modelB model // under the motions
}

// forPairs calls test for n random pairs of each two kinds, in both orders.
func forPairs(seed uint64, n int, test func(rng *rand.Rand, p *pair)) {
	rng := rand.New(rand.NewPCG(seed, 0))
	for _, a := range kinds {
		for _, b := range kinds {
			for range n {
				p := pairOf(rng, a, b)
				test(rng, &p)
			}
		}
	}
}
