package page

import (
	"encoding/json"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/golang/geo/r2"

	"locksweep/fixtures"
	"locksweep/fixtures/readback"
	"locksweep/geometry/compare"
	"locksweep/geometry/linkage"
	"locksweep/geometry/road"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/render/export"
	"locksweep/render/report"
	"locksweep/render/wording"
)

// said is what the machine-readable output of a sweep says, read without our own types.
type said struct {
	Poses []struct {
		TurnCentre *[2]float64 `json:"turn_centre"`
		Left       struct{ Steer float64 }
		Rods       []struct {
			From, To struct{ Transmission float64 }
		}
	}
	Locks map[string]struct {
		Column   float64
		Balanced float64 `json:"turning_circle_balanced"`
		Limits   []struct {
			Kind   string
			Column float64
		}
	}
}

func saidOf(t *testing.T, in Entry, columns []float64) (s said) {
	t.Helper()
	data := export.Sweep(in.Result, export.PosesAt(in.Result, columns), road.Slide{Radius: 4000}, in.Source)
	if err := json.Unmarshal(data, &s); err != nil {
		t.Fatal(err)
	}
	return s
}

// TestTurnIsThatOfTheJSON: where the outer wheel's axle line meets the rear axle line, and at the locks the circle over the front
// tyres, its centre on the side that is turned to.
func TestTurnIsThatOfTheJSON(t *testing.T) {
	for _, e := range fixtures.Examples {
		in := entry(t, e.Name)
		show := dataOf(t, pageOf(t, e.Name))
		film := show.Films[0]
		rows := decoded(t, &show, film.Turn, 8)
		var columns []float64
		var frames []int
		for i := range 9 {
			at := 1 + i*(film.Count-3)/8
			columns, frames = append(columns, show.Columns[film.First+at]), append(frames, at)
		}
		json := saidOf(t, in, columns)
		for i, at := range frames {
			outer := 5 // the right wheel's
			if json.Poses[i].Left.Steer < 0 {
				outer = 2
			}
			want := 0.0
			if c := json.Poses[i].TurnCentre; c != nil && math.Abs(c[1]) < farAway {
				want = -10 * in.Result.Setup.Unit.ToMM(c[1])
			}
			if got := float64(rows[at][outer]); math.Abs(got-want) > 1 {
				t.Errorf("%s at %.1f°: the outer axle line meets the rear one at %g, the JSON says %.1f", e.Name, columns[i], got, want)
			}
		}
		for i, way := range []string{"left", "right"} {
			row := rows[film.Locks[i]-film.First]
			if want := 5 * in.Result.Setup.Unit.ToMM(json.Locks[way].Balanced); math.Abs(float64(row[7])-want) > 1 {
				t.Errorf("%s, %s lock: a circle of radius %d, the JSON says %.1f", e.Name, way, row[7], want)
			}
			if row[6] == 0 || (row[6] < 0) != (way == "left") {
				t.Errorf("%s, %s lock: the circle's centre lies at %d to the right", e.Name, way, row[6])
			}
		}
	}
}

