package compare_test

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/golang/geo/s1"
	"pgregory.net/rapid"

	"locksweep/fixtures/example"
	"locksweep/fixtures/random"
	"locksweep/fixtures/trial"
	"locksweep/geometry/compare"
	"locksweep/geometry/linkage"
	"locksweep/geometry/road"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

func side(setups ...*setup.Setup) *compare.Comparison {
	entries := make([]compare.Entry, len(setups))
	for i, s := range setups {
		entries[i] = compare.Entry{Name: fmt.Sprint(i), Setup: s}
	}
	return compare.Run(entries, road.Slide{Radius: 4000}, nil)
}

// trapezoid is a plane linkage: upright kingpins and column, everything at one height, arms behind that
// point inboard, a drop arm that hangs below the column's axis, which with an upright column is behind it.
const trapezoid = `locksweep = 1
units = "mm"
vehicle = { wheelbase = 1000 }
kingpin = { spacing = 640, height = 130 }
wheel = { offset = 120, tyre_diameter = 260, tyre_width = 100 }
arm = { pickup = [-100, -32, 0] }
column = { foot = [-40, 0, 130], rake = 90 }
drop_arm = { left = [60, 14, 0], right = [60, -14, 0] }
limits = { spindle = 40 }
`

// point is a place in the plane, x forward, y left.
type point struct{ x, y float64 }

func (p point) turned(a float64) point {
	sin, cos := math.Sincos(a)
	return point{p.x*cos - p.y*sin, p.x*sin + p.y*cos}
}

func (p point) plus(q point) point { return point{p.x + q.x, p.y + q.y} }

// follows is the closed form of a plane four-bar, as the crossing of two circles: where the ball of an arm about
// a kingpin stands when the pin has turned with the column. Of the two crossings it takes the one nearer to
// where the arm was (derived).
func follows(kingpin, arm, foot, pin point, column float64) (spindle float64) {
	d := func(p, q point) float64 { return math.Hypot(p.x-q.x, p.y-q.y) }
	rod, ρ := d(kingpin.plus(arm), foot.plus(pin)), math.Hypot(arm.x, arm.y)
	q := foot.plus(pin.turned(column))
	gap := d(kingpin, q)
	along := (gap*gap + ρ*ρ - rod*rod) / (2 * gap)
	across := math.Sqrt(ρ*ρ - along*along)
	u := point{(q.x - kingpin.x) / gap, (q.y - kingpin.y) / gap}
	best := math.Inf(1)
	for _, sign := range [2]float64{1, -1} {
		ball := point{along*u.x - sign*across*u.y, along*u.y + sign*across*u.x}
		a := math.Remainder(math.Atan2(ball.y, ball.x)-math.Atan2(arm.y, arm.x), 2*math.Pi)
		if math.Abs(a) < math.Abs(best) {
			best = a
		}
	}
	return best
}

// TestSwappedTrapezoidIsReversed: arms that pointed back and inboard point ahead and inboard after a swap, and
// with the drop arm turned half round to keep the sense, the outer wheel turns further: by as much as the
// plane closed form says, at every column angle.
func TestSwappedTrapezoidIsReversed(t *testing.T) {
	asIs := example.Parse(t, trapezoid)
	swapped := example.Parse(t, trapezoid, "change.swap_spindles=true", "change.turn_drop_arm_over=true")
	forms := []struct {
		s        *setup.Setup
		arm, pin point // of the left side
		reversed bool
	}{
		{asIs, point{-100, -32}, point{-60, 14}, false},
		{swapped, point{100, -32}, point{60, 14}, true},
	}
	c := side(asIs, swapped)
	for i, f := range forms {
		r := c.Entries[i].Result
		if r == nil {
			t.Fatal(c.Entries[i].Err)
		}
		for column := 2.0; column <= 30; column += 4 {
			a := column * math.Pi / 180
			left := follows(point{0, 320}, f.arm, point{-40, 0}, f.pin, a)
			right := follows(point{0, -320}, point{f.arm.x, -f.arm.y}, point{-40, 0}, point{f.pin.x, -f.pin.y}, a)
			p, ok := r.Pose(s1.Angle(a))
			if !ok {
				t.Fatalf("setup %d does not reach %v", i, column)
			}
			if math.Abs(float64(p.Wheels[0].Steer)-left) > 1e-10 || math.Abs(float64(p.Wheels[1].Steer)-right) > 1e-10 {
				t.Errorf("setup %d, column %v: wheels %v %v, closed form %v %v", i, column, p.Wheels[0].Steer, p.Wheels[1].Steer, s1.Angle(left), s1.Angle(right))
			}
			if f.reversed != (left < right) {
				t.Errorf("setup %d, column %v: left %v, right %v", i, column, left, right)
			}
			ideal := math.Atan(1 / (1/math.Tan(right) - 0.64))
			if got := float64(p.Turn.Error); column > 3 && math.Abs(got-(left-ideal)) > 1e-9 {
				t.Errorf("setup %d, column %v: error %v, closed form %v", i, column, got, left-ideal)
			}
		}
	}
	if row := c.Find("ackermann_percent_20"); !(row.Values[0][0] > 0 && row.Values[1][0] < 0) {
		t.Errorf("percent %v: the swapped one should be negative", row.Values)
	}
	// Sideways the two change places: what is reversed in a turn pinches where the true one splays.
	if row := c.Find("slide_apart_30"); !(row.Values[1][0] < row.Values[0][0]) {
		t.Errorf("apart in a slide %v: the swapped one should splay less", row.Values)
	}
}

