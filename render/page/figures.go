package page

import (
	"math"
	"strconv"
	"strings"

	"github.com/golang/geo/s1"

	"locksweep/geometry/compare"
	"locksweep/geometry/linkage"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/geometry/tolerance"
	"locksweep/render/wording"
)

// series is a figure beside the pose: its name, and its text at every frame that the setup gets to.
type series struct {
	Key, Name string
	texts     []string
}

// series words a figure at every frame; of is told which of the poses it is of.
func (f *film) series(key, name string, of func(pose int) string) series {
	s := series{Key: key, Name: name}
	for i := range f.poses {
		s.texts = append(s.texts, strings.ReplaceAll(setup.Printable(of(i)), "|", "/")) // which parts them
	}
	return s
}

// liveFigures are the figures beside the pose, worded as in the report.
func (f *film) liveFigures() (list []series) {
	add := func(key, name string, of func(p *sweep.Pose) string) {
		list = append(list, f.series(key, name, func(i int) string { return of(&f.poses[i]) }))
	}
	add("left", "Left wheel", func(p *sweep.Pose) string { return wording.Way(p.Wheels[setup.Left].Steer) })
	add("right", "Right wheel", func(p *sweep.Pose) string { return wording.Way(p.Wheels[setup.Right].Steer) })
	add("ideal", "Ideal inner wheel", func(p *sweep.Pose) string { return wording.Angle(p.Turn.IdealInner) })
	add("error", "Inner off ideal", func(p *sweep.Pose) string { return wording.Signed(wording.Angle(p.Turn.Error)) })
	add("percent", "Ackermann", func(p *sweep.Pose) string {
		if text := wording.PercentAt(p.LinkageSteer, p.Turn.Percent); text != "-" {
			return text + "%"
		}
		return "-"
	})
	for rod := range f.r.Linkage.Rods {
		for _, end := range []linkage.End{linkage.AtArm, linkage.AtDropArm} {
			if !math.IsNaN(float64(f.poses[0].Transmission[rod][end])) { // else it has no such end
				add("lever"+strconv.Itoa(2*rod+int(end)), f.r.Linkage.Rods[rod].Name()+" to "+wording.On(f.r.Model, rod, end),
					func(p *sweep.Pose) string { return wording.Angle(p.Transmission[rod][end]) })
			}
		}
	}
	return append(list, f.nearest())
}

// nearest is the figure of the pair that comes nearest.
func (f *film) nearest() series {
	u := f.r.Setup.Unit
	gaps, pairs := f.gaps()
	return f.series("gap", "Nearest gap", func(i int) string {
		if pairs[i] < 0 {
			return "over " + wording.Length(u, f.r.NearLimit())
		}
		a, b := wording.Pair(f.r.Model, f.r.Near[pairs[i]].Pair)
		said := wording.Length(u, gaps[i])
		if gaps[i] <= touching {
			said = "touching"
		}
		return said + ": " + a + " – " + b
	})
}

// touching is the gap up to which a pair is said to touch, mm: less than any figure shows.
const touching = 1e-3

// big is one of the large figures at the head.
type big struct{ Name, Value, Note string }

// bigFigures are the four that a builder asks for first.
func bigFigures(r *sweep.Result, sure *tolerance.Result) []big {
	lock := func(d sweep.Direction) string { return wording.Angle(steerAt(r, d)) }
	circle := func(d sweep.Direction) string {
		return wording.Ground(r.Setup.Unit, r.Figures(&r.Locks[d].Pose).Circle.OverFrontTyres)
	}
	least := r.LeverageWithin()
	return []big{
		{"Inner wheel at lock", either(lock) + wording.GiveOrTake(sure, "lock_inner"), wording.AtMost(r.Model) + "turned left, turned right"},
		bigError(r, sure),
		{"Turning circle", either(circle) + wording.GiveOrTake(sure, "turning_circle_balanced"), "over the front tyres' outer edge"},
		{"Least leverage", wording.Angle(least.Angle) + wording.GiveOrTake(sure, "least_transmission"),
			r.Linkage.Rods[least.Rod].Name() + " at the " + wording.Place(r.Model, least.Rod, least.End) + ", steering wheel at " + wording.Way(least.Column)},
	}
}

