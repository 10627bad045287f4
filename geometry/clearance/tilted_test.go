package clearance

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/fixtures/random"
	"locksweep/fixtures/trial"
	"locksweep/geometry/linkage"
	"locksweep/geometry/rigid"
	"locksweep/geometry/setup"
)

// A body of metal for these tests is what has a closed-form distance to a point: a drum about an axis, or
// a slab of a convex outline. A bar is followed along its length by ternary search, as that distance is
// convex along a line. So every pair of a bar with something, or of bars, has an independent gap.

// lump is a piece with the column centred, worked out from what the setup says.
type lump struct {
	bars  []bar3
	drum  *drum
	slab  *slab
	body  linkage.Body
	plain bool // neither drum nor slab
}

type bar3 struct {
	ends   [2]r3.Vector
	radius float64
}

// drum is a cylinder with rounded rims.
type drum struct {
	centre, axis        r3.Vector
	radius, half, round float64
}

func (d *drum) distance(p r3.Vector) float64 {
	p = p.Sub(d.centre)
	along := p.Dot(d.axis)
	out := math.Max(p.Sub(d.axis.Mul(along)).Norm()-(d.radius-d.round), 0)
	return math.Hypot(out, math.Max(math.Abs(along)-(d.half-d.round), 0)) - d.round
}

// slab is a triangle or a convex quadrangle between two heights, in axes u, v, w from an origin.
type slab struct {
	origin, u, v, w r3.Vector
	outline         []r2.Point // counter-clockwise
	low, high       float64
}

func (s *slab) distance(p r3.Vector) float64 {
	p = p.Sub(s.origin)
	q, z := r2.Point{X: p.Dot(s.u), Y: p.Dot(s.v)}, p.Dot(s.w)
	inside, edge := true, math.Inf(1)
	for i, a := range s.outline {
		b := s.outline[(i+1)%len(s.outline)]
		along := b.Sub(a)
		t := math.Max(0, math.Min(1, q.Sub(a).Dot(along)/along.Dot(along)))
		edge = math.Min(edge, q.Sub(a.Add(along.Mul(t))).Norm())
		inside = inside && along.Cross(q.Sub(a)) >= 0
	}
	if inside {
		edge = 0
	}
	return math.Hypot(edge, math.Max(math.Max(s.low-z, z-s.high), 0))
}

func (b bar3) distance(p r3.Vector) float64 {
	along := b.ends[1].Sub(b.ends[0])
	t := 0.0
	if n := along.Norm2(); n > 0 {
		t = math.Max(0, math.Min(1, p.Sub(b.ends[0]).Dot(along)/n))
	}
	return p.Sub(b.ends[0].Add(along.Mul(t))).Norm() - b.radius
}

// nearest is the least distance along a bar to what has a distance to points.
func (b bar3) nearest(distance func(p r3.Vector) float64) float64 {
	at := func(t float64) float64 { return distance(b.ends[0].Mul(1 - t).Add(b.ends[1].Mul(t))) }
	low, high := 0.0, 1.0
	for range 45 {
		m, n := low+(high-low)/3, high-(high-low)/3
		if at(m) <= at(n) {
			high = n
		} else {
			low = m
		}
	}
	return math.Min(at((low+high)/2), math.Min(at(0), at(1))) - b.radius
}

// gap is the gap of two lumps; NaN where neither is made of bars.
func (l *lump) gap(o *lump) float64 {
	if !l.plain {
		l, o = o, l
	}
	if !l.plain {
		return math.NaN()
	}
	least := math.Inf(1)
	for _, b := range l.bars {
		switch {
		case o.drum != nil:
			least = math.Min(least, b.nearest(o.drum.distance))
		case o.slab != nil:
			least = math.Min(least, b.nearest(o.slab.distance))
		default:
			for _, c := range o.bars {
				least = math.Min(least, b.nearest(c.distance))
			}
		}
	}
	return least
}

// moved is a lump under a map of points that keeps distances.
func (l *lump) moved(to func(p r3.Vector) r3.Vector) *lump {
	way := func(v r3.Vector) r3.Vector { return to(v).Sub(to(r3.Vector{})) }
	m := lump{body: l.body, plain: l.plain}
	for _, b := range l.bars {
		m.bars = append(m.bars, bar3{[2]r3.Vector{to(b.ends[0]), to(b.ends[1])}, b.radius})
	}
	if l.drum != nil {
		d := *l.drum
		d.centre, d.axis = to(d.centre), way(d.axis)
		m.drum = &d
	}
	if l.slab != nil {
		s := *l.slab
		s.origin, s.u, s.v, s.w = to(s.origin), way(s.u), way(s.v), way(s.w)
		m.slab = &s
	}
	return &m
}

