package report

import (
	"fmt"

	"locksweep/geometry/linkage"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/render/wording"
)

// figures writes the rows between the answer and the rods: circles, ratios, leverage, what the locks do to the front, and the room it takes.
func (p *page) figures(r *sweep.Result) {
	u := r.Setup.Unit
	straight := r.Figures(&r.Straight)
	locks := [2]sweep.LockFigures{r.Figures(&r.Locks[0].Pose), r.Figures(&r.Locks[1].Pose)}
	p.circles(u, &locks)
	p.ratios(r)
	p.leverage(r)
	p.row("Rod tilt", "at most "+tilts(r))
	p.offsets(r, &locks)
	p.rises(r, &locks)
	p.extent(r, &straight, &locks)
}

// circles says what the vehicle sweeps at the locks.
func (p *page) circles(u setup.Unit, locks *[2]sweep.LockFigures) {
	p.row("Turning circle", p.known.Says("turning_circle_balanced", both(wording.Circle(u, &locks[0]), wording.Circle(u, &locks[1])))+
		", over the front tyres' outer edge, both front wheels slipping alike")
	p.row("Rear path", "inner rear tyre's inner edge on a radius of "+
		both(wording.Ground(u, locks[0].Circle.InnerRear), wording.Ground(u, locks[1].Circle.InnerRear)))
}

// ratios says how far the steering wheel turns for the wheels.
func (p *page) ratios(r *sweep.Result) {
	at := func(pose *sweep.Pose) string {
		return both(wording.SteeringRatio(pose.SteeringRatio(setup.Left)), wording.SteeringRatio(pose.SteeringRatio(setup.Right)))
	}
	mean := (r.Straight.Ratio[setup.Left] + r.Straight.Ratio[setup.Right]) / 2
	p.row("Ratio", "steering wheel to wheel: "+at(&r.Straight)+" at centre; "+at(&r.Locks[0].Pose)+" at left lock; "+
		at(&r.Locks[1].Pose)+" at right lock. Drill and compare say wheel per steering wheel: "+wording.Ratio(mean)+" at centre")
	p.row("Lock to lock", p.known.Cell("turns_lock_to_lock", wording.Fixed(r.LockToLock(), 2))+" turns of the steering wheel")
}

// leverage says what is left of it at either end of the rods, and how far it is to where the linkage gives out.
func (p *page) leverage(r *sweep.Result) {
	_, word := wording.Driving(r.Model)
	for _, end := range linkage.Ends {
		key, label := [2]string{"leverage_arm", "leverage_drop"}[end], [2]string{"Leverage, arm", "Leverage, " + word}[end]
		for _, text := range wording.Leverage(r, end, r.LeverageWithin(end)) {
			p.row(label, p.known.Says(key, text))
			label = ""
		}
	}
}

// offsets says scrub radius, trail and camber, straight ahead and at the locks.
func (p *page) offsets(r *sweep.Result, locks *[2]sweep.LockFigures) {
	u := r.Setup.Unit
	var scrub, trail [2]string
	for _, s := range setup.Sides {
		a, b := r.Road.StraightOffsets(s)
		scrub[s], trail[s] = wording.Tape(u, a), wording.Tape(u, b)
	}
	p.row("Scrub radius", both(scrub[0], scrub[1])+" straight ahead")
	p.row("Trail", both(trail[0], trail[1])+" straight ahead")
	for _, d := range sweep.Directions {
		f, pose := &locks[d], &r.Locks[d].Pose
		side := func(of func(s setup.Side) string) string { return both(of(setup.Left), of(setup.Right)) }
		p.row("At "+d.String()+" lock", "scrub "+side(func(s setup.Side) string { return wording.Tape(u, f.Scrub[s]) })+
			"; trail "+side(func(s setup.Side) string { return wording.Tape(u, f.Trail[s]) })+
			"; camber "+side(func(s setup.Side) string { return wording.Signed(wording.Angle(pose.Wheels[s].Camber)) }))
	}
}

// rises says how far the front corners of the frame are lifted at the locks, and what a frame that does not twist does then.
func (p *page) rises(r *sweep.Result, locks *[2]sweep.LockFigures) {
	u := r.Setup.Unit
	var rises, stands []string
	for _, d := range sweep.Directions {
		f := &locks[d]
		rises = append(rises, fmt.Sprintf("at %s lock the left front corner %s, the right %s", d,
			wording.Range(u, f.Rise[0], f.RiseEdge[0]), wording.Range(u, f.Rise[1], f.RiseEdge[1])))
		stands = append(stands, wording.Stance(r, d))
	}
	p.rows("Frame rises", append(rises, "(tyres as thin discs to tyres with their width)"))
	p.rows("If it is stiff", stands)
}

// extent says what room the vehicle takes over its tyres, and whether it fits where it must.
func (p *page) extent(r *sweep.Result, straight *sweep.LockFigures, locks *[2]sweep.LockFigures) {
	u, e := r.Setup.Unit, r.Extent()
	p.row("Overall width", fmt.Sprintf("%s straight ahead, %s at lock", wording.Tape(u, straight.Width),
		both(wording.Tape(u, locks[0].Width), wording.Tape(u, locks[1].Width)))+
		wording.Between(u, &e, max(straight.Width, locks[0].Width, locks[1].Width)))
	p.row("Overall length", wording.Tape(u, e.Length)+" straight ahead")
	p.rows("Does it fit", wording.Fit(r.Setup, &e))
}
