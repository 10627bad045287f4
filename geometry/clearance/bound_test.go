package clearance

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/fixtures/trial"
	"locksweep/geometry/linkage"
	"locksweep/geometry/rigid"
	"locksweep/geometry/setup"
	"locksweep/geometry/solid"
)

// slack forgives rounding in bounds, mm: distances are good to 1e-9.
const slack = 1e-8

// eachWay calls look for pairs of solids of random scenes between two random poses between which all
// angles run one way, with poses sampled on the way.
func eachWay(t *testing.T, seeds, parts int, look func(t *testing.T, m *meeting, from, to *stance, between []linkage.Pose)) {
	var scenes []*Scene
	for seed := range uint64(seeds) {
		_, sc := randomScene(t, seed, parts)
		scenes = append(scenes, sc)
		if seed%4 == 0 {
			scenes = append(scenes, sceneOf(t, kinds[0](seed), seed, parts), sceneOf(t, kinds[1](seed), seed, parts))
		}
	}
	for seed, sc := range scenes {
		r := source{rand.New(rand.NewPCG(uint64(seed), 7))}
		for p := range sc.pairs {
			m := sc.meeting(p, &p.meets[r.IntN(len(p.meets))])
			end := free(sc.mechanism, 1-2*float64(r.IntN(2)))
			// Long ways and short ones, anywhere and near the end, where spindles turn fast.
			a := end * s1.Angle(1-math.Pow(r.Float64(), 2))
			b := a + (end-a)*s1.Angle(math.Pow(r.Float64(), 3))
			if r.IntN(2) == 0 {
				a, b = b, a
			}
			j, ok := sc.journey(a, b)
			if !ok {
				continue
			}
			j.take(m, j.length, view{})
			from, _ := j.at(0)
			to, _ := j.at(j.length)
			j.room(&from)
			between := make([]linkage.Pose, 0, 12)
			for i := range 12 {
				if pose, ok := j.pose(j.length * (float64(i) + r.Float64()) / 12); ok {
					between = append(between, pose)
				}
			}
			look(t, &j.meeting, &from, &to, append(between, to.pose))
			if t.Failed() {
				t.Fatalf("seed %d, %v, column %v to %v", seed, sc.PairNames(p.pieces), a, b)
			}
		}
	}
}

// TestFloorIsNeverAbove: no gap sampled on a way is less than the floor of the way, nor than that of any one
// of the directions that it is the best of.
func TestFloorIsNeverAbove(t *testing.T) {
	ways, useful, seeds := 0, 0, trial.Count(50, 150)
	eachWay(t, seeds, 14, func(t *testing.T, m *meeting, from, to *stance, between []linkage.Pose) {
		least := m.gapAt(&from.pose)
		for i := range between {
			least = math.Min(least, m.gapAt(&between[i]))
		}
		floor := m.floor(from, to)
		if ways++; floor > 0 && from.gap < farOff {
			useful++
		}
		if floor > least+slack {
			t.Errorf("floor %g, gap of %g at the start and %g on the way", floor, from.gap, least)
		}
		if from.away == (r3.Vector{}) {
			return
		}
		if still := m.floor(from, from); math.Abs(from.gap) > 1e-3 && still < from.gap-1e-6 {
			t.Errorf("floor %g where nothing moves, gap %g", still, from.gap)
		}
		w := way{meeting: m, from: from, to: to}
		carriers := []linkage.Body{alone(m.bodies[0], m.bodies[1])}
		if carriers[0] != linkage.Frame {
			w.turn, w.paces[carriers[0]] = turnOf(carriers[0], from, to), m.sc.steady(carriers[0])
		} else if w.measure(); w.unpaced {
			carriers = nil
			if !m.offLine() && m.bodies[0].IsRod() && m.bodies[1].IsRod() && m.sc.mechanism.Rods[1].From == linkage.Input {
				carriers = []linkage.Body{linkage.Input}
			}
		} else if m.bodies[0].IsRod() && m.bodies[1].IsRod() {
			carriers = append(carriers, m.sc.mechanism.Rods[1].From)
		} else {
			for _, b := range m.bodies {
				if b != linkage.Frame && !b.IsRod() {
					carriers = append(carriers, b)
				}
			}
		}
		for _, carrier := range carriers {
			if floor := w.floor(carrier); floor > least+slack {
				t.Errorf("carried by %v: floor %g, gap of %g at the start and %g on the way", carrier, floor, from.gap, least)
			}
		}
	})
	if ways < trial.Enough(20*seeds) || useful < ways/6 {
		t.Errorf("%d ways, %d with a floor that says anything", ways, useful)
	}
}

