package sweep_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/fixtures/random"
	"locksweep/fixtures/trial"
	"locksweep/geometry/clearance"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// littered is a random setup with bars, discs and plates about its front wheels, of which those that touch
// straight ahead are taken away. ok is false where it does not assemble or built-in pieces touch.
func littered(seed uint64) (s *setup.Setup, ok bool) {
	s = random.FromSeed(seed)
	r := rand.New(rand.NewPCG(seed, 0x117e))
	between := func(low, high float64) float64 { return low + (high-low)*r.Float64() }
	for i := range 16 {
		p := setup.Part{Name: fmt.Sprintf("part %c", 'a'+i), Sides: bothSides}
		at := r3.Vector{X: between(-220, 220), Y: s.Spacing/2 + between(-150, 220), Z: between(30, 300)}
		to := at.Add(r3.Vector{X: between(-150, 150), Y: between(-80, 80), Z: between(-80, 80)})
		switch r.IntN(5) {
		case 0, 1:
			p.Tube = &setup.Tube{Diameter: between(8, 40), Path: []r3.Vector{at, to}}
		case 2:
			x, y := between(-50, 50), between(-70, -20)
			p.AtKingpin = true
			p.Plate = &setup.Plate{Outline: rectangle(x, y, x+between(5, 40), y+between(5, 40)), Lower: between(-40, 0), Upper: between(2, 40)}
		case 3:
			p.On = setup.OnSpindle
			x, y := between(-60, 20), between(-40, 20)
			p.Plate = &setup.Plate{Outline: rectangle(x, y, x+between(5, 60), y+between(5, 40)), Lower: between(-30, 0), Upper: between(2, 30)}
		case 4:
			p.On = setup.OnSpindle
			p.Disc = &setup.Disc{Centre: r3.Vector{Y: between(10, 60)}, Diameter: between(60, 180), Width: between(3, 9)}
		}
		s.Parts = append(s.Parts, p)
	}
	for {
		_, err := sweep.New(s)
		var touch *clearance.TouchError
		if !errors.As(err, &touch) {
			return s, err == nil
		}
		before := len(s.Parts)
		s.Parts = slices.DeleteFunc(s.Parts, func(p setup.Part) bool {
			return slices.ContainsFunc(touch.Pairs, func(names [2]string) bool {
				return strings.HasSuffix(names[0], p.Name) || strings.HasSuffix(names[1], p.Name)
			})
		})
		if len(s.Parts) == before {
			return nil, false
		}
	}
}

// eachLittered calls look for n littered setups with both sides of one make.
func eachLittered(t *testing.T, n int, look func(t *testing.T, s *setup.Setup)) {
	t.Helper()
	n = trial.Count((n+2)/3, 3*n)
	for seed, done := uint64(0), 0; done < n; seed++ {
		if s, ok := littered(seed); ok {
			done++
			if look(t, s); t.Failed() {
				t.Fatalf("seed %d", seed)
			}
		}
	}
}

