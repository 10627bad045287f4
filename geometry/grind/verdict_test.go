package grind

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"locksweep/geometry/linkage"
	"locksweep/geometry/neck"
	"locksweep/geometry/sweep"
)

// armed is the trial kart with an arm of given metal, about the kingpin at the height of the rod: the plan that a plumb
// bob finds of it is off by 60 × the kingpin's lean.
const armed = "[arm]\npickup = [-100, -20, -60]\noutline = [[22.32, -3.77], [22.32, 20.23], [-1.68, 20.23], [-97.68, -3.77], [-97.68, -19.77], [-1.68, -3.77]]\nup = [-66, -54]\n"

// limited writes the trial kart with other limits, a metal arm if asked for, and parts.
func limited(limits string, arm bool, parts string) string {
	text := strings.Replace(fmt.Sprintf(kart, 8, 10, 3, parts), "clearance = 3\ntransmission = 10", limits, 1)
	if arm {
		text = strings.Replace(text, "[arm]\npickup = [-100, -20, -60]\n", armed, 1)
	}
	return text
}

// Every rule of what is the stop: a small setup, the verdict, the reason.
func TestVerdicts(t *testing.T) {
	const plainLimits = "clearance = 3\ntransmission = 10"
	declared := func(degrees string) string { return plainLimits + "\nspindle = " + degrees }
	finger := func(rest string) string { // a finger 5 wide rearwards from a plate about the kingpin
		return part("lug", "spindle", "grind = true\n"+rest+"\n"+plateOf(corners(-46, -14, 14, -14, 14, 14, -20, 14, -20, -9, -46, -9), -10, 10))
	}
	post := part("post", "frame", "at = \"kingpin\"\n"+plateOf(corners(-65, -90, -60, -90, -60, -67, -65, -67), -70, -52)) // the arm meets it
	// A post on the inside of the tyre's rear edge, that it would strike at some 38 degrees.
	rail := part("rail", "frame", "mirror = true\ntube = { diameter = 10, path = [[-219, 503, 60], [-219, 503, 200]] }")
	// A block that the web meets at some 41.8 degrees, a little after the tyre comes too near to a rail that stands further in.
	heel := part("heel", "spindle", "grind = true\n"+plateOf(corners(-48, 1, -10, 1, -10, 25, -48, 25), -10, 10))
	aside := strings.ReplaceAll(rail, "503", "480")
	for _, c := range []struct {
		name, text string
		target     Target
		clear      bool
		refused    [2]any     // of the left: whether, and the reason
		lock       [2]float64 // least and most of the lock, where it is not refused
		stops      bool       // ground metal is the stop
	}{
		{"ground metal is the stop", limited(plainLimits, false, lug("")+web), to(35), false, [2]any{false}, [2]float64{35, 35.05}, true},
		{"a target within today's lock", limited(plainLimits, false, lug("")+web), to(20), false, [2]any{false}, [2]float64{28.5, 29.5}, false},
		{"a finger is no stop", limited(plainLimits, false, finger("")+web), to(33), false, [2]any{true, ByWidth}, [2]float64{}, false},
		{"a finger will do if it need not be wider", limited(plainLimits, false, finger("min_width = 4")+web), to(33), false, [2]any{false}, [2]float64{33, 33.05}, true},
		{"a finger, and a declared stop", limited(declared("38"), false, finger("")+web), to(33), false, [2]any{false}, [2]float64{36.5, 37.5}, false},
		{"a finger, and metal that is not marked", limited(plainLimits, true, finger("")+web+post), to(26), false, [2]any{false}, [2]float64{28.1, 28.3}, false},
		{"a finger, and metal that stops too late", limited(plainLimits, false, finger("")+heel+web+aside), to(36), false, [2]any{true, ByWidth}, [2]float64{}, false},
		{"root on the far edge", limited(plainLimits, false, lug("root = [[14, -14], [14, 14]]")+web), to(33), false, [2]any{false}, [2]float64{33, 33.05}, true},
		{"root beside the tip", limited(plainLimits, false, lug("root = [[-40, -14], [-40, -11]]")+web), to(33), false, [2]any{true, ByWidth}, [2]float64{}, false},
		{"past a bore that is too wide", limited(plainLimits, false, lug("bore = 18\nmin_wall = 1\nroot = [[14, -14], [14, 14]]")+web), to(33), false, [2]any{true, ByWidth}, [2]float64{}, false},
		{"past a bore that leaves enough", limited(plainLimits, false, lug("bore = 14\nmin_wall = 1\nroot = [[14, -14], [14, 14]]")+web), to(33), false, [2]any{false}, [2]float64{33, 33.05}, true},
		{"a tyre that comes too near", limited(plainLimits, false, lug("")+web+rail), to(41), false, [2]any{true, ByNear}, [2]float64{}, false},
		{"clear, and nothing else stops", limited(plainLimits, false, lug("")+web), to(33), true, [2]any{true, ByNoStop}, [2]float64{}, false},
		{"clear, and a declared stop", limited(declared("36"), false, lug("")+web), to(33), true, [2]any{false}, [2]float64{34.5, 35.5}, false},
		{"past the declared stop", limited(declared("30"), false, lug("")+web), to(33), false, [2]any{true, ByLimit}, [2]float64{}, false},
		{"declared stop past the leverage", limited("clearance = 3\ntransmission = 40\nspindle = 41", false, lug("")+web), to(38), true, [2]any{true, ByTransmission}, [2]float64{}, false},
		{"leverage within the declared stop", limited("clearance = 3\ntransmission = 40\nspindle = 41", false, lug("")+web), to(39), false, [2]any{true, ByTransmission}, [2]float64{}, false},
		{"three degrees before over centre", limited("clearance = 3\ntransmission = 0", false, lug("")+web), to(60), false, [2]any{true, ByMargin}, [2]float64{}, false},
		{"travel of the column is no stop", strings.Replace(limited(plainLimits, false, lug("")+web), "rake = 40", "rake = 40\ntravel = 45", 1), to(33), false, [2]any{true, ByLimit}, [2]float64{}, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, err := Make(model(t, c.text), c.target, Options{Clearance: math.NaN(), Clear: c.clear})
			var b *BeyondError
			if refused := errors.As(err, &b); refused != c.refused[0] {
				t.Fatalf("got %v (%+v), want refused: %v", err, b, c.refused[0])
			}
			if b != nil {
				if got := b.Plan.Most[0].Reason; got != c.refused[1] {
					t.Errorf("reason %v, want %v", got, c.refused[1])
				}
				if c.refused[1] == ByWidth && !b.Plan.Stops[0].Missing() {
					t.Error("what is left is no stop, but no pad is looked for")
				}
				if b.ByOwn != (c.refused[1] == ByNoStop) {
					t.Errorf("it is said that it can be reached without clear: %v", b.ByOwn)
				}
				return
			}
			if lock := p.Lock(sweep.ToLeft, true).Degrees(); !(lock >= c.lock[0] && lock <= c.lock[1]) {
				t.Errorf("lock %.3f, want %g to %g", lock, c.lock[0], c.lock[1])
			}
			stops := false
			for _, cut := range p.Cuts {
				stops = stops || cut.Stops[0]
				if c.clear && !(cut.Passes >= p.Clearance-0.02) {
					t.Errorf("passes at %g, want %g", cut.Passes, p.Clearance)
				}
			}
			if stops != c.stops {
				t.Errorf("ground metal is the stop: %v, want %v", stops, c.stops)
			}
			if p.Stops[0].Missing() {
				t.Errorf("%v", p.Stops[0].Faults)
			}
			at := func(s Step) bool { return math.Abs(s.Depth-p.Cuts[0].Depth) < 0.05 }
			if len(p.Cuts) > 0 && !c.stops && !slices.ContainsFunc(p.Curve, at) {
				t.Errorf("the cut is %g deep, the curve is %v", p.Cuts[0].Depth, p.Curve)
			}
		})
	}
}

