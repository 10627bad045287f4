package page

import (
	"slices"
	"strings"
	"testing"

	"github.com/golang/geo/r2"

	"locksweep/fixtures"
	"locksweep/fixtures/example"
	"locksweep/fixtures/trial"
	"locksweep/geometry/plan"
	"locksweep/geometry/planar"
)

// decoded reads a course as the page's script does: written anew from the description of the form.
func decoded(t *testing.T, s *stored, text string, width int) (rows [][]int) {
	t.Helper()
	base := len(s.Alphabet) - 1
	half, limit := (base-1)/2, base*base*base*base/2
	for at := 0; at < len(text); {
		row := make([]int, width)
		for i := range row {
			n := strings.IndexByte(s.Alphabet, text[at])
			at++
			if n == 0 {
				for range s.Long {
					n = n*base + strings.IndexByte(s.Alphabet, text[at]) - 1
					at++
				}
				n -= limit
			} else {
				n -= 1 + half
			}
			switch k := len(rows); k {
			case 0:
			case 1:
				n += rows[0][i]
			default:
				n += 2*rows[k-1][i] - rows[k-2][i]
			}
			row[i] = n
		}
		rows = append(rows, row)
	}
	return rows
}

// TestCourseComesBack: small and large numbers, and the largest that is stored.
func TestCourseComesBack(t *testing.T) {
	rows := [][]int{{0, half, -half, 1_000_000}, {half + 1, -half - 1, 7, -1_000_000}, {0, 0, 0, 0}, {3, 2, 1, 0}, {3, 2, 1, 0}}
	got := decoded(t, &stored{Alphabet: alphabet, Long: longDigits}, course(rows), 4)
	if len(got) != len(rows) {
		t.Fatalf("%d rows, want %d", len(got), len(rows))
	}
	for k := range rows {
		for i := range rows[k] {
			if got[k][i] != rows[k][i] {
				t.Errorf("row %d: %v, want %v", k, got[k], rows[k])
				break
			}
		}
	}
	if strings.ContainsAny(alphabet, "<>&\"'\\`") {
		t.Error("the alphabet has a character that HTML or JSON escapes")
	}
}

// mostOff is how far an outline may be off at any frame, mm: about a dot of the screen, where the front axle is as wide as
// the page. At frames that are stored it is plan.TrackError and a tenth of rounding; between them a corner of a tyre that
// begins to show its other side goes straight where the outline bends.
const mostOff = 1.2

// TestFramesShowTheOutlines holds what the page draws, at frames that are stored and at those between, against the outlines
// of the solids at that pose.
func TestFramesShowTheOutlines(t *testing.T) {
	for _, e := range example.Some() {
		in := entry(t, e.Name)
		show := dataOf(t, pageOf(t, e.Name))
		f := newFilm(in.Result, timeline(results(in)))
		reel := show.Films[0]
		worst, each := 0.0, 1+2*len(f.poses)/trial.Every(60, 300)
		for k, m := range f.moves {
			piece := &in.Result.Scene.Pieces[m.piece]
			stored := 0
			for j := range piece.Solids {
				if len(m.tracks[j][0]) == 0 {
					continue
				}
				s := reel.Pieces[k][stored]
				stored++
				rows := decoded(t, &show, s.D, 2*s.N)
				for i := 0; i < len(f.poses); i += each {
					drawn := between(rows, reel.Keys, i, func(n int) float64 { return show.Columns[n+reel.First] })
					hull := piece.Solids[j].Plan(in.Result.Scene.Motion(piece.Body, &f.poses[i].Pose))
					off := max(outside(hull, drawn), outside(drawn, hull))
					worst = max(worst, off)
					if most := offAt(reel.Keys, i); off > most {
						t.Errorf("%s, %s at %.1f°: %.2f mm off the outline, at most %.2f", e.Name, piece.Label(), show.Columns[i+reel.First], off, most)
					}
				}
			}
		}
		t.Logf("%s: at most %.2f mm off", e.Name, worst)
	}
}

// offAt is how far an outline may be off at a frame, mm.
func offAt(keys []int, frame int) float64 {
	if slices.Contains(keys, frame) {
		return plan.TrackError + 0.15
	}
	return mostOff
}

// between is an outline at a frame on the ground, mm: corners go straight from one stored pose to the next.
func between(rows [][]int, keys []int, frame int, column func(int) float64) []r2.Point {
	k := 0
	for k+2 < len(keys) && keys[k+1] <= frame {
		k++
	}
	next := min(k+1, len(keys)-1)
	share := 0.0
	if next > k {
		share = (column(frame) - column(keys[k])) / (column(keys[next]) - column(keys[k]))
	}
	var ring []r2.Point
	for i := 0; i < len(rows[k]); i += 2 {
		at := func(i int) float64 { return float64(rows[k][i]) + share*float64(rows[next][i]-rows[k][i]) }
		ring = append(ring, r2.Point{X: -at(i+1) / 10, Y: -at(i) / 10})
	}
	return ring
}

// outside returns how far points lie outside a convex outline, mm.
func outside(points, ring []r2.Point) (most float64) {
	for _, p := range points {
		if !planar.Inside(ring, p) {
			most = max(most, planar.ToEdge(ring, p))
		}
	}
	return most
}

// TestTimelineMeetsTheLimits: every limit has a frame of its own, to a millionth of a degree, and frames stand at most half
// a degree apart but for a rack, whose column turns many times as far.
func TestTimelineMeetsTheLimits(t *testing.T) {
	for _, e := range fixtures.Examples {
		in := entry(t, e.Name)
		columns := timeline(results(in))
		for i := 1; i < len(columns); i++ {
			if step := columns[i-1] - columns[i]; step <= 0 || step > frameStep+1e-12 && e.Name != "rack-buggy" {
				t.Errorf("%s: from %v to %v", e.Name, columns[i-1], columns[i])
			}
		}
		if len(columns) > mostFrames+20 {
			t.Errorf("%s: %d frames", e.Name, len(columns))
		}
		for _, lock := range in.Result.Locks {
			if got := columns[frameAt(columns, lock.Column)]; (got - lock.Column).Abs().Degrees() > 1e-6 {
				t.Errorf("%s: no frame at the lock %v", e.Name, lock.Column)
			}
		}
	}
}

// TestHigherIsDrawnOverLower: of what moves a piece that reaches higher straight ahead, as the top view has it, comes later.
func TestHigherIsDrawnOverLower(t *testing.T) {
	for _, e := range fixtures.Examples {
		in := entry(t, e.Name)
		outlines, err := plan.At(in.Result.Scene, &in.Result.Straight.Pose)
		if err != nil {
			t.Fatal(err)
		}
		high := map[int]float64{}
		for i := range outlines {
			high[outlines[i].Piece] = outlines[i].High
		}
		f := newFilm(in.Result, timeline(results(in)))
		for k := 1; k < len(f.moves); k++ {
			if a, b := f.moves[k-1].piece, f.moves[k].piece; high[a] > high[b]+1e-5 {
				t.Errorf("%s: %s, %.2f mm high, is drawn over %s, %.2f mm high", e.Name, in.Result.Scene.Pieces[b].Label(), high[b], in.Result.Scene.Pieces[a].Label(), high[a])
			}
		}
	}
}
