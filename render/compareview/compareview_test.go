package compareview_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/golang/geo/s1"

	"locksweep/fixtures"
	"locksweep/fixtures/example"
	"locksweep/fixtures/readback"
	"locksweep/geometry/compare"
	"locksweep/geometry/road"
	"locksweep/geometry/setupfile"
	"locksweep/geometry/sweep"
	"locksweep/render/compareview"
	"locksweep/render/sheet"
	"locksweep/render/wording"
)

// variants is an example and its variants side by side.
func variants(t testing.TB, name string) *compare.Comparison {
	base := example.With(t, name, setupfile.Options{})
	entries := []compare.Entry{{Name: base.Name, Setup: base}}
	for _, v := range base.Variants {
		entries = append(entries, compare.Entry{Name: v, Setup: example.With(t, name, setupfile.Options{Variant: v})})
	}
	return compare.Run(entries, road.Slide{Radius: 4000}, nil)
}

// examples is all examples side by side, and one that cannot be swept.
func examples(t testing.TB) *compare.Comparison {
	var entries []compare.Entry
	for _, e := range fixtures.Examples {
		s := example.With(t, e.Name, setupfile.Options{})
		entries = append(entries, compare.Entry{Name: s.Name, Setup: s})
	}
	entries = append(entries, compare.Entry{Name: "broken", Setup: entries[0].Setup, Err: errors.New("does not assemble")})
	return compare.Run(entries, road.Slide{Radius: 4000}, nil)
}

// drawings draws everything there is of a comparison.
func drawings(c *compare.Comparison, paper sheet.Size, d sweep.Direction) map[string]func() (*sheet.Sheet, error) {
	opt := sheet.Options{Paper: paper, Origin: sheet.Origin{Program: "locksweep"}}
	return map[string]func() (*sheet.Sheet, error){
		"overlay": func() (*sheet.Sheet, error) { return compareview.Overlay(c, d, opt) },
		"charts":  func() (*sheet.Sheet, error) { return compareview.Charts(c, d, opt) },
		"slide":   func() (*sheet.Sheet, error) { return compareview.Slide(c, d, 30*s1.Degree, opt) },
	}
}

// TestDrawingsReadWell: no text on another, nothing unplaced, well-formed, the same bytes each time, every setup named (of slides: or counted).
func TestDrawingsReadWell(t *testing.T) {
	for name, c := range map[string]*compare.Comparison{"variants": variants(t, "shed-kart"), "buggy": variants(t, "field-buggy"), "examples": examples(t)} {
		for i, paper := range []sheet.Size{sheet.A4, sheet.Letter.Landscape()} {
			for what, draw := range drawings(c, paper, sweep.Directions[i]) {
				s, err := draw()
				if err != nil {
					t.Errorf("%s, %s on %s: %v", what, name, paper.Name, err)
					continue
				}
				again, _ := draw()
				text := soundly(t, what+" of "+name+" on "+paper.Name, s, again)
				_, left, _ := strings.Cut(text, "Not drawn: ")
				left, _, _ = strings.Cut(left, ".")
				for i, e := range c.Entries {
					out := what == "slide" && slices.Contains(strings.Split(left, ", "), wording.Letter(i)) // a sheet holds four slides
					if e.Err == nil && !out && !strings.Contains(text, e.Name) {
						t.Errorf("%s of %s does not name %q", what, name, e.Name)
					}
					if drawn := strings.Contains(text, wording.Letter(i)+"  "+e.Name[:5]); what == "slide" && drawn == out {
						t.Errorf("slide of %s: %q is %s of the comparison; not drawn are %q", name, e.Name, wording.Letter(i), left)
					}
				}
			}
		}
	}
}

