package setup_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"
	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"locksweep/fixtures/trial"
	"locksweep/geometry/planar"
	"locksweep/geometry/setup"
	"locksweep/geometry/setupfile"
	"locksweep/geometry/sweep"
)

const changeable = `locksweep = 1
units = "mm"
vehicle = { wheelbase = 1000 }
kingpin = { spacing = 600, height = 130, inclination = 10, caster = 12 }
wheel = { offset = 120, lead = 8, toe = 0.5, camber = -1, tyre_diameter = 260, tyre_width = 130 }
column = { foot = [-95, 0, 130], rake = 35 }
drop_arm = { left = [55, 20, 4], right = [55, -22, 4], outline = [[-10, -30], [70, -30], [70, 30], [-10, 30]], up = [0, 6] }
[arm]
pickup = "hole"
bolt = [0.1, 0.2, 1]
outline = [[20, -20], [20, 20], [-110, -10], [-110, -50]]
up = [-4, 4]
holes = [{ name = "hole", at = [-95, -30], diameter = 8 }]
[right.kingpin]
caster = 11
[right.arm]
up = [-5, 3]
[[part]]
name = "lug"
on = "spindle"
keep = [[5, -8], [10, -20], [12, -8]]
plate = { outline = [[0, -10], [30, -30], [36, -20], [10, 0]], up = [-10, 14] }
[[part]]
name = "hose"
on = "spindle"
side = "left"
tube = { diameter = 9, path = [[0, 20, 30], [-30, 10, 60]] }
[[part]]
name = "brake disc"
on = "spindle"
disc = { centre = [0, 40, 0], diameter = 150, width = 4 }
`

func mustRead(t *testing.T, text string, opt setupfile.Options) *setup.Setup {
	t.Helper()
	s, _, err := setupfile.Read("kart.toml", []byte(text), opt)
	if err != nil {
		t.Fatalf("%v\nin\n%s", err, text)
	}
	return s
}

// rounding forgives 1e-9 of a millimetre or a radian.
var rounding = cmp.Options{
	cmpopts.EquateApprox(0, 1e-9),
	cmpopts.IgnoreFields(setup.Part{}, "Line"), cmpopts.IgnoreFields(setup.Setup{}, "With", "Before", "Made"),
	cmp.Comparer(func(a, b s1.Angle) bool { return (a - b).Abs() < 1e-9 }),
}

func TestSpindlesSwappedTwiceAreAsBefore(t *testing.T) {
	for _, turn := range []struct {
		name string
		turn func(*setup.Setup)
	}{{"swap", (*setup.Setup).SwapSpindles}, {"turn over", (*setup.Setup).TurnSpindlesOver}} {
		want := mustRead(t, changeable, setupfile.Options{})
		got := mustRead(t, changeable, setupfile.Options{})
		turn.turn(got)
		if cmp.Equal(want.Corners, got.Corners, rounding) {
			t.Errorf("%s: changed nothing", turn.name)
		}
		turn.turn(got)
		if diff := cmp.Diff(want.Corners, got.Corners, rounding, outlineFrom); diff != "" {
			t.Errorf("%s twice: want - got +\n%s", turn.name, diff)
		}
		if diff := cmp.Diff(bySide(want.Parts), bySide(got.Parts), rounding, outlineFrom); diff != "" {
			t.Errorf("%s twice, parts: want - got +\n%s", turn.name, diff)
		}
	}
}

// outlineFrom compares outlines whatever point they begin with.
var outlineFrom = cmp.Comparer(func(a, b []r2.Point) bool {
	if len(a) != len(b) {
		return false
	}
	for shift := range max(len(a), 1) {
		same := true
		for i := range a {
			if c := b[(i+shift)%len(b)]; math.Hypot(a[i].X-c.X, a[i].Y-c.Y) > 1e-9 {
				same = false
			}
		}
		if same {
			return true
		}
	}
	return false
})