// TestRodsThatJustTouch: rods whose balls stand as far apart as the rods are thick touch straight ahead, whichever way rounding falls.
func TestRodsThatJustTouch(t *testing.T) {
	var want [2]float64
	for i, off := range []float64{-0.5, -1e-9, -1e-14, 0, 1e-15, 1e-14, 4e-9} {
		s := example.Parse(t, trapezoid, "tie_rod.diameter=12")
		for side := range s.DropArm.Pins {
			s.DropArm.Pins[side].Y = math.Copysign(6+off/2, s.DropArm.Pins[side].Y)
		}
		got := side(s).Find("lock_inner").Values[0]
		if i == 0 {
			want = got
		}
		if !(got[0] > 0.1 && got[1] > 0.1) || math.Abs(got[0]-want[0]) > 0.1 {
			t.Errorf("%g mm apart: locks %v, where they overlap %v", off, got, want)
		}
	}
}

// TestMirroredForeAndAft: a symmetric plane linkage with everything ahead that was behind is its mirror image, so
// that inner and outer wheel change places: reversed by exactly what the first had. Its size follows from
// the second order: rods of length ℓ across, arms a back and b inboard, pins p behind the column and q
// aside, column φ, mean steer θ: a (inner - outer) = b θ² + q φ² + (b θ + q φ)²/ℓ (derived).
func TestMirroredForeAndAft(t *testing.T) {
	asIs := example.Parse(t, trapezoid)
	ahead := example.Parse(t, trapezoid, "change.swap_spindles=true", "change.turn_drop_arm_over=true", "column.foot=[40,0,130]")
	c := side(asIs, ahead)
	for φ := 1.0; φ <= 40; φ += 3 {
		p, okP := c.Entries[0].Result.Pose(s1.Angle(φ) * s1.Degree)
		q, okQ := c.Entries[1].Result.Pose(s1.Angle(φ) * s1.Degree)
		if !okP || !okQ {
			t.Fatalf("column %v is not reached", φ)
		}
		for i := range 2 {
			if by := p.Wheels[i].Steer - q.Wheels[1-i].Steer; by.Abs() > 1e-12 {
				t.Errorf("column %v: wheels %v %v, ahead %v %v", φ, p.Wheels[0].Steer, p.Wheels[1].Steer, q.Wheels[0].Steer, q.Wheels[1].Steer)
			}
		}
	}
	p, _ := c.Entries[0].Result.Pose(4 * s1.Degree)
	θ, φ, ℓ := float64(p.MeanSteer()), float64(p.Column), 320-32-14.0
	want := (32*θ*θ + 14*φ*φ + (32*θ+14*φ)*(32*θ+14*φ)/ℓ) / 100
	if got := float64(p.Wheels[0].Steer - p.Wheels[1].Steer); math.Abs(got/want-1) > 0.02 {
		t.Errorf("wheels differ by %v, second order %v", got, want)
	}
}

