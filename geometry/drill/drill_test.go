package drill

import (
	"errors"
	"fmt"
	"math"
	"runtime"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/fixtures/example"
	"locksweep/fixtures/trial"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// narrow searches in metal that is narrow; but under -long with a drill that does not wander.
func narrow() Options {
	return Options{Edge: 1.2, Web: 2.2, Step: 10, Reach: 40, Best: 2, Slip: trial.Every(-1.0, 0)}
}

// found keeps the answers for examples, so that tests that look at the same one search once; they only read it.
var found = map[string]*Result{}

func searched(t testing.TB, name string, on On, opt Options) *Result {
	t.Helper()
	key := fmt.Sprint(name, on, opt)
	if found[key] == nil {
		found[key] = search1(t, example.Read(t, name), on, Aims{Percent: 100}, opt)
	}
	return found[key]
}

// posted is a steering in the plane with a post near either rod, for which the gap is kept that its file wants.
func posted() *setup.Setup {
	s := plane{640, 1040, -60, 60, 14}.setup(-100, -20)
	s.Limits.Clearance = 4
	s.Parts = []setup.Part{post(-120, 160, 6), post(-120, -160, 6)}
	return s
}

// searchedPosted is its answer for an arm made anew, searched once.
func searchedPosted(t testing.TB) *Result {
	if found["posted"] == nil {
		found["posted"] = search1(t, posted(), Arm, Aims{Percent: 100}, Options{NewMetal: true, Step: 8, Reach: trial.Every(12.0, 25), Best: 1})
	}
	return found["posted"]
}

// prepared is a search before its first place.
func prepared(t testing.TB, s *setup.Setup, on On, opt Options) *Result {
	t.Helper()
	if err := opt.settle(s, on); err != nil {
		t.Fatal(err)
	}
	base, err := sweep.New(s)
	if err != nil {
		t.Fatal(err)
	}
	r := &Result{Setup: s, On: on, Options: opt, Metals: metals(s, on, &opt), Aims: wish}
	r.search = newSearch(r, base)
	return r
}

func search1(t testing.TB, s *setup.Setup, on On, aims Aims, opt Options) *Result {
	t.Helper()
	r, err := Search(s, on, aims, opt)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// strict is no tie at all.
var strict = Tie{Error: -1, Lock: -1}

// TestNeverWorseThanBruteForce judges every place of a grid of three tenths of the search's step, of a tenth under -long. Within
// the slip only those are judged that would be better in their very place, since none does better within it: see
// TestLazyIsExact. But for the last row and under -long the drill does not wander.
func TestNeverWorseThanBruteForce(t *testing.T) {
	if testing.Short() {
		t.Skip("judges some thousand places")
	}
	free := plane{640, 1040, -60, 60, 14}
	mended := example.Read(t, "cyclekart")
	for _, side := range setup.Sides {
		mended.Corners[side].Arm.Metal = setup.Metal{} // too narrow for another hole
	}
	for i, c := range []struct {
		name  string
		setup *setup.Setup
		on    On
		aims  Aims
		opt   Options
		long  bool // under -long alone
	}{
		{"kart, drop arm between its parts", example.Read(t, "shed-kart"), DropArm, Aims{Percent: 100}, Options{Edge: 1.2, Web: 2.2}, false},
		{"quad, arm, more lock", example.Read(t, "pedal-quad"), Arm, Aims{Percent: 100, Lock: 34 * s1.Degree}, Options{NewMetal: true}, true},
		{"buggy, arm, ratio", example.Read(t, "field-buggy"), Arm, Aims{Percent: 60, Ratio: 0.75, Alike: true}, Options{NewMetal: true, Reach: 8}, true},
		{"cyclekart, unequal arms", mended, Arm, Aims{Percent: 100, Lock: 33 * s1.Degree}, Options{NewMetal: true, Reach: 6}, true},
		{"plane, out of reach", free.setup(-100, -20), Arm, Aims{Percent: 0, Lock: 80 * s1.Degree}, Options{NewMetal: true, Reach: 8}, false},
	} {
		if c.long && !trial.Long() {
			continue
		}
		t.Run(c.name, func(t *testing.T) {
			c.opt.Step, c.opt.Best, c.aims.Tie = 4, 1, strict
			if i < 4 {
				c.opt.Slip = trial.Every(-1.0, 0)
			}
			r := search1(t, c.setup, c.on, c.aims, c.opt)
			grid, got := r.search.gridOf(trial.Every(12, 4)), r.Best[0].rank
			ranks := each(grid, func(n node) rank {
				j := r.search.figures(n)
				if j.possible && j.rank.compare(&got) < 0 {
					r.search.surely(&j, nil, nil)
				}
				return j.rank
			}, nil)
			if len(grid) < trial.Every(16, 50) {
				t.Fatalf("only %d places to compare with", len(grid))
			}
			for i := range ranks {
				if ranks[i].compare(&got) < 0 {
					t.Fatalf("of %d places %v is better: %v, the search found %v: %v", len(grid), grid[i], ranks[i], r.Best[0].Spot, got)
				}
			}
		})
	}
}

// TestSameOnAnyNumberOfCores compares whole answers.
func TestSameOnAnyNumberOfCores(t *testing.T) {
	plane := plane{640, 1040, -60, 60, 0}
	for _, c := range []struct {
		setup *setup.Setup
		on    On
		step  float64
	}{{plane.setup(-100, -20), Arm, 2}, {plane.setup(-100, -20), Both, 8}, {example.Read(t, "field-buggy"), Arm, 8}}[:trial.Count(1, 3)] {
		var answers [2]string
		for i, cores := range [2]int{1, 3} {
			before := runtime.GOMAXPROCS(cores)
			r := search1(t, c.setup, c.on, Aims{Percent: 100}, Options{Step: c.step, Reach: trial.Every(12.0, 20), Best: trial.Every(1, 2), NewMetal: true})
			if r.Judged < 100 {
				t.Fatalf("%v: only %d places judged", c.on, r.Judged)
			}
			runtime.GOMAXPROCS(before)
			for _, l := range append([]Listed{r.Current}, r.Best...) {
				answers[i] += fmt.Sprintf("%v %v %v %v %v\n", l.Place, l.Clearance, l.Edge, l.Web, l.PerMM)
			}
			answers[i] += fmt.Sprint(r.Front, r.Misses, r.Judged)
		}
		if answers[0] != answers[1] {
			t.Errorf("%v: with one core\n%s\nwith three\n%s", c.on, answers[0], answers[1])
		}
	}
}

// alike is an error that is no reason to look further, degrees.
const alike = 0.05

// TestBothIsNoWorseThanEither: four co-ordinates hold the places of two. With a drill that does not wander, since two
// holes drilled anew may wander twice; under -long with parts about the rods and, where holes are there, with a drill that does.
func TestBothIsNoWorseThanEither(t *testing.T) {
	for _, c := range []struct {
		name  string
		setup *setup.Setup
		lock  s1.Angle
		opt   Options
	}{
		{"plane", plane{640, 1040, -60, 60, 14}.setup(-100, -20), 30, Options{NewMetal: true, Reach: trial.Every(5.0, 8), Step: trial.Every(5.0, 8), Slip: -1}},
		{"starter", example.Read(t, "starter", "limits.spindle=30"), 28, Options{Step: 8, Reach: 25}},
		{"field-buggy", example.Read(t, "field-buggy"), 32, Options{NewMetal: true, Reach: 20, Slip: -1}},
	}[:trial.Count(1, 3)] {
		aims := Aims{Percent: 100, Lock: c.lock * s1.Degree, Tie: Tie{Error: s1.Angle(trial.Every(alike, -1)) * s1.Degree, Lock: -1}}
		c.opt.Best = 1
		got := search1(t, c.setup, Both, aims, c.opt).Best[0]
		for _, on := range []On{Arm, DropArm} {
			one := search1(t, c.setup, on, aims, c.opt).Best[0]
			// In four co-ordinates the valley is not followed to its very bottom.
			want := one.rank
			want[Ackermann] += trial.Every(alike, 0) + 0.01
			if want.compare(&got.rank) < 0 {
				t.Errorf("%s, both: %v at %v, %v alone: %v at %v", c.name, got.rank, got.Spot, on, want, one.Spot)
			}
		}
	}
}

// TestPlacesKeepTheirDistance measures every listed place anew, in the metal's plane.
func TestPlacesKeepTheirDistance(t *testing.T) {
	for _, c := range []struct {
		name string
		on   On
	}{{"pedal-quad", Arm}, {"field-buggy", DropArm}, {"field-buggy", Arm}, {"cyclekart", Arm}}[:trial.Every(1, 4)] {
		r, fresh := searched(t, c.name, c.on, narrow()), 0
		for _, l := range r.Best {
			if l.Existing != "" {
				continue
			}
			fresh++
			if d := r.Options.Diameter; !math.IsNaN(l.Edge) && l.Edge < 1.2*d-1e-3 || l.Web < 2.2*d-1e-3 {
				t.Errorf("%s %v: %v lies %.3f from the edge and %.3f from the next hole of %.0f", c.name, c.on, l.Spot, l.Edge, l.Web, d)
			}
			for _, side := range setup.Sides {
				before, after := r.Setup.Kingpin(side), l.Pickups[side].Sub(r.Current.Pickups[side])
				if lift := setup.FromCorner(side, after).Dot(before.Dir); math.Abs(lift) > 0.002 { // half of what the last digit written is worth
					t.Errorf("%s %v: the %v ball rises by %g along its kingpin", c.name, c.on, side, lift)
				}
			}
		}
		if fresh < 2 {
			t.Errorf("%s %v: only %d new holes to measure", c.name, c.on, fresh)
		}
	}
}

// TestEdgeDistanceOfARectangle: a plate of 100 by 30 on an upright kingpin leaves holes of 8 with two diameters
// to the edge a strip, and the best place lies in it.
func TestEdgeDistanceOfARectangle(t *testing.T) {
	p := plane{640, 1040, -60, 60, 14}
	s := p.setup(-100, -20)
	for _, side := range setup.Sides {
		s.Corners[side].Arm.Metal = setup.Metal{Outline: []r2.Point{{X: -120, Y: -35}, {X: -20, Y: -35}, {X: -20, Y: 5}, {X: -120, Y: 5}}, Lower: -3, Upper: 3}
	}
	r := search1(t, s, Arm, Aims{Percent: 100}, Options{NewMetal: true, Step: 4, Slip: trial.Every(-1.0, 0)})
	for _, l := range r.Best {
		at := l.Pickups[setup.Left]
		edge := min(at.X+120, -20-at.X, at.Y+35, 5-at.Y)
		if edge < 16-1e-3 || math.Abs(edge-l.Edge) > 1e-9 {
			t.Errorf("%v lies %.4f from the edge, said to be %.4f, wanted 16", at, edge, l.Edge)
		}
	}
	_, err := Search(s, Arm, Aims{Percent: 100}, Options{NewMetal: true, Edge: 2.6})
	var room *NoRoomError
	if !errors.As(err, &room) || math.Abs(room.Widest-2.5) > 0.07 {
		t.Errorf("holes of 8 in a strip 40 wide leave 2.5 diameters: got %v", err)
	}
}

// TestListedFiguresAreThoseOfTheSweep runs the sweep of each listed place from scratch.
func TestListedFiguresAreThoseOfTheSweep(t *testing.T) {
	for _, name := range []string{"pedal-quad", "shed-kart", "field-buggy", "cyclekart"}[:trial.Every(1, 4)] {
		r := searched(t, name, Arm, narrow())
		s := r.Setup
		for _, l := range r.Best[:min(3, len(r.Best))] {
			fresh, err := sweep.Run(l.Fit(s), 0.25*s1.Degree)
			if err != nil {
				t.Fatal(err)
			}
			worst := s1.Angle(0)
			for i := range fresh.Poses {
				p := &fresh.Poses[i]
				if p.Turn.Known() && p.MeanSteer().Abs() >= r.Aims.From && p.Turn.InnerSteer <= r.Aims.Lock {
					worst = max(worst, p.Turn.Error.Abs())
				}
			}
			if d := (worst - l.Worst).Abs().Degrees(); d > 0.1 {
				t.Errorf("%s %v: most off %.4f by the poses, %.4f said", name, l.Spot, worst.Degrees(), l.Worst.Degrees())
			}
			for _, d := range sweep.Directions {
				if by := (fresh.Locks[d].Pose.Turn.InnerSteer - l.Inner[d]).Abs(); by > 1e-3*s1.Degree {
					t.Errorf("%s %v: inner wheel %v at %v lock, %v said", name, l.Spot, fresh.Locks[d].Pose.Turn.InnerSteer, d, l.Inner[d])
				}
			}
			for _, side := range setup.Sides {
				if toe := fresh.Rods[side].Toe - s.Corners[side].Wheel.Toe; toe.Abs() > 1e-9*s1.Degree {
					t.Errorf("%s %v: the rods change the toe by %v", name, l.Spot, toe)
				}
			}
			for i := range fresh.Poses {
				p := &fresh.Poses[i]
				for d, end := range l.ends { // as far as the lock wanted
					if float64(p.Column)*sweep.Direction(d).Sign() < 0 || p.Column.Abs() > end.Abs() {
						continue
					}
					for _, side := range setup.Sides {
						if least := min(p.Transmission[side][0], p.Transmission[side][1]); least < l.Transmission-1e-6*s1.Degree {
							t.Errorf("%s %v: leverage falls to %v, %v said", name, l.Spot, least, l.Transmission)
						}
					}
				}
			}
		}
	}
}

// TestOutOfReach: an aim that no place meets is named with the nearest attainable, and lets go last.
func TestOutOfReach(t *testing.T) {
	p := plane{640, 1040, -60, 60, 14}
	s := p.setup(-100, -20) // spindles stop at 40 degrees
	opt := Options{NewMetal: true, Reach: 8, Step: 8, Best: 1, Slip: trial.Every(-1.0, 0)}
	r := search1(t, s, Arm, Aims{Percent: 100, Lock: 55 * s1.Degree}, opt)
	if len(r.Misses) != 1 || r.Misses[0].Aim != Lock || math.Abs(s1.Angle(r.Misses[0].Nearest).Degrees()-40) > 0.01 {
		t.Errorf("wanted a lock of 55 from spindles that stop at 40: %+v", r.Misses)
	}
	r = search1(t, s, Arm, Aims{Percent: 100, Lock: 35 * s1.Degree, Within: 0.01 * s1.Degree}, opt)
	if len(r.Misses) != 1 || r.Misses[0].Aim != Ackermann || r.Misses[0].Nearest != float64(r.Best[0].Worst) {
		t.Errorf("wanted ideal steering to a hundredth: %+v, best %v", r.Misses, r.Best[0].Worst)
	}
}

// TestTradeIsATrade: along the front lock and error both grow.
func TestTradeIsATrade(t *testing.T) {
	r := trading(t)
	if len(r.Front) < 3 {
		t.Fatalf("only %d places in the trade", len(r.Front))
	}
	for i := 1; i < len(r.Front); i++ {
		a, b := &r.Front[i-1].Figures, &r.Front[i].Figures
		if b.Lock() <= a.Lock() || b.Worst < a.Worst {
			t.Errorf("lock %v with error %v, then %v with %v", a.Lock(), a.Worst, b.Lock(), b.Worst)
		}
	}
	for i := range r.Front {
		w := &r.Front[i].Within
		if w.Transmission < r.Aims.Leverage-0.01*s1.Degree || i > 0 && w.Lock <= r.Front[i-1].Within.Lock {
			t.Errorf("place %d of the trade: leverage %v, wanted %v, lock within the slip %v", i+1, w.Transmission, r.Aims.Leverage, w.Lock)
		}
	}
}

// TestRefusesToGoBelowTheFloor of the standard.
func TestRefusesToGoBelowTheFloor(t *testing.T) {
	s := example.Read(t, "field-buggy")
	for _, opt := range []Options{{Edge: 1.19}, {Web: 2.1}, {Edge: math.NaN()}, {Diameter: -1}, {Step: 0.01}, {Best: 50}, {Reach: 1e6}} {
		var bad *OptionError
		if _, err := Search(s, Arm, Aims{}, opt); !errors.As(err, &bad) {
			t.Errorf("%+v: got error %v, want an OptionError", opt, err)
		}
	}
}

// TestUnequalArmsKeepTheirDifference: one shift moves both.
func TestUnequalArmsKeepTheirDifference(t *testing.T) {
	s := example.Read(t, "cyclekart")
	for _, side := range setup.Sides {
		s.Corners[side].Arm.Metal = setup.Metal{}
	}
	r := search1(t, s, Arm, Aims{Percent: 100}, Options{NewMetal: true, Reach: 12, Step: 8, Best: 2, Slip: -1})
	if len(r.Best) < 2 {
		t.Fatalf("only %d places to look at", len(r.Best))
	}
	for _, l := range r.Best {
		left := l.Pickups[setup.Left].Sub(s.Corners[setup.Left].Arm.Pickup)
		right := l.Pickups[setup.Right].Sub(s.Corners[setup.Right].Arm.Pickup)
		if (r3.Vector{X: left.X - right.X, Y: left.Y - right.Y}).Norm() > 1e-9 {
			t.Errorf("left moved by %v, right by %v", left, right)
		}
	}
}

// TestHugeMetalIsRefused: a plate as large as a field would be searched blindly.
func TestHugeMetalIsRefused(t *testing.T) {
	p := plane{640, 1040, -60, 60, 14}
	s := p.setup(-100, -20)
	far := 1e6
	for _, side := range setup.Sides {
		s.Corners[side].Arm.Metal.Outline = []r2.Point{{X: -far, Y: -far}, {X: far, Y: -far}, {X: far, Y: far}, {X: -far, Y: far}}
	}
	var work *WorkError
	if _, _, err := prepared(t, s, Arm, Options{}).search.grid(); !errors.As(err, &work) {
		t.Errorf("got %v, want a *WorkError", err)
	}
}

// TestNowhere: where every allowed place drives the rods through metal there is no answer, and no panic.
func TestNowhere(t *testing.T) {
	p := plane{640, 1040, -60, 60, 14}
	s := p.setup(-100, -20)
	wall := func(x float64) setup.Part {
		return setup.Part{Name: "wall", Tube: &setup.Tube{Diameter: 3, Path: []r3.Vector{{X: x, Y: 200, Z: 199}, {X: x, Y: 200, Z: 201}}}}
	}
	for x := -80.0; x > -200; x -= 2 {
		s.Parts = append(s.Parts, wall(x))
	}
	for _, side := range setup.Sides { // allowed only behind, where the tubes stand
		s.Corners[side].Arm.Metal.Outline = []r2.Point{{X: -180, Y: -40}, {X: -125, Y: -40}, {X: -125, Y: 0}, {X: -180, Y: 0}}
	}
	s.Parts = s.Parts[18:] // today's rod passes before them
	_, err := Search(s, Arm, Aims{Percent: 100}, Options{NewMetal: true})
	if !errors.Is(err, ErrNowhere) {
		t.Errorf("got %v, want ErrNowhere", err)
	}
}
