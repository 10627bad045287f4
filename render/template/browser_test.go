//go:build browser

package template

import (
	"encoding/xml"
	"errors"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"locksweep/geometry/drill"
	"locksweep/geometry/setup"
	"locksweep/render/sheet"
)

// TestPrintsTrue prints templates from a browser, takes the PDF apart with poppler and measures: the bars, and
// the punch crosses against the kingpin's axis and the old hole, whose true distances come from the balls in space.
func TestPrintsTrue(t *testing.T) {
	for _, paper := range []sheet.Size{sheet.A4, sheet.Letter} {
		quad := search(t, "pedal-quad", drill.Arm, floor)
		for _, side := range setup.Sides {
			t.Run(paper.Name+" "+side.String(), func(t *testing.T) {
				lines := printed(t, quad, Options{Options: sheet.Options{Paper: paper}, Arms: [2]Arms{Left, Right}[side]})
				p := &quad.Best[0].Place
				new := p.Pickups[side]
				checkBars(t, lines)
				punched, axis := crosses(lines, 2*punch), crosses(lines, 2*axisArm)
				old := crosses(lines, 2*(quad.Metals[side].Holes[0].Diameter/2+3))
				if len(punched) != 1 || len(axis) != 1 || len(old) != 1 {
					t.Fatalf("%d punch crosses, %d axes, %d old holes, want one each", len(punched), len(axis), len(old))
				}
				near(t, "punch cross from the kingpin axis", between(punched[0], axis[0]), away(quad.Setup, side, new))
				near(t, "punch cross from the old hole", between(punched[0], old[0]), new.Sub(quad.Setup.Corners[side].Arm.Pickup).Norm())
				if outboard := (punched[0][0] - old[0][0]) * -side.Sign(); outboard*(new.Y-quad.Setup.Corners[side].Arm.Pickup.Y) < 0 {
					t.Errorf("the %v arm is printed as its mirror image", side)
				}
			})
		}
	}
	t.Run("both arms on Tabloid", func(t *testing.T) { // which has room for both with their labels
		kart := search(t, "shed-kart", drill.Arm, drill.Options{Edge: 1.6, NewMetal: true})
		lines := printed(t, kart, Options{Options: sheet.Options{Paper: sheet.Tabloid}})
		checkBars(t, lines)
		punched, axes := crosses(lines, 2*punch), crosses(lines, 2*axisArm)
		if len(punched) != 2 || len(axes) != 2 {
			t.Fatalf("%d punch crosses and %d axes, want two each", len(punched), len(axes))
		}
		for i, at := range punched {
			side := setup.Sides[i]
			near(t, side.String()+" punch cross from the kingpin axis", between(at, axes[i]), away(kart.Setup, side, kart.Best[0].Pickups[side]))
		}
	})
}

// away is the distance of a point from the kingpin's axis of a side.
func away(s *setup.Setup, side setup.Side, ball r3.Vector) float64 {
	return setup.FromCorner(side, s.Kingpin(side).Dir).Cross(ball).Norm()
}

// near asks for a tenth of a millimetre.
func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	t.Logf("%s: printed %.3f mm, want %.3f", what, got, want)
	if math.Abs(got-want) > 0.1 {
		t.Errorf("%s is printed %.3f mm long, want %.3f", what, got, want)
	}
}

func checkBars(t *testing.T, lines []line) {
	t.Helper()
	for _, length := range [2]float64{100, 4 * 25.4} {
		for _, way := range [2]int{0, 1} {
			best := math.Inf(1)
			for _, l := range lines {
				if across := math.Abs(l[0][1-way] - l[1][1-way]); across < 0.05 {
					best = min(best, math.Abs(math.Abs(l[0][way]-l[1][way])-length))
				}
			}
			if best > 0.1 {
				t.Errorf("bar of %.1f mm, way %d: off by %.3f mm", length, way, best)
			}
		}
	}
}

// line is a straight line on paper, mm, y down.
type line [2][2]float64

func between(a, b [2]float64) float64 { return math.Hypot(a[0]-b[0], a[1]-b[1]) }

// crosses returns the centres of upright crosses with lines of a length, from left to right.
func crosses(lines []line, length float64) (centres [][2]float64) {
	for _, l := range lines {
		if math.Abs(l[0][1]-l[1][1]) > 0.02 || math.Abs(between(l[0], l[1])-length) > 0.05 {
			continue
		}
		c := [2]float64{(l[0][0] + l[1][0]) / 2, (l[0][1] + l[1][1]) / 2}
		for _, m := range lines {
			d := [2]float64{(m[0][0] + m[1][0]) / 2, (m[0][1] + m[1][1]) / 2}
			if math.Abs(m[0][0]-m[1][0]) < 0.02 && math.Abs(between(m[0], m[1])-length) < 0.05 && between(c, d) < 0.05 {
				at := len(centres)
				for at > 0 && centres[at-1][0] > c[0] {
					at--
				}
				centres = append(centres[:at], append([][2]float64{c}, centres[at:]...)...)
				break
			}
		}
	}
	return centres
}