func run(t *testing.T, s *setup.Setup, step s1.Angle) *sweep.Result {
	t.Helper()
	r, err := sweep.Run(s, step)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// chain writes a chain of limits down with names, so that chains of different scenes can be compared.
func chain(r *sweep.Result, d sweep.Direction, angle func(a s1.Angle) string) (list []string) {
	for _, l := range r.Locks[d].Chain {
		text := fmt.Sprint(l.Kind, " ", angle(l.Column))
		if l.Kind != sweep.ColumnTravel {
			text += fmt.Sprint(" ", l.Side)
		}
		if l.Kind == sweep.Contact {
			names := r.Scene.PairNames(l.Pair)
			slices.Sort(names[:])
			text += fmt.Sprint(" ", names)
		}
		list = append(list, text)
	}
	return list
}

func exactly(a s1.Angle) string { return fmt.Sprintf("%x", float64(a)) }
func nearly(a s1.Angle) string  { return fmt.Sprintf("%.3f", a.Degrees()) }

// TestContactsDoNotDependOnTheStep from 0.1 to 15 degrees, to the last bit.
func TestContactsDoNotDependOnTheStep(t *testing.T) {
	contacts := 0
	eachLittered(t, 40, func(t *testing.T, s *setup.Setup) {
		want := run(t, s, s1.Degree)
		for _, step := range []s1.Angle{0.1 * s1.Degree, 0.7 * s1.Degree, 5 * s1.Degree, 15 * s1.Degree} {
			got := run(t, s, step)
			for _, d := range sweep.Directions {
				contacts += len(got.Locks[d].Chain)
				if a, b := chain(got, d, exactly), chain(want, d, exactly); !slices.Equal(a, b) {
					t.Errorf("step %v, to the %v: %v, with 1 degree %v", step, d, a, b)
				}
			}
			if !slices.Equal(got.Near, want.Near) {
				t.Errorf("step %v: near pairs differ", step)
			}
		}
	})
	if contacts == 0 {
		t.Error("no contact in any setup")
	}
}

// TestThinTab: a tab of 0.3 mm sheet, welded to the frame in the way of a lug, is found whatever the step is,
// where the lug's edge comes to it.
func TestThinTab(t *testing.T) {
	for _, at := range []float64{9, 17.3, 33.333} {
		s := benchKart()
		s.Corners[setup.Left].Kingpin = setup.Kingpin{Height: 130}
		s.Corners[setup.Right].Kingpin = setup.Kingpin{Height: 130}
		// The finger reaches 80 inboard of the kingpin and is 0.2 wide; the tab stands at 70 to 90 in its way.
		finger := rectangle(-0.1, -80, 0.1, 0)
		sin, cos := math.Sincos(at * math.Pi / 180)
		var tab []r2.Point
		for _, p := range []r2.Point{{X: 0, Y: -90}, {X: 0.3, Y: -90}, {X: 0.3, Y: -70}, {X: 0, Y: -70}} {
			tab = append(tab, r2.Point{X: p.X*cos - p.Y*sin, Y: p.X*sin + p.Y*cos})
		}
		s.Parts = []setup.Part{
			{Name: "finger", On: setup.OnSpindle, Sides: [2]bool{true, false}, Plate: &setup.Plate{Outline: finger, Lower: 20, Upper: 22}},
			{Name: "tab", AtKingpin: true, Sides: [2]bool{true, false}, Plate: &setup.Plate{Outline: tab, Lower: 18, Upper: 30}},
		}
		// The tab's inner corner, on a lever of 70, comes to the finger's face, 0.1 ahead of its middle.
		want := at - math.Asin(0.1/70)*180/math.Pi
		for _, step := range []s1.Angle{0.1 * s1.Degree, 15 * s1.Degree} {
			r := run(t, s, step)
			first := r.Locks[sweep.ToLeft].First()
			if first == nil || first.Kind != sweep.Contact {
				t.Fatalf("tab at %g: stopped by %+v", at, first)
			}
			pose, _ := r.Linkage.Pose(first.Column)
			if got := pose.Sides[setup.Left].Spindle.Degrees(); math.Abs(got-want) > 1e-4 {
				t.Errorf("tab at %g: met at %g, want %g", at, got, want)
			}
		}
	}
}

// mirrored swaps the sides of a setup; frame parts are described on the left for both.
func mirrored(s *setup.Setup) *setup.Setup {
	m := *s
	m.Corners[setup.Left], m.Corners[setup.Right] = s.Corners[setup.Right], s.Corners[setup.Left]
	m.Column.Foot.Y = -s.Column.Foot.Y
	for _, side := range setup.Sides {
		pin, bolt := s.DropArm.Pins[side.Other()], s.DropArm.Bolts[side.Other()]
		pin.Y, bolt.Y = -pin.Y, -bolt.Y
		m.DropArm.Pins[side], m.DropArm.Bolts[side] = pin, bolt
	}
	m.Parts = slices.Clone(s.Parts)
	for i := range m.Parts {
		p := &m.Parts[i]
		p.Sides[setup.Left], p.Sides[setup.Right] = p.Sides[setup.Right], p.Sides[setup.Left]
	}
	return &m
}

// TestMirroredContacts: the mirrored setup meets the same contacts the other way, on the other side.
func TestMirroredContacts(t *testing.T) {
	eachLittered(t, 80, func(t *testing.T, s *setup.Setup) {
		for i := range s.Parts { // something on one side only
			if i%3 == 0 {
				s.Parts[i].Sides = [2]bool{true, false}
			}
		}
		a, b := run(t, s, s1.Degree), run(t, mirrored(s), s1.Degree)
		swap := strings.NewReplacer("left", "right", "right", "left")
		for _, d := range sweep.Directions {
			for i, l := range a.Locks[d].Chain {
				if i >= len(b.Locks[1-d].Chain) {
					t.Fatalf("%v: %d limits, mirrored %d", d, len(a.Locks[d].Chain), len(b.Locks[1-d].Chain))
				}
				m := b.Locks[1-d].Chain[i]
				gap := 0.0
				if pose, ok := a.Linkage.Pose(-m.Column); l.Kind == sweep.Contact && ok {
					gap, _, _ = a.Scene.Gap(l.Pair, &pose)
				}
				// Where pieces just graze, the angle is known as well as the gap tells it.
				if off := math.Abs((l.Column + m.Column).Degrees()); off > 1e-3 || off > 1e-4 && math.Abs(gap) > 1e-6 {
					t.Errorf("%v: %v, mirrored %v, %g apart with a gap of %g", d, chain(a, d, nearly), chain(b, 1-d, nearly), off, gap)
				}
			}
			one, other := chain(a, d, func(s1.Angle) string { return "" }), chain(b, 1-d, func(s1.Angle) string { return "" })
			for i := range other {
				one[i], other[i] = words(one[i]), words(swap.Replace(other[i]))
			}
			slices.Sort(one)
			slices.Sort(other)
			if !slices.Equal(one, other) {
				t.Errorf("%v: %v, mirrored %v", d, one, other)
			}
		}
	})
}

// words are the words of a text in order: which of a pair is named first says nothing.
func words(s string) string {
	list := strings.Fields(strings.NewReplacer("[", " ", "]", " ").Replace(s))
	slices.Sort(list)
	return strings.Join(list, " ")
}

// TestLargerObstaclesNeverGiveMoreLock: whatever grows, no lock does, and no contact comes later.
func TestLargerObstaclesNeverGiveMoreLock(t *testing.T) {
	shrunk := 0
	eachLittered(t, 80, func(t *testing.T, s *setup.Setup) {
		before := run(t, s, s1.Degree)
		larger := *s
		larger.Parts = slices.Clone(s.Parts)
		for i := range larger.Parts {
			switch p := &larger.Parts[i]; {
			case p.Tube != nil:
				tube := *p.Tube
				tube.Diameter += 2
				p.Tube = &tube
			case p.Disc != nil:
				disc := *p.Disc
				disc.Diameter += 3
				p.Disc = &disc
			case p.Plate != nil:
				plate := *p.Plate
				plate.Lower -= 1
				plate.Upper += 1
				p.Plate = &plate
			}
		}
		after := run(t, &larger, s1.Degree)
		if len(after.Scene.Touching()) > 0 {
			return // grown into one another
		}
		for _, d := range sweep.Directions {
			if got, had := after.Locks[d].Column.Abs(), before.Locks[d].Column.Abs(); got > had+1e-6 { // a contact met aslant is good to some 1e-7
				t.Errorf("to the %v: %v of lock, %v before the parts grew", d, got, had)
			} else if got < had-1e-6 {
				shrunk++
			}
			if len(after.Locks[d].Chain) < len(before.Locks[d].Chain) {
				t.Errorf("to the %v: %v, before the parts grew %v", d, chain(after, d, nearly), chain(before, d, nearly))
			}
		}
	})
	if shrunk == 0 {
		t.Error("no lock became less")
	}
}

// TestOrderOfPartsHasNoBearing: parts in any order give the same answers to the last bit, in the same words.
func TestOrderOfPartsHasNoBearing(t *testing.T) {
	eachLittered(t, 40, func(t *testing.T, s *setup.Setup) {
		want := run(t, s, 3*s1.Degree)
		turned := *s
		turned.Parts = slices.Clone(s.Parts)
		slices.Reverse(turned.Parts)
		got := run(t, &turned, 3*s1.Degree)
		if !slices.Equal(got.Near, want.Near) {
			t.Errorf("near pairs differ: %v, %v", got.Near, want.Near)
		}
		for _, d := range sweep.Directions {
			if !slices.EqualFunc(got.Locks[d].Chain, want.Locks[d].Chain, func(a, b sweep.Limit) bool { return a == b }) {
				t.Errorf("%v: %v, turned round %v", d, chain(want, d, exactly), chain(got, d, exactly))
			}
		}
		for i := range want.Scene.Pieces {
			if a, b := want.Scene.Pieces[i].Label(), got.Scene.Pieces[i].Label(); a != b {
				t.Errorf("piece %d is %s, turned round %s", i, a, b)
			}
		}
	})
}

// TestRefitIsNew: what is taken over from another fit of the same setup gives what is found from scratch.
func TestRefitIsNew(t *testing.T) {
	refits := 0
	eachLittered(t, 60, func(t *testing.T, s *setup.Setup) {
		base, err := sweep.New(s)
		if err != nil {
			t.Fatal(err)
		}
		r := rand.New(rand.NewPCG(uint64(len(s.Parts)), math.Float64bits(s.Spacing)))
		by := func(size float64) r3.Vector {
			return r3.Vector{X: size * (r.Float64() - 0.5), Y: size * (r.Float64() - 0.5), Z: size * (r.Float64() - 0.5)}
		}
		for i := range 6 {
			moved := *s
			for side := range moved.Corners {
				c := &moved.Corners[side]
				if i%2 == 0 {
					c.Arm.Pickup = c.Arm.Pickup.Add(by(20))
				}
				if i%3 != 1 {
					moved.DropArm.Pins[side] = moved.DropArm.Pins[side].Add(by(10))
				}
				if i > 3 && c.Rod.Length > 0 {
					c.Rod.Length += 4 * (r.Float64() - 0.5)
				}
			}
			fit, err := base.Refit(&moved)
			fresh, want := sweep.New(&moved)
			if fmt.Sprint(err) != fmt.Sprint(want) {
				t.Fatalf("refit says %v, new %v", err, want)
			}
			if err != nil {
				continue
			}
			refits++
			a, b := fit.Run(5*s1.Degree), fresh.Run(5*s1.Degree)
			for _, d := range sweep.Directions {
				one, other := a.Locks[d].Chain, b.Locks[d].Chain
				same := slices.EqualFunc(one, other, func(x, y sweep.Limit) bool {
					// Where a rod of given length turns the wheel straight ahead, contacts are found from another start.
					return x.Kind == y.Kind && x.Side == y.Side && x.Pair == y.Pair && math.Abs((x.Column-y.Column).Degrees()) < 1e-4
				})
				if !same {
					t.Errorf("%v: refit %v, new %v", d, chain(a, d, nearly), chain(b, d, nearly))
				}
			}
			if len(a.Near) != len(b.Near) {
				t.Errorf("refit has %d near pairs, new %d", len(a.Near), len(b.Near))
			}
		}
	})
	if refits < trial.Enough(20) {
		t.Errorf("%d refits only", refits)
	}
}
