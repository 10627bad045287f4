package export

import (
	"cmp"

	"locksweep/geometry/linkage"
	"locksweep/geometry/road"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// slidingJSON is what sweep --json tells of slides: the lock against a turn, by the way that the path turns.
type slidingJSON struct {
	Radius      number `json:"radius"`
	FrontSlip   number `json:"front_slip"`
	OuterWeight number `json:"outer_weight"`
	bySide[*countersteerJSON]
}

type countersteerJSON struct {
	Column     number          `json:"column"`
	Inside     number          `json:"inside"`
	Outside    number          `json:"outside"`
	Leverage   rodEnds[number] `json:"leverage"`
	OverCentre number          `json:"to_over_centre"`
	Gap        number          `json:"least_gap"`
	Splay      number          `json:"splay"`
	Camber     bySide[number]  `json:"camber"`
	Width      number          `json:"width"`
	Held       heldJSON        `json:"slide_held"`
	Curve      []heldJSON      `json:"slide_curve"`
}

// heldJSON is the slide angle that the wheels inside and outside the turn hold.
type heldJSON struct {
	Radius  number `json:"radius"`
	Inside  number `json:"inside"`
	Outside number `json:"outside"`
}

// outerWeight is the share of the front wheels' weight that the outer one bears, half where none is given.
func outerWeight(path road.Slide) number { return number(cmp.Or(path.OuterWeight, 0.5)) }

func slidingOf(r *sweep.Result, path road.Slide) slidingJSON {
	in := lengths{r.Setup.Unit}
	out := slidingJSON{Radius: in.of(path.Radius), FrontSlip: degrees(path.FrontSlip), OuterWeight: outerWeight(path)}
	out.bySide = each(func(d sweep.Direction) *countersteerJSON {
		path.Turn = d.Sign()
		return countersteerOf(r, path)
	})
	return out
}

func countersteerOf(r *sweep.Result, path road.Slide) *countersteerJSON {
	in, c := lengths{r.Setup.Unit}, r.Countersteer(path)
	inside, outside, held := path.Outside().Other(), path.Outside(), r.HeldAgainst(&c)
	out := &countersteerJSON{
		Column: degrees(c.Pose.Column), Inside: degrees(c.Steer[inside]), Outside: degrees(c.Steer[outside]),
		Leverage:   rodEnds[number]{degrees(c.Leverage[linkage.AtArm].Angle), degrees(c.Leverage[linkage.AtDropArm].Angle)},
		OverCentre: unknown, Gap: in.of(c.Gap), Splay: degrees(c.Splay),
		Camber: each(func(s setup.Side) number { return degrees(c.Pose.Wheels[s].Camber) }), Width: in.of(r.Figures(c.Pose).Width),
		Held: heldJSON{in.of(path.Radius), degrees(held[inside]), degrees(held[outside])},
	}
	if margins, found := r.Margins(c.Lock); found[linkage.AtDropArm] {
		out.OverCentre = degrees(margins[linkage.AtDropArm].Column)
	}
	for _, h := range r.HeldOver(path, sweep.SlideRadii(r.Setup.Unit)) {
		out.Curve = append(out.Curve, heldJSON{in.of(h.Radius), degrees(h.Held[inside]), degrees(h.Held[outside])})
	}
	return out
}
