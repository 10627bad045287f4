package grind

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"locksweep/fixtures/trial"
	"locksweep/geometry/clearance"
	"locksweep/geometry/planar"
	"locksweep/geometry/region"
)

// Areas counted on rings about the kingpin, by nothing but where a circle crosses an edge or another
// circle: no polygon library, no chords, none of the code under test. On each ring an obstacle covers
// arcs, which a turn makes longer; what they share with the arcs of the metal comes off.

type arcs [][2]float64 // from, to in radians; from within [0, 2π)

// polygonArcs returns where a circle about the origin runs inside a polygon.
func polygonArcs(ring []r2.Point, radius float64) (list arcs) {
	var cuts []float64
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		d := b.Sub(a)
		// |a + t·d| = radius
		qa, qb, qc := d.Dot(d), 2*a.Dot(d), a.Dot(a)-radius*radius
		disc := qb*qb - 4*qa*qc
		if disc <= 0 {
			continue
		}
		for _, sign := range [2]float64{-1, 1} {
			if t := (-qb + sign*math.Sqrt(disc)) / (2 * qa); t >= 0 && t < 1 {
				p := a.Add(d.Mul(t))
				cuts = append(cuts, whole(math.Atan2(p.Y, p.X)))
			}
		}
	}
	slices.Sort(cuts)
	for i, from := range cuts {
		to := cuts[(i+1)%len(cuts)]
		if to <= from {
			to += 2 * math.Pi
		}
		mid := (from + to) / 2
		if planar.Inside(ring, r2.Point{X: radius * math.Cos(mid), Y: radius * math.Sin(mid)}) {
			list = append(list, [2]float64{from, to})
		}
	}
	return list
}

// discArcs returns where a circle about the origin runs inside a disc.
func discArcs(centre r2.Point, size, radius float64) arcs {
	d := centre.Norm()
	cos := (radius*radius + d*d - size*size) / (2 * radius * d)
	if cos >= 1 {
		return nil
	}
	at, half := math.Atan2(centre.Y, centre.X), math.Acos(math.Max(cos, -1))
	return arcs{{whole(at - half), whole(at-half) + 2*half}}
}

func whole(a float64) float64 { return math.Mod(math.Mod(a, 2*math.Pi)+2*math.Pi, 2*math.Pi) }

// turned makes arcs longer by a turn from one angle to another.
func (a arcs) turned(from, to float64) (out arcs) {
	for _, x := range a {
		start := whole(x[0] + from)
		out = append(out, [2]float64{start, start + math.Min(x[1]-x[0]+to-from, 2*math.Pi)})
	}
	return out
}

// shared returns the length of what two sets of arcs share.
func shared(a, b arcs) (sum float64) {
	// Cut at 2π, put in order, and join what overlaps.
	flat := func(list arcs) arcs {
		var out arcs
		for _, x := range list {
			if x[1] > 2*math.Pi {
				out = append(out, [2]float64{0, x[1] - 2*math.Pi})
			}
			out = append(out, [2]float64{x[0], math.Min(x[1], 2*math.Pi)})
		}
		slices.SortFunc(out, func(p, q [2]float64) int { return int(math.Copysign(1, p[0]-q[0])) })
		var joined arcs
		for _, x := range out {
			if n := len(joined); n > 0 && x[0] <= joined[n-1][1] {
				joined[n-1][1] = math.Max(joined[n-1][1], x[1])
			} else {
				joined = append(joined, x)
			}
		}
		return joined
	}
	for _, x := range flat(a) {
		for _, y := range flat(b) {
			sum += math.Max(0, math.Min(x[1], y[1])-math.Max(x[0], y[0]))
		}
	}
	return sum
}

// star is a simple outline about a centre, mostly concave.
func star(r *rand.Rand, centre r2.Point, n int, low, high float64) (ring []r2.Point) {
	for i := range n {
		sin, cos := math.Sincos(2 * math.Pi * (float64(i) + 0.6*r.Float64()) / float64(n))
		size := low + (high-low)*r.Float64()
		ring = append(ring, centre.Add(r2.Point{X: size * cos, Y: size * sin}))
	}
	return ring
}

func TestAreasAgainstCountingOnRings(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 1))
	for i := range trial.Count(30, 100) {
		outline := star(r, r2.Point{X: 10 - 20*r.Float64(), Y: 45 + 20*r.Float64()}, 5+r.IntN(20), 8, 38)
		from, to := -0.1-0.3*r.Float64(), 0.2+0.45*r.Float64() // of the spindle
		gap := 5 * r.Float64()
		var obstacle func(radius float64) arcs
		var text string
		if i%2 == 0 {
			at, size := r2.Point{X: 40 - 80*r.Float64(), Y: 25 + 70*r.Float64()}, 3+9*r.Float64()
			text = part("post", "frame", fmt.Sprintf("mirror = true\ntube = { diameter = %v, path = [[%v, %v, 60], [%v, %v, 200]] }", 2*size, at.X, 320+at.Y, at.X, 320+at.Y))
			obstacle = func(radius float64) arcs { return discArcs(at, size+gap, radius) }
		} else {
			block := star(r, r2.Point{X: 40 - 80*r.Float64(), Y: 25 + 70*r.Float64()}, 3+r.IntN(6), 4, 14)
			gap = 0
			text = part("post", "frame", "at = \"kingpin\"\n"+plateOf(block, -30, 30))
			obstacle = func(radius float64) arcs { return polygonArcs(block, radius) }
		}
		text = fmt.Sprintf(kart, 0, 0, gap, part("lug", "spindle", "grind = true\n"+plateOf(outline, -10, 10))+text+
			"[[part]]\nname = \"far\"\non = \"frame\"\ntube = { diameter = 1, path = [[-500, 0, 500], [-500, 10, 500]] }\n")
		text = "ignore = [[\"lug\", \"post\"], [\"steering arm\", \"post\"]]\n" + text
		p := leftPlate(t, model(t, text), "lug")
		post := slices.IndexFunc(p.model.Scene.Pieces, func(q clearance.Piece) bool { return q.Name == "post" })
		areas, err := p.swept(post, atSpindle(t, p.model, s1.Angle(from)), atSpindle(t, p.model, s1.Angle(to)), gap, DefaultChord)
		if err != nil {
			t.Fatal(err)
		}
		all, err := region.Union(areas...)
		if err != nil {
			t.Fatal(err)
		}
		common, err := p.metal.Common(all)
		if err != nil {
			t.Fatal(err)
		}
		want := 0.0
		const rings, size = 4000, 110.0
		for k := range rings {
			radius := size * (float64(k) + 0.5) / rings
			// Seen from the spindle the obstacle turns the other way.
			want += shared(polygonArcs(outline, radius), obstacle(radius).turned(-to, -from)) * radius * size / rings
		}
		near(t, fmt.Sprintf("outline %d", i), common.Area(), want, 1e-3*p.metal.Area())
	}
}
