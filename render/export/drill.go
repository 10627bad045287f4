package export

import (
	"math"

	"github.com/golang/geo/s1"

	"locksweep/geometry/clearance"
	"locksweep/geometry/drill"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/render/wording"
)

// drillJSON is the object that drill --json prints. Keys are fixed; more may be added.
type drillJSON struct {
	headJSON
	On       string           `json:"on"`
	Diameter number           `json:"diameter"`
	Wanted   wantedJSON       `json:"wanted"`
	Slip     number           `json:"slip"`
	Step     number           `json:"step"`
	Tie      tieJSON          `json:"tie"`
	Judged   int              `json:"places_tried"`
	Leave    bool             `json:"leave"`
	NoRoom   *noRoomJSON      `json:"no_room"`
	Outside  *outsideJSON     `json:"outside"`
	Together *togetherJSON    `json:"together"`
	Reach    *reachJSON       `json:"reach"`
	Current  drillPlaceJSON   `json:"current"`
	Best     []drillPlaceJSON `json:"best"`
	Front    []tradeJSON      `json:"front"`
	Missed   []missedJSON     `json:"missed"`
	Assumed  []string         `json:"assumed"`
	Warnings []warningJSON    `json:"warnings"` // of the setup as it stands
}

// noRoomJSON is that the metal has no room for another hole, in hole diameters; null where it has.
type noRoomJSON struct {
	Edge    number `json:"edge"`
	Spacing number `json:"spacing"`
	Widest  number `json:"widest"`
}

// outsideJSON is what the outline keeps out, where that is much better than place 1: another part.
type outsideJSON struct {
	holeJSON
	Aim   string `json:"aim"`
	Value number `json:"value"`
	Out   int    `json:"places_out"`
	Of    int    `json:"places"`
}

func outsideOf(in lengths, r *drill.Result) *outsideJSON {
	o := r.Outside()
	if o == nil {
		return nil
	}
	hole, _ := holesOf(in, r.On, &o.Spot)
	return &outsideJSON{hole, o.Decides.String(), valueOf(in, o.Decides, o.Value(o.Decides)), o.Out, o.Of}
}

// nearestJSON is what comes nearest up to the lock wanted, but for what stops it.
type nearestJSON struct {
	Parts  [2]string  `json:"parts"`
	Sides  [2]*string `json:"sides"`
	Column number     `json:"column"`
}

func nearestOf(l *drill.Listed, n *clearance.Near) *nearestJSON {
	if math.IsInf(n.Gap, 0) {
		return nil
	}
	parts, sides := partsOf(l.Sweep.Model, n.Pair)
	return &nearestJSON{parts, sides, degrees(n.Column)}
}

// togetherJSON is hole and stop together, for the first place: null where no cut can be planned for any of the places.
type togetherJSON struct {
	First string     `json:"first"` // hole, cut or at-once
	Now   number     `json:"lock_now"`
	Hole  number     `json:"lock_hole"`
	Cut   number     `json:"lock_cut"`
	Both  number     `json:"lock_both"`
	Grind *grindJSON `json:"grind"`
}

// reachJSON is, where no cut can be planned, the most lock that hole and cut give of the places listed, counted from 1, and of today's hole, 0;
// the lock is null where no metal stop holds at any.
type reachJSON struct {
	Lock   number  `json:"lock"`
	Place  int     `json:"place"`
	Reason *string `json:"reason"` // in words, why it goes no further; null where that is not known
}

func reachOf(both *drill.Together) *reachJSON {
	if both == nil || both.Plan != nil {
		return nil
	}
	out := &reachJSON{Lock: degrees(both.Reach), Place: both.ReachAt + 1}
	if both.Furthest != nil {
		out.Reason = new(wording.HeldBy(both.Furthest))
	}
	return out
}

func togetherOf(both *drill.Together, src *Source) *togetherJSON {
	if both == nil || both.Plan == nil {
		return nil
	}
	return &togetherJSON{both.First.String(), degrees(both.Now), degrees(both.Hole), degrees(both.Cut), degrees(both.Both), ground(both.Plan, src)}
}