// TestOverlayShowsEveryLinkage: what a setup alone moves is drawn in the view of the whole and in both of the linkage, and a rack has no foot
// of a column to mark.
func TestOverlayShowsEveryLinkage(t *testing.T) {
	for _, c := range []struct {
		name, set    string
		pieces, foot int // in each view
	}{{"beam-cyclekart", "drag_link.diameter=22", 1, 1}, {"rack-buggy", "rack.diameter=24", 1, 0}, {"shed-kart", "tie_rod.diameter=22", 2, 1}} {
		entries := []compare.Entry{{Name: "as it is", Setup: example.Read(t, c.name)}, {Name: "thick", Setup: example.Read(t, c.name, c.set)}}
		s, err := compareview.Overlay(compare.Run(entries, road.Slide{Radius: 4000}, nil), sweep.Directions[0], sheet.Options{Paper: sheet.A4, Origin: sheet.Origin{Program: "locksweep"}})
		if err != nil {
			t.Fatal(err)
		}
		all, err := readback.Parse(s.Bytes())
		if err != nil {
			t.Fatal(err)
		}
		const footArm = 3 // mm on paper, of each setup
		pieces, feet := 0, 0
		for i := range all {
			for _, r := range all[i].Runs {
				switch stroke := all[i].Paint["stroke"]; {
				case r.Closed && stroke == sheet.CurvePens[1].Colour.String():
					pieces++
				case r.Straight() && stroke == sheet.Black.String() && math.Abs(math.Abs(r.Points[1].X-r.Points[0].X)-footArm) < 0.01:
					feet++
				}
			}
		}
		if pieces != 3*c.pieces || feet != 3*2*c.foot {
			t.Errorf("%s with %s: %d outlines of its own and %d feet, want %d and %d in each of 3 views", c.name, c.set, pieces, feet, c.pieces, 2*c.foot)
		}
	}
}

// TestCutsOfTheFrameAreDimensioned: the donor's frame and the cut one, with what is chalked on the tubes.
func TestCutsOfTheFrameAreDimensioned(t *testing.T) {
	base := example.With(t, "shed-kart", setupfile.Options{})
	for change, want := range map[string][]string{
		"change={narrow=120,narrow_rear=90,shorten=70,shorten_at=-310}":    {"120.0", "90.0", "310.0", "70.0", "with the cuts of B"},
		"change={narrow=-30,narrow_rear=-20,shorten=-45,shorten_at=-310}":  {"30.0 mm set in", "20.0 mm set in", "310.0", "45.0 mm set in"},
		"change={narrow=120,shorten=70,keep_frame=true}":                   nil,
		"change={narrow=120,narrow_rear=120,shorten=70,shorten_at=-310.6}": {"120.0", "310.6", "70.0"},
	} {
		for _, paper := range []sheet.Size{sheet.A4, sheet.Letter.Landscape()} {
			cut := compare.Entry{Name: "cut", Setup: example.With(t, "shed-kart", setupfile.Options{Set: []string{change}})}
			c := compare.Run([]compare.Entry{{Name: "donor", Setup: base}, cut}, road.Slide{Radius: 4000}, nil)
			draw := func() *sheet.Sheet {
				s, err := compareview.Overlay(c, sweep.ToLeft, sheet.Options{Paper: paper, Origin: sheet.Origin{Program: "locksweep"}})
				if err != nil {
					t.Fatal(err)
				}
				return s
			}
			text := soundly(t, change, draw(), draw())
			for _, w := range want {
				if !strings.Contains(text, w) {
					t.Errorf("%s on %s: nothing says %q", change, paper.Name, w)
				}
			}
			if want == nil && strings.Contains(text, "cuts of") {
				t.Errorf("%s: cuts are drawn of a frame that is kept", change)
			}
		}
	}
}

// soundly checks what every drawing must be, and returns its words.
func soundly(t *testing.T, what string, s, again *sheet.Sheet) string {
	t.Helper()
	data := s.Bytes()
	if !bytes.Equal(data, again.Bytes()) {
		t.Errorf("%s: not the same bytes twice", what)
	}
	for _, pair := range s.Overlaps() {
		t.Errorf("%s: %q on %q", what, pair[0].Text, pair[1].Text)
	}
	for _, text := range s.Unplaced() {
		t.Errorf("%s: no room for %q", what, text)
	}
	if bytes.Contains(data, []byte("NaN")) {
		t.Errorf("%s holds NaN", what)
	}
	return words(t, data)
}