// TestLimitsHaveTheirFrames: every limit of the JSON that is told has a frame at its column angle, on its own side, and a mark on the
// bar just there; what is lit are pieces that touch. The drawing goes on past the lock, but no further than the linkage gets.
func TestLimitsHaveTheirFrames(t *testing.T) {
	for _, e := range fixtures.Examples {
		in := entry(t, e.Name)
		out := pageOf(t, e.Name)
		show := dataOf(t, out)
		film, f := show.Films[0], newFilm(in.Result, timeline(results(in)))
		json, last := saidOf(t, in, nil), float64(len(show.Columns)-1)
		marks := map[string]bool{}
		for _, n := range nodes(t, out) {
			if class := attribute(n, "class"); n.Data == "line" && strings.Contains(class, "t") {
				marks[attribute(n, "x1")] = true
			} else if n.Data == "rect" && class == "usable" {
				from, wide := numberIn(attribute(n, "x")), numberIn(attribute(n, "width"))
				if math.Abs(from-100*float64(film.Locks[0])/last) > 0.01 || math.Abs(from+wide-100*float64(film.Locks[1])/last) > 0.01 {
					t.Errorf("%s: the bar shows the locks from %.2f %% to %.2f %%, they stand at frames %v of %v", e.Name, from, from+wide, film.Locks, last)
				}
			}
		}
		for i, way := range []string{"left", "right"} {
			for k, l := range json.Locks[way].Limits[:min(len(json.Locks[way].Limits), mostLimits)] {
				at := slices.IndexFunc(film.Limits, func(h storedLimit) bool { return h.Tag == fmt.Sprintf("%c%d", way[0]-'a'+'A', k+1) })
				if at < 0 {
					t.Fatalf("%s: limit %d turning %s is not there", e.Name, k+1, way)
				}
				h := film.Limits[at]
				if math.Abs(show.Columns[h.Frame]-l.Column) > 1e-6 || h.Left != (way == "left") || (len(h.At) == 2) != (l.Kind == "contact") {
					t.Errorf("%s: %+v, the JSON has %+v turning %s", e.Name, h, l, way)
				}
				if x := strconv.FormatFloat(100*float64(h.Frame)/last, 'f', 2, 64) + "%"; !marks[x] {
					t.Errorf("%s: no mark for %s at %s of the bar, but at %v", e.Name, h.Tag, x, marks)
				}
				pair := in.Result.Locks[i].Chain[k].Pair
				moving := 0
				for _, piece := range pair {
					if l.Kind == "contact" && in.Result.Scene.Pieces[piece].Body != linkage.Frame {
						moving++
					}
				}
				if len(h.Pieces) != moving {
					t.Errorf("%s, %s: %v light, %d pieces that touch move", e.Name, h.Tag, h.Pieces, moving)
				}
				for _, lit := range h.Pieces {
					if !slices.Contains(pair[:], f.moves[lit].piece) {
						t.Errorf("%s, %s: %s lights", e.Name, h.Tag, in.Result.Scene.Pieces[f.moves[lit].piece].Label())
					}
				}
			}
			end, sign := [2]float64{show.Columns[0], show.Columns[len(show.Columns)-1]}[i], float64(1-2*i)
			dead := math.Inf(1)
			for rod := range in.Result.Linkage.Rods {
				if at, found := in.Result.Linkage.DeadPoint(rod, sign); found {
					dead = min(dead, at.Abs().Degrees())
				}
			}
			if past := sign * (end - json.Locks[way].Column); past < min(9.5, dead-sign*json.Locks[way].Column-0.5) || sign*end > dead+1e-6 {
				t.Errorf("%s: turning %s it is followed to %.2f°, the lock is at %.2f°, the dead point at %.2f°", e.Name, way, end, json.Locks[way].Column, dead)
			}
		}
	}
}

// numberIn is the number of a text that may end in a percent sign; NaN where there is none.
func numberIn(text string) float64 {
	v, err := strconv.ParseFloat(strings.TrimSuffix(text, "%"), 64)
	if err != nil {
		return math.NaN()
	}
	return v
}

// TestPosesAreDrawnAtTheirFrames: the three poses of a page without a script have the outlines that the script draws at the left
// lock, straight ahead and at the right lock.
func TestPosesAreDrawnAtTheirFrames(t *testing.T) {
	for _, e := range fixtures.Examples {
		out := pageOf(t, e.Name)
		show := dataOf(t, out)
		film := show.Films[0]
		_, poses, _ := strings.Cut(string(out), `<section class="poses"`)
		poses, _, _ = strings.Cut(poses, "</section>")
		drawings := regexp.MustCompile(`(?s)<svg.*?</svg>`).FindAllString(poses, -1)
		if len(drawings) != 3 {
			t.Fatalf("%s: %d poses", e.Name, len(drawings))
		}
		for i, frame := range [3]int{film.Locks[0], show.Start, film.Locks[1]} {
			key := slices.Index(film.Keys, frame-film.First)
			if key < 0 {
				t.Fatalf("%s: frame %d is not stored", e.Name, frame)
			}
			want := map[r2.Point]bool{}
			for _, piece := range film.Pieces {
				for _, s := range piece {
					row := decoded(t, &show, s.D, 2*s.N)[key]
					for k := 0; k < len(row); k += 2 {
						want[r2.Point{X: float64(row[k]), Y: float64(row[k+1])}] = true
					}
				}
			}
			list, err := readback.Parse([]byte(drawings[i]))
			if err != nil {
				t.Fatal(err)
			}
			found := 0
			for _, el := range list {
				for _, run := range el.Runs {
					for _, p := range run.Points {
						if found++; !want[p] {
							t.Fatalf("%s, pose %d: a corner at %v that is none of frame %d", e.Name, i, p, frame)
						}
					}
				}
			}
			if found < len(want)/2 {
				t.Errorf("%s, pose %d: %d corners of %d", e.Name, i, found, len(want))
			}
		}
	}
}