// TestRiseIsNeverBelow: no solid reaches further in a direction on its way than rise says.
func TestRiseIsNeverBelow(t *testing.T) {
	r := source{rand.New(rand.NewPCG(3, 3))}
	eachWay(t, trial.Count(20, 60), 14, func(t *testing.T, m *meeting, from, to *stance, between []linkage.Pose) {
		for i, body := range m.bodies {
			dir := r.vector(1, 1, 1).Normalize()
			from.reach[i] = m.solids[i].Reaches(&from.place[i], dir)
			most := m.rise(i, dir, from, to)
			for k := range between {
				place := m.sc.Motion(body, &between[k])
				if reach := m.solids[i].Reaches(&place, dir); reach > most+slack {
					t.Errorf("body %v reaches %g, bound %g from %g", body, reach, most, from.reach[i])
				}
			}
		}
	})
}

// TestTravelIsNeverLess: no point of a solid on a tie rod moves further between two poses than travel says, on
// rods as they come and on rods that climb to any slope.
func TestTravelIsNeverLess(t *testing.T) {
	moved, seeds := 0, trial.Count(15, 40)
	look := func(t *testing.T, m *meeting, from, to *stance, between []linkage.Pose) {
		for i, body := range m.bodies {
			if !body.IsRod() {
				continue
			}
			far := m.sc.travel(body.Rod(), m.shapes[i], &from.pose, &to.pose)
			for k := range between {
				place := m.sc.Motion(body, &between[k])
				for _, p := range corePoints(m.solids[i], m.shapes[i]) {
					moved++
					if d := place.Point(p).Sub(from.place[i].Point(p)).Norm(); d > far+slack {
						t.Errorf("body %v: a point moves by %g, bound %g", body, d, far)
					}
				}
			}
		}
	}
	eachWay(t, seeds, 14, look)
	for slope := 0.0; slope < 90; slope += 7 {
		sc := steepScene(t, slope)
		for p := range sc.pairs {
			m := sc.meeting(p, &p.meets[0])
			for _, end := range []s1.Angle{0.02, 0.3, -0.3} {
				j, ok := sc.journey(0, end)
				if !ok {
					continue
				}
				j.take(m, j.length, view{})
				from, _ := j.at(0)
				to, _ := j.at(j.length)
				j.room(&from)
				var between []linkage.Pose
				for i := range 9 {
					pose, _ := j.pose(j.length * float64(i) / 8)
					between = append(between, pose)
				}
				look(t, &j.meeting, &from, &to, between)
				if t.Failed() {
					t.Fatalf("rods that climb by %g degrees, column to %v", slope, end)
				}
			}
		}
	}
	if moved < trial.Enough(25*seeds) {
		t.Errorf("only %d points looked at", moved)
	}
}

// corePoints are points of a solid's core: those nearest to points far off.
func corePoints(s *solid.Solid, sh *shape) (points []r3.Vector) {
	for _, dir := range []r3.Vector{{X: 1}, {X: -1}, {Y: 1}, {Y: -1}, {Z: 1}, {Z: -1}} {
		far := solid.Capsule(dir.Mul(1e4), dir.Mul(1e4), 0)
		_, on, _ := solid.Distance(s, &far, rigid.Identity, rigid.Identity)
		points = append(points, on.Sub(dir.Mul(1e4).Sub(on).Normalize().Mul(sh.round)))
	}
	return points
}