// bySide splits parts that stand on both sides, as a change may leave them.
func bySide(parts []setup.Part) (split []setup.Part) {
	for _, p := range parts {
		for _, side := range setup.Sides {
			if p.Sides[side] {
				one := p
				one.Sides = [2]bool{}
				one.Sides[side] = true
				split = append(split, one)
			}
		}
	}
	slices.SortStableFunc(split, func(a, b setup.Part) int { return strings.Compare(partOrder(a), partOrder(b)) })
	return split
}

func partOrder(p setup.Part) string { return fmt.Sprint(p.Name, p.Sides) }

// With upright kingpins a swapped spindle is its mirror image fore and aft; upside down, up and
// down as well.
func TestSwapOnUprightKingpins(t *testing.T) {
	upright := strings.NewReplacer("inclination = 10, caster = 12", "inclination = 0", "caster = 11", "caster = 0",
		", toe = 0.5, camber = -1", "").Replace(changeable)
	s := mustRead(t, upright, setupfile.Options{Set: []string{"arm.pickup=[-95,-30,7]", "change.swap_spindles=true"}})
	if got, want := s.Corners[setup.Left].Arm.Pickup, (r3.Vector{X: 95, Y: -30, Z: 7}); !cmp.Equal(got, want, rounding) {
		t.Errorf("swapped: pickup at %v, want %v", got, want)
	}
	if got := s.Corners[setup.Left].Wheel.Lead; got != -8 {
		t.Errorf("swapped: lead %v, want -8", got)
	}
	s = mustRead(t, upright, setupfile.Options{Set: []string{"arm.pickup=[-95,-30,7]", "change.turn_spindles_over=true"}})
	if got, want := s.Corners[setup.Left].Arm.Pickup, (r3.Vector{X: 95, Y: -30, Z: -7}); !cmp.Equal(got, want, rounding) {
		t.Errorf("upside down: pickup at %v, want %v", got, want)
	}
}

// What belongs to a spindle is measured from its own stub and kingpin and must not change when it is hung
// anew: the pickup's height along the kingpin and distance from it, and the stub's angle to it. An
// inclined spindle turned upside down has its inclination taken from the camber twice.
func TestHungAnewTheSpindleItselfIsTheSame(t *testing.T) {
	trial.Check(t, func(t *rapid.T) {
		angle := rapid.Float64Range(-14, 14)
		s, _, err := setupfile.Read("kart.toml", []byte(changeable), setupfile.Options{Set: []string{
			setting("kingpin.caster", angle.Draw(t, "caster")), setting("kingpin.inclination", angle.Draw(t, "inclination")),
			setting("wheel.toe", angle.Draw(t, "toe")/10), setting("wheel.camber", angle.Draw(t, "camber")/5),
			fmt.Sprintf("arm.pickup=[%v, -30, 4]", rapid.Float64Range(-120, -60).Draw(t, "f")), "right.kingpin.caster=9"}})
		if err != nil {
			t.Fatalf("not a sound setup: %v", err)
		}
		figures := func(s *setup.Setup, side setup.Side, sign float64) [3]float64 {
			k, p := s.Kingpin(side).Dir, setup.FromCorner(side, s.Corners[side].Arm.Pickup)
			return [3]float64{sign * k.Dot(p), k.Cross(p).Norm(), sign * k.Dot(s.SpinAxis(side))}
		}
		for _, side := range setup.Sides {
			swapped, over := *s, *s
			swapped.SwapSpindles()
			over.TurnSpindlesOver()
			if got, want := figures(&swapped, side, 1), figures(s, side.Other(), 1); !cmp.Equal(got, want, rounding) {
				t.Errorf("%v swapped: %v, want %v", side, got, want)
			}
			if got, want := figures(&over, side, -1), figures(s, side, 1); !cmp.Equal(got, want, rounding) {
				t.Errorf("%v upside down: %v, want %v", side, got, want)
			}
			if got := swapped.Corners[side].Wheel.Toe; got != s.Corners[side].Wheel.Toe {
				t.Errorf("%v swapped: toe %v, want the file's", side, got)
			}
		}
	})
}

