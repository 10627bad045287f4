package wording

import (
	"fmt"
	"math"

	"locksweep/geometry/linkage"
	"locksweep/geometry/road"
	"locksweep/geometry/sweep"
)

// SteeringRatio says how far the steering wheel turns for a wheel: "1.60 : 1"; "-" where the wheel stands or runs away.
func SteeringRatio(ratio float64) string {
	if math.IsNaN(ratio) {
		return none
	}
	if math.Abs(ratio) > 99 {
		return "over 99 : 1"
	}
	return Fixed(ratio, 2) + " : 1"
}

// weak is what little leverage means at an end of a rod: see sweep.Model.LeastLeverage.
var weak = [2]string{
	linkage.AtArm:     "the force in the rod grows, play grows, and it may jam",
	linkage.AtDropArm: "the steering goes light and dead, and may snap over",
}

// Leverage says the least leverage at one end of the rods within the locks, what it means to have little there, and how
// far past either lock the linkage gives out at that end.
func Leverage(r *sweep.Result, end linkage.End, least sweep.Leverage) (lines []string) {
	lines = append(lines, fmt.Sprintf("least %s between the %s and the %s, steering wheel at %s (90 is best, 0 none)",
		Angle(least.Angle), r.Linkage.Rods[least.Rod].Name(), Place(r.Model, least.Rod, end), Way(least.Column)))
	if r.Setup.Limits.Weak(least.Angle) {
		lines = append(lines, "little here: "+weak[end])
	}
	what := [2]string{linkage.AtArm: "dead point", linkage.AtDropArm: "over-centre point"}[end]
	past := [2]string{linkage.AtDropArm: " (past it the wheels come back)"}[end]
	var said [2]string
	for _, d := range sweep.Directions {
		margins, found := r.Margins(d)
		m := &margins[end]
		switch {
		case !found[end]:
			said[d] = "no " + what + " within " + Followed(r.Model)
		case Angle(m.Column) == "0.0°":
			said[d] = what + " is the lock"
		default:
			said[d] = fmt.Sprintf("%s of steering wheel to the %s%s, with %s of leverage at the lock", Angle(m.Column), what, past, Angle(m.Leverage))
		}
	}
	return append(lines, "beyond the lock: "+eitherWay(said))
}

// Stance says which wheel of a frame that does not twist is off the ground at a lock, and when the inside rear wheel
// lifts.
func Stance(r *sweep.Result, d sweep.Direction) string {
	u, pose := r.Setup.Unit, &r.Locks[d].Pose
	f := r.Figures(pose)
	thin, edge := r.Road.Stance(&pose.Wheels, f.Rise), r.Road.Stance(&pose.Wheels, f.RiseEdge)
	at := "at " + d.String() + " lock "
	if tapeFigure(u, thin.Front) == tapeFigure(u, 0) && tapeFigure(u, edge.Front) == tapeFigure(u, 0) {
		return at + "it stands on all four wheels"
	}
	load := r.Setup.Load
	plain := func(figure string) string { return figure }
	rear, front := span(u, thin.Rear, edge.Rear, plain), span(u, thin.Front, edge.Front, plain)
	if load.FrontShare == 0 {
		return fmt.Sprintf("%sthe %s rear wheel is %s off the ground standing, or the %s front wheel %s, by where the weight is", at, edge.High, rear, edge.High.Other(), front)
	}
	mass := road.Mass{FrontShare: load.FrontShare, Height: load.Height}
	text := fmt.Sprintf("%sthe %s front wheel is %s off the ground standing", at, edge.High.Other(), front)
	if r.Road.RearLifts(&edge, mass) {
		text = fmt.Sprintf("%sthe %s rear wheel is %s off the ground standing", at, edge.High, rear)
	}
	if load.Height == 0 || !pose.Turn.Known() {
		return text
	}
	into := pose.Turn.Inner.Sign()
	return text + "; turning, the inside rear wheel lifts " + lifts(r, &edge, mass, into) + ", in countersteer " + lifts(r, &edge, mass, -into)
}

// lifts says from what sideways acceleration the inside rear wheel lifts.
func lifts(r *sweep.Result, s *road.Stance, m road.Mass, turn float64) string {
	g, tips := r.Road.InsideRearLifts(s, m, turn)
	switch {
	case g <= 0:
		return "at once"
	case tips:
		return "from " + Fixed(g, 2) + " g (it tips then)"
	}
	return "from " + Fixed(g, 2) + " g"
}

// eitherWay says what holds turned left and turned right, once where both read alike.
func eitherWay(said [2]string) string {
	if said[0] == said[1] {
		return said[0] + ", either way"
	}
	return "turned left " + said[0] + "; turned right " + said[1]
}
