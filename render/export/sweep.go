package export

import (
	"bytes"
	"encoding/json"

	"github.com/golang/geo/s1"

	"locksweep/geometry/linkage"
	"locksweep/geometry/road"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/render/wording"
)

// sweepJSON is the object that sweep --json prints. Keys are fixed; more may be added.
type sweepJSON struct {
	headJSON
	Linkage    string           `json:"linkage"`
	TieRods    bySide[number]   `json:"tie_rods"`
	Rods       bySide[rodJSON]  `json:"rods"`
	RodFits    []rodFitJSON     `json:"rod_fits"`
	Poses      []*poseJSON      `json:"poses"`
	Locks      bySide[lockJSON] `json:"locks"`
	LockToLock number           `json:"turns_lock_to_lock"`
	Width      number           `json:"width"`
	Extent     extentJSON       `json:"extent"`
	Scrub      bySide[number]   `json:"scrub_radius"`
	Trail      bySide[number]   `json:"trail"`
	Leverage   leverageJSON     `json:"leverage"`
	Sliding    slidingJSON      `json:"sliding"`
	Near       []nearJSON       `json:"clearances"`
	Touching   []touchJSON      `json:"touching"`
	Assumed    []string         `json:"assumed"`
	Warnings   []warningJSON    `json:"warnings"`
}

// rodJSON is a tie rod: as it is, as the file's toe needs it, and how to get there.
type rodJSON struct {
	Length  number `json:"length"`
	Derived number `json:"derived"`
	Toe     number `json:"toe"`
	Turns   number `json:"turns_to_correct"` // of the sleeve, longer positive
}

// rodFitJSON is a rod by its name, of any linkage, and the wheel whose toe it is to set.
type rodFitJSON struct {
	Name  string `json:"name"`
	Wheel string `json:"wheel"`
	rodJSON
}

type poseRodJSON struct {
	Name string  `json:"name"`
	From endJSON `json:"from"` // at what drives it
	To   endJSON `json:"to"`
}

type endJSON struct {
	On           string `json:"on"`
	Transmission number `json:"transmission"`
	Tilt         number `json:"tilt"`
}

// extentJSON is the room that the vehicle takes over its tyres, and what of [space] is left of it: negative where
// it does not fit, null where no space is given.
type extentJSON struct {
	Straight        number `json:"width"`
	Narrowest       number `json:"width_narrowest"`
	NarrowestColumn number `json:"narrowest_column"`
	Widest          number `json:"width_widest"`
	WidestColumn    number `json:"widest_column"`
	Length          number `json:"length"`
	LeftWidth       number `json:"space_left_width"`
	LeftNarrowest   number `json:"space_left_narrowest"`
	LeftLength      number `json:"space_left_length"`
}

type poseJSON struct {
	Column   number `json:"column"`
	PastLock bool   `json:"past_lock,omitempty"` // the steering wheel is stopped before it gets there
	bySide[cornerJSON]
	Inner            number        `json:"inner"`
	Outer            number        `json:"outer"`
	IdealInner       number        `json:"ideal_inner"`
	AckermannError   number        `json:"ackermann_error"`
	AckermannPercent number        `json:"ackermann_percent"`
	ToeOut           number        `json:"toe_out_on_turns"`
	TurnCentre       *[2]number    `json:"turn_centre"`
	AxleCross        *[2]number    `json:"axle_cross"`
	Rods             []poseRodJSON `json:"rods"`
}

type cornerJSON struct {
	Spindle      number          `json:"spindle"`
	Steer        number          `json:"steer"`
	Camber       number          `json:"camber"`
	Contact      [3]number       `json:"contact"`
	Transmission rodEnds[number] `json:"transmission"`
	RodTilt      rodEnds[number] `json:"rod_tilt"`
	Ratio        number          `json:"ratio"`
	Steering     number          `json:"steering_ratio"`
	MomentArm    [3]number       `json:"moment_arm"`
}

// rodEnds is a value at either end of a tie rod.
type rodEnds[T any] struct {
	Arm     T `json:"arm"`
	DropArm T `json:"drop_arm"`
}

