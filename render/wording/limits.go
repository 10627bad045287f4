package wording

import (
	"fmt"

	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// Pair names two pieces of the scene: "left tyre", "side rail".
func Pair(m *sweep.Model, pair [2]int) (a, b string) {
	names := m.Scene.PairNames(pair)
	return setup.Printable(names[0]), setup.Printable(names[1])
}

// Limit says what a limit is: "left rod end binds at the steering arm".
func Limit(m *sweep.Model, l *sweep.Limit) string {
	s := m.Setup
	switch l.Kind {
	case sweep.Contact:
		a, b := Pair(m, l.Pair)
		if l.Brushes {
			return a + " brushes past " + b
		}
		return a + " touches " + b
	case sweep.DeadPoint:
		return deadPoint(m, l.Rod)
	case sweep.OverCentre:
		return overCentre(m, l.Rod)
	case sweep.RodEnd:
		return rodEnd(m, l)
	case sweep.DeclaredStop:
		return fmt.Sprintf("declared stop of the %s spindle (%s)", l.Side, Angle(s.Corners[l.Side].Stop))
	case sweep.ColumnTravel:
		return fmt.Sprintf("end of the column's travel (%s)", Angle(s.Column.Travel))
	case sweep.RackTravel:
		return fmt.Sprintf("end of the rack's travel (%s)", Length(s.Unit, s.Rack.Travel))
	}
	return l.Kind.String()
}

// Wheels says how far the wheels turn at a lock: "inner (left) wheel 38.4°, outer (right) wheel 29.1°".
func Wheels(r *sweep.Result, d sweep.Direction) string {
	p := &r.Locks[d].Pose
	t := &p.Turn
	if !t.Known() {
		return AtMost(r.Model) + fmt.Sprintf("left wheel %s, right wheel %s", Way(p.Wheels[setup.Left].Steer), Way(p.Wheels[setup.Right].Steer))
	}
	text := AtMost(r.Model) + fmt.Sprintf("inner (%s) wheel %s, outer (%s) wheel %s", t.Inner, Angle(t.InnerSteer), t.Inner.Other(), Angle(t.OuterSteer))
	if into := sweep.Direction(t.Inner); into != d {
		text += ", to the " + into.String()
	}
	return text
}

// StoppedBy says what stops the steering at a lock, and where the steering wheel stands then.
func StoppedBy(r *sweep.Result, d sweep.Direction) string {
	lock := &r.Locks[d]
	first := lock.First()
	switch {
	case first == nil:
		return "nothing stops it within " + Followed(r.Model) + " of the steering wheel"
	case first.Column == 0:
		return "stopped straight ahead already: " + Limit(r.Model, first)
	}
	return fmt.Sprintf("stopped with the steering wheel at %s: %s", Angle(lock.Column.Abs()), Limit(r.Model, first))
}

// Sense says which way the tyres go when the steering wheel is turned left.
func Sense(m *sweep.Model) string {
	way := func(side setup.Side) string {
		if m.Straight.Ratio[side] < 0 {
			return "right"
		}
		return "left"
	}
	if left, right := way(setup.Left), way(setup.Right); left != right {
		return fmt.Sprintf("steering wheel left: left tyre goes %s, right tyre goes %s", left, right)
	}
	return "steering wheel left: tyres go " + way(setup.Left)
}
