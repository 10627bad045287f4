package chart_test

import (
	"bytes"
	"encoding/xml"
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/golang/geo/r2"
	"locksweep/fixtures/readback"
	"locksweep/fixtures/trial"
	"locksweep/render/chart"
	"locksweep/render/sheet"
	"pgregory.net/rapid"
)

var update = flag.Bool("update", false, "write the golden drawings anew")

type pt = r2.Point

func newSheet() *sheet.Sheet {
	return sheet.New(sheet.A4.Landscape(), sheet.Title{Title: "Curves", Subtitle: "sample", Origin: sheet.Origin{Program: "sample 1.0"}})
}

// curve samples f at whole values from lo to hi.
func curve(lo, hi int, f func(x float64) float64) []pt {
	var out []pt
	for i := lo; i <= hi; i++ {
		out = append(out, pt{X: float64(i), Y: f(float64(i))})
	}
	return out
}

func sample() chart.Chart {
	left := curve(-12, 12, func(x float64) float64 { return 3*x + 0.05*x*x })
	right := curve(-12, 12, func(x float64) float64 { return 3*x - 0.05*x*x })
	broken := curve(-12, 8, func(x float64) float64 {
		if x > 1 && x < 5 {
			return math.NaN()
		}
		return -20 + x
	})
	return chart.Chart{
		Title:  "Two wheels",
		X:      chart.Axis{Label: "column, left positive", Unit: "°"},
		Y:      chart.Axis{Label: "steer angle", Unit: "°"},
		Curves: []chart.Curve{{Name: "left", Points: left}, {Name: "right", Points: right}, {Name: "parallel", Reference: true, Points: curve(-12, 12, func(x float64) float64 { return 3 * x })}, {Name: "with a gap", Points: broken}},
		Marks:  []chart.Mark{{At: left[0], Text: "right lock"}, {At: left[24], Text: "left lock"}},
	}
}

func draw(t testing.TB, c chart.Chart, rect func(area r2.Rect) r2.Rect) *sheet.Sheet {
	t.Helper()
	s := newSheet()
	if err := c.Draw(s, rect(s.Area().ExpandedByMargin(-6))); err != nil {
		t.Fatal(err)
	}
	return s
}

func whole(area r2.Rect) r2.Rect { return area }

// strokes gives the straight lines, and the texts with their positions, from a drawing.
func strokes(t testing.TB, data []byte) (lines [][2]pt, texts map[string]pt) {
	t.Helper()
	all, err := readback.Parse(data)
	if err != nil {
		t.Fatalf("not well-formed: %v", err)
	}
	texts = map[string]pt{}
	for _, e := range all {
		for _, run := range e.Runs {
			if run.Straight() {
				lines = append(lines, [2]pt(run.Points))
			}
		}
		if e.Name == "text" {
			var at pt
			fmt.Sscan(e.Attr["x"], &at.X)
			fmt.Sscan(e.Attr["y"], &at.Y)
			texts[e.Text] = at
		}
	}
	return lines, texts
}

func checkLegible(t testing.TB, s *sheet.Sheet, inside r2.Rect) {
	t.Helper()
	for _, p := range s.Overlaps() {
		t.Errorf("%q overlaps %q", p[0].Text, p[1].Text)
	}
	for _, b := range s.Texts() {
		if !inside.Contains(b.Bounds()) && !inTitleBlock(s, b) {
			t.Errorf("%q leaves the chart: %v, chart %v", b.Text, b.Bounds(), inside)
		}
	}
}

func inTitleBlock(s *sheet.Sheet, b sheet.Box) bool { return b.Bounds().Y.Lo >= s.Area().Y.Hi }

