package wording

import (
	"fmt"
	"strings"

	"locksweep/geometry/drill"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// mostReasons is how many reasons a sentence gives.
const mostReasons = 3

// Barred says why places that would meet an aim are out of the question, and how many for which reason: "of the 212
// places tried 180 bring tie rod and tyre nearer than 5 mm, 32 have no metal stop". Empty where none is.
func Barred(r *drill.Result, aim drill.Aim, list []drill.Barred) string {
	total, rest := 0, 0
	for _, b := range list {
		total += b.Places
	}
	var said []string
	for i, b := range list {
		if i >= mostReasons {
			rest += b.Places
			continue
		}
		said = append(said, fmt.Sprintf("%d %s", b.Places, barredBy(r, &b)))
	}
	if rest > 0 {
		said = append(said, fmt.Sprintf("%d fail otherwise", rest))
	}
	if len(said) == 0 {
		return ""
	}
	of := "places tried "
	if aim >= drill.Leverage {
		of = "places that have it by themselves "
	}
	if len(list) == 1 {
		return fmt.Sprintf("all %d %s%s", total, of, barredBy(r, &list[0]))
	}
	return fmt.Sprintf("of the %d %s", total, of) + strings.Join(said, ", ")
}

// GapWanted says the least gap that places are held to.
func GapWanted(r *drill.Result) string {
	if r.Aims.Clearance < r.Setup.Limits.Clearance { // today's, which is measured
		return Gap(r.Setup.Unit, r.Aims.Clearance)
	}
	return r.Setup.Unit.Say(r.Aims.Clearance)
}

// GapAimed is GapWanted that tells of one less than the file wants that it is today's.
func GapAimed(r *drill.Result) string {
	if r.Aims.Clearance < r.Setup.Limits.Clearance {
		return GapWanted(r) + " as today"
	}
	return GapWanted(r)
}

// barredBy says what is wrong with places, as it stands behind how many they are.
func barredBy(r *drill.Result, b *drill.Barred) string {
	switch b.Aim {
	case -1:
		return "do not assemble or have metal on metal straight ahead"
	case drill.Sense:
		return "steer backwards or turn the wheels against each other"
	case drill.Clearance:
		a, other := setup.Printable(b.Parts[0]), setup.Printable(b.Parts[1])
		if a == other {
			other = "the other"
		}
		return fmt.Sprintf("bring %s and %s nearer than %s", a, other, GapWanted(r))
	case drill.Stop:
		return map[sweep.Code]string{
			sweep.NoMetalStop:  "have no metal stop",
			sweep.NarrowStop:   "have a stop too narrow to hold",
			sweep.TyreTouches:  "have a tyre touch first",
			sweep.TouchesFirst: "have something touch first that is no stop (a rod, an arm, a bar that is only assumed)",
			sweep.StopMargin:   "have the stop less than " + Angle(sweep.WantedMargin) + " of the steering wheel before the linkage gives out",
		}[b.Code]
	}
	return "lack " + Decided(r, b.Aim)
}
