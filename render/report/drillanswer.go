package report

import (
	"fmt"
	"math"
	"slices"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/geometry/drill"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/render/wording"
)

// insteadOf says an angle beside today's: "38.4° instead of 30.1°". Key is that of the figure in the comparison, which tells how sure it is.
func (p *page) insteadOf(key string, then, now s1.Angle) string {
	a, b := p.known.Says(key, wording.Angle(then)), p.known.Says(key, wording.Angle(now))
	switch {
	case a != b:
		return a + " instead of " + b
	case wording.Angle(then) != wording.Angle(now): // more or less, but by less than it is known to
		return a + ", as today as far as it is known,"
	}
	return a + " as today"
}

// drillAnswer says where to drill, what decided, what it costs elsewhere, and every mark of the place.
func (p *page) drillAnswer(r *drill.Result) {
	best := &r.Best[0]
	p.row("Answer", p.drillChoice(r))
	for _, text := range wording.DrillAlarms(r, best) {
		p.loud("place 1: " + text)
	}
	marked := "! place 1"
	if r.Stays() {
		marked = "! today's hole"
	}
	for _, text := range wording.DrillMarks(r, best) {
		p.row(marked, text)
	}
	if r.Narrow != nil {
		p.row("Room", wording.NoRoom(r.Setup.Unit, r.Narrow))
	}
	if o := r.Outside(); o != nil {
		p.row("Outline", wording.Outside(r, o))
	}
	if len(r.Misses) > 0 && !r.Leave {
		if why := wording.Barred(r, r.Misses[0].Aim, r.Misses[0].Barred); why != "" {
			p.row("Why", why)
		}
	}
	if by := wording.Decided(r, best.DecidedBy); by != "" && !r.Leave {
		p.row("Decided by", by)
	}
	if best.Spot != r.Current.Spot && !r.Leave {
		p.rows("Costs", wording.DrillCosts(r))
	}
}

// drillChoice says where to drill in one sentence.
func (p *page) drillChoice(r *drill.Result) string {
	if r.Leave {
		return "leave the hole where it is: " + leaveFor(r)
	}
	best := &r.Best[0]
	at := place(r, &best.Place)
	from := fmt.Sprintf(" (%d places tried)", r.Judged)
	switch {
	case r.Judged == 1:
		from = " (the only place that the metal leaves)"
	case r.Narrow != nil:
		from = fmt.Sprintf(" (of the %d holes that are there)", r.Judged)
	}
	change := "lock " + p.insteadOf("lock_inner", best.Figures.Lock(), r.Current.Figures.Lock())
	if r.Aims.Cut {
		change += " with the stop ground"
	}
	if !math.IsInf(float64(best.Worst), 0) && !math.IsNaN(float64(best.Worst)) { // else it does not turn far enough to tell
		change += ", inner wheel at most " + p.insteadOf("ackermann_error_20", best.Worst, r.Current.Worst) + " off" + p.offUpTo(r)
	}
	switch {
	case best.Spot == r.Current.Spot && best.Existing == "" && r.Current.Existing == "" && !r.Options.NewMetal:
		return "drill out the hole where it is, " + at + ": " + change + from
	case r.Recut(best):
		return "leave the hole where it is, " + at + ", but cut the rods anew: as given they differ from what the toe asks for; then " + change + from
	case best.Spot == r.Current.Spot:
		return "leave the hole where it is, " + at + ": no other place serves these aims better by what a tape can tell" + from
	case best.Existing != "" && r.On != drill.Both:
		return fmt.Sprintf("nothing to drill: the hole %s, %s, serves best; %s%s", setup.Printable(best.Existing), at, change, from)
	}
	if !r.Better() {
		return "no place that the metal allows is as good as today's hole; the best of them, " + at + ", has " + change + from
	}
	return at + ": " + change + from
}

// leaveFor says why no hole is drilled at all.
func leaveFor(r *drill.Result) string {
	if stuck := wording.DrillStuck(r); stuck != "" {
		return stuck
	}
	if r.Aims.Cut && slices.Contains(r.Best[0].Alarms, sweep.NoMetalStop) {
		return drill.ErrNoTogether.Error() + "; what else may be done is told below"
	}
	wrong := "wherever another could go something is wrong"
	if len(r.Misses) > 0 && r.Misses[0].Aim < drill.Leverage {
		wrong = wording.Barred(r, r.Misses[0].Aim, r.Misses[0].Barred)
	}
	return wrong + "; that must be mended first, as the list shows"
}

// offUpTo says how far the departures from Ackermann are judged, today's and place 1's, and what place 1's is at its own
// lock where that lies beyond.
func (p *page) offUpTo(r *drill.Result) string {
	best := &r.Best[0]
	now, then := wording.JudgedTo(r, &r.Current), wording.JudgedTo(r, best)
	if r.Aims.To > 0 {
		return " up to " + wording.Angle(r.Aims.To) + " of mean steer"
	}
	text := then
	if now != then {
		text += ", today's" + now
	}
	if off, _ := r.Ends(best); best.PastWanted() && !math.IsNaN(float64(off)) {
		text += ", and " + p.known.Says("ackermann_error_lock", wording.Angle(off)) + " at its own lock"
	}
	return text
}

// place says where the balls go.
func place(r *drill.Result, p *drill.Place) string {
	arm, drop := point(r, p.Pickups[setup.Left]), point(r, p.Pins[setup.Left])
	if right := point(r, p.Pickups[setup.Right]); right != arm {
		arm += ", right " + right
	}
	if p.Pins[setup.Right] == p.Pins[setup.Left] && !r.Setup.OnePin() {
		drop = "one hole for both rods, " + drop
	}
	switch r.On {
	case drill.DropArm:
		return drop
	case drill.Link:
		return point(r, p.Link)
	case drill.Both:
		if p.Pickups == r.Current.Pickups {
			arm = "as it is, " + arm
		}
		if p.Pins == r.Current.Pins {
			drop = "as it is, " + drop
		}
		return "steering arm " + arm + ", drop arm " + drop
	}
	return arm
}

func point(r *drill.Result, v r3.Vector) string { return wording.Point(r.Setup.Unit, v) }