// tieJSON is by how much places may differ and still count as alike, degrees.
type tieJSON struct {
	Error number `json:"error"`
	Lock  number `json:"lock"`
}

// wantedJSON is the aims as they were understood; null is not asked for.
type wantedJSON struct {
	Lock         number  `json:"lock"`
	Percent      number  `json:"ackermann_percent"`
	From         number  `json:"from"`
	To           *number `json:"to"`
	Within       *number `json:"within"`
	Ratio        *number `json:"ratio"`
	Alike        bool    `json:"alike"`
	Transmission number  `json:"transmission"`
	Clearance    number  `json:"clearance"`
}

// holeJSON is where a ball goes: in corner axes, or in column axes for the drop arm.
type holeJSON struct {
	At    [2]number `json:"at"`
	Up    number    `json:"up"`
	Right *holeJSON `json:"right,omitempty"` // the right rod's, where its figures differ
}

type drillPlaceJSON struct {
	holeJSON
	DropArm      *holeJSON          `json:"drop_arm,omitempty"` // with both holes
	Existing     *string            `json:"existing"`           // name of the hole that is there already
	Set          []string           `json:"set"`                // for --set
	Lock         bySide[turnedJSON] `json:"lock"`
	Limit        bySide[*limitJSON] `json:"limit"`
	Error        drillErrorJSON     `json:"error"`
	Ratio        number             `json:"ratio"`
	Transmission number             `json:"transmission"`
	Clearance    number             `json:"clearance"`
	Nearest      *nearestJSON       `json:"nearest"`
	Rods         bySide[number]     `json:"rods"`
	Edge         number             `json:"edge"`
	Spacing      number             `json:"spacing"`
	PerMM        perMMJSON          `json:"per_mm"`
	Alarms       []sweep.Code       `json:"alarms"`
	Marks        []sweep.Code       `json:"marks"`
	DecidedBy    *string            `json:"decided_by"`
	Worst        worstJSON          `json:"worst"`
	OwnLock      ownLockJSON        `json:"own_lock"`
	Beyond       bySide[number]     `json:"beyond"`
	Margin       number             `json:"margin"`
}

// worstJSON is the worst within the slip.
type worstJSON struct {
	Lock         number       `json:"lock"`
	Clearance    number       `json:"clearance"`
	Nearest      *nearestJSON `json:"nearest"`
	Transmission number       `json:"transmission"`
	Error        number       `json:"error"`
}

// ownLockJSON is what a place is up to its own locks, which may lie past the lock wanted.
type ownLockJSON struct {
	Transmission number            `json:"transmission"`
	Error        number            `json:"error"` // at the lock
	Clearance    number            `json:"clearance"`
	Nearest      *nearestJSON      `json:"nearest"`
	Soon         bySide[*soonJSON] `json:"soon"`
}

// soonJSON is what may in truth touch before the metal stop does, and how much of the inner wheel it comes after it.
type soonJSON struct {
	Limit *limitJSON `json:"limit"`
	Apart number     `json:"apart"`
}

func ownLockOf(in lengths, r *drill.Result, l *drill.Listed) ownLockJSON {
	off, leverage := r.Ends(l)
	near, gap := l.Tightest()
	return ownLockJSON{degrees(leverage), degrees(off), in.of(gap), nearestOf(l, &near), each(func(d sweep.Direction) *soonJSON {
		soon, apart := l.Soon(d)
		if soon == nil {
			return nil
		}
		return &soonJSON{new(limitOf(l.Sweep.Model, soon)), degrees(apart)}
	})}
}

type turnedJSON struct {
	Column number `json:"column"`
	Inner  number `json:"inner"`
	Outer  number `json:"outer"`
}

// drillErrorJSON is the departure from the Ackermann wanted, and the Ackermann error at a few turns.
type drillErrorJSON struct {
	Worst   number `json:"worst"`
	WorstAt number `json:"worst_at"`
	bySide[[]turnErrorJSON]
}

