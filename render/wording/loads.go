package wording

import (
	"fmt"
	"math"

	"locksweep/geometry/loads"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// Newtons says a force to two figures, which is more than it is good for; "-" where it is no number or without bound.
func Newtons(force float64) string {
	if math.IsNaN(force) || math.IsInf(force, 0) || math.Abs(force) > loads.Boundless {
		return none
	}
	return rounded(force) + " N"
}

// NewtonMetres says a moment of N·mm in N·m.
func NewtonMetres(moment float64) string {
	const longest = 1e3 // mm, of an arm
	if math.IsNaN(moment) || math.Abs(moment) > loads.Boundless*longest {
		return none
	}
	return rounded(moment/1000) + " N·m"
}

// rounded is a figure to two significant ones, nought below a hundredth.
func rounded(v float64) string {
	switch size := math.Abs(v); {
	case math.IsNaN(v) || math.IsInf(v, 0):
		return none
	case size < 0.01:
		return "0"
	default:
		digits := 1 - int(math.Floor(math.Log10(size)))
		scale := math.Pow(10, float64(digits))
		return Fixed(math.Round(v*scale)/scale, max(0, digits))
	}
}

// kilograms says what weight a force would hold up, beside newtons.
func kilograms(force float64) string {
	return fmt.Sprintf("%s (%s kg)", Newtons(force), rounded(math.Abs(force)/loads.Gravity))
}

// LoadsOrder stands first: what the figures are good for.
const LoadsOrder = "Orders of magnitude from simple formulas, to see what is heavy or thin. They never replace the advice of someone qualified, nor a test."

// NotModelled is what the loads leave out.
var NotModelled = []string{
	"Fatigue: parts that bear a load once break under it after many. Margins under 3 or so are thin for a part that shakes.",
	"Welds, bends, cast parts, cracks, rust and threads cut by hand: nothing here judges them.",
	"Knocks are taken as steady forces; a real one may be several times as hard, and a crash far harder.",
	"Each wheel carries half the weight. In a turn the outer one carries more.",
	"Kingpins, spindles, column, frame, and how the drop arm is held on the column.",
}

// RimForces says what turns the steering wheel of a vehicle that stands: at centre, at a lock, and how much it grows.
func RimForces(m *loads.Model, d sweep.Direction) string {
	lock := &m.Locks[d].Pose
	centre, there := m.Rim(m.Parked(&m.Straight, d).Torque), m.Rim(m.Parked(lock, d).Torque)
	text := fmt.Sprintf("%s at the rim at centre, %s at the lock", kilograms(centre), kilograms(there))
	if centre > 0 && !math.IsInf(there, 0) {
		text += fmt.Sprintf(", %s times as much", rounded(there/centre))
	}
	return text
}

// KingpinMoments says what turns one front wheel on the spot, straight ahead and at the locks.
func KingpinMoments(m *loads.Model, side setup.Side) string {
	at := func(p *sweep.Pose) string { return NewtonMetres(m.Scrub(side, p)) }
	return fmt.Sprintf("%s of scrub straight ahead, %s at left and %s at right lock; the weight on the tilted kingpin gives %s and %s there (left positive)",
		at(&m.Straight), at(&m.Locks[0].Pose), at(&m.Locks[1].Pose),
		NewtonMetres(m.Jacking(side, &m.Locks[0].Pose)), NewtonMetres(m.Jacking(side, &m.Locks[1].Pose)))
}

// causes are what loads a rod, in words.
var causes = [4]string{
	loads.WhenParked: "turned on the spot", loads.WhenMoving: "gripping sideways", loads.ByKerb: "a knock on a wheel", loads.ByHand: "a hard pull against the stop",
}

// RodWorst says the greatest force in a rod from one cause.
func RodWorst(w loads.Worst) string {
	way := "pressed"
	if w.Force < 0 {
		way = "pulled"
	}
	text := fmt.Sprintf("%s, %s, %s, steering wheel at %s", causes[w.Cause], Newtons(math.Abs(w.Force)), way, Way(w.Column))
	if Newtons(w.Force) == none {
		text = fmt.Sprintf("%s: without bound, the rod stands in line with an arm (steering wheel at %s)", causes[w.Cause], Way(w.Column))
	}
	return text
}

// StopForce says what a hard pull does to the stop at a lock.
func StopForce(u setup.Unit, m *loads.Model, d sweep.Direction) string {
	s := m.Stopped(d)
	if math.IsNaN(s.Force) {
		return fmt.Sprintf("%s about the kingpin; nothing of known shape is touched", NewtonMetres(math.Abs(s.Moment)))
	}
	text := fmt.Sprintf("%s where it touches, %s from the kingpin", Newtons(s.Force), Tape(u, s.Lever))
	if !math.IsNaN(s.Plate.Margin) && s.Plate.Margin < math.Inf(1) {
		text += fmt.Sprintf("; the plate bends most where it is %s wide: %s", Tape(u, s.Width), judged(m, s.Plate))
	}
	return text
}

// LoadsAssumed lists what the loads take for granted.
func LoadsAssumed(m *loads.Model) (list []string) {
	given, u := &m.Setup.Load, m.Setup.Unit
	if given.Friction == 0 {
		list = append(list, fmt.Sprintf("friction %s, dry rubber on concrete; a hard sleeve has some 0.3 (load.friction, common practice)", Fixed(m.Load.Friction, 2)))
	}
	if given.SteeringWheel == 0 {
		list = append(list, fmt.Sprintf("steering wheel of %s (load.steering_wheel)", Tape(u, m.Load.SteeringWheel)))
	}
	if given.Hand == 0 {
		list = append(list, fmt.Sprintf("a hard pull of %s at its rim (load.hand, common practice)", Newtons(m.Load.Hand)))
	}
	if given.Kerb == 0 {
		list = append(list, fmt.Sprintf("a knock of %s on one front wheel (load.kerb, common practice)", Newtons(m.Load.Kerb)))
	}
	if given.Pressure == 0 && given.PatchLength == 0 {
		list = append(list, "the print of a tyre turns like one as wide as the tyre (load.pressure or load.patch)")
	}
	var said remarks
	for rod := range m.Linkage.Rods {
		r := &m.Linkage.Rods[rod]
		boltsAssumed(m, rod, &said)
		if r.Spec.Stock.Outer == 0 {
			said.add(r.Name(), fmt.Sprintf("a solid bar of %s (%s)", Length(u, r.Spec.Diameter), rodKey(r.Part, "tube")))
		}
	}
	list = append(list, said.lines()...)
	return append(list, "rod ends of plain steel, bolts of class 8.8, plates of S235 steel where no yield strength is given")
}
