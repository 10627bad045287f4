package compare_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"locksweep/fixtures/example"
	"locksweep/fixtures/random"
	"locksweep/fixtures/trial"
	"locksweep/geometry/compare"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// inPlane is the trapezoid's linkage turned by a column angle, from the closed form of follows: its left spindle, and the
// lesser angle of the left rod to the arm and to the drop arm. By symmetry the right side turned the other way is the same.
func inPlane(column float64) (spindle, leverage float64) {
	kingpin, arm, foot, pin := point{0, 320}, point{-100, -32}, point{-40, 0}, point{-60, 14}
	spindle = follows(kingpin, arm, foot, pin, column)
	ball, q := kingpin.plus(arm.turned(spindle)), foot.plus(pin.turned(column))
	rod := point{ball.x - q.x, ball.y - q.y}
	between := func(a, b point) float64 { // lines, so that 90 degrees is the most
		return math.Asin(math.Abs(a.x*b.y-a.y*b.x) / math.Hypot(a.x, a.y) / math.Hypot(b.x, b.y))
	}
	return spindle, math.Min(between(rod, arm.turned(spindle)), between(rod, pin.turned(column)))
}

// endInPlane is the column angle at which the trapezoid gives out, either way: where a spindle turns back or its rod does
// not reach, stepped in steps of a hundredth of a degree.
func endInPlane() float64 {
	before := [2]float64{}
	for i := 1; i < 18000; i++ {
		column := float64(i) * 0.01 * math.Pi / 180
		for k, way := range [2]float64{1, -1} {
			spindle, _ := inPlane(way * column)
			if !(way*spindle > before[k]) {
				return column
			}
			before[k] = way * spindle
		}
	}
	return math.Inf(1)
}

func degreesOf(rad float64) string { return fmt.Sprint(rad * 180 / math.Pi) }

// TestSound: a small setup for each thing that keeps a setup from being best, just failing and just not. Angles come from
// the plane closed form, gaps from how the parts are placed.
func TestSound(t *testing.T) {
	end := endInPlane()
	// A declared stop acts on the spindle that comes to it first.
	stopAt := func(column float64) string {
		l, _ := inPlane(column)
		r, _ := inPlane(-column)
		return "limits.spindle=" + degreesOf(math.Max(l, -r))
	}
	near := func(gap float64) []string { // a boss round the column, a post beside it
		return []string{"limits.transmission=5",
			fmt.Sprintf(`part=[{name="boss",on="column",disc={centre=[0,0,60],axis=[0,0,1],diameter=40,width=10}},`+
				`{name="post",on="frame",tube={diameter=10,path=[[%v,0,150],[%v,0,240]]}}]`, -40+20+gap+5, -40+20+gap+5)}
	}
	post := func(x, y float64) string {
		return fmt.Sprintf(`part=[{name="post",on="frame",mirror=true,tube={diameter=10,path=[[%v,%v,40],[%v,%v,220]]}}]`, x, y, x, y)
	}
	_, weakest := inPlane(30 * math.Pi / 180)
	if _, other := inPlane(-30 * math.Pi / 180); other < weakest {
		weakest = other
	}
	const low = "limits.transmission=1"
	for name, c := range map[string]struct {
		set  []string
		want []compare.Fault
	}{
		"as it should be":                {[]string{stopAt(0.5)}, nil},
		"stop 3.2 degrees before end":    {[]string{low, stopAt(end - 3.2*math.Pi/180)}, nil},
		"stop 2.8 degrees before end":    {[]string{low, stopAt(end - 2.8*math.Pi/180)}, []compare.Fault{{Code: sweep.StopMargin}, {Code: sweep.StopMargin, Lock: 1}}},
		"steers backwards":               {[]string{"drop_arm.left[0]=-60", "drop_arm.right[0]=-60", low, "limits.spindle=20"}, []compare.Fault{{Code: sweep.SteersBackwards}}},
		"wheels against each other":      {[]string{"drop_arm.left[0]=-60", low, "limits.spindle=20"}, []compare.Fault{{Code: sweep.WheelsOpposed}}},
		"just leverage enough":           {[]string{stopAt(30 * math.Pi / 180), "limits.transmission=" + degreesOf(weakest+1.7e-4)}, nil},
		"leverage short by a hair":       {[]string{stopAt(30 * math.Pi / 180), "limits.transmission=" + degreesOf(weakest+1.8e-4)}, []compare.Fault{{Code: sweep.LowTransmission}}},
		"just room enough":               {near(4.985), nil},
		"a gap short by a hair":          {near(4.975), []compare.Fault{{Code: sweep.LowClearance}}},
		"a tyre touches first":           {[]string{low, post(-120, 370)}, []compare.Fault{{Code: sweep.TyreTouches}, {Code: sweep.TyreTouches, Lock: 1}}},
		"the column is stopped first":    {[]string{low, "column.travel=20"}, []compare.Fault{{Code: sweep.TouchesFirst}, {Code: sweep.TouchesFirst, Lock: 1}}},
		"no metal stop, only the column": {[]string{low, "column.travel=20", "limits.spindle=170"}, []compare.Fault{{Code: sweep.NoMetalStop}, {Code: sweep.NoMetalStop, Lock: 1}}},
	} {
		e := side(example.Parse(t, trapezoid, c.set...)).Entries[0]
		if e.Err != nil {
			t.Errorf("%s: %v", name, e.Err)
			continue
		}
		if !slices.Equal(e.Faults, c.want) {
			t.Errorf("%s: faults %v, want %v; locks %v %v", name, e.Faults, c.want, e.Result.Locks[0].Column.Degrees(), e.Result.Locks[1].Column.Degrees())
		}
		if e.Sound() != (len(c.want) == 0) {
			t.Errorf("%s: sound %v with %v", name, e.Sound(), e.Faults)
		}
	}
}

