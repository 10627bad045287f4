package wording

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/golang/geo/s1"

	"locksweep/geometry/clearance"
	"locksweep/geometry/drill"
	"locksweep/geometry/grind"
	"locksweep/geometry/linkage"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// DrillCautions is what must be heeded before a hole is drilled.
func DrillCautions(r *drill.Result) []string {
	edge := "See for yourself that at least " + Fixed(r.Options.Edge, 1) + " hole diameters of metal stay between the hole's centre and any edge (floor of EN 1993-1-8: 1.2): " +
		"the outline is not known here."
	if r.EdgeKept() {
		edge = "Hole centre to edge at least " + Fixed(r.Options.Edge, 1) + " hole diameters, as kept here (floor of EN 1993-1-8: 1.2)." + nearerEdge(r)
	}
	return []string{
		"A positive metal stop on or against the spindle comes first, both ways.",
		"Never drill a forged, cast or hardened part, or one that you cannot name the steel of, without the advice of someone competent. No welding or heating of spindles and arms.",
		"Drill under size and ream to the bolt: a plain shank through the joint, no thread in it; deburr both faces.",
		"Carry the rod end in double shear, or with a washer wide enough to hold it if it breaks.",
		edge + " An old hole that shows a crack condemns the arm.",
		"Make a cardboard arm first, try it lock to lock, and drill last. Both sides must be the same to " + [2]string{"half a millimetre", "1/64 in"}[r.Setup.Unit] + ".",
	}
}

// DrillAssumed says what a search for a hole takes for granted.
func DrillAssumed(r *drill.Result) (list []string) {
	u := r.Setup.Unit
	say := func(mm float64) string { return fmt.Sprintf("%.4g %s", u.FromMM(mm), u) }
	for i, m := range r.Metals {
		if !m.Drop && i > 0 && m.LeastLever == r.Metals[0].LeastLever && len(m.Outline) == len(r.Metals[0].Outline) {
			continue
		}
		if len(m.Outline) == 0 {
			list = append(list, fmt.Sprintf("%s: any place within %s of today's hole, since its outline is not given", m.Name, say(r.Options.Reach)))
		}
		why := "half of today's, since bore and boss are not given"
		if m.Bore > 0 {
			why = fmt.Sprintf("the bore of %s and the edge distance, or half of today's where that is more, since the boss is not given", say(m.Bore))
		}
		list = append(list, fmt.Sprintf("%s: no hole nearer than %s to the axis it turns about, %s", m.Name, say(m.LeastLever), why))
	}
	if r.DiameterAssumed() {
		list = append(list, "hole diameter "+say(r.Options.Diameter))
	}
	return list
}

// nearerEdge tells of a hole that is there already, today's or that of place 1, and lies nearer to the edge than is kept
// for a new one; empty where there is none.
func nearerEdge(r *drill.Result) string {
	said := ""
	for _, l := range []struct {
		what string
		of   *drill.Listed
	}{{"today's hole", &r.Current}, {"the hole of place 1", &r.Best[0]}} {
		share := l.of.Edge / r.Options.Diameter
		if l.of == &r.Best[0] && l.of.Spot == r.Current.Spot || !(share < r.Options.Edge-0.005) {
			continue
		}
		said = " That is for new holes: " + l.what + " has only " + Fixed(share, 2) + "."
		if share < drill.EdgeFloor {
			said = strings.TrimSuffix(said, ".") + ", less than the floor."
		}
	}
	return said
}

// NoRoom says that the metal has no room for another hole, how much it has, and how to ask for less, in lower case and
// without a full stop.
func NoRoom(u setup.Unit, e *drill.NoRoomError) string {
	text := fmt.Sprintf("the metal has no room for another hole of %s with %s hole diameters to the edge and %s to the next hole",
		Drill(u, e.Diameter), diameters(e.Edge), diameters(e.Web))
	if e.Anew {
		text = fmt.Sprintf("the outline has no room for a hole of %s with %s hole diameters to the edge", Drill(u, e.Diameter), diameters(e.Edge))
	}
	const step = 0.1
	least := math.Floor(e.Widest/step+1e-6) * step
	switch {
	case !(e.Widest > 0) || math.IsInf(e.Widest, 0):
		text += "; the other holes and the axis are too near everywhere"
	case least >= drill.EdgeFloor-1e-6:
		text += fmt.Sprintf("; at most it leaves %s to the edge: --edge %s asks for no more (floor %s)", Fixed(e.Widest, 2), Fixed(least, 1), diameters(drill.EdgeFloor))
	default:
		text += fmt.Sprintf("; at most it leaves %s to the edge, and %s is the floor", Fixed(e.Widest, 2), diameters(drill.EdgeFloor))
	}
	if e.Anew {
		return text
	}
	return text + "; --new-arm looks for the hole in an arm made anew"
}

