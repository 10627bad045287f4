package report

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"locksweep/geometry/linkage"
	"locksweep/geometry/road"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/render/wording"
)

// radiiTold are the places in SlideRadii of the radii that are printed; the machine-readable output has all.
var radiiTold = []int{0, 1, 2, 4, 8, 13, 18}

// sliding says how the wheels stand at the lock against a turn, and what slide they hold there.
func (p *page) sliding(r *sweep.Result, path road.Slide) {
	if path.Radius == 0 {
		path.Radius = sweep.SlideRadius(r.Setup.Unit, r.Setup.Vehicle.Wheelbase)
	}
	var said [2][][2]string
	for _, d := range sweep.Directions {
		path.Turn = d.Sign()
		said[d] = p.slidingRows(r, path)
	}
	p.heading("Sliding: wheels at the lock against the turn")
	for _, d := range sweep.Directions {
		switch alike := slices.Equal(said[0], said[1]); {
		case alike && d == sweep.ToRight:
			return
		case !alike:
			p.line("", "on a path to the "+d.String()+":")
		}
		for _, row := range said[d] {
			p.row(row[0], row[1])
		}
	}
}

// slidingRows are the rows of one way that the path may turn: what decides a setup for sliding first.
func (p *page) slidingRows(r *sweep.Result, path road.Slide) (rows [][2]string) {
	u, c := r.Setup.Unit, r.Countersteer(path)
	out, in := path.Outside(), path.Outside().Other()
	known := func(label, key, format string, args ...any) { // no finer than a figure of the comparison
		rows = append(rows, [2]string{label, p.known.Says(key, fmt.Sprintf(format, args...))})
	}
	add := func(label, format string, args ...any) {
		rows = append(rows, [2]string{label, fmt.Sprintf(format, args...)})
	}
	add("Front wheels", "%s", wording.FrontWheels(path))
	known("Countersteer", "countersteer_inside", "inside wheel %s, outside wheel %s", wording.Angle(c.Steer[in]), wording.Angle(c.Steer[out]))
	driving, _ := wording.Driving(r.Model)
	known("Leverage", "countersteer_leverage_drop", "least %s at the steering arms, %s at the %s", wording.Angle(c.Leverage[linkage.AtArm].Angle), wording.Angle(c.Leverage[linkage.AtDropArm].Angle), driving)
	if margins, found := r.Margins(c.Lock); found[linkage.AtDropArm] {
		known("To over centre", "countersteer_to_over_centre", "%s of steering wheel", wording.Angle(margins[linkage.AtDropArm].Column))
	}
	if !math.IsInf(c.Gap, 1) {
		known("Least gap", "countersteer_gap", "%s but for what stops it", wording.Gap(u, c.Gap))
	}
	known("Wheels", "countersteer_splay", "camber inside %s, outside %s; headings %s apart", wording.Signed(wording.Angle(c.Pose.Wheels[in].Camber)),
		wording.Signed(wording.Angle(c.Pose.Wheels[out].Camber)), wording.Angle(c.Splay.Abs()))
	for i, side := range [2]setup.Side{in, out} {
		m := c.Pose.MomentArm[side]
		arm := func(mm float64) string { return wording.Signed(wording.Tape(u, mm)) }
		add([2]string{"Kingpin moment", ""}[i], "%s wheel: arm of a force at the contact forward %s, to the inside of the turn %s, upward %s",
			[2]string{"inside", "outside"}[i], arm(path.Turn*m.X), arm(m.Y), arm(path.Turn*m.Z))
	}
	add("", "(+ turns the wheel into the turn)")
	add("Overall width", "%s", wording.Tape(u, r.Figures(c.Pose).Width))
	atLock := r.HeldAgainst(&c)
	known(wording.SlideAtLock, "slide_held_outside", "%s the inside wheel rolls so in a slide of %s, the outside wheel in one of %s", wording.OnPath(u, path.Radius),
		wording.Angle(atLock[in]), wording.Angle(atLock[out]))
	add("Over the radius", "%s (inside/outside)", overRadii(r, path))
	return rows
}

// overRadii says the slide that the wheels hold over the radii that are told.
func overRadii(r *sweep.Result, path road.Slide) string {
	all, out := r.HeldOver(path, sweep.SlideRadii(r.Setup.Unit)), path.Outside()
	var said []string
	for _, i := range radiiTold {
		said = append(said, wording.Ground(r.Setup.Unit, all[i].Radius)+": "+wording.Degrees(all[i].Held[out.Other()])+"/"+wording.Degrees(all[i].Held[out]))
	}
	return strings.Join(said, ", ")
}