func TestChangesEqualEditingByHand(t *testing.T) {
	for _, c := range []struct{ change, edit string }{
		{"change.narrow=80", "kingpin.spacing=520"},
		{"change.shorten=150", "vehicle.wheelbase=850"},
		{"change.spacer=15", "wheel.offset=135"},
		{"change.right.spacer=15", "right.wheel.offset=135"},
		{"change={spacer=15,right={spacer=0}}", "wheel.offset=135;right.wheel.offset=120"},
		{"change={lengthen_drop_arm=8,right={lengthen_drop_arm=0}}",
			fmt.Sprintf("drop_arm.left=[%v,%v,4]", 55+8*55/math.Hypot(55, 20), 20+8*20/math.Hypot(55, 20))},
		{"change.one_hole=true", "drop_arm={left=[55,-1,4],right=[55,-1,4]}"},
	} {
		sets := []string{"vehicle.rear_track=840", "vehicle.rear_tyre={diameter=300,width=150}", "right.kingpin.caster=11"}
		changed := mustRead(t, changeable, setupfile.Options{Set: append(sets, c.change)})
		edited := mustRead(t, changeable, setupfile.Options{Set: append(sets, strings.Split(c.edit, ";")...)})
		if len(changed.Changes) != 1 {
			t.Errorf("%s: did %v, want one thing", c.change, changed.Changes)
		}
		changed.Changes, changed.Frame = nil, nil
		changed.DropArm.Bars = nil // nobody writes by hand what is only assumed
		if diff := cmp.Diff(edited, changed, rounding); diff != "" {
			t.Errorf("%s: by hand - changed +\n%s", c.change, diff)
		}
	}
}

func TestDropArmChanges(t *testing.T) {
	s := mustRead(t, changeable, setupfile.Options{Set: []string{"change.turn_drop_arm_over=true"}})
	if want := (r3.Vector{X: -55, Y: 22, Z: 4}); s.DropArm.Pins[setup.Left] != want {
		t.Errorf("turned over: left pin %v, want %v", s.DropArm.Pins[setup.Left], want)
	}
	s = mustRead(t, changeable, setupfile.Options{Set: []string{"change.one_hole=true"}})
	if want := (r3.Vector{X: 55, Y: -1, Z: 4}); s.DropArm.Pins[setup.Left] != want || s.DropArm.Pins[setup.Right] != want {
		t.Errorf("one hole: %v, want %v for both", s.DropArm.Pins, want)
	}
	s = mustRead(t, changeable, setupfile.Options{Set: []string{"change.lengthen_drop_arm=12"}})
	p := s.DropArm.Pins[setup.Left]
	if got, want := math.Hypot(p.X, p.Y), math.Hypot(55, 20)+12; math.Abs(got-want) > 1e-9 {
		t.Errorf("lengthened: %v from the column, want %v", got, want)
	}
}

// TestLongerDropArmBringsMetalAlong: the extension reaches round the new hole as far as the arm does round the old one,
// which is 10 mm from the edge, and it hits what stands there.
func TestLongerDropArmBringsMetalAlong(t *testing.T) {
	s := mustRead(t, changeable, setupfile.Options{Set: []string{"change.lengthen_drop_arm=40"}})
	if len(s.DropArm.Bars) != 2 {
		t.Fatalf("bars %v", s.DropArm.Bars)
	}
	for _, side := range setup.Sides {
		pin := r2.Point{X: s.DropArm.Pins[side].X, Y: s.DropArm.Pins[side].Y}
		half := [2]float64{10, 8}[side] // pins at 20 and -22, edges at 30 and -30
		bar := s.DropArm.Bars[side].Outline
		if got := s.DropArm.Bars[side]; got.Side != side || got.Width != 2*half {
			t.Errorf("%v: bar of the %v rod, %v wide", side, got.Side, got.Width)
		}
		if !planar.Inside(bar, pin) || math.Abs(planar.ToEdge(bar, pin)-half) > 1e-9 || planar.Area(bar) < 0 {
			t.Errorf("%v: the hole lies %.4f from the edge of the bar %v, want %v", side, planar.ToEdge(bar, pin), bar, half)
		}
	}
	if s = mustRead(t, changeable, setupfile.Options{Set: []string{"change.lengthen_drop_arm=2"}}); len(s.DropArm.Bars) != 2 {
		t.Errorf("2 mm more: %d bars", len(s.DropArm.Bars))
	}
	if s = mustRead(t, changeable, setupfile.Options{Set: []string{"change.lengthen_drop_arm=-20"}}); len(s.DropArm.Bars) != 0 {
		t.Errorf("20 mm less lies within the arm: %d bars", len(s.DropArm.Bars))
	}
	// The assumed bar stops the column where the arm itself did not.
	wall := `part=[{name="wall",on="frame",tube={diameter=10,path=[[-148.7,65,88.2],[-115.9,65,65.3]]}}]`
	with := mustRead(t, changeable, setupfile.Options{Set: []string{"change.lengthen_drop_arm=40", wall, `ignore=[["tie rod", "wall"]]`}})
	without := *with
	without.DropArm.Bars = nil
	touches := func(s *setup.Setup) bool {
		m, err := sweep.New(s)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range sweep.Directions {
			lock := m.Lock(d)
			if slices.ContainsFunc(lock.Chain, func(l sweep.Limit) bool {
				return l.Kind == sweep.Contact && slices.Equal(names(m, l.Pair), []string{"drop arm", "wall"})
			}) {
				return true
			}
		}
		return false
	}
	if !touches(with) || touches(&without) {
		t.Errorf("the wall is hit with the bar: %v, without: %v", touches(with), touches(&without))
	}
}

