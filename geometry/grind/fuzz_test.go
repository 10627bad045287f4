package grind

import (
	"errors"
	"fmt"
	"testing"

	"github.com/golang/geo/r2"

	"locksweep/geometry/region"
	"locksweep/geometry/setupfile"
	"locksweep/geometry/sweep"
)

// Any outline that the reader takes is cut soundly or refused in words: removed and kept make the whole,
// the clearance holds, nothing panics.
func FuzzOutline(f *testing.F) {
	f.Add([]byte{216, 242, 14, 242, 14, 14, 216, 10}, []byte{196, 196, 246, 196, 246, 224, 196, 224}, byte(35))
	f.Add([]byte{216, 242, 14, 242, 14, 14, 250, 0, 216, 10}, []byte{196, 196, 246, 196, 220, 224}, byte(38))
	f.Add([]byte{216, 242, 14, 242, 14, 14, 250, 0, 216, 10}, []byte{224, 183, 196, 246, 65, 220}, byte(43)) // left a needle of no width
	f.Add([]byte{0, 248, 60, 0, 0, 8, 196, 0}, []byte{20, 20, 40, 20, 40, 40}, byte(20))
	f.Fuzz(func(t *testing.T, metal, block []byte, steer byte) {
		outline := func(data []byte) (out []r2.Point) {
			for i := 0; i+1 < min(len(data), 60); i += 2 {
				out = append(out, r2.Point{X: float64(int8(data[i])) / 1.7, Y: float64(int8(data[i+1])) / 1.7})
			}
			return out
		}
		text := fmt.Sprintf(kart, 6, 8, 2, part("lug", "spindle", "grind = true\n"+plateOf(outline(metal), -10, 10))+
			part("web", "frame", "at = \"kingpin\"\n"+plateOf(outline(block), -30, 30)))
		s, _, err := setupfile.Read("kart.toml", []byte(text), setupfile.Options{})
		if err != nil {
			return
		}
		m, err := sweep.New(s)
		if err != nil {
			return
		}
		p, err := Make(m, to(float64(steer%45)), plain)
		var beyond *BeyondError
		if errors.As(err, &beyond) {
			return
		}
		if err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		for _, c := range p.Cuts {
			whole := region.Of(c.Before).Area()
			near(t, "removed and kept", c.Area+region.Of(c.After).Area(), whole, 1e-6*whole)
			if c.Passes < 2-0.02 {
				t.Errorf("passes at %g, want 2", c.Passes)
			}
			if _, _, err := setupfile.Read("kart.toml", []byte(text), setupfile.Options{Set: []string{"part.lug.plate.outline=" + points(c.After)}}); err != nil {
				t.Errorf("the finished outline is refused: %v", err)
			}
		}
	})
}
