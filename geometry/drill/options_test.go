package drill

import (
	"errors"
	"math"
	"slices"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/fixtures/example"
	"locksweep/fixtures/trial"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// TestBoreCounts: a bore of 120 that a part on the spindle tells keeps a hole of 8 at least 60 + 2 · 8 from the axis.
func TestBoreCounts(t *testing.T) {
	s := example.Read(t, "shed-kart")
	i := slices.IndexFunc(s.Parts, func(p setup.Part) bool { return p.Bore > 0 })
	s.Parts[i].Bore = 120
	var opt Options
	if err := opt.settle(s, Arm); err != nil {
		t.Fatal(err)
	}
	for _, m := range metals(s, Arm, &opt) {
		if m.LeastLever != 76 {
			t.Errorf("%s: %.3f mm to the axis, want 76", m.Name, m.LeastLever)
		}
	}
	if m := metals(s, DropArm, &opt)[0]; m.LeastLever > 40 {
		t.Errorf("the bore of a spindle keeps holes of the drop arm %.3f away", m.LeastLever)
	}
}

// TestEdgeKept: only where every metal has an outline.
func TestEdgeKept(t *testing.T) {
	ring := []r2.Point{{X: 1}, {Y: 1}, {X: -1}}
	for _, c := range []struct {
		metals []*Metal
		want   bool
	}{{[]*Metal{{Outline: ring}, {Outline: ring}}, true}, {[]*Metal{{Outline: ring}, {}}, false}, {[]*Metal{{}}, false}} {
		if got := (&Result{Metals: c.metals}).EdgeKept(); got != c.want {
			t.Errorf("%+v: %v", c.metals, got)
		}
	}
}

// TestGradesReadTheSameWay: more lock and leverage are better, less error is, and a ratio near the one wanted.
func TestGradesReadTheSameWay(t *testing.T) {
	for _, c := range []struct {
		figure Figure
		wanted float64
		want   []int // by band: under 1, to 2, to 3, over
	}{
		{LockFigure, 0, []int{0, 1, 2, 3}}, {TransmissionFigure, 0, []int{0, 1, 2, 3}}, {ErrorFigure, 0, []int{3, 2, 1, 0}},
		{RatioFigure, 1.5, []int{1, 3, 1, 0}}, {RatioFigure, 0.2, []int{3, 2, 1, 0}}, {RatioFigure, 9, []int{0, 1, 2, 3}},
	} {
		m := Map{Figure: c.figure, Levels: []float64{1, 2, 3}, Wanted: c.wanted}
		if got := m.good(); !slices.Equal(got, c.want) {
			t.Errorf("%v, %v wanted: %v, want %v", c.figure, c.wanted, got, c.want)
		}
	}
}

// TestWorkIsCounted before it is done: a step that was asked for is refused with the one that does, one that was not is
// made coarser.
func TestWorkIsCounted(t *testing.T) {
	s := plane{640, 1040, -60, 60, 14}.setup(-100, -20)
	for _, c := range []struct {
		opt    Options
		on     On
		refuse bool
		least  float64 // places said
	}{
		{Options{Step: 0.1}, Arm, true, 100_000}, {Options{Step: 0.1}, Both, true, 1e9}, {Options{Step: 2, Reach: 30}, Arm, false, 0},
		{Options{Reach: 500}, Arm, false, 0}, {Options{Reach: 500}, Both, true, 1e6}, {Options{Each: true}, Arm, false, 0},
	} {
		grid, step, err := prepared(t, s, c.on, c.opt).search.grid()
		var work *WorkError
		if errors.As(err, &work) != c.refuse {
			t.Errorf("%+v: error %v", c.opt, err)
			continue
		}
		if c.refuse {
			if work.Places < c.least {
				t.Errorf("%+v: said to be %.3g places", c.opt, work.Places)
			}
			if again := c.opt; work.Needed > 0 {
				again.Step = work.Needed
				if _, _, err := prepared(t, s, c.on, again).search.grid(); err != nil {
					t.Errorf("%+v: the step that was named, %v, is refused: %v", c.opt, work.Needed, err)
				}
			}
			continue
		}
		most := mostPlaces
		if c.opt.Each {
			most = mostBoth
		}
		if len(grid) > most || len(grid) < 9 || step < 1 {
			t.Errorf("%+v: %d places at %d tenths", c.opt, len(grid), step)
		}
	}
}

// TestEachSideHasItsPlace: with a bent right spindle, places of their own are no worse than one for both, and the right
// one is not the left one's image.
func TestEachSideHasItsPlace(t *testing.T) {
	s := plane{640, 1040, -60, 60, 14}.setup(-100, -20)
	s.Corners[setup.Right].Arm.Pickup.Y += 6
	opt := Options{NewMetal: true, Reach: trial.Every(8.0, 12), Step: 8, Best: 1, Slip: trial.Every(-1.0, 0)}
	aims := Aims{Percent: 100, Lock: 30 * s1.Degree, Tie: Tie{Error: alike * s1.Degree, Lock: -1}}
	one := search1(t, s, Arm, aims, opt)
	opt.Each = true
	each := search1(t, s, Arm, aims, opt)
	got, want := each.Best[0].rank, one.Best[0].rank
	want[Ackermann] += 0.06 // what counts as alike, and what the slip of two holes takes
	if want.compare(&got) < 0 {
		t.Errorf("each its own: %v, one for both: %v", got, want)
	}
	p := each.Best[0].Pickups
	shift := [2]r2.Point{}
	for _, side := range setup.Sides {
		shift[side] = r2.Point{X: p[side].X - s.Corners[side].Arm.Pickup.X, Y: p[side].Y - s.Corners[side].Arm.Pickup.Y}
	}
	if shift[0].Sub(shift[1]).Norm() < 0.05 {
		t.Errorf("both move by %v", shift[0])
	}
	if _, err := Search(s, Both, aims, opt); !errors.Is(err, ErrBothEach) {
		t.Errorf("both holes, each side: %v", err)
	}
}

// TestUnlike: what counts is how far the inner wheels stand apart at the same turn of the column, and in how far they turn,
// as far as the lock wanted.
func TestUnlike(t *testing.T) {
	even := plane{640, 1040, -60, 60, 14}.setup(-100, -20)
	uneven := plane{640, 1040, -60, 60, 14}.setup(-100, -20)
	uneven.Corners[setup.Right].Arm.Pickup.X += 12 // a shorter arm turns faster
	short := plane{640, 1040, -60, 60, 14}.setup(-100, -20)
	short.Corners[setup.Right].Stop = 25 * s1.Degree
	for _, c := range []struct {
		name  string
		s     *setup.Setup
		lock  s1.Angle
		least float64
		most  float64
	}{
		{"even", even, 30, 0, 1e-6}, {"uneven arms", uneven, 30, 2, 8}, {"a shorter lock", short, 40, 10, 18}, {"which is not wanted", short, 15, 0, 1e-6},
	} {
		m, err := sweep.New(c.s)
		if err != nil {
			t.Fatal(err)
		}
		a := Aims{Percent: 100, Lock: c.lock * s1.Degree, From: 5 * s1.Degree}
		f := a.figures(m)
		if got := f.Unlike.Degrees(); got < c.least || got > c.most {
			t.Errorf("%s: %.4f degrees, want %v to %v", c.name, got, c.least, c.most)
		}
	}
}

// TestOnlyTheWayToTheLockCounts: leverage and gaps past the lock wanted are a margin, told in degrees of column.
func TestOnlyTheWayToTheLockCounts(t *testing.T) {
	s := plane{640, 1040, -60, 60, 14}.setup(-100, -20)
	m, err := sweep.New(s)
	if err != nil {
		t.Fatal(err)
	}
	near, far := Aims{Percent: 100, Lock: 20 * s1.Degree, From: 5 * s1.Degree}, Aims{Percent: 100, Lock: 40 * s1.Degree, From: 5 * s1.Degree}
	a, b := near.figures(m), far.figures(m)
	if !(a.Transmission > b.Transmission+s1.Degree) || a.Inner != b.Inner {
		t.Errorf("up to 20: leverage %v, up to the stop: %v; locks %v and %v", a.Transmission, b.Transmission, a.Inner, b.Inner)
	}
	for _, d := range sweep.Directions {
		p, ok := m.AtInnerSteer(s1.Angle(d.Sign())*90*s1.Degree, near.Lock)
		if lock := m.Lock(d); !ok || math.Abs(float64((lock.Column-p.Column).Abs()-a.Beyond[d])) > 1e-9 || b.Beyond[d] > 1e-6 {
			t.Errorf("beyond %v: %v and %v", d, a.Beyond[d], b.Beyond[d])
		}
	}
}

// TestRodsThatJustTouch straight ahead are left out of account, whichever way rounding falls: the search answers as where they overlap.
func TestRodsThatJustTouch(t *testing.T) {
	var want s1.Angle
	for i, diameter := range []string{"24.5", "24.00000000001", "23.99999999999"} {
		s := example.Read(t, "starter", "limits.spindle=30", "tie_rod.diameter="+diameter)
		r, err := Search(s, Arm, Aims{Percent: 100}, Options{Step: 20, Best: 1, Reach: 12})
		if err != nil {
			t.Fatal(err)
		}
		got := r.Current.Sweep.Locks[0].Column
		if i == 0 {
			want = got
		}
		if got != want || r.Leave {
			t.Errorf("diameter %s: left lock %v, want %v; leave %v", diameter, got, want, r.Leave)
		}
	}
}

// TestHardlyAnyLock comes back with an answer, though both locks are next to straight ahead.
func TestHardlyAnyLock(t *testing.T) {
	s := example.Read(t, "starter", "limits.spindle=0.01")
	r, err := Search(s, Arm, Aims{Percent: 100}, Options{Step: 20, Best: 1, Reach: 12})
	if err != nil {
		t.Fatal(err)
	}
	if got := r.Current.Sweep.Locks[0].Column; got == 0 || got.Abs() > 0.1*s1.Degree {
		t.Errorf("left lock %v", got)
	}
}

// TestNarrowMetal: in a strip that leaves a hole a millimetre a place is found, however coarse the step; in one that leaves it
// none the holes that are there are all there is, and it is said how much room there would be.
func TestNarrowMetal(t *testing.T) {
	for _, c := range []struct {
		wide   float64 // of the strip, mm; a hole of 8 with two diameters to the edge takes 32
		narrow bool
	}{{33, false}, {30, true}} {
		s := plane{640, 1040, -60, 60, 14}.setup(-100, -20)
		for _, side := range setup.Sides {
			s.Corners[side].Arm.Metal = setup.Metal{
				Outline: []r2.Point{{X: -190, Y: -20 - c.wide/2}, {X: -20, Y: -20 - c.wide/2}, {X: -20, Y: -20 + c.wide/2}, {X: -190, Y: -20 + c.wide/2}},
				Holes:   []setup.Hole{{Name: "old", At: r2.Point{X: -100, Y: -20}, Diameter: 8}}, Lower: -3, Upper: 3,
			}
		}
		r := search1(t, s, Arm, Aims{Percent: 100, Tie: strict}, Options{Step: 25, Best: 1, Slip: -1})
		if got := r.Narrow != nil; got != c.narrow || r.Best[0].Existing != map[bool]string{true: "old"}[c.narrow] {
			t.Errorf("%v wide: narrow %v, place 1 %v, there already: %q", c.wide, got, r.Best[0].Spot, r.Best[0].Existing)
		}
		if c.narrow && math.Abs(r.Narrow.Widest-c.wide/16) > 0.07 {
			t.Errorf("%v wide: %v diameters to the edge, want %v", c.wide, r.Narrow.Widest, c.wide/16)
		}
	}
}

// TestGapsAgreeWithTheSweep: what comes nearest to today's hole up to its own lock is what the sweep of the setup finds, with a
// stop and where a rod is what stops it.
func TestGapsAgreeWithTheSweep(t *testing.T) {
	for _, posts := range [][]setup.Part{
		{post(-140, 180, 6), post(-140, -180, 6)},
		{post(-60, 180, 6)}, {post(-60, -180, 6)}, // ahead of a rod, that comes nearest near one lock
		{post(-122, 180, 3), post(-122, -180, 3), post(-76, 180, 3), post(-76, -180, 3)},
	} {
		s := plane{640, 1040, -60, 60, 14}.setup(-100, -20)
		s.Parts, s.Limits.Clearance = posts, 12
		search := prepared(t, s, Arm, Options{Slip: -1}).search
		search.aims.Lock = 60 * s1.Degree
		now := search.listedNow(search.base)
		near, ok := now.Sweep.LeastGap()
		if !ok || math.Abs(near.Gap-now.Clearance) > 0.02 {
			t.Errorf("%d posts: least gap %v, the sweep says %+v", len(posts), now.Clearance, near)
		}
		if n := &now.Nearest; ok && n.Pair != near.Pair && math.Abs(n.Gap-near.Gap) > 0.02 || n.Gap != now.Clearance {
			t.Errorf("%d posts: nearest %+v, the sweep says %+v", len(posts), n, near)
		}
	}
}

// TestPlacesReadWell: every place listed is one of whole thousandths, in its unit, and what the answer says goes for it.
func TestPlacesReadWell(t *testing.T) {
	s := plane{640, 1040, -60, 60, 14}.setup(-100, -20)
	for _, side := range setup.Sides {
		s.Corners[side].Kingpin.Inclination = 11 * s1.Degree // so that balls rise and fall
	}
	for unit, parts := range map[setup.Unit]float64{setup.MM: 1e3, setup.Inch: 1e4} {
		s.Unit = unit
		r := search1(t, s, Arm, Aims{Percent: 100}, Options{NewMetal: true, Step: 8, Reach: 8, Best: 1, Slip: trial.Every(-1.0, 0)})
		best := &r.Best[0]
		for _, side := range setup.Sides {
			p := best.Pickups[side]
			for _, v := range [3]float64{p.X, p.Y, p.Z} {
				if v = unit.FromMM(v) * parts; math.Abs(v-math.Round(v)) > 1e-6 {
					t.Errorf("%v: %v pickup %v", unit, side, p)
				}
			}
		}
		if f := r.Aims.figures(fit(t, s, &best.Spot)); math.Abs(float64(f.Worst-best.Worst)) > 1e-12 || f.Inner != best.Inner {
			t.Errorf("%v: swept as it is written %v, said %v", unit, f.Worst, best.Worst)
		}
	}
}

// TestReachAboutEachPin: without an outline each pin of the drop arm may go as far from its own place as the other one may.
func TestReachAboutEachPin(t *testing.T) {
	s := plane{640, 1040, -60, 60, 14}.setup(-100, -20)
	s.DropArm.Metal = setup.Metal{}
	for _, each := range []bool{false, true} {
		search := prepared(t, s, DropArm, Options{NewMetal: true, Reach: 4, Web: WebFloor, Each: each}).search
		for what, nodes := range map[string][]node{"tried": search.gridOf(20), "allowed": search.neighbours(search.home(), 20, 3)} { // by 2 mm
			var most [2]float64
			for _, n := range nodes {
				if !search.allowed(n) {
					continue
				}
				sp := search.spot(n)
				for side := range setup.Sides {
					by := sp.Pins[side].Sub(s.DropArm.Pins[side])
					most[side] = max(most[side], math.Abs(by.X), math.Abs(by.Y))
				}
			}
			if want := [2]float64{4, 4}; most != want {
				t.Errorf("each %v: the pins are %s as far as %v from today's, want %v", each, what, most, want)
			}
		}
	}
}

// TestOneHoleStaysOne: one hole for both rods, drilled off its place, still takes both, so that both ways are no longer alike: the least lock within
// the slip is that of the worst way to be off, found from pose to pose.
func TestOneHoleStaysOne(t *testing.T) {
	s := plane{640, 1040, -60, 60, 14}.setup(-100, -20)
	r := prepared(t, s, DropArm, Options{NewMetal: true, Slip: 2})
	n := r.search.home()
	n[leftPin+1] = 0
	j := r.search.figures(n)
	r.search.surely(&j, nil, nil)
	least := s1.InfAngle()
	for k := range 64 {
		sin, cos := math.Sincos(float64(k) * math.Pi / 32)
		sp := r.search.spot(n)
		pin := sp.Pins[setup.Left].Add(r3.Vector{X: 2 * cos, Y: 2 * sin})
		sp.Pins = [2]r3.Vector{pin, pin}
		got, err := judgedAnew(sp.Fit(s), r.Aims.Lock, defaultFrom, 100)
		if err != nil {
			t.Fatal(err)
		}
		least = min(least, got.lock)
	}
	lost, want := j.Figures.Lock()-j.Within.Lock, j.Figures.Lock()-least
	if sp := r.search.spot(n); !sp.oneHole() || want < 0.1*s1.Degree || lost < want-1e-3*s1.Degree || lost > 1.15*want {
		t.Errorf("%v of %v lost within the slip, from pose to pose %v", lost, j.Figures.Lock(), want)
	}
}
