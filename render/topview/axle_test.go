package topview

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/golang/geo/r2"

	"locksweep/fixtures"
	"locksweep/fixtures/example"
	"locksweep/fixtures/readback"
	"locksweep/fixtures/trial"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/render/sheet"
)

// large makes long, wide and inch vehicles of the examples; all are this project's own inventions.
func large(t *testing.T) map[string]*sweep.Result {
	all := map[string]*sweep.Result{}
	for _, e := range fixtures.Examples {
		all[e.Name] = swept(t, example.Read(t, e.Name))
	}
	for name, of := range map[string][]string{
		"long":      {"field-buggy", "vehicle.wheelbase=3400"},
		"wide":      {"field-buggy", "kingpin.spacing=1640", "vehicle.rear_track=1900"},
		"inch":      {"cyclekart", "kingpin.spacing=62", "tie_rod.left=29.2", "tie_rod.right=29.2", "vehicle.wheelbase=130"},
		"low gaps":  {"shed-kart", "limits.clearance=20"},
		"short bar": {"shed-kart", "limits.spindle=4"},
	} {
		s := example.Read(t, of[0], of[1:]...)
		if name == "inch" {
			s.Parts = nil // its rails stand where the new rods run
		}
		all[name] = swept(t, s)
	}
	return all
}

// TestFrontAxleIsLargeEnough: on every paper the front axle stands at 1:5 or larger, on a second sheet where it must, with pickups and
// rods in figures, and how far the steering wheel turns stands over its bar.
func TestFrontAxleIsLargeEnough(t *testing.T) {
	seconds := 0
	all := large(t)
	for i, name := range slices.Sorted(maps.Keys(all)) {
		r := all[name]
		for k, paper := range papers {
			if !trial.Long() && k != i%len(papers) { // each on one
				continue
			}
			sheets, err := Sheets(r, Options{Options: sheet.Options{Paper: paper}, Warned: []string{"a gap is small", strings.Repeat("long words ", 30)}})
			if err != nil {
				t.Fatal(err)
			}
			what := name + " on " + paper.Name
			axle := sheets[len(sheets)-1]
			seconds += len(sheets) - 1
			for i, s := range sheets {
				well(t, fmt.Sprintf("%s, sheet %d", what, i+1), s)
			}
			if s := sheets[0]; s.Scale < 0.02 {
				t.Errorf("%s: the vehicle stands at %s", what, s.Scale)
			}
			first, said := fmt.Sprint(sheets[0].Texts()), fmt.Sprint(axle.Texts())
			if !strings.Contains(first, " left to ") {
				t.Errorf("%s: no caption over the bar", what)
			}
			if !strings.Contains(first, "2 warnings") {
				t.Errorf("%s: the warnings are not counted", what)
			}
			if scale := axleScale(t, axle); scale < 0.2 {
				t.Errorf("%s: the front axle stands at %s", what, scale)
			}
			d := drawing{r: r}
			for i := range r.Linkage.Rods {
				if want := d.size(r.Linkage.Rods[i].Length); !strings.Contains(said, want) {
					t.Errorf("%s: a rod of %s is not said", what, want)
				}
			}
			if want := d.size(r.Setup.Corners[setup.Left].Arm.Pickup.X); !strings.Contains(said, "{"+want+" ") {
				t.Errorf("%s: no dimension of the pickup, %s", what, want)
			}
		}
	}
	if seconds == 0 {
		t.Error("no second sheet is tried")
	}
}

// TestWordsGiveWay: where warnings would leave no room for the vehicle they are counted, and it is drawn.
func TestWordsGiveWay(t *testing.T) {
	r := swept(t, example.Read(t, "shed-kart"))
	long := strings.Repeat("long words ", 250)
	for _, paper := range papers {
		sheets, err := Sheets(r, Options{Options: sheet.Options{Paper: paper}, Warned: []string{long, long, long, long}})
		if err != nil {
			t.Fatal(err)
		}
		for i, s := range sheets {
			well(t, fmt.Sprintf("%s, sheet %d", paper.Name, i+1), s)
		}
		if said := fmt.Sprint(sheets[0].Texts()); !strings.Contains(said, "4 warnings; all are in the report") || strings.Contains(said, "long words") {
			t.Errorf("%s: says %s", paper.Name, said)
		}
	}
}

