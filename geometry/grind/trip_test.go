package grind

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"locksweep/fixtures/example"
	"locksweep/fixtures/trial"
	"locksweep/geometry/region"
	"locksweep/geometry/setupfile"
	"locksweep/geometry/sweep"
)

// randomTrial is a random kart with something to grind and something that is in its way.
func randomTrial(r *rand.Rand) string {
	between := func(low, high float64) float64 { return low + (high-low)*r.Float64() }
	lug := part("lug", "spindle", "grind = true\nbore = 8\nmin_wall = 1\n"+plateOf(star(r, r2.Point{X: between(-8, 8), Y: between(-8, 8)}, 7+r.IntN(12), 12, 55), -8, 8))
	var post string
	switch r.IntN(4) {
	case 0: // upright and aslant tubes
		x, y := between(-60, 60), between(-80, 20)
		post = part("post", "frame", fmt.Sprintf("mirror = true\ntube = { diameter = %v, path = [[%v, %v, 60], [%v, %v, 210]] }", between(6, 24), x, 320+y, x+between(-60, 60), 320+y+between(-60, 60)))
	case 1: // a concave plate square to the kingpin
		post = part("post", "frame", "at = \"kingpin\"\n"+plateOf(star(r, r2.Point{X: between(-60, 60), Y: between(-80, 40)}, 4+r.IntN(6), 6, 22), between(-30, -2), between(2, 30)))
	case 2: // a level plate, askew to a tilted kingpin
		post = part("post", "frame", "mirror = true\n"+plateOf(star(r, r2.Point{X: between(-60, 60), Y: 320 + between(-80, 40)}, 4+r.IntN(6), 6, 22), 125-between(0, 20), 135+between(0, 20)))
	default: // a ball of a joint, or a disc
		post = part("post", "frame", fmt.Sprintf("mirror = true\ndisc = { centre = [%v, %v, %v], axis = [%v, %v, 1], diameter = %v, width = %v }",
			between(-60, 60), 320+between(-80, 40), between(115, 145), between(-2, 2), between(-2, 2), between(10, 40), between(4, 20)))
	}
	ear := ""
	if r.IntN(3) == 0 { // the frame gives way instead
		lug = strings.Replace(lug, "grind = true\nbore = 8\nmin_wall = 1\n", "", 1)
		ear = part("ear", "frame", "at = \"kingpin\"\ngrind = true\n"+plateOf(star(r, r2.Point{X: between(-60, 60), Y: between(-80, 40)}, 5+r.IntN(9), 8, 26), -8, 8))
		post = ""
	}
	ignore := `["lug", "steering arm"], ["lug", "tyre"], ["lug", "tie rod"]`
	for _, other := range []string{post, ear} {
		if other != "" {
			ignore += `, ["` + strings.Split(other, `"`)[1] + `", "steering arm"]`
		}
	}
	return "ignore = [" + ignore + "]\n" + fmt.Sprintf(kart, between(-3, 15), between(-3, 15), between(0, 5), lug+post+ear)
}

