package tolerance_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"runtime"
	"strings"
	"testing"

	"github.com/golang/geo/s1"

	"locksweep/fixtures/example"
	"locksweep/geometry/compare"
	"locksweep/geometry/linkage"
	"locksweep/geometry/road"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/geometry/tolerance"
)

// trapezoid is a plane linkage: upright axes, everything at one height, a declared stop.
const trapezoid = `locksweep = 1
units = "mm"
vehicle = { wheelbase = 1000, rear_track = 1300 }
kingpin = { spacing = 640, height = 130 }
wheel = { offset = 120, tyre_diameter = 260, tyre_width = 100 }
arm = { pickup = [-100, -32, 0] }
column = { foot = [-40, 0, 130], rake = 90 }
drop_arm = { left = [60, 14, 0], right = [60, -14, 0] }
limits = { spindle = 30 }
`

var path = road.Slide{Radius: 4000}

func sure(t testing.TB, s *setup.Setup, draws int) *tolerance.Result {
	t.Helper()
	as, err := sweep.Run(s, compare.Step)
	if err != nil {
		t.Fatal(err)
	}
	r, err := tolerance.Run(as, tolerance.Options{Draws: draws, Path: path})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// exactBut makes everything exact but some keys.
func exactBut(keys string) []string {
	return []string{"accuracy={place=0,height=0,hole=0,rod=0,outline=0,angle=0,keys={" + keys + "}}"}
}

// perUnit is what a reading does to a figure.
func perUnit(r *tolerance.Result, figure string, side int, key string) float64 {
	for _, s := range r.Find(figure, side).From {
		if r.Readings[s.Reading].Key == key {
			return s.PerUnit
		}
	}
	return 0
}

// TestSensitivitiesInClosedForm (derived): what each measure of a plane linkage with upright axes does to a figure.
func TestSensitivitiesInClosedForm(t *testing.T) {
	s := example.Parse(t, trapezoid)
	r := sure(t, s, 0)
	// With lead 0, cot outer - cot ideal = spacing / wheelbase; the wheels do not know the wheelbase.
	p, ok := r.AtMeanSteer(&r.Locks[0], 20*s1.Degree)
	if !ok {
		t.Fatal("20 degrees are not reached")
	}
	ideal := math.Atan(1 / (1/math.Tan(float64(p.Turn.OuterSteer)) - 0.64))
	ofWheelbase := math.Pow(math.Sin(ideal), 2) * 640 / 1e6
	rod := s.CornerPoint(setup.Left, s.Corners[0].Arm.Pickup).Sub(s.Column.ColumnPoint(s.DropArm.Pins[setup.Left]))
	rod = rod.Mul(1 / rod.Norm())
	for _, c := range []struct {
		figure, key string
		want        float64
	}{
		{"ackermann_error_20", "vehicle.wheelbase", ofWheelbase},
		{"lock_inner", "limits.spindle", 1}, // the left spindle is the inner one, and stands against its stop
		{"lock_inner", "right.limits.spindle", 0},
		{"rod_length", "arm.pickup[0]", rod.X},
		{"rod_length", "arm.pickup[1]", rod.Y},    // outboard is to the left, on the left
		{"rod_length", "drop_arm.left[0]", rod.X}, // down an upright column is backward
		{"rod_length", "drop_arm.left[1]", -rod.Y},
		{"rod_length", "column.foot[1]", -rod.Y},
		{"rod_length", "kingpin.spacing", rod.Y / 2},
		{"rod_length", "right.arm.pickup[1]", 0},
		{"width", "vehicle.rear_track", 1},
		{"width", "kingpin.spacing", 0},
		{"length", "vehicle.wheelbase", 1},
	} {
		if got := perUnit(r, c.figure, 0, c.key); math.Abs(got-c.want) > 1e-5*math.Max(1, math.Abs(c.want)) && math.Abs(got-c.want) > 2e-2*math.Abs(c.want) {
			t.Errorf("%s by %s: %v for each unit, closed form %v", c.figure, c.key, got, c.want)
		}
	}
	f := r.Find("width", 0)
	if want := 2.0; math.Abs(f.Worst-want) > 1e-6 { // ±1 mm of track and of tyre each
		t.Errorf("width at worst ±%v, want ±%v", f.Worst, want)
	}
	rods := r.Find("rod_length", 0) // by much that is not good to just a millimetre
	most := 0.0
	for _, share := range rods.From {
		most += math.Abs(share.PerUnit) * r.Readings[share.Reading].Accuracy
	}
	if math.Abs(rods.Worst-most) > 1e-9 || most < 1 {
		t.Errorf("rod at worst ±%v, all measures at their most ±%v", rods.Worst, most)
	}
	if u := math.Sqrt(2.0 / 3); math.Abs(f.Uncertainty-u) > 1e-6 || math.Abs(f.From[0].Share-0.5) > 1e-6 {
		t.Errorf("width: uncertainty %v, want %v; shares %v", f.Uncertainty, u, f.From)
	}
}

// TestDrawsAgreeWithDifferences: where all is smooth both tell the same, within what chance does to a standard deviation of so many
// draws: 1/√(2 × draws), three times, and 3 % for what is not straight.
func TestDrawsAgreeWithDifferences(t *testing.T) {
	const draws = 600
	r := sure(t, example.Parse(t, trapezoid), draws)
	chance := 3 / math.Sqrt(2*draws)
	compared := 0
	for _, key := range []string{"lock_inner", "lock_outer", "ackermann_error_10", "ackermann_error_20", "turning_circle", "ratio_centre", "rod_length", "width", "turns_lock_to_lock"} {
		for side := range 2 {
			f := r.Find(key, side)
			if f == nil {
				continue
			}
			compared++
			if off := math.Abs(f.Draws.Deviation/f.Uncertainty - 1); !(off < 0.03+chance) || f.Bent {
				t.Errorf("%s %d: draws %v, differences %v, off by %.1f %%; told to be bent: %v", key, side, f.Draws.Deviation, f.Uncertainty, 100*off, f.Bent)
			}
			if f.PlusMinus() > f.Worst || f.Draws.Low > f.Value || f.Draws.High < f.Value {
				t.Errorf("%s %d: %v ± %v (%v to %v), worst %v", key, side, f.Value, f.PlusMinus(), f.Draws.Low, f.Draws.High, f.Worst)
			}
		}
	}
	for i := range r.Figures { // the worst is never less than what was drawn, of all figures
		if f := &r.Figures[i]; f.Draws.Known > 0 && !math.IsNaN(f.Value) && !math.IsInf(f.Value, 0) && !(f.PlusMinus() <= f.Worst && f.Draws.Most-f.Value <= f.Worst && f.Value-f.Draws.Least <= f.Worst) {
			t.Errorf("%s %d: %v ± %v, drawn from %v to %v, worst %v", f.Key, f.Side, f.Value, f.PlusMinus(), f.Draws.Least, f.Draws.Most, f.Worst)
		}
	}
	if compared < 14 {
		t.Errorf("only %d figures compared", compared)
	}
}

// TestAgainstKartsReadFromFiles draws karts with another generator, writes their figures into the file as --set does, and compares
// them as a user would: the spread of figures is that of the draws, within what chance does to both.
func TestAgainstKartsReadFromFiles(t *testing.T) {
	keys := []struct {
		key      string
		as, half float64
	}{
		{"arm.pickup[0]", -100, 0.8}, {"right.arm.pickup[0]", -100, 0.8}, {"arm.pickup[1]", -32, 0.6}, {"right.arm.pickup[1]", -32, 0.6},
		{"drop_arm.left[0]", 60, 0.7}, {"drop_arm.right[0]", 60, 0.7}, {"column.foot[1]", 0, 1.5}, {"vehicle.wheelbase", 1000, 4}, {"kingpin.caster", 0, 0.9}, {"right.kingpin.caster", 0, 0.9},
		{"limits.spindle", 30, 0.5}, {"right.limits.spindle", 30, 0.5},
	}
	const draws = 250
	random := rand.New(rand.NewPCG(1, 2))
	entries := make([]compare.Entry, draws)
	var given []string
	for _, k := range keys {
		given = append(given, fmt.Sprintf("%q=%v", k.key, k.half))
	}
	base := trapezoid + "right = { arm = { pickup = [-100, -32, 0] }, kingpin = { caster = 0 }, limits = { spindle = 30 } }\n"
	base = strings.Replace(base, "height = 130", "height = 130, caster = 0", 1)
	for i := range entries {
		var set []string
		for _, k := range keys {
			set = append(set, fmt.Sprintf("%s=%v", k.key, k.as+k.half*(2*random.Float64()-1)))
		}
		entries[i] = compare.Entry{Name: fmt.Sprint(i), Setup: example.Parse(t, base, set...), Brief: true}
	}
	c := compare.Run(entries, path, nil)
	r := sure(t, example.Parse(t, base, exactBut(strings.Join(given, ","))...), 4*draws)
	for _, key := range []string{"lock_inner", "ackermann_error_20", "rod_length", "turning_circle", "least_transmission"} {
		row := c.Find(key)
		for side := range 2 {
			f := r.Find(key, side)
			if f == nil {
				continue
			}
			mean, squares := 0.0, 0.0
			for i := range entries {
				mean += row.Values[i][side] / draws
			}
			for i := range entries {
				squares += math.Pow(row.Values[i][side]-mean, 2)
			}
			deviation := math.Sqrt(squares / (draws - 1))
			chance := 3.5 * math.Sqrt(1/(2.0*draws)+1/(8.0*draws))
			if off := math.Abs(f.Draws.Deviation/deviation - 1); !(off < chance) {
				t.Errorf("%s %d: draws spread by %v, karts read from files by %v", key, side, f.Draws.Deviation, deviation)
			}
			if off := math.Abs(f.Draws.Mean - mean); !(off < 4*deviation*math.Sqrt(1.25/draws)) {
				t.Errorf("%s %d: draws are %v in the mean, karts read from files %v", key, side, f.Draws.Mean, mean)
			}
		}
	}
}

// TestHolesThatNothingIsInDoNothing: what is not worked out of them is nought in karts read with such a hole elsewhere, and holes that a ball is
// in do as much as the ball.
func TestHolesThatNothingIsInDoNothing(t *testing.T) {
	values := func(set ...string) [][2]float64 {
		as, err := sweep.Run(example.Read(t, "shed-kart", set...), compare.Step)
		if err != nil {
			t.Fatal(err)
		}
		all := compare.Ask(nil)
		return all.Values(as, path)
	}
	if at, moved := fmt.Sprint(values()), fmt.Sprint(values("arm.holes.inner.at=[-74.3, -10.7]", "arm.holes.inner.diameter=8.2", "arm.holes.inner.up=1")); at != moved {
		t.Errorf("figures hang on a hole that nothing is in:\n%s\n%s", at, moved)
	}
	r, spare := sure(t, example.Read(t, "shed-kart"), 0), 0
	for _, one := range r.Readings {
		if strings.HasPrefix(one.Key, "arm.holes.inner") {
			spare++
		}
	}
	for _, f := range r.Figures {
		for _, share := range f.From {
			if key := r.Readings[share.Reading].Key; strings.Contains(key, ".holes.") {
				t.Errorf("%s hangs on %s", f.Key, key)
			}
		}
	}
	if ball := perUnit(r, "rod_length", 0, "arm.pickup[1]"); spare < 3 || !(math.Abs(ball) > 0.5) {
		t.Errorf("%d readings of the inner hole; the rod grows by %v for each mm that the outer one lies outboard", spare, ball)
	}
}

// TestOnlyWhatIsAsked: figures that are asked for, each by itself, are those that all are asked with; of the others nothing is known.
func TestOnlyWhatIsAsked(t *testing.T) {
	s := example.Read(t, "rack-buggy")
	as, err := sweep.Run(s, compare.Step)
	if err != nil {
		t.Fatal(err)
	}
	opt := tolerance.Options{Draws: 30, Path: path}
	all, err := tolerance.Run(as, opt)
	if err != nil {
		t.Fatal(err)
	}
	for _, key := range []string{"rod_length", "least_gap", "stop_margin", "countersteer_gap", "countersteer_trail_outside", "least_transmission", "rise_inner", "slide_held_outside", "slide_apart_30", "length"} {
		opt.Keys = []string{key}
		some, err := tolerance.Run(as, opt)
		if err != nil {
			t.Fatal(err)
		}
		for i := range some.Figures {
			got, want := &some.Figures[i], &all.Figures[i]
			switch {
			case got.Key != key:
				if !math.IsNaN(got.Value) || len(got.From) > 0 {
					t.Errorf("%s was asked, and %s is %v", key, got.Key, got.Value)
				}
			case fmt.Sprint(got.Value, got.Draws, got.Differences) != fmt.Sprint(want.Value, want.Draws, want.Differences):
				t.Errorf("%s %d asked alone: %v %+v, among all %v %+v", key, got.Side, got.Value, got.Draws, want.Value, want.Draws)
			}
		}
		if fmt.Sprint(some.AtStop[0].Draws) != fmt.Sprint(all.AtStop[0].Draws) {
			t.Errorf("%s asked alone: the lock's column differs", key)
		}
	}
}

// TestSameOnAnyNumberOfCores: not a bit differs.
func TestSameOnAnyNumberOfCores(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	s := example.Parse(t, trapezoid)
	var first string
	for _, cores := range []int{1, 2, 8} {
		runtime.GOMAXPROCS(cores)
		r := sure(t, s, 130)
		said := fmt.Sprintf("%x %v %v", r.Find("lock_inner", 0).Draws, r.Apart, r.Touching)
		for _, f := range r.Figures {
			said += fmt.Sprintf(" %s %x %x %x %v", f.Key, f.Draws, f.Worst, f.Uncertainty, f.From)
		}
		for d := range r.Stops {
			for _, stop := range r.Stops[d] {
				said += fmt.Sprintf(" %v %d", *stop.Limit, stop.Count)
			}
		}
		if first == "" {
			first = said
		} else if said != first {
			t.Errorf("on %d cores another answer", cores)
		}
	}
}

// TestStopsThatComeTogether: the column's travel ends where the wheel meets its declared stop, so that each stops about half
// of the karts, and the lock does not follow either in a straight line.
func TestStopsThatComeTogether(t *testing.T) {
	s := example.Parse(t, trapezoid, append(exactBut(`"limits.spindle"=0.5,"column.travel"=0.5`), "column.travel=60")...)
	s.Column.Travel = sure(t, s, 0).Locks[0].Column
	r := sure(t, s, 400)
	for d := range r.Stops {
		if len(r.Stops[d]) != 2 || r.Stops[d][1].Count < 120 {
			t.Errorf("turning %v: %+v", sweep.Direction(d), r.Stops[d])
		}
	}
	if f := r.Find("turns_lock_to_lock", 0); !f.Bent {
		t.Errorf("turns %v ± %v (draws %v, differences %v) pass for straight", f.Value, f.PlusMinus(), f.Draws.Deviation, f.Uncertainty)
	}
}

// TestRodsThatDoNotReach: of karts whose rods are within a millimetre of not reaching, good to 5 mm, 4 of 10 cannot be put together;
// where none can, that is the answer.
func TestRodsThatDoNotReach(t *testing.T) {
	_, err := sweep.Run(example.Parse(t, trapezoid, "tie_rod.length=900"), compare.Step)
	var far *linkage.AssemblyError
	if !errors.As(err, &far) {
		t.Fatal(err)
	}
	s := example.Parse(t, trapezoid, append(exactBut(`"tie_rod.left"=5`), fmt.Sprintf("tie_rod.length=%v", far.Greatest-1))...)
	r := sure(t, s, 500)
	if share := float64(r.Apart) / 500; math.Abs(share-0.4) > 4*math.Sqrt(0.24/500) {
		t.Errorf("%d of 500 cannot be put together, want some 200", r.Apart)
	}
	if f := r.Find("lock_inner", 0); f.Draws.Of != 500-r.Apart {
		t.Errorf("the lock is known of %+v with %d apart", f.Draws, r.Apart)
	}
}

// TestHowExactToDrill: what is told to be exact enough is: with holes so exact, and nothing else, the lock's error keeps within half a degree.
func TestHowExactToDrill(t *testing.T) {
	s := example.Parse(t, trapezoid, exactBut("")...)
	e := sure(t, s, 0).Exact(tolerance.Ackermann)
	if !(e.HolesAlways < e.Holes && e.Holes < 3 && e.RodsAlways <= e.Rods) {
		t.Fatalf("exact %+v", e)
	}
	as, _ := sweep.Run(s, compare.Step)
	for drill, want := range map[float64]float64{e.Holes: 1, e.Holes / 2: 0.5} {
		r, err := tolerance.Run(as, tolerance.Options{Draws: 400, Drill: &drill, Path: path})
		if err != nil {
			t.Fatal(err)
		}
		most := math.Max(r.Find("ackermann_error_20", 0).PlusMinus(), r.Find("ackermann_error_20", 1).PlusMinus())
		if got := most / float64(tolerance.Wanted); math.Abs(got/want-1) > 0.12 {
			t.Errorf("holes to ±%.3f mm: the error is known to %.3f of what is wanted, should be %v", drill, got, want)
		}
	}
	if lock := sure(t, s, 0).Exact(tolerance.Lock); !math.IsInf(lock.Holes, 1) {
		t.Errorf("a declared stop of the spindle holds whatever the holes are, but they should be within %v", lock.Holes)
	}
}

func TestMeasureThisAgain(t *testing.T) {
	r := sure(t, example.Parse(t, trapezoid, exactBut(`"arm.pickup[0]"=1,"drop_arm.left[0]"=0.1,"drop_arm.right[0]"=0.1`)...), 0)
	most := r.Most(tolerance.Ackermann)
	if len(most) != 2 || most[0].Key != "arm.pickup[0]" || !most[0].Both || most[1].Key != "drop_arm.left[0]" || math.Abs(most[0].Share+most[1].Share-1) > 1e-9 {
		t.Errorf("most %+v", most)
	}
}

// BenchmarkTwoThousandDraws is a whole answer for twenty parts, differences and draws.
func BenchmarkTwoThousandDraws(b *testing.B) {
	as, err := sweep.Run(example.Padded(example.Read(b, "shed-kart"), 20), compare.Step)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := tolerance.Run(as, tolerance.Options{Draws: tolerance.DefaultDraws, Path: path}); err != nil {
			b.Fatal(err)
		}
	}
}