// touchJSON is a pair that touches with the column centred; no limit and no gap is told of it.
type touchJSON struct {
	Parts [2]string  `json:"parts"`
	Sides [2]*string `json:"sides"`
	Depth number     `json:"depth"`
	Point [3]number  `json:"point"`
}

type warningJSON struct {
	Code string `json:"code"`
	Text string `json:"text"`
}

// encode writes an object as the machine-readable output. There is nothing in one that cannot be written: every float in it is
// a number.
func encode(v any) []byte { return encodeIndented(v, "") }

// encodeIndented is encode for what stands within a larger output, every line but the first behind a prefix.
func encodeIndented(v any, prefix string) []byte {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent(prefix, " ")
	e.Encode(v)
	return b.Bytes()
}

// Sweep returns a sweep with poses of it as JSON; path is what slides are looked at on.
func Sweep(r *sweep.Result, poses []Pose, path road.Slide, src *Source) []byte {
	in := lengths{r.Setup.Unit}
	out := &sweepJSON{
		headJSON: src.head("locksweep.sweep/1", r.Setup), Linkage: r.Setup.Linkage().String(), LockToLock: number(r.LockToLock()),
		Width: in.of(r.Figures(&r.Straight).Width), Extent: extentOf(r), Leverage: leverageOf(r), Sliding: slidingOf(r, path),
		Assumed: append([]string{}, wording.Assumed(r.Model)...), Warnings: src.found(r, whole), Near: []nearJSON{}, Touching: []touchJSON{},
	}
	out.Changes, out.Frame = wording.Changes(r.Setup), frameOf(r.Setup)
	out.fitted(r)
	out.Locks = each(func(d sweep.Direction) lockJSON { return lockOf(r, d) })
	out.Scrub = each(func(s setup.Side) number { scrub, _ := r.Road.StraightOffsets(s); return in.of(scrub) })
	out.Trail = each(func(s setup.Side) number { _, trail := r.Road.StraightOffsets(s); return in.of(trail) })
	out.Poses = make([]*poseJSON, len(poses))
	for i := range poses {
		if p := &poses[i]; p.Assembles {
			out.Poses[i] = poseOf(in, r.Model, p)
		}
	}
	for _, t := range r.Scene.Touching() {
		parts, sides := partsOf(r.Model, t.Pair)
		out.Touching = append(out.Touching, touchJSON{parts, sides, in.of(t.Depth), in.space(t.Point)})
	}
	for i := range r.Near {
		n := &r.Near[i]
		parts, sides := partsOf(r.Model, n.Pair)
		out.Near = append(out.Near, nearJSON{parts, sides, in.of(n.Gap), degrees(n.Column), in.space(n.Point), r.Setup.Limits.Tight(n.Gap)})
	}
	return encode(out)
}

// fitted says how the rods fit: those of either wheel, and all by name.
func (out *sweepJSON) fitted(r *sweep.Result) {
	in := lengths{r.Setup.Unit}
	fit := func(side setup.Side) rodJSON {
		rod := r.Rods[side]
		return rodJSON{in.of(rod.Length), in.of(rod.Derived), degrees(rod.Toe), number(r.SleeveTurns(side))}
	}
	out.Rods = each(func(side setup.Side) rodJSON {
		if !r.Linkage.DriverOf(side).Sided {
			return rodJSON{unknown, unknown, unknown, unknown}
		}
		return fit(side)
	})
	out.TieRods = bySide[number]{out.Rods.Left.Length, out.Rods.Right.Length}
	for i := range r.Linkage.Rods {
		rod := &r.Linkage.Rods[i]
		out.RodFits = append(out.RodFits, rodFitJSON{rod.Name(), rod.To.Side().String(), fit(rod.To.Side())})
	}
}

func extentOf(r *sweep.Result) extentJSON {
	in, e, space := lengths{r.Setup.Unit}, r.Extent(), r.Setup.Space
	left := func(space, taken float64) number {
		if space == 0 {
			return unknown
		}
		return in.of(space - taken)
	}
	return extentJSON{
		Straight: in.of(e.Straight), Narrowest: in.of(e.Narrowest), NarrowestColumn: degrees(e.NarrowestAt),
		Widest: in.of(e.Widest), WidestColumn: degrees(e.WidestAt), Length: in.of(e.Length),
		LeftWidth: left(space.Width, e.Straight), LeftNarrowest: left(space.Width, e.Narrowest), LeftLength: left(space.Length, e.Length),
	}
}

