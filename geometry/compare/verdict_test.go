package compare

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// figured is an entry by the figures that decide: both ways of the circle in mm, of the error at 20 degrees and of the slide
// in degrees, leverage in degrees, gap in mm.
type figured struct {
	circle, error20, slide [2]float64
	leverage, gap          float64
	unsound                bool
	outside                float64 // the slide that the outside wheel holds, where it is not 3 degrees more
	errorLock              float64 // degrees
}

// plainly is one without sides.
func plainly(circle, error20, slide, leverage, gap float64) figured {
	return figured{[2]float64{circle, circle}, [2]float64{error20, error20}, [2]float64{slide, slide}, leverage, gap, false, 0, 0}
}

// compared puts entries of given figures side by side.
func compared(entries []figured) *Comparison {
	c := &Comparison{}
	rows := map[string]func(f figured) [2]float64{
		"turning_circle_balanced": func(f figured) [2]float64 { return f.circle },
		"ackermann_error_20":      func(f figured) [2]float64 { return rad(f.error20) },
		"ackermann_error_10":      func(f figured) [2]float64 { return rad([2]float64{f.error20[0] / 4, f.error20[1] / 4}) },
		"ackermann_error_lock":    func(f figured) [2]float64 { return rad([2]float64{f.errorLock, f.errorLock}) },
		"slide_held_inside":       func(f figured) [2]float64 { return rad(f.slide) },
		"slide_held_outside": func(f figured) [2]float64 {
			if f.outside != 0 {
				return rad([2]float64{f.outside, f.outside})
			}
			return rad([2]float64{f.slide[0] + 3, f.slide[1] + 3})
		},
		"least_transmission": func(f figured) [2]float64 { return rad([2]float64{f.leverage, math.NaN()}) },
		"least_gap":          func(f figured) [2]float64 { return [2]float64{f.gap, math.NaN()} },
	}
	for _, f := range entries {
		e := Entry{Result: &sweep.Result{Model: &sweep.Model{Setup: &setup.Setup{Limits: setup.Limits{Clearance: 5}}}}}
		if f.unsound {
			e.Faults = []Fault{{Code: sweep.StopMargin}}
		}
		c.Entries = append(c.Entries, e)
	}
	for i := range figures {
		row := Row{Figure: &figures[i], Values: make([][2]float64, len(entries)), Best: make([][2]bool, len(entries))}
		for k, f := range entries {
			row.sound = append(row.sound, c.Entries[k].Sound())
			if of := rows[row.Key]; of != nil {
				row.Values[k] = of(f)
			}
		}
		c.Rows = append(c.Rows, row)
	}
	return c
}

func rad(degrees [2]float64) [2]float64 {
	return [2]float64{degrees[0] * math.Pi / 180, degrees[1] * math.Pi / 180}
}

// said writes verdicts down: "tight A (next B; costs least_gap B)".
func said(list []Verdict) string {
	letter := func(i int) string { return string(rune('A' + i)) }
	var out []string
	for _, v := range list {
		text := [3]string{"tight ", "true ", "slide "}[v.Aim] + letter(v.Best)
		for _, i := range v.AsGood {
			text += "=" + letter(i)
		}
		if v.Next >= 0 {
			text += " then " + letter(v.Next)
		}
		for _, k := range v.Costs {
			text += " costs " + k.Key + " " + letter(k.Than)
		}
		out = append(out, text)
	}
	return strings.Join(out, "; ")
}

// TestVerdicts: what is best at what, why and at what price, each row a rule.
func TestVerdicts(t *testing.T) {
	for name, c := range map[string]struct {
		entries []figured
		today   int
		want    string
	}{
		"each best at something": {
			[]figured{plainly(4000, -1, 30, 40, 20), plainly(3700, -3, 30, 40, 20), plainly(4000, -1, 35, 40, 20)}, 0,
			"tight B then A costs slide_held C costs ackermann_error_20 A; true A=C then B costs slide_held C costs turning_circle_balanced B; slide C then A costs turning_circle_balanced B",
		},
		"what a tape cannot tell stays as it is": {
			[]figured{plainly(4000, -1, 30, 40, 20), plainly(3970, -0.8, 30.4, 40, 20)}, 0,
			"tight A=B; true A=B; slide A=B",
		},
		"and without one that changes nothing it is the best by the figures": {
			[]figured{plainly(4000, -1, 30, 40, 20), plainly(3970, -0.8, 30.4, 40, 20)}, -1,
			"tight B=A; true B=A; slide B=A",
		},
		"just what a tape can tell": {
			[]figured{plainly(4000, -1, 30, 40, 20), plainly(3959, -0.69, 30.51, 40, 20)}, 0,
			"tight B then A; true B then A; slide B then A",
		},
		"the one that is not sound is best at nothing and no measure for the others": {
			[]figured{plainly(4000, -1, 30, 40, 20), {[2]float64{3000, 3000}, [2]float64{0, 0}, [2]float64{60, 60}, 80, 25, true, 0, 0}}, 0,
			"tight A; true A; slide A",
		},
		"not even where it is today's": {
			[]figured{{[2]float64{4000, 4000}, [2]float64{-1, -1}, [2]float64{30, 30}, 40, 20, true, 0, 0}, plainly(4400, -2, 28, 40, 20)}, 0,
			"tight B; true B; slide B",
		},
		"none is sound": {
			[]figured{{unsound: true}, {unsound: true}}, 0, "",
		},
		"the worse way counts": {
			[]figured{
				{[2]float64{4000, 4000}, [2]float64{1, -1}, [2]float64{30, 30}, 40, 20, false, 0, 0},
				{[2]float64{3500, 4200}, [2]float64{0, 2}, [2]float64{40, 28}, 40, 20, false, 0, 0},
			}, 0,
			"tight A then B; true A then B; slide A then B",
		},
		"true is nearest to nought, from either side": {
			[]figured{plainly(4000, 2, 30, 40, 20), plainly(4000, -0.5, 30, 40, 20), plainly(4000, -4, 30, 40, 20)}, 0,
			"tight A=B=C costs ackermann_error_20 B; true B then A; slide A=B=C costs ackermann_error_20 B",
		},
		"a gap too far off to be listed is no merit": {
			[]figured{plainly(4000, -1, 30, 40, 20), plainly(4100, -1, 30, 40, math.Inf(1))}, 0,
			"tight A then B; true A=B; slide A=B",
		},
		"of both wheels in a slide the one that gives out first counts": {
			[]figured{plainly(4000, -1, 30, 40, 20), {[2]float64{4000, 4000}, [2]float64{-1, -1}, [2]float64{40, 40}, 40, 20, false, 28, 0}}, 0,
			"tight A=B; true A=B; slide A then B",
		},
		"leverage and gaps are a price": {
			[]figured{plainly(4000, -1, 30, 60, 20), plainly(3500, -1, 30, 30, 8)}, 0,
			"tight B then A costs least_gap A costs least_transmission A; true A=B costs turning_circle_balanced B; slide A=B costs turning_circle_balanced B",
		},
		"one that does not turn one way turns tight no more": {
			[]figured{plainly(4000, -1, 30, 40, 20), {[2]float64{math.NaN(), 3000}, [2]float64{-1, -1}, [2]float64{30, 30}, 40, 20, false, 0, 0}}, 0,
			"tight A; true A=B; slide A=B",
		},
	} {
		if got := said(compared(c.entries).Verdicts(c.today)); got != c.want {
			t.Errorf("%s:\n got %s\nwant %s", name, got, c.want)
		}
	}
}

