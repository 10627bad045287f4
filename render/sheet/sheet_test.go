package sheet_test

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"
	"pgregory.net/rapid"

	"locksweep/fixtures/readback"
	"locksweep/fixtures/trial"
	"locksweep/render/sheet"
)

var update = flag.Bool("update", false, "write the golden drawings anew")

type pt = r2.Point

func elements(t testing.TB, s *sheet.Sheet) []readback.Element {
	t.Helper()
	all, err := readback.Parse(s.Bytes())
	if err != nil {
		t.Fatalf("drawing is not well-formed: %v", err)
	}
	return all
}

// lines gives the runs of all paths without arcs: the points of each.
func lines(all []readback.Element) [][]pt {
	var out [][]pt
	for i := range all {
		for _, run := range all[i].Runs {
			if !run.Arc {
				out = append(out, run.Points)
			}
		}
	}
	return out
}

// hasLine reports whether a straight line of two points is among the runs, within a hundredth of a millimetre.
func hasLine(runs [][]pt, a, b pt) bool {
	near := func(p, q pt) bool { return p.Sub(q).Norm() < 0.01 }
	for _, r := range runs {
		if len(r) == 2 && (near(r[0], a) && near(r[1], b) || near(r[0], b) && near(r[1], a)) {
			return true
		}
	}
	return false
}

var caution = "Check every dimension on the vehicle before you drill, grind or weld. A wrong cut in a steering part can kill."

var hatched = sheet.Fill{Hatch: sheet.Hatch{Angle: 45, Spacing: 2}}

// round says a radius or diameter: its arrow points at the centre and ends at the circle.
func round(p *sheet.Panel, centre pt, radius float64, text string) {
	p.Label(sheet.Label{At: centre, Clear: p.View.Length(radius), End: sheet.ArrowEnd, Lines: []string{text}})
}

// sample is a drawing with one of everything: a plate with two holes, seen from above.
func sample(size sheet.Size) *sheet.Sheet {
	s := sheet.New(size, sheet.Title{
		Title: "Plate with two holes", Subtitle: "Sample of pens & <lettering>", Origin: sheet.Origin{Program: "sample 1.0"},
		Note: caution, Desc: "A plate with two holes, dimensioned.",
	})
	room := s.Area().ExpandedByMargin(-22)
	v := fit(room, r2.RectFromPoints(pt{X: -200, Y: -300}, pt{X: 420, Y: 300}), sheet.FromAbove)
	s.Scale = v.Scale
	p := s.NewPanel(s.Area(), v)
	p.Polygon(sheet.Visible, sheet.Shade, pt{X: -200, Y: -300}, pt{X: 300, Y: -300}, pt{X: 420}, pt{X: 300, Y: 300}, pt{X: -200, Y: 300})
	p.Circle(sheet.Visible, hatched, pt{X: 100, Y: 150}, 60)
	p.Circle(sheet.Visible, sheet.Paper, pt{X: 100, Y: -150}, 40)
	p.Polygon(sheet.Wide, sheet.Removed, pt{X: -200, Y: -120}, pt{X: -130, Y: -90}, pt{X: -130, Y: -10}, pt{X: -200, Y: 20})
	p.Line(sheet.Centre, pt{X: -240}, pt{X: 460})
	p.Line(sheet.Hidden, pt{X: -200, Y: -250}, pt{X: 300, Y: -250})
	p.Line(sheet.Phantom, pt{X: -200, Y: 250}, pt{X: 300, Y: 250})
	p.Arc(sheet.Phantom, pt{X: 100, Y: 150}, 100, 20*s1.Degree, 160*s1.Degree)
	for _, y := range []float64{150, -150} {
		p.Line(sheet.Centre, pt{X: 20, Y: y}, pt{X: 180, Y: y})
		p.Line(sheet.Centre, pt{X: 100, Y: y - 80}, pt{X: 100, Y: y + 80})
	}
	p.Dim(sheet.Horizontal, pt{X: -200, Y: 300}, pt{X: -200, Y: -300}, -10, "600")
	p.Dim(sheet.Vertical, pt{X: -200, Y: -300}, pt{X: 100, Y: -150}, 10, "300 to the hole")
	p.Dim(sheet.Vertical, pt{X: -200, Y: -300}, pt{X: 420}, 18, "620")
	p.Dim(sheet.Vertical, pt{X: -200, Y: 300}, pt{X: -180, Y: 300}, -10, "20")
	p.Dim(sheet.Aligned, pt{X: 300, Y: 300}, pt{X: 420}, 8, "323.1")
	round(p, pt{X: 100, Y: 150}, 60, "Ø 120")
	round(p, pt{X: 100, Y: -150}, 40, "R 40")
	p.DimAngle(pt{X: -200}, 40, 0, 30*s1.Degree, "30°")
	p.Balloon(pt{X: -100, Y: 200}, "1")
	p.Balloon(pt{X: -165, Y: -50}, "2")
	p.Label(sheet.Label{At: pt{X: 300, Y: 80}, Lines: []string{"a note of", "two lines"}, End: sheet.DotEnd})
	p.Cross(sheet.Thin, pt{X: 20, Y: -40}, 2)
	p.Label(sheet.Label{At: pt{X: 20, Y: -40}, Clear: 1.5, Lines: []string{"datum"}})
	return s
}