// A pad is proposed only where the metal that it would stand on carries a stop: on the body of a lug, not at the end of its finger.
func TestPadsStandOnMetalThatCarriesThem(t *testing.T) {
	finger := part("lug", "spindle", "grind = true\n"+plateOf(corners(-46, -14, 14, -14, 14, 14, -20, 14, -20, -9, -46, -9), -10, 10))
	j, err := newJob(model(t, limited("clearance = 3\ntransmission = 10", false, finger+web)), plain, 0)
	if err != nil {
		t.Fatal(err)
	}
	end := &Place{Outline: corners(-44, -13.5, -44, -20, -32, -20, -32, -13.5)}
	body := &Place{Outline: corners(-10, -13.5, -10, -20, 2, -20, 2, -13.5)}
	got, err := j.carried(j.plates[0].piece, []*Place{end, body})
	if err != nil || !slices.Equal(got, []*Place{body}) {
		t.Errorf("got %d places (%v), want the one on the body", len(got), err)
	}
}

// What a plate hangs on where the file does not say: by hand from its outline.
func TestAssumedRoots(t *testing.T) {
	ear := part("ear", "frame", "at = \"kingpin\"\ngrind = true\n"+plateOf(corners(-60, -60, -10, -60, -10, -32, -60, -32), -30, 30))
	tab := part("tab", "spindle", "grind = true\n"+plateOf(corners(-60, -20, -20, -20, -20, 20, -60, 20), 20, 30))
	for _, c := range []struct {
		name, text string
		want       neck.Root
	}{
		{"lug", limited("clearance = 3\ntransmission = 10", false, lug("")+web), neck.Root{Kingpin: true, Assumed: true}},
		{"tab", limited("clearance = 3\ntransmission = 10", false, tab+web), neck.Root{Edge: [2]r2.Point{{X: -20, Y: -20}, {X: -20, Y: 20}}, Assumed: true}},
		// The lug's middle is at [-13, -1]; the ear's sides are 65 (rear), 63 (inboard), 37 and 59 from it at their middles.
		{"ear", limited("clearance = 3\ntransmission = 10", false, strings.Replace(lug(""), "grind = true\n", "", 1)+ear), neck.Root{Edge: [2]r2.Point{{X: -60, Y: -32}, {X: -60, Y: -60}}, Assumed: true}},
		{"lug", limited("clearance = 3\ntransmission = 10", false, lug("root = [[14, -14], [14, 14]]")+web), neck.Root{Edge: [2]r2.Point{{X: 14, Y: -14}, {X: 14, Y: 14}}}},
	} {
		j, err := newJob(model(t, c.text), plain, 0)
		if err != nil {
			t.Fatal(err)
		}
		if got := j.plates[0].root; got != c.want {
			t.Errorf("%s: got %+v, want %+v", c.name, got, c.want)
		}
	}
}

