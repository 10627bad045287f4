package solid

import (
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"locksweep/geometry/rigid"
)

// A tyre with shoulders, a rod and two lugs, of a size that a kart has.
func benchSolids() (tyre, rod, lug, ear Solid) {
	tyre = Cylinder(r3.Vector{Y: 120}, r3.Vector{X: 0.03, Y: 1, Z: -0.05}, 130, 65, 15)
	rod = Capsule(r3.Vector{X: -95, Y: -30, Z: 4}, r3.Vector{X: -60, Y: -280, Z: 40}, 8)
	outline := []r2.Point{{X: 0, Y: 0}, {X: 40, Y: -5}, {X: 55, Y: 20}, {X: 30, Y: 45}, {X: -5, Y: 30}}
	lug = plateOf(outline, -10, 10, rigid.Identity)
	ear = plateOf(outline, -12, 12, rigid.Motion{Turn: rigid.Identity.Turn, Shift: r3.Vector{X: 70, Y: 12, Z: 6}})
	return tyre, rod, lug, ear
}

func BenchmarkDistance(b *testing.B) {
	tyre, rod, lug, ear := benchSolids()
	turned := rigid.About(rigid.Axis{Dir: r3.Vector{X: 0.1, Y: 0.05, Z: 1}.Normalize()}, 0.3)
	for _, c := range []struct {
		name  string
		a, b  *Solid
		bound float64
	}{{"capsule-tyre", &rod, &tyre, 2}, {"plate-plate", &lug, &ear, 2}, {"plate-tyre", &lug, &tyre, 2}, {"tyre-tyre", &tyre, &tyre, 2}, {"capsule-plate", &rod, &ear, 2}} {
		away := turned
		if c.a == c.b {
			away.Shift.X += 300
		}
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				Distance(c.a, c.b, rigid.Identity, away)
			}
		})
		b.Run(c.name+" beyond", func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				Beyond(c.a, c.b, rigid.Identity, away, c.bound)
			}
		})
	}
}

func BenchmarkPlan(b *testing.B) {
	tyre, _, _, _ := benchSolids()
	m := rigid.About(rigid.Axis{Dir: r3.Vector{Z: 1}}, 0.3)
	for b.Loop() {
		tyre.Plan(m)
	}
}