func TestGolden(t *testing.T) {
	got := sample(sheet.A4).Bytes()
	name := filepath.Join("testdata", "sample.svg")
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

func TestSampleIsLegibleOnEverySheet(t *testing.T) {
	for _, size := range []sheet.Size{sheet.A4, sheet.Letter, sheet.A4.Landscape(), sheet.Letter.Landscape()} {
		s := sample(size)
		checkLegible(t, s)
		if u := s.Unplaced(); len(u) > 0 {
			t.Errorf("%s: no room for %q", size.Name, u)
		}
	}
}

// checkLegible asserts that no texts overlap and that nothing leaves the frame.
func checkLegible(t testing.TB, s *sheet.Sheet) {
	t.Helper()
	for _, pair := range s.Overlaps() {
		t.Errorf("%s: %q overlaps %q", s.Size.Name, pair[0].Text, pair[1].Text)
	}
	frame := s.Frame().ExpandedByMargin(0.01)
	for _, b := range s.Texts() {
		if !frame.Contains(b.Bounds()) {
			t.Errorf("%s: %q leaves the frame: %v", s.Size.Name, b.Text, b.Bounds())
		}
	}
	all := elements(t, s)
	for _, run := range lines(all) {
		for _, p := range run {
			if !frame.ContainsPoint(p) {
				t.Errorf("%s: a line leaves the frame at %v", s.Size.Name, p)
			}
		}
	}
	for _, e := range all {
		for _, name := range []string{"NaN", "Inf"} {
			for k, v := range e.Attr {
				if strings.Contains(v, name) {
					t.Errorf("<%s %s=%q>", e.Name, k, v)
				}
			}
		}
	}
}

func TestSameCallsGiveSameBytes(t *testing.T) {
	first := sample(sheet.A4)
	a := bytes.Clone(first.Bytes())
	if !bytes.Equal(a, first.Bytes()) {
		t.Error("the second Bytes of a sheet differs from the first")
	}
	if !bytes.Equal(a, sample(sheet.A4).Bytes()) {
		t.Error("two equal drawings differ")
	}
}

// An embedded drawing sets no page, is as wide as what it stands in, and its classes and names are its own: two of them in
// one page keep their looks.
func TestEmbeddedStandsInAPage(t *testing.T) {
	in := sample(sheet.A4).Embed()
	if !bytes.HasPrefix(in, []byte("<svg")) || bytes.Contains(in, []byte("@page")) {
		t.Errorf("embedded drawing begins with %.40q and must not set the page", in)
	}
	all, err := readback.Parse(in)
	if err != nil {
		t.Fatal(err)
	}
	root := all[0].Attr
	if root["width"] != "100%" || root["height"] != "" || root["viewBox"] != "0 0 210 297" || root["id"] == "" {
		t.Errorf("root %v: want the width of its container and the proportions of the sheet", root)
	}
	for _, e := range all {
		if e.Name != "style" {
			continue
		}
		for line := range strings.Lines(strings.TrimSpace(e.Text)) {
			if !strings.HasPrefix(line, "#"+root["id"]+" .") {
				t.Errorf("style %q reaches beyond the drawing", line)
			}
		}
	}
}

func TestDrawingIsNamedForWhoCannotSeeIt(t *testing.T) {
	all := elements(t, sample(sheet.A4))
	root := all[0].Attr
	ids := strings.Fields(root["aria-labelledby"])
	if root["role"] != "img" || len(ids) != 2 {
		t.Fatalf("role %q, labelled by %q", root["role"], ids)
	}
	want := map[string]string{"title": "Plate with two holes – Sample of pens & <lettering>", "desc": "A plate with two holes, dimensioned. Scale 1:5 on A4."}
	for _, e := range all {
		if text, named := want[e.Name]; named {
			if e.Text != text || e.Attr["id"] != ids[0] && e.Attr["id"] != ids[1] {
				t.Errorf("<%s id=%q>%s, want %q", e.Name, e.Attr["id"], e.Text, text)
			}
			delete(want, e.Name)
		}
	}
	if len(want) > 0 {
		t.Errorf("missing: %v", want)
	}
}

func TestOursIsKnownAgain(t *testing.T) {
	if !sheet.IsOurs(sample(sheet.A4).Bytes()) {
		t.Error("own drawing not recognised")
	}
	foreign := `<svg xmlns="http://www.w3.org/2000/svg"><title>%s</title></svg>`
	for _, text := range []string{"", "a holiday", "&lt;metadata&gt;" + sheet.Marker + "&lt;/metadata&gt;", sheet.Marker} {
		if sheet.IsOurs(fmt.Appendf(nil, foreign, text)) {
			t.Errorf("foreign drawing titled %q taken for ours", text)
		}
	}
	if sheet.IsOurs(nil) {
		t.Error("empty file taken for a drawing")
	}
}

// Labels and dimensions thrown on a sheet at random never overlap and never leave the frame, and
// none is lost without a word.
func TestLabelsNeverOverlap(t *testing.T) {
	trial.Check(t, func(t *rapid.T) {
		s := sheet.New(sheet.A4, sheet.Title{Title: "t", Note: caution})
		p := s.NewPanel(s.Area(), sheet.View{Scale: 0.5, Origin: s.Area().Center(), Axes: sheet.FromAbove})
		coordinate := rapid.Float64Range(-160, 160)
		point := func(name string) pt {
			return pt{X: coordinate.Draw(t, name+"x"), Y: coordinate.Draw(t, name+"y")}
		}
		word := rapid.StringMatching(`[A-Za-z0-9 °Ø]{1,24}`)
		asked := 0
		for range rapid.IntRange(0, 25).Draw(t, "labels") {
			text := word.Draw(t, "text")
			if strings.TrimSpace(text) != "" {
				asked++
			}
			switch at := point("at"); rapid.IntRange(0, 3).Draw(t, "kind") {
			case 0:
				p.Label(sheet.Label{At: at, Lines: []string{text}})
			case 1:
				p.Balloon(at, text)
			case 2:
				p.Dim(sheet.Measure(rapid.IntRange(0, 2).Draw(t, "measure")), at, point("to"), rapid.Float64Range(-20, 20).Draw(t, "off"), text)
			case 3:
				p.Circle(sheet.Visible, hatched, at, 20)
				round(p, at, 20, text)
			}
		}
		if o := s.Overlaps(); len(o) > 0 {
			t.Fatalf("%q overlaps %q", o[0][0].Text, o[0][1].Text)
		}
		fixed := len(sheet.New(sheet.A4, sheet.Title{Title: "t", Note: caution}).Texts())
		if got := len(s.Texts()) - fixed + len(s.Unplaced()); got != asked {
			t.Fatalf("%d of %d labels are on the sheet or told missing", got, asked)
		}
		for _, b := range s.Texts() {
			if !s.Frame().Contains(b.Bounds()) {
				t.Fatalf("%q leaves the frame", b.Text)
			}
		}
	})
}

// Shapes are clipped to the frame wherever the model lies.
func TestShapesStayInsideTheFrame(t *testing.T) {
	number := rapid.OneOf(rapid.Float64Range(-1e4, 1e4), rapid.Float64())
	trial.Check(t, func(t *rapid.T) {
		s := sheet.New(sheet.Letter, sheet.Title{})
		p := s.NewPanel(s.Area(), sheet.View{Scale: 0.2, Origin: s.Area().Center(), Axes: sheet.Upright})
		point := func() pt { return pt{X: number.Draw(t, "x"), Y: number.Draw(t, "y")} }
		p.Polyline(sheet.Visible, point(), point(), point())
		p.Polygon(sheet.Hidden, sheet.Removed, point(), point(), point())
		p.Circle(sheet.Visible, sheet.Shade, point(), number.Draw(t, "r"))
		p.Arc(sheet.Visible, point(), number.Draw(t, "r"), s1.Angle(number.Draw(t, "a")), s1.Angle(number.Draw(t, "b")))
		p.Dim(sheet.Aligned, point(), point(), number.Draw(t, "off"), "1")
		p.DimAngle(point(), 30, s1.Angle(number.Draw(t, "a")), s1.Angle(number.Draw(t, "b")), "2")
		p.Arrow(sheet.Thin, point(), point())
		p.Cross(sheet.Thin, point(), 3)
		p.Dot(sheet.Black, point(), 1)
		p.Text(point(), sheet.E, sheet.Style{Turn: s1.Angle(number.Draw(t, "turn"))}, "")
		data := s.Bytes()
		if m := regexp.MustCompile(`NaN|Inf`).Find(data); m != nil {
			t.Fatalf("drawing contains %s", m)
		}
		all, err := readback.Parse(data)
		if err != nil {
			t.Fatal(err)
		}
		frame := s.Frame().ExpandedByMargin(0.01)
		for _, run := range lines(all) {
			for _, q := range run {
				if !frame.ContainsPoint(q) {
					t.Fatalf("line through %v", q)
				}
			}
		}
	})
}