func words(t *testing.T, data []byte) string {
	t.Helper()
	var b strings.Builder
	d := xml.NewDecoder(bytes.NewReader(data))
	for {
		token, err := d.Token()
		if err == io.EOF {
			return b.String()
		}
		if err != nil {
			t.Fatal(err)
		}
		if c, ok := token.(xml.CharData); ok {
			b.Write(c)
			b.WriteByte('\n')
		}
	}
}

// TestSlideThatNoLockHolds is drawn as far as it goes, and says so.
func TestSlideThatNoLockHolds(t *testing.T) {
	s, err := compareview.Slide(variants(t, "shed-kart"), sweep.ToLeft, 80*s1.Degree, sheet.Options{Paper: sheet.A4.Landscape()})
	if err != nil {
		t.Fatal(err)
	}
	text := words(t, s.Bytes())
	if !strings.Contains(text, "no more than") || !strings.Contains(text, "80.0° asked for") {
		t.Errorf("does not say that the slide is not held: %s", text)
	}
	if strings.Contains(text, "slide of 80.0°") {
		t.Errorf("is titled with a slide that it does not show: %s", text)
	}
}

// TestSlideOverTheRadius: beside the slide drawn stands what each wheel holds at the lock over the radius of the path: of one setup
// in one chart, of several in one for each wheel, under the letters that stand at their names.
func TestSlideOverTheRadius(t *testing.T) {
	c := variants(t, "shed-kart")
	one, two := compare.Run(c.Entries[:1:1], c.Path, nil), compare.Run(c.Entries[:2:2], c.Path, nil)
	for _, k := range []struct {
		c    *compare.Comparison
		want []string
		not  string
	}{{one, []string{"Slide at lock", "inside wheel", "outside wheel", "radius of the path (m)"}, "Slide at lock, inside"},
		{two, []string{"Slide at lock, inside wheel", "Slide at lock, outside wheel", "A  " + c.Entries[0].Name}, "no data"},
		{c, []string{"With no more than 2 setups the slide at lock is drawn too"}, "radius of the path (m)"}} {
		s, err := compareview.Slide(k.c, sweep.ToLeft, 20*s1.Degree, sheet.Options{Paper: sheet.A4.Landscape()})
		if err != nil {
			t.Fatal(err)
		}
		text := words(t, s.Bytes())
		for _, want := range k.want {
			if !strings.Contains(text, want) {
				t.Errorf("%q is not there: %s", want, text)
			}
		}
		if strings.Contains(text, k.not) {
			t.Errorf("%q is there: %s", k.not, text)
		}
	}
}

// TestHostileNames: names with markup and control characters do no harm.
func TestHostileNames(t *testing.T) {
	c := variants(t, "shed-kart")
	for i := range c.Entries {
		c.Entries[i].Name = "<script>\"&]]>\x00\x1b[31m" + strings.Repeat("\u202elong name ", 40)
	}
	for what, draw := range drawings(c, sheet.A4, sweep.ToLeft) {
		s, err := draw()
		if err != nil {
			t.Fatal(err)
		}
		data := s.Bytes()
		words(t, data)
		if bytes.Contains(data, []byte("<script")) || bytes.ContainsAny(data, "\x00\x1b") {
			t.Errorf("%s: a name came through unescaped", what)
		}
	}
}

