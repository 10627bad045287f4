package page

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strconv"
	"strings"
	"testing"

	"github.com/golang/geo/s1"
	"golang.org/x/net/html"

	"locksweep/fixtures"
	"locksweep/fixtures/example"
	"locksweep/fixtures/readback"
	"locksweep/geometry/compare"
	"locksweep/geometry/loads"
	"locksweep/geometry/road"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/geometry/tolerance"
	"locksweep/render/export"
)

// entries and pages are those of the examples as they stand, so that tests that look at the same one make it once; they only read it.
var entries, pages = map[string]Entry{}, map[string][]byte{}

func pageOf(t testing.TB, name string) []byte {
	t.Helper()
	if pages[name] == nil {
		pages[name] = made(t, Options{}, entry(t, name))
	}
	return pages[name]
}

func entry(t testing.TB, name string, set ...string) Entry {
	t.Helper()
	key := fmt.Sprint(name, set)
	if e, known := entries[key]; known {
		return e
	}
	s := example.Read(t, name, set...)
	r, err := sweep.Run(s, Step)
	if err != nil {
		t.Fatal(err)
	}
	entries[key] = Entry{Result: r, Name: s.Name, Source: &export.Source{File: name + ".toml", Set: set}}
	return entries[key]
}

func made(t testing.TB, opt Options, entries ...Entry) []byte {
	t.Helper()
	out, err := Make(entries, opt)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// nodes walks a page as a browser reads it.
func nodes(t testing.TB, data []byte) (list []*html.Node) {
	t.Helper()
	root, err := html.Parse(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	for n := range root.Descendants() {
		list = append(list, n)
	}
	return list
}

func attribute(n *html.Node, key string) string {
	for _, a := range n.Attr {
		if a.Key == key {
			return a.Val
		}
	}
	return ""
}

// leastPage is what a page of an example may take, bytes.
const leastPage = 400_000

func TestPagesOfTheExamples(t *testing.T) {
	for _, e := range fixtures.Examples {
		out := pageOf(t, e.Name)
		if len(out) > leastPage {
			t.Errorf("%s: %d bytes, at most %d", e.Name, len(out), leastPage)
		}
		if !IsOurs(out) {
			t.Errorf("%s: the page is not known for one of ours", e.Name)
		}
		checkSealed(t, e.Name, out)
	}
}

// stored is the data that the script of a page gets, read without our own types.
type stored struct {
	Alphabet string
	Long     int
	Columns  []float64
	Said     []string
	Start    int
	Films    []struct {
		First, Count int
		Locks        [2]int
		Keys         []int
		Pieces       [][]struct {
			N int
			D string
		}
		Texts  map[string]string
		Limits []storedLimit
		Turn   string
	}
}

type storedLimit struct {
	Frame     int
	Left      bool
	Tag, Text string
	Pieces    []int
	At        []int
}

func dataOf(t testing.TB, out []byte) (s stored) {
	t.Helper()
	for _, n := range nodes(t, out) {
		if n.Type == html.ElementNode && attribute(n, "id") == "show" {
			if err := json.Unmarshal([]byte(n.FirstChild.Data), &s); err != nil {
				t.Fatal(err)
			}
			return s
		}
	}
	t.Fatal("no data in the page")
	return s
}

// TestFiguresAreThoseOfTheJSON compares what the page shows at frames on either side, at both locks and past one, with the
// machine-readable output of the same column angles, rounded as printed.
func TestFiguresAreThoseOfTheJSON(t *testing.T) {
	for _, e := range fixtures.Examples {
		in := entry(t, e.Name)
		show := dataOf(t, pageOf(t, e.Name))
		film := show.Films[0]
		var columns []float64
		var frames []int
		for i := range 10 {
			at := 1 + i*(film.Count-3)/9 // the very ends may be dead points, which rounding oversteps
			columns, frames = append(columns, show.Columns[film.First+at]), append(frames, at)
		}
		data := export.Sweep(in.Result, export.PosesAt(in.Result, columns), road.Slide{Radius: 4000}, in.Source)
		var said struct {
			Poses []struct {
				Left, Right struct{ Steer float64 }
				Error       *float64 `json:"ackermann_error"`
				Ideal       *float64 `json:"ideal_inner"`
				Percent     *float64 `json:"ackermann_percent"`
				Rods        []struct {
					From, To struct{ Transmission float64 }
				}
			}
		}
		if err := json.Unmarshal(data, &said); err != nil {
			t.Fatal(err)
		}
		texts := func(key string) []string { return strings.Split(film.Texts[key], "|") }
		for i, frame := range frames {
			p := said.Poses[i]
			check := func(key, want string) {
				if got := texts(key)[frame]; got != want {
					t.Errorf("%s, %s at %.1f°: the page shows %q, the JSON says %q", e.Name, key, columns[i], got, want)
				}
			}
			check("left", readback.Way(p.Left.Steer))
			check("right", readback.Way(p.Right.Steer))
			check("ideal", readback.Degrees(p.Ideal, false))
			check("error", readback.Degrees(p.Error, true))
			if texts("percent")[frame] != "-" { // which it is near straight ahead, where it says nothing
				check("percent", strings.Replace(strconv.FormatFloat(*p.Percent, 'f', 0, 64), "-0", "0", 1)+"%")
			}
			for k, rod := range p.Rods {
				check("lever"+strconv.Itoa(2*k+1), readback.Degrees(&rod.From.Transmission, false))
				check("lever"+strconv.Itoa(2*k), readback.Degrees(&rod.To.Transmission, false))
			}
		}
	}
}

func TestSeveralAreLaidOverOneAnother(t *testing.T) {
	out := made(t, Options{Told: []byte("told")}, entry(t, "shed-kart"), entry(t, "shed-kart", "wheel.offset=130"), entry(t, "pedal-quad"))
	checkSealed(t, "three", out)
	show := dataOf(t, out)
	if len(show.Films) != 3 {
		t.Fatalf("%d films, want 3", len(show.Films))
	}
	for i, f := range show.Films {
		if f.First < 0 || f.First+f.Count > len(show.Columns) || f.Locks[0] < f.First || f.Locks[1] >= f.First+f.Count {
			t.Errorf("film %d: from frame %d on %d frames, locks %v, of %d", i, f.First, f.Count, f.Locks, len(show.Columns))
		}
	}
	groups := 0
	for _, n := range nodes(t, out) {
		if n.Data == "g" && attribute(n, "data-film") != "" {
			groups++
		}
	}
	if groups != 3 {
		t.Errorf("%d groups in the drawing, want 3", groups)
	}
}

func TestSameBytes(t *testing.T) {
	if a, b := made(t, Options{}, entry(t, "cyclekart")), made(t, Options{}, entry(t, "cyclekart")); !bytes.Equal(a, b) {
		t.Error("two pages of one setup differ")
	}
}

// TestComparisonStandsAtTheHead: a row of the table for each figure, a cell for each setup, the best marked in words too.
func TestComparisonStandsAtTheHead(t *testing.T) {
	entries := []Entry{entry(t, "shed-kart"), entry(t, "shed-kart", "wheel.offset=130")}
	c := compare.Run([]compare.Entry{{Name: "as it is", Setup: entries[0].Result.Setup}, {Name: "wider", Setup: entries[1].Result.Setup}}, road.Slide{Radius: 4000}, nil)
	rows := comparedRows(c, setup.MM)
	if len(rows) < 6 {
		t.Fatalf("%d rows", len(rows))
	}
	// The circle over the front tyres is what the first page says it is; see the note of its figure.
	for i, e := range entries {
		figure := bigFigures(e.Result, nil)[2].Value
		found := false
		for _, row := range rows {
			found = found || row.Name == "Turning circle (mm)" && row.Cells[i].Value+" mm" == figure
		}
		if !found {
			t.Errorf("no turning circle of %s for setup %d in %+v", figure, i, rows)
		}
	}
	out := made(t, Options{Compared: c, Told: []byte("told")}, entries...)
	best := 0
	for _, n := range nodes(t, out) {
		if n.Data == "td" && attribute(n, "class") == "best" {
			if best++; !strings.HasSuffix(n.FirstChild.Data, "*") {
				t.Errorf("best by its look alone: %q", n.FirstChild.Data)
			}
		}
	}
	if best == 0 {
		t.Error("nothing is best")
	}
}

// TestLeastLeverageSaysHowSureItIs where the file says how exact it is.
func TestLeastLeverageSaysHowSureItIs(t *testing.T) {
	in := entry(t, "shed-kart", "accuracy.place=2")
	sure, err := tolerance.Run(in.Result, tolerance.Options{Path: road.Slide{Radius: 4000}})
	if err != nil {
		t.Fatal(err)
	}
	in.Sure = sure
	want := fmt.Sprintf("%.1f° ± %.1f°", in.Result.LeverageWithin().Angle.Degrees(), s1.Angle(sure.Find("least_transmission", 0).PlusMinus()).Degrees())
	if got := bigFigures(in.Result, in.Sure)[3].Value; got != want {
		t.Errorf("least leverage %q, want %q", got, want)
	}
	if got := bigFigures(in.Result, nil)[3].Value; strings.Contains(got, "±") {
		t.Errorf("%q without knowing how exact it is", got)
	}
}

// TestWhatGivesWayStandsInRed: under the weight of the file bolts that bend are an alarm of the page, what is merely thin is a warning, as
// the report of loads has it; held on both sides of the eye they are gone.
func TestWhatGivesWayStandsInRed(t *testing.T) {
	for _, c := range []struct {
		set  []string
		want [2]string // alarms, warnings; empty: nothing of loads
	}{
		{nil, [2]string{"GIVES WAY: left tie rod and right tie rod at the steering arm, bolt bends", "Thin: left tie rod and right tie rod at the drop arm, bolt bends"}},
		{[]string{"tie_rod.bolt={double=true, offset=3}"}, [2]string{"", "Thin: left tie rod and right tie rod at the drop arm, bolt bends"}},
		{[]string{"tie_rod.bolt={double=true, offset=3}", "tie_rod.inner_bolt={double=true, offset=3}"}, [2]string{}},
	} {
		in := entry(t, "shed-kart", append(c.set, "load.front=60")...)
		var err error
		if in.Loads, err = loads.New(in.Result); err != nil {
			t.Fatal(err)
		}
		said := map[string]string{}
		for _, n := range nodes(t, made(t, Options{}, in)) {
			if class := attribute(n, "class"); class == "alarms" || class == "warnings" {
				for d := range n.Descendants() {
					if d.Type == html.TextNode {
						said[class] += d.Data
					}
				}
			}
		}
		for i, class := range []string{"alarms", "warnings"} {
			if loaded := strings.Contains(said[class], "GIVES WAY:") || strings.Contains(said[class], "Thin:"); loaded != (c.want[i] != "") || !strings.Contains(said[class], c.want[i]) {
				t.Errorf("%v: %s say %q, want %q", c.set, class, said[class], c.want[i])
			}
		}
	}
}

// TestStraightAheadIsAButton, between the limits of either way, also where nothing stops the wheels one way.
func TestStraightAheadIsAButton(t *testing.T) {
	for _, free := range []sweep.Direction{sweep.ToLeft, sweep.ToRight} {
		e := entry(t, "shed-kart")
		r := *e.Result
		r.Locks[free].Chain = nil
		e.Result = &r
		page := made(t, Options{}, e)
		centre, other := bytes.Index(page, []byte(">Centre</button>")), bytes.Index(page, []byte(`data-tag="`+[2]string{"R1", "L1"}[free]+`"`))
		if centre < 0 || other < 0 || (centre < other) != (free == sweep.ToLeft) {
			t.Errorf("nothing stops it turning %v: Centre stands at %d, the first limit of the other way at %d", free, centre, other)
		}
	}
}
