package grind

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"locksweep/fixtures/trial"
	"locksweep/geometry/setupfile"
	"locksweep/geometry/sweep"
)

// web is a block inboard of the kingpin that stops what reaches rearwards and inboard of it.
var web = part("web", "frame", "at = \"kingpin\"\n"+plateOf(corners(-60, -60, -10, -60, -10, -32, -60, -32), -30, 30))

// lug is a plain lug on the spindle with a bore, and what else is said of it.
func lug(rest string) string {
	return part("lug", "spindle", "grind = true\n"+rest+"\n"+plateOf(corners(-40, -14, 14, -14, 14, 14, -40, 10), -10, 10))
}

func to(degrees float64) Target { return Target{BySteer, s1.Angle(degrees) * s1.Degree} }

var plain = Options{Clearance: math.NaN()}

func TestBothSidesAreMirrorImages(t *testing.T) {
	m := model(t, fmt.Sprintf(kart, 8, 10, 3, lug("bore = 12")+web))
	p, err := Make(m, to(35), plain)
	if err != nil {
		t.Fatal(err)
	}
	if len(p.Cuts) != 2 {
		t.Fatalf("%d cuts, want 2", len(p.Cuts))
	}
	left, right := p.Cuts[0], p.Cuts[1]
	near(t, "area", left.Area, right.Area, 1e-6)
	near(t, "depth", left.Depth, right.Depth, 1e-6)
	near(t, "wall", left.Wall.Left(), right.Wall.Left(), 1e-6)
	near(t, "lock", float64(p.Lock(sweep.ToLeft, true)), float64(p.Lock(sweep.ToRight, true)), 1e-6)
}

// Turned to the target with the clearance left out, the ground metal itself is the stop there.
func TestWithoutClearanceTheCutIsTheStop(t *testing.T) {
	p, err := Make(model(t, fmt.Sprintf(kart, 8, 10, 3, lug("")+web)), to(35), Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range sweep.Directions {
		near(t, "lock", p.Lock(d, true).Degrees(), 35, 0.02)
		if l := p.Locks[d].First(); l == nil || l.Kind != sweep.Contact {
			t.Errorf("turned %s nothing touches", d)
		}
	}
}

func TestColumnTarget(t *testing.T) {
	p, err := Make(model(t, fmt.Sprintf(kart, 8, 10, 3, lug("")+web)), Target{ByColumn, 50 * s1.Degree}, plain)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "left", p.Columns[sweep.ToLeft].Degrees(), 50, 1e-9)
	near(t, "right", p.Columns[sweep.ToRight].Degrees(), -50, 1e-9)
	near(t, "reached", p.Reached().Degrees(), 50, 1e-9)
}

// looked is a study of a model, for several targets.
func looked(t *testing.T, m *sweep.Model) *study {
	t.Helper()
	s, err := look(m, BySteer, plain)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// refused plans for a target that cannot be reached.
func refused(t *testing.T, s *study, target Target) *BeyondError {
	t.Helper()
	_, err := s.plan(target)
	var b *BeyondError
	if !errors.As(err, &b) {
		t.Fatalf("got %v, want a refusal", err)
	}
	return b
}

func TestTargetsOutOfReach(t *testing.T) {
	post := part("post", "frame", "at = \"kingpin\"\n"+plateOf(corners(-85, -75, -60, -75, -60, -60, -85, -60), -58, -52)) // the arm meets it
	arm := "[arm]\npickup = [-100, -20, -60]\noutline = [[12, -12], [12, 12], [-12, 12], [-108, -12], [-108, -28], [-12, -12]]\nup = [-66, -54]\n"
	for _, c := range []struct {
		name, text string
		target     Target
		want       Reason
	}{
		{"past the dead point", fmt.Sprintf(kart, 8, 10, 3, lug("")+web), to(89), ByTransmission},
		{"too little leverage", strings.Replace(fmt.Sprintf(kart, 8, 10, 3, lug("")+web), "transmission = 10", "transmission = 50", 1), to(40), ByTransmission},
		{"through the bore's wall", fmt.Sprintf(kart, 8, 10, 3, lug("bore = 20\nmin_wall = 30")+web), to(36), ByWall},
		{"through the keep outline", fmt.Sprintf(kart, 8, 10, 3, lug("keep = [[-38, -13], [10, -12], [10, 12], [-38, 9]]")+web), to(36), ByWall},
		{"past the declared stop", strings.Replace(fmt.Sprintf(kart, 8, 10, 3, lug("")+web), "[limits]", "[limits]\nspindle = 30", 1), to(40), ByLimit},
		{"metal that is not marked", strings.Replace(fmt.Sprintf(kart, 0, 0, 3, lug("")+web+post), "[arm]\npickup = [-100, -20, -60]\n", arm, 1), to(40), ByLimit},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := looked(t, model(t, c.text))
			b := refused(t, s, c.target)
			for _, d := range sweep.Directions {
				most := &b.Plan.Most[d]
				if !b.Beyond[d] || most.Reason != c.want {
					t.Errorf("turned %s: beyond %v, reason %v, want %v", d, b.Beyond[d], most.Reason, c.want)
				}
				if !(most.Steer < c.target.Angle) {
					t.Errorf("turned %s: the most is %v of %v", d, most.Steer, c.target.Angle)
				}
			}
			// What is told as the most can be had.
			steer := min(b.Plan.Most[0].Steer, b.Plan.Most[1].Steer) - 0.001*s1.Degree
			if _, err := s.plan(Target{BySteer, steer}); err != nil {
				t.Errorf("the most, %v, is refused too: %v", steer, err)
			}
			if p, err := s.plan(Target{Measure: AsFar}); err != nil {
				t.Errorf("as far as possible: %v", err)
			} else if p.Target.Angle < steer-0.01*s1.Degree {
				t.Errorf("as far as possible gives %v, the most is %v", p.Target.Angle, steer)
			}
		})
	}
}

