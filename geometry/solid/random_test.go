package solid

import (
	"math"
	"math/rand/v2"
	"slices"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/geometry/rigid"
)

// kinds of random solids, from a point to a tyre.
var kinds = []string{"point", "segment", "ball", "capsule", "disc", "cylinder", "tyre", "box", "sheet", "prism", "round prism"}

// randomSolid makes a solid of a kind, of 1 to 1000 mm, near the origin of its body's axes.
func randomSolid(rng *rand.Rand, kind string) Solid {
	size := func() float64 { return math.Pow(10, 3*rng.Float64()) / 2 }
	at, dir := randomVector(rng, size()), randomVector(rng, 1)
	place := rigid.About(rigid.Axis{Point: at, Dir: dir.Normalize()}, s1.Angle(6*rng.Float64()))
	switch kind {
	case "point":
		return Capsule(at, at, 0)
	case "segment":
		return Capsule(at, at.Add(dir.Mul(size())), 0)
	case "ball":
		return Capsule(at, at, size())
	case "capsule":
		return Capsule(at, at.Add(dir.Mul(size())), size())
	case "disc":
		return Cylinder(at, dir, size(), 0, 0)
	case "cylinder":
		return Cylinder(at, dir, size(), size(), 0)
	case "tyre":
		r, h := size(), size()
		return Cylinder(at, dir, r, h, rng.Float64()*math.Min(r, h))
	case "box", "sheet":
		x, y, z := size(), size(), size()
		if kind == "sheet" {
			z = 0
		}
		return plateOf([]r2.Point{{X: -x, Y: -y}, {X: x, Y: -y}, {X: x, Y: y}, {X: -x, Y: y}}, -z, z, place)
	case "prism":
		return plateOf(randomConvex(rng, 3+rng.IntN(8), size(), size()), 0, size(), place)
	}
	return plateOf(randomConvex(rng, 100+rng.IntN(300), size(), size()), 0, size(), place)
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
	return convexHull(points)
}

// plateOf is a plate of one piece.
func plateOf(outline []r2.Point, lower, upper float64, place rigid.Motion) Solid {
	if place.Turn[0].Cross(place.Turn[1]).Dot(place.Turn[2]) == 0 {
		panic("no place")
	}
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