func diameters(n float64) string { return strconv.FormatFloat(n, 'f', -1, 64) }

// Outside says that the outline keeps better places out, by what they are better, and that they ask for another part.
func Outside(r *drill.Result, o *drill.Outside) string {
	u := r.Setup.Unit
	metal, at := "arm", Point(u, o.Pickups[setup.Left])
	switch r.On {
	case drill.DropArm:
		metal, at = "drop arm", Point(u, o.Pins[setup.Left])
	case drill.Link:
		at = Point(u, o.Link)
	}
	return fmt.Sprintf("keeps better places out: %d of the %d looked at within %s of today's hole lie outside it, about %s one with %s. That is no place to drill but a wider %s, another part; welding one is work for somebody licensed",
		o.Out, o.Of, Length(u, o.Reach), at, outsideBy(r, o), metal)
}

// outsideBy says what a place outside the outline does better than place 1.
func outsideBy(r *drill.Result, o *drill.Outside) string {
	of := func(what string, say func(v float64) string) string {
		return what + " " + say(o.Value(o.Decides)) + " instead of " + say(r.Best[0].Value(o.Decides))
	}
	angle := func(v float64) string { return Angle(s1.Angle(v)) }
	switch o.Decides {
	case drill.Clearance:
		return of("a least gap of", func(v float64) string { return gapOrWide(r.Setup.Unit, v) })
	case drill.Leverage:
		return of("a least leverage of", angle)
	case drill.Lock:
		return of("a lock of", angle)
	case drill.Ratio:
		return of("a ratio of", Ratio)
	case drill.Ackermann:
		return of("the inner wheel at most", angle) + " off"
	}
	return "better " + Decided(r, o.Decides)
}

// DrillNearest says what comes nearest up to the lock wanted, but for what stops it, and where.
func DrillNearest(r *drill.Result, l *drill.Listed) string {
	if math.IsNaN(l.Clearance) {
		return "nothing else comes near"
	}
	return "nearest: " + Length(r.Setup.Unit, l.Clearance) + nearestPair(l, &l.Nearest)
}

// DrillNearestPast says what comes too near past the lock wanted; empty where all keeps clear there.
func DrillNearestPast(r *drill.Result, l *drill.Listed) string {
	if !l.TightPast() {
		return ""
	}
	near, gap := l.Tightest()
	return "up to its own lock: " + Gap(r.Setup.Unit, gap) + nearestPair(l, &near)
}

// nearestPair says of what a gap is, and where.
func nearestPair(l *drill.Listed, n *clearance.Near) string {
	if math.IsInf(n.Gap, 0) {
		return ""
	}
	a, b := Pair(l.Sweep.Model, n.Pair)
	return fmt.Sprintf(" between %s and %s, steering wheel at %s", a, b, Way(n.Column))
}

// NoTogether says that no cut gives the lock wanted at any place listed, which lock hole and cut would give, and what else would help; or what is
// wrong with the place whose cut does give it. It is in lower case and without a full stop.
func NoTogether(t *drill.Together) string {
	text := drill.ErrNoTogether.Error()
	why, more := holds(t)
	lock := Floored(t.Reach)
	if t.ReachAt >= 0 && floored(t.Reach) >= t.Aims.Lock.Degrees()-1e-6 {
		if l := &t.Best[t.ReachAt]; !slices.Contains(l.Alarms, sweep.NoMetalStop) {
			return fmt.Sprintf("place %d and its cut give the lock wanted, but there %s; ask for less lock, or %s",
				t.ReachAt+1, strings.Join(DrillAlarms(t.Result, l), "; "), more)
		}
	}
	switch {
	case math.IsNaN(float64(t.Reach)):
		return text + ", nor any other lock: no metal stop that holds is left at any, so make a stop first; grind looks for a place for a pad"
	case t.ReachAt < 0:
		return text + "; today's hole and its cut give " + lock + " at most, and none of those listed gives more: " + why + "grind for that, or " + more
	}
	return fmt.Sprintf("%s; place %d and its cut give %s at most: %sask for that with --lock %s, or %s", text, t.ReachAt+1, lock, why, strings.TrimSuffix(lock, "°"), more)
}