// tiltedSetup has tilted kingpins, a raked column and parts that are bars, discs and convex plates.
func tiltedSetup(seed uint64) *setup.Setup {
	s := random.FromSeed(seed)
	r := source{rand.New(rand.NewPCG(seed, 0x7117))}
	for side := range s.Corners {
		s.Corners[side].Wheel.Tyre.Shoulder = r.between(0, 20)
	}
	r.parts(s, 24)
	for i := range s.Parts {
		p := &s.Parts[i]
		if p.Plate == nil {
			continue
		}
		// Convex outlines only, counter-clockwise: one that leans.
		at, x, y := r2.Point{X: r.between(-120, 120), Y: r.between(-120, 120)}, r.between(5, 40), r.between(5, 40)
		if !p.AtKingpin && p.On == setup.OnFrame {
			at.Y += s.Spacing / 2
		}
		p.Plate.Outline = []r2.Point{{X: at.X, Y: at.Y}, {X: at.X + x, Y: at.Y + x/3}, {X: at.X + x - y/4, Y: at.Y + y}, {X: at.X - y/2, Y: at.Y + y/2}}
	}
	return s
}

// lumps works out the pieces of a tilted setup by name.
func lumps(s *setup.Setup, m *linkage.Mechanism) map[string]*lump {
	all := map[string]*lump{}
	straight, _ := m.Pose(0)
	for _, side := range setup.Sides {
		c, name := &s.Corners[side], side.String()+" "
		spin, tyre := s.SpinAxis(side), c.Wheel.Tyre
		all[name+Tyre] = &lump{body: linkage.Spindle(side), drum: &drum{
			s.CornerPoint(side, r3.Vector{X: c.Wheel.Lead}).Add(spin.Mul(c.Wheel.Offset)), spin, tyre.Diameter / 2, tyre.Width / 2, tyre.Shoulder}}
		pin, pickup := straight.Rods[side].From, straight.Rods[side].To
		all[name+TieRod] = &lump{body: linkage.RodBody(int(side)), plain: true, bars: []bar3{{[2]r3.Vector{pin, pickup}, c.Rod.Diameter / 2}}}
		axis, ball := s.Kingpin(side), s.CornerPoint(side, c.Arm.Pickup)
		root := axis.Point.Add(axis.Dir.Mul(axis.Dir.Dot(ball.Sub(axis.Point))))
		all[name+Arm] = &lump{body: linkage.Spindle(side), plain: true, bars: []bar3{{[2]r3.Vector{root, ball}, assumedBar / 2}}}
		for i := range s.Parts {
			if p := &s.Parts[i]; p.Sides[side] {
				all[name+p.Name] = partLump(s, m, p, side)
			}
		}
	}
	for i := range s.Parts {
		if p := &s.Parts[i]; p.Sides == [2]bool{} {
			all[p.Name] = partLump(s, m, p, setup.Left)
		}
	}
	return all
}

