package export

import (
	"math"

	"locksweep/geometry/loads"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/render/wording"
)

// loadsJSON is the object that loads --json prints. Keys are fixed; more may be added. Forces are in N, moments in N·m,
// stresses in N/mm².
type loadsJSON struct {
	headJSON
	Load     loadJSON         `json:"load"`
	Poses    []loadPoseJSON   `json:"poses"`
	Rods     []loadedRodJSON  `json:"rods"`
	Stops    bySide[stopLoad] `json:"stops"`
	RimForce bySide[number]   `json:"rim_force"` // parked, at the locks
	Assumed  []string         `json:"assumed"`
	Warnings []warningJSON    `json:"warnings"`
}

type loadJSON struct {
	Front         number `json:"front"`
	Friction      number `json:"friction"`
	SteeringWheel number `json:"steering_wheel"`
	Hand          number `json:"hand"`
	Kerb          number `json:"kerb"`
}

type loadPoseJSON struct {
	Column  number           `json:"column"`
	Scrub   bySide[number]   `json:"scrub_moment"`
	Jacking bySide[number]   `json:"jacking_moment"`
	Parked  bySide[wayLoads] `json:"parked"` // turned on to the left, to the right
	Moving  bySide[wayLoads] `json:"moving"` // thrust to the left, to the right
}

// wayLoads is what the linkage carries.
type wayLoads struct {
	Moments bySide[number] `json:"moments"`
	Rods    []number       `json:"rods"`
	Torque  number         `json:"torque"`
	Rim     number         `json:"rim"`
}

type loadedRodJSON struct {
	Name   string      `json:"name"`
	Forces []causeJSON `json:"forces"`
	Checks []checkJSON `json:"checks"` // the least margin first
}

type causeJSON struct {
	Cause  string `json:"cause"`
	Force  number `json:"force"`
	Column number `json:"column"`
}

type checkJSON struct {
	Kind     string  `json:"kind"`
	End      *string `json:"end"`    // what the end of the rod sits on; null of what is judged once a rod
	Shared   bool    `json:"shared"` // its bolt bears both rods
	Force    number  `json:"force"`
	Stress   number  `json:"stress"`
	Capacity number  `json:"capacity"`
	Margin   number  `json:"margin"`
}

type stopLoad struct {
	Moment number     `json:"moment"`
	Lever  number     `json:"lever"`
	Force  number     `json:"force"`
	Width  number     `json:"width"`
	Plate  *checkJSON `json:"plate"`
}

const perMetre = 1e-3 // N·mm to N·m

// borne is a force, moment or stress; null where it grows without bound, beside a dead point or over centre.
func borne(v float64) number {
	if math.Abs(v) > 1e6 {
		return unknown
	}
	return number(v)
}

// Loads returns what the steering bears as JSON.
func Loads(m *loads.Model, src *Source) []byte {
	in := lengths{m.Setup.Unit}
	out := &loadsJSON{
		headJSON: src.head("locksweep.loads/1", m.Setup),
		Load:     loadJSON{number(m.Load.Front), number(m.Load.Friction), in.of(m.Load.SteeringWheel), number(m.Load.Hand), number(m.Load.Kerb)},
		RimForce: each(func(d sweep.Direction) number { return borne(m.Rim(m.Parked(&m.Locks[d].Pose, d).Torque)) }),
		Stops:    each(func(d sweep.Direction) stopLoad { return stopLoadOf(m, d) }),
		Assumed:  append([]string{}, wording.LoadsAssumed(m)...), Warnings: src.found(m.Result, first),
	}
	gives, thin := wording.Strained(m)
	for _, text := range append(gives, thin...) {
		out.Warnings = append(out.Warnings, warningJSON{"margin", text})
	}
	for i := range m.Poses {
		out.Poses = append(out.Poses, loadPoseOf(m, &m.Poses[i]))
	}
	for rod := range m.Linkage.Rods {
		r := loadedRodJSON{Name: m.Linkage.Rods[rod].Name()}
		for _, w := range m.Worsts(rod) {
			r.Forces = append(r.Forces, causeJSON{w.Cause.String(), borne(w.Force), degrees(w.Column)})
		}
		for _, c := range m.Judged(rod) {
			r.Checks = append(r.Checks, checkOf(m, c))
		}
		out.Rods = append(out.Rods, r)
	}
	return encode(out)
}

func loadPoseOf(m *loads.Model, p *sweep.Pose) loadPoseJSON {
	carried := func(f loads.Force) wayLoads {
		w := wayLoads{Moments: each(func(s setup.Side) number { return borne(f.Moments[s] * perMetre) }), Torque: borne(f.Torque * perMetre), Rim: borne(m.Rim(f.Torque))}
		for _, force := range f.Rods {
			w.Rods = append(w.Rods, borne(force))
		}
		return w
	}
	return loadPoseJSON{
		Column:  degrees(p.Column),
		Scrub:   each(func(s setup.Side) number { return number(m.Scrub(s, p) * perMetre) }),
		Jacking: each(func(s setup.Side) number { return number(m.Jacking(s, p) * perMetre) }),
		Parked:  each(func(d sweep.Direction) wayLoads { return carried(m.Parked(p, d)) }),
		Moving:  each(func(d sweep.Direction) wayLoads { return carried(m.Moving(p, d.Sign())) }),
	}
}

func checkOf(m *loads.Model, w loads.Check) checkJSON {
	out := checkJSON{Kind: w.Kind.String(), Shared: m.Shared(w), Force: borne(w.Force), Stress: borne(w.Stress), Capacity: borne(w.Capacity), Margin: borne(w.Margin)}
	if w.Kind.AtEnd() {
		out.End = new(wording.On(m.Model, w.Rod, w.End))
	}
	return out
}

func stopLoadOf(m *loads.Model, d sweep.Direction) stopLoad {
	in, s := lengths{m.Setup.Unit}, m.Stopped(d)
	out := stopLoad{Moment: borne(s.Moment * perMetre), Lever: in.of(s.Lever), Force: borne(s.Force), Width: in.of(s.Width)}
	if plate := checkOf(m, s.Plate); plate.Margin.known() {
		out.Plate = &plate
	}
	return out
}