// steepScene has rods that climb from the drop arm by a slope in degrees, with bars that stand off them.
func steepScene(t *testing.T, slope float64) *Scene {
	t.Helper()
	s := &setup.Setup{Spacing: 500, Vehicle: setup.Vehicle{Wheelbase: 1000, RearTrack: 900, RearTyre: setup.Tyre{Diameter: 280, Width: 150}}}
	sin, cos := math.Sincos(slope * math.Pi / 180)
	const length = 160
	for side := range s.Corners {
		s.Corners[side] = setup.Corner{
			Kingpin: setup.Kingpin{Height: 300}, Wheel: setup.Wheel{Offset: 100, Tyre: setup.Tyre{Diameter: 250, Width: 100}},
			Arm: setup.Arm{Pickup: r3.Vector{X: -90, Y: -20}}, Rod: setup.Rod{Diameter: 12},
		}
		sign := setup.Side(side).Sign()
		s.DropArm.Pins[side] = r3.Vector{X: 50, Y: sign * (230 - length*cos), Z: 0}
	}
	s.Column = setup.Column{Foot: r3.Vector{X: -90, Z: 350 - length*sin}, Rake: 60 * s1.Degree}
	pin := s.Column.FromColumn(r3.Vector{X: 50})
	s.Column.Foot = r3.Vector{X: -90 - pin.X, Z: 300 - length*sin - pin.Z}
	for i, path := range [][]r3.Vector{{{X: 20, Y: 15, Z: 5}, {X: 90, Y: 15, Z: 25}}, {{X: -30, Y: -10}, {X: 190, Z: 20}}} {
		s.Parts = append(s.Parts, setup.Part{Name: string(rune('a' + i)), On: setup.OnTieRod, Sides: [2]bool{true, true}, Tube: &setup.Tube{Diameter: 8, Path: path}})
	}
	m, err := linkage.New(s)
	if err != nil {
		t.Fatal(err)
	}
	sc, err := New(s, m)
	if sc == nil {
		t.Fatal(err)
	}
	return sc
}

// TestRatesAreNeverLess: first and second difference of the spindle angle, on the way that rates are told for; on most ways they are.
func TestRatesAreNeverLess(t *testing.T) {
	told, seeds := 0, trial.Count(100, 300)
	for seed := range uint64(seeds) {
		_, sc := randomScene(t, seed, 0)
		r := source{rand.New(rand.NewPCG(seed, 9))}
		for range 20 {
			dir := 1 - 2*float64(r.IntN(2))
			end := free(sc.mechanism, dir)
			at := end * s1.Angle(1-math.Pow(r.Float64(), 3))
			to := at + (end-at)*s1.Angle(math.Pow(r.Float64(), 3))
			pose, ok := sc.mechanism.Pose(at)
			until, reached := sc.mechanism.Pose(to)
			const h = 1e-4
			if !ok || !reached || (to-at).Abs() < 25*h {
				continue
			}
			for _, side := range setup.Sides {
				first, second, ok := sc.mechanism.Pace(linkage.Spindle(side), &pose, &until)
				if !ok {
					continue
				}
				told++
				for i := range 20 {
					c := at + (to-at)*s1.Angle(float64(i+1)/21)
					var θ [3]float64
					reaches := true
					for k := range θ {
						q, ok := sc.mechanism.Pose(c + s1.Angle(float64(k-1)*h))
						θ[k] = linkage.Turn(pose.Sides[side].Spindle, q.Sides[side].Spindle)
						reaches = reaches && ok
					}
					if !reaches {
						continue // past the other side's dead point
					}
					d1, d2 := (θ[2]-θ[0])/(2*h), (θ[2]-2*θ[1]+θ[0])/(h*h)
					if math.Abs(d1) > first+1e-6 || math.Abs(d2) > second+1e-3*(1+second) {
						t.Fatalf("seed %d, %v, column %v to %v: derivatives %g and %g, bounds %g and %g", seed, side, at, to, d1, d2, first, second)
					}
				}
			}
		}
	}
	if told < trial.Enough(17*seeds) {
		t.Errorf("rates told %d times only", told)
	}
}

