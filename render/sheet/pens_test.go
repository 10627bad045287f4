package sheet

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"
	"pgregory.net/rapid"

	"locksweep/fixtures/trial"
)

// WCAG 2 contrast: black on white is 21:1 and #767676 is the lightest grey of 4.5:1 on white
// (W3C, Understanding SC 1.4.3: memory).
func TestContrastAgreesWithWCAG(t *testing.T) {
	if c := contrast(Black, White); math.Abs(c-21) > 1e-9 {
		t.Errorf("black on white: %g, want 21", c)
	}
	if a, b := contrast(0x767676, White), contrast(0x777777, White); a < 4.5 || b >= 4.5 {
		t.Errorf("#767676 %g, #777777 %g: want at least and below 4.5", a, b)
	}
}

func TestEveryColourStandsOutOnPaper(t *testing.T) {
	for _, c := range []Colour{Black, Blue, Vermilion, Green, Purple, Orange, Grey, PaleGrey, White} {
		if k := contrast(c.forLine(), White); k < 3 {
			t.Errorf("line in %s: contrast %.2f, want 3", c, k)
		}
		if k := contrast(c.forText(), White); k < 4.5 {
			t.Errorf("text in %s: contrast %.2f, want 4.5", c, k)
		}
	}
	for i := range 9 {
		if k := contrast(Step(i, 9).Tint, Black); k < 4.5 {
			t.Errorf("black text on step %d: contrast %.2f, want 4.5", i, k)
		}
		if i > 0 && luminance(Step(i, 9).Tint) >= luminance(Step(i-1, 9).Tint) {
			t.Errorf("step %d is not darker in grey than the one before", i)
		}
	}
}

// Widths and stroke lengths of ISO 128-2 (memory): two widths in the ratio 2:1; dash 12 d, long dash
// 24 d, gap 3 d.
func TestPensFollowISO128(t *testing.T) {
	if Visible.Width != 2*Thin.Width {
		t.Errorf("wide %g and narrow %g are not 2:1", Visible.Width, Thin.Width)
	}
	for pen, want := range map[Pen]string{
		Visible: "", Thin: "",
		Hidden:  "3 0.75",
		Centre:  "6 0.75 0.25 0.75",
		Phantom: "6 0.75 0.25 0.75 0.25 0.75",
	} {
		if got := pen.dashArray(); got != want {
			t.Errorf("dashes of a line of %g: %q, want %q", pen.Width, got, want)
		}
	}
}

func TestCurvesAreToldApartWithoutColour(t *testing.T) {
	seen := map[string]bool{}
	for _, p := range CurvePens {
		key := fmt.Sprint(p.Width, p.Line)
		if seen[key] {
			t.Errorf("two curves share width and dashes: %s", key)
		}
		seen[key] = true
	}
}

// Character widths of Helvetica in thousandths, from Adobe's core font metrics (memory; Liberation
// Sans, which has the same widths: read): text is never measured narrower than that.
func TestTextIsMeasuredWideEnough(t *testing.T) {
	helvetica := map[rune]int{' ': 278, '0': 556, '1': 556, '.': 278, ':': 278, '%': 889, '@': 1015, 'A': 667, 'J': 500, 'M': 833,
		'W': 944, 'a': 556, 'e': 556, 'i': 222, 'l': 222, 'm': 833, 'n': 556, 'o': 556, 'r': 333, 's': 500, 't': 278, 'w': 722, '°': 400, 'Ø': 778}
	for r, w := range helvetica {
		if advance(r) < w {
			t.Errorf("%q: %d, Helvetica needs %d", r, advance(r), w)
		}
	}
	if got, want := TextWidth("0000000000", 2.5), 10*0.636*2.5/0.729; math.Abs(got-want) > 1e-9 {
		t.Errorf("ten figures of 2.5 mm: %g mm, want %g", got, want)
	}
}

func TestShortenedTextFits(t *testing.T) {
	trial.Check(t, func(t *rapid.T) {
		text := rapid.String().Draw(t, "text")
		width := rapid.Float64Range(5, 100).Draw(t, "width")
		if got := Shorten(text, Small, width); TextWidth(got, Small) > width+1e-9 {
			t.Fatalf("%q is %g mm wide, room is %g", got, TextWidth(got, Small), width)
		}
		for _, line := range Wrap(text, Small, width) {
			if TextWidth(line, Small) > width+1e-9 {
				t.Fatalf("line %q is %g mm wide, room is %g", line, TextWidth(line, Small), width)
			}
		}
	})
}

func TestWrapKeepsEveryWord(t *testing.T) {
	text := "Check every dimension on the vehicle before you drill, grind or weld."
	if got := strings.Join(Wrap(text, Small, 40), " "); got != text {
		t.Errorf("wrapped: %q", got)
	}
}

