//go:build browser

package template

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/golang/geo/r2"

	"locksweep/geometry/drill"
	"locksweep/geometry/planar"
	"locksweep/render/sheet"
	"locksweep/render/wording"
)

// A print is cut along its line by a program: the page is rasterised, everything off the line's inside is made white, and of the
// words that the PDF holds those count that keep their ink.
const (
	dots  = 200.0 // to the inch
	blade = 0.3   // paper left outside the middle of the line, mm: half of the line's width and a dot
)

// print is a printed page.
type print struct {
	lines []line
	rings [][]r2.Point // outlines as wide as a visible edge, mm
	words []word
	grey  raster
}

// word is a word of the PDF and the box of its letters, mm.
type word struct {
	text string
	box  r2.Rect
}

// raster is a grey picture, 255 white.
type raster struct {
	width, height int
	pixels        []byte
}

func printOf(t *testing.T, svg []byte) (p print) {
	t.Helper()
	pdf := onPaper(t, svg)
	p.lines, p.rings = taken(t, pdf)
	stem := strings.TrimSuffix(pdf, ".pdf")
	run(t, "pdftotext", "-bbox", "-f", "1", "-l", "1", pdf, stem+".html")
	run(t, "pdftoppm", "-gray", "-r", fmt.Sprint(dots), "-singlefile", pdf, stem)
	p.words, p.grey = wordsOf(t, stem+".html"), rasterOf(t, stem+".pgm")
	return p
}

func wordsOf(t *testing.T, file string) (list []word) {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	d := xml.NewDecoder(bytes.NewReader(data))
	d.Strict = false
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return list
		} else if err != nil {
			t.Fatal(err)
		}
		e, ok := token.(xml.StartElement)
		if !ok || e.Name.Local != "word" {
			continue
		}
		var w word
		if err := d.DecodeElement(&w.text, &e); err != nil {
			t.Fatal(err)
		}
		n := [4]float64{}
		for i, name := range []string{"xMin", "yMin", "xMax", "yMax"} {
			n[i], _ = strconv.ParseFloat(attribute(e, name), 64)
			n[i] *= 25.4 / 72
		}
		w.box = r2.RectFromPoints(r2.Point{X: n[0], Y: n[1]}, r2.Point{X: n[2], Y: n[3]})
		list = append(list, w)
	}
}

func rasterOf(t *testing.T, file string) (r raster) {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var most int
	if n, err := fmt.Sscanf(string(data[:min(len(data), 40)]), "P5\n%d %d\n%d\n", &r.width, &r.height, &most); n != 3 || most != 255 {
		t.Fatalf("%s is no grey picture: %v", file, err)
	}
	if r.pixels = data[len(data)-r.width*r.height:]; len(r.pixels) == 0 {
		t.Fatal("no pixels")
	}
	return r
}

// cut returns what is left inside a line.
func (r raster) cut(ring []r2.Point) raster {
	left := raster{r.width, r.height, slices.Repeat([]byte{255}, len(r.pixels))}
	box := r2.RectFromPoints(ring...).ExpandedByMargin(2 * blade)
	for i, v := range r.pixels {
		q := r2.Point{X: (float64(i%r.width) + 0.5) * 25.4 / dots, Y: (float64(i/r.width) + 0.5) * 25.4 / dots}
		if v < 255 && box.ContainsPoint(q) && (planar.Inside(ring, q) || planar.ToEdge(ring, q) < blade) {
			left.pixels[i] = v
		}
	}
	return left
}

// ink is how much black lies in a box.
func (r raster) ink(box r2.Rect) (sum float64) {
	for y := max(0, int(box.Y.Lo*dots/25.4)); y < min(r.height, int(box.Y.Hi*dots/25.4)+1); y++ {
		for x := max(0, int(box.X.Lo*dots/25.4)); x < min(r.width, int(box.X.Hi*dots/25.4)+1); x++ {
			sum += 255 - float64(r.pixels[y*r.width+x])
		}
	}
	return sum
}

// kept gives the words that a cut along the line leaves legible: no more than a fiftieth of their ink is lost.
func (p *print) kept(ring []r2.Point) (words []string) {
	left := p.grey.cut(ring)
	for _, w := range p.words {
		if all := p.grey.ink(w.box); all > 0 && left.ink(w.box) > 0.98*all && planar.Inside(ring, w.box.Center()) {
			words = append(words, w.text)
		}
	}
	return words
}

// says reports whether a word stands among those kept. Poppler takes a word that runs aslant apart: then its parts do.
func says(words []string, want string) bool {
	if want == "" {
		return true
	}
	for i, w := range words {
		if rest, found := strings.CutPrefix(want, w); found && w != "" && says(slices.Delete(slices.Clone(words), i, i+1), rest) {
			return true
		}
	}
	return false
}

// around gives the cut line that a point lies in.
func (p *print) around(at [2]float64) []r2.Point {
	for _, ring := range p.rings {
		if math.Abs(planar.Area(ring)) > 300 && planar.Inside(ring, r2.Point{X: at[0], Y: at[1]}) {
			return ring
		}
	}
	return nil
}

