//go:build browser

package browser

import (
	"bytes"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/golang/geo/r2"

	"locksweep/render/sheet"
)

// TestDrawings opens every drawing of the examples and of the gallery as a reader does, and prints it.
func TestDrawings(t *testing.T) {
	for _, file := range append(demo(t), gallery(t)...) {
		t.Run(filepath.Base(file), func(t *testing.T) { checkDrawing(t, file) })
	}
}

// demo lets the program draw every example into an empty folder.
func demo(t *testing.T) (files []string) {
	t.Helper()
	folder := t.TempDir()
	list, err := exec.Command(program(t), "demo", "--list").Output()
	if err != nil {
		t.Fatalf("locksweep demo --list: %v", err)
	}
	for row := range strings.Lines(string(list)) {
		name := strings.Fields(row)[0]
		run := exec.Command(program(t), "demo", name)
		run.Dir = folder
		if out, err := run.CombinedOutput(); err != nil {
			t.Fatalf("locksweep demo %s: %v\n%s", name, err, out)
		}
		drawn, _ := filepath.Glob(filepath.Join(folder, "locksweep-demo", name+"-*.svg"))
		if len(drawn) == 0 {
			t.Fatalf("locksweep demo %s wrote no drawing", name)
		}
		files = append(files, drawn...)
	}
	return files
}

// gallery returns the drawings that the documents show.
func gallery(t *testing.T) (files []string) {
	t.Helper()
	files, _ = filepath.Glob(filepath.Join("..", "..", "docs", "gallery", "*.svg"))
	if len(files) == 0 {
		t.Error("docs/gallery holds no drawing")
	}
	return files
}

// TestSwingMoves: the drawing that is to swing does so, there and back, and stands still where the system asks for less motion.
func TestSwingMoves(t *testing.T) {
	page := open(t, filepath.Join("..", "..", "docs", "gallery", "swing.svg"))
	shapes := ask[[]string](t, page, `(() => {
		const all = document.getAnimations(), at = time => { all.forEach(a => { a.pause(); a.currentTime = time; });
			return [...document.querySelectorAll('path')].map(p => getComputedStyle(p).d).join(); };
		return [2500, 7500, 0, 12500].map(at); // it begins straight ahead
	})()`)
	if shapes[0] == shapes[1] || shapes[1] == shapes[2] || shapes[0] == shapes[2] || shapes[3] != shapes[0] {
		t.Error("it does not go from lock to lock and back in ten seconds")
	}
	page.do(t, media("", &emulation.MediaFeature{Name: "prefers-reduced-motion", Value: "reduce"}))
	if n := ask[int](t, page, `document.getAnimations().length`); n != 0 {
		t.Errorf("%d shapes move where the system asks for less motion", n)
	}
}

// TestCheckBarsPrintTrue prints the bars by which a builder proves the scale of a template.
func TestCheckBarsPrintTrue(t *testing.T) {
	for _, size := range []sheet.Size{sheet.A4, sheet.Letter, sheet.A4.Landscape(), sheet.Letter.Landscape()} {
		t.Run(size.Name, func(t *testing.T) {
			s := sheet.New(size, sheet.Title{Title: "Check bars", Subtitle: size.Name, Desc: "Bars of known length both ways."})
			corner := s.Area().Vertices()[3].Add(r2.Point{X: 5, Y: -5})
			s.CheckBars(corner)
			file := filepath.Join(t.TempDir(), "bars.svg")
			if err := os.WriteFile(file, s.Bytes(), 0o600); err != nil {
				t.Fatal(err)
			}
			checkDrawing(t, file)
		})
	}
}

// checkDrawing holds one drawing against everything that a browser can tell.
func checkDrawing(t *testing.T, file string) {
	page := open(t, file)
	seen := page.measure(t)
	if seen.Broken || seen.Root != "svg" {
		t.Fatalf("the browser takes it for %s, not for a sound svg", seen.Root)
	}
	if seen.Title == "" || seen.Description == "" {
		t.Errorf("title %q, description %q: who cannot see the drawing needs both", seen.Title, seen.Description)
	}
	if seen.Scripts > 0 {
		t.Errorf("%d scripts or foreign elements in a drawing, want none", seen.Scripts)
	}
	checkTexts(t, &seen)
	checkPrint(t, &seen, read(t, page.print(t)))
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if bytes.Contains(data, []byte("100 mm – print at 100")) {
		checkBars(t, &seen)
	}
	for _, c := range page.complaints(t) {
		t.Errorf("the browser complains: %s", c)
	}
}

// shared is how far two texts may run into each other, mm: the width of a thin line.
const shared = 0.25

