package card

import (
	"fmt"
	"strings"
	"testing"

	"github.com/golang/geo/s1"

	"locksweep/fixtures/example"
	"locksweep/geometry/reconcile"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/geometry/tolerance"
	"locksweep/render/sheet"
	"locksweep/render/wording"
)

// known are cards that have been asked for, which tests only read.
var known = map[string]*reconcile.Card{}

// expected is the card of an example.
func expected(t *testing.T, name string, set ...string) *reconcile.Card {
	t.Helper()
	key := fmt.Sprint(name, set)
	if c := known[key]; c != nil {
		return c
	}
	r, err := sweep.Run(example.Read(t, name, set...), s1.Degree)
	if err != nil {
		t.Fatal(err)
	}
	sure, err := tolerance.Run(r, tolerance.Options{Columns: reconcile.Columns(r)})
	if err != nil {
		t.Fatal(err)
	}
	c, err := reconcile.Expect(sure, 4)
	if err != nil {
		t.Fatal(err)
	}
	known[key] = c
	return c
}

// TestEveryCardIsWhole: of every example, on both papers, no text lies on another, none is cut short, and all stands above the title
// block.
func TestEveryCardIsWhole(t *testing.T) {
	for _, e := range example.Some() {
		c := expected(t, e.Name)
		for _, paper := range []sheet.Size{sheet.A4, sheet.Letter} {
			for _, u := range []setup.Unit{setup.MM, setup.Inch} {
				s := *c.Setup
				s.Unit = u
				in, result, model := *c, *c.Result, *c.Model
				model.Setup, result.Model, in.Result = &s, &model, &result
				whole(t, fmt.Sprintf("%s in %v", e.Name, u), Sheet(&in, sheet.Options{Paper: paper}, ""))
			}
		}
	}
}

// TestCardBelowAlarmsIsWhole: where alarms and long words take much of the paper the rows are lower, and all of them stand above the
// title block.
func TestCardBelowAlarmsIsWhole(t *testing.T) {
	for _, set := range [][]string{
		{"wheel.camber=8", "wheel.tyre_width=200"},
		{"wheel.camber=8", "wheel.tyre_width=200", "drop_arm.left=[64,12,8]", "kingpin.spacing=560", "tie_rod.rod_end.tilt=14"},
		{"wheel.tyre_width=700", "wheel.tyre_diameter=330", "tie_rod.diameter=30"},
	} {
		c := expected(t, "starter", set...)
		if len(wording.Alarms(c.Model, &c.Locks)) == 0 {
			t.Fatalf("%q: nothing is wrong with it", set)
		}
		for _, paper := range []sheet.Size{sheet.A4, sheet.Letter} {
			whole(t, fmt.Sprintf("starter with %q", set), Sheet(c, sheet.Options{Paper: paper}, "locksweep reconcile starter.toml --set "+strings.Join(set, " --set ")))
		}
	}
}

// whole holds a card to have no text on another, none cut short, and all above the title block.
func whole(t *testing.T, what string, drawn *sheet.Sheet) {
	t.Helper()
	if over := drawn.Overlaps(); len(over) > 0 {
		t.Errorf("%s on %s: %q lies on %q", what, drawn.Size.Name, over[0][0].Text, over[0][1].Text)
	}
	for _, b := range drawn.Texts() {
		if strings.HasSuffix(b.Text, "…") {
			t.Errorf("%s on %s: %q is cut short", what, drawn.Size.Name, b.Text)
		}
		if (b.Text == "date" || b.Text == "initials") && b.Bounds().Y.Hi > drawn.Area().Y.Hi {
			t.Errorf("%s on %s: no room for %q", what, drawn.Size.Name, b.Text)
		}
	}
}

// TestCardSaysWhatTheSweepSays: both wheels at each turn, what stops them, rods, four tapes, and where what is written goes.
func TestCardSaysWhatTheSweepSays(t *testing.T) {
	c := expected(t, "shed-kart")
	all := ""
	for _, b := range Sheet(c, sheet.Options{Paper: sheet.A4}, "locksweep reconcile kart.toml --variant narrow").Texts() {
		all += b.Text + "\n"
	}
	for _, column := range []s1.Angle{30, 20, 10, 0, -10, -20, -30} {
		p, _ := c.Pose(column * s1.Degree)
		for side := range p.Wheels {
			if want := wording.Way(p.Wheels[side].Steer) + "\n"; !strings.Contains(all, want) {
				t.Errorf("no wheel at %q", want)
			}
		}
	}
	for _, want := range []string{"left lock, " + wording.Angle(c.Locks[0].Column.Abs()), "left stop lug touches left", "[[turned]]", "[[taped]]", "date", "initials", "284.8 mm", "toe"} {
		if !strings.Contains(all, want) {
			t.Errorf("the card does not say %q", want)
		}
	}
	if want := "locksweep reconcile kart.toml --variant narrow"; !strings.Contains(strings.ReplaceAll(all, "\n", " "), want) {
		t.Errorf("the card does not say %q", want)
	}
	if len(c.Tapes) != 4 || len(c.Rods) != 2 || len(c.Gaps) == 0 {
		t.Errorf("%d tapes, %d rods, %d gaps", len(c.Tapes), len(c.Rods), len(c.Gaps))
	}
}