// TestHalvesOfTheAxleAreAlike, so that one scale is right for both; each reaches past the middle and the frames do not meet.
func TestHalvesOfTheAxleAreAlike(t *testing.T) {
	for name, r := range map[string]*sweep.Result{"beam-cyclekart": swept(t, example.Read(t, "beam-cyclekart")), "cyclekart": swept(t, example.Read(t, "cyclekart"))} {
		d := drawing{r: r, opt: Options{Options: sheet.Options{Paper: sheet.A4}}, pose: r.Straight}
		if err := d.see(); err != nil {
			t.Fatal(err)
		}
		d.open(sheet.A4, d.axleTitle())
		models := d.axleModels(true)
		rects, _ := d.axleRooms(true)
		if off := models[0].Size().Sub(models[1].Size()).Norm() + rects[0].Size().Sub(rects[1].Size()).Norm(); off > 1e-9 {
			t.Errorf("%s: the halves differ by %g: %v %v, %v %v", name, off, models[0], models[1], rects[0], rects[1])
		}
		if middle := d.linkage.Center().Y; !(models[0].Y.Lo < middle && middle < models[1].Y.Hi) || models[0].Union(models[1]) != d.linkage || rects[0].Intersects(rects[1]) {
			t.Errorf("%s: halves %v of %v in %v", name, models, d.linkage, rects)
		}
	}
}

// axleScale reads the scale behind the name of the front axle's view.
func axleScale(t *testing.T, s *sheet.Sheet) sheet.Scale {
	t.Helper()
	for _, box := range s.Texts() {
		if name, scale, found := strings.Cut(box.Text, "  "); found && strings.HasPrefix(name, "Front axle") {
			at, err := sheet.ParseScale(scale)
			if err != nil {
				t.Fatal(err)
			}
			return at
		}
	}
	t.Error("no view of the front axle")
	return 0
}

// well holds one sheet to what holds for every one: no text on another, off the frame, across the edge of a frame or box, or
// without a place.
func well(t *testing.T, what string, s *sheet.Sheet) {
	t.Helper()
	for _, pair := range s.Overlaps() {
		t.Errorf("%s: %q lies over %q", what, pair[0].Text, pair[1].Text)
	}
	for _, text := range s.Unplaced() {
		t.Errorf("%s: no room for %q", what, text)
	}
	all, err := readback.Parse(s.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	var frames []r2.Rect
	for _, e := range all {
		for _, run := range e.Runs {
			box := r2.RectFromPoints(run.Points...)
			if len(run.Points) == 4 && run.Closed && box.X.Length() > 60 && box.Y.Length() > 6 && upright(run.Points) && e.Paint["stroke"] != "" {
				frames = append(frames, box)
			}
		}
	}
	if len(frames) == 0 {
		t.Fatalf("%s: found no frame", what)
	}
	for _, box := range s.Texts() {
		b := box.Bounds()
		if !s.Frame().Contains(b) {
			t.Errorf("%s: %q leaves the sheet's frame", what, box.Text)
		}
		for _, f := range frames {
			if f.Intersects(b) && !f.Contains(b) {
				t.Errorf("%s: %q stands across the edge of a frame at %v", what, box.Text, f)
			}
		}
	}
}

// upright reports whether a run has level and upright sides alone.
func upright(pts []r2.Point) bool {
	for i, p := range pts {
		if d := pts[(i+1)%len(pts)].Sub(p); math.Abs(d.X) > 1e-9 && math.Abs(d.Y) > 1e-9 {
			return false
		}
	}
	return true
}

// TestNumbersAreExplained: every number in a ring has its name in the list, and the list has no other.
func TestNumbersAreExplained(t *testing.T) {
	numbers := 0
	for _, e := range example.Some() {
		s := example.Read(t, e.Name)
		if e.Name == "shed-kart" {
			crowded(s)
		}
		sheets, err := Sheets(swept(t, s), Options{Options: sheet.Options{Paper: sheet.A4.Landscape()}})
		if err != nil {
			t.Fatal(err)
		}
		for _, one := range sheets {
			rings, words := map[string]bool{}, ""
			for _, box := range one.Texts() {
				if strings.Trim(box.Text, "0123456789") == "" && box.Corners[3].Y-box.Corners[0].Y < 1.5*sheet.Fine {
					rings[box.Text] = true
				}
				words += box.Text + " "
			}
			_, list, _ := strings.Cut(words, "Numbers: ")
			for n := 1; ; n++ {
				number := fmt.Sprint(n)
				listed := strings.Contains(" "+list, " "+number+" ")
				if !listed && !rings[number] {
					break
				}
				numbers++
				if listed != rings[number] {
					t.Errorf("%s: number %d: in the list %v, in the drawing %v", e.Name, n, listed, rings[number])
				}
			}
		}
	}
	if numbers < 5 {
		t.Errorf("only %d numbers are tried", numbers)
	}
}
