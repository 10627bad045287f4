package reconcile

import (
	"math"

	"locksweep/geometry/adjust"
	"locksweep/geometry/setup"
)

// unknown is a figure that may be off. That it is as given is an observation of its own, but for the place of a mark to be found.
type unknown struct {
	kind     Kind   // Figure, Centre, Column, MarkAt
	key      string // of the observation that it is as given
	angle    bool
	file     float64 // as given; mm or radians
	accuracy float64 // half-width; 0 of a mark to be found
	figures  []*float64
	values   []float64 // of figures, in the file
	index    int       // of the mark, or of the reading of the wheels whose column it is, among Setup.Checks
	steers   float64   // how far the wheels' angles move with it off by its accuracy, radians
}

// scale is the size of a change that matters, from which steps of differences follow: 10 mm, a tenth of a radian.
func (u *unknown) scale() float64 {
	if u.angle {
		return 0.1
	}
	return 10
}

// set puts a figure off by so much.
func (u *unknown) set(by float64) {
	for i, f := range u.figures {
		*f = u.values[i] + by
	}
}

// candidates lists all that may be off: every length and angle of the file, the steering wheel's centre and turns, the marks.
func (m *model) candidates() (list []unknown) {
	for _, r := range m.work.Readings() {
		if r.Accuracy == 0 || r.Class == setup.OfRod || r.Quantity != setup.OfLength && r.Quantity != setup.OfAngle {
			continue
		}
		u := unknown{kind: Figure, key: r.Key, angle: r.Quantity == setup.OfAngle, file: *r.Figures[0], accuracy: r.Accuracy, figures: r.Figures}
		for _, f := range r.Figures {
			u.values = append(u.values, *f)
		}
		list = append(list, u)
	}
	if len(m.base.Checks.Turned) > 0 {
		list = append(list, unknown{kind: Centre, angle: true, accuracy: inexact(float64(m.base.Accuracy.Turned), true)})
	}
	for _, i := range m.turnedAway() {
		list = append(list, unknown{kind: Column, angle: true, accuracy: inexact(float64(m.base.Accuracy.Turned), true), key: columnKey(i), index: i})
	}
	for i := range m.work.Checks.Marks {
		mark := &m.work.Checks.Marks[i]
		for axis, f := range [3]*float64{&mark.At.X, &mark.At.Y, &mark.At.Z} {
			u := unknown{kind: MarkAt, key: markKey(mark, axis), file: *f, figures: []*float64{f}, values: []float64{*f}, index: i}
			if mark.Given {
				u.accuracy = m.markAccuracy(i)
			}
			list = append(list, u)
		}
	}
	return list
}

// What a figure off by its accuracy must do at least to count: a hundredth of a millimetre at a tape, a hundredth of a degree at
// a wheel.
const (
	leastLength = 0.01
	leastAngle  = 0.01 * math.Pi / 180
)

// choose keeps the candidates that move an observation, a tape that might be taken, or the wheels' angles.
func (m *model) choose(candidates []unknown) error {
	first, ok := m.stand(nil)
	if !ok {
		return adjust.ErrStart
	}
	columns, pairs := first.probes(), m.pairs(first, true)
	seen := func(st *stand) (all []float64) {
		checked, _ := m.checked(st)
		for _, t := range pairs {
			checked = append(checked, st.tape(t))
		}
		return append(checked, st.wheels(columns)...)
	}
	before := seen(first)
	for _, u := range candidates {
		if u.kind != Figure {
			m.unknowns = append(m.unknowns, u)
			continue
		}
		u.set(u.accuracy)
		var after []float64
		if st, ok := m.stand(nil); ok {
			after = seen(st)
		}
		u.set(0)
		if len(after) != len(before) {
			continue // the linkage does not stand so: nothing can be told of it
		}
		if m.counts(&u, before, after, m.checks+len(pairs)) {
			m.unknowns = append(m.unknowns, u)
		}
	}
	return nil
}

// counts reports whether an unknown moves anything that is seen by enough to count, from before to after, and notes by how much it moves
// the wheels' angles, which begin at wheels.
func (m *model) counts(u *unknown, before, after []float64, wheels int) (counts bool) {
	for i := range after {
		least, by := leastLength, math.Abs(after[i]-before[i])
		if i >= wheels || i < m.checks && m.observations[i].Angle {
			least = leastAngle
		}
		if i >= wheels && by > least {
			u.steers = math.Max(u.steers, by)
		}
		counts = counts || by > least
	}
	return counts
}