// TestFiguresAreThoseOfTheSweep: what is compared is what a sweep of the setup alone says.
func TestFiguresAreThoseOfTheSweep(t *testing.T) {
	c := side(example.Read(t, "shed-kart"), example.Read(t, "cyclekart"), example.Read(t, "pedal-quad"))
	for i := range c.Entries {
		r, err := sweep.Run(c.Entries[i].Setup, compare.Step)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range sweep.Directions {
			errs := map[string]float64{}
			for _, e := range r.TurnErrors(d) {
				key := fmt.Sprintf("ackermann_error_%.0f", e.Steer.Degrees())
				if e.AtLock {
					key = "ackermann_error_lock"
				}
				errs[key] = float64(e.Error)
			}
			want := map[string]float64{
				"lock_inner": float64(r.Locks[d].Pose.Turn.InnerSteer), "lock_outer": float64(r.Locks[d].Pose.Turn.OuterSteer),
				"turning_circle": r.Figures(&r.Locks[d].Pose).Outer.OverFrontTyres, "width_lock": r.Figures(&r.Locks[d].Pose).Width,
				"rod_length": r.Rods[d].Length, "slide_held_inside": float64(r.SlideHeld(road.Slide{Radius: 4000, Turn: d.Sign()})[d]),
			}
			for key, v := range errs {
				want[key] = v
			}
			for key, v := range want {
				if got := c.Find(key).Values[i][d]; got != v {
					t.Errorf("entry %d, %s to the %v: %v, want %v", i, key, d, got, v)
				}
			}
		}
	}
}

// TestLeverageByEndAgainstPoses: the least by end is that of the poses from lock to lock, told apart by hand, and a mark
// stands at the end that fails alone.
func TestLeverageByEndAgainstPoses(t *testing.T) {
	for _, name := range []string{"shed-kart", "cyclekart", "pedal-quad"} {
		s := example.Read(t, name)
		r, err := sweep.Run(s, s1.Degree/4)
		if err != nil {
			t.Fatal(err)
		}
		least := [2]s1.Angle{s1.InfAngle(), s1.InfAngle()}
		for i := range r.Poses {
			for _, ends := range r.Poses[i].Transmission {
				for end, angle := range ends {
					least[end] = min(least[end], angle)
				}
			}
		}
		between := *s
		between.Limits.Transmission = (least[0] + least[1]) / 2
		c := side(&between, &between)
		for end, key := range [2]string{linkage.AtArm: "leverage_arm", linkage.AtDropArm: "leverage_drop"} {
			row := c.Find(key)
			if got := s1.Angle(row.Values[0][0]); !(got <= least[end] && least[end]-got < 0.3*s1.Degree) {
				t.Errorf("%s, %s: %v, of the poses %v", name, key, got, least[end])
			}
			if want := [2]bool{least[end] < least[1-end], false}; row.Fails[0] != want {
				t.Errorf("%s, %s: marked %v, want %v (%v)", name, key, row.Fails[0], want, least)
			}
		}
		if got := s1.Angle(c.Find("least_transmission").Values[0][0]); math.Abs(float64(got-min(c.Entries[0].AtEnd[0].Angle, c.Entries[0].AtEnd[1].Angle))) > 1e-9 {
			t.Errorf("%s: least %v, by end %v", name, got, c.Entries[0].AtEnd)
		}
	}
}

// TestMirroredComparison: mirrored setups have the figures of left and right exchanged.
func TestMirroredComparison(t *testing.T) {
	trial.Check(t, func(t *rapid.T) {
		s := random.Setup(t)
		c := side(s, random.Mirrored(s))
		if c.Entries[0].Result == nil || c.Entries[1].Result == nil {
			if c.Entries[0].Result != nil || c.Entries[1].Result != nil {
				t.Fatalf("%v, mirrored %v", c.Entries[0].Err, c.Entries[1].Err)
			}
			return
		}
		for _, row := range c.Rows {
			a, b := row.Values[0], row.Values[1]
			if row.Split != compare.Single {
				b[0], b[1] = b[1], b[0]
			}
			if row.Key == "narrowest_column" { // as narrow on either side of centre where it is symmetric
				continue
			}
			for i := range a {
				if math.IsNaN(a[i]) != math.IsNaN(b[i]) || math.Abs(a[i]-b[i]) > 1e-6*max(1, math.Abs(a[i])) {
					t.Errorf("%s: %v, mirrored %v", row.Key, row.Values[0], row.Values[1])
				}
			}
		}
	})
}

