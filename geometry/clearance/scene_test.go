package clearance

import (
	"errors"
	"math"
	"slices"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/fixtures/trial"
	"locksweep/geometry/linkage"
	"locksweep/geometry/setup"
)

// plainSetup has upright kingpins 600 apart at a height of 130, arms behind, one rod to either side of
// a drop arm of given shape.
func plainSetup() *setup.Setup {
	c := setup.Corner{
		Kingpin: setup.Kingpin{Height: 130},
		Wheel:   setup.Wheel{Offset: 120, Tyre: setup.Tyre{Diameter: 260, Width: 130}},
		Arm:     setup.Arm{Pickup: r3.Vector{X: -95, Y: -20}},
		Rod:     setup.Rod{Diameter: 12},
	}
	s := &setup.Setup{Spacing: 600, Corners: [2]setup.Corner{c, c}}
	s.Vehicle = setup.Vehicle{Wheelbase: 1000, RearTrack: 900, RearTyre: setup.Tyre{Diameter: 280, Width: 180}}
	s.Column = setup.Column{Foot: r3.Vector{X: -60, Z: 130}, Rake: 40 * s1.Degree}
	s.DropArm.Pins = [2]r3.Vector{{X: 55, Y: 20}, {X: 55, Y: -20}}
	return s
}

func scene(t *testing.T, s *setup.Setup) (*Scene, error) {
	t.Helper()
	m, err := linkage.New(s)
	if err != nil {
		t.Fatal(err)
	}
	return New(s, m)
}

func bar3At(name string, sides [2]bool, diameter float64, path ...r3.Vector) setup.Part {
	return setup.Part{Name: name, Sides: sides, Tube: &setup.Tube{Diameter: diameter, Path: path}}
}

// TestTouchingStraightAhead: all pairs in touch are named, with where.
func TestTouchingStraightAhead(t *testing.T) {
	s := plainSetup()
	s.Parts = []setup.Part{
		bar3At("rail", [2]bool{true, true}, 30, r3.Vector{X: -300, Y: 360, Z: 130}, r3.Vector{X: 300, Y: 360, Z: 130}),
		bar3At("stay", [2]bool{}, 10, r3.Vector{X: -95, Y: 150, Z: 100}, r3.Vector{X: -95, Y: 150, Z: 160}),
	}
	_, err := scene(t, s)
	var touch *TouchError
	if !errors.As(err, &touch) {
		t.Fatalf("error %v", err)
	}
	want := [][2]string{{"left tyre", "left rail"}, {"right tyre", "right rail"}, {"left tie rod", "stay"}}
	sorted := func(pairs [][2]string) (list []string) {
		for _, p := range pairs {
			slices.Sort(p[:])
			list = append(list, p[0]+" / "+p[1])
		}
		slices.Sort(list)
		return list
	}
	if got := sorted(touch.Pairs); !slices.Equal(got, sorted(want)) {
		t.Errorf("in touch: %v, want %v", got, sorted(want))
	}
	if len(touch.At) != len(touch.Pairs) {
		t.Fatalf("%d places for %d pairs", len(touch.At), len(touch.Pairs))
	}
	for i, names := range touch.Pairs {
		if slices.Contains(names[:], "stay") && math.Abs(touch.At[i].Y-150) > 10 {
			t.Errorf("%v touch at %v", names, touch.At[i])
		}
	}
}

// TestIgnoredPairs are neither an error straight ahead nor a contact later, whichever is named first.
func TestIgnoredPairs(t *testing.T) {
	for _, ignore := range [][2]string{{"rail", Tyre}, {Tyre, "rail"}} {
		s := plainSetup()
		s.Parts = []setup.Part{bar3At("rail", [2]bool{true, true}, 30, r3.Vector{X: -300, Y: 360, Z: 130}, r3.Vector{X: 300, Y: 360, Z: 130})}
		s.Ignore = [][2]string{ignore}
		sc, err := scene(t, s)
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range sc.Contacts(free(sc.mechanism, 1)) {
			if names := sc.PairNames(c.Pair); slices.Contains(names[:], "left rail") && slices.Contains(names[:], "left tyre") {
				t.Errorf("ignore %v: contact of %v", ignore, names)
			}
		}
		for _, i := range sc.Against(slices.IndexFunc(sc.Pieces, func(p Piece) bool { return p.Name == Tyre })) {
			if sc.Pieces[i].Name == "rail" {
				t.Errorf("ignore %v: the tyre is checked against the rail", ignore)
			}
		}
	}
}

