package setupfile_test

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/pelletier/go-toml/v2"

	"locksweep/fixtures"
	"locksweep/geometry/setup"
	"locksweep/geometry/setupfile"
)

// savable is a file with all that must survive: comments, odd spaces, a variant of its own, no line end at the end.
const savable = `# measured 3 May, floor not level
locksweep = 1
units   =   "in" # everything
vehicle = { wheelbase = 40 }
kingpin = { spacing = 24, height = 5 }
wheel = { offset = 5, tyre_diameter = 10, tyre_width = 4 }
column = { foot = [-3, 0, 5], rake = 35 }
drop_arm = { left = [2, 1, 0], right = [2, -1, 0] }

	[arm]
pickup = [-4, -1, 0]	# not the inner one
[[part]]
name = "stop lug"
on = "spindle"
plate = { outline = [[1, -1], [2, -1], [2, 0]], up = [1, 2] }
[[variant]]
name = "wide"
set = { "wheel.offset" = 6, "arm.pickup[1]" = -1.5, 'part."stop lug".plate.up' = [1, 2.5] }
# the end, without a line end`

// TestAddedVariant: the file is byte for byte as it was, a second reader of TOML takes what is added, and reading it gives
// what the options gave.
func TestAddedVariant(t *testing.T) {
	for name, c := range map[string]struct {
		opt    setupfile.Options
		change []string
	}{
		"a change alone":          {setupfile.Options{}, []string{"arm.pickup=[-4.25, -1.125, 0]"}},
		"on a variant":            {setupfile.Options{Variant: "wide"}, []string{"arm.pickup[0]=-4.5"}},
		"that it sets otherwise":  {setupfile.Options{Variant: "wide"}, []string{"wheel.offset=7"}},
		"a list over its element": {setupfile.Options{Variant: "wide"}, []string{"arm.pickup=[-3, -2, 0]"}},
		"on settings":             {setupfile.Options{Set: []string{"name=made up", "change.swap_spindles=true"}}, []string{"tie_rod.length=11.5"}},
		"an outline":              {setupfile.Options{}, []string{`part."stop lug".plate.outline=[[1,-1],[2,-1],[2,0],[1.5,0.25],[1.25,0.25],[1.125,0.25],[1.0625,0.25],[1,0.25],[0.75,0.125],[0.5,0.0625]]`}},
		"a table":                 {setupfile.Options{}, []string{"vehicle.rear_tyre={diameter=11,width=5}"}},
		"hard words":              {setupfile.Options{}, []string{`name="back\\slash \"quoted\" it's\ttab"`}},
	} {
		for _, crlf := range []bool{false, true} {
			data := []byte(savable)
			if crlf {
				data = bytes.ReplaceAll(data, []byte("\n"), []byte("\r\n"))
			}
			out, called, err := setupfile.AddVariant("kart.toml", data, c.opt, "drilled", c.change)
			if err != nil {
				t.Errorf("%s: %v", name, err)
				continue
			}
			added, same := bytes.CutPrefix(out, data)
			if !same || called != "drilled" {
				t.Errorf("%s: the file is not as it was, or the variant is called %q", name, called)
			}
			if lone := bytes.Count(added, []byte("\n")) - bytes.Count(added, []byte("\r\n")); crlf && lone > 0 || !crlf && bytes.Contains(added, []byte("\r")) {
				t.Errorf("%s: line ends are not those of the file: %q", name, added)
			}
			for _, line := range strings.Split(string(added), "\n") {
				if len(line) > 110 {
					t.Errorf("%s: a line of %d characters", name, len(line))
				}
			}
			var tree struct {
				Variant []struct {
					Name string         `toml:"name"`
					Set  map[string]any `toml:"set"`
				} `toml:"variant"`
			}
			if err := toml.Unmarshal(out, &tree); err != nil || len(tree.Variant) != 2 || tree.Variant[1].Name != "drilled" || len(tree.Variant[1].Set) == 0 {
				t.Errorf("%s: a second reader sees %+v, %v", name, tree, err)
			}
			got, want := mustReadAs(t, out, setupfile.Options{Variant: called}), mustReadAs(t, data,
				setupfile.Options{Variant: c.opt.Variant, Set: append(append([]string{}, c.opt.Set...), c.change...)})
			ignore := cmpopts.IgnoreFields(setup.Setup{}, "With", "Variants")
			if diff := cmp.Diff(want, got, ignore, cmpopts.EquateEmpty()); diff != "" {
				t.Errorf("%s: reads otherwise (- wanted, + got):\n%s", name, diff)
			}
		}
	}
}