// TestSweptHolds: no solid ever leaves the place that is taken for all it can come to.
func TestSweptHolds(t *testing.T) {
	for seed := range uint64(trial.Count(20, 60)) {
		_, sc := randomScene(t, seed, 14)
		if seed%3 > 0 {
			sc = sceneOf(t, kinds[seed%3-1](seed), seed, 14)
		}
		r := source{rand.New(rand.NewPCG(seed, 11))}
		for range 10 {
			c := free(sc.mechanism, 1-2*float64(r.IntN(2))) * s1.Angle(r.Float64())
			pose, ok := sc.mechanism.Pose(c)
			if !ok {
				continue
			}
			for i := range sc.Pieces {
				p := &sc.Pieces[i]
				m := sc.Motion(p.Body, &pose)
				for k := range p.Solids {
					dir := r.vector(1, 1, 1).Normalize()
					reach := p.Solids[k].Reaches(&m, dir)
					most := p.shapes[k].swept.Reaches(&rigid.Identity, dir)
					ball := p.shapes[k].space.centre.Dot(dir) + p.shapes[k].space.radius
					piece := p.space.centre.Dot(dir) + p.space.radius
					if reach > most+slack || most > ball+slack || ball > piece+slack {
						t.Fatalf("seed %d, %s at %v: reaches %g of %g, ball %g, piece's ball %g", seed, p.Label(), c, reach, most, ball, piece)
					}
				}
			}
		}
	}
}

// TestPeak: the most of a line with a bend, against sampling.
func TestPeak(t *testing.T) {
	r := source{rand.New(rand.NewPCG(1, 1))}
	for range trial.Count(300, 2000) {
		from, to, bend := r.between(-3, 3), r.between(-3, 3), r.between(0, 2)
		most := math.Inf(-1)
		for i := range 10001 {
			s := float64(i) / 10000
			most = math.Max(most, from+(to-from)*s+4*bend*s*(1-s))
		}
		if got := peak(from, to, bend); got < most-1e-12 || got > most+1e-6 {
			t.Fatalf("peak of %g to %g with bend %g: %g, sampled %g", from, to, bend, got, most)
		}
	}
}

// TestReachHolds: no point of a solid's core comes further off what the other one's body turns about.
func TestReachHolds(t *testing.T) {
	close, seeds := 0, trial.Count(20, 60)
	for seed := range uint64(seeds) {
		_, sc := randomScene(t, seed, 14)
		r := source{rand.New(rand.NewPCG(seed, 12))}
		for p := range sc.pairs {
			meet := &p.meets[r.IntN(len(p.meets))]
			m := sc.meeting(p, meet)
			pose, ok := sc.mechanism.Pose(free(sc.mechanism, 1-2*float64(r.IntN(2))) * s1.Angle(r.Float64()))
			if !ok {
				continue
			}
			for i, other := range [2]linkage.Body{m.bodies[1], m.bodies[0]} {
				if other == linkage.Frame || other.IsRod() || m.bodies[i].IsRod() {
					continue
				}
				place, axis := sc.Motion(m.bodies[i], &pose), sc.mechanism.Axes[other]
				for _, q := range corePoints(m.solids[i], m.shapes[i]) {
					off := axis.Dir.Cross(place.Point(q).Sub(axis.Point)).Norm()
					if off > meet.reach[i]+slack {
						t.Fatalf("seed %d, %v: %g off, bound %g", seed, sc.PairNames(p.pieces), off, meet.reach[i])
					}
					if off > 0.8*meet.reach[i] && m.bodies[i] != linkage.Frame {
						close++
					}
				}
			}
		}
	}
	if close < trial.Enough(seeds/3) {
		t.Errorf("the bound was nearly reached %d times only", close)
	}
}