// TestJointsAreNoContacts: what is bolted together is not checked against itself, on either side; across the
// vehicle it is.
func TestJointsAreNoContacts(t *testing.T) {
	s := plainSetup()
	ear := &setup.Plate{Outline: []r2.Point{{X: -20, Y: -40}, {X: 20, Y: -40}, {X: 20, Y: 10}, {X: -20, Y: 10}}, Lower: -10, Upper: 10}
	s.Parts = []setup.Part{{Name: "ear", AtKingpin: true, Sides: [2]bool{true, true}, Plate: ear}}
	sc, err := scene(t, s)
	if err != nil {
		t.Fatal(err) // the assumed arm runs through the ear
	}
	piece := func(label string) int {
		return slices.IndexFunc(sc.Pieces, func(p Piece) bool { return p.Label() == label })
	}
	for _, pair := range [][2]string{
		{"left tie rod", "left steering arm"}, {"right tie rod", "right steering arm"}, {"left tie rod", "drop arm"},
		{"right tie rod", "drop arm"}, {"left steering arm", "left ear"}, {"right steering arm", "right ear"},
		{"left tyre", "left steering arm"},
	} {
		if slices.Contains(sc.Against(piece(pair[0])), piece(pair[1])) {
			t.Errorf("%v are checked against one another", pair)
		}
	}
	for _, pair := range [][2]string{{"left tie rod", "right steering arm"}, {"left steering arm", "right ear"}, {"left tyre", "left tie rod"}} {
		if a, b := &sc.Pieces[piece(pair[0])], &sc.Pieces[piece(pair[1])]; sc.jointed(a, b) || sc.jointed(b, a) {
			t.Errorf("%v are taken for joined", pair)
		}
	}
	for _, pair := range [][2]string{{"left tie rod", "left tyre"}, {"left tie rod", "right tie rod"}, {"left tyre", "left ear"}} {
		if !slices.Contains(sc.Against(piece(pair[0])), piece(pair[1])) {
			t.Errorf("%v are not checked against one another", pair)
		}
	}
}

// TestRodsOnOnePin touch by construction; on two pins they are checked.
func TestRodsOnOnePin(t *testing.T) {
	for _, c := range []struct {
		apart   float64
		checked bool
	}{{0, false}, {5, false}, {7, true}} {
		s := plainSetup()
		s.DropArm.Pins[setup.Left].Y, s.DropArm.Pins[setup.Right].Y = c.apart, -c.apart
		sc, err := scene(t, s)
		if err != nil {
			t.Fatalf("pins %g apart: %v", 2*c.apart, err)
		}
		left := slices.IndexFunc(sc.Pieces, func(p Piece) bool { return p.Label() == "left tie rod" })
		right := slices.IndexFunc(sc.Pieces, func(p Piece) bool { return p.Label() == "right tie rod" })
		if got := slices.Contains(sc.Against(left), right); got != c.checked {
			t.Errorf("pins %g apart: rods checked: %v", 2*c.apart, got)
		}
	}
}

// TestAssumedShapesThatTouch are told, not an error, and not looked at further.
func TestAssumedShapesThatTouch(t *testing.T) {
	s := plainSetup()
	// Through the arm that is assumed, well inboard of the rod.
	s.Parts = []setup.Part{bar3At("post", [2]bool{true, false}, 10, r3.Vector{X: -50, Y: 290, Z: 100}, r3.Vector{X: -50, Y: 290, Z: 160})}
	sc, err := scene(t, s)
	if err != nil {
		t.Fatal(err)
	}
	unchecked := sc.Unchecked()
	if len(unchecked) != 1 {
		t.Fatalf("unchecked %v", unchecked)
	}
	names := sc.PairNames(unchecked[0])
	if slices.Sort(names[:]); names != [2]string{"left post", "left steering arm"} {
		t.Errorf("unchecked %v", names)
	}
	for _, dir := range []float64{1, -1} {
		for _, c := range sc.Contacts(free(sc.mechanism, dir)) {
			if c.Pair == unchecked[0] {
				t.Errorf("contact of a pair that is not checked, at %v", c.Column)
			}
		}
	}
}

