package setupfile

import (
	"testing"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"
	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"locksweep/geometry/setup"
)

func TestChecksAreRead(t *testing.T) {
	s, _, err := Read("kart.toml", []byte(least+`
[[mark]]
name = "nail"
[[mark]]
name = "wall"
at = [100, -20, 3]
accuracy = 300
[[taped]]
from = "left pickup"
to = "right pickup"
distance = 662.5
[[taped]]
from = "nail"
to = "foot"
distance = 400
accuracy = 0.5
[[turned]]
column = -20
left = -13.2
[[turned]]
column = 20
left = 14
right = 11.5
`), Options{})
	if err != nil {
		t.Fatal(err)
	}
	want := setup.Checks{
		Marks: []setup.Mark{{Name: "nail"}, {Name: "wall", At: r3.Vector{X: 100, Y: -20, Z: 3}, Given: true, Accuracy: 300}},
		Taped: []setup.Taped{{From: "left pickup", To: "right pickup", Distance: 662.5}, {From: "nail", To: "foot", Distance: 400, Accuracy: 0.5}},
		Turned: []setup.Turned{
			{Column: -20 * s1.Degree, Steer: [2]s1.Angle{-13.2 * s1.Degree, 0}, Read: [2]bool{true, false}},
			{Column: 20 * s1.Degree, Steer: [2]s1.Angle{14 * s1.Degree, 11.5 * s1.Degree}, Read: [2]bool{true, true}},
		},
	}
	if diff := cmp.Diff(want, s.Checks, cmpopts.EquateApprox(0, 1e-12)); diff != "" {
		t.Error(diff)
	}
	in, _, err := Read("kart.toml", []byte(least+"[[mark]]\nname = \"nail\"\nat = [1, 2, 3]\n[[taped]]\nfrom = \"nail\"\nto = \"foot\"\ndistance = 10\naccuracy = 0.1\n"),
		Options{Set: []string{"units=in", "wheel.tyre_width=5", "limits.clearance=0.1"}})
	if err != nil {
		t.Fatal(err)
	}
	if got := in.Checks.Marks[0].At.X; got != 25.4 {
		t.Errorf("a mark of an inch file at %g mm", got)
	}
	if got := in.Checks.Taped[0]; got.Distance != 254 || got.Accuracy < 2.5399 || got.Accuracy > 2.5401 {
		t.Errorf("a tape of an inch file: %+v", got)
	}
}

func TestMistakesInChecks(t *testing.T) {
	checkFaulty(t, least, []faulty{
		{"", "[[taped]]\nfrom = \"left pickp\"\nto = \"foot\"\ndistance = 400\n", "20:8: taped[0].from", `names no point of the vehicle; did you mean "left pickup"?`},
		{"", "[[taped]]\nfrom = \"foot\"\nto = \"bumper\"\ndistance = 400\n", "21:6: taped[0].to", `names no point of the vehicle; it has "left kingpin", "left pickup"`},
		{"", "[[taped]]\nfrom = \"foot\"\nto = \"foot\"\ndistance = 400\n", "21:6: taped[0].to", "is where the tape begins"},
		{"", "[[taped]]\nfrom = \"foot\"\nto = \"left pin\"\n", "19:3: taped[0].distance", "is missing: what the tape reads"},
		{"", "[[taped]]\nfrom = \"foot\"\nto = \"left pin\"\ndistance = 0\n", "22:12: taped[0].distance", "more than 0"},
		{"", "[[taped]]\nfrom = \"foot\"\nto = \"left pin\"\ndistance = 40\naccuracy = 0\n", "23:12: taped[0].accuracy", "more than 0"},
		{"", "[[taped]]\nfrom = \"foot\"\nto = \"left pin\"\ndistance = 40\naccuracy = 1e4\n", "23:12: taped[0].accuracy", "more than a metre"},
		{"", "[[taped]]\nfrom = \"foot\"\nto = \"left pin\"\ndistance = 40\nacuracy = 1\n", "23:1: taped[0].acuracy", `did you mean "accuracy"?`},
		{"", "[[mark]]\nname = \"foot\"\n", "20:8: mark[0].name", "is the name of another point"},
		{"", "[[mark]]\nname = \"a\"\n[[mark]]\nname = \"a\"\n", "22:8: mark[1].name", "is the name of another point"},
		{"", "[[mark]]\nname = \"a\"\nat = [1, 2]\n", "21:6: mark.a.at", "should be [x, y, z]"},
		{"", "[[mark]]\nname = \"a\"\naccuracy = 2\n", "21:12: mark.a.accuracy", "at is not given"},
		{"", "[[mark]]\nat = [1, 2, 3]\n", "19:3: mark[0].name", "is missing: what the mark is called"},
		{"", "[[turned]]\ncolumn = 20\n", "19:3: turned[0]", "has no reading"},
		{"", "[[turned]]\nleft = 20\n", "19:3: turned[0].column", "is missing"},
		{"", "[[turned]]\ncolumn = 200\nleft = 20\n", "20:10: turned[0].column", "from -180 to 180 degrees"},
		{"", "[[turned]]\ncolumn = 20\nleft = 130\n", "21:8: turned[0].left", "from -120 to 120 degrees"},
	})
}