// TestNearestGapIsToldLive: at a lock that ends in a contact it is these two that touch, and where the sweep has the least gap of
// another pair no more is told.
func TestNearestGapIsToldLive(t *testing.T) {
	for _, e := range fixtures.Examples {
		in := entry(t, e.Name)
		show := dataOf(t, pageOf(t, e.Name))
		film := show.Films[0]
		gaps := strings.Split(film.Texts["gap"], "|")
		for i, lock := range in.Result.Locks {
			if first := lock.First(); first != nil && first.Kind == sweep.Contact {
				a, b := wording.Pair(in.Result.Model, first.Pair)
				if got, want := gaps[film.Locks[i]-film.First], "touching: "+a+" – "+b; got != want {
					t.Errorf("%s, lock %d: %q, want %q", e.Name, i, got, want)
				}
			}
		}
		for i := range in.Result.Near {
			n := &in.Result.Near[i]
			at := frameAt(timeline(results(in)), n.Column)
			told, err := strconv.ParseFloat(strings.Fields(strings.Replace(gaps[at-film.First], "touching:", "0 ", 1))[0], 64)
			if err != nil || in.Result.Setup.Unit.ToMM(told) > n.Gap+1 { // the frame stands up to a quarter of a degree from it
				t.Errorf("%s at %v: %q, the sweep has %.2f mm", e.Name, n.Column, gaps[at-film.First], n.Gap)
			}
		}
	}
}

// TestChartsReadTheirFigures reads the curves at either lock by the ticks of their axes: left lock on the left, left positive, and the
// cursor where the curve has that column angle.
func TestChartsReadTheirFigures(t *testing.T) {
	for _, e := range fixtures.Examples {
		r := entry(t, e.Name).Result
		p := plots(r)[0]
		value := func(y float64) float64 { // by the first and the last tick
			a, b := p.Y[0], p.Y[len(p.Y)-1]
			num := func(text string) float64 { return numberIn(strings.NewReplacer("−", "-", "°", "").Replace(text)) }
			return num(a.Text) + (y-num(a.At))/(num(b.At)-num(a.At))*(num(b.Text)-num(a.Text))
		}
		if low, high := p.Y[0], p.Y[len(p.Y)-1]; numberIn(low.At) <= numberIn(high.At) || value(numberIn(low.At)) >= value(numberIn(high.At)) {
			t.Errorf("%s: %+v stands below %+v", e.Name, low, high)
		}
		for i, of := range []func(p *sweep.Pose) float64{
			func(p *sweep.Pose) float64 { return p.Wheels[setup.Left].Steer.Degrees() },
			func(p *sweep.Pose) float64 { return p.Wheels[setup.Right].Steer.Degrees() },
			func(p *sweep.Pose) float64 { return math.Copysign(p.Turn.IdealInner.Degrees(), p.Column.Degrees()) },
		} {
			points := regexp.MustCompile(`[ML](\S+?) ([^ML]+)`).FindAllStringSubmatch(p.Lines[i].Path, -1)
			least, most := math.Inf(1), math.Inf(-1)
			atLeast, atMost := 0.0, 0.0
			for _, q := range points {
				x, errX := strconv.ParseFloat(q[1], 64)
				y, errY := strconv.ParseFloat(q[2], 64)
				if errX != nil || errY != nil {
					t.Fatal(q)
				}
				if x < least {
					least, atLeast = x, value(y)
				}
				if x > most {
					most, atMost = x, value(y)
				}
			}
			left, right := of(&r.Locks[sweep.ToLeft].Pose), of(&r.Locks[sweep.ToRight].Pose)
			if math.Abs(atLeast-left) > 0.5 || math.Abs(atMost-right) > 0.5 {
				t.Errorf("%s, %s: read %.1f° and %.1f°, the locks have %.1f° and %.1f°", e.Name, p.Lines[i].Name, atLeast, atMost, left, right)
			}
			if want := p.Origin - r.Locks[sweep.ToLeft].Column.Degrees()*p.Scale; math.Abs(least-want) > 0.1 {
				t.Errorf("%s: the curve begins at %.1f, the cursor stands at %.1f", e.Name, least, want)
			}
		}
	}
}

