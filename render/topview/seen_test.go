package topview

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/golang/geo/r2"

	"locksweep/fixtures/readback"
)

// seen is a drawing as an XML parser sees it.
type seen struct {
	circles []circle
	strokes [][2]r2.Point // straight lines of one stroke
	texts   []string
	colours map[string]string // of texts, where not black
}

// rounded is how far a point stands off at most for being written in hundredths of a millimetre, mm.
const rounded = 0.0072

type circle struct {
	at     r2.Point
	radius float64
}

func look(t testing.TB, data []byte) (s seen) {
	t.Helper()
	s.colours = map[string]string{}
	all, err := readback.Parse(data)
	if err != nil {
		t.Fatalf("not well-formed: %v", err)
	}
	for _, e := range all {
		number := func(name string) float64 { v, _ := strconv.ParseFloat(e.Attr[name], 64); return v }
		switch e.Name {
		case "circle":
			s.circles = append(s.circles, circle{r2.Point{X: number("cx"), Y: number("cy")}, number("r")})
		case "path":
			for _, run := range e.Runs {
				if run.Straight() {
					s.strokes = append(s.strokes, [2]r2.Point(run.Points))
				}
			}
		case "text":
			s.texts = append(s.texts, e.Text)
			s.colours[e.Text] = e.Paint["fill"]
		}
	}
	return s
}

// kingpins finds the two circles of a radius that lie level, left first, those furthest apart.
func (s *seen) kingpins(t testing.TB, radius float64) (left, right r2.Point) {
	t.Helper()
	most := 0.0
	for _, a := range s.circles {
		for _, b := range s.circles {
			if d := b.at.X - a.at.X; a.radius == radius && b.radius == radius && math.Abs(a.at.Y-b.at.Y) < 2*rounded && d > most {
				left, right, most = a.at, b.at, d
			}
		}
	}
	if most == 0 {
		t.Fatal("no pair of kingpins in the drawing")
	}
	return left, right
}

// near reports whether a circle of a radius stands at a place on paper.
func (s *seen) near(at r2.Point, radius float64) bool {
	for _, c := range s.circles {
		if math.Abs(c.radius-radius) < 1e-9 && c.at.Sub(at).Norm() < 2*rounded {
			return true
		}
	}
	return false
}

// leadsTo reports whether a line leads from a place on paper to a circle of a radius.
func (s *seen) leadsTo(at r2.Point, radius float64) bool {
	for _, l := range s.strokes {
		if l[0].Sub(at).Norm() < 2*rounded && s.near(l[1], radius) {
			return true
		}
	}
	return false
}

func (s *seen) says(text string) bool { return strings.Contains(strings.Join(s.texts, "\n"), text) }
