package setupfile

import (
	"fmt"
	"strings"
	"testing"

	"github.com/golang/geo/r2"
)

func BenchmarkRead(b *testing.B) {
	large := strings.Replace(least, "pickup = [-95, -30, 0]", "pickup = [-95, -30, 0]\noutline = "+writeOutline(gear(maxPoints)), 1)
	variants := whole
	for i := range 10 {
		variants += fmt.Sprintf("[[variant]]\nname = \"v%d\"\nset = { \"vehicle.wheelbase\" = %d }\n", i, 900+i)
	}
	for _, c := range []struct{ name, text string }{{"least", least}, {"whole", whole}, {"10 variants", variants}, {"10000 points", large}} {
		b.Run(c.name, func(b *testing.B) {
			b.SetBytes(int64(len(c.text)))
			b.ReportAllocs()
			for b.Loop() {
				if _, _, err := Read("kart.toml", []byte(c.text), Options{}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkOutline(b *testing.B) {
	for _, c := range []struct {
		name   string
		points []r2.Point
	}{{"gear", gear(maxPoints)}, {"comb", comb(maxPoints - 4)}} {
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				checkOutline(c.points)
			}
		})
	}
}