// lug is added to the trapezoid: what stops the wheel outside the turn, on either side.
const lug = `
[[part]]
name = "lug"
on = "spindle"
plate = { outline = [[20, -15], [60, -15], [60, -35], [20, -35]], up = [40, 50] }
[[part]]
name = "peg"
on = "frame"
mirror = true
tube = { diameter = 10, path = [[42, 263, 160], [42, 263, 190]] }
`

// TestStopItselfIsNoGap: the metal that stops the wheel touches, and that is no fault; the same metal 2 mm off at a
// declared stop is one.
func TestStopItselfIsNoGap(t *testing.T) {
	touching := example.Parse(t, trapezoid+lug, "limits.spindle=170", "limits.transmission=5")
	e := side(touching).Entries[0]
	if l := e.Result.Locks[0].First(); l == nil || l.Kind != sweep.Contact || !e.Sound() {
		t.Fatalf("stopped by %+v, faults %v: should be the lug, and sound", l, e.Faults)
	}
	// The spindle that touches turning left, less 2 mm at the lug's corner, some 70 mm from the kingpin.
	turned := 0.0
	for side := range e.Result.Locks[0].Pose.Sides {
		turned = math.Max(turned, math.Abs(float64(e.Result.Locks[0].Pose.Sides[side].Spindle)))
	}
	short := example.Parse(t, trapezoid+lug, "limits.transmission=5", "limits.spindle="+degreesOf(turned-2.0/70))
	if e := side(short).Entries[0]; !slices.Equal(e.Faults, []compare.Fault{{Code: sweep.LowClearance}}) {
		t.Errorf("faults %v, want a gap that is too small", e.Faults)
	}
}

// TestStopTakenAway: where a file marks its stop and a change takes that away, or its mark, nothing else is the stop, though a peg
// behind it is met some degrees later; with none marked in the file that peg is one. What is marked instead counts.
func TestStopTakenAway(t *testing.T) {
	text := strings.Replace(trapezoid, "limits = { spindle = 40 }", "limits = { transmission = 1, clearance = 0 }", 1) + strings.NewReplacer("mirror = true", "mirror = true\nstop = true", "[42, 263", "[47.4, 267.4").Replace(lug) + `
[[part]]
name = "spare"
on = "frame"
mirror = true
tube = { diameter = 10, path = [[42, 263, 160], [42, 263, 190]] }
`
	none := []compare.Fault{{Code: sweep.NoMetalStop}, {Code: sweep.NoMetalStop, Lock: 1}}
	from := &side(example.Parse(t, text)).Entries[0]
	for name, c := range map[string]struct {
		text string
		set  []string
		want []compare.Fault
		lost bool // the peg
	}{
		"as it is":               {text, nil, nil, false},
		"the peg left out":       {text, []string{"part.peg="}, none, true},
		"its mark left out":      {text, []string{"part.peg.stop=false"}, none, true},
		"the spare instead":      {text, []string{"part.peg=", "part.spare.stop=true"}, nil, true},
		"both marked":            {text, []string{"part.spare.stop=true"}, nil, false},
		"nothing marked, no peg": {strings.Replace(text, "stop = true", "", 1), []string{"part.peg="}, nil, true},
	} {
		to := &side(example.Parse(t, c.text, c.set...)).Entries[0]
		if to.Err != nil || !slices.Equal(to.Faults, c.want) {
			t.Errorf("%s: faults %v, want %v; %v", name, to.Faults, c.want, to.Err)
		}
		if got := compare.LosesStop(from, to, "part.peg"); got != c.lost {
			t.Errorf("%s: loses its stop %v, want %v", name, got, c.lost)
		}
		if compare.LosesStop(from, to, "part.spare") {
			t.Errorf("%s: the spare was no stop that could be lost", name)
		}
	}
}