func partLump(s *setup.Setup, m *linkage.Mechanism, p *setup.Part, side setup.Side) *lump {
	l := &lump{body: linkage.Frame, plain: p.Tube != nil}
	place := func(q r3.Vector) r3.Vector { q.Y *= side.Sign(); return q }
	plane := &slab{u: r3.Vector{X: 1}, v: r3.Vector{Y: side.Sign()}, w: r3.Vector{Z: 1}}
	if p.AtKingpin || p.On == setup.OnSpindle {
		place = func(q r3.Vector) r3.Vector { return s.CornerPoint(side, q) }
		k := s.Kingpin(side)
		u := r3.Vector{X: 1 - k.Dir.X*k.Dir.X, Y: -k.Dir.X * k.Dir.Y, Z: -k.Dir.X * k.Dir.Z}.Normalize() // ahead, seen along the kingpin
		plane = &slab{origin: k.Point, u: u, v: k.Dir.Cross(u).Mul(side.Sign()), w: k.Dir}
	}
	switch p.On {
	case setup.OnSpindle:
		l.body = linkage.Spindle(side)
	case setup.OnColumn:
		l.body, place = linkage.Input, s.Column.ColumnPoint
	case setup.OnTieRod:
		l.body = linkage.RodBody(int(side))
		straight, _ := m.Pose(0)
		place = func(q r3.Vector) r3.Vector {
			return onRod(straight.Rods[side].From, straight.Rods[side].To, q, side)
		}
	}
	switch {
	case p.Tube != nil:
		for i := range len(p.Tube.Path) - 1 {
			l.bars = append(l.bars, bar3{[2]r3.Vector{place(p.Tube.Path[i]), place(p.Tube.Path[i+1])}, p.Tube.Diameter / 2})
		}
	case p.Disc != nil:
		l.drum = &drum{place(p.Disc.Centre), s.SpinAxis(side), p.Disc.Diameter / 2, p.Disc.Width / 2, 0}
	default:
		plane.outline, plane.low, plane.high = p.Plate.Outline, p.Plate.Lower, p.Plate.Upper
		l.slab = plane
	}
	return l
}

// onRod places a point given as [towards the steering arm, ahead, up] from the drop-arm ball: the second
// axis lies level.
func onRod(pin, pickup, q r3.Vector, side setup.Side) r3.Vector {
	along := pickup.Sub(pin).Normalize()
	ahead := r3.Vector{X: along.Y, Y: -along.X}.Normalize().Mul(side.Sign())
	up := ahead.Cross(along).Mul(side.Sign())
	if up.Z < 0 {
		up = up.Mul(-1)
	}
	return pin.Add(along.Mul(q.X)).Add(ahead.Mul(q.Y)).Add(up.Mul(q.Z))
}

// at is the lump at a pose.
func (l *lump) at(s *setup.Setup, m *linkage.Mechanism, p *linkage.Pose) *lump {
	about := func(axis rigid.Axis, angle s1.Angle) *lump {
		return l.moved(func(q r3.Vector) r3.Vector { return axis.RotatePoint(q, angle) })
	}
	switch {
	case l.body == linkage.Frame:
		return l
	case l.body == linkage.Input:
		return about(s.Column.Axis(), p.Column)
	case !l.body.IsRod():
		return about(s.Kingpin(l.body.Side()), p.Sides[l.body.Side()].Spindle)
	}
	side := setup.Side(l.body.Rod())
	straight, _ := m.Pose(0)
	from, to := &straight.Rods[side], &p.Rods[side]
	axes := [3]r3.Vector{}
	for i, base := range []r3.Vector{{X: 1}, {Y: 1}, {Z: 1}} {
		axes[i] = onRod(from.From, from.To, base, side).Sub(from.From)
	}
	return l.moved(func(q r3.Vector) r3.Vector {
		q = q.Sub(from.From)
		return onRod(to.From, to.To, r3.Vector{X: q.Dot(axes[0]), Y: q.Dot(axes[1]), Z: q.Dot(axes[2])}, side)
	})
}

// TestContactsOfTiltedSetups holds the contact angles of setups with tilted axes against gaps worked out by
// search along bars.
func TestContactsOfTiltedSetups(t *testing.T) {
	enough, setups, compared, contacts := trial.Count(6, 200), 0, 0, 0
	for seed := uint64(0); setups < enough && seed < 2000; seed++ {
		s := tiltedSetup(seed)
		m, sc, ok := apartAhead(s)
		if !ok {
			continue
		}
		setups++
		all := lumps(s, m)
		gap := func(names [2]string, column s1.Angle) float64 {
			a, b := all[names[0]], all[names[1]]
			if a == nil || b == nil {
				return math.NaN()
			}
			p, _ := m.Pose(column)
			return a.at(s, m, &p).gap(b.at(s, m, &p))
		}
		for _, dir := range []float64{1, -1} {
			n, c := comparePairs(t, sc, dir, fmt.Sprintf("seed %d", seed), gap)
			compared, contacts = compared+n, contacts+c
		}
		if t.Failed() {
			return
		}
	}
	t.Logf("%d setups, %d pairs, %d contacts", setups, compared, contacts)
	if setups < trial.Enough(enough) || contacts < trial.Enough(3*setups) {
		t.Errorf("%d setups with %d contacts are no proof", setups, contacts)
	}
}