func mustReadAs(t *testing.T, data []byte, opt setupfile.Options) *setup.Setup {
	t.Helper()
	s, _, err := setupfile.Read("kart.toml", data, opt)
	if err != nil {
		t.Fatalf("%v in\n%s", err, data)
	}
	return s
}

// TestAddedAgain: further variants of the same name are numbered; the ones before stay.
func TestAddedAgain(t *testing.T) {
	data := []byte("\xef\xbb\xbf" + savable)
	for i := 1; i <= 3; i++ {
		out, called, err := setupfile.AddVariant("kart.toml", data, setupfile.Options{}, "wide", []string{fmt.Sprintf("wheel.offset=%d", 5+i)})
		if want := fmt.Sprintf("wide (%d)", i+1); err != nil || called != want || !bytes.HasPrefix(out, data) {
			t.Fatalf("called %q, want %q; %v", called, want, err)
		}
		data = out
	}
	if got := mustReadAs(t, data, setupfile.Options{Variant: "wide (3)"}).Corners[0].Wheel.Offset; math.Abs(got-7*25.4) > 1e-9 {
		t.Errorf("wide (3) has an offset of %v mm", got)
	}
}

// TestAddedToExamples: every example takes a variant on each of its own.
func TestAddedToExamples(t *testing.T) {
	for _, e := range fixtures.Examples {
		data, err := e.Data()
		if err != nil {
			t.Fatal(err)
		}
		variants := append([]string{""}, mustReadAs(t, data, setupfile.Options{}).Variants...)
		for _, v := range variants {
			out, called, err := setupfile.AddVariant(e.Name, data, setupfile.Options{Variant: v}, "saved", []string{"kingpin.caster=7"})
			if err != nil || called != "saved" || !bytes.HasPrefix(out, data) {
				t.Errorf("%s, variant %q: %v", e.Name, v, err)
			}
		}
	}
}

// TestRefusedVariants: what the file cannot take, and why.
func TestRefusedVariants(t *testing.T) {
	closed := strings.Replace(savable, "[[variant]]\nname = \"wide\"\nset = {", "#", 1) + "\n"
	closed = strings.Replace(closed, "units", "variant = [{ name = \"wide\", set = { \"wheel.offset\" = 6 } }]\nunits", 1)
	many := savable + "\n"
	for i := range 99 {
		many += fmt.Sprintf("[[variant]]\nname = \"v%d\"\nset = { \"wheel.offset\" = 6 }\n", i)
	}
	for name, c := range map[string]struct{ data, change, want string }{
		"a list that is closed":   {closed, "wheel.offset=7", "variant"},
		"a hundred already":       {many, "wheel.offset=7", "at most 100"},
		"an unsound change":       {savable, "wheel.offset=-7", "wheel.offset"},
		"a key that is not there": {savable, "wheel.ofset=7", "did you mean"},
	} {
		out, _, err := setupfile.AddVariant("kart.toml", []byte(c.data), setupfile.Options{}, "x", []string{c.change})
		if err == nil || !strings.Contains(err.Error(), c.want) || out != nil {
			t.Errorf("%s: got %v, want %q", name, err, c.want)
		}
	}
}