// TestFirstContactIsTheFirstOfAll, whatever the end is.
func TestFirstContactIsTheFirstOfAll(t *testing.T) {
	contacts := 0
	for seed := range uint64(120) {
		_, sc := randomScene(t, seed, 14)
		for _, dir := range []float64{1, -1} {
			for _, share := range []float64{1, 0.4} {
				end := free(sc.mechanism, dir) * s1.Angle(share)
				all := sc.Contacts(end)
				first, found := sc.FirstContact(end, nil)
				if found != (len(all) > 0) {
					t.Fatalf("seed %d: first found %v of %d", seed, found, len(all))
				}
				if !found {
					continue
				}
				contacts++
				want := slices.MinFunc(all, func(a, b Near) int { return int(math.Copysign(1, float64(a.Column.Abs()-b.Column.Abs()))) })
				if math.Abs((first.Column-want.Column).Degrees()) > 1e-5 && !blurred(sc, first, want) {
					t.Errorf("seed %d: first contact %+v, want %+v", seed, first, want)
				}
			}
		}
	}
	if contacts < trial.Enough(100) {
		t.Errorf("%d contacts only", contacts)
	}
}

// blurred reports whether two contacts are of one pair that is so near all the way between them that rounding blurs which comes first,
// see Touching.
func blurred(sc *Scene, contacts ...Near) bool {
	for _, c := range contacts {
		p, ok := sc.mechanism.Pose(c.Column)
		if gap, _, _ := sc.Gap(c.Pair, &p); !ok || c.Pair != contacts[0].Pair || gap > 5e-6 {
			return false
		}
	}
	return true
}

// TestContactIsAContact: at every contact the two pieces touch, at the point that is told, and a little
// before they do not.
func TestContactIsAContact(t *testing.T) {
	for seed := range uint64(trial.Count(25, 120)) {
		s := tiltedSetup(seed)
		_, sc, ok := apartAhead(s)
		if !ok {
			continue
		}
		for _, dir := range []float64{1, -1} {
			for _, c := range sc.Contacts(free(sc.mechanism, dir)) {
				at, _ := sc.mechanism.Pose(c.Column)
				gap, a, b := sc.Gap(c.Pair, &at)
				if math.Abs(gap) > 1e-5 || a.Add(b).Mul(0.5).Sub(c.Point).Norm() > 1e-6 {
					t.Errorf("seed %d, %v at %v: gap %g, point %v, nearest %v and %v", seed, sc.PairNames(c.Pair), c.Column, gap, c.Point, a, b)
				}
				for i := 1; i < 20; i++ {
					before, _ := sc.mechanism.Pose(c.Column * s1.Angle(float64(i)/20))
					if gap, _, _ := sc.Gap(c.Pair, &before); gap <= 0 {
						t.Errorf("seed %d, %v at %v: in touch at %v already", seed, sc.PairNames(c.Pair), c.Column, before.Column)
					}
				}
			}
		}
	}
}

// TestNearestAgainstSampling: no gap sampled is less than the least that is told, by more than it is known
// to; pairs that come near are not left out.
func TestNearestAgainstSampling(t *testing.T) {
	pairs, smooth, setups := 0, 0, 0
	for seed, enough := uint64(0), trial.Count(8, 24); setups < enough && seed < 2000; seed++ {
		s := tiltedSetup(seed)
		_, sc, ok := apartAhead(s)
		if !ok {
			continue
		}
		setups++
		const near = 15
		var ends [2]s1.Angle
		for i, dir := range []float64{1, -1} {
			ends[i] = free(sc.mechanism, dir)
			if c, found := sc.FirstContact(ends[i], nil); found {
				ends[i] = c.Column
			}
		}
		told := map[[2]int]Near{}
		for _, n := range sc.Nearest(ends[1], ends[0], near) {
			told[n.Pair] = n
		}
		const samples = 300
		least := map[[2]int]float64{}
		place := map[[2]int]int{}
		for i := range samples + 1 {
			pose, ok := sc.mechanism.Pose(ends[1] + (ends[0]-ends[1])*s1.Angle(float64(i)/samples))
			if !ok {
				continue
			}
			for p := range sc.pairs {
				if p.unchecked {
					continue
				}
				if gap, _, _ := sc.Gap(p.pieces, &pose); least[p.pieces] == 0 || gap < least[p.pieces] {
					least[p.pieces], place[p.pieces] = gap, i
				}
			}
		}
		for pair, gap := range least {
			n, ok := told[pair]
			switch {
			case !ok && gap < near-gapTolerance:
				t.Errorf("seed %d, %v: not told, %g sampled", seed, sc.PairNames(pair), gap)
			case ok && n.Gap > math.Max(gap, 0)+gapTolerance:
				t.Errorf("seed %d, %v: told %g, sampled %g", seed, sc.PairNames(pair), n.Gap, gap)
			case ok:
				pairs++
				pose, _ := sc.mechanism.Pose(n.Column)
				if g, _, _ := sc.Gap(pair, &pose); math.Abs(math.Max(g, 0)-n.Gap) > 1e-9 {
					t.Errorf("seed %d, %v: told %g at %v, it is %g there", seed, sc.PairNames(pair), n.Gap, n.Column, g)
				}
				if i := place[pair]; i > 0 && i < samples && n.Gap <= gap+1e-9 {
					smooth++
				}
			}
		}
	}
	if pairs < trial.Enough(trial.Every(30, 100)) || smooth < trial.Enough(trial.Every(3, 10)) {
		t.Errorf("%d setups, %d pairs, %d least in between", setups, pairs, smooth)
	}
}

