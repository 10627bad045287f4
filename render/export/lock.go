package export

import (
	"math"

	"locksweep/geometry/linkage"
	"locksweep/geometry/road"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/render/wording"
)

type lockJSON struct {
	Column number `json:"column"`
	bySide[angleJSON]
	Limit         *limitJSON     `json:"limit"`
	Chain         []limitJSON    `json:"limits"`         // the first, then what would come next
	TurningCircle number         `json:"turning_circle"` // by the outer wheel
	Balanced      number         `json:"turning_circle_balanced"`
	InnerCircle   number         `json:"turning_circle_inner"`
	InnerRear     number         `json:"inner_rear_radius"`
	Width         number         `json:"width"`
	Rise          bySide[number] `json:"rise"`
	RiseEdge      bySide[number] `json:"rise_edge"`
	Scrub         bySide[number] `json:"scrub_radius"`
	Trail         bySide[number] `json:"trail"`
	Stance        stanceJSON     `json:"stance"`
}

// stanceJSON is how a frame that does not twist stands at a lock.
type stanceJSON struct {
	High      string  `json:"high"`           // the front corner that rises more
	Rear      number  `json:"rear_off"`       // how far that side's rear wheel is off the ground where both front wheels stand, tyres as thin discs
	RearEdge  number  `json:"rear_off_edge"`  // the same with the tyres' width and shoulder
	Front     number  `json:"front_off"`      // the other front wheel, where both rear wheels stand instead
	FrontEdge number  `json:"front_off_edge"` //
	Off       *string `json:"off_standing"`   // rear or front: which of them it is; null without load.front_share
	Turning   number  `json:"rear_lifts_turning"`
	Against   number  `json:"rear_lifts_countersteer"`
}

type angleJSON struct {
	Spindle number `json:"spindle"`
	Steer   number `json:"steer"`
}

type limitJSON struct {
	Kind   string      `json:"kind"`
	Parts  *[2]string  `json:"parts"`           // of a contact
	Sides  *[2]*string `json:"sides,omitempty"` // that the parts stand on, null for a single part
	Side   *string     `json:"side"`
	Rod    string      `json:"rod,omitempty"` // of a dead point, over centre and a rod end: its name
	End    string      `json:"end,omitempty"` // of a rod end: arm or drop_arm
	On     string      `json:"on,omitempty"`  // of a rod end: what it sits on
	Column number      `json:"column"`
	Point  *[3]number  `json:"point,omitempty"` // of a contact, vehicle axes
}

// nearJSON is the least gap of a pair within the lock.
type nearJSON struct {
	Parts  [2]string  `json:"parts"`
	Sides  [2]*string `json:"sides"`
	Gap    number     `json:"gap"`
	Column number     `json:"column"`
	Point  [3]number  `json:"point"`
	Low    bool       `json:"under_clearance"`
}

func lockOf(r *sweep.Result, d sweep.Direction) lockJSON {
	in, lock := lengths{r.Setup.Unit}, &r.Locks[d]
	figures := r.Figures(&lock.Pose)
	out := lockJSON{
		Column: degrees(lock.Column), Chain: []limitJSON{},
		bySide: each(func(s setup.Side) angleJSON {
			return angleJSON{degrees(lock.Pose.Sides[s].Spindle), degrees(lock.Pose.Wheels[s].Steer)}
		}),
		TurningCircle: in.of(figures.Outer.OverFrontTyres), Balanced: in.of(figures.Circle.OverFrontTyres), InnerCircle: in.of(figures.Inner.OverFrontTyres),
		InnerRear: in.of(figures.Outer.InnerRear), Width: in.of(figures.Width),
		Rise: in.both(figures.Rise), RiseEdge: in.both(figures.RiseEdge), Scrub: in.both(figures.Scrub), Trail: in.both(figures.Trail),
		Stance: stanceOf(r, &lock.Pose, &figures),
	}
	for i := range lock.Chain {
		out.Chain = append(out.Chain, limitOf(r.Model, &lock.Chain[i]))
	}
	if len(out.Chain) > 0 {
		out.Limit = &out.Chain[0]
	}
	return out
}

func stanceOf(r *sweep.Result, p *sweep.Pose, f *sweep.LockFigures) stanceJSON {
	in, load := lengths{r.Setup.Unit}, r.Setup.Load
	thin, edge := r.Road.Stance(&p.Wheels, f.Rise), r.Road.Stance(&p.Wheels, f.RiseEdge)
	out := stanceJSON{
		High: edge.High.String(), Rear: in.of(thin.Rear), RearEdge: in.of(edge.Rear), Front: in.of(thin.Front), FrontEdge: in.of(edge.Front),
		Turning: unknown, Against: unknown,
	}
	if load.FrontShare == 0 {
		return out
	}
	mass, off := road.Mass{FrontShare: load.FrontShare, Height: load.Height}, "front"
	if r.Road.RearLifts(&edge, mass) {
		off = "rear"
	}
	out.Off = &off
	if load.Height > 0 && p.Turn.Known() {
		lifts := func(turn float64) number {
			g, _ := r.Road.InsideRearLifts(&edge, mass, turn)
			return number(g)
		}
		out.Turning, out.Against = lifts(p.Turn.Inner.Sign()), lifts(-p.Turn.Inner.Sign())
	}
	return out
}

func limitOf(m *sweep.Model, l *sweep.Limit) limitJSON {
	out := limitJSON{Kind: l.Kind.String(), Column: degrees(l.Column)}
	if l.Kind != sweep.ColumnTravel && l.Kind != sweep.RackTravel {
		out.Side = new(l.Side.String())
	}
	switch l.Kind {
	case sweep.DeadPoint, sweep.OverCentre:
		out.Rod = m.Linkage.Rods[l.Rod].Name()
	case sweep.RodEnd:
		out.Rod, out.On = m.Linkage.Rods[l.Rod].Name(), wording.On(m, l.Rod, l.End)
		if out.End = "arm"; m.Linkage.FromDropArm(l.Rod) {
			out.End = [2]string{"arm", "drop_arm"}[l.End]
		}
	case sweep.Contact:
		parts, sides := partsOf(m, l.Pair)
		out.Parts, out.Sides, out.Point = &parts, &sides, new(lengths{m.Setup.Unit}.space(l.Point))
	}
	return out
}

// firstOf is what stops the steering at a lock; nil where nothing does.
func firstOf(m *sweep.Model, lock *sweep.Lock) *limitJSON {
	if first := lock.First(); first != nil {
		return new(limitOf(m, first))
	}
	return nil
}

// unknown is written as null.
var unknown = number(math.NaN())

// leverageJSON is the least leverage at either end of the rods within the locks, and how far it is from the locks to
// where the linkage gives out there.
type leverageJSON = rodEnds[leverageEndJSON]

type leverageEndJSON struct {
	Least  number `json:"least"`
	Rod    string `json:"rod"`
	Column number `json:"column"`
	// Beyond the lock, by direction of turn: degrees of column to the dead point (arm) or over centre (drop arm).
	Beyond bySide[number] `json:"beyond_lock"`
}

func leverageOf(r *sweep.Result) leverageJSON {
	end := func(e linkage.End) leverageEndJSON {
		l := r.LeverageWithin(e)
		return leverageEndJSON{degrees(l.Angle), r.Linkage.Rods[l.Rod].Name(), degrees(l.Column), each(func(d sweep.Direction) number {
			margins, found := r.Margins(d)
			if !found[e] {
				return unknown
			}
			return degrees(margins[e].Column)
		})}
	}
	return leverageJSON{end(linkage.AtArm), end(linkage.AtDropArm)}
}