type turnErrorJSON struct {
	Steer   number `json:"mean_steer"`
	Error   number `json:"ackermann_error"`
	Percent number `json:"ackermann_percent"`
	AtLock  bool   `json:"at_lock"`
}

// perMMJSON is by how much the figures of a place change at the most for a hole 1 mm off, each as it is counted.
type perMMJSON struct {
	Lock         number `json:"lock"`
	Error        number `json:"error"`
	Ratio        number `json:"ratio"`
	Transmission number `json:"transmission"`
}

type tradeJSON struct {
	holeJSON
	DropArm *holeJSON `json:"drop_arm,omitempty"`
	Inner   number    `json:"inner"`
	Worst   number    `json:"worst"`
}

type missedJSON struct {
	Aim     string `json:"aim"`
	Wanted  number `json:"wanted"`
	Nearest number `json:"nearest"`
	Alone   number `json:"alone"`
	// Barred tells, of the first aim missed, why the places that would meet it by themselves are out of the question.
	Barred []barredJSON `json:"barred"`
}

type barredJSON struct {
	Aim    *string     `json:"aim"` // null where it does not assemble or metal touches metal straight ahead
	Code   *sweep.Code `json:"code"`
	Parts  []string    `json:"parts"`
	Places int         `json:"places"`
}

func barredOf(list []drill.Barred) []barredJSON {
	out := []barredJSON{}
	for _, b := range list {
		j := barredJSON{Parts: []string{}, Places: b.Places}
		if b.Aim >= 0 {
			j.Aim = new(b.Aim.String())
		}
		if b.Code != "" {
			j.Code = &b.Code
		}
		if b.Aim == drill.Clearance {
			j.Parts = b.Parts[:]
		}
		out = append(out, j)
	}
	return out
}

// Drill returns a search for a hole as JSON, with hole and stop together where that is asked for; settings says what
// --set takes to get a place.
func Drill(r *drill.Result, both *drill.Together, src *Source, settings func(*drill.Place) []string) []byte {
	in := lengths{r.Setup.Unit}
	out := &drillJSON{
		headJSON: src.head("locksweep.drill/1", r.Setup), On: r.On.String(), Diameter: in.of(r.Options.Diameter),
		Wanted: wantedOf(in, &r.Aims), Judged: r.Judged, Current: placeOf(in, r, &r.Current, []string{}),
		Slip: in.of(r.Options.Slip), Step: in.of(r.Options.Step), Tie: tieJSON{degrees(r.Aims.Tie.Error), degrees(r.Aims.Tie.Lock)},
		Leave: r.Leave, Outside: outsideOf(in, r), Together: togetherOf(both, src), Reach: reachOf(both),
		Best: []drillPlaceJSON{}, Front: []tradeJSON{}, Missed: []missedJSON{}, Assumed: append([]string{}, wording.DrillAssumed(r)...),
		Warnings: src.said(r.Today, &[2]sweep.Lock{r.Today.Lock(sweep.ToLeft), r.Today.Lock(sweep.ToRight)}),
	}
	if e := r.Narrow; e != nil {
		out.NoRoom = &noRoomJSON{number(e.Edge), number(e.Web), number(e.Widest)}
	}
	for i := range r.Best {
		out.Best = append(out.Best, placeOf(in, r, &r.Best[i], settings(&r.Best[i].Place)))
	}
	for i := range r.Front {
		p := &r.Front[i]
		hole, drop := holesOf(in, r.On, &p.Spot)
		out.Front = append(out.Front, tradeJSON{hole, drop, degrees(p.Within.Lock), degrees(p.Worst)})
	}
	for _, m := range r.Misses {
		value := func(v float64) number { return valueOf(in, m.Aim, v) }
		out.Missed = append(out.Missed, missedJSON{m.Aim.String(), value(m.Wanted), value(m.Nearest), value(m.Alone), barredOf(m.Barred)})
	}
	return encode(out)
}

// valueOf is the value of a place for an aim.
func valueOf(in lengths, aim drill.Aim, v float64) number {
	switch {
	case aim.IsAngle():
		return degrees(s1.Angle(v))
	case aim == drill.Clearance:
		return in.of(v)
	}
	return number(v)
}