func TestNothingMarked(t *testing.T) {
	_, err := Make(model(t, fmt.Sprintf(kart, 8, 10, 3, web)), to(35), plain)
	if !errors.Is(err, ErrNothingMarked) {
		t.Errorf("got %v", err)
	}
}

func TestNothingToGrind(t *testing.T) {
	p, err := Make(model(t, fmt.Sprintf(kart, 8, 10, 3, lug("")+web)), to(15), plain)
	if err != nil || len(p.Cuts) != 0 {
		t.Errorf("got %d cuts (%v), want none: the lug stands well clear at 15 degrees", len(p.Cuts), err)
	}
}

// A larger obstacle never asks for a smaller cut, a larger target or clearance neither.
func TestMoreAskedMoreTaken(t *testing.T) {
	area := func(degrees, gap, grown float64) float64 {
		block := part("web", "frame", "at = \"kingpin\"\n"+plateOf(corners(-60-grown, -60, -10+grown, -60, -10+grown, -32+grown, -60-grown, -32+grown), -30, 30))
		text := strings.Replace(fmt.Sprintf(kart, 8, 10, gap, lug("")+block), "[limits]", "[limits]\nspindle = "+float(degrees), 1)
		p, err := Make(model(t, text), to(degrees-4), Options{Clearance: math.NaN(), Clear: true})
		if err != nil {
			t.Fatal(err)
		}
		if len(p.Cuts) == 0 {
			return 0
		}
		return p.Cuts[0].Area
	}
	last := 0.0
	for _, a := range []float64{area(30, 2, 0), area(33, 2, 0), area(36, 2, 0), area(36, 3, 0), area(36, 4, 0), area(36, 4, 1), area(36, 4, 3)} {
		if !(a > last) {
			t.Errorf("%g mm² after %g", a, last)
		}
		last = a
	}
}

// The ear of a yoke, concave, is ground for the lug where the lug is not marked.
func TestFrameEarIsGround(t *testing.T) {
	lug := strings.Replace(lug(""), "grind = true\n", "", 1)
	ear := part("ear", "frame", "at = \"kingpin\"\ngrind = true\n"+plateOf(corners(-60, -60, -10, -60, -10, -32, -30, -32, -34, -44, -38, -32, -60, -32), -30, 30))
	p, err := Make(model(t, fmt.Sprintf(kart, 8, 10, 2, lug+ear)), to(36), plain)
	if err != nil {
		t.Fatal(err)
	}
	if len(p.Cuts) != 2 || p.Cuts[0].Part.Name != "ear" {
		t.Fatalf("%d cuts", len(p.Cuts))
	}
	holdsAt(t, p, 36)
}

