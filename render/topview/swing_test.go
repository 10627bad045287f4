package topview

import (
	"bytes"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"locksweep/fixtures/example"
	"locksweep/geometry/linkage"
	"locksweep/geometry/plan"
	"locksweep/geometry/planar"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/render/sheet"
)

var (
	keyframes = regexp.MustCompile(`@keyframes d[0-9a-f]{8}-\d+\{([^@]*)\}`)
	keyframe  = regexp.MustCompile(`([0-9.]+)%\{d:path\("([^"]*)"\)\}`)
	numberIn  = regexp.MustCompile(`-?(?:[0-9]+\.?[0-9]*|\.[0-9]+)`)
)

// cornersOf are those of a path of rings, as the drawing writes them.
func cornersOf(t *testing.T, d string) (box r2.Rect, shape string) {
	t.Helper()
	box = r2.EmptyRect()
	for ring := range strings.SplitSeq(strings.TrimSuffix(d, "z"), "z") {
		n := numberIn.FindAllString(ring, -1)
		shape += strconv.Itoa(len(n)) + " "
		var at r2.Point
		for i := 0; i+1 < len(n); i += 2 {
			x, _ := strconv.ParseFloat(n[i], 64)
			y, _ := strconv.ParseFloat(n[i+1], 64)
			at = at.Add(r2.Point{X: x, Y: y})
			box = box.AddPoint(at)
		}
	}
	return box, shape
}

// TestSwingShowsTheLocks reads the animation back: at its ends every piece that moves is as wide and as long on paper as its
// silhouette at the locks, which plan finds in another way; in between it has as many corners; and nothing moves but on a
// screen whose system does not ask for less motion.
func TestSwingShowsTheLocks(t *testing.T) {
	for _, e := range example.Some() {
		r := swept(t, example.Read(t, e.Name))
		s, err := Sheet(r, Options{Options: sheet.Options{Paper: sheet.A4.Landscape()}, Swing: true})
		if err != nil {
			t.Fatal(err)
		}
		isSound(t, e.Name, r, s)
		checkSwing(t, e.Name, r, s)
	}
	r := swept(t, example.Read(t, "shed-kart"))
	sound(t, "on Letter", r, Options{Options: sheet.Options{Paper: sheet.Letter}, Swing: true})
	if _, err := Sheet(r, Options{Options: sheet.Options{Paper: sheet.A4}, Swing: true, Scale: 1}); err == nil || !strings.Contains(err.Error(), "smaller scale") {
		t.Errorf("at 1:1: %v", err)
	}
}

func checkSwing(t *testing.T, name string, r *sweep.Result, s *sheet.Sheet) {
	t.Helper()
	d := drawing{r: r, opt: Options{Swing: true}, pose: r.Straight}
	if err := d.see(); err != nil {
		t.Fatal(err)
	}
	var pieces []int
	for i := len(d.outlines) - 1; i >= 0; i-- {
		if moves(&r.Scene.Pieces[d.outlines[i].Piece]) {
			pieces = append(pieces, d.outlines[i].Piece)
		}
	}
	data := s.Bytes()
	found := keyframes.FindAllSubmatch(data, -1)
	if len(found) != len(pieces)+1 { // and the mark on the bar of the locks
		t.Fatalf("%s: %d pieces and a mark move, %d animations", name, len(pieces), len(found))
	}
	before, _, _ := bytes.Cut(data, []byte("animation:"))
	if !bytes.Contains(before, []byte("@media screen and (prefers-reduced-motion:no-preference){")) {
		t.Errorf("%s: it moves whatever the system asks for", name)
	}
	scale := float64(s.Scale)
	for k, m := range found {
		keys := keyframe.FindAllSubmatch(m[1], -1)
		_, first := cornersOf(t, string(keys[0][2]))
		last := -1.0
		for _, key := range keys {
			share, _ := strconv.ParseFloat(string(key[1]), 64)
			if _, shape := cornersOf(t, string(key[2])); shape != first || share <= last {
				t.Fatalf("%s: at %g%% of animation %d corners %s, at first %s; after %g%%", name, share, k, shape, first, last)
			}
			last = share
		}
		if k == len(pieces) {
			continue
		}
		for dir, key := range [2][][]byte{keys[0], keys[len(keys)-1]} {
			rings, err := plan.Silhouette(r.Scene, pieces[k], &r.Locks[dir].Pose.Pose)
			if err != nil {
				t.Fatal(err)
			}
			want := planar.Bounds(rings...).Size()
			box, _ := cornersOf(t, string(key[2]))
			if got := box.Size(); math.Abs(got.X-want.Y*scale) > 2*plan.TrackError*scale+0.02 || math.Abs(got.Y-want.X*scale) > 2*plan.TrackError*scale+0.02 {
				t.Errorf("%s, %s at the %v lock: %.2f × %.2f mm of paper, want %.2f × %.2f", name, r.Scene.Pieces[pieces[k]].Label(), sweep.Direction(dir),
					got.X, got.Y, want.Y*scale, want.X*scale)
			}
		}
		if last != 100 || string(keys[0][1]) != "0" {
			t.Errorf("%s: from %s%% to %g%%", name, keys[0][1], last)
		}
	}
}

// TestSwingKeysAreNear: between two keys no wheel turns by more than swingTurn and a step of the sweep.
func TestSwingKeysAreNear(t *testing.T) {
	for _, name := range []string{"shed-kart", "rack-buggy"} {
		r := swept(t, example.Read(t, name))
		keys := (&drawing{r: r}).swingKeys()
		if keys[0].Column != r.Locks[sweep.ToLeft].Column || keys[len(keys)-1].Column != r.Locks[sweep.ToRight].Column {
			t.Errorf("%s: from %v to %v", name, keys[0].Column, keys[len(keys)-1].Column)
		}
		zero := false
		for i := 1; i < len(keys); i++ {
			zero = zero || keys[i].Column == 0
			for _, side := range setup.Sides {
				if turn := (keys[i].Wheels[side].Steer - keys[i-1].Wheels[side].Steer).Abs(); turn > swingTurn {
					t.Errorf("%s: the %v wheel turns %v in one go", name, side, turn)
				}
			}
			if step := keys[i-1].Column - keys[i].Column; step > swingStep+1e-9*s1.Degree && !r.Linkage.Slides(linkage.Input) {
				t.Errorf("%s: the column turns %v in one go", name, step)
			}
		}
		if !zero {
			t.Errorf("%s: no key straight ahead", name)
		}
	}
}