func names(m *sweep.Model, pair [2]int) []string {
	n := m.Scene.PairNames(pair)
	slices.Sort(n[:])
	return n[:]
}

// refuses holds the reader to an error that tells what is wrong with a setting of a file.
func refuses(t *testing.T, file, set, want string) {
	t.Helper()
	_, _, err := setupfile.Read("kart.toml", []byte(file), setupfile.Options{Set: []string{set}})
	if err == nil || !strings.Contains(err.Error(), want) {
		t.Errorf("%s: error %v, want one with %q", set, err, want)
	}
}

func TestChangeMistakesHaveTheirPlace(t *testing.T) {
	for _, c := range []struct{ set, want string }{
		{"change.narrow=600", "leaves nothing: the kingpins are only 600 mm apart"},
		{"change.shorten=1000", "change.shorten: leaves nothing: the wheelbase is only 1000 mm"},
		{"change.lengthen_drop_arm=-90", "would bring the left pin onto the column axis; it is 58.523 mm from it"},
		{"change.right.lengthen_drop_arm=-90", "--set: change.right.lengthen_drop_arm: would bring the right pin onto the column axis"},
		{"change.right.narrow=9", "change.right.narrow: is not a key of this table"},
		{"change.swap=true", "did you mean"},
		{"change.swap_spindles=1", "should be true or false"},
	} {
		refuses(t, changeable, c.set, c.want)
	}
}

func setting(key string, v float64) string { return fmt.Sprintf("%s=%.2f", key, v) }

// TestTyreOfOneSide: the frame stays one body; of two front tyres that differ the mean counts for it.
func TestTyreOfOneSide(t *testing.T) {
	plain := mustRead(t, changeable, setupfile.Options{})
	for _, set := range []string{"change.right.tyre={diameter=280,width=140,shoulder=8}", "change={tyre={diameter=260,width=130},right={tyre={diameter=280,width=140,shoulder=8}}}"} {
		s := mustRead(t, changeable, setupfile.Options{Set: []string{set}})
		if got, want := s.Corners[setup.Right].Wheel.Tyre, (setup.Tyre{Diameter: 280, Width: 140, Shoulder: 8}); got != want {
			t.Errorf("%s: right tyre %v", set, got)
		}
		if got, want := s.Corners[setup.Left].Wheel.Tyre, plain.Corners[setup.Left].Wheel.Tyre; got != want {
			t.Errorf("%s: left tyre %v, want %v", set, got, want)
		}
		for side := range s.Corners { // 20 larger in diameter on one side: 5 up in the mean
			if up := s.Corners[side].Kingpin.Height - plain.Corners[side].Kingpin.Height; math.Abs(up-5) > 0.01 {
				t.Errorf("%s: kingpin %d rises by %v, want 5", set, side, up)
			}
		}
	}
}