// Of two marked plates the one that comes off for the bench is ground, unless the other is asked for.
func TestSpindleIsGroundBeforeTheFrame(t *testing.T) {
	text := fmt.Sprintf(kart, 8, 10, 2, lug("")+strings.Replace(web, "at = ", "grind = true\nat = ", 1))
	for want, opt := range map[string]Options{"lug": plain, "web": {Clearance: math.NaN(), Part: "web"}} {
		p, err := Make(model(t, text), to(36), opt)
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range p.Cuts {
			if c.Part.Name != want {
				t.Errorf("%s is ground, want %s", c.Part.Name, want)
			}
		}
	}
}

func TestOutlinesOfManyPointsAndSlivers(t *testing.T) {
	var many []r2.Point // a rounded lug
	n := trial.Every(1_000, 10_000)
	for i := range n {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		many = append(many, r2.Point{X: -15 + 27*cos, Y: 14 * sin})
	}
	spike := corners(-40, -14, 14, -14, 14, 14, -40, 10, -44, 9.999, -40, 9.99)
	comb := corners(14, 14, -41, 10) // teeth a tenth of a millimetre wide
	for i := range trial.Every(10, 40) {
		x := -41 + float64(i)
		comb = append(comb, r2.Point{X: x + 0.05, Y: -14}, r2.Point{X: x + 0.15, Y: -14}, r2.Point{X: x + 0.2, Y: -4})
	}
	comb = append(comb, r2.Point{X: 14, Y: -14})
	for name, outline := range map[string][]r2.Point{"many points": many, "spike": spike, "comb": comb} {
		t.Run(name, func(t *testing.T) {
			text := fmt.Sprintf(kart, 8, 10, 2, part("lug", "spindle", "grind = true\n"+plateOf(outline, -10, 10))+web)
			p, err := Make(model(t, text), to(36), plain)
			var b *BeyondError
			if name == "comb" { // its teeth are no stop, and what they stand on is met too late
				if !errors.As(err, &b) || b.Plan.Most[0].Reason != ByWidth {
					t.Errorf("got %v, want a refusal for want of width", err)
				}
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			holdsAt(t, p, 36)
			for _, c := range p.Cuts {
				if _, _, err := setupfile.Read("kart.toml", []byte(text), setupfile.Options{Set: []string{"part.lug.plate.outline=" + points(c.After)}}); err != nil {
					t.Errorf("the finished outline is refused: %v", err)
				}
			}
		})
	}
}

// A rod that a lug comes near moves in no plain turn; the cut for it is in small steps and as exact.
func TestRodInTheWay(t *testing.T) {
	text := fmt.Sprintf(kart, 0, 0, 2, part("lug", "spindle", "grind = true\n"+plateOf(corners(-14, -14, 14, -14, 14, 14, -14, 14, -14, 2, -80, -45, -78, -49), -70, -50)))
	m := model(t, text)
	p, err := Make(m, to(36), plain)
	if err != nil || len(p.Cuts) != 0 {
		t.Fatalf("%v, %d cuts; the wheels turn so far today", err, len(p.Cuts))
	}
	j, err := newJob(m, plain, 0)
	if err != nil {
		t.Fatal(err)
	}
	j.roles, j.ends = [2]role{passes, passes}, p.Columns
	var bad *Most
	if j.Cuts, bad, err = j.cuts(j.ends, j.gap); err != nil || bad != nil || len(j.Cuts) != 2 {
		t.Fatalf("%v, %v, %d cuts, want 2", err, bad, len(j.Cuts))
	}
	if err := j.prove(); err != nil {
		t.Fatal(err)
	}
	j.gapsOf(j.Cuts[0])
	near(t, "clearance", j.Cuts[0].Passes, 2, 0.02)
}

// Where the metal that was ground touches only after the leverage is gone, a pad is proposed that a sweep
// with the pad in it finds to give the lock.
func TestPadGivesTheLock(t *testing.T) {
	text := strings.Replace(fmt.Sprintf(kart, 8, 10, 6, lug("bore = 10")+web), "transmission = 10", "transmission = 44", 1)
	m := model(t, text)
	p, err := Make(m, Target{Measure: AsFar}, plain)
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range sweep.Directions {
		s := &p.Stops[d]
		if !s.Missing() {
			t.Fatalf("turned %s: metal stops at %v, nothing is missing", d, s.Steer)
		}
		if s.Pad == nil {
			t.Fatalf("turned %s: no place for a pad", d)
		}
		near(t, "lock with the pad", s.Pad.Lock.Degrees(), s.Wanted.Degrees(), 0.05)
	}
}
