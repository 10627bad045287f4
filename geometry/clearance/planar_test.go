package clearance

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"
	"github.com/peterstace/simplefeatures/geom"

	"locksweep/fixtures/random"
	"locksweep/fixtures/trial"
	"locksweep/geometry/linkage"
	"locksweep/geometry/setup"
)

// flatSetup is a setup with all axes upright and all metal at one height, so that contact is a matter of plane
// figures: steering arms, lugs and drop arm of random outline, posts, plates on the frame.
func flatSetup(seed uint64) *setup.Setup {
	s := random.FromSeed(seed)
	r := source{rand.New(rand.NewPCG(seed, 0xf1a7))}
	height := s.Corners[setup.Left].Kingpin.Height
	s.Column.Rake = 90 * s1.Degree
	s.Column.Foot = r3.Vector{X: s.Corners[setup.Left].Arm.Pickup.X + s.DropArm.Pins[setup.Left].X + r.between(-30, 30), Y: r.between(-20, 20), Z: height}
	for side := range s.Corners {
		c := &s.Corners[side]
		c.Kingpin = setup.Kingpin{Height: height}
		c.Wheel.Camber, c.Wheel.Toe, c.Rod.Length, c.Rod.End.Eye = 0, 0, 0, 0
		c.Arm.Pickup.Z, s.DropArm.Pins[side].Z = 0, 0
		c.Arm.Metal = setup.Metal{Outline: r.star(r2.Point{}, 12, 50), Lower: -5, Upper: 5}
	}
	s.DropArm.Metal = setup.Metal{Outline: r.star(r2.Point{}, 12, 60), Lower: -5, Upper: 5}
	add := func(p setup.Part) {
		p.Name, p.Sides = fmt.Sprintf("part %02d", len(s.Parts)), r.side()
		s.Parts = append(s.Parts, p)
	}
	plate := func(outline []r2.Point, middle float64) *setup.Plate {
		return &setup.Plate{Outline: outline, Lower: middle - 5, Upper: middle + 5}
	}
	for range 4 {
		at := r2.Point{X: r.between(-250, 200), Y: r.between(0, s.Spacing/2+200)}
		add(setup.Part{Plate: plate(r.star(at, 8, 60), height)})
		at = r2.Point{X: r.between(-250, 200), Y: r.between(0, s.Spacing/2+200)}
		post := func(z float64) r3.Vector { return r3.Vector{X: at.X, Y: at.Y, Z: z} }
		add(setup.Part{Tube: &setup.Tube{Diameter: r.between(5, 40), Path: []r3.Vector{post(height - 30), post(height + 30)}}})
		around := r.between(0, 2*math.Pi)
		sin, cos := math.Sincos(around)
		add(setup.Part{AtKingpin: true, Plate: plate(r.star(r2.Point{X: cos, Y: sin}.Mul(r.between(50, 80)), 5, 20), 0)})
	}
	add(setup.Part{On: setup.OnSpindle, Plate: plate(r.star(r2.Point{X: r.between(-20, 20), Y: r.between(-20, 20)}, 10, 50), 0)})
	return s
}

// figure is a piece seen from above with the column centred: a polygon, a line or a point, and the radius about it.
type figure struct {
	points []r2.Point
	radius float64
	body   linkage.Body
}

