package sweep

import (
	"github.com/golang/geo/s1"

	"locksweep/geometry/linkage"
	"locksweep/geometry/setup"
)

const (
	// atDeadPoint is the leverage straight ahead below which there counts as none: half a millimetre at an arm of 30 is worth as much.
	atDeadPoint = 1 * s1.Degree
	// changePoint is the leverage below which a rod, in line with the arm at its other end, may fold either way: a millimetre in an
	// arm of 100 is worth about 8 degrees there.
	changePoint = 10 * s1.Degree
)

// Backwards reports whether both wheels turn against the steering wheel.
func (m *Model) Backwards() bool {
	return m.Straight.Ratio[setup.Left] < 0 && m.Straight.Ratio[setup.Right] < 0
}

// Alarms finds what makes the vehicle unfit to be driven, however good its figures are, from the two locks of the
// model; the loudest come first. No poses between the locks are needed, so that every command can say them.
func (m *Model) Alarms(locks *[2]Lock) (found []Finding) {
	for _, touch := range m.Scene.Touching() {
		found = append(found, Finding{Code: Touching, Touch: touch, Pair: touch.Pair})
	}
	stuck := false
	for _, d := range Directions {
		if l := locks[d].First(); l != nil && l.Column == 0 {
			found = append(found, Finding{Code: BrokenStraight, Lock: d, Limit: l, Side: l.Side})
			stuck = true
			break // it is the same limit the other way
		}
	}
	switch left, right := m.Straight.Ratio[setup.Left], m.Straight.Ratio[setup.Right]; {
	case m.Backwards():
		found = append(found, Finding{Code: SteersBackwards})
	case left*right < 0:
		found = append(found, Finding{Code: WheelsOpposed})
	}
	if l, ok := m.Leverage(0); ok && l.Angle < atDeadPoint {
		found = append(found, Finding{Code: DeadCentre, Rod: l.Rod, End: l.End, Angle: l.Angle})
	}
	for _, d := range Directions {
		s := m.Stopping(&locks[d])
		if s.Stop == nil && !stuck { // else there is no way for a stop to end
			f := Finding{Code: NoMetalStop, Lock: d, Limit: s.End}
			if len(s.Before) > 0 {
				f.First = &s.Before[0]
			}
			found = append(found, f)
		}
		if f, is := m.changePoint(d, &s); is {
			found = append(found, f)
		}
	}
	return found
}

// changePoint reports whether nothing keeps the wheels from where a rod is in line with both its arms, so that it may
// fold either way.
func (m *Model) changePoint(d Direction, s *Stopping) (f Finding, is bool) {
	if s.End == nil || !s.End.Kind.Ends() || s.Stop != nil && s.Margin >= WantedMargin {
		return f, false
	}
	p, ok := m.poseUpTo(s.End.Column)
	if !ok {
		return f, false
	}
	ends := m.Linkage.Transmission(s.End.Rod, &p)
	if least := max(ends[linkage.AtArm], ends[linkage.AtDropArm]); least < changePoint {
		return Finding{Code: ChangePoint, Lock: d, Limit: s.End, Rod: s.End.Rod, Angle: least}, true
	}
	return f, false
}
