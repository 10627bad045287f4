package planar

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r2"
)

func BenchmarkConvex(b *testing.B) {
	rng := rand.New(rand.NewPCG(1, 1))
	for _, c := range []struct {
		name string
		ring []r2.Point
	}{{"star", star(rng, 10000)}, {"comb", comb(2500, 0)}, {"comb on its side", comb(2500, math.Pi/2)}, {"comb askew", comb(2500, 0.7)}, {"spiral", spiral(10000)}, {"circle", regular(500, 10000)}} {
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				if _, err := Convex(c.ring); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