// figures works out the pieces of a flat setup by name, from what the setup says.
func figures(s *setup.Setup, m *linkage.Mechanism) map[string]figure {
	all := map[string]figure{}
	straight, _ := m.Pose(0)
	for _, side := range setup.Sides {
		c, sign, name := &s.Corners[side], side.Sign(), side.String()+" "
		corner := func(p r2.Point) r2.Point { return r2.Point{X: p.X, Y: sign * (s.Spacing/2 + p.Y)} }
		at := func(points []r2.Point, place func(r2.Point) r2.Point) (moved []r2.Point) {
			for _, p := range points {
				moved = append(moved, place(p))
			}
			return moved
		}
		box := func(x, y, length, width float64) []r2.Point {
			return []r2.Point{{X: x - length/2, Y: y - width/2}, {X: x + length/2, Y: y - width/2}, {X: x + length/2, Y: y + width/2}, {X: x - length/2, Y: y + width/2}}
		}
		tyre := c.Wheel.Tyre
		all[name+Tyre] = figure{at(box(c.Wheel.Lead, c.Wheel.Offset, tyre.Diameter, tyre.Width), corner), 0, linkage.Spindle(side)}
		all[name+Arm] = figure{at(c.Arm.Metal.Outline, corner), 0, linkage.Spindle(side)}
		rear := s.Vehicle.RearTyre
		all[name+RearTyre] = figure{box(-s.Vehicle.Wheelbase, sign*s.Vehicle.RearTrack/2, rear.Diameter, rear.Width), 0, linkage.Frame}
		pin, pickup := straight.Rods[side].From, straight.Rods[side].To
		all[name+TieRod] = figure{[]r2.Point{{X: pin.X, Y: pin.Y}, {X: pickup.X, Y: pickup.Y}}, c.Rod.Diameter / 2, linkage.RodBody(int(side))}
		for i := range s.Parts {
			p := &s.Parts[i]
			f := figure{body: linkage.Frame}
			place := func(p r2.Point) r2.Point { return r2.Point{X: p.X, Y: sign * p.Y} }
			if p.On == setup.OnSpindle {
				f.body, place = linkage.Spindle(side), corner
			} else if p.AtKingpin {
				place = corner
			}
			if p.Plate != nil {
				f.points = at(p.Plate.Outline, place)
			} else {
				f.points, f.radius = []r2.Point{place(r2.Point{X: p.Tube.Path[0].X, Y: p.Tube.Path[0].Y})}, p.Tube.Diameter/2
			}
			all[name+p.Name] = f
		}
	}
	var drop []r2.Point
	for _, p := range s.DropArm.Metal.Outline { // down is rearward on an upright column
		drop = append(drop, r2.Point{X: s.Column.Foot.X - p.X, Y: s.Column.Foot.Y + p.Y})
	}
	all[DropArm] = figure{drop, 0, linkage.Input}
	return all
}

// at returns the figure at a pose.
func (f figure) at(s *setup.Setup, p *linkage.Pose) geom.Geometry {
	var xy []float64
	for i, q := range f.points {
		switch {
		case f.body.IsRod():
			ends := [2]r3.Vector{p.Rods[f.body.Rod()].From, p.Rods[f.body.Rod()].To}
			q = r2.Point{X: ends[i].X, Y: ends[i].Y}
		case f.body == linkage.Input:
			q = turned(q, r2.Point{X: s.Column.Foot.X, Y: s.Column.Foot.Y}, p.Column)
		case f.body != linkage.Frame:
			side := f.body.Side()
			q = turned(q, r2.Point{Y: side.Sign() * s.Spacing / 2}, p.Sides[side].Spindle)
		}
		xy = append(xy, q.X, q.Y)
	}
	switch len(f.points) {
	case 1:
		return geom.NewPointXY(xy[0], xy[1]).AsGeometry()
	case 2:
		return geom.NewLineStringXY(xy...).AsGeometry()
	}
	return geom.NewPolygonXY(append(xy, xy[0], xy[1])).AsGeometry()
}

func turned(p, about r2.Point, angle s1.Angle) r2.Point {
	sin, cos := math.Sincos(float64(angle))
	d := p.Sub(about)
	return about.Add(r2.Point{X: cos*d.X - sin*d.Y, Y: sin*d.X + cos*d.Y})
}