// TestFarPartsMakeNoPairs: what nothing comes near costs no more than a look at it.
func TestFarPartsMakeNoPairs(t *testing.T) {
	count := func(far int) (pairs int) {
		s := plainSetup()
		s.Parts = []setup.Part{bar3At("rail", [2]bool{true, true}, 30, r3.Vector{X: -300, Y: 230, Z: 60}, r3.Vector{X: 300, Y: 230, Z: 60})}
		for i := range far {
			x := -1300 - float64(i)
			s.Parts = append(s.Parts, bar3At("far"+string(rune('a'+i%26)), [2]bool{}, 20, r3.Vector{X: x, Z: 50}, r3.Vector{X: x, Z: 500}))
		}
		sc, err := scene(t, s)
		if err != nil {
			t.Fatal(err)
		}
		for range sc.pairs {
			pairs++
		}
		return pairs
	}
	if none, many := count(0), count(500); none != many || none == 0 {
		t.Errorf("%d pairs, with 500 far bars %d", none, many)
	}
}

// TestContactFarRound: a pointer on the column that meets a post 110 degrees to the right, further than pairs are
// looked at beforehand. One arm ahead and one behind: both rods come in line with the drop arm
// after 120 degrees only, that way.
func TestContactFarRound(t *testing.T) {
	const lever, at = 80, 110.0
	s := plainSetup()
	s.Column = setup.Column{Foot: r3.Vector{Z: 130}, Rake: 90 * s1.Degree}
	s.DropArm.Pins = [2]r3.Vector{{X: 30}, {X: 30}}
	slant := 280 * math.Tan(math.Pi/6)
	s.Corners[setup.Left].Arm.Pickup.X, s.Corners[setup.Right].Arm.Pickup.X = slant-30, -slant-30
	sin, cos := math.Sincos(at * math.Pi / 180)
	post := r3.Vector{X: -lever * cos, Y: lever * sin, Z: 200}
	s.Parts = []setup.Part{
		{Name: "pointer", On: setup.OnColumn, Tube: &setup.Tube{Diameter: 10, Path: []r3.Vector{{X: 20, Z: 90}, {X: 110, Z: 90}}}},
		bar3At("post", [2]bool{}, 6, post, post.Add(r3.Vector{Z: 50})),
	}
	sc, err := scene(t, s)
	if err != nil {
		t.Fatal(err)
	}
	want := at - math.Asin(8.0/lever)*180/math.Pi
	contacts := sc.Contacts(free(sc.mechanism, -1))
	i := slices.IndexFunc(contacts, func(c Near) bool {
		n := sc.PairNames(c.Pair)
		return slices.Contains(n[:], "post") && slices.Contains(n[:], "pointer")
	})
	if i < 0 {
		t.Fatalf("no contact up to %v: %v", free(sc.mechanism, -1), contacts)
	}
	if got := -contacts[i].Column.Degrees(); math.Abs(got-want) > 1e-5 {
		t.Errorf("contact at %g, want %g", got, want)
	}
}