// Floored says an angle that is the most there is, never more than that.
func Floored(a s1.Angle) string { return Fixed(floored(a), 1) + "°" }

// floored is an angle in whole tenths of a degree, never more than it is.
func floored(a s1.Angle) float64 { return math.Floor(a.Degrees()*10+1e-6) / 10 }

// holds says what lets the wheels turn no further where hole and cut give the most, with a semicolon behind it, empty where that is not known;
// and what would help against it.
func holds(t *drill.Together) (why, cure string) {
	p := t.Furthest
	if p == nil {
		return "", further(t.Result, givesOut(t.Result))
	}
	d := p.Shorter()
	most := &p.Most[d]
	switch most.Reason {
	case grind.ByNear:
		cure = roomFor(p.Model, most.Near.Pair, d)
	case grind.ByWall, grind.ByMetal, grind.ByWidth:
		cure = "make another stop, that comes later"
	case grind.ByTransmission:
		cure = further(t.Result, [2]sweep.Kind{linkage.AtArm: sweep.DeadPoint, linkage.AtDropArm: sweep.OverCentre}[most.End])
	case grind.ByMargin:
		cure = further(t.Result, most.Limit.Kind)
	case grind.ByLimit:
		if cure = further(t.Result, most.Limit.Kind); most.Limit.Kind == sweep.Contact {
			cure = roomFor(p.Model, most.Limit.Pair, d)
		}
	default:
		cure = further(t.Result, givesOut(t.Result))
	}
	return HeldBy(p) + "; ", cure
}

// HeldBy says what lets grinding take the wheels no further, the way that it takes them less far.
func HeldBy(p *grind.Plan) string {
	why, _, _ := strings.Cut(Blocks(p.Model, &p.Most[p.Shorter()]), "; ")
	return why
}

// roomFor says what helps where two pieces meet.
func roomFor(m *sweep.Model, pair [2]int, d sweep.Direction) string {
	if m.ByWheel(pair, d) {
		return "make room there: no hole helps, since that hangs on how far the wheel itself is turned"
	}
	return "make room there"
}

// Decided says which aim decided, of a place and what it is compared with; empty where there is nothing to compare with.
func Decided(r *drill.Result, by drill.Aim) string {
	switch {
	case by == drill.Leverage && r.Aims.Cut: // today's hole is judged as far there, though its stop as it is comes sooner
		return "leverage on the way to " + Angle(r.Aims.Lock)
	case by == drill.Change:
		return fmt.Sprintf("the least change of today's hole, of places that a tape cannot tell apart (%s of error, %s of lock)", Angle(r.Aims.Tie.Error), Angle(r.Aims.Tie.Lock))
	}
	return map[drill.Aim]string{
		drill.Sense: "which way it steers", drill.Stop: "what stops the wheels", drill.Clearance: "the gaps", drill.Leverage: "leverage", drill.Lock: "lock",
		drill.Ratio: "ratio", drill.Alike: "likeness of both ways", drill.Ackermann: "nearness to the Ackermann wanted",
	}[by]
}