func TestGolden(t *testing.T) {
	got := draw(t, sample(), whole).Bytes()
	name := filepath.Join("testdata", "curves.svg")
	if *update {
		if err := os.WriteFile(name, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("drawing differs from %s; look at it and run with -update if it is right", name)
	}
}

func TestChartIsLegible(t *testing.T) {
	for n := 1; n <= 3; n++ {
		s := newSheet()
		area := s.Area().ExpandedByMargin(-6)
		for _, r := range sheet.Split(area, n, min(n, 2), 8) {
			if err := sample().Draw(s, r); err != nil {
				t.Fatal(err)
			}
		}
		checkLegible(t, s, area.ExpandedByMargin(0.01))
		if u := s.Unplaced(); len(u) > 0 {
			t.Errorf("%d by %d charts: no room for %q", n, n, u)
		}
	}
}

// A value equal to a tick lies level with the figure of that tick.
func TestCurveAgreesWithItsAxis(t *testing.T) {
	c := chart.Chart{
		X: chart.Axis{Label: "x", Min: 0, Max: 10}, Y: chart.Axis{Label: "y", Min: 0, Max: 50},
		Curves: []chart.Curve{{Name: "c", Points: []pt{{X: 2, Y: 10}, {X: 8, Y: 40}}}},
	}
	drawn, texts := strokes(t, draw(t, c, whole).Bytes())
	capHeight := sheet.Small
	var want [2]pt
	for i, p := range [2][2]string{{"2", "10"}, {"8", "40"}} {
		// Figures below the x axis are centred on their tick; those beside the y axis stand with the
		// middle of their letters level with it.
		want[i] = pt{X: texts[p[0]].X, Y: texts[p[1]].Y - capHeight/2}
	}
	for _, l := range drawn {
		if max(l[0].Sub(want[0]).Norm(), l[1].Sub(want[1]).Norm()) < 0.03 { // each is written in hundredths
			return
		}
	}
	t.Errorf("no curve from tick to tick at %.2f", want)
}

func TestMissingPointsAreGaps(t *testing.T) {
	nan := math.NaN()
	points := []pt{{X: 0, Y: 0}, {X: 1, Y: 1}, {X: 2, Y: nan}, {X: 3, Y: 2}, {X: nan, Y: 3}, {X: 5, Y: math.Inf(1)}, {X: 6, Y: 3}, {X: 7, Y: 4}}
	c := chart.Chart{Curves: []chart.Curve{{Name: "c", Points: points, Pen: sheet.Pen{Width: 0.5, Colour: 0x123456}}}}
	all, err := readback.Parse(draw(t, c, whole).Bytes())
	if err != nil {
		t.Fatal(err)
	}
	runs, dots := 0, 0
	for _, e := range all {
		if e.Paint["stroke"] == "#123456" && e.Paint["stroke-width"] == "0.5" {
			runs += len(e.Runs)
		}
		if e.Name == "circle" && e.Paint["fill"] == "#123456" {
			dots++
		}
	}
	if runs != 2 || dots != 1 {
		t.Errorf("%d runs and %d lone points, want 2 and 1", runs, dots)
	}
}

func TestSomethingIsDrawnWithoutData(t *testing.T) {
	for name, c := range map[string]chart.Chart{
		"empty":     {},
		"no number": {Curves: []chart.Curve{{Name: "c", Points: []pt{{X: math.NaN()}}}}},
		"no points": {Title: "t", Curves: []chart.Curve{{Name: "c"}}},
		"beyond":    {X: chart.Axis{Min: 5, Max: 6}, Curves: []chart.Curve{{Name: "c", Points: []pt{{}, {X: 1}}}}},
	} {
		if !bytes.Contains(draw(t, c, whole).Bytes(), []byte("no data")) {
			t.Errorf("%s: an empty chart does not say so", name)
		}
	}
}

func TestTooSmallARectangleIsRefused(t *testing.T) {
	s := newSheet()
	if err := sample().Draw(s, sheet.Rect(30, 30, 25, 25)); err == nil {
		t.Error("a chart of 25 mm is drawn")
	}
}

// Whatever the curves are, the names at their ends do not overlap, all text stays inside, and the
// drawing is well-formed.
func TestAnyCurvesAreLegible(t *testing.T) {
	value := rapid.OneOf(rapid.Float64Range(-50, 50), rapid.SampledFrom([]float64{math.NaN(), math.Inf(-1), 0, 1e308, 1e-300, 1e9}))
	trial.Check(t, func(t *rapid.T) {
		c := chart.Chart{Title: rapid.String().Draw(t, "title"), X: chart.Axis{Label: rapid.String().Draw(t, "x"), Unit: "°"}, Y: chart.Axis{Label: "y"}}
		for range rapid.IntRange(0, 7).Draw(t, "curves") {
			var pts []pt
			for range rapid.IntRange(0, 6).Draw(t, "points") {
				pts = append(pts, pt{X: value.Draw(t, "px"), Y: value.Draw(t, "py")})
			}
			c.Curves = append(c.Curves, chart.Curve{Name: rapid.String().Draw(t, "name"), Points: pts})
		}
		c.Marks = []chart.Mark{{At: pt{X: value.Draw(t, "mx"), Y: value.Draw(t, "my")}, Text: "mark"}}
		s := newSheet()
		area := s.Area().ExpandedByMargin(-6)
		if err := c.Draw(s, area); err != nil {
			t.Fatal(err)
		}
		for _, p := range s.Overlaps() {
			t.Fatalf("%q overlaps %q", p[0].Text, p[1].Text)
		}
		for _, b := range s.Texts() {
			if !area.ExpandedByMargin(1).Contains(b.Bounds()) && !inTitleBlock(s, b) {
				t.Fatalf("%q leaves the chart: %v", b.Text, b.Bounds())
			}
		}
		data := s.Bytes()
		if bytes.Contains(data, []byte("NaN")) && !strings.Contains(fmt.Sprint(c), "\"NaN") {
			for _, line := range strings.Split(string(data), "\n") {
				if strings.HasPrefix(line, "<path") && strings.Contains(line, "NaN") {
					t.Fatalf("path %s", line)
				}
			}
		}
		if err := xml.Unmarshal(data, new(struct{})); err != nil {
			t.Fatal(err)
		}
	})
}

// TestMarksKeepTheirOrder: of two marks one above the other the upper is named higher, at either end of the axis.
func TestMarksKeepTheirOrder(t *testing.T) {
	c := sample()
	for _, end := range [2]int{0, 24} {
		low, high := c.Curves[0].Points[end], c.Curves[1].Points[end]
		if low.Y > high.Y {
			low, high = high, low
		}
		c.Marks = []chart.Mark{{At: low, Text: "the lower"}, {At: high, Text: "the upper"}}
		at := map[string]float64{}
		for _, b := range draw(t, c, func(area r2.Rect) r2.Rect { return area }).Texts() {
			at[b.Text] = b.Bounds().Center().Y
		}
		if !(at["the upper"] < at["the lower"]) {
			t.Errorf("at end %d the upper mark is named at %.1f mm from the top, the lower at %.1f", end, at["the upper"], at["the lower"])
		}
	}
}

func ExampleChart_Draw() {
	s := sheet.New(sheet.A4, sheet.Title{Title: "Error"})
	c := chart.Chart{
		Title:  "Error against steer",
		X:      chart.Axis{Label: "mean steer", Unit: "°"},
		Y:      chart.Axis{Label: "error", Unit: "°"},
		Curves: []chart.Curve{{Name: "as built", Points: []r2.Point{{X: 0, Y: 0}, {X: 10, Y: 0.4}, {X: 20, Y: 1.5}}}},
	}
	if err := c.Draw(s, s.Area().ExpandedByMargin(-8)); err != nil {
		fmt.Println(err)
	}
	for _, box := range s.Texts() {
		if box.Text == "as built" {
			fmt.Println("the curve carries its name")
		}
	}
	// Output: the curve carries its name
}