// bigError is the Ackermann error at 20° of mean steer or, where the wheels do not get there, at the lock.
func bigError(r *sweep.Result, sure *tolerance.Result) big {
	out := big{"Ackermann error", "-", "the wheels hardly turn"}
	var at [2]sweep.TurnError
	for _, d := range sweep.Directions {
		turns := r.TurnErrors(d)
		if len(turns) == 0 {
			return out
		}
		at[d] = turns[len(turns)-1]
		for _, t := range turns {
			if t.Steer >= 20*s1.Degree-1e-9 || t.AtLock {
				at[d] = t
				break
			}
		}
	}
	out.Value = either(func(d sweep.Direction) string { return wording.Signed(wording.Angle(at[d].Error)) })
	switch atLock := at[sweep.ToLeft].AtLock; {
	case atLock != at[sweep.ToRight].AtLock: // the note says where
	case atLock:
		out.Name, out.Value = out.Name+" at lock", out.Value+wording.GiveOrTake(sure, "ackermann_error_lock")
	default:
		out.Name, out.Value = out.Name+" at 20°", out.Value+wording.GiveOrTake(sure, "ackermann_error_20")
	}
	out.Note = "inner wheel off the ideal at " + either(func(d sweep.Direction) string {
		if at[d].AtLock {
			return "lock, " + wording.Angle(at[d].Steer)
		}
		return "20°"
	}) + " of mean steer"
	return out
}

// steerAt is the steer of the inner wheel at a lock, without sign; where none is the inner one, that of the wheel that turns further.
func steerAt(r *sweep.Result, d sweep.Direction) s1.Angle {
	p := &r.Locks[d].Pose
	if p.Turn.Known() {
		return p.Turn.InnerSteer
	}
	return max(p.Wheels[0].Steer.Abs(), p.Wheels[1].Steer.Abs())
}

// either says a figure of both ways, that turned left first; once where both read alike.
func either(of func(d sweep.Direction) string) string {
	left, right := of(sweep.ToLeft), of(sweep.ToRight)
	if left == right {
		return left
	}
	return left + " / " + right
}

// comparedRow is a figure of the comparison that stands at the head of a page.
type comparedRow struct {
	Name  string
	Cells []comparedCell
}

// comparedCell is such a figure of one setup.
type comparedCell struct {
	Value       string
	Best, Fails bool
}

// headKeys are the figures that a builder compares first; the whole comparison has them all.
var headKeys = []string{
	"lock_inner", "lock_outer", "ackermann_error_20", "ackermann_error_lock", "turning_circle_balanced", "turns_lock_to_lock",
	"leverage_arm", "leverage_drop", "stop_margin", "least_gap",
}

// comparedRows is the table of a comparison, left and right in rows of their own where they differ; figures that no setup has are left
// out. There is none where no setup can be compared.
func comparedRows(c *compare.Comparison, u setup.Unit) (list []comparedRow) {
	if c == nil || c.Reference < 0 {
		return nil
	}
	for _, key := range headKeys {
		row, sides := c.Find(key), []string{", left", ", right"}
		if row.Split == compare.Single || row.Alike(nil) {
			sides = []string{""}
		}
		for side, of := range sides {
			out, known := comparedRow{Name: wording.InUnit(wording.FigureNamed(key).Title, wording.FigureUnit(u, row.Kind)) + of}, false
			for i, v := range row.Values {
				known = known || !math.IsNaN(v[side])
				out.Cells = append(out.Cells, comparedCell{wording.Compared(u, row.Kind, v[side]), row.Best[i][side], row.Fails[i][side]})
			}
			if known {
				list = append(list, out)
			}
		}
	}
	return list
}