// TestCutOutOfThePrint prints templates from a browser and cuts them out by their lines: all of the identity stays on the paper.
func TestCutOutOfThePrint(t *testing.T) {
	const date = "2026-02-03"
	anew := drill.Options{Edge: 1.3, NewMetal: true}
	for _, c := range []struct {
		name  string
		on    drill.On
		opt   drill.Options
		arms  Arms
		paper sheet.Size
	}{
		{"pedal-quad", drill.Arm, floor, Left, sheet.Letter}, {"pedal-quad", drill.Arm, floor, Right, sheet.A4},
		{"shed-kart", drill.Arm, anew, All, sheet.A4}, {"cyclekart", drill.Arm, anew, Right, sheet.Letter},
		{"field-buggy", drill.DropArm, anew, Drop, sheet.Letter}, {"beam-cyclekart", drill.Link, anew, Left, sheet.Letter},
	} {
		t.Run(fmt.Sprint(c.name, " ", c.on, " ", c.arms, " ", c.paper.Name), func(t *testing.T) {
			r := search(t, c.name, c.on, c.opt)
			r.Setup.Name = "Trial"
			sheets, err := Drill(r, 0, Options{Options: sheet.Options{Paper: c.paper, Origin: sheet.Origin{Source: c.name + ".toml, " + date}}, Arms: c.arms})
			if err != nil {
				t.Fatal(err)
			}
			for _, svg := range sheets {
				if !bytes.Contains(svg, []byte("cut along this line")) {
					continue // the cautions
				}
				p := printOf(t, svg)
				for _, at := range crosses(p.lines, 2*punch) {
					ring := p.around(at)
					if ring == nil {
						t.Fatalf("no line to cut along goes round the punch cross at %.1f", at)
					}
					said := p.kept(ring)
					checkCut(t, r, said, date, bytes.Contains(svg, []byte("DROP ARM")))
				}
			}
		})
	}
}

// checkCut looks for the identity in what the scissors left.
func checkCut(t *testing.T, r *drill.Result, said []string, date string, drop bool) {
	t.Helper()
	wanted := []string{"THIS", "FACE", "UP", "FRONT", "TYRE", "Trial", date, "Ø"}
	if drop {
		wanted = []string{"DROP", "ARM", "DRIVER", "DOWN", "LEFT", "Trial", date, "Ø"}
	} else if left, right := says(said, "LEFT"), says(said, "RIGHT"); left == right {
		t.Errorf("LEFT %v, RIGHT %v, want one of them: %q", left, right, said)
	}
	if arrows := strings.Join(said, " "); strings.Count(arrows, "←")+strings.Count(arrows, "→")+strings.Count(arrows, "↑")+strings.Count(arrows, "↓") < 2 {
		t.Errorf("two arrows are wanted: %q", said)
	}
	wanted = append(wanted, strings.Fields(wording.DrillFigure(r.Setup.Unit, r.Options.Diameter))[0])
	for _, want := range wanted {
		if !says(said, want) {
			t.Errorf("cut out, it does not say %q: %q", want, said)
		}
	}
}

// TestScissorsLeaveNothingOutside: a line that misses the identity is told from one that holds it, so that the test above can fail.
func TestScissorsLeaveNothingOutside(t *testing.T) {
	r := search(t, "pedal-quad", drill.Arm, floor)
	sheets, err := Drill(r, 0, Options{Options: sheet.Options{Paper: sheet.A4}, Arms: Left})
	if err != nil {
		t.Fatal(err)
	}
	p := printOf(t, sheets[0])
	ring := slices.Clone(p.around(crosses(p.lines, 2*punch)[0]))
	middle := r2.RectFromPoints(ring...).Center()
	if said := p.kept(ring); !says(said, "FRONT") {
		t.Errorf("the whole template says %q", said)
	}
	for i := range ring {
		ring[i] = middle.Add(ring[i].Sub(middle).Mul(0.15))
	}
	if said := p.kept(ring); says(said, "FRONT") && says(said, "TYRE") && says(said, "THIS") {
		t.Errorf("a snippet of the template still says %q", said)
	}
}

// TestTilesPrintTrue prints the tiles of a large arm: their crosses lie in print where neighbours meet, to a tenth.
func TestTilesPrintTrue(t *testing.T) {
	r := large(t, 2.2)
	for _, paper := range []sheet.Size{sheet.A4, sheet.Letter} {
		sheets, err := Drill(r, 0, Options{Options: sheet.Options{Paper: paper}, Arms: Left})
		if err != nil || len(sheets) < 3 {
			t.Fatalf("%d sheets, %v", len(sheets), err)
		}
		var pairs [][][2]float64
		for _, svg := range sheets[:2] {
			p := printOf(t, svg)
			checkBars(t, p.lines)
			pairs = append(pairs, crosses(p.lines, 2*joinArm))
		}
		if len(pairs[0]) != 2 || len(pairs[1]) < 2 {
			t.Fatalf("%s: crosses %v, want two on the first tile and as many for it on the second", paper.Name, pairs)
		}
		for i, name := range [2]string{"along", "down"} { // from one cross to the other; the second tile has these first, from the left
			near(t, paper.Name+", "+name, pairs[1][1][i]-pairs[1][0][i], pairs[0][1][i]-pairs[0][0][i])
		}
	}
}