// Where the first lug cannot be the stop, a second one that touches later may be, and is tried before a target is refused. The finger, too
// narrow, meets the web at 24 degrees; the heel meets a block only later.
func TestNextMarkedPlateIsTheStop(t *testing.T) {
	finger := part("finger", "spindle", "grind = true\n"+plateOf(corners(-46, -14, 14, -14, 14, 14, -20, 14, -20, -9, -46, -9), -10, 10))
	heel := part("heel", "spindle", "grind = true\n"+plateOf(corners(-40, -14, 14, -14, 14, 14, -40, 10), 35, 45))
	block := part("block", "frame", "at = \"kingpin\"\n"+plateOf(corners(-50, -60, -10, -60, -10, -32, -50, -32), 35, 45))
	alone := refused(t, looked(t, model(t, fmt.Sprintf(kart, 8, 10, 3, finger+web))), to(80)).Plan
	s := looked(t, model(t, fmt.Sprintf(kart, 8, 10, 3, finger+web+heel+block)))
	most := refused(t, s, to(80)).Plan.Most
	if most[0].Steer < alone.Most[0].Steer+8*s1.Degree {
		t.Errorf("the most is %v, with the finger alone %v", most[0].Steer, alone.Most[0].Steer)
	}
	for _, target := range []float64{33, 38, most[0].Steer.Degrees() - 0.001} {
		p, err := s.plan(to(target))
		if err != nil {
			t.Fatalf("%g: %v", target, err)
		}
		holdsAt(t, p, target)
		for _, cut := range p.Cuts {
			if stops := cut.Stops != [2]bool{}; stops != (cut.Part.Name == "heel") {
				t.Errorf("%g: the %s is the stop: %v", target, cut.Part.Name, stops)
			}
		}
		if len(p.Cuts) != 4 || p.Lock(sweep.ToLeft, true).Degrees() > target+0.05 {
			t.Errorf("%g: %d cuts, lock %v", target, len(p.Cuts), p.Lock(sweep.ToLeft, true))
		}
		if p.Most != most {
			t.Errorf("%g: the most %v, want %v", target, p.Most, most)
		}
	}
}

// The margin to the linkage's own end is of the column, and just so large.
func TestMostKeepsTheMarginOfTheColumn(t *testing.T) {
	m := model(t, limited("clearance = 3\ntransmission = 0", false, lug("")+web))
	b := refused(t, looked(t, m), to(60))
	chain := b.Plan.Before[sweep.ToLeft].Chain
	end := chain[len(chain)-1].Column
	near(t, "margin", (end - b.Plan.Most[0].Column).Degrees(), 3, 0.15)
	if m := (end - b.Plan.Most[0].Column).Degrees(); m < 3 {
		t.Errorf("margin %g", m)
	}
}