// DrillCosts says what the best place costs elsewhere, beside today's hole.
func DrillCosts(r *drill.Result) (lines []string) {
	best, now, u := &r.Best[0], &r.Current, r.Setup.Unit
	becomes := func(what, before, after string) { lines = append(lines, what+" "+before+" becomes "+after) }
	upTo := func(what, before, after string) { // what is judged up to the lock wanted, or the lock where that comes before
		a, b := JudgedTo(r, now), JudgedTo(r, best)
		if a == b {
			a = ""
		}
		becomes(what, before+a, after+b)
	}
	worstNow, weakNow := r.Ends(now)
	worst, weak := r.Ends(best)
	if share := best.Ratio/now.Ratio - 1; math.Abs(share) >= 0.05 && !math.IsInf(share, 0) {
		word := map[bool]string{false: "heavier", true: "lighter, and further to turn"}[share < 0]
		becomes(fmt.Sprintf("steering wheel %s %% %s: ratio", Fixed(100*math.Abs(share), 0), word), ratioBothWays(now.Ratio), ratioBothWays(best.Ratio))
	}
	if best.Figures.Lock() < now.Figures.Lock()-drill.DefaultTieLock {
		becomes("lock", Angle(now.Figures.Lock()), Angle(best.Figures.Lock()))
	}
	switch {
	case best.Worst > now.Worst+drill.DefaultTieError && r.Aims.To > 0: // judged over a range of its own
		becomes("inner wheel at most off", Angle(now.Worst), Angle(best.Worst))
	case best.Worst > now.Worst+drill.DefaultTieError:
		upTo("inner wheel at most off", Angle(now.Worst), Angle(best.Worst))
	case best.PastWanted() && worst > worstNow+drill.DefaultTieError:
		becomes("at the lock itself the inner wheel is off", Angle(worstNow), Angle(worst))
	}
	switch {
	case best.Transmission < now.Transmission-drill.DefaultTieLock:
		upTo("least leverage", Angle(now.Transmission), Angle(best.Transmission))
	case best.PastWanted() && weak < weakNow-drill.DefaultTieLock:
		becomes("least leverage up to the lock itself", Angle(weakNow), Angle(weak))
	}
	if best.Clearance < now.Clearance-0.5 || math.IsNaN(now.Clearance) && !math.IsNaN(best.Clearance) {
		upTo("least gap", gapOrWide(u, now.Clearance), Gap(u, best.Clearance))
	}
	if best.TightPast() {
		_, before := now.Tightest()
		_, after := best.Tightest()
		becomes("least gap up to the lock itself", gapOrWide(u, before), Gap(u, after))
	}
	return lines
}

// gapOrWide says a gap, and where none is known that it is wide.
func gapOrWide(u setup.Unit, gap float64) string {
	if math.IsNaN(gap) {
		return "wide"
	}
	return Gap(u, gap)
}

// JudgedTo says, with a space before it, up to which lock a place's leverage, gaps and Ackermann are judged.
func JudgedTo(r *drill.Result, l *drill.Listed) string {
	return " up to " + Angle(min(r.Aims.Lock, l.Figures.Lock()))
}

// ratioBothWays says a ratio as wheel per steering wheel, and as sweep says it.
func ratioBothWays(ratio float64) string {
	return Ratio(ratio) + " (" + SteeringRatio(1/ratio) + ")"
}

// DrillStuck says that the steering is stuck straight ahead at every place listed, by what, and what mends that, in lower
// case and without a full stop; empty where it is not.
func DrillStuck(r *drill.Result) string {
	for i := range r.Best {
		if stuckBy(&r.Best[i]) == nil {
			return ""
		}
	}
	first, cure := stuckBy(&r.Best[0]), "make room there"
	switch {
	case first.Kind == sweep.RodEnd:
		cure = "set the ball level with its rod (a spacer, a bent arm), or fit rod ends that tilt further"
	case first.Kind.Ends():
		cure = "put rods and arms right"
	}
	return "at every place listed the steering is stuck straight ahead: " + Limit(r.Best[0].Sweep.Model, first) + ". No stop mends that: " + cure
}

// stuckBy is what stops a place straight ahead already; nil where nothing does.
func stuckBy(l *drill.Listed) *sweep.Limit {
	for d := range l.Sweep.Locks {
		if first := l.Sweep.Locks[d].First(); first != nil && first.Column == 0 {
			return first
		}
	}
	return nil
}

// Many says about how many places there are, to two figures, where that is more than most: a number too large to picture is only
// said to be past a thousand million.
func Many(places float64, most int) string {
	scale := math.Pow(10, math.Floor(math.Log10(max(places, 1)))-1)
	n := math.Round(places/scale) * scale
	switch {
	case !(n < 1e9):
		return "more than a thousand million"
	case n >= 1e6:
		return fmt.Sprintf("about %.3g million", n/1e6)
	case n > float64(most):
		return fmt.Sprintf("about %.0f", n)
	}
	return fmt.Sprintf("more than %d", most)
}