// TestTablesAreOfTheSweep: gaps from the least on, marked where they are under what is wanted; of each pose the lesser leverage of the
// rod that drives a wheel, as the JSON has it.
func TestTablesAreOfTheSweep(t *testing.T) {
	in := entry(t, "shed-kart", "limits.clearance=20")
	last, marked := math.Inf(-1), 0
	for _, row := range report.Gaps(in.Result, wording.Known{}) {
		if row.Gap == "stop" {
			continue
		}
		gap, err := strconv.ParseFloat(strings.Fields(row.Gap)[0], 64)
		if err != nil || gap < last || strings.HasSuffix(row.Gap, "!") != (gap < 20) {
			t.Errorf("%+v after %g", row, last)
		}
		if last = gap; gap < 20 {
			marked++
		}
	}
	if marked == 0 || last < 20 {
		t.Errorf("%d gaps of less than 20 mm, the widest is %g: want both kinds", marked, last)
	}
	var columns []float64
	rows := poseCells(in.Result)
	for _, row := range rows {
		columns = append(columns, numberIn(row[0]))
	}
	for i, p := range saidOf(t, in, columns).Poses {
		for side, got := range rows[i][6:] {
			rod := p.Rods[side]
			if want := min(rod.From.Transmission, rod.To.Transmission); math.Abs(numberIn(got)-want) > 0.3 { // its column is rounded
				t.Errorf("at %s, side %d: leverage %s, the JSON has %.2f", rows[i][0], side, got, want)
			}
		}
	}
}

// TestFiguresOfEitherWay: where they differ both are told, at the head and in the table of a comparison, and the head's are those of
// the comparison.
func TestFiguresOfEitherWay(t *testing.T) {
	in := entry(t, "field-buggy", "right.limits.spindle=24")
	c := compare.Run([]compare.Entry{{Name: "a", Setup: in.Result.Setup}}, road.Slide{Radius: 4000}, nil)
	figures := bigFigures(in.Result, nil)
	for i, key := range []string{"lock_inner", "ackermann_error_20"} {
		values := c.Find(key).Values[0]
		left, right := fmt.Sprintf([2]string{"%.1f°", "%+.1f°"}[i], values[0]*180/math.Pi), fmt.Sprintf([2]string{"%.1f°", "%+.1f°"}[i], values[1]*180/math.Pi)
		want := left + " / " + right
		if left == right {
			want = left
		}
		if figures[i].Value != want {
			t.Errorf("%s: the head has %q, the comparison %q", key, figures[i].Value, want)
		}
	}
	if name := figures[1].Name; name != "Ackermann error at 20°" {
		t.Errorf("the head does not say at its name where the error is: %q", name)
	}
	sides := 0
	for _, row := range comparedRows(c, setup.MM) {
		if strings.HasPrefix(row.Name, "Lock, inner wheel") {
			sides++
		}
	}
	if sides != 2 {
		t.Errorf("the lock has %d rows, want one for each way", sides)
	}
}