// Hatching covers an area: the length of its lines times their distance is the area (by integration
// across the lines: derived).
func TestHatchCoversTheArea(t *testing.T) {
	square := []r2.Point{{X: 0, Y: 0}, {X: 60, Y: 0}, {X: 60, Y: 40}, {X: 0, Y: 40}}
	hole := []r2.Point{{X: 20, Y: 10}, {X: 40, Y: 10}, {X: 40, Y: 30}, {X: 20, Y: 30}}
	const spacing, area = 0.05, 60*40 - 20*20
	for _, angle := range []float64{0, 30, 45, 90, 135} {
		sum := 0.0
		for _, l := range hatchLines([][]r2.Point{square, hole}, angle, spacing) {
			sum += l[1].Sub(l[0]).Norm() * spacing
		}
		if math.Abs(sum-area) > 0.005*area {
			t.Errorf("at %g°: %g mm², want %d", angle, sum, area)
		}
	}
}

// Clipping a convex polygon keeps just what is in both: compared with counting points of a raster.
func TestClippedAreaAgreesWithRaster(t *testing.T) {
	window := Rect(0, 0, 10, 10)
	trial.Check(t, func(t *rapid.T) {
		c := rapid.Float64Range(-6, 16)
		ring := make([]r2.Point, 3)
		for i := range ring {
			ring[i] = r2.Point{X: c.Draw(t, "x"), Y: c.Draw(t, "y")}
		}
		const n = 200
		count := 0
		for i := range n {
			for j := range n {
				p := r2.Point{X: (float64(i) + 0.5) * 10 / n, Y: (float64(j) + 0.5) * 10 / n}
				in := true
				sign := ring[1].Sub(ring[0]).Cross(ring[2].Sub(ring[0]))
				for k, a := range ring {
					in = in && sign*ring[(k+1)%3].Sub(a).Cross(p.Sub(a)) > 0
				}
				if in {
					count++
				}
			}
		}
		got, want := math.Abs(shoelace(clipRing(ring, window))), float64(count)*100/(n*n)
		if math.Abs(got-want) > 1 { // a raster of 0.05 mm along at most 40 mm of edge is off by half a step
			t.Fatalf("%v clipped: area %g, raster %g", ring, got, want)
		}
	})
}

func shoelace(ring []r2.Point) float64 {
	sum := 0.0
	for i, p := range ring {
		sum += p.Cross(ring[(i+1)%len(ring)]) / 2
	}
	return sum
}

// An arc written for SVG runs through the point half way: centre + radius, on the side that the
// arc's flags choose (SVG 1.1, appendix F.6.5: derived).
func TestArcFlagsChooseTheArc(t *testing.T) {
	for _, axes := range []Axes{FromAbove, Upright} {
		for _, span := range []s1.Angle{40, 170, 250, -40, -200} {
			s := New(A4, Title{})
			v := View{Scale: 1, Origin: r2.Point{X: 100, Y: 130}, Axes: axes}
			from, to := 25*s1.Degree, (25+span)*s1.Degree
			s.NewPanel(s.Area(), v).Arc(Visible, r2.Point{}, 30, from, to)
			var a, b r2.Point
			var r, rr float64
			var large, sweep int
			at := strings.Index(s.body.String(), `d="M`)
			spaced := strings.NewReplacer("-", " -", "a", " a ").Replace(s.body.String()[at:])
			if _, err := fmt.Sscanf(spaced, `d="M%f %f a %f %f 0 %d %d %f %f"`, &a.X, &a.Y, &r, &rr, &large, &sweep, &b.X, &b.Y); err != nil {
				t.Fatalf("no arc in %.60s: %v", spaced, err)
			}
			b = a.Add(b)
			half := b.Sub(a).Mul(0.5)
			rise := math.Sqrt(max(0, r*r-half.Dot(half)))
			if large == sweep {
				rise = -rise
			}
			centre := a.Add(half).Add(half.Ortho().Normalize().Mul(rise))
			if d := centre.Sub(v.Origin).Norm(); d > 0.02 { // its ends are written in hundredths
				t.Errorf("axes %v, span %g: centre is %g mm off", axes, float64(span), d)
			}
		}
	}
}

func TestBoxesOverlapLikeTheirRectangles(t *testing.T) {
	trial.Check(t, func(t *rapid.T) {
		c := rapid.Float64Range(0, 20)
		rect := func() r2.Rect {
			return r2.RectFromPoints(r2.Point{X: c.Draw(t, "x"), Y: c.Draw(t, "y")}, r2.Point{X: c.Draw(t, "x"), Y: c.Draw(t, "y")})
		}
		a, b := rect(), rect()
		common := a.Intersection(b)
		if s := common.Size(); !common.IsEmpty() && min(s.X, s.Y) < 0.002 {
			t.Skip("touching within tolerance")
		}
		got, want := rectBox(a).overlaps(rectBox(b)), a.InteriorIntersects(b)
		if got != want {
			t.Fatalf("%v and %v: %v, want %v", a, b, got, want)
		}
	})
}