// TestSlideOfWhatSteersBackwards says so above its slide, and is still well drawn beside others.
func TestSlideOfWhatSteersBackwards(t *testing.T) {
	sound := example.With(t, "shed-kart", setupfile.Options{})
	backwards := example.With(t, "shed-kart", setupfile.Options{Set: []string{"drop_arm.left[0]=-60", "drop_arm.right[0]=-60"}})
	c := compare.Run([]compare.Entry{{Name: sound.Name, Setup: sound}, {Name: "arm turned up", Setup: backwards}}, road.Slide{Radius: 4000}, nil)
	if len(wording.Alarms(c.Entries[1].Result.Model, &c.Entries[1].Result.Locks)) == 0 {
		t.Fatal("the second setup is to steer backwards")
	}
	for _, paper := range []sheet.Size{sheet.A4, sheet.A4.Landscape()} {
		s, err := compareview.Slide(c, sweep.ToLeft, 20*s1.Degree, sheet.Options{Paper: paper})
		if err != nil {
			t.Fatal(err)
		}
		if text := soundly(t, "slide on "+paper.Name, s, s); !strings.Contains(text, "STEERS BACKWARDS") {
			t.Errorf("does not say what is wrong: %s", text)
		}
	}
}

// TestLegendIsWhole: what makes a setup unsound stands in the legend to its end, the linkage carries the letters of the legend and no
// names, and the cuts of every setup are dimensioned, two that are cut alike once.
func TestLegendIsWhole(t *testing.T) {
	var entries []compare.Entry
	for name, set := range map[string][]string{"A": nil, "B": {"change={narrow=120,narrow_rear=90,shorten=70,shorten_at=-310}"},
		"C": {"change={narrow=50,narrow_rear=50,shorten=35,shorten_at=-260}"}, "D": {"change={narrow=50,narrow_rear=50,shorten=35,shorten_at=-260}", "limits.clearance=21"}} {
		entries = append(entries, compare.Entry{Name: "kart " + name, Setup: example.With(t, "shed-kart", setupfile.Options{Set: set})})
	}
	slices.SortFunc(entries, func(a, b compare.Entry) int { return strings.Compare(a.Name, b.Name) })
	c := compare.Run(entries, road.Slide{Radius: 4000}, nil)
	for _, paper := range []sheet.Size{sheet.A4, sheet.Letter.Landscape()} {
		draw := func() *sheet.Sheet {
			s, err := compareview.Overlay(c, sweep.ToLeft, sheet.Options{Paper: paper})
			if err != nil {
				t.Fatal(err)
			}
			return s
		}
		text := soundly(t, "cuts of three on "+paper.Name, draw(), draw())
		for _, want := range []string{"with the cuts of B, C, D", "B 120.0", "B 90.0", "B 310.0", "B 70.0", "C, D 50.0", "C, D 260.0", "C, D 35.0"} {
			if !strings.Contains(text, want) {
				t.Errorf("on %s: nothing says %q", paper.Name, want)
			}
		}
		said := strings.Join(strings.Fields(text), " ")
		if want := wording.Faults(&c.Entries[3]); !strings.Contains(said, want) || len(want) < 30 {
			t.Errorf("on %s: the legend does not say all of %q", paper.Name, want)
		}
		letters := map[string]int{}
		for _, box := range draw().Texts() {
			letters[box.Text]++
		}
		for _, letter := range []string{"A", "B", "C", "D"} {
			if letters[letter] != 2 {
				t.Errorf("on %s: %d labels %s, want one in each view of the linkage", paper.Name, letters[letter], letter)
			}
		}
	}
}

// TestTodayIsMarked: the axis of a varied value has its unit, each chart its quantity and unit, and today's value a line where it lies
// in the range.
func TestTodayIsMarked(t *testing.T) {
	c, axes := varied(t, false)
	for today, marks := range map[float64]int{-14: 2, 500: 0, math.NaN(): 0} {
		axes[0].Today = today
		s, err := compareview.Varied(c, axes, []string{"lock_inner", "least_gap"}, "Shed kart", sheet.Options{Paper: sheet.A4})
		if err != nil {
			t.Fatal(err)
		}
		text := words(t, s.Bytes())
		if got := strings.Count(text, "\ntoday\n"); got != marks {
			t.Errorf("today %v: marked %d times, want %d", today, got, marks)
		}
		for _, want := range []string{"arm.pickup[1] (mm)", "Lock, inner wheel (°)", "Least gap (mm)"} {
			if !strings.Contains(text, want) {
				t.Errorf("nothing says %q", want)
			}
		}
	}
}