// TestNoStarWithoutSoundness, over random setups: whoever has a star has no alarm, keeps leverage at every pose that was
// sampled and gaps as wanted, and is stopped by something before the linkage gives out.
func TestNoStarWithoutSoundness(t *testing.T) {
	stars := 0
	trial.Check(t, func(t *rapid.T) {
		c := side(random.Setup(t), random.Setup(t), random.Setup(t))
		for i := range c.Entries {
			e := &c.Entries[i]
			starred := slices.ContainsFunc(c.Rows, func(r compare.Row) bool { return r.Best[i][0] || r.Best[i][1] })
			for _, v := range c.Verdicts(0) {
				starred = starred || v.Best == i || slices.Contains(v.AsGood, i)
			}
			if !starred {
				continue
			}
			stars++
			if fault := unfit(e); fault != "" {
				t.Fatalf("entry %d is best at something, but %s", i, fault)
			}
		}
	})
	if stars == 0 {
		t.Error("no setup was best at anything")
	}
}

// unfit says in what an entry fails, gone through by hand; empty where it does not.
func unfit(e *compare.Entry) string {
	r := e.Result
	for _, p := range r.Poses {
		for _, s := range setup.Sides {
			if at := p.Transmission[s]; math.Min(float64(at[0]), float64(at[1])) < float64(r.Setup.Limits.Transmission)-1e-6 {
				return "leverage is short"
			}
		}
		if p.Ratio[0] < 0 && p.Column == 0 {
			return "it steers backwards"
		}
	}
	for _, d := range sweep.Directions {
		lock := &r.Locks[d]
		if len(lock.Chain) == 0 || lock.Chain[0].Kind.Ends() || lock.Chain[0].Kind == sweep.RodEnd {
			return "no stop comes first"
		}
		for _, l := range lock.Chain[1:] {
			if (l.Kind.Ends() || l.Kind == sweep.RodEnd) && math.Abs(float64(l.Column-lock.Column)) < 2.999*math.Pi/180 {
				return "the stop is too near its end"
			}
		}
	}
	for _, n := range r.Near {
		stop := false
		for _, d := range sweep.Directions {
			stop = stop || r.Locks[d].Chain[0].Kind == sweep.Contact && r.Locks[d].Chain[0].Pair == n.Pair
		}
		if !stop && n.Gap < r.Setup.Limits.Clearance-1e-6 {
			return "a gap is short"
		}
	}
	return ""
}

// TestMarkStandsOnItsSide: with the peg on the left side only, the wheels are stopped turning right and not turning left.
func TestMarkStandsOnItsSide(t *testing.T) {
	s := example.Parse(t, strings.Replace(trapezoid+lug, "mirror = true", "", 1), "limits.spindle=170", "limits.transmission=0")
	c := side(s, s)
	if want := []compare.Fault{{Code: sweep.NoMetalStop, Lock: sweep.ToLeft}}; !slices.Equal(c.Entries[0].Faults, want) {
		t.Fatalf("faults %v, want %v", c.Entries[0].Faults, want)
	}
	if marks := c.Find("stop_margin").Fails[0]; marks != [2]bool{true, false} {
		t.Errorf("marked %v", marks)
	}
}

// TestMarksStandWhereTheFaultShows: each fault in the row of its own figure, and nowhere else.
func TestMarksStandWhereTheFaultShows(t *testing.T) {
	for set, want := range map[string]string{
		"limits.spindle=20":                                            "",
		"limits.spindle=20 limits.transmission=80":                     "least_transmission 0 leverage_arm 0 leverage_drop 0",
		"limits.spindle=170":                                           "least_transmission 0 leverage_arm 0 leverage_drop 0 stop_margin 0 stop_margin 1",
		"drop_arm.left[0]=-60 drop_arm.right[0]=-60 limits.spindle=20": "ratio_centre 0",
		"limits.spindle=20 column.travel=5":                            "",
		"limits.spindle=30 limits.clearance=0 limits.transmission=89":  "least_transmission 0 leverage_arm 0 leverage_drop 0",
	} {
		c := side(example.Parse(t, trapezoid, strings.Fields(set)...), example.Parse(t, trapezoid))
		var marks []string
		for _, row := range c.Rows {
			for s, fails := range row.Fails[0] {
				if fails {
					marks = append(marks, fmt.Sprintf("%s %d", row.Key, s))
				}
			}
		}
		if got := strings.Join(marks, " "); got != want {
			t.Errorf("%s: marks %q, want %q (faults %v)", set, got, want, c.Entries[0].Faults)
		}
	}
}