// Halving the target finds what is told as the most, to a tenth of a degree, whether one asks for more or for less than it;
// and the last of the curve is it.
func TestBisectingTheTargetFindsTheMost(t *testing.T) {
	finger := part("lug", "spindle", "grind = true\n"+plateOf(corners(-46, -14, 14, -14, 14, 14, -20, 14, -32, -5, -46, -8), -10, 10))
	for name, text := range map[string]string{
		"leverage": fmt.Sprintf(kart, 8, 10, 3, lug("")+web),
		"bore":     fmt.Sprintf(kart, 8, 10, 3, lug("bore = 20\nmin_wall = 30")+web),
		"width":    fmt.Sprintf(kart, 8, 10, 3, finger+web),
		"declared": limited("clearance = 3\ntransmission = 10\nspindle = 36", false, lug("")+web),
	} {
		t.Run(name, func(t *testing.T) {
			m := model(t, text)
			s := looked(t, m)
			told := refused(t, s, to(80)).Plan.Most
			most := min(told[0].Steer, told[1].Steer).Degrees()
			low, high := 1.0, 80.0
			for high-low > 0.05 {
				mid := (low + high) / 2
				if p, err := s.plan(to(mid)); err == nil {
					low = mid
					if also := min(p.Most[0].Steer, p.Most[1].Steer).Degrees(); math.Abs(also-most) > 1e-6 {
						t.Fatalf("asked for %g the most is %g, asked for 80 it is %g", mid, also, most)
					}
				} else {
					high = mid
				}
			}
			near(t, "most", low, most, 0.1)
			p, err := s.plan(Target{Measure: AsFar})
			if err != nil {
				t.Fatal(err)
			}
			near(t, "as far as possible", p.Target.Angle.Degrees(), most, 0.1)
			near(t, "end of the curve", p.Curve[len(p.Curve)-1].Lesser().Degrees(), most, 0.1)
			for _, c := range p.Cuts {
				found := false
				for _, s := range p.Curve {
					found = found || math.Abs(s.Depth-c.Depth) < 0.02 && math.Abs((s.Lesser()-p.Lock(sweep.ToLeft, true)).Degrees()) < 0.1
				}
				if !found && c.Stops[0] {
					t.Errorf("the cut of %g mm and %v is not on the curve %v", c.Depth, p.Lock(sweep.ToLeft, true), p.Curve)
				}
			}
		})
	}
}

// TestChoicesAreTakenInTheOrderInWhichTheyTouch: of the finger, which meets the web first, and the heel, which meets the block later, either
// may be the stop; a choice past both is the last.
func TestChoicesAreTakenInTheOrderInWhichTheyTouch(t *testing.T) {
	finger := part("finger", "spindle", "grind = true\n"+plateOf(corners(-46, -14, 14, -14, 14, 14, -20, 14, -20, -9, -46, -9), -10, 10))
	heel := part("heel", "spindle", "grind = true\n"+plateOf(corners(-40, -14, 14, -14, 14, 14, -40, 10), 35, 45))
	block := part("block", "frame", "at = \"kingpin\"\n"+plateOf(corners(-50, -60, -10, -60, -10, -32, -50, -32), 35, 45))
	m := model(t, fmt.Sprintf(kart, 8, 10, 3, finger+web+heel+block))
	ground := func(i int) bool { return m.Scene.Pieces[i].Part != nil && m.Scene.Pieces[i].Part.Grind }
	for choice, want := range []string{"finger", "heel", "heel"} {
		for _, d := range sweep.Directions {
			w := newWay(m, d, ground, 3, choice)
			if w.choices != 2 || w.own == nil || !slices.ContainsFunc(w.own.Pair[:], func(i int) bool { return m.Scene.Pieces[i].Name == want }) {
				t.Errorf("choice %d of %d turned %v: got %+v, want the %s", choice, w.choices, d, w.own, want)
			}
		}
	}
}

// A pad is laid out about the kingpin, so that a plate of the frame described elsewhere is no site for one, though it lies square to the kingpin.
func TestPadsGoOnPlatesAboutTheKingpin(t *testing.T) {
	rail := part("rail", "frame", "mirror = true\n"+plateOf(corners(-60, 240, -10, 240, -10, 268, -60, 268), 100, 160))
	m := model(t, fmt.Sprintf(kart, 0, 0, 3, lug("")+web+rail))
	for i := range m.Scene.Pieces {
		p := &m.Scene.Pieces[i]
		if p.Flat == nil || p.Body != linkage.Frame {
			continue
		}
		if site := newSite(m, i, p.Side, 0.3); (site != nil) != (p.Name == "web") {
			t.Errorf("%s, %v: is a site: %t", p.Name, p.Side, site != nil)
		}
	}
}
