package setupfile

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"locksweep/fixtures/trial"
	"locksweep/geometry/setup"
)

// lengthKey finds the keys of whole whose numbers are lengths; the others are angles, flags or a density.
var lengthKey = regexp.MustCompile(`\b(wheelbase|rear_track|diameter|width|spacing|height|offset|lead|tyre_\w+|pickup|outline|up|at|foot|left|right|thickness|length|body|eye|thread|pitch|clearance|path|bore|keep|min_wall|min_width|root|centre|arm\.pickup"?)( *)= *(\[\[.*?\]\]|\[[^\]]*\]|-?[0-9.]+)`)

var figure = regexp.MustCompile(`-?[0-9.]+`)

// rescaled returns the text with every length divided by 25.4 and the unit changed.
func rescaled(text string) string {
	text = strings.Replace(text, `units = "mm"`, `units = "in"`, 1)
	return lengthKey.ReplaceAllStringFunc(text, func(s string) string {
		key, val, _ := strings.Cut(s, "=")
		return key + "=" + figure.ReplaceAllStringFunc(val, func(f string) string {
			x, err := strconv.ParseFloat(f, 64)
			if err != nil {
				panic(err)
			}
			return strconv.FormatFloat(x/setup.MMPerInch, 'g', -1, 64)
		})
	})
}

func TestInchFileEqualsMillimetreFile(t *testing.T) {
	want := mustRead(t, whole, Options{Variant: "pickup 12 mm inboard"})
	got := mustRead(t, rescaled(whole), Options{Variant: "pickup 12 mm inboard"})
	if got.Unit != setup.Inch {
		t.Errorf("unit %v", got.Unit)
	}
	if diff := cmp.Diff(setup.DefaultAccuracy(setup.Inch), got.Accuracy); diff != "" { // what an inch rule shows
		t.Errorf("accuracy of an inch file: %s", diff)
	}
	if diff := cmp.Diff(want, got, cmpopts.EquateApprox(1e-12, 1e-12), cmpopts.IgnoreFields(setup.Setup{}, "Unit", "Assumed", "Accuracy"), anywhere); diff != "" {
		t.Errorf("mm - in +\n%s\n%s", diff, rescaled(whole))
	}
}

// numbers of whole that may be moved a little without making the file unsound, with a step.
var movable = []struct {
	key, old string
	step     float64
}{
	{"vehicle.wheelbase", "wheelbase  = 1000", 1},
	{"kingpin.spacing", "spacing     = 600", 1},
	{"kingpin.inclination", "inclination = 10", 0.1},
	{"kingpin.caster", "caster      = 12", 0.1},
	{"wheel.offset", "offset        = 120", 0.5},
	{"wheel.camber", "camber        = -1", 0.1},
	{"column.rake", "rake   = 35", 1},
	{"limits.spindle", "spindle      = 50", 0.5},
	{"tie_rod.left", "left  = 256", 0.3},
	{`part."side rail".tube.diameter`, "tube = { diameter = 30", 0.2},
}

func TestSetEqualsEditing(t *testing.T) {
	trial.Check(t, func(t *rapid.T) {
		edited, opt := whole, Options{}
		for _, m := range movable {
			old, name := m.old[strings.LastIndex(m.old, " ")+1:], m.old[:strings.LastIndex(m.old, " ")]
			x, err := strconv.ParseFloat(old, 64)
			if err != nil {
				t.Fatal(err)
			}
			x += m.step * float64(rapid.IntRange(-5, 5).Draw(t, m.key))
			edited = strings.Replace(edited, m.old, fmt.Sprintf("%s %v", name, x), 1)
			opt.Set = append(opt.Set, fmt.Sprintf("%s=%v", m.key, x))
		}
		want, _, err := Read("kart.toml", []byte(edited), Options{})
		if err != nil {
			t.Fatal(err)
		}
		got, _, err := Read("kart.toml", []byte(whole), opt)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(want, got, anywhere); diff != "" {
			t.Fatalf("edited - set +\n%s", diff)
		}
	})
}

// TestRightEqualToLeftChangesNothing writes any of the left corner's keys again under right.
func TestRightEqualToLeftChangesNothing(t *testing.T) {
	base := whole[:strings.Index(whole, "[right.arm]")]
	want := mustRead(t, base, Options{})
	trial.Check(t, func(t *rapid.T) {
		text := base
		for _, name := range []string{"kingpin", "wheel", "arm", "tie_rod", "limits"} {
			_, body, _ := strings.Cut(base, "["+name+"]\n")
			body, _, _ = strings.Cut(body, "\n\n")
			text += "[right." + name + "]\n"
			for _, line := range strings.Split(strings.ReplaceAll(body, ",\n", ","), "\n") {
				switch key, _, _ := strings.Cut(line, " "); key {
				case "spacing", "left", "clearance", "transmission": // not of a corner
				default:
					if rapid.Bool().Draw(t, name+"."+key) {
						text += line + "\n"
					}
				}
			}
		}
		got, _, err := Read("kart.toml", []byte(text), Options{})
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(want, got, anywhere, cmpopts.IgnoreFields(setup.Setup{}, "Assumed")); diff != "" {
			t.Fatalf("without - with right +\n%s", diff)
		}
	})
}

// TestOrderOfTablesDoesNotMatter shuffles the sections of a file.
func TestOrderOfTablesDoesNotMatter(t *testing.T) {
	head, rest, _ := strings.Cut(whole, "[vehicle]")
	var tables, parts []string
	for _, s := range strings.Split("[vehicle]"+rest, "\n\n") {
		if strings.HasPrefix(s, "[[part]]") {
			parts = append(parts, s)
		} else {
			tables = append(tables, s)
		}
	}
	want := mustRead(t, whole, Options{})
	trial.Check(t, func(t *rapid.T) {
		text := head + strings.Join(rapid.Permutation(append([]string{strings.Join(parts, "\n")}, tables...)).Draw(t, "order"), "\n")
		got, _, err := Read("kart.toml", []byte(text), Options{})
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(want, got, anywhere); diff != "" {
			t.Fatalf("want - got +\n%s", diff)
		}
	})
}