// Every cut adds up to the whole, and the setup with the finished outline put back reaches the target
// with the wanted clearance, as a sweep that knows nothing of the plan finds.
func TestPlannedCutPutBackReachesTheTarget(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 2))
	planned, refused, touching := 0, 0, 0
	wanted := trial.Count(2, 60)
	for i := 0; planned < wanted && i < 2000; i++ {
		text := randomTrial(r)
		target := Target{BySteer, s1.Angle(18+16*r.Float64()) * s1.Degree}
		m, err := sweep.New(example.Parse(t, text))
		if err != nil {
			touching++
			continue
		}
		p, err := Make(m, target, Options{Clearance: math.NaN()})
		var beyond *BeyondError
		switch {
		case errors.As(err, &beyond), errors.Is(err, ErrNothingMarked):
			refused++
			continue
		case err != nil:
			t.Fatalf("%v\n%s", err, text)
		case len(p.Cuts) == 0:
			continue
		}
		planned++
		holdsAt(t, p, target.Angle.Degrees())
		if again, err := Make(p.After, target, Options{Clearance: math.NaN()}); err != nil || len(again.Cuts) > 0 {
			t.Errorf("once ground, it is to be ground again: %v", err)
		}
		for _, c := range p.Cuts {
			whole := region.Of(c.Before).Area()
			near(t, "removed and kept", c.Area+region.Of(c.After).Area(), whole, 1e-6*whole)
			near(t, "share left", c.Share*whole, region.Of(c.After).Area(), 1e-6*whole)
			if !(c.Depth > 0) {
				t.Errorf("depth %g of a cut of %g mm²", c.Depth, c.Area)
			}
		}
		for d := range p.Curve[1:] {
			for _, way := range sweep.Directions {
				if p.Curve[d+1].Lock[way] < p.Curve[d].Lock[way] {
					t.Errorf("turned %s the lock shrinks from %v at %g mm to %v", way, p.Curve[d].Lock[way], p.Curve[d].Depth, p.Curve[d+1].Lock[way])
				}
			}
		}
		if t.Failed() {
			t.Fatalf("steer %v\n%s", target.Angle, text)
		}
	}
	t.Logf("%d planned, %d out of reach, %d in touch straight ahead", planned, refused, touching)
	if planned < wanted {
		t.Errorf("only %d plans were tried", planned)
	}
}

// The finished outline goes back into the file through its text, as a builder would put it there.
func TestOutlineGoesBackIntoTheFile(t *testing.T) {
	text := fmt.Sprintf(kart, 8, 10, 3,
		part("lug", "spindle", "grind = true\n"+plateOf(corners(-40, -14, 14, -14, 14, 14, -40, 10), -10, 10))+
			part("web", "frame", "at = \"kingpin\"\n"+plateOf(corners(-60, -60, -10, -60, -10, -32, -60, -32), -30, 30)))
	m := model(t, text)
	p, err := Make(m, Target{BySteer, 35 * s1.Degree}, Options{Clearance: math.NaN()})
	if err != nil {
		t.Fatal(err)
	}
	if len(p.Cuts) != 2 {
		t.Fatalf("%d cuts, want one on either side", len(p.Cuts))
	}
	set := []string{"part.lug.plate.outline=" + points(p.Cuts[0].After)}
	s, _, err := setupfile.Read("kart.toml", []byte(text), setupfile.Options{Set: set})
	if err != nil {
		t.Fatal(err)
	}
	again, err := sweep.New(s)
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range sweep.Directions {
		lock := again.Lock(d)
		if steer := lock.Pose.Wheels[p.ways[d].inner].Steer.Abs(); steer < 35*s1.Degree || steer > 35.05*s1.Degree {
			t.Errorf("turned %s the wheel gets to %v, want 35 to 35.05", d, steer)
		}
	}
}

// The curve rises to where grinding ends and is told no further.
func TestCurveEndsWhereGrindingDoes(t *testing.T) {
	p, err := Make(model(t, fmt.Sprintf(kart, 8, 10, 3, lug("bore = 12")+web)), to(35), plain)
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range sweep.Directions {
		corner := slices.IndexFunc(p.Curve, func(s Step) bool { return s.Lock[d] >= p.Most[d].Steer-1e-9 })
		if corner < 2 || corner != len(p.Curve)-1 || p.Curve[corner].Ended[d] {
			t.Fatalf("turned %s the curve does not end with the most, %v: %v", d, p.Most[d].Steer, p.Curve)
		}
		a, b, c := p.Curve[corner-2], p.Curve[corner-1], p.Curve[corner]
		before := float64(b.Lock[d]-a.Lock[d]) / (b.Depth - a.Depth)
		into := float64(c.Lock[d]-b.Lock[d]) / (c.Depth - b.Depth)
		if math.Abs(into/before-1) > 0.1 {
			t.Errorf("turned %s the end at %.3f mm does not lie on the rise: it rises by %.5f a mm there, %.5f before", d, c.Depth, into, before)
		}
	}
}