// partsOf names two pieces as the file does, and the sides that they stand on.
func partsOf(m *sweep.Model, pair [2]int) (names [2]string, sides [2]*string) {
	for i, piece := range pair {
		p := &m.Scene.Pieces[piece]
		names[i] = p.Name
		if p.Sided {
			sides[i] = new(p.Side.String())
		}
	}
	return names, sides
}

func poseOf(in lengths, m *sweep.Model, p *Pose) *poseJSON {
	t := &p.Turn
	return &poseJSON{
		Column: number(p.Asked), PastLock: p.PastLock, bySide: each(func(s setup.Side) cornerJSON { return cornerOf(in, m, p, s) }), Rods: poseRodsOf(m, p),
		Inner: degrees(t.InnerSteer), Outer: degrees(t.OuterSteer), IdealInner: degrees(t.IdealInner),
		AckermannError: degrees(t.Error), AckermannPercent: number(t.Percent), ToeOut: degrees(t.ToeOut()),
		TurnCentre: in.plane(t.Centre), AxleCross: in.plane(t.AxleCross),
	}
}

// poseRodsOf says how all rods stand.
func poseRodsOf(m *sweep.Model, p *Pose) (list []poseRodJSON) {
	for i := range m.Linkage.Rods {
		at := func(end linkage.End) endJSON {
			return endJSON{wording.On(m, i, end), degrees(p.Transmission[i][end]), degrees(p.Tilt[i][end])}
		}
		list = append(list, poseRodJSON{m.Linkage.Rods[i].Name(), at(linkage.AtDropArm), at(linkage.AtArm)})
	}
	return list
}

func cornerOf(in lengths, m *sweep.Model, p *Pose, side setup.Side) cornerJSON {
	w, rod := &p.Wheels[side], m.Linkage.Driver[side]
	ends := func(v [2][2]s1.Angle) rodEnds[number] {
		e := rodEnds[number]{degrees(v[rod][linkage.AtArm]), unknown}
		if m.Linkage.FromDropArm(rod) {
			e.DropArm = degrees(v[rod][linkage.AtDropArm])
		}
		return e
	}
	return cornerJSON{
		Spindle: degrees(p.Sides[side].Spindle), Steer: degrees(w.Steer), Camber: degrees(w.Camber),
		Contact: in.space(w.Contact), Transmission: ends(p.Transmission), RodTilt: ends(p.Tilt),
		Ratio: number(p.Ratio[side]), Steering: number(p.SteeringRatio(side)), MomentArm: in.space(p.MomentArm[side]),
	}
}

// Pose is a pose with the column angle that was asked for.
type Pose struct {
	sweep.Pose
	Asked     float64 // degrees
	Assembles bool    // false: the linkage does not get there and the rest has no meaning
	PastLock  bool    // the steering wheel is stopped before it gets there
}

// Poses returns the poses of the sweep itself.
func Poses(r *sweep.Result) []Pose {
	poses := make([]Pose, len(r.Poses))
	for i := range r.Poses {
		poses[i] = Pose{Pose: r.Poses[i], Asked: float64(degrees(r.Poses[i].Column)), Assembles: true}
	}
	return poses
}

// PosesAt returns the poses at column angles in degrees, in their order.
func PosesAt(r *sweep.Result, columns []float64) []Pose {
	poses := make([]Pose, len(columns))
	for i, c := range columns {
		column := s1.Angle(c) * s1.Degree
		poses[i].Pose, poses[i].Assembles = r.Pose(column)
		poses[i].Asked, poses[i].PastLock = c, pastLock(r, column)
	}
	return poses
}

// pastLock reports whether a column angle lies beyond a lock, by more than rounding.
func pastLock(r *sweep.Result, column s1.Angle) bool {
	const rounding = 1e-9
	return column > r.Locks[sweep.ToLeft].Column+rounding || column < r.Locks[sweep.ToRight].Column-rounding
}