// printed returns the straight lines of the printed template.
func printed(t *testing.T, r *drill.Result, opt Options) []line {
	t.Helper()
	out, err := Drill(r, 0, opt)
	if err != nil {
		t.Fatal(err)
	}
	if len(out) != 1 {
		t.Fatalf("%d sheets, want one", len(out))
	}
	lines, _ := taken(t, onPaper(t, out[0]))
	return lines
}

// onPaper prints a drawing to a PDF file.
func onPaper(t *testing.T, svg []byte) (pdf string) {
	t.Helper()
	folder := t.TempDir()
	drawing, pdf := filepath.Join(folder, "t.svg"), filepath.Join(folder, "t.pdf")
	if err := os.WriteFile(drawing, svg, 0o600); err != nil {
		t.Fatal(err)
	}
	run(t, "chromium", "--headless", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--disable-background-networking", "--disable-component-update", "--disable-sync", "--no-first-run",
		"--user-data-dir="+filepath.Join(folder, "profile"), "--no-pdf-header-footer", "--print-to-pdf="+pdf, "file://"+drawing)
	return pdf
}

// taken takes a print apart: its straight lines, and its closed outlines drawn as wide as a visible edge.
func taken(t *testing.T, pdf string) (lines []line, rings [][]r2.Point) {
	t.Helper()
	flat := strings.TrimSuffix(pdf, ".pdf") + "-flat.svg"
	run(t, "pdftocairo", "-svg", "-f", "1", "-l", "1", pdf, flat)
	f, err := os.Open(flat)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	lines, rings, err = straight(xml.NewDecoder(f))
	if err != nil {
		t.Fatal(err)
	}
	return lines, rings
}

func run(t *testing.T, name string, args ...string) {
	t.Helper()
	if out, err := exec.Command(name, args...).CombinedOutput(); err != nil {
		t.Fatalf("%s: %v\n%s", name, err, out)
	}
}

// straight returns all paths of one straight stretch and the closed ones of several that are drawn 0.5 mm wide, with the transforms
// above them worked in, mm.
func straight(d *xml.Decoder) (lines []line, rings [][]r2.Point, err error) {
	const mm = 25.4 / 72 // a PDF counts in points
	stack := [][6]float64{{1, 0, 0, 1, 0, 0}}
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return lines, rings, nil
		}
		if err != nil {
			return nil, nil, err
		}
		switch e := token.(type) {
		case xml.StartElement:
			m := stack[len(stack)-1]
			if n := numbers(attribute(e, "transform")); len(n) == 6 {
				m = [6]float64{
					m[0]*n[0] + m[2]*n[1], m[1]*n[0] + m[3]*n[1], m[0]*n[2] + m[2]*n[3], m[1]*n[2] + m[3]*n[3],
					m[0]*n[4] + m[2]*n[5] + m[4], m[1]*n[4] + m[3]*n[5] + m[5],
				}
			}
			stack = append(stack, m)
			path := attribute(e, "d")
			if n := numbers(path); len(n) == 4 && !strings.ContainsAny(path, "CcZz") {
				at := func(x, y float64) [2]float64 {
					return [2]float64{(m[0]*x + m[2]*y + m[4]) * mm, (m[1]*x + m[3]*y + m[5]) * mm}
				}
				lines = append(lines, line{at(n[0], n[1]), at(n[2], n[3])})
			} else if wide := strokeWidth(e) * math.Hypot(m[0], m[1]) * mm; math.Abs(wide-sheet.Visible.Width) < 0.03 && strings.Contains(path, "Z") && !strings.Contains(path, "C") {
				whole, _, _ := strings.Cut(path, "Z")
				n := numbers(whole)
				var ring []r2.Point
				for i := 0; i+1 < len(n); i += 2 {
					ring = append(ring, r2.Point{X: (m[0]*n[i] + m[2]*n[i+1] + m[4]) * mm, Y: (m[1]*n[i] + m[3]*n[i+1] + m[5]) * mm})
				}
				rings = append(rings, ring)
			}
		case xml.EndElement:
			stack = stack[:len(stack)-1]
		}
	}
}

// strokeWidth is the width of a path's line in its own units; 0 where it has none. Versions of pdftocairo write it in different ways.
func strokeWidth(e xml.StartElement) float64 {
	text := attribute(e, "stroke-width")
	for _, said := range strings.Split(attribute(e, "style"), ";") {
		if value, found := strings.CutPrefix(strings.TrimSpace(said), "stroke-width:"); found {
			text = value
		}
	}
	width, _ := strconv.ParseFloat(strings.TrimSpace(text), 64)
	return width
}

func attribute(e xml.StartElement, name string) string {
	for _, a := range e.Attr {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

func numbers(text string) (list []float64) {
	for _, word := range strings.FieldsFunc(text, func(r rune) bool { return !strings.ContainsRune("0123456789.+-", r) }) {
		if x, err := strconv.ParseFloat(word, 64); err == nil {
			list = append(list, x)
		}
	}
	return list
}
