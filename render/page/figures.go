package page

import (
	"math"
	"strconv"
	"strings"

	"github.com/golang/geo/s1"

	"locksweep/geometry/linkage"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/geometry/tolerance"
	"locksweep/render/wording"
)

// series is a figure that is told live: its name, how it is told, and its text at every frame that the setup gets to.
type series struct {
	Key, Name string
	of        func(i int, p *sweep.Pose) string
	texts     []string
}

// liveFigures are the figures beside the pose, worded as in the report.
func (f *film) liveFigures() []series {
	list := []series{
		{Key: "left", Name: "Left wheel", of: func(_ int, p *sweep.Pose) string { return wording.Way(p.Wheels[setup.Left].Steer) }},
		{Key: "right", Name: "Right wheel", of: func(_ int, p *sweep.Pose) string { return wording.Way(p.Wheels[setup.Right].Steer) }},
		{Key: "ideal", Name: "Ideal inner wheel", of: func(_ int, p *sweep.Pose) string { return wording.Angle(p.Turn.IdealInner) }},
		{Key: "error", Name: "Inner off ideal", of: func(_ int, p *sweep.Pose) string { return wording.Signed(wording.Angle(p.Turn.Error)) }},
		{Key: "percent", Name: "Ackermann", of: func(_ int, p *sweep.Pose) string {
			if text := wording.PercentAt(p.LinkageSteer, p.Turn.Percent); text != "-" {
				return text + "%"
			}
			return "-"
		}},
	}
	for rod := range f.r.Linkage.Rods {
		for _, end := range []linkage.End{linkage.AtArm, linkage.AtDropArm} {
			if f.twice(rod, end) {
				continue
			}
			list = append(list, series{Key: "lever" + strconv.Itoa(2*rod+int(end)), Name: f.r.Linkage.Rods[rod].Name() + " to " + wording.On(f.r.Model, rod, end),
				of: func(_ int, p *sweep.Pose) string { return wording.Angle(p.Transmission[rod][end]) }})
		}
	}
	list = append(list, f.nearest())
	for k := range list {
		for i := range f.poses {
			list[k].texts = append(list[k].texts, strings.ReplaceAll(setup.Printable(list[k].of(i, &f.poses[i])), "|", "/")) // which parts them
		}
	}
	return list
}

// nearest is the figure of the pair that comes nearest.
func (f *film) nearest() series {
	u := f.r.Setup.Unit
	gaps, pairs := f.gaps()
	return series{Key: "gap", Name: "Nearest gap", of: func(i int, _ *sweep.Pose) string {
		if pairs[i] < 0 {
			return "over " + wording.Length(u, f.r.NearLimit())
		}
		a, b := wording.Pair(f.r.Model, f.r.Near[pairs[i]].Pair)
		said := wording.Length(u, math.Max(0, gaps[i]))
		if gaps[i] <= touching {
			said = "touching"
		}
		return said + ": " + a + " – " + b
	}}
}

// touching is the gap at which a pair is said to touch, mm: less than any figure shows.
const touching = 1e-3

// twice reports whether the leverage at an end of a rod is told of another rod already: nothing is, unless a rod has no
// such end.
func (f *film) twice(rod int, end linkage.End) bool {
	return len(f.poses) > 0 && math.IsNaN(float64(f.poses[0].Transmission[rod][end]))
}

// big is one of the large figures at the head.
type big struct{ Name, Value, Note string }

// bigFigures are the four that a builder asks for first.
func bigFigures(r *sweep.Result, sure *tolerance.Result) []big {
	u := r.Setup.Unit
	list := []big{{Name: "Inner wheel at lock", Value: either(func(d sweep.Direction) string { return wording.Angle(steerAt(r, d)) }) + wording.GiveOrTake(sure, "lock_inner"), Note: wording.AtMost(r.Model) + "turned left, turned right"}}
	name, error20, note := "Ackermann error", "-", "the wheels hardly turn"
	if turns := [2][]sweep.TurnError{r.TurnErrors(sweep.ToLeft), r.TurnErrors(sweep.ToRight)}; len(turns[0]) > 0 && len(turns[1]) > 0 {
		at := func(d sweep.Direction) sweep.TurnError { // at 20° or, short of that, at the lock
			for _, t := range turns[d] {
				if t.Steer >= 20*s1.Degree-1e-9 || t.AtLock {
					return t
				}
			}
			return turns[d][len(turns[d])-1]
		}
		error20 = either(func(d sweep.Direction) string { return wording.Signed(wording.Angle(at(d).Error)) })
		switch atLock := at(sweep.ToLeft).AtLock; {
		case atLock != at(sweep.ToRight).AtLock: // the note says where
		case atLock:
			name, error20 = name+" at lock", error20+wording.GiveOrTake(sure, "ackermann_error_lock")
		default:
			name, error20 = name+" at 20°", error20+wording.GiveOrTake(sure, "ackermann_error_20")
		}
		note = "inner wheel off the ideal at " + either(func(d sweep.Direction) string {
			if t := at(d); t.AtLock {
				return "lock, " + wording.Angle(t.Steer)
			}
			return "20°"
		}) + " of mean steer"
	}
	list = append(list, big{name, error20, note})
	figures := [2]sweep.LockFigures{r.Figures(&r.Locks[0].Pose), r.Figures(&r.Locks[1].Pose)}
	list = append(list, big{"Turning circle", either(func(d sweep.Direction) string { return wording.Ground(u, figures[d].Circle.OverFrontTyres) }) + wording.GiveOrTake(sure, "turning_circle_balanced"), "over the front tyres' outer edge"})
	least := r.LeverageWithin()
	return append(list, big{"Least leverage", wording.Angle(least.Angle) + wording.GiveOrTake(sure, "least_transmission"),
		r.Linkage.Rods[least.Rod].Name() + " at the " + wording.Place(r.Model, least.Rod, least.End) + ", steering wheel at " + wording.Way(least.Column)})
}

// steerAt is the steer of the inner wheel at a lock; without one that of the wheel that turns further.
func steerAt(r *sweep.Result, d sweep.Direction) s1.Angle {
	p := &r.Locks[d].Pose
	if p.Turn.Known() {
		return p.Turn.InnerSteer
	}
	return max(p.Wheels[0].Steer.Abs(), p.Wheels[1].Steer.Abs())
}

// either says what holds turned left and turned right, once where both read alike.
func either(of func(d sweep.Direction) string) string {
	left, right := of(sweep.ToLeft), of(sweep.ToRight)
	if left == right {
		return left
	}
	return left + " / " + right
}
