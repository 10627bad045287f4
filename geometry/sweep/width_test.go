package sweep_test

import (
	"cmp"
	"math"
	"testing"

	"github.com/golang/geo/s1"

	"locksweep/fixtures/example"
	"locksweep/geometry/neck"
	"locksweep/geometry/sweep"
)

// A stop lug that reaches the yoke by a finger 4 mm wide (derived: it is drawn so) is a stop only where so little is wanted; else the
// first thing that touches is no stop: either the arm is one, which meets the web much later, or there is none. However a lock is looked for, it is judged alike.
func TestNarrowMetalIsNoStop(t *testing.T) {
	const finger = `part."stop lug".plate.outline=[[14, -12], [14, 14], [-8, 16], [-21.17, -8.379], [-57.17, -34.379], [-54.83, -37.621], [-18.83, -11.621], [-12, -12]]`
	for _, c := range []struct {
		name  string
		set   []string
		width float64 // 0: none is narrow
		least float64
		later bool // something else is the stop
		part  string
	}{
		{name: "as it is"},
		{name: "a finger, and an arm that meets the web", set: []string{finger}, width: 4, least: neck.DefaultLeast, later: true},
		{name: "a finger, and a declared stop that comes later", set: []string{finger, "limits.spindle=40"}, width: 4, least: neck.DefaultLeast, later: true},
		{name: "wanted wider", set: []string{finger, `part."stop lug".min_width=4.5`}, width: 4, least: 4.5, later: true},
		{name: "wide enough", set: []string{finger, `part."stop lug".min_width=3.5`}},
		{name: "of which nothing is said", set: []string{finger, `part."stop lug".grind=false`}},
		{name: "meant as the stop", set: []string{finger, `part."stop lug".grind=false`, `part."stop lug".stop=true`}, width: 4, least: neck.DefaultLeast},
		{name: "what it meets, 10 deep", set: []string{`part."yoke web".min_width=12`}, width: 10, least: 12, part: "yoke web"},
		// A corner of 80 degrees: a disc of 8 stays 2.2 away from its tip, 0.6 more than from that of a right angle (derived), but half a degree
		// further on the web has gone 1 mm into the lug.
		{name: "what it meets, by a sharp corner that gives way", set: []string{
			`part."yoke web".plate.outline=[[-16.24, -62], [-18, -52], [18, -52], [18, -62]]`, `part."yoke web".min_width=8`}},
		{name: "stopped by something else", set: []string{finger, "limits.spindle=20"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			r, err := sweep.Run(example.Read(t, "shed-kart", c.set...), 5)
			if err != nil {
				t.Fatal(err)
			}
			narrow := has(r.Findings, sweep.NarrowStop)
			if n := count(r.Findings, sweep.NarrowStop); n > 1 {
				t.Errorf("told %d times", n)
			}
			if (narrow != nil) != (c.width > 0) {
				t.Fatalf("got %+v, want narrow: %v", narrow, c.width > 0)
			}
			if none := has(r.Findings, sweep.NoMetalStop) != nil; none != (c.width > 0 && !c.later) {
				t.Errorf("no metal stop: %v", none)
			}
			if late := has(r.Findings, sweep.TouchesFirst) != nil; late != c.later {
				t.Errorf("something touches before the stop: %v, want %v", late, c.later)
			}
			alike(t, r)
			if narrow == nil {
				return
			}
			if math.Abs(narrow.Width-c.width) > 2*neck.Step || narrow.Least != c.least {
				t.Errorf("got %g wide of %g, want %g of %g", narrow.Width, narrow.Least, c.width, c.least)
			}
			want := cmp.Or(c.part, "stop lug")
			if part := r.Scene.Pieces[narrow.Pair[0]].Part; part == nil || part.Name != want {
				t.Errorf("got %+v, want the %s", part, want)
			}
		})
	}
}

// TestAlikeLooksAtOtherMetalAnew: what is known of the metal of one setup serves those that are alike only where theirs is the same.
func TestAlikeLooksAtOtherMetalAnew(t *testing.T) {
	read := func(corners string) *sweep.Result {
		r, err := sweep.Run(example.Read(t, "shed-kart", `part."stop lug".plate.outline=[[14, -12], [14, 14], [-8, 16], `+corners+`, [-12, -12]]`), 5)
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	four := read("[-21.17, -8.379], [-57.17, -34.379], [-54.83, -37.621], [-18.83, -11.621]")
	eight := read("[-22.34, -6.758], [-58.34, -32.758], [-53.66, -39.242], [-17.66, -13.242]")
	for _, like := range []*sweep.Result{four, eight} {
		alike := like.Alike()
		for wide, r := range map[int]*sweep.Result{4: four, 8: eight} {
			glance, _, err := alike.Glance(r.Setup, true)
			if err != nil {
				t.Fatal(err)
			}
			first := glance.Locks[sweep.ToLeft].First()
			if narrow := first.Narrow != [2]bool{}; narrow != (wide == 4) {
				t.Errorf("a finger %d mm wide, beside setups like another: narrow %v", wide, narrow)
			}
		}
	}
}

// has returns the first finding of a code; nil where there is none.
func has(found []sweep.Finding, code sweep.Code) *sweep.Finding {
	for i := range found {
		if found[i].Code == code {
			return &found[i]
		}
	}
	return nil
}

func count(found []sweep.Finding, code sweep.Code) (n int) {
	for _, f := range found {
		if f.Code == code {
			n++
		}
	}
	return n
}

// alike checks that the quick ways to a lock judge its stop as the whole chain does.
func alike(t *testing.T, r *sweep.Result) {
	t.Helper()
	refit, err := r.Refit(r.Setup)
	if err != nil {
		t.Fatal(err)
	}
	glance, _, err := r.Alike().Glance(r.Setup, true)
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range sweep.Directions {
		want := r.Stopping(&r.Locks[d])
		first, again := r.FirstLimit(d), refit.Lock(d)
		for what, s := range map[string]sweep.Stopping{
			"first": r.Stopping(&first), "refit": refit.Stopping(&again), "glance": glance.Stopping(&glance.Locks[d]),
		} {
			if (s.Stop == nil) != (want.Stop == nil) || s.Stop != nil && (s.Stop.Column-want.Stop.Column).Abs() > 1e-5*s1.Degree {
				t.Errorf("%s, turned %s: stop %+v, want %+v", what, d, s.Stop, want.Stop)
			}
		}
	}
}