func wantedOf(in lengths, a *drill.Aims) wantedJSON {
	asked := func(v number) *number {
		if v == 0 {
			return nil
		}
		return &v
	}
	return wantedJSON{
		Lock: degrees(a.Lock), Percent: number(a.Percent), From: degrees(a.From), To: asked(degrees(a.To)),
		Within: asked(degrees(a.Within)), Ratio: asked(number(a.Ratio)), Alike: a.Alike, Transmission: degrees(a.Leverage), Clearance: in.of(a.Clearance),
	}
}

// holesOf returns where the searched hole goes, and with both the drop arm's apart.
func holesOf(in lengths, on drill.On, sp *drill.Spot) (hole holeJSON, drop *holeJSON) {
	pair := func(balls [2][3]number) holeJSON {
		h := holeJSON{At: [2]number{balls[0][0], balls[0][1]}, Up: balls[0][2]}
		if balls[1] != balls[0] {
			h.Right = &holeJSON{At: [2]number{balls[1][0], balls[1][1]}, Up: balls[1][2]}
		}
		return h
	}
	arm := pair([2][3]number{in.space(sp.Pickups[0]), in.space(sp.Pickups[1])})
	pins := pair([2][3]number{in.space(sp.Pins[0]), in.space(sp.Pins[1])})
	switch on {
	case drill.DropArm:
		return pins, nil
	case drill.Link:
		link := in.space(sp.Link)
		return pair([2][3]number{link, link}), nil
	case drill.Both:
		return arm, &pins
	}
	return arm, nil
}

func placeOf(in lengths, r *drill.Result, l *drill.Listed, set []string) drillPlaceJSON {
	hole, drop := holesOf(in, r.On, &l.Spot)
	w := &l.Within
	out := drillPlaceJSON{
		holeJSON: hole, DropArm: drop, Set: set, Alarms: append([]sweep.Code{}, l.Alarms...), Marks: append([]sweep.Code{}, l.Marks...),
		Ratio: number(l.Ratio), Transmission: degrees(l.Transmission), Clearance: in.of(l.Clearance), Nearest: nearestOf(l, &l.Nearest),
		Edge: in.of(l.Edge), Spacing: in.of(l.Web),
		PerMM:   perMMJSON{degrees(l.PerMM.Lock), degrees(l.PerMM.Worst), number(l.PerMM.Ratio), degrees(l.PerMM.Transmission)},
		Error:   drillErrorJSON{degrees(l.Worst), degrees(l.WorstAt), each(func(d sweep.Direction) []turnErrorJSON { return turnErrors(l.Sweep, d) })},
		Worst:   worstJSON{degrees(w.Lock), in.of(w.Clearance), nearestOf(l, &w.Nearest), degrees(w.Transmission), degrees(w.Worst)},
		OwnLock: ownLockOf(in, r, l), Beyond: angles(l.Beyond), Margin: degrees(l.Margin),
		Lock: each(func(d sweep.Direction) turnedJSON {
			return turnedJSON{degrees(l.Sweep.Locks[d].Column), degrees(l.Inner[d]), degrees(l.Outer[d])}
		}),
		Limit: each(func(d sweep.Direction) *limitJSON { return firstOf(l.Sweep.Model, &l.Sweep.Locks[d]) }),
		Rods:  each(func(s setup.Side) number { return in.of(l.Sweep.Rods[s].Length) }),
	}
	if l.DecidedBy >= 0 {
		out.DecidedBy = new(l.DecidedBy.String())
	}
	if l.Existing != "" {
		out.Existing = &l.Existing
	}
	return out
}

func turnErrors(r *sweep.Result, d sweep.Direction) []turnErrorJSON {
	list := []turnErrorJSON{}
	for _, t := range r.TurnErrors(d) {
		list = append(list, turnErrorJSON{degrees(t.Steer), degrees(t.Error), number(t.Percent), t.AtLock})
	}
	return list
}