// TestBestAndDifference: by hand, on setups whose order is known.
func TestBestAndDifference(t *testing.T) {
	made := func(set ...string) *setup.Setup {
		return example.Parse(t, trapezoid, append(set, "limits.transmission=5")...)
	}
	c := side(made(), made("limits.spindle=30"), made("limits.spindle=35", "vehicle.wheelbase=900"))
	for key, best := range map[string][3]bool{
		"lock_inner": {true, false, false}, "length": {false, false, true}, "width": {false, false, false},
		"turning_circle": {false, false, true}, "slide_held_outside": {true, false, false}, "rod_length": {false, false, false},
	} {
		row := c.Find(key)
		for i := range best {
			if row.Best[i][0] != best[i] {
				t.Errorf("%s: best %v of %v, want %v", key, row.Best, row.Values, best)
				break
			}
		}
	}
	row := c.Find("length")
	if got := c.Differs(row, 2, 0); math.Abs(got+100) > 1e-9 {
		t.Errorf("length differs by %v, want -100", got)
	}
	if got := c.Differs(row, 0, 0); !math.IsNaN(got) {
		t.Errorf("the reference differs from itself by %v", got)
	}
	if values, best := row.Worse(); values[2] != row.Values[2][0] || !best[2] || best[0] {
		t.Errorf("worse %v, best %v", values, best)
	}
}

// TestOneThatCannotBeSwept leaves the others compared; the reference is the first that works.
func TestOneThatCannotBeSwept(t *testing.T) {
	c := side(example.Parse(t, trapezoid, "tie_rod.length=20"), example.Parse(t, trapezoid), example.Parse(t, trapezoid, "limits.spindle=30"))
	if c.Entries[0].Err == nil || c.Entries[0].Result != nil || c.Reference != 1 {
		t.Fatalf("error %v, reference %d", c.Entries[0].Err, c.Reference)
	}
	row := c.Find("lock_inner")
	if !math.IsNaN(row.Values[0][0]) || math.IsNaN(row.Values[1][0]) || math.IsNaN(c.Differs(row, 2, 0)) || !math.IsNaN(c.Differs(row, 0, 0)) {
		t.Errorf("values %v", row.Values)
	}
	none := compare.Run([]compare.Entry{{Name: "x", Err: errors.New("no")}}, road.Slide{Radius: 4000}, nil)
	if none.Reference != -1 || !math.IsNaN(none.Find("width").Values[0][0]) {
		t.Errorf("reference %d", none.Reference)
	}
}

// TestWhatSteersBackwardsIsNeverBest, nor does it keep another from being best.
func TestWhatSteersBackwardsIsNeverBest(t *testing.T) {
	shorter := func(set ...string) *setup.Setup {
		return example.Parse(t, trapezoid, append([]string{"vehicle.wheelbase=900", "limits.transmission=5", "limits.spindle=20"}, set...)...)
	}
	c := side(example.Parse(t, trapezoid, "limits.transmission=5"), shorter("drop_arm.left[0]=-60", "drop_arm.right[0]=-60", "vehicle.wheelbase=850"), shorter("kingpin.height=140"))
	for i, sound := range []bool{true, false, true} {
		if got := c.Entries[i].Sound(); got != sound {
			t.Fatalf("setup %d: sound %v, findings %v", i, got, c.Entries[i].Result.Findings)
		}
	}
	for k := range c.Rows {
		row := &c.Rows[k]
		_, worse := row.Worse()
		if row.Best[1][0] || row.Best[1][1] || worse[1] {
			t.Errorf("%s: best though it steers backwards", row.Key)
		}
	}
	if row := c.Find("length"); row.Best[0][0] || !row.Best[2][0] {
		t.Errorf("length %v, best %v", row.Values, row.Best)
	}
}

// TestSpaceLeft by hand.
func TestSpaceLeft(t *testing.T) {
	s := example.Parse(t, strings.Replace(trapezoid, "wheelbase = 1000", "wheelbase = 1000, rear_track = 900, rear_tyre = { diameter = 280, width = 180 }", 1),
		"space.width=1000", "space.length=1300")
	c := side(s)
	for key, want := range map[string]float64{
		"width": 1080, "length": 1000 + 140 + 130, "space_left_width": -80, "space_left_length": 30,
	} {
		if got := c.Find(key).Values[0][0]; math.Abs(got-want) > 1e-9 {
			t.Errorf("%s: %v, want %v", key, got, want)
		}
	}
}