// checkTexts looks for text on text and for text off the sheet.
func checkTexts(t *testing.T, l *look) {
	if len(l.Texts) == 0 {
		t.Error("no text at all: a drawing has at least a title")
	}
	for i, a := range l.Texts {
		for _, c := range a.Corners {
			if c[0] < 0 || c[1] < 0 || c[0] > l.Width || c[1] > l.Height {
				t.Errorf("%q leaves the sheet at %.1f, %.1f of %.1f × %.1f mm", a.Text, c[0], c[1], l.Width, l.Height)
				break
			}
		}
		for _, b := range l.Texts[:i] {
			if depth := overlap(a.Corners, b.Corners); depth > shared {
				t.Errorf("%q and %q run %.2f mm into each other", a.Text, b.Text, depth)
			}
		}
	}
}

// overlap returns how far two rectangles would have to be moved apart, at least, mm; 0 or less where
// they do not meet. Separating axes: the normals of both rectangles' sides.
func overlap(a, b [4][2]float64) float64 {
	least := math.Inf(1)
	for _, box := range [2][4][2]float64{a, b} {
		for i := range 2 {
			x, y := box[i+1][0]-box[i][0], box[i+1][1]-box[i][1]
			length := math.Hypot(x, y)
			if length == 0 {
				return 0 // a text without width
			}
			lowA, highA := along(a, -y/length, x/length)
			lowB, highB := along(b, -y/length, x/length)
			least = min(least, highA-lowB, highB-lowA)
		}
	}
	return least
}

func along(box [4][2]float64, x, y float64) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, c := range box {
		v := c[0]*x + c[1]*y
		low, high = min(low, v), max(high, v)
	}
	return low, high
}

// A browser rounds the page to whole dots and stretches the sheet to it, by a few hundredths of a
// percent. A printed line must stand within placed of its place on the page, and its length must be true
// within trueWithin: 0.07 mm on a bar of 100 mm.
const (
	placed = 0.2 // mm
	dot    = 0.1 // mm
)

func trueWithin(length float64) float64 { return 0.02 + length*0.0005 }

// checkPrint compares the print with the drawing: one page of the drawing's own size, and every straight
// line in its place and true in length.
func checkPrint(t *testing.T, l *look, p printed) {
	if p.pages != 1 {
		t.Errorf("prints on %d pages, want 1", p.pages)
	}
	if math.Abs(p.width-l.Width) > 0.5 || math.Abs(p.height-l.Height) > 0.5 {
		t.Errorf("prints on %.2f × %.2f mm, the sheet is %.2f × %.2f mm", p.width, p.height, l.Width, l.Height)
	}
	if len(l.Lines) == 0 {
		t.Error("no straight line to measure: has the form of paths in the drawing changed?")
	}
	for _, want := range l.Lines {
		if want.length() < dot {
			continue // a printer may leave out what has no length
		}
		got, off := nearest(want, p.lines)
		if off > placed {
			t.Errorf("the line from %.2f to %.2f is printed %.3f mm off its place, at most %.1f is true", want[0], want[1], off, placed)
			continue
		}
		if by := got.length() - want.length(); math.Abs(by) > trueWithin(want.length()) {
			t.Errorf("the line from %.2f to %.2f, %.3f mm long, is printed %+.3f mm longer", want[0], want[1], want.length(), by)
		}
	}
}

// nearest returns the line whose ends are nearest to those of the wanted one, and how far off they are, mm.
func nearest(want line, lines []line) (found line, off float64) {
	off = math.Inf(1)
	for _, got := range lines {
		for _, turned := range [2]line{got, {got[1], got[0]}} {
			if d := max(apart(want[0], turned[0]), apart(want[1], turned[1])); d < off {
				found, off = turned, d
			}
		}
	}
	return found, off
}

func (l line) length() float64 { return apart(l[0], l[1]) }

func apart(a, b [2]float64) float64 { return math.Hypot(a[0]-b[0], a[1]-b[1]) }

// checkBars looks for bars of 100 mm and 4 in both ways. checkPrint has shown that they print where they
// stand in the drawing.
func checkBars(t *testing.T, l *look) {
	for _, length := range [2]float64{100, 4 * 25.4} {
		var level, upright bool
		for _, b := range l.Lines {
			x, y := math.Abs(b[1][0]-b[0][0]), math.Abs(b[1][1]-b[0][1])
			level = level || math.Abs(x-length) < 0.01 && y < 0.01
			upright = upright || math.Abs(y-length) < 0.01 && x < 0.01
		}
		if !level || !upright {
			t.Errorf("bar of %.1f mm: level %v, upright %v, want both", length, level, upright)
		}
	}
	var told []string
	for _, text := range l.Texts {
		told = append(told, text.Text)
	}
	if !strings.Contains(strings.Join(told, "\n"), "measure both bars before use") {
		t.Error("the sheet does not say to measure the bars")
	}
}
