package drill

import (
	"math"

	"github.com/golang/geo/s1"

	"locksweep/geometry/linkage"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// Figures is what the steering does with the holes at a place.
type Figures struct {
	// Inner is the inner wheel's steer at either lock, Outer the outer one's, into the turn.
	Inner, Outer [2]s1.Angle
	// Worst is the greatest departure, either way, of the inner wheel from the Ackermann wanted over the
	// range of steer, and WorstAt the mean steer there; +Inf where the wanted has no meaning or the lock
	// comes before the range.
	Worst, WorstAt s1.Angle
	Ratio          float64  // wheel per column at centre, mean of both; negative steers backwards
	Transmission   s1.Angle // least within the locks, at either end of either rod
	Opposed        bool     // the wheels turn against each other
}

// Lock is the inner wheel's steer at the lesser of both locks.
func (f *Figures) Lock() s1.Angle { return min(f.Inner[sweep.ToLeft], f.Inner[sweep.ToRight]) }

// samples of a way to a lock, for what is worst on it.
const samples = 12

// figures judges a model.
func (a *Aims) figures(m *sweep.Model) (f Figures) {
	ratios := &m.Straight.Ratio
	f.Ratio = (ratios[setup.Left] + ratios[setup.Right]) / 2
	f.Opposed = ratios[setup.Left]*ratios[setup.Right] < 0
	f.Transmission = leastTransmission(&m.Straight)
	for _, d := range sweep.Directions {
		lock := m.Lock(d)
		f.Inner[d], f.Outer[d] = turned(&lock.Pose)
		f.Transmission = min(f.Transmission, leastTransmission(&lock.Pose))
		a.alongWay(m, &lock, &f)
	}
	return f
}

// turned returns the steer of the inner and the outer wheel into the turn; where the pose hardly turns,
// how far either wheel is from straight.
func turned(p *sweep.Pose) (inner, outer s1.Angle) {
	if t := &p.Turn; t.Known() {
		return t.InnerSteer, t.OuterSteer
	}
	left, right := p.Wheels[setup.Left].Steer.Abs(), p.Wheels[setup.Right].Steer.Abs()
	return max(left, right), min(left, right)
}

func leastTransmission(p *sweep.Pose) s1.Angle {
	least := s1.Angle(math.Inf(1))
	for _, side := range setup.Sides {
		for _, end := range linkage.Ends {
			least = min(least, p.Transmission[side][end])
		}
	}
	return least
}

// alongWay notes what is worst on the way to a lock.
func (a *Aims) alongWay(m *sweep.Model, lock *sweep.Lock, f *Figures) {
	mean := func(p *sweep.Pose) s1.Angle { return p.MeanSteer().Abs() }
	inner := func(p *sweep.Pose) s1.Angle { in, _ := turned(p); return in }
	from, found := columnAt(m, lock, a.From, mean)
	if !found { // the lock comes before the range begins
		f.note(s1.Angle(math.Inf(1)), mean(&lock.Pose))
		return
	}
	to, end := lock.Column, false
	if a.To > 0 {
		to, end = columnAt(m, lock, a.To, mean)
	} else if a.Lock > 0 {
		to, end = columnAt(m, lock, a.Lock, inner)
	}
	if !end {
		to = lock.Column
	}
	var off [samples + 1]s1.Angle
	step := (to - from) / samples
	for i := range off {
		p, _ := m.Pose(from + s1.Angle(i)*step)
		off[i] = a.departure(&p)
		f.Transmission = min(f.Transmission, leastTransmission(&p))
		f.note(off[i], mean(&p))
	}
	for i := 1; i < samples; i++ {
		if here := off[i].Abs(); here >= max(off[i-1].Abs(), off[i+1].Abs()) && here > 0.8*f.Worst {
			a.between(m, off[i-1:i+2], from+s1.Angle(i)*step, step, f)
		}
	}
}

// note keeps the greatest departure.
func (f *Figures) note(off, steer s1.Angle) {
	if off = off.Abs(); math.IsNaN(float64(off)) {
		off = s1.Angle(math.Inf(1))
	}
	if off > f.Worst {
		f.Worst, f.WorstAt = off, steer
	}
}

// between looks for the worst between samples: at the vertex of the parabola through three departures a
// step apart, the middle one at a column angle, and once more about that vertex a tenth of the step apart.
func (a *Aims) between(m *sweep.Model, off []s1.Angle, column, step s1.Angle, f *Figures) {
	three := [3]s1.Angle{off[0], off[1], off[2]}
	for range 2 {
		bend := three[0] - 2*three[1] + three[2]
		if !(bend.Abs() > 0) {
			return
		}
		column += max(-1, min(1, (three[0]-three[2])/(2*bend))) * step
		step /= 10
		for i := range three {
			p, ok := m.Pose(column + s1.Angle(i-1)*step)
			if !ok {
				return
			}
			three[i] = a.departure(&p)
			f.note(three[i], p.MeanSteer().Abs())
		}
	}
}

// departure is how far the inner wheel turns beyond the Ackermann wanted.
func (a *Aims) departure(p *sweep.Pose) s1.Angle {
	t := &p.Turn
	return t.InnerSteer - t.OuterSteer - s1.Angle(a.Percent/100)*(t.IdealInner-t.OuterSteer)
}

// columnAt returns the column angle on the way to a lock at which a figure that grows on the way has a
// value, to 1e-9 degrees of it; found is false where the lock comes first (false position, Illinois variant).
func columnAt(m *sweep.Model, lock *sweep.Lock, value s1.Angle, of func(*sweep.Pose) s1.Angle) (column s1.Angle, found bool) {
	low, high := s1.Angle(0), lock.Column
	below, above := of(&m.Straight)-value, of(&lock.Pose)-value
	if !(above >= 0) || below > 0 {
		return 0, false
	}
	kept := 0 // which end was kept last
	for range 60 {
		column = high - above*(high-low)/(above-below)
		p, _ := m.Pose(column)
		switch off := of(&p) - value; {
		case off.Abs() < 1e-9*s1.Degree:
			return column, true
		case off < 0:
			low, below = column, off
			if kept > 0 {
				above /= 2
			}
			kept = 1
		default:
			high, above = column, off
			if kept < 0 {
				below /= 2
			}
			kept = -1
		}
	}
	return column, true
}