// TestErrorIsComparedWhereAllGet: one that never turns 20 degrees is held to the others at 10.
func TestErrorIsComparedWhereAllGet(t *testing.T) {
	short := plainly(4000, -1, 30, 40, 20)
	c := compared([]figured{plainly(4000, -1, 30, 40, 20), short})
	if by := c.rollsTrue(); by.Key != "ackermann_error_20" {
		t.Errorf("judged by %s", by.Key)
	}
	row := slices.IndexFunc(c.Rows, func(r Row) bool { return r.Key == "ackermann_error_20" })
	c.Rows[row].Values[1][1] = math.NaN()
	if by := c.rollsTrue(); by.Key != "ackermann_error_10" || math.Abs(by.Values[0]+0.25*math.Pi/180) > 1e-12 {
		t.Errorf("judged by %s, %v", by.Key, by.Values)
	}
	c.Entries[1].Faults = []Fault{{Code: sweep.StopMargin}}
	if by := c.rollsTrue(); by.Key != "ackermann_error_20" {
		t.Errorf("one that is not sound decides: judged by %s", by.Key)
	}
}

// TestWorse: the worse of both ways by hand, unknown where one way is.
func TestWorse(t *testing.T) {
	for _, c := range []struct {
		better Better
		v      [2]float64
		want   float64
	}{
		{More, [2]float64{3, 2}, 2}, {More, [2]float64{2, 3}, 2}, {Less, [2]float64{3, 2}, 3}, {Less, [2]float64{2, 3}, 3},
		{NearZero, [2]float64{-3, 2}, -3}, {NearZero, [2]float64{2, -3}, -3}, {Neither, [2]float64{2, 3}, 2},
		{More, [2]float64{math.NaN(), 3}, math.NaN()}, {Less, [2]float64{3, math.NaN()}, math.NaN()},
	} {
		row := Row{Figure: &Figure{Better: c.better, Split: ByLock}, Values: [][2]float64{c.v}, sound: []bool{true}}
		if got, _ := row.Worse(); fmt.Sprint(got[0]) != fmt.Sprint(c.want) {
			t.Errorf("%v of %v: %v, want %v", c.better, c.v, got[0], c.want)
		}
	}
}

// TestTheDearestErrorIsThePrice: of Ackermann errors at 10 and 20 degrees and at the lock a cost is the one that the best is beaten in by most.
func TestTheDearestErrorIsThePrice(t *testing.T) {
	for _, c := range []struct {
		error20, errorLock float64
		want               string // of the cost, "" for none
	}{
		{-8, -21, "ackermann_error_lock"},
		{-8, -2, "ackermann_error_20"},
		{-0.1, -21, "ackermann_error_lock"},
		{-0.1, 0.1, ""},
	} {
		slides, other := plainly(4000, c.error20, 40, 45, 20), plainly(4000, 0, 20, 45, 20)
		slides.errorLock = c.errorLock
		var got []string
		for _, v := range compared([]figured{slides, other}).Verdicts(-1) {
			if v.Aim != Sliding {
				continue
			}
			if v.Best != 0 {
				t.Errorf("%+v: best is %d", c, v.Best)
			}
			for _, k := range v.Costs {
				got = append(got, k.Key)
			}
		}
		if strings.Join(got, " ") != c.want {
			t.Errorf("error %v at 20 degrees, %v at the lock: costs %v, want %q", c.error20, c.errorLock, got, c.want)
		}
	}
}