// TestContactsOfPlaneFigures holds the contact angles of setups that are plane figures against distances of
// figures by a general library, walked in small steps and closed in on by halving.
func TestContactsOfPlaneFigures(t *testing.T) {
	enough, setups, compared, contacts := trial.Count(8, 200), 0, 0, 0
	for seed := uint64(0); setups < enough && seed < 3000; seed++ {
		s := flatSetup(seed)
		m, sc, ok := apartAhead(s)
		if !ok {
			continue
		}
		setups++
		all := figures(s, m)
		gap := func(names [2]string, column s1.Angle) float64 {
			p, ok := m.Pose(column)
			if !ok {
				t.Fatalf("seed %d: no pose at %v", seed, column)
			}
			a, b := all[names[0]], all[names[1]]
			d, ok := geom.Distance(a.at(s, &p), b.at(s, &p))
			if !ok {
				t.Fatalf("seed %d: no distance of %v", seed, names)
			}
			return d - a.radius - b.radius
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

// comparePairs holds all contacts of a scene in one direction against a gap that is worked out
// independently. Pairs for which it has no gap, NaN, are left out.
func comparePairs(t *testing.T, sc *Scene, dir float64, name string, gap func(names [2]string, column s1.Angle) float64) (compared, contacts int) {
	const close = 1e-3 * math.Pi / 180
	end := free(sc.mechanism, dir) * 0.999
	found := map[[2]int]Near{}
	for _, c := range sc.Contacts(end) {
		found[c.Pair] = c
	}
	for i := range sc.Pieces {
		for j := range i {
			pair := [2]int{j, i}
			a, b := &sc.Pieces[j], &sc.Pieces[i]
			if a.Body == b.Body || sc.jointed(a, b) || sc.onePin && a.bare() && b.bare() {
				continue
			}
			names := sc.PairNames(pair)
			along := func(t float64) float64 { return gap(names, s1.Angle(dir*t)) }
			if math.IsNaN(along(0)) || along(0) <= 0 {
				continue
			}
			compared++
			at, touches, least := firstZero(along, math.Abs(float64(end)))
			c, ok := found[pair]
			switch {
			case ok:
				contacts++
				if !touches && least > 1e-4 || touches && math.Abs(math.Abs(float64(c.Column))-at) > close && least < -1e-4 {
					t.Errorf("%s, %v: contact at %v, by the other way %v at %v, least gap %g", name, names, c.Column, touches, s1.Angle(at), least)
				}
			case touches && least < -1e-4:
				t.Errorf("%s, %v: no contact, by the other way at %v, least gap %g", name, names, s1.Angle(at), least)
			}
		}
	}
	return compared, contacts
}

// firstZero walks in steps that no gap of these setups could close, given its size, and of at most half a
// degree, looks into every dip, and halves the step that crosses zero. least is the least gap met.
func firstZero(gap func(t float64) float64, end float64) (at float64, found bool, least float64) {
	const most, fastest = 0.5 * math.Pi / 180, 1500.0 // mm per radian
	t0, t1 := 0.0, 0.0
	g0, g1 := gap(0), gap(0)
	least = g0
	for t1 < end {
		t2 := min(end, t1+max(most, g1/fastest))
		g2 := gap(t2)
		low, high := t1, t2
		if g1 < g0 && g1 < g2 && g2 > 0 && g1 < 2 { // a dip
			if at, g := dip(gap, t0, t2); g <= 0 {
				low, high, g2 = t0, at, g
			} else {
				least = min(least, g)
			}
		}
		least = min(least, g2)
		if g2 <= 0 {
			for range 60 {
				if mid := (low + high) / 2; gap(mid) > 0 {
					low = mid
				} else {
					high = mid
				}
			}
			// How deep it goes tells a contact from a touch in passing.
			for _, more := range []float64{1e-4, 1e-3, 1e-2} {
				if high+more < end {
					least = min(least, gap(high+more))
				}
			}
			return high, true, least
		}
		t0, g0, t1, g1 = t1, g1, t2, g2
	}
	return 0, false, least
}

// dip returns the least gap between two places by golden section.
func dip(gap func(t float64) float64, a, b float64) (at, least float64) {
	golden := (math.Sqrt(5) - 1) / 2
	c, d := b-golden*(b-a), a+golden*(b-a)
	gc, gd := gap(c), gap(d)
	for range 40 {
		if gc < gd {
			b, d, gd = d, c, gc
			c = b - golden*(b-a)
			gc = gap(c)
		} else {
			a, c, gc = c, d, gd
			d = a + golden*(b-a)
			gd = gap(d)
		}
	}
	if gc < gd {
		return c, gc
	}
	return d, gd
}
